//! What is printed reads back to what it was.

use super::support::{config, drawn};
use proptest::prelude::*;
use thickset::catalog::{Catalog, SCHEMA, render_load};
use thickset::quantity::{Angle, Energy, Length, Mass, Measure, Pressure, Temperature, Velocity, parse, unit};
use thickset::source::SourceText;

/// Every unit of a quantity prints to a text that reads back to the same value.
fn round_trip<Q: Measure>(si: f64) -> Result<(), TestCaseError> {
    for unit in Q::UNITS {
        let quantity = Q::from_si(si);
        let text = format!("{} {}", unit.value(quantity), unit.symbol);
        let back: Q = parse(&text).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
        // An offset unit loses a few digits in its zero.
        prop_assert!((back.si() - si).abs() <= 1e-12 * si.abs().max(500.0), "{text}: {} {si}", back.si());
    }
    Ok(())
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn quantities_survive_every_unit(value in 1e-3..5e3_f64) {
        round_trip::<Mass>(value * 1e-3)?;
        round_trip::<Length>(value)?;
        round_trip::<Velocity>(value)?;
        round_trip::<Energy>(value)?;
        round_trip::<Pressure>(value * 100.0)?;
        round_trip::<Temperature>(200.0 + value * 0.02)?;
        round_trip::<Angle>(value * 1e-3)?;
    }

    #[test]
    fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,40}") {
        let _ = parse::<Length>(&text);
        let _ = parse::<Temperature>(&text);
        let _ = text.parse::<thickset::plate::Face>();
        let _ = thickset::quantity::Range::<Temperature>::parse(&text);
    }

    #[test]
    fn a_printed_load_reads_back(case in drawn()) {
        let load = case.load();
        // A coefficient that no bullet of the mass has is refused.
        let bullet = unit::GRAIN.value(load.facts().bullet) / 7000.0;
        prop_assume!(bullet / 0.17_f64.powi(2) / case.bc > 0.6);
        let text = format!("schema = \"{SCHEMA}\"\n{}", render_load(&load, "given", None));
        let mut catalog = Catalog::default();
        let read = catalog.add(&SourceText::new("own.toml", text.clone()), None);
        // So is one too low for a bullet this heavy and fast, a speed that is likely metres a second, and a mass that is
        // likely in grams.
        let likely = ["form factor", "m/s?", "is light for its firearm"];
        let unlikely = |message: &str| likely.iter().any(|words| message.contains(words));
        prop_assume!(!read.as_ref().is_err_and(|e| unlikely(&e.message)));
        read.map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
        let back = &catalog.load("drawn").map_err(|e| TestCaseError::fail(e.to_string()))?.load;
        prop_assert!((back.facts().muzzle_velocity.si() / load.facts().muzzle_velocity.si() - 1.0).abs() < 1e-8);
        prop_assert!((back.facts().bullet.si() / load.facts().bullet.si() - 1.0).abs() < 1e-8);
        prop_assert!((unit::POUND_PER_SQUARE_INCH.value(back.facts().drag.bands()[0].bc) / case.bc - 1.0).abs() < 1e-8);
        prop_assert_eq!(back.facts().construction, load.facts().construction);
    }
}
