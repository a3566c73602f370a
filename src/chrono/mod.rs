//! Chronograph strings: readings in, mean, spread and tolerance bound out; odd readings pointed at, never
//! dropped.

mod above;
mod apart;
mod aside;
mod export;
mod odd;
mod read;
mod string;
mod sums;
mod title;
mod warmth;

pub use above::{Above, Stands, Weighs};
pub use odd::{Oddity, SetApart, Suspicion, grubbs_critical};
pub use string::{Named, Reading, Strings, SummaryRow};
pub use warmth::Warmth;

use crate::load::least_velocity_sd;
use crate::quantity::{Bound, Measure, Velocity, show, unit};
use crate::source::Diagnostic;
use crate::spread::tolerance::{self, ToleranceError};
use statrs::distribution::{ChiSquared, Continuous, ContinuousCDF};

/// The most readings of a string.
pub const MAX_READINGS: usize = tolerance::MAX_READINGS;
const READING: Bound<Velocity> = Bound { field: "reading", low: 50.0, high: 6000.0, unit: unit::FOOT_PER_SECOND };

/// A string of readings: at least two, and not all but the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings(Vec<Velocity>);

/// What a string comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// How many readings.
    pub n: usize,
    /// Their mean.
    pub mean: Velocity,
    /// Their standard deviation, n − 1.
    pub sd: Velocity,
    /// The interval that holds the true standard deviation with the confidence (chi-squared, two-sided).
    pub sd_interval: (Velocity, Velocity),
    /// Fastest less slowest.
    pub extreme_spread: Velocity,
    /// The tolerance factor k, or as much more as it takes to hold every reading: no plan is for less than was seen.
    pub factor: f64,
    /// Readings that the tolerance factor alone would leave out.
    pub beyond: usize,
    /// Mean + k·s: with the confidence, at least the coverage of all shots are no faster, and no reading is.
    pub fast_bound: Velocity,
    /// Mean − k·s, likewise for slow shots.
    pub slow_bound: Velocity,
}

impl Readings {
    /// A string from readings in order.
    ///
    /// # Errors
    /// A [`Diagnostic`] for fewer than two, too many, an absurd one, or readings that are all but the same: they
    /// were copied or rounded, and a bound from them would stand at their mean.
    pub fn new(readings: Vec<Velocity>) -> Result<Self, Diagnostic> {
        if readings.len() < 2 {
            let count = if readings.is_empty() { "no reading makes" } else { "1 reading makes" };
            return Err(Diagnostic::plain(format!("{count} no spread"))
                .help("give at least 2 readings; 10 or more make a useful bound"));
        }
        if readings.len() > MAX_READINGS {
            return Err(Diagnostic::plain(format!("more than {MAX_READINGS} readings")).help("split the string"));
        }
        readings.iter().try_for_each(|reading| READING.check(*reading))?;
        let (mean, sd) = mean_and_sd(readings.iter().map(|v| v.si()));
        if sd < least_velocity_sd().si() {
            let (n, text) = (readings.len(), show(Velocity::from_si(mean), &unit::FOOT_PER_SECOND, 1));
            return Err(Diagnostic::plain(format!("all {n} readings are about `{text}`: they show no spread"))
                .help("give them with all the digits of the chronograph, or shoot more"));
        }
        Ok(Self(readings))
    }

    /// The readings in order.
    #[must_use]
    pub fn readings(&self) -> &[Velocity] {
        &self.0
    }

    /// How far the farthest reading lies from the mean, in standard deviations.
    #[must_use]
    pub fn farthest(&self) -> f64 {
        let (mean, sd) = mean_and_sd(self.0.iter().map(|v| v.si()));
        self.0.iter().map(|v| (v.si() - mean).abs() / sd).fold(0.0, f64::max)
    }

    /// Mean, spread, and the tolerance bound for a coverage and a confidence.
    ///
    /// # Errors
    /// [`ToleranceError`] for a coverage or confidence out of bounds.
    pub fn summary(&self, coverage: f64, confidence: f64) -> Result<Summary, ToleranceError> {
        let n = self.0.len();
        let tolerance = tolerance::factor(n, coverage, confidence)?;
        let (mean, sd) = mean_and_sd(self.0.iter().map(|v| v.si()));
        let (fastest, slowest) = self.0.iter().fold((f64::MIN, f64::MAX), |(a, b), v| (a.max(v.si()), b.min(v.si())));
        let farthest = self.farthest();
        let beyond = self.0.iter().filter(|v| (v.si() - mean).abs() > tolerance * sd).count();
        let factor = tolerance.max(farthest);
        let nu = n as f64 - 1.0;
        let tail = 0.5 - 0.5 * confidence;
        let end = |quantile: f64| Velocity::from_si(sd * (nu / quantile).sqrt());
        Ok(Summary {
            n,
            mean: Velocity::from_si(mean),
            sd: Velocity::from_si(sd),
            sd_interval: (end(chi_squared(nu, 1.0 - tail)), end(chi_squared(nu, tail))),
            extreme_spread: Velocity::from_si(fastest - slowest),
            factor,
            beyond,
            fast_bound: Velocity::from_si((mean + factor * sd).max(fastest)),
            slow_bound: Velocity::from_si((mean - factor * sd).clamp(0.0, slowest)),
        })
    }
}

