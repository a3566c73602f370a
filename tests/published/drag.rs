//! Anchors of the G1 and G7 drag functions.

use super::check::{Check, Status};
use thickset::drag::DragCurve;

const SOURCE: &str = "G1 and G7 standard projectile drag functions (US Army Ballistic Research Laboratory)";
const G1: &[(f64, f64)] =
    &[(0.0, 0.2629), (0.5, 0.2032), (1.0, 0.4805), (1.4, 0.6625), (2.0, 0.5934), (3.0, 0.5133), (5.0, 0.4988)];
const G7: &[(f64, f64)] = &[
    (0.0, 0.1198),
    (0.5, 0.1194),
    (1.0, 0.3803),
    (1.05, 0.4043),
    (1.5, 0.3440),
    (2.0, 0.2980),
    (3.0, 0.2424),
    (5.0, 0.1618),
];

pub fn checks() -> Vec<Check> {
    let anchors = |name: &str, curve: &DragCurve, points: &[(f64, f64)]| -> Vec<Check> {
        let check = |&(mach, cd): &(f64, f64)| {
            Check::new(format!("{name} Cd at Mach {mach}"), SOURCE, Status::Memory, cd, curve.cd(mach), 1e-12)
        };
        points.iter().map(check).collect()
    };
    let mut checks = anchors("G1", &DragCurve::g1(), G1);
    checks.extend(anchors("G7", &DragCurve::g7(), G7));
    checks
}

#[test]
fn drag_curves_go_through_their_anchors() {
    super::check::assert_all(&checks());
}
