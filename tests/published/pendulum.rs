//! The pendulum.

use super::check::{Check, Status};
use thickset::plate::{Face, Plate};
use thickset::quantity::{Angle, Measure, Momentum, unit};
use thickset::reaction::swing::{HitPoint, Pendulum, Suspension, period_ratio};

const CUTNELL: &str = "Cutnell & Johnson, Physics, fig. 7.12: 0.0100 kg into 2.50 kg, rise 0.650 m";
const ELLIPTIC: &str = "large-angle period, complete elliptic integral";
const SQUARE: &str = "square plate of side a hung from its top edge, T = 2π√(2a/3g)";

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    // As a point mass the bullet stays and shares its momentum; on the plate the splash leaves along the face.
    let rise: f64 = 0.650;
    let speed = (2.0 * 9.806_65 * rise).sqrt();
    let embedded = (0.0100 + 2.50) * speed / 0.0100;
    checks.push(Check::new("bullet embedded, m/s", CUTNELL, Status::Read, 896.0, embedded, 0.6));
    checks.push(Check::new(
        "plate model, the splash leaves, m/s",
        CUTNELL,
        Status::Computed,
        892.3,
        plate_model(rise),
        0.6,
    ));
    for (degrees, ratio) in [(30.0, 1.017_409), (60.0, 1.073_182), (90.0, 1.180_341), (120.0, 1.372_881)] {
        let got = period_ratio(unit::DEGREE.of(degrees));
        checks.push(Check::new(format!("T/T₀ at {degrees}°"), ELLIPTIC, Status::Computed, ratio, got, 5e-7));
    }
    let side = 0.3;
    let face = Face::rectangle(unit::METRE.of(side), unit::METRE.of(side)).expect("a face");
    let thin = Plate::new("test", unit::INCH.of(0.0625)).expect("a plate");
    let expected = std::f64::consts::TAU * (2.0 * side / (3.0 * 9.806_65)).sqrt();
    let got = Pendulum::hung(&face, &thin, Suspension::Hooks).period().si();
    checks.push(Check::new("period of a square plate, s", SQUARE, Status::Computed, expected, got, 1e-4));
    checks
}

/// The speed of a 10 g bullet that lifts a small 2.5 kg plate hung high above by `rise`, momentum factor 1.
fn plate_model(rise: f64) -> f64 {
    // A plate so far below its hanger that it is a point: 2.5 kg of steel, 1 in thick.
    let side = (2.5_f64 / (7850.0 * 0.0254)).sqrt();
    let face = Face::rectangle(unit::METRE.of(side), unit::METRE.of(side)).expect("a face");
    let plate = Plate::new("test", unit::INCH.of(1.0)).expect("a plate");
    let pendulum = Pendulum::hung_above_centre(&face, &plate, unit::METRE.of(50.0), Suspension::Hooks);
    let lift = |speed: f64| {
        let momentum = Momentum::from_si(0.0100 * speed);
        let swing =
            pendulum.swing(momentum, Angle::from_si(0.0), 1.0, HitPoint::Centre).angle().expect("it stays below");
        50.0 * (1.0 - swing.si().cos())
    };
    let (mut low, mut high) = (500.0, 1500.0);
    while high - low > 1e-6 {
        let middle = 0.5 * (low + high);
        if lift(middle) < rise { low = middle } else { high = middle }
    }
    low
}

#[test]
fn the_pendulum_agrees_with_print_and_closed_forms() {
    super::check::assert_all(&checks());
}
