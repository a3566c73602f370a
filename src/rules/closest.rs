//! How close: the allowance turned round, from speeds to a distance.

use super::allow::{Allowance, Gauge, Kind, Term};
use super::rule::{Rule, Side, Verdict, at_least, at_most};
use crate::quantity::{Length, Measure, Velocity};
use crate::spread::Flights;

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
    BeyondReach,
}

impl<'r> Allowance<'r> {
    /// The closest distance from which on everything suits, found on the aimed trajectory itself.
    #[must_use]
    pub fn closest(&self, flights: &Flights) -> Closest<'r> {
        let mut best: Option<(f64, &'r Rule)> = None;
        let mut next: Option<(f64, &'r Rule)> = None;
        let mut beyond = None;
        for term in &self.terms {
            let until = match self.until(term, flights, best.map_or(0.0, |b| b.0)) {
                Until::Met => continue,
                Until::Never => return Closest::Never { by: term.rule },
                Until::BeyondReach => {
                    beyond = beyond.or(Some(term.rule));
                    continue;
                }
                Until::Distance(metres) => metres,
            };
            if best.is_none_or(|(most, _)| until > most) {
                next = best;
                best = Some((until, term.rule));
            } else if next.is_none_or(|(most, _)| until > most) {
                next = Some((until, term.rule));
            }
        }
        if let Some(by) = beyond {
            return Closest::BeyondReach { by };
        }
        self.confirmed(flights, best, next)
    }

    /// Guards the one case the terms don't see alone: a limit that is met near and passed farther out.
    fn confirmed(
        &self,
        flights: &Flights,
        best: Option<(f64, &'r Rule)>,
        next: Option<(f64, &'r Rule)>,
    ) -> Closest<'r> {
        let distance = Length::from_si(best.map_or(0.0, |b| b.0));
        let by = best.map(|b| b.1);
        let found = Closest::At { distance, by, next: next.map(|n| n.1) };
        match flights.strike(distance) {
            Ok(strike) => match self.judge(&strike) {
                judgement if judgement.verdict == Verdict::Suits => found,
                judgement => judgement.rule.map_or(found, |by| Closest::Never { by }),
            },
            Err(_) => by.map_or(found, |by| Closest::BeyondReach { by }),
        }
    }

    fn until(&self, term: &Term<'r>, flights: &Flights, known: f64) -> Until {
        match term.kind {
            Kind::Caution { .. } | Kind::Factor(_) | Kind::Fixed { verdict: Verdict::Suits, .. } => Until::Met,
            Kind::Fixed { .. } if term.within.is_finite() => Until::Distance(term.within),
            Kind::Fixed { .. } => Until::Never,
            Kind::Moving { gauge, side, suits, .. } => match gauge {
                Gauge::Distance => Until::Distance(suits.min(term.within)),
                Gauge::Fast => fast_until(suits, term.within, known, flights),
                Gauge::Slow => slow_until(suits, term.within, flights),
                Gauge::Lean => self.lean_until(side, suits, term.within, flights),
            },
        }
    }

    /// The fall of the arriving bullet grows with distance: a least lean is met from some distance on.
    fn lean_until(&self, side: Side, suits: f64, within: f64, flights: &Flights) -> Until {
        if side == Side::AtMost {
            return Until::Met; // Passed only farther out, which `confirmed` sees.
        }
        let lean = |metres: f64| flights.strike(Length::from_si(metres)).ok().map(|s| self.measure(Gauge::Lean, &s));
        let far = within.min(flights.reach().si());
        match (lean(0.0), lean(far)) {
            (Some(near), _) if at_least(near, suits) => Until::Met,
            (_, Some(farthest)) if at_least(farthest, suits) => Until::Distance(rising(lean, suits, far)),
            _ if within < flights.reach().si() => Until::Distance(within),
            _ => Until::BeyondReach,
        }
    }
}

/// Where a rising value reaches `limit` between 0 and `far`, by bisection to a micrometre, from above.
fn rising(value: impl Fn(f64) -> Option<f64>, limit: f64, far: f64) -> f64 {
    let (mut low, mut high) = (0.0, far);
    while high - low > 1e-6 {
        let middle = 0.5 * (low + high);
        if value(middle).is_some_and(|v| at_least(v, limit)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// The fast shot's speed falls with distance. `known` is a distance already needed: nothing nearer matters.
fn fast_until(limit: f64, within: f64, known: f64, flights: &Flights) -> Until {
    let reach = flights.reach().si();
    let from = known.min(reach);
    match flights.fast_speed(Length::from_si(from)) {
        Ok(speed) if at_most(speed.si(), limit) && flights.slows_down() => return nearer(limit, from, within, flights),
        _ => {}
    }
    match flights.fast_falls_to(Velocity::from_si(limit), Length::from_si(from), Length::from_si(reach)) {
        Some(distance) => Until::Distance(distance.si().min(within)),
        None if within < reach => Until::Distance(within),
        None => Until::BeyondReach,
    }
}

/// Met at a distance already needed: it is only of interest as the rule that would govern next.
fn nearer(limit: f64, known: f64, within: f64, flights: &Flights) -> Until {
    if known <= 0.0 {
        return Until::Met;
    }
    match flights.fast_speed(Length::from_si(0.0)) {
        Ok(speed) if at_most(speed.si(), limit) => Until::Met,
        _ => match flights.fast_falls_to(Velocity::from_si(limit), Length::from_si(0.0), Length::from_si(known)) {
            Some(distance) => Until::Distance(distance.si().min(within).min(known)),
            None => Until::Met,
        },
    }
}

/// The slow shot only grows slower: a least speed that is missed inside the window is missed up to its end.
fn slow_until(limit: f64, within: f64, flights: &Flights) -> Until {
    let far = within.min(flights.reach().si());
    let slow = flights.slow_speed(Length::from_si(far));
    match slow {
        Ok(speed) if at_least(speed.si(), limit) => Until::Met,
        _ if within.is_finite() => Until::Distance(within),
        _ => Until::Met, // Missed only farther out, which `confirmed` sees.
    }
}
