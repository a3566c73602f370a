//! The match judged: loads in parallel, those that are alike together, flown once for an air and a slope, each rule set
//! compiled once for a kind of target. What is kept does not grow with the product of the two.
//!
//! Targets of a kind that are shot from one distance are judged once. They stand in order of distance, in blocks. A quick look at both ends of a block, which errs to the
//! strict side, bounds what a load comes to within it: where it neither fails nor comes near the worst so far, the
//! whole block is passed in one step; so too where it fails at every target of the block and is not the worst.

use super::tally::{Rank, Size, Tallies, Tally, Work};
use super::{Case, ClassSet, Course, alike};
use crate::air::Weather;
use crate::flight::FlightError;
use crate::plate::Plate;
use crate::quantity::{Angle, Length, Measure};
use crate::rules::{Allowance, Closest, Judgement, Rule, RuleSet, Setup, Verdict};
use crate::spread::{CoverageError, FlightConditions, Flights, Followed};
use crate::strike::Strike;
use std::cell::OnceCell;

/// Cases of a block.
const BLOCK: usize = 32;
/// How near the closest distance a case is judged exactly, m.
const NEAR_M: f64 = 0.01;

/// The air on a slope.
pub type Conditions<'a> = &'a (dyn Fn(&Weather, Angle) -> Result<FlightConditions, CoverageError> + Sync);

/// What a case comes to: a target as some classes shoot at it.
#[derive(Debug, Clone)]
pub struct Outcome<'r> {
    /// Its verdict: its worst load's; `None` where no load was judged on it.
    pub verdict: Option<Verdict>,
    /// Index of the worst load among the course's, where any was judged.
    pub worst: Option<usize>,
    /// The rule that governs the worst load.
    pub rule: Option<&'r Rule>,
    /// Share of the limit left, negative where it is passed.
    pub margin: Option<f64>,
    /// What the worst load arrives with.
    pub strike: Option<Strike>,
    /// How many loads do not pass: do not suit, or are unsuitable where they suit nowhere at all.
    pub failing: usize,
    /// The first of them.
    pub named: Vec<usize>,
    /// How many loads were judged on it.
    pub shot_by: usize,
}

/// A caution of a rule, with the cases it is for.
#[derive(Debug, Clone)]
pub struct Warning<'r> {
    /// The rule.
    pub rule: &'r Rule,
    /// Indices of the cases.
    pub cases: Vec<usize>,
}

/// A course judged.
#[derive(Debug, Clone)]
pub struct Judged<'r> {
    /// What each case comes to, in their order.
    pub outcomes: Vec<Outcome<'r>>,
    /// Cautions of rules, in the order of the rules.
    pub warnings: Vec<Warning<'r>>,
    /// The work that was done.
    pub work: Work,
}

/// Targets of one air and slope.
pub(super) struct Slope {
    air: usize,
    pub conditions: FlightConditions,
    pub farthest: Length,
    kinds: Vec<Kind>,
}

/// Cases of one plate, setup and classes, from near to far.
struct Kind {
    plate: Plate,
    setup: Setup,
    classes: ClassSet,
    without: Vec<usize>,
    /// Distances, with the cases that are shot from there: indices.
    places: Vec<(Length, Vec<usize>)>,
    /// Where its tallies begin, and its blocks.
    slot: usize,
    block: usize,
    /// Its place among all kinds.
    index: usize,
}

struct Judge<'a, 'r> {
    course: &'a Course,
    rules: &'r RuleSet,
    slopes: Vec<Slope>,
    cases: &'a [Case],
    slots: usize,
    blocks: usize,
}

/// Judges cases of a course. `conditions` gives the air on a slope; `progress` hears of each load done.
/// The outcome is the same whatever the number of threads.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn judge<'r>(
    course: &Course,
    cases: &[Case],
    rules: &'r RuleSet,
    conditions: Conditions,
    progress: &(dyn Fn() + Sync),
) -> Result<Judged<'r>, CoverageError> {
    judge_in(&alike::groups(&course.loads), course, cases, rules, conditions, progress)
}

