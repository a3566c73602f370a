use super::*;
use crate::load::Class;
use crate::quantity::{Measure, unit};

fn read(records: &str) -> Result<Catalog, Diagnostic> {
    let mut catalog = Catalog::default();
    catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{records}")), None)?;
    Ok(catalog)
}

const GOOD: &str = "[[load]]\nid = \"a\"\nfirearm = \"rifle\"\nconstruction = \"lead\"\nbullet = \"168 gr\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.223\"\n";

#[test]
fn every_shipped_load_has_a_source_a_cartridge_a_barrel_and_a_plain_name() {
    let catalog = Catalog::builtin().unwrap();
    assert!(catalog.entries().len() >= 45);
    for entry in catalog.entries() {
        let facts = entry.load.facts();
        assert!(!facts.source.is_empty() && !entry.basis.is_empty(), "{}", entry.load.id());
        assert!(facts.cartridge.is_some() && facts.barrel.is_some() && facts.diameter.is_some(), "{}", entry.load.id());
        assert!(
            entry.load.id().chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
            "{}",
            entry.load.id()
        );
        assert!(entry.assumed.is_empty(), "{}: {:?}", entry.load.id(), entry.assumed);
    }
}

#[test]
fn shipped_muzzle_energies_are_plausible_for_their_class() {
    for entry in Catalog::builtin().unwrap().entries() {
        let energy = unit::FOOT_POUND.value(entry.load.muzzle_energy());
        let plausible = match entry.load.class() {
            Class::RimfirePistol => 50.0..150.0,
            Class::RimfireRifle => 80.0..400.0,
            Class::Handgun => 150.0..2600.0,
            Class::PistolCarbine => 250.0..1800.0,
            Class::Shot => 3.0..250.0,
            Class::Slug => 1000.0..3000.0,
            Class::Rifle => 450.0..14_000.0,
        };
        assert!(plausible.contains(&energy), "{}: {energy}", entry.load.id());
    }
}

#[test]
fn every_class_and_each_kind_of_rifle_load_is_there() {
    let catalog = Catalog::builtin().unwrap();
    for class in
        [Class::RimfirePistol, Class::RimfireRifle, Class::Handgun, Class::PistolCarbine, Class::Shot, Class::Slug]
    {
        assert!(catalog.entries().iter().any(|e| e.load.class() == class), "{class}");
    }
    let rifle = |low: f64, high: f64| {
        catalog.entries().iter().any(|e| {
            e.load.class() == Class::Rifle && (low..high).contains(&unit::FOOT_POUND.value(e.load.muzzle_energy()))
        })
    };
    assert!(
        rifle(400.0, 600.0)
            && rifle(1200.0, 1800.0)
            && rifle(2400.0, 3000.0)
            && rifle(3100.0, 5500.0)
            && rifle(8000.0, 14_000.0)
    );
}

#[test]
fn a_user_s_load_overrides_one_that_is_there() {
    let mut catalog = Catalog::builtin().unwrap();
    let before = catalog.entries().len();
    let own = format!("schema = \"{SCHEMA}\"\n{}", GOOD.replace("\"a\"", "\"308-168-match\""));
    catalog.add(&SourceText::new("own.toml", own), None).unwrap();
    assert_eq!(catalog.entries().len(), before);
    assert_eq!(catalog.load("308-168-match").unwrap().load.facts().source, "given");
}

#[test]
fn a_fault_in_a_load_is_shown_at_its_line_with_the_fix() {
    for (from, to, line) in [
        ("\"168 gr\"", "\"168\"", 6),
        ("\"168 gr\"", "\"40 lb\"", 6),
        ("\"2650 ft/s\"", "\"0 ft/s\"", 7),
        ("\"0.223\"", "\"0.001\"", 9),
        ("bc = \"0.223\"", "bc = [{ above = \"1000 ft/s\", bc = 0.2 }]", 9),
        ("\"G7\"", "\"G9\"", 8),
        ("firearm = \"rifle\"", "firearm = \"cannon\"", 4),
        ("firearm = \"rifle\"", "projectiles = 9", 4),
    ] {
        let fault = read(&GOOD.replace(from, to)).unwrap_err();
        assert_eq!(fault.position().map(|p| p.0), Some(line), "{to}: {fault}");
    }
    assert!(read(&format!("{GOOD}{GOOD}")).unwrap_err().message.contains("twice"));
    assert!(read("").unwrap_err().message.contains("no load"));
    assert!(read(&GOOD.replace("drag = \"G7\"\n", "")).unwrap_err().help.unwrap().contains("G7"));
}

#[test]
fn a_cartridge_is_found_as_people_write_it_and_an_unclear_one_is_refused() {
    let catalog = Catalog::builtin().unwrap();
    let match_loads = catalog.family(".308 Win").unwrap().len();
    assert!(match_loads >= 4);
    assert_eq!(catalog.family("308win").unwrap().len(), match_loads);
    assert_eq!(catalog.family("308").unwrap().len(), match_loads);
    assert!(catalog.family("300").unwrap_err().help().contains(".300 Win Mag"));
    assert!(catalog.family("zebra").unwrap_err().help().contains("catalog loads"));
}

#[test]
fn a_printed_load_reads_back_equal() {
    let mut loads: Vec<Load> = Catalog::builtin().unwrap().entries().iter().map(|e| Load::clone(&e.load)).collect();
    let banded = GOOD.replace("bc = \"0.223\"", "bc = [{ above = \"2800 ft/s\", bc = 0.31 }, { above = \"0 ft/s\", bc = \"0.29\" }]\nvelocity-sd = \"11.3 ft/s\"\ntolerance-factor = 3.981\nmeasured-at = \"71.5 F\"\nbc-sd = \"1.1 %\"\nvelocity-temperature-slope = \"0.7 ft/s per F\"");
    loads.push(Load::clone(&read(&banded).unwrap().load("a").unwrap().load));
    for load in loads {
        let again = read(&render_load(&load, "given", None)).unwrap();
        let back = &again.load(load.id()).unwrap().load;
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-14 * a.abs();
        assert!(close(back.facts().bullet.si(), load.facts().bullet.si()), "{}", load.id());
        assert!(close(back.facts().muzzle_velocity.si(), load.facts().muzzle_velocity.si()));
        assert_eq!(render_load(back, "given", None), render_load(&load, "given", None));
        assert_eq!(back.facts().construction, load.facts().construction);
    }
}

#[test]
fn a_longer_barrel_is_faster_and_a_shorter_one_not_much_slower() {
    let catalog = Catalog::builtin().unwrap();
    let load = &catalog.load("308-168-match").unwrap().load;
    let speed = |inches: f64| {
        let (moved, told) = moved_to_barrel(load, unit::INCH.of(inches)).unwrap();
        assert!(told.contains("house assumption"));
        unit::FOOT_PER_SECOND.value(moved.facts().muzzle_velocity)
    };
    assert!(
        (speed(26.0) - 2710.0).abs() < 1e-9
            && (speed(16.0) - 2530.0).abs() < 1e-9
            && (speed(24.0) - 2650.0).abs() < 1e-9
    );
    assert!(moved_to_barrel(&read(GOOD).unwrap().load("a").unwrap().load, unit::INCH.of(20.0)).is_err());
}
