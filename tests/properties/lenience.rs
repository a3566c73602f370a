//! What must never turn a no into a yes: a word, a thing left unsaid, a face turned or leaning farther, pits.

use super::support::{Drawn, RULES, config, drawn};
use proptest::prelude::*;
use proptest::sample::select;
use thickset::load::{Construction, Firearm, Load};
use thickset::plate::{Condition, Face, Plate};
use thickset::quantity::{Length, Measure, unit};
use thickset::rules::{Allowance, Rule, Setup, Verdict};
use thickset::spread::Flights;
use thickset::strike::Strike;

const WORDS: [Firearm; 8] = [
    Firearm::RimfirePistol,
    Firearm::RimfireRifle,
    Firearm::Handgun,
    Firearm::PistolCarbine,
    Firearm::Shotgun,
    Firearm::MuzzleLoader,
    Firearm::AirGun,
    Firearm::Rifle,
];

fn called(load: &Load, firearm: Firearm, construction: Construction) -> Load {
    load.with(|facts| (facts.firearm, facts.construction) = (firearm, construction)).expect("a load")
}

fn plate(inches: f64) -> Plate {
    Plate::new("drawn", unit::INCH.of(inches)).expect("a plate")
}

fn struck(case: &Drawn, load: &Load) -> Option<Strike> {
    Flights::new(load, &case.conditions()).ok()?.strike(unit::YARD.of(case.yards)).ok()
}

fn verdict(load: &Load, inches: f64, setup: &Setup, strike: &Strike) -> Verdict {
    RULES.allow(load, &plate(inches), setup, strike.muzzle).judge(strike).verdict
}

/// The worst of the rules that count, and its margin; what is met without weighing the hit tells nothing.
fn worst_of(allowance: &Allowance, strike: &Strike, counts: impl Fn(&Rule) -> bool) -> (Verdict, Option<f64>) {
    let findings = allowance.findings(strike);
    let speaks = |f: &&thickset::rules::Finding| f.verdict != Verdict::Suits || f.rule().subject.weighs();
    let counted: Vec<_> = findings.iter().filter(|f| counts(f.rule())).filter(speaks).collect();
    let verdict = counted.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Suits);
    let margins = counted.iter().filter(|f| f.verdict == verdict).filter_map(|f| f.margin);
    (verdict, margins.reduce(f64::min))
}

/// Distances where the floors lie, and between.
fn near() -> impl Strategy<Value = f64> {
    prop_oneof![select(vec![8.0, 10.0, 15.0, 25.0, 50.0, 55.0, 75.0, 100.0, 150.0, 200.0]), 5.0..400.0_f64]
}

fn thickness() -> impl Strategy<Value = f64> {
    prop_oneof![select(vec![0.1875, 0.25, 0.375, 0.5, 0.75]), 0.18..1.0_f64]
}

