//! Loads that are left at home or decided on: said beside every fix that holds only then, in every format.

use super::course_signs::{given, joined, sheet, usual};
use super::here::{json, thickset};
use super::{status, stdout};
use std::fs;

/// A match of two loads, one too fast for two targets of S; the target of T wants mending without it as well.
fn of_two(folder: &std::path::Path, of_t: &str) -> String {
    let target = |name: &str, plate: &str, face: &str| {
        format!(
            "[[stage.target]]\nname = \"{name}\"\nplate = \"{plate}\"\nat = \"100 yd\"\nstand = {{ face = \"{face}\" }}\n"
        )
    };
    let text = format!(
        "schema = \"thickset/course/1\"\nname = \"L\"\nloads = [\"762x39-123-lead\", \"65prc-143\"]\n[air]\naltitude = \
         \"1800 ft\"\ntemperature = \"41 F..88 F\"\n[stand]\nduty = \"private\"\ncondition = \"sound\"\ntilt = \"10 deg\"\n\
         [[stage]]\nname = \"S\"\n{}{}[[stage]]\nname = \"T\"\n{}",
        target("a", "12 mm", "18in"),
        target("b", "12 mm", "18in"),
        target("c", of_t, "3x20in")
    );
    let path = folder.join("left.toml");
    fs::write(&path, text).expect("a match");
    format!("course {}", path.display())
}

#[test]
fn a_fix_that_holds_only_with_a_load_left_at_home_says_so_wherever_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let line = of_two(folder.path(), "3/8 in");
    thickset(&format!("{line} --sheets {}", sheets.display()));
    let (document, officer) = (json(&line), sheet(&sheets, "officer.html"));
    let beside = "; leave 6.5 PRC 143 gr at home as well";
    let target = &document["targets"][2];
    for key in ["fix", "or"] {
        assert!(target[key].as_str().is_some_and(|fix| fix.ends_with(beside)), "{target}");
    }
    assert!(officer.contains(beside), "{officer}");
    // What is done in its place takes the others' ground away.
    let instead = "leave 6.5 PRC 143 gr at home (or move the line back 65 yd: the other fixes then do not hold)";
    assert_eq!(document["targets"][0]["fix"], instead);
    assert!(officer.contains(instead), "{officer}");
    // Where every target is lifted there are no others; leaving the same load out is nothing else.
    let document = json(&of_two(folder.path(), "1/2 in"));
    let fixes: Vec<&str> = (0..3).filter_map(|at| document["targets"][at]["fix"].as_str()).collect();
    let back = "leave 6.5 PRC 143 gr at home (or move the line back 65 yd)";
    assert_eq!(fixes, [back, back, "leave 6.5 PRC 143 gr at home"]);
}

#[test]
fn a_target_that_is_borderline_for_a_load_to_decide_on_names_it_in_every_format() {
    let folder = tempfile::tempdir().expect("a folder");
    let line = given(
        folder.path(),
        &usual(),
        "bib,load\nP1,308-168-match\nP2,308-168-copper\n",
        "stage,target,at (yd),plate,face,class\nS,g,400,1/2 in,12 in,rifle\n",
    );
    let (page, target) = (joined(&stdout(&thickset(&line))), &json(&line)["targets"][0]);
    assert!(page.contains("Good: every target on S, the loads to decide on apart."), "{page}");
    assert_eq!(target["fix"], "decide on 308 Win 168 gr solid copper");
    assert_eq!((&target["concerns"][0], &target["verdict"]), (&"P2".into(), &"borderline".into()));
    let row = stdout(&thickset(&format!("{line} --format csv")));
    let row = row.lines().nth(1).expect("a row");
    assert!(row.contains(",borderline,308 Win 168 gr solid copper,P2,decide on 308 Win 168 gr solid copper,"), "{row}");
    assert!(!row.ends_with(",,"), "{row}");
}

#[test]
fn one_who_brings_two_loads_is_named_with_the_one_that_is_meant() {
    let folder = tempfile::tempdir().expect("a folder");
    let line = given(
        folder.path(),
        &usual(),
        "bib,load\nSmith,223-77\nSmith,300wm-190-match\nJones,223-77\n",
        "stage,target,at (yd),plate,face,class\nS,a,180,1/2 in,12 in,rifle\nS,b,400,1/2 in,12 in,rifle\n",
    );
    let page = joined(&stdout(&thickset(&line)));
    for words in
        ["; Smith's 300 Win Mag 190 gr match)", "Without Smith's 300 Win Mag 190 gr match: 1 more target passes"]
    {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn loads_are_counted_over_all_of_a_target_s_positions() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("positions.toml");
    let text = "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"9mm-124\", \"308-168-match\", \"223-55\"]\n\
                [stand]\ncondition = \"cracked\"\ntilt = \"15 deg\"\n[[stage]]\nname = \"A\"\n[[stage.target]]\nname = \"g\"\n\
                plate = \"3/8 in\"\npositions = [POSITIONS]\n";
    for positions in [
        "{ name = \"p\", at = \"15 yd\", class = [\"handgun\"] }, { name = \"r\", at = \"300 yd\", class = [\"rifle\"] }",
        "{ name = \"r\", at = \"300 yd\" }, { name = \"p\", at = \"250 yd\" }",
        "{ name = \"r\", at = \"300 yd\", class = [\"rifle\"] }, { name = \"p\", at = \"250 yd\" }",
    ] {
        fs::write(&path, text.replace("POSITIONS", positions)).expect("a match");
        let line = format!("course {}", path.display());
        let target = &json(&line)["targets"][0];
        assert_eq!((&target["failing"], &target["shot_by"]), (&3.into(), &3.into()), "{positions}");
        assert_ne!(status(&thickset(&line)), 0);
    }
}
