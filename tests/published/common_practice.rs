//! The trade's rules of thumb as cases: common practice, no source.

use super::check::{Check, Status};
use thickset::advisor::{AdviseQuestion, Advisor};
use thickset::quantity::unit;

const SOURCE: &str = "common practice, no source";

/// Thickness recommended for a shipped load, in inches; 0 where no plate is. `target` is keys of the question.
fn inches(id: &str, yards: f64, target: &str) -> f64 {
    let text = format!(r#"{{"load": "{id}", "at": "{yards} yd", "condition": "sound"{target}}}"#);
    let question: AdviseQuestion = serde_json::from_str(&text).expect("a question");
    let answer = Advisor::house().and_then(|advisor| advisor.advise(&question)).expect("an answer");
    answer.recommended.map_or(0.0, |plate| unit::INCH.value(*plate.thickness))
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    let mut add = |what: &str, expected: f64, got: f64| {
        checks.push(Check::new(format!("{what}, in"), SOURCE, Status::CommonPractice, expected, got, 1e-9));
    };
    add("3/16 serves rimfire at 50 yd", 0.1875, inches("22lr-hv-40", 50.0, ""));
    add("1/4 serves a 9 mm at 10 yd", 0.25, inches("9mm-115", 10.0, ""));
    add("3/8 is the staple: a .308 match load at 100 yd", 0.375, inches("308-168-match", 100.0, ""));
    add("go thinner far out: the same at 1,200 yd", 0.25, inches("308-168-match", 1200.0, ""));
    add("go thicker for a magnum at moderate range", 0.5, inches("300wm-180", 200.0, ""));
    add("no plate for a magnum at 100 yd", 0.0, inches("300wm-180", 100.0, ""));
    add(".338 at 300 yd", 0.5, inches("338lm-250", 300.0, ""));
    add(".50 class at 500 yd", 0.75, inches("50bmg-750", 500.0, ""));
    add("go thicker for a small plate", 0.5, inches("308-168-match", 100.0, r#", "face": "4 in""#));
    add("public ranges go thicker", 0.75, inches("308-168-match", 100.0, r#", "duty": "public""#));
    add("bolted rigid wants more than hung free", 0.5, inches("308-168-match", 100.0, r#", "mount": "bolted""#));
    add("a welded bracket suits nothing", 0.0, inches("9mm-115", 10.0, r#", "mount": "welded""#));
    checks
}

#[test]
fn the_rules_of_thumb_of_the_trade_come_out() {
    super::check::assert_all(&checks());
}

#[cfg(test)]
mod everyday {
    //! Questions of the counter, answered first by careful practice (common practice, no source).

    use std::sync::LazyLock;
    use thickset::air::Weather;
    use thickset::catalog::Catalog;
    use thickset::drag::{Drag, DragModel};
    use thickset::load::{Construction, Facts, Firearm, Load, Spread};
    use thickset::plate::{Condition, Duty, Face, Ladder, Mount, Steel};
    use thickset::quantity::unit;
    use thickset::rules::{RuleSet, Setup, Verdict};
    use thickset::spread::FlightConditions;
    use thickset::vet::{Question, Vetting, vet};

    static RULES: LazyLock<RuleSet> = LazyLock::new(|| RuleSet::house().expect("the house rules"));
    static LADDER: LazyLock<Ladder> = LazyLock::new(|| Ladder::builtin().expect("the ladder"));
    static CATALOG: LazyLock<Catalog> = LazyLock::new(|| Catalog::builtin().expect("the catalogue"));

    fn listed(id: &str) -> Load {
        (*CATALOG.load(id).expect("a shipped load").load).clone()
    }

    fn described(firearm: Firearm, construction: Construction, grains: f64, fps: f64, g1: f64) -> Load {
        let facts = Facts {
            name: "described".into(),
            cartridge: None,
            firearm,
            construction,
            cartridge_unlisted: false,
            steel_core_common: false,
            steel_common: false,
            bullet: unit::GRAIN.of(grains),
            diameter: None,
            projectiles: if construction.is_shot() { 3 } else { 1 },
            muzzle_velocity: unit::FOOT_PER_SECOND.of(fps),
            barrel: None,
            drag: Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(g1)).expect("a coefficient"),
            spread: Spread::default(),
            source: "described".into(),
        };
        Load::checked("described", facts).expect("a load")
    }

    fn plumb() -> Setup {
        Setup::hung(Face::round(unit::INCH.of(12.0)).expect("a face"))
    }

    fn vetted(load: &Load, plate: &str, yards: f64, slope_deg: f64, setup: &Setup) -> Vetting<'static> {
        let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(slope_deg), unit::PERCENT.of(99.0))
            .expect("conditions");
        // A vetting lives no longer than what it was asked of.
        let (setup, conditions) = (Box::leak(Box::new(setup.clone())), Box::leak(Box::new(conditions)));
        let question = Question { rules: &RULES, ladder: &LADDER, setup, conditions };
        let plate = LADDER.named(plate).expect("a plate");
        vet(&question, load, &plate, unit::YARD.of(yards)).expect("within reach")
    }

    fn verdict(load: &Load, plate: &str, yards: f64, setup: &Setup) -> Verdict {
        vetted(load, plate, yards, 0.0, setup).judgement.verdict
    }

    #[test]
    fn what_careful_people_refuse_does_not_suit() {
        use Construction::{JacketedLead, Lead, LeadShot};
        let turned = Setup { oblique: unit::DEGREE.of(75.0), ..plumb() };
        assert_ne!(verdict(&listed("308-168-match"), "3/8 in", 100.0, &turned), Verdict::Suits);
        for firearm in [Firearm::Handgun, Firearm::PistolCarbine, Firearm::Shotgun, Firearm::RimfireRifle] {
            let load = described(firearm, JacketedLead, 180.0, 2960.0, 0.2);
            assert_ne!(verdict(&load, "1/2 in", 100.0, &plumb()), Verdict::Suits, "{firearm}");
        }
        let cases = [
            (described(Firearm::Handgun, JacketedLead, 750.0, 2820.0, 0.2), "3/4 in", 300.0),
            (described(Firearm::Handgun, JacketedLead, 125.0, 1950.0, 0.2), "3/8 in", 25.0),
            (described(Firearm::Handgun, JacketedLead, 123.0, 1990.0, 0.2), "3/8 in", 25.0),
            (described(Firearm::Shotgun, LeadShot, 315.0, 1200.0, 0.1), "3/8 in", 12.0),
            (described(Firearm::Handgun, Lead, 158.0, 410.0, 0.15), "3/8 in", 30.0),
            (described(Firearm::RimfirePistol, Lead, 405.0, 1330.0, 0.2), "3/8 in", 10.0),
            (described(Firearm::PistolCarbine, JacketedLead, 220.0, 1020.0, 0.6), "3/8 in", 25.0),
        ];
        for (load, plate, yards) in cases {
            assert_ne!(verdict(&load, plate, yards, &plumb()), Verdict::Suits, "{} at {yards}", load.class());
        }
        let pitted = Setup { condition: Condition::Pitted, ..plumb() };
        let subsonic = described(Firearm::Rifle, JacketedLead, 220.0, 1020.0, 0.6);
        assert_eq!(verdict(&subsonic, "3/8 in", 50.0, &pitted), Verdict::Unsuitable);
        let six = Setup {
            mount: Mount::Welded,
            steel: Steel::Unknown,
            oblique: unit::DEGREE.of(20.0),
            tilt: Some(unit::DEGREE.of(-4.0)),
            condition: Condition::Pitted,
            ..plumb()
        };
        let copper = described(Firearm::Rifle, Construction::Monolithic, 150.0, 2700.0, 0.4);
        assert_eq!(verdict(&copper, "1/2 in", 200.0, &six), Verdict::Unsuitable);
    }

    #[test]
    fn what_careful_people_allow_is_not_refused() {
        let match_load = listed("308-168-match");
        assert_eq!(vetted(&match_load, "3/8 in", 100.0, 0.1, &plumb()).judgement.verdict, Verdict::Suits);
        assert_eq!(verdict(&listed("9mm-115"), "3/8 in", 8.0, &plumb()), Verdict::Borderline);
        assert_eq!(verdict(&listed("22lr-hv-40"), "1/4 in", 15.0, &plumb()), Verdict::Suits);
        assert_ne!(verdict(&listed("12ga-slug-1oz"), "1/2 in", 50.0, &plumb()), Verdict::Unsuitable);
        assert_eq!(verdict(&listed("12ga-bird-75"), "1/4 in", 11.0, &plumb()), Verdict::Suits);
        assert_eq!(verdict(&listed("12ga-buck-00"), "3/8 in", 30.0, &plumb()), Verdict::Suits);
        // Mill sizes are the nominal ones to 6 %.
        assert_eq!(verdict(&listed("22lr-hv-40"), "6 mm", 25.0, &plumb()), Verdict::Suits);
        assert_eq!(verdict(&match_load, "12 mm", 100.0, &plumb()), Verdict::Suits);
        let ar550 = Setup { steel: Steel::Ar550, ..plumb() };
        assert_eq!(verdict(&listed("9mm-115"), "3/8 in", 15.0, &ar550), Verdict::Suits);
        assert_eq!(verdict(&match_load, "1/2 in", 200.0, &ar550), Verdict::Borderline);
        let strong = described(Firearm::Rifle, Construction::JacketedLead, 180.0, 2763.0, 0.45);
        assert_eq!(verdict(&strong, "1/2 in", 150.0, &plumb()), Verdict::Borderline);
    }

    #[test]
    fn the_remedy_is_the_lean_the_turn_or_the_mount_where_that_would_do() {
        let load = listed("308-168-match");
        let back = Setup { tilt: Some(unit::DEGREE.of(-9.0)), ..plumb() };
        let remedies = vetted(&load, "1/2 in", 150.0, 0.0, &back).remedies;
        assert_eq!(remedies.tilt.map(|t| unit::DEGREE.value(t).round()), Some(0.0));
        assert!(
            remedies.distance.is_none() && remedies.muzzle_velocity.is_none(),
            "no fall helps a face that leans back"
        );
        let uphill = vetted(&load, "1/2 in", 150.0, 15.0, &plumb()).remedies;
        assert_eq!(uphill.tilt.map(|t| unit::DEGREE.value(t).round()), Some(12.0));
        let turned = Setup { oblique: unit::DEGREE.of(-60.0), ..plumb() };
        let turn = vetted(&load, "1/2 in", 150.0, 0.0, &turned).remedies.oblique;
        assert_eq!(turn.map(|t| unit::DEGREE.value(t).round()), Some(-15.0));
        let welded = Setup { mount: Mount::Welded, ..plumb() };
        assert_eq!(vetted(&load, "1/2 in", 150.0, 0.0, &welded).remedies.mount, Some(Mount::OpenHook));
    }

    #[test]
    fn the_limit_is_told_with_what_divides_it_and_the_energy_is_the_bullets_own() {
        let setup = Setup { duty: Duty::Public, ..plumb() };
        let vetting = vetted(&listed("308-168-match"), "3/8 in", 100.0, 0.0, &setup);
        let energy = vetting.findings.iter().find(|f| f.rule().id == "energy-cap").expect("the cap");
        let text = thickset::rules::words::finding(energy, thickset::words::Units::Us, "").limit;
        assert_eq!(text, "at most 2000 ft·lbf (2800 ÷ 1.40 public)");
        let own = load_energy(&vetting);
        let told = energy.actual.expect("an energy").si();
        assert!((told / own - 1.0).abs() < 1e-12, "{told} {own}");
        assert_eq!((energy.verdict, energy.through_duty), (Verdict::Borderline, true));
    }

    fn load_energy(vetting: &Vetting) -> f64 {
        use thickset::quantity::Measure;
        listed("308-168-match").energy(vetting.strike.fast).si()
    }
}
