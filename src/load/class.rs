//! What a load is, not what it is called: the classes it is judged as.
//!
//! A word such as `handgun` stands for distances and plates that its usual bullets need. A bullet that no such
//! firearm fires is judged by the rules of the word *and* by those of a rifle, so that no word ever loosens a verdict.

use super::{Class, Construction, Firearm, Load};
use crate::drag::{DragCurve, DragModel};
use crate::quantity::{Measure, Velocity, unit};
use crate::words::Units;

/// Heaviest bullet that a rimfire word stands for, gr (house assumption).
const MAX_RIMFIRE_GR: f64 = 60.0;
/// Highest muzzle energy that the words rimfire and air gun stand for, ft·lbf (house assumption).
const MAX_RIMFIRE_FT_LBF: f64 = 450.0;
/// Coefficients above these are a rifle bullet's, lb/in² (house assumption).
const MAX_G1: f64 = 0.25;
const MAX_G7: f64 = 0.13;
/// Above both of these it is a rifle bullet, ft/s and ft·lbf (house assumption).
const RIFLE_FT_S: f64 = 2000.0;
const RIFLE_FT_LBF: f64 = 400.0;
/// Highest muzzle velocity that the words stand for, ft/s (house assumption).
const MAX_MUZZLE_LOADER_FT_S: f64 = 2000.0;
const MAX_AIR_GUN_FT_S: f64 = 1100.0;
const MAX_SHOT_FT_S: f64 = 1700.0;
/// A pellet above this is a slug, gr (house assumption).
const MAX_PELLET_GR: f64 = 80.0;
/// A bullet from an unknown firearm may be a slug from this mass and diameter on, gr and in (house assumption): a
/// .410 slug of a fifth of an ounce.
const MIN_SLUG_GR: f64 = 80.0;
const MIN_SLUG_IN: f64 = 0.4;
/// Where its diameter is not known either, one of a rifle bullet's coefficient may be a slug from this mass on, gr.
const MIN_SLEEK_SLUG_GR: f64 = 190.0;
/// Speed of sound that turns a bullet's own drag table into a coefficient, m/s (ISO 2533, sea level).
const SOUND_MPS: f64 = 340.294;

/// The class that a load is judged as besides the one it is called by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stricter {
    /// The class whose rules apply as well.
    pub class: Class,
    /// What makes it so.
    pub why: StricterWhy,
}

/// Why a load is judged as another class than it is called by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StricterWhy {
    /// Heavier or stronger than any rimfire bullet.
    BeyondRimfire,
    /// A rifle bullet's coefficient.
    Coefficient,
    /// A rifle bullet's speed and energy.
    FastAndStrong,
    /// Faster than a muzzle-loader's bullet, or not of lead.
    BeyondMuzzleLoader,
    /// Faster or stronger than an air gun's pellet, or not of lead.
    BeyondAirGun,
    /// Faster than shot.
    BeyondShot,
    /// The firearm is not known, and the bullet may be a slug.
    MayBeSlug,
}

impl StricterWhy {
    /// In words, `a bullet above 60 gr or 450 ft·lbf is no rimfire bullet`.
    #[must_use]
    pub fn words(self, units: Units) -> String {
        let speed = |fps: f64| units.speed(unit::FOOT_PER_SECOND.of(fps));
        let energy = |ft_lbf: f64| units.energy(unit::FOOT_POUND.of(ft_lbf));
        let mass = |grains: f64| units.bullet(unit::GRAIN.of(grains));
        match self {
            Self::BeyondRimfire => {
                format!("above {} or {} it is no rimfire bullet", mass(MAX_RIMFIRE_GR), energy(MAX_RIMFIRE_FT_LBF))
            }
            Self::Coefficient => {
                format!("a coefficient above {MAX_G1} (G1) or {MAX_G7} (G7) is a rifle bullet's, whatever fires it")
            }
            Self::FastAndStrong => {
                let (speed, energy) = (speed(RIFLE_FT_S), energy(RIFLE_FT_LBF));
                format!("above {speed} and {energy} it is a rifle bullet, whatever fires it")
            }
            Self::BeyondMuzzleLoader => {
                format!(
                    "a muzzle-loader's bullet is of soft lead and leaves at up to {}",
                    speed(MAX_MUZZLE_LOADER_FT_S)
                )
            }
            Self::BeyondAirGun => {
                let (speed, energy) = (speed(MAX_AIR_GUN_FT_S), energy(MAX_RIMFIRE_FT_LBF));
                format!("an air gun's pellet is of lead and leaves at up to {speed} and {energy}")
            }
            Self::BeyondShot => format!("shot leaves at up to {}", speed(MAX_SHOT_FT_S)),
            Self::MayBeSlug => "the firearm is not known, and a bullet this heavy may be a slug".into(),
        }
    }
}

