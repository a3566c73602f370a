//! How near anyone may come, and in which air: the same on a page, in a table and in the status.

use super::here::{json, thickset};
use super::{status, stdout};
use std::fs;

/// A page's words on one line.
fn joined(line: &str) -> String {
    stdout(&thickset(line)).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The cells of a table's first row by the names of its head.
fn first_row(line: &str) -> std::collections::HashMap<String, String> {
    let text = stdout(&thickset(&format!("{line} --format csv")));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().expect("a head").clone();
    let row = reader.records().next().expect("a row").expect("cells");
    head.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()
}

#[test]
fn of_a_cartridge_in_part_the_others_suit_in_all_of_the_air_or_the_headline_says_in_which() {
    let text = joined("vet --any .308Win@250yd --plate 3/8in");
    assert!(text.contains("; the others suit up to 4800 ft on a hot day (100 °F)"), "{text}");
    assert!(text.contains(", else from 262 yd. No distance is good for all of it: nobody nearer than 262 yd with the rest, or give the air."), "{text}");
    // From where it holds in all of the air, and in air that was all given, there is nothing to add.
    for line in [
        "vet --any .308Win@270yd --plate 3/8in",
        "vet --any .308Win@250yd --plate 3/8in --altitude 0ft --temperature 59F",
    ] {
        let text = joined(line);
        assert!(text.contains("; the others suit. No distance is good for all of it: nobody nearer than"), "{text}");
    }
}

/// A range that lets nothing leave the muzzle faster than a bullet does on a hot day.
fn range_of(speed: &str, folder: &tempfile::TempDir) -> String {
    let path = folder.path().join(format!("{}.toml", speed.replace([' ', '/'], "")));
    let rule = format!(
        "schema = \"thickset/rules/1\"\nname = \"Example\"\n[[rule]]\nid = \"berm\"\nsubject = \"muzzle-speed\"\n\
         sense = \"at-most\"\nsuits = \"{speed}\"\nwhy = \"the berm is low\"\n"
    );
    fs::write(&path, rule).expect("a file");
    path.to_str().expect("a path").to_owned()
}

#[test]
fn a_chart_s_headline_names_what_is_good_in_the_air_taken_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = range_of("2670 ft/s", &folder);
    let loads = format!("standoff --load 308-168-match --load 556-55 --load 9mm-115 --range-rules {range}");
    let text = joined(&loads);
    assert!(text.contains("; on none of these plates: 5.56 mm 55 gr; on none of these plates for all of 0 to 6000 ft at -10 to 100 °F: 308 Win 168 gr match."), "{text}");
    let text = joined(&format!("{loads} --altitude 500ft --temperature 60F"));
    assert!(text.contains("on none of these plates: 5.56 mm 55 gr.") && !text.contains("6000 ft"), "{text}");
}

const STRING: &str = "chrono 2648fps 2655fps 2641fps 2650fps 2662fps 2644fps 2651fps 2639fps 2657fps 2648fps";

#[test]
fn a_string_s_load_that_no_plate_takes_has_the_status_of_a_no_and_says_why() {
    let line = format!("{STRING} --load 308-168-match --plate 3/16in");
    let (no, text) = (status(&thickset(&line)), joined(&line));
    assert_eq!((no, status(&thickset("standoff --load 308-168-match --plate 3/16in"))), (1, 1));
    assert!(text.contains("No distance is good: centrefire, shot and muzzle-loaders want 1/4 in at least."), "{text}");
    assert!(!text.contains("Only if sound"), "{text}");
    assert_eq!(json(&line)["verdict"], "unsuitable");
    // A string alone, and one plate that takes it among others that do not.
    for line in [STRING.to_owned(), format!("{STRING} --load 308-168-match")] {
        assert_eq!((status(&thickset(&line)), &json(&line)["verdict"]), (0, &"suits".into()), "{line}");
    }
}

