//! A chronograph string as a page and as a document.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use super::words::{self, Units};
use super::{Circumstances, Document, say};
use crate::chrono::{Oddity, Summary, Suspicion};
use crate::plate::Plate;
use crate::quantity::{Measure, Ratio, show, unit};
use crate::rules::RuleSet;
use crate::standoff::Row;
use serde_json::{Value, json};

/// What is told of a string.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// What it comes to.
    pub summary: &'a Summary,
    /// Odd readings.
    pub suspicions: &'a [Suspicion],
    /// The coverage of the bound.
    pub coverage: Ratio,
    /// Its confidence.
    pub confidence: Ratio,
    /// How close the load may be shot with this bound, and on which plates, where the rest of the load was given.
    pub standoff: Option<(&'a Row<'a>, &'a [Plate])>,
    /// Inputs, assumptions and cautions.
    pub circumstances: &'a Circumstances,
    /// Units of words.
    pub units: Units,
}

/// The page.
#[must_use]
pub fn page(told: &Told) -> Page {
    let summary = told.summary;
    let tone = if told.suspicions.is_empty() { Tone::Plain } else { Tone::Doubtful };
    let bound = speed_up(summary, told.units);
    let headline = format!(
        "Plan for {bound}: with {} confidence {} of shots are no faster.",
        words::percent(told.confidence),
        words::percent(told.coverage)
    );
    let mut page = Page::new(tone, headline, Notice::default());
    page.push(Block::Facts(facts(summary, told)));
    page.push_list(
        "Look at these readings; they are counted all the same",
        told.suspicions.iter().map(|s| oddity(s, told.units)).collect(),
    );
    if let Some((row, plates)) = told.standoff {
        page.push(Block::Heading(format!("How close, {} with this bound", row.load.facts().name)));
        page.push(Block::Table(standoff(row, plates, told.units)));
    }
    if !told.circumstances.assumed.is_empty() {
        page.push(Block::Text(format!("Assumed: {}.", told.circumstances.assumed.join("; "))));
    }
    page.push_list("Cautions", told.circumstances.cautions.clone());
    page
}

/// The fast bound, rounded up.
fn speed_up(summary: &Summary, units: Units) -> String {
    let unit = if units == Units::Us { unit::FOOT_PER_SECOND } else { unit::METRE_PER_SECOND };
    show(unit.of((unit.value(summary.fast_bound) - 1e-6).ceil()), &unit, 0)
}

fn facts(summary: &Summary, told: &Told) -> Vec<(String, String)> {
    let units = told.units;
    let (low, high) = summary.sd_interval;
    let percent = words::percent(told.confidence);
    vec![
        ("readings".into(), summary.n.to_string()),
        ("mean".into(), units.small_speed(summary.mean)),
        (
            "SD".into(),
            format!(
                "{}; with {percent} confidence {} to {}",
                units.small_speed(summary.sd),
                units.small_speed(low),
                units.small_speed(high)
            ),
        ),
        ("extreme spread".into(), units.small_speed(summary.extreme_spread)),
        ("tolerance factor k".into(), format!("{:.4}", summary.factor)),
        ("fast bound".into(), format!("mean + k × SD = {}", units.small_speed(summary.fast_bound))),
        ("slow bound".into(), format!("mean − k × SD = {}", units.small_speed(summary.slow_bound))),
    ]
}

fn oddity(suspicion: &Suspicion, units: Units) -> String {
    let reading = units.small_speed(suspicion.reading);
    let place = suspicion.index + 1;
    match suspicion.oddity {
        Oddity::UnitSlip => format!("reading {place}, {reading}: it would fit in the other unit of speed."),
        Oddity::Outlier => format!("reading {place}, {reading}: Grubbs' two-sided test at 1 % sets it apart."),
    }
}

fn standoff(row: &Row, plates: &[Plate], units: Units) -> Table {
    let mut table =
        Table::new(vec![Column::words("plate"), Column::numbers("no closer than"), Column::words("what sets it")]);
    for (cell, plate) in row.cells.iter().zip(plates) {
        let distance = cell.closest.distance().map(|d| units.distance_up(d));
        table.push(Tone::Plain, vec![Some(plate.label.clone()), distance, cell.closest.by().map(say::short)]);
    }
    table
}

/// The document `thickset/chrono/1`.
#[must_use]
pub fn document(told: &Told, rules: &RuleSet) -> String {
    let summary = told.summary;
    let suspicions: Value = told
        .suspicions
        .iter()
        .map(|s| {
            let oddity = match s.oddity {
                Oddity::UnitSlip => "unit-slip",
                Oddity::Outlier => "outlier",
            };
            json!({"index": s.index, "reading_m_s": s.reading.si(), "oddity": oddity})
        })
        .collect();
    let standoff: Option<Value> = told.standoff.map(|(row, plates)| {
        let cells = row.cells.iter().zip(plates);
        cells
            .map(|(cell, plate)| {
                json!({
                    "label": plate.label,
                    "distance_m": cell.closest.distance().map(Measure::si),
                    "by": cell.closest.by().map(|r| &r.id),
                })
            })
            .collect()
    });
    Document::new("thickset/chrono/1", told.circumstances, rules)
        .with("n", json!(summary.n))
        .with("mean_m_s", json!(summary.mean.si()))
        .with("sd_m_s", json!(summary.sd.si()))
        .with("sd_interval_m_s", json!([summary.sd_interval.0.si(), summary.sd_interval.1.si()]))
        .with("spread_m_s", json!(summary.extreme_spread.si()))
        .with("coverage", json!(told.coverage.si()))
        .with("confidence", json!(told.confidence.si()))
        .with("k", json!(summary.factor))
        .with("bound_m_s", json!(summary.fast_bound.si()))
        .with("slow_bound_m_s", json!(summary.slow_bound.si()))
        .with("suspicions", suspicions)
        .with("standoff", json!(standoff))
        .text()
}
