//! The solver against closed forms, its twin, a general ODE crate, and itself.

use super::rates::Rates;
use super::state::State;
use super::steps::Steps;
use super::{Flight, collocation, steps, time_form};
use crate::air::Air;
use crate::drag::{Band, Drag, DragCurve, DragModel};
use crate::quantity::draws::exhaustive;
use crate::quantity::{Length, Measure, Velocity, parse, unit};
use std::sync::Arc;

/// The twin and the solver agree to this over the catalogue, ft/s and s, but for a rare arrival near the speed of
/// sound, where the drag rises within a few ft/s: there to the second, 0.005 %.
const TWIN_FPS: [f64; 2] = [0.01, 0.06];
const TWIN_SECONDS: f64 = 2e-4;
/// Slower arrivals, ft/s, are at the end of a pellet's reach, where a hair of aim changes them: left out.
const SLOWEST_FPS: f64 = 350.0;

fn fps(speed: Velocity) -> f64 {
    unit::FOOT_PER_SECOND.value(speed)
}

fn icao() -> Air {
    Air::icao(unit::METRE.of(0.0))
}

/// A shipped load as its record writes it.
struct Facts {
    id: String,
    muzzle: Velocity,
    drag: Drag,
}

fn catalogue() -> Vec<Facts> {
    let file: toml::Table = toml::from_str(include_str!("../../data/loads.toml")).unwrap();
    let records = file["load"].as_array().unwrap();
    assert!(records.len() > 150);
    let of = |record: &toml::Value| {
        let text = |key: &str| record[key].as_str().unwrap();
        let model = text("drag").parse().unwrap();
        Facts {
            id: text("id").into(),
            muzzle: parse(text("muzzle-velocity")).unwrap(),
            drag: Drag::single(model, parse(text("bc")).unwrap()).unwrap(),
        }
    };
    records.iter().map(of).collect()
}

fn match_bullet() -> Drag {
    Drag::single(DragModel::G7, unit::POUND_PER_SQUARE_INCH.of(0.223)).unwrap()
}

fn constant(cd: f64) -> Drag {
    let curve = DragCurve::from_points(&[(0.0, cd), (1.0, cd), (5.0, cd)]).unwrap();
    Drag::own(Arc::new(curve), unit::GRAIN.of(168.0), unit::INCH.of(0.308)).unwrap()
}

#[test]
fn drag_space_and_time_form_agree_over_the_catalogue_uphill_and_down() {
    let mut worst: f64 = 0.0;
    let (mut compared, mut beyond) = (0, 0);
    // The slopes in turn; where many cases are asked, each load on each.
    let all = exhaustive();
    for (turn, facts) in catalogue().iter().enumerate() {
        for (_, degrees) in [-30.0, 0.0, 30.0].into_iter().enumerate().filter(|(i, _)| all || turn % 3 == *i) {
            let slope = unit::DEGREE.of(degrees);
            let flight = Flight::new(&facts.drag, facts.muzzle, &icao(), slope).unwrap();
            for yards in [10.0, 100.0, 500.0, 1000.0] {
                let distance = unit::YARD.of(yards);
                let Ok(ours) = flight.arrive(distance) else { continue };
                let twin = time_form::arrive(&facts.drag, facts.muzzle, &icao(), slope, distance).unwrap();
                if fps(twin.speed) < SLOWEST_FPS {
                    continue;
                }
                let error = fps(ours.speed) - fps(twin.speed);
                let late = ours.time.si() - twin.time.si();
                assert!(error.abs() <= TWIN_FPS[1], "{} {degrees} {yards}: {error} ft/s", facts.id);
                assert!(late.abs() < TWIN_SECONDS, "{} {degrees} {yards}: {late} s", facts.id);
                beyond += usize::from(error.abs() > TWIN_FPS[0]);
                assert!((ours.descent.si() - twin.descent.si()).abs() < 1e-4, "{} {degrees} {yards}", facts.id);
                worst = worst.max(error.abs());
                compared += 1;
            }
        }
    }
    assert!(compared > if all { 1800 } else { 500 } && beyond * 500 <= compared, "{beyond} of {compared}");
    assert!(worst > 0.0, "they can't be the same computation");
}

