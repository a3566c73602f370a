//! The air that a match, or a stage of it, is judged in.

use super::Told;
use crate::advisor::answer::Condition;
use crate::air::Weather;
use crate::quantity::Range;
use crate::words::percent;

/// The air of the match, or of a stage that has its own.
pub(super) fn conditions(told: &Told, weather: &Weather, stage: Option<&String>) -> Vec<Condition> {
    let units = told.units;
    let (thin, dense) = (weather.thin(), weather.dense());
    let condition =
        |what: &str, value: String, given: bool| Condition { what: what.into(), value, given, of: stage.cloned() };
    let mut list = Vec::new();
    if let Some(pressure) = weather.pressure() {
        list.push(condition("station pressure", units.pressures(pressure), true));
    } else {
        let height = units.altitudes(Range { low: dense.altitude(), high: thin.altitude() });
        list.push(condition("altitude", height, weather.has_altitude()));
    }
    list.push(condition(
        "temperature",
        units.temperatures(Range { low: dense.temperature(), high: thin.temperature() }),
        weather.has_temperature(),
    ));
    if let Some(humidity) = weather.humidity() {
        let (low, high) = (percent(humidity.low), percent(humidity.high));
        let value = if low == high { low } else { format!("{low} to {high}") };
        list.push(condition("humidity", value, true));
    }
    list
}
