//! What stands beside a load in a match: notes, shooters' cells, columns that are told to be left out.

use super::course_signs::{given, joined, usual};
use super::here::thickset;
use super::{status, stderr, stdout};

const STAGES: &str = "stage,target,at (yd),plate,face,class\nRidge,gong,400,1/2 in,18 in,rifle\n";

/// The status, the page and the faults of a match with loads, each in one line.
fn asked(top: &str, loads: &str) -> (i32, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let output = thickset(&given(folder.path(), &format!("{}{top}", usual()), loads, STAGES));
    (status(&output), joined(&stdout(&output)), joined(&stderr(&output)))
}

fn quoted(cell: &str) -> String {
    format!("\"{}\"", cell.replace('"', "\"\""))
}

/// A match with a note beside its load.
fn noted(note: &str) -> (i32, String, String) {
    asked("", &format!("bib,load,notes\nb1,308-168-match,{}\n", quoted(note)))
}

/// A match with one shooter's cell.
fn shot_by(who: &str) -> (i32, String, String) {
    asked("", &format!("shooter,load\n{},308-168-match\n", quoted(who)))
}

#[test]
fn another_load_in_a_column_that_is_left_out_is_told_and_no_false_alarm_hides_it() {
    let ignore = "[columns]\n\"notes\" = \"ignore\"\n";
    for note in ["will shoot 6.5 PRC on Sunday", "day 2: 300 WM", "Mosin", "300wm-180", "brings 300wm-180", "45acp-230"]
    {
        let (code, page, told) = asked(ignore, &format!("bib,load,notes\nb1,308-168-match,{note}\n"));
        let line = format!("Ignored as the match says, though it speaks of what is judged: b1: \"{note}\"");
        assert!(
            code == 0 && page.starts_with("READY as far as read: ") && page.contains(&line),
            "{note}: {page}{told}"
        );
    }
    for head in ["load 2", "other", "second gun"] {
        let top = format!("[columns]\n\"{head}\" = \"ignore\"\n");
        let (code, page, told) = asked(&top, &format!("bib,load,{head}\nb1,308-168-match,300wm-180\n"));
        assert!(code == 0 && page.contains("b1: \"300wm-180\" (row 2, "), "{head}: {page}{told}");
    }
    // A row's own load is no other, and says nothing.
    for note in ["308 Win", "paid", "308-168-match"] {
        let (code, page, told) = asked(ignore, &format!("bib,load,notes\nb1,308-168-match,{note}\n"));
        assert!(code == 0 && page.starts_with("READY: "), "{note}: {page}{told}");
    }
    let rows: Vec<String> = (1..9).map(|bib| format!("b{bib},308-168-match,steel shooter\n")).collect();
    let rows = rows.concat();
    let loads =
        format!("bib,load,notes\n{rows}b9,308-168-match,second gun: 338 Lapua\nb10,308-168-match,borrowed rifle\n");
    let (_, page, told) = asked(ignore, &loads);
    assert!(page.contains("judged: b9: \"second gun: 338 Lapua\" (row 10, notes); b1: "), "{page}{told}");
}

#[test]
fn a_load_in_a_column_of_targets_that_is_left_out_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,face,class,notes\nRidge,gong,400,1/2 in,18 in,rifle,300 WM on day 2\n";
    let top = format!("{}[columns]\n\"notes\" = \"ignore\"\n", usual());
    let page = joined(&stdout(&thickset(&given(folder.path(), &top, "bib,load\nb1,308-168-match\n", stages))));
    assert!(page.starts_with("READY as far as read") && page.contains("gong: \"300 WM on day 2\""), "{page}");
}

#[test]
fn a_shooter_s_cell_that_says_more_than_a_name_is_looked_into() {
    for who in [
        "Bob, hot loads",
        "Bob 2900 fps",
        "Bob 300wm-180",
        "300wm-180",
        "Bob (borrowed ammo)",
        "Bob / 2 guns",
        "Hunter 9mm",
        "Hunter 9 mm",
        "Bob hot loads",
        "Bob (pistol)",
        "Bob A.P.",
        "Bob - steel core",
    ] {
        let (code, page, told) = shot_by(who);
        assert!(code == 3 && page.starts_with("NOT READY: 1 name to look into"), "{who}: {page}{told}");
    }
    for who in [
        "Hunter",
        "Magnum",
        "Remington Steele Jr.",
        "Bob \"Magnum\" Smith",
        "Savage, Fred",
        "A. P. Jones",
        "A.P. Jones",
        "M. Lapua",
        "308-168-match",
        "Bob (rifle)",
        "Bob (308 Win)",
        "Bob (Gun Club)",
        "Ann (Dent family)",
        "Smith / 1204",
        "Ann (squad 2)",
        "b1",
        "6.5",
    ] {
        let (code, page, told) = shot_by(who);
        assert!(code == 0 && page.starts_with("READY"), "{who}: {page}{told}");
    }
}

