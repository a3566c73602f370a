use super::*;
use crate::drag::{Band, Drag, DragModel};
use crate::load::{Class, Construction, MuzzleSpread};
use crate::quantity::{BallisticCoefficient, Given, Length, Mass, Measure, Text, Velocity, unit};
use crate::words::Units;
use proptest::prelude::*;
use std::path::Path;

fn read(records: &str) -> Result<Catalog, Diagnostic> {
    let mut catalog = Catalog::default();
    catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{records}")), None)?;
    Ok(catalog)
}

const GOOD: &str = "[[load]]\nid = \"a\"\nfirearm = \"rifle\"\nconstruction = \"lead\"\nbullet = \"168 gr\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.223\"\n";

#[test]
fn every_shipped_load_has_a_source_a_cartridge_a_barrel_and_a_plain_name() {
    let catalog = Catalog::builtin().unwrap();
    assert!(catalog.entries().len() >= 140);
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
            Class::RimfirePistol => 50.0..200.0,
            Class::RimfireRifle => 30.0..450.0,
            Class::Handgun => 100.0..2600.0,
            Class::PistolCarbine => 250.0..1800.0,
            Class::Shot => 2.0..250.0,
            Class::Slug => 600.0..3500.0,
            Class::Rifle => 450.0..14_000.0,
            Class::MuzzleLoader => 900.0..2500.0,
            Class::AirGun => 3.0..120.0,
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
    assert_eq!(catalog.redefined(), ["308-168-match"]);
    assert_eq!(catalog.load("308-168-match").unwrap().load.facts().source, "given");
}

#[test]
fn a_load_that_takes_the_place_of_another_stands_there_and_both_stand_for_any_ammunition() {
    let mut catalog = Catalog::builtin().unwrap();
    let ids = |catalog: &Catalog| catalog.entries().iter().map(|e| e.load.id().to_owned()).collect::<Vec<_>>();
    let listed = |catalog: &Catalog| catalog.any(".308 Win").unwrap().listed.len();
    let (before, any) = (ids(&catalog), listed(&catalog));
    let own = GOOD.replace("\"a\"", "\"308-168-match\"\ncartridge = \"308 Winchester\"");
    let other = GOOD.replace("\"a\"", "\"mine\"\ncartridge = \"308win\"");
    catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{own}{other}")), None).unwrap();
    assert_eq!(ids(&catalog), [before.as_slice(), &["mine".to_owned()]].concat());
    let place = before.iter().position(|id| id == "308-168-match").unwrap();
    assert_eq!(catalog.entries()[place].load.facts().source, "given");
    assert_eq!(listed(&catalog), any + 2);
    // One of no cartridge is of none, and the listed one stands for it still.
    let mut catalog = Catalog::builtin().unwrap();
    let bare = GOOD.replace("\"a\"", "\"308-168-match\"");
    catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{bare}")), None).unwrap();
    assert_eq!(listed(&catalog), any);
}

#[test]
fn ammunition_of_a_cartridge_that_often_has_a_core_of_steel_is_marked_so_where_nobody_says_what_it_is() {
    let light = |own: &str| own.replace("168 gr", "120 gr");
    let is_marked = |own: &str| read(&light(own)).unwrap().load("a").unwrap().load.facts().steel_core_common;
    for (cartridge, core) in [("7.62x39", true), ("9x18", true), (".308 Win", false), ("zebra", false)] {
        let of = format!("cartridge = \"{cartridge}\"");
        assert_eq!(is_marked(&GOOD.replace("construction = \"lead\"", &of)), core, "{cartridge}");
        assert!(!is_marked(&format!("{GOOD}{of}\n")), "{cartridge}");
    }
}

#[test]
fn a_bullet_wider_than_a_hollow_ball_of_its_mass_is_refused_at_its_diameter() {
    for (diameter, taken) in [("0.308 in", true), ("0.8 in", false), ("7.82 mm", true), ("78.2 mm", false)] {
        let read = read(&GOOD.replace("drag =", &format!("diameter = \"{diameter}\"\ndrag =")));
        assert_eq!(
            read.as_ref().err().and_then(Diagnostic::position).map(|p| p.0),
            (!taken).then_some(8),
            "{diameter}"
        );
    }
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
        ("firearm = \"rifle\"", "velocity-sd = \"0 ft/s\"", 4),
        ("firearm = \"rifle\"", "bc-sd = \"0 %\"", 4),
        ("firearm = \"rifle\"\n", "velocity-sd = \"9 ft/s\"\ntolerance-factor = 0\n", 5),
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
    assert!(catalog.family("zebra").unwrap_err().help().contains("catalog cartridges"));
}

