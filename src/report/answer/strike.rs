//! What arrives at each distance.

use super::common::{arrivals, close, energy_of, flight_figures, open};
use super::{Detail, Report};
use crate::advisor::answer::StrikeAnswer;
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Page};
use crate::report::table::{Place, Table};
use crate::report::tone::Tone;

impl Report for StrikeAnswer {
    fn page(&self, detail: Detail) -> Page {
        let units = self.preamble.units;
        let name = self.preamble.inputs.load.name.as_str();
        let rows: Vec<_> = self.rows.iter().map(|row| (None, row)).collect();
        let named: Vec<_> = self.rows.iter().map(|row| (Some(name), row)).collect();
        let mut page = open(&self.preamble, Tone::Plain);
        page.push(Block::Table(arrivals("", &rows, Place::Page, units, detail.full)));
        page.push(Block::Table(arrivals("strikes", &named, Place::Spreadsheet, units, true)));
        page.push_note("Energy", energy_of(&rows));
        let gains = gains(self, if detail.full { Place::Both } else { Place::Spreadsheet });
        if !gains.rows.is_empty() {
            if detail.full {
                page.push(Block::Heading("What makes the fast shot faster".into()));
            }
            page.push(Block::Table(gains));
        }
        close(&mut page, &self.preamble, detail);
        flight_figures(&mut page, &self.curve, units, detail);
        page
    }
}

/// What each source adds to the fast shot.
fn gains(answer: &StrikeAnswer, place: Place) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let speed = numbers.small_speed();
    let columns = vec![
        numbers.distance().column("distance", "distance"),
        speed.column("weather", "weather"),
        speed.column("muzzle_spread", "muzzle spread"),
        speed.column("bc_spread", "BC spread"),
    ];
    let mut table = Table::named("gains", place, columns);
    for row in &answer.rows {
        if let Some(gains) = &row.fast_gains {
            let cells = vec![
                numbers.distance_cell(row.distance.0),
                speed.cell(gains.weather.0),
                speed.cell(gains.muzzle.0),
                speed.cell(gains.bc.0),
            ];
            table.push_cells(Tone::Plain, cells);
        }
    }
    table
}
