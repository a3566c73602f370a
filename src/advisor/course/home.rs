//! What is better left than mended: a load at home, or the slowest ammunition that the rules admit.

use super::{Airs, Search, coverage_fault};
use crate::course::{Case, Course, Leaving, Mending, any_fails, judge, without};
use crate::load::{Class, Load};
use crate::order::Order;
use crate::quantity::{Measure, Velocity, unit};
use crate::source::Diagnostic;
use crate::words::Units;
use std::sync::Arc;

/// Steps in which a least speed is looked for, and how many are tried.
const SPEED_STEP_FPS: f64 = 50.0;
const SPEED_STEP_MPS: f64 = 10.0;
const SPEED_STEPS: u32 = 20;

/// Loads that are left: the first fix.
pub(super) struct Home {
    pub loads: Vec<usize>,
    /// The least speed that each class is then admitted from, where they stand for the slowest that is admitted; else a
    /// load is left at home.
    pub from: Vec<(Class, Velocity)>,
    /// The targets that then need no fix.
    pub lifts: Vec<usize>,
    /// The match without it.
    pub after: Course,
}

impl<'r> Search<'_, 'r> {
    /// What is better left: the slowest loads that the rules admit, by a rule that does not; else a load at home.
    pub(super) fn home(
        &self,
        airs: Airs,
        mendings: &mut [Mending<'r>],
        leaving: &Leaving,
        units: Units,
    ) -> Result<Option<Home>, Diagnostic> {
        let course = airs.here;
        if !course.slow.is_empty() {
            let mut tried = mendings.to_vec();
            if let Some(mut home) = self.left(airs, &course.slow, &mut tried, units)?
                && let Some(from) = self.admitted_from(airs.there, &home, units)?
            {
                home.from = from;
                mendings.clone_from_slice(&tried);
                return Ok(Some(home));
            }
        }
        match better_left(course, mendings, leaving) {
            Some(load) => self.left(airs, &[load], mendings, units),
            None => Ok(None),
        }
    }

    /// The least speed from which the slowest loads of each class pass where leaving them lifts targets.
    fn admitted_from(
        &self,
        course: &Course,
        home: &Home,
        units: Units,
    ) -> Result<Option<Vec<(Class, Velocity)>>, Diagnostic> {
        let lifted = |case: &&Case| home.lifts.binary_search(&case.target).is_ok();
        let cases: Vec<Case> = self.cases.iter().filter(lifted).cloned().collect();
        let mut classes: Vec<Class> = home.loads.iter().map(|load| course.loads[*load].class()).collect();
        classes.order();
        classes.dedup();
        let mut from = Vec::new();
        for class in classes {
            let mine = home.loads.iter().map(|load| &course.loads[*load]).filter(|load| load.class() == class);
            let mine: Vec<&crate::course::Brought> = mine.collect();
            let passes = |speed: Velocity| -> Result<bool, Diagnostic> {
                let faster = mine.iter().filter_map(|slow| {
                    let own = slow.load.facts().muzzle_velocity;
                    let faster = |load: &Load| load.with(|facts| facts.muzzle_velocity = speed).map(Arc::new).ok();
                    let load = if own < speed { faster(&slow.load)? } else { Arc::clone(&slow.load) };
                    Some(crate::course::Brought { load, ..(*slow).clone() })
                });
                let mut tried = Course { loads: faster.collect(), ..course.clone() };
                // The loads are others, and none of them is left out.
                tried.targets.iter_mut().for_each(|target| target.without.clear());
                let cases: Vec<Case> = cases.iter().map(|case| Case { without: Vec::new(), ..case.clone() }).collect();
                let fails = any_fails(&tried, &cases, self.rules, self.conditions);
                Ok(!fails.map_err(|e| coverage_fault(&e))?.contains(&true))
            };
            let slowest =
                mine.iter().map(|slow| slow.load.facts().muzzle_velocity).reduce(|a, b| if b < a { b } else { a });
            let Some(slowest) = slowest else { continue };
            if passes(slowest)? {
                continue;
            }
            let step = match units {
                Units::Us => unit::FOOT_PER_SECOND.of(SPEED_STEP_FPS),
                Units::Si => unit::METRE_PER_SECOND.of(SPEED_STEP_MPS),
            };
            let first = (slowest.si() / step.si()).floor();
            let speeds = (1..=SPEED_STEPS).map(|count| Velocity::from_si((first + f64::from(count)) * step.si()));
            let mut found = None;
            for speed in speeds {
                if passes(speed)? {
                    found = Some(speed);
                    break;
                }
            }
            let Some(speed) = found else { return Ok(None) };
            from.push((class, speed));
        }
        Ok((!from.is_empty()).then_some(from))
    }

    /// Loads left: the targets that this lifts, and what mends the others without them.
    fn left(
        &self,
        airs: Airs,
        loads: &[usize],
        mendings: &mut [Mending<'r>],
        units: Units,
    ) -> Result<Option<Home>, Diagnostic> {
        let after = without(airs.here, loads);
        let there = (!std::ptr::eq(airs.here, airs.there)).then(|| without(airs.there, loads));
        let airs = Airs { here: &after, there: there.as_ref().unwrap_or(&after) };
        let fails = |target: usize| mendings.binary_search_by_key(&target, |m| m.target).is_ok();
        let cases: Vec<Case> = after.cases().into_iter().filter(|case| fails(case.target)).collect();
        let judged = judge(airs.there, &cases, self.rules, self.conditions, &|| ()).map_err(|e| coverage_fault(&e))?;
        let search = Search { cases: &cases, outcomes: &judged.outcomes, keep_here: self.keep, ..*self };
        let found = search.mendings(airs, units)?;
        let mut lifts: Vec<usize> = Vec::new();
        for mending in mendings.iter_mut() {
            match found.binary_search_by_key(&mending.target, |m| m.target) {
                Ok(at) => *mending = found[at].clone(),
                Err(_) => lifts.push(mending.target),
            }
        }
        Ok((!lifts.is_empty()).then(|| Home { loads: loads.to_vec(), from: Vec::new(), lifts, after }))
    }
}

/// A load that is better left than what it calls for is mended: its place in the course.
fn better_left(course: &Course, mendings: &[Mending], leaving: &Leaving) -> Option<usize> {
    let [load] = leaving.best.first()?.loads.as_slice() else { return None };
    let lifts = &leaving.best.first()?.lifts;
    // What is done to a line is done once for all of its targets.
    let mut lines: Vec<(usize, f64)> = Vec::new();
    let mut cost = 0.0;
    for mending in mendings.iter().filter(|m| lifts.contains(&m.target)) {
        let line = course.targets[mending.target].line;
        let Some(fix) = &mending.fix else {
            cost += crate::course::LEAVING;
            continue;
        };
        let moved = fix.moves.iter().any(|m| m.1 != crate::course::Move::Keep);
        let part = if fix.change.is_nothing() && fix.refuse.is_empty() { 0.0 } else { fix.cost };
        match lines.iter_mut().find(|(of, _)| *of == line) {
            Some((_, most)) if moved => *most = most.max(fix.cost),
            None if moved => lines.push((line, fix.cost)),
            _ => cost += part,
        }
    }
    let cost = cost + lines.iter().map(|l| l.1).sum::<f64>();
    (lifts.len() > 1 && cost > crate::course::LEAVING).then_some(*load)
}
