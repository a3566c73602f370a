//! A load as it is described: by options, or by a record in a file.

use super::resolve::Resolver;
use super::{GIVEN, barrel, called, form};
use crate::drag::{Band, Drag, DragCurve, DragError, DragModel};
use crate::load::{
    Construction, Facts, Firearm, Load, LoadError, MeasuredString, MuzzleSpread, Spread, says_unsaid, spoken_against,
};
use crate::quantity::{
    BallisticCoefficient, Given, Length, Mass, Measure, Ratio, Temperature, Text, Velocity, VelocityPerTemperature,
    parse, show, unit, written,
};
use crate::source::Diagnostic;
use crate::spread::{KEPT_FOR, factor_of};
use serde::{Deserialize, Deserializer, de};
use std::fmt;
use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What is taken for k of a tolerance bound: it is above 1.28 for every coverage from 90 % and every confidence
/// from 50 %, and zero would claim that no shot is faster than the mean.
const TOLERANCE_FACTORS: RangeInclusive<f64> = 1.0..=1e6;

/// How near a factor must be to that of its string.
const SAME_FACTOR: f64 = 1e-6;

/// A load as described; what is `None` was not said.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
#[allow(missing_docs)] // The keys are those of a load's record, documented in `Facts` and `Spread`.
pub struct Described {
    pub id: Option<String>,
    pub name: Option<String>,
    pub cartridge: Option<String>,
    pub firearm: Option<Firearm>,
    pub construction: Option<Construction>,
    pub bullet: Option<Text<Mass>>,
    pub diameter: Option<Text<Length>>,
    /// With the words, since they tell feet from metres a second.
    #[serde(default, deserialize_with = "velocity")]
    pub muzzle_velocity: Option<Given<Velocity>>,
    pub barrel: Option<Text<Length>>,
    pub drag: Option<Model>,
    pub bc: Option<Coefficients>,
    pub drag_table: Option<PathBuf>,
    pub projectiles: Option<u32>,
    #[serde(default)]
    pub steel_core_common: bool,
    #[serde(default)]
    pub steel_common: bool,
    pub velocity_sd: Option<Text<Velocity>>,
    /// k of a chronograph string's tolerance bound, with `velocity-sd` its standard deviation.
    pub tolerance_factor: Option<f64>,
    /// How many readings that string has.
    pub readings: Option<usize>,
    /// How far its farthest reading lies from the mean, in standard deviations.
    pub farthest_reading: Option<f64>,
    pub confidence: Option<Text<Ratio>>,
    /// The coverage that it was planned for, where that is more than the usual one.
    pub coverage: Option<Text<Ratio>>,
    pub bc_sd: Option<Text<Ratio>>,
    pub velocity_temperature_slope: Option<Text<VelocityPerTemperature>>,
    pub measured_at: Option<Text<Temperature>>,
    pub basis: Option<String>,
    pub source: Option<String>,
}

fn velocity<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Given<Velocity>>, D::Error> {
    written(from, Given::read).map(Some)
}

/// A standard projectile by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Model(
    /// G1 or G7.
    pub DragModel,
);

impl<'de> Deserialize<'de> for Model {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Self).map_err(|e: DragError| de::Error::custom(format!("{e}\n{}", e.help())))
    }
}

/// One coefficient, or one for each band of speed.
#[derive(Debug, Clone, PartialEq)]
pub enum Coefficients {
    /// At all speeds.
    Single(BallisticCoefficient),
    /// By bands.
    Banded(Vec<Band>),
}

