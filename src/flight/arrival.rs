//! What arrives, and why something does not.

use crate::quantity::{Angle, Length, Time, Velocity, show, unit};
use thiserror::Error;

/// A flight that can't be. [`FlightError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FlightError {
    /// A slope steeper than ±60°.
    #[error("slope of `{}` is steeper than 60 deg", show(*slope, &unit::DEGREE, 1))]
    Slope {
        /// What was asked.
        slope: Angle,
    },
    /// A muzzle velocity that the drag table does not hold.
    #[error("velocity of `{}` can't be flown", show(*speed, &unit::FOOT_PER_SECOND, 0))]
    Speed {
        /// What was asked.
        speed: Velocity,
    },
    /// A negative distance, or one that is not a number.
    #[error("distance of `{}` is not zero or more", show(*distance, &unit::YARD, 1))]
    Distance {
        /// What was asked.
        distance: Length,
    },
    /// The bullet does not get there, or only in a high arc.
    #[error("the bullet does not reach `{}`", show(*distance, &unit::YARD, 0))]
    OutOfReach {
        /// What was asked.
        distance: Length,
    },
}

impl FlightError {
    /// The option or key at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::Slope { .. } => "slope",
            Self::Speed { .. } => "velocity",
            Self::Distance { .. } | Self::OutOfReach { .. } => "at",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Slope { .. } => "write a slope from -60 deg to 60 deg".into(),
            Self::Speed { .. } => "check the unit of the velocity".into(),
            Self::Distance { .. } => "write a distance such as `100 yd`".into(),
            Self::OutOfReach { .. } => "name a distance within the bullet's reach".into(),
        }
    }
}

/// What arrives at a distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrival {
    /// Distance along the line of slope.
    pub distance: Length,
    /// Speed.
    pub speed: Velocity,
    /// Speed over the speed of sound there.
    pub mach: f64,
    /// Angle of the velocity below the line of slope.
    pub descent: Angle,
    /// Time of flight.
    pub time: Time,
}
