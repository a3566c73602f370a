//! A load on a plate, as judged for a chart.

use crate::quantity::{Length, Measure};
use crate::rules::{Closest, Judgement, Verdict};
use std::cmp::Ordering;

/// A cell as judged: the farthest of its loads.
#[derive(Clone, Copy)]
pub(super) struct Found<'r> {
    pub load: usize,
    pub closest: Closest<'r>,
    /// The same at the bad end of the air that was not given; none where all was given.
    pub there: Option<There<'r>>,
    /// From where on all of its loads are borderline or better, in either air; none where one of them never is.
    pub borderline: Option<Length>,
    pub listed_only: bool,
    /// Whether the extremes of what was asked are not known.
    pub unknown: bool,
    pub at: Option<(Judgement<'r>, Verdict)>,
    pub asked_at: bool,
}

/// A cell at the bad end of the air: the load that is farthest there, and the worst verdict at the distance asked.
#[derive(Clone, Copy)]
pub(super) struct There<'r> {
    pub load: usize,
    pub closest: Closest<'r>,
    pub at: Option<Verdict>,
}

impl<'r> Found<'r> {
    /// How near anyone may come, and the load that sets it: the farther of the two airs.
    pub fn nearest(&self) -> (usize, Closest<'r>) {
        let farther = self.there.filter(|there| metres(&there.closest) > metres(&self.closest));
        farther.map_or((self.load, self.closest), |there| (there.load, there.closest))
    }

    /// The same distance, where there is one; listed loads that stand for hotter ones that nobody knows have none.
    pub fn nearest_distance(&self) -> Option<Length> {
        self.nearest().1.distance().filter(|_| !self.unknown)
    }

    pub fn verdict(&self) -> Verdict {
        match (self.asked_at, self.at) {
            (true, Some((_, verdict))) => verdict,
            (true, None) => Verdict::Unsuitable,
            (false, _) if self.closest.distance().is_none() => Verdict::Unsuitable,
            (false, _) => capped(Verdict::Suits, self.listed_only),
        }
    }
}

/// Listed loads alone are borderline at best.
pub(super) fn capped(verdict: Verdict, listed_only: bool) -> Verdict {
    if listed_only { verdict.max(Verdict::Borderline) } else { verdict }
}

/// A distance for an order: what never suits lies farthest.
fn metres(closest: &Closest) -> f64 {
    match closest {
        Closest::Never { .. } => f64::INFINITY,
        Closest::BeyondReach { .. } => f64::MAX,
        Closest::At { distance, .. } => distance.si(),
    }
}

/// Takes another load into a cell: the worst counts, by its verdict at the distance asked and then by its distance; at
/// the bad end of the air, and for borderline, the farthest.
pub(super) fn worse<'r>(known: Found<'r>, found: Found<'r>) -> Found<'r> {
    let key = |f: &Found| (f.verdict(), metres(&f.closest));
    let ((a, x), (b, y)) = (key(&found), key(&known));
    let is_farther = a.cmp(&b).then(x.total_cmp(&y)) == Ordering::Greater;
    let there = known.there.zip(found.there).map(|(a, b)| {
        let farthest = if metres(&b.closest) > metres(&a.closest) { b } else { a };
        There { at: a.at.max(b.at), ..farthest }
    });
    let borderline = known.borderline.zip(found.borderline).map(|(a, b)| if a > b { a } else { b });
    Found { there, borderline, ..if is_farther { found } else { known } }
}
