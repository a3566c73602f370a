//! How far a miss carries.

use super::check::{Check, Status};
use thickset::air::Air;
use thickset::drag::{Drag, DragModel};
use thickset::flight::time_form;
use thickset::quantity::unit;

const LORD: &str = "C. K. Lord, \"Maximum Range of Ammunition\", NLECTC, Jan 1998";
const MANUAL: &str = "War Department NCO manual 1917, printed";
/// Coefficients are from memory, and a bullet tumbles at the end of its carry.
const ALLOWED: f64 = 0.25;

/// Name, muzzle velocity ft/s, BC G1, range yd, source.
const ROWS: &[(&str, f64, f64, f64, &str)] = &[
    (".22 LR 40 gr", 1255.0, 0.138, 2000.0, LORD),
    (".223 55 gr boat-tail", 3240.0, 0.255, 3875.0, LORD),
    (".30-06 180 gr boat-tail", 2700.0, 0.48, 5675.0, LORD),
    (".30 M1906 150 gr", 2700.0, 0.405, 4891.0, MANUAL),
];

fn drag(bc: f64) -> Drag {
    Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(bc)).expect("a coefficient in bounds")
}

pub fn checks() -> Vec<Check> {
    let air = Air::icao(unit::METRE.of(0.0));
    ROWS.iter()
        .map(|&(name, speed, bc, range, source)| {
            let carry = time_form::carry(&drag(bc), unit::FOOT_PER_SECOND.of(speed), &air).expect("it comes down");
            let got = unit::YARD.value(carry);
            Check::new(format!("farthest carry of {name}, yd"), source, Status::Read, range, got, ALLOWED * range)
        })
        .collect()
}

#[test]
fn carry_agrees_with_print_within_a_quarter() {
    super::check::assert_all(&checks());
}

#[cfg(test)]
mod told {
    use super::*;
    use thickset::air::Weather;
    use thickset::load::{Construction, Facts, Firearm, Load, Spread};
    use thickset::spread::{FlightConditions, Flights};

    #[test]
    fn the_printed_caution_undercuts_no_figure_in_print() {
        let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0))
            .expect("conditions");
        for &(name, speed, bc, range, _) in ROWS {
            let facts = Facts {
                name: name.into(),
                cartridge: None,
                firearm: Firearm::Rifle,
                construction: Construction::JacketedLead,
                cartridge_unlisted: false,
                steel_core_common: false,
                steel_common: false,
                bullet: unit::GRAIN.of(100.0),
                diameter: None,
                projectiles: 1,
                muzzle_velocity: unit::FOOT_PER_SECOND.of(speed),
                barrel: None,
                drag: drag(bc),
                spread: Spread::default(),
                source: "test".into(),
            };
            let load = Load::checked("x", facts).expect("a load");
            let told = Flights::new(&load, &conditions).expect("flights").carry().expect("a carry").keep_clear;
            assert!(unit::YARD.value(told) >= range, "{name}: {} yd", unit::YARD.value(told));
        }
    }

    const JOURNEE: &str = "Journée's rule: 2,200 yd per inch of a lead ball's diameter";

    /// Pellet, diameter in, mass gr, range yd.
    const PELLETS: &[(&str, f64, f64, f64)] = &[("00 buck", 0.33, 53.8, 726.0), ("No. 7½", 0.095, 1.25, 209.0)];

    #[test]
    fn pellets_carry_by_the_handbooks_rule_and_thirty_percent_more_is_kept_clear() {
        let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0))
            .expect("conditions");
        for &(name, diameter, mass, range) in PELLETS {
            for known in [Some(unit::INCH.of(diameter)), None] {
                let load = Load::checked("x", shot(mass, known)).expect("a load");
                let carry = Flights::new(&load, &conditions).expect("flights").carry().expect("a carry");
                let about = unit::YARD.value(carry.about);
                let check =
                    Check::new(format!("carry of {name}, yd"), JOURNEE, Status::Memory, range, about, 0.15 * range);
                crate::check::assert_all(&[check]);
                let clear = unit::YARD.value(carry.keep_clear) / about;
                assert!((1.25..1.4).contains(&clear), "{name}: {clear}");
            }
        }
    }

    fn shot(grains: f64, diameter: Option<thickset::quantity::Length>) -> Facts {
        Facts {
            name: "shot".into(),
            cartridge: None,
            firearm: Firearm::Shotgun,
            construction: Construction::LeadShot,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(grains),
            diameter,
            projectiles: 9,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(1300.0),
            barrel: None,
            drag: drag(0.04),
            spread: Spread::default(),
            source: "test".into(),
        }
    }
}
