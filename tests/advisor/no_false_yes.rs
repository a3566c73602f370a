//! An answer is only about what was judged. Each case is named by how a yes could be false.

use crate::answers::{advise, vet};
use serde_json::json;
use thickset::advisor::answer::StandoffAnswer;
use thickset::advisor::{AdviseQuestion, Advisor, StandoffQuestion, VetQuestion};
use thickset::quantity::Measure;
use thickset::rules::Verdict;

#[test]
fn a_strangers_text_opens_no_file() {
    for question in [
        r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "range_rules": "Cargo.toml"}"#,
        r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "outline": "examples/outlines/shield.toml"}"#,
        r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "loads": {"schema": "thickset/loads/1", "load":
            [{"id": "x", "bullet": "168 gr", "muzzle-velocity": "2600 fps", "diameter": "0.308 in", "drag-table": "Cargo.toml"}]}}"#,
        r#"{"load": {"bullet": "168 gr", "velocity": "2600 fps", "diameter": "0.308 in", "drag_table": "Cargo.toml"},
            "at": "100 yd", "plate": "3/8 in"}"#,
    ] {
        let faults = vet(question).unwrap_err();
        let fault = &faults.list()[0];
        assert!(fault.message.contains("no file is read here"), "{faults}");
        assert!(!faults.to_string().contains("[package]"));
    }
}

#[test]
fn a_cartridge_of_unknown_extremes_never_suits() {
    let own = r#"{"any": "6.66 Example", "at": "500 yd", "plate": "3/4 in", "condition": "sound", "tilt": "10 deg",
        "loads": {"schema": "thickset/loads/1", "load": [{"id": "x", "cartridge": "6.66 Example", "firearm": "rifle",
            "construction": "jacketed-lead", "bullet": "120 gr", "muzzle-velocity": "2600 fps", "drag": "G1", "bc": 0.4}]}}"#;
    let answer = vet(own).unwrap();
    assert_eq!(answer.verdict, Verdict::Borderline, "{}", answer.preamble.headline);
    assert!(answer.preamble.headline.contains("the 1 load listed"), "{}", answer.preamble.headline);
}

#[test]
fn a_load_given_under_a_listed_name_is_told() {
    let own = r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "loads": {"schema": "thickset/loads/1",
        "load": [{"id": "308-168-match", "firearm": "rifle", "construction": "jacketed-lead", "bullet": "168 gr",
            "muzzle-velocity": "1200 fps", "drag": "G7", "bc": 0.2}]}}"#;
    let told = "308-168-match: the load given under this name";
    assert!(vet(own).unwrap().preamble.assumed.iter().any(|a| a.contains(told)));
    let listed = r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in"}"#;
    assert!(!vet(listed).unwrap().preamble.assumed.iter().any(|a| a.contains(told)));
}

