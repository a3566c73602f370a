//! A catalogue velocity moved to another barrel.

use super::Cartridge;
use super::house;
use crate::load::{Firearm, Load, LoadError};
use crate::quantity::{Length, Measure, Velocity, show, unit};
use thiserror::Error;

/// What keeps a velocity from being moved.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BarrelError {
    /// The load does not say what barrel its velocity is for.
    #[error("load `{load}` does not say what barrel its velocity is stated for")]
    Unknown {
        /// The load's name.
        load: String,
    },
    /// The moved load is out of bounds.
    #[error(transparent)]
    Load(#[from] LoadError),
}

impl BarrelError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Unknown { .. } => {
                "give the velocity from your own barrel with `--velocity`, and leave `--barrel` out".into()
            }
            Self::Load(error) => error.help(),
        }
    }
}

/// How a longer barrel adds: velocity grows with a power of the length below 1, so that each further inch adds less
/// than the one before, and no further than to a share of it (house assumption: more than is usual, so that the
/// moved velocity errs on the fast side).
#[derive(Debug, Clone, Copy, PartialEq)]
struct Gain {
    power: f64,
    most: f64,
}

/// Rifles: 1 % for each inch about 24 in.
const RIFLE: Gain = Gain { power: 0.25, most: 0.25 };
/// Shotguns: their powder burns early.
const SHOTGUN: Gain = Gain { power: 0.20, most: 0.25 };
/// Pistol and rimfire cartridges: little powder, burnt in the first inches.
const PISTOL: Gain = Gain { power: 0.14, most: 0.25 };
/// Magnums of revolvers: much slow powder, and the gap of the cylinder is left behind.
const MAGNUM_REVOLVER: Gain = Gain { power: 0.25, most: 0.45 };

/// Loss per inch of shorter barrel, ft/s (house assumption: less than is usual, for the same reason).
const RIFLE_LOSS: f64 = 15.0;
const PISTOL_LOSS: f64 = 10.0;

fn gain(load: &Load) -> Gain {
    match load.facts().firearm {
        Firearm::RimfirePistol | Firearm::RimfireRifle => PISTOL,
        // A cartridge that is not known may be a magnum.
        Firearm::Handgun | Firearm::PistolCarbine => match Cartridge::of(load) {
            Some(cartridge) if !cartridge.is_magnum_revolver() => PISTOL,
            _ => MAGNUM_REVOLVER,
        },
        Firearm::Shotgun => SHOTGUN,
        Firearm::Unknown => MAGNUM_REVOLVER,
        Firearm::Rifle | Firearm::MuzzleLoader | Firearm::AirGun => RIFLE,
    }
}

fn loss(load: &Load) -> f64 {
    match load.facts().firearm {
        Firearm::Handgun | Firearm::PistolCarbine | Firearm::RimfirePistol => PISTOL_LOSS,
        _ => RIFLE_LOSS,
    }
}

/// Bullets of a cartridge within this share of each other's mass are alike.
const ALIKE: f64 = 0.02;

/// The fastest of the shipped loads of the cartridge, with a bullet of this mass, from a barrel longer than the
/// load's own and no longer than the asked one.
fn listed(load: &Load, own: Length, barrel: Length) -> Option<Velocity> {
    let cartridge = Cartridge::of(load)?;
    let is_such = |other: &&Load| {
        let facts = other.facts();
        let alike = (facts.bullet.si() / load.facts().bullet.si() - 1.0).abs() <= ALIKE;
        let between = facts.barrel.is_some_and(|b| b.si() > own.si() && b.si() <= barrel.si() * (1.0 + 1e-9));
        alike && between
    };
    let loads = house::of_cartridge(cartridge).map(|entry| &*entry.load).filter(is_such);
    loads.map(|other| other.facts().muzzle_velocity).reduce(|a, b| if b > a { b } else { a })
}

/// The velocity from a longer barrel: a bound, never below what is listed from such a barrel.
fn longer(load: &Load, own: Length, barrel: Length) -> Velocity {
    let gain = gain(load);
    let factor = (barrel.si() / own.si()).powf(gain.power).min(1.0 + gain.most);
    let bound = load.facts().muzzle_velocity * factor;
    listed(load, own, barrel).map_or(bound, |listed| bound.max(listed))
}

/// The longest barrel, in, of what is judged as a pistol or revolver (house assumption).
const LONGEST_PISTOL_BARREL_IN: f64 = 10.0;

/// What a load counts as fired from with a barrel: a pistol's load from a long one is a long gun's, whose distances are
/// the stricter ones. A long gun with a short barrel stays one.
pub(super) fn fired_from(firearm: Firearm, barrel: Length) -> Firearm {
    let long = unit::INCH.value(barrel) > LONGEST_PISTOL_BARREL_IN * (1.0 + 1e-9);
    match firearm {
        Firearm::Handgun if long => Firearm::PistolCarbine,
        Firearm::RimfirePistol if long => Firearm::RimfireRifle,
        firearm => firearm,
    }
}

