//! The compiled rules, asked of strikes made up for them.

use super::*;
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::plate::{Duty, Face, Ladder};
use crate::quantity::{Energy, Length, Measure, Range, Velocity, unit};
use crate::spread::{FlightConditions, Flights};
use crate::strike::Strike;
use crate::words::Units;

static HOUSE: std::sync::LazyLock<RuleSet> = std::sync::LazyLock::new(|| RuleSet::house().unwrap());

fn shipped(id: &str) -> Load {
    Load::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
}

fn plate(inches: f64) -> Plate {
    let ladder = Ladder::builtin().unwrap();
    let is = |plate: &&Plate| (unit::INCH.value(plate.thickness) - inches).abs() < 1e-6;
    ladder.plates().iter().find(is).unwrap().clone()
}

fn leaning(face: Face) -> Setup {
    Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(face) }
}

fn round(inches: f64) -> Face {
    Face::round(unit::INCH.of(inches)).unwrap()
}

/// A day that adds nothing to a load's powder and takes nothing.
fn listed(load: &Load) -> Range<Velocity> {
    Range::single(load.facts().muzzle_velocity)
}

/// What arrives at a distance.
fn strike(load: &Load, yards: f64) -> Strike {
    let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
    Flights::new(load, &conditions).unwrap().strike(unit::YARD.of(yards)).unwrap()
}

/// The same with so much energy of the fast shot.
fn with_energy(load: &Load, strike: Strike, ft_lbf: f64) -> Strike {
    let energy: Energy = unit::FOOT_POUND.of(ft_lbf);
    Strike { fast: Velocity::from_si((2.0 * energy.si() / load.facts().bullet.si()).sqrt()), ..strike }
}

fn yards(yards: f64) -> Length {
    unit::YARD.of(yards)
}

#[test]
fn a_narrow_face_divides_energy_by_one_and_an_eighth_for_each_inch_that_it_lacks_of_six() {
    let load = shipped("9mm-124");
    for (width, factor) in [(3.0, 1.375), (4.0, 1.25), (5.9, 1.0125), (6.0, 1.0), (12.0, 1.0)] {
        let face = Face::rectangle(unit::INCH.of(width), unit::INCH.of(20.0)).unwrap();
        let (plate, setup) = (plate(0.375), leaning(face));
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        assert!((allowance.factors().all() - factor).abs() < 1e-9, "{width}");
        let just = |share: f64| {
            let found = allowance.findings(&with_energy(&load, strike(&load, 15.0), share * 2800.0 / factor));
            found.into_iter().find(|f| f.rule().id == "energy-cap").unwrap().verdict
        };
        assert_eq!((just(0.999), just(1.001)), (Verdict::Suits, Verdict::Borderline), "{width}");
    }
}

#[test]
fn a_magnet_is_asked_of_a_cartridge_that_often_comes_with_steel_and_of_no_other() {
    let warned = |common: bool| {
        let load = shipped("308-168-match").with(|f| f.steel_common = common).unwrap();
        let (plate, setup) = (plate(0.375), leaning(round(12.0)));
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        let arriving = strike(&load, 150.0);
        allowance.cautions(&arriving).any(|rule| rule.id == "steel-common")
    };
    assert!(warned(true) && !warned(false));
}

#[test]
fn what_is_over_through_duty_alone_says_so_and_nothing_else_does() {
    let load = shipped("308-168-match");
    let told = |duty: Duty, ft_lbf: f64| {
        let (plate, setup) = (plate(0.375), Setup { duty, ..leaning(round(12.0)) });
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        let found = allowance.findings(&with_energy(&load, strike(&load, 200.0), ft_lbf));
        let energy = found.into_iter().find(|f| f.rule().id == "energy-cap").unwrap();
        (energy.verdict, words::finding(&energy, Units::Us).contains("over through duty alone"))
    };
    // A 3/8 in plate takes 2,800 ft·lbf, 2,000 of them at a public range.
    assert_eq!(told(Duty::Public, 1990.0), (Verdict::Suits, false));
    assert_eq!(told(Duty::Public, 2010.0), (Verdict::Borderline, true));
    assert_eq!(told(Duty::Public, 2790.0), (Verdict::Borderline, true));
    assert_eq!(told(Duty::Public, 2810.0), (Verdict::Borderline, false));
    assert_eq!(told(Duty::Public, 3090.0), (Verdict::Unsuitable, false));
    assert_eq!(told(Duty::Private, 2810.0), (Verdict::Borderline, false));
}

