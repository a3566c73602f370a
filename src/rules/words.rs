//! Rules and findings in words, in the units asked for, so that a range officer can use a rule without the program.

use super::allow::Finding;
use super::filter::{Filter, NOMINAL_SHARE};
use super::overlay::{Change, Effect};
use super::rule::{Concern, Rule, Sense, Side, Verdict};
use super::subject::Subject;
use super::value::Value;
use crate::quantity::{show, unit};
use crate::words::{Units, degrees, listed, sentence};
use std::fmt::Display;

/// A value of a subject: `25 yd`, `3/8 in` as `0.375 in`, `2800 ft·lbf`, `94 %`.
#[must_use]
pub fn value(subject: Subject, value: Value, units: Units) -> String {
    match (subject, value) {
        (Subject::Distance, Value::Length(length)) => units.distance(length),
        (_, Value::Length(length)) => units.thickness(length),
        (_, Value::Velocity(speed)) => units.speed(speed),
        (_, Value::Energy(energy)) => units.energy(energy),
        (_, Value::Angle(angle)) => degrees(angle),
        (Subject::Demand, Value::Share(share)) => format!("{:.0} %", unit::PERCENT.value(share)),
        (_, Value::Share(factor)) => format!("{:.2}", unit::ONE.value(factor)),
    }
}

/// A finding in words.
#[derive(Debug, Default)]
pub struct FindingWords {
    /// `2442 ft·lbf`; nothing for a rule without a number.
    pub found: String,
    /// The limit, traceable: `at most 2000 ft·lbf (2800 ÷ 1.40 public)`; nothing for a rule without one.
    pub limit: String,
    /// The limit alone: `at most 2000 ft·lbf`.
    pub limit_brief: String,
    /// What the limit was divided by: `1.40 public`.
    pub divided_by: Vec<String>,
    /// A sentence without its stop: `energy, fast shot 2371 ft·lbf, at most 700 ft·lbf`.
    pub text: String,
}

/// A finding in words; what is found is followed by what it is of, ` a pellet`.
#[must_use]
pub fn finding(finding: &Finding, units: Units, of: &str) -> FindingWords {
    let rule = finding.rule();
    let found = finding.actual.map_or_else(String::new, |actual| format!("{}{of}", found(finding, actual, units)));
    let divided_by = divisors(finding);
    let (limit, limit_brief) = finding.limit.map_or_else(Default::default, |limit| {
        let side = if side(rule) == Some(Side::AtLeast) { "at least" } else { "at most" };
        let brief = limit_alone(finding, limit, units);
        (format!("{side} {}", traceable(finding, &brief, &divided_by, units)), format!("{side} {brief}"))
    });
    let mut text = match (finding.actual, finding.limit) {
        (Some(_), Some(_)) => format!("{} {found}, {limit}", rule.subject.name()),
        (Some(_), None) => format!("{} {found}: {}", rule.subject.name(), rule.why),
        (None, Some(_)) => format!("{} not known: {}", rule.subject.name(), rule.why),
        (None, None) => rule.why.clone(),
    };
    if finding.through_duty {
        text.push_str("; over through duty alone: the plate holds, it wears");
    }
    if let Some(range) = &rule.overlay {
        text = format!("{text} (rule of {range})");
    }
    FindingWords { found, limit, limit_brief, divided_by, text }
}

/// What was found; where it passes its limit by a hair, with as many digits as tell the two apart.
fn found(finding: &Finding, actual: Value, units: Units) -> String {
    const MOST: usize = 4;
    let subject = finding.rule().subject;
    let told = value(subject, actual, units);
    let limit = finding.limit.filter(|_| finding.verdict != Verdict::Suits);
    let Some(limit) = limit.map(|limit| limit_alone(finding, limit, units)) else { return told };
    let number = |text: &str| text.split([' ', '°']).next().and_then(|number| number.parse::<f64>().ok());
    let is_apart = |text: &String| number(text) != number(&limit);
    let finer = (1..=MOST).map(|decimals| value_to(subject, actual, units, decimals)).find(is_apart);
    if is_apart(&told) { told } else { finer.unwrap_or(told) }
}

/// A value of a subject to so many decimals.
fn value_to(subject: Subject, value: Value, units: Units, decimals: usize) -> String {
    let us = units == Units::Us;
    match (subject, value) {
        (Subject::Distance, Value::Length(length)) => {
            show(length, if us { &unit::YARD } else { &unit::METRE }, decimals)
        }
        (_, Value::Length(length)) => show(length, if us { &unit::INCH } else { &unit::MILLIMETRE }, decimals),
        (_, Value::Velocity(speed)) => {
            show(speed, if us { &unit::FOOT_PER_SECOND } else { &unit::METRE_PER_SECOND }, decimals)
        }
        (_, Value::Energy(energy)) => show(energy, if us { &unit::FOOT_POUND } else { &unit::JOULE }, decimals),
        (_, Value::Angle(angle)) => format!("{:.decimals$}°", unit::DEGREE.value(angle)),
        (Subject::Demand, Value::Share(share)) => format!("{:.decimals$} %", unit::PERCENT.value(share)),
        (_, Value::Share(factor)) => format!("{:.decimals$}", unit::ONE.value(factor)),
    }
}

