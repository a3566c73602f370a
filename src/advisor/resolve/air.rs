//! The air of a question.

use super::super::error::at;
use super::super::question::{AirPart, StandardAir};
use super::taken::Taken;
use crate::air::{Standard, Weather};
use crate::quantity::{Range, Ratio, unit};
use crate::source::Diagnostic;
use crate::words::Units;

/// Reads the air, and writes down each part of it.
pub(crate) fn air(part: AirPart, units: Units, taken: &mut Taken) -> Result<Weather, Diagnostic> {
    if part.altitude.is_some() && part.pressure.is_some() {
        return Err(at(
            "pressure",
            "`pressure` and `altitude` stand side by side: the pressure at the station stands in place of the altitude",
            "keep one of them",
        ));
    }
    let weather = weather(&part)?;
    tell(&part, &weather, units, taken);
    Ok(weather)
}

fn weather(part: &AirPart) -> Result<Weather, Diagnostic> {
    let standard = match part.air {
        Some(StandardAir::Asm) => Standard::ArmyStandardMetro,
        Some(StandardAir::Icao) | None => Standard::Icao,
    };
    Weather::new(standard, part.altitude, part.temperature, part.pressure, part.humidity)
        .map_err(|e| at(e.field(), &e, e.help()))
}

fn tell(part: &AirPart, weather: &Weather, units: Units, taken: &mut Taken) {
    let (thin, dense) = (weather.thin(), weather.dense());
    let name = if part.air == Some(StandardAir::Asm) { "Army Standard Metro" } else { "ICAO standard" };
    taken.take("air", name, part.air.is_some(), "ICAO standard air");
    if part.pressure.is_none() {
        let words = part.altitude.map_or_else(|| units.altitude(thin.altitude()), |r| units.altitudes(r));
        taken.take("altitude", words.clone(), part.altitude.is_some(), &format!("altitude {words}"));
    }
    let temperatures = Range { low: dense.temperature(), high: thin.temperature() };
    let words = part.temperature.map_or_else(|| units.temperatures(ordered(temperatures)), |r| units.temperatures(r));
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
