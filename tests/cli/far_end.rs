//! Up to where a load suits: a range's own least speed and a bullet that falls too steeply end it, and every page that
//! tells from where says so.

use super::course_signs::{given, joined as on_one_line};
use super::here::{json, thickset};
use super::stdout;
use std::path::PathBuf;

const SLOW: &str = r#"schema = "thickset/rules/1"
name = "Club"
[[rule]]
id = "slow"
subject = "slow-speed"
sense = "at-least"
suits = "2000 ft/s"
why = "comes back"
"#;
const LEANING: &str = r#"schema = "thickset/rules/1"
name = "Club"
[[rule]]
id = "slow"
subject = "slow-speed"
sense = "at-least"
suits = "700 ft/s"
borderline = "600 ft/s"
why = "comes back"
[[rule]]
id = "lean"
subject = "lean"
sense = "at-most"
suits = "20 deg"
borderline = "25 deg"
why = "glances on"
"#;
const AIR: &str = "--altitude 0ft --temperature 59F --humidity 0% --tilt 15deg";

fn club(name: &str, rules: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("thickset-far-end-{name}-{}.toml", std::process::id()));
    std::fs::write(&path, rules).expect("a file");
    path
}

fn joined(line: &str) -> String {
    on_one_line(&stdout(&thickset(line)))
}

#[test]
fn a_range_s_least_speed_ends_the_distance_on_every_page_and_vet_agrees() {
    let path = club("slow", SLOW);
    let line = format!("--range-rules {} --load 308-168-match --plate 3/8in {AIR}", path.display());
    let told = json(&format!("standoff {line}"));
    let cell = &told["rows"][0]["plates"][0];
    let metres = cell["farthest_m"].as_f64().unwrap_or_else(|| panic!("{cell}"));
    let yards = (metres / 0.9144).floor();
    for (at, verdict) in [(yards, "suits"), (yards + 2.0, "unsuitable"), (500.0, "unsuitable")] {
        assert_eq!(json(&format!("vet {line} --at {at}yd"))["verdict"], verdict, "{at}");
    }
    let between = format!("no closer than 100 yd and no farther than {yards} yd");
    assert!(joined(&format!("standoff {line}")).contains(&between));
    assert!(joined(&format!("standoff {line} --at 500yd")).contains(&between));
    let csv = stdout(&thickset(&format!("standoff {line} --format csv")));
    assert!(csv.lines().any(|row| row.ends_with("farthest_yd,borderline_to_yd")), "{csv}");
    assert!(csv.lines().any(|row| row.ends_with(&format!(",{yards},"))), "{csv}");
    let stretch = format!("100 to {yards} yd");
    for (sheet, told) in [("--tag", stretch.clone()), ("--chart", format!("100 to {yards}"))] {
        let page = joined(&format!("standoff {line} {sheet}")).replace('\u{a0}', " ");
        assert!(page.contains(&told) && page.contains("not shot from beyond the second"), "{sheet}: {page}");
    }
    let chart = joined(&format!("standoff --range-rules {} --load 308-168-match --load 223-55 {AIR}", path.display()));
    assert!(chart.contains(&stretch), "{chart}");
    let string = "chrono 2640fps 2655fps 2648fps 2660fps 2651fps 2645fps";
    let chrono = joined(&format!("{string} {line}"));
    assert!(chrono.contains("100 to "), "{chrono}");
    std::fs::remove_file(path).expect("removed");
}

#[test]
fn what_falls_too_steeply_is_told_up_to_where_it_suits_and_what_suits_as_far_as_people_shoot_is_told_as_ever() {
    for (load, far) in [("177air-pellet-8", 400.0), ("12ga-bird-75", 250.0)] {
        let line = format!("--load {load} --plate 3/8in {AIR}");
        let told = json(&format!("standoff {line}"));
        let metres = told["rows"][0]["plates"][0]["farthest_m"].as_f64().unwrap_or_else(|| panic!("{told}"));
        let yards = (metres / 0.9144).floor();
        assert!(yards < far, "{load}: {yards}");
        assert_eq!(json(&format!("vet {line} --at {yards}yd"))["verdict"], "suits", "{load}");
        assert_ne!(json(&format!("vet {line} --at {}yd", yards + 2.0))["verdict"], "suits", "{load}");
    }
    let told = json(&format!("standoff --load 308-168-match --plate 3/8in {AIR}"));
    assert!(told["rows"][0]["plates"][0]["farthest_m"].is_null(), "{told}");
    assert!(!joined(&format!("standoff --load 308-168-match {AIR}")).contains("farther than"));
    // A chart names below it what its cells have no room for.
    assert!(joined("standoff --tilt 15deg").contains("No farther: 12 ga birdshot No. 8, 1 oz "));
}

