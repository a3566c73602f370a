//! What arrives at the steel.

use crate::quantity::{Angle, Length, Range, Time, Velocity};

/// The arrival of a load at a distance: the mean shot, and the bounds of the fast and the slow one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strike {
    /// Distance along the line of slope.
    pub distance: Length,
    /// Mean velocities at the muzzle of the day, from the coldest powder to the hottest; what is listed lies between.
    pub muzzle: Range<Velocity>,
    /// Speed of the mean shot.
    pub mean: Velocity,
    /// Speed of the mean shot over the speed of sound.
    pub mach: f64,
    /// Time of flight of the mean shot.
    pub time: Time,
    /// Angle of the mean shot's arrival below the line of slope.
    pub descent: Angle,
    /// Angle of the mean shot's arrival below the horizontal.
    pub fall: Angle,
    /// The same at the most, in all of the weather: in its dense end, the powder as cold as it gets.
    pub steepest: Angle,
    /// One-sided upper bound of speed at the coverage asked.
    pub fast: Velocity,
    /// One-sided lower bound of speed at the coverage asked; zero where the slow shot doesn't arrive.
    pub slow: Velocity,
}
