//! The invented match: every planted mistake is found, and faults keep nobody from the rest.

use super::{json, status, stderr, stdout, thickset};
use std::fs;

#[test]
fn the_planted_mistakes_are_found_and_the_good_targets_pass() {
    let document = json("course examples/match.toml");
    let fix = |name: &str| {
        let targets = document["targets"].as_array().expect("targets");
        let target = targets.iter().find(|t| t["target"] == name).unwrap_or_else(|| panic!("no target {name}"));
        (target["verdict"].as_str().expect("a verdict").to_owned(), target["fix"].as_str().expect("a fix").to_owned())
    };
    for (target, verdict, words) in [
        ("long gong", "suits", "nothing"),
        ("short gong", "unsuitable", "back line"),
        ("the old quarter inch", "unsuitable", "hang"),
        ("bank plate", "unsuitable", "leans toward"),
        ("walk-up rack", "unsuitable", "move the line to 10 yd"),
        ("frame plate", "unsuitable", "retire"),
        ("plate rack", "suits", "nothing"),
    ] {
        let (found, fix) = fix(target);
        assert_eq!(found, verdict, "{target}");
        assert!(fix.contains(words), "{target}: {fix}");
    }
    let who = |key: &str| -> Vec<String> {
        document[key].as_array().expect("loads").iter().filter_map(|r| r["who"].as_str().map(str::to_owned)).collect()
    };
    assert_eq!(who("refused"), ["bib 14", "bib 15"]);
    assert_eq!(who("barred"), ["bib 16"]);
}

#[test]
fn a_course_is_told_on_one_page_no_wider_than_80_columns_and_its_status_is_the_worst_target_s() {
    let output = thickset("course examples/match.toml");
    assert_eq!(status(&output), 1);
    let text = stdout(&output);
    assert!(text.starts_with("2 of 7 targets pass"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    assert!(text.contains("together"));
}

#[test]
fn one_bad_target_and_one_bad_row_leave_the_rest_told_and_end_in_status_2() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("a file");
    write(
        "loads.csv",
        "shooter,load,bullet (gr),velocity (ft/s),bc,drag\na,9mm-124,,,,\nb,,115,fast,0.145,G1\nc,no-such,,,,\n",
    );
    write(
        "m.toml",
        "schema = \"thickset/course/1\"\nname = \"m\"\ndeclared = [\"loads.csv\"]\n[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\n[[stage]]\nname = \"Bay\"\n[[stage.target]]\nname = \"good\"\nplate = \"3/8 in\"\nat = \"12 yd\"\n[[stage.target]]\nname = \"bad\"\nplate = \"3/8 in\"\nat = \"far\"\n",
    );
    let output = thickset(&format!("course {}", folder.path().join("m.toml").display()));
    assert_eq!(status(&output), 2);
    assert!(stdout(&output).contains("All 1 targets pass"), "{}", stdout(&output));
    let faults = stderr(&output);
    for words in ["m.toml:16", "stage `Bay`, target `bad`", "loads.csv:3", "`fast`", "loads.csv:4", "no-such"] {
        assert!(faults.contains(words), "{words} not in\n{faults}");
    }
}

#[test]
fn the_page_is_the_same_whatever_the_number_of_threads() {
    let page = |threads: u32| stdout(&thickset(&format!("course examples/match.toml --explain --threads {threads}")));
    assert_eq!(page(1), page(4));
}
