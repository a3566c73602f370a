//! A load on a plate, as judged for a chart.

use crate::quantity::Measure;
use crate::rules::{Closest, Judgement, Verdict};

/// A cell as judged: the farthest of its loads.
#[derive(Clone, Copy)]
pub(super) struct Found<'r> {
    pub load: usize,
    pub closest: Closest<'r>,
    pub listed_only: bool,
    pub at: Option<(Judgement<'r>, Verdict)>,
    pub asked_at: bool,
}

impl Found<'_> {
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

/// Whether a cell is worse than another: by its verdict at the distance asked, then by its distance.
pub(super) fn is_farther(found: &Found, known: &Found) -> bool {
    let key = |f: &Found| {
        let metres = match f.closest {
            Closest::Never { .. } => f64::INFINITY,
            Closest::BeyondReach { .. } => f64::MAX,
            Closest::At { distance, .. } => distance.si(),
        };
        (f.verdict(), metres)
    };
    let ((a, x), (b, y)) = (key(found), key(known));
    a > b || (a == b && x > y)
}
