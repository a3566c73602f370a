//! What would do where something does not suit: every way that is told does, and that none does is said of what was
//! tried.

use super::here::{json, thickset};
use super::stdout;

/// A page's words on one line.
fn joined(line: &str) -> String {
    stdout(&thickset(line)).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_asked_from_too_far_is_told_up_to_where_it_suits() {
    let line = "vet --load 12ga-bird-75 --plate 1/4in --at";
    let page = joined(&format!("{line} 269yd"));
    assert!(page.contains("suits from 11 yd to 207 yd.") && page.contains("Shoot from 11 yd to 207 yd."), "{page}");
    let told = json(&format!("{line} 269yd"));
    let metres = |key: &str| told["would_suit"][key].as_f64().unwrap_or_else(|| panic!("{key}: {told}"));
    assert!(metres("between_m") < metres("and_m"), "{told}");
    assert!(told["would_suit"]["nearest_m"].is_null(), "{told}");
    // As told it suits, also in the worst of the air; a little farther it does not.
    for (at, verdict) in [("11yd", "suits"), ("100yd", "suits"), ("207yd", "suits"), ("209yd", "borderline")] {
        let air = "--altitude 0ft..6000ft --temperature=-10F..100F --humidity 0%..100%";
        assert_eq!(json(&format!("{line} {at} {air}"))["verdict"], verdict, "{at}");
    }
    let advice = joined("advise --load 12ga-bird-75 --at 269yd");
    assert!(advice.contains("Would suit: 1/4 in from 11 yd to 207 yd."), "{advice}");
}

#[test]
fn a_face_on_a_slope_is_leaned_by_the_line_of_sight() {
    for (slope, lean) in [("-60", "31° away from you"), ("-40", "11° away from you"), ("40", "37° toward you")] {
        let line = format!("--load 308-168-match --at 150yd --plate 3/8in --slope={slope}deg");
        let told = json(&format!("vet {line}"));
        assert!(told["nearest"].as_str().is_some_and(|nearest| nearest.contains(lean)), "{slope}: {}", told["nearest"]);
        let tilt = told["would_suit"]["tilt_deg"].as_f64().expect("a lean");
        assert_eq!(json(&format!("vet {line} --tilt={tilt}deg"))["verdict"], "suits", "{slope}: {tilt}");
        let advice = joined(&format!("advise {line}"));
        assert!(advice.contains(&format!("lean it {lean}.")), "{advice}");
    }
}

#[test]
fn that_nothing_would_do_is_said_of_what_was_tried() {
    let page = joined("vet --load 300wm-180 --at 30yd --plate 3/16in --condition cracked --full");
    assert!(page.contains("No change that was tried would do"), "{page}");
    assert!(!page.contains("No change of distance"), "{page}");
}

#[test]
fn what_passes_a_limit_by_a_hair_is_told_with_the_digits_that_set_the_two_apart() {
    let air = "--altitude 500ft --temperature 60F";
    let line = format!("vet --load 308-150 --plate 1/2in {air}");
    for (asked, told) in [
        ("--at 99.96yd", "on 1/2 in at 99.96 yd: distance at least 100 yd; suits from 100 yd."),
        ("--at 99.96yd", "99.96 yd at least 100 yd"),
        ("--at 99.999yd", "at 99.999 yd: distance at least 100 yd"),
        ("--at 300yd --oblique 15.04deg", "turn 15.04°, at most 15°"),
        ("--at 300yd --oblique 15.004deg", "turn 15.004°, at most 15°"),
        ("--at 300yd --tilt=-3.01deg", "lean -3.01°, at least -3°"),
    ] {
        let page = joined(&format!("{line} {asked}"));
        assert!(page.contains(told), "{asked}: {page}");
    }
    for verb in ["advise", "standoff"] {
        let page = joined(&format!("{verb} --load 308-150 --plate 1/2in --at 99.96yd {air}"));
        assert!(page.contains("at 99.96 yd"), "{page}");
    }
}

#[test]
fn what_falls_too_steeply_not_far_beyond_its_nearest_is_told_up_to_where_it_suits() {
    let line = "vet --load 458wm-500 --plate 1/4in --mount bolted --temperature 0F --humidity 0% --bc-sd 0.5% \
                --coverage 99.9% --condition sound";
    let page = joined(&format!("{line} --at 1000yd"));
    let told = page.split("suits from ").nth(1).expect("a way out").split(',').next().expect("distances").to_owned();
    let (from, to) = told.split_once(" to ").unwrap_or_else(|| panic!("{page}"));
    assert!(page.contains(&format!("Shoot from {from} to {to}.")), "{page}");
    let verdict = |at: &str| json(&format!("{line} --at \"{at}\""))["verdict"].clone();
    assert_eq!((verdict(from), verdict(to)), ("suits".into(), "suits".into()), "{told}");
    assert_ne!(verdict("2900 yd"), "suits");
    // What is good to far beyond sense is good from there on.
    let magnum =
        joined("vet --load 300wm-180 --at 100yd --plate 3/8in --altitude 500ft --temperature 60F --condition sound");
    assert!(magnum.contains("Shoot from 269 yd on."), "{magnum}");
}
