//! Spreadsheets of a match whose heads and notes are those that people write.

use super::course_signs::{given, joined, usual};
use super::here::thickset;
use super::{status, stderr, stdout};

const LOADS: &str = "bib,load\n1,308-168-match\n";
const STAGES: &str = "stage,target,at (yd),plate,face\nRidge,gong,400,1/2 in,18 in\n";

/// The status, the page and the faults of a match, each in one line.
fn asked(top: &str, loads: &str, stages: &str) -> (i32, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let output = thickset(&given(folder.path(), top, loads, stages));
    (status(&output), joined(&stdout(&output)), joined(&stderr(&output)))
}

/// The same with a column of the table of targets that nothing reads.
fn beside(head: &str, cell: &str) -> (i32, String, String) {
    let stages = format!("stage,target,at (yd),plate,face,{head}\nRidge,gong,400,1/2 in,18 in,{cell}\n");
    asked(&usual(), LOADS, &stages)
}

/// And of the table of loads.
fn of_load(head: &str, cell: &str) -> (i32, String, String) {
    asked(&usual(), &format!("bib,load,{head}\n1,308-168-match,{cell}\n"), STAGES)
}

#[test]
fn a_setting_of_a_column_holds_for_every_table_with_that_head_and_breaks_no_other() {
    for (loads, stages) in
        [("note", "notes"), ("Comment", "Comments"), ("No", "No."), ("n", "count"), ("Dist", "at (yd)")]
    {
        let top = format!("{}[columns]\n\"{loads}\" = \"ignore\"\n", usual());
        let of_loads = format!("bib,load,{loads}\n1,308-168-match,x\n");
        let of_targets = match stages {
            "count" => "stage,target,at (yd),plate,face,count\nRidge,gong,400,1/2 in,18 in,2\n".to_owned(),
            "at (yd)" => STAGES.to_owned(),
            other => format!("stage,target,at (yd),plate,face,{other}\nRidge,gong,400,1/2 in,18 in,x\n"),
        };
        let (code, page, told) = asked(&top, &of_loads, &of_targets);
        assert!(code == 0 && page.starts_with("READY"), "{loads} {stages}: {page}{told}");
    }
    // One name of both tables, and of one kind of column.
    let top = format!("{}[columns]\n\"Name\" = \"shooter\"\n", usual());
    let stages = "stage,target,Name,at (yd),plate,face\nRidge,gong,x,400,1/2 in,18 in\n";
    let (code, page, told) = asked(&top, "Name,load\nAnn,308-168-match\n", stages);
    assert!(code == 0, "{page}{told}");
    let (code, _, told) = asked(&format!("{}[columns]\n\"nota\" = \"ignore\"\n", usual()), LOADS, STAGES);
    assert!(code == 2 && told.contains("no table has a column `nota`"), "{told}");
}

#[test]
fn no_help_makes_numbers_of_another_unit_or_of_another_place_what_is_judged() {
    for unit in ["'", "mtr", "km", "paces"] {
        let stages = format!("stage,target,at ({unit}),plate,face\nRidge,gong,900,1/2 in,18 in\n");
        let (code, _, told) = asked(&usual(), LOADS, &stages);
        assert!(code == 2 && told.contains("turn its numbers into one of `yd`, `m`"), "{unit}: {told}");
    }
    for head in ["velocity @ 100 yd (fps)", "impact velocity (ft/s)", "min velocity (fps)"] {
        let (code, _, told) = of_load(head, "2400");
        assert!(code == 2 && told.contains("`velocity` is the mean speed at the muzzle: give that"), "{head}: {told}");
        assert!(!told.contains("head it `velocity"), "{head}: {told}");
    }
    let (code, _, told) = of_load("V3 (ft/s)", "2600");
    assert!(code == 2 && told.contains("where it is the mean at the muzzle") && !told.contains("`at (yd)`"), "{told}");
    for head in ["nearest (yd)", "min distance (yd)"] {
        let (code, _, told) = beside(head, "50");
        assert!(code == 2 && told.contains("`to (yd)`") && !told.contains("remove one"), "{head}: {told}");
    }
    for (load, meant) in
        [("9mm-115+P", "`9mm-115-plusp`"), ("223-77-match", "`223-77`"), ("308-168-mach", "`308-168-match`")]
    {
        let (code, _, told) = asked(&usual(), &format!("bib,load\n1,{load}\n"), STAGES);
        assert!(code == 2 && told.contains(&format!("did you mean {meant}?")), "{load}: {told}");
    }
    let (code, _, told) = asked(&usual(), "bib,load\n1,45acp-230 +P\n", STAGES);
    assert!(code == 2 && !told.contains("did you mean `45acp-230`"), "{told}");
    let (code, _, told) = asked(&usual(), "bib,load\n1,308-168-match?\n", STAGES);
    assert!(code == 2 && told.contains("did you mean `308-168-match`"), "{told}");
}