#[test]
fn a_string_s_load_that_is_good_in_the_air_taken_alone_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = range_of("2670 ft/s", &folder);
    let line = format!("{STRING} --load 308-168-match --plate 3/8in --range-rules {range}");
    let text = joined(&line);
    assert_eq!(status(&thickset(&line)), 0);
    assert!(text.contains("At no distance for all of 0 to 6000 ft at -10 to 100 °F: give the air."), "{text}");
    assert!(!text.contains("keep it off"), "{text}");
    let given = format!("{line} --altitude 500ft --temperature 60F");
    assert!(joined(&given).contains("Nobody nearer than 100 yd."), "{}", joined(&given));
}

#[test]
fn every_table_has_the_page_s_nearest_distance_under_one_name_and_says_which_to_go_by() {
    for (line, table, told) in [
        ("vet --load 300wm-180 --at 300yd --plate 3/8in", "", true),
        ("advise --load 308-168-match@100yd", "--table plates", false),
        ("advise --load 308-168-match@100yd", "--table nearest", false),
        ("standoff --load 308-168-match --plate 3/8in", "", true),
        (&format!("{STRING} --load 308-168-match --plate 3/8in"), "--table standoff", true),
    ] {
        for (units, name, yard) in [("us", "nearest_yd", 0.9144), ("si", "nearest_m", 1.0)] {
            let document = json(line);
            let metres = document["nearest_m"].as_f64().unwrap_or_else(|| panic!("{line}: no nearest_m"));
            // Of several plates the named one: the thinnest that suits.
            let row = match table {
                "--table plates" => named_plate(line, units),
                _ => first_row(&format!("{line} {table} --units {units}")),
            };
            let cell: f64 = row[name].parse().unwrap_or_else(|_| panic!("{line}: {row:?}"));
            assert!((0.0..1.01).contains(&(cell - metres / yard)), "{line}: {cell} for {metres} m");
            assert_eq!(row.get("go_by").map(String::as_str), told.then_some(name), "{line}");
        }
    }
    let row = first_row("standoff --load 308-168-match --plate 3/8in");
    assert_eq!(row["nearest_up_to"], "0 to 6000 ft at -10 to 100 °F");
    assert!(row.contains_key("closest_yd"), "a name in use is kept");
}

fn named_plate(line: &str, units: &str) -> std::collections::HashMap<String, String> {
    let label = json(&format!("{line} --units {units}"))["recommended"]["label"].as_str().expect("a plate").to_owned();
    let text = stdout(&thickset(&format!("{line} --format csv --table plates --units {units}")));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().expect("a head").clone();
    let row = reader.records().map(|row| row.expect("cells")).find(|row| row[0] == label).expect("its row");
    head.iter().map(str::to_owned).zip(row.iter().map(str::to_owned)).collect()
}

#[test]
fn a_distance_that_reads_as_the_nearest_is_not_nearer_than_it_in_whatever_unit_it_was_given() {
    for asked in ["100yd", "300ft", "91.44m"] {
        for line in ["vet --plate 1/2in", "standoff --plate 1/2in", "advise"] {
            let line = format!("{line} --load 308-168-match --at {asked} --altitude 0ft --temperature 59F");
            let text = joined(&line);
            assert!(text.contains("Nobody nearer than 100 yd") && !text.contains("give the air"), "{line}: {text}");
        }
    }
    let nearer = joined("vet --plate 3/8in --load 308-168-match --at 300ft");
    assert!(nearer.contains("Nobody nearer than 117 yd, or give the air."), "{nearer}");
}

