//! The match judged: loads in parallel, each flown once for a slope, each rule set compiled once for a kind of
//! target. What is kept does not grow with the product of the two.

use super::{Course, Position, Target};
use crate::flight::FlightError;
use crate::load::Load;
use crate::plate::{Face, Ladder, Mount, Plate};
use crate::quantity::{Length, Measure, unit};
use crate::rules::{Allowance, Closest, Rule, RuleSet, Setup, Verdict};
use crate::spread::{CoverageError, FlightConditions, Flights, Followed};
use crate::strike::Strike;
use rayon::prelude::*;
use std::cell::OnceCell;

/// Failing loads that a target names; the others are counted.
const NAMED: usize = 8;

/// What a target comes to.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Its verdict: its worst load's; suits where no load shoots at it.
    pub verdict: Verdict,
    /// Index of the worst load among the course's, where any shoots at it.
    pub worst: Option<usize>,
    /// What the worst load does, judged exactly; the governing rule's id and the margin.
    pub governed_by: Option<String>,
    /// Why, in the rule's words.
    pub why: Option<String>,
    /// What the rule says to do.
    pub next: Option<String>,
    /// Share in hand.
    pub margin: Option<f64>,
    /// What the worst load arrives with.
    pub strike: Option<Strike>,
    /// How many loads do not suit.
    pub failing: usize,
    /// The first of them.
    pub named: Vec<usize>,
    /// How many loads shoot at it.
    pub shot_by: usize,
    /// The distance from which every load suits its plate; `None` where one never does.
    pub distance: Option<Length>,
    /// The thinnest plate of the ladder that suits every load at its nearest point.
    pub plate: Option<Plate>,
    /// The cheapest of what would mend it.
    pub fix: Fix,
}

/// The cheapest fix.
#[derive(Debug, Clone, PartialEq)]
pub enum Fix {
    /// It passes.
    Nothing,
    /// Shoot it from a position farther back: its index.
    Position(usize),
    /// Move the line back to a distance.
    Move(Length),
    /// Hang a thicker plate.
    Hang(Plate),
    /// Refuse these loads at this target.
    Refuse(Vec<usize>),
    /// Nothing short of another target.
    None,
}

/// The work that was done: for tests, which assert work and never time.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Work {
    /// Sets of flights that were made: one for a load and a slope.
    pub flights: usize,
    /// Rule sets that were compiled: one for a load and a kind of target.
    pub compiled: usize,
    /// Pairs that had to be judged on exact flights.
    pub exact: usize,
}

/// Targets of one slope.
struct Slope {
    conditions: FlightConditions,
    kinds: Vec<Kind>,
    farthest: Length,
}

/// Targets of one plate and setup.
struct Kind {
    plate: Plate,
    setup: Setup,
    targets: Vec<usize>,
}

/// What is kept of a target while loads go by.
#[derive(Debug, Clone)]
struct Tally {
    /// Verdict, what is in hand, and the load: the worst so far.
    worst: Option<(Verdict, f64, usize)>,
    shot_by: usize,
    failing: usize,
    named: Vec<usize>,
    /// Farthest closest distance of a failing load, m; infinite where one never suits.
    distance: f64,
    /// Plates of the ladder that every failing load suits.
    plates: u128,
}

impl Tally {
    fn new() -> Self {
        Self { worst: None, shot_by: 0, failing: 0, named: Vec::new(), distance: 0.0, plates: u128::MAX }
    }

    fn offer(&mut self, other: (Verdict, f64, usize)) {
        let is_worse = self.worst.is_none_or(|w| {
            let hold = other.1.total_cmp(&w.1);
            other.0.cmp(&w.0).then(hold.reverse()).then(w.2.cmp(&other.2)).is_gt()
        });
        if is_worse {
            self.worst = Some(other);
        }
    }

    fn merged(mut self, other: Self) -> Self {
        if let Some(worst) = other.worst {
            self.offer(worst);
        }
        self.shot_by += other.shot_by;
        self.failing += other.failing;
        self.named.extend(other.named);
        self.named.sort_unstable();
        self.named.truncate(NAMED);
        self.distance = self.distance.max(other.distance);
        self.plates &= other.plates;
        self
    }
}

