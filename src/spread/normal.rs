//! The normal distribution, as far as bounds need it.

use statrs::function::erf::erfc_inv;
use thiserror::Error;

/// A probability outside 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("probability of `{0}` is not between 0 and 1")]
pub struct ProbabilityError(pub f64);

/// The share of a standard normal above `z`, `½·erfc(z/√2)`, to the last digits also far out.
///
/// The error function is `libm`'s: that of `statrs` is off by 1e-10 of its value, with steps where its
/// pieces meet, which would let a bound fall where it must rise.
#[must_use]
pub fn above(z: f64) -> f64 {
    0.5 * libm::erfc(z * std::f64::consts::FRAC_1_SQRT_2)
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
    Ok(-std::f64::consts::SQRT_2 * erfc_inv(2.0 * p))
}

/// The density of a standard normal at `z`.
pub(super) fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt()
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
        // Computed to forty digits with a general-purpose library.
        for (p, z) in [
            (1e-12, -7.034_483_825_301_132),
            (0.9, 1.281_551_565_544_600_5),
            (0.99, 2.326_347_874_040_841),
            (0.9999, 3.719_016_485_455_708),
        ] {
            assert!((quantile(p).unwrap() - z).abs() < 1e-12, "{p}");
        }
        for p in [1e-6, 0.01, 0.5, 0.9, 0.9999] {
            assert!((below(quantile(p).unwrap()) - p).abs() < 1e-12, "{p}");
        }
        assert!(quantile(0.0).is_err() && quantile(1.0).is_err() && quantile(f64::NAN).is_err());
    }

    #[test]
    fn tails_keep_their_digits_and_never_rise() {
        // Computed to forty digits with a general-purpose library.
        for (z, share) in [
            (0.707_106_781_186_547_5, 0.239_750_061_093_476_75),
            (5.0, 2.866_515_718_791_939e-7),
            (10.0, 7.619_853_024_160_526e-24),
            (30.0, 4.906_713_927_148_187e-198),
        ] {
            assert!((above(z) / share - 1.0).abs() < 1e-12, "{z}: {}", above(z));
        }
        let mut last = 1.0;
        for step in -8000..=8000 {
            let share = above(f64::from(step) * 1e-3);
            assert!(share <= last, "{step}");
            last = share;
        }
    }
}
