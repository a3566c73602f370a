//! What a value may be, and the one error for a value that is not.

use super::Measure;
use super::unit::Unit;
use thiserror::Error;

/// A value out of its bounds. [`OutOfRange::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{field} of `{value}` is not between {low} and {high}")]
pub struct OutOfRange {
    /// The option or key at fault.
    pub field: &'static str,
    /// What was given.
    pub value: String,
    /// Least that is taken.
    pub low: String,
    /// Most that is taken.
    pub high: String,
    /// What was likely meant: the same number in another unit.
    pub meant: Option<String>,
    /// The same as a number without a unit, where it may have been written so: `0.5` for `50 %`.
    pub bare: Option<String>,
}

impl OutOfRange {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        let Self { field, value, low, high, meant, bare } = self;
        match (meant, bare) {
            (_, Some(bare)) => {
                format!("a bare `{bare}` is `{value}`: write the unit; {field} is taken from {low} to {high}")
            }
            (Some(meant), _) => format!("did you mean `{meant}`? {field} is taken from {low} to {high}"),
            (None, _) => format!("check the unit; {field} is taken from {low} to {high}"),
        }
    }
}

/// The bounds of a value: its option or key, least and most, and the unit they are told in.
#[derive(Debug, Clone, Copy)]
pub struct Bound<Q: 'static> {
    /// The option or key.
    pub field: &'static str,
    /// Least that is taken, in `unit`.
    pub low: f64,
    /// Most that is taken, in `unit`.
    pub high: f64,
    /// The unit that people give it in.
    pub unit: Unit<Q>,
}

/// What rounding may put a value beyond its bound, as a share of the larger one.
const ROUNDING: f64 = 1e-9;

impl<Q: Measure> Bound<Q> {
    /// Whether a value lies within; what is no number does not.
    #[must_use]
    pub fn holds(&self, value: Q) -> bool {
        self.holds_number(self.unit.value(value))
    }

    fn holds_number(&self, number: f64) -> bool {
        let slack = ROUNDING * self.low.abs().max(self.high.abs());
        number >= self.low - slack.min(self.low.abs()) && number <= self.high + slack
    }

    /// Refuses a value that does not lie within.
    ///
    /// # Errors
    /// [`OutOfRange`] with the value as it was likely written, and the bounds.
    pub fn check(&self, value: Q) -> Result<(), OutOfRange> {
        if self.holds(value) {
            return Ok(());
        }
        // A bare number is taken for a share up to one alone, and nobody knows which of the two was written.
        let number = self.unit.value(value);
        let bare = Q::UNITS.iter().find(|unit| unit.symbol.is_empty() && self.unit.symbol != unit.symbol);
        let bare = bare.map(|unit| unit.value(value)).filter(|share| *share <= 1.0 && self.holds_number(*share));
        // A round number of another unit that would do in this one: `168 g` for `168 gr`.
        let slips = Q::UNITS.iter().filter(|unit| !unit.symbol.is_empty()).filter_map(|unit| {
            let number = unit.value(value);
            let is_round = (number * 1e3 - (number * 1e3).round()).abs() < 1e-6 * number.abs().max(1.0);
            let is_other = unit.symbol != self.unit.symbol;
            (is_other && is_round && self.holds_number(number)).then_some((number, unit))
        });
        // The shortest is the likeliest to have been written.
        let slip = slips.min_by_key(|(number, unit)| shown(*number, unit.symbol).len());
        let told = self.told(number);
        // What is shorter or rounder in the unit of its own was written in that.
        let is_rounder = |other: f64| digits(&shown(other, "")) <= digits(&shown(number, ""));
        let slip = slip.filter(|(number, unit)| shown(*number, unit.symbol).len() < told.len() && is_rounder(*number));
        let (value, meant) = match slip {
            Some((number, unit)) => {
                let written = shown(number, unit.symbol);
                (format!("{written}` = `{told}"), Some(self.told(number)).filter(|meant| *meant != written))
            }
            // Inches written for millimetres: `5.7 in` for `5.7 mm`.
            None => (told, self.in_millimetres(number)),
        };
        let (low, high, bare) = (self.told(self.low), self.told(self.high), bare.map(|share| shown(share, "")));
        Err(OutOfRange { field: self.field, value, low, high, meant, bare })
    }

