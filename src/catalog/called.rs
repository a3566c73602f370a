//! Names of a load, and its cartridge, against its own numbers: a bullet of 55 gr is none of a load called 215 gr.

use super::cartridge::Cartridge;
use super::house;
use super::mention::Mention;
use super::saying::{Said, buckshot, is_slug, said};
use crate::load::{Construction, Facts, Firearm, Load, long_gun_named};
use crate::order::Order;
use crate::quantity::{Mass, Measure, parse, show, unit};
use std::sync::Arc;

/// How far a bullet's mass may be from what its name says, gr.
const SAME_GR: f64 = 0.6;
/// How far a bullet's diameter may be from those of its cartridge, in: they are told as groove, as bore and rounded.
const SAME_IN: f64 = 0.006;
/// The lightest and the heaviest bullet of a cartridge, as shares of the lightest and the heaviest that is listed: house
/// assumption, so wide that nothing usual is refused.
const LIGHTER: f64 = 0.5;
const HEAVIER: f64 = 2.0;

/// The same of one in grams, which are told to a tenth, g.
const SAME_G: f64 = 0.06;
/// So many grams may be of powder, where the bullet is heavier.
const MOST_POWDER_G: f64 = 6.0;
/// How much faster a name may say that a load is, as a share: it is of another barrel (house assumption).
const FASTER: f64 = 0.05;
/// So many times as fast is much faster (house assumption): 9 mm is not beside .45 ACP, and .17 HMR is beside 9 mm.
const MUCH_FASTER: f64 = 1.25;
/// A pellet of less than this share of its size is none (house assumption).
const LIGHTER_SHOT: f64 = 0.75;
/// A cartridge is another by so many times the energy of the strongest (house assumption).
const STRONGER: f64 = 1.25;
/// A load is weak below this share of the weakest that is listed, and below the other unusual (house assumptions).
const WEAK: f64 = 0.6;
const USUAL: f64 = 0.85;
/// A barrel shorter than this makes weak loads of all.
const SHORT_BARREL_IN: f64 = 16.0;
/// Words of a load that is weak on purpose.
#[rustfmt::skip]
const WEAK_ON_PURPOSE: [&str; 13] = [
    "subsonic", "sub", "reduced", "light", "recoil", "youth", "managed", "cast", "plink", "quiet", "gallery", "short",
    "cowboy",
];

/// A number that is not what its load is called.
pub(super) struct Miscalled {
    /// The key of the number.
    pub key: &'static str,
    pub message: String,
    pub help: String,
}

/// What a load is called that its numbers are not.
pub(super) fn fault(load: &Load) -> Option<Miscalled> {
    let facts = load.facts();
    let numbers = other_shot(facts).or_else(|| other_speed(facts)).or_else(|| other_firearm(load));
    if numbers.is_some() || facts.projectiles > 1 {
        return numbers;
    }
    let cartridges = || own_cartridges(facts);
    let bullet = || cartridges().into_iter().find_map(|cartridge| other_bullet(facts, cartridge));
    let weak = || cartridges().into_iter().find_map(|cartridge| too_weak(load, cartridge));
    other_mass(&facts.name, facts)
        .or_else(|| if is_smooth(facts) { None } else { other_cartridge(facts).or_else(bullet).or_else(weak) })
}

/// Whether what somebody calls a load, or themselves, speaks of another than it: of another mass, but for one so small
/// that it is the powder's, or of a cartridge that fires a wider or a stronger bullet.
#[must_use]
pub fn is_called_otherwise(text: &str, load: &Load) -> bool {
    let facts = load.facts();
    if facts.projectiles > 1 || is_smooth(facts) {
        return false;
    }
    let own = own_cartridges(facts);
    // A word alone is somebody's name.
    let named = Cartridge::mentions("", text).into_iter().filter(|named| !named.is_word());
    let named: Vec<_> = named.map(|named| named.cartridge).collect();
    let is_own = named.iter().any(|cartridge| own.iter().any(|own| Arc::ptr_eq(own, cartridge)));
    let is_other = |cartridge: &Cartridge| match own.first() {
        Some(own) => is_beyond(cartridge, own),
        None => other_bullet(facts, cartridge).is_some() || is_weak(load, cartridge, USUAL),
    };
    let is_bullet = |(_, mass): (String, Mass)| mass >= facts.bullet * LIGHTER;
    mass_named(text, facts).is_some_and(is_bullet) || (!is_own && named.iter().any(|cartridge| is_other(cartridge)))
}

