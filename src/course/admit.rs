//! A match's ammunition rules: what may be brought.

use super::Course;
use super::vocabulary::classes;
use crate::catalog::{AnyOf, Cartridge, Catalog};
use crate::load::{Class, Construction, Load};
use crate::quantity::{Energy, Length, Mass, Measure, Text, Velocity, show, unit};
use crate::words::{Units, listed};
use serde::Deserialize;

/// A cartridge of which any ammunition is admitted, and only a part is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InPart {
    /// Its name.
    pub cartridge: String,
    /// What is missing.
    pub lacks: Lack,
}

/// What is not known of a cartridge's ammunition.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// How fast, heavy and strong it gets beyond what is listed.
    Extremes,
    /// It often has steel in it, and no such load is listed.
    Steel,
}

impl InPart {
    /// What is not known of a cartridge's ammunition.
    pub(super) fn of(any: &AnyOf) -> impl Iterator<Item = Self> {
        let lacks = [(Lack::Extremes, !any.has_envelope), (Lack::Steel, any.lacks_steel())];
        let cartridge = any.cartridge.name();
        let lacks = lacks.into_iter().filter(|(_, is_lacking)| *is_lacking);
        lacks.map(|(lacks, _)| Self { cartridge: cartridge.to_owned(), lacks })
    }
}

impl Course {
    /// How many cartridges are known in part.
    #[must_use]
    pub fn known_in_part(&self) -> usize {
        // What a cartridge lacks stands together.
        self.in_part.chunk_by(|a, b| a.cartridge == b.cartridge).count()
    }
}

/// One ammunition rule; what is not given is not limited.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ammunition {
    /// Classes it is for; all where none is named.
    #[serde(default, deserialize_with = "classes")]
    pub class: Vec<Class>,
    /// Highest mean muzzle velocity.
    pub muzzle_velocity_at_most: Option<Text<Velocity>>,
    /// Lowest mean muzzle velocity.
    pub muzzle_velocity_at_least: Option<Text<Velocity>>,
    /// Highest mean muzzle energy of the whole shot.
    pub muzzle_energy_at_most: Option<Text<Energy>>,
    /// Largest bullet diameter.
    pub calibre_at_most: Option<Text<Length>>,
    /// Smallest bullet diameter.
    pub calibre_at_least: Option<Text<Length>>,
    /// Heaviest bullet.
    pub bullet_at_most: Option<Text<Mass>>,
    /// Lowest power factor: grains × ft/s ÷ 1,000.
    pub power_factor_at_least: Option<Factor>,
    /// Highest power factor.
    pub power_factor_at_most: Option<Factor>,
    /// Greatest distance that these classes shoot over.
    pub distance_at_most: Option<Text<Length>>,
    /// The only cartridges that are admitted.
    #[serde(default)]
    pub cartridges: Vec<String>,
    /// Cartridges that are refused.
    #[serde(default)]
    pub cartridges_refused: Vec<String>,
    /// Constructions that are refused.
    #[serde(default)]
    pub refused: Vec<Construction>,
}

/// A power factor, as a number or as text: `125`, `"125"`.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Deserialize)]
#[serde(try_from = "toml::Value")]
pub struct Factor(pub f64);

impl TryFrom<toml::Value> for Factor {
    type Error = String;

    fn try_from(value: toml::Value) -> Result<Self, String> {
        let number = match &value {
            toml::Value::Integer(whole) => whole.to_string().parse().ok(),
            toml::Value::Float(number) => Some(*number),
            toml::Value::String(text) => text.trim().parse::<f64>().ok(),
            _ => None,
        };
        let number = number.filter(|n| n.is_finite() && *n > 0.0);
        number.map(Self).ok_or_else(|| {
            format!("a power factor of `{}`\nit is a number above 0: grains × ft/s ÷ 1000, such as 125", bare(&value))
        })
    }
}

