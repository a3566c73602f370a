//! What a match tells as a way out, and what its signs say, holds in all of the air that was not given; a shooter who
//! walks is judged on the whole way.

use super::course_signs::{given, joined, sheet, usual};
use super::here::{json, thickset};
use super::{status, stdout};
use std::fs;
use std::path::Path;

const STAND: &str = "[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nduty = \"private\"\n";
const WHOLE: &str = "0 to 6000 ft at -10 to 100 °F";

/// A match of one load and one target, in air that was not given.
fn of_one(folder: &Path, load: &str, plate: &str, yards: f64) -> String {
    let stages = format!("stage,target,at (yd),plate\nA,t,{yards},{plate}\n");
    given(folder, STAND, &format!("bib,load\n1,{load}\n"), &stages)
}

#[test]
fn a_fix_holds_in_all_of_the_air_that_was_not_given_on_page_sign_sheet_and_in_the_document() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    for (load, plate, yards) in [("223-55", "1/2 in", 60.0), ("308-168-match", "3/8 in", 50.0)] {
        let line = of_one(folder.path(), load, plate, yards);
        let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
        let far = page.split("line to ").nth(1).and_then(|rest| rest.split(" yd").next()).expect("a line to move to");
        assert!(page.contains(&format!("The fixes hold for {WHOLE}")), "{page}");
        let words = format!("rifles {far} yd");
        assert!(page.contains(&format!("while it is hot: A {words}.")), "{page}");
        for name in ["sign-01-a.html", "officer.html"] {
            let text = sheet(&sheets, name);
            assert!(text.contains(&words) && text.contains(&format!("fixes hold for {WHOLE}")), "{name}: {text}");
        }
        let document = json(&line);
        let metres = document["targets"][0]["parts"]["distance_m"].as_f64().expect("a distance");
        let far: f64 = far.parse().expect("a number");
        assert!((metres / 0.9144 - far).abs() < 0.01, "{metres} {far}");
        let row = stdout(&thickset(&format!("{line} --format csv")));
        assert!(row.contains(&format!("line to {far} yd")), "{row}");
        // Fed back it passes, and in any air; a vet of the same says as much.
        let page = joined(&stdout(&thickset(&of_one(folder.path(), load, plate, far))));
        assert!(page.starts_with("READY: "), "{page}");
        let vet = format!(
            "vet --load {load} --at {yards}yd --plate \"{plate}\" --condition sound --tilt 15deg --duty private"
        );
        assert!(joined(&stdout(&thickset(&vet))).contains(&format!("suits from {far} yd")), "{vet}");
    }
}

#[test]
fn a_target_without_a_fix_for_all_of_the_air_says_to_give_it_and_has_no_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let stage = "stage,target,at (yd),plate,position\n";
    fs::write(
        folder.path().join("range.toml"),
        "schema = \"thickset/rules/1\"\nname = \"Bay\"\n[[rule]]\nid = \"low\"\nsubject = \"muzzle-speed\"\n\
         sense = \"at-most\"\nsuits = \"2670 ft/s\"\nwhy = \"the berm is low\"\n",
    )
    .expect("a file");
    let top = |air: &str| format!("range-rules = [\"range.toml\"]\n{air}{STAND}");
    let rows = format!("{stage}A,t,60,3/8 in,\n");
    let line = given(folder.path(), &top(""), "bib,load\n1,308-168-match\n", &rows);
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.contains(&format!("no fix found that holds for all of {WHOLE}: give the air")), "{page}");
    assert!(page.contains("No line was found for A, t: nobody shoots it."), "{page}");
    let air = "[air]\naltitude = \"0 ft\"\ntemperature = \"59 F\"\n";
    let line = given(folder.path(), &top(air), "bib,load\n1,308-168-match\n", &rows);
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.contains("t: line to 100 yd"), "{page}");
}

#[test]
fn what_fails_in_the_cold_is_not_told_of_the_heat() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let loads = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n\
                 1,45 soft,handgun,jacketed-lead,230,780,0.19,G1,0.451\n";
    let line = given(folder.path(), STAND, loads, "stage,target,at (yd),plate\nA,t,40,3/8 in\n");
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let page = joined(&stdout(&output));
    let holds = "at sea level down to 19 °F";
    assert!(status(&output) == 0 && page.starts_with(&format!("READY {holds}: ")), "{page}");
    assert!(page.contains(&format!("for all of {WHOLE} nobody nearer than: A, t 50 yd; or give the air")), "{page}");
    let line_of = format!("handguns 50 yd (40 yd {holds})");
    assert!(page.contains(&line_of), "{page}");
    let sign = sheet(&sheets, "sign-01-a.html");
    assert!(sign.contains(&line_of) && sign.contains(&format!("t passes {holds} only")), "{sign}");
    for text in [page, sign, sheet(&sheets, "officer.html")] {
        assert!(!text.contains("6000 ft and 100 °F"), "{text}");
    }
    let document = json(&line);
    let why = document["targets"][0]["why"].as_str().expect("why it is not so everywhere");
    assert!(why.contains(holds) && why.contains("from 50 yd"), "{why}");
    assert_eq!(document["good"][0], format!("A: t (40 yd) {holds} only."));
    let rows = stdout(&thickset(&format!("{line} --format csv")));
    assert!(rows.contains(why), "{rows}");
    let standoff = "standoff --bullet 230gr --velocity 780fps --bc 0.19 --drag G1 --firearm handgun \
                    --construction jacketed-lead --diameter 0.451in --plate 3/8in --condition sound --tilt 15deg";
    let page = joined(&stdout(&thickset(standoff)));
    assert!(
        page.contains(&format!("no closer than 50 yd for {WHOLE}")) && !page.contains("6000 ft and 100 °F"),
        "{page}"
    );
}

