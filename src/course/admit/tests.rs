//! What a rule's words admit: its bounds, and the names of cartridges.

use super::super::tests::{read, refusal, shipped};
use super::*;

#[test]
fn a_power_factor_is_a_number_above_zero() {
    let reads = |value: &str| toml::from_str::<Ammunition>(&format!("power-factor-at-most = {value}")).is_ok();
    for value in ["125", "125.5", "\"125\"", "0.5"] {
        assert!(reads(value), "{value}");
    }
    for value in ["0", "-1", "-0.5", "\"0\"", "inf", "nan", "\"inf\"", "\"nan\"", "\"12x\"", "true"] {
        assert!(!reads(value), "{value}");
    }
}

#[test]
fn what_a_rule_limits_is_admitted_at_the_limit_itself() {
    let load = shipped("9mm-115");
    let factor = power_factor(&load);
    for rule in [format!("power-factor-at-most = {factor:?}"), format!("power-factor-at-least = {factor:?}")] {
        assert_eq!(refusal(&rule, &load), None, "{rule}");
    }
    let small = refusal("calibre-at-least = \"0.4 in\"", &load);
    assert!(small.as_ref().is_some_and(|why| why.contains("below 0.400 in")), "{small:?}");
    let (bullet, diameter) = (load.facts().bullet, load.facts().diameter.unwrap());
    let exact = Ammunition {
        bullet_at_most: Some(Text(bullet)),
        calibre_at_most: Some(Text(diameter)),
        calibre_at_least: Some(Text(diameter)),
        muzzle_velocity_at_most: Some(Text(load.facts().muzzle_velocity)),
        muzzle_velocity_at_least: Some(Text(load.facts().muzzle_velocity)),
        muzzle_energy_at_most: Some(Text(load.charge_energy(load.facts().muzzle_velocity))),
        ..Ammunition::default()
    };
    let hot = load.facts().muzzle_velocity;
    assert_eq!(Admission(vec![exact]).refusal(&load, hot, &Catalog::builtin().unwrap(), Units::Us), None);
}

#[test]
fn a_cartridge_is_admitted_or_refused_by_any_of_its_names() {
    let (match_load, other) = (shipped("308-168-match"), shipped("65cm-140"));
    for name in [".308 Win", " .308 WIN ", "308 Winchester", "308"] {
        let (only, none) = (format!("cartridges = [\"{name}\"]"), format!("cartridges-refused = [\"{name}\"]"));
        assert_eq!(refusal(&only, &match_load), None, "{name}");
        assert_eq!(refusal(&none, &other), None, "{name}");
        assert!(refusal(&only, &other).is_some_and(|why| why.contains("is not one of")), "{name}");
        assert!(refusal(&none, &match_load).is_some_and(|why| why.contains("is refused")), "{name}");
    }
    // A load of the match's own may spell it in another way than the list does.
    let own = "[[load]]\nid = \"club\"\nname = \"club load\"\ncartridge = \"308 Winchester\"\nfirearm = \"rifle\"\n\
        construction = \"jacketed-lead\"\nbullet = \"168 gr\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.23\"\n";
    let stage = "[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\nplate = \"1/2 in\"\nat = \"400 yd\"\n";
    for (rule, refused) in [("cartridges = [\".308 Win\"]", 0), ("cartridges-refused = [\".308 Win\"]", 1)] {
        let course = read(&format!("{own}[[ammunition]]\n{rule}\n{stage}")).unwrap();
        assert_eq!((course.refused.len(), course.loads.len()), (refused, 1 - refused), "{rule}");
    }
}

#[test]
fn what_is_refused_for_its_speed_as_listed_is_not_said_to_be_for_hot_powder() {
    let load = shipped("9mm-115");
    for rule in [
        "muzzle-velocity-at-most = \"1000 ft/s\"",
        "muzzle-energy-at-most = \"200 ft-lbf\"",
        "power-factor-at-most = 100",
    ] {
        let why = refusal(rule, &load).unwrap();
        assert!(!why.contains("powder"), "{why}");
    }
}

#[test]
fn one_shooter_one_round_and_any_distance_are_a_match_and_none_are_not() {
    let stage = "[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\nplate = \"3/8 in\"\nat = \"200 yd\"\n";
    let reads = |shooters: u32, rounds: u32| {
        read(&format!("loads = [\"308-168-match\"]\nshooters = {shooters}\nrounds = {rounds}\n{stage}")).is_ok()
    };
    // A target from no distance is told, and not judged.
    let near = read(&format!("loads = [\"308-168-match\"]\n{}", stage.replace("200 yd", "0 yd"))).unwrap();
    assert_eq!((near.targets.len(), near.unread.shown().len()), (0, 1));
    assert!(near.unread.shown()[0].message.contains("not above zero"), "{:?}", near.unread.shown());
    assert!(reads(1, 1));
    assert!(!reads(0, 1) && !reads(1, 0));
}
