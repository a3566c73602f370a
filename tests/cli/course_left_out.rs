//! A match in which loads are left out at a target: by its file, or by a fix.

use super::course_signs::{given, joined, sheet, usual};
use super::here::{json, thickset};
use super::{status, stderr, stdout};

/// Page, officer's sheet, first sign and document of a match.
fn everywhere(loads: &str, stages: &str) -> (String, String, String, serde_json::Value) {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let line = given(folder.path(), &usual(), loads, stages);
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let page = joined(&stdout(&output));
    assert!(!page.is_empty(), "{}", stderr(&output));
    (page, sheet(&sheets, "officer.html"), sheet(&sheets, "sign-01-a.html"), json(&line))
}

const LOADS: &str = "bib,load\nX,308-168-match\nY,9mm-124\n";

/// A line of rifles beside a plate that no rifle shoots at reads as leave to shoot there.
#[test]
fn a_class_has_no_line_where_every_load_of_it_is_left_out() {
    let by_fix = "stage,target,at (yd),plate,face,class\nA,g,20,3/8 in,12in,\nB,h,300,1/2 in,12in,rifle\n";
    let by_file = "stage,target,at (yd),plate,face,class,without\nA,g,20,3/8 in,12in,,X\nB,h,300,1/2 in,12in,rifle,\n";
    for stages in [by_fix, by_file] {
        let (page, officer, sign, document) = everywhere(LOADS, stages);
        for text in [&page, &officer] {
            assert!(text.contains("A handguns 20 yd; B rifles 300 yd"), "{text}");
        }
        assert!(officer.contains("handguns 20 yd") && sign.contains("handguns 20 yd"), "{sign}");
        assert!(!sign.contains("rifles 20 yd") && !officer.contains("rifles 20 yd"), "{sign}\n{officer}");
        assert!(sign.contains("308 Win 168 gr match (X)"), "{sign}");
        assert_eq!(document["stages"][0]["lines"][0], "g: handguns 20 yd", "{document}");
    }
}

#[test]
fn a_line_names_who_of_its_class_is_left_out_there() {
    let loads = "bib,load\nX,308-168-match\nY,300wm-180\n";
    let stages = "stage,target,at (yd),plate,face,class,without\nA,g,150,1/2 in,12in,rifle,Y\n\
                  A,h,250,1/2 in,12in,rifle,\n";
    let (page, officer, sign, document) = everywhere(loads, stages);
    for text in [&page, &officer] {
        assert!(text.contains("A rifles 150 yd (g without Y), 250 yd (h)."), "{text}");
    }
    assert!(sign.contains("g: rifles 150 yd without Y"), "{sign}");
    assert_eq!(document["stages"][0]["lines"][0], "g: rifles 150 yd without Y");
}

#[test]
fn loads_that_every_target_leaves_out_are_told_as_that() {
    let stages = "stage,target,at (yd),plate,face,class,without\nA,g,20,3/8 in,12in,,X\n";
    let (page, ..) = everywhere(LOADS, stages);
    assert!(page.contains("Not judged: rifles (X): every target that is for their class leaves them out"), "{page}");
}

#[test]
fn a_load_is_left_out_by_its_own_rule_and_everybody_who_fails_is_concerned() {
    let loads = "bib,load\nX,300wm-180\nV,223-77\nY,9mm-124\nZ,44mag-240\n";
    let stages = "stage,target,position,at (yd),plate,face,class\nA,g,rifles,150,3/8 in,12in,rifle\n\
                  A,g,pistols,20,3/8 in,12in,handgun\nA,h,,25,3/8 in,8in,handgun\n";
    let (page, ..) = everywhere(loads, stages);
    assert!(page.contains("leave out 44 Magnum 240 gr (Z): A g (floor handgun strong)."), "{page}");
    let rifle = page.split("leave out 300 Win Mag 180 gr (X): A g (").nth(1).expect("a fix");
    assert!(!rifle.starts_with("floor handgun"), "{rifle}");
    // A class steps back by its own rule, and those are named who bring it.
    let (page, ..) = everywhere(&loads.replace("V,223-77\n", ""), stages);
    assert!(page.contains("line to 25 yd for handguns (floor handgun strong; Z)."), "{page}");
    assert!(page.contains("line to 200 yd for rifles (floor magnum; X)."), "{page}");

    // A load left at home still fails on the targets that it does not lift.
    let stages = "stage,target,at (yd),plate,face,class\nA,one,15,3/8 in,8in,handgun\nA,two,10,3/8 in,8in,handgun\n\
                  B,three,20,3/8 in,8in,handgun\nB,thin,8,3/8 in,8in,handgun\n";
    let (_, _, _, document) = everywhere("bib,load\nP1,9mm-124\nP2,44mag-240\n", stages);
    for target in document["targets"].as_array().expect("targets") {
        let concerns = target["concerns"].as_array().expect("names");
        assert!(concerns.iter().any(|name| name == "P2"), "{target}");
        let fix = target["fix"].as_str().expect("a fix");
        assert!(!fix.contains("(or, nobody moved"), "{fix}");
    }
}

