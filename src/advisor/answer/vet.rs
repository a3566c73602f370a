//! Does this load suit this target.

use super::{
    ConditionsFacts, Curve, Finding, LoadFacts, OutlineFacts, PlateName, Preamble, RoundFacts, SetupFacts, StrikeRow,
    Topple,
};
use crate::load::Construction;
use crate::plate::{Condition, Mount, Steel};
use crate::quantity::{Degrees, Length, Number, Si, Velocity};
use crate::rules::Verdict;
use serde::Serialize;

/// The inputs of `vet` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct VetInputs {
    /// The load judged; of any ammunition of a cartridge, the worst.
    pub load: LoadFacts,
    /// How many loads stand behind it: one, or all that stand for a cartridge.
    pub loads: usize,
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    pub plate: PlateName,
    pub target: SetupFacts,
    pub conditions: ConditionsFacts,
}

/// What would make a load suit, one change at a time; what is absent would not.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WouldSuit {
    /// From this distance on.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    /// From this distance on, also at the bad end of the air that was not given.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// From this distance to the next alone, where it was asked from too far, or falls too steeply before twice the
    /// nearest.
    #[serde(rename = "between_m")]
    pub between: Option<Si<Length>>,
    /// The farther of the two.
    #[serde(rename = "and_m")]
    pub and: Option<Si<Length>>,
    /// On this plate.
    pub plate: Option<PlateName>,
    /// With this bullet at no more than this from the muzzle.
    #[serde(rename = "muzzle_velocity_m_s")]
    pub muzzle_velocity: Option<Si<Velocity>>,
    /// With the face leaning so toward the shooter, away where it is below zero.
    #[serde(rename = "tilt_deg")]
    pub tilt: Option<Degrees>,
    /// With the face turned no more than this.
    #[serde(rename = "oblique_deg")]
    pub oblique: Option<Degrees>,
    /// Held so.
    pub mount: Option<Mount>,
    /// In this state.
    pub condition: Option<Condition>,
    /// Of this steel.
    pub steel: Option<Steel>,
    /// With bullets so made.
    pub construction: Option<Construction>,
    /// With all of these together, where none alone would do.
    pub together: Option<Changes>,
    /// Whether it would suit in the air that was taken alone, and not in all the air that was not given.
    pub in_the_air_taken_alone: bool,
    /// The same in words, one sentence each.
    pub words: Vec<String>,
}

/// Changes that make a load suit together.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // As the keys of the same names in `WouldSuit`.
pub struct Changes {
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    pub plate: Option<PlateName>,
    pub condition: Option<Condition>,
    pub steel: Option<Steel>,
    pub mount: Option<Mount>,
    #[serde(rename = "tilt_deg")]
    pub tilt: Option<Degrees>,
    #[serde(rename = "oblique_deg")]
    pub oblique: Option<Degrees>,
    pub construction: Option<Construction>,
    /// The same in words: `hang a sound plate and shoot it from 100 yd or farther`.
    pub words: String,
}

/// Does this load suit this target.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct VetAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<VetInputs>,
    /// The verdict of the air that was taken.
    pub verdict: Verdict,
    /// The rule that governs it.
    pub governed_by: Option<String>,
    /// Share of that rule's limit to spare, negative where it is passed.
    pub margin: Option<Number>,
    /// Every rule that speaks of the case, the worst first.
    pub findings: Vec<Finding>,
    /// What arrives.
    pub strike: StrikeRow,
    /// What would make it suit.
    pub would_suit: WouldSuit,
    /// Whether the slow shot topples a standing plate, where that was asked.
    pub topple: Option<Topple>,
    /// What was read of a drawing.
    pub outline: Option<OutlineFacts>,
    /// The face where it is round, for a figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round: Option<RoundFacts>,
    /// The flight, for a figure.
    pub curve: Option<Curve>,
}
