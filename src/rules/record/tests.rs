//! What a rules file may say and what is refused, each value beside the last that is taken.

use super::*;
use crate::load::Firearm;
use crate::source::{TRADE, did_you_mean};

const HEAD: &str = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n";

/// The file of one rule of a range.
fn of(rule: &str) -> Result<Vec<Rule>, Diagnostic> {
    let text = format!("{HEAD}[[rule]]\nid = \"own\"\nwhy = \"x\"\n{}\n", rule.replace("; ", "\n"));
    read(&SourceText::new("range.toml", text), true).map(|read| read.rules)
}

/// The message of what is refused, its help and its place made sure of.
fn refused(fault: Diagnostic) -> String {
    assert!(fault.help.as_ref().is_some_and(|help| !help.is_empty()), "{}", fault.message);
    assert!(fault.position().is_some_and(|(line, _)| line >= 2), "{}", fault.message);
    fault.message
}

const STEPS: &str = "subject = 'energy'; sense = 'at-most'; by-thickness = ";

#[test]
fn the_last_value_that_a_rule_may_have_is_read_and_the_next_is_refused() {
    let limit = |subject: &str, sense: &str, rest: &str| format!("subject = '{subject}'; sense = '{sense}'; {rest}");
    let steps = |pairs: &str| format!("{STEPS}{pairs}");
    let grown = "[['1/4 in', '700 ft-lbf'], ['1/2 in', '5000 ft-lbf']]";
    for (taken, not, fault) in [
        (
            limit("distance", "at-least", "suits = '50 yd'; borderline = '50 yd'"),
            limit("distance", "at-least", "suits = '50 yd'; borderline = '51 yd'"),
            "stricter than `suits`",
        ),
        (
            limit("muzzle-speed", "at-most", "suits = '2000 ft/s'; borderline = '2000 ft/s'"),
            limit("muzzle-speed", "at-most", "suits = '2000 ft/s'; borderline = '1999 ft/s'"),
            "stricter than `suits`",
        ),
        (
            limit("distance", "at-least", "suits = '0 yd'"),
            limit("distance", "at-least", "suits = '-1 yd'"),
            "is negative",
        ),
        (limit("lean", "at-least", "suits = '-3 deg'"), limit("oblique", "at-most", "suits = '-3 deg'"), "is negative"),
        (limit("lean", "at-most", "suits = '3 deg'"), limit("lean", "at-most", "borderline = '3 deg'"), "no `suits`"),
        (
            limit("case", "outcome", "outcome = 'borderline'; borderlines = 2"),
            limit("case", "outcome", "outcome = 'borderline'; borderlines = 1"),
            "not between 2 and 7",
        ),
        (
            limit("case", "outcome", "outcome = 'borderline'; borderlines = 7"),
            limit("case", "outcome", "outcome = 'borderline'; borderlines = 8"),
            "not between 2 and 7",
        ),
        (
            limit("case", "outcome", "outcome = 'unsuitable'"),
            limit("distance", "outcome", "outcome = 'unsuitable'"),
            "an outcome needs",
        ),
        (
            limit("case", "outcome", "outcome = 'unsuitable'; borderlines = 2"),
            limit("distance", "outcome", "outcome = 'unsuitable'; borderlines = 2"),
            "an outcome needs",
        ),
        (
            limit("duty-factor", "factor", "factor = '100 %'"),
            limit("duty-factor", "factor", "factor = '99 %'"),
            "not between 100 % and 1000 %",
        ),
        (
            limit("mount-factor", "factor", "factor = '1000 %'"),
            limit("mount-factor", "factor", "factor = '1001 %'"),
            "not between 100 % and 1000 %",
        ),
        (
            limit("face-factor", "factor", "factor = '120 %'"),
            limit("energy", "factor", "factor = '120 %'"),
            "takes no factor",
        ),
        (
            limit("face-factor", "factor", "below = '6 in'; per = '8 in'"),
            limit("face-factor", "factor", "below = '6 in'; per = '0 in'"),
            "not complete",
        ),
        (
            limit("face-factor", "factor", "below = '1 in'; per = '1 in'"),
            limit("duty-factor", "factor", "below = '1 in'; per = '1 in'"),
            "not complete",
        ),
        (limit("case", "caution", ""), limit("energy", "caution", ""), "does not say when"),
        (
            limit("energy", "caution", "above = '900 ft-lbf'"),
            limit("case", "caution", "above = '900 ft-lbf'"),
            "a case has no value",
        ),
        (
            limit("energy", "caution", "below = '900 ft-lbf'"),
            limit("energy", "caution", "below = '900 yd'"),
            "not a unit of energy",
        ),
        (steps(grown), steps("[['1/4 in', '700 ft-lbf']]"), "do not grow"),
        (steps(grown), steps("[['1/4 in', '700 ft-lbf'], ['1/4 in', '5000 ft-lbf']]"), "do not grow"),
        (steps(grown), steps("[['1/4 in', '700 ft-lbf'], ['1/2 in', '700 ft-lbf']]"), "do not grow"),
        (steps(grown), steps("[['0 in', '700 ft-lbf'], ['1/2 in', '5000 ft-lbf']]"), "do not grow"),
        (steps(grown), steps("[['1/4 in', '0 ft-lbf'], ['1/2 in', '5000 ft-lbf']]"), "do not grow"),
        (steps(grown), format!("{}; suits = '1 ft-lbf'", steps(grown)), "does not go with this"),
        (steps(grown), limit("muzzle-energy", "at-most", &format!("by-thickness = {grown}")), "does not go with this"),
        (
            format!("{}; borderline = '100 %'", steps(grown)),
            format!("{}; borderline = '99 %'", steps(grown)),
            "stricter than what suits",
        ),
    ] {
        assert!(of(&taken).is_ok(), "{taken}: {}", of(&taken).unwrap_err().message);
        let message = refused(of(&not).map(drop).expect_err(&not));
        assert!(message.contains(fault), "{not}: {message}");
    }
}

