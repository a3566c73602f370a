//! Drawn plates through the public answers: a narrower part never lifts a verdict, and a drawing of a plain face is that
//! face, to the cent.

use super::support::cases;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use serde_json::{Value, json};
use std::sync::LazyLock;
use thickset::advisor::{AdviseQuestion, Advisor, VetQuestion};
use thickset::rules::Verdict;

static ADVISOR: LazyLock<Advisor> = LazyLock::new(|| Advisor::house().expect("the advisor"));

fn drawing(points: &[(f64, f64, f64)]) -> Value {
    let points: Vec<Value> = points.iter().map(|&(x, y, bulge)| json!([x, y, bulge])).collect();
    json!({"schema": "thickset/outline/1", "name": "drawn", "unit": "in", "points": points})
}

/// A body from 12 in up, and below it a leg, or a foot on a neck; half widths in inches.
#[derive(Debug, Clone, Copy)]
struct Part {
    half: f64,
    taper: f64,
    long: f64,
    foot: Option<f64>,
    body: f64,
}

impl Part {
    fn drawn(self, share: f64) -> Value {
        let half = self.half * share;
        let lower = 12.0 - self.long;
        let mut right = Vec::new();
        if let Some(foot) = self.foot {
            right.extend([(foot, lower - 5.0, 0.0), (foot, lower, 0.0)]);
        }
        right.extend([
            (half * self.taper, lower, 0.0),
            (half, 12.0, 0.0),
            (self.body, 12.0, 0.0),
            (self.body, 24.0, 0.0),
        ]);
        let left: Vec<_> = right.iter().rev().map(|&(x, y, b)| (-x, y, b)).collect();
        drawing(&right.into_iter().chain(left).collect::<Vec<_>>())
    }
}

fn part() -> impl Strategy<Value = Part> {
    let foot = prop_oneof![Just(None), (3.0..7.0_f64).prop_map(Some)];
    (0.4..2.9_f64, 0.8..1.3_f64, 0.3..7.0_f64, foot, 4.0..9.0_f64).prop_map(|(half, taper, long, foot, body)| Part {
        half,
        taper,
        long,
        foot,
        body,
    })
}

fn verdict(load: &str, yards: f64, plate: &str, mount: &str, outline: Value) -> Option<Verdict> {
    let asked = json!({"load": load, "at": format!("{yards} yd"), "plate": plate, "mount": mount, "condition": "sound",
        "outline": outline, "altitude": "0 ft", "temperature": "15 C"});
    let asked: VetQuestion = serde_json::from_value(asked).expect("a question");
    ADVISOR.vet(&asked).ok().map(|answer| answer.verdict)
}

fn config(usual: u32) -> Config {
    let cases = cases(usual);
    Config { cases, rng_seed: RngSeed::Fixed(0x51AB), failure_persistence: None, ..Config::default() }
}

proptest! {
    #![proptest_config(config(40))]

    #[test]
    fn a_part_drawn_narrower_never_lifts_a_verdict(
        part in part(),
        share in 0.2..0.99_f64,
        load in prop::sample::select(&["556-55", "308-168-match", "300wm-180", "45acp-230", "338lm-250"][..]),
        yards in prop::sample::select(&[25.0, 100.0, 150.0, 250.0, 400.0, 600.0][..]),
        plate in prop::sample::select(&["1/4 in", "3/8 in", "1/2 in"][..]),
        mount in prop::sample::select(&["open-hook", "chain", "bolted"][..]),
    ) {
        let of = |share: f64| verdict(load, yards, plate, mount, part.drawn(share));
        let (Some(wide), Some(narrow)) = (of(1.0), of(share)) else { return Ok(()) };
        prop_assert!(narrow >= wide, "{wide} became {narrow}: {load} {yards} {plate} {mount}");
    }

}

proptest! {
    #![proptest_config(config(12))]

    #[test]
    fn a_face_drawn_costs_and_weighs_what_the_face_does_to_the_cent(
        size in 6.0..24.0_f64,
        high in prop::option::of(6.0..24.0_f64),
        quantity in 1..30_u32,
    ) {
        let r = 0.5 * size;
        let (face, drawn) = match high {
            None => (format!("{size} in"), drawing(&[(r, 0.0, 1.0), (-r, 0.0, 1.0)])),
            Some(high) => (
                format!("{size}x{high} in"),
                drawing(&[(0.0, 0.0, 0.0), (size, 0.0, 0.0), (size, high, 0.0), (0.0, high, 0.0)]),
            ),
        };
        let shop: toml::Table = toml::from_str(include_str!("../../examples/shop.toml")).expect("the shop");
        let ask = |key: &str, value: Value| {
            let mut asked = json!({"load": "308-168-match", "at": "200 yd", "shop": shop, "quantity": quantity});
            asked[key] = value;
            let asked: AdviseQuestion = serde_json::from_value(asked).expect("a question");
            let answer = serde_json::to_value(ADVISOR.advise(&asked).expect("an answer")).expect("a document");
            let told = |row: &Value| row.as_object().expect("a row").clone();
            answer["plates"].as_array().expect("plates").iter().map(told).collect::<Vec<_>>()
        };
        for (plain, drawn) in ask("face", json!(face)).into_iter().zip(ask("outline", drawn)) {
            let of = |row: &serde_json::Map<String, Value>, key: &str| row["material"][key].clone();
            prop_assert_eq!(of(&plain, "trade_mass_kg"), of(&drawn, "trade_mass_kg"));
            // A drawn rectangle is tried at every angle too, and may fit once more.
            let sheets = |row| of(row, "per_sheet");
            for sheet in ["full", "half", "quarter"] {
                prop_assert!(sheets(&drawn)[sheet].as_u64() >= sheets(&plain)[sheet].as_u64(), "{}", sheet);
            }
            if sheets(&plain)["full"] == sheets(&drawn)["full"] {
                prop_assert_eq!(of(&plain, "cost"), of(&drawn, "cost"));
                prop_assert_eq!(of(&plain, "price"), of(&drawn, "price"));
            }
            prop_assert!(high.is_some() || sheets(&plain) == sheets(&drawn), "{:?}", sheets(&drawn));
            prop_assert_eq!(&plain["verdict"], &drawn["verdict"]);
        }
    }
}
