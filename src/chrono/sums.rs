//! Sums below the readings of a table: what they are called, and what they know of its shots.

use super::string::{Growing, heading, unit_spelled};
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Velocity, parse};
use std::borrow::Cow;
use std::ops::Range;

/// Words of a sum: alone they make a row a summary row, wherever they stand.
#[rustfmt::skip]
const SUMS: &[&str] = &[
    "average", "avg", "mean", "sd", "std", "stdev", "stddev", "es", "min", "minimum", "max", "maximum", "spread",
    "deviation", "median", "δ", "delta", "total", "sum", "ø",
    // As chronographs of other languages write them.
    "mittelwert", "durchschnitt", "mittel", "schnitt", "abweichung", "standardabweichung", "streuung", "spanne", "summe",
    "moyenne", "médiane", "écart", "ecart", "somme", "media", "promedio", "desviación", "suma", "gemiddelde",
    "medelvärde", "gennemsnit", "keskiarvo", "średnia", "průměr",
];
/// Words that go with them, and with nothing else.
#[rustfmt::skip]
const BESIDE_SUMS: &[&str] = &[
    "velocity", "speed", "standard", "extreme", "dev", "of", "range", "low", "high", "lowest", "highest", "fastest",
    "slowest", "power", "factor", "energy", "ke", "shots", "count", "fps", "mps", "s", "ft", "m", "v", "v0",
    "arithmetic", "value", "type",
];
/// Words of a label that stands in a line with its number: `Peak 2900`, `10-shot average 2650`.
const IN_A_LINE: &[&str] = &["shot", "string", "muzzle", "velocities", "speeds", "hi", "peak", "top"];

/// A title or a label as words.
pub(super) fn said(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether one of the words is in a list.
pub(super) fn has(words: &[String], list: &[&str]) -> bool {
    words.iter().any(|word| list.contains(&word.as_str()))
}

/// Whether a cell is the label of a sum: `Average`, `Std dev (ft/s)`, `Max velocity`, but no note like `max load`.
pub(super) fn is_sum(cell: &str) -> bool {
    let words = said(cell);
    let counts = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    has(&words, SUMS)
        && words.iter().all(|word| [SUMS, BESIDE_SUMS].iter().any(|list| list.contains(&word.as_str())) || counts(word))
}

/// Whether a label that stands where shots have their number is one of a mean: `3-shot average`, `String 1 mean`.
pub(super) fn is_labelled_mean(label: &str) -> bool {
    let words = said(label);
    has(&words, MEAN) || has(&words, DEVIATION)
}

/// Whether a line begins with the label of a sum: `Average 2648 fps`, `SD: 12`.
pub(super) fn is_summary(line: &str) -> bool {
    let label = line.split(|c: char| c.is_ascii_digit()).next().unwrap_or_default();
    is_sum(label)
}

/// Whether a cell is a reading with its unit.
pub(super) fn begins_like_a_reading(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) && text.contains(|c: char| c.is_ascii_digit())
}

/// Whether a title speaks of a sum over the rows above it: a running average, a difference.
pub(super) fn is_a_sum_of_rows(title: &str) -> bool {
    has(&said(title), SUMS) || title.contains(['Δ', '±'])
}

/// What a row of sums tells of the shots, m/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sum {
    /// The fastest.
    Most(f64),
    /// The slowest.
    Least(f64),
    /// Their mean.
    Mean(f64),
    /// The fastest less the slowest.
    Spread(f64),
    /// Their standard deviation.
    Deviation(f64),
    /// How many.
    Count(f64),
    /// A speed in a column that is not read.
    Unread(f64),
}

