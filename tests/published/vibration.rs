//! Free-plate vibration.

use super::check::{Check, Status};
use thickset::plate::{Face, Plate};
use thickset::quantity::{Measure, unit};
use thickset::reaction::ring::{NODE_CIRCLE, frequency, modes};

const LEISSA: &str = "Leissa, NASA SP-160, completely free circle, ν 0.30";
const SQUARE: &str = "completely free square, converged; Leissa 1973 prints 13.489, 19.789, 24.432";
const RECTANGLE: &str = "completely free rectangle a/b 1.5 and 2.5, first mode";
const NAFEMS: &str = "NAFEMS FV12, free square plate 10 × 10 × 0.05 m";

/// Own Rayleigh–Ritz values come this near to converged ones.
const RITZ: f64 = 2e-4;

/// λ² of the modes of a face.
fn lambdas_sq(face: &Face) -> Vec<f64> {
    let plate = Plate::new("test", unit::INCH.of(0.375)).expect("a plate");
    modes(face, &plate).expect("constants").iter().map(|m| m.lambda_sq).collect()
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    let mut add = |what: String, source, status, expected: f64, got: f64, allowed: f64| {
        checks.push(Check::new(what, source, status, expected, got, allowed));
    };
    let inch = |n: f64| unit::INCH.of(n);
    let circle = lambdas_sq(&Face::round(inch(12.0)).expect("a face"));
    for (name, expected, got) in [("(2,0)", 5.358, circle[0]), ("(0,1)", 9.003, circle[1]), ("(3,0)", 12.44, circle[2])]
    {
        add(format!("free circle, λ² of {name}"), LEISSA, Status::Memory, expected, got, 1e-9);
    }
    add("node circle of (0,1), r/a".into(), LEISSA, Status::Memory, 0.680, NODE_CIRCLE, 1e-9);
    let square = lambdas_sq(&Face::rectangle(inch(12.0), inch(12.0)).expect("a face"));
    for (i, (expected, printed)) in [(13.4682, 13.489), (19.5961, 19.789), (24.2702, 24.432)].into_iter().enumerate() {
        add(
            format!("free square, λ² of mode {}", i + 1),
            SQUARE,
            Status::Computed,
            expected,
            square[i],
            RITZ * expected,
        );
        add(
            format!("free square, λ² of mode {}, printed", i + 1),
            SQUARE,
            Status::Memory,
            printed,
            square[i],
            0.01 * printed,
        );
    }
    for (height, expected) in [(8.0, 20.0955), (4.8, 21.4539)] {
        let first = lambdas_sq(&Face::rectangle(inch(12.0), inch(height)).expect("a face"))[0];
        add(
            format!("free rectangle a/b {:.1}, λ²", 12.0 / height),
            RECTANGLE,
            Status::Computed,
            expected,
            first,
            RITZ * expected,
        );
    }
    for (lambda_sq, hertz) in [(13.4682, 1.622), (19.5961, 2.360), (24.2702, 2.922)] {
        let got = frequency(lambda_sq, unit::METRE.of(10.0), unit::METRE.of(0.05), 200e9, 0.3, 8000.0).si();
        // The benchmark prints three decimals of its own element solution.
        add(format!("free square plate, {hertz} Hz"), NAFEMS, Status::Read, hertz, got, 0.002);
    }
    checks
}

#[test]
fn pitches_agree_with_published_constants_and_the_benchmark() {
    super::check::assert_all(&checks());
}
