//! What somebody must look into closes what it is of: a name that speaks of something else than what was judged, and a
//! list that names more people than are said to shoot.

use super::course_signs::{given, sheet, usual};
use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const LOADS: &str = "shooter,load\nAnn,308-168-match\nBob,65cm-140\n";

fn stages(name: &str, position: &str) -> String {
    format!(
        "stage,target,position,at (yd),plate,face,class\nA,{name},{position},300,1/2 in,12 in,rifle\n\
         B,other,,300,1/2 in,12 in,rifle\n"
    )
}

#[test]
fn a_target_s_name_to_look_into_closes_its_own_sign_and_a_shooter_s_every_one_and_the_officer_s_sheet_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let run = |name: &str, position: &str, loads: &str| {
        let _ = fs::remove_dir_all(&sheets);
        let line = given(folder.path(), &usual(), loads, &stages(name, position));
        status(&thickset(&format!("{line} --sheets {}", sheets.display())))
    };
    let is_closed = |sign: &str| sheet(&sheets, sign).contains("Closed until the officer signs");
    assert_eq!(run("gong", "", LOADS), 0);
    assert!(!is_closed("sign-01-a.html") && !is_closed("sign-02-b.html"));
    for (name, position) in [
        ("cracked gong", ""),
        ("mild steel gong", ""),
        ("No rifles", ""),
        ("gong", "pistols only"),
        ("no closer than 500 yd", ""),
        ("223 max", ""),
        ("punctured", ""),
    ] {
        assert_eq!(run(name, position, LOADS), 3, "{name} {position}");
        assert!(is_closed("sign-01-a.html") && !is_closed("sign-02-b.html"), "{name} {position}");
        let officer = sheet(&sheets, "officer.html");
        assert!(officer.contains("look into"), "{name} {position}: {officer}");
    }
    // What a stage's name keeps away, or says of the steel, is of each of its targets.
    for stage in ["Rimfire only", "No rifles", "Mild steel stage", "Cracked", "Quarter inch"] {
        let _ = fs::remove_dir_all(&sheets);
        let named = stages("gong", "").replace("\nA,", &format!("\n{stage},"));
        let line = given(folder.path(), &usual(), LOADS, &named);
        assert_eq!(status(&thickset(&format!("{line} --sheets {}", sheets.display()))), 3, "{stage}");
        let slug = stage.to_lowercase().replace(' ', "-");
        assert!(is_closed(&format!("sign-01-{slug}.html")) && !is_closed("sign-02-b.html"), "{stage}");
    }
    let _ = fs::remove_dir_all(&sheets);
    assert_eq!(run("gong", "", &LOADS.replace("Ann", "\"Ann, hot loads\"")), 3);
    assert!(is_closed("sign-01-a.html") && is_closed("sign-02-b.html"));
}

#[test]
fn a_match_of_fewer_shooters_than_are_named_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |shooters: u32| {
        let top = format!("shooters = {shooters}\nrounds = 50\n{}", usual());
        thickset(&given(folder.path(), &top, LOADS, &stages("gong", "")))
    };
    let few = run(1);
    assert!(status(&few) == 2 && stderr(&few).contains("2 are named who bring a load"), "{}", stderr(&few));
    assert!(status(&run(2)) == 0 && status(&run(60)) != 2, "{}", stdout(&run(2)));
}
