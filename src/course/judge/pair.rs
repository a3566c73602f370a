//! A load before a kind of target: how it is looked at, from bounds to exact flights, and what that settles.

use super::super::tally::{Rank, Tally, Work};
use super::{Asked, Place, follow, nodes};
use crate::quantity::{Length, Measure, Velocity};
use crate::rules::{Allowance, Judgement, Verdict};
use crate::spread::{Flights, Followed};
use crate::strike::Strike;
use std::cell::{Cell, OnceCell};

/// Loads that are alike before a kind of target.
pub(super) struct Pair<'a, 'f> {
    /// The loads: indices, at least one.
    pub loads: &'a [usize],
    pub demand: f64,
    /// The worst verdict with which the load passes.
    pub floor: Verdict,
    pub asked: Asked,
    pub flights: &'f Flights,
    /// As far as it is followed, once it is asked for.
    pub farthest: Length,
    pub followed: &'a OnceCell<Option<(Followed<'f>, Length)>>,
    pub allowance: &'a Allowance<'a>,
    /// What a load that is borderline on any plate must suit beside what it is.
    pub beside: Option<Allowance<'a>>,
    pub known: Cell<Known>,
}

/// What exact flights have told of the load before the kind, m and m/s.
#[derive(Clone, Copy, Default)]
pub(super) struct Known {
    /// It fails up to here.
    fails_to: f64,
    /// It passes here, with the fast shot at this speed.
    passes: Option<(f64, f64)>,
}

/// A look at a distance: a strike no less strict than the exact one, and what it comes to.
#[derive(Clone, Copy)]
pub(super) struct Look<'r> {
    pub strike: Strike,
    judgement: Judgement<'r>,
    by: By,
}

/// How a look was taken: by bounds that nothing is flown for, on dense paths, or on flights aimed at the distance, which
/// is exact.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum By {
    Bound,
    Path,
    Flight,
}

/// Looks at both ends of a span, where they were taken already; each may have come to nothing.
pub(super) type Ends<'r> = (Option<Option<Look<'r>>>, Option<Option<Look<'r>>>);

impl<'a, 'f> Pair<'a, 'f> {
    /// Judges places from near to far: all of them in one step where it can, else each half of them. Looks at the ends
    /// are handed down where they were taken.
    pub fn span(&self, places: &[Place], tallies: &mut [Tally], ends: Ends<'a>, work: &mut Work) {
        let (Some(&(near, _)), Some(&(far, _))) = (places.first(), places.last()) else { return };
        let Some((whole, below)) = tallies.split_first_mut() else { return };
        // Bounds cost next to nothing, and settle most; where they don't, only that end is looked at otherwise.
        let end = |at: Length| self.glance(at).filter(|look| self.is_fine(look, whole)).or_else(|| self.look(at));
        let ends = (ends.0.unwrap_or_else(|| end(near)), ends.1.unwrap_or_else(|| end(far)));
        if below.is_empty() {
            work.exact += usize::from(self.judge(near, ends.0, whole));
            return;
        }
        if self.passes_whole(ends, whole) {
            return;
        }
        let half = places.len() / 2;
        if self.is_unsure(ends, whole) {
            work.exact += 1;
            self.exact(places[half - 1].0);
        }
        let ((nearer, farther), (left, right)) = (places.split_at(half), below.split_at_mut(nodes(half)));
        self.span(nearer, left, (Some(ends.0), None), work);
        self.span(farther, right, (None, Some(ends.1)), work);
        // The best of the worsts: what is better than it is worst at none of the places.
        whole.worst = left[0].worst.zip(right[0].worst).map(|(a, b)| if a.is_worse_than(&b) { b } else { a });
    }

    /// Passes all places between two ends in one step where it can.
    fn passes_whole(&self, ends: (Option<Look>, Option<Look>), whole: &mut Tally) -> bool {
        let (Some(a), Some(b)) = ends else { return false };
        if !self.flights.slows_down() {
            return false;
        }
        self.settles(&a, &b, whole)
    }

    /// Whether no look tells at either end of a span whether it passes, and nothing else matters there.
    fn is_unsure(&self, ends: (Option<Look>, Option<Look>), whole: &Tally) -> bool {
        let (Some(a), Some(b)) = ends else { return false };
        let tells = |look: &Look| self.passes(look) || self.fails_up_to(look);
        self.asked != Asked::Verdict && !self.may_be_worst(&self.worse(&a, &b), whole) && !tells(&a) && !tells(&b)
    }

    fn worse(&self, a: &Look, b: &Look) -> Rank {
        let (a, b) = (self.rank(a), self.rank(b));
        if a.is_worse_than(&b) { a } else { b }
    }

    /// Whether it passes and, where that is asked, is not the worst.
    fn is_fine(&self, look: &Look, tally: &Tally) -> bool {
        let rank = self.rank(look);
        (self.is_met(&look.strike, &look.judgement) || self.asked == Asked::Verdict) && !self.may_be_worst(&rank, tally)
    }

    fn may_be_worst(&self, rank: &Rank, tally: &Tally) -> bool {
        match self.asked {
            Asked::Everything => !tally.worst.is_some_and(|worst| rank.is_clearly_better_than(&worst)),
            Asked::Failing => false,
            Asked::Verdict => tally.worst.is_none_or(|worst| rank.verdict > worst.verdict),
        }
    }

