//! Records of a match: the air of the day, and a target as it stands.

use crate::air::{Standard, Weather};
use crate::catalog::key_span;
use crate::plate::{Condition, Duty, Face, Mount, Steel};
use crate::quantity::{Angle, Length, Measure, Pressure, Range, Ratio, Temperature, Text, unit};
use crate::rules::{MAX_TILT_DEG, Setup};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::ops::Range as Span;

/// The air, each value single or a range.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct AirRecord {
    air: Option<AirName>,
    altitude: Option<Range<Length>>,
    temperature: Option<Range<Temperature>>,
    pressure: Option<Range<Pressure>>,
    humidity: Option<Range<Ratio>>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
enum AirName {
    #[serde(rename = "ICAO")]
    Icao,
    #[serde(rename = "ASM")]
    Asm,
}

impl AirRecord {
    /// This air with what it does not say taken from another. Where a place is given by height or by pressure, the
    /// other's place is another.
    pub fn or(self, other: Option<&Self>) -> Self {
        let Some(other) = other.cloned() else { return self };
        let has_place = self.altitude.is_some() || self.pressure.is_some();
        Self {
            air: self.air.or(other.air),
            altitude: self.altitude.or(other.altitude.filter(|_| !has_place)),
            temperature: self.temperature.or(other.temperature),
            pressure: self.pressure.or(other.pressure.filter(|_| !has_place)),
            humidity: self.humidity.or(other.humidity),
        }
    }

    pub fn weather(&self, source: &SourceText, span: &Span<usize>) -> Result<Weather, Diagnostic> {
        let standard = match self.air {
            Some(AirName::Asm) => Standard::ArmyStandardMetro,
            Some(AirName::Icao) | None => Standard::Icao,
        };
        Weather::new(standard, self.altitude, self.temperature, self.pressure, self.humidity)
            .map_err(|e| source.fault(key_span(source, span, e.field()), e.to_string()).help(e.help()))
    }
}

/// How a target stands; what is not said follows the defaults of its file, and those the house's.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct StandRecord {
    pub face: Option<String>,
    pub mount: Option<Mount>,
    pub chain: Option<Text<Length>>,
    pub duty: Option<Duty>,
    pub condition: Option<Condition>,
    pub steel: Option<Steel>,
    pub tilt: Option<Text<Angle>>,
    pub oblique: Option<Text<Angle>>,
    pub slope: Option<Text<Angle>>,
}

/// A target as it stands, with what was assumed of it.
#[derive(Debug, Clone)]
pub(super) struct Stand {
    pub setup: Setup,
    pub slope: Angle,
    pub assumed: Vec<&'static str>,
}

/// What is assumed where no mount was given.
pub(super) const OPEN_HOOKS: &str = "free-hung from open hooks";
/// What is assumed where no slope was given.
pub(super) const LEVEL_GROUND: &str = "level ground";
/// The most a face is turned, degrees.
const MAX_OBLIQUE_DEG: f64 = 89.0;

impl StandRecord {
    /// This record with what it does not say taken from another.
    pub fn or(self, other: &Self) -> Self {
        Self {
            face: self.face.or_else(|| other.face.clone()),
            mount: self.mount.or(other.mount),
            // Another's chain belongs to another's mount.
            chain: self.chain.or(if self.mount.is_none_or(|m| m == Mount::Chain) { other.chain } else { None }),
            duty: self.duty.or(other.duty),
            condition: self.condition.or(other.condition),
            steel: self.steel.or(other.steel),
            tilt: self.tilt.or(other.tilt),
            oblique: self.oblique.or(other.oblique),
            slope: self.slope.or(other.slope),
        }
    }

