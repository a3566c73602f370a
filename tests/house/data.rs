//! Every shipped number has a basis and a source, and every rule is told of.

use std::collections::HashSet;
use thickset::catalog::{Cartridge, Catalog};
use thickset::plate::Ladder;
use thickset::rules::{RuleSet, Sense};

#[test]
fn every_rule_has_a_reason_a_source_and_a_name_of_its_own() {
    let rules = RuleSet::house().expect("the house rules are read");
    let mut ids = HashSet::new();
    for rule in rules.rules() {
        assert!(ids.insert(&rule.id), "{} stands twice", rule.id);
        assert!(!rule.why.is_empty() && !rule.source.is_empty(), "{}", rule.id);
        let acts = matches!(rule.sense, Sense::Limit { .. } | Sense::Outcome(_));
        assert!(!acts || !rule.next.is_empty(), "{} does not say what to do", rule.id);
        let words =
            ["no source", "house assumption", "USPSA", "SASS", "MIL-HDBK", "FBI", "DA Form", "Fire Technology", "USMC"];
        assert!(words.iter().any(|w| rule.source.contains(w)), "{}: {}", rule.id, rule.source);
    }
}

#[test]
fn every_shipped_record_is_read_and_has_a_source() {
    for entry in Catalog::builtin().expect("the loads are read").entries() {
        assert!(!entry.load.facts().source.is_empty() && !entry.basis.is_empty(), "{}", entry.load.id());
    }
    for cartridge in Cartridge::builtin().expect("the cartridges are read") {
        assert!(!cartridge.source().is_empty() && !cartridge.basis().is_empty(), "{}", cartridge.name());
    }
    let ladder = Ladder::builtin().expect("the plates are read");
    assert!(ladder.notes().iter().all(|n| !n.source.is_empty() && !n.basis.is_empty()));
}

#[test]
fn every_command_and_option_has_help() {
    for command in ["", "advise", "standoff", "vet", "strike", "course", "chrono", "catalog"] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let args = ["thickset", command, "--help"].into_iter().filter(|a| !a.is_empty());
        let status = thickset::cli::run(args, &mut std::io::empty(), &mut out, &mut err);
        assert_eq!(status, thickset::cli::Status::Suits, "{command}");
        let help = String::from_utf8(out).expect("help is text");
        let lines: Vec<&str> = help.lines().collect();
        for (index, line) in lines.iter().enumerate().filter(|(_, l)| {
            // An option that stands where options stand, and is not a word of another's help.
            l.trim_start().starts_with("--") && l.len() - l.trim_start().len() <= 6
        }) {
            let below = lines.get(index + 1).map_or("", |l| l.trim());
            let beside = line.split("  ").filter(|part| !part.trim().is_empty()).count() > 1;
            assert!(beside || (!below.is_empty() && !below.starts_with('-')), "{command}: no help for {line}");
        }
    }
}

#[test]
fn the_catalogue_tells_of_every_rule() {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["thickset", "catalog", "rules", "--format", "csv"];
    thickset::cli::run(args, &mut std::io::empty(), &mut out, &mut err);
    let text = String::from_utf8(out).expect("text");
    for rule in RuleSet::house().expect("the house rules are read").rules() {
        assert!(text.contains(&rule.id) && text.contains(&rule.why), "{}", rule.id);
    }
}
