//! Sums below the readings of a table: what they are called, and what they know of its shots.

use super::string::Growing;
use crate::quantity::unit::Unit;
use crate::quantity::{Measure, Velocity, parse};
use std::borrow::Cow;

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
/// A title or a label as words.
pub(super) fn said(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a cell is the label of a sum: `Average`, `Std dev (ft/s)`, `Max velocity`, but no note like `max load`.
pub(super) fn is_sum(cell: &str) -> bool {
    let words = said(cell);
    let counts = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    words.iter().any(|word| SUMS.contains(&word.as_str()))
        && words.iter().all(|word| [SUMS, BESIDE_SUMS].iter().any(|list| list.contains(&word.as_str())) || counts(word))
}

/// Whether a label that stands where shots have their number is one of a mean: `3-shot average`, `String 1 mean`.
pub(super) fn is_labelled_mean(label: &str) -> bool {
    said(label).iter().any(|word| MEAN.contains(&word.as_str()) || DEVIATION.contains(&word.as_str()))
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
    said(title).iter().any(|word| SUMS.contains(&word.as_str())) || title.contains(['Δ', '±'])
}

/// What a row of sums tells of the shots, m/s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sum {
    /// The fastest.
    Most(f64),
    /// Their mean.
    Mean(f64),
    /// The fastest less the slowest.
    Spread(f64),
    /// Their standard deviation.
    Deviation(f64),
    /// How many.
    Count(f64),
}

/// What labels call each.
const MOST: &[&str] = &["max", "maximum", "fastest", "highest"];
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
/// Words of what is no speed.
#[rustfmt::skip]
const OTHER: &[&str] = &[
    "pressure", "psi", "temp", "temperature", "charge", "humidity", "altitude", "load", "distance", "rate", "power",
    "factor", "energy", "ke", "median", "min", "minimum", "low", "lowest", "slowest",
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
        let words = said(label);
        let has = |list: &[&str]| words.iter().any(|word| list.contains(&word.as_str()));
        if has(COUNT) && !has(SUMS) {
            return number.parse().ok().map(Self::Count);
        }
        if has(OTHER) {
            return None;
        }
        // A spread is too slow for a reading.
        let plain = || Some(unit?.of(number.parse::<f64>().ok().filter(|number| number.is_finite())?));
        let speed = Growing::alone(number, unit).or_else(plain).or_else(|| parse::<Velocity>(number).ok())?.si();
        [
            (MOST, Self::Most as fn(f64) -> Self),
            (DEVIATION, Self::Deviation),
            (SPREAD, Self::Spread),
            (MEAN, Self::Mean),
        ]
        .into_iter()
        .find(|(list, _)| has(list))
        .map(|(_, sum)| sum(speed))
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
        // Its label may stand behind another.
        let behind = [Cow::Borrowed("set A"), Cow::Borrowed("Max"), Cow::Borrowed("3162")];
        let sum = Sum::of(&behind, 2, Some(unit::FOOT_PER_SECOND));
        assert!(sum.is_some_and(|sum| sum.against(&shots, 1).is_some()));
        // Of several strings a sum is that of one.
        assert!(!against("Average", "2951", 2) && against("Max", "3162", 2));
    }
}
