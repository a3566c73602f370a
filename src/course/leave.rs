//! What leaving loads at home would lift.

use super::{Brought, Case, ClassSet, Course, Kept, Outcome};
use crate::order::Order;
use std::collections::{BTreeMap, BTreeSet};

/// Loads that are left at home together, at most.
pub const MAX_LEFT: usize = 3;
/// Sets that are tried before the search is by the largest gain first.
const TRIED: usize = 1_000_000;

/// A set of loads, and how many targets more pass without them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    /// The loads: indices.
    pub loads: Vec<usize>,
    /// Targets that pass besides: indices.
    pub lifts: Vec<usize>,
}

/// The best sets of 1, 2 and 3 loads.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Leaving {
    /// The best set of each size, as far as a further load lifts more.
    pub best: Vec<Left>,
    /// Whether every set was tried; else loads were added by the largest gain.
    pub exact: bool,
}

/// Searches the sets of loads that lift the most targets. `keep` is a distance of each load's own, m.
#[must_use]
pub fn leaving(course: &Course, cases: &[Case], outcomes: &[Outcome], keep: &Kept) -> Leaving {
    let targets = few_failing(course, cases, outcomes, keep);
    let mut loads: Vec<usize> = targets.iter().flat_map(|(_, failing)| failing.iter().copied()).collect();
    loads.order();
    loads.dedup();
    let lifts = |set: &[usize]| -> Vec<usize> {
        targets.iter().filter(|(_, f)| f.iter().all(|load| set.contains(load))).map(|t| t.0).collect()
    };
    // Targets by the whole set that they fail through: a set lifts what its subsets do.
    let mut by_set: BTreeMap<&[usize], usize> = BTreeMap::new();
    for (target, failing) in &targets {
        *by_set.entry(failing.as_slice()).or_default() += course.targets[*target].count.min(1) as usize;
    }
    // A target that nobody shoots at any more does not pass.
    let shooters = few_shooting(course, cases);
    let gain = |set: &[usize]| {
        let emptied = shooters.iter().any(|all| all.iter().all(|load| set.contains(load)));
        (!emptied).then(|| subsets(set).iter().filter_map(|s| by_set.get(s.as_slice())).sum::<usize>())
    };
    let mut leaving = Leaving { best: Vec::new(), exact: true };
    let mut before: Vec<usize> = Vec::new();
    for size in 1..=MAX_LEFT.min(loads.len()) {
        let found = if combinations(loads.len(), size) <= TRIED {
            best_of(&loads, size, &gain)
        } else {
            leaving.exact = false;
            grown(&loads, &before, &gain)
        };
        // One load alone may lift nothing where two together do.
        let Some(set) = found else { continue };
        let lifted = lifts(&set);
        if lifted.len() <= leaving.best.last().map_or(0, |l| l.lifts.len()) {
            // A larger set may lift what this one does not: a target may fail through two loads.
            before = set;
            continue;
        }
        before.clone_from(&set);
        leaving.best.push(Left { loads: set, lifts: lifted });
    }
    leaving
}

/// Targets with the few loads that they fail through, all of their cases together: a load that fails from several
/// positions is one.
fn few_failing(course: &Course, cases: &[Case], outcomes: &[Outcome], keep: &Kept) -> Vec<(usize, Vec<usize>)> {
    let mut targets: BTreeMap<usize, Option<BTreeSet<usize>>> = BTreeMap::new();
    for (case, outcome) in cases.iter().zip(outcomes) {
        let entry = targets.entry(case.target).or_insert_with(|| Some(BTreeSet::new()));
        let Some(failing) = entry else { continue };
        failing.extend(outcome.named.iter().copied());
        let kept = keep.all_of(course.targets[case.target].rules);
        let nearer = kept.filter(|(load, keep)| case.is_nearer_than(*keep, *load, course));
        failing.extend(nearer.map(|(load, _)| load));
        // Not every load that fails here is named.
        if outcome.named.len() < outcome.failing || failing.len() > MAX_LEFT {
            *entry = None;
        }
    }
    let few = targets.into_iter().filter_map(|(target, failing)| Some((target, failing?)));
    few.filter(|(_, failing)| !failing.is_empty()).map(|(target, f)| (target, f.into_iter().collect())).collect()
}

