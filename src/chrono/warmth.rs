//! Temperatures beside the readings: in columns, and in the lines above and below.

use super::above::Above;
use super::sums::said;
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Temperature, unit};
use crate::source::table::pointed;
use std::borrow::Cow;

/// Words of a temperature, and what may stand with them where it is that of the day or of the powder.
#[rustfmt::skip]
const TEMPERATURE: &[&str] = &[
    "temp", "temps", "temperature", "temperatures", "thermometer", "temperatur", "température", "temperatura", "temperatuur", "lämpötila", "lufttemperatur",
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
#[allow(clippy::struct_excessive_bools)] // Each is asked for by itself.
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
    /// Whether it says nothing beside: `Ambient: 20F`.
    pub is_alone: bool,
    /// Whether it has no unit, and is read in the one that makes it the colder.
    pub is_bare: bool,
}

/// The unit that makes a number of degrees the colder, above 40 below zero, where both are one.
fn of_bare(number: f64) -> Temperature {
    let (a, b) = (unit::FAHRENHEIT.of(number), unit::CELSIUS.of(number));
    if a.si() < b.si() { a } else { b }
}

/// A column of temperatures as its rows are read.
pub(super) struct Column {
    at: usize,
    unit: Option<Unit<Temperature>>,
    told: Warmth,
}

/// A title's words, and its unit in brackets or as its last word.
fn heading(title: &str) -> (Vec<String>, Option<Unit<Temperature>>) {
    // A letter alone may be anything.
    if title.trim().chars().count() > 1 && spelled(title).is_some() {
        return (Vec::new(), spelled(title));
    }
    if title.contains('°') && spelled(title).is_some() {
        return (Vec::new(), spelled(title));
    }
    if let Some((before, inside)) = title.split_once(['(', '[']) {
        return (said(before), spelled(inside.trim_end_matches([')', ']'])));
    }
    let (before, last) = title.rsplit_once([' ', '_']).unwrap_or((title, ""));
    match spelled(last) {
        Some(unit) => (said(before), Some(unit)),
        None => (said(title), None),
    }
}

/// The unit of a temperature that is spelled so: `F`, `° F`, `degF`, `Fahrenheit`.
fn spelled(word: &str) -> Option<Unit<Temperature>> {
    let word = word.trim().trim_end_matches('.');
    let letter = word.strip_prefix('°').map_or(word, str::trim_start);
    Temperature::UNITS.iter().find(|unit| unit.is_spelled_loosely(word) || unit.is_spelled_loosely(letter)).copied()
}

/// How cold and how hot people shoot, °F.
const WEATHER_F: std::ops::RangeInclusive<f64> = -80.0..=180.0;
/// What to do about a cell that is none.
pub(super) const AS_A_TEMPERATURE: &str = "write it as `59 F` or `15 C`, or leave the cell empty";

/// What stands in place of a temperature that was not taken.
const NOTHING: &[&str] = &["", "-", "--", "---", "n/a", "na"];

fn is_temperature(word: &str) -> bool {
    TEMPERATURE.contains(&word)
}

