//! A match as a page a director can act on in a minute, and as a document.

use super::page::{Block, Column, Notice, Page, Table};
use super::words::{self, Units};
use super::{Circumstances, Document};
use crate::course::{Barred, Course, Fix, Outcome, Target};
use crate::quantity::{Mass, Measure};
use crate::rules::{RuleSet, Verdict};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What is told of a match.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// The match.
    pub course: &'a Course,
    /// What each target comes to, in the order of the match.
    pub outcomes: &'a [Outcome],
    /// Loads that no plate takes at any distance.
    pub barred: &'a [Barred],
    /// Inputs, assumptions and cautions.
    pub circumstances: &'a Circumstances,
    /// What else must be said.
    pub remarks: &'a [String],
    /// Units of words.
    pub units: Units,
    /// Whether every target's worst load is told in full.
    pub explain: bool,
}

impl<'a> Told<'a> {
    fn pairs(&self) -> impl Iterator<Item = (&'a Target, &'a Outcome)> {
        self.course.targets.iter().zip(self.outcomes)
    }
}

/// The worst verdict of a target, or of a load that no plate takes; unsuitable where none could be judged.
#[must_use]
pub fn verdict(outcomes: &[Outcome], barred: &[Barred]) -> Verdict {
    let worst = outcomes.iter().map(|o| o.verdict).max().unwrap_or(Verdict::Unsuitable);
    barred.iter().map(|b| b.verdict).fold(worst, Verdict::max)
}

/// The page.
#[must_use]
pub fn page(told: &Told) -> Page {
    let mut page = Page::new(verdict(told.outcomes, told.barred).into(), headline(told), Notice::default());
    page.push(Block::Table(table(told)));
    page.push_list("To do", to_do(told));
    page.push_list("Leave at home", leave_at_home(told));
    page.push(Block::Heading("To haul".into()));
    page.push(Block::Facts(haul(told)));
    page.push_list("Mind", told.remarks.to_vec());
    if told.explain {
        page.push_list("Every target's worst load", explained(told));
    }
    if !told.circumstances.assumed.is_empty() {
        page.push(Block::Text(format!("Assumed: {}.", told.circumstances.assumed.join("; "))));
    }
    page.push_list("Cautions", told.circumstances.cautions.clone());
    page
}

fn headline(told: &Told) -> String {
    let passing = told.outcomes.iter().filter(|o| o.verdict == Verdict::Suits).count();
    let total = told.outcomes.len();
    let count = |is: fn(&Fix) -> bool| told.outcomes.iter().filter(|o| is(&o.fix)).count();
    let mut parts = Vec::new();
    let move_back = count(|f| matches!(f, Fix::Move(_) | Fix::Position(_)));
    let hang = count(|f| matches!(f, Fix::Hang(_)));
    let refuse = count(|f| matches!(f, Fix::Refuse(_)));
    let none = count(|f| matches!(f, Fix::None));
    if !told.barred.is_empty() {
        let plural = if told.barred.len() == 1 { "load" } else { "loads" };
        parts.push(format!("{} {plural} to leave at home", told.barred.len()));
    }
    for (n, word) in [
        (move_back, "to shoot from farther"),
        (hang, "to hang thicker"),
        (refuse, "to refuse loads at"),
        (none, "to set right"),
    ] {
        if n > 0 {
            parts.push(format!("{n} {word}"));
        }
    }
    let unread = if told.course.faults.is_empty() { String::new() } else { " Some of it could not be read.".into() };
    if parts.is_empty() {
        return format!("All {total} targets pass: {}.{unread}", told.course.name);
    }
    format!("{passing} of {total} targets pass: {}; {}.{unread}", told.course.name, words::listed(&parts))
}

fn table(told: &Told) -> Table {
    let mut table = Table::new(vec![
        Column::words("stage"),
        Column::words("target"),
        Column::numbers("from"),
        Column::words("plate"),
        Column::words("verdict"),
        Column::words("worst load"),
    ]);
    for (target, outcome) in told.pairs() {
        let worst = outcome.worst.map(|w| told.course.loads[w].load.facts().name.clone());
        table.push(
            outcome.verdict.into(),
            vec![
                Some(target.stage.clone()),
                Some(target.name.clone()),
                Some(told.units.distance(target.nearest())),
                Some(target.plate.label.clone()),
                Some(outcome.verdict.to_string()),
                worst,
            ],
        );
    }
    table
}

fn place(target: &Target) -> String {
    format!("{}, {}", target.stage, target.name)
}

/// What to do at each target that does not pass: the cheapest fix, the others, and why.
fn to_do(told: &Told) -> Vec<String> {
    let failing = told.pairs().filter(|(_, o)| o.fix != Fix::Nothing);
    failing
        .map(|(target, outcome)| {
            let why = outcome.why.as_deref().unwrap_or("it is not known");
            format!(
                "{}: {} ({} of {} loads: {why}).",
                place(target),
                fix(target, outcome, told),
                outcome.failing,
                outcome.shot_by
            )
        })
        .collect()
}