#[test]
fn a_distance_that_is_good_is_never_nearer_than_the_nearest_that_is_told_beside_it() {
    // Handguns from 9.144 m.
    for (asked, told) in [("9.5m", "9.2 m"), ("9.15m", "9.2 m"), ("10m", "10 m"), ("12m", "10 m")] {
        for line in ["vet --plate 10mm", "standoff --plate 10mm", "advise"] {
            let line = format!("{line} --load 9mm-124 --at {asked} --tilt 15deg --units si");
            let text = joined(&line);
            assert!(text.contains(&format!("Nobody nearer than {told} while hot")), "{line}: {text}");
            assert!(
                !text.contains("give the air") && (told == "10 m" || !text.contains("than 10 m")),
                "{line}: {text}"
            );
        }
    }
    let row = first_row("vet --load 9mm-124 --at 9.5m --plate 10mm --tilt 15deg --units si");
    assert_eq!((row["distance_m"].as_str(), row["nearest_m"].as_str()), ("9.5", "9.2"));
    let sheet = joined("advise --load 9mm-124 --at 9.5m --tilt 15deg --units si --for \"A. Example\"");
    assert!(sheet.contains("9.2 m; nobody nearer while hot"), "{sheet}");
    assert!(joined("vet --load 9mm-124 --at 9m --plate 10mm --units si").contains("Nobody nearer than 10 m."));
}

#[test]
fn a_line_of_a_match_is_told_as_it_is_shot_from_whoever_set_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let course = folder.path().join("m.toml");
    let text = "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"9mm-124\"]\n[stand]\ncondition = \"sound\"\n\
                tilt = \"15 deg\"\n[[stage]]\nname = \"Bay\"\n[[stage.target]]\nname = \"rack\"\nplate = \"8 mm\"\nat = \"7.5 m\"\n\
                [[stage.target]]\nname = \"far\"\nplate = \"8 mm\"\nat = \"12.2 m\"\n";
    fs::write(&course, text).expect("a file");
    let line = format!("course {} --units si", course.display());
    let text = joined(&line);
    assert!(text.contains("Fix: Bay: line back by 2 m for handguns: rack"), "{text}");
    assert!(
        text.contains("Bay handguns 9.5 m (rack), 14.2 m (far)")
            || text.contains("Bay handguns 9.5 m (rack), 12.2 m (far)"),
        "{text}"
    );
    let signs = folder.path().join("signs");
    let output = thickset(&format!("{line} --sheets {}", signs.display()));
    assert_ne!(status(&output), 2);
    let sign =
        fs::read_dir(&signs).expect("signs").filter_map(|entry| fs::read_to_string(entry.expect("a sign").path()).ok());
    let sign = sign
        .map(|html| html.replace('\u{a0}', " "))
        .find(|html| html.contains("handguns 9.5 m"))
        .expect("the sign says it");
    assert!(!sign.contains("handguns 10 m"));
}

#[test]
fn what_other_air_leaves_is_never_called_by_the_words_of_what_holds_here() {
    for line in [
        "advise --any \"9.3 x 62@100m\" --any \"6.5 x 55@200m\" --units si --plate 10mm --plate 12mm",
        "advise --load 338lm-250@100m --load 243-100@100m",
    ] {
        let text = joined(line);
        assert!(text.contains("takes the rest") && text.contains(" at best borderline. "), "{line}: {text}");
    }
}

#[test]
fn what_an_air_gun_fires_is_no_faster_on_a_hot_day_and_stays_an_air_gun_s() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = folder.path().join("range.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"Example\"\n[[rule]]\nid = \"thick\"\nsubject = \"thickness\"\n\
                sense = \"at-least\"\nclass = [\"rifle\"]\nsuits = \"3/8 in\"\nwhy = \"rifles want 3/8 in\"\n";
    fs::write(&range, rule).expect("a file");
    for any in ["\".177 air gun\"", ".177", "\".22 air gun\""] {
        let line = format!("standoff --any {any} --of lead --plate 6mm --face 60mm --mount captive-hook --units si");
        for more in [String::new(), " --temperature 38C".into(), format!(" --range-rules {}", range.display())] {
            let text = joined(&format!("{line}{more}"));
            assert!(text.contains(" floor-air-gun;") && !text.contains("floor-rifle"), "{line}{more}: {text}");
            assert!(text.contains("air gun's velocity the same hot or cold") && !text.contains("powder"), "{text}");
        }
    }
    // What is faster than any air gun's is a rifle's, and driven by powder.
    let fast = "vet --firearm air-gun --construction lead --bullet 8gr --velocity 1150fps --bc 0.025 --drag G1 \
                --at 50yd --plate 1/4in";
    assert!(joined(fast).contains("powder 59 °F, 1 ft/s per °F"), "{}", joined(fast));
}