#[test]
fn a_floor_beyond_every_bullet_is_the_reason_that_nothing_is_within_reach() {
    let rules =
        SLOW.replace("slow-speed", "distance").replace("2000 ft/s", "1e9 yd").replace("comes back", "club says");
    let path = club("floor", &rules);
    let page = joined(&format!("standoff --range-rules {} --load 308-168-match --plate 3/8in {AIR}", path.display()));
    assert!(page.contains("not within reach: club says."), "{page}");
    std::fs::remove_file(path).expect("removed");
}

#[test]
fn a_target_of_a_match_shot_at_from_too_far_is_told_from_where_to_where_it_suits() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("club.toml"), SLOW).expect("a file");
    for air in ["[air]\naltitude = \"0 ft\"\ntemperature = \"59 F\"\n", ""] {
        let head = format!(
            "range-rules = [\"club.toml\"]\n{air}[stand]\ntilt = \"15 deg\"\nduty = \"private\"\ncondition = \"sound\"\n"
        );
        let (loads, stages) = ("bib,load\n1,308-168-match\n", "stage,target,at (yd),plate\nS,t,500,3/8 in\n");
        let page = on_one_line(&stdout(&thickset(&given(folder.path(), &head, loads, stages))));
        let told = "no fix found (slow, Club): suits nearer, from ";
        let (_, behind) = page.split_once(told).unwrap_or_else(|| panic!("{page}"));
        let yards = behind.split(' ').nth(3).unwrap_or_default();
        assert!(page.contains("yd; there, or take it down"), "{page}");
        let nearer = stages.replace("500", yards);
        let page = on_one_line(&stdout(&thickset(&given(folder.path(), &head, loads, &nearer))));
        assert!(page.starts_with("READY: "), "{yards}: {page}");
    }
}

#[test]
fn a_match_tells_the_powder_of_a_load_that_was_measured_and_takes_that_of_others() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = |loads: &str| {
        let head = "[air]\naltitude = \"0 ft\"\ntemperature = \"59 F\"\n[stand]\ncondition = \"sound\"\n";
        let stages = "stage,target,at (yd),plate\nS,t,300,3/8 in\n";
        let line = given(folder.path(), head, loads, stages);
        on_one_line(&stdout(&thickset(&format!("{line} --full"))))
    };
    let head = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)";
    let cells = "1,x,rifle,jacketed lead,55,3240,0.27,G1,0.224";
    let measured = page(&format!("{head},measured at\n{cells},20 F\n"));
    assert!(!measured.contains("muzzle velocity at 59 °F"), "{measured}");
    assert!(measured.contains("muzzle velocity measured at 20 °F"), "{measured}");
    let listed = page("bib,load\n1,308-168-match\n");
    assert!(listed.contains("muzzle velocity at 59 °F, 1 ft/s per °F"), "{listed}");
}

#[test]
fn a_yes_and_a_way_out_tell_up_to_where_they_hold_also_on_the_customer_s_sheet() {
    let path = club("told", SLOW);
    let line = format!("--range-rules {} --load 308-168-match {AIR}", path.display());
    let told = json(&format!("standoff {line} --plate 3/8in"));
    let metres = told["rows"][0]["plates"][0]["farthest_m"].as_f64().unwrap_or_else(|| panic!("{told}"));
    let yards = (metres / 0.9144).floor();
    let said = format!("Nobody nearer than 100 yd or farther than {yards} yd");
    for question in ["vet", "advise", "advise --for Joe", "standoff"] {
        let at = if question == "standoff" { "" } else { "--at 150yd" };
        let page = joined(&format!("{question} {line} --plate 3/8in {at}")).replace('\u{a0}', " ");
        assert!(page.contains(&said), "{question}: {page}");
    }
    let near = json(&format!("advise {line} --at 150yd"));
    assert!(near["nearest_by_load"][0]["farthest_m"].as_f64().is_some_and(|end| (end - metres).abs() < 0.2), "{near}");
    for (question, words) in [("vet", format!("Shoot from 100 yd to {yards} yd")), ("advise", format!("to {yards} yd"))]
    {
        let page = joined(&format!("{question} {line} --plate 3/8in --at 50yd"));
        assert!(page.contains(&words), "{question}: {page}");
    }
    std::fs::remove_file(path).expect("removed");
}

