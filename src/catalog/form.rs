//! Form factors that bullets have. Numbers that give another are a slip of the pen: a tenth of a coefficient would let
//! the bullet arrive too slow, and a mass in grams that stands under grains a fifteenth as strong.

use super::cartridge::Cartridge;
use crate::drag::{DragCurve, DragModel};
use crate::load::{Facts, Firearm, lead_sphere};
use crate::quantity::{BallisticCoefficient, Length, Mass, Measure, Velocity, show, unit};
use std::ops::RangeInclusive;

/// Form factors, sectional density over coefficient, that bullets have: the sleekest and a flat-nosed cylinder (house
/// assumption).
const G1_LEAST: f64 = 0.3;
const G1_MOST: f64 = 3.5;
const G1_MOST_OF_A_RIFLE: f64 = 2.0;
const G7_LEAST: f64 = 0.6;
const G7_MOST: f64 = 5.0;
const G7_MOST_OF_A_RIFLE: f64 = 3.5;
/// The least of a bullet that is taken for as thin as any: those that are sleeker are of larger calibres (house
/// assumption; derived, the sleekest listed of .172 in has 0.51).
const G1_LEAST_OF_THE_THINNEST: f64 = 0.5;
/// The least of a pellet, taken for a lead ball: a round one has some 1.5, and one of tungsten 1.1 (derived).
const G1_LEAST_OF_A_PELLET: f64 = 0.9;
/// A bullet that leaves faster is no wadcutter, ft/s; slugs are blunt however fast they leave.
const RIFLE_FT_S: f64 = 1700.0;
/// From where on a table of drag is held against G1: below, in the transonic, shapes differ by more.
const TABLE_FROM_MACH: f64 = 1.4;
/// Speed of sound that turns a velocity into a Mach number, m/s (ISO 2533, sea level).
const SOUND_MPS: f64 = 340.294;
/// The widest bullet, hollow or of light metal, as a share of a lead ball's diameter; and the shortest of a rifle, one
/// and a half times as long as wide (house assumption, derived).
const MOST_OF_A_BALL: f64 = 1.25;
const SHORTEST_OF_A_BALL: f64 = 0.88;
/// The thinnest bullets that are common, in: of any firearm, of a handgun or a carbine for its cartridges, of a
/// muzzle-loader and of a smooth bore (house assumption).
const THINNEST_IN: f64 = 0.172;
const THINNEST_OF_A_HANDGUN_IN: f64 = 0.22;
const THINNEST_OF_A_MUZZLE_LOADER_IN: f64 = 0.31;
const THINNEST_SLUG_IN: f64 = 0.4;
/// The lightest bullet of a handgun, gr; one of a rifle that is lighter than this leaves faster than that, gr and ft/s
/// (house assumption).
const LIGHTEST_OF_A_HANDGUN_GR: f64 = 20.0;
const LIGHT_OF_A_RIFLE_GR: f64 = 40.0;
const LEAST_OF_A_LIGHT_FT_S: f64 = 2500.0;

/// A number that no bullet has: its key, what is wrong, and what to write.
pub(super) struct Slip {
    pub key: &'static str,
    pub message: String,
    pub help: String,
}

/// A bullet wider than any of its mass.
pub(super) fn width_fault(facts: &Facts) -> Option<Slip> {
    let ball = lead_sphere(facts.bullet);
    let diameter = facts.diameter.filter(|diameter| *diameter > ball * MOST_OF_A_BALL)?;
    let message = format!(
        "a bullet of {} is not {} wide: a lead ball of it has {}",
        show(facts.bullet, &unit::GRAIN, 1),
        show(diameter, &unit::INCH, 3),
        show(ball, &unit::INCH, 3)
    );
    let grams = in_grams(facts).filter(|mass| diameter <= lead_sphere(*mass) * MOST_OF_A_BALL);
    let help = match grams {
        Some(_) => format!("{}; if not, look at the diameter and the mass", ask_for_grams(facts)),
        None => "look at the diameter and the mass".into(),
    };
    Some(Slip { key: "diameter", message, help })
}

/// A coefficient that no bullet of this mass and diameter has.
pub(super) fn fault(facts: &Facts, model: DragModel, coefficients: &[BallisticCoefficient]) -> Option<Slip> {
    let within = Within::of(facts, model);
    coefficients.iter().find_map(|bc| within.fault(facts, model, *bc)).or_else(|| light_fault(facts))
}