/// Whether a load is of a cartridge, by its own or by its name, or of one that is fired from the same rifle.
#[must_use]
pub fn is_load_of(load: &Load, cartridge: &Arc<Cartridge>) -> bool {
    let own = own_cartridges(load.facts());
    own.into_iter().any(|own| Arc::ptr_eq(own, cartridge) || are_twins(own, cartridge))
}

/// Whether a load is of another cartridge than one, and stronger than its usual ammunition, or much faster.
#[must_use]
pub fn is_stronger_than(load: &Load, cartridge: &Arc<Cartridge>) -> bool {
    let usual = cartridge.envelope_loads();
    let most = |of: &dyn Fn(&Load) -> f64| usual.iter().map(|load| of(load)).fold(0.0, f64::max);
    let (energy, speed) = (|load: &Load| load.muzzle_energy().si(), |load: &Load| load.facts().muzzle_velocity.si());
    !is_load_of(load, cartridge) && (energy(load) > most(&energy) || speed(load) > MUCH_FASTER * most(&speed))
}

/// Slugs and sabots are of any width.
fn is_smooth(facts: &Facts) -> bool {
    matches!(facts.firearm, Firearm::Shotgun | Firearm::MuzzleLoader | Firearm::AirGun)
}

/// The listed cartridges that a load is of: by its cartridge, or by its name.
fn own_cartridges(facts: &Facts) -> Vec<&'static Arc<Cartridge>> {
    let of = facts.cartridge.as_deref().and_then(Cartridge::called);
    let texts = std::iter::once(facts.name.as_str()).chain(facts.cartridge.as_deref());
    of.into_iter().chain(texts.flat_map(Cartridge::named_in)).collect()
}

/// A name that says of how many grains or grams the bullet is, and means another one.
fn other_mass(name: &str, facts: &Facts) -> Option<Miscalled> {
    let (text, _) = mass_named(name, facts)?;
    Some(Miscalled {
        key: "bullet",
        message: format!("`{name}` says {text}, and its bullet has {}", show(facts.bullet, &unit::GRAIN, 1)),
        help: "look at the mass, or give the load the name that is its own".into(),
    })
}

/// A mass that a name says, as it is written, where it is not the bullet's. A name may tell its powder's mass as well.
fn mass_named(name: &str, facts: &Facts) -> Option<(String, Mass)> {
    let Said { masses, numbers, .. } = said(name, is_smooth(facts));
    let own = unit::GRAIN.value(facts.bullet);
    let is_own = |grains: f64| (grains - own).abs() <= SAME_GR;
    let is_same = |(text, mass): &(String, Mass)| {
        let apart = unit::GRAM.value(*mass) - unit::GRAM.value(facts.bullet);
        is_own(unit::GRAIN.value(*mass)) || (!text.contains("gr") && apart.abs() <= SAME_G)
    };
    if numbers.iter().any(|number| is_own(*number)) || masses.iter().any(is_same) {
        return None;
    }
    // So few grams may be of powder, and what a name says of its powder is.
    let says_powder = says_powder(name);
    let is_powder = |text: &str, mass: &Mass| {
        let few = !text.contains("gr") && *mass < unit::GRAM.of(MOST_POWDER_G);
        (few || says_powder) && *mass < facts.bullet
    };
    masses.into_iter().find(|(text, mass)| !is_powder(text, mass))
}

/// Words of a name that speak of its powder.
const OF_POWDER: [&str; 8] = ["powder", "charge", "charged", "ffg", "fffg", "2f", "3f", "blackpowder"];

fn says_powder(name: &str) -> bool {
    name.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| OF_POWDER.contains(&word))
}

/// A name that says of a faster load.
fn other_speed(facts: &Facts) -> Option<Miscalled> {
    let Said { speeds, .. } = said(&facts.name, true);
    let own = facts.muzzle_velocity;
    let slowest = speeds.iter().reduce(|a, b| if b.1 < a.1 { b } else { a })?;
    (slowest.1 > own * (1.0 + FASTER)).then(|| Miscalled {
        key: "muzzle-velocity",
        message: format!(
            "`{}` says {}, and it leaves at {}",
            facts.name,
            slowest.0,
            show(own, &unit::FOOT_PER_SECOND, 0)
        ),
        help: "look at the muzzle velocity, or give the load the name that is its own".into(),
    })
}