#[test]
fn a_shooter_who_walks_is_judged_on_the_whole_way() {
    let folder = tempfile::tempdir().expect("a folder");
    let soft = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n\
                1,pellet,air-gun,lead,8,600,0.02,G1,0.177\n2,45 soft,handgun,jacketed-lead,230,740,0.19,G1,0.451\n";
    let judged = |class: &str, plate: &str, at: f64, to: Option<f64>| {
        let to = to.map(|to| to.to_string()).unwrap_or_default();
        let row = format!("stage,target,at (yd),to (yd),plate,class\nA,t,{at},{to},{plate},{class}\n");
        let row = if to.is_empty() {
            row.replace("to (yd),", "").replace(&format!(",{at},,"), &format!(",{at},"))
        } else {
            row
        };
        let loads: Vec<&str> = soft.lines().filter(|l| l.starts_with("bib") || l.contains(class)).collect();
        let line = given(folder.path(), &usual(), &(loads.join("\n") + "\n"), &row);
        let page = joined(&stdout(&thickset(&line)));
        let in_the_file = format!(
            "[[stage]]\nname = \"B\"\npositions = [{{ name = \"walk\", at = \"{at} yd\", to = \"{to} yd\" }}]\n\
             [[stage.target]]\nname = \"t\"\nplate = \"{plate}\"\nclass = [\"{class}\"]\n"
        );
        if !to.is_empty() {
            let line = given(folder.path(), &(usual() + &in_the_file), &(loads.join("\n") + "\n"), &row);
            let verdicts: Vec<serde_json::Value> =
                json(&line)["targets"].as_array().expect("targets").iter().map(|t| t["verdict"].clone()).collect();
            assert_eq!(verdicts[0], verdicts[1], "{class} {at} {to}");
        }
        page
    };
    for (class, plate, near, fails, far) in
        [("air-gun", "1/4 in", 20.0, 49.0, 60.0), ("handgun", "3/8 in", 10.0, 49.0, 55.0)]
    {
        for still in [near, far] {
            assert!(judged(class, plate, still, None).starts_with("READY"), "{class} {still}");
        }
        assert!(judged(class, plate, fails, None).starts_with("NOT READY"), "{class} {fails}");
        for (at, to) in [(far, near), (near, far), (fails, near), (far, fails)] {
            let page = judged(class, plate, at, Some(to));
            assert!(page.starts_with("NOT READY"), "{class} {at} to {to}: {page}");
        }
        // Beyond the window it passes, from either end; and that is the fix.
        assert!(judged(class, plate, far, Some(50.0)).starts_with("READY"), "{class}");
        assert!(judged(class, plate, far, Some(near)).contains("line to 50 yd"), "{class}");
    }
}

#[test]
fn a_walk_reaches_no_farther_than_the_ammunition_rules_let_a_class_shoot() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[ammunition]]\nclass = [\"handgun\"]\ndistance-at-most = \"40 yd\"\n";
    let row = "stage,target,at (yd),to (yd),plate,class\nA,t,60,20,3/8 in,handgun\n";
    let line = given(folder.path(), &(usual() + rule), "bib,load\n1,9mm-124\n", row);
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.contains("handgun from 60 yd is beyond the rules' 40 yd"), "{page}");
}

#[test]
fn a_walk_that_a_load_reaches_in_part_is_not_judged_and_one_that_it_reaches_whole_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let judged = |at: u32, to: u32| {
        let row = format!("stage,target,at (yd),to (yd),plate,class\nA,t,{at},{to},1/2 in,shot\n");
        let line = given(folder.path(), &usual(), "bib,load\n1,12ga-bird-8\n", &row);
        (joined(&stdout(&thickset(&line))), json(&line))
    };
    for (at, to) in [(300, 100), (100, 300)] {
        let (page, document) = judged(at, to);
        assert!(
            page.starts_with("NOT READY") && page.contains("1 target not judged") && !page.contains("Good:"),
            "{at} {to}: {page}"
        );
        assert!(page.contains("reached on a part of the way alone"), "{page}");
        let target = &document["targets"][0];
        assert_eq!(
            (&target["verdict"], &target["positions"][0]["verdict"]),
            (&"not judged".into(), &"not judged".into())
        );
        assert_eq!(document["not_judged"].as_array().map(Vec::len), Some(1));
    }
    // Farther than anything flies from it is nobody's shot at all, from wherever on the way.
    assert!(judged(150, 100).0.starts_with("READY"), "{}", judged(150, 100).0);
}
