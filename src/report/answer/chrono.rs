//! A chronograph string.

use super::common::{close, go_by_cell, go_by_column, nearest_cell, nearest_column, open, sentences, words};
use super::{Detail, Report};
use crate::advisor::answer::ChronoAnswer;
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Rounding, Table, Value};
use crate::report::tone::Tone;
use crate::rules::Verdict;
use crate::words::percent;

impl Report for ChronoAnswer {
    fn page(&self, detail: Detail) -> Page {
        let tone = match self.verdict {
            Verdict::Unsuitable => Tone::Bad,
            _ if self.apart.is_empty() => Tone::Plain,
            _ => Tone::Doubtful,
        };
        let mut page = open(&self.preamble, tone);
        page.push(Block::Facts(facts(self)));
        page.push(Block::Table(string(self)));
        page.push_note("Set apart", sentences(&self.suspicions));
        if !self.standoff.is_empty() {
            page.push(Block::Table(standoff(self, Place::Page)));
        }
        page.push(Block::Table(standoff(self, Place::Spreadsheet)));
        page.push(Block::Table(readings(self)));
        if detail.full {
            let speed = Numbers(self.preamble.units).small_speed();
            let all = self.preamble.inputs.readings.iter().map(|reading| speed.words(reading.0));
            page.push_note("Readings", all.collect::<Vec<_>>().join(", "));
        }
        close(&mut page, &self.preamble, detail);
        page
    }
}

fn facts(answer: &ChronoAnswer) -> Vec<(String, String)> {
    let speed = Numbers(answer.preamble.units).small_speed();
    let sure = format!("covers {} at {} confidence", percent(answer.coverage.0), percent(answer.confidence.0));
    let [low, high] = answer.sd_interval;
    vec![
        ("mean".into(), format!("{} of {} readings", speed.words(answer.mean.0), answer.n)),
        (
            "SD".into(),
            format!("{}, surely between {} and {}", speed.words(answer.sd.0), speed.words(low.0), speed.words(high.0)),
        ),
        ("spread".into(), speed.words(answer.spread.0)),
        (
            "fast bound".into(),
            format!("{}, {sure}, k {:.2}", speed.rounded(Rounding::Up).words(answer.bound.0), answer.k.0),
        ),
        ("slow bound".into(), speed.rounded(Rounding::Down).words(answer.slow_bound.0)),
    ]
}

/// The string in a row.
fn string(answer: &ChronoAnswer) -> Table {
    let speed = Numbers(answer.preamble.units).small_speed();
    let share =
        |share: crate::quantity::Ratio| Value::number(crate::quantity::unit::PERCENT.value(share), 1, Rounding::Near);
    let columns = vec![
        Column::numbers("n"),
        speed.column("mean", "mean"),
        speed.column("sd", "SD"),
        speed.column("sd_low", "SD from"),
        speed.column("sd_high", "SD to"),
        speed.column("spread", "spread"),
        Column::measured("coverage", "coverage", "%"),
        Column::measured("confidence", "confidence", "%"),
        Column::numbers("k"),
        speed.column("fast_bound", "fast bound"),
        speed.column("slow_bound", "slow bound"),
        Column::numbers("set apart"),
    ];
    let mut table = Table::named("string", Place::Spreadsheet, columns);
    let count = |n: usize| Value::count(u32::try_from(n).unwrap_or(u32::MAX));
    table.push_cells(
        Tone::Plain,
        vec![
            count(answer.n),
            speed.cell(answer.mean.0),
            speed.cell(answer.sd.0),
            speed.cell(answer.sd_interval[0].0),
            speed.cell(answer.sd_interval[1].0),
            speed.cell(answer.spread.0),
            share(answer.coverage.0),
            share(answer.confidence.0),
            Value::number(answer.k.0, 3, Rounding::Near),
            speed.rounded(Rounding::Up).cell(answer.bound.0),
            speed.rounded(Rounding::Down).cell(answer.slow_bound.0),
            count(answer.apart.len()),
        ],
    );
    table
}

fn standoff(answer: &ChronoAnswer, place: Place) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let sheet = place == Place::Spreadsheet;
    let mut columns = vec![Column::words("plate"), Column::numbers("closest").keyed("words"), Column::words("set by")];
    if sheet {
        columns.extend([numbers.distance().column("closest", "closest"), nearest_column(numbers), go_by_column()]);
        columns.push(numbers.distance().column("farthest", "farthest"));
    }
    let mut table = Table::named(if sheet { "standoff" } else { "" }, place, columns);
    for plate in &answer.standoff {
        // The words of a spreadsheet keep their meaning: it has a column for the far end.
        let told = match (plate.nearest, plate.farthest) {
            (Some(from), Some(to)) if !sheet => answer.preamble.units.stretch(from.0, Some(to.0)).into(),
            _ => words(&plate.words),
        };
        let mut cells = vec![plate.label.as_str().into(), told, plate.nearest_by.clone().into()];
        if sheet {
            let closest = numbers.distance_up().cell(plate.nearest.map(|d| d.0));
            cells.extend([closest, nearest_cell(numbers, plate.nearest, &[]), go_by_cell(numbers)]);
            cells.push(numbers.distance_under().cell(plate.farthest.map(|d| d.0)));
        }
        table.push_cells(if plate.nearest.is_some() { Tone::Good } else { Tone::Bad }, cells);
    }
    table
}

/// A row for each reading, with why it stands apart.
fn readings(answer: &ChronoAnswer) -> Table {
    let speed = Numbers(answer.preamble.units).small_speed();
    let columns = vec![Column::numbers("reading"), speed.column("speed", "speed"), Column::words("set apart because")];
    let mut table = Table::named("readings", Place::Spreadsheet, columns);
    for (index, reading) in answer.preamble.inputs.readings.iter().enumerate() {
        let why = answer.apart.iter().find(|apart| apart.reading == index + 1).map(|apart| apart.why.clone());
        let number = Value::count(u32::try_from(index + 1).unwrap_or(u32::MAX));
        table.push_cells(Tone::Plain, vec![number, speed.cell(reading.0), why.into()]);
    }
    table
}