/// What labels call each.
const MOST: &[&str] = &["max", "maximum", "fastest", "highest"];
const LEAST: &[&str] = &["min", "minimum", "low", "lowest", "slowest"];
/// What calls the fastest where nothing else stands beside it.
const HIGH: &[&str] = &["high", "hi", "peak", "top"];
#[rustfmt::skip]
const MEAN: &[&str] = &[
    "average", "avg", "mean", "ø", "mittelwert", "durchschnitt", "moyenne", "media", "promedio", "gemiddelde", "medelvärde",
    "gennemsnit", "keskiarvo", "średnia", "průměr",
];
#[rustfmt::skip]
const DEVIATION: &[&str] = &["sd", "std", "stdev", "stddev", "deviation", "standardabweichung", "abweichung", "desviación"];
const SPREAD: &[&str] = &["es", "spread", "spanne"];
const COUNT: &[&str] = &["shots", "count", "schüsse", "tirs"];
/// What to do about a sum that knows of other shots.
pub(super) const OTHER_SHOTS: &str = "export every shot; if the row is of another string, remove it";
const ANOTHER_COLUMN: &str = "name the column of muzzle readings with `--column`, or put the reading in its column";
/// Words of what is no speed.
#[rustfmt::skip]
const OTHER: &[&str] = &[
    "pressure", "psi", "temp", "temperature", "charge", "humidity", "altitude", "load", "distance", "rate", "power",
    "factor", "pf", "energy", "ke", "median",
];
/// By how much a sum may be off by its rounding, as a share, and m/s.
const ROUNDED: f64 = 1e-3;
const ROUNDED_MPS: f64 = 0.7;
/// What a standard deviation may be off by, since some divide by the number of shots and some by one less.
const DIVIDED: f64 = 1.02;

impl Sum {
    /// What a row tells; `None` where it is no sum of speeds, or tells of several things.
    pub(super) fn of(texts: &[Cow<str>], at: usize, unit: Option<Unit<Velocity>>) -> Option<Self> {
        let numbers: Vec<&str> =
            texts.iter().map(|text| text.trim()).filter(|text| begins_like_a_reading(text)).collect();
        let number = match (texts.get(at), numbers.as_slice()) {
            (Some(cell), _) if begins_like_a_reading(cell.trim()) => cell.trim(),
            (_, [only]) => only,
            _ => return None,
        };
        let labels = || texts.iter().filter(|text| !begins_like_a_reading(text) && !said(text).is_empty());
        let label = labels().find(|label| is_sum(label)).or_else(|| labels().next())?;
        // A unit in the label is that of its number, whatever the readings are in.
        let unit = heading(label).1.or(unit);
        // A spread is too slow for a reading.
        let plain = || Some(unit?.of(number.parse::<f64>().ok().filter(|number| number.is_finite())?));
        let speed = || Growing::alone(number, unit).or_else(plain).or_else(|| parse::<Velocity>(number).ok());
        Self::called(&said(label), number.parse().ok(), || Some(speed()?.si()))
    }

    /// All that a row or a line tells: as [`Sum::of`], within each cell, and by pairs of a label and its number.
    pub(super) fn all(texts: &[Cow<str>], at: usize, unit: Option<Unit<Velocity>>) -> Vec<Self> {
        let is_number = |text: &Cow<str>| begins_like_a_reading(text.trim());
        let full: Vec<&Cow<str>> = texts.iter().filter(|text| !text.trim().is_empty()).collect();
        let is_paired = full.len() > 2 && full.iter().enumerate().all(|(i, text)| is_number(text) == (i % 2 == 1));
        let pairs = full.chunks(2).filter(|_| is_paired).flat_map(|pair| {
            in_line(&format!("{}: {}", pair[0], pair.get(1).map_or("", |number| number.trim())), unit)
        });
        let cells = full.iter().filter(|text| !is_number(text)).flat_map(|text| in_line(text, unit));
        Self::of(texts, at, unit).into_iter().chain(cells).chain(pairs).collect()
    }

    /// What the number behind words is.
    fn called(words: &[String], number: Option<f64>, speed: impl Fn() -> Option<f64>) -> Option<Self> {
        let has = |list: &[&str]| has(words, list);
        if has(COUNT) && !has(SUMS) {
            return number.map(Self::Count);
        }
        if has(OTHER) {
            return None;
        }
        let speed = speed()?;
        let is_high = has(HIGH) && words.iter().all(|word| goes_with_sums(word));
        [
            (has(MOST) || is_high, Self::Most as fn(f64) -> Self),
            (has(LEAST), Self::Least),
            (has(DEVIATION), Self::Deviation),
            (has(SPREAD), Self::Spread),
            (has(MEAN), Self::Mean),
        ]
        .into_iter()
        .find(|(is_it, _)| *is_it)
        .map(|(_, sum)| sum(speed))
    }

