//! What answers hold beside the verdict: rows, curves and figures, what was given, and what a load is called.

use serde_json::{Value, json};
use thickset::advisor::{AdviseAnswer, Advisor, Faults, StandoffAnswer, StrikeAnswer, VetAnswer};
use thickset::quantity::unit;

fn strike(question: Value) -> Result<StrikeAnswer, Faults> {
    Advisor::house()?.strike(&serde_json::from_value(question).unwrap())
}

fn vet(question: Value) -> Result<VetAnswer, Faults> {
    Advisor::house()?.vet(&serde_json::from_value(question).unwrap())
}

fn advise(question: Value) -> AdviseAnswer {
    Advisor::house().unwrap().advise(&serde_json::from_value(question).unwrap()).unwrap()
}

fn standoff(question: Value) -> StandoffAnswer {
    Advisor::house().unwrap().standoff(&serde_json::from_value(question).unwrap()).unwrap()
}

/// A question with its key set.
fn with(mut question: Value, key: &str, value: impl Into<Value>) -> Value {
    question[key] = value.into();
    question
}

fn message<T>(answer: Result<T, Faults>) -> String {
    answer.err().map(|faults| faults.to_string()).unwrap_or_default()
}

#[test]
fn rows_run_as_asked_each_with_what_makes_the_fast_shot_fast_and_a_curve_where_figures_are() {
    let asked = json!({"load": "308-168-match", "from": "100 yd", "to": "300 yd", "step": "50 yd", "temperature": "20 F..90 F"});
    let answer = strike(asked.clone()).unwrap();
    let yards: Vec<f64> = answer.rows.iter().map(|row| unit::YARD.value(*row.distance).round()).collect();
    assert_eq!(yards, [100.0, 150.0, 200.0, 250.0, 300.0]);
    assert!(answer.rows.iter().all(|row| row.fast_gains.is_some()) && answer.curve.is_none());
    assert!(strike(with(asked.clone(), "figures", false)).unwrap().curve.is_none());
    let curve = strike(with(asked, "figures", true)).unwrap().curve.expect("a curve");
    assert_eq!((curve.marks.len(), curve.slow_speed.len()), (0, curve.distance.len()));
    assert!((unit::YARD.value(*curve.distance[curve.distance.len() - 1]) - 375.0).abs() < 1e-6);
}

#[test]
fn a_distance_is_above_zero_and_within_any_flight_and_a_table_has_an_end() {
    let at = |distance: &str| message(strike(json!({"load": "308-168-match", "at": distance})));
    assert!(at("0 yd").contains("is not above zero"), "{}", at("0 yd"));
    assert!(at("-5 yd").contains("is not above zero"), "{}", at("-5 yd"));
    assert!(at("10001 yd").contains("farther than any bullet"), "{}", at("10001 yd"));
    assert_eq!(at("0.005 yd"), "");
    let rows = |to: u32| message(strike(json!({"load": "308-168-match", "to": format!("{to} in"), "step": "1 in"})));
    assert!(rows(5000).contains("more than 5000 rows"), "{}", rows(5000));
}

#[test]
fn a_figure_of_a_vetting_is_there_where_figures_are_asked_and_marks_what_was_asked_and_what_suits() {
    let asked = json!({"load": "300wm-180", "at": "150 yd", "plate": "1/2 in", "tilt": "15 deg", "condition": "sound",
        "altitude": "500 ft", "temperature": "59 F"});
    let plain = vet(asked.clone()).unwrap();
    assert!(plain.round.is_none() && plain.curve.is_none());
    let drawn = vet(with(asked, "figures", true)).unwrap();
    let marks = &drawn.curve.as_ref().expect("a curve").marks;
    let told: Vec<(f64, &str)> =
        marks.iter().map(|(at, words)| (unit::YARD.value(**at).round(), words.as_str())).collect();
    assert_eq!(told, [(150.0, "asked"), (200.0, "suits from here")]);
    assert!(drawn.round.is_some());
}

