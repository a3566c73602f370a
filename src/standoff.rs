//! How close: one load on one plate, or the chart of loads and thicknesses.

use crate::drag::Drag;
use crate::flight::{Flight, FlightError};
use crate::load::Load;
use crate::numeric::{falling, try_bisect};
use crate::plate::Plate;
use crate::quantity::{Length, Measure, Velocity, unit};
use crate::rules::{Allowance, Closest, Farthest, Judgement, OnPlate, Rule, RuleSet, Setup};
use crate::spread::risk::{PopulationError, ShooterPopulation, check_risk};
use crate::spread::{FOLLOWED_YD, FlightConditions, Flights, hot_muzzle, muzzle_sd};
use std::sync::Arc;

/// The most lean that is told, degrees: more glances bullets on (common practice).
pub const MAX_LEAN_DEG: i32 = 20;

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
    /// The distance from which on it is borderline at worst: of a single plate where that is nearer, of a chart only
    /// where it never suits.
    pub borderline: Option<Length>,
    /// Up to where it is so where it never suits; none where that does not end, as far as it is looked for.
    pub borderline_to: Option<Length>,
    /// Up to where it suits, where that ends; none where it never suits, or no farther end was found.
    pub farthest: Option<Farthest<'r>>,
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
    pub conditions: &'a FlightConditions,
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
        let allowed: Vec<Allowance> = self.columns().iter().map(|rules| rules.allow(load, flights.muzzle())).collect();
        Ok(Row { load: Arc::clone(load), cells: self.cells(&allowed, &flights) })
    }

    /// What the rules say of each plate, for rows of many loads in whatever air.
    #[must_use]
    pub fn columns(&self) -> Vec<OnPlate<'r, '_>> {
        self.plates.iter().map(|plate| self.rules.on(plate, self.setup)).collect()
    }

    /// Up to where a load suits, as the plate stands and, where no lean is given, at the most lean that is told.
    fn ends(&self, allowance: &Allowance<'r>, flights: &Flights) -> [Option<Farthest<'r>>; 2] {
        let Some(up_to) = allowance.looked_up_to(self.at) else { return [None; 2] };
        if self.setup.tilt.is_some() {
            return [allowance.farthest(flights, up_to), None];
        }
        // What does not end so far leaning does not end plumb.
        let leaning = allowance.farthest_leaning(unit::DEGREE.of(MAX_LEAN_DEG.into()), flights, up_to);
        [leaning.and_then(|_| allowance.farthest(flights, up_to)), leaning]
    }

    /// The cells of one load: what it is allowed on each plate, and how it flies.
    #[must_use]
    pub fn cells(&self, allowed: &[Allowance<'r>], flights: &Flights) -> Vec<Cell<'r>> {
        let strike = self.at.and_then(|distance| flights.strike(distance).ok());
        // What ends it is the same on most plates.
        let mut ended: Option<(&Allowance<'r>, [Option<Farthest<'r>>; 2])> = None;
        let cells = allowed.iter().map(|allowance| {
            let closest = allowance.closest(flights);
            // A chart shows it only where it never suits.
            let asked = closest.distance().is_none() || self.plates.len() == 1;
            let borderline = if asked { allowance.borderline_from(flights).distance() } else { None };
            let nearer = |d: &Length| closest.distance().is_none_or(|suits| *d < suits);
            let ends = match ended {
                Some((known, ends)) if known.ends_as(allowance) => ends,
                _ if closest.distance().is_none() => [None; 2],
                _ => {
                    let ends = self.ends(allowance, flights);
                    ended = Some((allowance, ends));
                    ends
                }
            };
            let farthest = closest.distance().and_then(|from| {
                let [plumb, leaning] = ends;
                // Where it ends before it begins, or before what is asked, so much lean is not told.
                let most = self.at.map_or(from, |at| from.max(at));
                leaning.filter(|end| end.distance >= most).or(plumb)
            });
            let borderline = borderline.filter(nearer);
            let never_better = borderline.filter(|_| closest.distance().is_none());
            let borderline_to = never_better.zip(allowance.looked_up_to(self.at));
            let borderline_to = borderline_to.and_then(|(from, up)| allowance.unsuitable_beyond(flights, from, up));
            Cell { closest, borderline, borderline_to, farthest, at: strike.map(|s| allowance.judge(&s)) }
        });
        cells.collect()
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

/// How sure a muzzle velocity is found, m/s.
const FOUND: f64 = 1e-4;
/// How sure a distance is found, m.
const FOUND_M: f64 = 1e-3;

/// The chance that a match sees a shot above the speed ceiling at a distance, and the distance that holds
/// it below the accepted one. Shots fly in the thin end of the weather. The spread of the coefficient counts as a
/// spread between rifles, by the muzzle velocity that it is worth at the distance; a chronograph string spreads as
/// its tolerance bound says, and not by its standard deviation alone.
///
/// # Errors
/// [`PopulationError`] for a match that can't be. `Ok(None)` where no rule sets a ceiling, or the load can't be flown.
pub fn match_risk<'r>(
    rules: &'r RuleSet,
    load: &Load,
    conditions: &FlightConditions,
    at: Length,
    of: &Match,
) -> Result<Option<MatchRisk<'r>>, PopulationError> {
    check_risk(of.accepted)?;
    let shots = Shots { load, conditions, of, mean: hot_muzzle(load, conditions) };
    let Some((ceiling, rule)) = rules.speed_ceiling() else { return Ok(None) };
    let (Some(limit), Some(field)) = (shots.muzzle_for(ceiling, at), shots.field(at)?) else { return Ok(None) };
    Ok(Some(MatchRisk {
        ceiling,
        rule,
        at,
        chance: field.chance_above(limit),
        accepted: of.accepted,
        safe: shots.falls_to(ceiling)?,
    }))
}

