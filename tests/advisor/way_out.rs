//! What is told as a way out holds where it is told to, and what was replaced or left unsaid never opens one.

use crate::draws::Draws;
use serde_json::{Value, json};
use thickset::advisor::{AdviseQuestion, Advisor, StandoffQuestion, VetAnswer, VetQuestion};
use thickset::catalog::Catalog;
use thickset::quantity::unit;
use thickset::rules::Verdict;

fn house() -> Advisor {
    Advisor::house().unwrap()
}

fn vet(question: &Value) -> Result<VetAnswer, String> {
    let question: VetQuestion = serde_json::from_value(question.clone()).map_err(|e| e.to_string())?;
    house().vet(&question).map_err(|faults| faults.to_string())
}

fn turns(answer: &VetAnswer) -> bool {
    answer.preamble.remarks.iter().any(|remark| remark.starts_with("Not all of the air was given"))
}

#[test]
fn a_plate_or_a_speed_that_would_suit_suits_at_the_bad_end_of_the_air_too() {
    let (advisor, catalog, mut draws) = (house(), Catalog::builtin().unwrap(), Draws(11));
    let (mut plates, mut speeds) = (0, 0);
    for _ in 0..60 {
        let load = &catalog.entries()[draws.below(catalog.entries().len())].load;
        let yards = 40 + 10 * draws.below(16);
        let asked = json!({
            "load": load.id(), "at": format!("{yards} yd"), "plate": draws.of(&["1/4 in", "3/8 in"]),
            "condition": "sound", "tilt": "15 deg",
        });
        let ask = |question: Value| {
            let question: VetQuestion = serde_json::from_value(question).unwrap();
            advisor.vet(&question).unwrap_or_else(|faults| panic!("{faults}"))
        };
        let answer = ask(asked.clone());
        let would = &answer.would_suit;
        if would.in_the_air_taken_alone {
            continue;
        }
        if let Some(plate) = &would.plate {
            let mut question = asked.clone();
            question["plate"] = json!(plate.label);
            let there = ask(question);
            assert!(there.verdict == Verdict::Suits && !turns(&there), "{asked}: {}", there.preamble.headline);
            plates += 1;
        }
        if let Some(speed) = would.muzzle_velocity {
            let facts = load.facts().clone();
            let told = format!("{} ft/s", unit::FOOT_PER_SECOND.value(speed.0).floor());
            let slower = load.with(|slow| {
                slow.muzzle_velocity = thickset::quantity::parse(&told).unwrap();
                slow.name = format!("{} slowed, subsonic", facts.name);
            });
            let text = format!(
                "schema = \"{}\"\n{}",
                thickset::catalog::SCHEMA,
                thickset::catalog::render_load(&slower.unwrap(), "given", None)
            );
            let mut question = asked.clone();
            question["loads"] = json!([text_of(&text)]);
            let there = ask(question);
            assert!(there.verdict == Verdict::Suits && !turns(&there), "{asked}: {}", there.preamble.headline);
            speeds += 1;
        }
    }
    assert!(plates > 2 && speeds > 5, "{plates} {speeds}");
}

/// A file's text as the same object that the file holds.
fn text_of(text: &str) -> Value {
    serde_json::to_value(toml::from_str::<toml::Value>(text).unwrap()).unwrap()
}

#[test]
fn a_load_that_takes_a_listed_name_leaves_the_listed_one_among_any_ammunition() {
    let own = |id: &str| {
        json!({"schema": "thickset/loads/1", "load": [{
            "id": id, "name": "x", "firearm": "rifle", "construction": "jacketed-lead", "bullet": "123 gr",
            "muzzle-velocity": "2300 ft/s", "drag": "G1", "bc": "0.3",
        }]})
    };
    for (any, id) in [("7.62x39", "762x39-123"), ("9mm", "9mm-115"), ("5.56", "556-55")] {
        let mut question =
            json!({"any": any, "at": "100 yd", "plate": "3/8 in", "condition": "sound", "tilt": "15 deg"});
        let listed = vet(&question).unwrap();
        question["loads"] = json!([own(id)]);
        let with_own = vet(&question).unwrap();
        assert_eq!(listed.verdict, with_own.verdict, "{any}: {}", with_own.preamble.headline);
        assert_ne!(with_own.verdict, Verdict::Suits, "{any}: {}", with_own.preamble.headline);
    }
}

#[test]
fn any_ammunition_set_apart_is_borderline_at_best_in_every_row_and_says_what_is_apart() {
    let question = json!({"any": ["5.56", "308"], "plate": ["3/8 in", "1/2 in"]});
    let question: StandoffQuestion = serde_json::from_value(question).unwrap();
    let answer = house().standoff(&question).unwrap();
    for row in &answer.rows {
        assert!(row.name.contains(" never)"), "{}", row.name);
        for cell in &row.plates {
            assert!(cell.nearest.is_none() && cell.closest.distance.is_none(), "{} {}", row.name, cell.label);
            assert!(cell.ceiling_speed.is_none());
        }
    }
}