#[test]
fn a_caution_for_near_shots_is_not_given_from_its_distance_on() {
    let load = shipped("308-168-match");
    let (plate, setup) = (plate(0.375), Setup::hung(round(12.0)));
    let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
    let warns = |at: f64| allowance.cautions(&strike(&load, at)).any(|rule| rule.id == "plates-facing");
    assert!(warns(49.9) && !warns(50.0) && !warns(300.0));
}

#[test]
fn the_slow_shot_is_flown_up_to_the_farthest_rule_or_caution_that_speaks_of_it() {
    let load = shipped("45acp-230");
    let (plate, setup) = (plate(0.375), leaning(round(12.0)));
    let house = HOUSE.allow(&load, &plate, &setup, listed(&load));
    assert!(house.asks_slow(yards(49.9)) && !house.asks_slow(yards(50.0)));
    let range = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n[[rule]]\nid = \"slow\"\n\
                 subject = \"slow-speed\"\nsense = \"caution\"\nbelow = \"1200 ft/s\"\nwithin = \"80 yd\"\nwhy = \"w\"\n";
    let rules = HOUSE.clone().with_overlay(&SourceText::new("range.toml", range)).unwrap();
    let range = rules.allow(&load, &plate, &setup, listed(&load));
    assert!(range.asks_slow(yards(79.9)) && !range.asks_slow(yards(80.0)));
    // A slow shot that is missing is never a yes.
    let none = Strike { slow: Velocity::from_si(0.0), ..strike(&load, 30.0) };
    assert_eq!(house.judge(&none).verdict, Verdict::Unsuitable);
}

#[test]
fn what_is_never_shot_at_steel_is_judged_so_at_every_distance() {
    let load = shipped("556-62-steel");
    let (plate, setup) = (plate(0.5), leaning(round(12.0)));
    for at in [120.0, 300.0, 600.0] {
        let judged = HOUSE.allow(&load, &plate, &setup, listed(&load)).judge(&strike(&load, at));
        assert_eq!((judged.verdict, judged.rule.map(|r| r.id.as_str())), (Verdict::Unsuitable, Some("never-on-steel")));
    }
}

#[test]
fn a_range_s_muzzle_energy_is_that_of_the_whole_charge_of_shot() {
    let load = shipped("12ga-buck-00");
    let (plate, setup) = (plate(0.5), leaning(round(12.0)));
    let one = unit::FOOT_POUND.value(load.muzzle_energy());
    let judged = |rule: &str| {
        let text = format!(
            "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"own\"\nwhy = \"x\"\nclass = [\"shot\"]\n{rule}"
        );
        let rules = HOUSE.clone().with_overlay(&SourceText::new("range.toml", text)).unwrap();
        rules.allow(&load, &plate, &setup, listed(&load)).judge(&strike(&load, 40.0)).verdict
    };
    let limit =
        |share: f64| format!("subject = \"muzzle-energy\"\nsense = \"at-most\"\nsuits = \"{} ft-lbf\"\n", share * one);
    let floor = |share: f64| {
        format!(
            "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"90 yd\"\nmuzzle-energy-above = \"{} ft-lbf\"\n",
            share * one
        )
    };
    let pellets = f64::from(load.facts().projectiles);
    for rule in [&limit as &dyn Fn(f64) -> String, &floor] {
        assert_eq!(
            (judged(&rule(1.5)), judged(&rule(1.01 * pellets))),
            (Verdict::Unsuitable, Verdict::Suits),
            "{}",
            rule(1.5)
        );
    }
}
