//! A range's own rules: the stricter wins, and every limit that changes is named.

use super::here::{json, thickset};
use super::{status, stderr, stdout};

const RANGE: &str = "--range-rules examples/gravel-pit.toml --condition sound --temperature 60F";

fn page(line: &str) -> String {
    let text = stdout(&thickset(&format!("{line} --full")));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_stricter_distance_of_the_range_wins_and_is_named() {
    let line = "vet --load 308-168-match --plate 1/2in --at 120yd --condition sound --temperature 60F";
    assert_eq!(status(&thickset(line)), 0);
    let line = format!("vet --load 308-168-match --plate 1/2in --at 120yd {RANGE}");
    assert_eq!(status(&thickset(&line)), 1);
    let text = page(&line);
    assert!(text.contains("`pit-rifle-distance` is stricter than the house's"), "{text}");
    let distance = json(&line)["would_suit"]["distance_m"].as_f64().expect("a distance would do");
    assert!((distance - 137.16).abs() < 0.01, "{distance}");
}

#[test]
fn a_looser_distance_of_the_range_has_no_effect_and_says_so() {
    let line = format!("vet --load 9mm-115 --plate 3/8in --at 9yd {RANGE}");
    assert_eq!(status(&thickset(&line)), 3);
    let text = page(&line);
    assert!(text.contains("`pit-handgun-distance` changes nothing here"), "{text}");
}

#[test]
fn a_factor_of_the_range_takes_the_larger_and_a_looser_one_takes_nothing() {
    let margin = |extra: &str| {
        let line =
            format!("vet --load 308-168-match --plate 1/2in --at 200yd {extra} --condition sound --temperature 60F");
        let document = json(&line);
        let findings = document["findings"].as_array().expect("findings").clone();
        findings.iter().find(|f| f["rule"] == "demand").and_then(|f| f["margin"].as_f64()).expect("a margin")
    };
    let range = "--range-rules examples/gravel-pit.toml";
    assert!(margin(range) < margin("") - 0.1);
    // The house's factor for public duty is larger than the range's own.
    let public = "--duty public";
    assert!((margin(&format!("{public} {range}")) - margin(public)).abs() < 1e-12);
}

#[test]
fn a_range_s_rules_are_given_once() {
    let line = format!("vet --load 9mm-115 --plate 3/8in --at 12yd {RANGE} --range-rules examples/gravel-pit.toml");
    assert_eq!(status(&thickset(&line)), 2);
}

#[test]
fn a_range_s_rules_are_listed_by_its_name_and_by_what_they_speak_of() {
    let listed = |line: &str| -> Vec<String> {
        let document = json(&format!("catalog rules {line}"));
        let rules = document["listed"].as_array().expect("a list").clone();
        rules.iter().filter_map(|rule| rule["id"].as_str().map(str::to_owned)).collect()
    };
    let range = "--range-rules examples/gravel-pit.toml";
    let own = listed(&format!("gravel {range}"));
    assert!(own.len() == 5 && own.iter().all(|id| id.starts_with("pit-")), "{own:?}");
    assert_eq!(listed(&format!("gravel handgun {range}")), ["pit-handgun-distance"]);
    assert!(listed(&format!("handgun {range}")).contains(&"pit-handgun-distance".into()));
    // Nothing found is told as such, and where else to look.
    let none = page("catalog rules gravel");
    assert!(
        none.starts_with("None of the rules is so called; a range's own are listed where its file is given."),
        "{none}"
    );
    assert!(page(&format!("catalog rules heather {range}")).starts_with("None of the rules is so called."));
}

#[test]
fn what_is_meant_by_a_word_or_a_factor_of_a_range_s_file_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("range.toml");
    let told = |rule: &str| {
        let text = format!(
            "schema = \"thickset/rules/1\"\nname = \"R\"\n[[rule]]\nid = \"own\"\n{rule}\nwhy = \"w\"\nnext = \"n\"\n"
        );
        std::fs::write(&path, text).expect("a file");
        let output =
            thickset(&format!("vet --load 308-168-match --plate 1/2in --at 200yd --range-rules {}", path.display()));
        stderr(&output).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for (rule, help) in [
        ("subject = \"speed\"\nsense = \"at-most\"\nsuits = \"2800 ft/s\"", "did you mean `impact-speed`"),
        ("subject = \"velocity\"\nsense = \"at-most\"\nsuits = \"2800 ft/s\"", "or `muzzle-speed`?"),
        ("subject = \"impact-speed\"\nsense = \"max\"\nsuits = \"2800 ft/s\"", "did you mean `at-most`?"),
        ("subject = \"distance\"\nsense = \"min\"\nsuits = \"100 yd\"", "did you mean `at-least`?"),
        ("subject = \"duty-factor\"\nsense = \"factor\"\nfactor = 1.25\nduty = [\"public\"]", "write `125 %`"),
    ] {
        let told = told(rule);
        assert!(told.contains(help), "{rule}: {told}");
    }
    assert_eq!(told("subject = \"duty-factor\"\nsense = \"factor\"\nfactor = \"125 %\"\nduty = [\"public\"]"), "");
}