/// The form factors that a bullet may have.
struct Within(RangeInclusive<f64>);

impl Within {
    fn of(facts: &Facts, model: DragModel) -> Self {
        let forms = forms(model, is_rifle_s(facts));
        let least = match facts.diameter {
            None if model != DragModel::G7 && facts.construction.is_shot() => G1_LEAST_OF_A_PELLET,
            None if model != DragModel::G7 => G1_LEAST_OF_THE_THINNEST,
            _ => *forms.start(),
        };
        Self(least..=*forms.end())
    }

    /// The least and the greatest form factor of a bullet of some mass.
    fn range(facts: &Facts, bullet: Mass, bc: BallisticCoefficient) -> (f64, f64) {
        let form = |diameter: Length| (bullet / (diameter * diameter) / bc).si();
        let (thinnest, widest) = widths(facts, bullet);
        (form(widest), form(thinnest))
    }

    fn holds(&self, facts: &Facts, bullet: Mass, bc: BallisticCoefficient) -> bool {
        let (least, most) = Self::range(facts, bullet, bc);
        most >= *self.0.start() && least <= *self.0.end()
    }

    fn fault(&self, facts: &Facts, model: DragModel, bc: BallisticCoefficient) -> Option<Slip> {
        if self.holds(facts, facts.bullet, bc) {
            return None;
        }
        let (least, most) = Self::range(facts, facts.bullet, bc);
        let is_low = most < *self.0.start();
        let wide = match facts.diameter {
            Some(diameter) => format!(" and {}", show(diameter, &unit::INCH, 3)),
            None if is_low => format!(", even {} wide", show(widths(facts, facts.bullet).0, &unit::INCH, 3)),
            None => String::new(),
        };
        let told = if is_low { most } else { least };
        let message = format!(
            "bc of `{:.3}` ({model}) with a bullet of {}{wide}: form factor {told:.2}",
            unit::POUND_PER_SQUARE_INCH.value(bc),
            show(facts.bullet, &unit::GRAIN, 1),
        );
        let (low, high) = (self.0.start(), self.0.end());
        let look = format!(
            "bullets have {low} to {high} (house assumption): look at the coefficient, its drag model, the mass and the \
             diameter"
        );
        let grams = in_grams(facts).filter(|mass| is_low && self.holds(facts, *mass, bc));
        Some(match grams {
            Some(_) => Slip { key: "bullet", message, help: format!("{}; if not, {look}", ask_for_grams(facts)) },
            None => Slip { key: "bc", message, help: look },
        })
    }
}

/// A bullet too light for what fires it, whose width nobody gave.
fn light_fault(facts: &Facts) -> Option<Slip> {
    let is_lighter = |grains: f64| facts.bullet < unit::GRAIN.of(grains);
    let is_slow = facts.muzzle_velocity < unit::FOOT_PER_SECOND.of(LEAST_OF_A_LIGHT_FT_S);
    let usual = match facts.firearm {
        Firearm::Handgun | Firearm::PistolCarbine if is_lighter(LIGHTEST_OF_A_HANDGUN_GR) => {
            format!("a handgun's have {LIGHTEST_OF_A_HANDGUN_GR} gr or more")
        }
        Firearm::Rifle | Firearm::Unknown if is_lighter(LIGHT_OF_A_RIFLE_GR) && is_slow => {
            format!("a centrefire rifle's below {LIGHT_OF_A_RIFLE_GR} gr leave at {LEAST_OF_A_LIGHT_FT_S} ft/s or more")
        }
        _ => return None,
    };
    let is_known = facts.diameter.is_some() || is_of_a_cartridge(facts);
    in_grams(facts).filter(|_| !is_known)?;
    let (bullet, speed) = (show(facts.bullet, &unit::GRAIN, 1), show(facts.muzzle_velocity, &unit::FOOT_PER_SECOND, 0));
    let message = format!("a bullet of {bullet} at {speed} is light for its firearm: {usual} (house assumption)");
    let help = format!("{}; if not, name its firearm, and give its diameter or its cartridge", ask_for_grams(facts));
    Some(Slip { key: "bullet", message, help })
}

/// Whether its cartridge, or its name, is one that the list has: its bullets are known from there.
fn is_of_a_cartridge(facts: &Facts) -> bool {
    let called = facts.cartridge.as_deref().is_some_and(|cartridge| Cartridge::called(cartridge).is_some());
    called || !Cartridge::named_in(&facts.name).is_empty()
}

