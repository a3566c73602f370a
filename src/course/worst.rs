//! "Anything the ammunition rules admit": the worst load is searched for, not guessed.
//!
//! For a given bullet the fastest admitted load is the strictest at every target, so what is left to search is
//! the bullet's mass: from the lightest to the heaviest of the class in the catalogue, within the rules. Each is
//! as fast as the rules allow, with no more muzzle energy than the rules or, where they don't say, than the
//! strongest load of the class; and flies with the best coefficient of the class.

use super::admit::{Admission, Ammunition};
use crate::catalog::Catalog;
use crate::drag::{Drag, DragModel};
use crate::load::{Class, Construction, Facts, Load, Spread};
use crate::quantity::{BallisticCoefficient, Measure, Velocity, show, unit};
use std::sync::Arc;

/// Masses that are tried, evenly by ratio.
const MASSES: u32 = 160;

/// The admissible extremes of a class, and what was assumed; empty where the class may not shoot.
pub(super) fn extremes(admission: &Admission, class: Class, catalog: &Catalog) -> (Vec<Arc<Load>>, Option<String>) {
    let of_class: Vec<&Load> = catalog
        .entries()
        .iter()
        .map(|e| &*e.load)
        .filter(|l| {
            l.class() == class && l.facts().construction == Construction::JacketedLead
                || l.class() == class && l.facts().construction == Construction::Lead
        })
        .collect();
    let Some(first) = of_class.first() else { return (Vec::new(), None) };
    let span = |value: &dyn Fn(&Load) -> f64| {
        of_class.iter().map(|l| value(l)).fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)))
    };
    let (lightest, heaviest) = span(&|l| l.facts().bullet.si());
    let (_, fastest) = span(&|l| l.facts().muzzle_velocity.si());
    let (_, strongest) = span(&|l| l.muzzle_energy().si());
    let bc = of_class.iter().filter_map(|l| best_g7(l)).fold(0.0_f64, f64::max);
    let rules: Vec<&Ammunition> = admission.0.iter().filter(|r| r.is_for(class)).collect();
    let least = |limits: Vec<Option<f64>>, otherwise: f64| {
        limits
            .into_iter()
            .flatten()
            .fold(None, |a: Option<f64>, v| Some(a.map_or(v, |a| a.min(v))))
            .unwrap_or(otherwise)
    };
    let speed = least(rules.iter().map(|r| r.muzzle_velocity_at_most.map(|t| t.0.si())).collect(), fastest);
    let energy = least(rules.iter().map(|r| r.muzzle_energy_at_most.map(|t| t.0.si())).collect(), strongest);
    let heaviest = least(rules.iter().map(|r| r.bullet_at_most.map(|t| t.0.si())).collect(), heaviest).min(heaviest);
    let calibre = rules.iter().filter_map(|r| r.calibre_at_most.map(|t| t.0)).reduce(|a, b| if b < a { b } else { a });
    let loads = (0..=MASSES).filter_map(|step| {
        let mass = lightest * (heaviest / lightest).powf(f64::from(step) / f64::from(MASSES));
        let muzzle = speed.min((2.0 * energy / mass).sqrt());
        extreme(first, class, mass, muzzle, bc, calibre)
    });
    let told = format!(
        "anything admitted of class {class}: bullets {} to {}, up to {} and {}, G7 {:.3}",
        show(crate::quantity::Mass::from_si(lightest), &unit::GRAIN, 0),
        show(crate::quantity::Mass::from_si(heaviest), &unit::GRAIN, 0),
        show(Velocity::from_si(speed), &unit::FOOT_PER_SECOND, 0),
        show(crate::quantity::Energy::from_si(energy), &unit::FOOT_POUND, 0),
        unit::POUND_PER_SQUARE_INCH.value(BallisticCoefficient::from_si(bc)),
    );
    (loads.collect(), Some(told))
}

/// The load's best coefficient as one of G7; a G1 number is about twice its G7 fellow (from memory).
fn best_g7(load: &Load) -> Option<f64> {
    let drag = &load.facts().drag;
    let best = drag.bands().iter().map(|b| b.bc.si()).fold(0.0_f64, f64::max);
    match drag.model() {
        DragModel::G7 => Some(best),
        DragModel::G1 => Some(0.52 * best),
        DragModel::Own => None,
    }
}

fn extreme(
    like: &Load,
    class: Class,
    mass_kg: f64,
    muzzle_mps: f64,
    bc: f64,
    calibre: Option<crate::quantity::Length>,
) -> Option<Arc<Load>> {
    let bullet = crate::quantity::Mass::from_si(mass_kg);
    let muzzle_velocity = Velocity::from_si(muzzle_mps);
    let grains = unit::GRAIN.value(bullet);
    let facts = Facts {
        name: format!("any {class} load, {grains:.0} gr at {}", show(muzzle_velocity, &unit::FOOT_PER_SECOND, 0)),
        cartridge: None,
        firearm: like.facts().firearm,
        construction: Construction::JacketedLead,
        steel_core_common: false,
        bullet,
        diameter: calibre,
        projectiles: 1,
        muzzle_velocity,
        barrel: None,
        drag: Drag::single(DragModel::G7, BallisticCoefficient::from_si(bc)).ok()?,
        spread: Spread::default(),
        source: "searched among what the ammunition rules admit".into(),
    };
    Load::checked(format!("any-{class}-{grains:.0}gr"), facts).ok().map(Arc::new)
}
