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
pub use wall_chart::{has_distance as wall_chart_has_distance, wall_chart};

use super::answer::{holds_for, holds_for_all_air};
use super::numbers::Numbers;
use super::page::Page;
use super::table::{Column, Place, Table, Value};
use super::tone::Tone;
use crate::advisor::answer::{Cell, Preamble, StandoffAnswer, StandoffRow};
use crate::load::Class;
use crate::quantity::{Energy, Si};
use crate::words::Units;

/// The line that a date is written on.
pub(in crate::report) const NO_DATE: &str = "______________";

/// What a page without words says of loads that it does not list.
const NOT_LISTED: &str = "Not listed: ask.";

/// What never goes on a plate: of every sheet, whatever the case.
const NEVER: &str = "steel core, armour piercing, incendiary, tracer, solid copper or brass, steel or tungsten shot: \
                     hold a magnet to the bullet. Nothing faster or heavier than this sheet lists.";

/// When a plate is done.
const RETIRE: &str = "look at both faces before each day; a crater, a crack, a hole or a bow retires it. Never turn a \
                      damaged face to the back, never weld it, never heat it. Check hangers and bolts each string.";

/// The eyes and ears of everyone.
const EYES: &str = "wrap-around rated glasses and ear protection for everyone there, spectators included.";

/// When to stop.
const STOP: &str = "if anything comes back to the line, stop and find out why. Cold line before anyone walks up.";

/// A row for each load that may be shot, with what was judged of it; the nearest distance on each plate.
fn ceilings(answer: &StandoffAnswer) -> Table {
    ceilings_of(answer, answer.rows.iter().filter(|row| is_shot(row)))
}

/// The same of some of the loads.
fn ceilings_of<'a>(answer: &'a StandoffAnswer, rows: impl Iterator<Item = &'a StandoffRow>) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let plates = answer.rows.first().map(|row| row.plates.as_slice()).unwrap_or_default();
    let title = |cell: &Cell| if plates.len() == 1 { "nearest".to_owned() } else { cell.label.clone() };
    let mut columns = vec![Column::words("load")];
    columns.extend(plates.iter().map(|cell| Column::numbers(title(cell))));
    columns.extend(ceiling_columns(numbers));
    let mut table = Table::named("", Place::Page, columns);
    for row in rows {
        let mut cells: Vec<Value> = vec![called(row).into()];
        cells.extend(row.plates.iter().map(|cell| nearest(cell, answer.preamble.units)));
        cells.extend(ceiling_cells(row, numbers));
        table.push_cells(Tone::Plain, cells);
    }
    table
}

/// The speed and the energy at the muzzle that a load was judged with, and nothing above them.
fn ceiling_columns(numbers: Numbers) -> [Column; 2] {
    [numbers.speed().column("ceiling", "speed at most"), numbers.energy().column("ceiling", "energy at most")]
}

fn ceiling_cells(row: &StandoffRow, numbers: Numbers) -> [Value; 2] {
    let judged = row.plates.iter().find(|cell| cell.ceiling_speed.is_some());
    let speed = numbers.speed_under().cell(judged.and_then(|c| c.ceiling_speed).map(|v| v.0));
    [speed, energy(row, judged.and_then(|c| c.ceiling_energy), numbers)]
}

/// The energy that was judged: of shot that of one pellet, which is not what stands on its box.
fn energy(row: &StandoffRow, ceiling: Option<Si<Energy>>, numbers: Numbers) -> Value {
    match ceiling {
        Some(energy) if row.projectiles > 1 => format!("{} a pellet", numbers.energy_under().words(energy.0)).into(),
        ceiling => numbers.energy_under().cell(ceiling.map(|e| e.0)),
    }
}

/// The day a sheet is written, or a line to write it on.
fn push_date(page: &mut Page, dated: Option<&str>) {
    match given(dated) {
        Some(dated) => page.push_note("Dated", dated),
        None => page.push_note("Date", NO_DATE),
    }
}

/// A date that says something.
pub(in crate::report) fn given(dated: Option<&str>) -> Option<&str> {
    dated.filter(|words| !words.trim().is_empty())
}

/// A load with what fires it: the same bullet at the same speed from another firearm has another distance.
fn called(row: &StandoffRow) -> String {
    let name = super::answer::load_words(row);
    if row.class == Class::Rifle { name } else { format!("{name}, {}", row.class.to_string().replace('-', " ")) }
}

