//! Matches: the risk of many shots, what stays up, and what a sign says of ammunition; and what mends a case.

use serde_json::{Value, json};
use thickset::advisor::{AdviseQuestion, Advisor, CatalogQuestion, CourseAnswer};
use thickset::quantity::{Measure, unit};

fn course(mut matched: Value, range: Option<Value>) -> CourseAnswer {
    matched["schema"] = json!("thickset/course/1");
    matched["name"] = json!("m");
    let mut question = json!({ "course": matched });
    if let Some(range) = range {
        question["range_rules"] = range;
    }
    Advisor::house().unwrap().course(&serde_json::from_value(question).unwrap()).unwrap()
}

fn target(name: &str, yards: f64, class: &str) -> Value {
    json!({"name": name, "plate": "1/2 in", "at": format!("{yards} yd"), "class": [class],
        "stand": {"tilt": "15 deg", "condition": "sound"}})
}

#[test]
fn a_match_of_many_shots_names_the_load_that_keeps_farthest_off_and_who_is_nearer_by_its_class() {
    let of = |targets: Value| {
        course(
            json!({"loads": ["223-77", "556-55", "9mm-124"], "shooters": 200, "rounds": 200,
                "air": {"altitude": "500 ft", "temperature": "59 F", "humidity": "40 %"},
                "stage": [{"name": "Creek", "target": targets}]}),
            None,
        )
    };
    let found = of(json!([target("far", 300.0, "rifle"), target("hand", 25.0, "handgun")])).risk.expect("a risk");
    assert_eq!((found.load.load.as_str(), found.nearer.len()), ("556-55", 0));
    assert!(found.words.contains("keep the chance that one shot is too fast within 1 %"), "{}", found.words);
    let keep = unit::YARD.value(*found.distance);
    assert!(keep > 100.0 && keep < 290.0, "{keep}");
    // A hand's breadth to either side of it, and far nearer with another class.
    let found = of(json!([
        target("inside", keep - 0.2, "rifle"),
        target("outside", keep + 0.2, "rifle"),
        target("hand", 25.0, "handgun"),
    ]));
    let risk = found.risk.expect("a risk");
    assert_eq!(risk.nearer, ["Creek, inside"]);
    let first = unit::YARD.value(*risk.distance);
    assert!((first / keep - 1.0).abs() < 1e-6, "{first} {keep}");
    assert!(risk.words.starts_with("By speed alone no closer than "), "{}", risk.words);
    assert!(found.targets.iter().find(|t| t.target == "inside").is_some_and(|t| t.fix != "nothing"));
}

/// A match of 40 shooters with one rifle load on one gong.
fn crowd(yards: f64, air: Option<Value>) -> CourseAnswer {
    let mut matched = json!({"loads": ["556-55"], "shooters": 40, "rounds": 120,
        "stage": [{"name": "A", "target": [{"name": "gong", "plate": "3/8 in", "at": format!("{yards} yd"),
            "stand": {"tilt": "15 deg", "condition": "sound", "duty": "private"}}]}]});
    if let Some(air) = air {
        matched["air"] = air;
    }
    course(matched, None)
}

#[test]
fn what_is_hung_new_is_a_thickness_that_the_shop_sells_or_no_fix_and_says_so() {
    let fix = |thicknesses: &[&str]| {
        let price = |thick: &&str| json!({"thickness": thick, "per-kilogram": 3, "cut-per-metre": 2});
        let shop = json!({"schema": "thickset/shop/1", "name": "Example", "currency": "EUR ",
            "price": thicknesses.iter().map(price).collect::<Vec<_>>()});
        let matched = json!({"schema": "thickset/course/1", "name": "m", "loads": ["300wm-180"],
            "stage": [{"name": "A", "target": [{"name": "gong", "plate": "1/2 in", "at": "300 yd",
                "stand": {"tilt": "15 deg", "condition": "cratered"}}]}]});
        let question = serde_json::from_value(json!({"course": matched, "shop": shop})).unwrap();
        Advisor::house().unwrap().course(&question).unwrap().targets[0].fix.clone()
    };
    assert_eq!(fix(&["6 mm", "10 mm", "20 mm"]), "retire the cratered plate and hang a new 20 mm");
    assert!(fix(&["6 mm", "1/2 in"]).ends_with("a new 1/2 in"), "{}", fix(&["6 mm", "1/2 in"]));
    assert!(fix(&["6 mm"]).starts_with("no fix found with a plate that the shop sells"), "{}", fix(&["6 mm"]));
}