/// A limit with what it was made of: `2000 ft·lbf (2800 ÷ 1.40 public)`.
fn traceable(finding: &Finding, limit: &str, by: &[String], units: Units) -> String {
    match finding.undivided {
        Some(nominal) if finding.rule().subject == Subject::Thickness => {
            let less = 100.0 * (1.0 - NOMINAL_SHARE);
            let nominal = value(Subject::Thickness, nominal, units);
            format!("{limit} ({} − {less:.0} %)", nominal.split(' ').next().unwrap_or(&nominal))
        }
        Some(whole) if !by.is_empty() && !limit.is_empty() => {
            let whole = limit_value(finding.rule().subject, side(finding.rule()), whole, units);
            let number = whole.split(' ').next().unwrap_or(&whole);
            format!("{limit} ({number} ÷ {})", by.join(" ÷ "))
        }
        _ => limit.to_owned(),
    }
}

fn limit_alone(finding: &Finding, limit: Value, units: Units) -> String {
    let rule = finding.rule();
    match (limit, finding.actual) {
        // No farther than what was found to be good beyond it.
        (Value::Length(limit), Some(Value::Length(found))) if rule.subject == Subject::Distance => {
            units.distance_kept(limit, &[found])
        }
        (limit, _) => limit_value(rule.subject, side(rule), limit, units),
    }
}

/// A limit that suits as it is printed: a ceiling is rounded down, a floor up.
fn limit_value(subject: Subject, side: Option<Side>, limit: Value, units: Units) -> String {
    match (limit, side) {
        (Value::Length(length), Some(Side::AtLeast)) if subject == Subject::Distance => units.distance_up(length),
        (Value::Velocity(speed), Some(Side::AtMost)) => units.speed_down(speed),
        (Value::Velocity(speed), Some(Side::AtLeast)) => units.speed_up(speed),
        (Value::Energy(energy), Some(Side::AtMost)) => units.energy_down(energy),
        _ => value(subject, limit, units),
    }
}

/// What a limit was divided by: `1.40 public`.
fn divisors(finding: &Finding) -> Vec<String> {
    // A factor of 1.00 says nothing.
    let factor = |by: f64| if by < 1.005 { format!("{by:.3}") } else { format!("{by:.2}") };
    let counts = finding.divisors().filter(|d| d.factor >= 1.0005);
    counts.map(|d| format!("{} {}", factor(d.factor), d.what)).collect()
}

fn side(rule: &Rule) -> Option<Side> {
    match rule.sense {
        Sense::Limit { side, .. } => Some(side),
        Sense::ByThickness { .. } => Some(Side::AtMost),
        _ => None,
    }
}

/// What a rule allows: `distance at least 50 yd, borderline from 25 yd`; nothing for a caution on the case.
#[must_use]
pub fn allows(rule: &Rule, units: Units) -> Option<String> {
    let (subject, name) = (rule.subject, rule.subject.name());
    let text = |v: Value| limit_value(subject, side(rule), v, units);
    match &rule.sense {
        Sense::Limit { side, suits, borderline } => {
            let (word, to) = if *side == Side::AtLeast { ("at least", "from") } else { ("at most", "to") };
            let nominal = if subject == Subject::Thickness { " nominal" } else { "" };
            let mut allows = format!("{name} {word} {}{nominal}", text(*suits));
            if (borderline.si() - suits.si()).abs() > 1e-12 * suits.si().abs() {
                allows = format!("{allows}, borderline {to} {}", text(*borderline));
            }
            Some(allows)
        }
        Sense::ByThickness { steps, borderline } => {
            let each = |s: &super::rule::Step| format!("{} on {}", text(s.suits), units.thickness(s.thickness));
            let steps: Vec<String> = steps.iter().map(each).collect();
            Some(format!(
                "{name} at most {}; between them by straight line in log–log, borderline to {:.0} %, above the last as there",
                listed(&steps),
                unit::PERCENT.value(*borderline)
            ))
        }
        Sense::Factor(factor) => Some(format!("limits of energy and demand divided by {factor:.2}")),
        Sense::NarrowFactor { below, per } => Some(format!(
            "limits of energy and demand divided by 1 + ({below} − w) ÷ {per} for a narrowest width w below {below}",
            below = units.size(*below),
            per = units.size(*per)
        )),
        Sense::Outcome(verdict) => Some(verdict.to_string()),
        Sense::Together { concerns, outcome } => {
            let all = [
                Concern::Distance,
                Concern::Lean,
                Concern::Turn,
                Concern::Steel,
                Concern::Construction,
                Concern::Pits,
                Concern::Weld,
            ];
            let all: Vec<String> = all.map(|c| concern(c).to_owned()).into();
            Some(format!("{outcome} where {concerns} or more of these are borderline: {}", listed(&all)))
        }
        Sense::Caution { below, above } => {
            let part = |word: &str, v: &Option<Value>| v.map(|v| format!("{word} {}", text(v)));
            let parts: Vec<String> = [part("below", below), part("above", above)].into_iter().flatten().collect();
            (!parts.is_empty()).then(|| format!("{name} {}", parts.join(" or ")))
        }
    }
}

