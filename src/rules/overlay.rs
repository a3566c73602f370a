//! What a range's rules change: which of them are stricter than the house, and which have no effect.

use super::allow::{Allowance, Kind, Term};
use super::rule::{Rule, Side, Verdict};

/// What one of a range's rules comes to in a case.
#[derive(Debug, Clone, Copy)]
pub struct Change<'r> {
    /// The range's rule.
    pub rule: &'r Rule,
    /// What it does.
    pub effect: Effect<'r>,
}

/// The effect of a range's rule beside the house rules on the same subject.
#[derive(Debug, Clone, Copy)]
pub enum Effect<'r> {
    /// It is stricter than every house rule on its subject, or there is none.
    Stricter {
        /// The house rule it goes beyond.
        than: Option<&'r Rule>,
    },
    /// A house rule is as strict or stricter.
    None {
        /// That rule.
        beside: &'r Rule,
    },
}

impl<'r> Allowance<'r> {
    /// What the range's rules that apply here change.
    #[must_use]
    pub fn changes(&self) -> Vec<Change<'r>> {
        let ours = |term: &&Term| term.rule.overlay.is_some() && !matches!(term.kind, Kind::Caution { .. });
        self.terms.iter().filter(ours).map(|term| Change { rule: term.rule, effect: self.effect(term) }).collect()
    }

    fn effect(&self, term: &Term<'r>) -> Effect<'r> {
        let mut than = None;
        for house in self.terms.iter().filter(|t| t.rule.overlay.is_none() && t.rule.subject == term.rule.subject) {
            match stricter(term, house) {
                Some(true) => than = Some(house.rule),
                Some(false) => return Effect::None { beside: house.rule },
                None => {}
            }
        }
        Effect::Stricter { than }
    }
}

/// Whether `a` is stricter than `b`; `None` where they can't be ranked.
fn stricter(a: &Term, b: &Term) -> Option<bool> {
    match (a.kind, b.kind) {
        (
            Kind::Moving { side, suits: ours, borderline: our_last, .. },
            Kind::Moving { side: other, suits: theirs, borderline: their_last, .. },
        ) if side == other => {
            let beyond = |x: f64, y: f64| if side == Side::AtMost { x < y } else { x > y };
            Some(a.within > b.within || beyond(ours, theirs) || beyond(our_last, their_last))
        }
        (Kind::Factor(ours), Kind::Factor(theirs)) => Some(ours > theirs),
        (Kind::Fixed { verdict, .. }, Kind::Fixed { verdict: house, .. }) => match (verdict, house) {
            (Verdict::Suits, _) => Some(false),
            (ours, theirs) => Some(ours > theirs),
        },
        _ => None,
    }
}