    /// What to do where it knows of other shots.
    pub(super) fn help(&self) -> &'static str {
        if matches!(self, Self::Unread(_)) { ANOTHER_COLUMN } else { OTHER_SHOTS }
    }

    /// Why the shots of so many strings are not those that it tells of: it knows of a faster one, of more, of a faster
    /// or a wider string.
    pub(super) fn against(&self, shots: &[f64], strings: usize) -> Option<&'static str> {
        let count = shots.len() as f64;
        let (low, high) =
            shots.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(*v), high.max(*v)));
        let mean = shots.iter().sum::<f64>() / count;
        let deviation = (shots.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
        let is_above = |told: f64, own: f64| told > own * (1.0 + ROUNDED) + ROUNDED_MPS;
        if !high.is_finite() {
            return None;
        }
        let one = strings == 1;
        match *self {
            Self::Most(most) => {
                (most > high * (1.0 + ROUNDED)).then_some("the fastest shot that this row tells of is not in the table")
            }
            // Less than half is of something else: a temperature, a wind.
            Self::Least(least) => (least < low * (1.0 - ROUNDED) - ROUNDED_MPS && 2.0 * least > low)
                .then_some("the slowest shot that this row tells of is not in the table"),
            Self::Unread(told) => (told > high * (1.0 + ROUNDED))
                .then_some("a column that is not read tells of a faster shot than the readings"),
            Self::Mean(told) => (one && is_above(told, mean))
                .then_some("this row tells of a faster mean than the shots in the table have"),
            Self::Spread(told) => (one && is_above(told, high - low))
                .then_some("this row tells of a wider spread than the shots in the table have"),
            Self::Deviation(told) => (one && count > 1.0 && is_above(told, deviation * DIVIDED))
                .then_some("this row tells of a larger standard deviation than the shots in the table have"),
            Self::Count(told) => (told > count).then_some("this row tells of more shots than the table has"),
        }
    }
}

/// Whether words are of what is no speed: an energy, a pressure, a wind.
pub(super) fn is_no_speed(words: &[String]) -> bool {
    has(words, OTHER) || has(words, &["wind"])
}

/// Whether a word stands in labels of sums and in nothing else.
fn goes_with_sums(word: &str) -> bool {
    [SUMS, BESIDE_SUMS, IN_A_LINE, COUNT].iter().any(|list| list.contains(&word))
}

/// The numbers of a text, each with its bytes: none within a word, commas between thousands or before decimals.
pub(super) fn numbers(text: &str) -> Vec<(Range<usize>, f64)> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(begin) = text[at..].find(|c: char| c.is_ascii_digit()).map(|index| at + index) {
        let digits = text[begin..].split(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).next();
        let digits = digits.unwrap_or_default().trim_end_matches(['.', ',']);
        at = begin + digits.len();
        let is_within = text[..begin].ends_with(|c: char| c.is_alphanumeric() || c == '.');
        let groups: Vec<&str> = digits.split(',').collect();
        let is_thousands = groups.len() > 1 && groups[0].len() <= 3 && groups[1..].iter().all(|group| group.len() == 3);
        let number = digits.replace(',', if is_thousands { "" } else { "." }).parse::<f64>().ok();
        found.extend(number.filter(|_| !is_within).map(|number| (begin..at, number)));
    }
    found
}

/// The word behind a number: a unit, or the next label.
pub(super) fn word_behind(text: &str) -> &str {
    let behind = text.trim_start_matches(' ');
    &behind[..behind.find(|c: char| !(c.is_alphanumeric() || "/%".contains(c))).unwrap_or(behind.len())]
}