#[test]
fn the_risk_of_many_shots_in_other_air_sets_the_headline_and_every_line() {
    let thin = json!({"altitude": "6000 ft", "temperature": "100 F"});
    let keep = unit::YARD.value(*crowd(190.0, Some(thin)).risk.expect("a risk").distance);
    let far = format!("{:.0} yd", keep.ceil());
    for yards in [172.0, 190.0] {
        let found = crowd(yards, None);
        assert!(found.ready);
        assert!(found.preamble.headline.starts_with("READY at sea level up to "), "{}", found.preamble.headline);
        let line = format!("gong: rifles {far} ({yards:.0} yd at sea level up to ");
        assert!(found.stages[0].lines[0].starts_with(&line), "{:?}", found.stages[0].lines);
        assert!(found.stages[0].stands_on.contains("gong passes at sea level up to "), "{}", found.stages[0].stands_on);
        assert!(
            found.preamble.nearest.contains(&format!("nobody nearer than: A, gong {far};")),
            "{}",
            found.preamble.nearest
        );
        let safety = &found.preamble.safety;
        assert!(safety.contains(&format!("A rifles {far} ({yards:.0} yd at sea level")), "{safety}");
    }
    // What the headline says holds there, and not a step beyond.
    let up_to = |heat: &str| {
        crowd(190.0, Some(json!({"altitude": "0 ft", "temperature": format!("{heat} F"), "humidity": "100 %"}))).ready
    };
    let headline = crowd(190.0, None).preamble.headline;
    let told = headline.split("up to ").nth(1).and_then(|rest| rest.split(' ').next()?.parse::<f64>().ok());
    let told = told.expect("a temperature");
    assert!(up_to(&format!("{told}")) && !up_to(&format!("{}", told + 3.0)), "{headline}");
    // From there on all of the air is good.
    let all = crowd(keep.ceil(), None);
    assert!(all.preamble.headline.starts_with("READY: "), "{}", all.preamble.headline);
}

#[test]
fn a_target_that_is_too_near_for_many_shots_alone_suits_nowhere_in_the_answer() {
    let found = crowd(190.0, Some(json!({"altitude": "3000 ft", "temperature": "100 F"})));
    let target = serde_json::to_value(&found.targets[0]).unwrap();
    assert_eq!((&target["verdict"], &target["positions"][0]["verdict"]), (&json!("unsuitable"), &json!("unsuitable")));
    assert_eq!(target["failing"], 1);
    assert!(target["fix"].as_str().is_some_and(|fix| fix.starts_with("move the line to ")), "{target}");
    assert!(found.good.is_empty() && found.brief.good.is_empty(), "{:?}", found.good);
    assert!(found.explained[0].contains("unsuitable by speed-ceiling"), "{:?}", found.explained);
    assert!(!found.ready);
}

#[test]
fn only_those_who_shoot_at_a_standing_target_leave_it_up() {
    let rack = |class: Value, without: Value| {
        json!([{"name": "rack", "plate": "1/2 in", "at": "12 yd", "kind": "falling", "class": class, "without": without,
            "stand": {"tilt": "0 deg", "condition": "sound", "face": "8 in"}}])
    };
    let up = |class: Value, without: Value| {
        let answer = course(
            json!({"loads": ["22lr-pistol-40", "44mag-240", "22lr-std-40"],
                "air": {"altitude": "500 ft", "temperature": "59 F"},
                "stage": [{"name": "A", "target": rack(class, without)}]}),
            None,
        );
        let said = |line: &&String| line.contains("does not fall to");
        answer.decide.iter().find(said).cloned().unwrap_or_default()
    };
    let (pistol, rifle) = ("pistol", "22 LR 40 gr standard");
    let both = up(json!([]), json!([]));
    assert!(both.contains(pistol) && both.contains(rifle) && !both.contains("44"), "{both}");
    let hand = up(json!(["rimfire-pistol", "handgun"]), json!([]));
    assert!(hand.contains(pistol) && !hand.contains(rifle), "{hand}");
    let out = up(json!([]), json!(["22lr-pistol-40"]));
    assert!(!out.contains(pistol) && out.contains(rifle), "{out}");
    assert_eq!(up(json!(["handgun"]), json!([])), "");
}

