//! Demand: how hard a hit works the plate, as a thickness.
//!
//! `t = E^(2/3) / (1020·d_e)` in inches, E in ft·lbf, `d_e` in inches the diameter of a lead sphere
//! of the bullet's mass. The shape is the BRL steel-perforation formula, `T = E^(2/3)/(672·D)` for a
//! rigid missile and mild steel (Bechtel BC-TOP-9-A). A soft core flows before it works the steel, so
//! the footprint follows the bullet's mass and not its calibre. The constant is ours: 3/8 in serves a
//! .308-class match load at 100 yd with 4 % to spare, which is common practice. It ranks hits; it
//! predicts no perforation.

pub use crate::load::lead_sphere;
use crate::quantity::{Energy, Length, Mass, unit};

/// The constant of the formula, ft·lbf^(2/3)/in² (house assumption).
const CONSTANT: f64 = 1020.0;
const TWO_THIRDS: f64 = 2.0 / 3.0;

/// Thickness that a hit of this energy by a bullet of this mass calls for.
#[must_use]
pub fn thickness(energy: Energy, bullet: Mass) -> Length {
    let energy = unit::FOOT_POUND.value(energy).max(0.0);
    unit::INCH.of(energy.powf(TWO_THIRDS) / (CONSTANT * unit::INCH.value(lead_sphere(bullet))))
}

/// Energy at which a bullet of this mass calls for this thickness: [`thickness`] turned round.
#[must_use]
pub fn energy(thickness: Length, bullet: Mass) -> Energy {
    let inches = unit::INCH.value(thickness).max(0.0);
    let root = inches * CONSTANT * unit::INCH.value(lead_sphere(bullet));
    unit::FOOT_POUND.of(root * root.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Measure;

    #[test]
    fn demand_and_its_inverse_agree() {
        let bullet = unit::GRAIN.of(168.0);
        for ft_lbf in [1.0, 250.0, 2300.0, 12_000.0] {
            let given = unit::FOOT_POUND.of(ft_lbf);
            let back = energy(thickness(given, bullet), bullet);
            assert!((back.si() / given.si() - 1.0).abs() < 1e-12, "{ft_lbf}");
        }
    }

    #[test]
    fn a_lead_sphere_of_a_round_balls_mass_has_its_diameter() {
        // A .490 in lead ball weighs about 177 gr (from memory).
        let diameter = unit::INCH.value(lead_sphere(unit::GRAIN.of(177.0)));
        assert!((diameter - 0.490).abs() < 0.002, "{diameter}");
    }

    #[test]
    fn the_lighter_bullet_of_equal_energy_demands_more() {
        let energy = unit::FOOT_POUND.of(1200.0);
        assert!(thickness(energy, unit::GRAIN.of(40.0)) > thickness(energy, unit::GRAIN.of(168.0)));
    }
}