/// Whether words of a title are those of the day's or the powder's temperature, and of nothing else.
fn is_of_the_day(words: &[String]) -> bool {
    words.iter().all(|word| [TEMPERATURE, OF_THE_DAY, DEGREES].iter().any(|list| list.contains(&word.as_str())))
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
                is_whole: is_of_the_day(&words) || words == ["t"],
                is_named: true,
                is_alone: true,
                is_bare: false,
            };
            // `Ambient (F)`, `T (°C)`.
            let is_beside = |word: &str| OF_THE_DAY.contains(&word) || DEGREES.contains(&word) || word == "t";
            let is_by_unit = unit.is_some() && words.iter().all(|word| is_beside(word));
            let is_ambient = words.iter().all(|word| word.starts_with("ambien")) && !words.is_empty();
            let is_of_one = words.iter().any(|word| is_temperature(word)) || is_by_unit || is_ambient;
            is_of_one.then_some(Self { at, unit, told })
        };
        titles.enumerate().filter_map(column).collect()
    }

    /// Takes a row of the string.
    ///
    /// # Errors
    /// The column, and why what stands there is no temperature: it may have been colder than the others.
    pub fn take(&mut self, texts: &[Cow<str>], separator: char) -> Result<(), (usize, String)> {
        let Some(text) = texts.get(self.at).map(|text| pointed(&plain(text), separator)) else { return Ok(()) };
        if NOTHING.contains(&text.to_lowercase().as_str()) {
            return Ok(());
        }
        let number = text.parse::<f64>().ok().filter(|number| number.is_finite());
        let value = match (number, self.unit) {
            (Some(number), Some(unit)) => Some(unit.of(number)),
            // Of the powder's, or of the day's: another's would be taken for it.
            (Some(number), None) if self.told.is_whole => {
                self.told.is_bare = true;
                Some(of_bare(number))
            }
            (Some(_), None) => None,
            (None, _) => {
                // `-5 to 10` under `temp C`.
                let unit = |one: &Degrees| one.unit.or(self.unit.filter(|_| one.is_bare));
                let of = |one: Degrees| Some(unit(&one)?.of(one.value));
                numbers(&text).into_iter().filter_map(of).reduce(Temperature::min)
            }
        };
        // `2O`: digits and letters in one.
        let is_mixed = |word: &str| word.contains(|c: char| c.is_ascii_digit()) && word.contains(char::is_alphabetic);
        let is_spoiled = value.is_none() && text.split_whitespace().any(is_mixed);
        let is_wild = value.is_some_and(|value| !WEATHER_F.contains(&unit::FAHRENHEIT.value(value)));
        if self.told.is_whole && (is_spoiled || is_wild) {
            return Err((self.at, format!("`{text}` is no temperature of a day")));
        }
        self.told.is_whole &= value.is_some() && said(&text).iter().all(|word| is_beside_it(word));
        self.told.coldest = colder(self.told.coldest, value);
        Ok(())
    }

    pub fn told(self) -> Warmth {
        let is_whole = self.told.is_whole && self.told.coldest.is_some();
        Warmth { is_whole, ..self.told }
    }
}

/// Words of what is below zero, before its number.
const BELOW: &[&str] = &["minus", "neg", "negative", "moins", "menos", "meno", "sub"];

/// A text with the minus and the degree that a keyboard has.
fn plain(text: &str) -> String {
    let text = text
        .trim()
        .replace(['\u{2212}', '\u{2013}'], "-")
        .replace('º', "°")
        .replace("...", " to ")
        .replace("..", " to ");
    let mut plain = String::new();
    for word in text.split_inclusive(char::is_whitespace) {
        let bare = word.trim().trim_end_matches('.').to_lowercase();
        plain.push_str(if BELOW.contains(&bare.as_str()) { "-" } else { word });
    }
    plain
}

/// Words of degrees before the letter that says which.
const DEGREES: &[&str] = &["deg", "degs", "degree", "degrees", "grad"];
/// Words between two numbers of one range.
const BETWEEN: &[&str] = &["", "to", "bis", "and"];
/// What stands between two numbers of one range, of which one alone has its degrees.
#[rustfmt::skip]
const PARTS: &[&str] = &["to", "bis", "and", "-", "/", "\u{2026}", "until", "till", "through", "thru", "then", "or", "&"];