#[test]
fn a_sign_holds_the_ranges_limits_on_ammunition_of_the_classes_that_shoot_there() {
    let rule = |id: &str, class: Value, why: &str| json!({"id": id, "subject": "muzzle-energy", "sense": "at-most", "suits": "4000 ft-lbf", "class": class, "why": why});
    let range = json!({"schema": "thickset/rules/1", "name": "Hollow Creek", "rule": [
        rule("long", json!(["rifle", "slug"]), "the berm is low"),
        rule("hand", json!(["handgun"]), "the bay is short"),
        rule("all", json!([]), "the road is near"),
        {"id": "apart", "subject": "distance", "sense": "at-least", "suits": "20 yd", "why": "the creek bends"},
    ]});
    let matched = json!({"loads": ["308-168-match", "9mm-124"], "stage": [
        {"name": "Hill", "target": [target("gong", 300.0, "rifle")]},
        {"name": "Bay", "target": [target("plate", 25.0, "handgun")]},
    ]});
    let answer = course(matched, Some(range));
    let admitted = |stage: usize, why: &str| answer.stages[stage].admitted.iter().any(|line| line.contains(why));
    assert!(admitted(0, "the berm is low") && admitted(0, "the road is near"), "{:?}", answer.stages[0].admitted);
    assert!(admitted(1, "the bay is short") && admitted(1, "the road is near"), "{:?}", answer.stages[1].admitted);
    assert!(!admitted(0, "the bay is short") && !admitted(1, "the berm is low"));
    assert!(!admitted(0, "the creek bends") && !admitted(1, "the creek bends"));
}

#[test]
fn a_target_that_is_mended_names_whom_it_concerns_and_moves_by_whole_steps() {
    let of = |units: &str| {
        let question = json!({"units": units, "course": {"schema": "thickset/course/1", "name": "m",
            "loads": ["300wm-180", "308-168-match"],
            "stage": [{"name": "Hill", "target": [target("gong", 150.0, "rifle")]}]}});
        Advisor::house().unwrap().course(&serde_json::from_value(question).unwrap()).unwrap()
    };
    let answer = of("us");
    let concerns = &answer.targets[0].concerns;
    assert!(concerns.len() == 1 && concerns[0].contains("300"), "{concerns:?}");
    let back = |answer: &CourseAnswer| answer.targets[0].parts.back.expect("a move").si();
    assert!((back(&answer) / 0.9144 - 50.0).abs() < 1e-6, "{}", back(&answer));
    let metric = back(&of("si"));
    assert!((metric - 46.0).abs() < 1e-6, "{metric}");
}

#[test]
fn what_no_plate_takes_is_told_from_where_and_up_to_what_speed_one_does() {
    let asked = json!({"load": "300wm-180", "at": "150 yd", "tilt": "15 deg", "condition": "sound",
        "altitude": "500 ft", "temperature": "59 F"});
    let question: AdviseQuestion = serde_json::from_value(asked).unwrap();
    let answer = Advisor::house().unwrap().advise(&question).unwrap();
    let [remedy] = answer.remedies.as_slice() else { panic!("{:?}", answer.remedies) };
    // A magnum's own floor: 200 yd, or a load that is none.
    let from = unit::YARD.value(*remedy.distance.expect("a distance"));
    assert!((from - 200.0).abs() < 1e-6, "{from}");
    assert!((unit::YARD.value(*remedy.nearest.expect("a distance")) - 200.0).abs() < 1e-6);
    let speed = unit::FOOT_PER_SECOND.value(*remedy.muzzle_velocity.expect("a speed"));
    assert!(speed > 2300.0 && speed < 2970.0, "{speed}");
    assert!(remedy.distance_plate.is_some() && remedy.muzzle_velocity_plate.is_some(), "{remedy:?}");
}

