//! What a load is flown in: weather, slope, and the coverage of its bounds.

use super::normal::quantile;
use crate::air::{Air, Weather};
use crate::quantity::{Angle, Bound, Measure, OutOfRange, Ratio, Temperature, unit};

/// The least coverage that is taken.
pub const MIN_COVERAGE: f64 = 0.90;
/// The most coverage that is taken.
pub const MAX_COVERAGE: f64 = 0.9999;

/// The bounds of a coverage: below 90 % more than one shot in ten would pass the bound.
pub(crate) const COVERAGE: Bound<Ratio> =
    Bound { field: "coverage", low: MIN_COVERAGE * 100.0, high: MAX_COVERAGE * 100.0, unit: unit::PERCENT };

/// A coverage that can't be asked for.
pub type CoverageError = OutOfRange;

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
    /// `FlightConditions` of these two ends of the weather, this slope, and this one-sided coverage.
    ///
    /// # Errors
    /// [`CoverageError`] for a coverage outside 90 to 99.99 %.
    pub fn new(weather: &Weather, slope: Angle, coverage: Ratio) -> Result<Self, CoverageError> {
        let share = coverage.si();
        COVERAGE.check(coverage)?;
        let z = quantile(share).unwrap_or(f64::INFINITY);
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