#[test]
fn a_plate_that_is_not_made_or_not_given_is_refused_in_every_question() {
    let shop = Advisor::house().unwrap().with_shop(include_str!("../../examples/shop.toml")).unwrap();
    let advise = |question: Value| {
        let question: AdviseQuestion = serde_json::from_value(question).unwrap();
        shop.advise(&question).map(|answer| answer.preamble.headline).map_err(|faults| faults.to_string())
    };
    let own = json!({"schema": "thickset/plates/1", "plate": [{"thickness": "6 mm"}, {"thickness": "10 mm"}]});
    let unmade = advise(json!({"load": "22lr-hv-40", "at": "50 yd", "product": "Gong 12", "plate": "1/4 in"}));
    assert!(unmade.unwrap_err().contains("is not made in 1/4 in"));
    let other = advise(json!({"load": "22lr-hv-40", "at": "50 yd", "plate": "13 mm", "plates": own}));
    assert!(other.unwrap_err().contains("none of the plates that were given"));
    let other = vet(&json!({"load": "22lr-hv-40", "at": "50 yd", "plate": "13 mm", "plates": own}));
    assert!(other.unwrap_err().contains("none of the plates that were given"));
}

#[test]
fn a_coefficient_that_no_bullet_has_is_refused_with_what_to_look_at() {
    let described = |bullet: &str, diameter: Option<&str>, bc: &str, drag: &str, firearm: &str| {
        let mut load = json!({"bullet": bullet, "velocity": "1400 ft/s", "bc": bc, "drag": drag, "firearm": firearm});
        if let Some(diameter) = diameter {
            load["diameter"] = json!(diameter);
        }
        vet(&json!({"load": load, "at": "100 yd", "plate": "3/8 in"}))
    };
    for (bullet, diameter, bc, drag) in [
        ("55 gr", Some("0.224 in"), "0.024", "G1"),
        ("18 gr", Some("0.308 in"), "0.49", "G1"),
        ("18 gr", None, "0.49", "G1"),
        ("168 gr", Some("0.308 in"), "0.46", "G7"),
        ("55 gr", None, "0.024", "G1"),
        ("55 gr", None, "0.04", "G1"),
        ("55 gr", Some("0.224 in"), "0.04", "G1"),
        ("140 gr", Some("0.264 in"), "0.065", "G1"),
    ] {
        let fault = described(bullet, diameter, bc, drag, "rifle").unwrap_err();
        assert!(fault.contains("form factor") || fault.contains("lead ball"), "{bullet} {bc}: {fault}");
    }
    assert!(described("55 gr", Some("0.5 in"), "0.05", "G1", "rifle").unwrap_err().contains("lead ball"));
    for (bullet, diameter, bc, drag, firearm) in [
        ("55 gr", Some("0.224 in"), "0.24", "G1", "rifle"),
        ("55 gr", None, "0.24", "G1", "rifle"),
        ("180 gr", Some("0.308 in"), "0.49", "G1", "rifle"),
        ("405 gr", Some("0.458 in"), "0.21", "G1", "rifle"),
        ("405 gr", None, "0.21", "G1", "rifle"),
        ("110 gr", Some("0.308 in"), "0.166", "G1", "rifle"),
        ("77 gr", Some("0.224 in"), "0.19", "G7", "rifle"),
        ("148 gr", Some("0.358 in"), "0.055", "G1", "handgun"),
    ] {
        assert!(described(bullet, diameter, bc, drag, firearm).is_ok(), "{bullet} {bc}");
    }
}

#[test]
fn an_air_gun_with_the_energy_of_a_rimfire_is_judged_as_one_on_thin_steel() {
    let at = |firearm: &str, velocity: &str, bullet: &str| {
        let load = json!({"bullet": bullet, "velocity": velocity, "bc": "0.1", "drag": "G1", "construction": "lead",
            "firearm": firearm});
        vet(&json!({"load": load, "at": "12 yd", "plate": "3/16 in", "condition": "sound", "tilt": "15 deg"})).unwrap()
    };
    for firearm in ["rimfire-pistol", "rimfire-rifle", "air-gun"] {
        assert_ne!(at(firearm, "960 ft/s", "40 gr").verdict, Verdict::Suits, "{firearm}");
    }
    assert_eq!(at("air-gun", "900 ft/s", "16 gr").verdict, Verdict::Suits);
}