impl Load {
    /// Firearm and projectile together, as floors and thinnest plates are stated; a pellet above 80 gr is a slug.
    #[must_use]
    pub fn class(&self) -> Class {
        let facts = self.facts();
        match facts.firearm {
            Firearm::RimfirePistol => Class::RimfirePistol,
            Firearm::RimfireRifle => Class::RimfireRifle,
            Firearm::Handgun => Class::Handgun,
            Firearm::PistolCarbine => Class::PistolCarbine,
            Firearm::Rifle | Firearm::Unknown => Class::Rifle,
            Firearm::MuzzleLoader => Class::MuzzleLoader,
            Firearm::AirGun if facts.projectiles == 1 => Class::AirGun,
            Firearm::Shotgun | Firearm::AirGun => {
                let is_pellet = above(unit::GRAIN.value(facts.bullet), MAX_PELLET_GR);
                if facts.construction.is_shot() && !is_pellet { Class::Shot } else { Class::Slug }
            }
        }
    }

    /// The class whose rules apply besides those of [`Load::class`], where the word given would loosen the verdict.
    #[must_use]
    pub fn stricter(&self) -> Option<Stricter> {
        self.stricter_at(self.facts().muzzle_velocity)
    }

    /// The same at a muzzle velocity of its own: hot powder drives a bullet past what its word stands for.
    #[must_use]
    pub fn stricter_at(&self, muzzle: Velocity) -> Option<Stricter> {
        use StricterWhy::{
            BeyondAirGun, BeyondMuzzleLoader, BeyondRimfire, BeyondShot, Coefficient, FastAndStrong, MayBeSlug,
        };
        let class = self.class();
        if class == Class::Rifle {
            let slug = Stricter { class: Class::Slug, why: MayBeSlug };
            return (self.facts().firearm == Firearm::Unknown && self.may_be_slug()).then_some(slug);
        }
        let fps = unit::FOOT_PER_SECOND.value(muzzle);
        let ft_lbf = unit::FOOT_POUND.value(self.energy(muzzle));
        let grains = unit::GRAIN.value(self.facts().bullet);
        let rimfire = matches!(class, Class::RimfirePistol | Class::RimfireRifle);
        let beyond = [
            (above(fps, RIFLE_FT_S) && above(ft_lbf, RIFLE_FT_LBF), FastAndStrong),
            (rimfire && (above(grains, MAX_RIMFIRE_GR) || above(ft_lbf, MAX_RIMFIRE_FT_LBF)), BeyondRimfire),
            (
                class == Class::MuzzleLoader && (above(fps, MAX_MUZZLE_LOADER_FT_S) || !self.is_lead()),
                BeyondMuzzleLoader,
            ),
            (
                class == Class::AirGun
                    && (above(fps, MAX_AIR_GUN_FT_S) || above(ft_lbf, MAX_RIMFIRE_FT_LBF) || !self.is_lead()),
                BeyondAirGun,
            ),
            (class == Class::Shot && above(fps, MAX_SHOT_FT_S), BeyondShot),
            (class != Class::Slug && self.has_rifle_coefficient(), Coefficient),
        ];
        beyond.into_iter().find(|(is, _)| *is).map(|(_, why)| Stricter { class: Class::Rifle, why })
    }

