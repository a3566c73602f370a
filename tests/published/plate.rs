//! Mass of plate.

use super::check::{Check, Status};
use thickset::plate::Face;
use thickset::quantity::unit;

const IOWA: &str = "Iowa DOT IM 569, IM 452.02: steel 490 lb/ft³, 7850 kg/m³, 40.8 lb/ft² per inch";
/// Thickness in, lb/ft², lb for a 4 × 8 ft sheet.
const ROWS: &[(f64, f64, f64)] =
    &[(0.1875, 7.65, 244.8), (0.25, 10.20, 326.4), (0.375, 15.30, 489.6), (0.5, 20.40, 652.8), (0.75, 30.60, 979.2)];

fn sheet() -> Face {
    Face::rectangle(unit::FOOT.of(4.0), unit::FOOT.of(8.0)).expect("a sheet")
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for &(inches, areal, pounds) in ROWS {
        let mass = unit::POUND.value(sheet().mass(unit::INCH.of(inches)));
        // 490 lb/ft³ and 40.8 lb/ft² per inch differ by 0.08 %, and both are in print.
        let areal_of = format!("{inches} in, lb/ft²");
        checks.push(Check::new(areal_of, IOWA, Status::Read, areal, mass / 32.0, 0.001 * areal));
        let whole = format!("{inches} in, 4 × 8 ft sheet, lb");
        checks.push(Check::new(whole, IOWA, Status::Read, pounds, mass, 0.001 * pounds));
    }
    checks
}

#[test]
fn plate_masses_agree_with_print() {
    super::check::assert_all(&checks());
}

#[cfg(feature = "dxf")]
#[test]
fn a_drawing_and_its_twin_by_hand_have_the_same_mass() {
    use std::path::Path;
    use std::sync::Arc;
    use thickset::plate::Outline;
    use thickset::quantity::Measure;
    let read = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/outlines").join(name);
        Face::Outline(Arc::new(Outline::read(&path).expect("an outline")))
    };
    let (drawn, written) = (read("shield.dxf"), read("shield.toml"));
    let mass = |face: &Face| face.mass(unit::INCH.of(0.375)).si();
    assert!((mass(&drawn) / mass(&written) - 1.0).abs() < 1e-9);
    assert!((drawn.narrowest_width().si() / written.narrowest_width().si() - 1.0).abs() < 1e-6);
}