#[test]
fn the_rule_that_is_told_with_a_distance_sets_that_distance_in_every_form() {
    for load in ["308-150 --plate 10mm", "45ml-ball-128 --plate 3/8in", "308-168-match --plate 3/8in"] {
        let line = format!("standoff --load {load}");
        let (document, row, text) = (json(&line), first_row(&line), joined(&line));
        let cell = &document["rows"][0]["plates"][0];
        let by = cell["nearest_by"].as_str().expect("a rule");
        assert_eq!(
            (row["set_by"].as_str(), row["closest_set_by"].as_str()),
            (by, cell["closest"]["by"].as_str().expect("a rule"))
        );
        assert!(text.contains(&format!("Set by: {by};")), "{text}");
        // In the air where it is set, it is the rule of the closest distance.
        let hot = json(&format!("{line} --altitude 6000ft --temperature 100F --humidity 100%"));
        let closest = &hot["rows"][0]["plates"][0]["closest"];
        assert_eq!((closest["by"].as_str(), &closest["distance_m"]), (Some(by), &cell["nearest_m"]), "{line}");
    }
}

#[test]
fn a_slow_bullet_that_is_good_near_and_not_between_is_told_so_and_not_to_give_the_air() {
    let load = "--bullet 29gr --velocity 495fps --bc 0.1 --drag G1 --construction lead --firearm rimfire-rifle";
    let air = "--condition sound --tilt 15deg --altitude 0ft --temperature 59F";
    let output = thickset(&format!("vet {load} --at 20yd --plate 1/4in {air}"));
    let text = stdout(&output);
    assert_eq!(status(&output), 0, "{text}");
    let said = "Nobody nearer than 50 yd or farther than 503 yd, unless at 20 yd as asked: between it fails.";
    assert!(text.replace('\n', " ").contains(said), "{text}");
    assert!(!text.contains("give the air"), "{text}");
    let between = thickset(&format!("vet {load} --at 49yd --plate 1/4in {air}"));
    assert_eq!(status(&between), 1);
}

#[test]
fn a_distance_told_of_any_ammunition_suits_every_load_of_it() {
    // The slow one falls too steeply where the heavy one is slow enough.
    let asked = "--any \".45 Colt\" --plate 1/4in --altitude 0ft --temperature 60F --tilt 25deg --duty public";
    let output = thickset(&format!("standoff {asked} --condition sound"));
    assert!(status(&output) == 3 && stdout(&output).contains("at no distance"), "{}", stdout(&output));
    let output = thickset(&format!("vet {asked} --condition sound --at 707yd"));
    assert!(status(&output) == 3 && stdout(&output).contains("lean 32."), "{}", stdout(&output));
    let asked = asked.replace("25deg", "15deg");
    let output = thickset(&format!("standoff {asked} --condition sound"));
    assert_eq!(status(&output), 0, "{}", stdout(&output));
}

#[test]
fn a_table_of_one_load_brackets_what_is_never_better_than_borderline_and_names_the_load() {
    let asked = "standoff --any 12ga --altitude 500ft --temperature 60F --condition sound";
    let text = stdout(&thickset(asked));
    assert!(text.contains("(100 to ") && text.contains("Read so: in brackets: never better than borderline"), "{text}");
    assert!(text.starts_with("Nearest distances of any 12 gauge"), "{text}");
    assert!(stdout(&thickset("standoff --load 308-168-match")).contains(" of 308 Win 168 gr match, "));
}

