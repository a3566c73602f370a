//! Muzzle velocities of a day: with powder as hot or cold as it is, and what they are spread by.

use super::conditions::FlightConditions;
use super::normal::quantile;
use super::tolerance;
use crate::load::{Load, MeasuredString, MuzzleSpread};
use crate::quantity::{Measure, Range, Temperature, Velocity, unit};
use std::collections::HashMap;
use std::sync::{LazyLock, Mutex};

/// The mean muzzle velocity with the powder at the hot end of the weather.
#[must_use]
pub fn hot_muzzle(load: &Load, conditions: &FlightConditions) -> Velocity {
    muzzle_at(load, conditions.hottest)
}

/// The mean muzzle velocity with powder as hot as this; as listed where that is colder than it was measured at.
#[must_use]
pub fn muzzle_at(load: &Load, hottest: Temperature) -> Velocity {
    load.facts().muzzle_velocity + powder(load, hottest, 1.0)
}

/// The mean muzzle velocities of the day, from the coldest powder to the hottest. A cold day is no leave for a load
/// that is listed above a limit, nor a hot one for one that is listed below.
#[must_use]
pub fn day_muzzle(load: &Load, conditions: &FlightConditions) -> Range<Velocity> {
    let listed = load.facts().muzzle_velocity;
    let cold = mean_for(load, -1.0) + powder(load, conditions.coldest, -1.0);
    Range { low: cold.min(listed).max(slowest()), high: hot_muzzle(load, conditions).max(listed) }
}

/// The muzzle velocity of the mean shot, its powder at the middle of the day's temperatures.
#[must_use]
pub fn mean_muzzle(load: &Load, conditions: &FlightConditions) -> Velocity {
    let kelvins = 0.5 * (conditions.coldest.si() + conditions.hottest.si()) - load.measured_at().si();
    (load.facts().muzzle_velocity + Velocity::from_si(kelvins * load.temperature_slope().si())).max(slowest())
}

/// The mean that the fast (or slow) shots are spread about.
pub(super) fn mean_for(load: &Load, sign: f64) -> Velocity {
    let facts = load.facts();
    if sign < 0.0 { facts.muzzle_velocity - facts.spread.slow_margin } else { facts.muzzle_velocity }
}

pub(super) fn slowest() -> Velocity {
    unit::FOOT_PER_SECOND.of(50.0)
}

/// Powder hotter than where the velocity was measured adds to the fast shot; colder takes from the slow one.
pub(super) fn powder(load: &Load, air: Temperature, sign: f64) -> Velocity {
    let (slope, kelvins) = (load.temperature_slope().si(), air.si() - load.measured_at().si());
    Velocity::from_si(sign * (sign * kelvins * slope).max(0.0))
}

/// z·σ, or the tolerance bound k·s of a chronograph string in its place; never less than z·s, should more coverage be
/// asked than the string's bound was made for.
pub(super) fn muzzle_bound(load: &Load, conditions: &FlightConditions) -> Velocity {
    let z = own_z(load, conditions);
    match load.facts().spread.muzzle {
        MuzzleSpread::Bound { sd, factor, string } => {
            let coverage = conditions.coverage().si();
            let exact =
                string.and_then(|string| factor_of(&string, string.coverage.map_or(coverage, |own| own.max(coverage))));
            sd * exact.unwrap_or(factor * beyond_saved(z)).max(z)
        }
        MuzzleSpread::Assumed | MuzzleSpread::Sd(_) => load.velocity_sd() * z,
    }
}

/// The quantile that a load's bounds are of: that of the coverage that is asked, or that its string was planned for.
pub(super) fn own_z(load: &Load, conditions: &FlightConditions) -> f64 {
    match load.facts().spread.muzzle {
        MuzzleSpread::Bound { string: Some(MeasuredString { coverage: Some(own), .. }), .. } => {
            quantile(own).map_or(conditions.z, |own| own.max(conditions.z))
        }
        _ => conditions.z,
    }
}

/// The factor of a string at a coverage: its tolerance factor, or as much more as it takes to hold every reading. Found
/// once for each, since a match flies its strings often; `None` where no factor can be.
#[must_use]
pub fn factor_of(string: &MeasuredString, coverage: f64) -> Option<f64> {
    type Found = HashMap<(usize, u64, u64), f64>;
    static FOUND: LazyLock<Mutex<Found>> = LazyLock::new(|| Mutex::new(HashMap::new()));
    let key = (string.readings, coverage.to_bits(), string.confidence.to_bits());
    let known = FOUND.lock().ok().and_then(|found| found.get(&key).copied());
    let factor = match known {
        Some(factor) => factor,
        None => tolerance::factor(string.readings, coverage, string.confidence).ok()?,
    };
    if let Ok(mut found) = FOUND.lock()
        && found.len() < MOST_FOUND
    {
        found.insert(key, factor);
    }
    Some(factor.max(string.farthest))
}

/// So many factors are kept.
const MOST_FOUND: usize = 4096;

/// How much more a tolerance factor takes at a coverage above the one it is kept for: the factor of few shots grows by
/// less than the normal's quantile does.
#[must_use]
pub fn beyond_saved(z: f64) -> f64 {
    // Once: a match flies its strings often. Not a number where there is none, and then nothing more is taken.
    static KEPT_Z: LazyLock<f64> = LazyLock::new(|| quantile(KEPT_FOR).unwrap_or(f64::NAN));
    (z / *KEPT_Z).max(1.0)
}

/// The least coverage that a tolerance factor is kept for: the usual one.
pub const KEPT_FOR: f64 = 0.99;

/// Standard deviation of the muzzle velocity within a rifle; of a chronograph string, the one whose bound its
/// tolerance bound is, which allows for how few shots it has.
#[must_use]
pub fn muzzle_sd(load: &Load, conditions: &FlightConditions) -> Velocity {
    load.velocity_sd().max(muzzle_bound(load, conditions) / conditions.z)
}