fn fix(target: &Target, outcome: &Outcome, told: &Told) -> String {
    let hang = outcome.plate.as_ref().map(|p| format!("hang {}", p.label));
    let or_hang = hang.as_ref().map(|h| format!(", or {h}")).unwrap_or_default();
    match &outcome.fix {
        Fix::Nothing => "nothing".into(),
        Fix::Position(index) => {
            let position = &target.positions[*index];
            let name = position.name.clone().unwrap_or_else(|| told.units.distance(position.nearest));
            format!("shoot it from {name} ({}) only{or_hang}", told.units.distance(position.nearest))
        }
        Fix::Move(distance) => format!("move the line to {}{or_hang}", told.units.distance_up(*distance)),
        Fix::Hang(plate) => format!("hang {}", plate.label),
        Fix::Refuse(loads) => format!("refuse {}", words::listed(&names(told, loads))),
        Fix::None => outcome.next.clone().unwrap_or_else(|| "take it down".into()),
    }
}

fn names(told: &Told, loads: &[usize]) -> Vec<String> {
    loads
        .iter()
        .map(|&i| {
            let declared = &told.course.loads[i];
            let who = declared.who.as_ref().map(|w| format!(" ({w})")).unwrap_or_default();
            format!("{}{who}", declared.load.facts().name)
        })
        .collect()
}

/// Loads that the ammunition rules refuse, and those refused at a target, each with who brings it.
fn leave_at_home(told: &Told) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for barred in told.barred {
        let who = barred.declared.who.as_ref().map(|w| format!("{w}: ")).unwrap_or_default();
        let next = if barred.next.is_empty() { String::new() } else { format!("; {}", barred.next) };
        said.push(format!("{who}{}: {}{next}.", barred.declared.load.facts().name, barred.why));
    }
    for refused in &told.course.refused {
        let who = refused.declared.who.as_ref().map(|w| format!("{w}: ")).unwrap_or_default();
        said.push(format!("{who}{}: {}.", refused.declared.load.facts().name, refused.why));
    }
    for outcome in told.outcomes {
        if let Fix::Refuse(loads) = &outcome.fix {
            for name in names(told, loads) {
                let line = format!("{name}: {}.", outcome.why.as_deref().unwrap_or("it suits no plate"));
                if !said.contains(&line) {
                    said.push(line);
                }
            }
        }
    }
    said
}

/// The plates to bring with the fixes made, and what they weigh.
fn haul(told: &Told) -> Vec<(String, String)> {
    let mut plates: BTreeMap<String, (usize, Mass)> = BTreeMap::new();
    let mut total = Mass::from_si(0.0);
    for (target, outcome) in told.pairs() {
        let plate = if let Fix::Hang(plate) = &outcome.fix { plate } else { &target.plate };
        let mass = target.setup.face.mass(plate.thickness);
        let entry = plates.entry(format!("{} {}", plate.label, target.setup.face)).or_insert((0, Mass::from_si(0.0)));
        *entry = (entry.0 + 1, entry.1 + mass);
        total += mass;
    }
    let mut facts: Vec<(String, String)> =
        plates.into_iter().map(|(name, (count, mass))| (name, format!("{count}, {}", told.units.mass(mass)))).collect();
    facts.push(("together".into(), told.units.mass(total)));
    facts
}

fn explained(told: &Told) -> Vec<String> {
    told.pairs()
        .map(|(target, outcome)| {
            let Some((worst, strike)) = outcome.worst.zip(outcome.strike) else {
                return format!("{}: no load shoots at it.", place(target));
            };
            let load = &told.course.loads[worst].load;
            let margin = outcome.margin.map(|m| format!(", {}", words::in_hand(m))).unwrap_or_default();
            format!(
                "{}: {}: fast shot {}, {}; {} by {}{margin}.",
                place(target),
                load.facts().name,
                told.units.speed(strike.fast),
                told.units.energy(load.charge_energy(strike.fast)),
                outcome.verdict,
                outcome.governed_by.as_deref().unwrap_or("no rule")
            )
        })
        .collect()
}

/// The document `thickset/course/1`.
#[must_use]
pub fn document(told: &Told, rules: &RuleSet) -> String {
    let targets: Value = told.pairs().map(|(target, outcome)| target_json(target, outcome, told)).collect();
    let refused: Value = told
        .course
        .refused
        .iter()
        .map(|r| json!({"load": r.declared.load.id(), "name": r.declared.load.facts().name, "who": r.declared.who, "why": r.why}))
        .collect();
    let barred: Value = told
        .barred
        .iter()
        .map(|b| json!({"load": b.declared.load.id(), "name": b.declared.load.facts().name, "who": b.declared.who, "verdict": b.verdict, "why": b.why}))
        .collect();
    Document::new("thickset/course/1", told.circumstances, rules)
        .with("name", json!(told.course.name))
        .with("verdict", json!(verdict(told.outcomes, told.barred)))
        .with("targets", targets)
        .with("refused", refused)
        .with("barred", barred)
        .with("remarks", json!(told.remarks))
        .text()
}

fn target_json(target: &Target, outcome: &Outcome, told: &Told) -> Value {
    let worst = outcome.worst.map(|w| &told.course.loads[w]);
    let finding = json!({
        "rule": outcome.governed_by,
        "verdict": outcome.verdict,
        "margin": outcome.margin,
        "text": outcome.why,
    });
    json!({
        "stage": target.stage,
        "target": target.name,
        "distance_m": target.nearest().si(),
        "plate": target.plate.label,
        "worst_load": worst.map(|w| w.load.id()),
        "who": worst.and_then(|w| w.who.clone()),
        "verdict": outcome.verdict,
        "needs": {
            "label": outcome.plate.as_ref().map(|p| p.label.clone()),
            "distance_m": outcome.distance.map(Measure::si),
        },
        "fix": fix(target, outcome, told),
        "failing": outcome.failing,
        "shot_by": outcome.shot_by,
        "findings": [finding],
    })
}