/// Lead shot that is called larger than its pellets are.
fn other_shot(facts: &Facts) -> Option<Miscalled> {
    if facts.construction != Construction::LeadShot {
        return None;
    }
    let own = show(facts.bullet, &unit::GRAIN, 1);
    let message = if is_slug(&facts.name) {
        format!("`{}` says slug, and its projectiles are lead shot of {own}", facts.name)
    } else {
        let pellet = buckshot(&facts.name).filter(|pellet| facts.bullet < *pellet * LIGHTER_SHOT)?;
        format!("`{}` has pellets of {} or more, and these have {own}", facts.name, show(pellet, &unit::GRAIN, 1))
    };
    let help = "look at the mass and the construction (a slug's is `lead`), or give the load the name that is its own";
    Some(Miscalled { key: "bullet", message, help: help.into() })
}

/// A load whose cartridge, or whose name, is of a firearm with stricter rules than the one that it is given.
fn other_firearm(load: &Load) -> Option<Miscalled> {
    let facts = load.facts();
    if matches!(facts.firearm, Firearm::Rifle | Firearm::Unknown) || load.stricter().is_some() {
        return None;
    }
    let told = |message: String, firearms: &[Firearm]| {
        let words: Vec<String> = firearms.iter().map(|firearm| format!("`{firearm}`")).collect();
        let help =
            format!("write the firearm that fires it, {}; or look at its cartridge and name", words.join(" or "));
        Miscalled { key: "firearm", message, help }
    };
    let of = own_cartridges(facts).into_iter().find_map(|cartridge| {
        let mut firearms: Vec<Firearm> = cartridge.envelopes().iter().map(|envelope| envelope.firearm).collect();
        firearms.dedup();
        let fires = firearms.is_empty() || firearms.iter().any(|firearm| is_no_looser(facts.firearm, *firearm));
        (!fires).then(|| {
            let words: Vec<String> = firearms.iter().map(|firearm| format!("`{firearm}`")).collect();
            let message =
                format!("{} is of {}, and the load says `{}`", cartridge.name(), words.join(" and "), facts.firearm);
            told(message, &firearms)
        })
    });
    of.or_else(|| {
        let long = match facts.firearm {
            Firearm::Handgun => [Firearm::PistolCarbine, Firearm::Rifle],
            Firearm::RimfirePistol => [Firearm::RimfireRifle, Firearm::Rifle],
            _ => return None,
        };
        let word = long_gun_named(&facts.name)?;
        let message = format!("`{}` says {word}, and the load says `{}`", facts.name, facts.firearm);
        Some(told(message, &long))
    })
}

/// Whether what fires a load is judged no looser than one of its cartridge's firearms.
fn is_no_looser(given: Firearm, listed: Firearm) -> bool {
    let is_rimfire = |firearm| matches!(firearm, Firearm::RimfirePistol | Firearm::RimfireRifle);
    given == listed
        || (is_rimfire(given) && is_rimfire(listed))
        || (given == Firearm::PistolCarbine && listed == Firearm::Handgun)
}

/// A name that says of another cartridge than the load's own.
fn other_cartridge(facts: &Facts) -> Option<Miscalled> {
    let own = facts.cartridge.as_deref().and_then(Cartridge::called)?;
    let mut named = Cartridge::mentions("load", &facts.name);
    // `260` may be the bullet's mass, as `12 g` is.
    let grains = unit::GRAIN.value(facts.bullet);
    let is_mass = |named: &Mention| named.number().is_some_and(|number| (number - grains).abs() <= SAME_GR);
    named.retain(|named| !is_mass(named) && parse::<Mass>(&named.text).is_err());
    // Two names of one cartridge's ammunition, or a calibre that both have, speak against nothing.
    let is_own = |named: &Mention| Arc::ptr_eq(named.cartridge, own) || are_twins(named.cartridge, own);
    if named.iter().any(is_own) {
        return None;
    }
    let is_other = |named: &Mention| !named.is_calibre || is_wider(named.cartridge, own);
    let other = named.into_iter().find(is_other)?.cartridge;
    Some(Miscalled {
        key: "cartridge",
        message: format!("`{}` says {}, and its cartridge is {}", facts.name, other.name(), own.name()),
        help: "name the cartridge that it is, or give the load the name that is its own".into(),
    })
}

