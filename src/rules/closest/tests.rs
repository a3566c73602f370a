//! How close, with limits, floors and windows made up: what fixes the distance, and what would next.

use super::*;
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::load::Load;
use crate::plate::{Face, Mount, Plate, Steel};
use crate::quantity::unit;
use crate::rules::{RuleSet, Setup};
use crate::source::SourceText;
use crate::spread::FlightConditions;

fn load() -> Load {
    Load::clone(&Catalog::builtin().unwrap().load("308-168-match").unwrap().load)
}

fn flights() -> Flights {
    let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
    Flights::new(&load(), &conditions).unwrap()
}

fn setup() -> Setup {
    Setup { tilt: Some(unit::DEGREE.of(10.0)), ..Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap()) }
}

/// What a distance is fixed at, yards, the rule that fixes it, and the one that would next.
#[derive(Debug, PartialEq)]
enum Found {
    At(f64, String, String),
    Never(String),
    BeyondReach(String),
}

fn found(closest: Closest) -> Found {
    let id = |rule: Option<&Rule>| rule.map(|rule| rule.id.clone()).unwrap_or_default();
    assert_eq!(
        id(closest.by()),
        match closest {
            Closest::At { by, .. } => id(by),
            Closest::Never { by } | Closest::BeyondReach { by } => id(Some(by)),
        }
    );
    match closest {
        Closest::At { distance, by, next } => {
            Found::At((unit::YARD.value(distance) * 100.0).round() / 100.0, id(by), id(next))
        }
        Closest::Never { by } => Found::Never(by.id.clone()),
        Closest::BeyondReach { by } => Found::BeyondReach(by.id.clone()),
    }
}

/// From where on all suits, and from where on it is borderline at worst, with a range's rules `a`, `b` and so on.
fn both(rules: &[&str], setup: &Setup) -> (Found, Found) {
    let each = rules.iter().zip('a'..).map(|(rule, id)| {
        let keys = rule.replace("; ", "\n");
        format!("[[rule]]\nid = \"{id}\"\nwhy = \"x\"\n{keys}\n")
    });
    let text = format!("schema = \"thickset/rules/1\"\nname = \"r\"\n{}", each.collect::<String>());
    let house = RuleSet::house().unwrap();
    let rules =
        if rules.is_empty() { house } else { house.with_overlay(&SourceText::new("range.toml", text)).unwrap() };
    let (plate, flights) = (Plate::new("3/4 in", unit::INCH.of(0.75)).unwrap(), flights());
    let load = load();
    let allowance = rules.allow(&load, &plate, setup, flights.muzzle());
    (found(allowance.closest(&flights)), found(allowance.borderline_from(&flights)))
}

fn suits(rules: &[&str]) -> Found {
    both(rules, &setup()).0
}

/// Where the fast shot falls to a speed, yd.
fn falls_to(fps: f64) -> f64 {
    let (limit, far) = (unit::FOOT_PER_SECOND.of(fps), unit::YARD.of(3000.0));
    let at = flights().fast_falls_to(limit, unit::YARD.of(0.0), far).unwrap();
    (unit::YARD.value(at) * 100.0).round() / 100.0
}

fn at(yards: f64, by: &str, next: &str) -> Found {
    Found::At(yards, by.to_owned(), next.to_owned())
}

fn never(by: &str) -> Found {
    Found::Never(by.to_owned())
}

const SPEED: &str = "subject = 'impact-speed'; sense = 'at-most'; suits = ";
const FLOOR: &str = "subject = 'distance'; sense = 'at-least'; suits = ";

#[test]
fn the_strictest_limit_on_the_fast_shot_fixes_the_distance_and_the_second_would_next_in_any_order() {
    let limit = |fps: u32| format!("{SPEED}'{fps} ft/s'");
    for (order, by, next) in [
        ([1800, 2000, 1900], "a", "c"),
        ([1800, 1900, 2000], "a", "b"),
        ([2000, 1800, 1900], "b", "c"),
        ([1900, 1800, 2000], "b", "a"),
        ([2000, 1900, 1800], "c", "b"),
        ([1900, 2000, 1800], "c", "a"),
    ] {
        let rules = order.map(limit);
        let rules: Vec<&str> = rules.iter().map(String::as_str).collect();
        assert_eq!(suits(&rules), at(falls_to(1800.0), by, next), "{order:?}");
    }
    // The first of two that are the same is named.
    assert_eq!(suits(&[&limit(1800), &limit(1800)]), at(falls_to(1800.0), "a", "b"));
}

