use super::*;
use crate::air::{Standard, Weather};
use crate::catalog::Catalog;
use crate::quantity::{Measure, Range, Velocity, unit};

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
        assert!(strike.mean.si() > last, "{air}: {strike:?}");
        last = strike.mean.si();
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
    let string =
        load.with(|f| f.spread.muzzle = crate::load::MuzzleSpread::Bound { sd, factor: 2.5, string: None }).unwrap();
    let covering = |percent: f64| {
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(percent)).unwrap()
    };
    let at = unit::YARD.of(5.0);
    let gain = |percent: f64| fps(Flights::new(&string, &covering(percent)).unwrap().fast_gains(at).unwrap().muzzle);
    // z is 2.33 at 99 % and 3.72 at 99.99 %: the factor holds to the one, and grows with it beyond.
    assert!((gain(95.0) - 25.0).abs() < 0.2, "{}", gain(95.0));
    assert!((gain(99.0) - 25.0).abs() < 0.2, "{}", gain(99.0));
    assert!((gain(99.99) - 40.0).abs() < 0.2, "{}", gain(99.99));
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

fn shipped(id: &str) -> crate::load::Load {
    crate::load::Load::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
}

#[test]
fn the_fast_shot_is_no_slower_than_the_one_with_muzzle_and_coefficient_moved_at_once() {
    let conditions = day("59F");
    let load = shipped("308-168-match").with(|f| f.spread.bc_sd = Some(unit::PERCENT.of(3.0))).unwrap();
    let (facts, flights) = (load.facts(), Flights::new(&load, &conditions).unwrap());
    let mut beyond = 0.0_f64;
    for yards in (600..1300).step_by(20) {
        let at = unit::YARD.of(f64::from(yards));
        let gains = flights.fast_gains(at).unwrap();
        let apart = gains.muzzle.si().hypot(gains.coefficient.si());
        let share = |gain: Velocity| gain.si() / apart;
        let drag = facts.drag.scaled(1.0 + conditions.z * load.bc_sd().si() * share(gains.coefficient));
        let muzzle = facts.muzzle_velocity + load.velocity_sd() * conditions.z * share(gains.muzzle);
        let flight = crate::flight::Flight::new(&drag, muzzle, conditions.thin(), conditions.slope()).unwrap();
        let together = flight.arrive(at).unwrap().speed.si();
        let fast = flights.fast_speed(at).unwrap().si();
        assert!(fast >= together - 1e-6, "{yards} yd: {fast} and {together}");
        let mean = flights.strike(at).unwrap().mean.si();
        assert!(fast >= mean + apart - 1e-6, "{yards} yd: {fast} and {mean} with {apart}");
        beyond = beyond.max(together - mean - apart);
    }
    // Where drag bends the two together are worth more than their root of squares.
    assert!(beyond > 0.1, "{beyond} m/s");
}

#[test]
fn over_a_range_of_weather_the_slow_shot_flies_in_the_dense_end_and_the_mean_and_fast_one_in_the_thin_end() {
    let none = unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(0.0);
    let load = shipped("308-168-match").with(|f| f.spread.temperature_slope = Some(none)).unwrap();
    let strike = |air: &str| Flights::new(&load, &day(air)).unwrap().strike(unit::YARD.of(600.0)).unwrap();
    let (all, cold, hot) = (strike("0F..100F"), strike("0F"), strike("100F"));
    assert!(cold.slow < hot.slow && cold.fast < hot.fast && cold.mean < hot.mean);
    let same = |a: Velocity, b: Velocity| (a.si() - b.si()).abs() < 1e-6;
    assert!(same(all.slow, cold.slow), "{} and {}", fps(all.slow), fps(cold.slow));
    assert!(same(all.fast, hot.fast) && same(all.mean, hot.mean), "{} and {}", fps(all.mean), fps(hot.mean));
}

fn sloped(degrees: f64) -> FlightConditions {
    FlightConditions::new(&Weather::default(), unit::DEGREE.of(degrees), unit::PERCENT.of(99.0)).unwrap()
}

#[test]
fn a_bullet_is_taken_to_slow_down_all_the_way_only_where_no_steep_descent_may_speed_it_up() {
    let load = shipped("45acp-230");
    for (degrees, slows) in [(45.0, true), (0.0, true), (-10.0, true), (-11.0, false), (-45.0, false)] {
        assert_eq!(Flights::new(&load, &sloped(degrees)).unwrap().slows_down(), slows, "{degrees}°");
    }
}

