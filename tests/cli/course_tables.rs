//! A match as two hands write it: the air of a stage beside the match's, names in another case, units in heads.

use super::course_signs::{given, joined, usual};
use super::here::thickset;
use super::{status, stderr, stdout};

const LOADS: &str = "bib,load\n1,308-168-match\n2,308-168-match\n";
const STAND: &str = "[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nmount = \"captive-hook\"\n";
const ROW: &str = "stage,target,plate,face,at\nRidge,gong,3/8 in,18 in,250 yd\n";

/// The status, the page in one line, and the faults of a match.
fn asked(top: &str, loads: &str, stages: &str) -> (i32, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let rules = "schema = \"thickset/rules/1\"\nname = \"South\"\n[[rule]]\nid = \"far\"\nsubject = \"distance\"\n\
                 sense = \"at-least\"\nsuits = \"400 yd\"\nwhy = \"South range\"\n";
    std::fs::write(folder.path().join("south.toml"), rules).expect("a file");
    let output = thickset(&given(folder.path(), top, loads, stages));
    (status(&output), joined(&stdout(&output)), stderr(&output))
}

#[test]
fn a_stage_whose_air_is_given_in_part_has_the_match_s_for_the_rest() {
    let own = |air: &str| {
        format!("[air]\naltitude = \"6000 ft\"\ntemperature = \"95 F\"\n{STAND}[[stage]]\nname = \"Ridge\"\n{air}")
    };
    let (_, whole, told) = asked(&own("air = { altitude = \"6000 ft\", temperature = \"60 F\" }\n"), LOADS, ROW);
    let (_, part, _) = asked(&own("air = { temperature = \"60 F\" }\n"), LOADS, ROW);
    assert!(whole.contains("6000 ft") && whole == part, "{told}\n{whole}\n{part}");
    let (_, high, _) = asked(&own("air = { altitude = \"7000 ft\" }\n"), LOADS, ROW);
    assert!(high.contains("7000 ft") && high.contains("95 °F"), "{high}");
    // A pressure is another place than a height.
    let (code, _, told) = asked(&own("air = { pressure = \"25 inHg\" }\n"), LOADS, ROW);
    assert!(code != 2, "{told}");
}

#[test]
fn a_stage_is_one_in_whatever_case_and_with_whatever_spaces_it_is_written() {
    let stage = "[[stage]]\nname = \"Ridge 3\"\nrange-rules = [\"south.toml\"]\n";
    for name in ["Ridge 3", "ridge 3", "Ridge  3", " RIDGE 3"] {
        let row =
            format!("stage,target,plate,face,at\nRidge 3,gong,3/8 in,18 in,450 yd\n{name},plate,3/8 in,18 in,300 yd\n");
        let (code, page, told) = asked(&format!("{}{stage}", usual()), LOADS, &row);
        assert!(code == 1 && page.contains("400 yd"), "{name}: {page}{told}");
    }
    let twice = format!("{}[[stage]]\nname = \"ridge\"\n[[stage]]\nname = \"Ridge\"\n", usual());
    let (code, _, told) = asked(&twice, LOADS, ROW);
    assert!(code == 2 && told.contains("two stages are called"), "{told}");
}

#[test]
fn a_stage_s_positions_are_not_passed_over_for_a_row_s_own_distance() {
    let stage = "[[stage]]\nname = \"Ridge\"\npositions = [{ name = \"roof\", at = \"90 yd\" }]\n";
    let (code, page, told) = asked(&format!("{}{stage}", usual()), LOADS, ROW);
    assert!(
        code == 2 && !page.starts_with("READY") && told.contains("its stage's positions have theirs"),
        "{page}{told}"
    );
    // Nor are those behind the line for a row's, or a target's, own positions.
    let behind = "[[stage]]\nname = \"Ridge\"\npositions = [{ name = \"road\", back = \"0 yd\" }, \
                  { name = \"tower\", back = \"20 yd\", slope = \"-40 deg\" }]\n";
    let own =
        "[[stage.target]]\nname = \"bell\"\nplate = \"1/2 in\"\npositions = [{ name = \"road\", at = \"300 yd\" }]\n";
    let plain = "stage,target,plate,at (yd)\nRidge,gong,1/2 in,300\n";
    for (top, rows) in [
        (behind.to_owned(), "stage,target,position,plate,at (yd)\nRidge,gong,road,1/2 in,300\n"),
        (behind.to_owned(), "stage,target,plate,at (yd),to (yd)\nRidge,gong,1/2 in,300,200\n"),
        (format!("{behind}{own}"), plain),
    ] {
        let (code, page, told) = asked(&format!("{}{top}", usual()), LOADS, rows);
        assert!(
            code == 2 && !page.starts_with("READY") && told.contains("its stage has others"),
            "{rows}: {page}{told}"
        );
    }
    let past = behind.replace("0 yd\" }, ", "-300 yd\" }, ");
    let (code, page, told) = asked(&format!("{}{past}", usual()), LOADS, plain);
    assert!(code == 2 && told.contains("stands at the target, or behind it"), "{page}{told}");
    let (code, page, told) = asked(&format!("{}{behind}", usual()), LOADS, plain);
    assert!(code != 2 && page.contains("from road (300 yd) only"), "{page}{told}");
}

