//! A load with what a chronograph measured of it.

use crate::load::{Load, LoadError, MuzzleSpread};
use crate::quantity::{Length, Measure, Velocity};

/// A load with the mean and the spread of a chronograph string in place of its own. Whatever barrel the load's
/// velocity was stated for, or moved to, no longer counts: it is the one that the string was shot from, and unknown
/// unless given.
///
/// # Errors
/// [`LoadError`] where the result can't be.
pub fn measured(
    load: &Load,
    mean: Velocity,
    spread: MuzzleSpread,
    readings: usize,
    barrel: Option<Length>,
) -> Result<Load, LoadError> {
    load.with(|facts| {
        facts.muzzle_velocity = mean;
        facts.barrel = barrel;
        facts.spread.slow_margin = Velocity::from_si(0.0);
        facts.spread.muzzle = spread;
        facts.source = format!("chronograph string of {readings} readings");
    })
}
