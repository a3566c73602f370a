//! How close: one load on one plate, or the chart of loads and thicknesses.

use crate::flight::{Flight, FlightError};
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Length, Measure, Velocity, unit};
use crate::rules::{Closest, Judgement, Rule, RuleSet, Setup};
use crate::spread::risk::{Field, FieldError};
use crate::spread::{Conditions, FOLLOWED_YD, Flights, hot_muzzle};
use std::sync::Arc;

/// A load's row of the chart: one cell for each plate.
#[derive(Debug, Clone)]
pub struct Row<'r> {
    /// The load.
    pub load: Arc<Load>,
    /// The cells, in the order of the plates asked.
    pub cells: Vec<Cell<'r>>,
}

/// A cell of the chart.
#[derive(Debug, Clone, Copy)]
pub struct Cell<'r> {
    /// The closest distance.
    pub closest: Closest<'r>,
    /// The verdict at the distance asked, where one was; `None` also where the bullet does not reach it.
    pub at: Option<Judgement<'r>>,
}

/// What the whole chart is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Chart<'r, 'a> {
    /// The rules to judge by.
    pub rules: &'r RuleSet,
    /// The plates, in the order of the columns.
    pub plates: &'a [Plate],
    /// How the plates stand.
    pub setup: &'a Setup,
    /// Weather, slope and coverage.
    pub conditions: &'a Conditions,
    /// A distance to give verdicts at.
    pub at: Option<Length>,
}

impl<'r> Chart<'r, '_> {
    /// The row of one load.
    ///
    /// # Errors
    /// [`FlightError`] where the load can't be flown at all, on this slope for instance.
    pub fn row(&self, load: &Arc<Load>) -> Result<Row<'r>, FlightError> {
        let flights = Flights::new(load, self.conditions)?;
        let strike = self.at.and_then(|distance| flights.strike(distance).ok());
        let cells = self.plates.iter().map(|plate| {
            let allowance = self.rules.allow(load, plate, self.setup);
            Cell { closest: allowance.closest(&flights), at: strike.map(|s| allowance.judge(&s)) }
        });
        Ok(Row { load: Arc::clone(load), cells: cells.collect() })
    }
}

/// What a match of many shots does to one load on one plate.
#[derive(Debug, Clone, Copy)]
pub struct MatchRisk<'r> {
    /// The speed ceiling at the plate.
    pub ceiling: Velocity,
    /// The rule that sets it.
    pub rule: &'r Rule,
    /// The distance the chance is given for.
    pub at: Length,
    /// The chance that at least one shot of the match arrives above the ceiling.
    pub chance: f64,
    /// The chance that is accepted.
    pub accepted: f64,
    /// The closest distance with no more than the accepted chance; `None` where it is not within reach.
    pub safe: Option<Length>,
}

/// A match: how many shooters and rounds, the spread between rifles, and the chance that is accepted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Match {
    /// How many shooters.
    pub shooters: u32,
    /// Rounds each of them shoots.
    pub rounds: u32,
    /// Standard deviation of mean muzzle velocity between rifles.
    pub between_rifles: Velocity,
    /// The chance that is accepted.
    pub accepted: f64,
}

/// How sure a muzzle velocity is found, m/s, and a distance, m.
const FOUND: f64 = 1e-4;

/// The chance that a match sees a shot above the speed ceiling at a distance, and the distance that holds
/// it below the accepted one. Shots fly in the thin end of the weather with the load's coefficient.
///
/// # Errors
/// [`FieldError`] for a match that can't be. `Ok(None)` where no rule sets a ceiling, or the load can't be flown.
pub fn match_risk<'r>(
    rules: &'r RuleSet,
    load: &Load,
    conditions: &Conditions,
    at: Length,
    of: &Match,
) -> Result<Option<MatchRisk<'r>>, FieldError> {
    let mean = hot_muzzle(load, conditions);
    let field = Field::new(mean, load.velocity_sd(), of.between_rifles, of.shooters, of.rounds)?;
    let safe_muzzle = field.limit_for(of.accepted)?;
    let Some((ceiling, rule)) = rules.speed_ceiling() else { return Ok(None) };
    let Some(limit) = muzzle_for(load, conditions, ceiling, at) else { return Ok(None) };
    Ok(Some(MatchRisk {
        ceiling,
        rule,
        at,
        chance: field.chance_above(limit),
        accepted: of.accepted,
        safe: falls_to(load, conditions, safe_muzzle, ceiling),
    }))
}

