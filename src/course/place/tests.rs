//! Positions as they are written.

use super::*;

fn read(text: &str) -> Result<(Vec<f64>, bool), String> {
    #[derive(Deserialize)]
    struct Records {
        positions: Vec<PositionRecord>,
    }
    let records: Records = toml::from_str(&format!("positions = [{text}]")).unwrap();
    let (found, distant) = positions(&records.positions).map_err(|(message, _)| message)?;
    Ok((found.iter().map(|position| unit::YARD.value(position.offset).round()).collect(), distant))
}

#[test]
fn a_position_states_its_distance_or_how_far_behind_the_line_it_lies_and_all_of_a_line_the_same() {
    assert_eq!(read("{ at = \"100 yd\" }, { at = \"150 yd\", to = \"120 yd\" }"), Ok((vec![100.0, 120.0], true)));
    // Who walks away from the targets is nearest where he begins.
    assert_eq!(read("{ at = \"100 yd\", to = \"140 yd\" }"), Ok((vec![100.0], true)));
    assert_eq!(read("{ back = \"0 yd\" }, { back = \"10 yd\" }"), Ok((vec![0.0, 10.0], false)));
    for text in [
        "{ at = \"100 yd\" }, { back = \"10 yd\" }",
        "{ at = \"100 yd\", back = \"10 yd\" }",
        "{ back = \"10 yd\", to = \"5 yd\" }",
        "{ name = \"a\" }",
    ] {
        assert!(read(text).is_err_and(|message| message.contains("needs one of `at` and `back`")), "{text}");
    }
    for text in ["{ at = \"0 yd\" }", "{ at = \"5 yd\", to = \"-1 yd\" }"] {
        assert!(read(text).is_err_and(|message| message.contains("not above zero")), "{text}");
    }
    assert!(read("{ at = \"9 yd\", slope = \"80 deg\" }").is_err_and(|message| message.contains("slope")));
}