#[test]
fn a_fault_is_found_however_the_record_is_written() {
    let rest = "muzzle-velocity = \"900 m/s\"\ndrag = \"G1\"\nbc = 1\n";
    for (text, position) in [
        (
            r#"load = [{ id = "a", bullet = "40 lb", muzzle-velocity = "900 m/s", drag = "G1", bc = 1 }]"#.to_owned(),
            (2, 21),
        ),
        (format!("[[load]]\nid = \"a\"\n\"bullet\" = \"40 lb\"\n{rest}"), (4, 1)),
        (format!("[[load]]\nid = \"a\"\nname = \"\"\"\nbullet = 1\n\"\"\"\n  bullet = \"40 lb\"\n{rest}"), (7, 3)),
    ] {
        let fault = read(&text).unwrap_err();
        assert_eq!(fault.position(), Some(position), "{text}: {fault}");
        assert!(fault.help.is_some());
    }
    for id in ["", "  ", "a b", "a@100yd", "a\\n", "-a", "a\\u202eb", "a\\u200bb", "a\\u00a0b"] {
        let fault = read(&GOOD.replace("\"a\"", &format!("\"{id}\""))).unwrap_err();
        assert_eq!(fault.position().map(|p| p.0), Some(3), "{id}: {fault}");
    }
}

#[test]
fn a_file_with_a_fault_changes_nothing() {
    let mut catalog = Catalog::builtin().unwrap();
    let before = catalog.entries().len();
    let bad = GOOD.replace("\"a\"", "\"b\"").replace("168 gr", "40 lb");
    assert!(catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{GOOD}{bad}")), None).is_err());
    assert_eq!(catalog.entries().len(), before);
    assert!(catalog.load("a").is_err());
}

#[test]
fn a_file_of_too_many_loads_is_refused_at_the_first_beyond_the_limit() {
    let records =
        |count: usize| -> String { (0..count).map(|n| GOOD.replace("\"a\"", &format!("\"a{n}\""))).collect() };
    let fault = read(&records(MAX_LOADS + 1)).unwrap_err();
    assert_eq!(fault.position().map(|p| p.0), Some(2 + MAX_LOADS * GOOD.lines().count()), "{}", fault.message);
    assert_eq!(read(&records(MAX_LOADS)).unwrap().entries().len(), MAX_LOADS);
}

#[test]
fn an_empty_catalogue_says_so_and_a_small_one_lists_its_loads() {
    assert!(Catalog::default().load("a").unwrap_err().help().contains("none at all"));
    assert!(Catalog::default().family(".308 Win").unwrap_err().help().contains("--bullet"));
    let small = read(&format!("{GOOD}{}", GOOD.replace("\"a\"", "\"bcd\""))).unwrap();
    assert_eq!(small.load("bcx").unwrap_err().help(), "did you mean `bcd`? there are: a, bcd");
}

#[test]
fn a_family_holds_every_load_of_the_cartridge_however_its_file_spells_it() {
    let mut catalog = Catalog::builtin().unwrap();
    let shipped = catalog.family(".308 Win").unwrap().len();
    let hot = GOOD.replace("firearm", "cartridge = \"308 Winchester\"\nfirearm");
    catalog.add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{hot}")), None).unwrap();
    for asked in [".308 Win", "308win", "308", "308 Winchester", "308-168-match", "a"] {
        let family = catalog.family(asked).unwrap();
        assert_eq!(family.len(), shipped + 1, "{asked}");
        assert!(family.iter().any(|e| e.load.id() == "a"), "{asked}");
    }
    assert!(catalog.family(".308 Wim").unwrap_err().help().contains("did you mean `.308 Win`"));
    for unclear in ["", "  ", "30", "22", "."] {
        assert!(catalog.family(unclear).is_err(), "{unclear}");
    }
    for asked in [".45 ACP", "9x19", "7.62×39", "12ga", "30-06 Springfield", ".38 Spl"] {
        assert!(catalog.family(asked).is_ok(), "{asked}");
    }
}

#[test]
fn a_drag_table_is_looked_for_beside_the_file_that_names_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("own.toml");
    let table = "diameter = \"0.308 in\"\ndrag-table = \"own.csv\"";
    let own = GOOD.replace("drag = \"G7\"\nbc = \"0.223\"", table);
    std::fs::write(&path, format!("schema = \"{SCHEMA}\"\n{own}")).unwrap();
    let mut catalog = Catalog::default();
    let beside = Beside::file(&path);
    let written = || SourceText::read(&path).unwrap();
    let fault = catalog.add(&written(), Some(&beside)).unwrap_err();
    assert_eq!(fault.position().map(|p| p.0), Some(9), "{fault}");
    std::fs::write(folder.path().join("own.csv"), "mach,cd\n0,0.2\n1,0.4\n2,0.3\n").unwrap();
    catalog.add(&written(), Some(&beside)).unwrap();
    let load = &catalog.load("a").unwrap().load;
    assert_eq!(load.facts().drag.model(), DragModel::Own);
    let text = format!("schema = \"{SCHEMA}\"\n{}", render_load(load, "given", Some(Path::new("own.csv"))));
    let mut again = Catalog::default();
    again.add(&SourceText::new("again.toml", text), Some(&Beside::folder(folder.path()))).unwrap();
    assert_eq!(again.load("a").unwrap().load, *load);
    assert!(read(&render_load(load, "given", None)).unwrap_err().message.contains("`bc`"));
}

