//! A load: the bullet, what it is made of, how fast it leaves, how it flies, and what fires it.

mod class;
mod muzzle_spread;
mod named;

pub use class::{Stricter, StricterWhy};
pub use muzzle_spread::{MeasuredString, MuzzleSpread};
pub use named::{designates_no_lead, long_gun_named, names_no_lead, names_solid, says_unsaid, spoken_against};

use crate::drag::Drag;
use crate::quantity::text_form;
use crate::quantity::{
    Bound, Energy, Length, Mass, Measure, Momentum, OutOfRange, Ratio, Temperature, Velocity, VelocityPerTemperature,
    unit,
};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// What fires the load, as the trade and range rules sort it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Firearm {
    /// A pistol or revolver for rimfire ammunition.
    RimfirePistol,
    /// A rifle for rimfire ammunition.
    RimfireRifle,
    /// A centrefire pistol or revolver.
    Handgun,
    /// A long gun that fires a pistol cartridge.
    PistolCarbine,
    /// A smooth-bore or rifled shotgun.
    Shotgun,
    /// A centrefire rifle.
    Rifle,
    /// A rifle or pistol loaded from the muzzle with a soft lead ball or conical.
    MuzzleLoader,
    /// An air rifle or air pistol with lead pellets or slugs.
    AirGun,
    /// Not known: judged as a rifle, and as a slug where the bullet could be one.
    Unknown,
}

/// What the bullet is made of, as far as it matters to steel and to the people near it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Construction {
    /// Lead, cast or swaged, without a jacket.
    Lead,
    /// A lead core in a copper or brass jacket.
    JacketedLead,
    /// A lead core with a thin electroplated coat.
    Plated,
    /// Pressed powder that breaks up on steel.
    Frangible,
    /// Solid copper or brass.
    Monolithic,
    /// A jacket of steel, bimetal included.
    SteelJacket,
    /// A core, tip or penetrator of steel.
    #[serde(alias = "penetrator")]
    SteelCore,
    /// Made to pierce metal.
    ArmourPiercing,
    /// Carries a burning charge.
    Incendiary,
    /// Carries a tracing charge.
    Tracer,
    /// Lead pellets.
    LeadShot,
    /// Hard pellets, of steel or tungsten, air-gun balls included.
    #[serde(alias = "bb", alias = "hard-shot", alias = "tungsten-shot")]
    SteelShot,
    /// Not known, or not said.
    Unknown,
}

impl Construction {
    /// What it is called to people.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Lead => "lead",
            Self::JacketedLead => "lead-core",
            Self::Plated => "plated lead",
            Self::Frangible => "frangible",
            Self::Monolithic => "solid copper",
            Self::SteelJacket => "steel-jacketed",
            Self::SteelCore => "steel-core",
            Self::ArmourPiercing => "armour-piercing",
            Self::Incendiary => "incendiary",
            Self::Tracer => "tracer",
            Self::LeadShot => "lead shot",
            Self::SteelShot => "steel shot",
            Self::Unknown => "unknown",
        }
    }

    /// Whether a bullet of it has steel in it, or may have.
    #[must_use]
    pub fn may_be_steel(self) -> bool {
        matches!(
            self,
            Self::SteelJacket
                | Self::SteelCore
                | Self::ArmourPiercing
                | Self::Incendiary
                | Self::Tracer
                | Self::Unknown
        )
    }
}

/// The classes that floors and thinnest plates are stated for: firearm and projectile together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Rimfire pistol.
    RimfirePistol,
    /// Rimfire rifle.
    RimfireRifle,
    /// Centrefire handgun.
    Handgun,
    /// Pistol-calibre carbine.
    PistolCarbine,
    /// Shotgun with pellets.
    Shot,
    /// Shotgun with a single slug.
    Slug,
    /// Centrefire rifle.
    Rifle,
    /// Muzzle-loader with soft lead.
    MuzzleLoader,
    /// Air gun with lead pellets.
    AirGun,
}

