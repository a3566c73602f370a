//! Cartridges, masses and temperatures that are heard however people write them beside a string, and in a match.

use super::course_signs::joined;
use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const LOAD: &str = "--load 308-168-match --plate 1/2in";

/// Runs `chrono` on a line above a string of a listed load, with more options.
fn under(line: &str, more: &str) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("c.csv");
    fs::write(&path, format!("{line}\nshot,fps\n1,2650\n2,2655\n3,2648\n")).expect("a file");
    thickset(&format!("chrono {} {more}", path.display()))
}

/// Asserts that a line above the string is refused with words, and others are not.
fn told_from(refused: &[&str], why: &str, taken: &[&str]) {
    for line in refused {
        let output = under(line, LOAD);
        let told = joined(&stderr(&output));
        assert!(status(&output) == 2 && told.contains(why) && told.contains("help:"), "{line}: {told}");
    }
    for line in taken {
        let output = under(line, LOAD);
        assert_eq!(status(&output), 0, "{line}: {}", stderr(&output));
    }
}

#[test]
fn a_cartridge_of_two_numbers_or_one_is_heard_above_a_string() {
    told_from(
        &[
            "Load: 30-06",
            "Load: .30-06",
            "Load: 6.5-284",
            "Ammo,45-70",
            "Notes: 30-30, cold",
            "Load,7-08",
            "Load: 223",
            "25-06",
            "6.5 Creedmoor",
            "Cartridge: 243",
            "Calibre,270",
            "Load: 30-06-180gr",
            "Ammo: 223 55 FMJ",
            "Load: 30\u{2013}06",
        ],
        "is of another load",
        &[
            "Load: 308",
            "Date: 30-06",
            "Session: 25-06",
            "Notes: 5-10 shots",
            "Air: 45-70 F",
            "Lot: 223",
            "Score: 30-30",
            "Load: 7.62 x 51 and .308 Win",
        ],
    );
}

#[test]
fn a_cartridge_that_a_competitor_brings_is_heard_in_the_notes() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    let text = "schema = \"thickset/course/1\"\nname = \"M\"\ndeclared = [\"shooters.csv\"]\n[[stage]]\nname = \"S\"\n\
                air = { altitude = \"500 ft\", temperature = \"60 F\" }\n[[stage.target]]\nname = \"t\"\nplate = \"1/2 in\"\n\
                at = \"300 yd\"\nstand = { condition = \"sound\", tilt = \"20 deg\" }\n";
    fs::write(path("m.toml"), text).expect("a file");
    let course = |notes: &str| {
        fs::write(path("shooters.csv"), format!("shooter,load,notes\nAnn,308-168-match,{notes}\n")).expect("a file");
        thickset(&format!("course {}", path("m.toml").display()))
    };
    for notes in ["brings .30-06", "second rifle 6.5-284", "45-70", "spare rifle 223"] {
        let output = course(notes);
        assert!(stderr(&output).contains("names another load than the row's"), "{notes}: {}", stdout(&output));
    }
    for notes in ["paid 30", "squad 2", "arrives 7-08-2026", "bib 223", "rifle 308 Win", "bring 2 guns"] {
        let output = course(notes);
        assert!(!stderr(&output).contains("names another load"), "{notes}: {}", stderr(&output));
    }
}

#[test]
fn a_temperature_is_heard_with_its_sign_and_its_unit_in_words_and_is_not_told_to_be_left_out() {
    let powder = |line: &str| {
        let output = under(line, &format!("{LOAD} --format json"));
        let document: serde_json::Value = serde_json::from_str(&stdout(&output)).expect("JSON");
        let at = document["inputs"]["load"]["measured_at_k"].as_f64().expect("a temperature");
        (((at - 273.15) * 1.8 + 32.0).round(), document["left_out"].to_string())
    };
    for (line, fahrenheit) in [
        ("Temp: minus 5 C", 23.0),
        ("TEMPERATURE (FAHRENHEIT),20", 20.0),
        ("Temp: 20 Fahrenheit", 20.0),
        ("Temp: 20º F", 20.0),
        ("Temp: 20 degrees", 20.0),
        ("Temperature: 20", 20.0),
        ("Ambient: 20F", 20.0),
        ("Weather: 14F, wind 5", 14.0),
        ("Temp: 10 Celsius", 50.0),
    ] {
        let (at, left_out) = powder(line);
        assert!(at == fahrenheit && !left_out.contains(line), "{line}: {at} °F, {left_out}");
    }
    let told = joined(&stdout(&under("Temperature: 20", &format!("{LOAD} --full"))));
    assert!(told.contains("no unit stands there, and it is read as the colder"), "{told}");
}