/// The loads that shoot in a case, where they are so few that leaving them out could leave nobody.
fn few_shooting(course: &Course, cases: &[Case]) -> Vec<Vec<usize>> {
    let mut seen: Vec<(ClassSet, &[usize])> = Vec::new();
    let mut few = Vec::new();
    for case in cases {
        if seen.contains(&(case.classes, case.without.as_slice())) {
            continue;
        }
        seen.push((case.classes, &case.without));
        let shoots =
            |(index, load): &(usize, &Brought)| case.classes.has(load.class()) && !case.without.contains(index);
        let loads = course.loads.iter().enumerate().filter(shoots).map(|(index, _)| index);
        let loads: Vec<usize> = loads.take(MAX_LEFT + 1).collect();
        if loads.len() <= MAX_LEFT {
            few.push(loads);
        }
    }
    few
}

fn combinations(n: usize, k: usize) -> usize {
    (0..k).fold(1_usize, |product, i| product.saturating_mul(n - i) / (i + 1))
}

fn subsets(set: &[usize]) -> Vec<Vec<usize>> {
    (1..1_usize << set.len())
        .map(|mask| set.iter().enumerate().filter(|(i, _)| mask >> i & 1 == 1).map(|(_, load)| *load).collect())
        .collect()
}

/// The best of all sets of a size, the first of equals.
fn best_of(loads: &[usize], size: usize, gain: &dyn Fn(&[usize]) -> Option<usize>) -> Option<Vec<usize>> {
    let mut best: Option<(usize, Vec<usize>)> = None;
    let mut chosen: Vec<usize> = (0..size).collect();
    loop {
        let set: Vec<usize> = chosen.iter().map(|i| loads[*i]).collect();
        let lifted = gain(&set).unwrap_or(0);
        if lifted > best.as_ref().map_or(0, |b| b.0) {
            best = Some((lifted, set));
        }
        // The next set in order.
        let Some(place) = (0..size).rev().find(|i| chosen[*i] < loads.len() - size + i) else { break };
        chosen[place] += 1;
        for i in place + 1..size {
            chosen[i] = chosen[i - 1] + 1;
        }
    }
    best.map(|b| b.1)
}

/// The set so far with the load that adds the most.
fn grown(loads: &[usize], before: &[usize], gain: &dyn Fn(&[usize]) -> Option<usize>) -> Option<Vec<usize>> {
    let with = |load: usize| {
        let mut set = before.to_vec();
        set.push(load);
        set.order();
        set
    };
    let tried = loads.iter().filter(|load| !before.contains(load)).map(|load| with(*load));
    tried.filter_map(|set| Some((gain(&set)?, set))).reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|b| b.1)
}