    /// The target. `condition` is what is taken where none was said.
    pub fn stand(&self, condition: Condition, source: &SourceText, span: &Span<usize>) -> Result<Stand, Diagnostic> {
        let mut assumed = Vec::new();
        let mut note = |text| assumed.push(text);
        let fault =
            |key: &str, message: String, help: String| source.fault(key_span(source, span, key), message).help(help);
        let face = self.face.clone().unwrap_or_else(|| {
            note("a 12 in round face");
            "12in".into()
        });
        let face = face.parse::<Face>().map_err(|e| fault("face", e.to_string(), e.help()))?;
        let angle = |key: &str, given: Option<Text<Angle>>, most: f64| match given {
            Some(Text(angle)) if !(unit::DEGREE.value(angle).abs() <= most + 1e-9) => {
                Err(fault(key, format!("{key} is beyond {most} deg"), format!("write -{most} deg to {most} deg")))
            }
            given => Ok(given.map(|t| t.0)),
        };
        let tilt = angle("tilt", self.tilt, MAX_TILT_DEG)?;
        let oblique = angle("oblique", self.oblique, MAX_OBLIQUE_DEG)?;
        let slope = angle("slope", self.slope, crate::flight::MAX_SLOPE_DEG)?;
        let mount = self.mount.unwrap_or_else(|| {
            note(OPEN_HOOKS);
            Mount::OpenHook
        });
        let chain = mount.chain(self.chain.map(|t| t.0)).map_err(|e| fault("chain", e.to_string(), e.help().into()))?;
        mount.chain_assumed(chain).into_iter().for_each(&mut note);
        let setup = Setup {
            face,
            mount,
            chain,
            duty: self.duty.unwrap_or_else(|| {
                note("private use");
                Duty::Private
            }),
            condition: self.condition.unwrap_or_else(|| {
                note(if condition == Condition::Sound {
                    "a sound plate"
                } else {
                    "the plate's condition is not known"
                });
                condition
            }),
            steel: self.steel.unwrap_or_else(|| {
                note("AR500 steel");
                Steel::Ar500
            }),
            tilt,
            oblique: oblique.unwrap_or_else(|| Angle::from_si(0.0)),
        };
        if tilt.is_none() {
            note("face hung vertical");
        }
        if slope.is_none() {
            note(LEVEL_GROUND);
        }
        Ok(Stand { setup, slope: slope.unwrap_or_else(|| Angle::from_si(0.0)), assumed })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_goes_with_its_own_mount() {
        let chain = |inches: f64| Some(Text(unit::INCH.of(inches)));
        let file = StandRecord { mount: Some(Mount::Chain), chain: chain(6.0), ..StandRecord::default() };
        let over = |stand: StandRecord| stand.or(&file).chain.map(|t| unit::INCH.value(t.0).round());
        assert_eq!(over(StandRecord::default()), Some(6.0));
        assert_eq!(over(StandRecord { mount: Some(Mount::Chain), ..StandRecord::default() }), Some(6.0));
        assert_eq!(over(StandRecord { chain: chain(9.0), ..StandRecord::default() }), Some(9.0));
        assert_eq!(over(StandRecord { mount: Some(Mount::OpenHook), ..StandRecord::default() }), None);
    }

    #[test]
    fn what_a_target_or_a_stage_does_not_say_is_the_file_s() {
        let record = |text: &str| toml::from_str::<StandRecord>(text).unwrap();
        let file = record(
            "face = \"8in\"\nmount = \"bolted\"\nduty = \"match\"\ncondition = \"pitted\"\nsteel = \"AR400\"\ntilt = \"9 deg\"\noblique = \"3 deg\"\nslope = \"4 deg\"",
        );
        let of = |own: &str| {
            let stand = record(own).or(&file).stand(Condition::Sound, &SourceText::new("", ""), &(0..0)).unwrap();
            let degrees = |angle: Angle| unit::DEGREE.value(angle).round();
            let (setup, slope) = (stand.setup, degrees(stand.slope));
            (
                setup.mount,
                setup.duty,
                setup.condition,
                setup.steel,
                setup.tilt.map(degrees),
                degrees(setup.oblique),
                slope,
            )
        };
        let whole = (Mount::Bolted, Duty::Match, Condition::Pitted, Steel::Ar400, Some(9.0), 3.0, 4.0);
        assert_eq!(of(""), whole);
        assert_eq!(of("duty = \"private\""), (whole.0, Duty::Private, whole.2, whole.3, whole.4, whole.5, whole.6));
        assert_eq!(of("tilt = \"20 deg\"").4, Some(20.0));
    }

    #[test]
    fn a_stage_s_air_is_the_match_s_but_for_what_it_says_and_a_place_is_by_height_or_by_pressure() {
        let record = |text: &str| toml::from_str::<AirRecord>(text).unwrap();
        let file = record("pressure = \"29 inHg\"\ntemperature = \"70 F\"\nhumidity = \"40 %\"");
        let of = |own: &str| {
            let air = record(own).or(Some(&file));
            (air.altitude.is_some(), air.pressure.is_some(), air.temperature.is_some(), air.humidity.is_some())
        };
        assert_eq!(of(""), (false, true, true, true));
        assert_eq!(of("altitude = \"500 ft\""), (true, false, true, true));
        assert_eq!(of("humidity = \"10 %\""), (false, true, true, true));
        let alone = record("altitude = \"500 ft\"").or(None);
        assert!(alone.altitude.is_some() && alone.temperature.is_none());
    }
}
