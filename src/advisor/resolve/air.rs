//! The air of a question.

use super::super::error::at;
use super::super::question::{AirPart, StandardAir};
use super::taken::Taken;
use crate::air::{Standard, Weather};
use crate::quantity::{Length, Range, Ratio, Temperature, unit};
use crate::source::Diagnostic;
use crate::words::Units;

/// The air as it was given, and what of it was not.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AirAsked {
    part: AirPart,
    pub weather: Weather,
}

/// Reads the air, and writes down each part of it.
pub(crate) fn air(part: AirPart, units: Units, taken: &mut Taken) -> Result<AirAsked, Diagnostic> {
    if part.altitude.is_some() && part.pressure.is_some() {
        return Err(at(
            "pressure",
            "`pressure` and `altitude` stand side by side: the pressure at the station stands in place of the altitude",
            "keep one of them",
        ));
    }
    let asked = AirAsked { part, weather: weather(&part)? };
    asked.tell(units, taken);
    Ok(asked)
}

fn weather(part: &AirPart) -> Result<Weather, Diagnostic> {
    let standard = match part.air {
        Some(StandardAir::Asm) => Standard::ArmyStandardMetro,
        Some(StandardAir::Icao) | None => Standard::Icao,
    };
    Weather::new(standard, part.altitude, part.temperature, part.pressure, part.humidity)
        .map_err(|e| at(e.field(), &e, e.help()))
}

impl AirAsked {
    /// Whether the height, by altitude or pressure, was not given.
    pub fn height_is_open(&self) -> bool {
        self.part.altitude.is_none() && self.part.pressure.is_none()
    }

    /// Whether the temperature was not given.
    pub fn temperature_is_open(&self) -> bool {
        self.part.temperature.is_none()
    }

    /// The same air with these in place of what was not given.
    pub fn with(
        &self,
        altitude: Option<Range<Length>>,
        temperature: Option<Range<Temperature>>,
    ) -> Result<Weather, Diagnostic> {
        let mut part = self.part;
        // The pressure at the station stands in place of the altitude.
        part.altitude = part.altitude.or(altitude.filter(|_| part.pressure.is_none()));
        part.temperature = part.temperature.or(temperature);
        weather(&part)
    }

    fn tell(&self, units: Units, taken: &mut Taken) {
        let (part, thin, dense) = (&self.part, self.weather.thin(), self.weather.dense());
        let name = if part.air == Some(StandardAir::Asm) { "Army Standard Metro" } else { "ICAO standard" };
        taken.take("air", name, part.air.is_some(), "ICAO standard air");
        if part.pressure.is_none() {
            let words = part.altitude.map_or_else(|| units.altitude(thin.altitude()), |r| units.altitudes(r));
            taken.take("altitude", words.clone(), part.altitude.is_some(), &format!("altitude {words}"));
        }
        let temperatures = Range { low: dense.temperature(), high: thin.temperature() };
        let words =
            part.temperature.map_or_else(|| units.temperatures(ordered(temperatures)), |r| units.temperatures(r));
        taken.take(
            "temperature",
            words.clone(),
            part.temperature.is_some(),
            &format!("temperature {words}, the standard's"),
        );
        if let Some(range) = part.pressure {
            taken.given("pressure", units.pressures(range));
        } else {
            let words = units.pressures(ordered(Range { low: thin.pressure(), high: dense.pressure() }));
            taken.assume("pressure", words.clone(), format!("pressure {words} at the station, the standard's"));
        }
        let humidity = part.humidity.map_or_else(|| standard_humidity(part), shares);
        taken.take("humidity", humidity.clone(), part.humidity.is_some(), &format!("humidity {humidity}"));
    }
}

fn ordered<Q: PartialOrd + Copy>(range: Range<Q>) -> Range<Q> {
    if range.low > range.high { Range { low: range.high, high: range.low } } else { range }
}

/// The humidity of the standards: ICAO's air is dry, the Metro's holds 78 %.
fn standard_humidity(part: &AirPart) -> String {
    if part.air == Some(StandardAir::Asm) { "78 %".into() } else { "0 %".into() }
}

fn shares(range: Range<Ratio>) -> String {
    let percent = |share| format!("{:.0}", unit::PERCENT.value(share));
    if range.is_single() {
        format!("{} %", percent(range.low))
    } else {
        format!("{} to {} %", percent(range.low), percent(range.high))
    }
}