#[test]
fn a_cartridge_is_listed_with_its_own_loads() {
    let question: CatalogQuestion = serde_json::from_value(json!({"what": "cartridges"})).unwrap();
    let listed = Advisor::house().unwrap().catalog(&question).unwrap().cartridges.expect("cartridges");
    let of = |name: &str| &listed.iter().find(|one| one.name == name).expect("a cartridge").loads;
    assert!(of(".308 Win").contains(&"308-168-match".to_owned()) && !of(".308 Win").contains(&"9mm-124".to_owned()));
    assert!(
        of("9 mm Luger").contains(&"9mm-124".to_owned()) && !of("9 mm Luger").iter().any(|id| id.starts_with("308"))
    );
}

/// A match in full air, of one stage.
fn staged(loads: Value, targets: Value) -> CourseAnswer {
    let air = json!({"altitude": "500 ft", "temperature": "59 F"});
    course(json!({"loads": loads, "air": air, "stage": [{"name": "s", "target": targets}]}), None)
}

#[test]
fn targets_that_are_mended_alike_are_told_together_with_everybody_they_concern() {
    let loads = json!(["308-168-match", "300wm-180", "9mm-124", "44mag-240"]);
    let mut thin = target("thin", 12.0, "handgun");
    thin["plate"] = "3/8 in".into();
    let answer = staged(loads, json!([target("far", 150.0, "rifle"), target("wide", 150.0, "rifle"), thin]));
    assert_eq!(
        answer.fixes,
        [
            "s, far and wide: move the line back 50 yd (or, nobody moved: leave out 300 Win Mag 180 gr); magnum loads \
             crater plate up close (300 Win Mag 180 gr).",
            "s, thin: leave out 44 Magnum 240 gr; a strong handgun load throws more and heavier pieces (44 Magnum 240 gr).",
        ]
    );
    assert_eq!(
        answer.leave,
        [
            "Without 300 Win Mag 180 gr: 2 more targets pass.",
            "Without 300 Win Mag 180 gr and 44 Magnum 240 gr: 3 more targets pass.",
        ]
    );
    let sign = &answer.stages[0];
    assert_eq!(sign.faces, ["all leaning 15° toward the shooter, square, hung from open hooks"]);
    assert_eq!(sign.refused.iter().map(|load| load.words.as_str()).collect::<Vec<_>>(), ["44 Magnum 240 gr at thin"]);
    // Each target has its own magnum, and both are mended by one move.
    let own = |name: &str, out: &str| {
        let mut own = target(name, 150.0, "rifle");
        own["without"] = json!([out]);
        own
    };
    let magnum = json!({"id": "club", "name": "club magnum", "cartridge": ".300 Win Mag", "firearm": "rifle",
        "construction": "jacketed-lead", "bullet": "180 gr", "diameter": "0.308 in", "muzzle-velocity": "2970 ft/s",
        "drag": "G7", "bc": "0.24"});
    let answer = course(
        json!({"loads": ["300wm-180"], "load": [magnum], "air": {"altitude": "500 ft", "temperature": "59 F"},
            "stage": [{"name": "s", "target": [own("one", "300wm-180"), own("two", "club")]}]}),
        None,
    );
    assert_eq!(
        answer.fixes,
        [
            "s, one and two: move the line back 50 yd; magnum loads crater plate up close (club magnum and 300 Win Mag 180 gr)."
        ]
    );
}

#[test]
fn a_class_that_every_target_leaves_out_is_told_as_that_and_one_without_a_target_otherwise() {
    let why = |targets: Value| {
        let answer = staged(json!(["308-168-match", "9mm-124"]), targets);
        let mut told = answer.preamble.not_judged.iter().filter(|one| one.what.starts_with("handguns"));
        told.next().map(|one| one.why.clone()).unwrap_or_default()
    };
    let mut out = target("plate", 25.0, "handgun");
    assert_eq!(why(json!([target("gong", 300.0, "rifle"), out])), "");
    out["without"] = json!(["9mm-124"]);
    assert_eq!(
        why(json!([target("gong", 300.0, "rifle"), out])),
        "every target that is for their class leaves them out"
    );
    assert_eq!(why(json!([target("gong", 300.0, "rifle")])), "no target that was read is for their class");
}

