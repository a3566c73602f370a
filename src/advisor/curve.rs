//! A load followed over distance, for a figure.

use super::answer::{Curve, Limit};
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Length, Measure, Si, unit};
use crate::rules::{Allowance, RuleSet, Setup, Subject};
use crate::source::clean;
use crate::spread::{FlightConditions, Flights};
use crate::words::Units;

/// Points of a curve.
const POINTS: usize = 61;
/// A curve runs on beyond the last mark by this.
const BEYOND: f64 = 1.25;
/// And this far at least, yd.
const AT_LEAST_YD: f64 = 150.0;

/// The flight of a load, with the limits of the plates and the marks; none where it can't be flown.
pub(crate) fn of(
    load: &Load,
    conditions: &FlightConditions,
    rules: &RuleSet,
    plates: &[Plate],
    setup: &Setup,
    marks: Vec<(Length, String)>,
    units: Units,
) -> Option<Curve> {
    let flights = Flights::new(load, conditions).ok()?;
    let mut curve = flown(load, &flights, &marks)?;
    if let Some((ceiling, _)) = rules.speed_ceiling() {
        curve.limits.push(Limit {
            words: format!("ceiling {}", units.speed(ceiling)),
            speed: Some(Si(ceiling)),
            energy: None,
            distance: None,
        });
    }
    for plate in plates {
        let allowance = rules.allow(load, plate, setup, flights.muzzle());
        curve.limits.extend(energy_limit(&allowance, load, &flights, plate, units));
    }
    Some(curve)
}

/// The flight alone.
pub(crate) fn alone(load: &Load, conditions: &FlightConditions, farthest: Length) -> Option<Curve> {
    let flights = Flights::new(load, conditions).ok()?;
    flown(load, &flights, &[(farthest, String::new())]).map(|curve| Curve { marks: Vec::new(), ..curve })
}

fn flown(load: &Load, flights: &Flights, marks: &[(Length, String)]) -> Option<Curve> {
    let last = marks.iter().map(|(at, _)| at.si() * BEYOND).fold(unit::YARD.of(AT_LEAST_YD).si(), f64::max);
    let far = last.min(flights.reach().si());
    let mut curve = Curve {
        load: load.facts().name.clone(),
        distance: Vec::with_capacity(POINTS),
        speed: Vec::with_capacity(POINTS),
        fast_speed: Vec::with_capacity(POINTS),
        slow_speed: Vec::with_capacity(POINTS),
        energy: Vec::with_capacity(POINTS),
        fast_energy: Vec::with_capacity(POINTS),
        limits: Vec::new(),
        marks: marks.iter().map(|(at, words)| (Si(*at), words.clone())).collect(),
    };
    for index in 0..POINTS {
        let at = Length::from_si(far * index as f64 / (POINTS - 1) as f64);
        let strike = flights.strike(at).ok()?;
        curve.distance.push(Si(at));
        curve.speed.push(Si(strike.mean));
        curve.fast_speed.push(Si(strike.fast));
        curve.slow_speed.push(Si(strike.slow));
        curve.energy.push(Si(load.energy(strike.mean)));
        curve.fast_energy.push(Si(load.energy(strike.fast)));
    }
    Some(curve)
}

/// The energy of one projectile that a plate takes: of its cap and its demand the lower.
fn energy_limit(allowance: &Allowance, load: &Load, flights: &Flights, plate: &Plate, units: Units) -> Option<Limit> {
    let strike = flights.strike_for(Length::from_si(0.0), false).ok()?;
    let found = allowance.findings(&strike);
    let own = found.iter().filter(|f| matches!(f.rule().subject, Subject::Energy | Subject::Demand));
    // A margin of energy is 1 − E/limit, of demand 1 − (E/limit)^(2/3).
    let limits = own.filter_map(|f| {
        let share = 1.0 - f.margin?;
        let share = if f.rule().subject == Subject::Demand { share.powf(1.5) } else { share };
        Some(load.energy(strike.fast) / share)
    });
    let least = limits.reduce(|a, b| if b < a { b } else { a })?;
    Some(Limit {
        words: format!("{} takes {}", clean(&plate.label), units.energy(least)),
        speed: None,
        energy: Some(Si(least)),
        distance: None,
    })
}