/// The velocity from a shorter barrel.
fn shorter(load: &Load, own: Length, barrel: Length) -> Velocity {
    let inches = unit::INCH.value(own) - unit::INCH.value(barrel);
    let least = unit::FOOT_PER_SECOND.of(100.0);
    (load.facts().muzzle_velocity - unit::FOOT_PER_SECOND.of(loss(load) * inches)).max(least)
}

/// The mean that slow shots are taken from with the other barrel: a longer one adds nothing, a shorter one takes
/// as much as if velocity grew with the square root of the length (house assumption; derived: so it would under
/// a pressure that does not fall, and since it falls the last inches add less).
fn slow_mean(load: &Load, own: Length, barrel: Length) -> Velocity {
    load.facts().muzzle_velocity * (barrel.si() / own.si()).min(1.0).sqrt()
}

/// The load from a barrel of another length, and the assumption made. The velocity errs on the fast side; slow
/// shots are taken from a mean of their own, which errs on the slow side.
///
/// # Errors
/// [`BarrelError`] where the load's own barrel is not known, or the result can't be.
pub fn moved_to_barrel(load: &Load, barrel: Length) -> Result<(Load, String), BarrelError> {
    let own = load.facts().barrel.ok_or_else(|| BarrelError::Unknown { load: load.id().into() })?;
    let velocity = if barrel > own { longer(load, own, barrel) } else { shorter(load, own, barrel) };
    let slow = slow_mean(load, own, barrel).min(velocity);
    let firearm = fired_from(load.facts().firearm, barrel);
    let moved = load.with(|facts| {
        facts.firearm = firearm;
        facts.muzzle_velocity = velocity;
        facts.barrel = Some(barrel);
        facts.spread.slow_margin = velocity - slow;
    })?;
    let mut words = told(load, velocity, slow, (own, barrel));
    if firearm != load.facts().firearm {
        words = format!("{words}; {}", told_as(firearm));
    }
    Ok((moved, words))
}

/// That a load is judged as from another firearm, for its barrel.
pub(super) fn told_as(firearm: Firearm) -> String {
    format!("for the barrel's length it is judged as from a {firearm}")
}

