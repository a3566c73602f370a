//! A chart for a wall: the nearest distance by load and plate, on one landscape page.
//!
//! Few loads have a row each. Of many, those of a class whose distances are alike stand in one row: the distances are
//! rounded up in coarse steps, and what is farther than anyone hangs a plate is not told.

use super::{
    EYES, NEVER, between, ceiling_cells, ceiling_columns, holds, is_shot, never_shot, push_date, together, up_to,
};
use crate::advisor::answer::{Cell, StandoffAnswer, StandoffRow};
use crate::load::Class;
use crate::order::Order;
use crate::report::answer::{LEFT_OUT, NO_FARTHER, load_words, no_farther, safety, sentences};
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Kind, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::report::tone::Tone;
use crate::words::Units;

/// Loads with a row each, and so few that their speeds and energies have room beside.
const FEW: usize = 40;
const FEWER: usize = 20;
/// Steps that many loads are rounded up by, each as far as it reaches, in the unit of the chart.
const STEPS: [(f64, f64); 3] = [(5.0, 60.0), (50.0, 200.0), (100.0, 400.0)];

/// The chart, with the day it is written.
#[must_use]
pub fn wall_chart(answer: &StandoffAnswer, dated: Option<&str>) -> Page {
    let preamble = &answer.preamble;
    let mut page = Page::holding_notice(Tone::Plain, "Nearest distance, by load and plate");
    page.kind = Kind::WallChart;
    page.push_note("Eyes and ears", EYES);
    page.push_note("Safety", safety(preamble));
    page.push_note("Never", never(answer));
    page.push_note(LEFT_OUT, sentences(&preamble.left_out));
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note("Read so", read_so(answer));
    // Loads that share a row share no end.
    if is_many(answer) {
        page.push_note(NO_FARTHER, no_farther(&answer.rows, preamble.units));
    }
    page.push_note("Holds for", holds(answer));
    push_date(&mut page, dated);
    for class in classes(&answer.rows) {
        let rows = answer.rows.iter().filter(|row| row.class == class && (!is_many(answer) || is_shot(row)));
        let rows: Vec<&StandoffRow> = rows.collect();
        if !rows.is_empty() {
            page.push(Block::Table(table(class, &rows, answer)));
        }
    }
    page
}

/// Whether the chart has a distance in any of its rows.
#[must_use]
pub fn has_distance(answer: &StandoffAnswer) -> bool {
    let units = answer.preamble.units;
    let cells = |row: &StandoffRow| row.plates.iter().any(|cell| own(cell, units) != Value::None);
    answer.rows.iter().any(|row| if is_many(answer) { is_shot(row) } else { cells(row) })
}

/// What never goes on any of the plates; of many loads they have no row, and are counted.
fn never(answer: &StandoffAnswer) -> String {
    let count = answer.rows.iter().filter(|row| !is_shot(row)).count();
    let never = if lists_ceilings(answer) {
        NEVER.to_owned()
    } else {
        NEVER.replace("than this sheet lists", "than a load it names")
    };
    match count {
        0 => never,
        count if is_many(answer) => format!("{never} {count} of the loads asked suit none of these plates."),
        _ => format!("{never} On none of these plates: {}.", never_shot(answer)),
    }
}

fn is_many(answer: &StandoffAnswer) -> bool {
    answer.rows.len() > FEW
}

/// Whether each row lists how fast and how hard its load is.
fn lists_ceilings(answer: &StandoffAnswer) -> bool {
    answer.rows.len() <= FEWER
}

fn read_so(answer: &StandoffAnswer) -> String {
    let unit = Numbers(answer.preamble.units).distance().symbol();
    let [(small, _), (middle, _), (large, last)] = STEPS;
    let cells = if is_many(answer) {
        format!("Rounded up to {small}, {middle} or {large} {unit}. A dash: never, or not within {last} {unit}.")
    } else {
        "In brackets: never better than borderline, and that from there. A dash: never.".into()
    };
    let ends = |cell: &Cell| cell.farthest.is_some() && (!is_many(answer) || cell.farthest_of_range);
    let muzzle = if lists_ceilings(answer) { " Speed and energy are those at the muzzle." } else { "" };
    format!(
        "distances in {unit}; nobody nearer while hot.{}{} {cells}{muzzle} Not listed: ask.",
        between(answer, ends),
        up_to(answer)
    )
}

