//! A match's ammunition rules: what may be brought.

use crate::load::{Class, Construction, Load};
use crate::quantity::{Energy, Length, Mass, Text, Velocity, show, unit};
use serde::Deserialize;

/// One ammunition rule; what is not said is not limited.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Ammunition {
    /// Classes it is for; all where none is named.
    #[serde(default)]
    pub class: Vec<Class>,
    /// Highest mean muzzle velocity.
    pub muzzle_velocity_at_most: Option<Text<Velocity>>,
    /// Highest mean muzzle energy of one projectile.
    pub muzzle_energy_at_most: Option<Text<Energy>>,
    /// Largest bullet diameter.
    pub calibre_at_most: Option<Text<Length>>,
    /// Heaviest bullet.
    pub bullet_at_most: Option<Text<Mass>>,
    /// Constructions that are refused.
    #[serde(default)]
    pub refused: Vec<Construction>,
}

/// All ammunition rules of a match.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Admission(pub Vec<Ammunition>);

fn within<Q: PartialOrd + Copy>(
    value: Q,
    limit: Option<Text<Q>>,
    name: &str,
    text: impl Fn(Q) -> String,
) -> Option<String> {
    let limit = limit?.0;
    (value > limit).then(|| format!("{name} {} above {}", text(value), text(limit)))
}

impl Ammunition {
    pub(super) fn is_for(&self, class: Class) -> bool {
        self.class.is_empty() || self.class.contains(&class)
    }

    fn refusal(&self, load: &Load) -> Option<String> {
        let facts = load.facts();
        if !self.is_for(load.class()) {
            return None;
        }
        let (said, judged) = (facts.construction, load.judged_construction());
        if self.refused.contains(&said) {
            return Some(format!("construction {said} is refused"));
        }
        if self.refused.contains(&judged) {
            return Some(format!("construction {said} counts as {judged}, which is refused"));
        }
        let speed = within(facts.muzzle_velocity, self.muzzle_velocity_at_most, "muzzle velocity", |v| {
            show(v, &unit::FOOT_PER_SECOND, 0)
        });
        let energy = || {
            within(load.muzzle_energy(), self.muzzle_energy_at_most, "muzzle energy", |e| show(e, &unit::FOOT_POUND, 0))
        };
        let bullet = || within(facts.bullet, self.bullet_at_most, "bullet of", |m| show(m, &unit::GRAIN, 0));
        let calibre = || match (self.calibre_at_most, facts.diameter) {
            (Some(_), None) => Some("its diameter is not known".to_owned()),
            (limit, Some(diameter)) => within(diameter, limit, "calibre", |d| show(d, &unit::INCH, 3)),
            (None, None) => None,
        };
        speed.or_else(energy).or_else(bullet).or_else(calibre)
    }
}

impl Admission {
    /// Why a load is refused; `None` where it is admitted.
    #[must_use]
    pub fn refusal(&self, load: &Load) -> Option<String> {
        self.0.iter().find_map(|rule| rule.refusal(load))
    }
}
