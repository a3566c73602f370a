//! Mass of plate.

use super::check::{Check, Status};
use thickset::plate::{Face, STEEL_KG_M3, TRADE_LB_FT2_IN};
use thickset::quantity::{Length, unit};

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
        let trade = TRADE_LB_FT2_IN * inches;
        checks.push(Check::new(format!("{inches} in, trade mass, lb/ft²"), IOWA, Status::Read, areal, trade, 0.005));
        checks.push(Check::new(
            format!("{inches} in, 4 × 8 ft sheet, lb"),
            IOWA,
            Status::Read,
            pounds,
            32.0 * trade,
            0.05,
        ));
        let thickness: Length = unit::INCH.of(inches);
        let exact = unit::POUND.value(sheet().mass(thickness));
        // The two conventions differ by 0.08 %.
        let what = format!("{inches} in, 4 × 8 ft sheet by density, lb");
        checks.push(Check::new(what, IOWA, Status::Computed, pounds, exact, 0.001 * pounds));
    }
    let density = unit::POUND_PER_CUBIC_FOOT.value(unit::KILOGRAM_PER_CUBIC_METRE.of(STEEL_KG_M3));
    checks.push(Check::new("density of steel, lb/ft³", IOWA, Status::Read, 490.0, density, 0.1));
    let share = unit::POUND.value(sheet().mass(unit::INCH.of(1.0))) / (32.0 * TRADE_LB_FT2_IN);
    checks.push(Check::new("exact over trade mass", IOWA, Status::Computed, 1.0008, share, 1.5e-4));
    let pounds = unit::POUND.value(unit::KILOGRAM.of(thickset::shop::NIOSH_KG));
    let source = "NIOSH lifting equation, load constant 51 lb / 23 kg";
    checks.push(Check::new("load constant, lb", source, Status::Read, 51.0, pounds, 0.5));
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
