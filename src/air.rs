//! The atmosphere: ICAO/ISO 2533, Army Standard Metro, station weather, and ranges of weather.
//!
//! ISO 2533:1975 by geopotential altitude, up to the lower stratosphere. A station's pressure,
//! temperature and humidity override it; moist air counts by its virtual temperature, with the
//! saturation pressure over water of Buck (J. Appl. Meteor. 20, 1981).

use crate::quantity::{
    Bound, Length, MassDensity, Measure, OutOfRange, Pressure, Range, Ratio, Temperature, Velocity, show, unit,
};
use std::fmt;
use thiserror::Error;

/// Temperature at sea level, K (ISO 2533).
const SEA_LEVEL_K: f64 = 288.15;
/// Pressure at sea level, Pa (ISO 2533).
const SEA_LEVEL_PA: f64 = 101_325.0;
/// Lapse rate of the troposphere, K/m (ISO 2533).
const LAPSE_K_M: f64 = 0.0065;
/// Gas constant of dry air, J/(kg·K) (ISO 2533).
const GAS_CONSTANT: f64 = 287.052_87;
/// Ratio of specific heats (ISO 2533).
const KAPPA: f64 = 1.4;
/// g/(R·L), the exponent of pressure (ISO 2533).
const PRESSURE_POWER: f64 = unit::STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_K_M);
/// The exponent of density.
const DENSITY_POWER: f64 = PRESSURE_POWER - 1.0;
/// Temperature of the lower stratosphere, K (ISO 2533).
const STRATOSPHERE_K: f64 = 216.65;
/// Vapour's part in virtual temperature: 1 − 0.622.
const VAPOUR: f64 = 0.378;

/// Which standard fills in what the weather does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Standard {
    /// ICAO standard atmosphere, ISO 2533, dry.
    #[default]
    Icao,
    /// Army Standard Metro: 59 °F, 29.53 inHg (750 mmHg), 78 % humidity at sea level (from memory).
    ArmyStandardMetro,
}

/// Air that can't be. [`AirError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum AirError {
    /// A value out of its bounds.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Both the altitude and the pressure at it.
    #[error("altitude and pressure together: the station's pressure already is that of its altitude")]
    Both,
}

impl AirError {
    /// The option or key at fault.
    #[must_use]
    pub fn field(&self) -> &'static str {
        match self {
            Self::OutOfRange(error) => error.field,
            Self::Both => "pressure",
        }
    }

    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::OutOfRange(error) => error.help(),
            Self::Both => {
                "give the pressure that a barometer at the firing point shows, not one reduced to sea level, \
                or give the altitude"
                    .into()
            }
        }
    }
}

const ALTITUDE: Bound<Length> = Bound { field: "altitude", low: -1500.0, high: 20_000.0, unit: unit::FOOT };
const TEMPERATURE: Bound<Temperature> = Bound { field: "temperature", low: -80.0, high: 140.0, unit: unit::FAHRENHEIT };
const PRESSURE: Bound<Pressure> = Bound { field: "pressure", low: 12.0, high: 33.0, unit: unit::INCH_OF_MERCURY };
const HUMIDITY: Bound<Ratio> = Bound { field: "humidity", low: 0.0, high: 100.0, unit: unit::PERCENT };

/// The air at the firing point, and how it thins with height above it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    standard: Standard,
    overridden: bool,
    altitude_m: f64,
    temperature_k: f64,
    pressure_pa: f64,
    humidity: f64,
    density: f64,
    virtual_k: f64,
    sound_mps: f64,
    /// Lapse of the virtual temperature over itself, 1/m.
    lapse_per_m: f64,
    /// Coefficients of density over its value at the station, in powers of height.
    density_series: [f64; 4],
    /// Coefficients of the speed of sound over its value at the station, in powers of height.
    sound_series: [f64; 4],
}

/// Density, speed of sound, and its relative change with height. Hot loop: SI.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AirAt {
    pub density: f64,
    pub sound_mps: f64,
    pub sound_gradient_per_m: f64,
}

