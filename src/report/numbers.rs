//! The kinds of numbers that tables and figures carry, in the units of an answer.

use super::table::{Rounding, Scale, Value};
use crate::quantity::{Angle, Energy, Frequency, Length, Mass, Momentum, Time, Velocity, unit};
use crate::words::Units;

/// Scales for the units of an answer.
#[derive(Debug, Clone, Copy)]
pub(super) struct Numbers(pub Units);

impl Numbers {
    pub fn speed(self) -> Scale<Velocity> {
        Scale::pick(self.0, (&unit::FOOT_PER_SECOND, 0), (&unit::METRE_PER_SECOND, 0))
    }

    /// A speed to stay under.
    pub fn speed_under(self) -> Scale<Velocity> {
        self.speed().rounded(Rounding::Down)
    }

    /// A small speed, to a tenth.
    pub fn small_speed(self) -> Scale<Velocity> {
        Scale::pick(self.0, (&unit::FOOT_PER_SECOND, 1), (&unit::METRE_PER_SECOND, 1))
    }

    pub fn energy(self) -> Scale<Energy> {
        Scale::pick(self.0, (&unit::FOOT_POUND, 0), (&unit::JOULE, 0))
    }

    /// An energy to stay under.
    pub fn energy_under(self) -> Scale<Energy> {
        self.energy().rounded(Rounding::Down)
    }

    pub fn momentum(self) -> Scale<Momentum> {
        Scale::pick(self.0, (&unit::POUND_FOOT_PER_SECOND, 1), (&unit::KILOGRAM_METRE_PER_SECOND, 2))
    }

    /// A distance that was asked.
    pub fn distance(self) -> Scale<Length> {
        Scale::pick(self.0, (&unit::YARD, 0), (&unit::METRE, 0))
    }

    /// A cell of a distance that was asked: whole, or to a tenth where it is not.
    pub fn distance_cell(self, distance: Length) -> Value {
        let value = self.distance().of(distance);
        Value::number(value, usize::from((value - value.round()).abs() > 0.05), Rounding::Near)
    }

    /// A distance to keep.
    pub fn distance_up(self) -> Scale<Length> {
        self.distance().rounded(Rounding::Up)
    }

    /// A distance to stay within.
    pub fn distance_under(self) -> Scale<Length> {
        self.distance().rounded(Rounding::Down)
    }

    /// A cell of a distance to keep, no farther than what was asked beyond it.
    pub fn kept_cell(self, distance: Option<Length>, asked: &[Length]) -> Value {
        let Some(distance) = distance else { return Value::None };
        let (value, decimals) = self.0.kept(distance, asked);
        Value::number(value, decimals, Rounding::Near)
    }

    /// A size on a plate.
    pub fn size(self) -> Scale<Length> {
        Scale::pick(self.0, (&unit::INCH, 1), (&unit::MILLIMETRE, 0))
    }

    /// A width, a radius, a kerf.
    pub fn fine(self) -> Scale<Length> {
        Scale::pick(self.0, (&unit::INCH, 2), (&unit::MILLIMETRE, 1))
    }

    pub fn thickness(self) -> Scale<Length> {
        Scale::pick(self.0, (&unit::INCH, 3), (&unit::MILLIMETRE, 2))
    }

    pub fn mass(self) -> Scale<Mass> {
        Scale::pick(self.0, (&unit::POUND, 1), (&unit::KILOGRAM, 1))
    }

    pub fn degrees(self) -> Scale<Angle> {
        let degrees = (&unit::DEGREE, 1);
        Scale::pick(self.0, degrees, degrees)
    }

    pub fn seconds(self) -> Scale<Time> {
        let seconds = (&unit::SECOND, 2);
        Scale::pick(self.0, seconds, seconds)
    }

    pub fn hertz(self) -> Scale<Frequency> {
        let hertz = (&unit::HERTZ, 0);
        Scale::pick(self.0, hertz, hertz)
    }
}

/// A share to spare in percent, never rounded to the side that flatters.
pub(super) fn margin(share: Option<f64>) -> Value {
    share.map_or(Value::None, |share| Value::number(100.0 * share, 0, Rounding::Down))
}
