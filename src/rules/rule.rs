//! One rule: what it speaks of, when it applies, and what it allows.

use super::filter::Filter;
use super::subject::Subject;
use super::value::Value;
use crate::quantity::{Length, Ratio};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::sync::Arc;

/// What a plate, a load or a distance is found to be; the worst finding wins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// Which side of a limit is good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The value may be at most the limit.
    AtMost,
    /// The value must be at least the limit.
    AtLeast,
}

/// What a rule does where it applies. A value is one of the rule's subject.
#[derive(Debug, Clone, PartialEq)]
pub enum Sense {
    /// A limit: past `suits` borderline, past `borderline` unsuitable.
    Limit {
        /// Which side is good.
        side: Side,
        /// The last value that suits.
        suits: Value,
        /// The last value that is borderline; equal to `suits` where there is no middle ground.
        borderline: Value,
    },
    /// A limit at most, that grows with the plate's thickness by straight line in log–log.
    ByThickness {
        /// The last values that suit, from thin to thick.
        steps: Vec<Step>,
        /// The last value that is borderline, as a share of the one that suits.
        borderline: Ratio,
    },
    /// A fixed verdict.
    Outcome(Verdict),
    /// A fixed verdict where so many different concerns are borderline at once.
    Together {
        /// How many.
        concerns: u32,
        /// The verdict.
        outcome: Verdict,
    },
    /// A fixed factor.
    Factor(f64),
    /// A factor 1 + (below − w)/per for a face narrower than `below`.
    NarrowFactor {
        /// Narrowest width from which the factor is 1.
        below: Length,
        /// Width per unit of factor.
        per: Length,
    },
    /// Something to say, never a verdict; fires beyond these values of the subject.
    Caution {
        /// Fires below this value.
        below: Option<Value>,
        /// Fires above this value.
        above: Option<Value>,
    },
}

/// The limit at a thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Nominal thickness of the plate.
    pub thickness: Length,
    /// The last value that suits.
    pub suits: Value,
}

/// What a borderline finding is about: two of different kinds at once are unsuitable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Concern {
    /// How near it is shot.
    Distance,
    /// How the face leans.
    Lean,
    /// How the face is turned.
    Turn,
    /// What steel it is.
    Steel,
    /// What the bullet is made of.
    Construction,
    /// Pits in the face.
    Pits,
    /// A welded bracket.
    Weld,
}

impl Concern {
    /// Every one.
    pub const ALL: [Self; 7] =
        [Self::Distance, Self::Lean, Self::Turn, Self::Steel, Self::Construction, Self::Pits, Self::Weld];

    /// What is borderline, in words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Distance => "the distance",
            Self::Lean => "the lean",
            Self::Turn => "the turn",
            Self::Steel => "the steel",
            Self::Construction => "the bullet",
            Self::Pits => "the plate's condition",
            Self::Weld => "the mount",
        }
    }

    /// A bit of its own.
    pub(super) fn bit(self) -> u8 {
        1 << self as u8
    }

    /// The concern of a rule that does not name one.
    pub(super) fn of(subject: Subject, filter: &Filter) -> Option<Self> {
        match subject {
            Subject::Distance => Some(Self::Distance),
            Subject::Lean => Some(Self::Lean),
            Subject::Oblique => Some(Self::Turn),
            Subject::Case if !filter.construction.is_empty() => Some(Self::Construction),
            Subject::Case if !filter.steel.is_empty() => Some(Self::Steel),
            Subject::Case if !filter.condition.is_empty() => Some(Self::Pits),
            Subject::Case if !filter.mount.is_empty() => Some(Self::Weld),
            _ => None,
        }
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
    /// What it is about, where a borderline finding of it adds to others.
    pub concern: Option<Concern>,
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

impl Rule {
    /// Whether a plate of another thickness changes what it says.
    #[must_use]
    pub fn is_plates_own(&self) -> bool {
        let by_thickness = self.filter.thickness_from.is_some() || self.filter.thickness_below.is_some();
        self.subject.is_plates_own() || by_thickness
    }

    /// Whether a range asks it of plates or of how they stand, and not of loads alone.
    pub(super) fn asks_of_the_stand(&self) -> bool {
        use Subject::{HangsBy, Lean, Oblique, Thickness, Width};
        let of_the_stand = matches!(self.subject, Thickness | Width | HangsBy | Lean | Oblique);
        self.overlay.is_some() && (of_the_stand || !self.filter.admits_any_plate())
    }

    /// Its name among the rules of all ranges: `Gravel Pit Rifle Club: rifle-distance`; a house rule's id alone.
    #[must_use]
    pub fn qualified_id(&self) -> String {
        self.overlay.as_ref().map_or_else(|| self.id.clone(), |range| format!("{range}: {}", self.id))
    }
}