#[test]
fn every_shipped_load_and_awkward_texts_print_and_read_back_equal() {
    let mut loads: Vec<Load> = Catalog::builtin().unwrap().entries().iter().map(|e| Load::clone(&e.load)).collect();
    let awkward = read(GOOD).unwrap().load("a").unwrap().load.with(|facts| {
        facts.name = "a \"b\" \\ 'c'\n[[load]]\nid = \"d\"\t\u{7f}é".into();
        facts.source = "'''\n\"\"\"".into();
        (facts.cartridge, facts.cartridge_unlisted) = (Some(String::new()), true);
    });
    loads.push(awkward.unwrap());
    for load in loads {
        let again = read(&render_load(&load, "given", None)).unwrap();
        assert_eq!(*again.load(load.id()).unwrap().load, load);
    }
}

/// Whether a number is another one to nine digits.
fn close<Q: Measure>(a: Q, b: Q) -> bool {
    (a.si() - b.si()).abs() <= NINE_DIGITS * b.si().abs()
}

/// Nine digits of a number that begins with a one.
const NINE_DIGITS: f64 = 1.01e-8;
/// What converting there and back may miss by.
const CONVERTED: f64 = 1e-12;

/// Whether a number is another one to nine digits, and no less.
fn close_above<Q: Measure>(a: Q, b: Q) -> bool {
    close(a, b) && a.si() >= b.si() * (1.0 - CONVERTED)
}

fn muzzle_close(a: MuzzleSpread, b: MuzzleSpread) -> bool {
    match (a, b) {
        (MuzzleSpread::Bound { sd: a, factor: f, .. }, MuzzleSpread::Bound { sd: b, factor: g, .. }) => {
            close_above(a, b) && (f / g - 1.0).abs() <= NINE_DIGITS && f >= g * (1.0 - CONVERTED)
        }
        (MuzzleSpread::Sd(a), MuzzleSpread::Sd(b)) => close_above(a, b),
        (a, b) => a == b,
    }
}

fn si<Q: Measure + std::fmt::Debug>(range: std::ops::Range<f64>) -> impl Strategy<Value = Q> {
    range.prop_map(Q::from_si)
}

fn spreads() -> impl Strategy<Value = crate::load::Spread> {
    let muzzle = prop_oneof![
        Just(MuzzleSpread::Assumed),
        si::<Velocity>(0.04..150.0).prop_map(MuzzleSpread::Sd),
        (si::<Velocity>(0.04..150.0), 1.0..50.0).prop_map(|(sd, factor)| MuzzleSpread::Bound {
            sd,
            factor,
            string: None
        }),
    ];
    let bc_sd = proptest::option::of(si(0.002..0.2));
    let temperature_slope = proptest::option::of(si(0.0..5.0));
    let measured_at = proptest::option::of(si(215.0..335.0));
    (muzzle, bc_sd, temperature_slope, measured_at).prop_map(|(muzzle, bc_sd, temperature_slope, measured_at)| {
        crate::load::Spread { muzzle, bc_sd, temperature_slope, measured_at, ..crate::load::Spread::default() }
    })
}