fn icao_temperature(altitude_m: f64) -> f64 {
    (SEA_LEVEL_K - LAPSE_K_M * altitude_m).max(STRATOSPHERE_K)
}

/// Pressure over that at sea level.
fn pressure_ratio(altitude_m: f64) -> f64 {
    (icao_temperature(altitude_m) / SEA_LEVEL_K).powf(PRESSURE_POWER)
}

/// Saturation pressure of water vapour over water, Pa (Buck, J. Appl. Meteor. 20, 1981, with the
/// enhancement factor left out).
#[must_use]
pub fn saturation_pressure(temperature: Temperature) -> Pressure {
    let celsius = unit::CELSIUS.value(temperature);
    Pressure::from_si(611.21 * (17.502 * celsius / (240.97 + celsius)).exp())
}

/// Powers 1..4 of (1 − x)^n in height, x = height × `per_m`: relative error below 2e-7 to 2.6 km.
fn series(power: f64, per_m: f64) -> [f64; 4] {
    let mut coefficients = [0.0; 4];
    let mut term = 1.0;
    for (k, coefficient) in coefficients.iter_mut().enumerate() {
        term *= -(power - k as f64) / (k as f64 + 1.0) * per_m;
        *coefficient = term;
    }
    coefficients
}

fn horner(c: &[f64; 4], h: f64) -> f64 {
    1.0 + h * (c[0] + h * (c[1] + h * (c[2] + h * c[3])))
}

impl Air {
    /// ICAO standard air at an altitude.
    #[must_use]
    pub fn icao(altitude: Length) -> Self {
        let h = altitude.si();
        Self::of(Standard::Icao, h, icao_temperature(h), SEA_LEVEL_PA * pressure_ratio(h), 0.0)
    }

    /// Army Standard Metro at sea level: 0.0751265 lb/ft³ and 1120.27 ft/s as printed (from memory);
    /// aloft it thins like ISO 2533.
    #[must_use]
    pub fn army_standard_metro() -> Self {
        let mut air = Self::of(
            Standard::ArmyStandardMetro,
            0.0,
            unit::FAHRENHEIT.of(59.0).si(),
            unit::INCH_OF_MERCURY.of(29.53).si(),
            0.78,
        );
        air.density = unit::POUND_PER_CUBIC_FOOT.of(0.075_126_5).si();
        air.sound_mps = unit::FOOT_PER_SECOND.of(1120.27).si();
        air
    }

    fn of(standard: Standard, altitude_m: f64, temperature_k: f64, pressure_pa: f64, humidity: f64) -> Self {
        let vapour = humidity * saturation_pressure(Temperature::from_si(temperature_k)).si();
        let virtual_k = temperature_k / (1.0 - VAPOUR * (vapour / pressure_pa).min(1.0));
        let per_m = LAPSE_K_M / virtual_k;
        Self {
            standard,
            overridden: false,
            altitude_m,
            temperature_k,
            pressure_pa,
            humidity,
            density: pressure_pa / (GAS_CONSTANT * virtual_k),
            virtual_k,
            sound_mps: (KAPPA * GAS_CONSTANT * virtual_k).sqrt(),
            lapse_per_m: per_m,
            density_series: series(DENSITY_POWER, per_m),
            sound_series: series(0.5, per_m),
        }
    }

    /// Altitude of the firing point.
    #[must_use]
    pub fn altitude(&self) -> Length {
        Length::from_si(self.altitude_m)
    }

    /// Temperature at the firing point.
    #[must_use]
    pub fn temperature(&self) -> Temperature {
        Temperature::from_si(self.temperature_k)
    }

    /// Pressure at the firing point.
    #[must_use]
    pub fn pressure(&self) -> Pressure {
        Pressure::from_si(self.pressure_pa)
    }

    /// Relative humidity at the firing point.
    #[must_use]
    pub fn humidity(&self) -> Ratio {
        Ratio::from_si(self.humidity)
    }

    /// Density at the firing point.
    #[must_use]
    pub fn density(&self) -> MassDensity {
        MassDensity::from_si(self.density)
    }