#[test]
fn columns_and_notes_of_targets_that_speak_of_what_is_judged_stop_the_match() {
    for (head, cell) in [
        ("rules", "rr.toml"),
        ("new at", "50"),
        ("at2", "50"),
        ("P2", "50"),
        ("shift", "-250"),
        ("shooter at", "50"),
        ("loads", "300wm-180"),
        ("ammo", "300 Win Mag"),
        ("temperature", "110 F"),
        ("rotated", "60"),
        ("inspection", "failed"),
        ("safe", "no"),
        ("line", "50"),
        ("notes", "now 50"),
        ("notes", "moved to the 50"),
        ("notes", "300 Win Mag ok"),
        ("notes", "magnums ok"),
        ("notes", "DO NOT SHOOT"),
        ("notes", "out of service"),
        ("notes", "pockmarked"),
        ("notes", "heat straightened"),
        ("club", "556-62-steel"),
        ("email", "steel core"),
    ] {
        let (code, page, told) = beside(head, cell);
        assert!(code == 2 && !page.starts_with("READY"), "{head} {cell}: {page}{told}");
    }
    for word in ["pistol", "Pistols", "revolver"] {
        let (code, _, told) = beside("class", word);
        assert!(code == 2 && told.contains("leaves the class open") && told.contains("rimfire-pistol"), "{told}");
    }
    let (code, page, told) = beside("position", "50");
    assert!(code == 2 && told.contains("may be its distance"), "{page}{told}");
}

#[test]
fn columns_of_loads_that_speak_of_another_load_than_the_row_s_stop_the_match() {
    for (head, cell) in [
        ("+P", "yes"),
        ("variant", "+P"),
        ("pressure", "high"),
        ("cal", "338"),
        ("wt", "250"),
        ("powder temp", "110"),
        ("approved", "no"),
        ("refused", "yes"),
        ("team", "steel core"),
    ] {
        let (code, page, told) = of_load(head, cell);
        assert!(code == 2 && !page.starts_with("READY"), "{head} {cell}: {page}{told}");
    }
}

#[test]
fn every_column_that_nothing_reads_is_named_in_the_first_lines() {
    let heads = ["bay", "prop", "crew", "colour", "sketch", "scorekeeper", "briefing"];
    let stages = format!(
        "stage,target,at (yd),plate,face,{}\nRidge,gong,400,1/2 in,18 in,B,wall,kids,white,yes,Al,go\n",
        heads.join(",")
    );
    let (code, page, told) = asked(&usual(), LOADS, &stages);
    assert!(code == 0 && !page.contains("more;"), "{page}{told}");
    let line = page.split("Not read: ").nth(1).and_then(|rest| rest.split("; read them").next()).unwrap_or_default();
    assert!(heads.iter().all(|head| line.contains(&format!("\"{head}\""))), "{line}");
}