/// The temperature that a line tells, where it tells or speaks of one.
pub(super) fn of_line(line: &Above) -> Option<Warmth> {
    let (name, value) = line.parts();
    // `Temp 10F, humidity 40%`: what stands before the comma is no name.
    let is_of_one = said(name).iter().any(|word| is_temperature(word));
    let is_told_first = numbers(&plain(name)).iter().any(|one| one.unit.is_some() || (is_of_one && one.is_bare));
    // `10:00 -5C`: a time is no name either.
    let is_time = name.ends_with(|c: char| c.is_ascii_digit()) && value.starts_with(|c: char| c.is_ascii_digit());
    let (name, value) = if is_told_first || is_time { ("", line.text.as_str()) } else { (name, value) };
    let (words, unit) = heading(name);
    let value = plain(value);
    let named: Vec<String> = if words.is_empty() { said(&value) } else { words.clone() };
    let found = numbers(&value);
    // `deg F`, and `Shot at 0800, 20 degrees` beside nothing that leans or slopes.
    let is_of_an_angle = || said(&value).iter().any(|word| OF_AN_ANGLE.contains(&word.as_str()));
    let is_in_degrees = words.is_empty() && found.iter().any(|one| one.has_no_scale) && !is_of_an_angle();
    let is_of_degrees = unit.is_some() && words.iter().all(|word| DEGREES.contains(&word.as_str()));
    let is_named = named.iter().any(|word| is_temperature(word)) || is_of_degrees || is_in_degrees;
    let unit = found.iter().find_map(|one| one.unit).or(unit.filter(|_| is_named));
    // Of what has no name but its own words: `Sensor temp 95F` is not the powder's.
    let day = (is_of_the_day(&words) || is_of_degrees) && said(&value).iter().all(|word| is_beside_it(word));
    let mut coldest = None;
    for one in &found {
        // A number without degrees has those of its neighbour, in a line that speaks of temperatures alone.
        let unit = one.unit.or(unit.filter(|_| is_named && one.is_bare));
        coldest = colder(coldest, unit.map(|unit| unit.of(one.value)));
    }
    let is_one = |one: &&Degrees| (day && one.is_bare) || one.has_no_scale;
    let is_bare = coldest.is_none() && is_named && found.iter().any(|one| is_one(&one));
    if is_bare {
        let bare = found.iter().filter(is_one).map(|one| of_bare(one.value));
        coldest = bare.reduce(Temperature::min);
    }
    (is_named || coldest.is_some()).then(|| Warmth {
        title: line.text.clone(),
        is_column: false,
        coldest,
        is_whole: is_named && day && coldest.is_some(),
        is_named,
        is_alone: coldest.is_some() && words.iter().chain(&said(&value)).all(|word| is_beside_it(word)),
        is_bare,
    })
}

/// Words of an angle, which has degrees as well.
#[rustfmt::skip]
const OF_AN_ANGLE: &[&str] = &[
    "angle", "slope", "uphill", "downhill", "incline", "inclined", "lean", "leaning", "tilt", "tilted", "cant", "canted",
    "heading", "bearing", "azimuth", "latitude", "longitude", "lat", "lon", "direction", "up", "down", "elevation",
];

/// A number of a text with its degrees.
struct Degrees {
    value: f64,
    /// Where it stands, with its degrees.
    place: std::ops::Range<usize>,
    unit: Option<Unit<Temperature>>,
    /// Whether it may be one without its degrees: nothing else stands behind it, nor before.
    is_bare: bool,
    /// Whether degrees stand behind it in a word, which need not say of which scale.
    has_no_scale: bool,
    /// Whether it may have those of the other end of a range: it is no part of a day or a time, and counts nothing.
    is_end: bool,
}

/// Words before a number without degrees that leave it a temperature.
#[rustfmt::skip]
const BEFORE_BARE: &[&str] = &[
    "", "at", "was", "is", "of", "about", "approx", "around", "ca", "to", "bis", "and", "from", "high", "low", "start", "end",
];

/// Whether a number is below zero by what stands before it: `-5`, `- 5`, `Temp - 5` and `10:00 -5`, but not `5-10`, nor
/// `5 - 10`.
fn is_below(before: &str) -> bool {
    let Some(ahead) = before.trim_end().strip_suffix('-') else { return false };
    if before.ends_with('-') && ahead.ends_with(char::is_whitespace) {
        return true;
    }
    let word = ahead.split_whitespace().next_back().unwrap_or_default();
    let is_joined = ahead.ends_with(char::is_alphanumeric) && before.ends_with('-');
    let is_number = word.ends_with(|c: char| c.is_ascii_digit() || c == '°') || spelled(word).is_some();
    let is_number = is_number || word.starts_with(|c: char| c.is_ascii_digit());
    !is_joined && !is_number
}

