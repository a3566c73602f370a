//! Fast and slow shot, tolerance bounds, match risk.

pub mod normal;
pub mod risk;
mod shots;
pub mod tolerance;

pub use shots::{
    Conditions, CoverageError, FOLLOWED_YD, Flights, Followed, Gains, LEAST_COVERAGE, MOST_COVERAGE, hot_muzzle,
};
