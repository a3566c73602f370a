//! The plate: its thickness and the ladder of thicknesses, its face, and how it is held and used.

mod chain;
mod face;
mod kind;
mod label;
mod ladder;
mod steels;

pub use crate::outline::{
    Bounds, Contour, ContourError, Corner, Hole, MAX_POINTS, Outline, OutlineError, Point, Ring, Section, Thin,
    Thinnest, Vertex, Web,
};
pub use chain::ChainError;
pub(crate) use face::two_sizes;
pub use face::{Face, FaceError};
pub use kind::KindError;
pub use label::{size_alone, sizes_named};
pub use ladder::{Ladder, MAX_PLATES, Plate, PlateError, PlateNote, same_thickness};
pub use ladder::{SCHEMA as PLATES_SCHEMA, keys};
pub use steels::{damage_named, holes_named, is_abbreviated, other_steel, steel_named};

use crate::quantity::text_form;
use serde::{Deserialize, Serialize};

/// Density of plate steel, 7850 kg/m³ (490 lb/ft³; Iowa DOT IM 569, IM 452.02).
pub const STEEL_KG_M3: f64 = 7850.0;
/// The trade's mass of plate, 40.8 lb/ft² per inch of thickness (Iowa DOT IM 569).
pub const TRADE_LB_FT2_IN: f64 = 40.8;

/// What steel a plate is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Steel {
    /// Abrasion-resistant plate of 470 to 540 HB, as targets are cut from.
    #[serde(rename = "AR500", alias = "ar500")]
    Ar500,
    /// Abrasion-resistant plate of about 550 HB: harder, and more brittle.
    #[serde(rename = "AR550", alias = "ar550")]
    Ar550,
    /// Abrasion-resistant plate of about 400 HB: softer.
    #[serde(rename = "AR400", alias = "ar400")]
    Ar400,
    /// Not known.
    Unknown,
    /// Known to be another steel.
    Other,
}

/// The state a plate is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Condition {
    /// Looked over and flat, without pits, craters or cracks.
    Sound,
    /// Not looked over.
    Unknown,
    /// Pits in the face, to 1/16 in deep; deeper ones are craters.
    Pitted,
    /// Craters in the face.
    Cratered,
    /// A crack, at a hole, an edge or anywhere.
    Cracked,
    /// Holed through.
    Holed,
    /// Bowed or dished.
    Bowed,
}

/// How a plate is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Mount {
    /// Hung from open hooks: free, and it can leave them.
    OpenHook,
    /// Hung from closed hooks or links: free, and it stays.
    CaptiveHook,
    /// Hung from chain.
    Chain,
    /// Bolted rigid to a post or frame.
    Bolted,
    /// Held by a bracket welded to the plate.
    Welded,
}

/// What a plate goes through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Duty {
    /// A few shooters, some days a month.
    Private,
    /// Matches: many hits in a day.
    Match,
    /// A public range: every load, every day.
    Public,
}

/// What kind of target a plate is, as far as a hit may topple it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A plate that hangs or stands and stays.
    Plate,
    /// A falling plate: it stands on a base and tips about its rear edge.
    Falling,
    /// A popper: it tips about a hinge.
    Popper,
    /// A plate that spins about an axle.
    Spinner,
}

text_form!(Steel, Condition, Mount, Duty, Kind);

impl Mount {
    /// Whether the plate hangs free and swings.
    #[must_use]
    pub fn is_free(self) -> bool {
        matches!(self, Self::OpenHook | Self::CaptiveHook | Self::Chain)
    }

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OpenHook => "hung from open hooks",
            Self::CaptiveHook => "hung from captive hooks",
            Self::Chain => "hung from chain",
            Self::Bolted => "bolted rigid",
            Self::Welded => "on a welded bracket",
        }
    }
}
