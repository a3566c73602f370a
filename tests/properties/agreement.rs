//! The commands agree with each other: they ask the same allowance.

use super::support::{LADDER, RULES, cases, config, drawn};
use proptest::prelude::*;
use thickset::advisor::{AdviseQuestion, Advisor};
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::plate::{Duty, Face, Steel};
use thickset::quantity::{Length, Measure, unit};
use thickset::rules::{Setup, Verdict};
use thickset::spread::{FlightConditions, Flights};
use thickset::standoff::Chart;
use thickset::vet::{Question, vet};

fn conditions() -> FlightConditions {
    FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).expect("conditions")
}

fn setup(duty: Duty) -> Setup {
    Setup { duty, ..Setup::hung(Face::round(unit::INCH.of(12.0)).expect("a face")) }
}

#[test]
fn vet_and_advise_agree_for_every_load_plate_and_distance_and_remedies_fed_back_suit() {
    let (catalog, conditions, advisor) =
        (Catalog::builtin().expect("loads"), conditions(), Advisor::house().expect("the advisor"));
    // Every third load on every plate at one distance, the next at the next; every load at each of them where many
    // cases are asked.
    let every = cases(0) >= 1000;
    let mut fed_back = 0;
    for duty in [Duty::Private, Duty::Public] {
        let setup = setup(duty);
        let question = Question { rules: &RULES, ladder: &LADDER, setup: &setup, conditions: &conditions };
        // Public days divide the limits for all loads alike: every twelfth shows it.
        let each = if every {
            1
        } else if duty == Duty::Private {
            3
        } else {
            12
        };
        for (turn, entry) in catalog.entries().iter().step_by(each).enumerate() {
            let distances = [7.0, 25.0, 60.0, 100.0, 200.0, 350.0, 1000.0];
            for (_, yards) in distances.into_iter().enumerate().filter(|(d, _)| every || turn % 7 == *d) {
                let (distance, id) = (unit::YARD.of(yards), entry.load.id());
                // All of the air given: nothing is judged again at its bad end.
                let text = format!(
                    r#"{{"load": "{id}", "at": "{yards} yd", "duty": "{duty}", "condition": "sound",
                        "altitude": "0 ft", "temperature": "15 C"}}"#
                );
                let asked: AdviseQuestion = serde_json::from_str(&text).expect("a question");
                let Ok(answer) = advisor.advise(&asked) else {
                    assert!(vet(&question, &entry.load, &LADDER.plates()[0], distance).is_err(), "{text}");
                    continue;
                };
                for (plate, choice) in LADDER.plates().iter().zip(&answer.plates) {
                    let vetting = vet(&question, &entry.load, plate, distance).expect("within reach");
                    assert_eq!(vetting.judgement.verdict, choice.verdict, "{id} {} {yards}", plate.label);
                    assert_eq!(vetting.judgement.margin, choice.margin.map(|margin| *margin));
                    fed_back += feed_back(&question, &entry.load, plate, distance, &vetting.remedies);
                }
            }
        }
    }
    assert!(fed_back > if every { 1000 } else { 100 }, "{fed_back}");
}

/// Every remedy, as it would be printed, judged again; how many there were.
fn feed_back(
    question: &Question,
    load: &thickset::load::Load,
    plate: &thickset::plate::Plate,
    at: Length,
    remedies: &thickset::vet::Remedies,
) -> usize {
    let verdict = |load: &thickset::load::Load, plate: &_, at| {
        vet(question, load, plate, at).expect("within reach").judgement.verdict
    };
    let mut count = 0;
    if let Some(distance) = remedies.distance {
        let printed = unit::YARD.of((unit::YARD.value(distance) - 1e-6).ceil().max(1.0));
        assert_eq!(verdict(load, plate, printed), Verdict::Suits, "{} {}", load.id(), plate.label);
        count += 1;
    }
    if let Some(other) = &remedies.plate {
        assert_eq!(verdict(load, other, at), Verdict::Suits, "{} {}", load.id(), other.label);
        count += 1;
    }
    if let Some(speed) = remedies.muzzle_velocity {
        let printed = unit::FOOT_PER_SECOND.of((unit::FOOT_PER_SECOND.value(speed) + 1e-6).floor());
        let slower = load.with(|facts| facts.muzzle_velocity = printed).expect("a load");
        assert_eq!(verdict(&slower, plate, at), Verdict::Suits, "{} {}", load.id(), plate.label);
        count += 1;
    }
    count
}