/// The mass that a bullet has where its grains are grams; `None` where no bullet is as heavy.
fn in_grams(facts: &Facts) -> Option<Mass> {
    let mass = unit::GRAM.of(unit::GRAIN.value(facts.bullet));
    (mass <= unit::GRAIN.of(MOST_GR)).then_some(mass)
}

/// No bullet is heavier, gr.
const MOST_GR: f64 = 2000.0;

fn ask_for_grams(facts: &Facts) -> String {
    let number = format!("{:.2}", unit::GRAIN.value(facts.bullet));
    let number = number.trim_end_matches('0').trim_end_matches('.');
    format!("are these grams? then write `{number} g` (`bullet (g)` at the head of a column)")
}

/// The thinnest and the widest that a bullet may be: the thinnest has the greatest density, and the shortest the least.
fn widths(facts: &Facts, bullet: Mass) -> (Length, Length) {
    let ball = lead_sphere(bullet);
    match facts.diameter {
        Some(diameter) => (diameter, diameter),
        None if facts.construction.is_shot() => (ball, ball),
        None => (thinnest(facts.firearm), ball * if is_rifle_s(facts) { SHORTEST_OF_A_BALL } else { 1.0 }),
    }
}

fn thinnest(firearm: Firearm) -> Length {
    unit::INCH.of(match firearm {
        Firearm::Handgun | Firearm::PistolCarbine => THINNEST_OF_A_HANDGUN_IN,
        Firearm::MuzzleLoader => THINNEST_OF_A_MUZZLE_LOADER_IN,
        Firearm::Shotgun => THINNEST_SLUG_IN,
        Firearm::RimfirePistol | Firearm::RimfireRifle | Firearm::Rifle | Firearm::AirGun | Firearm::Unknown => {
            THINNEST_IN
        }
    })
}

/// Whether its bullet is a rifle's, by what fires it or by how fast it leaves.
fn is_rifle_s(facts: &Facts) -> bool {
    is_rifle(facts.firearm, facts.muzzle_velocity)
}

fn is_rifle(firearm: Firearm, muzzle: Velocity) -> bool {
    let is_fast = unit::FOOT_PER_SECOND.value(muzzle) > RIFLE_FT_S;
    matches!(firearm, Firearm::Unknown | Firearm::Rifle) || (is_fast && firearm != Firearm::Shotgun)
}

/// A table of drag that no bullet has: held against G1 from where blunt and sleek differ least up to the muzzle.
pub(super) fn table_fault(firearm: Firearm, muzzle: Velocity, curve: &DragCurve) -> Option<Slip> {
    let forms = forms(DragModel::G1, is_rifle(firearm, muzzle));
    let fastest = muzzle.si() / SOUND_MPS;
    let from = fastest.min(TABLE_FROM_MACH);
    let at = |step: u32| from + (fastest - from) * f64::from(step) / 8.0;
    let form = (0..=8).map(|step| curve.cd(at(step)) / DragCurve::g1().cd(at(step))).sum::<f64>() / 9.0;
    if forms.contains(&form) {
        return None;
    }
    let (low, high) = forms.into_inner();
    let message = format!("the drag table has {form:.2} times the drag of G1 from Mach {from:.1} to the muzzle's");
    let help = format!("bullets have {low} to {high} times: look at the table, its columns, and the muzzle velocity");
    Some(Slip { key: "drag-table", message, help })
}

