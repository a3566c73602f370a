//! What a load is flown in: weather, slope, and the coverage of its bounds.

use super::normal::quantile;
use crate::air::{Air, Weather};
use crate::quantity::{Angle, Measure, Ratio, Temperature};
use thiserror::Error;

/// The least coverage that is taken.
pub const MIN_COVERAGE: f64 = 0.90;
/// The most coverage that is taken.
pub const MAX_COVERAGE: f64 = 0.9999;

/// A coverage that can't be asked for.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("coverage of `{percent} %` is not between 90 % and 99.99 %")]
pub struct CoverageError {
    /// What was asked.
    pub percent: f64,
}

impl CoverageError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        "write `--coverage 99%`; below 90 % more than one shot in ten would pass the bound".into()
    }
}

/// Weather, slope and coverage: what a load is flown in.
#[derive(Debug, Clone)]
pub struct FlightConditions {
    pub(super) thin: Air,
    pub(super) dense: Air,
    pub(super) hottest: Temperature,
    pub(super) coldest: Temperature,
    pub(super) slope: Angle,
    coverage: Ratio,
    pub(super) z: f64,
}

impl FlightConditions {
    /// FlightConditions of these two ends of the weather, this slope, and this one-sided coverage.
    ///
    /// # Errors
    /// [`CoverageError`] for a coverage outside 90 to 99.99 %.
    pub fn new(weather: &Weather, slope: Angle, coverage: Ratio) -> Result<Self, CoverageError> {
        let share = coverage.si();
        let refused = CoverageError { percent: share * 100.0 };
        if !(MIN_COVERAGE - 1e-12..=MAX_COVERAGE + 1e-12).contains(&share) {
            return Err(refused);
        }
        let z = quantile(share).map_err(|_| refused)?;
        let (thin, dense) = (weather.thin(), weather.dense());
        let (a, b) = (thin.temperature(), dense.temperature());
        let (coldest, hottest) = if a < b { (a, b) } else { (b, a) };
        Ok(Self { thin, dense, hottest, coldest, slope, coverage, z })
    }

    /// The thin end of the weather, which fast shots fly in.
    #[must_use]
    pub fn thin(&self) -> &Air {
        &self.thin
    }

    /// The dense end of the weather, which slow shots fly in.
    #[must_use]
    pub fn dense(&self) -> &Air {
        &self.dense
    }

    /// The slope, positive uphill.
    #[must_use]
    pub fn slope(&self) -> Angle {
        self.slope
    }

    /// The one-sided coverage of the fast and slow shot.
    #[must_use]
    pub fn coverage(&self) -> Ratio {
        self.coverage
    }
}
