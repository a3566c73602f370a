//! The match judged again at the bad end of the air that was not given: which targets have a worse verdict there, from
//! where they pass, and up to where the answer holds.

use super::{Search, coverage_fault, crowd_fault};
use crate::advisor::elsewhere::{DAMP_PERCENT, HIGH_FT, HOT_F, Open, Until, holds, taken};
use crate::air::Weather;
use crate::course::{Case, Course, Kept, Mending, Outcome, judge, keep_off, passes_from, verdicts};
use crate::load::Class;
use crate::quantity::{Length, Measure, unit};
use crate::rules::Verdict;
use crate::source::Diagnostic;
use crate::spread::{FlightConditions, Flights};
use crate::standoff::is_too_fast;
use crate::words::Units;

/// Pairs of a load and a target above which nothing more is looked for than whether the verdict changes.
const MANY_PAIRS: usize = 60_000;

fn are_few(cases: usize, course: &Course) -> bool {
    cases * course.loads.len() <= MANY_PAIRS
}

/// Targets that have a worse verdict in other air.
pub(super) struct Elsewhere {
    /// The targets.
    pub changed: Vec<usize>,
    /// All of the air that was not given: `0 to 6000 ft at -10 to 100 °F`.
    pub air: String,
    /// The air up to which the answer holds: `up to 3400 ft on a hot day (100 °F)`; where it was not looked for, the air
    /// that was taken.
    pub holds: String,
    /// From where a class passes at a target there; none where it does not from anywhere.
    from: Vec<(usize, Class, Option<Length>)>,
}

impl Elsewhere {
    /// From where a class passes at a target in that air, where it must keep farther there.
    pub fn farther(&self, target: usize, class: Class) -> Option<Option<Length>> {
        self.from.iter().find(|(of, by, _)| *of == target && *by == class).map(|(_, _, at)| *at)
    }

    /// The farthest that any class must keep from a target there; none where it is not known.
    pub fn all_pass_from(&self, target: usize) -> Option<Option<Length>> {
        let mine = self.from.iter().filter(|(of, ..)| *of == target).map(|(_, _, at)| *at);
        mine.reduce(|a, b| a.zip(b).map(|(a, b)| if b > a { b } else { a }))
    }
}

/// The airs that targets stand in.
fn stages(course: &Course) -> impl Iterator<Item = &Weather> {
    course.targets.iter().map(|target| &course.airs[target.air])
}

/// What of the air was not given for all of a match.
fn open(course: &Course) -> Open {
    stages(course).map(Open::of).fold(Open::default(), Open::or)
}

/// The match in all of the air that was not given; none where all of it was.
pub(super) fn whole(course: &Course) -> Option<Course> {
    open(course).is_any().then(|| in_air(course, Until::WORST))
}

/// All of the air that was not given: `0 to 6000 ft at -10 to 100 °F`.
pub(super) fn end(course: &Course, units: Units) -> String {
    open(course).span(units)
}

/// All of one stage's air that was not given; none where that is its humidity at most.
pub(super) fn end_of(air: &Weather, units: Units) -> Option<String> {
    let open = Open::of(air);
    open.is_more_than_damp().then(|| open.span(units))
}

/// Whether more of the air is open than its humidity.
pub(super) fn is_wide(course: &Course) -> bool {
    open(course).is_more_than_damp()
}

/// Whether some stage has air given that another has not.
pub(super) fn is_uneven(course: &Course) -> bool {
    let whole = open(course);
    stages(course).any(|air| Open::of(air) != whole)
}

/// The match with what was not given of its air.
fn in_air(course: &Course, until: Until) -> Course {
    Course { airs: course.airs.iter().map(|air| until.of(air)).collect(), ..course.clone() }
}

/// What cases come to, those of targets that fail in the air that was taken in all of the air that was not given: what
/// mends them is to hold there.
pub(super) fn failing<'r>(
    search: &Search<'_, 'r>,
    course: &Course,
    there: &Course,
) -> Result<Vec<Outcome<'r>>, Diagnostic> {
    let mut all = search.outcomes.to_vec();
    let mut targets: Vec<usize> =
        search.cases.iter().zip(&all).filter(|(_, outcome)| outcome.failing > 0).map(|(case, _)| case.target).collect();
    targets.dedup();
    let is_mine = |at: &usize| targets.binary_search(&search.cases[*at].target).is_ok();
    let mine: Vec<usize> = (0..all.len()).filter(is_mine).collect();
    let judged = |there: &Course, mine: &[usize], all: &mut Vec<Outcome<'r>>| -> Result<(), Diagnostic> {
        let cases: Vec<Case> = mine.iter().map(|at| search.cases[*at].clone()).collect();
        let judged = judge(there, &cases, search.rules, search.conditions, &|| ()).map_err(|e| coverage_fault(&e))?;
        let mut outcomes = judged.outcomes;
        keep_off(&mut outcomes, there, &cases, search.rules, search.keep);
        for (at, outcome) in mine.iter().zip(outcomes) {
            if outcome.failing >= all[*at].failing {
                all[*at] = outcome;
            }
        }
        Ok(())
    };
    judged(there, &mine, &mut all)?;
    // A load whose slow shot falls short in the cold hits nothing there; its fast one still flies in hot thin air.
    let short = |at: &usize| all[*at].shot_by < search.outcomes[*at].shot_by;
    let again: Vec<usize> = mine.iter().copied().filter(short).collect();
    if !again.is_empty() {
        judged(&in_air(course, Until { coldest: None, ..Until::WORST }), &again, &mut all)?;
    }
    Ok(all)
}

