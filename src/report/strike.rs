//! What arrives at each distance, as a page and as a document.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use super::words::{self, Units};
use super::{Circumstances, Document};
use crate::load::Load;
use crate::quantity::{Measure, unit};
use crate::rules::RuleSet;
use crate::spread::Gains;
use crate::strike::Strike;
use serde_json::{Value, json};

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
                Some(units.speed(strike.nominal)),
                energy(strike.nominal),
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
        let cells = [gains.weather, gains.muzzle, gains.coefficient, gains.total()].map(|v| Some(units.small_speed(v)));
        let mut row = vec![Some(units.distance(line.strike.distance))];
        row.extend(cells);
        table.push(Tone::Plain, row);
    }
    table
}

/// The document `thickset/strike/1`.
#[must_use]
pub fn document(load: &Load, lines: &[Line], circumstances: &Circumstances, rules: &RuleSet) -> String {
    let rows: Value = lines
        .iter()
        .map(|line| {
            let strike = &line.strike;
            json!({
                "distance_m": strike.distance.si(),
                "speed_m_s": strike.nominal.si(),
                "mach": strike.mach,
                "energy_j": load.charge_energy(strike.nominal).si(),
                "momentum_kg_m_s": load.charge_momentum(strike.nominal).si(),
                "time_s": strike.time.si(),
                "descent_deg": unit::DEGREE.value(strike.descent),
                "fast_speed_m_s": strike.fast.si(),
                "fast_energy_j": load.charge_energy(strike.fast).si(),
                "slow_speed_m_s": strike.slow.si(),
                "fast_gains_m_s": {
                    "weather": line.gains.weather.si(),
                    "muzzle": line.gains.muzzle.si(),
                    "bc": line.gains.coefficient.si(),
                },
            })
        })
        .collect();
    Document::new("thickset/strike/1", circumstances, rules).with("rows", rows).text()
}
