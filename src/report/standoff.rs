//! How close, as a page and as a document: one load on one plate, or the chart.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use super::words::{self, Units};
use super::{Circumstances, Document, say};
use crate::plate::Plate;
use crate::quantity::{Length, Measure};
use crate::rules::{Closest, Judgement, Rule, RuleSet, Subject, Verdict};
use crate::standoff::{Cell, MatchRisk, Row};
use serde_json::{Value, json};

/// What is told of a chart beside itself.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// The plates, in the order of the cells.
    pub plates: &'a [Plate],
    /// The distance verdicts are given at, where one was asked.
    pub at: Option<Length>,
    /// How the plates stand, in words.
    pub setup: &'a str,
    /// What a match of many shots comes to, where one was asked.
    pub risk: Option<&'a MatchRisk<'a>>,
    /// Inputs, assumptions and cautions.
    pub circumstances: &'a Circumstances,
    /// What else must be said.
    pub remarks: &'a [String],
    /// Units of words.
    pub units: Units,
    /// Whether the rules behind the cells are told.
    pub explain: bool,
}

/// The status of the whole: good unless one load on one plate never suits, or not at the distance asked.
#[must_use]
pub fn verdict(rows: &[Row], at: Option<Length>) -> Option<Verdict> {
    let [row] = rows else { return None };
    let [cell] = row.cells.as_slice() else { return None };
    Some(match (at, cell.at, cell.closest) {
        (Some(_), Some(judgement), _) => judgement.verdict,
        (Some(_), None, _) | (None, _, Closest::Never { .. } | Closest::BeyondReach { .. }) => Verdict::Unsuitable,
        (None, _, Closest::At { .. }) => Verdict::Suits,
    })
}

/// The page.
#[must_use]
pub fn page(rows: &[Row], told: &Told) -> Page {
    let mut page = match (rows, rows.first().map(|r| r.cells.as_slice())) {
        ([row], Some([cell])) => single(row, *cell, told),
        _ => chart(rows, told),
    };
    page.push_list("Mind", told.remarks.to_vec());
    if told.explain {
        page.push_list("What governs", explained(rows, told));
    }
    page.push(Block::Text(format!("Assumed: {}.", told.circumstances.assumed.join("; "))));
    page.push_list("Cautions", told.circumstances.cautions.clone());
    page
}

fn single(row: &Row, cell: Cell, told: &Told) -> Page {
    let name = &row.load.facts().name;
    let plate = &told.plates[0].label;
    let (tone, headline) = match cell.closest {
        Closest::At { distance, .. } => {
            (Tone::Good, format!("{name} on {plate}: no closer than {}.", told.units.distance_up(distance)))
        }
        Closest::Never { by } => (Tone::Bad, format!("{name} on {plate}: at no distance: {}.", by.why)),
        Closest::BeyondReach { by } => (Tone::Bad, format!("{name} on {plate}: not within reach: {}.", by.why)),
    };
    let mut page = Page::new(tone, headline, Notice::default());
    let mut facts = Vec::new();
    if let Some(rule) = cell.closest.by() {
        facts.push(("governed by".to_owned(), format!("{}: {}", rule.id, rule.why)));
        facts.push(("founded on".to_owned(), rule.source.clone()));
    }
    if let Closest::At { next: Some(next), .. } = cell.closest {
        facts.push(("next would be".to_owned(), format!("{}: {}", next.id, next.why)));
    }
    if let (Some(at), Some(judgement)) = (told.at, cell.at) {
        let text = format!("{}: {}", judgement.verdict, say::judgement(&judgement));
        facts.push((format!("at {}", told.units.distance(at)), text));
    }
    if let Some(risk) = told.risk {
        facts.extend(self::risk(risk, told.units));
    }
    page.push(Block::Facts(facts));
    page
}

/// What a match of many shots comes to, in words.
fn risk(risk: &MatchRisk, units: Units) -> Vec<(String, String)> {
    let percent = |share: f64| if share < 1e-4 { "below 0.01 %".to_owned() } else { format!("{:.2} %", share * 100.0) };
    let chance = format!(
        "{} that a shot passes {} at {}",
        percent(risk.chance),
        units.speed(risk.ceiling),
        units.distance(risk.at)
    );
    let safe = risk.safe.map_or_else(
        || "not within reach".to_owned(),
        |d| format!("from {} on, by the speed ceiling alone", units.distance_up(d)),
    );
    vec![("match risk".into(), chance), (format!("{} or less", percent(risk.accepted)), safe)]
}

fn chart(rows: &[Row], told: &Told) -> Page {
    let unit = if told.units == Units::Us { "yards" } else { "metres" };
    let headline = match told.at {
        Some(at) => format!("What {} admits at {}.", told.setup, told.units.distance(at)),
        None => format!("Closest distance in {unit}, and what sets it: {}.", told.setup),
    };
    let mut page = Page::new(Tone::Plain, headline, Notice::default());
    let mut columns = vec![Column::words("load")];
    columns.extend(told.plates.iter().map(|p| Column::words(p.label.clone())));
    let mut table = Table::new(columns);
    for row in rows {
        let mut cells = vec![Some(row.load.facts().name.clone())];
        cells.extend(row.cells.iter().map(|cell| Some(cell_words(*cell, told))));
        table.push(Tone::Plain, cells);
    }
    page.push(Block::Table(table));
    let key = match told.at {
        Some(_) => "In hand of the limit that comes next where it suits; else what stands against it.",
        None => {
            "floor: for this kind of load, whatever the plate. speed, energy, demand: what the plate takes. –: never \
             on this plate, too thin or the wrong bullet. far: not within 3000 yd."
        }
    };
    page.push(Block::Text(key.into()));
    page
}

