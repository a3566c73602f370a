//! Energy against printed pairs and the ballistic-resistance standard.

use super::check::{Check, Status};
use thickset::quantity::{Energy, Mass, Measure, Velocity, unit};

const NIJ: &str = "NIJ Standard 0101.06, threat masses and velocities; energy computed";
const PRINTED: &str = "printed ammunition tables";

fn energy(mass: Mass, speed: Velocity) -> Energy {
    0.5 * mass * speed * speed
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for (grams, speed, joules) in
        [(8.0, 373.0, 556.5), (10.2, 436.0, 969.5), (15.6, 436.0, 1482.7), (9.6, 847.0, 3443.6)]
    {
        let got = energy(unit::GRAM.of(grams), unit::METRE_PER_SECOND.of(speed)).si();
        checks.push(Check::new(format!("{grams} g at {speed} m/s, J"), NIJ, Status::Computed, joules, got, 0.06));
    }
    for (grains, speed, ft_lbf) in [(150.0, 2540.0, 2149.0), (230.0, 830.0, 352.0)] {
        let got = unit::FOOT_POUND.value(energy(unit::GRAIN.of(grains), unit::FOOT_PER_SECOND.of(speed)));
        // Some tables divide by 450,240 instead of 450,436.68.
        checks.push(Check::new(
            format!("{grains} gr at {speed} ft/s, ft·lbf"),
            PRINTED,
            Status::Read,
            ft_lbf,
            got,
            1.0,
        ));
    }
    let divisor = unit::FOOT_POUND.of(1.0).si() / (0.5 * unit::GRAIN.of(1.0).si() * unit::FOOT.of(1.0).si().powi(2));
    let what = "grain square feet per second squared in two foot-pounds";
    checks.push(Check::new(what, "2 × 7000 × 32.17404856", Status::Computed, 450_436.68, divisor, 0.01));
    checks
}

#[test]
fn energy_agrees_with_printed_pairs() {
    super::check::assert_all(&checks());
}