#[test]
fn a_second_gun_or_more_pressure_in_a_note_stops_the_match() {
    for note in [
        "brings two loads",
        "2 guns",
        "brings a second rifle",
        "bringing both rifles",
        "swaps guns with bib 9",
        "carbine instead",
        "shoots 175s instead",
        "not the 168s",
        "load may change",
        "not sure which ammo",
        "any .308",
        "max load",
        "over book max",
        "pressure signs",
        "warm loads",
        "fast lot",
        "rechambered",
        "solid",
        "monos",
        "TTSX",
    ] {
        let (code, page, told) = noted(note);
        assert!(code == 2 && told.contains("help:") && page.contains("not read"), "{note}: {page}{told}");
        let (code, page, told) = asked(
            "[columns]\n\"notes\" = \"ignore\"\n",
            &format!("bib,load,notes\nb1,308-168-match,{}\n", quoted(note)),
        );
        assert!(code == 0 && page.contains(&format!("b1: \"{note}\" (row 2, notes)")), "{note}: {page}{told}");
    }
}

#[test]
fn what_may_be_another_gun_load_or_speed_is_quoted_in_the_first_lines() {
    for note in [
        "brings his son's rifle",
        "rental rifle",
        "borrowed ammo",
        "uses Bob's ammo",
        "shot from a pistol",
        "new load",
        "whatever is on sale",
        "FMJ",
        "ball ammo",
        "military surplus",
        "blanks",
        "PF 175",
        "subsonic",
        "28\" barrel",
        "suppressor",
        "TBD",
    ] {
        let (code, page, told) = noted(note);
        let line = format!("Maybe of another gun, load or speed than judged: b1: \"{note}\" (row 2, notes).");
        assert!(
            code == 0 && page.starts_with("READY as far as read: ") && page.contains(&line),
            "{note}: {page}{told}"
        );
    }
    for note in ["left-handed", "rifle case", "rental glasses", "3-gun veteran", "gun club member", "no pistols"] {
        let (code, page, told) = noted(note);
        assert!(code == 0 && !page.contains("Maybe of another"), "{note}: {page}{told}");
    }
}

#[test]
fn numbers_and_words_of_people_in_a_note_stop_no_match() {
    for note in [
        "phone: (555) 010-2233",
        "+1 555 010 2233",
        "ring 0207 946 0018",
        "member 1234",
        "member #1234",
        "membership 2026-114",
        "M-2231",
        "check #1024",
        "plate number KJ 4570",
        "14 May 2026",
        "14.5.2026",
        "5/14/2026",
        "paid $35 on 3/4",
        "under 18",
        "over 65",
        "17 y",
        "b. 1962",
        "arrives at 0900",
        "leaving at 4",
        "relay 1 at 9",
        "2nd place 2025",
        "hat 7 1/4",
        "looking forward to it",
        "never shot steel",
        "likes steel",
        "new to steel, left-handed",
        "many thanks to the steel crew",
        "brings hot dogs",
        "iron sights",
        "works at steel mill",
        "nickname Slug",
        "brings a chronograph",
        "no steel core",
        "no tracers",
        "magnet test passed",
        "lead core confirmed",
        "will bring a magnet",
    ] {
        let (code, page, told) = noted(note);
        assert!(code == 0 && page.starts_with("READY as far as read: "), "{note}: {page}{told}");
    }
    let (code, page, told) = asked("", "bib,load,entered\nb1,308-168-match,5/14/2026\n");
    assert!(code == 0, "{page}{told}");
    for note in [
        "likes steel core",
        "never shot steel jacketed",
        "no steel core, tracers",
        "member 2900 fps",
        "01 2650 02 2660",
        "may do 2050",
        "iron core",
        "hot",
        "nickname Slug, steel core",
        "arrives at 2650",
        "brings a chronograph: 2900",
    ] {
        let (code, page, told) = noted(note);
        assert!(code == 2, "{note}: {page}{told}");
    }
}

#[test]
fn a_first_and_a_last_name_are_the_shooter_and_a_bib_beside_a_shooter_is_a_number() {
    for (loads, who) in [
        ("first name,last name,load\nAnn,Pike,308-168-match\nCy,Dent,9mm-124\n", "Cy Dent"),
        ("Surname,First name,load\nPike,Ann,308-168-match\nDent,Cy,9mm-124\n", "Cy Dent"),
        ("first name,last name,load\nAnn,Pike,308-168-match\nCy,,9mm-124\n", "Cy"),
        ("last name,load\nPike,308-168-match\nDent,9mm-124\n", "Dent"),
    ] {
        let (_, page, told) = asked("", loads);
        assert!(page.contains(&format!("Not judged: handguns ({who}): no target")), "{page}{told}");
        assert!(!page.contains("Not read") && !page.contains("Left out"), "{page}");
    }
    let (code, page, told) = asked("", "bib,shooter,load\nb1,Ann,308-168-match\n");
    assert!(code == 0 && page.starts_with("READY: "), "{page}{told}");
    let (_, page, _) = asked("", "bib,shooter,load\nfriend of Al,Ann,308-168-match\n");
    assert!(page.contains("Not read: column \"bib\""), "{page}");
}
