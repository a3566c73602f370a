//! One-sided normal tolerance factors, and critical values of the test for an outlier.

use super::check::{Check, Status};
use thickset::chrono::grubbs_critical;
use thickset::spread::tolerance::factor;

const NONCENTRAL: &str = "computed with a noncentral-t library; CMH-17 B-basis prints the p .90 column";
const NIST: &str = "NIST/SEMATECH e-Handbook 7.2.6.3, exact value computed";
/// n, and k at coverage .90, .95, .99 with confidence .95.
const ROWS: &[(usize, [f64; 3])] = &[
    (3, [6.1553, 7.6559, 10.5527]),
    (5, [3.4066, 4.2027, 5.7411]),
    (10, [2.3546, 2.9110, 3.9811]),
    (20, [1.9260, 2.3960, 3.2952]),
    (50, [1.6456, 2.0650, 2.8624]),
];
const INCOMPLETE_GAMMA: &str = "computed: chi-squared integrated out first, incomplete gamma functions";
/// n, coverage, confidence, k: also where few readings and much confidence push k far out.
const DIGITS: &[(usize, f64, f64, f64)] = &[
    (2, 0.99, 0.5, 3.375_967_849_013),
    (2, 0.99, 0.95, 37.093_581_456_171),
    (2, 0.9999, 0.9999, 29_673.458_337_75),
    (3, 0.99, 0.5, 2.764_476_934_292),
    (3, 0.99, 0.95, 10.552_730_123_707),
    (3, 0.9999, 0.9999, 376.346_154_989_627),
    (5, 0.99, 0.5, 2.525_769_605_29),
    (5, 0.99, 0.95, 5.741_084_517_227),
    (5, 0.9999, 0.9999, 45.047_429_319_433),
    (10, 0.99, 0.5, 2.410_323_028_721),
    (10, 0.99, 0.95, 3.981_117_845_273),
    (10, 0.9999, 0.9999, 14.076_168_291_693),
    (43, 0.99, 0.5, 2.343_730_252_318),
    (43, 0.99, 0.95, 2.914_074_661_354),
    (43, 0.9999, 0.9999, 6.132_581_669_388),
    (100, 0.99, 0.5, 2.333_681_910_193),
    (100, 0.99, 0.95, 2.683_957_855_691),
    (100, 0.9999, 0.9999, 5.064_747_316_416),
    (1_000, 0.99, 0.5, 2.327_072_026_509),
    (1_000, 0.99, 0.95, 2.430_140_153_242),
    (1_000, 0.9999, 0.9999, 4.074_873_288_531),
    (10_000, 0.99, 0.5, 2.326_420_197_987),
    (10_000, 0.99, 0.95, 2.358_366_668_78),
    (10_000, 0.9999, 0.9999, 3.826_021_197_37),
];
const GRUBBS: &str = "Grubbs and Beck, Technometrics 14, 1972, two-sided 1 %";

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for &(n, ks) in ROWS {
        for (coverage, k) in [0.90, 0.95, 0.99].into_iter().zip(ks) {
            let got = factor(n, coverage, 0.95).expect("a factor");
            let what = format!("k for n {n}, coverage {coverage}, confidence .95");
            checks.push(Check::new(what, NONCENTRAL, Status::Computed, k, got, 1e-4));
        }
    }
    let got = factor(43, 0.90, 0.99).expect("a factor");
    checks.push(Check::new("k for n 43, coverage .90, confidence .99", NIST, Status::Computed, 1.8740, got, 1e-4));
    for &(n, coverage, confidence, k) in DIGITS {
        let got = factor(n, coverage, confidence).expect("a factor");
        let what = format!("k for n {n}, coverage {coverage}, confidence {confidence}");
        checks.push(Check::new(what, INCOMPLETE_GAMMA, Status::Computed, k, got, 1e-10 * k));
    }
    for (n, critical) in [(3, 1.155), (5, 1.764), (10, 2.482), (20, 3.001)] {
        let got = grubbs_critical(n, 0.01).expect("a critical value");
        checks.push(Check::new(format!("outlier of {n} readings"), GRUBBS, Status::Memory, critical, got, 6e-4));
    }
    checks
}

#[test]
fn tolerance_factors_are_exact() {
    super::check::assert_all(&checks());
}

#[test]
fn the_handbook_s_approximation_differs_and_ours_is_the_exact_one() {
    // The handbook's approximation for n 43 gives 1.8752.
    assert!((factor(43, 0.90, 0.99).expect("a factor") - 1.8752).abs() > 1e-3);
}