#[test]
fn limits_by_thickness_grow_at_every_step_and_have_no_borderline_unless_it_is_given() {
    let steps = |last: &str| of(&format!("{STEPS}[['1/4 in', '700 ft-lbf'], ['1/2 in', '5000 ft-lbf'], {last}]"));
    assert!(steps("['3/4 in', '4000 ft-lbf']").is_err() && steps("['3/8 in', '6000 ft-lbf']").is_err());
    let rules = steps("['3/4 in', '6000 ft-lbf']").unwrap();
    let Sense::ByThickness { steps, borderline } = &rules[0].sense else { panic!("{rules:?}") };
    assert_eq!((steps.len(), borderline.si()), (3, 1.0));
}

#[test]
fn a_subject_is_limited_on_its_conservative_side_alone() {
    for (subject, value, least, most) in [
        ("distance", "9 yd", true, false),
        ("slow-speed", "9 ft/s", true, false),
        ("thickness", "9 mm", true, false),
        ("width", "9 in", true, false),
        ("hangs-by", "9 in", true, false),
        ("impact-speed", "9 ft/s", false, true),
        ("muzzle-speed", "9 ft/s", false, true),
        ("muzzle-energy", "9 ft-lbf", false, true),
        ("calibre", "9 mm", false, true),
        ("energy", "9 ft-lbf", false, true),
        ("demand", "90 %", false, true),
        ("oblique", "9 deg", false, true),
        ("lean", "9 deg", true, true),
        ("duty-factor", "120 %", false, false),
        ("mount-factor", "120 %", false, false),
        ("face-factor", "9 in", false, false),
        ("case", "9 in", false, false),
    ] {
        for (sense, fits) in [("at-least", least), ("at-most", most)] {
            let rule = of(&format!("subject = '{subject}'; sense = '{sense}'; suits = '{value}'"));
            assert_eq!(rule.is_ok(), fits, "{subject} {sense}");
        }
    }
}

