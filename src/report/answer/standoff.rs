//! How close.

use super::common::{
    close, drawing, energy_of_column, energy_of_one, explained, findings, flight_figures, go_by_cell, go_by_column,
    nearest_cell, nearest_column, open, outline_figure, words,
};
use super::{Detail, Report};
use crate::advisor::answer::{Cell, Finding, OF_RANGE, StandoffAnswer, StandoffRow};
use crate::order::Order;
use crate::quantity::{Length, Measure};
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::report::tone::Tone;
use crate::words::{Units, listed};

impl Report for StandoffAnswer {
    fn page(&self, detail: Detail) -> Page {
        let (preamble, units) = (&self.preamble, self.preamble.units);
        let mut page = open(preamble, self.verdict.into());
        if says_the_nearest(self) {
            page.lead.retain(|line| *line != preamble.nearest);
        }
        match self.rows.as_slice() {
            [row] => match row.plates.as_slice() {
                // The headline has its distance and its verdict.
                [cell] => page.push_note("Set by", set_by(cell, units)),
                cells => {
                    page.push(Block::Table(one(self, row)));
                    let bracketed = cells.iter().any(is_bracketed);
                    page.push_note("Read so", if bracketed { format!("{BRACKETS}.") } else { String::new() });
                }
            },
            rows => {
                page.push(Block::Table(chart(rows.iter(), |cell| chart_words(cell, self.at.is_some(), units))));
                page.push_note("Read so", if self.at.is_some() { String::new() } else { legend(rows) });
                page.push_note(NO_FARTHER, no_farther(rows, units));
            }
        }
        page.push(Block::Table(distances(self)));
        if let Some(risk) = &self.match_risk {
            page.push_note("Match risk", risk.words.as_str());
        }
        drawing(&mut page, self.outline.as_ref(), detail);
        let all: Vec<&Finding> = self.rows.iter().flat_map(|r| &r.plates).flat_map(|cell| &cell.findings).collect();
        page.push(Block::Table(findings("findings", &all, Place::Spreadsheet, true)));
        if detail.explain || detail.full {
            page.push_list("Every finding", explained(&all, true));
        }
        close(&mut page, preamble, detail);
        flight_figures(&mut page, &self.curve, units, detail);
        outline_figure(&mut page, self.outline.as_ref(), units);
        page
    }
}

/// Whether the headline says how near anyone may come already.
fn says_the_nearest(answer: &StandoffAnswer) -> bool {
    let [row] = answer.rows.as_slice() else { return false };
    let [cell] = row.plates.as_slice() else { return false };
    let asked = answer.at.map(|at| at.0);
    let told = cell.nearest.map(|nearest| answer.preamble.units.distance_kept(nearest.0, asked.as_slice()));
    let never = answer.at.is_none() && cell.closest.distance.is_none() && cell.nearest.is_none();
    match told {
        Some(told) => {
            let (headline, nearest) = (&answer.preamble.headline, format!("Nobody nearer than {told}."));
            headline.contains(&format!("no closer than {told}")) && answer.preamble.nearest == nearest
        }
        None => never && answer.preamble.headline.contains("at no distance"),
    }
}

/// One load: a row for each plate.
fn one(answer: &StandoffAnswer, row: &StandoffRow) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let closest = if answer.at.is_some() { "suits from" } else { "closest" };
    let columns = vec![
        Column::words("plate"),
        Column::words("verdict"),
        Column::numbers(closest),
        Column::words("set by"),
        Column::words("next"),
        numbers.speed().column("ceiling", "muzzle at most"),
    ];
    let mut table = Table::named("", Place::Page, columns);
    for cell in &row.plates {
        let next = next_rule(cell);
        table.push_cells(
            cell.verdict.into(),
            vec![
                cell.label.as_str().into(),
                answer.at.map(|_| at_words(cell)).into(),
                if is_bracketed(cell) || cell.farthest.is_some() {
                    cell_words(cell, false, answer.preamble.units)
                } else {
                    words(&cell.closest.words)
                },
                cell.nearest_by.clone().into(),
                next.into(),
                numbers.speed_under().cell(cell.ceiling_speed.map(|v| v.0)),
            ],
        );
    }
    table.without_empty_columns()
}

/// Whether its distance is one from which it is borderline, and never better.
fn is_bracketed(cell: &Cell) -> bool {
    cell.nearest.is_none() && cell.closest.distance.is_none() && cell.closest.borderline.is_some()
}

