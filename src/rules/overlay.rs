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
    use crate::air::Weather;
    use crate::catalog::Catalog;
    use crate::load::{Construction, Load};
    use crate::plate::{Duty, Face, Plate};
    use crate::quantity::unit;
    use crate::rules::{RuleSet, Setup};
    use crate::source::SourceText;
    use crate::spread::{FlightConditions, Flights};
    use crate::strike::Strike;
    use std::sync::Arc;

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

    /// A range of one rule.
    fn of_range(rule: &str) -> RuleSet {
        let text = format!("schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"own\"\nwhy = \"x\"\n{rule}");
        RuleSet::house().unwrap().with_overlay(&SourceText::new("range.toml", text)).unwrap()
    }

    fn load(id: &str) -> Arc<Load> {
        Arc::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
    }

    fn flights(id: &str) -> Flights {
        let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0));
        Flights::new(&load(id), &conditions.unwrap()).unwrap()
    }

    fn half_inch() -> Plate {
        Plate::new("1/2 in", unit::INCH.of(0.5)).unwrap()
    }

    fn gong() -> Setup {
        Setup { tilt: Some(unit::DEGREE.of(0.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) }
    }

    #[test]
    fn a_range_s_limit_within_a_distance_ends_there() {
        let rules =
            of_range("subject = \"impact-speed\"\nsense = \"at-most\"\nsuits = \"1000 ft/s\"\nwithin = \"160 yd\"\n");
        let flights = flights("308-168-match");
        let load = load("308-168-match");
        let allowance = rules.allow(&load, &half_inch(), &gong(), flights.muzzle());
        let verdict = |yards: f64| allowance.judge(&flights.strike(unit::YARD.of(yards)).unwrap()).verdict;
        assert_eq!((verdict(159.0), verdict(161.0)), (Verdict::Unsuitable, Verdict::Suits));
        let closest = unit::YARD.value(allowance.closest(&flights).distance().unwrap());
        assert!((closest - 160.0).abs() < 1e-6, "{closest}");
    }

    #[test]
    fn a_range_s_limit_that_holds_farther_than_the_house_s_is_stricter() {
        let effect = |within: &str| {
            let rules = of_range(&format!(
                "subject = \"slow-speed\"\nsense = \"at-least\"\nsuits = \"400 ft/s\"\nwithin = \"{within}\"\n"
            ));
            let lead = load("22lr-std-40").with(|facts| facts.construction = Construction::Lead).unwrap();
            let changes = rules.allow(&lead, &half_inch(), &gong(), flights("22lr-std-40").muzzle()).changes();
            matches!(changes[0].effect, Effect::Stricter { than: Some(_) })
        };
        assert!(effect("80 yd") && !effect("50 yd"));
    }

    #[test]
    fn a_caution_about_energy_comes_as_early_as_the_factors_make_the_limit() {
        let rules = of_range("subject = \"energy\"\nsense = \"caution\"\nabove = \"2300 ft-lbf\"\n");
        let strike = flights("308-168-match").strike(unit::YARD.of(200.0)).unwrap();
        let warned = |duty: Duty| {
            let setup = Setup { duty, ..gong() };
            let allowance = rules.allow(&load("308-168-match"), &half_inch(), &setup, strike.muzzle);
            allowance.cautions(&strike).any(|rule| rule.id == "own")
        };
        assert!(!warned(Duty::Private) && warned(Duty::Public));
    }

    #[test]
    fn a_plate_a_mill_size_under_a_thickness_counts_as_it_and_a_thinner_one_does_not() {
        // Rimfire on plate thinner than 1/4 in is shot from 50 yd; 6 mm is a mill size of 1/4 in.
        let rules = RuleSet::house().unwrap();
        let (load, strike) = (load("22lr-std-40"), flights("22lr-std-40").strike(unit::YARD.of(30.0)).unwrap());
        let verdict = |inches: f64| {
            let plate = Plate::new("drawn", unit::INCH.of(inches)).unwrap();
            rules.allow(&load, &plate, &gong(), strike.muzzle).judge(&strike).verdict
        };
        assert_eq!((verdict(0.236), verdict(0.234)), (Verdict::Suits, Verdict::Borderline));
    }

    #[test]
    fn a_least_thickness_of_a_range_is_met_by_the_mill_size_under_it_alone() {
        let rules = of_range("subject = \"thickness\"\nsense = \"at-least\"\nsuits = \"1/2 in\"\n");
        let strike = flights("308-168-match").strike(unit::YARD.of(300.0)).unwrap();
        let verdict = |inches: f64| {
            let plate = Plate::new("drawn", unit::INCH.of(inches)).unwrap();
            rules.allow(&load("308-168-match"), &plate, &gong(), strike.muzzle).judge(&strike).verdict
        };
        assert_eq!((verdict(0.471), verdict(0.469)), (Verdict::Suits, Verdict::Unsuitable));
    }

    #[test]
    fn the_slow_shot_and_not_the_mean_one_must_not_be_too_slow() {
        let rules = RuleSet::house().unwrap();
        let strike = flights("45acp-230").strike(unit::YARD.of(20.0)).unwrap();
        let verdict = |slow: f64| {
            let strike = Strike { slow: unit::FOOT_PER_SECOND.of(slow), ..strike };
            rules.allow(&load("45acp-230"), &half_inch(), &gong(), strike.muzzle).judge(&strike).verdict
        };
        assert_eq!((verdict(399.0), verdict(401.0)), (Verdict::Unsuitable, Verdict::Borderline));
        assert_eq!(verdict(651.0), Verdict::Suits);
    }

    #[test]
    fn a_range_s_rule_is_stricter_where_its_number_or_its_verdict_goes_beyond_every_house_rule() {
        // Whether it changes something, and the rule that it is named beside.
        let effect = |rule: &str| {
            let rules = of_range(&rule.replace("; ", "\n"));
            let setup = Setup { duty: Duty::Public, steel: crate::plate::Steel::Unknown, ..gong() };
            let changes = rules.allow(&load("308-168-match"), &half_inch(), &setup, flights("308-168-match").muzzle());
            match changes.changes()[0].effect {
                Effect::Stricter { than } => (true, than.map(|house| house.id.clone())),
                Effect::None { beside } => (false, Some(beside.id.clone())),
            }
        };
        let named = |changes: bool, id: &str| (changes, Some(id.to_owned()));
        let speed = "subject = 'impact-speed'; sense = 'at-most'; ";
        assert_eq!(
            effect(&format!("{speed}suits = '2800 ft/s'; borderline = '3000 ft/s'")),
            named(true, "speed-ceiling")
        );
        assert_eq!(
            effect(&format!("{speed}suits = '2850 ft/s'; borderline = '2900 ft/s'")),
            named(true, "speed-ceiling")
        );
        assert_eq!(
            effect(&format!("{speed}suits = '2850 ft/s'; borderline = '3000 ft/s'")),
            named(false, "speed-ceiling")
        );
        assert_eq!(
            effect(&format!("{speed}suits = '2900 ft/s'; borderline = '3100 ft/s'")),
            named(false, "speed-ceiling")
        );
        let over = "subject = 'lean'; sense = 'at-most'; ";
        assert_eq!(effect(&format!("{over}suits = '20 deg'; borderline = '45 deg'")), named(true, "lean-over"));
        assert_eq!(effect(&format!("{over}suits = '30 deg'; borderline = '45 deg'")), named(false, "lean-over"));
        let factor = "subject = 'duty-factor'; sense = 'factor'; ";
        assert_eq!(effect(&format!("{factor}factor = '150 %'")), named(true, "duty-public"));
        assert_eq!(effect(&format!("{factor}factor = '140 %'")), named(false, "duty-public"));
        assert_eq!(effect(&format!("{factor}factor = '130 %'")), named(false, "duty-public"));
        assert_eq!(effect("subject = 'calibre'; sense = 'at-most'; suits = '0.5 in'"), (true, None));
        let case = "subject = 'case'; sense = 'outcome'; ";
        assert!(effect(&format!("{case}outcome = 'unsuitable'")).0);
        assert!(!effect(&format!("{case}outcome = 'borderline'")).0);
    }
}