#[test]
fn a_quick_look_is_never_less_strict_than_the_flight_aimed_at_the_distance_nor_a_lenient_one_more() {
    for (id, degrees, far) in [
        ("308-168-match", 0.0, 1200.0),
        ("223-77", 12.0, 1000.0),
        ("45acp-230", -8.0, 300.0),
        ("22lr-hv-40", 0.0, 300.0),
        ("12ga-slug-1oz", 0.0, 200.0),
    ] {
        // As good ammunition spreads, as poor ammunition does, and as nobody would shoot.
        for (sd, bc_sd) in [(10.0, 1.0), (30.0, 3.0), (60.0, 3.0), (60.0, 10.0), (150.0, 10.0)] {
            let load = shipped(id).with(|f| {
                f.spread.muzzle = crate::load::MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(sd));
                f.spread.bc_sd = Some(unit::PERCENT.of(bc_sd));
            });
            let flights = Flights::new(&load.unwrap(), &sloped(degrees)).unwrap();
            let followed = flights.follow(unit::YARD.of(far)).unwrap();
            for part in 1..=20 {
                let at = unit::YARD.of(far * f64::from(part) / 20.0);
                let (quick, exact) = (followed.look(at), flights.strike(at).unwrap());
                let place = format!("{id} at {} yd, {sd} ft/s and {bc_sd} %", unit::YARD.value(at));
                assert!(quick.fast >= exact.fast, "{place}: {} and {}", fps(quick.fast), fps(exact.fast));
                let least = followed.least_fast(at);
                assert!(least <= exact.fast, "{place}: {} and {}", fps(least), fps(exact.fast));
                assert!(quick.steepest >= exact.steepest && quick.descent >= exact.descent, "{place}");
                // Strict, and not by so much that nothing is quick.
                assert!(sd > 10.0 || fps(quick.fast) < fps(exact.fast) + 8.0, "{place}");
            }
        }
    }
}

#[test]
fn a_glance_is_never_less_strict_than_the_flight_aimed_at_the_distance() {
    let catalog = crate::catalog::Catalog::builtin().unwrap();
    let (mut glances, mut near, mut told) = (0, 0, 0);
    for (index, entry) in catalog.entries().iter().enumerate() {
        let (sd, bc_sd) = [(10.0, 1.0), (30.0, 3.0), (60.0, 10.0), (150.0, 10.0)][index % 4];
        let degrees = [0.0, 3.0, 8.0, 14.9][index / 4 % 4];
        let load = entry.load.with(|f| {
            f.spread.muzzle = crate::load::MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(sd));
            f.spread.bc_sd = Some(unit::PERCENT.of(bc_sd));
        });
        for air in ["59F", "-20F..110F"] {
            let weather = Weather::new(Standard::Icao, None, Some(Range::parse(air).unwrap()), None, None).unwrap();
            let slope = unit::DEGREE.of(degrees);
            let conditions = FlightConditions::new(&weather, slope, unit::PERCENT.of(99.0)).unwrap();
            let flights = Flights::new(load.as_ref().unwrap(), &conditions).unwrap();
            for yards in (0..40).map(|step| 1.0 + 2.0 * f64::from(step * step)) {
                let at = unit::YARD.of(yards);
                let Some(glance) = flights.glance(at) else { continue };
                let exact = flights.strike(at).unwrap();
                let place = format!("{} at {yards} yd, {degrees}°, {sd} ft/s and {bc_sd} %", entry.load.id());
                assert!(glance.fast >= exact.fast, "{place}: {} and {}", fps(glance.fast), fps(exact.fast));
                assert!(glance.steepest >= exact.steepest && glance.descent >= exact.descent, "{place}");
                assert!((glance.descent - glance.fall - exact.descent + exact.fall).si().abs() < 1e-9, "{place}");
                // Limits about the speeds themselves, above and below.
                for share in [0.7, 0.9, 0.99, 1.01, 1.1, 1.4] {
                    let limit = exact.fast * share;
                    assert!(flights.is_fast_within(limit, at).is_none_or(|is| is == (exact.fast <= limit)), "{place}");
                    assert!(!flights.is_slow_above(exact.slow * share, at) || share < 1.0, "{place}");
                }
                told += usize::from(flights.is_fast_within(exact.fast * 0.7, at) == Some(false));
                glances += 1;
                near += usize::from(glance.fast.si() < 1.06 * exact.fast.si());
            }
        }
    }
    // Strict, and not by so much that nothing is settled.
    assert!(glances > 5000 && near * 2 > glances && told * 2 > glances, "{near} and {told} of {glances}");
}