/// The same with groups of loads that are alike.
pub(super) fn judge_in<'r>(
    groups: &[Vec<usize>],
    course: &Course,
    cases: &[Case],
    rules: &'r RuleSet,
    conditions: Conditions,
    progress: &(dyn Fn() + Sync),
) -> Result<Judged<'r>, CoverageError> {
    let (slopes, slots, blocks) = slopes(course, cases, conditions)?;
    let kinds = slopes.iter().map(|s| s.kinds.len()).sum();
    let size = Size { cases: cases.len(), places: slots, blocks, kinds };
    let judge = Judge { course, rules, slopes, cases, slots, blocks };
    // Those that are likely the worst somewhere come first: what they come to bounds all others.
    let (first, rest) = alike::likely_worst_first(groups, &course.loads);
    let mut worst = Tallies::new(&size);
    for alike in first {
        judge.loads(alike, &mut worst);
        alike.iter().for_each(|_| progress());
    }
    let none = || worst.bounds(&size);
    let add = |mut tallies: Tallies<'r>, _: usize, alike: &&Vec<usize>| {
        judge.loads(alike, &mut tallies);
        alike.iter().for_each(|_| progress());
        tallies
    };
    let tallies = crate::threads::fold(&rest, none, add, Tallies::merged);
    let tallies = worst.merged(tallies);
    Ok(Judged { outcomes: judge.outcomes(&tallies), warnings: judge.warnings(&tallies), work: tallies.work })
}

/// The airs and slopes of cases, their kinds, and how many tallies and blocks they have.
fn slopes(
    course: &Course,
    cases: &[Case],
    conditions: Conditions,
) -> Result<(Vec<Slope>, usize, usize), CoverageError> {
    let mut slopes: Vec<Slope> = Vec::new();
    for (index, case) in cases.iter().enumerate() {
        let target = &course.targets[case.target];
        let same = |s: &Slope| s.air == target.air && s.conditions.slope().si().total_cmp(&case.slope.si()).is_eq();
        let at = if let Some(at) = slopes.iter().position(same) {
            at
        } else {
            let conditions = conditions(&course.airs[target.air], case.slope)?;
            slopes.push(Slope { air: target.air, conditions, kinds: Vec::new(), farthest: Length::from_si(0.0) });
            slopes.len() - 1
        };
        let slope = &mut slopes[at];
        slope.farthest = slope.farthest.max(case.distance);
        let same = |k: &&mut Kind| {
            k.classes == case.classes
                && k.plate.thickness == target.plate.thickness
                && k.setup == target.setup
                && k.without == case.without
        };
        match slope.kinds.iter_mut().find(same) {
            Some(kind) => kind.places.push((case.distance, vec![index])),
            None => slope.kinds.push(Kind {
                plate: target.plate.clone(),
                setup: target.setup.clone(),
                classes: case.classes,
                without: case.without.clone(),
                places: vec![(case.distance, vec![index])],
                slot: 0,
                block: 0,
                index: 0,
            }),
        }
    }
    let (mut slot, mut block) = (0, 0);
    for (index, kind) in slopes.iter_mut().flat_map(|s| &mut s.kinds).enumerate() {
        kind.index = index;
        kind.places.sort_by(|a, b| a.0.si().total_cmp(&b.0.si()));
        kind.places.dedup_by(|next, first| {
            let is_same = next.0.si().total_cmp(&first.0.si()).is_eq();
            if is_same {
                first.1.append(&mut next.1);
            }
            is_same
        });
        (kind.slot, kind.block) = (slot, block);
        slot += kind.places.len();
        block += kind.places.len().div_ceil(BLOCK);
    }
    Ok((slopes, slot, block))
}

