//! Quantities with their units: the types of every public boundary, exact unit definitions, and
//! the text forms people write (`"168 gr"`, `"2650 ft/s"`, `"3/8 in"`, `"-10F..95F"`).
//!
//! Inside the library a quantity is a [`uom`] type, which keeps SI. [`mod@unit`] holds the units as
//! constants, each defined exactly with its authority:
//!
//! ```
//! use thickset::quantity::{unit, Velocity};
//! let speed: Velocity = unit::FOOT_PER_SECOND.of(2650.0);
//! assert!((unit::METRE_PER_SECOND.value(speed) - 807.72).abs() < 1e-9);
//! ```

mod bound;
#[cfg(test)]
pub(crate) mod draws;
mod given;
mod measure;
mod text;
pub mod unit;
mod wire;

pub use bound::{Bound, OutOfRange};
pub use given::{Given, Written};
pub use measure::Measure;
pub(crate) use text::text_form;
pub use text::{QuantityError, Range, Text, parse, parse_like, show};
pub use uom::si::f64::{
    Angle, Area, Energy, Force, Frequency, Length, Mass, MassDensity, MomentOfInertia, Momentum, Pressure, Ratio,
    ThermodynamicTemperature as Temperature, Time, Velocity,
};
pub use wire::{Degrees, Number, Si};

/// Ballistic coefficient and areal density: mass per area, kg/m² in SI, lb/in² in the trade.
pub type BallisticCoefficient = uom::si::f64::ArealMassDensity;

/// Change of muzzle velocity per change of powder temperature, (m/s)/K.
pub type VelocityPerTemperature = uom::si::Quantity<
    uom::si::ISQ<
        uom::typenum::P1,
        uom::typenum::Z0,
        uom::typenum::N1,
        uom::typenum::Z0,
        uom::typenum::N1,
        uom::typenum::Z0,
        uom::typenum::Z0,
    >,
    uom::si::SI<f64>,
    f64,
>;

/// Second moment of area, m⁴.
pub type SecondMomentOfArea = uom::si::Quantity<
    uom::si::ISQ<
        uom::typenum::P4,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
        uom::typenum::Z0,
    >,
    uom::si::SI<f64>,
    f64,
>;