fn cell_words(cell: Cell, told: &Told) -> String {
    if told.at.is_some() {
        return cell.at.map_or_else(|| "out of reach".into(), |j| verdict_words(&j));
    }
    match cell.closest {
        Closest::At { distance, by, .. } => {
            let number = told.units.distance_up(distance);
            let number = number.split(' ').next().unwrap_or(&number);
            format!("{number} {}", by.map_or_else(|| "any".into(), chart_word))
        }
        Closest::Never { by } => format!("– {}", chart_word(by)),
        Closest::BeyondReach { by } => format!("far {}", chart_word(by)),
    }
}

/// What sets a cell, in a word.
fn chart_word(rule: &Rule) -> String {
    let word = match rule.subject {
        Subject::Distance => "floor",
        Subject::Thickness => "thin",
        Subject::Case => "bullet",
        _ => return say::short(rule),
    };
    if rule.overlay.is_some() { format!("range {word}") } else { word.into() }
}

fn verdict_words(judgement: &Judgement) -> String {
    match (judgement.verdict, judgement.margin, judgement.rule) {
        (Verdict::Suits, Some(margin), _) => format!("suits {}", words::margin(margin)),
        (verdict, _, Some(rule)) => format!("{verdict}: {}", say::short(rule)),
        (verdict, _, None) => verdict.to_string(),
    }
}

/// Every rule that sets a cell, once.
fn explained(rows: &[Row], told: &Told) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for rule in rows.iter().flat_map(|r| &r.cells).filter_map(|c| c.closest.by()) {
        let limit = say::limit(rule, told.units).map(|l| format!(" {l};")).unwrap_or_default();
        let text = format!("{}:{limit} {}. [{}]", rule.id, rule.why, rule.source);
        if !said.contains(&text) {
            said.push(text);
        }
    }
    said
}

/// The document `thickset/standoff/1`.
#[must_use]
pub fn document(rows: &[Row], told: &Told, rules: &RuleSet) -> String {
    let rows: Value = rows
        .iter()
        .map(|row| {
            let cells = row.cells.iter().zip(told.plates);
            json!({
                "load": row.load.id(),
                "name": row.load.facts().name,
                "plates": cells.map(|(cell, plate)| cell_json(*cell, plate)).collect::<Vec<_>>(),
            })
        })
        .collect();
    Document::new("thickset/standoff/1", told.circumstances, rules)
        .with("at_m", json!(told.at.map(Measure::si)))
        .with("rows", rows)
        .with(
            "match_risk",
            json!(told.risk.map(|r| json!({
                "ceiling_m_s": r.ceiling.si(),
                "rule": r.rule.id,
                "at_m": r.at.si(),
                "chance": r.chance,
                "accepted": r.accepted,
                "safe_distance_m": r.safe.map(Measure::si),
            }))),
        )
        .with("remarks", json!(told.remarks))
        .text()
}

fn cell_json(cell: Cell, plate: &Plate) -> Value {
    let (why, next) = match cell.closest {
        Closest::At { next, .. } => ("at", next),
        Closest::Never { .. } => ("never", None),
        Closest::BeyondReach { .. } => ("beyond-reach", None),
    };
    json!({
        "label": plate.label,
        "closest": {
            "distance_m": cell.closest.distance().map(Measure::si),
            "borderline_m": cell.borderline.map(Measure::si),
            "why": why,
            "by": cell.closest.by().map(|r| &r.id),
            "next": next.map(|r| &r.id),
        },
        "at": cell.at.map(|j| json!({"verdict": j.verdict, "margin": j.margin, "governed_by": j.rule.map(|r| &r.id)})),
    })
}

/// Whether distances grow in other air, in words.
#[must_use]
pub fn farther(here: &[Row], there: &[Row], units: Units) -> Option<String> {
    let cells = || here.iter().flat_map(|r| &r.cells).zip(there.iter().flat_map(|r| &r.cells));
    let pairs = || cells().filter_map(|(a, b)| Some((a.closest.distance()?, b.closest.distance())));
    let grown = pairs().filter_map(|(a, b)| b.map(|b| b - a)).filter(|by| *by > Length::from_si(0.5));
    let grown = grown.reduce(|a, b| if a > b { a } else { b });
    let grown = grown.map(|by| format!("distances grow by up to {}", units.distance_up(by)));
    let lost = pairs().filter(|(_, b)| b.is_none()).count();
    let lost = (lost > 0).then(|| format!("for {lost} of the pairs of load and plate no distance suits"));
    let said: Vec<String> = grown.into_iter().chain(lost).collect();
    (!said.is_empty()).then(|| words::listed(&said))
}