    /// Settles what passes or fails for certain from one look to another, and is not the worst.
    fn settles(&self, near: &Look, far: &Look, tally: &mut Tally) -> bool {
        if self.may_be_worst(&self.worse(near, far), tally) {
            return false;
        }
        if self.asked == Asked::Verdict {
            tally.shot_by += self.loads.len();
            return true;
        }
        let passes = self.passes(near) && self.passes(far);
        if !passes && !self.fails_up_to(far) {
            return false;
        }
        tally.shot_by += self.loads.len();
        if !passes {
            tally.fail(self.loads);
        }
        true
    }

    /// Whether it passes for certain where a look was taken: by the look, or by a nearer flight, which was no slower.
    fn passes(&self, look: &Look) -> bool {
        let Look { strike, judgement, .. } = look;
        let known = self.known.get().passes.filter(|(from, fast)| {
            self.flights.slows_down() && strike.distance.si() >= *from && *fast < strike.fast.si()
        });
        let by_known = |(_, fast)| {
            let strike = Strike { fast: Velocity::from_si(fast), ..*strike };
            self.is_met(&strike, &self.allowance.judge(&strike))
        };
        self.is_met(strike, judgement) || known.is_some_and(by_known)
    }

    /// Whether a load passes by a strike and what it comes to.
    fn is_met(&self, strike: &Strike, judgement: &Judgement) -> bool {
        let suits = |beside: &Allowance| beside.judge(strike).verdict == Verdict::Suits;
        judgement.verdict <= self.floor && self.beside.as_ref().is_none_or(suits)
    }

    /// Judges one place; whether it took exact flights.
    fn judge(&self, distance: Length, look: Option<Look>, tally: &mut Tally) -> bool {
        if let Some(look) = &look {
            if self.settles(look, look, tally) {
                return false;
            }
            if look.judgement.verdict == Verdict::Suits {
                tally.shot_by += self.loads.len();
                tally.offer(self.rank(look));
                return false;
            }
        }
        // A load that doesn't reach a target can't hurt it, or anybody by it; it is not judged there, and told.
        let exact = look.filter(|look| look.by == By::Flight).or_else(|| self.exact(distance));
        let Some(look) = exact else {
            tally.miss(self.loads);
            return true;
        };
        tally.shot_by += self.loads.len();
        tally.offer(self.rank(&look));
        if !self.is_met(&look.strike, &look.judgement) {
            tally.fail(self.loads);
        }
        true
    }

    fn rank(&self, look: &Look) -> Rank {
        Rank::new(&look.judgement, self.demand, self.loads[0])
    }

    /// Whether it fails for certain at the distance of a look, and so at every nearer one.
    fn fails_up_to(&self, look: &Look) -> bool {
        if look.strike.distance.si() <= self.known.get().fails_to {
            return true;
        }
        let least = match look.by {
            By::Bound => return false,
            By::Path => match self.followed() {
                Some((followed, _)) => Strike { fast: followed.least_fast(look.strike.distance), ..look.strike },
                None => return false,
            },
            By::Flight => look.strike,
        };
        let fails = |beside: &Allowance| beside.fails_nearer(&least, Verdict::Suits);
        self.flights.slows_down()
            && (self.allowance.fails_nearer(&least, self.floor) || self.beside.as_ref().is_some_and(fails))
    }

    /// A look at bounds alone.
    pub fn glance(&self, distance: Length) -> Option<Look<'a>> {
        let strike = self.flights.glance(distance).filter(|_| !self.allowance.asks_slow(distance))?;
        Some(self.looked(strike, By::Bound))
    }

    /// A quick look; an exact one where the load is not followed.
    pub fn look(&self, distance: Length) -> Option<Look<'a>> {
        let Some((followed, to)) = self.followed() else { return self.exact(distance) };
        if self.allowance.asks_slow(distance) || distance > *to {
            return None;
        }
        Some(self.looked(followed.look(distance), By::Path))
    }

    pub fn exact(&self, distance: Length) -> Option<Look<'a>> {
        let strike = self.flights.strike_for(distance, self.allowance.asks_slow(distance)).ok()?;
        let look = self.looked(strike, By::Flight);
        self.remember(&look);
        Some(look)
    }

    /// Keeps what an exact look tells of other distances.
    fn remember(&self, look: &Look) {
        let (mut known, metres) = (self.known.get(), look.strike.distance.si());
        if !self.is_met(&look.strike, &look.judgement) {
            if metres > known.fails_to && self.fails_up_to(look) {
                known.fails_to = metres;
            }
        } else if known.passes.is_none_or(|(from, _)| metres < from) {
            known.passes = Some((metres, look.strike.fast.si()));
        }
        self.known.set(known);
    }

    fn looked(&self, strike: Strike, by: By) -> Look<'a> {
        Look { strike, judgement: self.allowance.judge(&strike), by }
    }

    /// The load on dense paths. Where little is asked, a look at both ends does as a rule, and exact ones cost less.
    fn followed(&self) -> Option<&'a (Followed<'f>, Length)> {
        let follow = || if self.asked == Asked::Failing { None } else { follow(self.flights, self.farthest) };
        self.followed.get_or_init(follow).as_ref()
    }
}