impl<'r> Judge<'_, 'r> {
    /// Loads that are alike against every case.
    fn loads(&self, alike: &[usize], tallies: &mut Tallies<'r>) {
        let Some(brought) = alike.first().map(|first| &self.course.loads[*first]) else { return };
        let (load, class) = (&*brought.load, brought.class());
        let demand = super::demand_of(load);
        for slope in &self.slopes {
            let mine = |kind: &Kind| -> Vec<usize> {
                let all = if kind.classes.has(class) { alike } else { &[] };
                all.iter().copied().filter(|load| !kind.without.contains(load)).collect()
            };
            let kinds = slope.kinds.iter().map(|kind| (kind, mine(kind))).filter(|(_, loads)| !loads.is_empty());
            let kinds: Vec<(&Kind, Vec<usize>)> = kinds.collect();
            if kinds.is_empty() {
                continue;
            }
            let Ok(flights) = Flights::new(load, &slope.conditions) else { continue };
            tallies.work.flights += 1;
            let followed = follow(&flights, slope.farthest);
            for (kind, loads) in &kinds {
                tallies.work.compiled += 1;
                let allowance = self.rules.allow(load, &kind.plate, &kind.setup, flights.muzzle());
                let pair = Pair {
                    loads,
                    demand,
                    floor: brought.floor(),
                    closest: OnceCell::new(),
                    flights: &flights,
                    followed: followed.as_ref(),
                    allowance: &allowance,
                };
                kind.judge(&pair, tallies);
                kind.warn(&pair, &allowance, tallies);
            }
        }
    }

    fn warnings(&self, tallies: &Tallies<'r>) -> Vec<Warning<'r>> {
        let mut warnings: Vec<Warning<'r>> = Vec::new();
        for kind in self.slopes.iter().flat_map(|s| &s.kinds) {
            for &rule in &tallies.warnings[kind.index] {
                let near = |at: &Length| rule.filter.within.is_none_or(|within| *at < within);
                let cases = kind.places.iter().filter(|(at, _)| near(at)).flat_map(|(_, cases)| cases.iter().copied());
                match warnings.iter_mut().find(|w| std::ptr::eq(w.rule, rule)) {
                    Some(known) => known.cases.extend(cases),
                    None => warnings.push(Warning { rule, cases: cases.collect() }),
                }
            }
        }
        warnings.iter_mut().for_each(|w| w.cases.sort_unstable());
        let place = |w: &Warning| self.rules.rules().iter().position(|r| std::ptr::eq(r, w.rule));
        warnings.sort_by_key(place);
        warnings
    }

    fn outcomes(&self, tallies: &Tallies) -> Vec<Outcome<'r>> {
        let mut outcomes: Vec<Option<Outcome<'r>>> = vec![None; self.cases.len()];
        for slope in &self.slopes {
            for kind in &slope.kinds {
                for (place, (distance, cases)) in kind.places.iter().enumerate() {
                    let mut tally = tallies.cases[kind.slot + place].clone();
                    tally.add(&tallies.blocks[kind.block + place / BLOCK]);
                    let outcome = self.outcome(slope, kind, *distance, &tally);
                    cases.iter().for_each(|case| outcomes[*case] = Some(outcome.clone()));
                }
            }
        }
        debug_assert_eq!(self.slots, tallies.cases.len());
        debug_assert_eq!(self.blocks, tallies.blocks.len());
        outcomes.into_iter().flatten().collect()
    }

    /// The worst load judged as `vet` would.
    fn outcome(&self, slope: &Slope, kind: &Kind, distance: Length, tally: &Tally) -> Outcome<'r> {
        let exact = |load: usize| -> Result<(Judgement<'r>, Strike), FlightError> {
            let load = &self.course.loads[load].load;
            let strike = Flights::new(load, &slope.conditions)?.strike(distance)?;
            Ok((self.rules.allow(load, &kind.plate, &kind.setup, strike.muzzle).judge(&strike), strike))
        };
        let found = tally.worst.and_then(|worst| exact(worst.load).ok().map(|found| (worst.load, found)));
        let judgement = found.as_ref().map(|f| f.1.0);
        Outcome {
            verdict: judgement.map(|j| j.verdict),
            worst: found.as_ref().map(|f| f.0),
            rule: judgement.and_then(|j| j.rule),
            margin: judgement.and_then(|j| j.margin),
            strike: found.map(|f| f.1.1),
            failing: tally.failing,
            named: tally.named.clone(),
            shot_by: tally.shot_by,
        }
    }
}

/// The load on dense paths to the farthest target, or as far as it goes; and how far that is.
pub(super) fn follow(flights: &Flights, farthest: Length) -> Option<(Followed<'_>, Length)> {
    let to = |distance: Length| flights.follow(distance).map(|followed| (followed, distance));
    to(farthest).or_else(|| to(flights.reach().min(farthest) * 0.9))
}