#[test]
fn a_key_that_the_sense_does_not_read_is_refused_by_name() {
    let whole = [
        ("at-most", "subject = 'energy'; suits = '9 ft-lbf'"),
        ("at-least", "subject = 'distance'; suits = '9 yd'"),
        ("outcome", "subject = 'case'; outcome = 'unsuitable'"),
        ("factor", "subject = 'duty-factor'; factor = '120 %'"),
        ("caution", "subject = 'case'"),
    ];
    for (key, value, read_by) in [
        ("suits", "'9 yd'", &["at-most", "at-least"][..]),
        ("borderline", "'9 yd'", &["at-most", "at-least"]),
        ("by-thickness", "[['1/4 in', '9 ft-lbf'], ['1/2 in', '10 ft-lbf']]", &["at-most"]),
        ("borderlines", "2", &["outcome"]),
        ("outcome", "'unsuitable'", &["outcome"]),
        ("factor", "'120 %'", &["factor"]),
        ("below", "'9 in'", &["factor", "caution"]),
        ("above", "'9 in'", &["caution"]),
        ("per", "'9 in'", &["factor"]),
    ] {
        for (sense, rule) in whole.iter().filter(|(sense, _)| !read_by.contains(sense)) {
            let fault = of(&format!("sense = '{sense}'; {rule}; {key} = {value}"));
            let message = refused(fault.map(drop).expect_err(key));
            assert_eq!(message, format!("`{key}` has no effect with this sense"), "{sense}");
        }
    }
    for (sense, rule) in whole {
        assert!(of(&format!("sense = '{sense}'; {rule}")).is_ok(), "{sense}");
    }
}

#[test]
fn a_file_has_a_name_rules_with_ids_of_their_own_and_the_house_s_their_sources() {
    let message = |text: &str, is_overlay: bool| {
        let text = text.replace("; ", "\n");
        read(&SourceText::new("rules.toml", text), is_overlay).map(drop).map_err(|fault| fault.message)
    };
    let rule = "[[rule]]; subject = 'case'; sense = 'outcome'; outcome = 'borderline'; ";
    let schema = "schema = \"thickset/rules/1\"; ";
    let fails = |text: String, is_overlay: bool, fault: &str| {
        let found = message(&text, is_overlay).expect_err(fault);
        assert!(found.contains(fault), "{found}");
    };
    fails(format!("{schema}name = ' '; {rule}id = 'a'; why = 'x'; "), true, "have no name");
    fails(format!("{schema}name = 'r'; "), true, "no rule in this file");
    fails(format!("{schema}name = 'r'; {rule}id = ' '; why = 'x'; "), true, "`id` is empty");
    fails(format!("{schema}name = 'r'; {rule}id = 'a'; why = ' '; "), true, "`why` is empty");
    let named = |id: &str| format!("{rule}id = '{id}'; why = 'x'; ");
    fails(format!("{schema}name = 'r'; {}{}", named("a"), named("a")), true, "`a` stands twice");
    assert_eq!(message(&format!("{schema}name = 'r'; {}{}", named("a"), named("b")), true), Ok(()));

    let sourced = |keys: &str| format!("{schema}name = 'r'; {}{keys}", named("a"));
    let (basis, source) = ("basis = 'derived'; ", "source = 'a print'; ");
    for keys in ["", basis, source, "basis = 'derived'; source = ' '; "] {
        fails(sourced(keys), false, "no basis or no source");
        assert_eq!(message(&sourced(keys), true), Ok(()));
    }
    assert_eq!(message(&sourced(&format!("{basis}{source}")), false), Ok(()));

    let many = |count: usize| {
        let rules: String = (0..count).map(|index| named(&format!("r{index}"))).collect();
        message(&format!("{schema}name = 'r'; {rules}"), true)
    };
    assert_eq!(many(2000), Ok(()));
    assert_eq!(many(2001), Err("2001 rules".to_owned()));
}

#[test]
fn what_a_borderline_finding_is_about_follows_from_what_the_rule_filters() {
    let concern = |rule: &str| of(rule).map(|rules| rules[0].concern).ok().flatten();
    let case = "subject = 'case'; sense = 'outcome'; outcome = 'borderline'";
    let with = |filter: &str| concern(&format!("{case}; {filter}"));
    assert_eq!(with("construction = ['tracer']; steel = ['unknown']"), Some(Concern::Construction));
    assert_eq!(with("steel = ['unknown']; condition = ['pitted']"), Some(Concern::Steel));
    assert_eq!(with("condition = ['pitted']; mount = ['welded']"), Some(Concern::Pits));
    assert_eq!(with("mount = ['welded']"), Some(Concern::Weld));
    assert_eq!(with("class = ['rifle']"), None);
    assert_eq!(with("mount = ['welded']; concern = 'turn'"), Some(Concern::Turn));
    let limit = |subject: &str, value: &str| {
        concern(&format!("subject = '{subject}'; sense = 'at-most'; suits = '{value}'; mount = ['welded']"))
    };
    assert_eq!((limit("lean", "9 deg"), limit("oblique", "9 deg")), (Some(Concern::Lean), Some(Concern::Turn)));
    assert_eq!(limit("impact-speed", "9 ft/s"), None);
    let distance = "subject = 'distance'; sense = 'at-least'; suits = '9 yd'";
    assert_eq!(concern(distance), Some(Concern::Distance));
}

