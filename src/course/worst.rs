//! "Anything the ammunition rules admit": the worst load is searched for, not guessed.
//!
//! For a given projectile the fastest admitted load is the strictest at every target, so its mass is searched: from
//! the lightest to the heaviest of the class in the catalogue, within the rules. Each is as fast as the rules allow,
//! with no more muzzle energy than the rules or, where they don't say, than the strongest load of the class; and
//! flies with the best coefficient of the class. The slowest load of the class stands for those that may come back
//! whole, and every construction that the rules do not refuse is brought by somebody.

use super::admit::{Admission, Ammunition};
use crate::catalog::Catalog;
use crate::drag::{Drag, DragModel};
use crate::load::{Class, Construction, Facts, Load, Spread};
use crate::quantity::{BallisticCoefficient, Energy, Length, Mass, Measure, Velocity, show, unit};
use std::sync::Arc;

/// Masses that are tried, evenly by ratio.
const MASSES: u32 = 160;
/// A G1 coefficient is about twice its G7 fellow, which flies alike (from memory).
const G7_PER_G1: f64 = 0.52;

/// The admissible extremes of a class, and what was assumed; empty where the catalogue has no load of the class.
pub(super) fn extremes(admission: &Admission, class: Class, catalog: &Catalog) -> (Vec<Arc<Load>>, Option<String>) {
    let loads = catalog.entries().iter().map(|e| &*e.load);
    let of_class: Vec<&Load> = loads.filter(|l| l.class() == class && is_plain(l.facts().construction)).collect();
    let Some(like) = of_class.first() else { return (Vec::new(), None) };
    let search = Search::new(admission, class, &of_class, like);
    let mut found = search.fastest();
    found.extend(search.slowest(&of_class));
    found.extend(search.other_constructions());
    let told = search.told();
    (found.into_iter().filter(|load| admission.refusal(load, catalog).is_none()).map(Arc::new).collect(), Some(told))
}

/// What most shooters bring, and the rules have least to say of.
fn is_plain(construction: Construction) -> bool {
    matches!(construction, Construction::JacketedLead | Construction::Lead | Construction::LeadShot)
}

/// What is searched. Hot loop: SI.
struct Search<'a> {
    admission: &'a Admission,
    class: Class,
    like: &'a Load,
    lightest_kg: f64,
    heaviest_kg: f64,
    charge_kg: f64,
    fastest_mps: f64,
    strongest_j: f64,
    bc: f64,
    calibre: Option<Length>,
}