/// Whether a load has a distance on any of the plates.
fn is_shot(row: &StandoffRow) -> bool {
    row.plates.iter().any(|cell| cell.nearest.is_some())
}

/// The loads without a row.
fn never_shot(answer: &StandoffAnswer) -> String {
    let rows = answer.rows.iter().filter(|row| !is_shot(row));
    // All of it is set apart here, whatever is never allowed anywhere.
    let whole = |name: &str| {
        name.rsplit_once(" (").filter(|(_, apart)| apart.ends_with("never)")).map(|(all, _)| all.to_owned())
    };
    let names: Vec<String> = rows.map(|row| whole(&row.name).unwrap_or_else(|| row.name.clone())).collect();
    together(names.iter().map(String::as_str))
}

/// The nearest distance, in all of the air that was not given.
fn nearest(cell: &Cell, units: Units) -> Value {
    cell.nearest.map_or_else(|| "never".into(), |from| units.stretch(from.0, cell.farthest.map(|to| to.0)).into())
}

/// What the numbers at the muzzle and the air mean.
fn read_so(answer: &StandoffAnswer) -> String {
    format!(
        "nobody nearer than the distance while hot; speed and energy are those at the muzzle, and a load with more of \
         either is not listed.{}{}",
        between(answer, |cell| cell.farthest.is_some()),
        up_to(answer)
    )
}

/// What a second distance means, where one is told.
fn between(answer: &StandoffAnswer, ends: impl Fn(&Cell) -> bool) -> &'static str {
    let mut cells = answer.rows.iter().flat_map(|row| &row.plates);
    if cells.any(ends) { " Of two distances, not shot from beyond the second." } else { "" }
}

/// The air that the distances hold in, where not all of it was given.
fn up_to(answer: &StandoffAnswer) -> String {
    answer.nearest_up_to.as_ref().map(|end| format!(" Good for {end}.")).unwrap_or_default()
}

/// Every condition of the distances, but for the air that they hold in all of.
fn holds(answer: &StandoffAnswer) -> String {
    let in_all = answer.nearest_up_to.is_some();
    if in_all { holds_for_all_air(&answer.preamble) } else { holds_for(&answer.preamble) }
}

/// A name as calibre, grains and what follows: `308 Win`, `168`, `gr match`.
fn parted(name: &str) -> Option<(&str, &str, &str)> {
    let unit = name.match_indices(" gr").map(|(at, _)| at).find(|at| {
        let behind = name[at + 3..].chars().next();
        behind.is_none_or(|c| !c.is_alphanumeric())
    })?;
    let number = name[..unit].rfind(' ')? + 1;
    let is_number = name[number..unit].chars().all(|c| c.is_ascii_digit());
    is_number.then(|| (&name[..number - 1], &name[number..unit], &name[unit + 1..]))
}

/// A name of shot as gauge and what follows: `12 ga`, nothing, `birdshot No. 8, 1 oz`.
fn gauged(name: &str) -> Option<(&str, &str, &str)> {
    let end = name.find(" ga ")? + 3;
    Some((&name[..end], "", &name[end + 1..]))
}

/// What follows the grains, with the grains that it follows.
type Bullets<'a> = (&'a str, Vec<&'a str>);

/// Names of loads in one breath, each whole in it: `308 Win 168, 175 gr match / 180 gr; 30-06 150 gr`.
fn together<'a>(names: impl Iterator<Item = &'a str>) -> String {
    // By calibre, then by what follows the grains.
    let mut calibres: Vec<(&str, Vec<Bullets>)> = Vec::new();
    for name in names {
        let (calibre, grains, rest) = parted(name).or_else(|| gauged(name)).unwrap_or((name, "", ""));
        let place = calibres.iter().position(|(known, _)| *known == calibre).unwrap_or_else(|| {
            calibres.push((calibre, Vec::new()));
            calibres.len() - 1
        });
        let kinds = &mut calibres[place].1;
        match kinds.iter_mut().find(|(known, _)| *known == rest) {
            Some((_, list)) => list.push(grains),
            None => kinds.push((rest, vec![grains])),
        }
    }
    let of_kind = |(rest, grains): &Bullets| format!("{} {rest}", grains.join(", ")).trim().to_owned();
    let of_calibre = |(calibre, kinds): &(&str, Vec<Bullets>)| {
        let kinds: Vec<String> = kinds.iter().map(of_kind).collect();
        format!("{calibre} {}", kinds.join(" / ")).trim().to_owned()
    };
    calibres.iter().map(of_calibre).collect::<Vec<_>>().join("; ")
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