impl Coefficients {
    fn numbers(&self) -> Vec<BallisticCoefficient> {
        match self {
            Self::Single(bc) => vec![*bc],
            Self::Banded(bands) => bands.iter().map(|band| band.bc).collect(),
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct BandRecord {
    above: Text<Velocity>,
    bc: Text<BallisticCoefficient>,
}

impl<'de> Deserialize<'de> for Coefficients {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Written;
        impl<'de> de::Visitor<'de> for Written {
            type Value = Coefficients;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("a coefficient such as \"0.223\", or a list of bands")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Coefficients, E> {
                parse(text).map(Coefficients::Single).map_err(|e| E::custom(format!("{e}\n{}", e.help())))
            }

            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Coefficients, E> {
                self.visit_str(&value.to_string())
            }

            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Coefficients, E> {
                self.visit_str(&value.to_string())
            }

            fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<Coefficients, A::Error> {
                let mut bands = Vec::new();
                while let Some(band) = seq.next_element::<BandRecord>()? {
                    bands.push(Band { above: band.above.0, bc: band.bc.0 });
                }
                Ok(Coefficients::Banded(bands))
            }
        }
        deserializer.deserialize_any(Written)
    }
}

/// What is wrong with a description: the key at fault, what, and the fix.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DescriptionError {
    /// The key at fault as a record writes it.
    pub key: &'static str,
    /// What is wrong.
    pub message: String,
    /// What to write.
    pub help: String,
}

impl DescriptionError {
    fn missing(key: &'static str, example: &str) -> Self {
        let option = if key == "muzzle-velocity" { "velocity" } else { key };
        Self {
            key,
            message: format!("the load has no `{key}`"),
            help: format!("say it, for instance `{example}` (`--{option}`, or `{key}` in a file)"),
        }
    }

    fn of_load(error: &LoadError) -> Self {
        let key = if error.field() == "velocity" { "muzzle-velocity" } else { error.field() };
        Self { key, message: error.to_string(), help: error.help() }
    }

    fn of_drag(error: &DragError, key: &'static str) -> Self {
        Self { key, message: error.to_string(), help: error.help() }
    }
}

/// What keeps a description from being a load.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BuildError {
    /// A value of the description.
    Description(DescriptionError),
    /// A file it names.
    File(Diagnostic),
}

impl BuildError {
    fn slip(slip: form::Slip) -> Self {
        let form::Slip { key, message, help } = slip;
        Self::Description(DescriptionError { key, message, help })
    }
}

/// A load, and what was assumed to make it one.
#[derive(Debug, Clone, PartialEq)]
pub struct Built {
    /// The load.
    pub load: Load,
    /// Assumptions in words.
    pub assumed: Vec<String>,
}

impl Described {
    /// The load that is described, however slow. A drag table is opened by the resolver, and refused without one.
    pub(super) fn build_as_written(&self, id: &str, resolver: Option<&dyn Resolver>) -> Result<Built, BuildError> {
        self.check_name(id)?;
        let built = self.load(id, resolver)?;
        let facts = built.load.facts();
        let refuse = |slip: Option<form::Slip>| slip.map_or(Ok(()), |slip| Err(BuildError::slip(slip)));
        refuse(form::width_fault(facts))?;
        // A load that nobody named is called by its numbers.
        let is_named = self.name.is_some() || self.cartridge.is_some();
        let miscalled = if is_named { called::fault(&built.load) } else { None };
        if let Some(called::Miscalled { key, message, help }) = miscalled {
            return Err(BuildError::Description(DescriptionError { key, message, help }));
        }
        if let (Some(Model(model)), Some(coefficients)) = (self.drag, &self.bc) {
            refuse(form::fault(facts, model, &coefficients.numbers()))?;
        }
        Ok(built)
    }

