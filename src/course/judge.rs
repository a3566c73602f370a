//! The match judged: loads in parallel, those that are alike together, flown once for an air and a slope, each rule set
//! compiled once for a kind of target. What is kept does not grow with the product of the two.
//!
//! Targets of a kind that are shot from one distance are judged once. They stand in order of distance. A quick look at
//! both ends of a span of them, which errs to the strict side, bounds what a load comes to within it: where it neither
//! fails nor comes near the worst so far, the whole span is passed in one step; so too where it fails at the far end by
//! a look that errs to the lenient side, and is not the worst. Any other span is halved.

mod pair;

use super::tally::{Size, Tallies, Tally, Work};
use super::{Case, ClassSet, Course, alike};
use crate::air::Weather;
use crate::flight::FlightError;
use crate::order::Order;
use crate::plate::Plate;
use crate::quantity::{Angle, Length, Measure};
use crate::rules::{Allowance, Judgement, OnPlate, Rule, RuleSet, Setup, Verdict};
use crate::spread::{CoverageError, FlightConditions, Flights, Followed};
use crate::strike::Strike;
use pair::Pair;
use std::cell::{Cell, OnceCell};

/// The air on a slope.
pub type Conditions<'a> = &'a (dyn Fn(&Weather, Angle) -> Result<FlightConditions, CoverageError> + Sync);

/// What a case comes to: a target as some classes shoot at it.
#[derive(Debug, Clone, Default)]
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
    /// The first of those that do not reach it, and are not judged on it.
    pub out_of_reach: Vec<usize>,
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
    places: Vec<Place>,
    /// Where its tallies begin.
    slot: usize,
    /// Its place among all kinds.
    index: usize,
}

/// A distance, with the cases that are shot from there: indices.
type Place = (Length, Vec<usize>);

/// Tallies of so many places: of all of them, of each half, and so on down to each one, the near half's before the far
/// half's.
fn nodes(places: usize) -> usize {
    2 * places - 1
}

/// What is asked of the judging.
#[derive(Clone, Copy, PartialEq)]
enum Asked {
    Everything,
    /// Only how many loads do not pass.
    Failing,
    /// Only the worst verdict, and how many loads there are.
    Verdict,
}

struct Judge<'a, 'r> {
    course: &'a Course,
    rules: &'r RuleSet,
    slopes: Vec<Slope>,
    cases: &'a [Case],
    asked: Asked,
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

/// Whether any load does not pass in each case.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn any_fails(
    course: &Course,
    cases: &[Case],
    rules: &RuleSet,
    conditions: Conditions,
) -> Result<Vec<bool>, CoverageError> {
    let (slopes, size) = slopes(course, cases, conditions)?;
    let judge = Judge { course, rules, slopes, cases, asked: Asked::Failing };
    let tallies = judge.all(&alike::groups(&course.loads), &size, &|| ());
    let mut fails = vec![false; cases.len()];
    for kind in judge.slopes.iter().flat_map(|slope| &slope.kinds) {
        for (place, (_, cases)) in kind.places.iter().enumerate() {
            let any = kind.along(place).iter().any(|node| tallies.nodes[*node].failing > 0);
            cases.iter().for_each(|case| fails[*case] = any);
        }
    }
    Ok(fails)
}

/// The worst verdict of each case, and how many loads are shot there.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn verdicts(
    course: &Course,
    cases: &[Case],
    rules: &RuleSet,
    conditions: Conditions,
) -> Result<Vec<(Option<Verdict>, usize)>, CoverageError> {
    let (slopes, size) = slopes(course, cases, conditions)?;
    let judge = Judge { course, rules, slopes, cases, asked: Asked::Verdict };
    let tallies = judge.all(&alike::groups(&course.loads), &size, &|| ());
    let mut verdicts = vec![(None, 0); cases.len()];
    for kind in judge.slopes.iter().flat_map(|slope| &slope.kinds) {
        for (place, (_, cases)) in kind.places.iter().enumerate() {
            let tally = tallies.whole(&kind.along(place));
            let found = (tally.worst.map(|worst| worst.verdict), tally.shot_by);
            cases.iter().for_each(|case| verdicts[*case] = found);
        }
    }
    Ok(verdicts)
}

/// As [`judge`], with groups of loads that are alike.
pub(super) fn judge_in<'r>(
    groups: &[Vec<usize>],
    course: &Course,
    cases: &[Case],
    rules: &'r RuleSet,
    conditions: Conditions,
    progress: &(dyn Fn() + Sync),
) -> Result<Judged<'r>, CoverageError> {
    let (slopes, size) = slopes(course, cases, conditions)?;
    let judge = Judge { course, rules, slopes, cases, asked: Asked::Everything };
    let tallies = judge.all(groups, &size, progress);
    Ok(Judged { outcomes: judge.outcomes(&tallies), warnings: judge.warnings(&tallies), work: tallies.work })
}