#[test]
fn the_far_end_holds_for_every_lean_that_is_told_with_it() {
    let line = "--load 38spl-148-wc --plate 3/8in --altitude 0ft..6000ft --temperature=-10F..100F";
    let page = joined(&format!("standoff {line}"));
    let told = json(&format!("standoff {line}"));
    let metres = told["rows"][0]["plates"][0]["farthest_m"].as_f64().unwrap_or_else(|| panic!("{told}"));
    assert!(page.contains("leaning 0–20° toward you"), "{page}");
    let end = (metres / 0.9144).floor();
    for lean in [0, 10, 20] {
        let at_the_end = json(&format!("vet {line} --at {end}yd --tilt {lean}deg"));
        assert_eq!(at_the_end["verdict"], "suits", "{lean}: {at_the_end}");
    }
    assert_ne!(json(&format!("vet {line} --at {}yd --tilt 20deg", end + 2.0))["verdict"], "suits");
}

#[test]
fn what_is_borderline_at_best_is_told_up_to_where_it_is_and_vet_agrees() {
    let line =
        "--load 12ga-buck-00 --plate 3/8in --steel unknown --altitude 0ft --temperature 0F --humidity 0% --tilt 15deg";
    let told = json(&format!("standoff {line}"));
    let closest = &told["rows"][0]["plates"][0]["closest"];
    let yards = |key: &str| closest[key].as_f64().unwrap_or_else(|| panic!("{told}")) / 0.9144;
    let (from, to) = (yards("borderline_m"), yards("borderline_to_m").floor());
    let said = format!("borderline from {from:.0} yd to {to} yd");
    assert!(joined(&format!("standoff {line}")).contains(&said), "{said}: {told}");
    for (at, verdict) in [(from, "borderline"), (to, "borderline"), (to + 2.0, "unsuitable")] {
        assert_eq!(json(&format!("vet {line} --at {at}yd"))["verdict"], verdict, "{at}");
    }
    let chart = joined("standoff --steel unknown --altitude 0ft --temperature 0F --humidity 0% --tilt 15deg");
    assert!(chart.contains(&format!("({from:.0} to {to} yd)")), "{chart}");
}

/// The most lean that a page tells, degrees.
fn most_lean(page: &str) -> i32 {
    let told =
        page.split("leaning ").nth(1).and_then(|rest| rest.split('°').next()).unwrap_or_else(|| panic!("{page}"));
    told.split('–').next_back().and_then(|most| most.parse().ok()).unwrap_or_else(|| panic!("{page}"))
}

#[test]
fn what_suits_where_it_is_asked_suits_at_the_most_lean_that_is_told_in_all_of_the_air_and_lies_before_the_end() {
    for asked in [
        "--load 12ga-buck-00 --plate 1/4in --condition sound --slope=-5deg --at 400yd",
        "--load 4570-405 --plate 3/4in --condition sound --altitude 500ft --at 1500yd",
    ] {
        let at: f64 = asked.rsplit(' ').next().and_then(|at| at.trim_end_matches("yd").parse().ok()).expect("yards");
        for question in ["vet", "standoff", "advise"] {
            let line = format!("{question} {asked}");
            let page = joined(&line);
            let end = page.split("farther than ").nth(1).and_then(|end| end.split(' ').next()?.parse::<f64>().ok());
            assert!(end.is_none_or(|end| end >= at), "{line}: {page}");
            let leaning = joined(&format!("vet {asked} --tilt {}deg", most_lean(&page)));
            assert!(leaning.starts_with("Suits: "), "{line}: {leaning}");
        }
    }
}

#[test]
fn the_lean_beside_a_no_holds_where_it_is_told_to_suit() {
    let path = club("lean", LEANING);
    let asked = format!("--load 22air-slug-30 --plate 3/16in --condition sound --range-rules {}", path.display());
    let page = joined(&format!("vet {asked} --at 150yd"));
    let (from, to) = page
        .split("suits from ")
        .nth(1)
        .and_then(|rest| rest.split_once(" yd to "))
        .and_then(|(from, rest)| Some((from.parse::<f64>().ok()?, rest.split(' ').next()?.parse::<f64>().ok()?)))
        .unwrap_or_else(|| panic!("{page}"));
    for at in [from, to] {
        let leaning = joined(&format!("vet {asked} --at {at}yd --tilt {}deg", most_lean(&page)));
        assert!(leaning.starts_with("Suits"), "{at}: {leaning}\n{page}");
    }
    std::fs::remove_file(path).expect("removed");
}