    /// Speed of sound at the firing point.
    #[must_use]
    pub fn sound_speed(&self) -> Velocity {
        Velocity::from_si(self.sound_mps)
    }

    /// The air at a height above the firing point, by series. Hot loop: SI.
    #[inline]
    pub(crate) fn at(&self, height_m: f64) -> AirAt {
        let x = self.lapse_per_m * height_m;
        AirAt {
            density: self.density * horner(&self.density_series, height_m),
            sound_mps: self.sound_mps * horner(&self.sound_series, height_m),
            sound_gradient_per_m: -0.5 * self.lapse_per_m * (1.0 + x * (1.0 + x * (1.0 + x))),
        }
    }

    /// The air at any height above the firing point, exactly, the stratosphere included: density and
    /// speed of sound.
    #[must_use]
    pub fn aloft(&self, height: Length) -> (MassDensity, Velocity) {
        // The layer above begins where the standard's does, 11 km above sea level.
        let tropopause_m = 11_000.0 - self.altitude_m;
        let height_m = height.si();
        let share = |h: f64| (1.0 - LAPSE_K_M * h / self.virtual_k).max(0.3);
        let below = share(height_m.min(tropopause_m));
        let above = (height_m - tropopause_m).max(0.0);
        let decay = if above > 0.0 {
            (-unit::STANDARD_GRAVITY * above / (GAS_CONSTANT * self.virtual_k * below)).exp()
        } else {
            1.0
        };
        let density = self.density * below.powf(DENSITY_POWER) * decay;
        (MassDensity::from_si(density), Velocity::from_si(self.sound_mps * below.sqrt()))
    }
}

impl fmt::Display for Air {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let altitude = show(self.altitude(), &unit::FOOT, 0);
        let standard = match self.standard {
            Standard::Icao => "ICAO standard air",
            Standard::ArmyStandardMetro => "Army Standard Metro air",
        };
        if !self.overridden {
            return write!(f, "{standard} at {altitude}");
        }
        write!(
            f,
            "{}, {} at the station, {:.0} % humidity, at {altitude}",
            show(self.temperature(), &unit::FAHRENHEIT, 0),
            show(self.pressure(), &unit::INCH_OF_MERCURY, 2),
            self.humidity * 100.0
        )
    }
}

/// Weather as it was said, each value single or a range; what was not said follows the standard.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Weather {
    standard: Standard,
    altitude: Option<Range<Length>>,
    temperature: Option<Range<Temperature>>,
    pressure: Option<Range<Pressure>>,
    humidity: Option<Range<Ratio>>,
}

/// Checks both ends of a range.
fn bounded<Q: Measure>(range: Option<Range<Q>>, bound: &Bound<Q>) -> Result<(), OutOfRange> {
    range.iter().flat_map(|range| [range.low, range.high]).try_for_each(|end| bound.check(end))
}

impl Weather {
    /// Weather within the bounds of what is shot in.
    ///
    /// # Errors
    /// [`AirError`] names the value out of its bounds, and refuses an altitude beside a pressure.
    pub fn new(
        standard: Standard,
        altitude: Option<Range<Length>>,
        temperature: Option<Range<Temperature>>,
        pressure: Option<Range<Pressure>>,
        humidity: Option<Range<Ratio>>,
    ) -> Result<Self, AirError> {
        bounded(altitude, &ALTITUDE)?;
        bounded(temperature, &TEMPERATURE)?;
        bounded(pressure, &PRESSURE)?;
        bounded(humidity, &HUMIDITY)?;
        if altitude.is_some() && pressure.is_some() {
            return Err(AirError::Both);
        }
        Ok(Self { standard, altitude, temperature, pressure, humidity })
    }

    /// Whether nothing was said of the air.
    #[must_use]
    pub fn is_unspecified(&self) -> bool {
        *self == Self::default()
    }

    /// Whether the height, or the pressure that stands in its place, was given.
    #[must_use]
    pub fn has_altitude(&self) -> bool {
        self.altitude.is_some() || self.pressure.is_some()
    }