#[test]
fn what_is_good_in_a_part_of_the_air_is_no_yes_and_page_status_document_and_row_say_one_thing() {
    for (asked, verdict, code) in [
        ("--load 338lm-300 --plate 1/4in", "borderline", 3),
        ("--load 308-168-copper --plate 3/8in", "borderline", 3),
        ("--load 308-168-match --plate 3/8in", "suits", 0),
        ("--load 308-168-match --plate 3/16in", "unsuitable", 1),
        ("--any 22lr --of lead --plate 3/8in", "borderline", 3),
    ] {
        let line = format!("standoff {asked}");
        let (document, row) = (json(&line), first_row(&line));
        assert_eq!(status(&thickset(&line)), code, "{asked}");
        assert_eq!((document["verdict"].as_str(), row["verdict"].as_str()), (Some(verdict), verdict), "{asked}");
        assert_eq!(document["rows"][0]["plates"][0]["verdict"], verdict, "{asked}");
    }
}

#[test]
fn how_near_any_ammunition_may_be_shot_is_one_distance_whatever_was_asked_and_wherever_it_is_told() {
    let air = "--altitude 500ft --temperature 60F --humidity 40%";
    let nearest = |line: &str| first_row(line)["nearest_yd"].clone();
    let (of, alone) = ("--any 270win --plate 3/8in", nearest(&format!("standoff --any 270win --plate 3/8in {air}")));
    assert!(!alone.is_empty());
    for yards in [100, 150, 200, 300] {
        for ask in ["standoff", "vet", "advise"] {
            let line = format!("{ask} {of} --at {yards}yd {air}");
            assert_eq!(nearest(&line), alone, "{line}");
        }
    }
    // The fastest suits it from where the slowest comes down too steeply.
    for line in
        ["standoff --any 45-70 --plate 1/4in", "vet --any 45-70@2200yd --plate 1/4in", "advise --any 45-70@2200yd"]
    {
        let text = joined(line);
        let none =
            ["No distance is good for all of 0 to", "At no distance on 1/4 in for all of", "At no distance for all of"];
        assert!(none.iter().any(|words| text.contains(words)) && !text.contains("obody nearer"), "{line}: {text}");
        assert_eq!(nearest(line), "", "{line}");
    }
}

#[test]
fn the_risk_of_a_match_holds_for_all_of_the_air_that_its_distance_holds_for() {
    let line = "standoff --load 556-55 --plate 3/8in --shooters 40 --rounds 120";
    let open = json(line);
    assert_eq!(open["match_risk"]["safe_m"], open["rows"][0]["plates"][0]["nearest_m"]);
    let at = format!("{line} --at 172yd");
    let told = json(&at);
    let chance = |of: &str| told["match_risk"][of].as_f64().expect("a chance");
    assert!(chance("chance_in_air_taken") < 0.01 && chance("chance") > 0.5, "{told}");
    let page = stdout(&thickset(&at)).split_whitespace().collect::<Vec<_>>().join(" ");
    let risk = "in the worst of the air, 0.55 % in this air, that a shot passes the 2850 ft/s ceiling at 172 yd; 1.00 % \
                or less from 248 yd on.";
    assert!(page.contains(risk), "{page}");
    // Where all of the air was given there is one.
    let given = json(&format!("{at} --altitude 500ft --temperature 60F --humidity 0%"));
    assert_eq!(given["match_risk"]["chance"], given["match_risk"]["chance_in_air_taken"]);
    assert!(!given["match_risk"]["words"].as_str().expect("words").contains("air"), "{given}");
}

#[test]
fn a_spreadsheet_says_of_which_air_a_borderline_distance_is() {
    let row = first_row("standoff --any .45-70 --plate 3/8in --at 100yd");
    let number = |key: &str| row[key].parse::<f64>().unwrap_or_else(|_| panic!("{key}: {row:?}"));
    assert!(number("borderline_from_yd") < number("nearest_yd"), "{row:?}");
    assert_eq!(row["borderline_up_to"], row["nearest_up_to"]);
    assert!(!row["borderline_up_to"].is_empty(), "{row:?}");
    let none = first_row("standoff --load 308-150 --plate 3/16in");
    assert!(none["borderline_from_yd"].is_empty() && none["borderline_up_to"].is_empty(), "{none:?}");
}
