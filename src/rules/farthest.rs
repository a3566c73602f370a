//! How far: up to where it suits, of what is missed farther out alone.

use super::allow::Allowance;
use super::check::{Check, CompiledRule, Gauge, level};
use super::rule::{Rule, Verdict};
use crate::numeric::bisect;
use crate::quantity::{Angle, Length, Measure, unit};
use crate::spread::{FOLLOWED_YD, Flights};
use crate::strike::Strike;

/// The farthest distance up to which everything suits that suits from nearer on, and what ends it.
#[derive(Debug, Clone, Copy)]
pub struct Farthest<'r> {
    /// The distance, on its near side.
    pub distance: Length,
    /// The rule that is missed beyond it; `None` where the bullet does not get there.
    pub by: Option<&'r Rule>,
}

/// How far people shoot at plates, at the most, yd: what the house's own rules end beyond it is looked for by nobody.
const SHOT_YD: f64 = 600.0;
/// How finely the distance is found, m.
const FOUND_M: f64 = 0.1;

impl<'r> Allowance<'r> {
    /// How far a load's end is looked for: as far as people shoot, or to what is asked beyond; of a range's own rule, as
    /// far as bullets are followed. `None` where no rule can end it.
    #[must_use]
    pub fn looked_up_to(&self, asked: Option<Length>) -> Option<Length> {
        let yards = |rule: &CompiledRule| if rule.rule.overlay.is_some() { FOLLOWED_YD } else { SHOT_YD };
        let most = self.ending().map(yards).reduce(f64::max)?;
        let most = unit::YARD.of(most);
        Some(asked.filter(|asked| *asked > most).unwrap_or(most))
    }

    /// Up to where everything suits that suits from nearer on; `None` where it does so up to a distance.
    #[must_use]
    pub fn farthest(&self, flights: &Flights, up_to: Length) -> Option<Farthest<'r>> {
        self.farthest_leaning(Angle::from_si(self.tilt_rad), flights, up_to)
    }

    /// The same of the face at another lean than that of the setup: bullets that fall glance off it from nearer.
    #[must_use]
    pub fn farthest_leaning(&self, lean: Angle, flights: &Flights, up_to: Length) -> Option<Farthest<'r>> {
        let slow = self.ending().any(|compiled| compiled.check.asks_slow());
        // What suits by bounds needs no flight; of the slow shot they know nothing.
        let glance = if slow { None } else { flights.glance(up_to) };
        if glance.is_some_and(|strike| self.missed(&strike, lean).is_none()) {
            return None;
        }
        let arrives = |metres: f64| flights.strike_far(Length::from_si(metres), slow);
        let suits = |metres: f64| arrives(metres).is_ok_and(|strike| self.missed(&strike, lean).is_none());
        if suits(up_to.si()) {
            return None;
        }
        let (near, far) = bisect(0.0, up_to.si(), FOUND_M, suits);
        let by = arrives(far).ok().and_then(|strike| self.missed(&strike, lean));
        Some(Farthest { distance: Length::from_si(near), by })
    }

    /// Up to where it is borderline at worst from a distance on where it is so; `None` where it is so up to a distance.
    #[must_use]
    pub fn unsuitable_beyond(&self, flights: &Flights, from: Length, up_to: Length) -> Option<Length> {
        let is_no_worse = |metres: f64| {
            let distance = Length::from_si(metres);
            let strike = flights.strike_for(distance, self.asks_slow(distance));
            strike.is_ok_and(|strike| self.judge(&strike).verdict <= Verdict::Borderline)
        };
        if from >= up_to || is_no_worse(up_to.si()) {
            return None;
        }
        Some(Length::from_si(bisect(from.si(), up_to.si(), FOUND_M, is_no_worse).0))
    }

    /// Whether what ends it is the same, of one load, as with another allowance.
    #[must_use]
    pub fn ends_as(&self, other: &Self) -> bool {
        let limit = |compiled: &CompiledRule| match compiled.check {
            Check::Moving { suits, .. } => Some(suits.to_bits()),
            _ => None,
        };
        let same = |a: &CompiledRule, b: &CompiledRule| std::ptr::eq(a.rule, b.rule) && limit(a) == limit(b);
        let mut others = other.ending();
        let all = self.ending().all(|own| others.next().is_some_and(|theirs| same(own, theirs)));
        all && others.next().is_none() && self.tilt_rad.total_cmp(&other.tilt_rad).is_eq()
    }

    /// The rules that are missed farther out, however near they are met: of the fall of the bullet, and of the slow shot.
    fn ending(&self) -> impl Iterator<Item = &CompiledRule<'r>> {
        self.counting
            .iter()
            .map(|&index| &self.rules[index])
            .filter(|compiled| compiled.within.is_infinite() && !compiled.check.is_stricter_nearer())
    }

    /// The first of them that does not suit.
    fn missed(&self, strike: &Strike, lean: Angle) -> Option<&'r Rule> {
        let misses = |verdict: Verdict| verdict != Verdict::Suits;
        let is_missed = |compiled: &&CompiledRule| match compiled.check {
            Check::Moving { gauge: Gauge::LeanToBullet, side, suits, borderline, .. } => {
                misses(level(side, suits, borderline, (lean + strike.steepest).si()))
            }
            _ => self.outcome(compiled, strike, misses).is_some(),
        };
        self.ending().find(is_missed).map(|compiled| compiled.rule)
    }
}

#[cfg(test)]
mod tests;