#[test]
fn without_gravity_constant_drag_is_an_exponential_in_both_forms() {
    for cd in [0.2, 0.5] {
        let drag = constant(cd);
        let (muzzle, metres) = (unit::METRE_PER_SECOND.of(800.0), 600.0);
        let k = std::f64::consts::FRAC_PI_8 / drag.bands()[0].bc.si() * icao().density().si() * cd;
        let expected = 800.0 * (-k * metres).exp();
        let mut flight = Flight::new(&drag, muzzle, &icao(), unit::DEGREE.of(0.0)).unwrap();
        flight.gravity = 0.0;
        let ours = flight.arrive(unit::METRE.of(metres)).unwrap().speed.si();
        assert!((ours / expected - 1.0).abs() < 1e-9, "{cd}: {ours} {expected}");
        let twin = time_form::weightless(&drag, muzzle, &icao(), metres).unwrap();
        assert!((twin / expected - 1.0).abs() < 1e-9, "{cd}: {twin} {expected}");
    }
}

#[test]
fn at_constant_drag_and_fixed_steps_the_error_falls_with_the_fifth_power() {
    let drag = constant(0.3);
    let flight = Flight::new(&drag, unit::METRE_PER_SECOND.of(800.0), &icao(), unit::DEGREE.of(20.0)).unwrap();
    let end = |count: u32| -> f64 {
        let mut steps = Steps::new(&flight);
        let h = 900.0 / f64::from(count);
        let mut y: State = [steps.rates.start(), 0.01, 0.0, 0.0];
        for step in 0..count {
            let s = f64::from(step) * h;
            let rate = steps.rates.at(s, &y).unwrap();
            y = steps.step(s, &y, &rate, h).unwrap().0;
        }
        y[2]
    };
    let exact = end(512);
    let (coarse, fine) = ((end(4) - exact).abs(), (end(8) - exact).abs());
    let order = (coarse / fine).log2();
    assert!((4.5..6.5).contains(&order), "order {order}: {coarse} {fine}");
}

#[test]
fn an_aimed_path_hits_what_it_is_aimed_at() {
    for degrees in [-60.0, -20.0, 0.0, 45.0, 60.0] {
        let flight =
            Flight::new(&match_bullet(), unit::FOOT_PER_SECOND.of(2650.0), &icao(), unit::DEGREE.of(degrees)).unwrap();
        for yards in [25.0, 300.0, 1200.0] {
            let distance = unit::YARD.of(yards);
            let path = flight.path(distance).unwrap();
            assert!(path.offset().si().abs() <= 2.1e-5 * distance.si(), "{degrees} {yards}");
            assert!((path.arrival().distance.si() - distance.si()).abs() < 1e-12 * distance.si());
        }
    }
}

#[test]
fn speed_and_height_together_never_gain_energy_along_the_path() {
    for facts in catalogue() {
        for degrees in [-55.0, 0.0, 40.0] {
            let flight = Flight::new(&facts.drag, facts.muzzle, &icao(), unit::DEGREE.of(degrees)).unwrap();
            let Ok(path) = flight.path(unit::YARD.of(300.0)) else { continue };
            let mut last = f64::INFINITY;
            for step in 0..=60 {
                let s = Length::from_si(unit::YARD.of(5.0 * f64::from(step)).si());
                let energy = 0.5 * path.at(s).speed.si().powi(2) + 9.806_65 * path.height(s).si();
                assert!(energy <= last * (1.0 + 1e-9), "{} {degrees} {step}", facts.id);
                last = energy;
            }
        }
    }
}

