//! Quantities as people write them, in and out.

use super::Measure;
use super::unit::Unit;
use serde::{Deserialize, Deserializer, de};
use std::fmt;
use thiserror::Error;

/// Prints choices by the names they are read by.
#[doc(hidden)]
#[macro_export]
macro_rules! text_form {
    ($($name:ident),+) => {$(
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                serde::Serialize::serialize(self, f)
            }
        }

        impl std::str::FromStr for $name {
            type Err = serde::de::value::Error;

            fn from_str(text: &str) -> Result<Self, Self::Err> {
                serde::Deserialize::deserialize(serde::de::IntoDeserializer::into_deserializer(text))
            }
        }
    )+};
}
pub use text_form;

/// Why a text is not a quantity. [`QuantityError::help`] says what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum QuantityError {
    /// There is no number at the start.
    #[error("`{text}` does not begin with a number")]
    NoNumber {
        /// What was written.
        text: String,
        /// The quantity that was expected.
        name: &'static str,
        /// A text that would do.
        example: &'static str,
    },
    /// A comma stands in the number: it could be a decimal mark or a thousands mark.
    #[error("`{text}` has a comma, which can be read in two ways")]
    Comma {
        /// What was written.
        text: String,
    },
    /// An inch or foot mark.
    #[error("`{text}` has an inch or foot mark")]
    Mark {
        /// What was written.
        text: String,
    },
    /// A number without a unit.
    #[error("`{text}` has no unit for the {name}")]
    NoUnit {
        /// What was written.
        text: String,
        /// The quantity that was expected.
        name: &'static str,
        /// Texts that would do.
        would_do: String,
    },
    /// A unit that is not one of this quantity.
    #[error("`{unit}` is not a unit of {name}")]
    UnknownUnit {
        /// The unit that was written.
        unit: String,
        /// The quantity that was expected.
        name: &'static str,
        /// The units that would do.
        units: String,
    },
    /// A number with a space in it, which may part thousands or two numbers.
    #[error("`{text}` has a space in its number")]
    Space {
        /// What was written.
        text: String,
        /// The same without the space.
        joined: String,
    },
    /// The number is too large, a division by zero, or not a number.
    #[error("`{text}` is no {name} that can be")]
    NotFinite {
        /// What was written.
        text: String,
        /// The quantity that was expected.
        name: &'static str,
    },
    /// A range whose ends are the wrong way round.
    #[error("`{text}` runs downward")]
    Downward {
        /// What was written.
        text: String,
    },
}

impl QuantityError {
    /// The same with examples of the size that is wanted, `["16 in", "400 mm"]`, and their units named first.
    #[must_use]
    pub fn sized(self, examples: &[&'static str]) -> Self {
        let Some(first) = examples.first() else { return self };
        match self {
            Self::NoNumber { text, name, .. } => Self::NoNumber { text, name, example: first },
            Self::NoUnit { text, name, .. } => {
                let units = examples.iter().filter_map(|example| example.split_once(' '));
                let would_do: Vec<_> = units.map(|(_, unit)| format!("`{text} {unit}`")).collect();
                Self::NoUnit { text, name, would_do: would_do.join(" or ") }
            }
            other => other,
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::NoNumber { name, example, .. } => {
                format!("write a {name} as a number with its unit, for instance `{example}`")
            }
            Self::Comma { .. } => "write the number without commas, with a point for decimals".into(),
            Self::Space { joined, .. } => format!("write one number without spaces, `{joined}`"),
            Self::Mark { .. } => "write `in` or `ft` instead of the mark".into(),
            Self::NoUnit { would_do, .. } => format!("write {would_do}"),
            Self::UnknownUnit { units, .. } => format!("units that would do: {units}"),
            Self::NotFinite { name, .. } => format!("write a {name} that is a number, and not beyond counting"),
            Self::Downward { .. } => "write the lower end first".into(),
        }
    }
}

/// Reads a quantity such as `168gr`, `2650 ft/s`, `3/8 in`, `1 1/2 in` or `-15 deg`.
///
/// ```
/// # extern crate thickset_base as thickset;
/// use thickset::quantity::{parse, unit, Length};
/// let plate: Length = parse("3/8 in").unwrap();
/// assert_eq!(unit::INCH.value(plate), 0.375);
/// assert!(parse::<Length>("100").unwrap_err().help().contains("100 yd"));
/// ```
///
/// # Errors
/// [`QuantityError`] where the text has no number, no unit (unless the trade writes none), an
/// unknown unit, a comma, or an inch or foot mark.
pub fn parse<Q: Measure>(text: &str) -> Result<Q, QuantityError> {
    let (value, unit) = split::<Q>(text)?;
    in_unit::<Q>(text, value, unit)
}

/// As [`parse`], for a place where values of the size of `examples` stand: the help names their units.
///
/// ```
/// # extern crate thickset_base as thickset;
/// use thickset::quantity::{Length, parse_like};
/// let fault = parse_like::<Length>("16", &["16 in", "400 mm"]).unwrap_err();
/// assert_eq!(fault.help(), "write `16 in` or `16 mm`");
/// ```
///
/// # Errors
/// As [`parse`].
pub fn parse_like<Q: Measure>(text: &str, examples: &[&'static str]) -> Result<Q, QuantityError> {
    parse(text).map_err(|error| error.sized(examples))
}

/// Prints `quantity` in `unit` with a fixed number of decimals, the unit after a space.
#[must_use]
pub fn show<Q: Measure>(quantity: Q, unit: &Unit<Q>, decimals: usize) -> String {
    let number = format!("{:.decimals$}", unit.value(quantity));
    let number = if number.trim_start_matches(['-', '0', '.']).is_empty() { number.replace('-', "") } else { number };
    if unit.symbol.is_empty() { number } else { format!("{number} {}", unit.symbol) }
}

/// A quantity or a span of it, `72 F` or `-10F..95F`; `low` ≤ `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range<Q> {
    /// The lower end.
    pub low: Q,
    /// The upper end, equal to `low` where one value was written.
    pub high: Q,
}

impl<Q: Measure> Range<Q> {
    /// The range of a single value.
    pub fn single(value: Q) -> Self {
        Self { low: value, high: value }
    }