#[test]
fn a_rule_that_can_speak_of_nothing_or_forbids_nothing_is_refused() {
    let never = "subject = 'case'; sense = 'outcome'; outcome = 'unsuitable'; ";
    for (low, high) in [
        ("muzzle-speed-above = '2000 ft/s'", "muzzle-speed-at-most = '1000 ft/s'"),
        ("muzzle-energy-above = '900 ft-lbf'", "muzzle-energy-at-most = '900 ft-lbf'"),
        ("bullet-from = '200 gr'", "bullet-below = '200 gr'"),
        ("thickness-from = '1/2 in'", "thickness-below = '3/8 in'"),
    ] {
        assert!(of(&format!("{never}{low}")).is_ok() && of(&format!("{never}{high}")).is_ok(), "{low} {high}");
        assert!(refused(of(&format!("{never}{low}; {high}")).unwrap_err()).contains("speaks of nothing"), "{low}");
    }
    // Beyond its window it would suit nearer than it asks for.
    let floor = "subject = 'distance'; sense = 'at-least'; suits = '300 yd'";
    assert!(of(&format!("{floor}; within = '300 yd'")).is_ok());
    assert!(refused(of(&format!("{floor}; within = '200 yd'")).unwrap_err()).contains("only nearer than that"));
    let kind = "subject = 'case'; sense = 'outcome'; outcome = 'suits'";
    assert!(refused(of(kind).unwrap_err()).contains("forbids nothing"));
}

#[test]
fn every_word_that_stands_for_one_of_the_trade_is_a_word_here() {
    let of_loads = [accepted::<Class>(), accepted::<Construction>(), accepted::<Firearm>()].concat();
    let of_plates = [accepted::<Condition>(), accepted::<Mount>()].concat();
    let all = [of_loads, of_plates, accepted::<Subject>().to_vec(), senses().to_vec()].concat();
    for (word, ours) in TRADE {
        assert!(ours.iter().all(|ours| all.contains(ours)), "{word}");
    }
}

#[test]
fn a_word_of_the_trade_leads_to_the_subject_and_the_sense_that_are_meant() {
    for (word, asked) in [
        ("speed", "did you mean `impact-speed` or `slow-speed` or `muzzle-speed`?"),
        ("Velocity", "did you mean `impact-speed` or `slow-speed` or `muzzle-speed`?"),
        ("muzzle velocity", "did you mean `muzzle-speed`?"),
        ("range", "did you mean `distance`?"),
        ("tilt", "did you mean `lean`?"),
        ("diameters", "did you mean `calibre`?"),
    ] {
        assert_eq!(did_you_mean(word, accepted::<Subject>()).as_deref(), Some(asked), "{word}");
    }
    for (word, asked) in [("max", "at-most"), ("Minimum", "at-least"), ("<=", "at-most"), ("at least", "at-least")] {
        assert_eq!(did_you_mean(word, senses()).as_deref(), Some(&*format!("did you mean `{asked}`?")), "{word}");
    }
}

#[test]
fn a_factor_without_a_unit_is_told_as_the_one_it_may_be() {
    for (factor, told) in [
        ("1.25", "write `125 %`"),
        ("'1.25'", "write `125 %`"),
        ("125", "write `125 %`"),
        ("1.4", "write `140 %`"),
        ("50", "write a factor from `100 %` to `1000 %`"),
    ] {
        let fault = of(&format!("subject = 'duty-factor'; sense = 'factor'; duty = ['public']; factor = {factor}"));
        let fault = fault.expect_err(factor).to_string();
        assert!(fault.contains(told), "{factor}: {fault}");
    }
}
