//! Temperatures beside the readings: in columns, and in the lines above and below.

use super::above::Above;
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
const OF_THE_DAY: &[&str] = &[
    "air", "ambient", "outside", "powder", "pulver", "luft", "ambiante", "ambiente", "poudre", "ammo", "ammunition",
    "cartridge", "propellant", "munition",
];
/// Words that say nothing of what is as warm as that: of degrees, of the day, and of its weather.
#[rustfmt::skip]
const BESIDE_IT: &[&str] = &[
    "fahrenheit", "celsius", "f", "c", "at", "the", "of", "was",
    "is", "about", "approx", "around", "ca", "day", "today", "weather", "morning", "noon", "afternoon", "evening", "start",
    "end", "during", "on", "in", "humidity", "rh", "wind", "mph", "kmh", "kph", "km", "h", "m", "s", "fps", "pressure",
    "baro", "barometer", "inhg", "hpa", "mbar", "mb", "hg", "altitude", "alt", "elevation", "ft", "asl", "sunny", "sun",
    "cloudy", "clouds", "overcast", "clear", "rain", "rainy", "dry", "windy", "calm", "no", "light", "snow", "da", "density",
];

/// A temperature beside a string's readings: a column's, or a line's.
#[derive(Debug, Clone, PartialEq)]
pub struct Warmth {
    /// The column's title, or the line as it stands.
    pub title: String,
    /// Whether it is a column's.
    pub is_column: bool,
    /// The coldest that it tells in a unit.
    pub coldest: Option<Temperature>,
    /// Whether it says that it is the day's or the powder's temperature, and all of it could be read.
    pub is_whole: bool,
    /// Whether it speaks of a temperature at all; a number with its degrees may stand in any line.
    pub is_named: bool,
}

/// A column of temperatures as its rows are read.
pub(super) struct Column {
    at: usize,
    unit: Option<Unit<Temperature>>,
    told: Warmth,
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

/// What stands in place of a temperature that was not taken.
const NOTHING: &[&str] = &["", "-", "--", "---", "n/a", "na"];

fn is_temperature(word: &str) -> bool {
    TEMPERATURE.contains(&word)
}

/// Whether words of a title are those of the day's or the powder's temperature, and of nothing else.
fn is_of_the_day(words: &[String]) -> bool {
    words.iter().all(|word| is_temperature(word) || OF_THE_DAY.contains(&word.as_str()))
}

/// Whether a word beside a temperature leaves it that of the day or of the powder; numbers and their degrees do.
fn is_beside_it(word: &str) -> bool {
    let known = [TEMPERATURE, OF_THE_DAY, DEGREES, BETWEEN, BESIDE_IT].iter().any(|list| list.contains(&word));
    known || word.starts_with(|c: char| c.is_ascii_digit())
}

fn colder(a: Option<Temperature>, b: Option<Temperature>) -> Option<Temperature> {
    a.into_iter().chain(b).reduce(|a, b| if b.si() < a.si() { b } else { a })
}

impl Column {
    /// The columns of temperatures among titles.
    pub fn among<'t>(titles: impl Iterator<Item = &'t str>) -> Vec<Self> {
        let column = |(at, title): (usize, &str)| {
            let (words, unit) = heading(title);
            let told = Warmth {
                title: title.to_owned(),
                is_column: true,
                coldest: None,
                is_whole: is_of_the_day(&words),
                is_named: true,
            };
            words.iter().any(|word| is_temperature(word)).then_some(Self { at, unit, told })
        };
        titles.enumerate().filter_map(column).collect()
    }

    /// Takes a row of the string.
    pub fn take(&mut self, texts: &[Cow<str>], separator: char) {
        let Some(text) = texts.get(self.at).map(|text| pointed(&plain(text), separator)) else { return };
        if NOTHING.contains(&text.to_lowercase().as_str()) {
            return;
        }
        let value = match self.unit {
            Some(unit) if text.parse::<f64>().is_ok() => parse::<Temperature>(&format!("{text} {}", unit.symbol)),
            _ => parse(&text),
        };
        self.told.is_whole &= value.is_ok();
        self.told.coldest = colder(self.told.coldest, value.ok());
    }

