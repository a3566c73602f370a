//! What arrives at each distance.

use super::{ConditionsFacts, LoadFacts, Preamble};
use crate::quantity::{Degrees, Energy, Length, Momentum, Number, Si, Time, Velocity};
use serde::Serialize;

/// What arrives at one distance, all projectiles of a shot.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // The names say what they hold.
pub struct StrikeRow {
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    /// Of the mean shot.
    #[serde(rename = "speed_m_s")]
    pub speed: Si<Velocity>,
    pub mach: Number,
    #[serde(rename = "energy_j")]
    pub energy: Si<Energy>,
    #[serde(rename = "momentum_kg_m_s")]
    pub momentum: Si<Momentum>,
    #[serde(rename = "time_s")]
    pub time: Si<Time>,
    /// Below the line of slope.
    #[serde(rename = "descent_deg")]
    pub descent: Degrees,
    #[serde(rename = "fast_speed_m_s")]
    pub fast_speed: Si<Velocity>,
    #[serde(rename = "fast_energy_j")]
    pub fast_energy: Si<Energy>,
    /// Zero where the slow shot does not arrive.
    #[serde(rename = "slow_speed_m_s")]
    pub slow_speed: Si<Velocity>,
    /// What makes the fast shot faster than the mean one; told by `strike` alone.
    #[serde(rename = "fast_gains_m_s", skip_serializing_if = "Option::is_none")]
    pub fast_gains: Option<Gains>,
    /// Projectiles of the shot, which the energy and the momentum are of together.
    #[serde(skip)]
    pub projectiles: u32,
}

/// How much each source adds to the fast shot.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Gains {
    /// Powder temperature, and the thin end of the weather.
    pub weather: Si<Velocity>,
    /// Spread of the muzzle velocity.
    pub muzzle: Si<Velocity>,
    /// Spread of the ballistic coefficient.
    pub bc: Si<Velocity>,
}

/// A load flown over a span of distance, for a figure: equally spaced points from the muzzle on.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // The names say what they hold.
pub struct Curve {
    pub load: String,
    #[serde(rename = "distance_m")]
    pub distance: Vec<Si<Length>>,
    #[serde(rename = "speed_m_s")]
    pub speed: Vec<Si<Velocity>>,
    #[serde(rename = "fast_speed_m_s")]
    pub fast_speed: Vec<Si<Velocity>>,
    #[serde(rename = "slow_speed_m_s")]
    pub slow_speed: Vec<Si<Velocity>>,
    /// Energy of one projectile, the mean shot's.
    #[serde(rename = "energy_j")]
    pub energy: Vec<Si<Energy>>,
    #[serde(rename = "fast_energy_j")]
    pub fast_energy: Vec<Si<Energy>>,
    /// Limits to draw across the panels.
    pub limits: Vec<Limit>,
    /// Distances asked, and the closest that suits: each with what it is.
    pub marks: Vec<(Si<Length>, String)>,
    /// Projectiles of a shot: the energy is that of one.
    #[serde(skip)]
    pub projectiles: u32,
}

/// A limit to draw: of speed or of energy, or a closest distance.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Limit {
    /// What it is in words, short: `ceiling 2850 ft/s`, `3/8 in takes 2800 ft·lbf`.
    pub words: String,
    /// A limit on speed.
    #[serde(rename = "speed_m_s")]
    pub speed: Option<Si<Velocity>>,
    /// A limit on energy of one projectile.
    #[serde(rename = "energy_j")]
    pub energy: Option<Si<Energy>>,
    /// A least distance.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
}

/// The inputs of `strike` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct StrikeInputs {
    pub load: LoadFacts,
    pub conditions: ConditionsFacts,
}

/// What arrives at each distance.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct StrikeAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<StrikeInputs>,
    /// One for each distance, nearest first.
    pub rows: Vec<StrikeRow>,
    /// The flight, for a figure.
    pub curve: Option<Curve>,
}