    /// The load of the description, which is taken at its word.
    pub(super) fn load(&self, id: &str, resolver: Option<&dyn Resolver>) -> Result<Built, BuildError> {
        let mut assumed = Vec::new();
        let bullet = self.bullet.ok_or_else(|| missing("bullet", "168gr"))?.0;
        let muzzle_velocity = self.muzzle_velocity.as_ref();
        let muzzle_velocity = muzzle_velocity.ok_or_else(|| missing("muzzle-velocity", "2650fps"))?.value();
        let firearm = self.firearm.unwrap_or_else(|| {
            assumed.push("fired from a rifle, since no firearm was said".into());
            Firearm::Unknown
        });
        // Its barrel may say more than its word.
        let said = firearm;
        let firearm = self.barrel.map_or(said, |barrel| barrel::fired_from(said, barrel.0));
        if firearm != said {
            assumed.push(barrel::told_as(firearm));
        }
        let construction = self.construction.unwrap_or_else(|| {
            assumed.push("construction unknown, since none was said".into());
            Construction::Unknown
        });
        let drag = self.build_drag(bullet, muzzle_velocity, resolver)?;
        let facts = Facts {
            name: self.name.clone().unwrap_or_else(|| described_name(bullet, muzzle_velocity)),
            cartridge: self.cartridge.clone(),
            firearm,
            construction,
            cartridge_unlisted: false,
            steel_core_common: self.steel_core_common,
            steel_common: self.steel_common,
            bullet,
            diameter: self.diameter.map(|d| d.0),
            projectiles: self.projectiles.unwrap_or(1),
            muzzle_velocity,
            barrel: self.barrel.map(|b| b.0),
            drag,
            spread: self.spread().map_err(BuildError::Description)?,
            source: self.source.clone().unwrap_or_else(|| GIVEN.into()),
        };
        let load = Load::checked(id, facts).map_err(|e| BuildError::Description(DescriptionError::of_load(&e)))?;
        Ok(Built { load, assumed })
    }

    fn spread(&self) -> Result<Spread, DescriptionError> {
        let muzzle = match (self.velocity_sd, self.tolerance_factor) {
            (None, None) => MuzzleSpread::Assumed,
            (Some(sd), None) => MuzzleSpread::Sd(sd.0),
            (Some(sd), Some(factor)) if TOLERANCE_FACTORS.contains(&factor) => {
                MuzzleSpread::Bound { sd: sd.0, factor, string: None }
            }
            _ => {
                return Err(DescriptionError {
                    key: "tolerance-factor",
                    message: "`tolerance-factor` stands without `velocity-sd`, or is not between 1 and 1000000".into(),
                    help: "write both as `thickset chrono --save` does".into(),
                });
            }
        };
        let string = self.string()?;
        let muzzle = match (muzzle, string) {
            (MuzzleSpread::Bound { sd, factor, .. }, Some(string)) => {
                MuzzleSpread::Bound { sd, factor, string: Some(string) }
            }
            (muzzle, _) => muzzle,
        };
        Ok(Spread {
            muzzle,
            bc_sd: self.bc_sd.map(|t| t.0),
            temperature_slope: self.velocity_temperature_slope.map(|t| t.0),
            measured_at: self.measured_at.map(|t| t.0),
            ..Spread::default()
        })
    }

    /// The string that a tolerance factor is of, where all of it is told and the factor is its own.
    fn string(&self) -> Result<Option<MeasuredString>, DescriptionError> {
        let fault = |message: &str| {
            let help = "write them as `thickset chrono --save` does; or leave `readings`, `farthest-reading`, `confidence` \
                        and `coverage` out";
            Err(DescriptionError { key: "readings", message: message.into(), help: help.into() })
        };
        let (readings, farthest, confidence, factor) =
            match (self.readings, self.farthest_reading, self.confidence, self.tolerance_factor) {
                (Some(readings), Some(farthest), Some(confidence), Some(factor)) => {
                    (readings, farthest, confidence, factor)
                }
                (None, None, None, _) if self.coverage.is_none() => return Ok(None),
                _ => {
                    return fault(
                        "of `tolerance-factor`, `readings`, `farthest-reading` and `confidence` one is missing",
                    );
                }
            };
        let coverage = self.coverage.map(|coverage| coverage.0.si());
        let string = MeasuredString { readings, farthest, confidence: confidence.0.si(), coverage };
        let own = factor_of(&string, coverage.unwrap_or(KEPT_FOR).max(KEPT_FOR));
        match own {
            Some(own) if (own / factor - 1.0).abs() < SAME_FACTOR => Ok(Some(string)),
            _ => fault("`tolerance-factor` is not that of so many readings, with that confidence"),
        }
    }