fn arrives(load: &Load, conditions: &Conditions, muzzle: Velocity, at: Length) -> Option<Velocity> {
    let flight = Flight::new(&load.facts().drag, muzzle, conditions.thin(), conditions.slope()).ok()?;
    flight.arrive(at).ok().map(|a| a.speed)
}

/// The muzzle velocity that arrives at a distance with a speed, by halving; on the slow side of it.
fn muzzle_for(load: &Load, conditions: &Conditions, speed: Velocity, at: Length) -> Option<Velocity> {
    let (mut low, mut high) = (speed.si(), 1700.0_f64.max(speed.si() + 1.0));
    arrives(load, conditions, Velocity::from_si(high), at)?;
    while high - low > FOUND {
        let middle = 0.5 * (low + high);
        match arrives(load, conditions, Velocity::from_si(middle), at) {
            Some(arriving) if arriving > speed => high = middle,
            _ => low = middle,
        }
    }
    Some(Velocity::from_si(low))
}

/// The distance at which a muzzle velocity has fallen to a speed, by halving; on the far side of it.
fn falls_to(load: &Load, conditions: &Conditions, muzzle: Velocity, speed: Velocity) -> Option<Length> {
    if muzzle <= speed {
        return Some(Length::from_si(0.0));
    }
    let too_fast = |metres: f64| arrives(load, conditions, muzzle, Length::from_si(metres)).map(|v| v > speed);
    let (mut low, mut high) = (0.0, 50.0);
    while too_fast(high)? {
        (low, high) = (high, 2.0 * high);
        if high > unit::YARD.of(FOLLOWED_YD).si() {
            return None;
        }
    }
    while high - low > FOUND {
        let middle = 0.5 * (low + high);
        if too_fast(middle)? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(Length::from_si(high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Weather;
    use crate::catalog::Catalog;

    fn risk(shooters: u32, rounds: u32, yards: f64) -> MatchRisk<'static> {
        static RULES: std::sync::LazyLock<RuleSet> = std::sync::LazyLock::new(|| RuleSet::house().unwrap());
        let conditions = Conditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let catalog = Catalog::builtin().unwrap();
        let of = Match { shooters, rounds, between_rifles: unit::FOOT_PER_SECOND.of(40.0), accepted: 0.01 };
        let load = &catalog.load("556-55").unwrap().load;
        match_risk(&RULES, load, &conditions, unit::YARD.of(yards), &of).unwrap().unwrap()
    }

    #[test]
    fn at_the_distance_it_names_the_match_has_the_accepted_chance() {
        let safe = risk(40, 100, 100.0).safe.unwrap();
        let there = risk(40, 100, unit::YARD.value(safe));
        assert!((there.chance / 0.01 - 1.0).abs() < 1e-3, "{}", there.chance);
    }

    #[test]
    fn more_shooters_or_rounds_never_shorten_the_distance_nor_lower_the_chance() {
        let mut last = (0.0, 0.0);
        for (shooters, rounds) in [(1, 1), (1, 50), (10, 50), (100, 50), (100, 500)] {
            let risk = risk(shooters, rounds, 120.0);
            let now = (risk.safe.unwrap().si(), risk.chance);
            assert!(now.0 >= last.0 && now.1 >= last.1, "{shooters} {rounds}");
            last = now;
        }
    }
}