/// Whether a cartridge fires bullets of another width, or much stronger ones, than the other.
fn is_beyond(cartridge: &Cartridge, own: &Cartridge) -> bool {
    let strongest = |cartridge: &Cartridge| {
        let energies = cartridge.envelope_loads().into_iter().map(|load| load.muzzle_energy().si());
        energies.fold(0.0, f64::max)
    };
    is_wider(cartridge, own) || strongest(cartridge) > STRONGER * strongest(own)
}

/// Whether a cartridge fires bullets of another width than the other.
fn is_wider(cartridge: &Cartridge, own: &Cartridge) -> bool {
    let inches = |cartridge: &Cartridge| cartridge.calibre().map(|calibre| unit::INCH.value(calibre));
    inches(cartridge).zip(inches(own)).is_some_and(|(a, b)| (a - b).abs() > SAME_IN)
}

/// Cartridges whose ammunition is fired from one rifle, and goes by either name.
const TWINS: [[&str; 2]; 3] = [[".308 Win", "7.62 x 51 mm"], [".223 Rem", "5.56 mm"], [".22 LR", ".22 Short"]];

fn are_twins(one: &Cartridge, other: &Cartridge) -> bool {
    TWINS.iter().any(|twins| twins.contains(&one.name()) && twins.contains(&other.name()))
}

/// A rifle's load that is weaker than any of the cartridge that its name names, and is not called so. One whose
/// cartridge is given is loaded as it is given.
fn too_weak(load: &Load, cartridge: &Cartridge) -> Option<Miscalled> {
    let facts = load.facts();
    let name = facts.name.to_lowercase();
    let is_meant = facts.cartridge.is_some() || WEAK_ON_PURPOSE.iter().any(|word| name.contains(word));
    if is_meant || !is_weak(load, cartridge, WEAK) {
        return None;
    }
    let energy = show(load.muzzle_energy(), &unit::FOOT_POUND, 0);
    Some(Miscalled {
        key: "muzzle-velocity",
        message: format!("{energy} at the muzzle is about half of what is usual for {}, or less", cartridge.name()),
        help: "look at the mass and the velocity; where it is loaded so on purpose, call it `reduced` in its name, or name \
               the cartridge that it is"
            .into(),
    })
}

/// Whether a rifle's jacketed bullet has less than a share of the energy of the weakest usual load of a cartridge.
fn is_weak(load: &Load, cartridge: &Cartridge, share: f64) -> bool {
    let facts = load.facts();
    let is_short = facts.barrel.is_some_and(|barrel| barrel < unit::INCH.of(SHORT_BARREL_IN));
    if !matches!(facts.firearm, Firearm::Rifle | Firearm::Unknown) || facts.construction.is_lead_alone() || is_short {
        return false;
    }
    let listed = house::of_cartridge(cartridge).map(|entry| Arc::clone(&entry.load));
    let rifles = listed.chain(cartridge.envelope_loads()).filter(|load| load.facts().firearm == Firearm::Rifle);
    let weakest = rifles.map(|load| load.muzzle_energy().si()).fold(f64::INFINITY, f64::min);
    weakest.is_finite() && load.muzzle_energy().si() < share * weakest
}

