//! The match judged by the rules of the range that each target stands on.

use super::judge::{Conditions, Judged, Outcome, Warning};
use super::tally::Work;
use super::{Case, Course};
use crate::order::Order;
use crate::rules::{RuleSet, Verdict};
use crate::spread::CoverageError;

/// The rules of the match, and those of stages that stand on another range: the match's with that range's laid over.
#[derive(Debug, Clone, Copy)]
pub struct Books<'r> {
    common: &'r RuleSet,
    stages: &'r [RuleSet],
}

impl<'r> Books<'r> {
    /// The rules of the match, and those of its stages in the order of [`Course::stage_rules`].
    #[must_use]
    pub fn new(common: &'r RuleSet, stages: &'r [RuleSet]) -> Self {
        Self { common, stages }
    }

    /// The rules of the match.
    #[must_use]
    pub fn common(self) -> &'r RuleSet {
        self.common
    }

    /// The rules of a target or a stage: 0 for the match's own.
    #[must_use]
    pub fn of(self, book: usize) -> &'r RuleSet {
        book.checked_sub(1).and_then(|stage| self.stages.get(stage)).unwrap_or(self.common)
    }

    /// All of them, the match's first.
    pub fn all(self) -> impl Iterator<Item = &'r RuleSet> {
        std::iter::once(self.common).chain(self.stages)
    }
}

impl<'r> From<&'r RuleSet> for Books<'r> {
    fn from(common: &'r RuleSet) -> Self {
        Self::new(common, &[])
    }
}

/// Distances that loads must keep besides, m, by the rules that a target stands under: the risk of a match.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept(Vec<Vec<(usize, f64)>>);

impl Kept {
    /// Those of each set of rules, the match's first; each load by its index.
    #[must_use]
    pub fn new(by_rules: Vec<Vec<f64>>) -> Self {
        let only = |loads: Vec<f64>| loads.into_iter().enumerate().filter(|(_, metres)| *metres > 0.0).collect();
        Self(by_rules.into_iter().map(only).collect())
    }

    /// That of a load under the rules of a target; zero where it keeps none.
    #[must_use]
    pub fn of(&self, book: usize, load: usize) -> f64 {
        let loads = self.0.get(book).map_or(&[][..], Vec::as_slice);
        loads.binary_search_by_key(&load, |(load, _)| *load).map_or(0.0, |at| loads[at].1)
    }

    /// Those of all loads that must keep any, under the rules of a target.
    pub fn all_of(&self, book: usize) -> impl Iterator<Item = (usize, f64)> {
        self.0.get(book).into_iter().flatten().copied()
    }
}

/// Judges cases of a course, each by the rules of the range that its target stands on. `conditions` gives the air on a
/// slope; `progress` hears of each load done, once for each set of rules.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn judge<'r>(
    course: &Course,
    cases: &[Case],
    rules: impl Into<Books<'r>>,
    conditions: Conditions,
    progress: &(dyn Fn() + Sync),
) -> Result<Judged<'r>, CoverageError> {
    let books = rules.into();
    let used = used(course, cases);
    if let [] | [_] = used.as_slice() {
        let book = used.first().copied().unwrap_or(0);
        return super::judge::judge(course, cases, books.of(book), conditions, progress);
    }
    let mut outcomes: Vec<Option<Outcome<'r>>> = vec![None; cases.len()];
    let mut warnings: Vec<Warning<'r>> = Vec::new();
    let mut work = Work::default();
    for book in used {
        let (places, mine) = under(course, cases, book);
        let judged = super::judge::judge(course, &mine, books.of(book), conditions, progress)?;
        for (place, outcome) in places.iter().zip(judged.outcomes) {
            outcomes[*place] = Some(outcome);
        }
        for warning in judged.warnings {
            let cases = warning.cases.iter().map(|case| places[*case]);
            // What the match's rules warn of is one caution, whichever range a target stands on.
            let same = |w: &&mut Warning| w.rule.id == warning.rule.id && w.rule.overlay == warning.rule.overlay;
            match warnings.iter_mut().find(same) {
                Some(known) => known.cases.extend(cases),
                None => warnings.push(Warning { rule: warning.rule, cases: cases.collect() }),
            }
        }
        work.flights += judged.work.flights;
        work.compiled += judged.work.compiled;
        work.exact += judged.work.exact;
    }
    warnings.iter_mut().for_each(|warning| warning.cases.order());
    Ok(Judged { outcomes: outcomes.into_iter().flatten().collect(), warnings, work })
}

/// The worst verdict of each case, and how many loads are shot there, by the rules of the range that its target stands
/// on: less than what [`judge`] tells, and sooner.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn verdicts<'r>(
    course: &Course,
    cases: &[Case],
    rules: impl Into<Books<'r>>,
    conditions: Conditions,
) -> Result<Vec<(Option<Verdict>, usize)>, CoverageError> {
    by_book(course, cases, rules.into(), &|mine, rules| super::judge::verdicts(course, mine, rules, conditions))
}

/// The cases that are judged by a set of rules, and their places among all.
fn under(course: &Course, cases: &[Case], book: usize) -> (Vec<usize>, Vec<Case>) {
    let mine = cases.iter().enumerate().filter(|(_, case)| course.targets[case.target].rules == book);
    mine.map(|(place, case)| (place, case.clone())).unzip()
}

/// What is asked of cases by one set of rules.
type Ask<'a, T> = &'a dyn Fn(&[Case], &RuleSet) -> Result<Vec<T>, CoverageError>;

/// What is asked of cases by the rules of each range, in their own order.
fn by_book<T: Default + Clone>(
    course: &Course,
    cases: &[Case],
    books: Books,
    ask: Ask<T>,
) -> Result<Vec<T>, CoverageError> {
    let mut all = vec![T::default(); cases.len()];
    for book in used(course, cases) {
        let (places, mine) = under(course, cases, book);
        let found = ask(&mine, books.of(book))?;
        places.into_iter().zip(found).for_each(|(place, found)| all[place] = found);
    }
    Ok(all)
}

/// Whether any load does not pass in each case, by the rules of the range that its target stands on: less than what
/// [`judge`] tells, and sooner.
///
/// # Errors
/// [`CoverageError`] from `conditions`.
pub fn any_fails<'r>(
    course: &Course,
    cases: &[Case],
    rules: impl Into<Books<'r>>,
    conditions: Conditions,
) -> Result<Vec<bool>, CoverageError> {
    by_book(course, cases, rules.into(), &|mine, rules| super::judge::any_fails(course, mine, rules, conditions))
}

/// The sets of rules that cases are judged by.
#[must_use]
pub fn used(course: &Course, cases: &[Case]) -> Vec<usize> {
    let mut used: Vec<usize> = cases.iter().map(|case| course.targets[case.target].rules).collect();
    used.order();
    used.dedup();
    used
}
