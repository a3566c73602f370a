//! How far a miss goes over level ground.

use crate::load::{Load, lead_sphere};
use crate::quantity::{Length, unit};

/// What a carry is multiplied by: tailwind, a bullet better than its coefficient, ground that falls away (house assumption).
const CARRY_SAFETY: f64 = 1.3;
/// Yards that a lead pellet carries per inch of its diameter (Journée's rule, handbook value, from memory).
const PELLET_YD_PER_IN: f64 = 2200.0;
/// A pellet above this is a slug, and flies as one.
const MAX_PELLET_GR: f64 = 80.0;
/// What the carry of a bullet is rounded up to, yd.
const CARRY_STEP_YD: f64 = 100.0;
/// What the carry of pellets is rounded up to, yd.
const PELLET_STEP_YD: f64 = 10.0;

/// How far a miss goes over level ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carry {
    /// About how far it goes.
    pub about: Length,
    /// What is kept clear behind the plate: 30 % more.
    pub keep_clear: Length,
}

impl Carry {
    fn of(yards: f64, step: f64) -> Self {
        // A hair of slack keeps a whole step whole.
        let up = |yards: f64| unit::YARD.of((yards / step - 1e-9).ceil() * step);
        Self { about: up(yards), keep_clear: up(yards * CARRY_SAFETY) }
    }

    /// The carry of a bullet that is found to go this far.
    pub(super) fn of_bullet(farthest: Length) -> Self {
        Self::of(unit::YARD.value(farthest), CARRY_STEP_YD)
    }

    /// The carry of a pellet; `None` where it is none.
    pub(super) fn of_pellet(load: &Load) -> Option<Self> {
        let facts = load.facts();
        if !facts.construction.is_shot() || unit::GRAIN.value(facts.bullet) > MAX_PELLET_GR {
            return None;
        }
        // As far as a lead ball of its mass at least, whatever its diameter is given as.
        let ball = lead_sphere(facts.bullet);
        let diameter = facts.diameter.map_or(ball, |given| given.max(ball));
        Some(Self::of(PELLET_YD_PER_IN * unit::INCH.value(diameter), PELLET_STEP_YD))
    }
}