impl<'a> Search<'a> {
    fn new(admission: &'a Admission, class: Class, of_class: &[&'a Load], like: &'a Load) -> Self {
        let most = |value: &dyn Fn(&Load) -> f64| of_class.iter().map(|l| value(l)).fold(0.0, f64::max);
        let rules: Vec<&Ammunition> = admission.0.iter().filter(|r| r.is_for(class)).collect();
        // The strictest of the limits that are said; the catalogue's extreme where none is.
        let limit = |limit: &dyn Fn(&Ammunition) -> Option<f64>, otherwise: f64| {
            rules.iter().filter_map(|r| limit(r)).reduce(f64::min).unwrap_or(otherwise)
        };
        let heaviest = most(&|l| l.facts().bullet.si());
        Self {
            admission,
            class,
            like,
            lightest_kg: of_class.iter().map(|l| l.facts().bullet.si()).fold(f64::INFINITY, f64::min),
            heaviest_kg: limit(&|r| r.bullet_at_most.map(|t| t.0.si()), heaviest).min(heaviest),
            charge_kg: most(&|l| l.charge().si()),
            fastest_mps: limit(
                &|r| r.muzzle_velocity_at_most.map(|t| t.0.si()),
                most(&|l| l.facts().muzzle_velocity.si()),
            ),
            strongest_j: limit(&|r| r.muzzle_energy_at_most.map(|t| t.0.si()), most(&|l| l.muzzle_energy().si())),
            bc: of_class.iter().filter_map(|l| best_g7(l)).fold(0.0, f64::max),
            calibre: rules
                .iter()
                .filter_map(|r| r.calibre_at_most.map(|t| t.0))
                .reduce(|a, b| if b < a { b } else { a }),
        }
    }

    /// Of every mass, the fastest load.
    fn fastest(&self) -> Vec<Load> {
        let Some(plain) = self.plain() else { return Vec::new() };
        let masses = (0..=MASSES).map(|step| {
            self.lightest_kg * (self.heaviest_kg / self.lightest_kg).powf(f64::from(step) / f64::from(MASSES))
        });
        masses.filter_map(|mass| self.load(mass, self.speed_of(mass), plain, None)).collect()
    }

    fn speed_of(&self, mass_kg: f64) -> f64 {
        self.fastest_mps.min((2.0 * self.strongest_j / mass_kg).sqrt())
    }

    /// The heaviest projectile at the slowest velocity of the class in the catalogue.
    fn slowest(&self, of_class: &[&Load]) -> Option<Load> {
        let slowest = of_class.iter().map(|l| l.facts().muzzle_velocity.si()).fold(f64::INFINITY, f64::min);
        self.load(self.heaviest_kg, slowest.min(self.fastest_mps), self.plain()?, None)
    }

    /// One load for each group of constructions that the rules leave open: what the rules say of a construction
    /// they say at any speed.
    fn other_constructions(&self) -> Vec<Load> {
        const BULLETS: [&[Construction]; 3] = [
            &[
                Construction::SteelJacket,
                Construction::SteelCore,
                Construction::ArmourPiercing,
                Construction::Incendiary,
                Construction::Tracer,
            ],
            &[Construction::Monolithic],
            &[Construction::Unknown],
        ];
        const SHOT: [&[Construction]; 1] = [&[Construction::SteelShot]];
        let groups: &[&[Construction]] = if self.class == Class::Shot { &SHOT } else { &BULLETS };
        let open = groups.iter().filter_map(|group| {
            let left: Vec<Construction> = group.iter().copied().filter(|c| !self.refuses(*c)).collect();
            let names: Vec<String> = left.iter().map(ToString::to_string).collect();
            self.load(
                self.lightest_kg,
                self.speed_of(self.lightest_kg),
                *left.first()?,
                Some(format!("of {} (not refused by the ammunition rules)", names.join(", "))),
            )
        });
        open.collect()
    }

    fn refuses(&self, construction: Construction) -> bool {
        self.admission.0.iter().any(|rule| rule.is_for(self.class) && rule.refused.contains(&construction))
    }

    /// What most shooters bring of what the rules do not refuse: lead in a form that the rules of steel say nothing of.
    fn plain(&self) -> Option<Construction> {
        const BULLETS: [Construction; 4] =
            [Construction::JacketedLead, Construction::Lead, Construction::Plated, Construction::Frangible];
        const SHOT: [Construction; 1] = [Construction::LeadShot];
        let forms: &[Construction] = if self.class == Class::Shot { &SHOT } else { &BULLETS };
        forms.iter().copied().find(|form| !self.refuses(*form))
    }

    fn load(&self, mass_kg: f64, muzzle_mps: f64, construction: Construction, of_what: Option<String>) -> Option<Load> {
        let (bullet, muzzle_velocity) = (Mass::from_si(mass_kg), Velocity::from_si(muzzle_mps));
        let (class, grains) = (self.class, unit::GRAIN.value(bullet));
        let fast = format!("of {grains:.0} gr at {}", show(muzzle_velocity, &unit::FOOT_PER_SECOND, 0));
        let name = format!("any {class} load {}", of_what.unwrap_or(fast));
        // As many pellets as the heaviest charge holds.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let pellets = (self.charge_kg / mass_kg * (1.0 + 1e-9)) as u32;
        let facts = Facts {
            name,
            cartridge: None,
            firearm: self.like.facts().firearm,
            construction,
            steel_core_common: false,
            steel_common: false,
            bullet,
            diameter: self.calibre,
            projectiles: if construction.is_shot() { pellets.max(1) } else { 1 },
            muzzle_velocity,
            barrel: None,
            drag: Drag::single(DragModel::G7, BallisticCoefficient::from_si(self.bc)).ok()?,
            spread: Spread::default(),
            source: "searched among what the ammunition rules admit".into(),
        };
        let id = format!("any-{class}-{construction}-{grains:.0}gr-{muzzle_mps:.0}");
        Load::checked(id, facts).ok()
    }

    fn told(&self) -> String {
        format!(
            "anything admitted of class {}: {} to {}, up to {} and {}, G7 {:.3}",
            self.class,
            show(Mass::from_si(self.lightest_kg), &unit::GRAIN, 0),
            show(Mass::from_si(self.heaviest_kg), &unit::GRAIN, 0),
            show(Velocity::from_si(self.fastest_mps), &unit::FOOT_PER_SECOND, 0),
            show(Energy::from_si(self.strongest_j), &unit::FOOT_POUND, 0),
            unit::POUND_PER_SQUARE_INCH.value(BallisticCoefficient::from_si(self.bc)),
        )
    }
}

/// The load's best coefficient as one of G7.
fn best_g7(load: &Load) -> Option<f64> {
    let drag = &load.facts().drag;
    let best = drag.bands().iter().map(|b| b.bc.si()).fold(0.0_f64, f64::max);
    match drag.model() {
        DragModel::G7 => Some(best),
        DragModel::G1 => Some(G7_PER_G1 * best),
        DragModel::Own => None,
    }
}
