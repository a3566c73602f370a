//! The inputs as understood: loads, targets, the air.

use crate::load::{Class, Construction, Firearm};
use crate::plate::{Condition, Duty, Mount, Steel};
use crate::quantity::{
    BallisticCoefficient, Degrees, Length, Mass, MassDensity, Number, Pressure, Ratio, Si, Temperature, Velocity,
    VelocityPerTemperature,
};
use serde::Serialize;

/// A load as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // The names say what they hold; see `load::Facts` for each.
pub struct LoadFacts {
    pub id: String,
    pub name: String,
    pub cartridge: Option<String>,
    pub firearm: Firearm,
    /// The class it is judged as.
    pub class: Class,
    pub construction: Construction,
    #[serde(rename = "bullet_kg")]
    pub bullet: Si<Mass>,
    #[serde(rename = "diameter_m")]
    pub diameter: Option<Si<Length>>,
    pub projectiles: u32,
    #[serde(rename = "muzzle_velocity_m_s")]
    pub muzzle_velocity: Si<Velocity>,
    #[serde(rename = "velocity_sd_m_s")]
    pub velocity_sd: Si<Velocity>,
    pub tolerance_factor: Option<Number>,
    #[serde(rename = "slow_margin_m_s")]
    pub slow_margin: Si<Velocity>,
    pub bc_sd: Si<Ratio>,
    #[serde(rename = "velocity_temperature_slope_m_s_k")]
    pub velocity_temperature_slope: Si<VelocityPerTemperature>,
    #[serde(rename = "measured_at_k")]
    pub measured_at: Si<Temperature>,
    pub drag: String,
    #[serde(rename = "bc_kg_m2")]
    pub bc: Option<Vec<Band>>,
    pub source: String,
}

/// A ballistic coefficient from a speed upward.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Band {
    /// Speed from which it holds.
    #[serde(rename = "above_m_s")]
    pub above: Si<Velocity>,
    /// The coefficient.
    pub bc: Si<BallisticCoefficient>,
}

/// A plate's name and thickness.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlateName {
    /// What it is called: `3/8 in`.
    pub label: String,
    /// Its thickness.
    #[serde(rename = "thickness_m")]
    pub thickness: Si<Length>,
}

/// A target as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // As the options of the same names.
pub struct SetupFacts {
    pub face: String,
    pub mount: Mount,
    #[serde(rename = "chain_m")]
    pub chain: Option<Si<Length>>,
    pub duty: Duty,
    pub condition: Condition,
    pub steel: Steel,
    #[serde(rename = "tilt_deg")]
    pub tilt: Option<Degrees>,
    #[serde(rename = "oblique_deg")]
    pub oblique: Degrees,
}

/// The air at the ground.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)] // The names say what they hold.
pub struct AirFacts {
    #[serde(rename = "density_kg_m3")]
    pub density: Si<MassDensity>,
    #[serde(rename = "sound_speed_m_s")]
    pub sound_speed: Si<Velocity>,
    #[serde(rename = "temperature_k")]
    pub temperature: Si<Temperature>,
    #[serde(rename = "pressure_pa")]
    pub pressure: Si<Pressure>,
}

/// What loads are flown in.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ConditionsFacts {
    /// The thin end of the weather in words.
    pub thin_air: String,
    /// The dense end of the weather in words.
    pub dense_air: String,
    /// The thin end, which fast shots fly in.
    pub thin: AirFacts,
    /// The dense end, which slow shots fly in.
    pub dense: AirFacts,
    /// Slope to the target, positive uphill.
    #[serde(rename = "slope_deg")]
    pub slope: Degrees,
    /// Share of shots that the bounds cover, one-sided.
    pub coverage: Si<Ratio>,
}
