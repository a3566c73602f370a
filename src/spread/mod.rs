//! Fast and slow shot, tolerance bounds, match risk.

mod carry;
mod conditions;
mod glance;
mod muzzle;
pub mod normal;
pub mod risk;
mod shots;
pub mod tolerance;

pub use carry::Carry;
pub use conditions::{CoverageError, FlightConditions, MAX_COVERAGE, MIN_COVERAGE};
pub use muzzle::{KEPT_FOR, beyond_saved, day_muzzle, factor_of, hot_muzzle, mean_muzzle, muzzle_at, muzzle_sd};
pub use shots::{FOLLOWED_YD, Flights, Followed, Gains};

#[cfg(test)]
mod tests;
