//! What arrives at each distance, as a page and as a document.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use super::words::{self, Units};
use super::{Circumstances, Document, json};
use crate::load::Load;
use crate::quantity::Measure;
use crate::rules::RuleSet;
use crate::spread::Gains;
use crate::strike::Strike;
use serde_json::json;

/// A distance of the table.
#[derive(Debug, Clone, Copy)]
pub struct Line {
    /// What arrives.
    pub strike: Strike,
    /// How much each source adds to the fast shot.
    pub gains: Gains,
}

/// The page: one row a distance.
#[must_use]
pub fn page(load: &Load, lines: &[Line], circumstances: &Circumstances, units: Units, explain: bool) -> Page {
    let facts = load.facts();
    let headline = format!("{}: {} at the muzzle.", facts.name, units.speed(facts.muzzle_velocity));
    let mut page = Page::new(Tone::Plain, headline, Notice::default());
    page.push(Block::Table(table(load, lines, units)));
    if explain {
        page.push(Block::Heading("What makes the fast shot fast".into()));
        page.push(Block::Table(gains(lines, units)));
    }
    page.push(Block::Text(format!("Assumed: {}.", circumstances.assumed.join("; "))));
    page.push_list("Cautions", circumstances.cautions.clone());
    page
}

fn table(load: &Load, lines: &[Line], units: Units) -> Table {
    let mut table = Table::new(vec![
        Column::numbers("distance"),
        Column::numbers("mean speed"),
        Column::numbers("energy"),
        Column::numbers("fast speed"),
        Column::numbers("fast energy"),
        Column::numbers("slow speed"),
        Column::numbers("time"),
    ]);
    for line in lines {
        let strike = &line.strike;
        let energy = |speed| Some(units.energy(load.charge_energy(speed)));
        table.push(
            Tone::Plain,
            vec![
                Some(units.distance(strike.distance)),
                Some(units.speed(strike.mean)),
                energy(strike.mean),
                Some(units.speed(strike.fast)),
                energy(strike.fast),
                (strike.slow.si() > 0.0).then(|| units.speed(strike.slow)),
                Some(words::seconds(strike.time)),
            ],
        );
    }
    table
}

fn gains(lines: &[Line], units: Units) -> Table {
    let mut table = Table::new(vec![
        Column::numbers("distance"),
        Column::numbers("weather, powder"),
        Column::numbers("muzzle velocity"),
        Column::numbers("BC"),
        Column::numbers("together"),
    ]);
    for line in lines {
        let gains = &line.gains;
        let together = line.strike.fast - line.strike.mean;
        let cells = [gains.weather, gains.muzzle, gains.coefficient, together].map(|v| Some(units.small_speed(v)));
        let mut row = vec![Some(units.distance(line.strike.distance))];
        row.extend(cells);
        table.push(Tone::Plain, row);
    }
    table
}

/// The document `thickset/strike/1`.
#[must_use]
pub fn document(load: &Load, lines: &[Line], circumstances: &Circumstances, rules: &RuleSet) -> String {
    let rows = lines.iter().map(|line| {
        let mut row = json::strike(load, &line.strike);
        row["fast_gains_m_s"] = json!({
            "weather": line.gains.weather.si(),
            "muzzle": line.gains.muzzle.si(),
            "bc": line.gains.coefficient.si(),
        });
        row
    });
    Document::new("thickset/strike/1", circumstances, rules).with("rows", rows.collect()).text()
}