    /// Reads `72 F` or `-10F..95F`, each end with its unit.
    ///
    /// # Errors
    /// As [`parse`], and [`QuantityError::Downward`].
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let Some((low, high)) = text.split_once("..") else {
            return parse(text).map(Self::single);
        };
        let range = Self { low: parse(low)?, high: parse(high)? };
        if range.low > range.high {
            return Err(QuantityError::Downward { text: text.trim().into() });
        }
        Ok(range)
    }

    /// Whether both ends are the same.
    pub fn is_single(&self) -> bool {
        self.low.si().total_cmp(&self.high.si()).is_eq()
    }
}

/// A quantity written as text in a data file: deserialises `"2650 ft/s"`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Text<Q>(
    /// The quantity.
    pub Q,
);

impl<'de, Q: Measure> Deserialize<'de> for Text<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        written(deserializer, parse).map(Self)
    }
}

impl<'de, Q: Measure> Deserialize<'de> for Range<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        written(deserializer, Self::parse)
    }
}

/// Reads a string and hands it to `read`; the error carries message and help on two lines.
pub fn written<'de, D: Deserializer<'de>, T, F>(deserializer: D, read: F) -> Result<T, D::Error>
where
    F: Fn(&str) -> Result<T, QuantityError>,
{
    struct Written<F>(F);
    impl<T, F: Fn(&str) -> Result<T, QuantityError>> de::Visitor<'_> for Written<F> {
        type Value = T;

        fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
            f.write_str("a number with its unit, in quotes")
        }

        fn visit_str<E: de::Error>(self, text: &str) -> Result<T, E> {
            (self.0)(text).map_err(|error| E::custom(format!("{error}\n{}", error.help())))
        }

        fn visit_f64<E: de::Error>(self, value: f64) -> Result<T, E> {
            self.visit_str(&value.to_string())
        }

        fn visit_i64<E: de::Error>(self, value: i64) -> Result<T, E> {
            self.visit_str(&value.to_string())
        }
    }
    deserializer.deserialize_any(Written(read))
}

fn in_unit<Q: Measure>(text: &str, value: f64, unit: &str) -> Result<Q, QuantityError> {
    let unit = if unit.is_empty() { bare_unit::<Q>(text, value)? } else { find_unit::<Q>(unit)? };
    let quantity = unit.of(value);
    if quantity.si().abs() < MAX_SI {
        Ok(quantity)
    } else {
        Err(QuantityError::NotFinite { text: text.trim().into(), name: Q::NAME })
    }
}

/// No quantity of this trade is as large in SI, whichever it is.
const MAX_SI: f64 = 1e15;

fn bare_unit<Q: Measure>(text: &str, value: f64) -> Result<Unit<Q>, QuantityError> {
    Q::BARE.filter(|_| Q::BARE_NUMBERS.contains(&value)).ok_or_else(|| {
        let text = text.trim();
        let with = |unit: &Unit<Q>| match typed(unit) {
            // A number alone is told as what its first unit would make of it.
            "" => format!("`{}`", unit.value(Q::UNITS.first().unwrap_or(unit).of(value))),
            typed => format!("`{text} {typed}`"),
        };
        let would_do = |unit: &&Unit<Q>| {
            !typed(unit).is_empty() || Q::BARE_NUMBERS.contains(&unit.value(Q::UNITS.first().unwrap_or(unit).of(value)))
        };
        let would_do: Vec<_> = Q::UNITS.iter().take(3).filter(would_do).map(with).collect();
        QuantityError::NoUnit { text: text.into(), name: Q::NAME, would_do: would_do.join(" or ") }
    })
}

