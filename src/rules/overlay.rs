//! What a range's rules change: which of them are stricter than the house, and which have no effect.

use super::allow::Allowance;
use super::check::{Check, CompiledRule};
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
        let ours = |compiled: &&CompiledRule| {
            compiled.rule.overlay.is_some() && !matches!(compiled.check, Check::Caution { .. })
        };
        self.rules
            .iter()
            .filter(ours)
            .map(|compiled| Change { rule: compiled.rule, effect: self.effect(compiled) })
            .collect()
    }

    fn effect(&self, compiled: &CompiledRule<'r>) -> Effect<'r> {
        let mut than = None;
        for house in self.rules.iter().filter(|t| t.rule.overlay.is_none() && t.rule.subject == compiled.rule.subject) {
            match stricter(compiled, house) {
                Some(true) => than = Some(house.rule),
                Some(false) => return Effect::None { beside: house.rule },
                None => {}
            }
        }
        Effect::Stricter { than }
    }
}

/// Whether `a` is stricter than `b`; `None` where they can't be ranked.
fn stricter(a: &CompiledRule, b: &CompiledRule) -> Option<bool> {
    match (a.check, b.check) {
        (
            Check::Moving { side, suits: ours, borderline: our_last, .. },
            Check::Moving { side: other, suits: theirs, borderline: their_last, .. },
        ) if side == other => {
            let beyond = |x: f64, y: f64| if side == Side::AtMost { x < y } else { x > y };
            Some(a.within > b.within || beyond(ours, theirs) || beyond(our_last, their_last))
        }
        (Check::Factor(ours), Check::Factor(theirs)) => Some(ours > theirs),
        (Check::Fixed { verdict, .. }, Check::Fixed { verdict: house, .. }) => match (verdict, house) {
            (Verdict::Suits, _) => Some(false),
            (ours, theirs) => Some(ours > theirs),
        },
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::RuleSet;
    use crate::source::SourceText;

    fn range(name: &str, yards: u32) -> SourceText {
        let text = format!(
            "schema = \"thickset/rules/1\"\nname = \"{name}\"\n[[rule]]\nid = \"floor-rifle\"\nsubject = \"distance\"\n\
             sense = \"at-least\"\nsuits = \"{yards} yd\"\nwhy = \"x\"\n\
             [[rule]]\nid = \"warned\"\nsubject = \"case\"\nsense = \"caution\"\nwhy = \"the creek floods\"\n"
        );
        SourceText::new("range.toml", text)
    }

    #[test]
    fn ids_belong_to_their_range_and_a_range_is_given_once() {
        let rules = RuleSet::house().unwrap().with_overlay(&range("North pit", 120)).unwrap();
        let both = rules.clone().with_overlay(&range("South pit", 90)).unwrap();
        let ids: Vec<String> = both.rules().iter().filter(|r| r.id == "floor-rifle").map(Rule::qualified_id).collect();
        assert_eq!(ids, ["floor-rifle", "North pit: floor-rifle", "South pit: floor-rifle"]);
        assert_eq!(both.rules().iter().filter(|r| r.why == "the creek floods").count(), 2);
        let twice = rules.with_overlay(&range("North pit", 120)).unwrap_err();
        assert!(twice.message.contains("North pit") && twice.help.is_some());
    }

    #[test]
    fn the_service_notice_is_read_and_only_adds() {
        let house = RuleSet::house().unwrap();
        let rules = house.clone().with_service_notice().unwrap();
        assert_eq!(rules.rules().len(), house.rules().len() + 8);
        assert_eq!(rules.overlays().len(), 1);
    }
}
