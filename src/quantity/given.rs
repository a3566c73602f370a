//! A quantity as somebody wrote it: a question keeps the words beside the value.

use super::text::{QuantityError, Range, parse};
use super::unit::Unit;
use super::{Measure, show};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;

/// A quantity or a range of it that knows how it was written, `"100 yd"`. It reads and writes itself as that text.
#[derive(Debug, Clone)]
pub struct Given<T> {
    text: String,
    value: T,
}

/// What a [`Given`] can hold: a quantity, or a range of it.
pub trait Written: Sized + Copy + PartialEq {
    /// What it is called in messages.
    const NAME: &'static str;
    /// A text that would be read.
    const EXAMPLE: &'static str;

    /// Reads it.
    ///
    /// # Errors
    /// [`QuantityError`] where the text is none.
    fn read(text: &str) -> Result<Self, QuantityError>;
}

impl<Q: Measure> Written for Q {
    const NAME: &'static str = <Q as Measure>::NAME;
    const EXAMPLE: &'static str = <Q as Measure>::EXAMPLE;

    fn read(text: &str) -> Result<Self, QuantityError> {
        parse(text)
    }
}

impl<Q: Measure> Written for Range<Q> {
    const NAME: &'static str = <Q as Measure>::NAME;
    const EXAMPLE: &'static str = <Q as Measure>::EXAMPLE;

    fn read(text: &str) -> Result<Self, QuantityError> {
        Self::parse(text)
    }
}

impl<T: Written> Given<T> {
    /// Reads a quantity with its unit, and keeps the text.
    ///
    /// # Errors
    /// [`QuantityError`] where the text is no such quantity.
    pub fn read(text: &str) -> Result<Self, QuantityError> {
        Ok(Self { value: T::read(text)?, text: text.trim().to_owned() })
    }

    /// The value.
    #[must_use]
    pub fn value(&self) -> T {
        self.value
    }

    /// The text it was read from.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl<Q: Measure> Given<Q> {
    /// `number` of `unit`, as a program gives it: `Given::of(100.0, &unit::YARD)`.
    #[must_use]
    pub fn of(number: f64, unit: &Unit<Q>) -> Self {
        let value = unit.of(number);
        // Nine decimals: a text for people; the value beside it is exact.
        let text = show(value, unit, 9);
        let (digits, symbol) = text.split_once(' ').unwrap_or((&text, ""));
        let digits = digits.trim_end_matches('0').trim_end_matches('.');
        Self { value, text: format!("{digits} {symbol}").trim_end().to_owned() }
    }
}

impl<T: PartialEq> PartialEq for Given<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T> fmt::Display for Given<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}

impl<T: Written> std::str::FromStr for Given<T> {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        Self::read(text)
    }
}

impl<T> Serialize for Given<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

impl<'de, T: Written> Deserialize<'de> for Given<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::read(&text).map_err(|error| de::Error::custom(format!("{error}\n{}", error.help())))
    }
}

#[cfg(feature = "schema")]
impl<T: Written> schemars::JsonSchema for Given<T> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("{}, with its unit", T::NAME).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({"type": "string", "description": format!("{} with its unit, `{}`", T::NAME, T::EXAMPLE)})
    }
}
