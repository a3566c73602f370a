//! One rule: what it speaks of, when it applies, and what it allows.

use crate::load::{Class, Construction};
use crate::plate::{Condition, Duty, Mount, Steel};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::sync::Arc;

/// What a plate, a load or a distance is found to be; the worst finding wins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Within every rule.
    Suits,
    /// Past a rule's comfort, or something is not known.
    Borderline,
    /// Beyond a rule.
    Unsuitable,
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Suits => "suits",
            Self::Borderline => "borderline",
            Self::Unsuitable => "unsuitable",
        })
    }
}

/// How well a number is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub enum Basis {
    /// In print; the source names where.
    #[serde(rename = "published")]
    Published,
    /// A habit of the trade.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// Follows from something in print.
    #[serde(rename = "derived")]
    Derived,
    /// Ours.
    #[serde(rename = "house assumption")]
    HouseAssumption,
    /// The range's own, from the file given.
    #[serde(rename = "range rule")]
    RangeRule,
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Published => "published",
            Self::CommonPractice => "common practice",
            Self::Derived => "derived",
            Self::HouseAssumption => "house assumption",
            Self::RangeRule => "range rule",
        })
    }
}

/// What a rule speaks of. The subject fixes the unit, and which shot is judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// Distance from the firing point to the plate.
    Distance,
    /// Speed of the fast shot at the plate.
    ImpactSpeed,
    /// Speed of the slow shot at the plate.
    SlowSpeed,
    /// Mean velocity at the muzzle.
    MuzzleSpeed,
    /// Mean energy of one projectile at the muzzle.
    MuzzleEnergy,
    /// Diameter of one projectile.
    Calibre,
    /// Thickness of the plate.
    Thickness,
    /// Energy of the fast shot at the plate, all projectiles, with the factors.
    Energy,
    /// Demand of the fast shot on the plate as a share of its thickness, one projectile, with the factors.
    Demand,
    /// Lean of the face toward the arriving bullet.
    Lean,
    /// Turn of the face sideways.
    Oblique,
    /// The case as a whole: what the filters say.
    Case,
    /// Factor on energy and demand for what the plate goes through.
    DutyFactor,
    /// Factor on energy and demand for how the plate is held.
    MountFactor,
    /// Factor on energy and demand for a small face.
    FaceFactor,
}

impl Subject {
    /// What people call it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Distance => "distance",
            Self::ImpactSpeed => "impact speed, fast shot",
            Self::SlowSpeed => "impact speed, slow shot",
            Self::MuzzleSpeed => "muzzle velocity",
            Self::MuzzleEnergy => "muzzle energy",
            Self::Calibre => "calibre",
            Self::Thickness => "thickness",
            Self::Energy => "energy, fast shot",
            Self::Demand => "demand, fast shot",
            Self::Lean => "lean of the face",
            Self::Oblique => "turn of the face",
            Self::Case => "case",
            Self::DutyFactor => "duty factor",
            Self::MountFactor => "mount factor",
            Self::FaceFactor => "small-face factor",
        }
    }

    /// Whether it changes with distance.
    #[must_use]
    pub fn moves(self) -> bool {
        matches!(self, Self::Distance | Self::ImpactSpeed | Self::SlowSpeed | Self::Energy | Self::Demand | Self::Lean)
    }

    /// Whether it weighs the hit against the plate, so that its margin says how much is in hand.
    #[must_use]
    pub fn weighs(self) -> bool {
        matches!(self, Self::ImpactSpeed | Self::Energy | Self::Demand)
    }
}

/// Which side of a limit is good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The value may be at most the limit.
    AtMost,
    /// The value must be at least the limit.
    AtLeast,
}

/// What a rule does where it applies. Numbers are SI in the subject's quantity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sense {
    /// A limit: past `suits` borderline, past `borderline` unsuitable.
    Limit {
        /// Which side is good.
        side: Side,
        /// The last value that suits.
        suits: f64,
        /// The last value that is borderline; equal to `suits` where there is no middle ground.
        borderline: f64,
    },
    /// A fixed verdict.
    Outcome(Verdict),
    /// A fixed factor.
    Factor(f64),
    /// A factor 1 + (below − w)/per for a face narrower than `below`.
    NarrowFactor {
        /// Narrowest width from which the factor is 1, metres.
        below: f64,
        /// Width per unit of factor, metres.
        per: f64,
    },
    /// Something to say, never a verdict; fires beyond these values of the subject.
    Caution {
        /// Fires below this value.
        below: Option<f64>,
        /// Fires above this value.
        above: Option<f64>,
    },
}