#[test]
fn a_name_that_two_targets_of_a_stage_bear_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let record =
        "[[stage]]\nname = \"A\"\n[[stage.target]]\nname = \"g\"\nplate = \"3/8 in\"\nat = \"150 yd\"\n".to_owned();
    let stages = "stage,target,at (yd),plate,face,class\nA,g,300,1/2 in,12in,rifle\n";
    let run = |top: &str| {
        let line = given(folder.path(), &format!("{}{top}", usual()), "bib,load\nX,308-168-match\n", stages);
        let output = thickset(&line);
        (status(&output), joined(&stdout(&output)) + &joined(&stderr(&output)))
    };
    let (code, text) = run(&record);
    assert!(code == 2 && text.contains("another target of the stage has this name"), "{text}");
    let (code, text) = run(&format!("{record}{}", record.replace("\"g\"", "\"h\"")));
    assert!(code == 2 && text.contains("two stages are called `A`"), "{text}");
}

/// Where a line of its own and a thicker plate serve the only rifle, it is not sent home for being alone.
#[test]
fn a_class_is_left_out_whole_only_where_nothing_near_serves_it() {
    let stages = "stage,target,position,at (yd),plate,face,class\nA,g,rifles,150,3/8 in,12in,rifle\n\
                  A,g,pistols,20,3/8 in,12in,handgun\n";
    let (page, ..) = everywhere("bib,load\nX,300wm-180\nY,9mm-124\n", stages);
    assert!(!page.contains("leave out") && page.contains("hang "), "{page}");
    let (page, ..) = everywhere(LOADS, "stage,target,at (yd),plate,face,class\nA,g,20,3/8 in,12in,\n");
    assert!(page.contains("leave out 308 Win 168 gr match (X)"), "{page}");
}

/// How a match with one load and one target comes out, by the head and the row of its table of loads.
fn out_of(head: &str, row: &str) -> (i32, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,plate,face,at\nRidge,gong,3/8 in,18 in,400 yd\n";
    let line = given(folder.path(), &usual(), &format!("{head}\n{row}\n"), stages);
    let output = thickset(&format!("{line} --format json"));
    let document: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap_or_default();
    (status(&output), document["targets"][0]["margin"].to_string(), stderr(&output))
}

#[test]
fn a_coefficient_whose_model_stands_in_the_head_is_one_of_that_model() {
    let head = "bib,name,firearm,bullet (gr),velocity (fps),construction";
    let plain = out_of(&format!("{head},bc,drag"), "7,A,rifle,168,2650,jacketed-lead,0.223,G7");
    assert_eq!(plain.0, 0, "{}", plain.2);
    for title in ["BC G7", "G7 BC", "BC (G7)", "bc_g7", "Ballistic Coefficient (G7)", "G7"] {
        let read = out_of(&format!("{head},{title}"), "7,A,rifle,168,2650,jacketed-lead,0.223");
        assert_eq!((read.0, &read.1), (0, &plain.1), "{title}: {}", read.2);
    }
    let g1 = out_of(&format!("{head},BC (G1)"), "7,A,rifle,168,2650,jacketed-lead,0.45");
    assert_eq!(g1, out_of(&format!("{head},bc,drag"), "7,A,rifle,168,2650,jacketed-lead,0.45,G1"));
    // Two of them, or another model beside it, say two things of one bullet.
    for (more, cells) in [("BC G7,BC G1", "0.223,0.45"), ("BC G7,bc", "0.223,0.223"), ("BC G7,drag", "0.223,G1")] {
        let read = out_of(&format!("{head},{more}"), &format!("7,A,rifle,168,2650,jacketed-lead,{cells}"));
        assert!(read.0 == 2 && read.2.contains("leave one of the cells empty"), "{more}: {}", read.2);
    }
    // An empty cell says nothing.
    let read = out_of(&format!("{head},BC G7,BC G1"), "7,A,rifle,168,2650,jacketed-lead,0.223,");
    assert_eq!((read.0, &read.1), (0, &plain.1), "{}", read.2);
}

#[test]
fn a_row_that_describes_its_load_under_the_head_of_listed_ones_is_told_which_head_it_needs() {
    let (code, _, told) = out_of("bib,load,firearm,bullet (gr),velocity (fps)", "7,my own,rifle,168,2650");
    assert!(code == 2 && told.contains("head this column `name`"), "{told}");
    let (code, _, told) = out_of("bib,load", "7,my own");
    assert!(code == 2 && told.contains("catalog loads"), "{told}");
}
