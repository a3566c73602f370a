//! The rule set as data, and its evaluation.
//!
//! Every rule that depends on distance is a floor on distance or a limit on speed, so a rule set is
//! compiled once for a load, a plate and a setup, with the distance left open: [`RuleSet::allow`] gives
//! an [`Allowance`], which judges any strike and names the closest distance that suits.

mod allow;
mod apart;
mod check;
mod closest;
mod compile;
pub mod demand;
mod factors;
mod farthest;
mod filter;
mod overlay;
mod record;
mod rule;
mod setup;
mod subject;
mod value;
pub mod words;

pub use allow::{Allowance, Finding, Judgement};
pub use closest::Closest;
pub use compile::OnPlate;
pub use factors::{Divisor, Factors};
pub use farthest::Farthest;
pub use filter::{Filter, NOMINAL_SHARE};
pub use overlay::{Change, Effect};
pub use record::{MAX_RULES, SCHEMA};
pub use record::{keys, senses};
pub use rule::{Basis, Concern, Rule, Sense, Side, Step, Verdict};
pub use setup::{MAX_TILT_DEG, Setup};
pub use subject::Subject;
pub use value::{ROUNDING, Value, at_least, at_most};

use crate::load::Load;
use crate::order::Order;
use crate::plate::Plate;
use crate::quantity::{Measure, Range, Velocity};
use crate::source::{Diagnostic, SourceText};
use crate::words::{Units, in_units};
use std::sync::{Arc, LazyLock};

/// The house rules as they ship.
pub const HOUSE_RULES: &str = include_str!("../../data/house-rules.toml");
/// The distances of a service's range notice, to be laid over the house rules where a range goes by them.
pub const SERVICE_NOTICE: &str = include_str!("../../data/service-notice.toml");

/// Rules to judge by: the house's, and those of a range appended. All are evaluated, and the worst
/// finding wins, so a range can only make them stricter.
#[derive(Debug, Clone)]
pub struct RuleSet {
    rules: Arc<Vec<Rule>>,
    overlays: Vec<Arc<str>>,
}

static HOUSE: LazyLock<Result<RuleSet, Diagnostic>> = LazyLock::new(|| {
    let whole = || record::read(&SourceText::new("data/house-rules.toml", HOUSE_RULES), false).map(|read| read.rules);
    let rules = record::shipped(HOUSE_RULES).map_or_else(whole, Ok)?;
    Ok(RuleSet { rules: Arc::new(rules), overlays: Vec::new() })
});

/// What the shipped rules of a service range notice are asked for by, in place of a file.
pub const SERVICE_NOTICE_NAME: &str = "service-notice";

/// The shipped rules of a service range notice.
#[must_use]
pub fn service_notice() -> SourceText {
    SourceText::new("data/service-notice.toml", SERVICE_NOTICE)
}

impl RuleSet {
    /// The house rules.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn house() -> Result<Self, Diagnostic> {
        HOUSE.clone()
    }

    /// These rules with a range's own appended. Its ids are its own: they may be the same as another range's, or the
    /// house's.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault. The name of a range that is there already is one.
    pub fn with_overlay(mut self, source: &SourceText) -> Result<Self, Diagnostic> {
        let read = record::read(source, true)?;
        if self.overlays.contains(&read.name) {
            let message = format!("the rules of `{}` are given twice", read.name);
            let help = "give each range's rules once, under a `name` of its own";
            let at = source.text.find(&*read.name).unwrap_or(0);
            return Err(source.fault(at..at + read.name.len(), message).help(help));
        }
        Arc::make_mut(&mut self.rules).extend(read.rules);
        self.overlays.push(read.name);
        Ok(self)
    }

    /// These rules with the house's reasons in the units asked for; a range's own stay as it wrote them.
    #[must_use]
    pub fn told_in(mut self, units: Units) -> Self {
        if units == Units::Us {
            return self;
        }
        for rule in Arc::make_mut(&mut self.rules).iter_mut().filter(|rule| rule.overlay.is_none()) {
            rule.why = in_units(&rule.why, units);
            rule.next = in_units(&rule.next, units);
        }
        self
    }

    /// These rules with those of the service notice laid over them.
    ///
    /// # Errors
    /// As [`RuleSet::with_overlay`].
    pub fn with_service_notice(self) -> Result<Self, Diagnostic> {
        self.with_overlay(&service_notice())
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
            Sense::Limit { suits: Value::Velocity(suits), .. } if rule.subject == Subject::ImpactSpeed => {
                Some((suits, rule))
            }
            _ => None,
        });
        ceilings.reduce(|a, b| if b.0 < a.0 { b } else { a })
    }

    /// The distances at which a rule begins or ends to speak, or what it says of the distance changes, m, each once from
    /// near to far. From one of them to just short of the next, whatever grows stricter farther out is strictest at the
    /// far end, and all else at the near one.
    #[must_use]
    pub fn edges(&self) -> Vec<f64> {
        let of = |rule: &Rule| {
            let limits = match rule.sense {
                Sense::Limit { suits, borderline, .. } if rule.subject == Subject::Distance => {
                    [Some(suits.si()), Some(borderline.si())]
                }
                _ => [None, None],
            };
            [rule.filter.within.map(Measure::si)].into_iter().chain(limits).flatten()
        };
        let mut edges: Vec<f64> = self.rules.iter().flat_map(of).filter(|metres| metres.is_finite()).collect();
        edges.order_by(f64::total_cmp);
        edges.dedup();
        edges
    }

    /// What the rules say of what a load's bullet is made of, wherever it is shot at whatever plate.
    #[must_use]
    pub fn of_construction(&self, load: &Load) -> Verdict {
        let speaks = |rule: &&Rule| {
            let filter = &rule.filter;
            let alone =
                Filter { class: filter.class.clone(), construction: filter.construction.clone(), ..Filter::default() };
            *filter == alone
                && filter.construction.contains(&load.facts().construction)
                && (filter.class.is_empty() || filter.class.contains(&load.class()))
        };
        let outcome = |rule: &Rule| match rule.sense {
            Sense::Outcome(verdict) => Some(verdict),
            _ => None,
        };
        self.rules.iter().filter(speaks).filter_map(outcome).max().unwrap_or(Verdict::Suits)
    }

    /// What the rules allow this load on this plate in this setup, distance left open. `muzzle` is the mean velocities of
    /// the day, as [`Flights::muzzle`](crate::spread::Flights::muzzle) and a strike have them: a rule for loads above a
    /// speed or an energy counts the hottest powder, one for loads up to it the coldest.
    #[must_use]
    pub fn allow<'r>(&'r self, load: &Load, plate: &Plate, setup: &Setup, muzzle: Range<Velocity>) -> Allowance<'r> {
        self.on(plate, setup).allow(load, muzzle)
    }

    /// The rules that speak of this plate in this setup, for many loads.
    #[must_use]
    pub fn on<'r, 's>(&'r self, plate: &Plate, setup: &'s Setup) -> OnPlate<'r, 's> {
        OnPlate::new(&self.rules, plate, setup)
    }
}

#[cfg(test)]
mod tests;