    /// Whether the temperature was given.
    #[must_use]
    pub fn has_temperature(&self) -> bool {
        self.temperature.is_some()
    }

    /// Whether the humidity was given.
    #[must_use]
    pub fn has_humidity(&self) -> bool {
        self.humidity.is_some()
    }

    /// The station's pressure, where it was given.
    #[must_use]
    pub fn pressure(&self) -> Option<Range<Pressure>> {
        self.pressure
    }

    /// The humidity, where it was given.
    #[must_use]
    pub fn humidity(&self) -> Option<Range<Ratio>> {
        self.humidity
    }

    /// This weather with an altitude, a temperature and a humidity where none was given.
    #[must_use]
    pub fn where_unspecified(
        &self,
        altitude: Range<Length>,
        temperature: Range<Temperature>,
        humidity: Range<Ratio>,
    ) -> Self {
        Self {
            altitude: if self.has_altitude() { self.altitude } else { Some(altitude) },
            temperature: self.temperature.or(Some(temperature)),
            humidity: self.humidity.or(Some(humidity)),
            ..*self
        }
    }

    /// Whether every value is single.
    #[must_use]
    pub fn is_single(&self) -> bool {
        self.altitude.is_none_or(|r| r.is_single())
            && self.temperature.is_none_or(|r| r.is_single())
            && self.pressure.is_none_or(|r| r.is_single())
            && self.humidity.is_none_or(|r| r.is_single())
    }

    /// The thin end: high, hot, low pressure, humid. Fast shots fly in it.
    #[must_use]
    pub fn thin(&self) -> Air {
        let high = |r: Range<Length>| r.high;
        self.end(
            self.altitude.map(high),
            self.temperature.map(|r| r.high),
            self.pressure.map(|r| r.low),
            self.humidity.map(|r| r.high),
        )
    }

    /// The dense end: low, cold, high pressure, dry. Slow shots fly in it.
    #[must_use]
    pub fn dense(&self) -> Air {
        self.end(
            self.altitude.map(|r| r.low),
            self.temperature.map(|r| r.low),
            self.pressure.map(|r| r.high),
            self.humidity.map(|r| r.low),
        )
    }

    fn end(
        &self,
        altitude: Option<Length>,
        temperature: Option<Temperature>,
        pressure: Option<Pressure>,
        humidity: Option<Ratio>,
    ) -> Air {
        let overridden = temperature.is_some() || pressure.is_some() || humidity.is_some();
        let altitude_m = altitude.map_or(0.0, Measure::si);
        let base = match self.standard {
            Standard::Icao => Air::icao(Length::from_si(altitude_m)),
            Standard::ArmyStandardMetro => metro(altitude_m),
        };
        if !overridden {
            return base;
        }
        let mut air = Air::of(
            self.standard,
            altitude_m,
            temperature.map_or(base.temperature_k, Measure::si),
            pressure.map_or(base.pressure_pa, Measure::si),
            humidity.map_or(base.humidity, Measure::si),
        );
        air.overridden = true;
        air
    }
}