fn bare(value: &toml::Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

/// All ammunition rules of a match.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Admission(pub Vec<Ammunition>);

fn above<Q: PartialOrd + Copy>(
    value: Q,
    limit: Option<Text<Q>>,
    name: &str,
    text: impl Fn(Q) -> String,
) -> Option<String> {
    let limit = limit?.0;
    (value > limit).then(|| format!("{name} {} above {}", text(value), text(limit)))
}

fn below<Q: PartialOrd + Copy>(
    value: Q,
    limit: Option<Text<Q>>,
    name: &str,
    text: impl Fn(Q) -> String,
) -> Option<String> {
    let limit = limit?.0;
    (value < limit).then(|| format!("{name} {} below {}", text(value), text(limit)))
}

/// Grains × ft/s ÷ 1,000, of one projectile.
#[must_use]
pub fn power_factor(load: &Load) -> f64 {
    power_factor_at(load, load.facts().muzzle_velocity)
}

fn power_factor_at(load: &Load, muzzle: Velocity) -> f64 {
    unit::GRAIN.value(load.facts().bullet) * unit::FOOT_PER_SECOND.value(muzzle) / 1000.0
}

fn diameter(diameter: Length, units: Units) -> String {
    match units {
        Units::Us => show(diameter, &unit::INCH, 3),
        Units::Si => show(diameter, &unit::MILLIMETRE, 2),
    }
}

impl Ammunition {
    /// What it admits, in words: `to 3000 ft/s, calibre to 0.338 in, no steel-core`.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let to = |what: &str, text: Option<String>| text.map(|t| format!("{what} {t}").trim().to_owned());
        let whole = if self.class.contains(&Class::Shot) { " of all pellets" } else { "" };
        let factor = |f: Factor| format!("{:.0}", f.0);
        let list = |names: &[String]| if names.is_empty() { None } else { Some(listed(names)) };
        let refused: Vec<String> = self.refused.iter().map(ToString::to_string).collect();
        let parts = [
            to("muzzle velocity to", self.muzzle_velocity_at_most.map(|t| units.speed_down(t.0))),
            to("muzzle velocity from", self.muzzle_velocity_at_least.map(|t| units.speed(t.0))),
            to("muzzle energy to", self.muzzle_energy_at_most.map(|t| format!("{}{whole}", units.energy(t.0)))),
            to("calibre to", self.calibre_at_most.map(|t| diameter(t.0, units))),
            to("calibre from", self.calibre_at_least.map(|t| diameter(t.0, units))),
            to("bullet to", self.bullet_at_most.map(|t| units.bullet(t.0))),
            to("power factor from", self.power_factor_at_least.map(factor)),
            to("power factor to", self.power_factor_at_most.map(factor)),
            to("distance to", self.distance_at_most.map(|t| units.distance_down(t.0))),
            to("only", list(&self.cartridges)),
            to("no", list(&self.cartridges_refused)),
            to("no", if refused.is_empty() { None } else { Some(refused.join(", no ")) }),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    pub(super) fn is_for(&self, class: Class) -> bool {
        self.class.is_empty() || self.class.contains(&class)
    }

    /// Whether it is for a load, by what fires it or by what it is judged as besides.
    pub(super) fn speaks_of(&self, load: &Load) -> bool {
        self.is_for(load.class()) || load.stricter().is_some_and(|other| self.is_for(other.class))
    }

    fn refusal(&self, load: &Load, muzzle: Velocity, catalog: &Catalog, units: Units) -> Option<String> {
        if !self.speaks_of(load) {
            return None;
        }
        self.construction(load)
            .or_else(|| self.numbers(load, muzzle, units))
            .or_else(|| self.calibre(load, units))
            .or_else(|| self.cartridge(load, catalog))
    }

    fn construction(&self, load: &Load) -> Option<String> {
        let (given, judged) = (load.facts().construction, load.judged_construction());
        if self.refused.contains(&given) {
            return Some(format!("construction {given} is refused"));
        }
        if self.refused.contains(&judged) {
            return Some(format!("construction {given} counts as {judged}, which is refused"));
        }
        // What is not known may be what is refused.
        let refused: Vec<String> = self.refused.iter().map(ToString::to_string).collect();
        (judged == Construction::Unknown && !refused.is_empty()).then(|| {
            format!(
                "its construction is not known, and {} is refused: hold a magnet to it and say",
                refused.join(" or ")
            )
        })
    }

    /// What is at most counts the muzzle velocity of the match's hottest powder, what is at least the one that is listed.
    fn numbers(&self, load: &Load, hot: Velocity, units: Units) -> Option<String> {
        let facts = load.facts();
        let day = if hot > facts.muzzle_velocity { " with the match's hottest powder" } else { "" };
        let speed = |v| units.speed(v);
        let (name, energy) = ("muzzle velocity", load.charge_energy(hot));
        let driven = |why: String| why + day;
        above(hot, self.muzzle_velocity_at_most, name, speed)
            .map(driven)
            .or_else(|| below(facts.muzzle_velocity, self.muzzle_velocity_at_least, name, speed))
            .or_else(|| above(energy, self.muzzle_energy_at_most, "muzzle energy", |e| units.energy(e)).map(driven))
            .or_else(|| above(facts.bullet, self.bullet_at_most, "bullet of", |m| units.bullet(m)))
            .or_else(|| {
                let (factor, most) = (power_factor_at(load, hot), self.power_factor_at_most?.0);
                (factor > most).then(|| format!("power factor {factor:.0} above {most:.0}{day}"))
            })
            .or_else(|| {
                let (factor, least) = (power_factor(load), self.power_factor_at_least?.0);
                (factor < least).then(|| format!("power factor {factor:.0} below {least:.0}"))
            })
    }

    fn calibre(&self, load: &Load, units: Units) -> Option<String> {
        if self.calibre_at_most.is_none() && self.calibre_at_least.is_none() {
            return None;
        }
        let Some(own) = load.facts().diameter else { return Some("its diameter is not known".into()) };
        let text = |d| diameter(d, units);
        above(own, self.calibre_at_most, "calibre", text).or_else(|| below(own, self.calibre_at_least, "calibre", text))
    }

    fn cartridge(&self, load: &Load, catalog: &Catalog) -> Option<String> {
        if self.cartridges.is_empty() && self.cartridges_refused.is_empty() {
            return None;
        }
        let Some(own) = &load.facts().cartridge else { return Some("its cartridge is not known".into()) };
        let is = |name: &String| {
            name.trim().eq_ignore_ascii_case(own.trim())
                || catalog
                    .family(name)
                    .is_ok_and(|family| family.iter().any(|e| e.load.facts().cartridge.as_ref() == Some(own)))
        };
        if !self.cartridges.is_empty() && !self.cartridges.iter().any(is) {
            return Some(format!("{own} is not one of the cartridges that are admitted"));
        }
        // A name that several share refuses the usual one at least, whatever else it is asked about.
        let usual = |name: &String| {
            let (named, own) = (Cartridge::called(name), Cartridge::called(own));
            named.zip(own).is_some_and(|(named, own)| named.name() == own.name())
        };
        if self.cartridges_refused.iter().any(|name| is(name) || usual(name)) {
            return Some(format!("{own} is refused"));
        }
        // What nothing lists may be what is refused, spelled otherwise.
        (!self.cartridges_refused.is_empty() && Cartridge::of(load).is_none())
            .then(|| format!("its cartridge `{own}` is not known, and {} is refused", listed(&self.cartridges_refused)))
    }
}

impl Admission {
    /// Why a load is refused; `None` where it is admitted. `hot` is its mean muzzle velocity with the hottest powder.
    #[must_use]
    pub fn refusal(&self, load: &Load, hot: Velocity, catalog: &Catalog, units: Units) -> Option<String> {
        self.0.iter().find_map(|rule| rule.refusal(load, hot, catalog, units))
    }

    /// Whether the match has ammunition rules, and none of them is for a class.
    #[must_use]
    pub fn is_silent_on(&self, class: Class) -> bool {
        !self.0.is_empty() && !self.0.iter().any(|rule| rule.is_for(class))
    }

    /// What the rules admit of a class, in words; none where no rule is for it.
    #[must_use]
    pub fn words(&self, class: Class, units: Units) -> Option<String> {
        let mine = self.0.iter().filter(|rule| rule.is_for(class)).map(|rule| rule.words(units));
        let mine: Vec<String> = mine.filter(|words| !words.is_empty()).collect();
        (!mine.is_empty()).then(|| mine.join(", "))
    }

    /// The greatest distance that a class shoots over, where a rule says so.
    #[must_use]
    pub fn farthest(&self, class: Class) -> Option<Length> {
        let limits = self.0.iter().filter(|r| r.is_for(class)).filter_map(|r| r.distance_at_most.map(|t| t.0));
        limits.reduce(|a, b| if b.si() < a.si() { b } else { a })
    }
}

#[cfg(test)]
mod tests;