#[test]
fn what_a_match_holds_for_is_told_as_given_or_as_taken() {
    let held = |more: Value, stand: Value| {
        let mut target = target("gong", 300.0, "rifle");
        target["stand"] = stand;
        let mut matched = json!({"loads": ["308-168-match"], "stage": [{"name": "s", "target": [target]}]});
        for (key, value) in more.as_object().unwrap() {
            matched[key] = value.clone();
        }
        let holds = course(matched, None).preamble.holds_for;
        holds.into_iter().map(|one| (one.what, one.value, one.given)).collect::<Vec<_>>()
    };
    let own = |what: &str, value: &str, given: bool| (what.to_owned(), value.to_owned(), given);
    let air = json!({"air": {"altitude": "500 ft", "temperature": "59 F"}});
    let mut taken = vec![
        own("altitude", "500 ft", true),
        own("temperature", "59 °F", true),
        own("coverage", "99 %", false),
        own("face", "12 in round", false),
        own("mount", "hung from open hooks", false),
        own("duty", "match", false),
        own("condition", "sound", true),
        own("steel", "AR500", false),
        own("lean", "15°", true),
        own("turn", "0°", false),
        own("slope", "0°", false),
        own("velocity spread", "30 ft/s (SD)", false),
        own("BC spread", "3 % (SD)", false),
        own("muzzle velocity", "at 59 °F, 1 ft/s per °F", false),
    ];
    assert_eq!(held(air.clone(), json!({"tilt": "15 deg", "condition": "sound"})), taken);
    let crowd = json!({"air": air["air"], "shooters": 60, "rounds": 120});
    let all = json!({"tilt": "15 deg", "condition": "sound", "oblique": "10 deg", "slope": "3 deg", "face": "18 in",
        "mount": "captive-hook", "duty": "public", "steel": "AR500"});
    let given = held(crowd, all);
    let of = |what: &str| given.iter().find(|one| one.0 == what).map(|one| (one.1.as_str(), one.2));
    assert_eq!((of("turn"), of("slope")), (Some(("10°", true)), Some(("3°", true))));
    assert_eq!((of("face"), of("duty")), (Some(("18 in round", true)), Some(("public", true))));
    assert_eq!((of("shooters"), of("rounds of each")), (Some(("60", true)), Some(("120", true))));
    assert_eq!(of("spread between rifles"), Some(("40 ft/s (SD)", false)));
    taken.retain(|one| one.0 == "turn");
    assert!(!given.contains(&taken[0]));
}

#[test]
fn of_more_loads_than_are_named_those_that_are_left_out_set_no_line_in_other_air() {
    let load = |index: usize| {
        json!({"id": format!("own-{index}"), "name": format!("own {index}"), "firearm": "rifle", "construction": "jacketed-lead",
            "bullet": "168 gr", "diameter": "0.308 in", "muzzle-velocity": format!("{}.{} ft/s", 2760 + index / 10, index % 10),
            "drag": "G7", "bc": "0.223"})
    };
    let told = |count: usize, loads: Value| {
        let own: Vec<Value> = (0..count).map(load).collect();
        let mut gong = target("gong", 256.0, "rifle");
        (gong["plate"], gong["without"]) = (json!("3/8 in"), json!(["338lm-250"]));
        if loads.as_array().unwrap().is_empty() {
            gong.as_object_mut().unwrap().remove("without");
        }
        let answer = course(json!({"loads": loads, "load": own, "stage": [{"name": "s", "target": [gong]}]}), None);
        (answer.preamble.headline, answer.preamble.nearest)
    };
    let near = "The air was not given in full: for all of 0 to 6000 ft at -10 to 100 °F nobody nearer than: s, gong 370 yd; or give the air.";
    let (headline, nearest) = told(66, json!([]));
    assert!(headline.starts_with("READY at sea level up to 60 °F: "), "{headline}");
    assert_eq!(nearest, near);
    assert_eq!(told(66, json!(["338lm-250", "9mm-124"])).1, near);
}

#[test]
fn a_sign_says_of_each_face_how_it_leans() {
    let leaning = |name: &str, tilt: &str| {
        let mut own = target(name, 300.0, "rifle");
        own["stand"]["tilt"] = tilt.into();
        own
    };
    let targets = json!([leaning("back", "-2 deg"), leaning("plumb", "0 deg"), leaning("toward", "15 deg")]);
    assert_eq!(
        staged(json!(["308-168-match"]), targets).stages[0].faces,
        [
            "back: leaning back 2°, square, hung from open hooks",
            "plumb: plumb, square, hung from open hooks",
            "toward: leaning 15° toward the shooter, square, hung from open hooks",
        ]
    );
}
