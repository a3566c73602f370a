//! Which plate.

use super::{
    ConditionsFacts, Curve, CutPlan, Finding, LoadFacts, Material, OutlineFacts, Piece, PlateName, Preamble, Reaction,
    RoundFacts, SetupFacts, StrikeRow, Together,
};
use crate::quantity::{Length, Mass, Number, Si, Velocity};
use crate::rules::Verdict;
use serde::Serialize;

/// A load at a distance on a target, as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct Line {
    pub load: LoadFacts,
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    /// Name of the target; empty where there is one without a name.
    pub target: String,
}

/// A target as understood, and what loads are flown in to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct TargetFacts {
    pub name: String,
    pub target: SetupFacts,
    pub conditions: ConditionsFacts,
}

/// The inputs of `advise` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct AdviseInputs {
    pub lines: Vec<Line>,
    pub targets: Vec<TargetFacts>,
    /// How many pieces are wanted.
    pub quantity: u32,
    /// The shop's product, where one was named.
    pub product: Option<String>,
    /// The shop's name, where its file was given.
    pub shop: Option<String>,
}

/// One plate of the ladder.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PlateChoice {
    /// What it is called.
    pub label: String,
    /// Its thickness.
    #[serde(rename = "thickness_m")]
    pub thickness: Si<Length>,
    /// The worst verdict of every load asked, excluded ones included.
    pub verdict: Verdict,
    /// The worst verdict of the loads that are left, where some are excluded.
    pub verdict_for_the_rest: Option<Verdict>,
    /// From here on it suits every load asked, excluded ones included, also at the bad end of the air that was not given.
    /// None where one of them is good from nowhere.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// Mass of one piece; of one of each where there are several targets.
    #[serde(rename = "mass_kg")]
    pub mass: Option<Si<Mass>>,
    /// The margin of what governs every load asked.
    pub margin: Option<Number>,
    /// The margin of what governs the loads that are left, where some are excluded.
    pub margin_for_the_rest: Option<Number>,
    /// The rule that governs every load asked.
    pub governed_by: Option<String>,
    /// The margin of what the plate itself must hold, of the loads that are left.
    pub plate_margin: Option<Number>,
    /// The nearest limit of the loads that are left, in words: `energy 2442 of 700 ft·lbf`.
    pub nearest_limit: String,
    /// The same without the factors of the limit.
    #[serde(skip)]
    pub nearest_limit_brief: String,
    /// Every rule that speaks of the loads that are left on this plate.
    pub findings: Vec<Finding>,
    /// What the hits do to it, where it hangs free; of the first target.
    pub reaction: Option<Reaction>,
    /// What it is as material; of the first target.
    pub material: Option<Material>,
    /// The same of each target, where there are several.
    pub pieces: Vec<Piece>,
    /// All of them together.
    pub together: Option<Together>,
}

impl PlateChoice {
    /// The worst verdict of the loads that are left: of all where none is excluded.
    #[must_use]
    pub fn verdict_of_the_left(&self) -> Verdict {
        self.verdict_for_the_rest.unwrap_or(self.verdict)
    }

    /// The margin of what governs them.
    #[must_use]
    pub fn margin_of_the_left(&self) -> Option<Number> {
        if self.verdict_for_the_rest.is_some() { self.margin_for_the_rest } else { self.margin }
    }
}

/// A line of the inquiry that no plate takes, and what would.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Excluded {
    /// Its place in the inquiry's lines.
    pub line: usize,
    /// Load, distance and target in words.
    pub case: String,
    /// The best verdict any plate gives it.
    pub verdict: Verdict,
    /// Why, in words.
    pub why: String,
}

/// What would make a line suit that no plate takes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Remedy {
    /// Load, distance and target in words.
    pub case: String,
    /// From this distance on.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    /// From this distance on, also at the bad end of the air that was not given.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// Up to where it suits there, where that ends as far as it is looked for.
    #[serde(rename = "farthest_m")]
    pub farthest: Option<Si<Length>>,
    /// On this plate.
    pub distance_plate: Option<String>,
    /// With this bullet at no more than this from the muzzle.
    #[serde(rename = "muzzle_velocity_m_s")]
    pub muzzle_velocity: Option<Si<Velocity>>,
    /// On this plate.
    pub muzzle_velocity_plate: Option<String>,
    /// The same in words.
    pub words: String,
}

/// How near anyone may come with a load: from there on it suits, also at the bad end of the air that was not given.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct NearestOf {
    /// What people call it.
    pub name: String,
    /// Name of the target.
    pub target: String,
    /// On this plate: the one that is named, else the one that takes it from nearest.
    pub plate: Option<String>,
    /// The distance; none where no distance is good.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// Up to where it suits, where that ends as far as it is looked for.
    #[serde(rename = "farthest_m")]
    pub farthest: Option<Si<Length>>,
}

/// Which plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct AdviseAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<AdviseInputs>,
    /// Of the whole inquiry in the air that was taken: a load that no plate takes makes it unsuitable.
    pub verdict: Verdict,
    /// The thinnest plate that suits all.
    pub recommended: Option<PlateName>,
    /// The thinnest borderline plate, where none suits all.
    pub borderline: Option<PlateName>,
    /// The plate for the lines that are left, where some are excluded.
    pub for_the_rest: Option<PlateName>,
    /// What no plate changes: speed, distance, lean, bullet; each in a sentence.
    pub whatever_plate: Vec<String>,
    /// The lines that no plate takes.
    pub excluded: Vec<Excluded>,
    /// The ladder, thin to thick.
    pub plates: Vec<PlateChoice>,
    /// What would make the excluded lines suit.
    pub remedies: Vec<Remedy>,
    /// What arrives, one for each line.
    pub strikes: Vec<StrikeRow>,
    /// From here on the named plate suits every load that is left.
    #[serde(rename = "closest_m")]
    pub closest: Option<Si<Length>>,
    /// How near anyone may come with each load, excluded ones included.
    pub nearest_by_load: Vec<NearestOf>,
    /// What was read of a drawing.
    pub outline: Option<OutlineFacts>,
    /// The face where it is round, for a figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round: Option<RoundFacts>,
    /// How the piece lies on a sheet.
    pub cut_plan: Option<CutPlan>,
    /// What gives a swing that was asked for, in words.
    pub swing_asked: Option<String>,
    /// The flights, for a figure, one for each load.
    pub curves: Vec<Curve>,
}
