//! Findings, rules and remedies in words.

use super::words::{self, Units};
use crate::rules::{Finding, Judgement, Subject, Verdict};

pub use crate::rules::words::{allows as limit, changes, finding, short, value};

/// What a finding weighs, for a column: `energy 2362 / 700 ft·lbf`.
#[must_use]
pub fn weighed(finding: &Finding, units: Units) -> String {
    let rule = finding.rule();
    let name = short(rule);
    let (Some(actual), Some(limit)) = (finding.actual, finding.limit) else { return name };
    if rule.subject == Subject::Demand {
        return format!("{name} {}", value(rule.subject, actual, units));
    }
    let number = value(rule.subject, actual, units);
    let limit = value(rule.subject, limit, units);
    format!("{name} {} / {limit}", number.split(' ').next().unwrap_or(&number))
}

/// What a judgement comes to, for a headline: `4 % in hand`, or why not.
#[must_use]
pub fn judgement(judgement: &Judgement) -> String {
    match (judgement.verdict, judgement.rule, judgement.margin) {
        (Verdict::Suits, _, Some(margin)) => words::in_hand(margin),
        (Verdict::Suits, _, None) => "within every rule".into(),
        (_, Some(rule), _) => rule.why.clone(),
        (_, None, _) => "for want of a rule".into(),
    }
}

/// What changes where the air is thin, for an answer that was told nothing of the air, and what to do about it.
#[must_use]
pub fn high_and_hot(change: &str, remedy: &str) -> String {
    format!("The air was not said. At 6000 ft and 100 °F {change}: {remedy}.")
}