#[test]
fn a_coefficient_in_bands_of_one_value_flies_like_a_single_one_and_its_edges_hold() {
    let muzzle = unit::FOOT_PER_SECOND.of(2650.0);
    let bc = |value: f64| unit::POUND_PER_SQUARE_INCH.of(value);
    let banded = |low: f64, high: f64| {
        let bands = [(0.0, low), (1800.0, high), (2300.0, low)];
        let bands = bands.iter().map(|&(v, b)| Band { above: unit::FOOT_PER_SECOND.of(v), bc: bc(b) }).collect();
        Drag::banded(DragModel::G7, bands).unwrap()
    };
    let level = unit::DEGREE.of(0.0);
    let arrive = |drag: &Drag, yards: f64| {
        fps(Flight::new(drag, muzzle, &icao(), level).unwrap().arrive(unit::YARD.of(yards)).unwrap().speed)
    };
    assert!((arrive(&banded(0.223, 0.223), 900.0) - arrive(&match_bullet(), 900.0)).abs() < 1e-4);
    for yards in [100.0, 250.0, 500.0, 900.0] {
        let drag = banded(0.21, 0.26);
        let twin = time_form::arrive(&drag, muzzle, &icao(), level, unit::YARD.of(yards)).unwrap();
        assert!((arrive(&drag, yards) - fps(twin.speed)).abs() < 0.05, "{yards}");
    }
}

#[test]
fn a_solve_with_its_aim_takes_a_bounded_amount_of_work() {
    let solve = |degrees: f64| {
        let flight =
            Flight::new(&match_bullet(), unit::FOOT_PER_SECOND.of(2650.0), &icao(), unit::DEGREE.of(degrees)).unwrap();
        flight.path(unit::YARD.of(1000.0)).unwrap().evaluations()
    };
    assert!(
        solve(0.0) <= 50 && solve(30.0) <= 100 && solve(-30.0) <= 100,
        "{} {} {}",
        solve(0.0),
        solve(30.0),
        solve(-30.0)
    );
}

#[test]
fn what_can_t_be_flown_is_refused_by_name() {
    let flight =
        |v: f64, d: f64| Flight::new(&match_bullet(), unit::FOOT_PER_SECOND.of(v), &icao(), unit::DEGREE.of(d));
    assert_eq!(flight(2650.0, 89.0).unwrap_err().field(), "slope");
    assert_eq!(flight(2650.0, f64::NAN).unwrap_err().field(), "slope");
    assert_eq!(flight(f64::NAN, 0.0).unwrap_err().field(), "velocity");
    let good = flight(2650.0, 0.0).unwrap();
    for yards in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(good.arrive(unit::YARD.of(yards)).unwrap_err().field(), "at");
    }
    assert!(good.arrive(unit::YARD.of(20_000.0)).unwrap_err().to_string().contains("does not reach"));
}

#[test]
fn the_solver_agrees_with_a_general_ode_crate() {
    // Found by `ode_solvers`, aimed by its own secants; the package beside the file holds it to that.
    let flights = include_str!("../../tests/bench/general/flights.csv").lines().skip(1);
    let compared = flights.map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |i: usize| cells[i].parse::<f64>().unwrap();
        let model = if cells[0] == "G7" { DragModel::G7 } else { DragModel::G1 };
        let drag = Drag::single(model, unit::POUND_PER_SQUARE_INCH.of(number(1))).unwrap();
        let (muzzle, slope) = (unit::FOOT_PER_SECOND.of(number(2)), unit::DEGREE.of(number(3)));
        let arrival = Flight::new(&drag, muzzle, &icao(), slope).unwrap().arrive(unit::YARD.of(number(4))).unwrap();
        assert!((arrival.speed.si() - number(5)).abs() < 0.005, "{line}: {}", arrival.speed.si());
        assert!((arrival.time.si() - number(6)).abs() < TWIN_SECONDS, "{line}: {}", arrival.time.si());
    });
    assert_eq!(compared.count(), 36);
}