#[test]
fn a_mass_without_a_unit_is_heard_where_it_may_be_the_bullet_s() {
    told_from(
        &[
            "Bullet: 175 match",
            "Load,175 match",
            "bullet wt 175",
            "gr: 175",
            "Maker 178 match",
            "Maker 178 ABC",
            "Load: 155",
            "Ammo: 308 180 FMJ",
            "Load: 308 Win 175 match",
            "Bullet: 55 FMJ",
            "Notes: maker 178 hollow point",
        ],
        "is of another load",
        &[
            "Bullet: 168 match",
            "Load,168 match over 44",
            "bullet wt 168",
            "gr: 168",
            "Powder: 41.0",
            "Powder: 150 X",
            "Primer: 210M",
            "Primer,200",
            "Lot 175 ABC",
            "Load: box of 200",
            "Load: 3",
            "Load: 30",
            "COAL 2.800",
            "Cases: 150",
            "Ammo: 200 rounds",
            "Bullet: .308 hollow point",
            "Bullet: 308 match",
            "Load: test 120",
            "Range 200 yd",
            "Lane 200 north",
            "Session 120 AM",
            "Bullet BC: 0.218 G7",
        ],
    );
}

#[test]
fn a_title_that_begins_with_a_number_is_none_of_the_readings() {
    told_from(
        &["308 Win 175 gr", "6.5 Creedmoor", "223 Rem", "308 solid copper"],
        "is of another load",
        &["308 Win 168 gr", "2026-05-01", "05/01/2026", "3 shots", "1.5.2026 range day", "2026-05-01\n308 Win"],
    );
    // What may be a reading is one.
    for line in ["2648", "2648 warm", "2648 fps", "2,648", "5 shots\n2648"] {
        assert_eq!(status(&under(line, LOAD)), 2, "{line}");
    }
    for head in ["ft/sec", "Speed (ft/sec)", "velocity ft/sec"] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("c.csv");
        fs::write(&path, format!("shot,{head}\n1,2650\n2,2655\n3,2648\n")).expect("a file");
        let output = thickset(&format!("chrono {}", path.display()));
        assert_eq!(status(&output), 0, "{head}: {}", stderr(&output));
    }
}

#[test]
fn a_case_of_steel_is_no_bullet_of_it_and_a_core_is() {
    told_from(
        &["Bullet: steel", "Brand: steelcase, steel core"],
        "is of another load",
        &["Brand: steelcase", "Maker, steel case", "Ammo: steelcased"],
    );
}

#[test]
fn two_files_of_readings_are_told_to_be_asked_for_one_by_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name);
    for name in ["a.csv", "b.csv"] {
        fs::write(path(name), "shot,fps\n1,2650\n2,2655\n3,2648\n").expect("a file");
    }
    for line in [
        format!("chrono {} {}", path("a.csv").display(), path("b.csv").display()),
        format!("chrono 2650fps {}", path("b.csv").display()),
        format!("chrono {} 2650fps 2655fps", path("a.csv").display()),
    ] {
        let output = thickset(&line);
        let told = joined(&stderr(&output));
        assert!(status(&output) == 2 && told.contains("one file") && told.contains("help:"), "{told}");
    }
}

#[test]
fn a_sum_on_the_first_line_of_a_list_is_held_against_the_shots_and_heard_as_any_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("list.txt");
    let run = |first: &str| {
        fs::write(&path, format!("{first}\n2640 fps\n2655 fps\n2648 fps\n")).expect("a file");
        thickset(&format!("chrono {} {LOAD}", path.display()))
    };
    for (line, why) in [
        ("Mean 2900", "a faster mean"),
        ("Max: 2950", "the fastest shot that this row tells of is not in the table"),
        ("Min 2390", "the slowest shot that this row tells of is not in the table"),
        ("Average 2648 with 300 WM", "is of another load"),
        ("Avg 175 gr", "is of another load"),
    ] {
        let output = run(line);
        assert!(status(&output) == 2 && joined(&stderr(&output)).contains(why), "{line}: {}", stderr(&output));
    }
    for line in ["Mean 2648", "SD 7.5", "ES: 15", "Mean 2648 of the 168 gr", "Min 2640"] {
        let output = run(line);
        assert_eq!(status(&output), 0, "{line}: {}", stderr(&output));
    }
}

#[test]
fn the_cold_in_a_note_beside_a_shot_is_taken_as_that_of_a_line_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let (table, saved) = (folder.path().join("d.csv"), folder.path().join("o.toml"));
    for (head, note) in [("Notes", "powder at -30 F"), ("Comment", "temp minus 30 F"), ("Conditions", "-30 F")] {
        fs::write(&table, format!("Shot,Velocity (fps),{head}\n1,2655,\n2,2650,{note}\n3,2648,\n")).expect("a file");
        let line = format!("chrono {} --load 308-168-match --save {} --id x", table.display(), saved.display());
        assert_eq!(status(&thickset(&line)), 0, "{note}");
        let kept = fs::read_to_string(&saved).expect("a saved load");
        assert!(kept.contains("measured-at = \"-30"), "{head} {note}: {kept}");
        fs::remove_file(&saved).expect("a saved load");
    }
}
