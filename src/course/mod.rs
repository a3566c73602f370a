//! A whole match: every target against every admitted load, at once.

mod admit;
mod file;
mod judge;
mod worst;

pub use admit::{Admission, Ammunition};
pub use file::{MAX_TARGETS, SCHEMA};
pub use judge::{Fix, Outcome, Work, barred, judge};

use crate::air::Weather;
use crate::load::{Class, Load};
use crate::plate::{Ladder, Plate};
use crate::quantity::{Angle, Length, Measure, Ratio};
use crate::rules::{RuleSet, Setup, Verdict};
use crate::source::Diagnostic;
use crate::spread::FlightConditions;
use std::path::PathBuf;
use std::sync::Arc;

/// A place that a target is shot from.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// What it is called.
    pub name: Option<String>,
    /// The nearest point that can be reached from it.
    pub nearest: Length,
}

/// A target of a match.
#[derive(Debug, Clone)]
pub struct Target {
    /// Its stage.
    pub stage: String,
    /// What it is called.
    pub name: String,
    /// The positions it is shot from, at least one.
    pub positions: Vec<Position>,
    /// How it stands.
    pub setup: Setup,
    /// The slope to it, positive uphill.
    pub slope: Angle,
    /// Its plate.
    pub plate: Plate,
    /// The classes that shoot at it; all where none is named.
    pub classes: Vec<Class>,
}

impl Target {
    /// The nearest point it can be shot from: what is judged.
    #[must_use]
    pub fn nearest(&self) -> Length {
        let nearest = self.positions.iter().map(|p| p.nearest).reduce(|a, b| if b < a { b } else { a });
        nearest.unwrap_or_else(|| Length::from_si(0.0))
    }

    /// Whether a class shoots at it.
    #[must_use]
    pub fn is_for(&self, class: Class) -> bool {
        self.classes.is_empty() || self.classes.contains(&class)
    }
}

/// A load that somebody brings.
#[derive(Debug, Clone)]
pub struct Declared {
    /// The load.
    pub load: Arc<Load>,
    /// Who brings it, where it was declared.
    pub who: Option<String>,
}

/// A load that the match's ammunition rules refuse, and why.
#[derive(Debug, Clone)]
pub struct Refused {
    /// The load.
    pub declared: Declared,
    /// Why.
    pub why: String,
}

/// A load that no plate takes at any distance: it is set apart before targets are judged.
#[derive(Debug, Clone)]
pub struct Barred {
    /// The load.
    pub declared: Declared,
    /// Its verdict on steel.
    pub verdict: Verdict,
    /// Why, and what to do.
    pub why: String,
    /// What the rule says to do.
    pub next: String,
}

impl Course {
    /// Sets apart the loads that no plate takes at any distance.
    pub fn set_apart(&mut self, rules: &RuleSet, ladder: &Ladder, conditions: &FlightConditions) -> Vec<Barred> {
        let found = barred(self, rules, ladder, conditions);
        let told = found.iter().map(|&(index, verdict, rule)| Barred {
            declared: self.loads[index].clone(),
            verdict,
            why: rule.why.clone(),
            next: rule.next.clone(),
        });
        let told = told.collect();
        let mut index = 0;
        self.loads.retain(|_| {
            index += 1;
            found.binary_search_by_key(&(index - 1), |f| f.0).is_err()
        });
        told
    }
}

/// A match as read.
#[derive(Debug, Clone)]
pub struct Course {
    /// What it is called.
    pub name: String,
    /// The targets that could be read.
    pub targets: Vec<Target>,
    /// The loads that are admitted.
    pub loads: Vec<Declared>,
    /// The loads that are refused.
    pub refused: Vec<Refused>,
    /// The air; `None` where the file does not say.
    pub weather: Option<Weather>,
    /// The coverage of fast and slow shot.
    pub coverage: Option<Ratio>,
    /// Files of range rules, as the match names them, beside its own file.
    pub range_rules: Vec<PathBuf>,
    /// What was assumed.
    pub assumed: Vec<String>,
    /// Targets and loads that could not be read.
    pub faults: Vec<Diagnostic>,
}

#[cfg(test)]
mod tests;
