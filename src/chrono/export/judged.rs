//! Rows that are no shots, and sums that tell of other shots than the table holds.

use super::super::string::SummaryRow;
use super::super::sums::Sum;
use super::{Rows, is_numbered};
use crate::quantity::{Measure, Velocity};
use crate::source::grid::Line;
use crate::source::table::pointed;
use crate::source::{CellPlace, Diagnostic};
use std::borrow::Cow;

/// What a row of sums tells of the shots.
pub(super) struct Told {
    pub row: usize,
    pub span: std::ops::Range<usize>,
    pub sum: Sum,
}

/// A row with a reading that stands apart from the shots.
pub(super) struct Odd {
    pub(super) row: usize,
    pub(super) span: std::ops::Range<usize>,
    pub(super) text: String,
    /// The reading, where it could be one.
    pub(super) reading: Option<Velocity>,
    /// Whether it is counted as shots are.
    pub(super) is_counted: bool,
    pub(super) why: String,
}

/// Below this share of the slowest shot a reading is a spread, not a shot.
const SPREAD: f64 = 0.5;

impl Rows<'_> {
    /// Why a row is none of the shots, where it has no number in a column in which they have one.
    pub(super) fn oddity(&self, texts: &[Cow<str>]) -> Option<String> {
        let &at = self.beside.numbered.iter().find(|&&at| !is_numbered(&texts[at]))?;
        let title = &self.head.titles[at].1;
        let title = if title.is_empty() { "the first column" } else { title };
        Some(match texts[at].trim() {
            "" => format!("the row has nothing in `{title}`, where the shots have a number"),
            word => format!("the row says `{word}` in `{title}`, where the shots have a number"),
        })
    }

    /// Keeps what a row tells of the shots, where it is a sum.
    pub(super) fn hear(&mut self, line: &Line, texts: &[Cow<str>]) {
        let texts: Vec<Cow<str>> =
            texts.iter().map(|text| Cow::Owned(pointed(text.trim(), self.head.separator))).collect();
        let sums = Sum::all(&texts, self.head.at, self.unit).into_iter();
        self.told.extend(sums.map(|sum| Told { row: line.number, span: line.span.clone(), sum }));
    }

    /// Refuses a table whose sums know of other shots than it holds: a faster one, more of them, a faster or a wider
    /// string.
    pub(super) fn judge_sums(&self) -> Result<(), Diagnostic> {
        let strings = &self.shooting.strings;
        let shots: Vec<f64> = strings.iter().flat_map(|(_, string)| &string.readings).map(|v| v.si()).collect();
        let against = self.told.iter().find_map(|told| Some((told, told.sum.against(&shots, strings.len())?)));
        against.map_or(Ok(()), |(told, why)| {
            let cell = CellPlace::row(told.row);
            Err(self.source.fault(told.span.clone(), why).help(told.sum.help()).cell(cell))
        })
    }

    /// Sets rows apart that are none of the shots. One that could be a shot beyond the others is refused: left out, it
    /// would make the string slower or narrower than it was.
    pub(super) fn judge_odd(&mut self) -> Result<(), Diagnostic> {
        let shots = self.shooting.strings.iter().flat_map(|(_, string)| &string.readings).map(|v| v.si());
        let (low, high) = shots.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
        for odd in std::mem::take(&mut self.odd) {
            let is_beyond = odd.reading.map(Measure::si).is_some_and(|v| v > high || (v < low && v > SPREAD * low));
            // A row with a shot's number is a shot, whatever else it lacks.
            let is_among = odd.reading.map(Measure::si).is_some_and(|v| (low..=high).contains(&v));
            if is_beyond || (odd.is_counted && !is_among) {
                return Err(self
                    .source
                    .fault(odd.span, odd.why)
                    .help("is it a shot? give it its number; is it a sum? remove the row")
                    .cell(CellPlace::row(odd.row)));
            }
            self.sums.push(SummaryRow { row: odd.row, text: odd.text });
        }
        Ok(())
    }
}