#[test]
fn a_chart_s_curve_is_of_one_load_and_marks_each_plate() {
    let asked = json!({"load": "308-168-match", "at": "300 yd", "plate": ["3/8 in", "1/2 in"], "figures": true,
        "tilt": "15 deg", "condition": "sound", "altitude": "500 ft", "temperature": "59 F"});
    let marks = standoff(asked.clone()).curve.expect("a curve").marks;
    let words: Vec<&str> = marks.iter().map(|mark| mark.1.as_str()).collect();
    assert_eq!(words, ["asked", "3/8 in from here", "1/2 in from here"]);
    assert!(standoff(with(asked.clone(), "load", json!(["308-168-match", "223-77"]))).curve.is_none());
    assert!(standoff(with(asked, "figures", false)).curve.is_none());
}

#[test]
fn a_match_s_chart_tells_what_was_given_of_its_crowd_and_what_was_taken() {
    let asked = json!({"load": "556-55", "plate": "1/2 in", "shooters": 60, "rounds": 120});
    let told = |question: Value, what: &str| {
        let holds = standoff(question).preamble.holds_for;
        holds.into_iter().find(|one| one.what == what).map(|one| (one.given, one.value))
    };
    let of = |what: &str| told(asked.clone(), what).unwrap_or_else(|| panic!("{what}"));
    assert_eq!((of("shooters"), of("rounds")), ((true, "60".into()), (true, "120".into())));
    assert_eq!((of("risk accepted"), of("rifle spread SD").0), ((false, "1 %".into()), false));
    let given = with(with(asked.clone(), "risk", "5 %"), "rifle_spread", "30 ft/s");
    assert_eq!(told(given.clone(), "risk accepted"), Some((true, "5 %".into())));
    assert_eq!(told(given, "rifle spread SD"), Some((true, "30.0 ft/s".into())));
}

#[test]
fn a_load_without_a_name_is_called_by_its_bullet_and_speed_and_humidity_is_told_as_given() {
    let load = json!({"bullet": "168 gr", "velocity": "2650 ft/s", "bc": "0.46", "drag": "G1", "construction": "jacketed-lead"});
    let asked = json!({"load": load, "at": "200 yd", "plate": "1/2 in", "humidity": "20 %..60 %"});
    let answer = vet(asked.clone()).unwrap();
    assert_eq!(answer.preamble.inputs.load.name, "168 gr at 2650 ft/s");
    let metric = vet(with(asked.clone(), "units", "si")).unwrap();
    assert_eq!(metric.preamble.inputs.load.name, "10.89 g at 808 m/s");
    let humidity = |answer: &VetAnswer| {
        let told = answer.preamble.holds_for.iter().find(|one| one.what == "humidity").expect("humidity");
        (told.given, told.value.clone())
    };
    assert_eq!(humidity(&answer), (true, "20 to 60 %".into()));
    assert_eq!(humidity(&vet(with(asked, "humidity", "40 %")).unwrap()), (true, "40 %".into()));
}

#[test]
fn where_no_plate_takes_all_loads_one_is_named_for_the_rest_and_drawn_for_each() {
    let asked = json!({"load": ["308-168-match@150yd", "300wm-180@120yd"], "tilt": "15 deg", "condition": "sound",
        "altitude": "500 ft", "temperature": "59 F"});
    let answer = advise(asked.clone());
    assert_eq!(answer.for_the_rest.as_ref().map(|plate| plate.label.as_str()), Some("3/8 in"));
    assert_eq!(answer.excluded.len(), 1);
    // What is told of it is of that plate: who may come how near, and what it stands on.
    assert!(answer.closest.is_some() && !answer.preamble.stands_on.is_empty(), "{:?}", answer.closest);
    assert!(answer.curves.is_empty());
    let drawn = advise(with(asked, "figures", true));
    let names: Vec<&str> = drawn.curves.iter().map(|curve| curve.load.as_str()).collect();
    assert_eq!(names.len(), 2, "{names:?}");
}