#[test]
fn a_carry_counts_the_spread_and_keeps_thirty_percent_more_clear() {
    let carry = |sd: f64, bc_sd: f64| {
        let load = shipped("308-168-match").with(|f| {
            f.spread.muzzle = crate::load::MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(sd));
            f.spread.bc_sd = Some(unit::PERCENT.of(bc_sd));
        });
        Flights::new(&load.unwrap(), &day("59F")).unwrap().carry().unwrap()
    };
    let steady = carry(1.0, 0.2);
    let (fast, sleek) = (carry(200.0, 0.2), carry(1.0, 10.0));
    assert!(fast.about > steady.about && sleek.about > steady.about, "{steady:?} {fast:?} {sleek:?}");
    for carry in [steady, fast, sleek] {
        let (about, clear) = (unit::YARD.value(carry.about), unit::YARD.value(carry.keep_clear));
        // Both are rounded up to 100 yd.
        assert!((1.3 * (about - 100.0)..1.3 * about + 100.1).contains(&clear), "{about} {clear}");
    }
}

#[test]
fn a_pellet_carries_by_its_diameter_and_no_less_than_a_lead_ball_of_its_mass() {
    let carry = |inches: Option<f64>| {
        let load = shipped("12ga-buck-00").with(|f| f.diameter = inches.map(|inches| unit::INCH.of(inches)));
        unit::YARD.value(Flights::new(&load.unwrap(), &day("59F")).unwrap().carry().unwrap().about)
    };
    let ball = carry(None);
    assert!(carry(Some(0.40)) >= 880.0 && ball < 800.0, "{ball}");
    assert!((carry(Some(0.20)) - ball).abs() < 1e-6);
}

#[test]
fn over_a_range_of_weather_the_fast_shot_has_the_hottest_powder_and_the_slow_one_the_coldest() {
    let slope = unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(1.5);
    let load = shipped("308-168-match").with(|f| f.spread.temperature_slope = Some(slope)).unwrap();
    let flown = |air: &str| Flights::new(&load, &day(air)).unwrap();
    let (all, cold, hot) = (flown("20F..100F"), flown("20F"), flown("100F"));
    let at = unit::YARD.of(1.0);
    let same = |a: Velocity, b: Velocity| (a.si() - b.si()).abs() < 1e-3;
    assert!(same(all.fast_speed(at).unwrap(), hot.fast_speed(at).unwrap()));
    assert!(same(all.slow_speed(at).unwrap(), cold.slow_speed(at).unwrap()));
    let (muzzle, listed) = (all.muzzle(), fps(load.facts().muzzle_velocity));
    // Measured at 59 °F: 41 °F hotter and 39 °F colder, the slow margin beside.
    let margin = fps(load.facts().spread.slow_margin);
    assert!((fps(muzzle.high) - listed - 61.5).abs() < 0.1, "{}", fps(muzzle.high));
    assert!((fps(muzzle.low) - listed + 58.5 + margin).abs() < 0.1, "{}", fps(muzzle.low));
    // Of the 61.5 ft/s the mean shot, with the powder of 60 °F, has 1.5.
    let gains = all.fast_gains(at).unwrap();
    assert!((fps(gains.weather) - 60.0).abs() < 0.3, "{}", fps(gains.weather));
    let still = hot.fast_gains(at).unwrap();
    assert!(fps(still.weather).abs() < 0.1, "{}", fps(still.weather));
    for gain in [gains.muzzle, gains.coefficient] {
        assert!((0.0..150.0).contains(&fps(gain)), "{gains:?}");
    }
}

#[test]
fn on_a_slope_the_fall_is_the_descent_less_the_slope_and_nowhere_beyond_reach() {
    let load = shipped("308-168-match");
    let (flights, at) = (Flights::new(&load, &sloped(10.0)).unwrap(), unit::YARD.of(400.0));
    let strike = flights.strike(at).unwrap();
    let (fall, descent) = (strike.fall, strike.descent);
    assert!((flights.slope().si().to_degrees() - 10.0).abs() < 1e-9);
    assert!((fall.si() - (descent.si() - 10_f64.to_radians())).abs() < 1e-12 && fall == strike.steepest);
    // What falls to the horizontal at -10° and more rises along the slope.
    assert!((-10.0..-9.0).contains(&fall.si().to_degrees()), "{}", fall.si().to_degrees());
}

#[test]
fn the_steepest_fall_of_a_range_of_weather_is_no_less_than_that_of_any_day_in_it() {
    let flights = |load: &crate::load::Load, altitude: &str, temperature: &str| {
        let (altitude, temperature) = (Range::parse(altitude).unwrap(), Range::parse(temperature).unwrap());
        let weather = Weather::new(Standard::Icao, Some(altitude), Some(temperature), None, None).unwrap();
        let level = unit::DEGREE.of(0.0);
        Flights::new(load, &FlightConditions::new(&weather, level, unit::PERCENT.of(99.0)).unwrap()).unwrap()
    };
    for (id, yards) in [("12ga-bird-4", 200.0), ("762-147", 600.0), ("45colt-250-cowboy", 450.0)] {
        let (load, at) = (shipped(id), unit::YARD.of(yards));
        let whole = flights(&load, "0 ft..6000 ft", "-10 F..100 F");
        let steepest = whole.strike(at).unwrap().steepest;
        for (altitude, temperature) in [("0 ft", "-10 F"), ("0 ft", "100 F"), ("6000 ft", "-10 F"), ("3000 ft", "40 F")]
        {
            let day = flights(&load, altitude, temperature);
            let own = day.strike(at).map_or(unit::DEGREE.of(0.0), |strike| strike.steepest);
            assert!(own <= steepest, "{id} at {altitude} and {temperature}");
        }
        assert!(steepest > whole.strike(at).unwrap().fall, "{id}");
    }
}