struct Tallies {
    targets: Vec<Tally>,
    work: Work,
}

impl Tallies {
    fn new(targets: usize) -> Self {
        Self { targets: vec![Tally::new(); targets], work: Work::default() }
    }

    fn merged(self, other: Self) -> Self {
        let targets = self.targets.into_iter().zip(other.targets).map(|(a, b)| a.merged(b)).collect();
        let (a, b) = (self.work, other.work);
        let work = Work { flights: a.flights + b.flights, compiled: a.compiled + b.compiled, exact: a.exact + b.exact };
        Self { targets, work }
    }
}

struct Judge<'a> {
    course: &'a Course,
    rules: &'a RuleSet,
    ladder: &'a Ladder,
    slopes: Vec<Slope>,
}

/// Judges every target of a course. `conditions` gives the air on a slope; `progress` hears of each load done.
/// The outcome is the same whatever the number of threads.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn judge(
    course: &Course,
    rules: &RuleSet,
    ladder: &Ladder,
    conditions: impl Fn(crate::quantity::Angle) -> Result<FlightConditions, CoverageError>,
    progress: &(dyn Fn() + Sync),
) -> Result<(Vec<Outcome>, Work), CoverageError> {
    let judge = Judge { course, rules, ladder, slopes: slopes(course, conditions)? };
    let count = course.targets.len();
    let tallies = course
        .loads
        .par_iter()
        .enumerate()
        .fold(
            || Tallies::new(count),
            |mut tallies, (index, declared)| {
                judge.load(index, &declared.load, &mut tallies);
                progress();
                tallies
            },
        )
        .reduce(|| Tallies::new(count), Tallies::merged);
    let outcomes = tallies.targets.iter().enumerate().map(|(index, tally)| judge.outcome(index, tally)).collect();
    Ok((outcomes, tallies.work))
}

fn slopes(
    course: &Course,
    conditions: impl Fn(crate::quantity::Angle) -> Result<FlightConditions, CoverageError>,
) -> Result<Vec<Slope>, CoverageError> {
    let mut slopes: Vec<Slope> = Vec::new();
    for (index, target) in course.targets.iter().enumerate() {
        let found = slopes.iter().position(|s| s.conditions.slope().si().total_cmp(&target.slope.si()).is_eq());
        let at = if let Some(at) = found {
            at
        } else {
            let conditions = conditions(target.slope)?;
            slopes.push(Slope { conditions, kinds: Vec::new(), farthest: Length::from_si(0.0) });
            slopes.len() - 1
        };
        let slope = &mut slopes[at];
        slope.farthest = slope.farthest.max(target.nearest());
        match slope.kinds.iter_mut().find(|k| k.plate == target.plate && k.setup == target.setup) {
            Some(kind) => kind.targets.push(index),
            None => slope.kinds.push(Kind {
                plate: target.plate.clone(),
                setup: target.setup.clone(),
                targets: vec![index],
            }),
        }
    }
    Ok(slopes)
}

impl<'a> Judge<'a> {
    /// One load against every target.
    fn load(&self, index: usize, load: &Load, tallies: &mut Tallies) {
        for slope in &self.slopes {
            let mine = |target: &usize| self.course.targets[*target].is_for(load.class());
            if !slope.kinds.iter().any(|k| k.targets.iter().any(mine)) {
                continue;
            }
            let Ok(flights) = Flights::new(load, &slope.conditions) else { continue };
            tallies.work.flights += 1;
            let followed = flights.follow(slope.farthest);
            for kind in &slope.kinds {
                let targets: Vec<usize> = kind.targets.iter().copied().filter(|t| mine(t)).collect();
                if targets.is_empty() {
                    continue;
                }
                let allowance = self.rules.allow(load, &kind.plate, &kind.setup);
                tallies.work.compiled += 1;
                let closest = OnceCell::new();
                for target in targets {
                    let pair = Pair {
                        closest: &closest,
                        load,
                        flights: &flights,
                        followed: followed.as_ref(),
                        allowance: &allowance,
                    };
                    self.pair(index, target, &pair, tallies);
                }
            }
        }
    }

