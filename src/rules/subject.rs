//! What a rule speaks of.

use super::value::Value;
use crate::quantity::{Angle, Energy, Length, Measure, Ratio, Velocity};
use serde::{Deserialize, Serialize};

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
    /// Mean velocity at the muzzle; the most of it with the powder at the hot end of the day.
    MuzzleSpeed,
    /// Mean energy of the whole shot at the muzzle, all its projectiles; the most of it likewise.
    MuzzleEnergy,
    /// Diameter of one projectile.
    Calibre,
    /// Thickness of the plate.
    Thickness,
    /// Narrowest width of the face.
    Width,
    /// The least steel that a drawn plate hangs by.
    HangsBy,
    /// Energy of the fast shot at the plate, one projectile; the limit is divided by the factors.
    Energy,
    /// Demand of the fast shot on the plate as a share of its thickness, one projectile; the limit is divided by the
    /// factors.
    Demand,
    /// Lean of the face: the least is measured to the line of sight, and the bullet's fall does not count toward it;
    /// the greatest is measured to the arriving bullet, its fall included.
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
            Self::MuzzleSpeed => "mean muzzle velocity",
            Self::MuzzleEnergy => "mean muzzle energy",
            Self::Calibre => "calibre",
            Self::Thickness => "thickness",
            Self::Width => "narrowest width",
            Self::HangsBy => "steel it hangs by",
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

    /// Whether it weighs the hit against the plate, so that its margin says how much there is to spare.
    #[must_use]
    pub fn weighs(self) -> bool {
        matches!(self, Self::ImpactSpeed | Self::Energy | Self::Demand)
    }

    /// Whether it is of what the plate itself must hold: a thicker plate changes it.
    #[must_use]
    pub fn is_plates_own(self) -> bool {
        matches!(self, Self::Energy | Self::Demand | Self::Thickness)
    }
}

impl Subject {
    /// A number in SI as a value of this subject; `None` for the case as a whole, which has none.
    #[must_use]
    pub fn value(self, si: f64) -> Option<Value> {
        Some(match self {
            Self::Distance | Self::Thickness | Self::Width | Self::HangsBy | Self::Calibre => {
                Value::Length(Length::from_si(si))
            }
            Self::ImpactSpeed | Self::SlowSpeed | Self::MuzzleSpeed => Value::Velocity(Velocity::from_si(si)),
            Self::Energy | Self::MuzzleEnergy => Value::Energy(Energy::from_si(si)),
            Self::Lean | Self::Oblique => Value::Angle(Angle::from_si(si)),
            Self::Demand | Self::DutyFactor | Self::MountFactor | Self::FaceFactor => Value::Share(Ratio::from_si(si)),
            Self::Case => return None,
        })
    }
}
