//! Where an answer turns: the air that was not given, a part of any ammunition, the muzzle speed at which a rule begins.

use crate::answers::vet;
use serde_json::{Value, json};
use thickset::advisor::{Advisor, CourseQuestion, StandoffQuestion};
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::drag::{Drag, DragModel};
use thickset::load::{Firearm, Load};
use thickset::plate::{Face, Ladder};
use thickset::quantity::{Length, unit};
use thickset::rules::{Closest, RuleSet, Setup, Verdict};
use thickset::source::SourceText;
use thickset::spread::{FlightConditions, Flights};
use thickset::vet::{Question, fastest_that_suits};

#[test]
fn a_match_without_air_is_judged_as_high_as_a_single_question_is() {
    let at = |air: &str| {
        let text = format!(
            r#"{{"load": "308-168-match", "at": "280 yd", "plate": "3/8 in", "duty": "match", "condition": "sound",
                "tilt": "15 deg"{air}}}"#
        );
        vet(&text).unwrap()
    };
    // The answer turns between a height half as high and the bad end.
    assert_eq!(at(r#", "altitude": "3000 ft", "temperature": "100 F""#).verdict, Verdict::Suits);
    assert_eq!(at(r#", "altitude": "6000 ft", "temperature": "100 F""#).verdict, Verdict::Borderline);
    assert!(
        at("")
            .preamble
            .remarks
            .iter()
            .any(|remark| remark.contains("for all of 0 to 6000 ft at -10 to 100 °F it is borderline"))
    );
    let question: CourseQuestion = serde_json::from_value(json!({"course": {
        "schema": "thickset/course/1", "name": "m", "loads": ["308-168-match"],
        "stand": {"condition": "sound", "tilt": "15 deg", "duty": "match"},
        "stage": [{"name": "Hill", "target": [{"name": "gong", "plate": "3/8 in", "at": "280 yd"}]}],
    }}))
    .unwrap();
    let answer = Advisor::house().unwrap().course(&question).unwrap();
    assert_eq!(answer.targets[0].verdict.to_string(), "suits");
    let words = "for all of 0 to 6000 ft at -10 to 100 °F nobody nearer than: Hill, gong ";
    assert!(answer.preamble.nearest.contains(words), "{}", answer.preamble.nearest);
}

#[test]
fn any_ammunition_in_part_is_borderline_at_best_also_where_a_verdict_at_a_distance_is_asked() {
    let ask = |question: Value| {
        let question: StandoffQuestion = serde_json::from_value(question).unwrap();
        Advisor::house().unwrap().standoff(&question).unwrap()
    };
    for air in [json!({}), json!({"altitude": "0 ft", "temperature": "59 F"})] {
        for at in ["300 yd", "600 yd"] {
            let mut question =
                json!({"any": "308", "plate": "1/2 in", "at": at, "condition": "sound", "tilt": "15 deg"});
            question.as_object_mut().unwrap().extend(air.as_object().unwrap().clone());
            let answer = ask(question.clone());
            let cell = &answer.rows[0].plates[0];
            let headline = &answer.preamble.headline;
            assert_eq!((answer.verdict, cell.at), (Verdict::Borderline, Some(Verdict::Borderline)), "{headline}");
            assert!(headline.starts_with("Borderline"), "{headline}");
            // Without the distance as well.
            question.as_object_mut().unwrap().remove("at");
            assert_eq!(ask(question).verdict, Verdict::Borderline);
        }
    }
}

fn sea_level() -> FlightConditions {
    FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap()
}

fn with_rules(rules: &str) -> RuleSet {
    let text = format!("schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n{rules}");
    RuleSet::house().unwrap().with_overlay(&SourceText::new("range.toml", text)).unwrap()
}

fn rule(id: &str, body: &str) -> String {
    format!("[[rule]]\nid = \"{id}\"\nwhy = \"w\"\nnext = \"n\"\n{body}\n")
}

/// The fastest muzzle speed of a load that suits, ft/s, where a rule lets it suit from `edge` down and another asks of
/// the slow shot so much that it does not suit 60 ft/s below.
fn fastest(load: &Load, edge: f64, opens: &str, yards: f64) -> Option<f64> {
    let (conditions, ladder) = (sea_level(), Ladder::builtin().unwrap());
    let at = unit::YARD.of(yards);
    let slower = load.with(|facts| facts.muzzle_velocity = unit::FOOT_PER_SECOND.of(edge - 60.0)).unwrap();
    let slow = Flights::new(&slower, &conditions).unwrap().slow_speed(at).unwrap();
    let least = format!(
        "subject = \"slow-speed\"\nsense = \"at-least\"\nsuits = \"{} ft/s\"\nwithin = \"900 yd\"",
        unit::FOOT_PER_SECOND.value(slow)
    );
    let rules = with_rules(&(rule("opens", opens) + &rule("least", &least)));
    let setup = Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) };
    let plate = ladder.plates().iter().find(|plate| plate.thickness >= unit::INCH.of(0.49)).unwrap();
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    fastest_that_suits(&question, load, plate, at).map(|speed| unit::FOOT_PER_SECOND.value(speed))
}

#[test]
fn the_fastest_that_suits_is_found_at_whatever_a_rule_is_cut_by_at_the_muzzle() {
    let catalog = Catalog::builtin().unwrap();
    let load = &catalog.load("308-168-match").unwrap().load;
    let far = "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"800 yd\"\n";
    // 2,300 ft/s is 1,973 ft·lbf of 168 gr.
    let energy = 168.0 / 7000.0 / 32.174_048_6 * 2300.0 * 2300.0 / 2.0;
    for (by, opens) in [
        ("a speed that it begins above", format!("{far}muzzle-speed-above = \"2300 ft/s\"")),
        ("an energy that it begins above", format!("{far}muzzle-energy-above = \"{energy} ft-lbf\"")),
        ("a limit on speed", "subject = \"muzzle-speed\"\nsense = \"at-most\"\nsuits = \"2300 ft/s\"".to_owned()),
        ("a limit on energy", format!("subject = \"muzzle-energy\"\nsense = \"at-most\"\nsuits = \"{energy} ft-lbf\"")),
    ] {
        let found = fastest(load, 2300.0, &opens, 300.0);
        assert!(found.is_some_and(|fps| (fps - 2300.0).abs() < 0.01), "{by}: {found:?}");
    }
}

#[test]
fn the_fastest_that_suits_is_found_between_the_speeds_that_two_rules_leave() {
    let (conditions, ladder) = (sea_level(), Ladder::builtin().unwrap());
    let load = Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let at = unit::YARD.of(300.0);
    let wanted = load.with(|facts| facts.muzzle_velocity = unit::FOOT_PER_SECOND.of(2330.0)).unwrap();
    let most = Flights::new(&wanted, &conditions).unwrap().fast_speed(at).unwrap();
    let most = format!(
        "subject = \"impact-speed\"\nsense = \"at-most\"\nsuits = \"{} ft/s\"",
        unit::FOOT_PER_SECOND.value(most)
    );
    // Nothing at 2,300 ft/s or below suits.
    let far = "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"800 yd\"\nmuzzle-speed-at-most = \"2300 ft/s\"";
    let rules = with_rules(&(rule("most", &most) + &rule("far", far)));
    let setup = Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) };
    let plate = ladder.plates().iter().find(|plate| plate.thickness >= unit::INCH.of(0.49)).unwrap();
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    let found = fastest_that_suits(&question, &load, plate, at).map(|speed| unit::FOOT_PER_SECOND.value(speed));
    assert!(found.is_some_and(|fps| (fps - 2330.0).abs() < 0.01), "{found:?}");
}

