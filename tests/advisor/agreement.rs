//! `advise`, `vet` and `standoff` are one evaluation: what one says is true by another.

use crate::answers::vet;
use crate::draws::{Draws, cases};
use std::cell::RefCell;
use std::collections::HashMap;
use thickset::advisor::{AdviseQuestion, Advisor, StandoffQuestion};
use thickset::quantity::Measure;
use thickset::rules::Verdict;

/// A target in JSON keys, each given or not.
fn target(draws: &mut Draws) -> String {
    let keys = [
        ("face", &["", "8in", "4in", "12x20in"][..]),
        ("mount", &["", "bolted", "captive-hook", "chain"]),
        ("duty", &["", "match", "public"]),
        ("tilt", &["", "15 deg", "-5 deg", "40 deg"]),
        ("oblique", &["", "10 deg", "20 deg"]),
        ("slope", &["", "10 deg"]),
        ("temperature", &["", "40 F..95 F"]),
        ("altitude", &["", "4000 ft"]),
    ];
    let given = keys.iter().filter_map(|(key, values)| {
        let value = draws.of(values);
        (!value.is_empty()).then(|| format!(r#", "{key}": "{value}""#))
    });
    given.collect()
}

#[test]
fn what_advise_says_of_each_load_is_what_vet_says() {
    let mut draws = Draws(7);
    let advisor = Advisor::house().unwrap();
    let catalog = thickset::catalog::Catalog::builtin().unwrap();
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    let distances = ["7 yd", "25 yd", "60 yd", "100 yd", "180 yd", "300 yd", "550 yd"];
    let mut looked_at = 0;
    let cases = cases(8);
    for _ in 0..cases {
        let target = target(&mut draws);
        let lines: Vec<(String, String)> =
            (0..=draws.below(4)).map(|_| (draws.of(&ids).to_owned(), draws.of(&distances).to_owned())).collect();
        let shots: Vec<String> = lines.iter().map(|(load, at)| format!(r#""{load}@{at}""#)).collect();
        let text = format!(r#"{{"load": [{}]{target}}}"#, shots.join(", "));
        let question: AdviseQuestion = serde_json::from_str(&text).unwrap();
        let Ok(answer) = advisor.advise(&question) else { continue }; // A bullet that does not get there.
        let vetted = RefCell::new(HashMap::new());
        let on = |line: usize, plate: &str| {
            let (load, at) = &lines[line];
            let ask = || {
                let text =
                    format!(r#"{{"load": "{load}", "at": "{at}", "plate": "{plate}", "condition": "sound"{target}}}"#);
                vet(&text).unwrap().verdict
            };
            *vetted.borrow_mut().entry((line, plate.to_owned())).or_insert_with(ask)
        };
        let excluded: Vec<usize> = answer.excluded.iter().map(|e| e.line).collect();
        let left: Vec<usize> = (0..lines.len()).filter(|line| !excluded.contains(line)).collect();
        let judged = if left.is_empty() { (0..lines.len()).collect() } else { left.clone() };
        for plate in &answer.plates {
            let worst = judged.iter().map(|&line| on(line, &plate.label)).max().unwrap();
            assert_eq!(plate.verdict_of_the_left(), worst, "{text} on {}", plate.label);
            let of_all = (0..lines.len()).map(|line| on(line, &plate.label)).max().unwrap();
            assert_eq!(plate.verdict, of_all, "{text} on {}", plate.label);
            assert_eq!(plate.verdict_for_the_rest.is_some(), judged.len() < lines.len(), "{text} on {}", plate.label);
            assert!(excluded.iter().all(|&line| on(line, &plate.label) == Verdict::Unsuitable), "{text}");
            looked_at += lines.len();
        }
        let headline = &answer.preamble.headline;
        match (&answer.recommended, &answer.for_the_rest) {
            (Some(plate), _) => {
                assert!(headline.contains(&plate.label) && left.iter().all(|&l| on(l, &plate.label) == Verdict::Suits));
            }
            (None, Some(plate)) if headline.contains("takes the rest") => {
                assert!(headline.contains(&plate.label) && left.iter().all(|&l| on(l, &plate.label) == Verdict::Suits));
            }
            _ => assert_ne!(answer.verdict, Verdict::Suits, "{text}"),
        }
        for one in &answer.excluded {
            assert!(headline.contains(&one.case), "{headline}");
        }
    }
    assert!(looked_at > 5 * cases, "{looked_at}");
}

#[test]
fn from_the_distance_that_standoff_names_a_load_suits_by_vetting_and_just_before_it_does_not() {
    let advisor = Advisor::house().unwrap();
    for load in ["308-168-match", "223-55", "300wm-180", "22lr-std-40"] {
        let text = format!(r#"{{"load": "{load}", "plate": ["1/4 in", "3/8 in"], "condition": "sound"}}"#);
        let question: StandoffQuestion = serde_json::from_str(&text).unwrap();
        for cell in &advisor.standoff(&question).unwrap().rows[0].plates {
            let Some(distance) = &cell.closest.distance else { continue };
            let metres = distance.si();
            let at = |metres: f64| {
                let text = format!(
                    r#"{{"load": "{load}", "at": "{metres:.6} m", "plate": "{}", "condition": "sound"}}"#,
                    cell.label
                );
                vet(&text).unwrap().verdict
            };
            assert_eq!(at(metres + 0.01), Verdict::Suits, "{load} on {}", cell.label);
            assert_ne!(at(metres - 0.01), Verdict::Suits, "{load} on {}", cell.label);
        }
    }
}
