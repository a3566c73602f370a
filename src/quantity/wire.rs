//! Numbers as an answer carries them to another program: SI, nine significant digits.

use super::{Angle, Measure, unit};
use serde::{Serialize, Serializer};
use std::ops::Deref;

/// Significant digits of every number.
const DIGITS: i32 = 9;

/// Rounded to the digits of a document.
fn significant(number: f64) -> f64 {
    if number == 0.0 || !number.is_finite() {
        // Plus zero: a minus sign on nothing says nothing.
        return number + 0.0;
    }
    #[allow(clippy::cast_possible_truncation)] // The exponent of a finite number is small.
    let scale = 10_f64.powi(DIGITS - 1 - number.abs().log10().floor() as i32);
    if scale.is_finite() && scale > 0.0 { (number * scale).round() / scale } else { number }
}

macro_rules! wire {
    ($name:ident, $inner:ty, $si:expr, $doc:literal $(, $q:ident: $bound:ident)?) => {
        impl$(<$q: $bound>)? Serialize for $name$(<$q>)? {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let number: fn($inner) -> f64 = $si;
                serializer.serialize_f64(significant(number(self.0)))
            }
        }

        #[cfg(feature = "schema")]
        impl$(<$q: $bound>)? schemars::JsonSchema for $name$(<$q>)? {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                $doc.into()
            }

            fn inline_schema() -> bool {
                true
            }

            // What is not finite is null in JSON.
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({"type": ["number", "null"]})
            }
        }

        impl$(<$q: $bound>)? From<$inner> for $name$(<$q>)? {
            fn from(value: $inner) -> Self {
                Self(value)
            }
        }

        impl$(<$q>)? Deref for $name$(<$q>)? {
            type Target = $inner;

            fn deref(&self) -> &$inner {
                &self.0
            }
        }
    };
}

/// A quantity that serialises as its SI value in nine digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Si<Q>(
    /// The quantity.
    pub Q,
);
wire!(Si, Q, Q::si, "number in SI", Q: Measure);

/// An angle that serialises in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Degrees(
    /// The angle.
    pub Angle,
);
wire!(Degrees, Angle, |angle| unit::DEGREE.value(angle), "number in degrees");

/// A number without a unit that serialises in nine digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number(
    /// The number.
    pub f64,
);
wire!(Number, f64, |number| number, "number");

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Velocity;

    #[test]
    fn numbers_have_nine_digits_and_what_is_not_finite_is_null() {
        assert_eq!(significant(807.720_000_000_01), 807.72);
        assert_eq!(significant(1.234_567_894_4e-7), 1.234_567_89e-7);
        let text = |n: f64| serde_json::to_string(&Number(n)).unwrap();
        assert_eq!((text(1.0 / 3.0), text(f64::NAN), text(-0.0)), ("0.333333333".into(), "null".into(), "0.0".into()));
        assert_eq!(serde_json::to_string(&Si(Velocity::from_si(2.5))).unwrap(), "2.5");
    }
}