/// What changes where the air was not given; none where it was, or where nothing does. What is mended holds in all of
/// it, and what fails here without a fix is told as that.
pub(super) fn of(
    search: &Search,
    course: &Course,
    mendings: &[Mending],
    units: Units,
) -> Result<Option<Elsewhere>, Diagnostic> {
    let open = open(course);
    if !open.is_any() {
        return Ok(None);
    }
    let way = Way { search, course, units, open };
    let is_mended = |case: &Case| mendings.binary_search_by_key(&case.target, |mending| mending.target).is_ok();
    // What nobody shoots stays so, and what is unsuitable gets no worse.
    let is_open = |outcome: &Outcome| outcome.verdict.is_some_and(|verdict| verdict != Verdict::Unsuitable);
    let outcomes = search.cases.iter().zip(search.outcomes);
    let (cases, here): (Vec<Case>, Vec<Here>) = outcomes
        .filter(|(case, outcome)| is_open(outcome) && !is_mended(case))
        .map(|(case, o)| (case.clone(), Here::of(o)))
        .unzip();
    let judged = way.judged(Until::WORST, &cases, &here)?;
    let mut worse: Vec<(&Case, &Here, &Outcome)> = Vec::new();
    for ((case, here), outcome) in cases.iter().zip(&here).zip(&judged) {
        if outcome.verdict > here.verdict {
            worse.push((case, here, outcome));
        }
    }
    if worse.is_empty() {
        return Ok(None);
    }
    let mut changed: Vec<usize> = worse.iter().map(|(case, ..)| case.target).collect();
    changed.dedup();
    let is_small = are_few(worse.len(), course);
    let (mut from, mut holds) = (Vec::new(), way.taken());
    if is_small {
        let (worse_cases, here): (Vec<Case>, Vec<Here>) =
            worse.iter().map(|(case, here, _)| ((*case).clone(), **here)).unzip();
        holds = way.holds(&worse_cases, &here)?.unwrap_or(holds);
        let there = in_air(course, Until::WORST);
        // Among many cases no more than the verdict was looked at.
        let is_whole = are_few(cases.len(), course);
        let again = if is_whole { None } else { Some(way.judged(Until::WORST, &worse_cases, &here)?) };
        for (at, (case, _, outcome)) in worse.iter().enumerate() {
            let outcome = again.as_ref().map_or(*outcome, |again| &again[at]);
            way.farther(&there, case, outcome, &mut from)?;
        }
    }
    Ok(Some(Elsewhere { changed, air: end(course, units), holds, from }))
}

/// What a case comes to in the air that was taken, and how many loads reach it there.
#[derive(Clone, Copy)]
struct Here {
    verdict: Option<Verdict>,
    shot_by: usize,
}

impl Here {
    fn of(outcome: &Outcome) -> Self {
        Self { verdict: outcome.verdict, shot_by: outcome.shot_by }
    }
}

/// The way from the air that was taken to the bad end.
struct Way<'a, 'r> {
    search: &'a Search<'a, 'r>,
    course: &'a Course,
    units: Units,
    /// What of the air was not given.
    open: Open,
}