/// A course with loads left out at every target.
#[must_use]
pub fn without(course: &Course, loads: &[usize]) -> Course {
    let mut course = course.clone();
    for target in &mut course.targets {
        let further = loads.iter().filter(|load| !target.without.contains(load));
        let further: Vec<usize> = further.copied().collect();
        target.without.extend(further);
    }
    course
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_too_large_to_search_grows_by_the_load_that_adds_the_most_the_first_of_equals() {
        // Loads 7 and 9 lift one target each, 8 two of them beside 4; leaving 5 as well would leave nobody.
        let gain = |set: &[usize]| {
            let has = |load: usize| set.contains(&load);
            let lifted = usize::from(has(7)) + usize::from(has(9)) + 2 * usize::from(has(4) && has(8));
            (!has(5)).then_some(lifted)
        };
        let loads = [4, 5, 6, 7, 8, 9];
        assert_eq!(grown(&loads, &[], &gain), Some(vec![7]));
        assert_eq!(grown(&loads, &[7], &gain), Some(vec![7, 9]));
        assert_eq!(grown(&loads, &[4, 7], &gain), Some(vec![4, 7, 8]));
        assert_eq!(grown(&[5], &[], &gain), None);
    }

    /// A match of one stage, with a target for each set of loads that it fails through.
    fn failing_through(sets: &[Vec<usize>]) -> (Course, Vec<Case>, Vec<Outcome<'static>>) {
        let course = super::super::tests::many(sets.len());
        let cases: Vec<Case> = course.cases();
        let outcome = |case: &Case| {
            let named = sets[case.target].clone();
            Outcome { failing: named.len(), named, ..Outcome::default() }
        };
        let outcomes = cases.iter().map(outcome).collect();
        (course, cases, outcomes)
    }

    #[test]
    fn more_sets_than_can_be_tried_grow_from_the_best_smaller_one_whether_that_lifts_more_or_not() {
        let search = |mut sets: Vec<Vec<usize>>| {
            // Three loads each that lift nothing more: 62 targets through 186 loads.
            sets.extend((0..62).map(|i| vec![200 + 3 * i, 201 + 3 * i, 202 + 3 * i]));
            let (course, cases, outcomes) = failing_through(&sets);
            leaving(&course, &cases, &outcomes, &Kept::new(Vec::new()))
        };
        let of = |loads: &[usize], lifts: &[usize]| Left { loads: loads.to_vec(), lifts: lifts.to_vec() };
        // The pair lifts more than its first load; the third is added to it.
        let found = search(vec![vec![101], vec![101], vec![101, 102], vec![102], vec![103]]);
        assert!(!found.exact);
        assert_eq!(
            found.best,
            [of(&[101], &[0, 1]), of(&[101, 102], &[0, 1, 2, 3]), of(&[101, 102, 103], &[0, 1, 2, 3, 4])]
        );
        // The pair lifts nothing more, and its third does.
        let found = search(vec![vec![101], vec![101], vec![101, 102, 103]]);
        assert_eq!(found.best, [of(&[101], &[0, 1]), of(&[101, 102, 103], &[0, 1, 2])]);
    }

    #[test]
    fn every_set_of_a_size_is_tried_once() {
        use std::cell::RefCell;
        for (loads, size) in [(5, 1), (6, 2), (7, 3), (3, 3)] {
            let all: Vec<usize> = (10..10 + loads).collect();
            let seen: RefCell<Vec<Vec<usize>>> = RefCell::default();
            let found = best_of(&all, size, &|set| {
                seen.borrow_mut().push(set.to_vec());
                Some(1)
            });
            let mut seen = seen.into_inner();
            assert_eq!(found.as_ref(), seen.first(), "{loads} {size}");
            assert_eq!(seen.len(), combinations(loads, size));
            assert!(seen.iter().all(|set| set.len() == size && set.is_sorted_by(|a, b| a < b)), "{seen:?}");
            seen.sort();
            seen.dedup();
            assert_eq!(seen.len(), combinations(loads, size));
        }
        assert_eq!([combinations(5, 2), combinations(7, 3), combinations(200, 3)], [10, 35, 1_313_400]);
    }

    #[test]
    fn a_load_that_must_keep_farther_off_for_its_risk_is_one_to_leave() {
        let course = super::super::tests::read(
            "loads = [\"223-77\", \"308-168-match\"]\n[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\n\
             plate = \"1/2 in\"\nat = \"150 yd\"\nstand = { tilt = \"15 deg\", condition = \"sound\" }\n",
        )
        .unwrap();
        let cases = course.cases();
        let outcomes = vec![Outcome::default(); cases.len()];
        let of = |yards: f64| {
            let kept = Kept::new(vec![vec![crate::quantity::Measure::si(crate::quantity::unit::YARD.of(yards)), 0.0]]);
            leaving(&course, &cases, &outcomes, &kept).best
        };
        assert_eq!(of(180.0), [Left { loads: vec![0], lifts: vec![0] }]);
        assert_eq!(of(140.0), []);
    }
}