/// The numbers of a text, each with its degrees.
fn numbers(text: &str) -> Vec<Degrees> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(begin) = text[at..].find(|c: char| c.is_ascii_digit()).map(|index| at + index) {
        let end = text[begin..]
            .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
            .map_or(text.len(), |n| begin + n);
        at = end;
        let digits = pointed(text[begin..end].trim_end_matches(['.', ',']), ';');
        let before = &text[..begin];
        if before.ends_with(|c: char| c.is_alphanumeric() || c == '.') {
            continue;
        }
        let Ok(number) = digits.parse::<f64>() else { continue };
        let word_of = |text: &'_ str| text.find(|c: char| !(c.is_alphanumeric() || c == '°')).unwrap_or(text.len());
        // What stands behind a comma is of something else.
        let mut behind = if text[..end].ends_with(',') { "" } else { text[end..].trim_start() };
        // `15 degrees F`, `20° F`.
        let degrees = behind[..word_of(behind)].to_lowercase();
        let has_no_scale = DEGREES.contains(&degrees.as_str());
        if degrees == "°" || has_no_scale {
            behind = behind[word_of(behind)..].trim_start();
        }
        let word = &behind[..word_of(behind)];
        let unit = spelled(word);
        let last = before.trim_end().trim_end_matches(['-', '~', ':', '=', '(']).trim_end();
        let last = last.rsplit(|c: char| !(c.is_alphanumeric() || c == '°')).next().unwrap_or_default().to_lowercase();
        let is_led = BEFORE_BARE.contains(&last.as_str())
            || is_temperature(&last)
            || OF_THE_DAY.contains(&last.as_str())
            || last.starts_with(|c: char| c.is_ascii_digit());
        let is_part = before.ends_with([':', '/', '.'])
            && before.trim_end_matches([':', '/', '.']).ends_with(|c: char| c.is_ascii_digit());
        let is_bare = BETWEEN.contains(&word.to_lowercase().as_str()) && !behind.starts_with(['%', ':', '/']);
        let is_under =
            behind[word.len()..].trim_start().to_lowercase().starts_with("below") || word.eq_ignore_ascii_case("below");
        let sign = if is_below(before) || is_under { -1.0 } else { 1.0 };
        let place = begin..if unit.is_some() { text.len() - behind.len() + word.len() } else { end };
        let ahead = before.trim_end_matches([':', '/', '-']);
        let is_joined = ahead.len() < before.len() && ahead.ends_with(|c: char| c.is_ascii_digit());
        let is_counted = !(word.is_empty() || PARTS.contains(&word.to_lowercase().as_str()));
        let is_end = !is_joined && !is_counted && !behind.starts_with(['%', ':']);
        let is_bare = is_bare && is_led && !is_part;
        found.push(Degrees { value: sign * number, place, unit, is_bare, has_no_scale, is_end });
    }
    share_units(text, &mut found);
    found
}

