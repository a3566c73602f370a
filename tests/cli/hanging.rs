//! The plate on a chain, as the program tells of it.

use super::{json, stdout, thickset};
use std::fs;

const ADVISE: &str = "advise --load 308-168-match --at 300yd --mount chain";

fn reaction(options: &str) -> serde_json::Value {
    let document = json(&format!("{ADVISE} {options}"));
    let plates = document["plates"].as_array().expect("plates").clone();
    let plate = plates.iter().find(|p| p["label"] == "3/8 in").expect("the staple");
    plate["reaction"].clone()
}

#[test]
fn a_longer_chain_swings_less_and_slower_and_lifts_as_high() {
    let number = |value: &serde_json::Value, key: &str| value[key].as_f64().unwrap_or_else(|| panic!("{key}: {value}"));
    let (unsaid, short, long) = (reaction(""), reaction("--chain 6in"), reaction("--chain 4ft"));
    for (key, grows) in [("swing_deg", false), ("period_s", true)] {
        let [a, b, c] = [&unsaid, &short, &long].map(|r| number(r, key));
        assert!(if grows { a < b && b < c } else { a > b && b > c }, "{key}: {a} {b} {c}");
    }
    for key in ["centre_rise_m", "turn_deg", "plate_speed_m_s"] {
        let [b, c] = [&short, &long].map(|r| number(r, key));
        assert!((b / c - 1.0).abs() < 1e-9, "{key}: {b} {c}");
    }
    assert!(number(&short, "turn_deg") > number(&short, "swing_deg"));
}

#[test]
fn what_a_swing_on_a_chain_means_is_told_and_a_length_not_said_is_an_assumption() {
    let text = |options: &str| {
        let text = stdout(&thickset(&format!("{ADVISE} {options} --full")));
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = text("--chain 6in");
    assert!(said.contains("swings about the chain's top; its centre rises"), "{said}");
    assert!(!said.contains("a chain too short to matter"), "{said}");
    let unsaid = text("");
    assert!(unsaid.to_lowercase().contains("assumed:") && unsaid.contains("a chain too short to matter"), "{unsaid}");
}

#[test]
fn only_a_thickness_that_a_product_is_made_in_is_proposed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.toml");
    let told = |made: &str, at: &str| {
        let text = format!(
            "schema = \"thickset/shop/1\"\nname = \"Shop\"\ncurrency = \"$\"\n[[product]]\nname = \"Gong\"\nface = \"12in\"\nmade = [{made}]\n"
        );
        fs::write(&path, text).expect("a file");
        let air = "--condition sound --tilt 15deg --altitude 500ft --temperature 60F";
        let line =
            format!("vet --load 300wm-180 --at {at} --plate 10mm --shop {} --product Gong {air}", path.display());
        stdout(&thickset(&line))
    };
    let (one, two) = ("{ thickness = \"10 mm\", price = 40 }", ", { thickness = \"15 mm\", price = 60 }");
    let both = format!("{one}{two}");
    for at in ["200yd", "280yd"] {
        let (alone, of_two) = (told(one, at), told(&both, at));
        assert!(!alone.contains("1/2 in") && !alone.contains("15 mm") && alone.contains("10mm"), "{alone}");
        assert!(!of_two.contains("1/2 in") && of_two.contains("15 mm"), "{of_two}");
    }
    assert!(told(&both, "280yd").contains("to spare; 15 mm has"), "{}", told(&both, "280yd"));
}
