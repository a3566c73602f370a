use super::*;
use crate::air::{Standard, Weather};
use crate::catalog::Catalog;
use crate::quantity::{Range, Velocity, unit};

fn day(text: &str) -> FlightConditions {
    let temperature = Range::parse(text).unwrap();
    let weather = Weather::new(Standard::Icao, None, Some(temperature), None, None).unwrap();
    FlightConditions::new(&weather, unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap()
}

fn fps(value: Velocity) -> f64 {
    unit::FOOT_PER_SECOND.value(value)
}

#[test]
fn the_mean_shot_has_the_powder_of_the_days_middle() {
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let steep = load.with(|f| f.spread.temperature_slope = Some(unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(2.0))).unwrap();
    let own = fps(steep.facts().muzzle_velocity);
    for (air, gain) in [("59F", 0.0), ("99F", 80.0), ("19F", -80.0), ("19F..59F", -40.0)] {
        let got = fps(mean_muzzle(&steep, &day(air))) - own;
        assert!((got - gain).abs() < 1e-6, "{air}: {got}");
    }
}

#[test]
fn the_mean_shot_lies_between_the_slow_and_the_fast_one_on_any_day() {
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let at = unit::YARD.of(100.0);
    let mut last = 0.0;
    for air in ["-20F", "20F", "59F", "90F", "120F"] {
        let strike = Flights::new(load, &day(air)).unwrap().strike(at).unwrap();
        assert!(strike.slow < strike.mean && strike.mean < strike.fast, "{air}: {strike:?}");
        assert!(strike.mean.value > last, "{air}: {strike:?}");
        last = strike.mean.value;
    }
}