proptest! {
    #[test]
    fn any_load_prints_and_reads_back_to_nine_digits_never_to_the_side_that_flatters(
        density in 40.0..400.0_f64,
        muzzle_velocity in si(35.0..1600.0),
        diameter in si::<Length>(0.0045..0.0127),
        barrel in si(0.03..1.2),
        coefficients in proptest::collection::vec((0.9..1.0, 0.7..3.0_f64), 1..12),
        spread in spreads(),
    ) {
        // A bullet of a density, and coefficients of form factors, that there are.
        let bullet = Mass::from_si(density * diameter.si() * diameter.si());
        let band = |(n, &(part, form)): (usize, &(f64, f64))| {
            Band { above: Velocity::from_si(100.0 * part * n as f64), bc: BallisticCoefficient::from_si(density / form) }
        };
        let bands = coefficients.iter().enumerate().map(band);
        let drag = Drag::banded(DragModel::G7, bands.collect()).unwrap();
        let load = read(GOOD).unwrap().load("a").unwrap().load.with(|facts| {
            (facts.bullet, facts.muzzle_velocity) = (bullet, muzzle_velocity);
            (facts.diameter, facts.barrel) = (Some(diameter), Some(barrel));
            (facts.drag, facts.spread) = (drag, spread);
            facts.name = "subsonic, or not".into();
        }).unwrap();
        let text = render_load(&load, "given", None);
        let again = read(&text).unwrap();
        let (back, facts) = (again.load("a").unwrap().load.facts(), load.facts());
        prop_assert!(close_above(back.bullet, bullet) && close_above(back.muzzle_velocity, muzzle_velocity), "{text}");
        prop_assert!(close(back.diameter.unwrap(), diameter) && close(back.barrel.unwrap(), barrel), "{text}");
        let (a, b) = (back.spread, spread);
        prop_assert_eq!(a.bc_sd.is_some(), b.bc_sd.is_some());
        prop_assert_eq!(a.temperature_slope.is_some(), b.temperature_slope.is_some());
        prop_assert_eq!(a.measured_at.is_some(), b.measured_at.is_some());
        prop_assert!(a.bc_sd.zip(b.bc_sd).is_none_or(|(a, b)| close_above(a, b)), "{text}");
        prop_assert!(a.temperature_slope.zip(b.temperature_slope).is_none_or(|(a, b)| close_above(a, b)), "{text}");
        prop_assert!(a.measured_at.zip(b.measured_at).is_none_or(|(a, b)| close(a, b) && a.si() <= b.si() * (1.0 + CONVERTED)), "{text}");
        let digits = |word: &str| word.chars().filter(char::is_ascii_digit).collect::<String>().trim_start_matches('0').len();
        let numbers = text.split([' ', '"', '\n']).filter(|word| word.parse::<f64>().is_ok());
        prop_assert!(numbers.map(digits).all(|digits| digits <= 9), "{text}");
        prop_assert!(muzzle_close(a.muzzle, b.muzzle), "{text}");
        prop_assert_eq!(back.drag.bands().len(), coefficients.len());
        for (a, b) in back.drag.bands().iter().zip(facts.drag.bands()) {
            prop_assert!(close(a.above, b.above) && close_above(a.bc, b.bc), "{text}");
        }
    }
}

fn named(id: &str) -> Arc<Load> {
    Arc::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
}

fn coefficient(bc: f64) -> Coefficients {
    Coefficients::Single(unit::POUND_PER_SQUARE_INCH.of(bc))
}