text_form!(Firearm, Construction, Class);

impl Class {
    /// Every class, in order.
    pub const ALL: &'static [Self] = &[
        Self::RimfirePistol,
        Self::RimfireRifle,
        Self::Handgun,
        Self::PistolCarbine,
        Self::Shot,
        Self::Slug,
        Self::Rifle,
        Self::MuzzleLoader,
        Self::AirGun,
    ];
}

impl Construction {
    /// Whether the projectile is a charge of pellets.
    #[must_use]
    pub fn is_shot(self) -> bool {
        matches!(self, Self::LeadShot | Self::SteelShot)
    }

    /// Whether a bullet has a plain lead core, or none harder.
    #[must_use]
    pub fn is_lead(self) -> bool {
        matches!(self, Self::JacketedLead | Self::Lead | Self::Plated | Self::Frangible)
    }

    /// Whether a bullet is of lead without a jacket.
    #[must_use]
    pub fn is_lead_alone(self) -> bool {
        matches!(self, Self::Lead | Self::Plated)
    }

    /// The same, or lead shot.
    #[must_use]
    pub fn is_lead_or_shot(self) -> bool {
        self.is_lead() || self == Self::LeadShot
    }
}

/// Density of lead, kg/m³ (handbook value, from memory).
const LEAD_KG_M3: f64 = 11_340.0;

/// Diameter of a lead sphere of this mass, `(6m/πρ)^(1/3)`.
#[must_use]
pub fn lead_sphere(mass: Mass) -> Length {
    Length::from_si((6.0 * mass.si() / (std::f64::consts::PI * LEAD_KG_M3)).powf(1.0 / 3.0))
}

/// Standard deviation taken where none was measured: a catalogue load stands for every rifle and lot (house assumption).
#[must_use]
pub fn assumed_velocity_sd() -> Velocity {
    unit::FOOT_PER_SECOND.of(30.0)
}

/// The least standard deviation of muzzle velocity that is taken: below it every shot would be alike (house assumption).
#[must_use]
pub fn least_velocity_sd() -> Velocity {
    unit::FOOT_PER_SECOND.of(MIN_VELOCITY_SD_FPS)
}

/// Standard deviation of the ballistic coefficient unless given, 3 % (house assumption; it also holds the
/// bias of up to 1.8 % of a coefficient reduced against another standard density).
#[must_use]
pub fn assumed_bc_sd() -> Ratio {
    unit::PERCENT.of(3.0)
}

/// Change of muzzle velocity with powder temperature unless given, 1 ft/s per °F (house assumption); what an air gun
/// drives has no powder, and none is taken for it: see [`Load::has_powder`].
#[must_use]
pub fn assumed_velocity_temperature_slope() -> VelocityPerTemperature {
    unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(1.0)
}

/// Powder temperature at which a muzzle velocity counts as measured unless given, 59 °F (house assumption).
#[must_use]
pub fn assumed_measured_at() -> Temperature {
    unit::FAHRENHEIT.of(59.0)
}

/// What is known of the spread of a load's shots; what is `None` is assumed, and reported as assumed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Of the muzzle velocity.
    pub muzzle: MuzzleSpread,
    /// Standard deviation of the ballistic coefficient, as a share of it.
    pub bc_sd: Option<Ratio>,
    /// Change of muzzle velocity with powder temperature.
    pub temperature_slope: Option<VelocityPerTemperature>,
    /// Powder temperature at which the muzzle velocity was measured.
    pub measured_at: Option<Temperature>,
    /// How much slower than the muzzle velocity the mean may truly be; slow shots alone are taken from there.
    /// Not zero where the velocity is one that errs on the fast side.
    pub slow_margin: Velocity,
}