#[test]
fn every_cell_of_the_chart_suits_at_its_distance_and_not_a_tenth_of_a_yard_nearer() {
    let (catalog, conditions) = (Catalog::builtin().expect("loads"), conditions());
    let mut finite = 0;
    for duty in [Duty::Private, Duty::Match, Duty::Public] {
        let setup = setup(duty);
        let chart = Chart { rules: &RULES, plates: LADDER.plates(), setup: &setup, conditions: &conditions, at: None };
        for entry in catalog.entries() {
            let row = chart.row(&entry.load).expect("a row");
            let flights = Flights::new(&entry.load, &conditions).expect("flights");
            for (plate, cell) in LADDER.plates().iter().zip(&row.cells) {
                let Some(distance) = cell.closest.distance() else { continue };
                let allowance = RULES.allow(&entry.load, plate, &setup, flights.muzzle());
                let verdict = |yards: f64| {
                    let strike = flights.strike(unit::YARD.of(yards)).expect("within reach");
                    allowance.judge(&strike).verdict
                };
                let (exact, id) = (unit::YARD.value(distance), entry.load.id());
                assert_eq!(verdict((exact - 1e-6).ceil()), Verdict::Suits, "{id} {} {exact}", plate.label);
                assert_eq!(verdict(exact), Verdict::Suits, "{id} {} {exact}", plate.label);
                assert_ne!(verdict((exact - 0.1).max(0.0)), Verdict::Suits, "{id} {} {exact}", plate.label);
                finite += 1;
            }
        }
    }
    assert!(finite > 500, "{finite}");
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_closest_distance_suits_and_just_inside_it_does_not(case in drawn(), plate in 0..5_usize) {
        let load = case.load();
        let conditions = case.conditions();
        let flights = Flights::new(&load, &conditions).expect("flights");
        let setup = case.setup();
        let allowance = RULES.allow(&load, &LADDER.plates()[plate], &setup, flights.muzzle());
        if let Some(distance) = allowance.closest(&flights).distance() {
            let verdict = |metres: f64| {
                flights.strike(Length::from_si(metres)).ok().map(|s| allowance.judge(&s).verdict)
            };
            prop_assert_eq!(verdict(distance.si()), Some(Verdict::Suits));
            if distance.si() > 0.2 {
                prop_assert_ne!(verdict(distance.si() - 0.1), Some(Verdict::Suits));
            }
        }
    }

    #[test]
    fn the_same_case_in_si_units_has_the_same_verdicts(case in drawn(), plate in 0..5_usize) {
        // The same numbers, written in the other system and read back.
        let mut metric = case;
        metric.grains = unit::GRAIN.value(unit::GRAM.of(unit::GRAM.value(unit::GRAIN.of(case.grains))));
        metric.fps = unit::FOOT_PER_SECOND.value(unit::METRE_PER_SECOND.of(unit::METRE_PER_SECOND.value(unit::FOOT_PER_SECOND.of(case.fps))));
        metric.yards = unit::YARD.value(unit::METRE.of(unit::METRE.value(unit::YARD.of(case.yards))));
        prop_assert_eq!(case.plate(&RULES), metric.plate(&RULES));
        let (a, b) = (case.closest(&RULES, plate), metric.closest(&RULES, plate));
        let both_infinite = (a.is_infinite() && b.is_infinite()) || (a.is_nan() && b.is_nan());
        prop_assert!(both_infinite || (a - b).abs() < 1e-3, "{a} {b}");
    }
}

#[test]
fn two_borderlines_of_different_kinds_keep_the_borderline_distance_beyond_them() {
    // A face that leans back is borderline within 50 yd, steel that is not known everywhere.
    let load = Catalog::builtin().expect("loads").load("9mm-115").expect("a load").load.clone();
    let flights = Flights::new(&load, &conditions()).expect("flights");
    let from = |tilt: f64, steel: Steel| {
        let setup = Setup { tilt: Some(unit::DEGREE.of(tilt)), steel, ..setup(Duty::Private) };
        let allowance = RULES.allow(&load, &LADDER.plates()[3], &setup, flights.muzzle());
        unit::YARD.value(allowance.borderline_from(&flights).distance().expect("a distance"))
    };
    assert!(from(0.0, Steel::Unknown) < 11.0 && from(-2.0, Steel::Ar500) < 11.0);
    assert!((from(-2.0, Steel::Unknown) - 50.0).abs() < 1e-6, "{}", from(-2.0, Steel::Unknown));
}