const BRACKETS: &str = "in brackets: never better than borderline, and that from there, or between the two";

/// The rule that sets the only distance, the one that would next, and what is admitted there.
fn set_by(cell: &Cell, units: Units) -> String {
    let Some(by) = &cell.nearest_by else { return String::new() };
    let next = next_rule(cell).map(|next| format!("; next {next}")).unwrap_or_default();
    let ceiling = cell.ceiling_speed.map(|v| Numbers(units).speed_under().words(v.0));
    let ceiling = ceiling.map(|v| format!("; muzzle at most {v}")).unwrap_or_default();
    format!("{by}{next}{ceiling}.")
}

/// The rule that would set the distance next, where the air that was not given does not move it.
fn next_rule(cell: &Cell) -> Option<String> {
    let same = cell.nearest_by == cell.closest.by;
    cell.closest.next.clone().filter(|next| same && Some(next) != cell.closest.by.as_ref())
}

/// Loads down, plates across.
fn chart<'a>(rows: impl Iterator<Item = &'a StandoffRow> + Clone, words: impl Fn(&Cell) -> Value) -> Table {
    let mut columns = vec![Column::words("load")];
    let plates = rows.clone().next().map(|row| row.plates.as_slice()).unwrap_or_default();
    columns.extend(plates.iter().map(|cell| Column::numbers(cell.label.as_str())));
    let mut table = Table::named("", Place::Page, columns);
    for row in rows {
        let mut cells: Vec<Value> = vec![load_words(row).into()];
        cells.extend(row.plates.iter().map(&words));
        cells.resize(table.columns.len(), Value::None);
        table.push_cells(Tone::Plain, cells);
    }
    table
}

/// The load with how many stand behind it, where it is more than one.
pub(in crate::report) fn load_words(row: &StandoffRow) -> String {
    if row.loads > 1 { format!("{} ({} loads)", row.name, row.loads) } else { row.name.clone() }
}

/// The verdict at the distance asked.
fn at_words(cell: &Cell) -> String {
    cell.at.map_or_else(|| "out of reach".into(), |verdict| verdict.to_string())
}

/// A distance, or in brackets the one from which it is only borderline.
fn cell_words(cell: &Cell, verdicts: bool, units: Units) -> Value {
    if verdicts {
        return at_words(cell).into();
    }
    match (cell.nearest, cell.closest.borderline) {
        (Some(from), _) => units.stretch(from.0, cell.farthest.map(|to| to.0)).into(),
        // It suits in the air that was taken alone.
        (None, _) if cell.closest.distance.is_some() => words(&cell.closest.words),
        (None, Some(from)) => format!("({})", units.stretch(from.0, cell.closest.borderline_to.map(|to| to.0))).into(),
        (None, None) if cell.closest.short.is_empty() => words(&cell.closest.words),
        (None, None) => cell.closest.short.as_str().into(),
    }
}

/// The same in a chart: its cells have no room for where a load falls too steeply, which stands below.
fn chart_words(cell: &Cell, verdicts: bool, units: Units) -> Value {
    match cell.nearest.filter(|_| cell.farthest.is_some() && !cell.farthest_of_range && !verdicts) {
        Some(from) => Numbers(units).distance_up().words(from.0).into(),
        None => cell_words(cell, verdicts, units),
    }
}

/// What a chart calls the loads that fall too steeply beyond some distance.
pub(in crate::report) const NO_FARTHER: &str = "No farther";

/// Up to where loads suit that fall too steeply beyond: `177 air rifle 8 gr pellet 297 yd`, the nearest first.
pub(in crate::report) fn no_farther(rows: &[StandoffRow], units: Units) -> String {
    let mut ends: Vec<(&StandoffRow, f64)> = Vec::new();
    for row in rows {
        let of_fall = row.plates.iter().filter(|cell| !cell.farthest_of_range).filter_map(|cell| cell.farthest);
        ends.extend(of_fall.map(|end| end.0.si()).reduce(f64::min).map(|end| (row, end)));
    }
    ends.order_by(|a, b| a.1.total_cmp(&b.1));
    let told = |(row, end): &(&StandoffRow, f64)| {
        format!("{} {}", load_words(row), units.distance_down(Length::from_si(*end)))
    };
    let mut said: Vec<String> = ends.iter().take(MANY).map(told).collect();
    if ends.len() > MANY {
        said.push(format!("{} more, which the spreadsheet names", ends.len() - MANY));
    }
    if said.is_empty() { String::new() } else { listed(&said) + "." }
}

