//! What is kept of a match while its loads go by: counts, names and the worst of each place, and of spans of places.

use crate::order::Order;
use crate::rules::{Judgement, Rule, Verdict};

/// Failing loads that a case names, so that everybody is written to; those beyond are counted. Fewer where there are
/// many cases.
const NAMED: usize = 64;
const NAMED_OF_MANY: usize = 8;
/// Cases above which there are many.
const MANY: usize = 1000;

/// The work that was done: for tests, which assert work and never time.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Work {
    /// Sets of flights that were made: one for a load, an air and a slope.
    pub flights: usize,
    /// Rule sets that were compiled: one for a load and a kind of target.
    pub compiled: usize,
    /// Pairs that had to be judged on exact flights.
    pub exact: usize,
}

/// How much is kept.
pub(super) struct Size {
    /// Cases of the match.
    pub cases: usize,
    /// Tallies of places, where cases of a kind from one distance are one, and of their spans.
    pub nodes: usize,
    /// Kinds of targets.
    pub kinds: usize,
}

/// How bad a load is on a case. Ties go to the greatest demand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rank {
    pub(super) verdict: Verdict,
    pub(super) margin: f64,
    pub(super) demand: f64,
    pub(super) load: usize,
}

impl Rank {
    pub(super) fn new(judgement: &Judgement, demand: f64, load: usize) -> Self {
        Self { verdict: judgement.verdict, margin: margin(judgement), demand, load }
    }

    pub(super) fn is_worse_than(&self, other: &Self) -> bool {
        let order = self.verdict.cmp(&other.verdict).then(other.margin.total_cmp(&self.margin));
        order.then(self.demand.total_cmp(&other.demand)).then(other.load.cmp(&self.load)).is_gt()
    }

    /// Whether it is better whatever its demand.
    pub(super) fn is_clearly_better_than(&self, other: &Self) -> bool {
        self.verdict < other.verdict || (self.verdict == other.verdict && self.margin > other.margin)
    }
}

/// The margin; among failures, those without a number come behind those with one.
fn margin(judgement: &Judgement) -> f64 {
    judgement.margin.unwrap_or(if judgement.verdict == Verdict::Suits { f64::INFINITY } else { 0.0 })
}

/// What is kept of a place, or of all places of a span together, while loads go by. The worst of a span is a bound: what
/// is better than it is worst at none of its places.
#[derive(Debug, Clone, Default)]
pub(super) struct Tally {
    pub(super) worst: Option<Rank>,
    pub(super) shot_by: usize,
    pub(super) failing: usize,
    pub(super) named: Vec<usize>,
    /// The first of those that do not reach it.
    pub(super) out_of_reach: Vec<usize>,
    /// How many are named.
    pub(super) most: usize,
}

impl Tally {
    /// Alike loads fail.
    pub(super) fn fail(&mut self, loads: &[usize]) {
        self.failing += loads.len();
        name(&mut self.named, self.most, loads);
    }

    /// Alike loads do not reach it.
    pub(super) fn miss(&mut self, loads: &[usize]) {
        name(&mut self.out_of_reach, NAMED, loads);
    }

    pub(super) fn offer(&mut self, rank: Rank) {
        if self.worst.is_none_or(|worst| rank.is_worse_than(&worst)) {
            self.worst = Some(rank);
        }
    }

    pub(super) fn merged(mut self, other: Self) -> Self {
        if let Some(worst) = other.worst {
            self.offer(worst);
        }
        self.add(&other);
        self
    }

    /// The counts of another, its worst apart.
    pub(super) fn add(&mut self, other: &Self) {
        self.shot_by += other.shot_by;
        self.failing += other.failing;
        let short = (&mut self.out_of_reach, &other.out_of_reach, NAMED);
        for (named, others, most) in [(&mut self.named, &other.named, self.most), short] {
            if !others.is_empty() {
                named.extend_from_slice(others);
                named.order();
                named.truncate(most);
            }
        }
    }
}

/// Adds loads to the first that are named.
fn name(named: &mut Vec<usize>, most: usize, loads: &[usize]) {
    // Loads come in order, so that those beyond the first cost nothing.
    for &load in loads {
        if named.len() >= most && named.last().is_none_or(|last| *last < load) {
            break;
        }
        let at = named.partition_point(|known| *known < load);
        named.insert(at, load);
        named.truncate(most);
    }
}

pub(super) struct Tallies<'r> {
    pub(super) nodes: Vec<Tally>,
    /// Cautions by kind.
    pub(super) warnings: Vec<Vec<&'r Rule>>,
    pub(super) work: Work,
}

impl<'r> Tallies<'r> {
    pub(super) fn new(size: &Size) -> Self {
        let most = if size.cases > MANY { NAMED_OF_MANY } else { NAMED };
        let none = Tally { most, ..Tally::default() };
        Self { nodes: vec![none; size.nodes], warnings: vec![Vec::new(); size.kinds], work: Work::default() }
    }

    /// Nothing counted, with the worst so far as bounds.
    pub(super) fn bounds(&self, size: &Size) -> Self {
        let mut bounds = Self::new(size);
        bounds.nodes.iter_mut().zip(&self.nodes).for_each(|(bound, tally)| bound.worst = tally.worst);
        bounds
    }

    /// What is kept of a place, by its own tally and those of the spans that hold it, the longest first.
    pub(super) fn whole(&self, along: &[usize]) -> Tally {
        let Some((own, spans)) = along.split_last() else { return Tally::default() };
        let mut tally = self.nodes[*own].clone();
        spans.iter().for_each(|span| tally.add(&self.nodes[*span]));
        tally
    }

    pub(super) fn warn(&mut self, kind: usize, rule: &'r Rule) {
        if !self.warnings[kind].iter().any(|known| std::ptr::eq(*known, rule)) {
            self.warnings[kind].push(rule);
        }
    }

    pub(super) fn merged(mut self, other: Self) -> Self {
        for (kind, rules) in other.warnings.iter().enumerate() {
            rules.iter().for_each(|rule| self.warn(kind, rule));
        }
        let (a, b) = (self.work, other.work);
        Self {
            nodes: self.nodes.into_iter().zip(other.nodes).map(|(a, b)| a.merged(b)).collect(),
            warnings: self.warnings,
            work: Work { flights: a.flights + b.flights, compiled: a.compiled + b.compiled, exact: a.exact + b.exact },
        }
    }
}

#[cfg(test)]
mod tests;
