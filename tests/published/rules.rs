//! The house rules against rules in print: never looser than any of them.

use super::check::{Check, Status};
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::plate::{Face, Ladder};
use thickset::quantity::unit;
use thickset::rules::{RuleSet, Setup};
use thickset::spread::{FlightConditions, Flights};

/// A distance in print for a load, yards; the tool's closest on its recommended plates is to be no nearer.
const FLOORS: &[(&str, f64, &str)] = &[
    ("9mm-115", 23.0 / 3.0, "USPSA 2.1.3: 23 ft, handgun on metal"),
    ("12ga-bird-75", 16.0 / 3.0, "USPSA Multigun 2.1.3: birdshot, buckshot 16 ft"),
    ("12ga-slug-1oz", 147.0 / 3.0, "USPSA Multigun 2.1.3: slug 147 ft"),
    ("556-55", 147.0 / 3.0, "USPSA Multigun 2.1.3: rifle 147 ft"),
];

/// The same of the service notice, which ships as rules to lay over the house's.
const NOTICE: &[(&str, f64, &str)] = &[
    ("9mm-115", 10.0, "service range notice after USMC SOUM 15-23: pistol 10 yd"),
    ("9mm-115-carbine", 25.0, "service range notice after USMC SOUM 15-23: carbine 25 yd"),
    ("22lr-hv-40", 25.0, "service range notice after USMC SOUM 15-23: rimfire rifle 25 yd"),
    ("12ga-buck-00", 11.0, "service range notice after USMC SOUM 15-23: shot 11 yd"),
    ("12ga-slug-1oz", 55.0, "service range notice after USMC SOUM 15-23: slug 55 yd"),
    ("556-55", 110.0, "service range notice after USMC SOUM 15-23: 5.56 110 yd"),
    ("308-168-match", 165.0, "service range notice after USMC SOUM 15-23: 7.62 165 yd"),
    ("300wm-180", 410.0, "service range notice after USMC SOUM 15-23: .300 Win Mag 410 yd"),
];

/// What the tool gives beyond the printed floor, as a shortfall: 0 where it is as far or farther.
fn shortfall(rules: &RuleSet, id: &str, yards: f64) -> f64 {
    let catalog = Catalog::builtin().expect("the catalogue");
    let ladder = Ladder::builtin().expect("the ladder");
    let conditions =
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).expect("conditions");
    let load = &catalog.load(id).expect("a shipped load").load;
    let flights = Flights::new(load, &conditions).expect("flights");
    let setup = Setup::hung(Face::round(unit::INCH.of(12.0)).expect("a face"));
    let closest = ladder
        .plates()
        .iter()
        .filter_map(|p| rules.allow(load, p, &setup, flights.muzzle()).closest(&flights).distance());
    let nearest = closest.map(|d| unit::YARD.value(d)).fold(f64::INFINITY, f64::min);
    (yards - nearest).max(0.0)
}

pub fn checks() -> Vec<Check> {
    let rules = RuleSet::house().expect("the house rules");
    let notice = rules.clone().with_service_notice().expect("the service notice");
    let floors = FLOORS.iter().map(|floor| (&rules, floor)).chain(NOTICE.iter().map(|floor| (&notice, floor)));
    let mut checks: Vec<Check> = floors
        .map(|(rules, &(id, yards, source))| {
            let what = format!("{id}: yards nearer than the printed {yards:.1} yd");
            Check::new(what, source, Status::Read, 0.0, shortfall(rules, id, yards), 1e-6)
        })
        .collect();
    let never = rules.rules().iter().find(|r| r.id == "never-on-steel").map_or(0, |r| r.filter.construction.len());
    let source = "USPSA 5.5.3 / 10.5.15: metal-piercing, steel-core, incendiary, tracer, steel-jacketed disqualify";
    checks.push(Check::new(
        "constructions never shot at steel, steel shot with them",
        source,
        Status::Read,
        6.0,
        never as f64,
        0.0,
    ));
    let ceiling = rules.rules().iter().find(|r| r.id == "speed-ceiling").and_then(|r| match r.sense {
        thickset::rules::Sense::Limit { borderline: thickset::rules::Value::Velocity(borderline), .. } => {
            Some(unit::FOOT_PER_SECOND.value(borderline))
        }
        _ => None,
    });
    let source = "event rule: rifle ammunition at most 3,000 ft/s, faster can cause damage to steel targets";
    checks.push(Check::new(
        "speed beyond which nothing suits, ft/s",
        source,
        Status::Read,
        3000.0,
        ceiling.unwrap_or(f64::NAN),
        1e-6,
    ));
    checks
}

#[test]
fn the_house_rules_are_never_looser_than_rules_in_print() {
    super::check::assert_all(&checks());
}