#[test]
fn rules_that_only_warn_are_among_those_that_applied_and_no_caution_is_said_twice() {
    let asked = json!({"load": "9mm-124", "at": "20 yd", "plate": "3/8 in", "mount": "chain"});
    let answer = vet(asked.clone()).unwrap();
    let applied = |id: &str| answer.preamble.rules.iter().filter(|rule| rule.id == id).count();
    for id in ["lean-not-said", "condition-unknown", "mount-chain", "floor-handgun"] {
        assert_eq!(applied(id), 1, "{id}: {:?}", answer.preamble.rules);
    }
    let mut cautions = answer.preamble.cautions.clone();
    cautions.sort();
    cautions.dedup();
    assert_eq!(cautions.len(), answer.preamble.cautions.len());
    // What a range warns of is said, once.
    let range = json!({"schema": "thickset/rules/1", "name": "Hollow Creek", "rule": [
        {"id": "goats", "subject": "case", "sense": "caution", "why": "goats graze behind the berm"}]});
    let warned = vet(with(asked, "range_rules", range)).unwrap().preamble.cautions;
    let goats: Vec<&String> = warned.iter().filter(|caution| caution.contains("oats graze")).collect();
    assert_eq!(goats.len(), 1, "{warned:?}");
    assert_eq!(warned.len(), answer.preamble.cautions.len() + 1);
}

#[test]
fn a_chart_without_a_distance_names_the_rules_that_apply_where_each_plate_begins() {
    let chart = standoff(json!({"load": "308-168-match", "plate": "3/8 in", "tilt": "15 deg", "condition": "sound"}));
    let applied = |id: &str| chart.preamble.rules.iter().any(|rule| rule.id == id);
    assert!(applied("floor-rifle") && applied("energy-cap"), "{:?}", chart.preamble.rules);
}

#[test]
fn a_catalogue_lists_what_its_words_ask_for() {
    let listed = |text: Value| {
        let question = serde_json::from_value(with(json!({"what": "plates"}), "words", text)).unwrap();
        Advisor::house().unwrap().catalog(&question).unwrap().plates.expect("plates").len()
    };
    let all = listed(json!([]));
    assert!(listed(json!("3/8")) < all && listed(json!("3/8")) > 0 && all > 4);
    assert_eq!(listed(json!("chestnut")), 0);
}

#[test]
fn a_standing_plate_tells_its_base_given_or_not() {
    let asked = json!({"load": "9mm-124", "at": "12 yd", "plate": "3/8 in", "kind": "falling"});
    let base = |question: Value| {
        let told =
            vet(question).unwrap().preamble.holds_for.into_iter().find(|one| one.what == "base").expect("a base");
        (told.given, told.value)
    };
    assert_eq!(base(asked.clone()), (false, "none but its own thickness".into()));
    assert_eq!(base(with(asked, "base", "2 in")), (true, "2.0 in".into()));
}

#[test]
fn a_chart_s_lean_suits_every_load_of_it_whatever_their_order() {
    let asked = json!({"plate": ["3/8 in", "1/2 in"], "condition": "sound", "slope": "-15 deg", "at": "500 yd",
        "altitude": "500 ft", "temperature": "59 F"});
    let lean = |loads: Value| standoff(with(asked.clone(), "load", loads)).preamble.stands_on;
    // Downhill the slow bullet comes in the most steeply: leaning 13° more it would glance on.
    let told = "leaning 0–12° toward you";
    for order in [
        ["45acp-230", "308-168-match", "223-77"],
        ["308-168-match", "45acp-230", "223-77"],
        ["308-168-match", "223-77", "45acp-230"],
    ] {
        assert!(lean(json!(order)).contains(told), "{order:?}: {}", lean(json!(order)));
    }
    assert!(lean(json!(["308-168-match", "223-77"])).contains("leaning 0–14° toward you"));
    for (tilt, verdict) in [("12 deg", "suits"), ("13 deg", "borderline")] {
        let mut asked = with(with(asked.clone(), "load", "45acp-230"), "tilt", tilt);
        asked["plate"] = json!("1/2 in");
        assert_eq!(serde_json::to_value(vet(asked).unwrap().verdict).unwrap(), verdict, "{tilt}");
    }
}

