//! Faces, findings and judgements in words.

use super::answer::{Finding as FindingTold, OF_RANGE};
use crate::load::{Construction, Load, names_no_lead};
use crate::plate::Face;
use crate::quantity::{Length, Number, unit};
use crate::rules::{Change, Effect, Finding, Rule, Subject, Value, Verdict, words as rule_words};
use crate::shop::price::{Shop, Unpriced};
use crate::source::clean;
use crate::words::{self, Units};

/// A face: `12 in round`, `305 mm round`, `12 × 20 in`.
pub(crate) fn face(face: &Face, units: Units) -> String {
    let (unit, decimals) = if units == Units::Us { (unit::INCH, 3) } else { (unit::MILLIMETRE, 0) };
    let short = |size: Length| {
        let text = format!("{:.decimals$}", unit.value(size));
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    };
    match face {
        Face::Round(diameter) => format!("{} {} round", short(*diameter), unit.symbol),
        Face::Rectangle(width, height) => format!("{} × {} {}", short(*width), short(*height), unit.symbol),
        Face::Outline(outline) => clean(&outline.name),
    }
}

/// Margins below this are told with those of the next plate.
pub(crate) const JUST: f64 = 0.10;

/// What a subject is called where its number follows.
fn called(subject: Subject) -> &'static str {
    match subject {
        Subject::ImpactSpeed => "speed",
        Subject::SlowSpeed => "slow shot",
        Subject::Energy => "energy",
        Subject::Demand => "demand",
        Subject::Lean => "lean",
        Subject::Oblique => "turn",
        other => other.name(),
    }
}

/// The unit of a subject's numbers in a document.
fn unit_of(subject: Subject) -> Option<&'static str> {
    match subject {
        Subject::Distance | Subject::Thickness | Subject::Width | Subject::HangsBy | Subject::Calibre => Some("m"),
        Subject::ImpactSpeed | Subject::SlowSpeed | Subject::MuzzleSpeed => Some("m/s"),
        Subject::Energy | Subject::MuzzleEnergy => Some("J"),
        Subject::Demand | Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => Some("1"),
        Subject::Lean | Subject::Oblique => Some("deg"),
        Subject::Case => None,
    }
}

/// A finding whole, for an answer.
pub(crate) fn finding(finding: &Finding, case: &str, load: &Load, units: Units) -> FindingTold {
    let rule = finding.rule();
    let number = |value: Value| match value {
        Value::Angle(angle) => Number(unit::DEGREE.value(angle)),
        value => Number(value.si()),
    };
    let words = rule_words::finding(finding, units, of_each(rule, load));
    let why = why(finding, load);
    let is_numbered = finding.actual.is_some() || finding.limit.is_some();
    FindingTold {
        rule: clean(&rule.id),
        case: case.to_owned(),
        verdict: finding.verdict,
        limit: finding.limit.map(number),
        actual: finding.actual.map(number),
        unit: unit_of(rule.subject).map(str::to_owned),
        margin: finding.margin.map(Number),
        basis: rule.basis,
        source: clean(&rule.source),
        overlay: rule.overlay.as_deref().map(clean),
        of_plate: rule.is_plates_own(),
        found_words: words.found,
        limit_words: words.limit,
        limit_brief: words.limit_brief,
        divided_by: words.divided_by,
        text: clean(if is_numbered { &words.text } else { &why }),
        why: clean(&why),
        next: clean(&rule.next),
    }
}

/// Why a rule stands against a load. The same surplus is judged as having a steel core where that is listed as common
/// for it, and only as unknown where it was described: both are told.
fn why(finding: &Finding, load: &Load) -> String {
    let why = why_of(finding, load);
    if finding.rule().filter.counts_powder(load) {
        return format!("{why} (a hot day's powder drives it past what is listed)");
    }
    why
}

fn why_of(finding: &Finding, load: &Load) -> String {
    let rule = finding.rule();
    let at_once: Vec<String> = finding.together().map(|concern| concern.words().to_owned()).collect();
    if !at_once.is_empty() {
        return format!(
            "{} are borderline at once, and nobody knows what they come to together",
            words::listed(&at_once)
        );
    }
    if rule.filter.construction.is_empty() || load.facts().construction != Construction::Unknown {
        return rule.why.clone();
    }
    if load.facts().steel_core_common {
        return format!(
            "its construction is not known, and its kind is listed as often having a steel core: {}",
            rule.why
        );
    }
    if let Some(called) = called_otherwise(load) {
        return format!("{}, and it is called `{called}`: hold a magnet to it", rule.why);
    }
    format!("{}, and nothing lists its kind as having a steel core", rule.why)
}

/// The name of a load, or of its cartridge, that speaks of a bullet without a plain lead core.
fn called_otherwise(load: &Load) -> Option<String> {
    let facts = load.facts();
    let names = [facts.name.as_str(), load.id(), facts.cartridge.as_deref().unwrap_or_default()];
    names.into_iter().find(|name| names_no_lead(name)).map(clean)
}

/// What an energy of shot is of: at the plate one pellet, at the muzzle the whole charge.
const EACH: &str = " a pellet";
const ALL: &str = " of all pellets";

/// What an energy that was found is of, where a shot has several projectiles.
fn of_each(rule: &Rule, load: &Load) -> &'static str {
    match rule.subject {
        _ if load.facts().projectiles < 2 => "",
        Subject::Energy => EACH,
        Subject::MuzzleEnergy => ALL,
        _ => "",
    }
}