#[test]
fn floors_and_limits_are_ranked_by_the_distances_they_come_to() {
    let (speed, near, far) = (format!("{SPEED}'1800 ft/s'"), format!("{FLOOR}'150 yd'"), format!("{FLOOR}'700 yd'"));
    let root = falls_to(1800.0);
    assert!((200.0..690.0).contains(&root), "{root}");
    assert_eq!(suits(&[&speed, &near]), at(root, "a", "b"));
    assert_eq!(suits(&[&speed, &far]), at(700.0, "b", "a"));
    assert_eq!(suits(&[&near, &far]), at(700.0, "b", "a"));
    assert_eq!(suits(&[&far, &near]), at(700.0, "a", "b"));
    assert_eq!(suits(&[&far, &speed, &near]), at(700.0, "a", "b"));
    let middle = format!("{FLOOR}'690 yd'");
    assert_eq!(suits(&[&far, &near, &middle]), at(700.0, "a", "c"));
    assert_eq!(suits(&[&far, &speed, &middle]), at(700.0, "a", "c"));
}

#[test]
fn a_limit_within_a_window_counts_up_to_where_it_is_met_or_the_window_ends() {
    let within = |fps: u32, yards: u32| format!("{SPEED}'{fps} ft/s'; within = '{yards} yd'");
    let root = falls_to(2000.0);
    assert!((150.0..600.0).contains(&root), "{root}");
    assert_eq!(suits(&[&within(1000, 200)]), at(200.0, "a", &floor()));
    assert_eq!(suits(&[&within(2000, 650)]), at(root, "a", &floor()));
    // Met or ended where another floor has it already.
    assert_eq!(suits(&[&format!("{FLOOR}'700 yd'"), &within(2000, 650)]), at(700.0, "a", &floor()));
}

