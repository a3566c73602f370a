//! The rule set as data, and its evaluation.
//!
//! Every rule that depends on distance is a floor on distance or a limit on speed, so a rule set is
//! compiled once for a load, a plate and a setup, with the distance left open: [`RuleSet::allow`] gives
//! an [`Allowance`], which judges any strike and names the closest distance that suits.

mod allow;
mod closest;
pub mod demand;
mod overlay;
mod record;
mod rule;

pub use allow::{Allowance, Factors, Finding, Judgement, Setup};
pub use closest::Closest;
pub use overlay::{Change, Effect};
pub use record::{MAX_RULES, SCHEMA};
pub use rule::{Basis, Filter, Rule, SLACK, Sense, Side, Subject, Verdict, at_least, at_most};

use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Measure, Velocity};
use crate::source::{Diagnostic, SourceText};
use std::sync::{Arc, LazyLock};

/// The house rules as they ship.
pub const HOUSE_RULES: &str = include_str!("../../data/house-rules.toml");

/// Rules to judge by: the house's, and those of a range appended. All are evaluated, and the worst
/// finding wins, so a range can only make them stricter.
#[derive(Debug, Clone)]
pub struct RuleSet {
    rules: Vec<Rule>,
    overlays: Vec<Arc<str>>,
}

static HOUSE: LazyLock<Result<RuleSet, Diagnostic>> = LazyLock::new(|| {
    let read = record::read(&SourceText::new("data/house-rules.toml", HOUSE_RULES), false)?;
    Ok(RuleSet { rules: read.rules, overlays: Vec::new() })
});

impl RuleSet {
    /// The house rules.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn house() -> Result<Self, Diagnostic> {
        HOUSE.clone()
    }

    /// These rules with a range's own appended.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault. An id that is already taken is one.
    pub fn with_overlay(mut self, source: &SourceText) -> Result<Self, Diagnostic> {
        let read = record::read(source, true)?;
        for rule in read.rules {
            if self.rules.iter().any(|r| r.id == rule.id) {
                let message = format!("rule id `{}` is already taken", rule.id);
                let at = source.text.find(&format!("\"{}\"", rule.id)).unwrap_or(0);
                return Err(source
                    .fault(at..at + rule.id.len() + 2, message)
                    .help("give the range's rule an id of its own; a range's rules add to the house rules, they don't replace them"));
            }
            self.rules.push(rule);
        }
        self.overlays.push(read.name);
        Ok(self)
    }

    /// The rules, in their order.
    #[must_use]
    pub fn rules(&self) -> &[Rule] {
        &self.rules
    }

    /// The names of the overlays.
    #[must_use]
    pub fn overlays(&self) -> &[Arc<str>] {
        &self.overlays
    }

    /// The lowest ceiling on impact speed, and the rule that sets it; a ceiling for some loads only counts for all.
    #[must_use]
    pub fn speed_ceiling(&self) -> Option<(Velocity, &Rule)> {
        let ceilings = self.rules.iter().filter_map(|rule| match rule.sense {
            Sense::Limit { suits, .. } if rule.subject == Subject::ImpactSpeed => {
                Some((Velocity::from_si(suits), rule))
            }
            _ => None,
        });
        ceilings.reduce(|a, b| if b.0 < a.0 { b } else { a })
    }

    /// What the rules allow this load on this plate in this setup, distance left open.
    #[must_use]
    pub fn allow<'r>(&'r self, load: &Load, plate: &Plate, setup: &Setup) -> Allowance<'r> {
        Allowance::compile(&self.rules, load, plate, setup)
    }
}