    pub fn told(self) -> Warmth {
        let is_whole = self.told.is_whole && self.told.coldest.is_some();
        Warmth { is_whole, ..self.told }
    }
}

/// A text with the minus and the degree that a keyboard has.
fn plain(text: &str) -> String {
    text.trim().replace(['\u{2212}', '\u{2013}'], "-").replace('º', "°")
}

/// Words of degrees before the letter that says which.
const DEGREES: &[&str] = &["deg", "degs", "degree", "degrees", "grad"];
/// Words between two numbers of one range.
const BETWEEN: &[&str] = &["", "to", "bis", "and"];

/// The temperature that a line tells, where it tells or speaks of one.
pub(super) fn of_line(line: &Above) -> Option<Warmth> {
    let (name, value) = line.parts();
    // `Temp 10F, humidity 40%`: what stands before the comma is no name.
    let is_told_first = numbers(&plain(name)).iter().any(|(_, unit, _)| unit.is_some());
    let (name, value) = if is_told_first { ("", line.text.as_str()) } else { (name, value) };
    let (words, unit) = heading(name);
    let value = plain(value);
    let named: Vec<String> = if words.is_empty() { said(&value) } else { words.clone() };
    let is_named = named.iter().any(|word| is_temperature(word));
    let found = numbers(&value);
    let unit = found.iter().find_map(|(_, unit, _)| *unit).or(unit.filter(|_| is_named));
    let mut coldest = None;
    for (number, own, is_bare) in &found {
        // A number without degrees has those of its neighbour, in a line that speaks of temperatures alone.
        let unit = own.or(unit.filter(|_| is_named && *is_bare));
        coldest = colder(coldest, unit.map(|unit| unit.of(*number)));
    }
    // Of what has no name but its own words: `Sensor temp 95F` is not the powder's.
    let day = is_of_the_day(&words) && said(&value).iter().all(|word| is_beside_it(word));
    (is_named || coldest.is_some()).then(|| Warmth {
        title: line.text.clone(),
        is_column: false,
        coldest,
        is_whole: is_named && day && coldest.is_some(),
        is_named,
    })
}