/// What a concern is called.
#[must_use]
pub fn concern(concern: Concern) -> &'static str {
    match concern {
        Concern::Distance => "distance",
        Concern::Lean => "lean of the face",
        Concern::Turn => "turn of the face",
        Concern::Steel => "steel",
        Concern::Construction => "the bullet's construction",
        Concern::Pits => "pits",
        Concern::Weld => "a welded bracket",
    }
}

/// When a rule applies: `rifle, muzzle velocity above 1100 ft/s, nearer than 50 yd`; `always` for every case.
#[must_use]
pub fn applies(rule: &Rule, units: Units) -> String {
    let parts = conditions(&rule.filter, units);
    if parts.is_empty() { "always".into() } else { parts.join(", ") }
}

fn conditions(filter: &Filter, units: Units) -> Vec<String> {
    let above = |name: &str, text: Option<String>| text.map(|t| format!("{name} above {t}"));
    let up_to = |name: &str, text: Option<String>| text.map(|t| format!("{name} up to {t}"));
    let parts = [
        any_of("", &filter.class),
        any_of("bullet ", &filter.construction),
        any_of("mount ", &filter.mount),
        any_of("duty ", &filter.duty),
        any_of("condition ", &filter.condition),
        any_of("steel ", &filter.steel),
        filter.thickness_from.map(|t| format!("plate of {} or thicker", units.thickness(t))),
        filter.thickness_below.map(|t| format!("plate thinner than {} nominal", units.thickness(t))),
        above("mean muzzle velocity", filter.muzzle_speed_above.map(|v| units.speed(v))),
        up_to("mean muzzle velocity", filter.muzzle_speed_at_most.map(|v| units.speed(v))),
        above("mean muzzle energy", filter.muzzle_energy_above.map(|e| units.energy(e))),
        up_to("mean muzzle energy", filter.muzzle_energy_at_most.map(|e| units.energy(e))),
        filter.bullet_from.map(|m| format!("projectile of {} or heavier", units.bullet(m))),
        filter.bullet_below.map(|m| format!("projectile lighter than {}", units.bullet(m))),
        filter.steel_common.map(|common| {
            let is = if common { "often" } else { "seldom" };
            format!("a cartridge that {is} comes with steel jackets or cores")
        }),
        filter.tilt_given.map(|given| format!("lean of the face {}", if given { "given" } else { "not given" })),
        filter.within.map(|d| format!("nearer than {}", units.distance(d))),
    ];
    parts.into_iter().flatten().collect()
}

fn any_of<T: Display>(before: &str, list: &[T]) -> Option<String> {
    let words: Vec<String> = list.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => None,
        [start @ .., last] if !start.is_empty() => Some(format!("{before}{} or {last}", start.join(", "))),
        [one, ..] => Some(format!("{before}{one}")),
    }
}

/// A rule whole, as a range officer reads it: when it applies, what it allows, why.
#[must_use]
pub fn whole(rule: &Rule, units: Units) -> String {
    let when = sentence(&applies(rule, units));
    let allows = allows(rule, units).map(|a| format!(": {a}")).unwrap_or_default();
    format!("{when}{allows}. {}.", sentence(&rule.why))
}

/// A rule by its subject, short enough for a column: `demand`, `distance`; the range's own say so.
#[must_use]
pub fn short(rule: &Rule) -> String {
    let word = match rule.subject {
        Subject::Distance => "distance",
        Subject::ImpactSpeed => "speed",
        Subject::SlowSpeed => "slow bullet",
        Subject::MuzzleSpeed => "muzzle velocity",
        Subject::MuzzleEnergy => "muzzle energy",
        Subject::Calibre => rule.subject.name(),
        Subject::Thickness => "too thin",
        Subject::Width => "too narrow",
        Subject::HangsBy => "hangs by too little",
        Subject::Energy => "energy",
        Subject::Demand => "demand",
        Subject::Lean => "lean",
        Subject::Oblique => "turn",
        Subject::Case | Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => &rule.id,
    };
    let word = word.replace('-', " ");
    if rule.overlay.is_some() { format!("range: {word}") } else { word }
}

/// What a range's rules change, in words; each rule once.
#[must_use]
pub fn changes(changes: &[Change], units: Units) -> Vec<String> {
    changes.iter().map(|change| self::change(change, units)).collect()
}

fn change(change: &Change, units: Units) -> String {
    let rule = change.rule;
    let name = rule.overlay.as_deref().unwrap_or("the range");
    let own = allows(rule, units).unwrap_or_else(|| rule.why.clone());
    let of = |house: &Rule| allows(house, units).map_or_else(|| house.id.clone(), |l| format!("{} ({l})", house.id));
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
