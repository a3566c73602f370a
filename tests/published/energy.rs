//! Energy against printed pairs and the ballistic-resistance standard.

use super::check::{Check, Status};
use thickset::advisor::{Advisor, StrikeQuestion};
use thickset::quantity::{Energy, Measure, unit};

const NIJ: &str = "NIJ Standard 0101.06, threat masses and velocities; energy computed";
const PRINTED: &str = "printed ammunition tables";

/// What the program answers of a bullet's energy as it leaves.
fn energy(bullet: &str, speed: &str) -> Energy {
    let text = format!(
        r#"{{"load": {{"bullet": "{bullet}", "velocity": "{speed}", "bc": "0.2", "drag": "G1", "construction": "lead",
            "firearm": "handgun"}}, "to": "50 yd", "step": "50 yd"}}"#
    );
    let question: StrikeQuestion = serde_json::from_str(&text).expect("a question");
    let answer = Advisor::house().and_then(|advisor| advisor.strike(&question)).expect("an answer");
    *answer.rows[0].energy
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for (grams, speed, joules) in
        [(8.0, 373.0, 556.5), (10.2, 436.0, 969.5), (15.6, 436.0, 1482.7), (9.6, 847.0, 3443.6)]
    {
        let got = energy(&format!("{grams} g"), &format!("{speed} m/s")).si();
        checks.push(Check::new(format!("{grams} g at {speed} m/s, J"), NIJ, Status::Computed, joules, got, 0.06));
    }
    for (grains, speed, ft_lbf) in [(150.0, 2540.0, 2149.0), (230.0, 830.0, 352.0)] {
        let got = unit::FOOT_POUND.value(energy(&format!("{grains} gr"), &format!("{speed} ft/s")));
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
    checks
}

#[test]
fn energy_agrees_with_printed_pairs() {
    super::check::assert_all(&checks());
}
