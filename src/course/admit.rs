//! A match's ammunition rules: what may be brought.

use crate::catalog::Catalog;
use crate::load::{Class, Construction, Load};
use crate::quantity::{Energy, Length, Mass, Measure, Text, Velocity, show, unit};
use serde::Deserialize;

/// One ammunition rule; what is not given is not limited.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ammunition {
    /// Classes it is for; all where none is named.
    #[serde(default)]
    pub class: Vec<Class>,
    /// Highest mean muzzle velocity.
    pub muzzle_velocity_at_most: Option<Text<Velocity>>,
    /// Lowest mean muzzle velocity.
    pub muzzle_velocity_at_least: Option<Text<Velocity>>,
    /// Highest mean muzzle energy of one projectile.
    pub muzzle_energy_at_most: Option<Text<Energy>>,
    /// Largest bullet diameter.
    pub calibre_at_most: Option<Text<Length>>,
    /// Smallest bullet diameter.
    pub calibre_at_least: Option<Text<Length>>,
    /// Heaviest bullet.
    pub bullet_at_most: Option<Text<Mass>>,
    /// Lowest power factor: grains × ft/s ÷ 1,000.
    pub power_factor_at_least: Option<f64>,
    /// Highest power factor.
    pub power_factor_at_most: Option<f64>,
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
    unit::GRAIN.value(load.facts().bullet) * unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity) / 1000.0
}

impl Ammunition {
    pub(super) fn is_for(&self, class: Class) -> bool {
        self.class.is_empty() || self.class.contains(&class)
    }

    /// Whether it is for a load, by what fires it or by what it is judged as besides.
    pub(super) fn speaks_of(&self, load: &Load) -> bool {
        self.is_for(load.class()) || load.stricter().is_some_and(|other| self.is_for(other.class))
    }

    fn refusal(&self, load: &Load, catalog: &Catalog) -> Option<String> {
        if !self.speaks_of(load) {
            return None;
        }
        self.construction(load)
            .or_else(|| self.numbers(load))
            .or_else(|| self.calibre(load))
            .or_else(|| self.cartridge(load, catalog))
    }

    fn construction(&self, load: &Load) -> Option<String> {
        let (given, judged) = (load.facts().construction, load.judged_construction());
        if self.refused.contains(&given) {
            return Some(format!("construction {given} is refused"));
        }
        self.refused.contains(&judged).then(|| format!("construction {given} counts as {judged}, which is refused"))
    }

    fn numbers(&self, load: &Load) -> Option<String> {
        let facts = load.facts();
        let speed = |v| show(v, &unit::FOOT_PER_SECOND, 0);
        let factor = power_factor(load);
        let name = "muzzle velocity";
        above(facts.muzzle_velocity, self.muzzle_velocity_at_most, name, speed)
            .or_else(|| below(facts.muzzle_velocity, self.muzzle_velocity_at_least, name, speed))
            .or_else(|| {
                above(load.muzzle_energy(), self.muzzle_energy_at_most, "muzzle energy", |e| {
                    show(e, &unit::FOOT_POUND, 0)
                })
            })
            .or_else(|| above(facts.bullet, self.bullet_at_most, "bullet of", |m| show(m, &unit::GRAIN, 0)))
            .or_else(|| {
                let most = self.power_factor_at_most.filter(|most| factor > *most)?;
                Some(format!("power factor {factor:.0} above {most:.0}"))
            })
            .or_else(|| {
                let least = self.power_factor_at_least.filter(|least| factor < *least)?;
                Some(format!("power factor {factor:.0} below {least:.0}"))
            })
    }

    fn calibre(&self, load: &Load) -> Option<String> {
        if self.calibre_at_most.is_none() && self.calibre_at_least.is_none() {
            return None;
        }
        let Some(diameter) = load.facts().diameter else { return Some("its diameter is not known".into()) };
        let text = |d| show(d, &unit::INCH, 3);
        above(diameter, self.calibre_at_most, "calibre", text)
            .or_else(|| below(diameter, self.calibre_at_least, "calibre", text))
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
        self.cartridges_refused.iter().any(is).then(|| format!("{own} is refused"))
    }
}

impl Admission {
    /// Why a load is refused; `None` where it is admitted.
    #[must_use]
    pub fn refusal(&self, load: &Load, catalog: &Catalog) -> Option<String> {
        self.0.iter().find_map(|rule| rule.refusal(load, catalog))
    }

    /// The greatest distance that a class shoots over, where a rule says so.
    #[must_use]
    pub fn farthest(&self, class: Class) -> Option<Length> {
        let limits = self.0.iter().filter(|r| r.is_for(class)).filter_map(|r| r.distance_at_most.map(|t| t.0));
        limits.reduce(|a, b| if b.si() < a.si() { b } else { a })
    }
}