/// The change in words.
fn told(load: &Load, velocity: Velocity, slow: Velocity, (own, barrel): (Length, Length)) -> String {
    let speed = |v| show(v, &unit::FOOT_PER_SECOND, 0);
    let length = |l| show(l, &unit::INCH, 1);
    if barrel.si().total_cmp(&own.si()).is_eq() {
        return format!(
            "muzzle velocity {} from a {} barrel, the one it is stated for",
            speed(velocity),
            length(barrel)
        );
    }
    let (how, why) = if barrel > own {
        let most = 100.0 * gain(load).most;
        (
            format!("a bound: each inch beyond {} adds less than the one before, at most {most:.0} %", length(own)),
            "a longer barrel may add nothing",
        )
    } else {
        (format!("{} ft/s per inch less than {}", loss(load), length(own)), "a shorter barrel may cost more")
    };
    let mut told =
        format!("muzzle velocity {} from a {} barrel: {how} (house assumption)", speed(velocity), length(barrel));
    if slow < velocity {
        told.push_str("; slow shots from a mean of ");
        told.push_str(&speed(slow));
        told.push_str(": ");
        told.push_str(why);
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::load::Class;
    use std::sync::Arc;

    fn named(id: &str) -> Arc<Load> {
        Arc::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
    }

    fn fps(load: &Load, inches: f64) -> f64 {
        let (moved, told) = moved_to_barrel(load, unit::INCH.of(inches)).unwrap();
        let is_own = load.facts().barrel == Some(unit::INCH.of(inches));
        assert_eq!(told.contains("house assumption"), !is_own, "{told}");
        assert_eq!(told.contains("a bound"), unit::INCH.of(inches) > load.facts().barrel.unwrap(), "{told}");
        unit::FOOT_PER_SECOND.value(moved.facts().muzzle_velocity)
    }

    /// Ranges that a shooter believes: common practice, no source.
    #[test]
    fn velocities_from_other_barrels_are_believable() {
        for (id, inches, range) in [
            ("9mm-115", 16.0, 1350.0..1450.0),
            ("9mm-147", 16.0, 1050.0..1250.0),
            ("45acp-230", 16.0, 950.0..1070.0),
            ("40sw-180", 16.0, 1150.0..1260.0),
            ("357mag-158", 18.0, 1800.0..1830.0),
            ("44mag-240", 20.0, 1780.0..1850.0),
            ("22lr-pistol-hv-40", 18.0, 1150.0..1300.0),
            ("22lr-hv-40", 24.0, 1260.0..1300.0),
            ("556-55", 24.0, 3300.0..3450.0),
            ("556-55", 14.5, 3100.0..3200.0),
            ("308-168-match", 26.0, 2670.0..2720.0),
            ("308-168-match", 16.0, 2500.0..2560.0),
            ("308-168-match", 24.0, 2649.0..2651.0),
            ("12ga-slug-1oz", 28.0, 1610.0..1780.0),
        ] {
            let found = fps(&named(id), inches);
            assert!(range.contains(&found), "{id} from {inches} in: {found}");
        }
    }

    #[test]
    fn each_further_inch_adds_less_and_never_more_than_the_most() {
        let catalog = Catalog::builtin().unwrap();
        for entry in catalog.entries() {
            let own = unit::INCH.value(entry.load.facts().barrel.unwrap());
            // Of a cartridge that nothing is listed for: the gain alone.
            let load = entry.load.with(|f| f.cartridge = Some("none".into())).unwrap();
            let most = 1.0 + gain(&load).most;
            let mut before = (fps(&load, own), f64::INFINITY);
            for step in 1..8 {
                let inches = own + f64::from(step);
                if inches > 50.0 {
                    break;
                }
                let now = fps(&load, inches);
                assert!(now >= before.0 && now - before.0 <= before.1 + 1e-6, "{}: {inches} in", load.id());
                before = (now, now - before.0);
            }
            assert!(fps(&load, 50.0) <= fps(&load, own) * most + 1e-6, "{}", load.id());
        }
    }

    #[test]
    fn a_magnum_revolver_s_cartridge_gains_more_than_a_pistol_s_and_an_unknown_one_may_be_either() {
        let share = |load: &Load| fps(load, 50.0) / fps(load, unit::INCH.value(load.facts().barrel.unwrap()));
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(near(share(&named("357mag-125")), 1.45) && near(share(&named("357sig-125")), 1.25));
        let unknown = named("357sig-125").with(|f| f.cartridge = None).unwrap();
        assert!(near(share(&unknown), 1.45));
    }

    #[test]
    fn another_barrel_is_never_slower_than_what_is_listed_from_it() {
        let catalog = Catalog::builtin().unwrap();
        let mut compared = 0;
        for (one, other) in catalog.entries().iter().flat_map(|a| catalog.entries().iter().map(move |b| (a, b))) {
            let (load, listed) = (&one.load, &other.load);
            let (own, barrel) = (load.facts().barrel.unwrap(), listed.facts().barrel.unwrap());
            let same =
                load.facts().cartridge == listed.facts().cartridge && load.facts().bullet == listed.facts().bullet;
            if same && barrel > own {
                let (moved, _) = moved_to_barrel(load, barrel).unwrap();
                assert!(
                    moved.facts().muzzle_velocity >= listed.facts().muzzle_velocity,
                    "{} {}",
                    load.id(),
                    listed.id()
                );
                compared += 1;
            }
        }
        assert!(compared >= 10, "{compared}");
    }

    #[test]
    fn another_barrel_makes_no_slow_shot_faster() {
        let catalog = Catalog::builtin().unwrap();
        for entry in catalog.entries() {
            let load = &entry.load;
            let (own, facts) = (load.facts().barrel.unwrap(), load.facts());
            let slow = |barrel| {
                let (moved, told) = moved_to_barrel(load, barrel).unwrap();
                let facts = moved.facts();
                assert!(facts.spread.slow_margin.si() >= 0.0);
                assert_eq!(told.contains("slow shots"), facts.spread.slow_margin.si() > 0.0, "{told}");
                facts.muzzle_velocity - facts.spread.slow_margin
            };
            let near = |a: Velocity, b: Velocity| (a.si() - b.si()).abs() < 1e-9;
            assert!(near(slow(own), facts.muzzle_velocity) && near(slow(own * 1.1), facts.muzzle_velocity));
            // 0.36 of the length: 0.6 of the velocity.
            assert!(near(slow(own * 0.36), facts.muzzle_velocity * 0.6), "{}", load.id());
        }
    }

    #[test]
    fn a_pistol_load_from_a_carbine_s_barrel_is_no_slower_than_the_carbine_s_and_judged_as_one() {
        let catalog = Catalog::builtin().unwrap();
        let mut compared = 0;
        for carbine in catalog.entries().iter().filter(|e| e.load.class() == Class::PistolCarbine) {
            let Ok(entry) = catalog.load(carbine.load.id().trim_end_matches("-carbine")) else { continue };
            let pistol = &entry.load;
            let (moved, told) = moved_to_barrel(pistol, carbine.load.facts().barrel.unwrap()).unwrap();
            assert!(moved.facts().muzzle_velocity >= carbine.load.facts().muzzle_velocity, "{}", moved.id());
            assert_eq!(moved.class(), Class::PistolCarbine, "{}", moved.id());
            assert!(told.ends_with("judged as from a pistol-carbine"), "{told}");
            compared += 1;
        }
        assert!(compared >= 7, "{compared}");
        let load = &catalog.load("22lr-pistol-40").unwrap().load;
        let class = |inches: f64| moved_to_barrel(load, unit::INCH.of(inches)).unwrap().0.class();
        assert_eq!((class(10.0), class(18.0)), (Class::RimfirePistol, Class::RimfireRifle));
        for absurd in [-4.0, 0.0, 500.0, f64::NAN] {
            assert!(moved_to_barrel(load, unit::INCH.of(absurd)).is_err(), "{absurd}");
        }
    }
}
