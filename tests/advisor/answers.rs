//! An answer is owned data that says everything, whoever asked.

use thickset::advisor::{
    AdviseAnswer, AdviseQuestion, Advisor, ChronoQuestion, Faults, StandoffQuestion, StrikeQuestion, VetAnswer,
    VetQuestion, inquiry_question,
};
use thickset::rules::Verdict;
use thickset::source::SourceText;

/// A function that makes its own advisor returns the answer.
pub(crate) fn vet(question: &str) -> Result<VetAnswer, Faults> {
    let question: VetQuestion = serde_json::from_str(question).unwrap();
    Advisor::house()?.vet(&question)
}

#[test]
fn an_answer_crosses_threads_and_outlives_its_advisor() {
    let advisor = Advisor::house().unwrap();
    let question: VetQuestion =
        serde_json::from_str(r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in"}"#).unwrap();
    let there = {
        let (advisor, question) = (advisor.clone(), question.clone());
        std::thread::spawn(move || advisor.vet(&question).unwrap())
    };
    let here = advisor.vet(&question).unwrap();
    drop(advisor);
    assert_eq!(there.join().unwrap(), here);
    assert_eq!(here.verdict, Verdict::Suits);
    assert!(here.preamble.headline.starts_with("Suits"), "{}", here.preamble.headline);
}

#[test]
fn a_question_comes_back_from_json_and_unknown_keys_are_refused() {
    let text = r#"{"load":"308-168-match","at":"100 yd","plate":"3/8 in","tilt":"15 deg","temperature":"20 F..90 F"}"#;
    let question: VetQuestion = serde_json::from_str(text).unwrap();
    assert_eq!(serde_json::from_str::<VetQuestion>(&serde_json::to_string(&question).unwrap()).unwrap(), question);
    assert!(serde_json::from_str::<VetQuestion>(r#"{"lode": "308-168-match"}"#).is_err());
}

#[test]
fn every_condition_is_told_given_or_not() {
    let answer = vet(r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "tilt": "15 deg"}"#).unwrap();
    let told = |what: &str| answer.preamble.holds_for.iter().find(|c| c.what == what).map(|c| c.given);
    for what in ["air", "altitude", "temperature", "pressure", "humidity", "face", "mount", "duty", "condition"] {
        assert_eq!(told(what), Some(false), "{what}");
    }
    for what in ["steel", "turn", "slope", "velocity SD", "BC SD", "powder", "coverage"] {
        assert_eq!(told(what), Some(false), "{what}");
    }
    assert_eq!(told("lean"), Some(true));
    let assumed = answer.preamble.assumed.len();
    assert_eq!(answer.preamble.holds_for.iter().filter(|c| !c.given).count(), assumed);
}

#[test]
fn a_fault_names_the_key_and_what_would_do() {
    for (question, key) in [
        (r#"{"at": "100 yd", "plate": "3/8 in"}"#, "load"),
        (r#"{"load": "308-168-mach", "at": "100 yd", "plate": "3/8 in"}"#, "load"),
        (r#"{"load": "308-168-match", "plate": "3/8 in"}"#, "at"),
        (r#"{"load": "308-168-match@50 yd", "at": "100 yd", "plate": "3/8 in"}"#, "at"),
        (r#"{"load": "308-168-match", "at": "100 yd"}"#, "plate"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "velocity_sd": "1e9 fps"}"#, "velocity_sd"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "chain": "6 in"}"#, "chain"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "face": "banana"}"#, "face"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "tilt": "70 deg"}"#, "tilt"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "layer": "CUT"}"#, "layer"),
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "coverage": "50 %"}"#, "coverage"),
        (
            r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "pressure": "26 inHg", "altitude": "1 ft"}"#,
            "pressure",
        ),
    ] {
        let faults = vet(question).unwrap_err();
        let fault = &faults.list()[0];
        assert_eq!(fault.field.as_deref(), Some(key), "{question}: {faults}");
        assert!(fault.help.is_some(), "{question}");
    }
}

/// Which plate, asked in JSON.
pub(crate) fn advise(question: &str) -> AdviseAnswer {
    let question: AdviseQuestion = serde_json::from_str(question).unwrap();
    Advisor::house().unwrap().advise(&question).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn the_plate_that_is_named_suits_by_vetting_and_the_one_below_does_not() {
    let answer = advise(r#"{"load": ["308-168-match", "223-55"], "at": "150 yd"}"#);
    let named = answer.recommended.clone().unwrap_or_else(|| panic!("{}", answer.preamble.headline));
    assert!(answer.preamble.headline.starts_with(&format!("Hang {}", named.label)), "{}", answer.preamble.headline);
    let place = answer.plates.iter().position(|plate| plate.label == named.label).unwrap();
    for load in ["308-168-match", "223-55"] {
        let on = |plate: &str| {
            vet(&format!(r#"{{"load": "{load}", "at": "150 yd", "plate": "{plate}", "condition": "sound"}}"#)).unwrap()
        };
        assert_eq!(on(&named.label).verdict, Verdict::Suits, "{load}");
    }
    assert_ne!(answer.plates[place - 1].verdict, Verdict::Suits);
    assert!(answer.preamble.nearest.contains("Nobody nearer than"), "{}", answer.preamble.nearest);
    assert!(answer.preamble.stands_on.starts_with("Only if sound on both faces"));
}

#[test]
fn an_inquirys_file_asks_the_same_question_as_its_options() {
    let text = "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"\"\n[target.stand]\nface = \"10in\"\ntilt = \"15 deg\"\n\
                [[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\", \"200 yd\"]\n";
    let file = inquiry_question(&SourceText::new("inquiry.toml", text)).unwrap();
    let advisor = Advisor::house().unwrap();
    let by_file = advisor.advise(&file).unwrap();
    let by_keys = advise(r#"{"load": "308-168-match", "at": ["100 yd", "200 yd"], "face": "10in", "tilt": "15 deg"}"#);
    assert_eq!(by_file, by_keys);
}

#[test]
fn an_inquirys_fault_is_shown_at_its_place() {
    for (text, line) in [
        ("[[shot]]\nload = \"308-168-mach\"\nat = [\"100 yd\"]\n", 3),
        ("[[shot]]\nload = \"308-168-match\"\nat = [\"100\"]\n", 4),
        ("[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\ntarget = [\"x\"]\n", 5),
        ("[[load]]\nid = \"mine\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\n", 2),
        (
            "[[target]]\nname = \"idle\"\n[[target]]\nname = \"b\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\ntarget = [\"b\"]\n",
            3,
        ),
        ("colour = 1\n", 2),
    ] {
        let source = SourceText::new("inquiry.toml", format!("schema = \"thickset/inquiry/1\"\n{text}"));
        let advisor = Advisor::house().unwrap();
        let asked = inquiry_question(&source).and_then(|q| advisor.advise(&q).map_err(|f| f.placed_in(&source)));
        let faults = asked.unwrap_err();
        assert_eq!(faults.list()[0].position().map(|p| p.0), Some(line), "{text}: {faults}");
    }
}

#[test]
fn how_close_and_what_arrives_and_a_string_are_answered_from_json() {
    let advisor = Advisor::house().unwrap();
    let standoff: StandoffQuestion =
        serde_json::from_str(r#"{"load": "308-168-match", "plate": "3/8 in", "condition": "sound"}"#).unwrap();
    let answer = advisor.standoff(&standoff).unwrap();
    let cell = &answer.rows[0].plates[0];
    assert!(cell.closest.distance.is_some() && !cell.findings.is_empty());
    assert!(answer.preamble.headline.contains("no closer than"), "{}", answer.preamble.headline);
    let chart = advisor.standoff(&StandoffQuestion::default()).unwrap();
    assert!(chart.rows.len() > 20 && chart.verdict == Verdict::Suits);
    let strike: StrikeQuestion = serde_json::from_str(r#"{"load": "308-168-match", "to": "300 yd"}"#).unwrap();
    let answer = advisor.strike(&strike).unwrap();
    assert_eq!(answer.rows.len(), 4);
    let chrono: ChronoQuestion = serde_json::from_str(
        r#"{"readings": "2648fps 2655fps 2641fps 2660fps", "load": "308-168-match", "id": "mine"}"#,
    )
    .unwrap();
    let answer = advisor.chrono(&chrono).unwrap();
    assert!(answer.n == 4 && answer.standoff.len() == 5);
    let file = answer.load_file.unwrap();
    let mine = Advisor::house().unwrap().with_loads(&file).unwrap();
    let asked: StrikeQuestion = serde_json::from_str(r#"{"load": "mine", "at": "100 yd"}"#).unwrap();
    assert_eq!(mine.strike(&asked).unwrap().rows.len(), 1);
}