/// The house's own floor for this load.
fn floor() -> String {
    match suits(&[]) {
        Found::At(_, by, _) => by,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_never_met_or_only_out_of_reach_names_its_rule() {
    let case = "subject = 'case'; sense = 'outcome'; outcome = 'unsuitable'";
    assert_eq!(both(&[case], &setup()), (never("a"), never("a")));
    assert_eq!(suits(&[&format!("{case}; within = '400 yd'")]), at(400.0, "a", &floor()));
    let muzzle = "subject = 'muzzle-speed'; sense = 'at-most'; suits = '2000 ft/s'";
    assert_eq!(suits(&[muzzle]), never("a"));
    assert_eq!(suits(&[&format!("{muzzle}; within = '400 yd'")]), at(400.0, "a", &floor()));
    assert_eq!(suits(&["subject = 'muzzle-speed'; sense = 'at-most'; suits = '3000 ft/s'"]), suits(&[]));
    assert_eq!(suits(&[&format!("{SPEED}'100 ft/s'")]), Found::BeyondReach("a".to_owned()));
    let slow =
        |fps: u32| format!("subject = 'slow-speed'; sense = 'at-least'; suits = '{fps} ft/s'; within = '400 yd'");
    assert_eq!((suits(&[&slow(2600)]), suits(&[&slow(500)])), (at(400.0, "a", &floor()), suits(&[])));
}

#[test]
fn a_floor_where_no_bullet_gets_to_is_named_before_what_no_hit_meets_within_reach() {
    assert_eq!(suits(&[&format!("{FLOOR}'1e9 yd'")]), Found::BeyondReach("a".to_owned()));
    assert_eq!(
        suits(&[&format!("{SPEED}'100 ft/s'"), &format!("{FLOOR}'700 yd'")]),
        Found::BeyondReach("a".to_owned())
    );
}

#[test]
fn where_it_is_borderline_at_worst_goes_by_the_limit_of_borderline() {
    let rule = format!("{SPEED}'1800 ft/s'; borderline = '2000 ft/s'");
    let (all, worst) = both(&[&rule], &setup());
    assert_eq!(all, at(falls_to(1800.0), "a", &floor()));
    let Found::At(yards, by, _) = worst else { panic!("{worst:?}") };
    assert_eq!((yards, by.as_str()), (falls_to(2000.0), "a"));
    let rule = format!("{FLOOR}'700 yd'; borderline = '500 yd'");
    let (all, worst) = both(&[&rule], &setup());
    assert_eq!(all, at(700.0, "a", &floor()));
    assert!(matches!(&worst, Found::At(500.0, by, _) if by == "a"), "{worst:?}");
    let outcome = "subject = 'case'; sense = 'outcome'; outcome = 'borderline'";
    let (all, worst) = both(&[outcome], &setup());
    assert_eq!(all, never("a"));
    // The house's floors for such a rifle are borderline from 75 and from 50 yd.
    assert_eq!(worst, at(75.0, "floor-rifle-strong", "floor-rifle"));
}

#[test]
fn two_kinds_that_stay_borderline_are_never_borderline_at_worst_and_those_that_end_count_up_to_there() {
    let unknown = Setup { steel: Steel::Unknown, ..setup() };
    let welded = Setup { mount: Mount::Welded, ..unknown.clone() };
    assert_eq!(both(&[], &welded).1, never("two-borderlines"));
    assert!(matches!(both(&[], &unknown).1, Found::At(..)));
    // A floor's borderline stretch ends; two of them end where the nearer of the two farthest ends.
    let floor = format!("{FLOOR}'700 yd'; borderline = '300 yd'");
    assert_eq!(both(&[&floor], &unknown).1, at(700.0, "two-borderlines", "a"));
    let turn = "subject = 'oblique'; sense = 'at-most'; suits = '2 deg'; borderline = '30 deg'; within = '600 yd'";
    let turned = Setup { oblique: unit::DEGREE.of(5.0), ..setup() };
    assert_eq!(both(&[&floor, turn], &turned).1, at(600.0, "two-borderlines", "a"));
}

#[test]
fn a_face_that_leans_back_is_never_shot_or_only_from_beyond_the_window_of_the_rule() {
    let leaning = |degrees: f64| Setup { tilt: Some(unit::DEGREE.of(degrees)), ..setup() };
    assert!(matches!(both(&[], &leaning(0.0)).0, Found::At(..)));
    assert_eq!(both(&[], &leaning(-8.0)), (never("lean-back"), never("lean-back")));
    assert_eq!(both(&[], &leaning(-5.0)).0, never("lean-back"));
    let lean = |within: &str| format!("subject = 'lean'; sense = 'at-least'; suits = '20 deg'{within}");
    assert_eq!(suits(&[&lean("")]), never("a"));
    assert_eq!(suits(&[&lean("; within = '400 yd'")]), at(400.0, "a", &floor()));
    // Over the greatest lean at the distance found: never.
    assert_eq!(both(&[], &leaning(35.0)).0, never("lean-over"));
    // Borderline from where the distance no longer is so too.
    assert!(
        matches!(both(&[], &leaning(35.0)).1, Found::At(yards, ..) if yards == 100.0),
        "{:?}",
        both(&[], &leaning(35.0))
    );
    let over = "subject = 'lean'; sense = 'at-most'; suits = '5 deg'; borderline = '6 deg'";
    assert_eq!(both(&[over], &setup()), (never("a"), never("a")));
    assert_eq!(suits(&[&format!("{over}; within = '400 yd'")]), at(400.0, "a", &floor()));
    // And over it only as far out as the floor lies, where the bullet falls.
    let steep = |yards: u32| both(&[&format!("{FLOOR}'{yards} yd'")], &leaning(29.0)).0;
    assert_eq!((steep(200), steep(1500)), (at(200.0, "a", &floor()), never("lean-over")));
}
