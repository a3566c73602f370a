//! A string as it is read: its readings in one unit, and what stood beside them.

use super::above::Above;
use super::warmth::Warmth;
use super::{MAX_READINGS, READING, Readings};
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Velocity, parse};
use crate::source::{Diagnostic, SourceText};
use std::ops::Range;

/// How a text of readings is to be read.
#[derive(Debug, Clone, Copy, Default)]
pub struct Reading<'a> {
    /// The column of readings, where the table does not tell.
    pub column: Option<&'a str>,
    /// The unit of readings that have none.
    pub unit: Option<Unit<Velocity>>,
}

/// What a text of readings holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Strings {
    /// The strings, in the order in which they begin: one, or one for each name in a column `bib`.
    pub strings: Vec<Named>,
    /// Columns that are not read.
    pub left_out: Vec<String>,
    /// Rows that are no shots, as they stand: what a chronograph sums up below them.
    pub summary_rows: Vec<SummaryRow>,
    /// Shots that the numbers of the rows leave out, between the first and the last.
    pub missing: Vec<u32>,
    /// The lines above the head of the table, comments and blank ones left out.
    pub above: Vec<Above>,
    /// What may speak of the load below the table, and in its columns: each thing that is said there once.
    pub beside: Vec<Above>,
    /// The temperatures that stand beside the readings; their columns are among those that are not read.
    pub warmth: Vec<Warmth>,
}

/// A string, and whose it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The name in the column `bib`, where there is one.
    pub bib: Option<String>,
    /// The readings.
    pub readings: Readings,
}

/// A row that is no shot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SummaryRow {
    /// Its number, from 1, as a spreadsheet counts.
    pub row: usize,
    /// What it says.
    pub text: String,
}

impl Strings {
    /// The one string.
    ///
    /// # Errors
    /// A [`Diagnostic`] where there are several.
    pub fn only(self) -> Result<Readings, Diagnostic> {
        let count = self.strings.len();
        let mut strings = self.strings.into_iter();
        match (strings.next(), count) {
            (Some(string), 1) => Ok(string.readings),
            _ => Err(Diagnostic::plain(format!("the file holds {count} strings"))
                .help("ask for each alone: a file with the rows of one string, for a load has one")),
        }
    }
}

/// The unit that is given and the unit that is written, which must be one.
pub(super) fn agreed(
    given: Option<Unit<Velocity>>,
    written: Option<Unit<Velocity>>,
) -> Result<Option<Unit<Velocity>>, Diagnostic> {
    match (given, written) {
        (Some(given), Some(written)) if given.symbol != written.symbol => Err(Diagnostic::plain(format!(
            "the unit is given as {}, and the readings say {}",
            given.symbol, written.symbol
        ))
        .field("--unit")
        .help("leave `--unit` out where the readings have their unit")),
        _ => Ok(given.or(written)),
    }
}

/// The word of a line `unit ft/s`.
pub(super) fn stated_unit(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("unit").filter(|rest| rest.starts_with(char::is_whitespace))?;
    Some(rest.trim()).filter(|word| !word.contains([',', ';', '\t', '(', '[']))
}

/// A string as it grows.
#[derive(Default)]
pub(super) struct Growing {
    pub readings: Vec<Velocity>,
    /// The unit of all its readings: the stated one, or the first reading's.
    pub unit: Option<Unit<Velocity>>,
}

impl Growing {
    /// A reading by itself, in its unit or in one that is stated; none where it is no reading.
    pub fn alone(text: &str, unit: Option<Unit<Velocity>>) -> Option<Velocity> {
        let mut string = Self { unit, ..Self::default() };
        string.push(text).ok()?;
        string.readings.pop()
    }

    /// Takes a reading, with its unit or in the stated one.
    pub fn push(&mut self, text: &str) -> Result<(), Diagnostic> {
        let reading = match self.unit {
            Some(unit) if text.parse::<f64>().is_ok() => parse::<Velocity>(&format!("{text} {}", unit.symbol)),
            _ => parse(text),
        };
        let reading: Velocity = reading.map_err(|e| Diagnostic::plain(e.to_string()).help(e.help()))?;
        let unit = unit_behind(text).or(self.unit);
        if let (Some(first), Some(now)) = (self.unit, unit)
            && first.symbol != now.symbol
        {
            return Err(Diagnostic::plain(format!("`{text}` stands in a string in {}", first.symbol))
                .help("write the whole string in one unit"));
        }
        self.unit = unit;
        READING.check(reading)?;
        if self.readings.len() == MAX_READINGS {
            return Err(Diagnostic::plain(format!("more than {MAX_READINGS} readings")).help("split the string"));
        }
        self.readings.push(reading);
        Ok(())
    }
}

/// Strings as they grow, in the order in which they begin.
#[derive(Default)]
pub(super) struct Shooting {
    pub strings: Vec<(Option<String>, Growing)>,
}

/// The most strings of a table.
const MAX_STRINGS: usize = 1000;

impl Shooting {
    pub fn of(&mut self, bib: Option<String>, unit: Option<Unit<Velocity>>) -> &mut Growing {
        let index = self.strings.iter().position(|(name, _)| *name == bib).unwrap_or(self.strings.len());
        if index == self.strings.len() {
            self.strings.push((bib, Growing { unit, ..Growing::default() }));
        }
        &mut self.strings[index].1
    }

    pub fn is_too_many(&self) -> bool {
        let readings: usize = self.strings.iter().map(|(_, string)| string.readings.len()).sum();
        self.strings.len() > MAX_STRINGS || readings > MAX_READINGS
    }
}

/// The unit of speed that is spelled so.
pub(super) fn unit_spelled(word: &str) -> Option<Unit<Velocity>> {
    Velocity::UNITS.iter().find(|unit| unit.is_spelled_loosely(word)).copied()
}

/// A column's name and, in brackets or as its last word, its unit of speed.
pub(super) fn heading(title: &str) -> (String, Option<Unit<Velocity>>) {
    let name = |name: &str| name.replace('_', " ").trim().to_lowercase();
    if let Some((before, inside)) = title.split_once(['(', '[']) {
        return (name(before), unit_spelled(inside.trim_end_matches([')', ']']).trim()));
    }
    let (before, last) = title.rsplit_once(char::is_whitespace).unwrap_or(("", title));
    match unit_spelled(last) {
        Some(unit) => (name(before), Some(unit)),
        None => (name(title), None),
    }
}

/// The unit behind a reading's number, where there is one.
fn unit_behind(text: &str) -> Option<Unit<Velocity>> {
    unit_spelled(text.rsplit(|c: char| c.is_ascii_digit() || c == '.').next()?.trim())
}

/// Puts a fault in its place.
pub(super) fn placed(source: &SourceText, span: Range<usize>, fault: Diagnostic) -> Diagnostic {
    let place = source.fault(span, "").place;
    Diagnostic { place, ..fault }
}

/// Adds the other ways to state a unit to the help of a bare number's fault.
pub(super) fn unit_help(text: &str, fault: Diagnostic) -> Diagnostic {
    match &fault.help {
        Some(help) if text.parse::<f64>().is_ok_and(f64::is_finite) && help.contains("ft/s` or") => {
            let help = format!("{help}, give `--unit ft/s`, or put a line `unit ft/s` on top");
            fault.help(help)
        }
        _ => fault,
    }
}