#[test]
fn a_limit_that_is_met_between_what_was_flown_and_the_end_of_reach_is_found() {
    let flights = Flights::new(&shipped("9mm-115"), &day("59F")).unwrap();
    let far = unit::YARD.of(FOLLOWED_YD);
    let reach = flights.reach();
    assert!(reach < far && flights.fast_speed(far).is_err(), "{}", unit::YARD.value(reach));
    let from = unit::YARD.of(0.0);
    for share in [0.999, 0.95] {
        let limit = flights.fast_speed(reach * share).unwrap();
        let at = flights.fast_falls_to(limit, from, far).unwrap();
        assert!((at.si() - reach.si() * share).abs() < 0.5, "{share}: {} of {}", at.si(), reach.si());
        assert!(flights.fast_speed(at).unwrap() <= limit);
    }
    let least = flights.fast_speed(reach).unwrap();
    assert!(flights.fast_falls_to(least * 0.999, from, far).is_none());
    // No farther than it is asked for, and no farther than a bullet is followed.
    let limit = flights.fast_speed(reach * 0.9).unwrap();
    assert!(flights.fast_falls_to(limit, from, reach * 0.8).is_none());
    let sleek = Flights::new(&shipped("50bmg-750"), &day("59F")).unwrap();
    assert!((unit::YARD.value(sleek.reach()) - FOLLOWED_YD).abs() < 1e-6);
}

#[test]
fn a_pellet_is_rounded_up_to_ten_yards_and_what_is_no_pellet_flies_as_a_bullet() {
    let carry = |id: &str, inches: f64, grains: f64| {
        let load = shipped(id).with(|f| {
            f.diameter = Some(unit::INCH.of(inches));
            f.bullet = unit::GRAIN.of(grains);
        });
        let carry = Flights::new(&load.unwrap(), &day("59F")).unwrap().carry().unwrap();
        (unit::YARD.value(carry.about).round(), unit::YARD.value(carry.keep_clear).round())
    };
    // 2,200 yd for each inch; 30 % more.
    assert_eq!(carry("12ga-buck-00", 0.40, 50.0), (880.0, 1150.0));
    assert_eq!(carry("12ga-buck-00", 0.401, 50.0), (890.0, 1150.0));
    assert_eq!(carry("12ga-buck-00", 0.45, 80.0), (990.0, 1290.0));
    let (rimfire, _) = carry("22lr-hv-40", 0.223, 40.0);
    assert!(rimfire > 1200.0 && rimfire % 100.0 == 0.0, "{rimfire}");
}

#[test]
fn what_is_listed_lies_between_the_muzzle_velocities_of_any_day_and_the_slow_margin_below_them() {
    let slope = unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(1.0);
    let load = shipped("308-168-match").with(|f| {
        f.spread.temperature_slope = Some(slope);
        f.spread.slow_margin = unit::FOOT_PER_SECOND.of(50.0);
    });
    let load = load.unwrap();
    let listed = fps(load.facts().muzzle_velocity);
    // Measured at 59 °F.
    for (air, low, high) in [("99F", -50.0, 40.0), ("19F", -90.0, 0.0), ("19F..99F", -90.0, 40.0)] {
        let muzzle = day_muzzle(&load, &day(air));
        assert!((fps(muzzle.low) - listed - low).abs() < 1e-6, "{air}: {}", fps(muzzle.low) - listed);
        assert!((fps(muzzle.high) - listed - high).abs() < 1e-6, "{air}: {}", fps(muzzle.high) - listed);
    }
    let at = unit::YARD.of(1.0);
    let slow = |margin: f64| {
        let load = load.with(|f| f.spread.slow_margin = unit::FOOT_PER_SECOND.of(margin)).unwrap();
        let flights = Flights::new(&load, &day("59F")).unwrap();
        (fps(flights.slow_speed(at).unwrap()), fps(flights.fast_speed(at).unwrap()))
    };
    let (with, without) = (slow(50.0), slow(0.0));
    assert!((without.0 - with.0 - 50.0).abs() < 0.5 && without.1 == with.1, "{without:?} {with:?}");
}