/// The sums that a line tells, each number behind its label: `Mean 2800, SD: 55`; one number alone before it as well.
pub(super) fn in_line(text: &str, unit: Option<Unit<Velocity>>) -> Vec<Sum> {
    let (numbers, mut sums, mut from) = (numbers(text), Vec::new(), 0);
    for (index, (span, number)) in numbers.iter().enumerate() {
        let behind = word_behind(&text[span.end..]);
        let own = unit_spelled(behind);
        let mut label = &text[from..span.start];
        from = span.end;
        let next = numbers.get(index + 1).map_or("", |(next, _)| &text[span.end..next.start]);
        // A second number behind it, or a measure of something else: `SD 45 9`, `Spread 1.2 in`.
        let is_one_of_many = index + 1 < numbers.len() && said(next).is_empty();
        let is_of_else = own.is_none() && !behind.is_empty() && !goes_with_sums(&behind.to_lowercase());
        if is_one_of_many || is_of_else {
            continue;
        }
        if said(label).is_empty() && numbers.len() == 1 {
            label = &text[span.end..];
        }
        let words = said(label);
        if words.is_empty() || !words.iter().all(|word| goes_with_sums(word)) {
            continue;
        }
        let unit = own.or(heading(label.trim().trim_end_matches([':', '=', ',', ';'])).1).or(unit);
        sums.extend(Sum::called(&words, Some(*number), || Some(unit?.of(*number).si())));
    }
    sums
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn a_sum_that_knows_of_other_shots_is_told_from_one_that_is_theirs() {
        let shots: Vec<f64> =
            [2648.0, 2655.0, 2641.0, 2650.0, 2662.0].iter().map(|fps| unit::FOOT_PER_SECOND.of(*fps).si()).collect();
        let against = |label: &str, number: &str, strings: usize| {
            let texts = [Cow::Borrowed(label), Cow::Borrowed(number)];
            Sum::of(&texts, 1, Some(unit::FOOT_PER_SECOND)).and_then(|sum| sum.against(&shots, strings)).is_some()
        };
        for (label, number) in [
            ("Average", "2951"),
            ("SD", "80"),
            ("Std dev", "35"),
            ("Spread", "210"),
            ("ES", "30"),
            ("Shots", "10"),
            ("Max", "3162"),
            ("Fastest shot", "2700"),
            ("Mittelwert", "2700"),
        ] {
            assert!(against(label, number, 1), "{label} {number}");
        }
        for (label, number) in [
            ("Average", "2651.2"),
            ("SD", "7.9"),
            ("SD", "7.0"),
            ("Spread", "21"),
            ("Shots", "5"),
            ("Max", "2662"),
            ("Min", "2641"),
            ("Average power factor", "445"),
            ("Average", "2600"),
            ("Median", "2900"),
        ] {
            assert!(!against(label, number, 1), "{label} {number}");
        }
        let told = |text: &str| {
            let sums = in_line(text, Some(unit::FOOT_PER_SECOND));
            sums.iter().any(|sum| sum.against(&shots, 1).is_some())
        };
        for text in [
            "Mean: 2800",
            "mean 2,900 fps",
            "Max 2900",
            "Peak: 2900",
            "High 2900",
            "ES 200",
            "Mean 2651, SD: 55",
            "Average (m/s): 853",
            "10-shot average 2900 fps",
            "853 m/s average",
            "20 shots",
        ] {
            assert!(told(text), "{text}");
        }
        for text in [
            "Mean: 2651.2",
            "Max 2662, ES 21, SD 7.9",
            "Average (m/s): 808",
            "SD card 32 GB",
            "Spread 55 mm",
            "ES: 1.2 in at 100 yd",
            "SD 45 9",
            "Max load 2900",
            "High power 2900",
            "5 shots",
            "High 95, low 60",
        ] {
            assert!(!told(text), "{text}");
        }
        // Its label may stand behind another.
        let behind = [Cow::Borrowed("set A"), Cow::Borrowed("Max"), Cow::Borrowed("3162")];
        let sum = Sum::of(&behind, 2, Some(unit::FOOT_PER_SECOND));
        assert!(sum.is_some_and(|sum| sum.against(&shots, 1).is_some()));
        // Of several strings a sum is that of one.
        assert!(!against("Average", "2951", 2) && against("Max", "3162", 2));
    }
}
