//! How close: the allowance turned round, from speeds to a distance.

use super::allow::Allowance;
use super::check::{Check, CompiledRule, Gauge};
use super::rule::{Concern, Rule, Side, Verdict};
use super::value::{at_least, at_most};
use crate::order::Order;
use crate::quantity::{Length, Measure, Velocity};
use crate::spread::{FOLLOWED_YD, Flights};

/// The closest distance from which on everything suits, and what fixes it.
#[derive(Debug, Clone, Copy)]
pub enum Closest<'r> {
    /// It suits from here on.
    At {
        /// The exact distance.
        distance: Length,
        /// The rule that fixes it; `None` where no rule does.
        by: Option<&'r Rule>,
        /// The rule that would fix it next, were that one met.
        next: Option<&'r Rule>,
    },
    /// It never suits, at any distance.
    Never {
        /// The rule that says so.
        by: &'r Rule,
    },
    /// It would suit only farther than the bullet is followed.
    BeyondReach {
        /// The rule that is not met within reach.
        by: &'r Rule,
    },
}

impl<'r> Closest<'r> {
    /// The distance, where there is one.
    #[must_use]
    pub fn distance(&self) -> Option<Length> {
        match self {
            Self::At { distance, .. } => Some(*distance),
            Self::Never { .. } | Self::BeyondReach { .. } => None,
        }
    }

    /// The rule that fixes it.
    #[must_use]
    pub fn by(&self) -> Option<&'r Rule> {
        match self {
            Self::At { by, .. } => *by,
            Self::Never { by } | Self::BeyondReach { by } => Some(by),
        }
    }
}

/// The distance up to which a term is not met.
enum Until {
    /// Met at every distance that counts.
    Met,
    Distance(f64),
    Never,
}

/// The two farthest distances that rules ask for: what fixes the closest distance, and what would next.
#[derive(Clone, Copy, Default)]
struct TwoFarthest<'r> {
    best: Option<(f64, &'r Rule)>,
    next: Option<(f64, &'r Rule)>,
}

impl<'r> TwoFarthest<'r> {
    fn offer(&mut self, metres: f64, rule: &'r Rule) {
        if self.best.is_none_or(|(most, _)| metres > most) {
            self.next = self.best;
            self.best = Some((metres, rule));
        } else if self.next.is_none_or(|(most, _)| metres > most) {
            self.next = Some((metres, rule));
        }
    }

    fn best_m(&self) -> f64 {
        self.best.map_or(0.0, |b| b.0)
    }

    fn next_m(&self) -> f64 {
        self.next.map_or(0.0, |n| n.0)
    }
}

/// A limit on the fast shot at every distance.
#[derive(Clone, Copy)]
struct FastLimit<'r> {
    limit: f64,
    rule: &'r Rule,
}