    fn in_millimetres(&self, number: f64) -> Option<String> {
        let millimetre = Q::UNITS.iter().find(|unit| unit.symbol == "mm").filter(|_| self.unit.symbol == "in")?;
        let meant = millimetre.of(number);
        self.holds(meant).then(|| format!("{}` = `{}", shown(number, "mm"), self.told(self.unit.value(meant))))
    }

    /// A number of the unit, as messages show it.
    #[must_use]
    pub fn told(&self, number: f64) -> String {
        shown(number, self.unit.symbol)
    }
}

/// How many digits of a number count.
fn digits(shown: &str) -> usize {
    let digits: String = shown.chars().filter(char::is_ascii_digit).collect();
    digits.trim_matches('0').len()
}

/// A number with up to four decimals and its unit; one beyond counting by its power of ten.
fn shown(number: f64, symbol: &str) -> String {
    let rounded = (number * 1e4).round() / 1e4;
    let text = if !(number.abs() < 1e9) {
        format!("{number:e}")
    } else if rounded == 0.0 && number != 0.0 {
        format!("{number}")
    } else {
        format!("{rounded}")
    };
    format!("{text} {symbol}").trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::super::{Length, Mass, Ratio, Temperature, parse, unit};
    use super::*;

    const BULLET: Bound<Mass> = Bound { field: "bullet", low: 0.5, high: 2000.0, unit: unit::GRAIN };
    const SHARE: Bound<Ratio> = Bound { field: "coverage", low: 90.0, high: 99.99, unit: unit::PERCENT };
    const ALTITUDE: Bound<Length> = Bound { field: "altitude", low: -1500.0, high: 20000.0, unit: unit::FOOT };
    const WARMTH: Bound<Temperature> = Bound { field: "temperature", low: -80.0, high: 140.0, unit: unit::FAHRENHEIT };

    #[test]
    fn a_value_is_taken_at_its_bounds_and_refused_beyond() {
        for text in ["0.5 gr", "2000gr", "168 gr"] {
            BULLET.check(parse(text).unwrap()).unwrap();
        }
        for text in ["0.4999 gr", "2000.1 gr", "-168 gr", "0 gr", "1e9 lb"] {
            assert!(BULLET.check(parse(text).unwrap()).is_err(), "{text}");
        }
        assert!(BULLET.check(Mass::from_si(f64::NAN)).is_err());
        WARMTH.check(parse("-80 F").unwrap()).unwrap();
        assert!(WARMTH.check(parse("-81 F").unwrap()).is_err());
    }

    #[test]
    fn the_same_number_in_another_unit_is_echoed_and_asked_for() {
        let fault = BULLET.check(parse("168g").unwrap()).unwrap_err();
        assert!(
            fault.to_string().contains("`168 g` = `2592.6") && fault.help().contains("did you mean `168 gr`?"),
            "{fault}"
        );
        assert_eq!(fault.to_string().matches('`').count() % 2, 0, "{fault}");
        let fault = BULLET.check(parse("40lb").unwrap()).unwrap_err();
        assert!(fault.help().contains("did you mean `40 gr`?"), "{}", fault.help());
        // Rounder in feet: it was written so, though it is a whole number of metres.
        let fault = ALTITUDE.check(parse("60000ft").unwrap()).unwrap_err();
        assert!(fault.to_string().contains("of `60000 ft` is not"), "{fault}");
    }

    #[test]
    fn shares_are_told_in_percent() {
        let fault = SHARE.check(parse("50%").unwrap()).unwrap_err();
        assert_eq!(fault.to_string(), "coverage of `50 %` is not between 90 % and 99.99 %");
        SHARE.check(parse("0.9").unwrap()).unwrap();
        // No share above one is written without its unit.
        let spread = Bound::<Ratio> { field: "bc-sd", low: 0.1, high: 20.0, unit: unit::PERCENT };
        let fault = |text: &str| spread.check(parse(text).unwrap()).unwrap_err();
        assert_eq!(fault("1500%").to_string(), "bc-sd of `1500 %` is not between 0.1 % and 20 %");
        assert_eq!(fault("1500%").help(), "check the unit; bc-sd is taken from 0.1 % to 20 %");
        for text in ["50%", "0.5"] {
            assert_eq!(fault(text).to_string(), "bc-sd of `50 %` is not between 0.1 % and 20 %");
            let help = "a bare `0.5` is `50 %`: write the unit; bc-sd is taken from 0.1 % to 20 %";
            assert_eq!(fault(text).help(), help);
        }
    }
}
