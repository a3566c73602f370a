//! Findings, rules and remedies in words.

use super::words::{self, Units};
use crate::quantity::{Angle, Energy, Length, Measure, Velocity};
use crate::rules::{Change, Effect, Finding, Judgement, Rule, Sense, Side, Subject, Verdict};

/// A value of a subject in words.
#[must_use]
pub fn value(subject: Subject, si: f64, units: Units) -> String {
    match subject {
        Subject::Distance => units.distance(Length::from_si(si)),
        Subject::Thickness | Subject::Calibre => units.thickness(Length::from_si(si)),
        Subject::ImpactSpeed | Subject::SlowSpeed | Subject::MuzzleSpeed => units.speed(Velocity::from_si(si)),
        Subject::Energy | Subject::MuzzleEnergy => units.energy(Energy::from_si(si)),
        Subject::Demand => format!("{:.0} % of the thickness", si * 100.0),
        Subject::Lean | Subject::Oblique => words::degrees(Angle::from_si(si)),
        Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => format!("{si:.2}"),
        Subject::Case => String::new(),
    }
}

/// A finding with its numbers: `energy, fast shot 2371 ft·lbf, at most 700 ft·lbf`.
#[must_use]
pub fn finding(finding: &Finding, units: Units) -> String {
    let rule = finding.rule();
    let mut text = match (finding.actual, finding.limit) {
        (Some(actual), Some(limit)) => {
            let side = match rule.sense {
                Sense::Limit { side: Side::AtLeast, .. } => "at least",
                _ => "at most",
            };
            let (name, subject) = (rule.subject.name(), rule.subject);
            format!("{name} {}, {side} {}", value(subject, actual, units), value(subject, limit, units))
        }
        (Some(factor), None) => format!("{} {}: {}", rule.subject.name(), value(rule.subject, factor, units), rule.why),
        (None, Some(_)) => format!("{} not known: {}", rule.subject.name(), rule.why),
        (None, None) => rule.why.clone(),
    };
    if finding.through_duty {
        text.push_str("; fails through duty alone: it holds, it wears");
    }
    text
}

/// A rule by its subject, short enough for a column: `demand`, `distance`; the range's own say so.
#[must_use]
pub fn short(rule: &Rule) -> String {
    let word = match rule.subject {
        Subject::Distance => "distance",
        Subject::ImpactSpeed => "speed",
        Subject::SlowSpeed => "slow bullet",
        Subject::MuzzleSpeed | Subject::MuzzleEnergy | Subject::Calibre => rule.subject.name(),
        Subject::Thickness => "too thin",
        Subject::Energy => "energy",
        Subject::Demand => "demand",
        Subject::Lean => "lean",
        Subject::Oblique => "turn",
        Subject::Case | Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => &rule.id,
    };
    let word = word.replace('-', " ");
    if rule.overlay.is_some() { format!("range: {word}") } else { word }
}

/// What a finding weighs, for a column: `energy 2362 / 700 ft·lbf`.
#[must_use]
pub fn weighed(finding: &Finding, units: Units) -> String {
    let rule = finding.rule();
    let name = short(rule);
    let (Some(actual), Some(limit)) = (finding.actual, finding.limit) else { return name };
    if rule.subject == Subject::Demand {
        return format!("{name} {:.0} %", actual * 100.0);
    }
    let text = |si| value(rule.subject, si, units);
    let number = text(actual);
    format!("{name} {} / {}", number.split(' ').next().unwrap_or(&number), text(limit))
}

/// What a judgement comes to, for a headline: `4 % in hand`, or why not.
#[must_use]
pub fn judgement(judgement: &Judgement) -> String {
    match (judgement.verdict, judgement.rule, judgement.margin) {
        (Verdict::Suits, _, Some(margin)) => words::in_hand(margin),
        (Verdict::Suits, _, None) => "within every rule".into(),
        (_, Some(rule), _) => rule.why.clone(),
        (_, None, _) => "for want of a rule".into(),
    }
}

/// What changes where the air is thin, for an answer that was told nothing of the air, and what to do about it.
#[must_use]
pub fn high_and_hot(change: &str, remedy: &str) -> String {
    format!("The air was not said. At 6000 ft and 100 °F {change}: {remedy}.")
}

/// What a range's rules change, in words; each rule once.
#[must_use]
pub fn changes(changes: &[Change], units: Units) -> Vec<String> {
    changes.iter().map(|change| self::change(change, units)).collect()
}

fn change(change: &Change, units: Units) -> String {
    let rule = change.rule;
    let name = rule.overlay.as_deref().unwrap_or("the range");
    let own = limit(rule, units).unwrap_or_else(|| rule.why.clone());
    let of = |house: &Rule| limit(house, units).map_or_else(|| house.id.clone(), |l| format!("{} ({l})", house.id));
    match change.effect {
        Effect::Stricter { than: Some(house) } => {
            format!("{name}: `{}` is stricter than the house's {}: {own}", rule.id, of(house))
        }
        Effect::Stricter { than: None } => format!("{name}: `{}` adds: {own}", rule.id),
        Effect::None { beside } => {
            format!("{name}: `{}` has no effect here beside the house's {}, as strict or stricter", rule.id, of(beside))
        }
    }
}

/// The limit a rule sets, in words.
#[must_use]
pub fn limit(rule: &Rule, units: Units) -> Option<String> {
    match rule.sense {
        Sense::Limit { side, suits, borderline } => {
            let word = if side == Side::AtLeast { "at least" } else { "at most" };
            let mut text = format!("{} {word} {}", rule.subject.name(), value(rule.subject, suits, units));
            if (borderline - suits).abs() > 1e-12 * suits.abs() {
                text = format!("{text}, borderline to {}", value(rule.subject, borderline, units));
            }
            Some(text)
        }
        Sense::Factor(factor) => Some(format!("{} {factor:.2}", rule.subject.name())),
        Sense::NarrowFactor { below, per } => Some(format!(
            "{} 1 + ({below} − w) ÷ {per} for widths w below {below}",
            rule.subject.name(),
            below = units.size(Length::from_si(below)),
            per = units.size(Length::from_si(per))
        )),
        Sense::Outcome(verdict) => Some(verdict.to_string()),
        Sense::Caution { below, above } => {
            let part = |word: &str, v: Option<f64>| v.map(|v| format!("{word} {}", value(rule.subject, v, units)));
            let parts: Vec<String> = [part("below", below), part("above", above)].into_iter().flatten().collect();
            if parts.is_empty() { None } else { Some(format!("{} {}", rule.subject.name(), parts.join(" or "))) }
        }
    }
}