impl<'r> Allowance<'r> {
    /// The closest distance from which on everything suits, found on the aimed trajectory itself.
    #[must_use]
    pub fn closest(&self, flights: &Flights) -> Closest<'r> {
        self.nearest(flights, Verdict::Suits)
    }

    /// The closest distance from which on it is borderline at worst.
    #[must_use]
    pub fn borderline_from(&self, flights: &Flights) -> Closest<'r> {
        self.nearest(flights, Verdict::Borderline)
    }

    fn nearest(&self, flights: &Flights, wanted: Verdict) -> Closest<'r> {
        let mut found = TwoFarthest::default();
        // The two strictest limits on the fast shot: looser ones lie nearer, and fix nothing.
        let mut strictest: [Option<FastLimit<'r>>; 2] = [None, None];
        // The worst of what never suits says why: a range that refuses is named before a house rule that doubts.
        if let Some(by) = self.never(wanted) {
            return Closest::Never { by };
        }
        for compiled in &self.rules {
            if let Some(limit) = compiled.fast_limit(wanted) {
                strictest = match strictest {
                    [None, _] => [Some(limit), None],
                    [Some(first), _] if limit.limit < first.limit => [Some(limit), Some(first)],
                    [first, second] if second.is_none_or(|s| limit.limit < s.limit) => [first, Some(limit)],
                    both => both,
                };
                continue;
            }
            match self.until(compiled, wanted, flights, found.best_m()) {
                Until::Met => {}
                Until::Never => return Closest::Never { by: compiled.rule },
                Until::Distance(metres) => found.offer(metres, compiled.rule),
            }
        }
        if let Some(together) = self.together.filter(|t| t.outcome > wanted && wanted > Verdict::Suits) {
            match self.concerned_until(together.concerns, flights) {
                metres if metres.is_infinite() => return Closest::Never { by: together.rule },
                metres if metres > 0.0 => found.offer(metres, together.rule),
                _ => {}
            }
        }
        for limit in strictest.into_iter().flatten() {
            if let Err(by) = offer_fast(limit, flights, &mut found) {
                // A floor where no bullet gets to asks too much by itself, whatever would be left of the hit there.
                let out_there = |floor: &(f64, &Rule)| flights.fast_speed(Length::from_si(floor.0)).is_err();
                return Closest::BeyondReach { by: found.best.filter(out_there).map_or(by, |floor| floor.1) };
            }
        }
        self.confirmed(flights, &found, wanted)
    }

    /// The rule with the worst verdict of those that are not met at any distance, whatever arrives.
    fn never(&self, wanted: Verdict) -> Option<&'r Rule> {
        let mut worst: Option<(Verdict, &'r Rule)> = None;
        for compiled in self.rules.iter().filter(|compiled| compiled.within.is_infinite()) {
            match compiled.check {
                Check::Fixed { verdict, .. } if verdict > worst.map_or(wanted, |(known, _)| known) => {
                    worst = Some((verdict, compiled.rule));
                }
                _ => {}
            }
        }
        worst.map(|(_, rule)| rule)
    }

    /// The distance up to which so many concerns are short of suiting, m; zero where they never are at once.
    fn concerned_until(&self, concerns: u32, flights: &Flights) -> f64 {
        const NONE: f64 = 0.0;
        let mut until = [NONE; 8];
        for compiled in &self.rules {
            let Some(concern) = compiled.rule.concern else { continue };
            let metres = match self.until(compiled, Verdict::Suits, flights, 0.0) {
                Until::Met => NONE,
                Until::Distance(metres) => metres,
                Until::Never => f64::INFINITY,
            };
            let of_concern = &mut until[Concern::bit(concern).trailing_zeros() as usize];
            *of_concern = of_concern.max(metres);
        }
        until.order_by(|a, b| b.total_cmp(a));
        until.get((concerns as usize).saturating_sub(1)).copied().unwrap_or(NONE)
    }

    /// Guards the one case the rules don't see alone: a limit that is met near and passed farther out.
    fn confirmed(&self, flights: &Flights, found: &TwoFarthest<'r>, wanted: Verdict) -> Closest<'r> {
        let distance = Length::from_si(found.best_m());
        let by = found.best.map(|b| b.1);
        let closest = Closest::At { distance, by, next: found.next.map(|n| n.1) };
        // What suits by bounds, which are stricter, needs no flight; of the slow shot they know nothing.
        let glance = if self.asks_slow(distance) { None } else { flights.glance(distance) };
        if glance.is_some_and(|strike| self.judge(&strike).verdict <= wanted) {
            return closest;
        }
        match flights.strike_for(distance, self.asks_slow(distance)) {
            Ok(strike) => match self.judge(&strike) {
                judgement if judgement.verdict <= wanted => closest,
                judgement => judgement.rule.map_or(closest, |by| Closest::Never { by }),
            },
            Err(_) => by.map_or(closest, |by| Closest::BeyondReach { by }),
        }
    }

    fn until(&self, compiled: &CompiledRule<'r>, wanted: Verdict, flights: &Flights, known: f64) -> Until {
        let within = compiled.within;
        match compiled.check {
            Check::Caution { .. } | Check::Factor(_) => Until::Met,
            Check::Fixed { verdict, .. } if verdict <= wanted => Until::Met,
            Check::Fixed { .. } if within.is_finite() => Until::Distance(within),
            Check::Fixed { .. } => Until::Never,
            Check::Moving { gauge, side, suits, borderline, .. } => {
                let limit = if wanted == Verdict::Suits { suits } else { borderline };
                match gauge {
                    Gauge::Distance => Until::Distance(limit.min(within)),
                    Gauge::Fast => fast_until(limit, within, known, flights),
                    Gauge::Slow => slow_until(limit, within, flights),
                    // The same at every distance.
                    Gauge::Muzzle => match flights.muzzle().high.si() {
                        speed if at_most(speed, limit) => Until::Met,
                        _ if within.is_finite() => Until::Distance(within),
                        _ => Until::Never,
                    },
                    Gauge::LeanToSight => match self.lean_to_sight(flights.slope().si()) {
                        lean if at_least(lean, limit) => Until::Met,
                        _ if within.is_finite() => Until::Distance(within),
                        _ => Until::Never,
                    },
                    Gauge::LeanToBullet => {
                        debug_assert_eq!(side, Side::AtMost);
                        match self.tilt_rad - flights.slope().si() {
                            // Passed only farther out, where the bullet falls, which `confirmed` sees.
                            lean if at_most(lean, limit) => Until::Met,
                            _ if within.is_finite() => Until::Distance(within),
                            _ => Until::Never,
                        }
                    }
                }
            }
        }
    }
}