/// A bullet that no load of the cartridge has.
fn other_bullet(facts: &Facts, cartridge: &Cartridge) -> Option<Miscalled> {
    let listed: Vec<&Facts> = house::of_cartridge(cartridge)
        .map(|entry| entry.load.facts())
        .filter(|listed| listed.projectiles == 1)
        .collect();
    if listed.is_empty() {
        return None;
    }
    let widths: Vec<f64> = listed.iter().filter_map(|listed| listed.diameter).map(|d| unit::INCH.value(d)).collect();
    if let Some(own) = facts.diameter.map(|d| unit::INCH.value(d))
        && !widths.is_empty()
        && widths.iter().all(|width| (width - own).abs() > SAME_IN)
    {
        return Some(Miscalled {
            key: "diameter",
            message: format!("{} does not fire a bullet of {own:.3} in: {:.3} in", cartridge.name(), widths[0]),
            help: "look at the diameter, or name the cartridge that it is".into(),
        });
    }
    let mut masses: Vec<f64> = listed.iter().map(|listed| listed.bullet.si()).collect();
    masses.order_by(f64::total_cmp);
    let (least, most, own) = (masses[0], masses[masses.len() - 1], facts.bullet.si());
    (own < LIGHTER * least || own > HEAVIER * most).then(|| Miscalled {
        key: "bullet",
        message: format!(
            "a bullet of {} is none of {}: those listed have {} to {}",
            show(facts.bullet, &unit::GRAIN, 1),
            cartridge.name(),
            show(Mass::from_si(least), &unit::GRAIN, 0),
            show(Mass::from_si(most), &unit::GRAIN, 0)
        ),
        help: "look at the mass, or name the cartridge that it is".into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;

    #[test]
    fn a_load_that_is_called_what_its_numbers_are_not_is_told_from_one_that_says_the_same() {
        let load = Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
        let named = |name: &str, cartridge: &str, grains: f64, inches: f64| {
            load.with(|facts| {
                facts.name = name.into();
                facts.cartridge = (!cartridge.is_empty()).then(|| cartridge.into());
                facts.bullet = unit::GRAIN.of(grains);
                facts.diameter = (inches > 0.0).then(|| unit::INCH.of(inches));
            })
            .unwrap()
        };
        for (name, cartridge, grains, inches, key) in [
            ("300 Win Mag 215 gr", "", 55.0, 0.224, "bullet"),
            ("my 150gr load", "", 180.0, 0.308, "bullet"),
            ("hot", ".300 Win Mag", 55.0, 0.224, "diameter"),
            ("hot", ".300 Win Mag", 55.0, 0.0, "bullet"),
            ("hot", ".223 Rem", 180.0, 0.0, "bullet"),
            ("300 Win Mag hot", "", 55.0, 0.224, "diameter"),
            ("308-180gr", "", 168.0, 0.308, "bullet"),
            ("12 g match", "", 168.0, 0.308, "bullet"),
            ("10.9 g SMK", "", 175.0, 0.308, "bullet"),
            ("168 gr, 3100 ft/s", "", 168.0, 0.308, "muzzle-velocity"),
            ("2900fps", "", 168.0, 0.308, "muzzle-velocity"),
            ("338 LM", "", 175.0, 0.0, "muzzle-velocity"),
            ("300 WM", ".308 Win", 168.0, 0.308, "cartridge"),
            ("338 Lapua", ".308 Win", 168.0, 0.308, "cartridge"),
        ] {
            assert_eq!(fault(&named(name, cartridge, grains, inches)).map(|e| e.key), Some(key), "{name} {cartridge}");
        }
        for (name, cartridge, grains, inches) in [
            ("308 Win 168 gr match", ".308 Win", 168.0, 0.308),
            ("168 over 43.5 gr", "", 168.0, 0.308),
            ("43.5 gr and 168 gr", ".308 Win", 168.0, 0.0),
            ("60 gr bullet", ".223 Rem", 60.2, 0.224),
            ("7.62x39 in a .308 barrel", "7.62x39", 125.0, 0.308),
            ("group A", "", 55.0, 0.224),
            ("wildcat", "6 mm own", 55.0, 0.243),
            ("10.9 g, 2.8 g N140", "", 168.0, 0.308),
            ("2.8 g N140", "", 168.0, 0.308),
            ("7.62 NATO ball", ".308 Win", 147.0, 0.308),
            ("168 gr at 2700 fps", ".308 Win", 168.0, 0.308),
            ("308 Win reduced, 1100 fps", ".308 Win", 168.0, 0.308),
            ("zero at 100 m", "", 168.0, 0.308),
        ] {
            assert!(fault(&named(name, cartridge, grains, inches)).is_none(), "{name} {cartridge}");
        }
    }

    #[test]
    fn a_name_of_any_other_listed_cartridge_is_told() {
        let load = Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
        // These are numbers of loads, masses, and letters, as well.
        let quiet = ["12", "12 g", "16", "20", "40", "bb"];
        for cartridge in Cartridge::builtin().unwrap() {
            let is_own = [".308 Win", "7.62 x 51 mm"].contains(&cartridge.name());
            for name in std::iter::once(cartridge.name()).chain(cartridge.aliases().iter().map(String::as_str)) {
                let called = load.with(|facts| facts.name = name.into()).unwrap();
                let is_told = other_cartridge(called.facts()).is_some();
                // A calibre of the same width is that of many.
                let is_wide = Cartridge::mentions("load", name).iter().any(|named| named.is_calibre)
                    && !is_wider(cartridge, Cartridge::called(".308 Win").unwrap());
                assert_eq!(is_told, !is_own && !is_wide && !quiet.contains(&name), "{name}");
            }
        }
    }

    #[test]
    fn a_firearm_that_a_load_s_cartridge_or_name_speaks_against_is_told_where_it_would_loosen_the_verdict() {
        let slow = Catalog::builtin().unwrap().load("357mag-158").unwrap().load.clone();
        let fired = |firearm: Firearm, name: &str, cartridge: &str| {
            let load = slow.with(|facts| {
                facts.firearm = firearm;
                facts.name = name.into();
                facts.cartridge = (!cartridge.is_empty()).then(|| cartridge.into());
                facts.diameter = None;
            });
            fault(&load.unwrap()).map(|fault| fault.key)
        };
        for (firearm, name, cartridge) in [
            (Firearm::Handgun, "357 Magnum lever gun", ""),
            (Firearm::Handgun, "357 Magnum rifle", ".357 Magnum"),
            (Firearm::Handgun, "9 mm carbine", ""),
            (Firearm::Handgun, "12 ga", ""),
            (Firearm::Handgun, "own", ".50 muzzle-loader"),
            (Firearm::Handgun, "own", ".30-30 Win"),
            (Firearm::Shotgun, "own", ".45-70"),
            (Firearm::PistolCarbine, "own", ".30 Carbine"),
        ] {
            assert_eq!(fired(firearm, name, cartridge), Some("firearm"), "{firearm} {name} {cartridge}");
        }
        for (firearm, name, cartridge) in [
            (Firearm::Handgun, "357 Magnum", ".357 Magnum"),
            (Firearm::Rifle, "357 Magnum rifle", ".357 Magnum"),
            (Firearm::PistolCarbine, "lever gun", ".357 Magnum"),
            (Firearm::PistolCarbine, "own", ".38 Super"),
            (Firearm::Handgun, "small rifle primers", ".357 Magnum"),
            (Firearm::Handgun, "own", "unheard of"),
        ] {
            assert_eq!(fired(firearm, name, cartridge), None, "{firearm} {name} {cartridge}");
        }
    }

    #[test]
    fn shot_that_is_called_larger_than_it_is_is_told() {
        let shot = Catalog::builtin().unwrap().load("12ga-buck-00").unwrap().load.clone();
        let named = |name: &str, grains: f64| {
            let load = shot.with(|facts| {
                facts.name = name.into();
                facts.bullet = unit::GRAIN.of(grains);
                facts.diameter = None;
            });
            fault(&load.unwrap()).is_some()
        };
        assert!(named("00 buckshot", 9.9) && named("slug", 53.8) && named("buckshot", 1.25));
        assert!(!named("00 buckshot", 53.8) && !named("No. 4 buck", 20.7) && !named("bird 8", 1.07));
    }

    #[test]
    fn a_shooter_who_is_called_by_another_cartridge_than_the_load_s_is_told() {
        let catalog = Catalog::builtin().unwrap();
        let load = |id: &str| catalog.load(id).unwrap().load.clone();
        let plain = load("308-168-match").with(|facts| {
            facts.cartridge = None;
            facts.name = "own".into();
        });
        for text in ["Ann (300 WM)", "Bob 338 Lapua", "Joe 180gr"] {
            assert!(is_called_otherwise(text, &load("308-168-match")), "{text}");
        }
        assert!(is_called_otherwise("Ann (300 WM)", &plain.clone().unwrap()));
        assert!(!is_called_otherwise("Ann (308 Win)", &plain.unwrap()));
        for text in ["Ann (308 Win)", "Ann, 168 gr", "Bob (7.62 NATO)", "Joe 12", "bib 300"] {
            assert!(!is_called_otherwise(text, &load("308-168-match")), "{text}");
        }
    }

    #[test]
    fn no_listed_load_is_called_what_it_is_not() {
        for entry in Catalog::builtin().unwrap().entries() {
            assert!(fault(&entry.load).is_none(), "{}", entry.load.id());
        }
    }
}