#[test]
fn a_stage_written_almost_as_another_is_no_stage_of_its_own() {
    let stage = "[[stage]]\nname = \"Bay 1\"\nrange-rules = [\"south.toml\"]\n";
    let row = |name: &str| format!("stage,target,plate,face,at\n{name},plate,3/8 in,18 in,300 yd\n");
    for name in ["Bay1", "bay-1", "BAY_1", "Bay 1."] {
        let (code, page, told) = asked(&format!("{}{stage}", usual()), LOADS, &row(name));
        assert!(code == 2 && told.contains("there is a stage `Bay 1`") && !page.starts_with("READY"), "{name}: {page}");
    }
    for name in ["Bay 11", "Bay 1-1", "Bay 1 b", "Bay"] {
        let (code, page, told) = asked(&format!("{}{stage}", usual()), LOADS, &row(name));
        assert!(!told.contains("there is a stage"), "{name}: {code} {page}{told}");
    }
}

#[test]
fn a_head_s_unit_is_kept_by_what_is_advised_and_by_a_mapping() {
    let loads =
        "bib,name,firearm,bullet (gr),V0 (m/s),bc,drag,construction\n1,a,rifle,168,800,0.223,G7,jacketed-lead\n";
    let (code, _, told) = asked(&usual(), loads, ROW);
    assert!(code == 2 && told.contains("`velocity (m/s)`"), "{told}");
    let stages = "stage,target,plate,face,metres\nRidge,gong,3/8 in,18 in,250\n";
    let (code, _, told) = asked(&usual(), LOADS, stages);
    assert!(code == 2 && told.contains("`at (metres)`"), "{told}");
    for (head, to) in [("Dist. (feet)", "at (yd)"), ("Dist. (feet)", "at (m)")] {
        let stages = format!("stage,target,plate,face,{head}\nRidge,gong,3/8 in,18 in,900\n");
        let (code, _, told) = asked(&format!("[columns]\n\"{head}\" = \"{to}\"\n{}", usual()), LOADS, &stages);
        assert!(code == 2 && told.contains("map it to `at (ft)`"), "{told}");
        let (code, page, told) = asked(&format!("[columns]\n\"{head}\" = \"at\"\n{}", usual()), LOADS, &stages);
        assert!(code != 2 && page.contains("300 yd"), "{page}{told}");
    }
}

#[test]
fn one_who_is_left_out_is_told_of_where_another_brings_the_same_load() {
    let stages = "stage,target,plate,face,at,without\nRidge,gong,1/2 in,18 in,400 yd,no. 2\n";
    let (code, page, told) = asked(&usual(), LOADS, stages);
    assert!(code == 2 && !page.starts_with("READY") && told.contains("`2` is left out"), "{page}{told}");
    let both = stages.replace("no. 2", "no. 2; bib 1");
    let (code, page, told) = asked(&usual(), &format!("{LOADS}3,556-55\n"), &both);
    assert!(code == 0 && page.starts_with("READY"), "{page}{told}");
}

#[test]
fn a_name_alone_is_a_listed_load_and_one_that_no_lead_core_bears_out_is_told_at_its_row() {
    let (code, page, told) = asked(&usual(), "bib,Ammo\n1,308-168-match\n", ROW.replace("250", "400").as_str());
    assert!(code == 0 && page.contains("1 load"), "{page}{told}");
    for name in ["168 mono", "lathe-turned 168", "7N6 pulls"] {
        let loads = format!(
            "bib,name,firearm,bullet (gr),velocity (fps),BC G7,construction\n1,{name},rifle,168,2650,0.223,jacketed-lead\n"
        );
        let (code, _, told) = asked(&usual(), &loads, ROW);
        assert!(code == 2 && told.contains("loads.csv:2") && told.contains("is called what"), "{name}: {told}");
    }
}

#[test]
fn so_many_plates_are_a_count_in_whatever_words() {
    for head in ["No. of plates", "pieces", "Qty", "number of targets"] {
        let stages = format!("stage,target,plate,face,at,{head}\nRidge,gong,1/2 in,18 in,400 yd,6\n");
        let (_, page, told) = asked(&usual(), LOADS, &stages);
        assert!(page.contains("6 × 1/2 in"), "{head}: {page}{told}");
    }
}

#[test]
fn a_target_that_nobody_shoots_at_has_one_row() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,class\nS,t,200,1/2 in,rifle\nS,hand,20,3/8 in,handgun\n";
    let line = given(folder.path(), &usual(), "bib,load\n1,308-168-match\n", stages);
    let rows = stdout(&thickset(&format!("{line} --format csv")));
    assert_eq!(rows.lines().count(), 3, "{rows}");
    assert!(rows.lines().any(|row| row.starts_with("S,hand,20,") && row.contains("not judged")), "{rows}");
}

#[test]
fn thirty_rows_with_the_same_fault_take_two_lines_and_all_are_named() {
    let rows: Vec<String> = (1..=30).map(|bib| format!("{bib},own,rifle,FMJ,168,2650,0.223,G7")).collect();
    let loads = format!("bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag\n{}\n", rows.join("\n"));
    let (code, page, told) = asked(STAND, &loads, ROW);
    assert_eq!(code, 2);
    assert!(page.contains("30 rows or entries not read"), "{page}");
    let line = "loads.csv, rows 2 to 31, column `construction`";
    assert!(
        page.contains(line) && page.contains("1, 2, 3 and 27 others: `FMJ` leaves the construction open"),
        "{page}"
    );
    assert_eq!((told.matches("FMJ` leaves").count(), told.contains("more fault")), (1, false), "{told}");
}
