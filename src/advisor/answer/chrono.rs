//! A chronograph string.

use super::{LoadFacts, Preamble};
use crate::quantity::{Length, Number, Ratio, Si, Velocity};
use crate::rules::Verdict;
use serde::Serialize;

/// The inputs of `chrono` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct ChronoInputs {
    #[serde(rename = "readings_m_s")]
    pub readings: Vec<Si<Velocity>>,
    pub load: Option<LoadFacts>,
}

/// A reading that stands apart from the others.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Apart {
    /// Its place in the string, from 1.
    pub reading: usize,
    /// What was read.
    #[serde(rename = "speed_m_s")]
    pub speed: Si<Velocity>,
    /// Why it stands apart, in words.
    pub why: String,
}

/// The closest distance of the load on a plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PlateDistance {
    /// What the plate is called.
    pub label: String,
    /// From which on it suits.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    /// The rule that sets it.
    pub by: Option<String>,
    /// From which on it suits also at the bad end of the air that was not given: how near anyone may come.
    #[serde(rename = "nearest_m")]
    pub nearest: Option<Si<Length>>,
    /// Up to where it suits in all of that air, where that ends no farther than people shoot.
    #[serde(rename = "farthest_m")]
    pub farthest: Option<Si<Length>>,
    /// The rule that sets [`PlateDistance::nearest`].
    pub nearest_by: Option<String>,
    /// How near anyone may come, in words.
    pub words: String,
}

/// A chronograph string summed up.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ChronoAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<ChronoInputs>,
    /// What the exit status tells: unsuitable where the rest of the load was given and no plate takes it from anywhere.
    pub verdict: Verdict,
    /// Readings that count.
    pub n: usize,
    /// Their mean.
    #[serde(rename = "mean_m_s")]
    pub mean: Si<Velocity>,
    /// Their standard deviation.
    #[serde(rename = "sd_m_s")]
    pub sd: Si<Velocity>,
    /// Where the true standard deviation lies at the confidence.
    #[serde(rename = "sd_interval_m_s")]
    pub sd_interval: [Si<Velocity>; 2],
    /// Fastest less slowest.
    #[serde(rename = "spread_m_s")]
    pub spread: Si<Velocity>,
    /// Share of shots that the bounds cover.
    pub coverage: Si<Ratio>,
    /// How sure the bounds are.
    pub confidence: Si<Ratio>,
    /// The tolerance factor.
    pub k: Number,
    /// The fast bound.
    #[serde(rename = "bound_m_s")]
    pub bound: Si<Velocity>,
    /// The slow bound.
    #[serde(rename = "slow_bound_m_s")]
    pub slow_bound: Si<Velocity>,
    /// Readings that stand apart, in words.
    pub suspicions: Vec<String>,
    /// The same as data.
    pub apart: Vec<Apart>,
    /// The closest distance on each plate, where the rest of the load was given.
    pub standoff: Vec<PlateDistance>,
    /// The load with this string's mean and bound as a file of loads, where it was asked for.
    #[serde(skip)]
    pub load_file: Option<String>,
}
