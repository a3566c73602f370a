//! What a shop's counter, shooters and reloaders were told wrongly once.

use crate::answers::vet;
use crate::draws::{Draws, cases};
use thickset::advisor::{
    AdviseAnswer, AdviseQuestion, Advisor, ChronoQuestion, StandoffAnswer, StandoffQuestion, inquiry_question,
};
use thickset::outline::{Hole, Outline, ReadOptions};
use thickset::quantity::{Measure, unit};
use thickset::rules::Verdict;
use thickset::source::SourceText;

const SHOP: &str = include_str!("../../examples/shop.toml");

fn counter() -> Advisor {
    Advisor::house().unwrap().with_shop(SHOP).unwrap()
}

/// Which plate, asked of a shop.
fn advise(question: &str) -> AdviseAnswer {
    let question: AdviseQuestion = serde_json::from_str(question).unwrap();
    counter().advise(&question).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn an_inquiry_of_two_targets_carries_weighs_and_pays_for_both() {
    let source = SourceText::new("inquiry.toml", include_str!("../../examples/inquiry.toml"));
    let answer = counter().advise(&inquiry_question(&source).unwrap()).unwrap();
    let named = answer.recommended.clone().unwrap_or_else(|| panic!("{}", answer.preamble.headline));
    let choice = answer.plates.iter().find(|plate| plate.label == named.label).unwrap();
    let together = choice.together.as_ref().unwrap();
    let masses: f64 = choice.pieces.iter().map(|piece| piece.mass.0.si()).sum();
    assert!(choice.pieces.len() == 2 && (together.mass.0.si() - masses).abs() < 1e-9);
    let costs = choice.pieces.iter().map(|piece| piece.material.cost.as_ref().unwrap().parse::<f64>().unwrap());
    let cost: f64 = together.cost.as_ref().unwrap().parse().unwrap();
    assert!((costs.sum::<f64>() - cost).abs() < 0.006);
    let told = &answer.preamble.nearest;
    for piece in &choice.pieces {
        assert!(told.contains(&piece.face) && told.contains(&piece.material.price.as_ref().unwrap().each), "{told}");
    }
    assert!(told.contains(together.price.as_ref().unwrap()), "{told}");
}

#[test]
fn an_order_of_four_tells_its_total_and_how_all_of_it_ships() {
    let answer =
        advise(r#"{"load": "65cm-140@200 yd", "face": "18x24in", "quantity": 4, "duty": "public", "plate": "3/4 in"}"#);
    let material = answer.plates[0].material.as_ref().unwrap();
    let price = material.price.as_ref().unwrap();
    let told = &answer.preamble.nearest;
    // One of them weighs 92 lb and would go as a parcel; the four are cheapest as freight.
    assert_eq!((material.parcel.as_deref(), material.ships_as.as_str()), (Some("private parcel"), "freight"));
    let shipping = price.shipping.as_ref().unwrap();
    for words in ["4 of 18 × 24 in", &price.each, &price.total, &format!("{shipping} more by freight")] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(price.made_of.iter().all(|part| !part.contains("shipping")), "{:?}", price.made_of);
}

fn drawn(circles: &str) -> Outline {
    let text = format!(
        r#"<svg width="12in" height="18in" viewBox="0 0 12 18">
           <path d="M0 18 L0 6 L4 6 L4 0 L8 0 L8 6 L12 6 L12 18 Z"/>{circles}</svg>"#
    );
    Outline::from_bytes("a.svg", text.as_bytes(), &ReadOptions::default()).unwrap()
}

#[test]
fn a_circle_of_an_svg_is_a_round_hole_wherever_and_however_large_it_is() {
    for step in 0..60_u32 {
        let (x, y) = (4.6 + 0.0137 * f64::from(step), 0.9 + 0.031 * f64::from(step % 9));
        let radius = 0.15 + 0.0031 * f64::from(step);
        let outline = drawn(&format!(
            r#"<circle cx="{x}" cy="{y}" r="{radius}"/><ellipse cx="{}" cy="{y}" rx="{radius}" ry="{radius}"/>"#,
            x + 2.0
        ));
        let corners = outline.sharp_corners(unit::INCH.of(0.5));
        let round = outline.holes().iter().filter(|hole| matches!(hole, Hole::Round { .. })).count();
        assert_eq!((round, corners.len()), (2, 2), "{x} {y} {radius}");
    }
}

fn standoff(question: &str) -> StandoffAnswer {
    let question: StandoffQuestion = serde_json::from_str(question).unwrap();
    counter().standoff(&question).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Whole yards, rounded up, as distances are told.
fn yards(metres: f64) -> String {
    format!("{:.0} yd", (metres / 0.9144 - 1e-6).ceil())
}

#[test]
fn nobody_nearer_is_one_number_for_a_load_on_a_plate_whatever_distance_is_asked_and_wherever_it_is_told() {
    let plates = r#"["3/8 in", "1/2 in"]"#;
    for load in ["308-180", "300wm-180", "308-168-match", "65cm-140"] {
        let chart = standoff(&format!(r#"{{"load": ["{load}", "9mm-115"], "plate": {plates}}}"#));
        for (column, plate) in ["3/8 in", "1/2 in"].into_iter().enumerate() {
            let alone = standoff(&format!(r#"{{"load": "{load}", "plate": "{plate}"}}"#));
            let cell = &alone.rows[0].plates[0];
            let Some(nearest) = cell.nearest.map(|d| d.0.si()) else {
                panic!("{load} on {plate}: {}", alone.preamble.headline)
            };
            // It holds at the bad end of the air that was not given, and no nearer.
            let there = |metres: f64| {
                let text = format!(
                    r#"{{"load": "{load}", "at": "{metres:.6} m", "plate": "{plate}", "altitude": "0 ft..6000 ft",
                       "temperature": "-10 F..100 F", "humidity": "0 %..100 %"}}"#
                );
                vet(&text).unwrap().verdict
            };
            assert_eq!(there(nearest + 0.01), Verdict::Suits, "{load} on {plate}");
            assert_ne!(there(nearest - 0.01), Verdict::Suits, "{load} on {plate}");
            let told = yards(nearest);
            let sentence = format!("Nobody nearer than {told}");
            assert_eq!(chart.rows[0].plates[column].nearest.map(|d| d.0.si()), Some(nearest));
            assert_eq!((&chart.rows[0].plates[column].closest.words, &cell.closest.words), (&told, &told));
            let preamble = &alone.preamble;
            assert!(
                preamble.nearest.starts_with(&sentence) && preamble.safety.contains(&sentence),
                "{}",
                preamble.safety
            );
            assert!(preamble.headline.contains(&told), "{}", preamble.headline);
            for asked in [0.5, 0.8, 0.97, 1.001, 1.3] {
                let at = nearest * asked;
                let answer = vet(&format!(r#"{{"load": "{load}", "at": "{at:.6} m", "plate": "{plate}"}}"#)).unwrap();
                let preamble = &answer.preamble;
                assert_eq!(preamble.nearest_distance.map(|d| d.0.si()), Some(nearest), "{load} at {at} m");
                // It is told finer where what was asked lies between it and the next whole yard.
                let finer = (1.0..1.0 + 0.9144 / nearest).contains(&asked);
                let sentence = if finer { "Nobody nearer than ".into() } else { sentence.clone() };
                let number = |text: &str| text.split(' ').nth(3).and_then(|word| word.parse::<f64>().ok());
                let yards = number(&preamble.nearest).unwrap() * 0.9144;
                assert!((-1e-9..0.9144).contains(&(yards - nearest)), "{load} at {at} m: {}", preamble.nearest);
                assert!(asked < 1.0 || yards <= at + 0.05 * 0.9144, "{load} at {at} m: {}", preamble.nearest);
                assert!(preamble.nearest.starts_with(&sentence), "{load} at {at} m: {}", preamble.nearest);
                assert!(preamble.safety.contains(&sentence), "{load} at {at} m: {}", preamble.safety);
                let said = preamble.nearest.contains("or give the air");
                assert_eq!(said, answer.verdict == Verdict::Suits && asked < 1.0, "{load} at {at} m");
            }
        }
    }
}

#[test]
fn loads_that_are_asked_together_are_told_each_its_own_distance() {
    let of = |question: &str| {
        let answer = advise(question);
        for one in &answer.nearest_by_load {
            let told = one.nearest.map(|d| yards(d.0.si())).unwrap();
            let (preamble, with) = (&answer.preamble, format!("{told} with {}", one.name));
            assert!(preamble.nearest.contains(&with), "{with}: {}", preamble.nearest);
            // Safety sends to the line above, and names no distance that is wrong for one of them.
            assert!(!preamble.safety.contains(" yd while"), "{}", preamble.safety);
        }
        answer
    };
    let answer = of(r#"{"load": ["308-150@100 yd", "300wm-180@200 yd"], "product": "Gong 12"}"#);
    assert_eq!(answer.nearest_by_load.len(), 2);
    assert!(answer.preamble.nearest_distance.is_none());
    // One that no plate takes is told from where the plate that is named takes it.
    let answer = of(r#"{"load": "308-150@100 yd", "any": ".300 Win Mag@100 yd", "product": "Gong 12"}"#);
    assert_eq!(answer.nearest_by_load.len(), 2);
}

#[test]
fn a_chart_or_a_string_on_many_plates_is_never_told_one_distance() {
    let chart = standoff("{}");
    assert!(chart.preamble.safety.starts_with("Nobody nearer than the table has it"), "{}", chart.preamble.safety);
    assert_eq!(chart.preamble.nearest_distance, None);
    let question: ChronoQuestion =
        serde_json::from_str(r#"{"readings": "2648fps 2655fps 2641fps 2660fps 2650fps", "load": "308-168-match"}"#)
            .unwrap();
    let answer = counter().chrono(&question).unwrap();
    for plate in &answer.standoff {
        let told = plate.nearest.map_or_else(String::new, |d| yards(d.0.si()));
        let (nearest, safety) = (&answer.preamble.nearest, &answer.preamble.safety);
        assert!(nearest.contains(&told) && nearest.contains(&plate.label), "{nearest}");
        assert!(safety.starts_with("Nobody nearer than its plate's distance"), "{safety}");
        assert!(plate.nearest.is_none() || plate.words == told);
    }
}

#[test]
fn the_margin_of_a_row_is_that_of_its_nearest_limit_and_of_what_governs_it() {
    for question in [
        r#"{"load": ["308-150@100 yd", "308-180@100 yd"], "product": "Gong 12"}"#,
        r#"{"load": "308-168-match@100 yd"}"#,
        r#"{"load": "223-55@100 yd", "steel": "unknown"}"#,
    ] {
        for plate in advise(question).plates {
            let governs = plate.governed_by.unwrap();
            let finding = plate.findings.iter().find(|f| f.rule == governs).unwrap();
            let least = plate.findings.iter().filter(|f| f.rule == governs).filter_map(|f| f.margin).map(|m| m.0);
            let least = least.fold(f64::INFINITY, f64::min);
            assert!(plate.margin.is_none_or(|m| (m.0 - least).abs() < 1e-12), "{question} on {}", plate.label);
            if !finding.found_words.is_empty() {
                let number = finding.limit_words.split(' ').nth(2).unwrap();
                assert!(
                    plate.nearest_limit.contains(number),
                    "{} of {governs} on {}",
                    plate.nearest_limit,
                    plate.label
                );
            }
        }
    }
}

#[test]
fn the_lean_asked_suits_and_plumb_is_asked_for_where_it_was_taken() {
    let ask =
        |rest: &str| vet(&format!(r#"{{"load": "308-168-match", "at": "200 yd", "plate": "3/8 in"{rest}}}"#)).unwrap();
    for slope in [-28, -25, -15, -4, 0, 3, 8] {
        let answer = ask(&format!(r#", "slope": "{slope} deg""#));
        if answer.verdict == Verdict::Unsuitable {
            continue;
        }
        let asked = answer.preamble.stands_on.clone();
        let from_plumb = asked.contains("plumb") || asked.contains("leaning 0–");
        assert!(slope > 3 || from_plumb, "{slope}: {asked}");
        // Every number before a degree sign, and plumb where it is named.
        let numbers = asked.split('°').filter_map(|part| part.rsplit(|c: char| !c.is_ascii_digit()).next());
        let mut leans: Vec<i32> = numbers.filter_map(|number| number.parse().ok()).collect();
        if from_plumb {
            leans.push(0);
        }
        for lean in leans {
            let leaning = ask(&format!(r#", "slope": "{slope} deg", "tilt": "{lean} deg""#));
            assert!(leaning.verdict <= answer.verdict, "{slope}: {asked}: {}", leaning.preamble.headline);
        }
    }
}

type Question = serde_json::Map<String, serde_json::Value>;

/// The changes of an answer, and the keys of a question that make them.
const CHANGES: [(&str, &str, &str); 8] = [
    ("nearest_m", "at", " m"),
    ("distance_m", "at", " m"),
    ("plate", "plate", ""),
    ("condition", "condition", ""),
    ("steel", "steel", ""),
    ("mount", "mount", ""),
    ("tilt_deg", "tilt", " deg"),
    ("oblique_deg", "oblique", " deg"),
];

/// A question with one change, or with all.
fn changed(question: &Question, changes: &serde_json::Value, only: Option<&str>) -> Question {
    let mut changed = question.clone();
    for (key, asked, unit) in CHANGES {
        let value = &changes[key];
        if value.is_null() || only.is_some_and(|only| only != key) {
            continue;
        }
        let text = match value {
            serde_json::Value::Number(number) => {
                // Nine digits of a distance may lie a hair before it.
                let beyond = if unit == " m" { 1e-3 } else { 0.0 };
                format!("{}{unit}", number.as_f64().unwrap() + beyond)
            }
            serde_json::Value::Object(plate) => plate["label"].as_str().unwrap().to_owned(),
            value => value.as_str().unwrap().to_owned(),
        };
        changed.insert(asked.into(), text.into());
    }
    changed
}

#[test]
fn what_would_suit_suits() {
    let mut draws = Draws(11);
    let catalog = thickset::catalog::Catalog::builtin().unwrap();
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    let (mut alone, mut together, mut none) = (0, 0, 0);
    let cases = cases(70);
    for round in 0..cases {
        let load = match round {
            0 => "308-168-match",
            1 => "338lm-250",
            _ => draws.of(&ids),
        };
        let keys: [(&str, &[&str]); 9] = [
            ("at", &["7 yd", "25 yd", "60 yd", "90 yd", "100 yd", "300 yd", "900 yd"]),
            ("plate", &["1/4 in", "3/8 in", "1/2 in"]),
            ("condition", &["sound", "unknown", "pitted"]),
            ("steel", &["AR500", "AR500", "unknown", "AR400"]),
            ("mount", &["open-hook", "bolted", "welded"]),
            ("tilt", &["0 deg", "15 deg", "-5 deg", "40 deg"]),
            ("oblique", &["0 deg", "20 deg"]),
            ("slope", &["0 deg", "0 deg", "10 deg", "-20 deg"]),
            ("duty", &["private", "public"]),
        ];
        let mut question = Question::new();
        question.insert("load".into(), load.into());
        for (key, values) in keys {
            question.insert(key.into(), draws.of(values).into());
        }
        let ask = |question: &Question| vet(&serde_json::to_string(question).unwrap());
        let Ok(answer) = ask(&question) else { continue };
        let would = serde_json::to_value(&answer.would_suit).unwrap();
        let with = |changes: &serde_json::Value, only: Option<&str>| changed(&question, changes, only);
        let suits = |changed: &Question| {
            let answer = ask(changed).unwrap_or_else(|faults| panic!("{faults}: {changed:?}"));
            assert_eq!(answer.verdict, Verdict::Suits, "{question:?}\n{changed:?}\n{}", answer.preamble.headline);
        };
        for (key, ..) in CHANGES {
            if !would[key].is_null() {
                alone += 1;
                suits(&with(&would, Some(key)));
            }
        }
        let changes = &would["together"];
        if !changes.is_null() && changes["construction"].is_null() {
            together += 1;
            suits(&with(changes, None));
        }
        none += usize::from(answer.verdict != Verdict::Suits && would["words"].as_array().unwrap().is_empty());
    }
    assert!(30 * alone > cases && 4 * together > cases && none == 0, "{alone} {together} {none}");
}

#[test]
fn every_product_and_plate_of_the_examples_can_be_asked_for() {
    let shop = counter();
    // The one thickness that it is made in need not be named.
    let question = r#"{"load": "9mm-115", "at": "10 yd", "product": "Falling plate 8"}"#;
    let answer = shop.vet(&serde_json::from_str(question).unwrap()).unwrap();
    assert_eq!((answer.verdict, answer.preamble.inputs.plate.label.as_str()), (Verdict::Suits, "3/8 in"));
    let plates = shop.with_plates(include_str!("../../examples/plates.toml")).unwrap();
    let question = serde_json::from_str(r#"{"load": "308-168-match@200 yd"}"#).unwrap();
    assert_eq!(plates.advise(&question).unwrap().recommended.unwrap().label, "10 mm");
}

#[test]
fn a_product_that_names_a_drawing_is_refused_by_name_where_no_file_is_read_and_no_other_is() {
    let drawn = "[[product]]\nname = \"Tab\"\noutline = \"tab.toml\"\nmade = [{ thickness = \"3/8 in\" }]\n";
    let advisor = Advisor::house().unwrap().with_shop(&format!("{SHOP}{drawn}")).unwrap();
    let of = |advisor: &Advisor, product: &str| {
        let text = format!(r#"{{"load": "308-168-match", "at": "200 yd", "plate": "3/8 in", "product": "{product}"}}"#);
        advisor.vet(&serde_json::from_str(&text).unwrap())
    };
    let refused = of(&advisor, "Tab").unwrap_err().to_string();
    assert!(refused.contains("product `Tab` refers to the file `tab.toml`, and none may be opened"), "{refused}");
    assert_eq!(of(&advisor, "Gong 12").unwrap().verdict, Verdict::Suits);
    let outline =
        "schema = \"thickset/outline/1\"\nname = \"tab\"\nunit = \"in\"\npoints = [[0, 0], [8, 0], [8, 9], [0, 9]]\n";
    let reading = advisor.with_resolver(move |name: &str| {
        assert_eq!(name, "tab.toml");
        Ok(outline.as_bytes().to_vec())
    });
    assert_eq!(of(&reading, "Tab").unwrap().verdict, Verdict::Suits);
}

#[test]
fn what_the_shop_sells_is_proposed_unless_plates_were_given() {
    let labels = |advisor: &Advisor, plates: &str| -> Vec<String> {
        let text = format!(r#"{{"load": "308-168-match", "at": "200 yd"{plates}}}"#);
        let answer = advisor.advise(&serde_json::from_str(&text).unwrap()).unwrap();
        answer.plates.into_iter().map(|choice| choice.label).collect()
    };
    let metric = "schema = \"thickset/shop/1\"\nname = \"M\"\ncurrency = \"€\"\n[[price]]\nthickness = \"10 mm\"\n\
                  per-kilogram = 4\ncut-per-metre = 4\n";
    let shop = Advisor::house().unwrap().with_shop(metric).unwrap();
    assert_eq!(labels(&shop, ""), ["10 mm"]);
    assert_eq!(labels(&shop, r#", "plate": ["3/8 in", "1/2 in"]"#), ["3/8 in", "1/2 in"]);
    let own = "schema = \"thickset/plates/1\"\n[[plate]]\nthickness = \"12 mm\"\n";
    assert_eq!(labels(&shop.clone().with_plates(own).unwrap(), ""), ["12 mm"]);
    // A shop that neither prices nor makes anything sells nothing that could be proposed.
    let bare = Advisor::house().unwrap().with_shop(metric.split("[[price]]").next().unwrap()).unwrap();
    assert_eq!(labels(&bare, "").len(), 5);
}