impl Kind {
    /// The cautions that a load calls for at the nearest of the cases.
    fn warn<'r>(&self, pair: &Pair, allowance: &Allowance<'r>, tallies: &mut Tallies<'r>) {
        let Some(&(nearest, _)) = self.places.first() else { return };
        let look = pair.followed.filter(|(_, to)| nearest <= *to && !allowance.asks_slow(nearest));
        let strike = match look {
            Some((followed, _)) => Ok(followed.look(nearest)),
            None => pair.flights.strike_for(nearest, allowance.asks_slow(nearest)),
        };
        let Ok(strike) = strike else { return };
        for rule in allowance.cautions(&strike) {
            tallies.warn(self.index, rule);
        }
    }

    fn judge(&self, pair: &Pair, tallies: &mut Tallies) {
        for (number, block) in self.places.chunks(BLOCK).enumerate() {
            let at = self.slot + number * BLOCK;
            let cases = &mut tallies.cases[at..at + block.len()];
            let whole = &mut tallies.blocks[self.block + number];
            if pair.passes_whole(block, whole) {
                continue;
            }
            for (tally, (distance, _)) in cases.iter_mut().zip(block) {
                tallies.work.exact += usize::from(pair.judge(*distance, tally));
            }
            // The best of the worsts: what is better than it is worst nowhere in the block.
            let best = cases.iter().map(|tally| tally.worst).reduce(|a, b| match (a, b) {
                (Some(a), Some(b)) => Some(if a.is_worse_than(&b) { b } else { a }),
                _ => None,
            });
            whole.worst = best.flatten();
        }
    }
}

/// Loads that are alike before a kind of target.
struct Pair<'a> {
    /// The loads: indices, at least one.
    loads: &'a [usize],
    demand: f64,
    /// The best verdict that the load has anywhere.
    floor: Verdict,
    /// The distance from which it passes, found once for all targets of a kind; and whether that is all there is
    /// to know: it fails at every nearer one.
    closest: OnceCell<(f64, bool)>,
    flights: &'a Flights,
    followed: Option<&'a (Followed<'a>, Length)>,
    allowance: &'a Allowance<'a>,
}

impl Pair<'_> {
    /// Passes all cases of a block in one step where it can.
    fn passes_whole(&self, block: &[(Length, Vec<usize>)], whole: &mut Tally) -> bool {
        let (Some(&(near, _)), Some(&(far, _))) = (block.first(), block.last()) else { return true };
        let (Some(bound), Some(a), Some(b)) = (whole.worst, self.quick(near), self.quick(far)) else { return false };
        let rank = |judgement: &Judgement| Rank::new(judgement, self.demand, self.loads[0]);
        let (a, b) = (rank(&a), rank(&b));
        let worse = if a.is_worse_than(&b) { a } else { b };
        if !worse.is_clearly_better_than(&bound) || !self.flights.slows_down() {
            return false;
        }
        if worse.verdict == Verdict::Suits {
            whole.shot_by += self.loads.len();
            return true;
        }
        if self.fails_at(far) {
            whole.shot_by += self.loads.len();
            whole.fail(self.loads);
            return true;
        }
        false
    }

    /// Judges one case; whether it took exact flights.
    fn judge(&self, distance: Length, tally: &mut Tally) -> bool {
        if let Some(quick) = self.quick(distance) {
            let rank = Rank::new(&quick, self.demand, self.loads[0]);
            if quick.verdict == Verdict::Suits {
                tally.shot_by += self.loads.len();
                tally.offer(rank);
                return false;
            }
            if tally.worst.is_some_and(|worst| rank.is_clearly_better_than(&worst)) && self.fails_at(distance) {
                tally.shot_by += self.loads.len();
                tally.fail(self.loads);
                return false;
            }
        }
        // A load that doesn't reach a target can't hurt it, or anybody by it.
        let asks = self.allowance.asks_slow(distance);
        let Ok(strike) = self.flights.strike_for(distance, asks) else { return true };
        let judgement = self.allowance.judge(&strike);
        tally.shot_by += self.loads.len();
        tally.offer(Rank::new(&judgement, self.demand, self.loads[0]));
        if judgement.verdict > self.floor {
            tally.fail(self.loads);
        }
        true
    }

    /// Whether it is known to fail at a distance, without flying there.
    fn fails_at(&self, distance: Length) -> bool {
        if self.floor != Verdict::Suits || !self.flights.slows_down() {
            return false;
        }
        let (closest, known) = *self.closest.get_or_init(|| match self.allowance.closest(self.flights) {
            Closest::At { distance, .. } => (distance.si(), true),
            // A rule that distance does not change, and that holds at every one.
            Closest::Never { by, .. } => (f64::INFINITY, !by.subject.moves() && by.filter.within.is_none()),
            _ => (f64::INFINITY, false),
        });
        known && distance.si() < closest - NEAR_M
    }

    /// A quick look, which errs to the strict side.
    fn quick(&self, distance: Length) -> Option<Judgement<'_>> {
        let (followed, to) = self.followed?;
        if self.allowance.asks_slow(distance) || distance > *to {
            return None;
        }
        Some(self.allowance.judge(&followed.look(distance)))
    }
}