    /// Whether powder drives it, so that a hot day makes it faster. A pellet that is no more than an air gun fires has
    /// none, and leaves alike hot and cold: what the temperature does to the air is within the spread taken between
    /// guns (house assumption).
    #[must_use]
    pub fn has_powder(&self) -> bool {
        self.class() != Class::AirGun || self.stricter().is_some()
    }

    /// The strictest class that it is judged as.
    #[must_use]
    pub fn judged_class(&self) -> Class {
        self.judged_class_at(self.facts().muzzle_velocity)
    }

    /// The same at a muzzle velocity of its own.
    #[must_use]
    pub fn judged_class_at(&self, muzzle: Velocity) -> Class {
        self.stricter_at(muzzle).map_or_else(|| self.class(), |stricter| stricter.class)
    }

    fn is_lead(&self) -> bool {
        matches!(self.facts().construction, Construction::Lead | Construction::LeadShot)
    }

    fn may_be_slug(&self) -> bool {
        let grains = unit::GRAIN.value(self.facts().bullet);
        match self.facts().diameter {
            Some(diameter) => !above(MIN_SLUG_IN, unit::INCH.value(diameter)) && !above(MIN_SLUG_GR, grains),
            None if self.has_rifle_coefficient() => !above(MIN_SLEEK_SLUG_GR, grains),
            None => !above(MIN_SLUG_GR, grains),
        }
    }

    pub(crate) fn has_rifle_coefficient(&self) -> bool {
        let drag = &self.facts().drag;
        let best = drag.bands().iter().map(|b| unit::POUND_PER_SQUARE_INCH.value(b.bc)).fold(0.0, f64::max);
        match drag.model() {
            DragModel::G1 => above(best, MAX_G1),
            DragModel::G7 => above(best, MAX_G7),
            DragModel::Own => {
                let mach = self.facts().muzzle_velocity.si() / SOUND_MPS;
                let like = |standard: &DragCurve| best * standard.cd(mach) / drag.curve().cd(mach);
                above(like(&DragCurve::g1()), MAX_G1) || above(like(&DragCurve::g7()), MAX_G7)
            }
        }
    }

    /// Muzzle velocities at which the classes it is judged as change, whatever they are.
    #[must_use]
    pub(crate) fn class_edges(&self) -> Vec<Velocity> {
        let kilograms = self.facts().bullet.si();
        let of_energy = |ft_lbf: f64| Velocity::from_si((2.0 * unit::FOOT_POUND.of(ft_lbf).si() / kilograms).sqrt());
        let mut edges: Vec<Velocity> = [RIFLE_FT_S, MAX_MUZZLE_LOADER_FT_S, MAX_AIR_GUN_FT_S, MAX_SHOT_FT_S]
            .map(|fps| unit::FOOT_PER_SECOND.of(fps))
            .into();
        edges.extend([RIFLE_FT_LBF, MAX_RIMFIRE_FT_LBF].map(of_energy));
        edges
    }
}