/// The numbers of a text, each with its degrees, and whether nothing else stands behind it.
fn numbers(text: &str) -> Vec<(f64, Option<Unit<Temperature>>, bool)> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(begin) = text[at..].find(|c: char| c.is_ascii_digit()).map(|index| at + index) {
        let end = text[begin..]
            .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
            .map_or(text.len(), |n| begin + n);
        at = end;
        let digits = pointed(text[begin..end].trim_end_matches(['.', ',']), ';');
        let before = text[..begin].chars().next_back();
        let further = text[..begin].chars().nth_back(1);
        if before.is_some_and(|c| c.is_alphanumeric() || c == '.') {
            continue;
        }
        let is_below = before == Some('-') && !further.is_some_and(char::is_alphanumeric);
        let Ok(number) = digits.parse::<f64>() else { continue };
        let word_of = |text: &'_ str| text.find(|c: char| !(c.is_alphanumeric() || c == '°')).unwrap_or(text.len());
        let mut behind = text[end..].trim_start();
        // `15 degrees F`.
        if DEGREES.contains(&behind[..word_of(behind)].to_lowercase().as_str()) {
            behind = behind[word_of(behind)..].trim_start();
        }
        let word = &behind[..word_of(behind)];
        let unit = Temperature::UNITS.iter().find(|unit| unit.is_spelled_loosely(word)).copied();
        let sign = if is_below { -1.0 } else { 1.0 };
        let is_bare = BETWEEN.contains(&word.to_lowercase().as_str()) && !behind.starts_with(['%', ':']);
        found.push((sign * number, unit, is_bare));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;
    use crate::source::{SourceText, grid};

    fn celsius(warmth: &Warmth) -> Option<f64> {
        warmth.coldest.map(|at| (unit::CELSIUS.value(at) * 10.0).round() / 10.0)
    }

    fn told(titles: &[&str], rows: &[&[&str]]) -> Vec<(Option<f64>, bool)> {
        let mut columns = Column::among(titles.iter().copied());
        for row in rows {
            let texts: Vec<_> = row.iter().map(|text| Cow::Borrowed(*text)).collect();
            columns.iter_mut().for_each(|column| column.take(&texts, ';'));
        }
        columns.into_iter().map(super::Column::told).map(|warmth| (celsius(&warmth), warmth.is_whole)).collect()
    }

    #[test]
    fn the_coldest_of_a_column_is_told_in_its_unit_or_in_that_of_its_cells() {
        let (same, drifting): (&[&[&str]], &[&[&str]]) =
            (&[&["1", "25,5"], &["2", "25,5"], &["3", ""]], &[&["1", "-19"], &["2", "-20"], &["3", "-19"]]);
        let fahrenheit: &[&[&str]] = &[&["1", "77"], &["2", "77"]];
        let own: &[&[&str]] = &[&["1", "-20C"], &["2", "\u{2212}4 F"], &["3", "-10 °C"]];
        for (title, rows, at) in [
            ("Temp (°C)", same, (Some(25.5), true)),
            ("Temperature [F]", fahrenheit, (Some(25.0), true)),
            ("temp_c", same, (Some(25.5), true)),
            ("Powder temp °C", same, (Some(25.5), true)),
            ("Temp", same, (None, false)),
            ("Temp (°C)", drifting, (Some(-20.0), true)),
            ("Temperature", own, (Some(-20.0), true)),
            ("Barrel temp (°C)", same, (Some(25.5), false)),
            ("Temp (°C)", &[&["1", "warm"], &["2", "-20"]], (Some(-20.0), false)),
            ("Temp (°C)", &[&["1", ""]], (None, false)),
        ] {
            assert_eq!(told(&["#", title], rows), [at], "{title} {rows:?}");
        }
        let two = told(&["Temp (°C)", "Powder temp (°C)"], &[&["20", "30"]]);
        assert_eq!(two, [(Some(20.0), true), (Some(30.0), true)]);
        assert_eq!(told(&["#", "Speed (m/s)"], &[]), []);
    }

    #[test]
    fn a_line_tells_the_coldest_that_it_speaks_of() {
        let told = |text: &str| {
            let source = SourceText::new("a.csv", text);
            let line = grid::lines(&source.text).next().unwrap();
            of_line(&Above::of(&source, &line, ',')).map(|warmth| (celsius(&warmth), warmth.is_whole))
        };
        for (text, at) in [
            ("Temp,-20 C", Some((Some(-20.0), true))),
            ("Powder temp: \u{2212}20 °C", Some((Some(-20.0), true))),
            ("Powder temp 95F", Some((Some(35.0), true))),
            ("Temperature (°C): -20", Some((Some(-20.0), true))),
            ("Temp: -5 to 10 C", Some((Some(-5.0), true))),
            ("Temp: 5-10 C", Some((Some(5.0), true))),
            ("Session,-20 C,150 gr", Some((Some(-20.0), false))),
            ("Barrel temp: 60 C", Some((Some(60.0), false))),
            ("Sensor temp 95F", Some((Some(35.0), false))),
            ("Battery temp 40C", Some((Some(40.0), false))),
            ("Temp: 95F target", Some((Some(35.0), false))),
            ("95F sensor temp", Some((Some(35.0), false))),
            ("Temp 95F, humidity 40%, wind 5 mph", Some((Some(35.0), true))),
            ("Ammo temp: 35 C", Some((Some(35.0), true))),
            ("Temp 95 deg F", Some((Some(35.0), true))),
            ("Temp: -20", Some((None, false))),
            ("Temperature,cold", Some((None, false))),
            ("Session,2 May", None),
            ("Cartridge: 6.5 CM", None),
        ] {
            assert_eq!(told(text), at, "{text}");
        }
    }
}