impl Default for Spread {
    fn default() -> Self {
        Self {
            muzzle: MuzzleSpread::Assumed,
            bc_sd: None,
            temperature_slope: None,
            measured_at: None,
            slow_margin: Velocity::from_si(0.0),
        }
    }
}

/// A load, valid by construction: [`Load::checked`] is the only way to one.
#[derive(Debug, Clone, PartialEq)]
pub struct Load {
    id: String,
    facts: Facts,
}

/// What a load is made from; see [`Load::checked`].
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// What people call it, for instance `.308 Win 168 gr match`.
    pub name: String,
    /// The cartridge, shared by a family of loads.
    pub cartridge: Option<String>,
    /// Whether no list knows that cartridge: it may be misspelt, and any other.
    pub cartridge_unlisted: bool,
    /// What fires it.
    pub firearm: Firearm,
    /// What the bullet is made of.
    pub construction: Construction,
    /// Whether a bullet of unknown construction of this load is commonly one with a steel core.
    pub steel_core_common: bool,
    /// Whether bullets of this cartridge often come with jackets or cores of steel, so that a magnet is to be held to them.
    pub steel_common: bool,
    /// Mass of one projectile.
    pub bullet: Mass,
    /// Diameter of one projectile.
    pub diameter: Option<Length>,
    /// Projectiles in a shot, 1 but for pellets.
    pub projectiles: u32,
    /// Mean muzzle velocity.
    pub muzzle_velocity: Velocity,
    /// Length of the barrel the velocity is stated for.
    pub barrel: Option<Length>,
    /// Drag model and ballistic coefficient, or the bullet's own curve.
    pub drag: Drag,
    /// What is known of the spread.
    pub spread: Spread,
    /// Where the values come from.
    pub source: String,
}

/// A load that cannot be: one value out of its bounds. [`LoadError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LoadError {
    /// A value beyond what any load has.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A standard deviation so small that it claims every shot alike.
    #[error("{field} of `{value}` claims that every shot is alike")]
    NoSpread {
        /// The option or key at fault.
        field: &'static str,
        /// What was given.
        value: String,
        /// Least that is taken.
        low: String,
        /// What is assumed where nothing is said.
        assumed: String,
    },
    /// More than one projectile that is not shot.
    #[error("projectiles of `{projectiles}` with construction `{construction}`")]
    Projectiles {
        /// What was given.
        projectiles: u32,
        /// The construction that does not go with it.
        construction: Construction,
    },
    /// Pellets from something that is not a shotgun.
    #[error("construction `{construction}` from {}", fired_by(*.firearm))]
    ShotFirearm {
        /// The construction given.
        construction: Construction,
        /// The firearm given.
        firearm: Firearm,
    },
}

impl LoadError {
    /// The option or key at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::OutOfRange(error) => error.field,
            Self::NoSpread { field, .. } => field,
            Self::Projectiles { .. } => "projectiles",
            Self::ShotFirearm { .. } => "firearm",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::OutOfRange(error) => error.help(),
            Self::NoSpread { low, assumed, .. } => {
                format!(
                    "write the standard deviation that you measured, {low} at least, or leave it out: {assumed} is then assumed"
                )
            }
            Self::Projectiles { .. } => {
                "write `projectiles = 1`, or a shot construction (`lead-shot` or `steel-shot`) with 1 to 1000".into()
            }
            Self::ShotFirearm { .. } => {
                "write `shotgun` or `air-gun` as the firearm, or the bullet's construction; air-gun balls (`bb`) and hard \
                 pellets are `steel-shot`"
                    .into()
            }
        }
    }
}

fn fired_by(firearm: Firearm) -> String {
    if firearm == Firearm::Unknown { "a firearm that was not said".into() } else { format!("a `{firearm}`") }
}