#[test]
fn ordinary_sheets_and_notes_stop_no_match() {
    for loads in [
        "bib,shooter,load\n1,Ann,308-168-match\n",
        "Start number,Shooter name,Load\n1,Ann,308-168-match\n",
        "Bib No.,shooter,member number,load\n1,Ann,77,308-168-match\n",
        "number,shooter,load,ZIP code\n1,Ann,308-168-match,59715\n",
        "shooter,load,notes\nAnn,308-168-match,member since 2004; bolt\n",
        "shooter,load,phone,notes\nAnn,308-168-match,07700 900123,lead core\n",
        "shooter,firearm,construction,bullet (gr),velocity (ft/s),bc,drag\nAnn,rifle,jacketed  lead,168,\"2,650\",0.223,G7\n",
    ] {
        let (code, page, told) = asked(&usual(), loads, STAGES);
        assert!(code == 0 && page.starts_with("READY"), "{loads}: {page}{told}");
    }
    for (head, cell) in [
        ("what to pin up", "sign A"),
        ("bought", "2024"),
        ("asset no", "1042"),
        ("hits so far", "900"),
        ("last inspected", "2019"),
        ("RO", "Jim Steel"),
        ("notes", "AR500"),
        ("notes", "shot from the 400 yd line"),
        ("steel", "AR-500"),
        ("weight (lb)", "65"),
        ("MOA", "4"),
    ] {
        let (code, page, told) = beside(head, cell);
        assert!(code == 0 && page.starts_with("READY"), "{head} {cell}: {page}{told}");
    }
    for (plate, face) in
        [("1/2\"", "18 in round"), ("\"1/2\"\"\"", "18 in dia"), ("1/2 in", "18\""), ("½", "18 in"), ("½ in", "18 in")]
    {
        let stages = format!("stage,target,at (yd),plate,face\nRidge,gong,400,{plate},{face}\n");
        let (code, page, told) = asked(&usual(), LOADS, &stages);
        assert!(code == 0 && page.starts_with("READY"), "{plate} {face}: {page}{told}");
    }
}

#[test]
fn all_that_is_wrong_with_the_heads_of_a_sheet_is_told_in_one_run_and_mends_it() {
    let rows = "Ann,.308 Win,SMK,175,2600,0.505,\nBob,6.5 Creedmoor,ELD,140,2700,0.620,\n";
    let (code, _, told) = asked(&usual(), &format!("Name,Caliber,Bullet,Grains,Velocity,BC,Notes\n{rows}"), STAGES);
    for said in [
        "`Velocity` has numbers without a unit",
        "`Caliber` names cartridges",
        "`Bullet` holds words, and no mass",
        "`Grains`",
        "no column says what fires the loads",
        "`BC` does not say of which model it is",
    ] {
        assert!(code == 2 && told.contains(said), "{said}: {told}");
    }
    let top = format!(
        "{}[columns]\n\"Caliber\" = \"cartridge\"\n\"Bullet\" = \"ignore\"\n\"Grains\" = \"bullet (gr)\"\n\
         \"Velocity\" = \"velocity (ft/s)\"\n\"BC\" = \"bc-g1\"\n",
        usual()
    );
    let rows = rows.replace(",\n", ",,rifle\n");
    let sheet = format!("Name,Caliber,Bullet,Grains,Velocity,BC,Notes,Firearm\n{rows}");
    let (code, page, told) = asked(&top, &sheet, STAGES);
    assert!(code != 2 && page.contains("2 loads"), "{page}{told}");
}

#[test]
fn a_title_above_the_head_and_a_total_below_the_rows_are_told_as_what_they_are() {
    let (code, _, told) = asked(&usual(), &format!("Loads of May\n\n{LOADS}"), STAGES);
    assert!(code == 2 && told.contains("the head seems to stand in row 3"), "{told}");
    let (code, _, told) = asked(&usual(), LOADS, &format!("Spring match\n{STAGES}"));
    assert!(code == 2 && told.contains("the head seems to stand in row 2"), "{told}");
    let (code, _, told) = asked(&usual(), &format!("{LOADS}Total,1\n"), STAGES);
    assert!(code == 2 && told.contains("a total of others") && told.contains("remove it"), "{told}");
}

#[test]
fn what_was_ignored_is_told_only_where_its_cells_speak() {
    let page = |head: &str, cell: &str| {
        let top = format!("{}[columns]\n\"{head}\" = \"ignore\"\n", usual());
        let loads = format!("shooter,load,{head}\nAnn,308-168-match,{cell}\n");
        asked(&top, &loads, STAGES)
    };
    for (head, cell, is_told) in [
        ("bib", "7", false),
        ("core", "no", false),
        ("core", "steel", true),
        ("chrono", "3200", true),
        ("velocity (ft/s)", "3200", true),
        ("notes", "left-handed", false),
    ] {
        let (code, page, told) = page(head, cell);
        assert_eq!(page.contains("Ignored as the match says"), is_told, "{head} {cell}: {page}{told}");
        assert_eq!(code, 0, "{head} {cell}: {told}");
    }
}
