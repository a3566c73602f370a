//! A load on a plate, as judged for a chart.

use super::remedy::rounded_up;
use super::worst::compare;
use crate::quantity::{Length, Measure, parse};
use crate::rules::{Closest, Farthest, Judgement, Verdict};
use crate::words::Units;
use std::cmp::Ordering;

/// A cell as judged: the worst of its loads at the distance asked; where none was, the farthest.
#[derive(Clone, Copy)]
pub(super) struct Found<'r> {
    pub load: usize,
    /// The farthest of its loads, whatever distance was asked, and which one it is of.
    pub closest: Closest<'r>,
    pub closest_of: usize,
    /// The same at the bad end of the air that was not given; none where all was given.
    pub there: Option<There<'r>>,
    /// From where on all of its loads are borderline or better, in either air; none where one of them never is.
    pub borderline: Option<Length>,
    /// Up to where that holds, where all of them never do better; none where no end was found.
    pub borderline_to: Option<Length>,
    /// Up to where all of its loads suit, in either air; none where no end was found.
    pub farthest: Option<Farthest<'r>>,
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
        farther.map_or((self.closest_of, self.closest), |there| (there.load, there.closest))
    }

    /// The same distance, where there is one; listed loads that stand for hotter ones that nobody knows have none.
    pub fn nearest_distance(&self) -> Option<Length> {
        self.nearest().1.distance().filter(|_| !self.unknown)
    }

    /// Up to where it suits, where that ends: as far as what is told to be near.
    pub fn farthest_distance(&self) -> Option<Length> {
        self.farthest.filter(|_| !self.unknown && !self.is_never_in_all()).map(|end| end.distance)
    }

    /// From where on it is borderline, and up to where, in so far as there is anything between the two.
    pub fn borderline(&self) -> Option<(Length, Option<Length>)> {
        let from = self.borderline?;
        self.borderline_to.is_none_or(|to| to > from).then_some((from, self.borderline_to))
    }

    /// The same without a distance from which it is told to suit that lies beyond its end, as both are told.
    pub fn ended(mut self, units: Units) -> Self {
        if let never @ Closest::Never { .. } = held(self.nearest().1, self.farthest, units) {
            match &mut self.there {
                Some(there) => there.closest = never,
                None => self.closest = never,
            }
        }
        self
    }

    /// Whether no distance is good in all of the air, here or there.
    pub fn is_never_in_all(&self) -> bool {
        self.nearest().1.distance().is_none()
    }

    /// At the distance asked; where none was, the best that there is from anywhere in all of the air, and no more than
    /// borderline for what is good in a part of it.
    pub fn verdict(&self) -> Verdict {
        if self.asked_at {
            return self.at.map_or(Verdict::Unsuitable, |(_, verdict)| verdict);
        }
        if !self.is_never_in_all() {
            return capped(Verdict::Suits, self.listed_only);
        }
        let in_part = self.borderline().is_some() || self.closest.distance().is_some();
        if in_part { Verdict::Borderline } else { Verdict::Unsuitable }
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

/// A closest distance; never where it ends before it begins, as both are told.
pub(super) fn held<'r>(closest: Closest<'r>, end: Option<Farthest<'r>>, units: Units) -> Closest<'r> {
    let (Some(from), Some(Farthest { distance, by: Some(by) })) = (closest.distance(), end) else { return closest };
    let told = parse(&units.distance_down(distance)).unwrap_or(distance);
    if from >= distance || rounded_up(from, units) > told { Closest::Never { by } } else { closest }
}

/// The nearer of two ends: beyond it one of them does not hold.
pub(super) fn nearer<'r>(a: Option<Farthest<'r>>, b: Option<Farthest<'r>>) -> Option<Farthest<'r>> {
    a.into_iter().chain(b).reduce(|a, b| if b.distance < a.distance { b } else { a })
}

/// Takes another load into a cell: the worst counts, by its verdict at the distance asked and what it has to spare there;
/// of the distances, in each air by itself and for borderline, the farthest.
pub(super) fn worse<'r>(known: Found<'r>, found: Found<'r>) -> Found<'r> {
    let by_distance = metres(&found.closest).total_cmp(&metres(&known.closest));
    let by_margin = || known.at.zip(found.at).map_or(Ordering::Equal, |(known, found)| compare(&known.0, &found.0));
    let is_worse = found.verdict().cmp(&known.verdict()).then_with(by_margin).then(by_distance) == Ordering::Greater;
    let farthest = if by_distance == Ordering::Greater { found } else { known };
    let there = known.there.zip(found.there).map(|(a, b)| {
        let farthest = if metres(&b.closest) > metres(&a.closest) { b } else { a };
        There { at: a.at.max(b.at), ..farthest }
    });
    let borderline = known.borderline.zip(found.borderline).map(|(a, b)| if a > b { a } else { b });
    let ends = known.borderline_to.into_iter().chain(found.borderline_to);
    let borderline_to = ends.reduce(Length::min);
    let farthest_of_all = nearer(known.farthest, found.farthest);
    let worst = if is_worse { found } else { known };
    Found {
        closest: farthest.closest,
        closest_of: farthest.closest_of,
        there,
        borderline,
        borderline_to,
        farthest: farthest_of_all,
        ..worst
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;
    use crate::rules::{Rule, RuleSet};
    use std::sync::LazyLock;

    static RULES: LazyLock<RuleSet> = LazyLock::new(|| RuleSet::house().expect("rules"));

    fn rule() -> &'static Rule {
        &RULES.rules()[0]
    }

    fn from(yards: f64) -> Closest<'static> {
        Closest::At { distance: unit::YARD.of(yards), by: None, next: None }
    }

    fn found(load: usize, closest: Closest<'static>, there: Option<Closest<'static>>) -> Found<'static> {
        let there = there.map(|closest| There { load: load + 10, closest, at: None });
        Found {
            load,
            closest,
            closest_of: load,
            there,
            borderline: None,
            borderline_to: None,
            farthest: None,
            listed_only: false,
            unknown: false,
            at: None,
            asked_at: false,
        }
    }

    fn judged(found: Found<'static>, verdict: Verdict) -> Found<'static> {
        Found { at: Some((Judgement { verdict, rule: None, margin: None }, verdict)), asked_at: true, ..found }
    }

    #[test]
    fn nobody_comes_nearer_than_either_air_lets_them() {
        let nearest = |here, there| {
            let (load, closest) = found(1, here, Some(there)).nearest();
            (load, closest.distance().map(|at| unit::YARD.value(at).round()))
        };
        assert_eq!(nearest(from(100.0), from(120.0)), (11, Some(120.0)));
        assert_eq!(nearest(from(120.0), from(100.0)), (1, Some(120.0)));
        assert_eq!(nearest(from(120.0), from(120.0)), (1, Some(120.0)));
        assert_eq!(nearest(from(100.0), Closest::Never { by: rule() }), (11, None));
        assert_eq!(nearest(Closest::BeyondReach { by: rule() }, from(100.0)), (1, None));
        assert_eq!(found(1, from(100.0), None).nearest_distance(), Some(unit::YARD.of(100.0)));
        assert_eq!(Found { unknown: true, ..found(1, from(100.0), None) }.nearest_distance(), None);
    }

    #[test]
    fn what_was_asked_at_a_distance_and_not_judged_there_is_unsuitable_and_listed_loads_alone_are_borderline() {
        let (well, never) = (found(1, from(100.0), None), found(1, Closest::Never { by: rule() }, None));
        assert_eq!((well.verdict(), never.verdict()), (Verdict::Suits, Verdict::Unsuitable));
        assert_eq!(Found { listed_only: true, ..well }.verdict(), Verdict::Borderline);
        assert_eq!(Found { asked_at: true, ..well }.verdict(), Verdict::Unsuitable);
        assert_eq!(judged(well, Verdict::Borderline).verdict(), Verdict::Borderline);
    }

    #[test]
    fn of_two_loads_the_worse_verdict_counts_and_the_farther_distance_in_each_air_by_itself() {
        let (near, far) = (found(1, from(100.0), Some(from(300.0))), found(2, from(200.0), Some(from(250.0))));
        for (a, b) in [(near, far), (far, near)] {
            let worst = worse(a, b);
            assert_eq!(worst.load, 2);
            assert_eq!(worst.there.map(|there| there.load), Some(11));
            // The worst where it was asked, and the farthest all the same.
            let worst = worse(judged(a, Verdict::Suits), judged(b, Verdict::Borderline));
            assert_eq!((worst.load, worst.closest_of), (b.load, 2));
            assert_eq!(worst.closest.distance(), Some(unit::YARD.of(200.0)));
        }
        // Of equals the first stays, here and there.
        let twin = Found { load: 3, there: near.there.map(|there| There { load: 30, ..there }), ..near };
        let worst = worse(near, twin);
        assert_eq!((worst.load, worst.there.map(|there| there.load)), (1, Some(11)));
        let at = |found: Found<'static>, verdict| Found {
            there: found.there.map(|there| There { at: Some(verdict), ..there }),
            ..found
        };
        let both = worse(at(near, Verdict::Suits), at(far, Verdict::Unsuitable));
        assert_eq!(both.there.and_then(|there| there.at), Some(Verdict::Unsuitable));
        let borderline = |yards: Option<f64>| Found { borderline: yards.map(|yards| unit::YARD.of(yards)), ..near };
        for (a, b, both) in
            [(Some(50.0), Some(80.0), Some(80.0)), (Some(80.0), Some(50.0), Some(80.0)), (None, Some(9.0), None)]
        {
            assert_eq!(worse(borderline(a), borderline(b)).borderline, both.map(|yards| unit::YARD.of(yards)));
        }
    }
}