#[test]
fn a_path_found_whole_is_the_one_that_steps_aim_at() {
    let (mut whole, mut all) = (0, 0);
    for facts in catalogue() {
        for degrees in [-60.0, -30.0, 0.0, 30.0, 60.0] {
            let slope = unit::DEGREE.of(degrees);
            let flight = Flight::new(&facts.drag, facts.muzzle, &icao(), slope).unwrap();
            for yards in [1.0, 10.0, 100.0, 300.0, 500.0, 1000.0, 1500.0] {
                let metres = unit::YARD.of(yards).si();
                let mut nodes = Vec::new();
                if steps::aim(&flight, metres, &mut nodes).is_none() {
                    continue;
                }
                all += 1;
                let Some(found) = collocation::find(&mut Rates::new(&flight), metres, None) else { continue };
                whole += 1;
                let (end, case) = (nodes[nodes.len() - 1].y, format!("{} {degrees} {yards}", facts.id));
                if fps(Velocity::from_si(flight.speed(metres, &end))) < SLOWEST_FPS {
                    continue;
                }
                let error = fps(Velocity::from_si(flight.speed(metres, &found.end) - flight.speed(metres, &end)));
                assert!(error.abs() < TWIN_FPS[1], "{case}: {error}");
                assert!((found.end[1] - end[1]).abs() < 2e-4 && (found.end[3] - end[3]).abs() < 1e-3, "{case}");
            }
        }
    }
    assert!(all > 2000 && f64::from(whole) > 0.95 * f64::from(all), "{whole} of {all}");
}

#[test]
fn a_bullet_that_is_out_of_reach_for_steps_is_not_found_whole_either() {
    let all = exhaustive();
    for (turn, facts) in catalogue().iter().enumerate() {
        for (_, degrees) in [-60.0, 0.0, 60.0].into_iter().enumerate().filter(|(i, _)| all || turn % 3 == *i) {
            let slope = unit::DEGREE.of(degrees);
            let flight = Flight::new(&facts.drag, facts.muzzle, &icao(), slope).unwrap();
            for yards in [1000.0, 2000.0, 3000.0, 5000.0] {
                let metres = unit::YARD.of(yards).si();
                let stepped = steps::aim(&flight, metres, &mut Vec::new()).is_some();
                let found = collocation::find(&mut Rates::new(&flight), metres, None).is_some();
                assert!(stepped || !found, "{} {degrees} {yards}", facts.id);
            }
        }
    }
}

#[test]
fn a_bullet_s_own_table_flies_as_the_twin_does_and_a_wild_one_nearly_so() {
    let mut uniform = crate::quantity::draws::uniform(0x9E37_79B9_7F4A_7C15);
    let mut draw = move |low: f64, high: f64| low + (high - low) * uniform();
    let mut compared = 0;
    for case in 0..if exhaustive() { 600 } else { 200 } {
        // Steps of Cd as no bullet has them, or swings as large as the transonic rise.
        let (low, high, allowed) = if case % 2 == 0 { (0.05, 1.05, 0.5) } else { (0.1, 0.4, 0.05) };
        let mut mach = 0.0;
        let mut points: Vec<(f64, f64)> = (0..12)
            .map(|_| {
                let at = mach;
                mach += draw(0.03, 0.4);
                (at, draw(low, high))
            })
            .collect();
        // Past every muzzle, level.
        points.push((5.0, points[11].1));
        let curve = Arc::new(DragCurve::from_points(&points).unwrap());
        let drag = Drag::own(curve, unit::GRAIN.of(draw(100.0, 300.0)), unit::INCH.of(0.308)).unwrap();
        let (muzzle, slope) = (unit::FOOT_PER_SECOND.of(draw(600.0, 3400.0)), unit::DEGREE.of(draw(-60.0, 60.0)));
        let distance = unit::YARD.of(draw(20.0, 1000.0));
        let flight = Flight::new(&drag, muzzle, &icao(), slope).unwrap();
        let (Ok(ours), Ok(twin)) =
            (flight.arrive(distance), time_form::arrive(&drag, muzzle, &icao(), slope, distance))
        else {
            continue;
        };
        let error = fps(ours.speed) - fps(twin.speed);
        assert!(error.abs() < allowed, "{case}: {error} {points:?} {muzzle:?} {slope:?} {distance:?}");
        compared += 1;
    }
    assert!(compared > if exhaustive() { 500 } else { 160 }, "{compared}");
}
