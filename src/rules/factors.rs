//! What energy and demand limits are divided by.

use super::rule::{Rule, Sense};
use super::setup::Setup;
use super::subject::Subject;
use crate::plate::{Duty, Mount};
use crate::quantity::Measure;

/// A factor that limits are divided by, and what it is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Divisor<'r> {
    /// The factor, 1 or more.
    pub factor: f64,
    /// What it is for: `public`, `bolted`, `small face`, or the range whose rule it is.
    pub what: &'r str,
}

/// Factors on demand and energy; 1 where no rule sets one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors<'r> {
    /// What the plate goes through.
    pub duty: Divisor<'r>,
    /// How it is held.
    pub mount: Divisor<'r>,
    /// A small face.
    pub face: Divisor<'r>,
}

impl<'r> Factors<'r> {
    /// The largest factor of each kind among the rules that apply: the stricter wins.
    pub(super) fn of(rules: impl Iterator<Item = &'r Rule> + Clone, setup: &Setup, width: f64) -> Self {
        let factor = |rule: &Rule| match &rule.sense {
            Sense::Factor(factor) => *factor,
            Sense::NarrowFactor { below, per } if width < below.si() => 1.0 + (below.si() - width) / per.si(),
            _ => 1.0,
        };
        let largest = |subject, what: &'static str| {
            let of_subject = rules.clone().filter(|r| r.subject == subject);
            of_subject.fold(Divisor { factor: 1.0, what }, |most, rule| {
                let factor = factor(rule);
                let what = rule.overlay.as_deref().unwrap_or(what);
                if factor > most.factor { Divisor { factor, what } } else { most }
            })
        };
        Self {
            duty: largest(Subject::DutyFactor, duty(setup.duty)),
            mount: largest(Subject::MountFactor, mount(setup.mount)),
            face: largest(Subject::FaceFactor, "small face"),
        }
    }

    /// All of them multiplied.
    #[must_use]
    pub fn all(&self) -> f64 {
        self.duty.factor * self.without_duty()
    }

    /// Those that are not wear: failing through duty alone is borderline.
    #[must_use]
    pub fn without_duty(&self) -> f64 {
        self.mount.factor * self.face.factor
    }

    /// Those that divide, each with what it is for.
    pub fn divisors(&self) -> impl Iterator<Item = Divisor<'r>> + use<'r> {
        [self.duty, self.mount, self.face].into_iter().filter(|divisor| divisor.factor > 1.0)
    }
}

fn duty(duty: Duty) -> &'static str {
    match duty {
        Duty::Private => "private",
        Duty::Match => "match",
        Duty::Public => "public",
    }
}

fn mount(mount: Mount) -> &'static str {
    match mount {
        Mount::OpenHook | Mount::CaptiveHook | Mount::Chain => "hung",
        Mount::Bolted => "bolted",
        Mount::Welded => "welded",
    }
}
