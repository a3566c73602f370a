//! Sheets to hand out: for a customer, for a wall, for a product's page, for a stand.
//!
//! Each carries its cautions and eye protection on its first printed page, and none speaks of options.

mod customer;
mod distance_table;
mod tag;
mod wall_chart;

pub use customer::{Order, customer};
pub use distance_table::distance_table;
pub use tag::tag;
pub use wall_chart::wall_chart;

use super::numbers::Numbers;
use super::table::{Column, Place, Table, Value};
use crate::advisor::answer::{Cell, Preamble, StandoffAnswer, StandoffRow};
use crate::words::Units;

/// What a page without words says of loads that it does not list.
const NOT_LISTED: &str = "Not listed: ask.";

/// What never goes on a plate: of every sheet, whatever the case.
const NEVER: &str = "steel core, armour piercing, incendiary, tracer, solid copper or brass, steel or tungsten shot; \
                     hold a magnet to the bullet and the case of it. Nothing faster or heavier than this sheet lists.";

/// When a plate is done.
const RETIRE: &str = "look at both faces before each day; a crater, a crack, a hole or a bow retires it. Never turn a \
                      damaged face to the back, never weld it, never heat it. Check hangers and bolts each string.";

/// The eyes and ears of everyone.
const EYES: &str = "wrap-around rated glasses and ear protection for everyone there, spectators included.";

/// When to stop.
const STOP: &str = "if anything comes back to the line, stop and find out why. Cold line before anyone walks up.";

/// A row for each load that suits, with what is admitted there.
fn ceilings(answer: &StandoffAnswer, with_plate: bool) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let columns = vec![
        Column::words("load"),
        Column::words("plate"),
        Column::numbers("nearest"),
        numbers.speed().column("ceiling", "muzzle at most"),
        numbers.energy().column("ceiling", "hit at most"),
    ];
    let mut table = Table::named("", Place::Page, columns);
    for (row, cell) in cells(answer) {
        table.push_cells(
            super::answer::tone(cell),
            vec![
                super::answer::load_words(row).into(),
                if with_plate { cell.label.as_str().into() } else { Value::None },
                nearest(cell, answer.preamble.units),
                numbers.speed_under().cell(cell.ceiling_speed.map(|v| v.0)),
                numbers.energy_under().cell(cell.ceiling_energy.map(|e| e.0)),
            ],
        );
    }
    table.without_empty_columns()
}

fn cells(answer: &StandoffAnswer) -> impl Iterator<Item = (&StandoffRow, &Cell)> {
    answer.rows.iter().flat_map(|row| row.plates.iter().map(move |cell| (row, cell)))
}

/// The nearest distance; what never suits is said to be never, borderline or not.
fn nearest(cell: &Cell, units: Units) -> Value {
    match cell.nearest {
        Some(distance) => Numbers(units).distance_up().words(distance.0).into(),
        None if cell.closest.short.is_empty() => "never".into(),
        None => format!("never ({})", cell.closest.short).into(),
    }
}

/// The plates of an answer by name, each once.
fn plate_words(answer: &StandoffAnswer) -> String {
    let labels: Vec<String> = answer.preamble.inputs.plates.iter().map(|plate| plate.label.clone()).collect();
    crate::words::listed(&labels)
}

/// What stands above a sheet's numbers.
fn above<I>(preamble: &Preamble<I>) -> String {
    preamble.notice.clone()
}

#[cfg(test)]
mod tests;