/// A class: a row a load, or of many a row for those that are alike.
fn table(class: Class, rows: &[&StandoffRow], answer: &StandoffAnswer) -> Table {
    let (many, units) = (is_many(answer), answer.preamble.units);
    let mut columns = vec![Column::words(class_words(class))];
    let plates = rows.first().map(|row| row.plates.as_slice()).unwrap_or_default();
    columns.extend(plates.iter().map(|cell| Column::numbers(cell.label.as_str())));
    let numbers = Numbers(units);
    if lists_ceilings(answer) {
        columns.extend(ceiling_columns(numbers));
    }
    let mut table = Table::named("", Place::Page, columns);
    let width = table.columns.len();
    let mut push = |name: String, distances: Vec<Value>| {
        let mut cells = vec![Value::from(name)];
        cells.extend(distances);
        cells.resize(width, Value::None);
        table.push_cells(Tone::Plain, cells);
    };
    if !many {
        for row in rows {
            let distances = row.plates.iter().map(|cell| own(cell, units));
            let ceilings = ceiling_cells(row, numbers).into_iter().filter(|_| lists_ceilings(answer));
            push(load_words(row), distances.chain(ceilings).collect());
        }
        return table;
    }
    for (distances, of) in alike(rows, units) {
        let cells = distances.iter().map(|d| d.map_or(Value::None, rounded));
        push(together(of.iter().map(|row| row.name.as_str())), cells.collect());
    }
    table
}

/// The number alone: the chart says its unit once.
fn own(cell: &Cell, units: Units) -> Value {
    let numbers = Numbers(units).distance_up();
    match (cell.nearest, cell.closest.borderline) {
        (Some(from), _) => match cell.farthest {
            None => numbers.cell(from.0),
            Some(to) => {
                let to = Numbers(units).distance_under().cell(to.0);
                format!("{} to {}", numbers.cell(from.0).plain(), to.plain()).into()
            }
        },
        (None, Some(borderline)) if cell.closest.distance.is_none() => {
            format!("({})", numbers.cell(borderline.0).plain()).into()
        }
        (None, _) => Value::None,
    }
}

/// From where, and up to where that ends, as many loads share it.
type Coarse = (f64, Option<f64>);

fn rounded((from, to): Coarse) -> Value {
    let number = |value: f64| Value::number(value, 0, crate::report::table::Rounding::default());
    to.map_or_else(|| number(from), |to| format!("{} to {}", number(from).plain(), number(to).plain()).into())
}

/// Loads whose distances are alike once they are rounded up, the nearest first; those that never suit last.
fn alike<'r>(rows: &[&'r StandoffRow], units: Units) -> Vec<(Vec<Option<Coarse>>, Vec<&'r StandoffRow>)> {
    let mut groups: Vec<(Vec<Option<Coarse>>, Vec<&StandoffRow>)> = Vec::new();
    for row in rows {
        let distances: Vec<Option<Coarse>> = row.plates.iter().map(|cell| coarse(cell, units)).collect();
        match groups.iter_mut().find(|(known, _)| *known == distances) {
            Some((_, list)) => list.push(row),
            None => groups.push((distances, vec![row])),
        }
    }
    let key = |distances: &[Option<Coarse>]| -> Vec<f64> {
        distances.iter().rev().map(|distance| distance.map_or(f64::INFINITY, |(from, _)| from)).collect()
    };
    groups.order_by(|(a, _), (b, _)| key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal));
    groups
}

/// The nearest distance rounded up, and the farthest rounded down; none where it is farther than the chart tells, or ends
/// before it.
fn coarse(cell: &Cell, units: Units) -> Option<Coarse> {
    let from = coarse_from(cell, units)?;
    let to = cell.farthest.filter(|_| cell.farthest_of_range).map(|to| Numbers(units).distance().of(to.0));
    let down = |to: f64| {
        let step = STEPS.iter().find(|(_, last)| to <= *last).map_or(STEPS[STEPS.len() - 1].0, |step| step.0);
        (to / step).floor() * step
    };
    let to = to.map(down);
    to.is_none_or(|to| from < to).then_some((from, to))
}

fn coarse_from(cell: &Cell, units: Units) -> Option<f64> {
    let distance = Numbers(units).distance().of(cell.nearest?.0);
    let rounded = |step: f64| Value::number(distance / step, 0, crate::report::table::Rounding::Up);
    STEPS.iter().find_map(|(step, last)| match rounded(*step) {
        Value::Number { value, .. } => Some(value * step).filter(|rounded| rounded <= last),
        _ => None,
    })
}

/// The classes in the order of the list, each once.
fn classes(rows: &[StandoffRow]) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    for row in rows {
        if !classes.contains(&row.class) {
            classes.push(row.class);
        }
    }
    classes
}

fn class_words(class: Class) -> &'static str {
    match class {
        Class::RimfirePistol => "Rimfire, from a pistol",
        Class::RimfireRifle => "Rimfire, from a rifle",
        Class::Handgun => "Handgun",
        Class::PistolCarbine => "Pistol-calibre carbine",
        Class::Shot => "Shot",
        Class::Slug => "Slugs",
        Class::Rifle => "Rifle",
        Class::MuzzleLoader => "Muzzle-loader",
        Class::AirGun => "Air gun",
    }
}
