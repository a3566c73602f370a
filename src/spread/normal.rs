//! The normal distribution, as far as bounds need it.

use statrs::function::erf::{erfc, erfc_inv};
use thiserror::Error;

/// A probability outside 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("probability of `{0}` is not between 0 and 1")]
pub struct ProbabilityError(pub f64);

/// The share of a standard normal above `z`.
#[must_use]
pub fn above(z: f64) -> f64 {
    0.5 * erfc(z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The share of a standard normal below `z`.
#[must_use]
pub fn below(z: f64) -> f64 {
    above(-z)
}

/// The value that a share `p` of a standard normal lies below.
///
/// # Errors
/// [`ProbabilityError`] unless 0 < p < 1.
pub fn quantile(p: f64) -> Result<f64, ProbabilityError> {
    if !(p > 0.0 && p < 1.0) {
        return Err(ProbabilityError(p));
    }
    let mut z = -std::f64::consts::SQRT_2 * erfc_inv(2.0 * p);
    // One Newton step mends the library's rational approximation.
    let density = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt();
    if density > 0.0 {
        z -= (below(z) - p) / density;
    }
    Ok(z)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_agree_with_printed_tables_and_turn_back() {
        // Printed to four decimals in any statistics handbook (from memory).
        for (p, z) in [(0.9, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902)] {
            assert!((quantile(p).unwrap() - z).abs() < 5e-5, "{p}");
        }
        for p in [1e-6, 0.01, 0.5, 0.9, 0.9999] {
            assert!((below(quantile(p).unwrap()) - p).abs() < 1e-12, "{p}");
        }
        assert!(quantile(0.0).is_err() && quantile(1.0).is_err() && quantile(f64::NAN).is_err());
    }
}