    fn pair(&self, index: usize, target: usize, pair: &Pair, tallies: &mut Tallies) {
        let place = &self.course.targets[target];
        let distance = place.nearest();
        let quick = pair.quick(distance);
        if let Some(hold) = quick {
            let tally = &mut tallies.targets[target];
            tally.shot_by += 1;
            tally.offer((Verdict::Suits, hold, index));
            return;
        }
        tallies.work.exact += 1;
        // A load that doesn't reach a target can't hurt it, or anybody by it.
        let asks = pair.allowance.asks_slow(distance);
        let Ok(strike) = pair.flights.strike_for(distance, asks) else { return };
        let judgement = pair.allowance.judge(&strike);
        let hold = judgement.margin.unwrap_or(if judgement.verdict == Verdict::Suits {
            f64::INFINITY
        } else {
            f64::NEG_INFINITY
        });
        let tally = &mut tallies.targets[target];
        tally.shot_by += 1;
        tally.offer((judgement.verdict, hold, index));
        if judgement.verdict == Verdict::Suits {
            return;
        }
        tally.failing += 1;
        tally.named.push(index);
        tally.named.sort_unstable();
        tally.named.truncate(NAMED);
        if !pair.is_near_enough(tally.distance) {
            tally.distance = tally.distance.max(pair.closest());
        }
        tally.plates &= self.plates(pair.load, place, &strike);
    }

    /// The plates of the ladder that suit a load at a strike, as bits.
    fn plates(&self, load: &Load, target: &Target, strike: &Strike) -> u128 {
        let suits =
            |plate: &Plate| self.rules.allow(load, plate, &target.setup).judge(strike).verdict == Verdict::Suits;
        let bits = self.ladder.plates().iter().enumerate().filter(|(_, plate)| suits(plate));
        bits.fold(0, |mask, (i, _)| mask | 1 << i)
    }

    fn outcome(&self, index: usize, tally: &Tally) -> Outcome {
        let target = &self.course.targets[index];
        let exact = tally.worst.and_then(|(_, _, load)| self.exact(target, load).ok().map(|found| (load, found)));
        let distance = (tally.failing > 0 && tally.distance.is_finite()).then(|| Length::from_si(tally.distance));
        let plate = if tally.failing > 0 { self.thinnest(target, tally) } else { None };
        let fix = fix(target, tally, distance, plate.as_ref());
        let (worst, found) = match exact {
            Some((load, found)) => (Some(load), Some(found)),
            None => (None, None),
        };
        Outcome {
            verdict: found.as_ref().map_or(Verdict::Suits, |f| f.0),
            worst,
            governed_by: found.as_ref().and_then(|f| f.1.map(|r| r.id.clone())),
            why: found.as_ref().and_then(|f| f.1.map(|r| r.why.clone())),
            next: found.as_ref().and_then(|f| f.1.map(|r| r.next.clone())).filter(|next| !next.is_empty()),
            margin: found.as_ref().and_then(|f| f.2),
            strike: found.map(|f| f.3),
            failing: tally.failing,
            named: tally.named.clone(),
            shot_by: tally.shot_by,
            distance,
            plate,
            fix,
        }
    }

    /// The worst load judged as `vet` would.
    fn exact(&self, target: &Target, load: usize) -> Result<Exact<'a>, FlightError> {
        let load = &self.course.loads[load].load;
        let slope = self.slopes.iter().find(|s| s.conditions.slope().si().total_cmp(&target.slope.si()).is_eq());
        let conditions = slope.map(|s| &s.conditions).ok_or(FlightError::Slope { slope: target.slope })?;
        let strike = Flights::new(load, conditions)?.strike(target.nearest())?;
        let judgement = self.rules.allow(load, &target.plate, &target.setup).judge(&strike);
        Ok((judgement.verdict, judgement.rule, judgement.margin, strike))
    }

    /// The thinnest plate, not thinner than what hangs, that suits every failing load.
    fn thinnest(&self, target: &Target, tally: &Tally) -> Option<Plate> {
        let plates = self.ladder.plates().iter().enumerate();
        let suits =
            |(i, plate): &(usize, &Plate)| tally.plates >> i & 1 == 1 && plate.thickness >= target.plate.thickness;
        plates.into_iter().find(suits).map(|(_, plate)| plate.clone())
    }
}

