//! Names of a load, and its cartridge, against its own numbers: a bullet of 55 gr is none of a load called 215 gr.

use super::cartridge::Cartridge;
use super::house;
use crate::load::{Facts, Firearm, Load};
use crate::order::Order;
use crate::quantity::{Mass, Measure, parse, show, unit};

/// How far a bullet's mass may be from what its name says, gr.
const SAME_GR: f64 = 0.6;
/// How far a bullet's diameter may be from those of its cartridge, in: they are told as groove, as bore and rounded.
const SAME_IN: f64 = 0.006;
/// The lightest and the heaviest bullet of a cartridge, as shares of the lightest and the heaviest that is listed: house
/// assumption, so wide that nothing usual is refused.
const LIGHTER: f64 = 0.5;
const HEAVIER: f64 = 2.0;

/// A number that is not what its load is called.
pub(super) struct Miscalled {
    /// The key of the number.
    pub key: &'static str,
    pub message: String,
    pub help: &'static str,
}

/// What a load is called that its numbers are not.
pub(super) fn fault(load: &Load) -> Option<Miscalled> {
    let facts = load.facts();
    if facts.projectiles > 1 {
        return None;
    }
    // Slugs and sabots are of any width.
    let is_smooth = matches!(facts.firearm, Firearm::Shotgun | Firearm::MuzzleLoader | Firearm::AirGun);
    let texts = std::iter::once(facts.name.as_str()).chain(facts.cartridge.as_deref());
    let cartridges = || Cartridge::of(load).into_iter().chain(texts.flat_map(Cartridge::named_in));
    other_mass(facts)
        .or_else(|| if is_smooth { None } else { cartridges().find_map(|cartridge| other_bullet(facts, cartridge)) })
}

/// A name that says of how many grains or grams the bullet is, and means another one. A name may tell its powder's mass
/// as well.
fn other_mass(facts: &Facts) -> Option<Miscalled> {
    let words: Vec<&str> = facts.name.split(|c: char| c.is_whitespace() || ",;()[]/".contains(c)).collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
    let pairs = words.windows(2).map(|pair| pair.join(" ")).chain(words.iter().map(|word| (*word).to_owned()));
    let says: Vec<(String, Mass)> = pairs.filter_map(|text| Some((text.clone(), mass(&text)?))).collect();
    let own = unit::GRAIN.value(facts.bullet);
    let is_own = |grains: f64| (grains - own).abs() <= SAME_GR;
    let is_told = words.iter().any(|word| word.parse::<f64>().is_ok_and(is_own))
        || says.iter().any(|(_, mass)| is_own(unit::GRAIN.value(*mass)));
    let (text, _) = says.first().filter(|_| !is_told)?;
    Some(Miscalled {
        key: "bullet",
        message: format!("`{}` says {text}, and its bullet has {}", facts.name, show(facts.bullet, &unit::GRAIN, 1)),
        help: "look at the mass, or give the load the name that is its own",
    })
}

/// A mass in grains or grams, and nothing like `10 g1`.
fn mass(text: &str) -> Option<Mass> {
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || " .".contains(c));
    matches!(unit.to_lowercase().as_str(), "gr" | "grs" | "grain" | "grains" | "gn")
        .then(|| parse::<Mass>(&text.replace(unit, " gr")).ok())
        .flatten()
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
            help: "look at the diameter, or name the cartridge that it is",
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
        help: "look at the mass, or name the cartridge that it is",
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
        ] {
            assert!(fault(&named(name, cartridge, grains, inches)).is_none(), "{name} {cartridge}");
        }
    }

    #[test]
    fn no_listed_load_is_called_what_it_is_not() {
        for entry in Catalog::builtin().unwrap().entries() {
            assert!(fault(&entry.load).is_none(), "{}", entry.load.id());
        }
    }
}