fn fault(built: Result<Built, BuildError>) -> DescriptionError {
    match built {
        Err(BuildError::Description(error)) => error,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_description_names_what_it_lacks_and_says_what_it_assumes() {
    let mut described = Described::default();
    let option = |described: &Described| fault(described.build("a", None)).key;
    assert_eq!(option(&described), "bullet");
    described.bullet = Some(Text(unit::GRAIN.of(168.0)));
    assert_eq!(option(&described), "muzzle-velocity");
    described.muzzle_velocity = Some(Given::of(2650.0, &unit::FOOT_PER_SECOND));
    assert_eq!(option(&described), "bc");
    described.bc = Some(coefficient(0.223));
    assert_eq!(option(&described), "drag");
    described.drag = Some(Model(DragModel::G7));
    let built = described.build("a", None).unwrap();
    assert_eq!((built.load.class(), built.load.facts().construction), (Class::Rifle, Construction::Unknown));
    assert_eq!(built.assumed.len(), 2);
}

#[test]
fn ammunition_that_commonly_has_steel_in_it_is_never_shipped_as_lead() {
    for id in ["556-62-steel", "762x39-123", "545x39-53", "762x54r-148", "50bmg-647", "50bmg-api", "3006-ap"] {
        let judged = named(id).judged_construction();
        assert!(matches!(judged, Construction::SteelCore | Construction::ArmourPiercing), "{id}: {judged}");
    }
}

#[test]
fn a_text_from_a_stranger_opens_no_file_and_a_resolver_is_asked_by_name() {
    let own = GOOD.replace("drag = \"G7\"\nbc = \"0.223\"", "diameter = \"0.308 in\"\ndrag-table = \"own.csv\"");
    let source = SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{own}"));
    for path in ["own.csv", "/dev/zero", "../Cargo.toml"] {
        let text = source.text.replace("own.csv", path);
        let fault = Catalog::default().add(&SourceText::new("own.toml", text), None).unwrap_err();
        assert!(fault.message.contains(path) && fault.help.unwrap().contains("coefficient"), "{path}");
    }
    let table = |name: &str| match name {
        "own.csv" => Ok(SourceText::new(name, "mach,cd\n0,0.2\n1,0.4\n2,0.3\n")),
        _ => Err(Diagnostic::plain(format!("no {name}"))),
    };
    let mut catalog = Catalog::default();
    assert_eq!(catalog.add(&source, Some(&table)).unwrap(), Vec::<String>::new());
    assert_eq!(catalog.load("a").unwrap().load.facts().drag.model(), DragModel::Own);
    assert_eq!(catalog.add(&source, Some(&table)).unwrap(), ["a"]);
}

#[test]
fn a_chronographed_load_keeps_no_barrel_that_was_not_given() {
    let load = named("9mm-115");
    let (moved, _) = moved_to_barrel(&load, unit::INCH.of(10.0)).unwrap();
    let spread = MuzzleSpread::Bound { sd: unit::FOOT_PER_SECOND.of(9.0), factor: 3.0, string: None };
    let mean = unit::FOOT_PER_SECOND.of(1111.0);
    for barrel in [None, Some(unit::INCH.of(4.5))] {
        let facts = measured(&moved, mean, spread, 7, barrel, Units::Us).unwrap().facts().clone();
        assert_eq!((facts.muzzle_velocity, facts.barrel, facts.spread.muzzle), (mean, barrel, spread));
        assert!(facts.spread.slow_margin.si() == 0.0 && facts.source.contains("7 readings"));
    }
}

#[test]
fn a_rifle_s_sleek_bullet_slower_than_sound_is_meant_where_it_is_called_so_or_may_be_one() {
    let with = |name: &str, velocity: &str, bullet: &str, bc: &str| {
        let text = GOOD.replace("bc = \"0.223\"", &format!("bc = \"{bc}\"\nname = \"{name}\""));
        let line = text.lines().find(|line| line.starts_with("muzzle-velocity")).unwrap().to_owned();
        let text = text.replace(&line, &format!("muzzle-velocity = \"{velocity}\""));
        read(&text.replace("168 gr", bullet)).map(|read| read.load("a").unwrap().assumed.clone())
    };
    for (velocity, bullet, bc) in
        [("905 ft/s", "168 gr", "0.223"), ("905fps", "168 gr", "0.223"), ("990 ft/s", "62 gr", "0.15")]
    {
        let fault = with("hunting", velocity, bullet, bc).unwrap_err();
        assert!(fault.message.contains("m/s?") && fault.help.unwrap().contains("subsonic"), "{velocity} {bullet}");
    }
    // Written in metres, or called so, it is meant.
    for (name, velocity, bullet, bc) in [
        ("hunting", "905 m/s", "168 gr", "0.223"),
        ("hunting", "315 m/s", "168 gr", "0.223"),
        ("hunting", "300 mps", "62 gr", "0.15"),
        ("Subsonic hunting", "905 ft/s", "168 gr", "0.223"),
        ("hunting", "1250 ft/s", "168 gr", "0.223"),
    ] {
        assert_eq!(with(name, velocity, bullet, bc).unwrap(), Vec::<String>::new(), "{name} {velocity}");
    }
    // What a subsonic load has, and what no rifle's bullet has in metres, is taken and told.
    for (velocity, bullet, bc, told) in [
        ("1034 ft/s", "168 gr", "0.223", "1034 ft/s as written, not 1034 m/s"),
        ("1100 ft/s", "62 gr", "0.15", "1100 ft/s as written, not 1100 m/s"),
        ("905 ft/s", "168 gr", "0.12", "905 ft/s as written, not 905 m/s"),
    ] {
        assert_eq!(with("hunting", velocity, bullet, bc).unwrap(), [told], "{velocity}");
    }
}

#[test]
fn a_drag_table_that_no_bullet_has_is_refused() {
    let own = GOOD.replace("drag = \"G7\"\nbc = \"0.223\"", "diameter = \"0.308 in\"\ndrag-table = \"own.csv\"");
    let with = |table: &str| {
        let resolver = |name: &str| Ok(SourceText::new(name, table));
        Catalog::default().add(&SourceText::new("own.toml", format!("schema = \"{SCHEMA}\"\n{own}")), Some(&resolver))
    };
    for table in ["mach,cd\n0,2.4\n1,2.4\n4,2.4\n", "mach,cd\n0,0.02\n1,0.04\n4,0.03\n"] {
        let fault = with(table).unwrap_err();
        assert!(fault.message.contains("drag of G1"), "{}", fault.message);
    }
    assert!(with("mach,cd\n0,0.23\n0.5,0.2\n1.0,0.35\n2.0,0.3\n4.0,0.25\n").is_ok());
}

#[test]
fn a_text_names_a_cartridge_in_full_or_none() {
    let named = |text: &str| Cartridge::named_in(text).iter().map(|c| c.name().to_owned()).collect::<Vec<_>>();
    for (text, cartridge) in [
        ("Profile Name: 308 Win 150gr", ".308 Win"),
        ("Notes: .300 Win Mag 190 gr", ".300 Win Mag"),
        ("300WM handload", ".300 Win Mag"),
        ("Profile: 223 Rem 55", ".223 Rem"),
        ("30-06 Springfield, cold", ".30-06"),
        (".223", ".223 Rem"),
        ("Load: 30-06", ".30-06"),
        ("brings .30-06", ".30-06"),
        ("30-06-180gr", ".30-06"),
        ("second rifle 6.5\u{2013}284", "6.5-284"),
        ("45-70 in a case", ".45-70 Govt"),
        ("spare rifle 223", ".223 Rem"),
        ("rifle: in 270", ".270 Win"),
        ("Ammo: 223 55 FMJ", ".223 Rem"),
        ("brings 9 mm", "9 mm Luger"),
        ("also .223", ".223 Rem"),
        ("40 cal", ".40 S&W"),
        ("7.62×39", "7.62 x 39 mm"),
        ("pistol 12 g", "12 gauge"),
    ] {
        assert_eq!(named(text), [cartridge], "{text}");
    }
    for text in [
        "Date: 30-06-2026",
        "Date: 30-06",
        "Session 25-06, cold",
        "22 rounds",
        "group of 10 mm",
        "group 6 cm",
        "trigger 22 s",
        "308",
        "bib 300",
        "BC .223 G7",
        "jump .270 in",
        "2 May",
        "45-70 F",
        "22-250 yd",
        "score 30-30",
        "shots 7-08",
        "5-10 shots",
        "10-22",
        "COAL 2.80",
        "rifle 2.80",
        "load 12",
        "lot 223",
        "load 12 g of powder",
        "30 cal 177 gr",
        "",
    ] {
        assert!(named(text).is_empty(), "{text}: {:?}", named(text));
    }
}

#[test]
fn every_listed_name_is_heard_as_a_load_s_and_as_what_somebody_brings() {
    // These are numbers of loads, and letters, as well.
    let quiet = ["12", "16", "20", "40", "bb"];
    for cartridge in Cartridge::builtin().unwrap() {
        for name in std::iter::once(cartridge.name()).chain(cartridge.aliases().iter().map(String::as_str)) {
            for text in [format!("Load: {name}"), format!("brings {name}"), format!("spare rifle in {name}")] {
                let named = Cartridge::named_in(&text);
                let is_heard = named.iter().any(|named| named.name() == cartridge.name());
                assert_eq!(is_heard, !quiet.contains(&name), "{text}: {named:?}");
            }
        }
    }
}
