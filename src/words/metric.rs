//! Texts that are written with the units of the trade, in metric ones.

use super::Units;
use crate::quantity::unit::{self, Unit};
use crate::quantity::{Measure, VelocityPerTemperature};

/// A text with every quantity of it, `1/4 in` or `30 ft/s`, in the units asked for; of a text for people alone, and of
/// examples.
#[must_use]
pub fn in_units(text: &str, units: Units) -> String {
    if units == Units::Us {
        return text.to_owned();
    }
    let (mut told, mut at) = (String::with_capacity(text.len()), 0);
    while let Some(begin) = next_number(text, at) {
        told.push_str(&text[at..begin]);
        if let Some((metric, length)) = quantity(&text[begin..]) {
            told.push_str(&metric);
            at = begin + length;
        } else {
            at = begin + number(&text[begin..]).len().max(1);
            told.push_str(&text[begin..at]);
        }
    }
    told + &text[at..]
}

/// Where the next number begins that is no part of a word, at a character that can be cut at.
fn next_number(text: &str, from: usize) -> Option<usize> {
    text[from..].char_indices().map(|(index, c)| (from + index, c)).find_map(|(index, c)| {
        let before = &text[..index];
        // The second end of a range, `0 ft..2000 ft`, begins behind its points.
        let in_word = before.ends_with(|b: char| b.is_alphanumeric() || ".-".contains(b)) && !before.ends_with("..");
        (c.is_ascii_digit() && !in_word).then_some(index)
    })
}

/// The number at the start of a text: `30`, `0.243`, `3/8`.
fn number(text: &str) -> &str {
    let is_of = |c: char| c.is_ascii_digit() || c == '/';
    let end = text.char_indices().find(|&(index, c)| {
        let point = c == '.' && text[index + 1..].starts_with(|next: char| next.is_ascii_digit());
        !is_of(c) && !point
    });
    &text[..end.map_or(text.len(), |(index, _)| index)]
}

/// A quantity at the start of a text in metric units, and how long it is there.
fn quantity(text: &str) -> Option<(String, usize)> {
    let mut numbers = vec![number(text)];
    let mut length = numbers[0].len();
    if let Some(behind) = text[length..].strip_prefix('x') {
        let second = number(behind);
        length += 1 + second.len();
        numbers.push(second);
    }
    let spaced = text[length..].starts_with(' ');
    let behind = &text[length + usize::from(spaced)..];
    let (spelling, turn) = UNITS.iter().find(|(spelling, _)| {
        behind
            .strip_prefix(spelling)
            .is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric() || "/²".contains(c)))
    })?;
    let (turned, symbol): (Vec<String>, &str) = match numbers.as_slice() {
        [one] => turn(one).map(|(value, symbol)| (vec![value], symbol))?,
        [one, two] => {
            let ((one, symbol), (two, _)) = (turn(one)?, turn(two)?);
            (vec![one, two], symbol)
        }
        _ => return None,
    };
    let space = if spaced { " " } else { "" };
    Some((format!("{}{space}{symbol}", turned.join("x")), length + usize::from(spaced) + spelling.len()))
}

type Turn = fn(&str) -> Option<(String, &'static str)>;

/// Spellings of units of the trade, a longer one before its beginning, and what turns a number of them.
const UNITS: &[(&str, Turn)] = &[
    ("ft/s per °F", |n| slope(n, "m/s per °C")),
    ("ft/s per F", |n| slope(n, "m/s per C")),
    ("ft/s", |n| turned(n, &unit::FOOT_PER_SECOND, &unit::METRE_PER_SECOND)),
    ("fps", |n| turned(n, &unit::FOOT_PER_SECOND, &unit::METRE_PER_SECOND)),
    ("ft-lbf", |n| turned(n, &unit::FOOT_POUND, &unit::JOULE)),
    ("ft·lbf", |n| turned(n, &unit::FOOT_POUND, &unit::JOULE)),
    ("inHg", |n| turned(n, &unit::INCH_OF_MERCURY, &unit::HECTOPASCAL)),
    ("in", inches),
    ("yd", |n| turned(n, &unit::YARD, &unit::METRE)),
    ("ft", |n| turned(n, &unit::FOOT, &unit::METRE)),
    ("gr", |n| turned(n, &unit::GRAIN, &unit::GRAM)),
    ("lb", |n| turned(n, &unit::POUND, &unit::KILOGRAM)),
    ("°F", |n| degrees(n, "°C")),
    ("F", |n| degrees(n, "C")),
];

fn value(number: &str) -> Option<f64> {
    match number.split_once('/') {
        Some((above, below)) => {
            let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
            (below > 0.0).then(|| above / below)
        }
        None => number.parse().ok(),
    }
}

/// To three digits, without zeros that say nothing.
fn told(value: f64) -> String {
    if value.abs() < 1e-12 {
        return "0".into();
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // At most the digits of a number people write.
    let decimals = (2.0 - value.abs().log10().floor()).clamp(0.0, 6.0) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn turned<Q: Measure>(number: &str, from: &Unit<Q>, to: &Unit<Q>) -> Option<(String, &'static str)> {
    Some((told(to.value(from.of(value(number)?))), to.symbol))
}

/// A thickness of the trade is called as plates are.
fn inches(number: &str) -> Option<(String, &'static str)> {
    if !number.contains('/') {
        return turned(number, &unit::INCH, &unit::MILLIMETRE);
    }
    let called = Units::Si.thickness(unit::INCH.of(value(number)?));
    Some((called.trim_end_matches(" mm").to_owned(), "mm"))
}

fn degrees(number: &str, symbol: &'static str) -> Option<(String, &'static str)> {
    Some((format!("{:.0}", unit::CELSIUS.value(unit::FAHRENHEIT.of(value(number)?))), symbol))
}

fn slope(number: &str, symbol: &'static str) -> Option<(String, &'static str)> {
    let slope: VelocityPerTemperature = unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(value(number)?);
    Some((format!("{:.2}", unit::METRE_PER_SECOND_PER_KELVIN.value(slope)), symbol))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_quantity_of_a_text_is_turned_and_nothing_else() {
        for (us, si) in [
            ("centrefire wants 1/4 in at least", "centrefire wants 6.35 mm at least"),
            ("3/16 in serves", "4.77 mm serves"),
            ("`9 ft/s`; 30 ft/s where not given", "`2.74 m/s`; 9.14 m/s where not given"),
            ("`12in`, `12x20in`; a 12 in round", "`305mm`, `305x508mm`; a 305 mm round"),
            ("`0 ft..2000 ft` or `41 F..88 F`, `26.1 inHg`", "`0 m..610 m` or `5 C..31 C`, `884 hPa`"),
            ("`1 ft/s per F`; `2800 ft-lbf`, `105 gr`, `70 lb`", "`0.55 m/s per C`; `3796 J`, `6.8 g`, `31.8 kg`"),
            (
                "bc in lb/in², `0.275`; `ranch-6mm`, `[2, 18]`, 99 %, 2 to 7",
                "bc in lb/in², `0.275`; `ranch-6mm`, `[2, 18]`, 99 %, 2 to 7",
            ),
            ("`V0 (ft/s)`; grains × ft/s ÷ 1000, `125`", "`V0 (ft/s)`; grains × ft/s ÷ 1000, `125`"),
            ("AR500, G1 7 inches, 5 in² é 1/", "AR500, G1 7 inches, 5 in² é 1/"),
        ] {
            assert_eq!(in_units(us, Units::Si), si);
            assert_eq!(in_units(us, Units::Us), us);
        }
    }
}