fn find_unit<Q: Measure>(unit: &str) -> Result<Unit<Q>, QuantityError> {
    let exact = Q::UNITS.iter().find(|u| u.is_spelled(unit));
    exact.or_else(|| Q::UNITS.iter().find(|u| u.is_spelled_loosely(unit))).copied().ok_or_else(|| {
        let units: Vec<_> = Q::UNITS.iter().map(|u| typed(u)).filter(|s| !s.is_empty()).collect();
        QuantityError::UnknownUnit { unit: unit.into(), name: Q::NAME, units: units.join(", ") }
    })
}

/// A spelling of the unit that any keyboard has.
fn typed<Q>(unit: &Unit<Q>) -> &'static str {
    if unit.symbol.is_ascii() {
        unit.symbol
    } else {
        unit.spellings.iter().find(|s| s.is_ascii()).copied().unwrap_or(unit.symbol)
    }
}

/// Whether a word is a unit that people say in which they stand off: yards or metres.
#[must_use]
pub fn is_yards_or_metres(word: &str) -> bool {
    ["yd", "yds", "yard", "yards", "m", "metre", "metres", "meter", "meters"].contains(&word.to_lowercase().as_str())
}

/// Yards or metres that a text begins with: `100 yd from the muzzle`, `25m`.
#[must_use]
pub fn yards_or_metres(text: &str) -> Option<super::Length> {
    let behind = text.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let word = behind.trim_start();
    let (word, rest) = word.split_at(word.find(|c: char| !c.is_alphabetic()).unwrap_or(word.len()));
    let number = &text[..text.len() - behind.len()];
    // Metres a second are no metres.
    (is_yards_or_metres(word) && !rest.trim_start().starts_with('/'))
        .then(|| parse(&format!("{number} {word}")).ok())
        .flatten()
}

/// Splits a text into its number and the unit's spelling.
fn split<Q: Measure>(text: &str) -> Result<(f64, &str), QuantityError> {
    let trimmed = text.trim();
    if trimmed.contains(',') {
        return Err(QuantityError::Comma { text: trimmed.into() });
    }
    if trimmed.contains(['"', '\'', '″', '′', '”', '’']) {
        return Err(QuantityError::Mark { text: trimmed.into() });
    }
    let none = || QuantityError::NoNumber { text: trimmed.into(), name: Q::NAME, example: Q::EXAMPLE };
    let (first, rest) = decimal(trimmed).ok_or_else(none)?;
    let (value, rest) = fraction(first, rest).unwrap_or((first, rest));
    if !value.is_finite() {
        return Err(QuantityError::NotFinite { text: trimmed.into(), name: Q::NAME });
    }
    let behind = rest.trim_start();
    if behind.len() < rest.len() && behind.starts_with(|c: char| c.is_ascii_digit()) {
        return Err(QuantityError::Space { text: trimmed.into(), joined: joined(trimmed) });
    }
    Ok((value, behind))
}

/// The text without the spaces between its digits.
fn joined(text: &str) -> String {
    let mut joined = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        let is_between = joined.ends_with(|last: char| last.is_ascii_digit())
            && c.is_whitespace()
            && letters.peek().is_some_and(char::is_ascii_digit);
        if !is_between {
            joined.push(c);
        }
    }
    joined
}

/// `3/8`, or the `1/2` of `1 1/2`, behind a whole number already read.
fn fraction(first: f64, rest: &str) -> Option<(f64, &str)> {
    if let Some(below) = rest.strip_prefix('/') {
        let (below, rest) = parts(below)?;
        return Some((first / below, rest));
    }
    let (above, below) = whole(rest.strip_prefix(' ')?.trim_start())?;
    let (below, rest) = parts(below.strip_prefix('/')?)?;
    Some((first + (above / below).copysign(first), rest))
}

/// How many parts a fraction has, as rules are divided; `100/500` is two numbers.
fn parts(text: &str) -> Option<(f64, &str)> {
    whole(text).filter(|(below, _)| [0.0, 2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 16.0, 32.0, 64.0].contains(below))
}

fn whole(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text[..end].parse().ok().map(|n| (n, &text[end..]))
}

