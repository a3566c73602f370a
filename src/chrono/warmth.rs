//! A column of temperatures beside the readings.

use super::sums::said;
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Temperature, parse};
use crate::source::table::pointed;
use std::borrow::Cow;

/// Words of a temperature, and what may stand with them where it is that of the day or of the powder.
#[rustfmt::skip]
const TEMPERATURE: &[&str] = &[
    "temp", "temperature", "temperatur", "température", "temperatura", "temperatuur", "lämpötila", "lufttemperatur",
    "außentemperatur", "pulvertemperatur",
];
#[rustfmt::skip]
const OF_THE_DAY: &[&str] = &["air", "ambient", "outside", "powder", "pulver", "luft", "ambiante", "ambiente", "poudre"];

/// The temperature beside a string's readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Warmth {
    /// The column's title.
    pub title: String,
    /// The one temperature that it holds, where the title names its unit and every row says the same.
    pub at: Option<Temperature>,
}

/// A column of temperatures as its rows are read.
pub(super) struct Column {
    at: usize,
    title: String,
    unit: Option<Unit<Temperature>>,
    /// Whether nothing yet speaks against one temperature.
    is_plain: bool,
    found: Option<Temperature>,
}

/// A title's words, and its unit in brackets or as its last word.
fn heading(title: &str) -> (Vec<String>, Option<Unit<Temperature>>) {
    let spelled = |word: &str| Temperature::UNITS.iter().find(|unit| unit.is_spelled_loosely(word.trim())).copied();
    if let Some((before, inside)) = title.split_once(['(', '[']) {
        return (said(before), spelled(inside.trim_end_matches([')', ']'])));
    }
    let (before, last) = title.rsplit_once([' ', '_']).unwrap_or((title, ""));
    match spelled(last) {
        Some(unit) => (said(before), Some(unit)),
        None => (said(title), None),
    }
}

impl Column {
    /// The column of temperatures among titles, where there is one.
    pub fn among<'t>(titles: impl Iterator<Item = &'t str>) -> Option<Self> {
        let is_temperature = |word: &String| TEMPERATURE.contains(&word.as_str());
        let mut found = titles.enumerate().filter_map(|(at, title)| {
            let (words, unit) = heading(title);
            let is_of_the_day = |word: &String| is_temperature(word) || OF_THE_DAY.contains(&word.as_str());
            let is_plain = unit.is_some() && words.iter().all(is_of_the_day);
            let column = Self { at, title: title.to_owned(), unit, is_plain, found: None };
            words.iter().any(is_temperature).then_some(column)
        });
        let first = found.next()?;
        // Of two nobody knows which is the powder's.
        let is_alone = found.next().is_none();
        Some(Self { is_plain: first.is_plain && is_alone, ..first })
    }

    /// Takes a row of the string.
    pub fn take(&mut self, texts: &[Cow<str>], separator: char) {
        let Some(text) = texts.get(self.at).map(|text| pointed(text.trim(), separator)) else { return };
        if !self.is_plain || text.is_empty() {
            return;
        }
        let value = match self.unit {
            Some(unit) if text.parse::<f64>().is_ok() => parse::<Temperature>(&format!("{text} {}", unit.symbol)),
            _ => parse(&text),
        };
        let same = |value: Temperature| self.found.is_none_or(|known| (known.si() - value.si()).abs() < 1e-6);
        match value.ok().filter(|value| same(*value)) {
            Some(value) => self.found = Some(value),
            None => self.is_plain = false,
        }
    }

    pub fn told(self) -> Warmth {
        Warmth { title: self.title, at: self.found.filter(|_| self.is_plain) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    fn told(titles: &[&str], rows: &[&[&str]]) -> Option<(String, Option<f64>)> {
        let mut column = Column::among(titles.iter().copied())?;
        for row in rows {
            column.take(&row.iter().map(|text| Cow::Borrowed(*text)).collect::<Vec<_>>(), ';');
        }
        let Warmth { title, at } = column.told();
        Some((title, at.map(|at| (unit::CELSIUS.value(at) * 10.0).round() / 10.0)))
    }

    #[test]
    fn one_temperature_under_a_unit_is_taken_and_what_is_not_plain_is_named_alone() {
        let (same, drifting): (&[&[&str]], &[&[&str]]) =
            (&[&["1", "25,5"], &["2", "25,5"], &["3", ""]], &[&["1", "25"], &["2", "26"]]);
        let fahrenheit: &[&[&str]] = &[&["1", "77"], &["2", "77"]];
        for (title, rows, at) in [
            ("Temp (°C)", same, Some(25.5)),
            ("Temperature [F]", fahrenheit, Some(25.0)),
            ("temp_c", same, Some(25.5)),
            ("Powder temp °C", same, Some(25.5)),
            ("Temp", same, None),
            ("Temp (°C)", drifting, None),
            ("Barrel temp (°C)", same, None),
            ("Temp (°C)", &[&["1", "warm"]], None),
        ] {
            assert_eq!(told(&["#", title], rows), Some((title.to_owned(), at)), "{title} {rows:?}");
        }
        let two = told(&["Temp (°C)", "Powder temp (°C)"], &[&["20", "30"]]);
        assert_eq!(two, Some(("Temp (°C)".to_owned(), None)));
        assert_eq!(told(&["#", "Speed (m/s)"], &[]), None);
    }
}
