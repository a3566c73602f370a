//! The lean that a face may have, in whole degrees, by the judgement itself: a lean that suits on the level does not on
//! a slope.

use crate::quantity::{Angle, unit};
use crate::standoff::MAX_LEAN_DEG;
use crate::words;

/// Where less does not suit, this much is looked at.
const MAX_TO_SUIT_DEG: i32 = 30;
/// The least that sends splash into the ground (as the house rule on lean).
const SPLASH_DEG: i32 = 10;

/// Whole degrees toward the shooter, from and to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lean {
    low: i32,
    high: i32,
}

impl Lean {
    /// What `suits`; none where no lean does. Rules bound the lean below and above, so that all between suits as well.
    pub fn of(suits: impl Fn(Angle) -> bool) -> Option<Self> {
        let suits = |degrees: &i32| suits(unit::DEGREE.of(f64::from(*degrees)));
        let low = (0..=MAX_TO_SUIT_DEG).find(suits)?;
        let high = (low..=MAX_LEAN_DEG.max(low)).rev().find(suits)?;
        Some(Self { low, high })
    }

    /// The most.
    pub fn most(self) -> Angle {
        unit::DEGREE.of(f64::from(self.high))
    }

    /// What both allow.
    pub fn and(self, other: Self) -> Option<Self> {
        let both = Self { low: self.low.max(other.low), high: self.high.min(other.high) };
        (both.low <= both.high).then_some(both)
    }

    /// `leaning 0–20° toward you`.
    pub fn words(self) -> String {
        match (self.low, self.high) {
            (0, 0) => "plumb".into(),
            (low, high) if low == high => format!("leaning {low}° toward you"),
            (low, high) => format!("leaning {low}–{high}° toward you"),
        }
    }

    /// What of it sends splash into the ground, `10–20°`; none where it allows no lean.
    pub fn against_splash(self) -> Option<String> {
        let low = self.low.max(SPLASH_DEG).min(self.high);
        match (low, self.high) {
            (_, high) if high <= 0 => None,
            (low, high) if low == high => Some(words::degrees(unit::DEGREE.of(f64::from(high)))),
            (low, high) => Some(format!("{low}–{high}°")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn between(low: f64, high: f64) -> Option<Lean> {
        Lean::of(|lean| (low..=high).contains(&unit::DEGREE.value(lean)))
    }

    #[test]
    fn what_is_asked_for_suits_and_plumb_is_named_where_it_does() {
        let words = |low, high| between(low, high).map(Lean::words);
        assert_eq!(words(-3.0, 30.0).unwrap(), "leaning 0–20° toward you");
        assert_eq!(words(-3.0, 14.9).unwrap(), "leaning 0–14° toward you");
        assert_eq!(words(2.3, 30.0).unwrap(), "leaning 3–20° toward you");
        assert_eq!(words(24.5, 45.0).unwrap(), "leaning 25° toward you");
        assert_eq!(words(-3.0, 0.4).unwrap(), "plumb");
        assert_eq!(words(-9.0, -3.0), None);
        let splash = |low, high| between(low, high).and_then(Lean::against_splash);
        assert_eq!(splash(-3.0, 30.0).unwrap(), "10–20°");
        assert_eq!(splash(-3.0, 6.0).unwrap(), "6°");
        assert_eq!(splash(-3.0, 0.4), None);
    }
}
