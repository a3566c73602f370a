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

use super::normal::{below, quantile};
use statrs::function::gamma::ln_gamma;
use thiserror::Error;

/// The most readings a factor is computed for; more change it by less than anybody can measure.
pub const MOST_READINGS: usize = 100_000;

/// A tolerance factor that can't be. [`ToleranceError::help`] says what would do.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum ToleranceError {
    /// Too few readings for a standard deviation, or too many.
    #[error("{n} readings")]
    Readings {
        /// How many there are.
        n: usize,
    },
    /// A coverage out of bounds.
    #[error("coverage of `{percent} %` is not between 90 % and 99.99 %")]
    Coverage {
        /// What was asked.
        percent: f64,
    },
    /// A confidence out of bounds.
    #[error("confidence of `{percent} %` is not between 50 % and 99.99 %")]
    Confidence {
        /// What was asked.
        percent: f64,
    },
}

impl ToleranceError {
    /// The option at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::Readings { .. } => "readings",
            Self::Coverage { .. } => "coverage",
            Self::Confidence { .. } => "confidence",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Readings { .. } => format!("shoot 2 to {MOST_READINGS} readings; 10 or more make a useful bound"),
            Self::Coverage { .. } => {
                "write `--coverage 0.99`; below 90 % more than one shot in ten would pass the bound".into()
            }
            Self::Confidence { .. } => "write `--confidence 0.95`".into(),
        }
    }
}

/// The factor k for n readings, coverage p and confidence γ.
///
/// # Errors
/// [`ToleranceError`] for n below 2, a coverage outside 0.90 to 0.9999, a confidence outside 0.5 to 0.9999.
pub fn factor(n: usize, coverage: f64, confidence: f64) -> Result<f64, ToleranceError> {
    if !(2..=MOST_READINGS).contains(&n) {
        return Err(ToleranceError::Readings { n });
    }
    let coverage_fault = ToleranceError::Coverage { percent: coverage * 100.0 };
    if !(0.9 - 1e-12..=0.9999 + 1e-12).contains(&coverage) {
        return Err(coverage_fault);
    }
    if !(0.5 - 1e-12..=0.9999 + 1e-12).contains(&confidence) {
        return Err(ToleranceError::Confidence { percent: confidence * 100.0 });
    }
    let z = quantile(coverage).map_err(|_| coverage_fault)?;
    let nodes = nodes(n);
    let root_n = (n as f64).sqrt();
    let attained = |k: f64| nodes.iter().map(|&(u, weight)| weight * below(root_n * (k * u - z))).sum::<f64>();
    // The attained confidence rises with k: double outward, then halve inward to the last digit.
    let (mut low, mut high) = (0.0, 2.0 * z);
    while attained(high) < confidence && high < 1e9 {
        low = high;
        high *= 2.0;
    }
    while high - low > 1e-12 * high {
        let middle = 0.5 * (low + high);
        if attained(middle) < confidence {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(high)
}

/// Nodes and weights of `dF_U`, Gauss–Legendre of order 8 on panels over all but 1e-15 of its mass. The
/// weights are scaled to a sum of one, which takes out what the ends leave.
fn nodes(n: usize) -> Vec<(f64, f64)> {
    const X: [f64; 4] =
        [0.183_434_642_495_649_8, 0.525_532_409_916_329, 0.796_666_477_413_626_7, 0.960_289_856_497_536_3];
    const W: [f64; 4] =
        [0.362_683_783_378_362, 0.313_706_645_877_887_3, 0.222_381_034_453_374_5, 0.101_228_536_290_376_3];
    const PANELS: u32 = 96;
    let nu = n as f64 - 1.0;
    let spread = 9.0 / (2.0 * nu).sqrt();
    let (low, high) = ((1.0 - spread).max(0.0), 1.0 + spread);
    let constant = std::f64::consts::LN_2 + 0.5 * nu * (0.5 * nu).ln() - ln_gamma(0.5 * nu);
    let density = |u: f64| if u > 0.0 { (constant + (nu - 1.0) * u.ln() - 0.5 * nu * u * u).exp() } else { 0.0 };
    let half = 0.5 * (high - low) / f64::from(PANELS);
    let mut nodes = Vec::with_capacity(8 * PANELS as usize);
    for panel in 0..PANELS {
        let centre = low + half * (2.0 * f64::from(panel) + 1.0);
        for (x, w) in X.iter().zip(W) {
            for u in [centre - half * x, centre + half * x] {
                nodes.push((u, half * w * density(u)));
            }
        }
    }
    let sum: f64 = nodes.iter().map(|n| n.1).sum();
    for node in &mut nodes {
        node.1 /= sum;
    }
    nodes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_density_is_whole_before_it_is_scaled() {
        // n = 2: half-normal, whose mean is √(2/π); n = 11: computed from the gamma function.
        for n in [2, 3, 11, 400] {
            let nu = n as f64 - 1.0;
            let mean: f64 = nodes(n).iter().map(|(u, w)| u * w).sum();
            let expected = (2.0 / nu).sqrt() * (ln_gamma(0.5 * (nu + 1.0)) - ln_gamma(0.5 * nu)).exp();
            assert!((mean - expected).abs() < 1e-10, "{n}: {mean} {expected}");
        }
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
