//! What is asked in metric units is answered in them, numbers in reasons, examples and help as well.

use super::course_signs::joined;
use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fs;

fn told(line: &str) -> String {
    let output = thickset(line);
    joined(&(stdout(&output) + &stderr(&output)))
}

/// Whether a text holds a number of a unit of the trade.
fn has_unit_of_the_trade(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.windows(2).any(|pair| {
        let unit = pair[1].trim_matches(|c: char| !c.is_alphanumeric() && c != '/');
        // A load is called by its grains, and a column by its unit in brackets.
        let is_unit = ["in", "yd", "ft", "ft/s", "ft·lbf", "lb"].contains(&unit) && !pair[1].starts_with('(');
        is_unit && pair[0].ends_with(|c: char| c.is_ascii_digit())
    })
}

#[test]
fn reasons_of_the_house_are_in_the_units_asked_for() {
    for line in [
        "standoff --load 308-150 --plate 4.8mm",
        "standoff --load 22lr-hv-40 --plate 4mm",
        "vet --load 308-150 --plate 4.8mm --at 50m",
        "vet --load 22air-slug-30 --plate 4mm --at 20m",
    ] {
        let page = told(&format!("{line} --units si"));
        assert!(!has_unit_of_the_trade(&page), "{line}: {page}");
    }
    assert!(told("standoff --load 308-150 --plate 4.8mm --units si").contains("want 6.35 mm at least"));
    assert!(told("standoff --load 308-150 --plate 3/16in").contains("want 1/4 in at least"));
    let document = json("catalog rules --units si");
    for rule in document["rules"].as_array().or(document["listed"].as_array()).expect("rules") {
        let text = format!("{} {}", rule["why"].as_str().expect("why"), rule["next"].as_str().expect("next"));
        assert!(!has_unit_of_the_trade(&text), "{text}");
    }
}

#[test]
fn rows_of_a_flight_stand_at_whole_metres() {
    let rows = json("strike --load 308-168-match --units si")["rows"].as_array().expect("rows").clone();
    let at: Vec<f64> = rows.iter().map(|row| row["distance_m"].as_f64().expect("metres")).collect();
    assert_eq!(at, [0.0, 100.0, 200.0, 300.0, 400.0, 500.0]);
    let yards = json("strike --load 308-168-match")["rows"][1]["distance_m"].as_f64();
    assert_eq!(yards, Some(91.44));
}

#[test]
fn examples_and_help_are_in_the_units_asked_for() {
    for file in ["rules", "loads", "shop", "match", "inquiry", "outline", "plates"] {
        let text = told(&format!("catalog keys {file} --units si"));
        assert!(!has_unit_of_the_trade(&text), "{file}: {text}");
    }
    assert!(told("catalog keys rules").contains("`150 yd`"));
    let vet = "vet --load 308-168-match --at 100m --plate 10mm";
    assert!(told(&format!("{vet} --pressure 1013")).contains("`1013 inHg` or `1013 hPa`"));
    assert!(told(&format!("{vet} --pressure 1013 --units si")).contains("write `1013 hPa`"));
    assert!(
        told("vet --load 308-168-match --at 100m --plate 10mm --altitude 200 --units si").contains("write `200 m`")
    );
}

#[test]
fn a_ceiling_is_rounded_down() {
    // 2850 ft/s are 868.68 m/s.
    let text = told("vet --load 308-168-match --at 100m --plate 10mm --units si --explain");
    assert!(text.contains("at most 868 m/s") && !text.contains("869 m/s"), "{text}");
}

#[test]
fn a_space_in_a_number_is_told_as_one_and_a_head_is_answered_in_its_unit() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = folder.path().join("range.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"Example\"\n[[rule]]\nid = \"a\"\nsubject = \"muzzle-energy\"\n\
                sense = \"at-most\"\nsuits = \"4 500 J\"\nwhy = \"x\"\n";
    fs::write(&range, rule).expect("a file");
    let text = told(&format!("vet --load 308-150 --at 100m --plate 10mm --range-rules {}", range.display()));
    assert!(text.contains("`4 500 J` has a space in its number") && text.contains("`4500 J`"), "{text}");
    let path = folder.path().join("match.toml");
    fs::write(folder.path().join("t.csv"), "stage,target,Distanz (m),plate\nA,T,100,10 mm\n").expect("a file");
    let text = "schema = \"thickset/course/1\"\nname = \"m\"\nloads = [\"308-168-match\"]\ntargets = [\"t.csv\"]\n";
    fs::write(&path, text).expect("a file");
    let text = told(&format!("course {}", path.display()));
    assert!(text.contains("head it `at (m)`"), "{text}");
}