fn legend(rows: &[StandoffRow]) -> String {
    let cells = || rows.iter().flat_map(|row| &row.plates).filter(|cell| cell.nearest.is_none());
    let nowhere = || cells().filter(|cell| cell.closest.distance.is_none());
    let mut said: Vec<String> = Vec::new();
    if cells().any(is_bracketed) {
        said.push(BRACKETS.into());
    }
    if nowhere().any(|cell| cell.closest.borderline.is_none()) {
        said.push("a word: never, for that reason".into());
    }
    said.extend(of_range(nowhere().filter(|cell| cell.closest.borderline.is_none())));
    if cells().any(|cell| cell.closest.distance.is_some()) {
        said.push("give the air: good in the air that was taken, and not in all that it may be".into());
    }
    if said.is_empty() { String::new() } else { said.join("; ") + "." }
}

/// The most of a range's rules that are named below a chart.
const MANY: usize = 4;

/// Which of the range's own rules the cells speak of that have room for no more than a word.
fn of_range<'c>(cells: impl Iterator<Item = &'c Cell>) -> Option<String> {
    let mut rules: Vec<&str> = Vec::new();
    for by in cells.filter(|cell| cell.closest.short == OF_RANGE).filter_map(|cell| cell.nearest_by.as_deref()) {
        if !rules.contains(&by) {
            rules.push(by);
        }
    }
    let mut named: Vec<String> = rules.iter().take(MANY).map(|rule| format!("`{rule}`")).collect();
    if rules.len() > MANY {
        named.push(format!("{} more, which the spreadsheet names", rules.len() - MANY));
    }
    (!named.is_empty()).then(|| format!("{OF_RANGE}: the range's own rule {}", listed(&named)))
}

/// A row for each load and plate.
fn distances(answer: &StandoffAnswer) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let columns = vec![
        Column::words("load"),
        Column::words("name"),
        Column::words("class"),
        Column::numbers("loads"),
        Column::words("plate"),
        numbers.distance().column("closest", "closest"),
        numbers.distance().column("borderline_from", "borderline from"),
        nearest_column(numbers),
        // Of the column to go by; what sets the distance of the air that was taken stands at the end.
        Column::words("set by"),
        Column::words("next"),
        numbers.distance().column("asked", "asked"),
        Column::words("verdict"),
        numbers.speed().column("ceiling", "ceiling"),
        numbers.energy().column("ceiling", "ceiling"),
        Column::words("words"),
        go_by_column(),
        Column::words("nearest up to"),
        energy_of_column(),
        Column::words("closest set by"),
        // Of the column to go by as well, not of the closest of the air that was taken.
        Column::words("borderline up to"),
        // Where it suits no farther.
        numbers.distance().column("farthest", "farthest"),
        numbers.distance().column("borderline_to", "borderline to"),
    ];
    let mut table = Table::named("distances", Place::Spreadsheet, columns);
    for (row, cell) in answer.rows.iter().flat_map(|row| row.plates.iter().map(move |cell| (row, cell))) {
        table.push_cells(
            cell.verdict.into(),
            vec![
                row.load.as_str().into(),
                row.name.as_str().into(),
                row.class.to_string().into(),
                Value::count(u32::try_from(row.loads).unwrap_or(u32::MAX)),
                cell.label.as_str().into(),
                numbers.distance_up().cell(cell.closest.distance.map(|d| d.0)),
                numbers.distance_up().cell(cell.closest.borderline.map(|d| d.0)),
                nearest_cell(numbers, cell.nearest, answer.at.map(|at| at.0).as_slice()),
                cell.nearest_by.clone().into(),
                next_rule(cell).into(),
                answer.at.map_or(Value::None, |at| numbers.distance_cell(at.0)),
                cell.verdict.to_string().into(),
                numbers.speed_under().cell(cell.ceiling_speed.map(|v| v.0)),
                numbers.energy_under().cell(cell.ceiling_energy.map(|e| e.0)),
                cell_words(cell, false, answer.preamble.units),
                go_by_cell(numbers),
                answer.nearest_up_to.clone().into(),
                energy_of_one(row.projectiles),
                cell.closest.by.clone().into(),
                answer.nearest_up_to.clone().filter(|_| cell.closest.borderline.is_some()).into(),
                numbers.distance_under().cell(cell.farthest.map(|d| d.0)),
                numbers.distance_under().cell(cell.closest.borderline_to.map(|d| d.0)),
            ],
        );
    }
    table
}