#[test]
fn what_is_for_those_who_shoot_is_told_where_it_may_be_shot_from_somewhere() {
    let said = "Hits this hard loosen hooks and bolts";
    let has = |cautions: &[String]| cautions.iter().any(|caution| caution.starts_with(said));
    let asked =
        json!({"load": "300wm-180", "plate": "1/2 in", "tilt": "15 deg", "altitude": "500 ft", "temperature": "59 F"});
    for (condition, at, is_told) in [
        ("sound", Some("250 yd"), true),
        ("sound", Some("80 yd"), true),
        ("cracked", Some("250 yd"), false),
        ("sound", None, true),
        ("cracked", None, false),
    ] {
        let mut asked = with(asked.clone(), "condition", condition);
        if let Some(at) = at {
            asked["at"] = at.into();
            assert_eq!(has(&vet(asked.clone()).unwrap().preamble.cautions), is_told, "{condition} {at}");
        }
        assert_eq!(has(&standoff(asked).preamble.cautions), is_told, "{condition} {at:?}");
    }
}

#[test]
fn of_loads_that_lack_as_much_the_one_that_asks_the_most_of_the_plate_is_named() {
    let load = |id: &str, bullet: &str, velocity: &str| {
        json!({"id": id, "name": format!("own {id}"), "cartridge": "6.5 Example", "firearm": "rifle", "construction": "jacketed-lead",
            "bullet": bullet, "muzzle-velocity": velocity, "drag": "G7", "bc": "0.25", "source": "invented"})
    };
    let (light, heavy) = (load("light", "100 gr", "2500 ft/s"), load("heavy", "140 gr", "2600 ft/s"));
    for loads in [json!([light, heavy]), json!([heavy, light])] {
        let asked = json!({"any": "6.5 Example", "loads": [{"schema": "thickset/loads/1", "load": loads}], "at": "80 yd",
            "plate": "1/2 in", "tilt": "15 deg", "condition": "sound", "altitude": "500 ft", "temperature": "59 F"});
        let answer = vet(asked.clone()).unwrap();
        assert_eq!(answer.preamble.inputs.load.name, "own heavy");
        // Both lack a fifth of the distance; what else goes by that name may lack more, from anywhere.
        assert!((*answer.margin.unwrap() + 0.2).abs() < 1e-6, "{:?}", answer.margin);
        assert!(answer.preamble.headline.contains("own heavy, of the 2 loads listed"), "{}", answer.preamble.headline);
        assert_eq!(
            (answer.preamble.nearest.as_str(), answer.would_suit.nearest),
            ("No distance is good for all of it.", None)
        );
    }
    let known = json!({"any": ".308 Win", "of": "jacketed-lead", "at": "80 yd", "plate": "1/2 in", "tilt": "15 deg",
        "condition": "sound", "altitude": "500 ft", "temperature": "59 F"});
    let answer = vet(known).unwrap();
    assert_eq!(answer.preamble.nearest, "Nobody nearer than 169 yd.");
    assert!(answer.preamble.headline.contains("any lead-core .308 Win (worst: fastest usual 308 Win)"));
}

#[test]
fn a_load_measured_by_a_string_has_the_string_s_velocity_and_tells_how_close_it_may_be_shot() {
    let described = |velocity: Option<&str>| {
        let mut load = json!({"bullet": "168 gr", "bc": "0.223", "drag": "G7", "construction": "jacketed-lead", "firearm": "rifle"});
        if let Some(velocity) = velocity {
            load["velocity"] = velocity.into();
        }
        let asked = json!({"readings": "2648fps 2655fps 2641fps 2650fps 2652fps", "load": load, "plate": "1/2 in", "condition": "sound"});
        Advisor::house().unwrap().chrono(&serde_json::from_value(asked).unwrap())
    };
    let refused = message(described(Some("2650 ft/s")));
    assert!(refused.contains("the string's mean is the velocity"), "{refused}");
    let answer = described(None).unwrap();
    assert!(answer.preamble.stands_on.contains("leaning 0–20° toward you"), "{}", answer.preamble.stands_on);
    assert!(answer.preamble.nearest.starts_with("Nobody nearer than "), "{}", answer.preamble.nearest);
}