    fn build_drag(&self, bullet: Mass, muzzle: Velocity, resolver: Option<&dyn Resolver>) -> Result<Drag, BuildError> {
        if let Some(path) = &self.drag_table {
            if self.bc.is_some() || self.drag.is_some() {
                return Err(BuildError::Description(DescriptionError {
                    key: "drag-table",
                    message: "the load has a `drag-table` and a `bc` or `drag` as well".into(),
                    help: "keep one: the bullet's own table, or a coefficient with its model".into(),
                }));
            }
            return self.own_drag(bullet, muzzle, path, resolver);
        }
        let coefficients = self.bc.as_ref().ok_or_else(|| missing("bc", "0.223"))?;
        // A G7 number read as G1 flies too slow, which is not the safe side: the model must be said.
        let Model(model) = self.drag.ok_or_else(|| {
            BuildError::Description(DescriptionError {
                key: "drag",
                message: "the load has no `drag`: a coefficient means nothing without its model".into(),
                help: "say `--drag G1` or `--drag G7`, as the coefficient's source does".into(),
            })
        })?;
        let drag = match coefficients {
            Coefficients::Single(bc) => Drag::single(model, *bc),
            Coefficients::Banded(bands) => Drag::banded(model, bands.clone()),
        };
        drag.map_err(|e| BuildError::Description(DescriptionError::of_drag(&e, "bc")))
    }

    /// A name, or whatever else is written of it, that speaks of another bullet than the construction does.
    fn check_name(&self, id: &str) -> Result<(), BuildError> {
        if self.name.as_ref().is_some_and(|name| name.trim().is_empty()) {
            let (message, help) = ("the load's name is empty", "write what people call it, or leave the name out");
            return Err(BuildError::Description(DescriptionError {
                key: "name",
                message: message.into(),
                help: help.into(),
            }));
        }
        let texts = [&self.name, &self.cartridge, &self.basis, &self.source].into_iter().flatten().map(String::as_str);
        let texts = std::iter::once(id).chain(texts);
        let fault = match self.construction {
            Some(construction) => spoken_against(construction, texts),
            None => says_unsaid(false, texts),
        };
        match fault {
            Some((message, help)) => {
                Err(BuildError::Description(DescriptionError { key: "construction", message, help: help.into() }))
            }
            None => Ok(()),
        }
    }

    fn own_drag(
        &self,
        bullet: Mass,
        muzzle: Velocity,
        path: &Path,
        resolver: Option<&dyn Resolver>,
    ) -> Result<Drag, BuildError> {
        let diameter = self.diameter.ok_or_else(|| missing("diameter", "0.308in"))?.0;
        let resolver = resolver.ok_or_else(|| {
            BuildError::Description(DescriptionError {
                key: "drag-table",
                message: format!("`{}` names a file, and no file is read here", path.display()),
                help: "give a coefficient with its model (`bc`, `drag`) in its place".into(),
            })
        })?;
        let source = resolver.resolve(&path.to_string_lossy()).map_err(BuildError::File)?;
        let curve = DragCurve::from_csv(&source).map_err(BuildError::File)?;
        if let Some(slip) = form::table_fault(self.firearm.unwrap_or(Firearm::Unknown), muzzle, &curve) {
            return Err(BuildError::slip(slip));
        }
        Drag::own(Arc::new(curve), bullet, diameter)
            .map_err(|e| BuildError::Description(DescriptionError::of_drag(&e, "diameter")))
    }
}

fn missing(key: &'static str, example: &str) -> BuildError {
    BuildError::Description(DescriptionError::missing(key, example))
}

/// What a load without a name is called: `168 gr at 2650 ft/s`.
fn described_name(bullet: Mass, velocity: Velocity) -> String {
    let grains = format!("{:.1}", unit::GRAIN.value(bullet));
    let grains = grains.trim_end_matches(".0");
    format!("{grains} gr at {}", show(velocity, &unit::FOOT_PER_SECOND, 0))
}
