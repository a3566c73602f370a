//! More shooters, rounds, spread, coverage or confidence never lower a chance or a bound; tolerance bounds
//! hold what they promise over many seeded strings.

// Ranks are small and positive.
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use super::support::{Draws, config};
use proptest::prelude::*;
use thickset::chrono::Readings;
use thickset::quantity::{Measure, Velocity};
use thickset::source::SourceText;
use thickset::spread::normal::below;
use thickset::spread::risk::ShooterPopulation;
use thickset::spread::tolerance::factor;

/// Rounding of a sum of a thousand terms.
const SLACK: f64 = 1e-12;

/// A field about 800 m/s.
fn field(within: f64, between: f64, shooters: u32, rounds: u32) -> ShooterPopulation {
    let mps = Velocity::from_si;
    ShooterPopulation::new(mps(800.0), mps(within), mps(between), shooters, rounds).expect("a field")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: config().cases.div_ceil(20), ..config() })]

    #[test]
    fn more_of_a_match_never_lowers_the_chance(
        within in 0.0..30.0_f64, between in 0.0..30.0_f64, shooters in 1..10_000_u32, rounds in 1..100_000_u32,
        gap in 0.0..300.0_f64, more in 0.0..10.0_f64, extra in 0..1000_u32,
    ) {
        let chance = |f: ShooterPopulation, gap: f64| f.chance_above(Velocity::from_si(800.0 + gap));
        let base = chance(field(within, between, shooters, rounds), gap);
        prop_assert!((0.0..=1.0).contains(&base), "{base}");
        let least = base * (1.0 - SLACK);
        prop_assert!(chance(field(within, between, shooters + extra, rounds), gap) >= least);
        prop_assert!(chance(field(within, between, shooters, rounds + extra), gap) >= least);
        prop_assert!(chance(field(within + more, between, shooters, rounds), gap) >= least);
        prop_assert!(chance(field(within, between, shooters, rounds), gap - more) >= least);
    }

    #[test]
    fn more_of_a_match_never_lowers_the_limit(
        within in 0.0..30.0_f64, between in 0.0..30.0_f64, shooters in 1..10_000_u32, rounds in 1..100_000_u32,
        risk in 1e-6..0.5_f64, more in 0.0..10.0_f64, extra in 0..1000_u32, less in 0.1..1.0_f64,
    ) {
        let limit = |f: ShooterPopulation, risk: f64| f.limit_for(risk).expect("a limit").si();
        // How near a limit is found.
        let least = limit(field(within, between, shooters, rounds), risk) - 2e-9;
        prop_assert!(limit(field(within, between, shooters + extra, rounds), risk) >= least);
        prop_assert!(limit(field(within, between, shooters, rounds + extra), risk) >= least);
        prop_assert!(limit(field(within + more, between, shooters, rounds), risk) >= least);
        prop_assert!(limit(field(within, between + more, shooters, rounds), risk) >= least);
        prop_assert!(limit(field(within, between, shooters, rounds), risk * less) >= least);
    }

    #[test]
    fn more_coverage_or_confidence_and_fewer_readings_never_lower_the_factor(
        n in 2..10_000_usize, fewer in 0.0..1.0_f64, coverage in 0.9..0.9999_f64, confidence in 0.5..0.9999_f64,
        up in 0.0..1.0_f64,
    ) {
        let k = |n, p, c| factor(n, p, c).expect("a factor");
        let least = k(n, coverage, confidence) * (1.0 - SLACK);
        prop_assert!(k(n, coverage + up * (0.9999 - coverage), confidence) >= least);
        prop_assert!(k(n, coverage, confidence + up * (0.9999 - confidence)) >= least);
        let fewer = 2 + ((n - 2) as f64 * fewer) as usize;
        // The median of the bound is nearly flat in n, so the order is asked of a confidence that is one.
        if confidence >= 0.75 {
            prop_assert!(k(fewer, coverage, confidence) >= least, "{fewer} of {n}");
        }
    }

    #[test]
    fn any_text_of_readings_is_read_or_refused_without_panic(
        bytes in proptest::collection::vec(any::<u8>(), 0..60), text in "\\PC{0,60}", near in "(unit |ft/s|m/s|fps|#|[0-9.,;\"\t\r\n() ]){0,40}", column in proptest::option::of("[a-z()]{0,9}"),
    ) {
        for text in [String::from_utf8_lossy(&bytes).into_owned(), text, near] {
            let _ = Readings::from_words(text.split(' ')).map_err(|e| e.to_string());
            let source = SourceText::new("string.txt", text);
            match Readings::read(&source, column.as_deref()) {
                Ok(readings) => {
                    prop_assert!(readings.suspicions().len() <= readings.readings().len());
                    prop_assert!(readings.summary(0.99, 0.95).is_ok());
                }
                Err(fault) => prop_assert!(fault.help.is_some() && !fault.to_string().is_empty()),
            }
        }
    }
}

#[test]
fn over_many_seeded_strings_the_bound_holds_its_coverage_as_often_as_it_promises() {
    const STRINGS: u32 = 40_000;
    let mut draws = Draws::seeded();
    for (n, coverage, confidence) in
        [(2, 0.99, 0.95), (3, 0.9, 0.99), (5, 0.99, 0.5), (10, 0.99, 0.95), (10, 0.999, 0.9), (30, 0.95, 0.95)]
    {
        let k = factor(n, coverage, confidence).expect("a factor");
        let mut held = 0;
        for _ in 0..STRINGS {
            let readings: Vec<f64> = (0..n).map(|_| draws.normal()).collect();
            let mean = readings.iter().sum::<f64>() / n as f64;
            let squares: f64 = readings.iter().map(|x| (x - mean).powi(2)).sum();
            let bound = mean + k * (squares / (n as f64 - 1.0)).sqrt();
            held += u32::from(below(bound) >= coverage);
        }
        let share = f64::from(held) / f64::from(STRINGS);
        // Four standard errors.
        let error = 4.0 * (confidence * (1.0 - confidence) / f64::from(STRINGS)).sqrt();
        assert!((share - confidence).abs() < error, "n {n}, {coverage}, {confidence}: {share}");
    }
}
