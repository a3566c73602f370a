//! How close.

use super::{ConditionsFacts, Curve, Finding, LoadFacts, OutlineFacts, PlateName, Preamble, SetupFacts};
use crate::load::Class;
use crate::quantity::{Energy, Length, Number, Si, Velocity};
use crate::rules::Verdict;
use crate::source::Diagnostic;
use serde::Serialize;

/// The inputs of `standoff` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct StandoffInputs {
    pub loads: Vec<LoadFacts>,
    pub plates: Vec<PlateName>,
    pub target: SetupFacts,
    pub conditions: ConditionsFacts,
}

/// What a closest distance means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum ClosestWhy {
    /// It suits from this distance on.
    At,
    /// It never suits, at any distance.
    Never,
    /// It is not known within the distance that bullets are followed.
    OutOfReach,
}

/// What a chart's cell says of a rule of the range's own: [`Closest::short`].
pub const OF_RANGE: &str = "range";

/// The closest distance of a load on a plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Closest {
    /// From which on it suits, in the air that was taken.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    /// From which on it is borderline or better, where that is nearer than [`Cell::nearest`]: as that, in all of the air.
    #[serde(rename = "borderline_m")]
    pub borderline: Option<Si<Length>>,
    /// Up to where that holds, where it never suits and is unsuitable beyond.
    #[serde(rename = "borderline_to_m")]
    pub borderline_to: Option<Si<Length>>,
    /// What the distance means.
    pub why: ClosestWhy,
    /// The rule that sets it in the air that was taken; [`Cell::nearest_by`] is of the distance to go by.
    pub by: Option<String>,
    /// The rule that would set it next.
    pub next: Option<String>,
    /// How near anyone may come in words, rounded up: [`Cell::nearest`]; `never`, `out of reach`.
    pub words: String,
    /// What sets that, in a word or two for a chart's cell: `speed`, `energy`, `distance`.
    pub short: String,
}

/// A load on a plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Cell {
    /// What the plate is called.
    pub label: String,
    /// The closest distance.
    pub closest: Closest,
    /// How near anyone may shoot it: from here on it suits, also at the bad end of the air that was not given. None where
    /// no distance is good in all of that air.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// Up to where it suits in all of that air, where that ends no farther than people shoot: a rule of the range's own, or
    /// the fall of the bullet. None where it suits as far as was looked.
    #[serde(rename = "farthest_m")]
    pub farthest: Option<Si<Length>>,
    /// Whether that is by a rule of the range's own.
    #[serde(skip)]
    pub farthest_of_range: bool,
    /// The rule that sets [`Cell::nearest`], or that forbids it where there is none.
    pub nearest_by: Option<String>,
    /// The verdict at the distance asked, where one was and the bullet reaches it.
    pub at: Option<Verdict>,
    /// The same, unsuitable where the bullet does not get there; where no distance was asked, the best that there is from
    /// anywhere in all of the air.
    pub verdict: Verdict,
    /// What is admitted at the nearest distance, for a tag or a distance table: the muzzle velocity that was judged.
    #[serde(rename = "ceiling_m_s")]
    pub ceiling_speed: Option<Si<Velocity>>,
    /// The energy at the muzzle that was judged.
    #[serde(rename = "ceiling_j")]
    pub ceiling_energy: Option<Si<Energy>>,
    /// Every rule that speaks of it there; only for one load on one plate, or where all was asked for.
    pub findings: Vec<Finding>,
}

/// A load on every plate asked.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct StandoffRow {
    /// The load's name in the list.
    pub load: String,
    /// What people call it.
    pub name: String,
    /// The class it is judged as.
    pub class: Class,
    /// How many loads stand behind it: one, or all that stand for a cartridge.
    pub loads: usize,
    /// The most projectiles in a shot of them: energies are of one.
    #[serde(skip)]
    pub projectiles: u32,
    /// One for each plate.
    pub plates: Vec<Cell>,
}

/// What a match of many shots does to one load on one plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MatchRisk {
    /// The speed ceiling at the plate.
    #[serde(rename = "ceiling_m_s")]
    pub ceiling: Si<Velocity>,
    /// The rule that sets it.
    pub rule: String,
    /// The distance the chance is given for.
    #[serde(rename = "at_m")]
    pub at: Si<Length>,
    /// The chance that at least one shot arrives above the ceiling: where not all of the air was given, in the air of it
    /// where it is greatest.
    pub chance: Number,
    /// The same in the air that was taken for what was not given.
    pub chance_in_air_taken: Number,
    /// The chance that is accepted.
    pub accepted: Number,
    /// The closest distance with no more than the accepted chance, in all of that air.
    #[serde(rename = "safe_m")]
    pub safe: Option<Si<Length>>,
    /// The whole in a sentence.
    pub words: String,
}

/// How close.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct StandoffAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<StandoffInputs>,
    /// The verdict that the exit status tells: of the distance asked, or whether there is a distance for every load.
    pub verdict: Verdict,
    /// The distance that verdicts were asked at.
    #[serde(rename = "at_m")]
    pub at: Option<Si<Length>>,
    /// The air that the nearest distances hold for, where not all of it was given: `0 to 6000 ft at -10 to 100 °F`.
    pub nearest_up_to: Option<String>,
    /// One for each load.
    pub rows: Vec<StandoffRow>,
    /// What a match of many shots does, where it was asked.
    pub match_risk: Option<MatchRisk>,
    /// Why no load has a distance on any of the plates, and what to give; none where one has. A sheet would have no row.
    #[serde(skip)]
    pub none: Option<Diagnostic>,
    /// What was read of a drawing.
    pub outline: Option<OutlineFacts>,
    /// The flight of a single load, for a figure.
    pub curve: Option<Curve>,
}
