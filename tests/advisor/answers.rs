//! An answer is owned data that says everything, whoever asked.

use thickset::advisor::{Advisor, Faults, VetAnswer, VetQuestion};
use thickset::rules::Verdict;

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
        (r#"{"load": "308-168-match", "at": "100 yd", "plate": "3/8 in", "base": "1e300 yd"}"#, "base"),
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
