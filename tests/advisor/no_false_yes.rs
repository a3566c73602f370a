//! An answer is only about what was judged. Each case is named by how a yes could be false.

use crate::answers::vet;
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
    let question = r#"{"any": ".243 Win", "at": "500 yd", "plate": "3/4 in", "condition": "sound"}"#;
    let answer = vet(question).unwrap();
    if answer.verdict != Verdict::Suits {
        assert!(answer.preamble.headline.contains("listed"), "{}", answer.preamble.headline);
    }
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