#[test]
fn the_fastest_that_suits_is_found_at_the_energy_from_which_a_load_is_judged_as_another_class() {
    let bc = unit::POUND_PER_SQUARE_INCH.of(0.13);
    let load = Catalog::builtin().unwrap().load("22lr-hv-40").unwrap().load.clone();
    let load = load
        .with(|facts| {
            facts.firearm = Firearm::RimfireRifle;
            facts.bullet = unit::GRAIN.of(60.0);
            facts.drag = Drag::single(DragModel::G1, bc).unwrap();
            facts.muzzle_velocity = unit::FOOT_PER_SECOND.of(1980.0);
        })
        .unwrap();
    // Above 450 ft·lbf no rimfire is meant, and it is judged as a rifle's.
    let edge = (2.0 * 450.0 * 32.174_048_6 * 7000.0 / 60.0_f64).sqrt();
    let far = "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"800 yd\"\nclass = [\"rifle\"]";
    let found = fastest(&load, edge, far, 150.0);
    assert!(found.is_some_and(|fps| (fps - edge).abs() < 0.01), "{found:?} and {edge}");
}

#[test]
fn a_limit_at_the_muzzle_within_a_distance_counts_the_powder_of_a_hot_day() {
    let rules = with_rules(&rule(
        "near",
        "subject = \"muzzle-speed\"\nsense = \"at-most\"\nsuits = \"2680 ft/s\"\nwithin = \"400 yd\"",
    ));
    let load = Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let load = load.with(|f| f.spread.temperature_slope = Some(unit::FOOT_PER_SECOND_PER_FAHRENHEIT.of(1.0))).unwrap();
    let setup = Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) };
    let ladder = Ladder::builtin().unwrap();
    let plate = ladder.plates().iter().find(|plate| plate.thickness >= unit::INCH.of(0.49)).unwrap();
    let closest = |temperature: &str| -> Length {
        let weather = weather(temperature);
        let conditions = FlightConditions::new(&weather, unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let flights = Flights::new(&load, &conditions).unwrap();
        match rules.allow(&load, plate, &setup, flights.muzzle()).closest(&flights) {
            Closest::At { distance, .. } => distance,
            other => panic!("{other:?}"),
        }
    };
    assert!((unit::YARD.value(closest("100F")) - 400.0).abs() < 1e-6, "the powder adds 41 ft/s");
    assert!(closest("59F") < unit::YARD.of(200.0));
}

