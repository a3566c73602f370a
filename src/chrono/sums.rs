//! Sums below the readings of a table: what they are called, and what they know of its shots.

use super::string::Growing;
use crate::quantity::Velocity;
use crate::quantity::unit::Unit;
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

/// The fastest shot that a row of sums tells of.
pub(super) fn most_of(texts: &[Cow<str>], at: usize, unit: Option<Unit<Velocity>>) -> Option<Velocity> {
    let says =
        |text: &str| said(text).iter().any(|word| ["max", "maximum", "fastest", "highest"].contains(&word.as_str()));
    if !texts.iter().any(|text| is_sum(text) && says(text)) {
        return None;
    }
    let read = |text: &str| Growing::alone(text.trim(), unit);
    let numbers: Vec<&str> = texts.iter().map(|text| text.trim()).filter(|text| begins_like_a_reading(text)).collect();
    match (texts.get(at), numbers.as_slice()) {
        (Some(cell), _) if begins_like_a_reading(cell.trim()) => read(cell),
        (_, [only]) => read(only),
        _ => None,
    }
}