#[test]
fn a_product_topples_as_its_kind_does_and_a_base_without_use_is_refused() {
    let shop = Advisor::house().unwrap().with_shop(include_str!("../../examples/shop.toml")).unwrap();
    let ask = |question: Value| {
        let question: VetQuestion = serde_json::from_value(question).unwrap();
        shop.vet(&question).map_err(|faults| faults.to_string())
    };
    for (product, face, kind, load) in
        [("Falling plate 8", "8 in", "falling", "9mm-124"), ("Popper 42", "9x42in", "popper", "45acp-230")]
    {
        let own = json!({"load": load, "at": "15 yd", "product": product, "plate": "3/8 in", "base": "4 in"});
        let told = json!({"load": load, "at": "15 yd", "face": face, "kind": kind, "plate": "3/8 in",
            "mount": "bolted", "base": "4 in"});
        let (own, told) = (ask(own).unwrap().topple.unwrap(), ask(told).unwrap().topple.unwrap());
        assert_eq!(own.words, told.words);
    }
    for kind in ["plate", "spinner"] {
        let idle = json!({"load": "9mm-124", "at": "15 yd", "plate": "3/8 in", "kind": kind, "base": "4 in"});
        assert!(ask(idle).unwrap_err().contains("does not topple"), "{kind}");
    }
}

#[test]
fn the_next_plate_s_margin_in_the_headline_is_that_of_its_row() {
    let question = json!({"load": ["308-168-match@100yd", "556-55@170yd"], "altitude": "0 ft", "temperature": "59 F"});
    let question: AdviseQuestion = serde_json::from_value(question).unwrap();
    let answer = house().advise(&question).unwrap();
    let headline = &answer.preamble.headline;
    let next = headline.rsplit("; ").next().unwrap_or_else(|| panic!("{headline}"));
    let (label, margin) = next.split_once(" has ").unwrap_or_else(|| panic!("{headline}"));
    let row = answer.plates.iter().find(|plate| plate.label == label).unwrap();
    let share = row.margin.unwrap().0;
    assert_eq!(margin.trim_end_matches('.'), format!("{:.0} %", (share * 100.0).floor()), "{headline}");
}

#[test]
fn a_range_s_limit_at_the_muzzle_counts_the_powder_of_a_hot_day() {
    let range = json!({"schema": "thickset/rules/1", "name": "Hollow Creek", "rule": [
        {"id": "speed", "subject": "muzzle-speed", "sense": "at-most", "suits": "3000 ft/s", "why": "w", "next": "n"},
    ]});
    let energy = json!({"schema": "thickset/rules/1", "name": "Hollow Creek", "rule": [
        {"id": "energy", "subject": "muzzle-energy", "sense": "at-most", "suits": "3580 ft-lbf", "why": "w", "next": "n"},
    ]});
    let asked = |rules: &Value, temperature: &str| {
        vet(&json!({"load": "300wm-180", "at": "420 yd", "plate": "1/2 in", "condition": "sound", "tilt": "10 deg",
            "altitude": "500 ft", "temperature": temperature, "range_rules": rules}))
        .unwrap()
    };
    for (rules, rule) in [(&range, "speed"), (&energy, "energy")] {
        assert_eq!(asked(rules, "59 F").verdict, Verdict::Suits);
        let hot = asked(rules, "100 F");
        assert_eq!(hot.verdict, Verdict::Unsuitable, "{}", hot.preamble.headline);
        assert!(hot.governed_by.as_deref().is_some_and(|by| by.contains(rule)), "{:?}", hot.governed_by);
    }
    // Cold powder is no leave.
    let fast = json!({"bullet": "180 gr", "velocity": "3010 ft/s", "bc": "0.49", "drag": "G1", "construction": "jacketed-lead"});
    let cold =
        vet(&json!({"load": fast, "at": "420 yd", "plate": "1/2 in", "temperature": "0 F", "range_rules": range}));
    assert_eq!(cold.unwrap().verdict, Verdict::Unsuitable);
}