/// The airs and slopes of cases, their kinds, and how much is kept of them.
fn slopes(course: &Course, cases: &[Case], conditions: Conditions) -> Result<(Vec<Slope>, Size), CoverageError> {
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
                index: 0,
            }),
        }
    }
    let mut size = Size { cases: cases.len(), nodes: 0, kinds: 0 };
    for (index, kind) in slopes.iter_mut().flat_map(|s| &mut s.kinds).enumerate() {
        kind.index = index;
        kind.places.order_by(|a, b| a.0.si().total_cmp(&b.0.si()));
        kind.places.dedup_by(|next, first| {
            let is_same = next.0.si().total_cmp(&first.0.si()).is_eq();
            if is_same {
                first.1.append(&mut next.1);
            }
            is_same
        });
        kind.slot = size.nodes;
        size.nodes += nodes(kind.places.len());
        size.kinds += 1;
    }
    Ok((slopes, size))
}

impl<'r> Judge<'_, 'r> {
    /// All loads against every case.
    fn all(&self, groups: &[Vec<usize>], size: &Size, progress: &(dyn Fn() + Sync)) -> Tallies<'r> {
        let kinds = self.slopes.iter().flat_map(|slope| &slope.kinds);
        let rules: Vec<OnPlate> = kinds.map(|kind| self.rules.on(&kind.plate, &kind.setup)).collect();
        // Those that are likely the worst somewhere come first: what they come to bounds all others.
        let (first, rest) = alike::likely_worst_first(groups, &self.course.loads);
        let mut worst = Tallies::new(size);
        for alike in first {
            self.loads(alike, &rules, &mut worst);
            alike.iter().for_each(|_| progress());
        }
        let none = || worst.bounds(size);
        let add = |mut tallies: Tallies<'r>, _: usize, alike: &&Vec<usize>| {
            self.loads(alike, &rules, &mut tallies);
            alike.iter().for_each(|_| progress());
            tallies
        };
        let tallies = crate::threads::fold(&rest, none, add, Tallies::merged);
        worst.merged(tallies)
    }

    /// Loads that are alike against every case, by the rules of each kind.
    fn loads(&self, alike: &[usize], rules: &[OnPlate<'r, '_>], tallies: &mut Tallies<'r>) {
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
            let Ok(flights) = Flights::new(load, &slope.conditions) else {
                for (kind, loads) in &kinds {
                    (0..kind.places.len())
                        .filter_map(|place| kind.along(place).last().copied())
                        .for_each(|own| tallies.nodes[own].miss(loads));
                }
                continue;
            };
            tallies.work.flights += 1;
            let followed = OnceCell::new();
            for (kind, loads) in &kinds {
                tallies.work.compiled += 1;
                let allowance = rules[kind.index].allow(load, flights.muzzle());
                let pair = Pair {
                    loads,
                    demand,
                    floor: brought.floor(),
                    asked: self.asked,
                    flights: &flights,
                    farthest: slope.farthest,
                    followed: &followed,
                    allowance: &allowance,
                    beside: (brought.floor() == Verdict::Borderline).then(|| allowance.beside_load()),
                    known: Cell::default(),
                };
                kind.judge(&pair, tallies);
                if self.asked == Asked::Everything {
                    kind.warn(&pair, &allowance, tallies);
                }
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
        warnings.iter_mut().for_each(|w| w.cases.order());
        let place = |w: &Warning| self.rules.rules().iter().position(|r| std::ptr::eq(r, w.rule));
        warnings.order_by_key(place);
        warnings
    }

    fn outcomes(&self, tallies: &Tallies) -> Vec<Outcome<'r>> {
        let mut outcomes: Vec<Option<Outcome<'r>>> = vec![None; self.cases.len()];
        for slope in &self.slopes {
            for kind in &slope.kinds {
                for (place, (distance, cases)) in kind.places.iter().enumerate() {
                    let outcome = self.outcome(slope, kind, *distance, &tallies.whole(&kind.along(place)));
                    cases.iter().for_each(|case| outcomes[*case] = Some(outcome.clone()));
                }
            }
        }
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
            out_of_reach: tally.out_of_reach.clone(),
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
        let glance = if allowance.warns_by_flight() { None } else { pair.glance(nearest) };
        let Some(look) = glance.or_else(|| pair.look(nearest)).or_else(|| pair.exact(nearest)) else { return };
        for rule in allowance.cautions(&look.strike) {
            tallies.warn(self.index, rule);
        }
    }

    /// The tallies that count for a place: indices, from all places of the kind down to its own.
    fn along(&self, place: usize) -> Vec<usize> {
        let (mut node, mut first, mut places) = (self.slot, 0, self.places.len());
        let mut along = vec![node];
        while places > 1 {
            let half = places / 2;
            if place < first + half {
                (node, places) = (node + 1, half);
            } else {
                (node, first, places) = (node + 1 + nodes(half), first + half, places - half);
            }
            along.push(node);
        }
        along
    }

    fn judge(&self, pair: &Pair, tallies: &mut Tallies) {
        let nodes = &mut tallies.nodes[self.slot..self.slot + nodes(self.places.len())];
        pair.span(&self.places, nodes, (None, None), &mut tallies.work);
    }
}

#[cfg(test)]
mod tests;