fn lead() -> impl Strategy<Value = Construction> {
    select(vec![Construction::Lead, Construction::JacketedLead, Construction::Plated])
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn no_word_is_looser_than_rifle_for_a_rifle_s_bullet(
        case in drawn(), yards in near(), inches in thickness(), word in select(WORDS.to_vec()), made in lead(),
    ) {
        let case = Drawn { yards, ..case };
        let load = called(&case.load(), word, made);
        let rifle = called(&load, Firearm::Rifle, made);
        let strong = case.fps > 2000.0 && unit::FOOT_POUND.value(load.muzzle_energy()) > 400.0;
        let coefficient = word != Firearm::Shotgun && case.bc > if case.g7 { 0.13 } else { 0.25 };
        prop_assume!(strong || coefficient);
        if let Some(strike) = struck(&case, &load) {
            let setup = case.setup();
            prop_assert!(verdict(&load, inches, &setup, &strike) >= verdict(&rifle, inches, &setup, &strike));
        }
    }

    #[test]
    fn a_firearm_left_unsaid_is_never_looser_than_any_that_may_fire_it(
        case in drawn(), yards in near(), inches in thickness(), word in select(WORDS.to_vec()), made in lead(),
    ) {
        let case = Drawn { yards, ..case };
        let sleek = case.bc > if case.g7 { 0.13 } else { 0.25 };
        prop_assume!(word != Firearm::Shotgun || case.grains >= if sleek { 190.0 } else { 80.0 });
        let load = called(&case.load(), word, made);
        let unsaid = called(&load, Firearm::Unknown, made);
        if let Some(strike) = struck(&case, &load) {
            let setup = case.setup();
            prop_assert!(verdict(&unsaid, inches, &setup, &strike) >= verdict(&load, inches, &setup, &strike));
        }
    }

    #[test]
    fn a_construction_or_a_lean_left_unsaid_is_never_looser(case in drawn(), inches in thickness(), made in lead()) {
        let load = called(&case.load(), case.firearm, made);
        let unsaid = called(&load, case.firearm, Construction::Unknown);
        if let Some(strike) = struck(&case, &load) {
            let setup = case.setup();
            prop_assert!(verdict(&unsaid, inches, &setup, &strike) >= verdict(&load, inches, &setup, &strike));
            let (plumb, silent) = (Some(unit::DEGREE.of(0.0)), Setup { tilt: None, ..setup.clone() });
            let plumb = Setup { tilt: plumb, ..setup };
            prop_assert_eq!(verdict(&load, inches, &silent, &strike), verdict(&load, inches, &plumb, &strike));
        }
    }

    #[test]
    fn a_thicker_plate_is_never_worse(case in drawn(), yards in near(), inches in thickness(), by in 0.001..1.0_f64) {
        let case = Drawn { yards, ..case };
        let load = case.load();
        if let Some(strike) = struck(&case, &load) {
            let setup = case.setup();
            let (thin, thick) = (RULES.allow(&load, &plate(inches), &setup, strike.muzzle), RULES.allow(&load, &plate(inches + by), &setup, strike.muzzle));
            let (thin_all, thick_all) = (thin.judge(&strike), thick.judge(&strike));
            prop_assert!(thick_all.verdict <= thin_all.verdict);
            let own = |allowance: &Allowance| worst_of(allowance, &strike, Rule::is_plates_own);
            let ((thin_verdict, thin_margin), (thick_verdict, thick_margin)) = (own(&thin), own(&thick));
            prop_assert!(thick_verdict <= thin_verdict);
            if let (Some(thin), Some(thick), true) = (thin_margin, thick_margin, thin_verdict == thick_verdict) {
                prop_assert!(thick >= thin - 1e-9, "{thin} then {thick}");
            }
            // What the plate holds and what no plate changes are the whole, but for two borderlines together.
            let apart = worst_of(&thin, &strike, |rule| !rule.is_plates_own()).0.max(thin_verdict);
            prop_assert!(thin_all.verdict >= apart);
        }
    }

    #[test]
    fn a_face_turned_or_leaning_farther_or_pitted_is_never_better(
        case in drawn(), yards in near(), turn in 0.0..80.0_f64, lean in -30.0..60.0_f64, by in 0.1..30.0_f64,
        slope_deg in -20.0..20.0_f64,
    ) {
        let case = Drawn { yards, ..case };
        let load = case.load();
        let Some(mut strike) = struck(&case, &load) else { return Ok(()) };
        strike.fall = strike.descent - unit::DEGREE.of(slope_deg);
        let deg = |degrees| unit::DEGREE.of(degrees);
        let setup = Setup { oblique: deg(turn), tilt: Some(deg(lean)), ..case.setup() };
        let judged = |setup: &Setup| verdict(&load, 0.5, setup, &strike);
        let here = judged(&setup);
        let turned = judged(&Setup { oblique: deg(turn + by), ..setup.clone() });
        let pitted = judged(&Setup { condition: Condition::Pitted, ..setup.clone() });
        prop_assert!(turned >= here && pitted >= here);
        // From square to the sight backward, and from where the bullet comes square forward.
        if lean <= slope_deg && strike.descent < deg(25.0) {
            let farther = judged(&Setup { tilt: Some(deg(lean - by)), ..setup.clone() });
            prop_assert!(farther >= here);
        } else if lean >= slope_deg {
            let farther = judged(&Setup { tilt: Some(deg(lean + by)), ..setup });
            prop_assert!(farther >= here);
        }
    }

    #[test]
    fn closest_and_vet_agree_on_slopes_for_suits_and_for_borderline(
        case in drawn(), tilt in prop::option::of(-8.0..30.0_f64), slope_deg in prop_oneof![Just(0.1), -9.0..15.0_f64],
        inches in thickness(),
    ) {
        let load = case.load();
        let weather = thickset::air::Weather::default();
        let slope = unit::DEGREE.of(slope_deg);
        let conditions = thickset::spread::FlightConditions::new(&weather, slope, unit::PERCENT.of(99.0)).expect("conditions");
        let flights = Flights::new(&load, &conditions).expect("flights");
        let setup = Setup { tilt: tilt.map(|t| unit::DEGREE.of(t)), ..case.setup() };
        let allowance = RULES.allow(&load, &plate(inches), &setup, flights.muzzle());
        let judged = |metres: f64| flights.strike(Length::from_si(metres)).ok().map(|s| allowance.judge(&s).verdict);
        let (suits, borderline) = (allowance.closest(&flights).distance(), allowance.borderline_from(&flights).distance());
        for (distance, wanted) in [(suits, Verdict::Suits), (borderline, Verdict::Borderline)] {
            let Some(distance) = distance else { continue };
            prop_assert!(judged(distance.si()) <= Some(wanted));
            if distance.si() > 0.2 {
                prop_assert!(judged(distance.si() - 0.1) > Some(wanted));
            }
        }
        if let (Some(suits), Some(borderline)) = (suits, borderline) {
            prop_assert!(borderline.si() <= suits.si() + 1e-6);
        }
    }

    #[test]
    fn a_rule_s_margin_moves_by_as_little_as_the_load_and_the_face(case in drawn(), yards in near(), inches in thickness()) {
        // Each rule's own margin is continuous: a verdict's margin jumps only where a rule sets in, by its step.
        let case = Drawn { yards, ..case };
        let load = case.load();
        let Some(strike) = struck(&case, &load) else { return Ok(()) };
        let mut faster = strike;
        faster.fast = strike.fast * (1.0 + 1e-6);
        let narrower = Setup { face: Face::round(unit::INCH.of(case.width_in * (1.0 - 1e-6))).expect("a face"), ..case.setup() };
        let before = RULES.allow(&load, &plate(inches), &case.setup(), strike.muzzle).findings(&strike);
        let after = RULES.allow(&load, &plate(inches * (1.0 - 1e-6)), &narrower, strike.muzzle).findings(&faster);
        for finding in &before {
            let same = after.iter().find(|f| f.rule().id == finding.rule().id);
            if let (Some(a), Some(b)) = (finding.margin, same.and_then(|f| f.margin)) {
                let scale = 1.0 + a.abs();
                prop_assert!((a - b).abs() < 1e-4 * scale, "{}: {a} then {b}", finding.rule().id);
            }
        }
    }
}