/// Checks a standard deviation: none at all has an error of its own, for its unit is right.
fn check_spread<Q: Measure>(bound: &Bound<Q>, value: Q, assumed: Q) -> Result<(), LoadError> {
    let number = bound.unit.value(value);
    if number >= 0.0 && number < bound.low && !bound.holds(value) {
        let [value, low, assumed] = [number, bound.low, bound.unit.value(assumed)].map(|number| bound.told(number));
        return Err(LoadError::NoSpread { field: bound.field, value, low, assumed });
    }
    Ok(bound.check(value)?)
}

/// A standard deviation of muzzle velocity below this is none, ft/s: no chronograph tells so little (house assumption).
const MIN_VELOCITY_SD_FPS: f64 = 0.1;

const BULLET: Bound<Mass> = Bound { field: "bullet", low: 0.5, high: 2000.0, unit: unit::GRAIN };
const DIAMETER: Bound<Length> = Bound { field: "diameter", low: 0.05, high: 1.1, unit: unit::INCH };
const VELOCITY: Bound<Velocity> = Bound { field: "velocity", low: 100.0, high: 5500.0, unit: unit::FOOT_PER_SECOND };
const VELOCITY_SD: Bound<Velocity> =
    Bound { field: "velocity-sd", low: MIN_VELOCITY_SD_FPS, high: 500.0, unit: unit::FOOT_PER_SECOND };
const BC_SD: Bound<Ratio> = Bound { field: "bc-sd", low: 0.1, high: 20.0, unit: unit::PERCENT };
const SLOW_MARGIN: Bound<Velocity> =
    Bound { field: "slow-margin", low: 0.0, high: 5500.0, unit: unit::FOOT_PER_SECOND };
const BARREL: Bound<Length> = Bound { field: "barrel", low: 1.0, high: 50.0, unit: unit::INCH };
const SLOPE: Bound<VelocityPerTemperature> =
    Bound { field: "velocity-temperature-slope", low: 0.0, high: 10.0, unit: unit::FOOT_PER_SECOND_PER_FAHRENHEIT };
const MEASURED_AT: Bound<Temperature> = Bound { field: "measured-at", low: -80.0, high: 150.0, unit: unit::FAHRENHEIT };
const MAX_PROJECTILES: u32 = 1000;

impl Load {
    /// Whether another load flies and is judged as this one does: it differs in nothing but what it is called.
    #[must_use]
    pub(crate) fn is_shot_like(&self, other: &Self) -> bool {
        // A further fact must say here whether it counts.
        let Facts {
            name: _,
            source: _,
            cartridge,
            cartridge_unlisted,
            firearm,
            construction,
            steel_core_common,
            steel_common,
            bullet,
            diameter,
            projectiles,
            muzzle_velocity,
            barrel,
            drag,
            spread,
        } = &self.facts;
        let other = &other.facts;
        bullet == &other.bullet
            && muzzle_velocity == &other.muzzle_velocity
            && (firearm, construction, projectiles) == (&other.firearm, &other.construction, &other.projectiles)
            && (steel_core_common, steel_common) == (&other.steel_core_common, &other.steel_common)
            && (diameter, barrel, spread) == (&other.diameter, &other.barrel, &other.spread)
            && (cartridge, cartridge_unlisted) == (&other.cartridge, &other.cartridge_unlisted)
            && drag == &other.drag
    }