/// Above a limit by more than rounding in another unit makes of it.
fn above(value: f64, limit: f64) -> bool {
    value > limit * (1.0 + 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drag::Drag;
    use crate::load::{Facts, Spread};
    use crate::plate::{Condition, Mount};
    use crate::source::{accepted, did_you_mean, meant};

    fn load(firearm: Firearm, construction: Construction, grains: f64, fps: f64, g1: f64) -> Load {
        let facts = Facts {
            name: "drawn".into(),
            cartridge: None,
            firearm,
            construction,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(grains),
            diameter: None,
            projectiles: 1,
            muzzle_velocity: unit::FOOT_PER_SECOND.of(fps),
            barrel: None,
            drag: Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(g1)).unwrap(),
            spread: Spread::default(),
            source: "drawn".into(),
        };
        Load::checked("drawn", facts).unwrap()
    }

    #[test]
    fn a_word_stands_only_for_the_bullets_its_firearms_fire() {
        use Construction::{JacketedLead, Lead, LeadShot};
        use StricterWhy::*;
        let cases = [
            (Firearm::RimfirePistol, Lead, 40.0, 1050.0, 0.13, None),
            (Firearm::RimfirePistol, Lead, 405.0, 1330.0, 0.2, Some(BeyondRimfire)),
            (Firearm::RimfireRifle, JacketedLead, 17.0, 2550.0, 0.125, None),
            (Firearm::RimfireRifle, Lead, 60.0, 1000.0, 0.12, None),
            (Firearm::RimfireRifle, Lead, 61.0, 1000.0, 0.12, Some(BeyondRimfire)),
            (Firearm::RimfireRifle, Lead, 50.0, 2020.0, 0.12, Some(FastAndStrong)),
            (Firearm::RimfireRifle, Lead, 60.0, 1900.0, 0.12, Some(BeyondRimfire)),
            (Firearm::Shotgun, LeadShot, 40.0, 1750.0, 0.05, Some(BeyondShot)),
            (Firearm::Handgun, JacketedLead, 147.0, 960.0, 0.194, None),
            (Firearm::Handgun, JacketedLead, 180.0, 2960.0, 0.2, Some(FastAndStrong)),
            (Firearm::PistolCarbine, JacketedLead, 220.0, 1020.0, 0.6, Some(Coefficient)),
            (Firearm::Shotgun, Lead, 437.5, 1600.0, 0.3, None),
            (Firearm::Shotgun, LeadShot, 55.0, 2750.0, 0.2, Some(FastAndStrong)),
            (Firearm::MuzzleLoader, Lead, 177.0, 1700.0, 0.07, None),
            (Firearm::MuzzleLoader, JacketedLead, 250.0, 1900.0, 0.2, Some(BeyondMuzzleLoader)),
            (Firearm::AirGun, Lead, 16.0, 900.0, 0.03, None),
            (Firearm::AirGun, Lead, 405.0, 900.0, 0.2, Some(BeyondAirGun)),
            (Firearm::Rifle, JacketedLead, 168.0, 2650.0, 0.45, None),
            (Firearm::Unknown, Lead, 437.5, 1200.0, 0.1, Some(MayBeSlug)),
        ];
        for (firearm, construction, grains, fps, g1, why) in cases {
            let load = load(firearm, construction, grains, fps, g1);
            assert_eq!(load.stricter().map(|s| s.why), why, "{firearm} {grains} gr");
        }
    }

    #[test]
    fn a_pellet_above_eighty_grains_is_a_slug() {
        let class = |grains| load(Firearm::Shotgun, Construction::LeadShot, grains, 1200.0, 0.05).class();
        assert_eq!((class(54.0), class(80.0), class(315.0)), (Class::Shot, Class::Shot, Class::Slug));
    }

    #[test]
    fn only_what_an_air_gun_fires_has_no_powder() {
        let slope = |firearm, construction, grains, fps| {
            let load = load(firearm, construction, grains, fps, 0.03);
            (load.has_powder(), unit::FOOT_PER_SECOND_PER_FAHRENHEIT.value(load.temperature_slope()))
        };
        assert_eq!(slope(Firearm::AirGun, Construction::Lead, 8.0, 1060.0), (false, 0.0));
        let powder = [
            slope(Firearm::AirGun, Construction::Lead, 8.0, 1101.0),
            slope(Firearm::AirGun, Construction::Lead, 405.0, 900.0),
            slope(Firearm::AirGun, Construction::JacketedLead, 40.0, 900.0),
            slope(Firearm::RimfireRifle, Construction::Lead, 40.0, 1060.0),
            slope(Firearm::Unknown, Construction::Lead, 8.0, 1060.0),
        ];
        assert!(powder.iter().all(|(has, slope)| *has && (slope - 1.0).abs() < 1e-9), "{powder:?}");
        let given = load(Firearm::AirGun, Construction::Lead, 8.0, 900.0, 0.03)
            .with(|f| f.spread.temperature_slope = Some(unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(0.5)))
            .unwrap();
        assert!((unit::FOOT_PER_SECOND_PER_FAHRENHEIT.value(given.temperature_slope()) - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_coefficient_is_held_against_the_limit_of_its_own_drag_model() {
        let with = |drag: Drag| load(Firearm::Handgun, Construction::Lead, 150.0, 1000.0, 0.1).with(|f| f.drag = drag);
        let single = |model, bc| Drag::single(model, unit::POUND_PER_SQUARE_INCH.of(bc)).unwrap();
        let why = |drag: Drag| with(drag).unwrap().stricter().map(|s| s.why);
        assert_eq!(why(single(DragModel::G7, 0.13)), None);
        assert_eq!(why(single(DragModel::G7, 0.14)), Some(StricterWhy::Coefficient));
        assert_eq!(why(single(DragModel::G1, 0.25)), None);
        assert_eq!(why(single(DragModel::G1, 0.26)), Some(StricterWhy::Coefficient));
    }

    #[test]
    fn a_sleek_bullet_of_an_unknown_firearm_may_be_a_slug_only_from_a_slug_s_mass_on() {
        let why = |grains, g1| {
            load(Firearm::Unknown, Construction::JacketedLead, grains, 2000.0, g1).stricter().map(|s| s.why)
        };
        assert_eq!((why(168.0, 0.45), why(189.0, 0.45)), (None, None));
        assert_eq!((why(190.0, 0.45), why(80.0, 0.2)), (Some(StricterWhy::MayBeSlug), Some(StricterWhy::MayBeSlug)));
    }

    #[test]
    fn a_bullet_s_own_table_is_held_against_both_models() {
        // At Mach 0.5 a G1 coefficient is 1.7 times the G7 one: 0.24 and 0.14, then 0.18 and 0.11.
        let why = |cd: f64| {
            let curve = DragCurve::from_points(&[(0.0, cd), (1.0, cd), (5.0, cd)]).unwrap();
            let drag = Drag::own(std::sync::Arc::new(curve), unit::GRAIN.of(150.0), unit::INCH.of(0.308)).unwrap();
            let slow = load(Firearm::Handgun, Construction::Lead, 150.0, 560.0, 0.1);
            slow.with(|facts| facts.drag = drag).unwrap().stricter().map(|s| s.why)
        };
        assert_eq!((why(0.1927), why(0.25)), (Some(StricterWhy::Coefficient), None));
    }

    #[test]
    fn a_word_of_the_trade_leads_to_ours_and_one_written_otherwise_to_itself() {
        let (classes, kinds) = (accepted::<Class>(), accepted::<Construction>());
        for (word, list, ours) in [
            ("pistol", classes, &["rimfire-pistol", "handgun"] as &[&str]),
            ("Rimfire", classes, &["rimfire-pistol", "rimfire-rifle"]),
            ("rimfire rifle", classes, &["rimfire-rifle"]),
            ("rifles", classes, &["rifle"]),
            ("shotgun", classes, &["shot", "slug"]),
            ("shotgun", accepted::<Firearm>(), &["shotgun"]),
            ("green tip", kinds, &["steel-core"]),
            ("jacketed lead", kinds, &["jacketed-lead"]),
            ("FMJ", kinds, &["jacketed-lead"]),
            ("solid_copper", kinds, &["monolithic"]),
            ("zebra", kinds, &[]),
        ] {
            assert_eq!(meant(word, list), ours, "{word}");
        }
        let (states, mounts) = (accepted::<Condition>(), accepted::<Mount>());
        for (word, list, ours) in [
            ("crack", states, &["cracked"] as &[&str]),
            ("pits", states, &["pitted"]),
            ("good", states, &["unknown"]),
            ("new", states, &["unknown"]),
            ("dents", states, &["cratered", "bowed"]),
            ("Sound", states, &["sound"]),
            ("hooks", mounts, &["open-hook", "captive-hook"]),
            ("post", mounts, &["bolted"]),
        ] {
            assert_eq!(meant(word, list), ours, "{word}");
        }
        assert_eq!(did_you_mean("pistols", classes).as_deref(), Some("did you mean `rimfire-pistol` or `handgun`?"));
    }
}
