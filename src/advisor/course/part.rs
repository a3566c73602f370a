//! The parts of what is changed at a target, each with its own rules.

use super::Told;
use crate::course::Change;
use crate::rules::{Rule, Subject};

/// A part of what is changed at a target.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    /// All of it.
    Whole,
    Plate,
    Mount,
    Lean,
    Turn,
}

impl Part {
    pub const EACH: [Self; 4] = [Self::Plate, Self::Mount, Self::Lean, Self::Turn];

    /// The part of a change.
    pub fn of(self, change: &Change) -> Change {
        let none = Change::default();
        match self {
            Self::Whole => change.clone(),
            Self::Plate => Change { look: change.look, fresh: change.fresh, plate: change.plate.clone(), ..none },
            Self::Mount => Change { mount: change.mount, ..none },
            Self::Lean => Change { tilt: change.tilt, ..none },
            Self::Turn => Change { square: change.square, ..none },
        }
    }

    /// The rules that call for it at a target.
    pub fn rules<'r>(self, told: &Told<'_, 'r>, target: usize) -> Vec<&'r Rule> {
        let is_lean = |rule: &Rule| rule.subject == Subject::Lean || rule.filter.tilt_given.is_some();
        let is_of = |rule: &Rule| match self {
            Self::Whole => true,
            Self::Mount => !rule.filter.mount.is_empty(),
            Self::Lean => is_lean(rule),
            Self::Turn => rule.subject == Subject::Oblique,
            Self::Plate => !is_lean(rule) && rule.subject != Subject::Oblique && rule.filter.mount.is_empty(),
        };
        let rules = told.fix(target).into_iter().flat_map(|fix| fix.reasons.changed.iter().copied());
        rules.filter(|rule| is_of(rule)).collect()
    }
}
