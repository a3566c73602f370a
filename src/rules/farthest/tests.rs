//! Up to where a load suits.

use super::*;
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::plate::{Face, Plate};
use crate::rules::{RuleSet, Setup};
use crate::source::SourceText;
use crate::spread::FlightConditions;

const SLOW: &str = "schema = 'thickset/rules/1'\nname = 'Club'\n[[rule]]\nid = 'slow'\nsubject = 'slow-speed'\n\
                    sense = 'at-least'\nsuits = '2000 ft/s'\nwhy = 'comes back'\n";

/// The end in yards, and the rule that makes it.
fn end(load: &str, tilt: f64, range: &str, up_to: Option<f64>) -> Option<(f64, String)> {
    let house = RuleSet::house().unwrap();
    let rules =
        if range.is_empty() { house } else { house.with_overlay(&SourceText::new("club.toml", range)).unwrap() };
    let catalog = Catalog::builtin().unwrap();
    let load = &catalog.load(load).unwrap().load;
    let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
    let flights = Flights::new(load, &conditions).unwrap();
    let setup = Setup { tilt: Some(unit::DEGREE.of(tilt)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) };
    let plate = Plate::new("3/8 in", unit::INCH.of(0.375)).unwrap();
    let allowance = rules.allow(load, &plate, &setup, flights.muzzle());
    let up_to = allowance.looked_up_to(up_to.map(|yards| unit::YARD.of(yards))).unwrap();
    let found = allowance.farthest(&flights, up_to)?;
    let judged = |at: Length| allowance.judge(&flights.strike(at).unwrap()).verdict;
    assert_eq!(judged(found.distance), Verdict::Suits);
    assert_ne!(judged(found.distance + Length::from_si(2.0 * FOUND_M)), Verdict::Suits);
    Some((unit::YARD.value(found.distance), found.by.unwrap().id.clone()))
}

#[test]
fn a_range_s_least_speed_ends_it_where_the_slow_shot_falls_below() {
    let (yards, by) = end("308-168-match", 15.0, SLOW, None).unwrap();
    assert!((250.0..400.0).contains(&yards) && by == "slow", "{yards} {by}");
}

#[test]
fn what_falls_steeply_ends_it_as_far_as_people_shoot_or_ask() {
    let (yards, by) = end("177air-pellet-8", 15.0, "", None).unwrap();
    assert!((100.0..400.0).contains(&yards) && by == "lean-over", "{yards} {by}");
    assert_eq!(end("308-168-match", 25.0, "", None), None);
    assert!(end("308-168-match", 25.0, "", Some(2900.0)).is_some());
}