/// The longest decimal number at the start of `text`, and what follows.
fn decimal(text: &str) -> Option<(f64, &str)> {
    let unsigned = text.strip_prefix(['-', '+']).unwrap_or(text);
    let sign = text.len() - unsigned.len();
    let digits = |from: usize| text[from..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |n| from + n);
    let mut end = digits(sign);
    if text[end..].starts_with('.') && !text[end..].starts_with("..") {
        end = digits(end + 1);
    }
    if text[end..].starts_with(['e', 'E']) {
        let power = end + 1 + usize::from(text[end + 1..].starts_with(['-', '+']));
        if digits(power) > power {
            end = digits(power);
        }
    }
    text[..end].parse().ok().map(|n| (n, &text[end..]))
}

#[cfg(test)]
mod tests {
    use super::super::{BallisticCoefficient, Energy, Length, Mass, Ratio, Temperature, Velocity, unit};
    use super::*;

    fn inches(text: &str) -> f64 {
        unit::INCH.value(parse::<Length>(text).unwrap())
    }

    #[test]
    fn trade_spellings_are_read_with_and_without_a_space() {
        for text in ["2650ft/s", "2650 ft/s", "2650fps", " 2650 FPS ", "2.65e3 fps"] {
            assert_eq!(parse::<Velocity>(text).unwrap(), unit::FOOT_PER_SECOND.of(2650.0), "{text}");
        }
        assert_eq!(parse::<Energy>("700 ft-lb").unwrap(), unit::FOOT_POUND.of(700.0));
        assert_eq!(parse::<Mass>("168gr").unwrap(), unit::GRAIN.of(168.0));
    }

    #[test]
    fn two_numbers_are_no_fraction() {
        for text in ["100/500 yd", "25/50 yd", "3 100/500 yd"] {
            assert!(parse::<Length>(text).is_err(), "{text}");
        }
    }

    #[test]
    fn fractions_of_an_inch_are_exact() {
        assert_eq!(inches("3/8 in"), 0.375);
        assert_eq!(inches("3/8in"), 0.375);
        assert_eq!(inches("1 1/2 in"), 1.5);
        assert_eq!(inches("-1 1/2 in"), -1.5);
    }

    #[test]
    fn a_bare_number_is_refused_with_units_that_would_do_and_a_coefficient_is_not() {
        assert_eq!(parse::<Length>("100").unwrap_err().help(), "write `100 yd` or `100 m` or `100 in`");
        assert_eq!(parse::<BallisticCoefficient>("0.223").unwrap(), unit::POUND_PER_SQUARE_INCH.of(0.223));
    }

    #[test]
    fn shares_are_read_as_percent_or_as_a_part_of_one() {
        let share = |text: &str| parse::<Ratio>(text).map(Ratio::si);
        for (text, value) in [("99%", 0.99), ("0.99", 0.99), ("0.9", 0.9), ("0", 0.0), ("1", 1.0), ("3 %", 0.03)] {
            assert!((share(text).unwrap() - value).abs() < 1e-15, "{text}");
        }
        assert_eq!(share("99").unwrap_err().help(), "write `99 %` or `0.99`");
    }

    #[test]
    fn what_is_beyond_counting_is_refused() {
        assert!(parse::<Velocity>("1e308fps").is_err() && parse::<Length>("1e308yd").is_err());
        assert!(parse::<Length>("-1e16 m").is_err());
    }

    #[test]
    fn the_help_names_a_unit_of_the_size_that_is_wanted() {
        let help = |text| parse_like::<Length>(text, &["16 in", "400 mm"]).unwrap_err().help();
        assert_eq!(help("16"), "write `16 in` or `16 mm`");
        assert!(help("long").contains("`16 in`"));
    }

    #[test]
    fn commas_marks_and_what_is_no_number_are_refused_with_a_hint() {
        for text in [
            "2,650 ft/s",
            "6'",
            "12\"",
            "fast",
            "",
            "-",
            ".",
            "nan ft/s",
            "inf ft/s",
            "1/0 ft/s",
            "1e999 ft/s",
            "9 parsec",
        ] {
            let error = parse::<Velocity>(text).unwrap_err();
            assert!(!error.help().is_empty() && !error.to_string().is_empty(), "{text}");
        }
    }

    #[test]
    fn ranges_carry_a_unit_at_each_end() {
        let range = Range::<Temperature>::parse("-10F..95F").unwrap();
        assert_eq!((range.low, range.high), (unit::FAHRENHEIT.of(-10.0), unit::FAHRENHEIT.of(95.0)));
        assert!(Range::<Temperature>::parse("72 F").unwrap().is_single());
        assert!(matches!(Range::<Temperature>::parse("95F..-10F"), Err(QuantityError::Downward { .. })));
    }

    #[test]
    fn zero_is_never_printed_with_a_minus() {
        assert_eq!(show(unit::DEGREE.of(-0.001), &unit::DEGREE, 1), "0.0 deg");
    }
}