#[test]
fn any_ammunition_is_judged_by_its_cartridges_extremes_as_well_as_what_is_listed() {
    let any = |at: &str| format!(r#"{{"any": "257 Roberts", "at": "{at}", "plate": "1/2 in", "tilt": "10 deg"}}"#);
    let near = vet(&any("60 yd")).unwrap();
    assert_eq!(near.verdict, Verdict::Unsuitable, "{}", near.preamble.headline);
    assert!(near.preamble.headline.contains("usual 257 Roberts"), "{}", near.preamble.headline);
    assert_eq!(vet(&any("600 yd")).unwrap().verdict, Verdict::Suits);
}

#[test]
fn air_that_was_given_in_part_is_judged_at_the_bad_end_of_the_rest() {
    let whole =
        |air: &str| vet(&format!(r#"{{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in"{air}}}"#)).unwrap();
    let hot_and_high = whole(r#", "altitude": "6000 ft", "temperature": "100 F""#);
    for part in ["", r#", "altitude": "6000 ft""#, r#", "temperature": "100 F""#, r#", "humidity": "50 %""#] {
        let answer = whole(part);
        if answer.verdict != hot_and_high.verdict {
            assert!(answer.preamble.headline.contains(", else "), "{part}: {}", answer.preamble.headline);
        }
    }
}

#[test]
fn the_same_unknown_surplus_says_why_by_name_and_by_numbers() {
    let by_numbers = vet(
        r#"{"load": {"bullet": "147 gr", "velocity": "2780 fps", "bc": "0.4", "drag": "G1"}, "at": "150 yd", "plate": "1/2 in"}"#,
    )
    .unwrap();
    assert_eq!(by_numbers.verdict, Verdict::Borderline);
    assert!(by_numbers.preamble.headline.contains("nothing lists its kind"), "{}", by_numbers.preamble.headline);
}

#[test]
fn the_headline_names_every_load_it_excludes_and_the_rest_is_judged() {
    let answer =
        advise(r#"{"load": ["556-62-steel@100 yd", "300wm-180@50 yd", "22lr-std-40@50 yd", "308-168-match@100 yd"]}"#);
    assert_eq!(answer.verdict, Verdict::Unsuitable);
    let headline = &answer.preamble.headline;
    assert_eq!(answer.excluded.len(), 2, "{headline}");
    for excluded in &answer.excluded {
        assert!(headline.contains(&excluded.case), "{headline}");
    }
    let rest = answer.for_the_rest.as_ref().unwrap();
    assert!(headline.contains(&format!("{} takes the rest", rest.label)), "{headline}");
    for (load, distance) in [("22lr-std-40", "50 yd"), ("308-168-match", "100 yd")] {
        let question =
            format!(r#"{{"load": "{load}", "at": "{distance}", "plate": "{}", "condition": "sound"}}"#, rest.label);
        assert_eq!(vet(&question).unwrap().verdict, Verdict::Suits, "{load} on {}", rest.label);
    }
    let row = answer.plates.iter().find(|plate| plate.label == rest.label).unwrap();
    assert_eq!((row.verdict, row.verdict_for_the_rest), (Verdict::Unsuitable, Some(Verdict::Suits)));
}

#[test]
fn a_numbered_failure_comes_before_one_without_a_number() {
    let answer = advise(r#"{"load": "300wm-180", "at": "50 yd", "tilt": "-5 deg"}"#);
    assert_ne!(answer.verdict, Verdict::Suits);
    assert!(answer.preamble.headline.chars().any(|c| c.is_ascii_digit()));
    assert!(answer.whatever_plate.iter().any(|text| text.contains("lean")), "{:?}", answer.whatever_plate);
}

#[test]
fn what_is_idle_is_refused_by_name() {
    use thickset::advisor::{AdviseQuestion, Advisor, ChronoQuestion, StandoffQuestion};
    let advisor = Advisor::house().unwrap();
    let advise = |text: &str| advisor.advise(&serde_json::from_str::<AdviseQuestion>(text).unwrap()).unwrap_err();
    let standoff = |text: &str| advisor.standoff(&serde_json::from_str::<StandoffQuestion>(text).unwrap()).unwrap_err();
    let chrono = |text: &str| advisor.chrono(&serde_json::from_str::<ChronoQuestion>(text).unwrap()).unwrap_err();
    for (faults, key) in [
        (advise(r#"{"load": "308-168-match@100 yd", "at": "100 yd"}"#), "at"),
        (advise(r#"{"shots": [{"load": "308-168-match", "at": "100 yd"}], "load": "308-168-match"}"#), "load"),
        (advise(r#"{"targets": [{"name": "a"}], "face": "8in", "load": "308-168-match", "at": "100 yd"}"#), "face"),
        (
            advise(r#"{"load": "308-168-match", "at": "100 yd", "mount": "bolted", "want_swing": "30 deg"}"#),
            "want_swing",
        ),
        (standoff(r#"{"load": "308-168-match@100 yd"}"#), "load"),
        (standoff(r#"{"load": "308-168-match", "plate": "3/8 in", "risk": "2 %"}"#), "risk"),
        (chrono(r#"{"readings": "2648fps 2655fps", "plate": "3/8 in"}"#), "plate"),
        (chrono(r#"{"readings": "2648fps 2655fps", "altitude": "500 ft"}"#), "altitude"),
        (chrono(r#"{"readings": "2648fps 2655fps", "load": "308-168-match", "velocity_sd": "9 fps"}"#), "velocity_sd"),
    ] {
        assert_eq!(faults.list()[0].field.as_deref(), Some(key), "{faults}");
    }
}

#[test]
fn what_suits_only_in_the_air_taken_is_never_told_as_good_from_no_distance_at_all() {
    let rules = r#"{"schema": "thickset/rules/1", "name": "r", "rule": [{"id": "ms", "subject": "muzzle-speed",
        "sense": "at-most", "suits": "3000 ft/s", "why": "the berm"}]}"#;
    let answer = advise(&format!(r#"{{"load": "300wm-180@310 yd", "range_rules": {rules}}}"#));
    let nearest = &answer.preamble.nearest;
    assert_eq!(answer.verdict, Verdict::Suits);
    assert!(nearest.contains("At no distance for all of 0 to 6000 ft at -10 to 100 °F: give the air"), "{nearest}");
    assert!(!nearest.contains("keep it off"), "{nearest}");
}

#[test]
fn steel_that_is_not_known_stands_in_the_first_lines_and_no_way_out_forgets_it() {
    let answer = advise(r#"{"any": "338 Lapua", "at": "300 yd", "steel": "unknown"}"#);
    let preamble = &answer.preamble;
    assert!(preamble.stands_on.starts_with("Steel not known"), "{}", preamble.stands_on);
    assert!(!preamble.stands_on.contains("marked AR500"), "{}", preamble.stands_on);
    assert!(preamble.nearest.contains("At no distance is it better than borderline"), "{}", preamble.nearest);
    assert!(answer.remedies[0].words.contains("AR500"), "{}", answer.remedies[0].words);
}

#[test]
fn ammunition_that_is_never_shot_is_called_so_wherever_the_rest_is_named() {
    let answer = advise(r#"{"any": "5.56", "at": "100 yd"}"#);
    let headline = &answer.preamble.headline;
    assert!(headline.contains("never") && !headline.contains(" but "), "{headline}");
}

#[test]
fn a_shop_s_product_and_plates_that_name_another_steel_are_refused() {
    let ladder = |label: &str| {
        vet(&format!(
            r#"{{"load": "9mm-115@25 yd", "plate": "1/2 in", "plates": {{"schema": "thickset/plates/1",
                "plate": [{{"label": "{label}", "thickness": "1/2 in"}}]}}}}"#
        ))
    };
    assert!(ladder("AR400 1/2 in").unwrap_err().to_string().contains("another steel"));
    assert!(ladder("quarter inch").unwrap_err().to_string().contains("thick by its name"));
    assert!(ladder("AR500 1/2 in").is_ok());
    let product = |steel: &str| {
        vet(&format!(
            r#"{{"load": "9mm-115@25 yd", "plate": "1/2 in", "product": "Gong AR400"{steel}, "shop": {{
                "schema": "thickset/shop/1", "name": "s", "currency": "$", "product": [
                {{"name": "Gong AR400", "face": "12in", "made": [{{"thickness": "1/2 in", "price": 30}}]}}]}}}}"#
        ))
    };
    assert!(product("").unwrap_err().to_string().contains("another steel"));
    assert_eq!(product(r#", "steel": "AR400""#).unwrap().verdict, Verdict::Borderline);
}

#[test]
fn a_match_says_that_a_load_of_one_s_own_takes_the_place_of_a_listed_one() {
    let question = r#"{"course": {"schema": "thickset/course/1", "name": "m", "loads": ["762x39-123"],
        "load": [{"id": "762x39-123", "firearm": "rifle", "construction": "jacketed-lead", "bullet": "123 gr",
            "diameter": "0.311 in", "muzzle-velocity": "2350 ft/s", "drag": "G1", "bc": 0.28}],
        "stand": {"condition": "sound", "tilt": "15 deg"},
        "stage": [{"name": "Hill", "target": [{"name": "gong", "plate": "1/2 in", "at": "300 yd"}]}]}}"#;
    let answer = thickset::advisor::Advisor::house().unwrap().course(&serde_json::from_str(question).unwrap()).unwrap();
    let told = answer.preamble.holds_for.iter().find(|c| c.what == "loads").expect("it is told");
    assert!(told.given && told.value.contains("762x39-123 as given, not as listed"), "{}", told.value);
}

#[test]
fn a_distance_is_not_good_for_a_match_whose_shots_pass_the_ceiling_there() {
    let air = json!({"condition": "sound", "tilt": "15 deg", "altitude": "500 ft", "temperature": "60 F"});
    let asked = |more: serde_json::Value| {
        let mut question = json!({"load": "223-55", "plate": "1/2 in"});
        for (key, value) in air.as_object().unwrap().iter().chain(more.as_object().unwrap()) {
            question[key] = value.clone();
        }
        let question: StandoffQuestion = serde_json::from_value(question).expect("a question");
        Advisor::house().expect("rules").standoff(&question).expect("an answer")
    };
    let nearest = |answer: &StandoffAnswer| answer.rows[0].plates[0].nearest.expect("a distance").0.si();
    let at = |yards: f64, crowd: bool| {
        let mut more = json!({"at": format!("{yards} yd")});
        if crowd {
            (more["shooters"], more["rounds"]) = (json!(60), json!(120));
        }
        asked(more)
    };
    let (one, crowd) = (asked(json!({})), asked(json!({"shooters": 60, "rounds": 120})));
    let (alone, from) = (nearest(&one) / 0.9144, nearest(&crowd) / 0.9144);
    assert!(from > alone + 30.0, "{alone} {from}");
    let between = 0.5 * (alone + from);
    assert_eq!(at(between, false).verdict, Verdict::Suits);
    let too_near = at(between, true);
    assert_eq!(too_near.verdict, Verdict::Unsuitable);
    assert!(too_near.preamble.headline.starts_with("Unsuitable"), "{}", too_near.preamble.headline);
    assert_eq!(too_near.rows[0].plates[0].ceiling_speed, None);
    assert_eq!(at(from + 1.0, true).verdict, Verdict::Suits);
    // Where all of the air is not given, the bad end of it counts for a match as well.
    let mut open = json!({"load": "223-55", "plate": "1/2 in", "condition": "sound", "tilt": "15 deg"});
    let asked = |question: &serde_json::Value| {
        let question: StandoffQuestion = serde_json::from_value(question.clone()).expect("a question");
        nearest(&Advisor::house().expect("rules").standoff(&question).expect("an answer"))
    };
    let alone = asked(&open);
    (open["shooters"], open["rounds"]) = (json!(60), json!(120));
    assert!(asked(&open) > alone + 20.0);
}

#[test]
fn a_slow_frangible_bullet_is_not_known_to_break_up() {
    let vet = |fps: u32, construction: &str| {
        let question = json!({"load": {"name": "quiet", "bullet": "115 gr", "velocity": format!("{fps} ft/s"), "bc": "0.15", "drag": "G1",
            "construction": construction, "firearm": "handgun"}, "at": "10 yd", "plate": "3/8 in", "condition": "sound",
            "tilt": "15 deg", "altitude": "500 ft", "temperature": "60 F"});
        let question: VetQuestion = serde_json::from_value(question).expect("a question");
        Advisor::house().expect("rules").vet(&question).expect("an answer").verdict
    };
    assert_eq!(vet(1200, "frangible"), Verdict::Suits);
    assert_eq!(vet(390, "frangible"), Verdict::Borderline);
    assert_eq!(vet(250, "frangible"), Verdict::Borderline);
    assert_eq!(vet(250, "lead"), Verdict::Unsuitable);
}

#[test]
fn any_ammunition_holds_down_to_a_least_speed_where_slow_bullets_come_back() {
    let stand = json!({"condition": "sound", "tilt": "15 deg", "altitude": "500 ft", "temperature": "60 F"});
    let with = |mut question: serde_json::Value| {
        question.as_object_mut().unwrap().extend(stand.as_object().unwrap().clone());
        question
    };
    let advisor = Advisor::house().expect("rules");
    let any = json!({"any": ".22 air gun", "at": "45 yd", "plate": "1/4 in"});
    let question: VetQuestion = serde_json::from_value(with(any)).expect("a question");
    let answer = advisor.vet(&question).expect("an answer");
    assert_eq!(answer.verdict, Verdict::Suits);
    let told = &answer.preamble.stands_on;
    let least: f64 = told.split("no slower than ").nth(1).and_then(|t| t.split(' ').next()).unwrap().parse().unwrap();
    assert!((450.0..800.0).contains(&least), "{told}");
    // The limit is 400 ft/s where it arrives, and a pellet loses some on the way; farther than 50 yd nothing is asked.
    let far = json!({"any": ".22 air gun", "at": "55 yd", "plate": "1/4 in"});
    let question: VetQuestion = serde_json::from_value(with(far)).expect("a question");
    let told = advisor.vet(&question).expect("an answer").preamble.stands_on;
    assert!(!told.contains("no slower"), "{told}");
    // Of several, the one that it is of is named.
    let both = json!({"any": [".22 air gun@10 yd", ".308 Win@200 yd"]});
    let question: AdviseQuestion = serde_json::from_value(with(both)).expect("a question");
    let told = advisor.advise(&question).expect("an answer").preamble.stands_on;
    assert!(told.contains(", any .22 air gun no slower than 4"), "{told}");
}