#[test]
fn a_speed_in_metres_a_second_is_not_asked_for_its_unit() {
    let own = "--bullet 10g --bc 0.3 --drag G1 --construction jacketed-lead --firearm rifle --at 100m --plate 10mm";
    for units in ["us", "si"] {
        let output = thickset(&format!("vet {own} --velocity 296m/s --units {units}"));
        assert_eq!(status(&output), 0, "{}", stderr(&output));
    }
    for slip in ["905fps", "905.5fps", "949fps"] {
        let text = told(&format!("vet {own} --velocity {slip}"));
        assert!(text.contains("is it") && text.contains("m/s?"), "{text}");
    }
    // A subsonic load may leave so.
    let text = told(&format!("vet {own} --velocity 971fps"));
    assert!(text.contains("971 ft/s as written, not 971 m/s"), "{text}");
}

#[test]
fn a_drawing_s_parts_are_told_in_both_systems() {
    let text = told("vet --load 308-150 --at 100m --plate 10mm --outline tests/drawings/F_two_parts.dxf --units si");
    assert!(text.contains(" in (") && text.contains(" mm) about"), "{text}");
}

#[test]
fn a_chart_names_the_range_s_rule_and_what_is_good_in_the_air_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = folder.path().join("range.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"Example\"\n[[rule]]\nid = \"berm\"\nsubject = \"muzzle-speed\"\n\
                sense = \"at-most\"\nsuits = \"2670 ft/s\"\nwhy = \"the berm is low\"\n";
    fs::write(&range, rule).expect("a file");
    let loads = "--load 308-168-match --load 556-55 --load 9mm-115 --plate 3/8in --plate 1/2in";
    let text = told(&format!("standoff {loads} --range-rules {}", range.display()));
    assert!(text.contains("308 Win 168 gr match give the air give the air"), "{text}");
    assert!(text.contains("range: the range's own rule `berm`"), "{text}");
    assert!(text.contains("give the air: good in the air that was taken"), "{text}");
}

#[test]
fn the_ceilings_of_any_ammunition_are_those_of_all_that_was_judged_where_a_load_of_both_suits() {
    let line = "standoff --any \"9.3 x 62\" --of jacketed-lead --plate 12mm";
    let document = json(line);
    let cell = &document["rows"][0]["plates"][0];
    let (speed, energy) = (cell["ceiling_m_s"].as_f64().expect("m/s"), cell["ceiling_j"].as_f64().expect("J"));
    let loads = document["inputs"]["loads"].as_array().expect("loads");
    for load in loads {
        let (v, m) = (load["muzzle_velocity_m_s"].as_f64().expect("m/s"), load["bullet_kg"].as_f64().expect("kg"));
        assert!(v <= speed + 1e-6 && 0.5 * m * v * v <= energy + 1e-3, "{load}");
    }
    // A load of the ceiling's speed and energy suits from where it is told; one of more is not admitted.
    let bullet = 2.0 * energy / (speed * speed) * 1000.0;
    let at = cell["nearest_m"].as_f64().expect("a distance");
    let own = |factor: f64| {
        format!(
            "vet --bullet {:.4}g --velocity {:.4}m/s --bc 0.40 --drag G1 --firearm rifle --construction jacketed-lead \
             --diameter 9.3mm --at {at}m --plate 12mm --altitude 6000ft --temperature 100F",
            bullet,
            speed * factor
        )
    };
    assert_eq!(status(&thickset(&own(1.0))), 0, "{}", stdout(&thickset(&own(1.0))));
    // Where no single load has the most of both, the tag still admits each of them.
    for any in ["\".308 Win\"", "\".300 Win Mag\"", "\"6.5 Creedmoor\"", ".177"] {
        let of = if any == ".177" { "lead" } else { "jacketed-lead" };
        let document = json(&format!("standoff --any {any} --of {of} --plate 12mm"));
        let cell = &document["rows"][0]["plates"][0];
        let ceilings = (cell["ceiling_m_s"].as_f64().expect("m/s"), cell["ceiling_j"].as_f64().expect("J"));
        for load in document["inputs"]["loads"].as_array().expect("loads") {
            let (v, m) = (load["muzzle_velocity_m_s"].as_f64().expect("m/s"), load["bullet_kg"].as_f64().expect("kg"));
            assert!(v <= ceilings.0 + 1e-3 && 0.5 * m * v * v <= ceilings.1 + 0.01, "{any}: {ceilings:?} {load}");
        }
    }
}

#[test]
fn a_height_is_told_from_a_distance() {
    let line = "vet --load 308-168-match --at 100m --plate 3/8in --condition sound --units si";
    assert!(told(line).starts_with("Suits up to an altitude of "), "{}", told(line));
    let chart = told("standoff --load 308-168-match --load 9mm-124 --units si");
    assert!(chart.contains("They hold for altitudes 0 to 1828 m at -23 to 37 °C."), "{chart}");
}