/// The least and the most form factor.
fn forms(model: DragModel, rifle: bool) -> RangeInclusive<f64> {
    match (model, rifle) {
        (DragModel::G7, true) => G7_LEAST..=G7_MOST_OF_A_RIFLE,
        (DragModel::G7, false) => G7_LEAST..=G7_MOST,
        (_, true) => G1_LEAST..=G1_MOST_OF_A_RIFLE,
        (_, false) => G1_LEAST..=G1_MOST,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Catalog, Coefficients, Described, Model};
    use crate::load::{Construction, Load};
    use crate::quantity::{Given, Text};

    fn described(firearm: Firearm, grains: f64, fps: f64, g1: f64) -> Described {
        Described {
            firearm: Some(firearm),
            construction: Some(Construction::JacketedLead),
            bullet: Some(Text(unit::GRAIN.of(grains))),
            muzzle_velocity: Some(Given::read(&format!("{fps} ft/s")).unwrap()),
            drag: Some(Model(DragModel::G1)),
            bc: Some(Coefficients::Single(unit::POUND_PER_SQUARE_INCH.of(g1))),
            ..Described::default()
        }
    }

    /// A load as someone describes it who leaves out its diameter and its cartridge.
    fn as_told(load: &Load, bullet: Mass) -> Described {
        let facts = load.facts();
        let model = facts.drag.model();
        let velocity = unit::FOOT_PER_SECOND.value(facts.muzzle_velocity);
        Described {
            construction: Some(facts.construction),
            bullet: Some(Text(bullet)),
            projectiles: Some(facts.projectiles),
            drag: Some(Model(model)),
            bc: Some(Coefficients::Banded(facts.drag.bands().to_vec())),
            ..described(facts.firearm, 0.0, velocity, 0.1)
        }
    }

    #[test]
    fn grams_under_grains_of_every_listed_load_are_refused_and_its_grains_are_not() {
        for entry in Catalog::builtin().unwrap().entries() {
            let (id, facts) = (entry.load.id(), entry.load.facts());
            let grams = unit::GRAIN.of(unit::GRAM.value(facts.bullet));
            assert!(as_told(&entry.load, grams).build_as_written("a", None).is_err(), "{id}");
            let unsaid = Described { firearm: None, ..as_told(&entry.load, grams) };
            let is_told = facts.firearm == Firearm::Shotgun || unsaid.build_as_written("a", None).is_err();
            assert!(is_told, "{id}, no firearm");
            let own = as_told(&entry.load, facts.bullet).build_as_written("a", None);
            assert!(own.is_ok(), "{id}: {:?}", own.err());
        }
    }

    #[test]
    fn light_bullets_that_are_made_are_taken_without_a_diameter() {
        for (firearm, grains, fps, g1) in [
            (Firearm::Rifle, 20.0, 3650.0, 0.185),
            (Firearm::Rifle, 25.0, 3200.0, 0.230),
            (Firearm::Rifle, 30.0, 3600.0, 0.27),
            (Firearm::Rifle, 32.0, 4000.0, 0.210),
            (Firearm::Rifle, 39.0, 3750.0, 0.287),
            (Firearm::Rifle, 35.0, 3000.0, 0.109),
            (Firearm::Rifle, 40.0, 1100.0, 0.12),
            (Firearm::Handgun, 23.0, 2100.0, 0.08),
            (Firearm::Handgun, 28.0, 2050.0, 0.08),
            (Firearm::Handgun, 31.0, 1800.0, 0.11),
            (Firearm::Handgun, 35.0, 900.0, 0.07),
            (Firearm::Shotgun, 53.8, 1300.0, 0.045),
            (Firearm::Shotgun, 87.5, 1800.0, 0.07),
        ] {
            let built = described(firearm, grains, fps, g1).build_as_written("a", None);
            assert!(built.is_ok(), "{firearm} {grains} gr: {:?}", built.err());
        }
    }

    #[test]
    fn a_mass_that_would_be_a_bullet_s_in_grams_is_asked_for_in_grams() {
        for (firearm, grams, fps, g1, wide) in [
            (Firearm::Handgun, 15.6, 1360.0, 0.19, None),
            (Firearm::Handgun, 22.7, 1810.0, 0.16, None),
            (Firearm::Handgun, 22.7, 550.0, 0.16, None),
            (Firearm::Handgun, 15.55, 720.0, 0.07, None),
            (Firearm::Rifle, 26.2, 1850.0, 0.28, None),
            (Firearm::Rifle, 19.44, 2300.0, 0.17, None),
            (Firearm::Shotgun, 28.35, 1600.0, 0.08, None),
            (Firearm::MuzzleLoader, 11.5, 1960.0, 0.07, None),
            (Firearm::Rifle, 10.9, 2650.0, 0.45, Some(0.308)),
        ] {
            let diameter = wide.map(|inches| Text(unit::INCH.of(inches)));
            let described = Described { diameter, ..described(firearm, grams, fps, g1) };
            let Err(crate::catalog::BuildError::Description(fault)) = described.build_as_written("a", None) else {
                panic!("{firearm} {grams}")
            };
            assert!(fault.help.contains(&format!("`{grams} g`")), "{}: {}", fault.message, fault.help);
        }
    }
}