/// Gives the ends of a range the degrees that one of them has: `-10 to 20 F`, `20F / -5`.
fn share_units(text: &str, found: &mut [Degrees]) {
    let is_range = |a: &Degrees, b: &Degrees| {
        let between = text.get(a.place.end..b.place.start).map(str::to_lowercase).unwrap_or_default();
        let bare = between.trim_matches(|c: char| c.is_whitespace() || c == '-' || c == '\u{b0}');
        let is_dashed = bare.is_empty() && between.contains('-');
        is_dashed || PARTS.contains(&bare)
    };
    // `10/15/20 F` is no day: what is as close as that has one unit.
    for at in (1..found.len()).rev() {
        if text.get(found[at - 1].place.end..found[at].place.start) == Some("/") {
            found[at - 1].unit = found[at - 1].unit.or(found[at].unit);
        }
    }
    for at in 1..found.len() {
        let [a, b] = &mut found[at - 1..=at] else { continue };
        if is_range(a, b) {
            let unit = a.unit.or(b.unit);
            for end in [a, b] {
                end.unit = end.unit.or(unit.filter(|_| end.is_end));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{SourceText, grid};

    fn celsius(warmth: &Warmth) -> Option<f64> {
        warmth.coldest.map(|at| (unit::CELSIUS.value(at) * 10.0).round() / 10.0)
    }

    fn told(titles: &[&str], rows: &[&[&str]]) -> Vec<(Option<f64>, bool)> {
        let mut columns = Column::among(titles.iter().copied());
        for row in rows {
            let texts: Vec<_> = row.iter().map(|text| Cow::Borrowed(*text)).collect();
            columns.iter_mut().for_each(|column| column.take(&texts, ';').expect("temperatures"));
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
            ("temp C", &[&["1", "-5 to 10"], &["2", "-5 to 10"]], (Some(-5.0), true)),
            ("deg C", same, (Some(25.5), true)),
            ("Temperature [F]", fahrenheit, (Some(25.0), true)),
            ("temp_c", same, (Some(25.5), true)),
            ("Powder temp °C", same, (Some(25.5), true)),
            ("TEMPERATURE (FAHRENHEIT)", fahrenheit, (Some(25.0), true)),
            ("Temp deg F", fahrenheit, (Some(25.0), true)),
            ("°F", fahrenheit, (Some(25.0), true)),
            ("Temp (°C)", &[&["1", "minus 5"]], (Some(-5.0), true)),
            ("Temp", &[&["1", "5 degrees C"]], (Some(5.0), true)),
            // Without a unit the colder of both.
            ("Temp", fahrenheit, (Some(25.0), true)),
            ("Barrel temp", fahrenheit, (None, false)),
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
            ("Temp: minus 5 C", Some((Some(-5.0), true))),
            ("Temp minus 5 C", Some((Some(-5.0), true))),
            ("Temp: neg. 5C", Some((Some(-5.0), true))),
            ("Temp: - 5 C", Some((Some(-5.0), true))),
            ("Temp: 5 - 10 C", Some((Some(5.0), true))),
            ("Temp: 5 C - 10 C", Some((Some(5.0), true))),
            ("10:00 -10C", Some((Some(-10.0), false))),
            ("2025-01-20 -5C", Some((Some(-5.0), false))),
            ("-10/20 C", Some((Some(-10.0), false))),
            ("-10 to 20 C", Some((Some(-10.0), false))),
            ("20C to -5", Some((Some(-5.0), false))),
            ("from -4 until 50 F", Some((Some(-20.0), false))),
            ("Temp: 5 -10 C", Some((Some(-10.0), true))),
            ("Temps -5 to 10C", Some((Some(-5.0), true))),
            ("Temperature: -5/10 C", Some((Some(-5.0), true))),
            ("Temp -5..10 C", Some((Some(-5.0), true))),
            ("Temp 10/15/20 C", Some((Some(10.0), true))),
            ("Celsius: -10", Some((Some(-10.0), true))),
            ("deg C,-5", Some((Some(-5.0), true))),
            ("Thermometer 23", Some((Some(-5.0), true))),
            ("Shot at 0800, 23 degrees", Some((Some(-5.0), false))),
            ("Uphill 23 degrees", None),
            ("10:00 - 50C", Some((Some(50.0), false))),
            ("2025-01-20 - 50C", Some((Some(50.0), false))),
            ("50C - 5 shots", Some((Some(50.0), false))),
            ("50C / 40%", Some((Some(50.0), false))),
            ("Temp: 5 C below zero", Some((Some(-5.0), false))),
            ("Temp: 23 Fahrenheit", Some((Some(-5.0), true))),
            ("Temp: 23º F", Some((Some(-5.0), true))),
            ("Temp: 23° F", Some((Some(-5.0), true))),
            ("TEMPERATURE (FAHRENHEIT),23", Some((Some(-5.0), true))),
            ("Temperature: 5 Celsius", Some((Some(5.0), true))),
            // Without a unit the colder of both.
            ("Temp: 23", Some((Some(-5.0), true))),
            ("Temp: 23 degrees", Some((Some(-5.0), true))),
            ("Temp: 23°", Some((Some(-5.0), true))),
            ("Temp: -20", Some((Some(-28.9), true))),
            ("Temp 23, wind 5", Some((Some(-5.0), true))),
            ("Temp 59F, wind 5", Some((Some(15.0), true))),
            ("Temp at 10:30", Some((None, false))),
            ("Barrel temp: 60", Some((None, false))),
            ("Ambient: 23F", Some((Some(-5.0), false))),
            ("Temperature,cold", Some((None, false))),
            ("Session,2 May", None),
            ("Cartridge: 6.5 CM", None),
        ] {
            assert_eq!(told(text), at, "{text}");
        }
    }
}