    /// Checks every value against its bounds.
    ///
    /// # Errors
    /// [`LoadError`] names the value and what would do.
    pub fn checked(id: impl Into<String>, facts: Facts) -> Result<Self, LoadError> {
        BULLET.check(facts.bullet)?;
        VELOCITY.check(facts.muzzle_velocity)?;
        facts.diameter.map_or(Ok(()), |d| DIAMETER.check(d))?;
        facts.barrel.map_or(Ok(()), |b| BARREL.check(b))?;
        facts.spread.bc_sd.map_or(Ok(()), |s| check_spread(&BC_SD, s, assumed_bc_sd()))?;
        facts.spread.temperature_slope.map_or(Ok(()), |s| SLOPE.check(s))?;
        facts.spread.measured_at.map_or(Ok(()), |t| MEASURED_AT.check(t))?;
        SLOW_MARGIN.check(facts.spread.slow_margin)?;
        if let MuzzleSpread::Sd(sd) | MuzzleSpread::Bound { sd, .. } = facts.spread.muzzle {
            check_spread(&VELOCITY_SD, sd, assumed_velocity_sd())?;
        }
        let shot = facts.construction.is_shot();
        if facts.projectiles == 0 || facts.projectiles > MAX_PROJECTILES || (facts.projectiles > 1 && !shot) {
            return Err(LoadError::Projectiles { projectiles: facts.projectiles, construction: facts.construction });
        }
        if shot && !matches!(facts.firearm, Firearm::Shotgun | Firearm::AirGun) {
            return Err(LoadError::ShotFirearm { construction: facts.construction, firearm: facts.firearm });
        }
        Ok(Self { id: id.into(), facts })
    }

    /// The same load with some facts changed, checked again.
    ///
    /// # Errors
    /// As [`Load::checked`].
    pub fn with(&self, change: impl FnOnce(&mut Facts)) -> Result<Self, LoadError> {
        let mut facts = self.facts.clone();
        change(&mut facts);
        Self::checked(self.id.clone(), facts)
    }

    /// The name it is asked for by.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Everything it is made from.
    #[must_use]
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// The construction it is judged by: an unknown one counts as a steel core where that is common.
    #[must_use]
    pub fn judged_construction(&self) -> Construction {
        match self.facts.construction {
            Construction::Unknown if self.facts.steel_core_common => Construction::SteelCore,
            construction => construction,
        }
    }

    /// Mass of all projectiles of one shot.
    #[must_use]
    pub fn charge(&self) -> Mass {
        self.facts.bullet * f64::from(self.facts.projectiles)
    }

    /// Energy of one projectile at a speed, ½mv².
    #[must_use]
    pub fn energy(&self, speed: Velocity) -> Energy {
        0.5 * self.facts.bullet * speed * speed
    }

    /// Energy of all projectiles of one shot at a speed.
    #[must_use]
    pub fn charge_energy(&self, speed: Velocity) -> Energy {
        self.energy(speed) * f64::from(self.facts.projectiles)
    }

    /// Momentum of all projectiles of one shot at a speed, mv.
    #[must_use]
    pub fn charge_momentum(&self, speed: Velocity) -> Momentum {
        self.charge() * speed
    }

    /// Energy of one projectile at the muzzle, mean velocity.
    #[must_use]
    pub fn muzzle_energy(&self) -> Energy {
        self.energy(self.facts.muzzle_velocity)
    }

    /// Standard deviation of the ballistic coefficient as a share of it, given or assumed.
    #[must_use]
    pub fn bc_sd(&self) -> Ratio {
        self.facts.spread.bc_sd.unwrap_or_else(assumed_bc_sd)
    }

    /// Change of muzzle velocity with powder temperature, given or assumed.
    #[must_use]
    pub fn temperature_slope(&self) -> VelocityPerTemperature {
        let none = VelocityPerTemperature::from_si(0.0);
        let assumed = || if self.has_powder() { assumed_velocity_temperature_slope() } else { none };
        self.facts.spread.temperature_slope.unwrap_or_else(assumed)
    }

    /// Powder temperature that the muzzle velocity stands for, given or assumed.
    #[must_use]
    pub fn measured_at(&self) -> Temperature {
        self.facts.spread.measured_at.unwrap_or_else(assumed_measured_at)
    }

    /// Standard deviation of the muzzle velocity, measured or assumed.
    #[must_use]
    pub fn velocity_sd(&self) -> Velocity {
        match self.facts.spread.muzzle {
            MuzzleSpread::Assumed => assumed_velocity_sd(),
            MuzzleSpread::Sd(sd) | MuzzleSpread::Bound { sd, .. } => sd,
        }
    }
}
