//! A match of 48 targets and 40 loads in which everything fails in many ways is told on a page that is read.

use super::course_signs::{given, joined};
use super::{json, stdout, thickset};
use std::fmt::Write;

/// Rows of 12 stages: bolted and welded, pitted and cratered, turned, leaning back, too near, too thin, two positions.
fn stages() -> String {
    let mut rows =
        "stage,target,position,at (yd),plate,face,class,tilt (deg),mount,condition,oblique (deg)\n".to_owned();
    for i in 0..48 {
        let (stage, place) = (i / 4 + 1, i % 4);
        let plate = ["3/8 in", "1/2 in", "3/8 in", "1/4 in"][(place + stage) % 4];
        let mount = ["", "bolted", "", "welded"][(i / 3) % 4];
        let condition = ["", "", "pitted", "", "", "cratered"][(i / 5) % 6];
        let turn = ["", "", "", "20"][(i / 7) % 4];
        if stage % 3 == 0 {
            let at = [8, 12, 15, 9][place];
            let class = "handgun; rimfire-pistol";
            let _ = writeln!(rows, "Bay {stage},plate {i},,{at},3/8 in,8 in,{class},15,{mount},{condition},{turn}");
            continue;
        }
        let at = [110, 180, 300, 520][place];
        let row = |position: &str, at: i32, lean: i32| {
            format!("Ridge {stage},gong {i},{position},{at},{plate},12 in,rifle,{lean},{mount},{condition},{turn}\n")
        };
        if i % 6 == 0 {
            rows += &(row("near", at, 15) + &row("far", at + 150, 15));
        } else {
            rows += &row("", at, [15, 0, 12, -5][place]);
        }
    }
    rows
}

/// Whether a line names a target of a stage: names that are a word and a number each have the word once.
fn is_named(fixes: &str, stage: &str, target: &str) -> bool {
    let number = target.rsplit(' ').next().expect("a number");
    let names = |after: &str| {
        // As far as the next stage, or the reason.
        let end = ["; ", ". ", "Ridge ", "Bay ", " (condition", " (floor", " (demand", " (energy", " (lean", " (mount"];
        let end = end.iter().filter_map(|mark| after.find(mark)).min().unwrap_or(after.len());
        after[..end].split(|c: char| !c.is_alphanumeric()).any(|word| word == number)
    };
    fixes.match_indices(&format!("{stage} ")).any(|(at, found)| names(&fixes[at + found.len()..]))
}

#[test]
fn a_match_in_which_everything_fails_names_every_target_in_a_few_lines() {
    let folder = tempfile::tempdir().expect("a folder");
    let known = [
        "308-168-match",
        "308-175-match",
        "300wm-190-match",
        "223-77",
        "9mm-124",
        "45acp-230",
        "22lr-pistol-40",
        "44mag-240",
        "338lm-250",
        "300wm-180",
    ];
    let mut loads = "bib,load\n".to_owned();
    for i in 1..=40 {
        let _ = writeln!(loads, "bib {i},{}", known[i % known.len()]);
    }
    let top = "[air]\naltitude = \"1500 ft\"\ntemperature = \"40 F..90 F\"\n\
               [stand]\ncondition = \"sound\"\nsteel = \"AR500\"\nmount = \"captive-hook\"\n";
    let line = given(folder.path(), top, &loads, &stages());
    let text = stdout(&thickset(&line));
    let fixes = text.split("\nFix: ").skip(1).collect::<Vec<_>>().join("\nFix: ");
    let fixes = fixes.split("\nGood: ").next().and_then(|fixes| fixes.split("\nLeave: ").next()).expect("fixes");
    assert!(fixes.lines().count() <= 24 && text.lines().count() <= 50, "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    let fixes = joined(fixes);
    let document = json(&line);
    let failing = document["targets"].as_array().expect("targets").iter().filter(|t| t["fix"] != "nothing");
    let mut count = 0;
    for target in failing {
        let (stage, name) = (target["stage"].as_str().expect("a stage"), target["target"].as_str().expect("a name"));
        assert!(is_named(&fixes, stage, name), "{stage} {name} not in\n{fixes}");
        count += 1;
    }
    assert!(count >= 40, "{count}");
}