impl Way<'_, '_> {
    /// What cases come to in some air. A load whose slow shot falls short in the cold hits nothing there; its fast one
    /// still flies in hot thin air.
    fn judged(&self, until: Until, cases: &[Case], here: &[Here]) -> Result<Vec<Outcome<'_>>, Diagnostic> {
        let is_small = are_few(cases.len(), self.course);
        let (rules, conditions) = (self.search.rules, self.search.conditions);
        let judged = |there: &Course, cases: &[Case]| -> Result<Vec<Outcome<'_>>, Diagnostic> {
            let outcomes = if is_small {
                judge(there, cases, rules, conditions, &|| ()).map(|judged| judged.outcomes)
            } else {
                // Of many, no more is looked at than the verdict.
                let of = |(verdict, shot_by)| Outcome { verdict, shot_by, ..Outcome::default() };
                verdicts(there, cases, rules, conditions).map(|all| all.into_iter().map(of).collect())
            };
            let mut outcomes = outcomes.map_err(|e| coverage_fault(&e))?;
            let is_end = until.feet >= HIGH_FT && until.hottest == Some(HOT_F) && until.damp >= DAMP_PERCENT;
            let nearer = (!is_end).then(|| self.keep_in(there, cases)).transpose()?;
            keep_off(&mut outcomes, there, cases, rules, nearer.as_ref().unwrap_or(self.search.keep));
            Ok(outcomes)
        };
        let mut all = judged(&in_air(self.course, until), cases)?;
        if until.coldest.is_none() {
            return Ok(all);
        }
        let short = |at: &usize| is_small || all[*at].shot_by < here[*at].shot_by;
        let again: Vec<usize> = (0..cases.len()).filter(short).collect();
        let mine: Vec<Case> = again.iter().map(|at| cases[*at].clone()).collect();
        for (at, warm) in again.into_iter().zip(judged(&in_air(self.course, Until { coldest: None, ..until }), &mine)?)
        {
            if warm.verdict > all[at].verdict {
                all[at] = warm;
            }
        }
        Ok(all)
    }

    /// What loads must keep in some air: no more is looked at than whether it is farther than where each is shot from
    /// nearest, of those that are nearer somewhere than they must in all of it.
    fn keep_in(&self, there: &Course, cases: &[Case]) -> Result<Kept, Diagnostic> {
        let Some(crowd) = &there.crowd else { return Ok(Kept::new(Vec::new())) };
        let level = |air| (self.search.conditions)(air, unit::DEGREE.of(0.0)).map_err(|e| coverage_fault(&e));
        let levels = there.airs.iter().map(level).collect::<Result<Vec<FlightConditions>, Diagnostic>>()?;
        let all: Vec<usize> = (0..there.loads.len()).collect();
        let by_rules = self.search.rules.all().enumerate().map(|(book, rules)| {
            let keep = |&load: &usize| -> Result<f64, Diagnostic> {
                let most = self.search.keep.of(book, load);
                let is_nearer =
                    |case: &&Case| there.targets[case.target].rules == book && case.is_nearer_than(most, load, there);
                let nearer = cases.iter().filter(is_nearer).map(|case| case.distance);
                let Some(nearest) = nearer.reduce(|a, b| if b < a { b } else { a }) else { return Ok(0.0) };
                for level in &levels {
                    let found = is_too_fast(rules, &there.loads[load].load, level, nearest, crowd);
                    if found.map_err(|e| crowd_fault(&e))? {
                        return Ok(nearest.si() * (1.0 + 1e-6));
                    }
                }
                Ok(0.0)
            };
            crate::threads::map(&all, keep)
        });
        Ok(Kept::new(by_rules.collect::<Result<Vec<Vec<f64>>, Diagnostic>>()?))
    }

    /// The air that was taken: `at sea level and 59 °F`.
    fn taken(&self) -> String {
        let hottest = self.course.airs.iter().map(|air| taken(air).1).fold(f64::NEG_INFINITY, f64::max);
        self.open.taken_at(unit::FAHRENHEIT.of(hottest), self.units).unwrap_or_else(|| "in dry air".into())
    }

    /// The air up to which no verdict is worse than here, found by halving.
    fn holds(&self, cases: &[Case], here: &[Here]) -> Result<Option<String>, Diagnostic> {
        let same = |until: Until| -> Result<bool, Diagnostic> {
            let judged = self.judged(until, cases, here)?;
            Ok(judged.iter().zip(here).all(|(outcome, here)| outcome.verdict <= here.verdict))
        };
        // Airs of stages may be given in part, each in its own.
        let air = if let [air] = self.course.airs.as_slice() { Some(air) } else { None };
        holds(self.open, air, Until::WORST, self.units, same)
    }

    /// From where each class of a case passes there.
    fn farther(
        &self,
        there: &Course,
        case: &Case,
        outcome: &Outcome,
        from: &mut Vec<(usize, Class, Option<Length>)>,
    ) -> Result<(), Diagnostic> {
        let target = &there.targets[case.target];
        let conditions = (self.search.conditions)(&there.airs[target.air], case.slope);
        let conditions = conditions.map_err(|e| coverage_fault(&e))?;
        let named = outcome.failing <= outcome.named.len();
        let shoots = |index: usize, class: Class| {
            case.classes.has(class) && !case.without.contains(&index) && (!named || outcome.named.contains(&index))
        };
        let mine = (0..there.loads.len()).filter(|index| shoots(*index, there.loads[*index].class()));
        for (index, brought) in mine.map(|index| (index, &there.loads[index])) {
            let Ok(flights) = Flights::new(&brought.load, &conditions) else { continue };
            let allowance =
                self.search.rules.of(target.rules).allow(&brought.load, &target.plate, &target.setup, flights.muzzle());
            let (metres, _) = passes_from(&allowance, &flights, brought.best, case.distance.si());
            let metres = metres.max(self.search.keep.of(target.rules, index));
            if metres <= case.distance.si() {
                continue;
            }
            let at = metres.is_finite().then(|| Length::from_si(metres));
            let class = brought.class();
            match from.iter_mut().find(|(of, by, _)| *of == case.target && *by == class) {
                Some((_, _, known)) => *known = known.zip(at).map(|(a, b)| if b > a { b } else { a }),
                None => from.push((case.target, class, at)),
            }
        }
        Ok(())
    }
}
