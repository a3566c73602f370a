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
        projectiles: load.facts().projectiles,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Weather;
    use crate::catalog::Catalog;
    use crate::plate::{Face, Ladder};
    use crate::quantity::Velocity;
    use crate::strike::Strike;

    #[test]
    fn a_plate_takes_what_leaves_nothing_of_its_limit_and_a_curve_holds_all_three_shots() {
        let (rules, ladder) = (RuleSet::house().unwrap(), Ladder::builtin().unwrap());
        let conditions =
            FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let setup = Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap());
        let weighs = |rule: &crate::rules::Rule| matches!(rule.subject, Subject::Energy | Subject::Demand);
        let (mut by_energy, mut by_demand) = (0, 0);
        for id in ["308-168-match", "9mm-124", "338lm-250", "223-77"] {
            let load = crate::load::Load::clone(&Catalog::builtin().unwrap().load(id).unwrap().load);
            let marks = vec![(unit::YARD.of(400.0), "asked".to_owned())];
            let curve = of(&load, &conditions, &rules, ladder.plates(), &setup, marks, Units::Us).expect("a curve");
            assert!([&curve.speed, &curve.fast_speed, &curve.slow_speed].iter().all(|speeds| speeds.len() == POINTS));
            let shots = curve.slow_speed.iter().zip(&curve.speed).zip(&curve.fast_speed);
            assert!(shots.into_iter().all(|((slow, mean), fast)| **slow < **mean && **mean < **fast), "{id}");
            assert!((unit::YARD.value(*curve.distance[POINTS - 1]) - 500.0).abs() < 1e-6, "{id}");
            let flights = Flights::new(&load, &conditions).unwrap();
            let strike = flights.strike_for(Length::from_si(0.0), false).unwrap();
            let limits = curve.limits.iter().filter_map(|limit| limit.energy);
            for (plate, limit) in ladder.plates().iter().zip(limits) {
                let each = load.energy(Velocity::from_si(1.0)).si();
                let fast = Velocity::from_si((limit.si() / each).sqrt());
                let allowance = rules.allow(&load, plate, &setup, flights.muzzle());
                let found = allowance.findings(&Strike { fast, ..strike });
                let own = found.iter().filter(|f| weighs(f.rule())).filter_map(|f| Some((f.margin?, f.rule().subject)));
                let (margin, subject) = own.reduce(|a, b| if b.0 < a.0 { b } else { a }).expect("a rule");
                assert!(margin.abs() < 1e-9, "{id} on {}: {margin}", plate.label);
                by_energy += usize::from(subject == Subject::Energy);
                by_demand += usize::from(subject == Subject::Demand);
            }
        }
        assert!(by_energy > 0 && by_demand > 0, "{by_energy} {by_demand}");
    }
}
