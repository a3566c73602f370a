//! The advice the trade would expect: free-hung 12 in round plate, private use, ICAO air, jacketed lead.

use super::here::{json, thickset};
use super::{status, stderr, stdout};

/// A load by its numbers, at distances, and the plate that is recommended; `None` where there is none.
const EXPECTED: &[(&str, &str, Option<&str>)] = &[
    (
        "--bullet 40gr --velocity 1255fps --bc 0.138 --drag G1 --construction lead --firearm rimfire-rifle",
        "50yd",
        Some("3/16 in"),
    ),
    (
        "--bullet 115gr --velocity 1180fps --bc 0.145 --drag G1 --construction jacketed-lead --firearm handgun",
        "10yd",
        Some("1/4 in"),
    ),
    ("--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead", "100yd", Some("3/8 in")),
    ("--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead", "1200yd", Some("1/4 in")),
    ("--bullet 180gr --velocity 2960fps --bc 0.48 --drag G1 --construction jacketed-lead", "200yd", Some("1/2 in")),
    ("--bullet 180gr --velocity 2960fps --bc 0.48 --drag G1 --construction jacketed-lead", "100yd", None),
    ("--bullet 250gr --velocity 2950fps --bc 0.59 --drag G1 --construction jacketed-lead", "300yd", Some("1/2 in")),
    ("--bullet 750gr --velocity 2820fps --bc 1.05 --drag G1 --construction jacketed-lead", "500yd", Some("3/4 in")),
];

fn recommended(options: &str) -> Option<String> {
    let document = json(&format!("advise {options}"));
    document["recommended"]["label"].as_str().map(str::to_owned)
}

fn thickness_in(label: &str) -> f64 {
    match label {
        "3/16 in" => 0.1875,
        "1/4 in" => 0.25,
        "3/8 in" => 0.375,
        "1/2 in" => 0.5,
        "3/4 in" => 0.75,
        other => panic!("no such plate: {other}"),
    }
}

#[test]
fn the_trade_s_own_answers_come_out() {
    for (load, at, plate) in EXPECTED {
        assert_eq!(recommended(&format!("{load} --at {at}")).as_deref(), *plate, "{load} at {at}");
    }
}

#[test]
fn a_magnum_too_close_gets_no_plate_and_is_told_what_would_suit() {
    let options = "--bullet 180gr --velocity 2960fps --bc 0.48 --drag G1 --construction jacketed-lead --at 100yd";
    let output = thickset(&format!("advise {options}"));
    assert_eq!(status(&output), 1);
    let text = stdout(&output);
    assert!(text.contains("200 yd"), "{text}");
    let vetted = json(&format!("vet {options} --plate 1/2in"));
    let distance = vetted["would_suit"]["distance_m"].as_f64().expect("a distance would do");
    assert!((distance - 182.88).abs() < 0.01, "{distance}");
    assert!(vetted["would_suit"]["muzzle_velocity_m_s"].as_f64().expect("a slower load would do") < 902.2);
}

#[test]
fn a_public_range_and_a_small_plate_want_more_than_three_eighths() {
    let load = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead --at 100yd";
    for harder in ["--duty public", "--face 4in"] {
        let plate = recommended(&format!("{load} {harder}")).expect("a thicker plate takes it");
        assert!(thickness_in(&plate) > 0.375, "{harder}: {plate}");
    }
}

#[test]
fn a_rifle_bullet_gets_the_rifle_floor_whatever_is_said_to_fire_it() {
    for firearm in ["rifle", "pistol-carbine", "handgun"] {
        let options = format!(
            "vet --bullet 55gr --velocity 3240fps --bc 0.25 --drag G1 --construction jacketed-lead --firearm {firearm} \
             --plate 3/8in --at 60yd"
        );
        assert_eq!(status(&thickset(&options)), 1, "{firearm}");
        let distance = json(&options)["would_suit"]["distance_m"].as_f64().expect("a distance would do");
        assert!(distance >= 91.44 - 1e-6, "{firearm}: {distance}");
    }
}

#[test]
fn a_steel_core_never_suits_and_an_unsaid_construction_is_borderline_and_says_why() {
    let load = "--bullet 62gr --velocity 3020fps --bc 0.3 --drag G1 --at 300yd";
    let output = thickset(&format!("advise {load} --construction steel-core"));
    assert_eq!(status(&output), 1);
    assert!(json(&format!("vet {load} --construction steel-core --plate 3/4in"))["would_suit"]["distance_m"].is_null());
    let output = thickset(&format!("advise {load}"));
    assert_eq!(status(&output), 3);
    assert!(stdout(&output).contains("magnet"), "{}", stdout(&output));
}

#[test]
fn the_slowest_loads_that_are_taken_are_judged_and_their_slow_shot_that_falls_short_is_no_good_news() {
    for speed in ["100fps", "150fps", "300fps"] {
        let line = format!("--bullet 500gr --velocity {speed} --bc 0.2 --drag G1 --construction lead");
        let far = thickset(&format!("vet {line} --plate 3/8in --at 60yd"));
        assert_eq!(status(&far), 0, "{speed}: {}", stderr(&far));
        let near = json(&format!("vet {line} --plate 3/8in --at 20yd"));
        let floor = near["findings"].as_array().unwrap().iter().find(|f| f["rule"] == "speed-floor").unwrap();
        assert_eq!(floor["verdict"], "unsuitable", "{speed}");
    }
}

#[test]
fn the_answer_stands_on_the_first_line_and_nothing_is_wider_than_80_columns() {
    for (load, at, plate) in EXPECTED {
        for explain in ["", " --explain", " --full"] {
            let text = stdout(&thickset(&format!("advise {load} --at {at}{explain}")));
            let first = text.lines().next().unwrap_or_default();
            assert!(plate.is_none_or(|p| first.contains(p)), "{first}");
            let wide: Vec<&str> = text.lines().filter(|l| l.chars().count() > 80).collect();
            assert!(wide.is_empty(), "{wide:?}");
        }
    }
}

#[test]
fn every_page_for_people_carries_eye_protection_and_defers_to_the_range() {
    let load = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";
    for command in ["advise --at 100yd", "vet --at 100yd --plate 3/8in", "strike", "standoff", "standoff --plate 3/8in"]
    {
        for format in ["table", "html"] {
            let text = stdout(&thickset(&format!("{command} {load} --format {format}"))).to_lowercase();
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(text.contains("range officer") && text.contains("glasses"), "{command} {format}:\n{text}");
        }
    }
}

#[test]
fn a_short_barrel_makes_the_slow_shot_less_sure() {
    let vetted = |more: &str| json(&format!("vet --load 38spl-158-carbine@10yd --plate 3/8in {more}"));
    let cautioned = |document: &serde_json::Value| {
        let cautions = document["cautions"].as_array().expect("cautions").iter();
        cautions.filter_map(|c| c.as_str()).any(|c| c.contains("may come back whole"))
    };
    let (own, short) = (vetted(""), vetted("--barrel 15in"));
    assert!(!cautioned(&own) && cautioned(&short), "{short}");
    assert!(short["assumed"].to_string().contains("slow shots from a mean of 788 ft/s"), "{}", short["assumed"]);
}

#[test]
fn a_distance_that_is_lost_high_and_hot_is_told() {
    let far = "--bullet 300gr --velocity 2760fps --bc 0.43 --drag G7 --firearm rifle --construction jacketed-lead";
    let text = stdout(&thickset(&format!("standoff {far}")));
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("1/4 in give the air energy-cap"), "{text}");
}