/// Mean and standard deviation, n − 1.
fn mean_and_sd(values: impl ExactSizeIterator<Item = f64> + Clone) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.clone().sum::<f64>() / n;
    let squares = values.map(|v| (v - mean).powi(2)).sum::<f64>();
    (mean, (squares / (n - 1.0)).sqrt())
}

/// The quantile of chi-squared with `nu` degrees of freedom.
///
/// The library stops within 1e-9, which is a third of the quantile of one degree of freedom at the
/// confidence of 99.99 %; Newton steps in the logarithm carry it on.
fn chi_squared(nu: f64, share: f64) -> f64 {
    let Ok(distribution) = ChiSquared::new(nu) else { return f64::NAN };
    let mut quantile = distribution.inverse_cdf(share);
    for _ in 0..3 {
        let slope = distribution.pdf(quantile) * quantile;
        if slope > 0.0 {
            quantile *= ((share - distribution.cdf(quantile)) / slope).clamp(-1.0, 1.0).exp();
        }
    }
    quantile
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHI_SQUARED: [(f64, f64, f64); 8] = [
        (1.0, 5e-5, 3.926_990_822_127_661e-9),
        (1.0, 0.025, 0.000_982_069_117_175_256),
        (1.0, 0.999_95, 16.448_110_210_008_21),
        (2.0, 0.25, 0.575_364_144_903_561_8),
        (9.0, 0.025, 2.700_389_499_980_358),
        (9.0, 0.975, 19.022_767_798_641_63),
        (999.0, 5e-5, 834.436_296_705_116_7),
        (99_999.0, 0.975, 100_877.410_923_034_2),
    ];

    #[test]
    fn mean_spread_and_bound_are_those_of_the_hand() {
        let readings = Readings::from_words(["100 m/s", "102 m/s", "104 m/s"]).unwrap();
        let summary = readings.summary(0.9, 0.95).unwrap();
        assert!((summary.mean.si() - 102.0).abs() < 1e-12 && (summary.sd.si() - 2.0).abs() < 1e-12);
        assert!((summary.extreme_spread.si() - 4.0).abs() < 1e-12);
        assert!((summary.fast_bound.si() - (102.0 + 2.0 * summary.factor)).abs() < 1e-12);
        assert!((summary.slow_bound.si() - (102.0 - 2.0 * summary.factor)).abs() < 1e-12);
        // χ²(2) quantiles 0.025 and 0.975 from any table: 0.0506, 7.3778.
        assert!((summary.sd_interval.0.si() - 2.0 * (2.0_f64 / 7.3778).sqrt()).abs() < 1e-3);
        assert!((summary.sd_interval.1.si() - 2.0 * (2.0_f64 / 0.050_636).sqrt()).abs() < 1e-2);
    }

    #[test]
    fn no_plan_is_for_less_than_was_read() {
        // Two lots in one string: the spread of the whole would leave out the faster.
        let two_lots = |slow: usize, fast: usize| {
            let speeds = (0..slow).map(|i| 2600.0 + (i % 3) as f64).chain((0..fast).map(|i| 2680.0 + i as f64));
            Readings::new(speeds.map(|v| unit::FOOT_PER_SECOND.of(v)).collect()).unwrap()
        };
        for (slow, fast, beyond) in [(45, 4, 4), (40, 1, 1), (5, 5, 0)] {
            let readings = two_lots(slow, fast);
            let summary = readings.summary(0.99, 0.95).unwrap();
            let fastest = unit::FOOT_PER_SECOND.of(2679.0 + fast as f64);
            assert!(summary.fast_bound >= fastest && summary.beyond == beyond, "{slow} {fast} {summary:?}");
            assert!(readings.readings().iter().all(|v| *v >= summary.slow_bound));
            let told = summary.mean + summary.sd * summary.factor;
            assert!((told.si() / summary.fast_bound.si() - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn chi_squared_quantiles_keep_their_digits() {
        // Computed to forty digits with a general-purpose library.
        for (nu, share, quantile) in CHI_SQUARED {
            assert!((chi_squared(nu, share) / quantile - 1.0).abs() < 1e-10, "{nu} {share} {}", chi_squared(nu, share));
        }
    }

    #[test]
    fn a_string_that_shows_no_spread_or_cannot_be_is_refused() {
        let message = |words: &[&str]| {
            let fault = Readings::from_words(words.iter().copied()).unwrap_err();
            assert!(fault.help.is_some());
            fault.message
        };
        assert!(message(&[]).starts_with("no reading"));
        assert!(message(&["2648fps"]).starts_with("1 reading "));
        assert!(message(&["2648fps", "2648fps", "2648fps"]).contains("all 3 readings are about `2648.0 ft/s`"));
        assert!(message(&["2648.00fps", "2648.05fps"]).contains("no spread"));
        assert!(message(&["2648fps", "8694fps"]).contains("8694 ft/s"));
        assert!(message(&["2648fps", "-2648fps"]).contains("-2648 ft/s"));
        let many = (0..=MAX_READINGS).map(|i| Velocity::from_si(700.0 + i as f64 * 1e-4)).collect();
        assert!(Readings::new(many).unwrap_err().message.starts_with("more than"));
        assert!(Readings::new(vec![Velocity::from_si(f64::NAN); 2]).is_err());
    }
}
