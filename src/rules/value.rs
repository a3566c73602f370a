//! A value of a rule in its own quantity.

use crate::quantity::{Angle, Energy, Length, Measure, Ratio, Velocity};

/// A value that a rule limits or a strike is found to have.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub enum Value {
    /// A distance, a thickness or a diameter.
    Length(Length),
    /// A speed.
    Velocity(Velocity),
    /// An energy.
    Energy(Energy),
    /// An angle.
    Angle(Angle),
    /// A share, or a factor.
    Share(Ratio),
}

impl Value {
    /// The number in SI: metres, metres per second, joules, radians, one.
    #[must_use]
    pub fn si(self) -> f64 {
        match self {
            Self::Length(value) => value.si(),
            Self::Velocity(value) => value.si(),
            Self::Energy(value) => value.si(),
            Self::Angle(value) => value.si(),
            Self::Share(value) => value.si(),
        }
    }
}

/// Relative slack of every comparison, so that 3,000 ft/s is 3,000 ft/s in any unit.
pub const ROUNDING: f64 = 1e-9;

/// Whether `value` is at most `limit`, with the slack.
#[must_use]
pub fn at_most(value: f64, limit: f64) -> bool {
    value <= limit + ROUNDING * limit.abs()
}

/// Whether `value` is at least `limit`, with the slack.
#[must_use]
pub fn at_least(value: f64, limit: f64) -> bool {
    value >= limit - ROUNDING * limit.abs()
}