/// Whether the fastest shot of a match that the accepted chance leaves passes the ceiling of the rules at a distance.
///
/// # Errors
/// [`PopulationError`] for a match that is out of reach.
pub fn is_too_fast(
    rules: &RuleSet,
    load: &Load,
    conditions: &FlightConditions,
    at: Length,
    of: &Match,
) -> Result<bool, PopulationError> {
    let shots = Shots { load, conditions, of, mean: hot_muzzle(load, conditions) };
    let Some((ceiling, _)) = rules.speed_ceiling() else { return Ok(false) };
    Ok(shots.is_too_fast(ceiling, at)?.unwrap_or(false))
}

/// The shots of a match.
struct Shots<'a> {
    load: &'a Load,
    conditions: &'a FlightConditions,
    of: &'a Match,
    /// Mean muzzle velocity, the powder hot.
    mean: Velocity,
}

impl Shots<'_> {
    /// What a muzzle velocity arrives with; `None` where it does not.
    fn arrives(&self, muzzle: Velocity, at: Length) -> Option<Velocity> {
        self.arrives_with(&self.load.facts().drag, muzzle, at)
    }

    fn arrives_with(&self, drag: &Drag, muzzle: Velocity, at: Length) -> Option<Velocity> {
        let flight = Flight::new(drag, muzzle, self.conditions.thin(), self.conditions.slope()).ok()?;
        flight.arrive(at).ok().map(|a| a.speed)
    }

    /// The spread at the muzzle as it shows at a distance; `None` where the mean shot does not arrive.
    fn field(&self, at: Length) -> Result<Option<ShooterPopulation>, PopulationError> {
        let better = self.load.facts().drag.scaled(1.0 + self.load.bc_sd().si());
        let worth = self.arrives_with(&better, self.mean, at).and_then(|speed| self.muzzle_for(speed, at));
        let Some(worth) = worth else { return Ok(None) };
        let between = Velocity::from_si(self.of.between_rifles.si().hypot((worth - self.mean).si().max(0.0)));
        let within = muzzle_sd(self.load, self.conditions);
        ShooterPopulation::new(self.mean, within, between, self.of.shooters, self.of.rounds).map(Some)
    }

    /// The muzzle velocity that arrives at a distance with a speed; on the slow side of it.
    fn muzzle_for(&self, speed: Velocity, at: Length) -> Option<Velocity> {
        let (low, high) = (speed.si(), 1700.0_f64.max(speed.si() + 1.0));
        self.arrives(Velocity::from_si(high), at)?;
        let short = |arriving: Option<Velocity>| arriving.map_or(speed, |arriving| speed - arriving).si();
        let fast = falling(|mps| short(self.arrives(Velocity::from_si(mps), at)), low, high, FOUND);
        Some(Velocity::from_si(fast - FOUND))
    }

    /// Whether more than the accepted chance is left that a shot is above a speed at a distance; `None` where the mean
    /// shot does not arrive.
    fn is_too_fast(&self, speed: Velocity, at: Length) -> Result<Option<bool>, PopulationError> {
        let (Some(field), Some(muzzle)) = (self.field(at)?, self.muzzle_for(speed, at)) else { return Ok(None) };
        Ok(Some(field.chance_above(muzzle) > self.of.accepted))
    }

    /// The distance at which the accepted chance falls to a speed, by halving; on the far side of it.
    fn falls_to(&self, speed: Velocity) -> Result<Option<Length>, PopulationError> {
        let (mut low, mut high) = (0.0, 0.0);
        loop {
            match self.is_too_fast(speed, Length::from_si(high))? {
                Some(true) => (low, high) = (high, (2.0 * high).max(50.0)),
                Some(false) => break,
                None => return Ok(None),
            }
            if high > unit::YARD.of(FOLLOWED_YD).si() {
                return Ok(None);
            }
        }
        // A mean shot that does not arrive ends the search without an answer.
        let found = try_bisect(low, high, FOUND_M, |metres| match self.is_too_fast(speed, Length::from_si(metres)) {
            Ok(known) => known.ok_or(None),
            Err(error) => Err(Some(error)),
        });
        match found {
            Ok((_, far)) => Ok(Some(Length::from_si(far))),
            Err(None) => Ok(None),
            Err(Some(error)) => Err(error),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Weather;
    use crate::catalog::Catalog;
    use crate::load::MuzzleSpread;

    fn risk(shooters: u32, rounds: u32, yards: f64) -> MatchRisk<'static> {
        static RULES: std::sync::LazyLock<RuleSet> = std::sync::LazyLock::new(|| RuleSet::house().unwrap());
        let conditions =
            FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
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
    fn a_chronograph_string_counts_by_its_tolerance_bound() {
        let catalog = Catalog::builtin().unwrap();
        let conditions =
            FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let mut facts = catalog.load("556-55").unwrap().load.facts().clone();
        let sd = unit::FOOT_PER_SECOND.of(20.0);
        facts.spread.muzzle = MuzzleSpread::Sd(sd);
        let plain = Load::checked("plain", facts.clone()).unwrap();
        facts.spread.muzzle = MuzzleSpread::Bound { sd, factor: 3.981, string: None };
        let string = Load::checked("string", facts).unwrap();
        let (plain, string) = (muzzle_sd(&plain, &conditions), muzzle_sd(&string, &conditions));
        assert_eq!(plain, sd);
        // 2.3263 is the normal's 99 % point.
        assert!((string.si() / (sd.si() * 3.981 / 2.326_348) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_coefficient_that_spreads_more_never_lowers_the_chance() {
        let rules = RuleSet::house().unwrap();
        let conditions =
            FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let of = Match { shooters: 40, rounds: 100, between_rifles: Velocity::from_si(12.0), accepted: 0.01 };
        let facts = Catalog::builtin().unwrap().load("556-55").unwrap().load.facts().clone();
        let risk = |percent: f64| {
            let mut facts = facts.clone();
            facts.spread.bc_sd = Some(unit::PERCENT.of(percent));
            let load = Load::checked("load", facts).unwrap();
            match_risk(&rules, &load, &conditions, unit::YARD.of(150.0), &of).unwrap().unwrap()
        };
        let (steady, loose) = (risk(0.5), risk(8.0));
        assert!(loose.chance > steady.chance && loose.safe.unwrap() > steady.safe.unwrap());
    }

    #[test]
    fn one_shot_of_one_rifle_is_accepted_from_where_the_fast_shot_is() {
        let rules = RuleSet::house().unwrap();
        let conditions =
            FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        // One shot in a hundred is what the fast shot leaves: the same distance by another road.
        let of = Match { shooters: 1, rounds: 1, between_rifles: Velocity::from_si(0.0), accepted: 0.01 };
        let load = Catalog::builtin().unwrap().load("556-55").unwrap().load.clone();
        for (sd, bc_sd) in [(15.0, 5.0), (30.0, 1.0), (5.0, 6.0)] {
            let load = load
                .with(|facts| {
                    facts.spread.muzzle = MuzzleSpread::Sd(unit::FOOT_PER_SECOND.of(sd));
                    facts.spread.bc_sd = Some(unit::PERCENT.of(bc_sd));
                })
                .unwrap();
            let risk = match_risk(&rules, &load, &conditions, unit::YARD.of(150.0), &of).unwrap().unwrap();
            let flights = Flights::new(&load, &conditions).unwrap();
            let from = flights.fast_falls_to(risk.ceiling, Length::from_si(0.0), unit::YARD.of(1000.0)).unwrap();
            let share = risk.safe.unwrap().si() / from.si() - 1.0;
            assert!(share.abs() < 0.02, "{sd} ft/s, {bc_sd} %: {share}");
        }
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
