//! One-sided normal tolerance factors.

use super::check::{Check, Status};
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