/// When a rule applies; what is empty applies always. Numbers are SI.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filter {
    /// Classes of load.
    pub class: Vec<Class>,
    /// Constructions, as judged.
    pub construction: Vec<Construction>,
    /// Mounts.
    pub mount: Vec<Mount>,
    /// Duties.
    pub duty: Vec<Duty>,
    /// Plate conditions.
    pub condition: Vec<Condition>,
    /// Steels.
    pub steel: Vec<Steel>,
    /// Plates from this thickness.
    pub thickness_from: Option<f64>,
    /// Plates thinner than this.
    pub thickness_below: Option<f64>,
    /// Mean muzzle velocity above this.
    pub muzzle_speed_above: Option<f64>,
    /// Mean muzzle velocity up to this.
    pub muzzle_speed_at_most: Option<f64>,
    /// Mean muzzle energy of one projectile above this.
    pub muzzle_energy_above: Option<f64>,
    /// Mean muzzle energy of one projectile up to this.
    pub muzzle_energy_at_most: Option<f64>,
    /// Only nearer than this.
    pub within: Option<f64>,
    /// Only where the tilt was said, or was not.
    pub tilt_given: Option<bool>,
}

/// What a filter is matched against. Numbers are SI.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case {
    /// The class it is called by and the one it is judged as besides.
    pub classes: [Class; 2],
    pub construction: Construction,
    pub mount: Mount,
    pub duty: Duty,
    pub condition: Condition,
    pub steel: Steel,
    pub thickness: f64,
    pub muzzle_speed: f64,
    pub muzzle_energy: f64,
    pub tilt_given: bool,
}

/// Relative slack of every comparison, so that 3,000 ft/s is 3,000 ft/s in any unit.
pub const SLACK: f64 = 1e-9;

/// Whether `value` is at most `limit`, with the slack.
#[must_use]
pub fn at_most(value: f64, limit: f64) -> bool {
    value <= limit + SLACK * limit.abs()
}

/// Whether `value` is at least `limit`, with the slack.
#[must_use]
pub fn at_least(value: f64, limit: f64) -> bool {
    value >= limit - SLACK * limit.abs()
}

fn lists<T: PartialEq>(list: &[T], value: &T) -> bool {
    list.is_empty() || list.contains(value)
}

impl Filter {
    /// Whether the case is one this rule speaks of, distance left open.
    pub(crate) fn admits(&self, case: &Case) -> bool {
        case.classes.iter().any(|class| lists(&self.class, class))
            && lists(&self.construction, &case.construction)
            && lists(&self.mount, &case.mount)
            && lists(&self.duty, &case.duty)
            && lists(&self.condition, &case.condition)
            && lists(&self.steel, &case.steel)
            && self.thickness_from.is_none_or(|t| at_least(case.thickness, t))
            && self.thickness_below.is_none_or(|t| !at_least(case.thickness, t))
            && self.muzzle_speed_above.is_none_or(|v| !at_most(case.muzzle_speed, v))
            && self.muzzle_speed_at_most.is_none_or(|v| at_most(case.muzzle_speed, v))
            && self.muzzle_energy_above.is_none_or(|e| !at_most(case.muzzle_energy, e))
            && self.muzzle_energy_at_most.is_none_or(|e| at_most(case.muzzle_energy, e))
            && self.tilt_given.is_none_or(|said| said == case.tilt_given)
    }
}

/// A rule, whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// Its stable name.
    pub id: String,
    /// What it speaks of.
    pub subject: Subject,
    /// What it allows.
    pub sense: Sense,
    /// When it applies.
    pub filter: Filter,
    /// Why, in words for people.
    pub why: String,
    /// What to do where it is not met.
    pub next: String,
    /// How well it is founded.
    pub basis: Basis,
    /// Where it comes from.
    pub source: String,
    /// The name of the overlay it came with; `None` for a house rule.
    pub overlay: Option<Arc<str>>,
}
