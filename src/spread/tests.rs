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

/// A load with a drag table of its own.
fn with_table(rows: &[(f64, f64)]) -> crate::load::Load {
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let curve = std::sync::Arc::new(crate::drag::DragCurve::from_points(rows).unwrap());
    let drag = crate::drag::Drag::own(curve, load.facts().bullet, unit::INCH.of(0.308)).unwrap();
    load.with(|facts| facts.drag = drag).unwrap()
}

#[test]
fn a_drag_table_that_ends_below_the_muzzle_is_not_flown() {
    let short = with_table(&[(0.5, 0.15), (0.9, 0.2), (1.0, 0.4)]);
    let fault = Flights::new(&short, &day("59F")).map(drop).unwrap_err();
    assert!(matches!(fault, crate::flight::FlightError::Table { last: 1.0, .. }), "{fault}");
    assert_eq!(fault.field(), "drag-table");
    // A hair beyond the last row is followed, as for a fast shot, and no more.
    let mach = 2650.0 / 1116.45;
    let to = |last: f64| Flights::new(&with_table(&[(0.5, 0.15), (1.0, 0.4), (last, 0.3)]), &day("59F"));
    assert!(to(0.9 * mach).is_err() && to(mach).is_ok());
    assert!(Flights::new(&with_table(&[(0.5, 0.15), (1.0, 0.4), (2.7, 0.3)]), &day("59F")).is_ok());
}

#[test]
fn a_table_whose_bullet_is_slower_in_hot_air_is_refused_a_range_of_weather() {
    let cliff = with_table(&[(0.5, 0.2), (1.0, 0.6), (1.1, 0.2), (3.0, 0.1)]);
    let fault = Flights::new(&cliff, &day("0F..100F")).map(drop).unwrap_err();
    assert!(fault == crate::flight::FlightError::Weather && !fault.help().is_empty(), "{fault}");
    assert!(Flights::new(&cliff, &day("100F")).is_ok() && Flights::new(&cliff, &day("0F")).is_ok());
    assert!(Flights::new(&with_table(&[(0.5, 0.15), (1.0, 0.4), (3.0, 0.3)]), &day("0F..100F")).is_ok());
}

#[test]
fn more_coverage_than_a_strings_bound_was_made_for_widens_it_again() {
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let sd = unit::FOOT_PER_SECOND.of(10.0);
    let string = load.with(|f| f.spread.muzzle = crate::load::MuzzleSpread::Bound { sd, factor: 2.5 }).unwrap();
    let covering = |percent: f64| {
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(percent)).unwrap()
    };
    let at = unit::YARD.of(5.0);
    let gain = |percent: f64| fps(Flights::new(&string, &covering(percent)).unwrap().fast_gains(at).unwrap().muzzle);
    // z is 2.33 at 99 % and 3.72 at 99.99 %: the factor holds below it, and z above.
    assert!((gain(99.0) - 25.0).abs() < 0.2, "{}", gain(99.0));
    assert!((gain(99.99) - 37.2).abs() < 0.2, "{}", gain(99.99));
}

#[test]
fn a_flown_load_is_asked_from_several_threads() {
    fn shared<T: Send + Sync>(thing: T) -> T {
        thing
    }
    let load = &Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let flights = shared(Flights::new(load, &day("59F")).unwrap());
    let ask = |yards: f64| flights.fast_speed(unit::YARD.of(yards)).unwrap();
    let alone: Vec<Velocity> = (1..40).map(|i| ask(f64::from(i) * 10.0)).collect();
    std::thread::scope(|scope| {
        for _ in 0..4 {
            scope.spawn(|| assert_eq!((1..40).map(|i| ask(f64::from(i) * 10.0)).collect::<Vec<_>>(), alone));
        }
    });
}

#[test]
fn where_the_fast_shot_falls_to_a_limit_it_is_no_faster_and_just_before_it_is() {
    let catalog = Catalog::builtin().unwrap();
    for id in ["308-168-match", "9mm-115", "556-55"] {
        let load = &catalog.load(id).unwrap().load;
        let flights = Flights::new(load, &day("59F")).unwrap();
        for share in [0.95, 0.8, 0.6] {
            let limit = load.facts().muzzle_velocity * share;
            let far = unit::YARD.of(2000.0);
            let found = flights.fast_falls_to(limit, unit::YARD.of(0.0), far).unwrap();
            assert!(flights.fast_speed(found).unwrap() <= limit, "{id} {share}");
            let before = found - unit::METRE.of(0.01);
            assert!(flights.fast_speed(before).unwrap() > limit, "{id} {share}");
        }
    }
}
