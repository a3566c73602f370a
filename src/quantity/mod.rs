//! Quantities with their units: the types of every public boundary, exact unit definitions, and
//! the text forms people write (`"168 gr"`, `"2650 ft/s"`, `"3/8 in"`, `"-10F..95F"`).
//!
//! A quantity is a newtype about one of [`uom`]'s, which keeps SI and checks the algebra; it is made from one, and gives
//! it back. [`mod@unit`] holds the units as constants, each defined exactly with its authority:
//!
//! ```
//! # extern crate thickset_base as thickset;
//! use thickset::quantity::{unit, Velocity};
//! let speed: Velocity = unit::FOOT_PER_SECOND.of(2650.0);
//! assert!((unit::METRE_PER_SECOND.value(speed) - 807.72).abs() < 1e-9);
//! let of_uom: thickset::quantity::system::Velocity = speed.into();
//! assert!(Velocity::from(of_uom * 2.0) > speed);
//! ```

mod bound;
#[doc(hidden)]
pub mod draws;
mod given;
mod kinds;
mod measure;
pub mod system;
mod text;
pub mod unit;
mod wire;

pub use bound::{Bound, OutOfRange};
pub use given::{Given, Written};
pub use kinds::{
    Angle, Area, BallisticCoefficient, Energy, Force, Frequency, Length, Mass, MassDensity, MomentOfInertia, Momentum,
    Pressure, Ratio, SecondMomentOfArea, Temperature, Time, Velocity, VelocityPerTemperature,
};
pub use measure::Measure;
pub use text::text_form;
pub use text::{QuantityError, Range, Text, is_yards_or_metres, parse, parse_like, show, written, yards_or_metres};
pub use wire::{Degrees, Number, Si};