fn metro(altitude_m: f64) -> Air {
    let sea_level = Air::army_standard_metro();
    if altitude_m == 0.0 {
        return sea_level;
    }
    let share = icao_temperature(altitude_m) / SEA_LEVEL_K;
    let mut air = Air::of(
        Standard::ArmyStandardMetro,
        altitude_m,
        sea_level.temperature_k * share,
        sea_level.pressure_pa * pressure_ratio(altitude_m),
        sea_level.humidity,
    );
    air.density = sea_level.density * share.powf(DENSITY_POWER);
    air.sound_mps = sea_level.sound_mps * share.sqrt();
    air
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range<Q: Measure>(text: &str) -> Range<Q> {
        Range::parse(text).unwrap()
    }

    #[test]
    fn the_series_aloft_agrees_with_the_exact_form() {
        for air in [Air::icao(unit::FOOT.of(0.0)), Air::icao(unit::FOOT.of(14_000.0)), Air::army_standard_metro()] {
            for height in [-2400.0, -500.0, 0.0, 300.0, 2400.0] {
                let (density, sound) = air.aloft(unit::METRE.of(height));
                let at = air.at(height);
                assert!((at.density / density.si() - 1.0).abs() < 3e-7, "{height}");
                assert!((at.sound_mps / sound.si() - 1.0).abs() < 3e-7, "{height}");
            }
        }
    }

    #[test]
    fn hotter_higher_lower_pressure_and_more_humid_is_thinner() {
        let base = Weather::new(
            Standard::Icao,
            None,
            Some(range("0 F..90 F")),
            Some(range("28 inHg..30 inHg")),
            Some(range("0 %..100 %")),
        )
        .unwrap();
        assert!(base.thin().density() < base.dense().density());
        assert!(!base.is_single());
        let one =
            |t, h| Weather::new(Standard::Icao, None, Some(range(t)), None, Some(range(h))).unwrap().thin().density();
        assert!(one("90 F", "0 %") < one("50 F", "0 %"));
        assert!(one("90 F", "100 %") < one("90 F", "0 %"));
    }

    #[test]
    fn each_range_alone_has_its_thin_and_its_dense_end_at_the_right_value() {
        let weather = |h: Option<&str>, t: Option<&str>, p: Option<&str>, m: Option<&str>| {
            Weather::new(Standard::Icao, h.map(range), t.map(range), p.map(range), m.map(range)).unwrap()
        };
        let density = |air: Air| air.density().si();
        for (span, thin, dense) in [
            (
                weather(Some("0 ft..5000 ft"), None, None, None),
                weather(Some("5000 ft"), None, None, None),
                weather(Some("0 ft"), None, None, None),
            ),
            (
                weather(None, Some("0 F..90 F"), None, None),
                weather(None, Some("90 F"), None, None),
                weather(None, Some("0 F"), None, None),
            ),
            (
                weather(None, None, Some("28 inHg..30 inHg"), None),
                weather(None, None, Some("28 inHg"), None),
                weather(None, None, Some("30 inHg"), None),
            ),
            (
                weather(None, None, None, Some("0 %..90 %")),
                weather(None, None, None, Some("90 %")),
                weather(None, None, None, Some("0 %")),
            ),
        ] {
            assert!((density(span.thin()) - density(thin.thin())).abs() < 1e-12);
            assert!((density(span.dense()) - density(dense.dense())).abs() < 1e-12);
            assert!(density(span.thin()) < density(span.dense()));
        }
    }

    #[test]
    fn air_out_of_bounds_is_refused_by_name() {
        let fault = Weather::new(Standard::Icao, None, Some(range("500 F")), None, None).unwrap_err();
        assert!(fault.to_string().contains("temperature") && fault.help().contains("140"));
        assert!(Weather::new(Standard::Icao, Some(range("50000 ft")), None, None, None).is_err());
        assert!(Weather::new(Standard::Icao, None, None, Some(range("1 inHg")), None).is_err());
        assert!(Weather::new(Standard::Icao, None, None, None, Some(range("101 %"))).is_err());
    }

    #[test]
    fn altitude_and_pressure_together_are_refused_with_the_reason() {
        let both = Weather::new(Standard::Icao, Some(range("5000 ft")), None, Some(range("24.9 inHg")), None);
        let fault = both.unwrap_err();
        assert_eq!((&fault, fault.field()), (&AirError::Both, "pressure"));
        assert!(fault.to_string().contains("already") && fault.help().contains("not one reduced to sea level"));
    }

    #[test]
    fn the_air_says_what_it_is() {
        assert_eq!(Air::icao(unit::FOOT.of(0.0)).to_string(), "ICAO standard air at 0 ft");
        let weather =
            Weather::new(Standard::Icao, Some(range("4200 ft")), Some(range("62 F")), None, Some(range("40 %")))
                .unwrap();
        assert_eq!(weather.thin().to_string(), "62 °F, 25.65 inHg at the station, 40 % humidity, at 4200 ft");
    }
}
