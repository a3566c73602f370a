//! How the muzzle velocities of a load's shots are spread, and what is kept of a string that measured it.

use crate::quantity::Velocity;

/// How the muzzle velocity of the shots is spread about its mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MuzzleSpread {
    /// Nothing was measured: [`super::assumed_velocity_sd`] is taken.
    Assumed,
    /// A standard deviation that the user gives.
    Sd(Velocity),
    /// A tolerance bound k·s from a chronograph string, for a stated coverage and confidence; it
    /// stands in for z·σ, unless that is the larger.
    Bound {
        /// The standard deviation of the string.
        sd: Velocity,
        /// The tolerance factor k.
        factor: f64,
        /// The string that it is of, where that is known: the factor of any coverage follows from it.
        string: Option<MeasuredString>,
    },
}

/// What is kept of a chronograph string.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredString {
    /// How many readings it has.
    pub readings: usize,
    /// How far the farthest of them lies from the mean, in standard deviations: no plan is for less than was seen.
    pub farthest: f64,
    /// The confidence of its bound, as a share.
    pub confidence: f64,
    /// The coverage that it was planned for, as a share: it is judged at no less.
    pub coverage: Option<f64>,
}