fn weather(temperature: &str) -> Weather {
    let temperature = thickset::quantity::Range::parse(temperature).unwrap();
    Weather::new(thickset::air::Standard::Icao, None, Some(temperature), None, None).unwrap()
}

#[test]
fn a_slower_load_that_would_suit_is_told_also_where_the_air_that_was_not_given_asks_for_a_yet_slower_one() {
    let speed = |air: &str| {
        let text = format!(
            r#"{{"load": "300wm-180", "at": "220 yd", "plate": "3/8 in", "condition": "sound", "tilt": "15 deg"{air}}}"#
        );
        let answer = vet(&text).unwrap();
        assert_eq!(answer.verdict, Verdict::Borderline, "{}", answer.preamble.headline);
        answer.would_suit.muzzle_velocity.expect("a speed that suits").0
    };
    let open = speed("");
    assert!(open < speed(r#", "altitude": "0 ft", "temperature": "59 F""#));
}

/// Nearer than 400 yd nothing that leaves above a speed.
fn fast_from_400() -> Value {
    json!({"schema": "thickset/rules/1", "name": "Hollow Creek", "rule": [{
        "id": "fast-far", "subject": "distance", "sense": "at-least", "suits": "400 yd",
        "muzzle-speed-above": "3000 ft/s", "why": "the creek bends"}]})
}

#[test]
fn a_rule_for_loads_above_a_muzzle_speed_counts_the_powder_of_the_day_whoever_asks() {
    // 300 Win Mag 180 gr is listed at 2,970 ft/s, and leaves at 3,011 at 100 °F.
    let air = |hot: bool| if hot { json!({"altitude": "500 ft", "temperature": "100 F"}) } else { json!({}) };
    let with = |mut question: Value, hot: bool| {
        question.as_object_mut().unwrap().extend(air(hot).as_object().unwrap().clone());
        question["range_rules"] = fast_from_400();
        question
    };
    let hung = json!({"plate": "1/2 in", "condition": "sound", "tilt": "15 deg"});
    let ask = |more: Value, hot: bool| {
        let mut question = hung.clone();
        question.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        with(question, hot)
    };
    let vetted = |hot: bool| vet(&ask(json!({"load": "300wm-180@310 yd"}), hot).to_string()).unwrap();
    let hot = vetted(true);
    assert_eq!((hot.verdict, hot.governed_by.as_deref()), (Verdict::Unsuitable, Some("fast-far")));
    assert!(hot.preamble.nearest.contains("400 yd"), "{}", hot.preamble.nearest);
    let why = |answer: &thickset::advisor::VetAnswer| {
        let of_rule = answer.findings.iter().find(|f| f.rule == "fast-far").expect("it speaks of it");
        of_rule.why.clone()
    };
    assert!(why(&hot).contains("a hot day's powder"), "{}", why(&hot));
    // Without the air it is judged as listed, and the first lines tell the hot day.
    let open = vetted(false);
    assert_eq!(open.verdict, Verdict::Suits);
    assert!(open.preamble.headline.contains("else unsuitable"), "{}", open.preamble.headline);
    assert!(open.preamble.nearest.contains("400 yd"), "{}", open.preamble.nearest);
    let house = Advisor::house().unwrap();
    let standoff = |hot: bool| {
        let question: StandoffQuestion = serde_json::from_value(ask(json!({"load": "300wm-180"}), hot)).unwrap();
        house.standoff(&question).unwrap().preamble.headline
    };
    for hot in [true, false] {
        assert!(standoff(hot).contains("no closer than 400 yd"), "{}", standoff(hot));
    }
    let question = with(json!({"load": "300wm-180@310 yd", "tilt": "15 deg"}), true);
    let advised = house.advise(&serde_json::from_value(question).unwrap()).unwrap();
    assert_eq!(advised.verdict, Verdict::Unsuitable, "{}", advised.preamble.headline);
    let readings: Vec<String> = (0..10).map(|i| format!("{} fps", 2960 + 2 * i)).collect();
    let question = ask(json!({"readings": readings.join("\n"), "load": "300wm-180"}), true);
    let measured = house.chrono(&serde_json::from_value(question).unwrap()).unwrap();
    assert!(measured.preamble.nearest.contains("400 yd"), "{}", measured.preamble.nearest);
    let question: CourseQuestion = serde_json::from_value(json!({"range_rules": fast_from_400(), "course": {
        "schema": "thickset/course/1", "name": "m", "loads": ["300wm-180"], "air": air(true),
        "stand": {"condition": "sound", "tilt": "15 deg"},
        "stage": [{"name": "Hill", "target": [{"name": "gong", "plate": "1/2 in", "at": "310 yd"}]}],
    }}))
    .unwrap();
    assert_eq!(house.course(&question).unwrap().targets[0].verdict.to_string(), "unsuitable");
}

#[test]
fn the_house_s_magnum_floors_and_its_words_for_firearms_count_the_powder_of_the_day() {
    let at = |load: &str, fps: f64, temperature: &str| {
        vet(&format!(
            r#"{{"load": {{{load}, "velocity": "{fps:.0} fps", "bc": "0.5", "drag": "G1"}}, "at": "110 yd", "plate": "1/2 in",
                "condition": "sound", "tilt": "15 deg", "altitude": "500 ft", "temperature": "{temperature}"}}"#
        ))
        .unwrap()
    };
    // 3,025 ft·lbf as listed, 3,121 at 100 °F.
    let magnum = r#""bullet": "200 gr", "diameter": "0.308 in", "firearm": "rifle", "construction": "jacketed-lead""#;
    assert_eq!(at(magnum, 2610.0, "59 F").verdict, Verdict::Suits);
    let hot = at(magnum, 2610.0, "100 F");
    assert_eq!(
        (hot.verdict, hot.preamble.nearest.contains("200 yd")),
        (Verdict::Unsuitable, true),
        "{}",
        hot.preamble.nearest
    );
    // The velocity that would suit is one that suits on that day.
    let slower = hot.would_suit.muzzle_velocity.expect("a slower load suits");
    let fps = (unit::FOOT_PER_SECOND.value(slower.0)).floor();
    assert_eq!(at(magnum, fps, "100 F").verdict, Verdict::Suits, "{fps}");
    assert_ne!(at(magnum, fps + 2.0, "100 F").verdict, Verdict::Suits, "{fps}");
    // A rimfire bullet beyond 450 ft·lbf is judged as a rifle's besides, and so is an air gun's pellet beyond 1,100 ft/s,
    // which no hot day drives there unless its slope is given.
    let small = |load: &str, at: &str, more: &str, temperature: &str| {
        vet(&format!(
            r#"{{"load": {{{load}, "drag": "G1", "construction": "lead", "diameter": "0.22 in"}}, "at": "{at}",
                "plate": "1/4 in", "condition": "sound", "tilt": "15 deg", "altitude": "500 ft",
                "temperature": "{temperature}"{more}}}"#
        ))
        .unwrap()
        .verdict
    };
    let of_both = |load: &str, at: &str, more: &str| (small(load, at, more, "59 F"), small(load, at, more, "100 F"));
    let rimfire = r#""bullet": "60 gr", "velocity": "1830 fps", "bc": "0.1", "firearm": "rimfire-rifle""#;
    assert_eq!(of_both(rimfire, "60 yd", ""), (Verdict::Suits, Verdict::Borderline));
    let pellet = r#""bullet": "15 gr", "velocity": "1080 fps", "bc": "0.03", "firearm": "air-gun""#;
    assert_eq!(of_both(pellet, "15 yd", ""), (Verdict::Suits, Verdict::Suits));
    let slope = r#", "velocity_temperature_slope": "1 ft/s per F""#;
    assert_eq!(of_both(pellet, "15 yd", slope), (Verdict::Suits, Verdict::Unsuitable));
}

#[test]
fn a_rule_for_loads_up_to_a_muzzle_speed_counts_the_powder_of_a_cold_day() {
    let rules = with_rules(&rule(
        "slow",
        "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"300 yd\"\nmuzzle-speed-at-most = \"2640 ft/s\"",
    ));
    let load = Catalog::builtin().unwrap().load("308-168-match").unwrap().load.clone();
    let load = load.with(|f| f.muzzle_velocity = unit::FOOT_PER_SECOND.of(2650.0)).unwrap();
    let setup = Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) };
    let ladder = Ladder::builtin().unwrap();
    let plate = ladder.plates().iter().find(|plate| plate.thickness >= unit::INCH.of(0.49)).unwrap();
    let from = |temperature: &str| {
        let conditions =
            FlightConditions::new(&weather(temperature), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
        let flights = Flights::new(&load, &conditions).unwrap();
        unit::YARD.value(rules.allow(&load, plate, &setup, flights.muzzle()).closest(&flights).distance().unwrap())
    };
    assert!((from("20F") - 300.0).abs() < 1e-6 && from("59F") < 200.0 && from("100F") < 200.0);
}
