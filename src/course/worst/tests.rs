//! What stands for anything that the rules admit.

use super::super::tests::read;
use super::*;
use crate::catalog::Envelope;
use crate::course::Course;

const STAGE: &str = "[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\nplate = \"1/2 in\"\nat = \"30 yd\"\n";

fn anything(class: &str, rule: &str) -> Course {
    read(&format!("anything = [\"{class}\"]\n[[ammunition]]\n{rule}\n{STAGE}")).unwrap()
}

/// Loads that stand for something, by what their identity begins with.
fn called<'c>(course: &'c Course, id: &str) -> Vec<&'c Load> {
    let loads = course.loads.iter().map(|brought| &*brought.load);
    loads.filter(|load| load.id().starts_with(id)).collect()
}

fn slow(course: &Course) -> Vec<&Load> {
    course.slow.iter().map(|load| &*course.loads[*load].load).collect()
}

fn feet(load: &Load) -> f64 {
    unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity)
}

#[test]
fn the_slowest_that_is_admitted_leaves_at_the_least_that_the_rules_state() {
    let by_factor = anything("handgun", "power-factor-at-least = 125");
    let factors: Vec<f64> = slow(&by_factor).into_iter().map(crate::course::admit::power_factor).collect();
    assert!(factors.len() > 10 && factors.iter().all(|f| (f / 125.0 - 1.0).abs() < 1e-9), "{factors:?}");
    let by_speed = anything("handgun", "muzzle-velocity-at-least = \"700 ft/s\"");
    let speeds: Vec<f64> = slow(&by_speed).into_iter().map(feet).collect();
    assert!(speeds.len() > 10 && speeds.iter().all(|v| (v / 700.0 - 1.0).abs() < 1e-9), "{speeds:?}");
    let by_both = anything("handgun", "power-factor-at-least = 125\nmuzzle-velocity-at-least = \"700 ft/s\"");
    for load in slow(&by_both) {
        let factor = crate::course::admit::power_factor(load) / 125.0;
        let least = factor.min(feet(load) / 700.0);
        assert!((least - 1.0).abs() < 1e-9, "{} {least}", load.facts().name);
    }
}

#[test]
fn a_least_speed_that_only_handloads_reach_leaves_their_bullets_in() {
    let usual = Cartridge::builtin().unwrap().iter().find(|c| c.name() == "9 mm Luger").unwrap();
    let pistol = usual.envelopes().iter().find(|e| e.heaviest.class() == Class::Handgun).unwrap();
    let heaviest = &pistol.heaviest;
    let holds = |faster: f64| {
        let rule =
            format!("cartridges = [\"9 mm Luger\"]\nmuzzle-velocity-at-least = \"{} ft/s\"", feet(heaviest) * faster);
        let course = anything("handgun", &rule);
        slow(&course).iter().any(|load| load.facts().bullet == heaviest.facts().bullet)
    };
    assert!(holds(0.9) && holds(1.02) && !holds(1.04));
}

#[test]
fn an_extreme_keeps_its_own_bullet_unless_the_rules_refuse_it() {
    let constructions = |rule: &str, cartridge: &str| {
        let course = anything("rimfire-rifle", rule);
        let mut found: Vec<Construction> = called(&course, &format!("any-{cartridge}-"))
            .into_iter()
            .filter(|load| !load.id().contains("slow"))
            .map(|load| load.facts().construction)
            .collect();
        found.dedup();
        found
    };
    assert_eq!(constructions("", ".22-LR"), [Construction::Plated]);
    assert_eq!(constructions("", ".22-Short"), [Construction::Lead]);
    assert_eq!(constructions("refused = [\"plated\"]", ".22-LR"), [Construction::JacketedLead]);
    assert_eq!(constructions("refused = [\"plated\", \"jacketed-lead\"]", ".22-LR"), [Construction::Lead]);
}

#[test]
fn other_constructions_are_those_of_the_strongest_load_the_first_of_each_group_that_is_left() {
    let course = anything("rifle", "cartridges = [\".308 Win\", \".223 Rem\"]");
    let most = course.loads.iter().map(|brought| brought.load.muzzle_energy().si()).fold(0.0, f64::max);
    for construction in [Construction::SteelJacket, Construction::Monolithic, Construction::Unknown] {
        let found = called(&course, &format!("any-rifle-{construction}"));
        let [load] = found.as_slice() else { panic!("{construction}: {}", found.len()) };
        assert_eq!(load.facts().construction, construction);
        assert!((load.muzzle_energy().si() / most - 1.0).abs() < 1e-9, "{construction}");
    }
    let course = anything("rifle", "refused = [\"steel-jacket\"]");
    assert!(called(&course, "any-rifle-steel-jacket").is_empty());
    assert_eq!(called(&course, "any-rifle-steel-core").len(), 1);
}

#[test]
fn what_stands_for_shot_has_its_pellets_and_a_bullet_is_one() {
    let course = anything("shot", "");
    let shot = called(&course, "any-");
    assert!(!shot.is_empty() && shot.iter().all(|load| load.facts().projectiles > 1));
    let course = anything("rifle", "");
    assert!(called(&course, "any-").iter().all(|load| load.facts().projectiles == 1));
}

#[test]
fn extremes_that_the_rules_clip_to_the_same_stand_once() {
    let course = anything(
        "rifle",
        "cartridges = [\".308 Win\"]\nbullet-at-most = \"100 gr\"\nmuzzle-velocity-at-most = \"2000 ft/s\"",
    );
    assert_eq!(called(&course, "any-.308-Win-").len(), 1);
}

#[test]
fn the_fast_lose_as_little_on_their_way_as_their_cartridge_s_own_and_the_slow_more() {
    let course = anything("rifle", "muzzle-velocity-at-least = \"2000 ft/s\"");
    let bc = |load: &Load| load.facts().drag.bands()[0].bc.si();
    let extremes: Vec<f64> = Cartridge::builtin()
        .unwrap()
        .iter()
        .flat_map(|c| c.envelopes())
        .flat_map(Envelope::loads)
        .map(|load| bc(load))
        .collect();
    let is_one = |share: f64, load: &Load| extremes.iter().any(|own| (bc(load) / (own * share) - 1.0).abs() < 1e-9);
    let (slow, all) = (slow(&course), called(&course, "any-"));
    let fast: Vec<&Load> = all.into_iter().filter(|load| !load.id().contains("-slow-")).collect();
    assert!(fast.len() > 20 && fast.iter().all(|load| is_one(1.0, load)));
    assert!(slow.len() > 20 && slow.iter().all(|load| is_one(LOW_COEFFICIENT, load)));
}
