//! Exact one-sided tolerance factors of the normal distribution.
//!
//! From n readings of mean m and standard deviation s, at least a share p of all shots lies below
//! m + k·s with confidence γ, where k solves
//!
//! ```text
//! ∫ Φ(√n·(k·u − z_p)) dF_U(u) = γ        U²·(n−1) ~ χ²(n−1)
//! ```
//!
//! No closed approximation: at small n they err on the unsafe side.

use super::conditions::COVERAGE;
use super::normal::{above, quantile};
use crate::numeric::bisect;
use crate::quantity::{Bound, OutOfRange, Ratio, unit};
use thiserror::Error;

/// The most readings a factor is computed for; more change it by less than anybody can measure.
pub const MAX_READINGS: usize = 100_000;

/// How near the factor is found, as a share of that of endless readings.
const SOLVED: f64 = 1e-14;
/// Step length as a share of the width of Φ's step, and the longest one: both leave less than 1e-14.
const NARROW: f64 = 0.35;
const WIDEST: f64 = 0.1;
/// The least weight that is kept, beside a peak of one; with n = 2 the left tail falls as slowly as u.
const LEAST: f64 = 1e-19;

const CONFIDENCE: Bound<Ratio> = Bound { field: "confidence", low: 50.0, high: 99.99, unit: unit::PERCENT };

/// A tolerance factor that can't be. [`ToleranceError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ToleranceError {
    /// Too few readings for a standard deviation, or too many.
    #[error("{n} readings")]
    Readings {
        /// How many there are.
        n: usize,
    },
    /// A coverage or a confidence out of bounds.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

impl ToleranceError {
    /// The option at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::Readings { .. } => "readings",
            Self::OutOfRange(error) => error.field,
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Readings { .. } => format!("shoot 2 to {MAX_READINGS} readings; 10 or more make a useful bound"),
            Self::OutOfRange(error) => error.help(),
        }
    }
}

/// The factor k for n readings, coverage p and confidence γ.
///
/// # Errors
/// [`ToleranceError`] for n below 2, a coverage outside 0.90 to 0.9999, a confidence outside 0.5 to 0.9999.
pub fn factor(n: usize, coverage: f64, confidence: f64) -> Result<f64, ToleranceError> {
    if !(2..=MAX_READINGS).contains(&n) {
        return Err(ToleranceError::Readings { n });
    }
    COVERAGE.check(unit::ONE.of(coverage))?;
    CONFIDENCE.check(unit::ONE.of(confidence))?;
    let z = quantile(coverage).unwrap_or(f64::INFINITY);
    Ok(solve(&Deviations::new(n, z), 1.0 - confidence))
}

/// The factor whose bound fails with the chance `missed`, by halving; on the side that fails less.
fn solve(nodes: &Deviations, missed: f64) -> f64 {
    let (mut low, mut high) = (0.0, 2.0 * nodes.z);
    while nodes.missed(high) > missed {
        (low, high) = (high, 2.0 * high);
    }
    bisect(low, high, SOLVED * nodes.z, |factor| nodes.missed(factor) > missed).1
}

/// Nodes and weights of `dF_U`: the trapezoidal rule over t = ln u.
///
/// In t the density is `exp(ν·(t − e²ᵗ/2))` and the step of Φ is about `1/(z√n)` wide wherever k puts it, so
/// one step length serves every k, and the rule gains digits as `exp(−1/h)`. A rule over u itself misses
/// the step where few readings and much confidence push it against zero, and k comes out too small.
struct Deviations {
    root_n: f64,
    z: f64,
    /// u and its weight; the weights sum to one.
    nodes: Vec<(f64, f64)>,
}

impl Deviations {
    fn new(n: usize, z: f64) -> Self {
        let root_n = (n as f64).sqrt();
        let nu = n as f64 - 1.0;
        let step = (NARROW / (z * root_n)).min(WIDEST);
        // The density, one at its peak t = 0.
        let weight = |t: f64| (nu * (t - 0.5 * (2.0 * t).exp_m1())).exp();
        let side = |step: f64| {
            (1_u32..).map(move |i| step * f64::from(i)).map(|t| (t.exp(), weight(t))).take_while(|node| node.1 > LEAST)
        };
        let mut nodes: Vec<(f64, f64)> = std::iter::once((1.0, 1.0)).chain(side(step)).chain(side(-step)).collect();
        let sum: f64 = nodes.iter().map(|node| node.1).sum();
        for node in &mut nodes {
            node.1 /= sum;
        }
        Self { root_n, z, nodes }
    }

    /// The chance that the bound with the factor k covers less than it says: 1 − γ. It falls as k rises.
    fn missed(&self, k: f64) -> f64 {
        self.nodes.iter().map(|&(u, weight)| weight * above(self.root_n * (k * u - self.z))).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_of_u_is_that_of_the_gamma_function() {
        for n in [2, 3, 11, 400, 10_000] {
            let nu = n as f64 - 1.0;
            let mean: f64 = Deviations::new(n, 1.3).nodes.iter().map(|(u, w)| u * w).sum();
            let expected = (2.0 / nu).sqrt() * (libm::lgamma(0.5 * (nu + 1.0)) - libm::lgamma(0.5 * nu)).exp();
            assert!((mean - expected).abs() < 1e-11, "{n}: {mean} {expected}");
        }
    }

    #[test]
    fn a_factor_turns_back_to_its_confidence() {
        for (n, coverage, confidence) in [(2, 0.9999, 0.9999), (7, 0.9, 0.5), (100_000, 0.99, 0.95)] {
            let nodes = Deviations::new(n, quantile(coverage).unwrap());
            let missed = nodes.missed(factor(n, coverage, confidence).unwrap());
            assert!((missed / (1.0 - confidence) - 1.0).abs() < 1e-9, "{n} {missed}");
        }
    }

    #[test]
    fn two_readings_give_a_factor_too_large_to_be_of_use_and_still_a_right_one() {
        // Computed with incomplete gamma functions to thirty digits.
        assert!((factor(2, 0.99, 0.95).unwrap() - 37.093_581_456_170_67).abs() < 1e-9);
        assert!((factor(2, 0.99, 0.9999).unwrap() / 18_562.316_394_691_05 - 1.0).abs() < 1e-9);
    }

    #[test]
    fn more_readings_lower_the_factor_and_more_coverage_or_confidence_raise_it() {
        let k = |n, p, c| factor(n, p, c).unwrap();
        assert!(k(2, 0.99, 0.95) > k(3, 0.99, 0.95) && k(10, 0.99, 0.95) > k(11, 0.99, 0.95));
        assert!(k(10, 0.999, 0.95) > k(10, 0.99, 0.95) && k(10, 0.99, 0.99) > k(10, 0.99, 0.95));
        assert!(k(100_000, 0.99, 0.95) > quantile(0.99).unwrap());
    }

    #[test]
    fn what_no_bound_can_be_made_of_is_refused_by_name() {
        assert_eq!(factor(1, 0.99, 0.95).unwrap_err().field(), "readings");
        assert_eq!(factor(10, 0.5, 0.95).unwrap_err().field(), "coverage");
        assert_eq!(factor(10, f64::NAN, 0.95).unwrap_err().field(), "coverage");
        assert_eq!(factor(10, 0.99, 1.0).unwrap_err().field(), "confidence");
    }
}