impl<'r> CompiledRule<'r> {
    /// A limit on the fast shot that holds at every distance.
    fn fast_limit(&self, wanted: Verdict) -> Option<FastLimit<'r>> {
        match self.check {
            Check::Moving { gauge: Gauge::Fast, suits, borderline, .. } if self.within.is_infinite() => {
                let limit = if wanted == Verdict::Suits { suits } else { borderline };
                Some(FastLimit { limit, rule: self.rule })
            }
            _ => None,
        }
    }
}

/// Offers the distance at which the fast shot has fallen to a limit, as far as it could be one of the two farthest.
fn offer_fast<'r>(limit: FastLimit<'r>, flights: &Flights, found: &mut TwoFarthest<'r>) -> Result<(), &'r Rule> {
    let met = |metres: f64| is_met(limit.limit, metres, flights);
    let (best, next) = (found.best_m(), found.next_m());
    let speed = Velocity::from_si(limit.limit);
    if met(best) && flights.slows_down() {
        // It is met somewhere between the two. Where matters to nobody: a looser limit is met nearer still.
        if best > next && !met(next) {
            found.offer(best, limit.rule);
        }
        return Ok(());
    }
    // The farthest so far may have come from a stricter limit: the root lies beyond it only where it isn't met there.
    let reach = Length::from_si(FOLLOWED.max(best));
    match flights.fast_falls_to(speed, Length::from_si(best), reach) {
        Some(distance) => {
            found.offer(distance.si(), limit.rule);
            Ok(())
        }
        None => Err(limit.rule),
    }
}

/// How far a limit is looked for, m: beyond what is followed it lies out of reach.
const FOLLOWED: f64 = FOLLOWED_YD * 0.9144;

/// Whether the fast shot has fallen to a limit: by bounds where they tell, else flown.
fn is_met(limit: f64, metres: f64, flights: &Flights) -> bool {
    let distance = Length::from_si(metres);
    let told = flights.is_fast_within(Velocity::from_si(limit), distance);
    told.unwrap_or_else(|| flights.fast_speed(distance).is_ok_and(|v| at_most(v.si(), limit)))
}

/// A limit on the fast shot within a window only.
fn fast_until(limit: f64, within: f64, known: f64, flights: &Flights) -> Until {
    let met = |metres: f64| is_met(limit, metres, flights);
    if known >= within || (met(known) && flights.slows_down()) {
        return Until::Met;
    }
    let found = flights.fast_falls_to(Velocity::from_si(limit), Length::from_si(known), Length::from_si(within));
    Until::Distance(found.map_or(within, |distance| distance.si().min(within)))
}

/// The slow shot only grows slower: a least speed that is missed inside the window is missed up to its end.
fn slow_until(limit: f64, within: f64, flights: &Flights) -> Until {
    if !within.is_finite() {
        return Until::Met; // Missed only farther out, which `confirmed` sees.
    }
    if flights.is_slow_above(Velocity::from_si(limit), Length::from_si(within)) {
        return Until::Met;
    }
    match flights.slow_speed(Length::from_si(within)) {
        Ok(speed) if at_least(speed.si(), limit) => Until::Met,
        _ => Until::Distance(within),
    }
}

#[cfg(test)]
mod tests;