/// A finding in a few words: `energy 2442 of 700 ft·lbf`, `distance at least 100 yd`; else why it stands there.
pub(crate) fn brief(finding: &FindingTold, subject: Subject) -> String {
    to_limit(finding, &finding.limit_words, subject)
}

/// The same without the factors of its limit.
pub(crate) fn briefer(finding: &FindingTold, subject: Subject) -> String {
    to_limit(finding, &finding.limit_brief, subject)
}

fn to_limit(finding: &FindingTold, limit: &str, subject: Subject) -> String {
    if finding.found_words.is_empty() {
        // What is not known of a limit is said.
        return if limit.is_empty() { finding.why.clone() } else { finding.text.clone() };
    }
    if limit.is_empty() {
        return finding.why.clone();
    }
    let limit = limit.trim_start_matches("at most ").trim_start_matches("at least ");
    let unit = limit.split_whitespace().nth(1).unwrap_or_default();
    let whole = finding.found_words.as_str();
    let each = [EACH, ALL].into_iter().find(|of| whole.ends_with(of)).unwrap_or_default();
    let found = whole.strip_suffix(each).unwrap_or(whole);
    let found = found.strip_suffix(unit).map_or(found, str::trim_end);
    match subject {
        Subject::Thickness => format!("thinner than {}", limit.split(" (").next().unwrap_or(limit)),
        Subject::Width => format!("narrower than {limit}"),
        Subject::HangsBy => format!("hangs by less than {limit}"),
        // The distance itself stands in the case.
        Subject::Distance => format!("distance {}", finding.limit_words),
        Subject::Lean | Subject::Oblique => {
            format!("{} {}, {}", called(subject), finding.found_words, finding.limit_words)
        }
        _ => {
            let word = called(subject);
            // Rounded, what is passed by a hair looks like what is met.
            let same = limit.split_whitespace().next() == found.split_whitespace().next();
            match finding.verdict {
                Verdict::Suits => format!("{word} {found} of {limit}{each}"),
                _ if same && finding.limit_words.starts_with("at least ") => format!("{word} just under {limit}{each}"),
                _ if same => format!("{word} just over {limit}{each}"),
                _ => format!("{word} {found} of {limit}{each}"),
            }
        }
    }
}

/// Worst first; among failures those with a number by how far they fail, then those without; what suits by margin.
pub(crate) fn rank(verdict: Verdict, margin: Option<f64>) -> (u8, f64) {
    let class = match verdict {
        Verdict::Unsuitable => 0,
        Verdict::Borderline => 1,
        Verdict::Suits => 2,
    };
    (class, margin.unwrap_or(f64::INFINITY))
}

/// Whether a finding keeps a load off without a measure: steel core, a crater. No distance alone heals it.
pub(crate) fn is_without_measure(finding: &FindingTold) -> bool {
    finding.verdict == Verdict::Unsuitable && finding.limit.is_none()
}

/// What a range's rules change, each in a sentence.
pub(crate) fn changes(changes: &[Change], units: Units) -> Vec<String> {
    changes.iter().map(|change| self::change(change, units)).collect()
}

fn change(change: &Change, units: Units) -> String {
    let rule = change.rule;
    let name = rule.overlay.as_deref().unwrap_or("the range");
    let own = rule_words::allows(rule, units).unwrap_or_else(|| rule.why.clone());
    let of = |house: &Rule| {
        rule_words::allows(house, units).map_or_else(|| house.id.clone(), |l| format!("{} ({l})", house.id))
    };
    match change.effect {
        Effect::Stricter { than: Some(house) } => {
            format!("{name}: `{}` is stricter than the house's {}: {own}.", rule.id, of(house))
        }
        Effect::Stricter { than: None } => format!("{name}: `{}` adds: {own}.", rule.id),
        Effect::None { beside } => {
            format!("{name}: `{}` changes nothing here: the house's {} is as strict or stricter.", rule.id, of(beside))
        }
    }
}

/// A rule by its subject, in a word or two for a chart's cell; the range's own say so.
pub(crate) fn short(rule: &Rule) -> String {
    let word = match rule.subject {
        Subject::Distance => "distance".to_owned(),
        Subject::ImpactSpeed => "speed".to_owned(),
        Subject::SlowSpeed => "slow bullet".to_owned(),
        Subject::Thickness => "thin".to_owned(),
        Subject::Width => "narrow".to_owned(),
        Subject::HangsBy => "hangs by little".to_owned(),
        Subject::Energy => "energy".to_owned(),
        Subject::Demand => "demand".to_owned(),
        Subject::Lean => "lean".to_owned(),
        Subject::Oblique => "turn".to_owned(),
        Subject::Case if !rule.filter.construction.is_empty() => "bullet".to_owned(),
        Subject::Case => clean(&rule.id).replace('-', " "),
        other => other.name().to_owned(),
    };
    // The range's own rules stand in the page by name; a cell has room for a word.
    if rule.overlay.is_some() { OF_RANGE.into() } else { word }
}
/// `not priced; the shop has 6 mm and 8 mm`.
pub(crate) fn not_priced(shop: &Shop, unpriced: &Unpriced, units: Units) -> String {
    match unpriced {
        Unpriced::Thickness(near) if near.is_empty() => "not priced".into(),
        Unpriced::Thickness(near) => {
            let near: Vec<String> = near.iter().map(|label| clean(label)).collect();
            format!("not priced; the shop has {}", words::listed(&near))
        }
        Unpriced::Sheet => {
            let sheet = shop.cutting.sheet;
            format!("not priced; none comes from a {} sheet", words::sheet(sheet.length, sheet.breadth, units))
        }
    }
}
