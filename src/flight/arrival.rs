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
    /// A drag table of the bullet's own that ends below the Mach number it is fired at.
    #[error("the drag table ends at Mach {last:.2}, and the bullet leaves at Mach {mach:.2}")]
    Table {
        /// Mach number at the muzzle, of the fast shot where that is the one.
        mach: f64,
        /// The last of the table.
        last: f64,
    },
    /// A range of weather for a table whose bullet is not fastest at its hot end.
    #[error(
        "with this drag table hotter air does not make for a faster bullet, so that a range of weather has no fast end"
    )]
    Weather,
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
            Self::Table { .. } => "drag-table",
            Self::Weather => "temperature",
            Self::Distance { .. } | Self::OutOfReach { .. } => "at",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Slope { .. } => "write a slope from -60 deg to 60 deg".into(),
            Self::Speed { .. } => "check the unit of the velocity".into(),
            Self::Table { .. } => {
                "give the table rows up to the muzzle's Mach number and a little beyond, for fast shots".into()
            }
            Self::Weather => {
                "give one altitude or pressure, temperature and humidity, and ask once for each end".into()
            }
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