#[test]
fn a_match_names_what_is_left_out_everywhere_a_stage_without_targets_and_a_load_called_what_it_is_not() {
    let course = |stages: Value, loads: Value, own: Value| {
        let course = json!({"schema": "thickset/course/1", "name": "x", "loads": loads, "load": own, "stage": stages});
        let question = serde_json::from_value(json!({ "course": course })).unwrap();
        house().course(&question)
    };
    let target = |without: Value| {
        json!({"name": "g", "plate": "1/2 in", "at": "250 yd", "without": without,
            "stand": {"tilt": "15 deg", "condition": "sound"}})
    };
    let told = |answer: &thickset::advisor::CourseAnswer, what: &str| {
        answer.preamble.not_judged.iter().any(|one| one.what.contains(what) || one.why.contains(what))
    };
    let stage = json!([{"name": "One", "target": [target(json!(["300wm-180"]))]}]);
    let answer = course(stage, json!(["308-168-match", "300wm-180"]), json!([])).unwrap();
    let headline = &answer.preamble.headline;
    assert!(headline.contains("with 1 load") && headline.contains("left out everywhere"), "{headline}");
    let empty = json!([{"name": "One", "target": [target(json!([]))]}, {"name": "Bay 7"}]);
    let answer = course(empty, json!(["308-168-match"]), json!([])).unwrap();
    assert!(told(&answer, "Bay 7"), "{:?}", answer.preamble.not_judged);
    let named = |name: &str| {
        let own = json!([{"id": "own", "name": name, "firearm": "rifle", "construction": "jacketed-lead",
            "bullet": "150 gr", "muzzle-velocity": "2700 ft/s", "drag": "G1", "bc": "0.4"}]);
        course(json!([{"name": "One", "target": [target(json!([]))]}]), json!([]), own)
    };
    for name in ["3006 armor piercing", "M855 pulls", "308 tracer", "7.62 green tip", "308 solid copper"] {
        let faults = named(name).unwrap_err().to_string();
        assert!(faults.contains("is called what"), "{name}: {faults}");
    }
    assert!(named("308 practice").unwrap().preamble.not_judged.is_empty());
}

#[test]
fn what_would_do_only_together_is_the_fewest_changes_each_the_least_that_does() {
    let asked = |load: &str, at: &str, plate: &str, more: Value| {
        let mut question = json!({"load": load, "at": at, "plate": plate, "condition": "sound",
            "altitude": "500 ft", "temperature": "59 F"});
        for (key, value) in more.as_object().unwrap() {
            question[key] = value.clone();
        }
        vet(&question).unwrap_or_else(|fault| panic!("{fault}")).would_suit.words
    };
    for (load, at, plate, more, told) in [
        ("308-168-match", "300 yd", "1/2 in", json!({"tilt": "50 deg"}), "Lean the face 29° toward you."),
        (
            "308-168-match",
            "300 yd",
            "1/2 in",
            json!({"tilt": "50 deg", "condition": "pitted"}),
            "Only together: hang a sound plate and lean it 29° toward you.",
        ),
        (
            "308-168-match",
            "300 yd",
            "1/2 in",
            json!({"tilt": "-8 deg", "condition": "pitted"}),
            "Only together: hang a sound plate and set it plumb.",
        ),
        (
            "308-168-match",
            "80 yd",
            "1/2 in",
            json!({"tilt": "50 deg"}),
            "Only together: lean it 29° toward you and shoot from 100 yd on.",
        ),
        // The thinnest of the thicker plates that does.
        ("338lm-250", "300 yd", "3/8 in", json!({"tilt": "-8 deg"}), "Only together: hang 1/2 in and set it plumb."),
        (
            "338lm-250",
            "300 yd",
            "1/4 in",
            json!({"tilt": "50 deg", "condition": "pitted", "mount": "welded"}),
            "Only together: hang a sound plate of 1/2 in, hang it from open hooks and lean it 29° toward you.",
        ),
    ] {
        assert_eq!(asked(load, at, plate, more), [told], "{load} {at} {plate}");
    }
}

#[test]
fn what_stands_for_ammunition_set_apart_is_mended_by_narrowing_it_not_by_distance() {
    let remedies = |more: Value| {
        let mut question = json!({"at": "150 yd", "tilt": "15 deg", "altitude": "500 ft", "temperature": "59 F"});
        for (key, value) in more.as_object().unwrap() {
            question[key] = value.clone();
        }
        let question: AdviseQuestion = serde_json::from_value(question).unwrap();
        let remedies = house().advise(&question).unwrap().remedies;
        remedies.into_iter().map(|r| (r.distance.map(|d| unit::YARD.value(*d).round()), r.words)).collect::<Vec<_>>()
    };
    let narrow = "narrow it (`--of jacketed-lead`), or name the loads.";
    assert_eq!(remedies(json!({"any": "7.62x39"})), [(None, narrow.to_owned())]);
    assert_eq!(remedies(json!({"any": "5.56", "at": "250 yd"})), [(None, narrow.to_owned())]);
    assert_eq!(remedies(json!({"any": "5.56"})), [(None, "shoot from farther, or a slower load.".to_owned())]);
    assert_eq!(
        remedies(json!({"any": "5.56", "mount": "welded"})),
        [(None, "the others suit on 3/4 in: hang it from open hooks and shoot from 193 yd on.".to_owned())]
    );
    assert_eq!(
        remedies(json!({"any": ".308 Win", "of": "jacketed-lead", "at": "80 yd"})),
        [(Some(168.0), "1/2 in from 169 yd.".to_owned())]
    );
}
