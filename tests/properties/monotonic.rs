//! Stricter circumstances never give a thinner plate or a shorter distance.

use super::support::{Drawn, RULES, config, drawn};
use proptest::prelude::*;
use thickset::plate::{Duty, Mount};
use thickset::rules::RuleSet;
use thickset::source::SourceText;

/// A root is found to well below this, yards.
const SAME_YD: f64 = 1e-3;

/// The case made stricter in one way.
#[derive(Debug, Clone, Copy)]
enum Stricter {
    Faster(f64),
    Heavier(f64),
    MoreSpread(f64),
    MoreCoverage(f64),
    Hotter(f64),
    Higher(f64),
    Smaller(f64),
    MatchDuty,
    PublicDuty,
    Bolted,
}

impl Stricter {
    fn of(self, case: &Drawn) -> Drawn {
        let mut case = *case;
        match self {
            Self::Faster(by) => case.fps = (case.fps + by).min(3900.0),
            Self::Heavier(by) => case.grains *= 1.0 + by,
            Self::MoreSpread(by) => case.sd_fps += by,
            Self::MoreCoverage(share) => case.coverage += (0.9999 - case.coverage) * share,
            Self::Hotter(by) => case.fahrenheit = (case.fahrenheit + by).min(130.0),
            Self::Higher(by) => case.feet += by,
            Self::Smaller(share) => case.width_in = (case.width_in * share).max(1.0),
            Self::MatchDuty if case.duty == Duty::Private => case.duty = Duty::Match,
            Self::MatchDuty => {}
            Self::PublicDuty => case.duty = Duty::Public,
            Self::Bolted => case.mount = Mount::Bolted,
        }
        case
    }
}

fn stricter() -> impl Strategy<Value = Stricter> {
    prop_oneof![
        (1.0..500.0_f64).prop_map(Stricter::Faster),
        (0.01..1.0_f64).prop_map(Stricter::Heavier),
        (0.5..30.0_f64).prop_map(Stricter::MoreSpread),
        (0.05..1.0_f64).prop_map(Stricter::MoreCoverage),
        (1.0..60.0_f64).prop_map(Stricter::Hotter),
        (100.0..5000.0_f64).prop_map(Stricter::Higher),
        (0.3..0.99_f64).prop_map(Stricter::Smaller),
        Just(Stricter::MatchDuty),
        Just(Stricter::PublicDuty),
        Just(Stricter::Bolted),
    ]
}

/// Whether the slow shot is what the strictness relieves: a faster or heavier slow bullet suits better near.
fn slow_near(case: &Drawn) -> bool {
    case.fps < 900.0
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_stricter_case_never_gets_a_thinner_plate(case in drawn(), stricter in stricter()) {
        prop_assume!(!slow_near(&case));
        let harder = stricter.of(&case);
        if let (Some(plate), Some(other)) = (case.plate(&RULES), harder.plate(&RULES)) {
            prop_assert!(other >= plate, "{stricter:?}: {plate} then {other}");
        }
    }

    #[test]
    fn a_nearer_plate_is_never_a_thinner_one(case in drawn(), share in 0.1..0.99_f64) {
        prop_assume!(!slow_near(&case));
        let nearer = Drawn { yards: case.yards * share, ..case };
        if let (Some(plate), Some(other)) = (case.plate(&RULES), nearer.plate(&RULES)) {
            prop_assert!(other >= plate, "{plate} then {other}");
        }
    }

    #[test]
    fn a_stricter_case_never_gets_a_shorter_distance(case in drawn(), stricter in stricter(), plate in 0..5_usize) {
        prop_assume!(!slow_near(&case));
        let (before, after) = (case.closest(&RULES, plate), stricter.of(&case).closest(&RULES, plate));
        prop_assume!(!before.is_nan() && !after.is_nan());
        prop_assert!(after >= before - SAME_YD, "{stricter:?}: {before} then {after}");
    }

    #[test]
    fn a_range_s_rules_never_give_a_thinner_plate_or_a_shorter_distance(
        case in drawn(),
        yards in 1.0..400.0_f64,
        speed in 1500.0..4000.0_f64,
        factor in 100.0..200.0_f64,
        plate in 0..5_usize,
    ) {
        let overlay = format!(
            "schema = \"thickset/rules/1\"\nname = \"drawn\"\n\
             [[rule]]\nid = \"r1\"\nsubject = \"distance\"\nsense = \"at-least\"\nsuits = \"{yards} yd\"\nwhy = \"x\"\n\
             [[rule]]\nid = \"r2\"\nsubject = \"impact-speed\"\nsense = \"at-most\"\nsuits = \"{speed} ft/s\"\nwhy = \"x\"\n\
             [[rule]]\nid = \"r3\"\nsubject = \"duty-factor\"\nsense = \"factor\"\nfactor = \"{factor} %\"\nwhy = \"x\"\n"
        );
        let rules = RuleSet::house().and_then(|r| r.with_overlay(&SourceText::new("range.toml", overlay))).expect("rules");
        if let (Some(house), Some(range)) = (case.plate(&RULES), case.plate(&rules)) {
            prop_assert!(range >= house);
        }
        let (range, house) = (case.closest(&rules, plate), case.closest(&RULES, plate));
        prop_assert!(range.is_nan() || house.is_nan() || range >= house - SAME_YD);
    }
}