type Exact<'r> = (Verdict, Option<&'r Rule>, Option<f64>, Strike);

/// A load before a kind of target.
struct Pair<'a> {
    load: &'a Load,
    /// The closest distance, found once for all targets of a kind.
    closest: &'a OnceCell<f64>,
    flights: &'a Flights,
    followed: Option<&'a Followed<'a>>,
    allowance: &'a Allowance<'a>,
}

impl Pair<'_> {
    /// Whether the load suits already at a distance that other loads need: its own closest then lies nearer, and
    /// need not be found.
    fn is_near_enough(&self, metres: f64) -> bool {
        if metres.is_infinite() || self.closest.get().is_some_and(|known| *known <= metres) {
            return true;
        }
        if self.closest.get().is_some() {
            return false;
        }
        let distance = Length::from_si(metres);
        let steady = self.flights.slows_down() && !self.allowance.asks_slow(distance);
        metres > 0.0
            && steady
            && self
                .flights
                .strike_for(distance, false)
                .is_ok_and(|s| self.allowance.judge(&s).verdict == Verdict::Suits)
    }

    /// The closest distance that suits, m; infinite where none does.
    fn closest(&self) -> f64 {
        *self.closest.get_or_init(|| match self.allowance.closest(self.flights) {
            Closest::At { distance, .. } => distance.si(),
            Closest::Never { .. } | Closest::BeyondReach { .. } => f64::INFINITY,
        })
    }

    /// What is in hand where a quick look, which errs to the strict side, already suits.
    fn quick(&self, distance: Length) -> Option<f64> {
        let followed = self.followed?;
        if self.allowance.asks_slow(distance) {
            return None;
        }
        let judgement = self.allowance.judge(&followed.look(distance));
        (judgement.verdict == Verdict::Suits).then(|| judgement.margin.unwrap_or(f64::INFINITY))
    }
}

/// How much farther a line may be moved before a thicker plate is the cheaper fix (house assumption).
const WORTH_MOVING: f64 = 1.5;

/// The cheapest fix: a position farther back costs nothing, a line moved somewhat little, a plate costs steel, a
/// line moved far costs a stage, and a refused load a shooter.
fn fix(target: &Target, tally: &Tally, distance: Option<Length>, plate: Option<&Plate>) -> Fix {
    if tally.failing == 0 {
        return Fix::Nothing;
    }
    if let Some(distance) = distance {
        let far_enough = |p: &&Position| p.nearest >= distance;
        let nearest =
            target.positions.iter().filter(far_enough).reduce(|a, b| if b.nearest < a.nearest { b } else { a });
        if let Some(position) = nearest.and_then(|p| target.positions.iter().position(|q| q == p)) {
            return Fix::Position(position);
        }
        if plate.is_none() || distance <= target.nearest() * WORTH_MOVING {
            return Fix::Move(distance);
        }
    }
    if let Some(plate) = plate {
        return Fix::Hang(plate.clone());
    }
    if tally.failing <= NAMED && tally.failing < tally.shot_by { Fix::Refuse(tally.named.clone()) } else { Fix::None }
}

/// The loads that no plate of the ladder takes at any distance, sound and hung free: they must stay off this
/// match's steel, and are set apart before targets are judged. Each with its verdict and the rule.
#[must_use]
pub fn barred<'r>(
    course: &Course,
    rules: &'r RuleSet,
    ladder: &Ladder,
    conditions: &FlightConditions,
) -> Vec<(usize, Verdict, &'r Rule)> {
    let Some(thickest) = ladder.plates().last() else { return Vec::new() };
    let Ok(face) = Face::round(unit::INCH.of(24.0)) else { return Vec::new() };
    let setup = Setup { mount: Mount::CaptiveHook, tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(face) };
    let judged = course.loads.iter().enumerate().filter_map(|(index, declared)| {
        let flights = Flights::new(&declared.load, conditions).ok()?;
        let allowance = rules.allow(&declared.load, thickest, &setup);
        let Closest::Never { by } = allowance.closest(&flights) else { return None };
        let far = flights.strike(unit::YARD.of(50.0)).ok()?;
        Some((index, allowance.judge(&far).verdict, by))
    });
    judged.collect()
}
