//! Tests of the shipped cartridges and loads.

use super::cartridge::shipped;
use super::*;
use crate::load::{Class, Construction, Firearm};
use crate::quantity::{Measure, unit};
use std::collections::{BTreeSet, HashMap};

fn leads(name: &str) -> String {
    match Catalog::builtin().unwrap().cartridge(name) {
        Ok(cartridge) => cartridge.name().to_owned(),
        Err(error) => error.help().to_owned(),
    }
}

/// What a clerk at a counter takes the words for: common practice, no source.
#[test]
fn names_lead_where_a_counter_expects() {
    for (asked, cartridge) in [
        ("308", ".308 Win"),
        (".308", ".308 Win"),
        ("308 Winchester", ".308 Win"),
        ("308win", ".308 Win"),
        (".308 ammo", ".308 Win"),
        ("7.62x51", "7.62 x 51 mm"),
        ("7.62×51 NATO", "7.62 x 51 mm"),
        ("9mm", "9 mm Luger"),
        ("9 MM", "9 mm Luger"),
        ("9x19", "9 mm Luger"),
        ("45 acp", ".45 Auto"),
        (".45 Automatic", ".45 Auto"),
        ("45 long colt", ".45 Colt"),
        ("45-70", ".45-70 Govt"),
        ("45-70 Government", ".45-70 Govt"),
        ("30-06", ".30-06"),
        ("30-06 Springfield", ".30-06"),
        ("3006", ".30-06"),
        ("30-30", ".30-30 Win"),
        ("300 win mag", ".300 Win Mag"),
        ("300 Winchester Magnum", ".300 Win Mag"),
        ("300 winchester short magnum", ".300 WSM"),
        ("300 blackout", ".300 Blackout"),
        ("22 long rifle", ".22 LR"),
        ("22lr", ".22 LR"),
        ("22 mag", ".22 WMR"),
        ("22-250", ".22-250 Rem"),
        ("223", ".223 Rem"),
        ("5.56", "5.56 mm"),
        ("556 nato", "5.56 mm"),
        ("6.5 Creedmoor", "6.5 Creedmoor"),
        ("6.5 CM", "6.5 Creedmoor"),
        ("65 creedmoor", "6.5 Creedmoor"),
        ("7.62x39", "7.62 x 39 mm"),
        ("7.62x54r", "7.62 x 54R"),
        ("8mm Mauser", "8 x 57 mm"),
        ("40", ".40 S&W"),
        (".40 Smith & Wesson", ".40 S&W"),
        ("380", ".380 Auto"),
        ("357 mag", ".357 Magnum"),
        ("44 magnum", ".44 Magnum"),
        ("338 Lapua", ".338 Lapua Magnum"),
        ("50 bmg", ".50 BMG"),
        ("12 ga", "12 gauge"),
        ("12 bore", "12 gauge"),
        ("410", ".410 bore"),
        ("243", ".243 Win"),
        ("270 win", ".270 Win"),
        ("308", ".308 Win"),
        ("9mm", "9 mm Luger"),
        ("45 acp", ".45 Auto"),
        ("10mm", "10 mm Auto"),
        ("300 wm", ".300 Win Mag"),
        ("7 rem mag", "7 mm Rem Mag"),
        ("5.45", "5.45 x 39 mm"),
        ("12", "12 gauge"),
        ("500 magnum", ".500 S&W Magnum"),
        ("30.06", ".30-06"),
        ("50 muzzleloader", ".50 muzzle-loader"),
        ("308-168-match", ".308 Win"),
    ] {
        assert_eq!(leads(asked), cartridge, "{asked}");
    }
}

#[test]
fn what_could_be_several_is_a_choice() {
    for (asked, choices) in [
        ("22", &[".22 LR", ".22 WMR", ".22-250 Rem"][..]),
        ("45", &[".45 Auto", ".45 Colt", ".45-70 Govt"]),
        ("30", &[".30-06", ".30-30 Win", ".30 Carbine"]),
        ("300", &[".300 Win Mag", ".300 Blackout", ".300 PRC"]),
        ("38", &[".38 Special", ".38 Super"]),
        ("357", &[".357 Magnum", ".357 SIG"]),
        ("44", &[".44 Magnum", ".44 Special"]),
        ("50", &[".50 BMG", ".50 AE"]),
        ("7.62", &["7.62 x 39 mm", "7.62 x 51 mm"]),
        ("6.5", &["6.5 Creedmoor", "6.5 PRC"]),
        ("338", &[".338 Lapua Magnum", ".338 Win Mag"]),
        ("17 mag", &[".17 HMR", ".17 WSM"]),
        (".20 cal", &["20 gauge", ".204 Ruger"]),
        ("270", &[".270 Win", ".270 WSM"]),
        ("280", &[".280 Rem", ".280 Ackley Improved"]),
        ("7mm mag", &["7 mm Rem Mag", "7 mm STW", "7 mm PRC", "7 mm WSM"]),
        ("7 Magnum", &["7 mm Rem Mag", ".28 Nosler"]),
        ("32 mag", &[".32 H&R Magnum", ".327 Magnum"]),
        ("460 mag", &[".460 S&W Magnum"]),
        ("300 mag", &[".300 Win Mag", ".300 WSM", ".300 PRC"]),
        ("12.7", &[".50 BMG", ".50 Beowulf"]),
        ("AR-15", &["5.56 mm", ".223 Rem", ".458 SOCOM"]),
        ("M855", &["5.56 mm"]),
        ("shotgun", &["12 gauge", "20 gauge"]),
        ("12 gauge slug", &["12 gauge"]),
        ("my deer rifle", &[".30-06", ".308 Win"]),
        ("308 match ammo", &[".308 Win"]),
    ] {
        let help = leads(asked);
        assert!(help.starts_with("it could be ") && choices.iter().all(|c| help.contains(c)), "{asked}: {help}");
    }
    assert!(!leads("30").contains(".300") && !leads("22").contains(".223"));
    assert!(leads(".308 Wim").contains("did you mean `.308 Win`"));
}

#[test]
fn a_dot_is_not_dropped_from_a_calibre() {
    for asked in ["4.6", "4.1", "2.60", "3.08", "4.0", "2.23 rem", "46", "45 mm", "57 mm"] {
        let help = leads(asked);
        assert!(!Cartridge::builtin().unwrap().iter().any(|c| c.name() == help), "{asked}: {help}");
    }
}

/// The number that a name begins with: `7`, `6.5`, `300`.
fn number(name: &str) -> &str {
    let name = name.trim_start_matches('.');
    &name[..name.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(name.len())]
}

#[test]
fn a_short_name_is_taken_for_no_cartridge_that_a_hotter_one_shares_it_with() {
    let catalog = Catalog::builtin().unwrap();
    let all = Cartridge::builtin().unwrap();
    let strongest = |cartridge: &Cartridge| {
        let loads = cartridge.envelope_loads();
        let energies = loads.iter().map(|load| load.facts().bullet.si() * load.facts().muzzle_velocity.si().powi(2));
        energies.fold(0.0, f64::max)
    };
    let energies: HashMap<&str, f64> = all.iter().map(|cartridge| (cartridge.name(), strongest(cartridge))).collect();
    let energy = |cartridge: &Cartridge| energies[cartridge.name()];
    let mut taken = Vec::new();
    let numbers: BTreeSet<&str> = all.iter().map(|cartridge| number(cartridge.name())).collect();
    for number_of in numbers {
        for unit in ["", " mm", " mag", " mm magnum", "mm", "mag"] {
            let asked = format!("{number_of}{unit}");
            let Ok(found) = catalog.cartridge(&asked) else { continue };
            for other in all.iter().filter(|c| number(c.name()) == number_of) {
                let unit = unit.trim();
                let has_unit = unit != "mag" || other.names().any(|name| name.to_lowercase().contains("mag"));
                let has_unit = has_unit && (unit != "mm" || other.name().contains("mm"));
                assert!(!has_unit || energy(other) <= energy(&found), "{asked}: {} and {}", found.name(), other.name());
            }
            taken.push(asked);
        }
    }
    for everyday in ["308", "223", "243", "260", "264", "303", "40", "380", "327", "410", "5.56 mm", "10 mm", "9 mm"] {
        assert!(taken.iter().any(|asked| asked == everyday), "{everyday}");
    }
}

#[test]
fn chambers_that_merely_accept_one_another_stay_apart() {
    for (one, other) in [
        ("223 Remington", "5.56x45"),
        ("308", "7.62 nato"),
        (".300 Win Mag", ".300 Blackout"),
        (".38 Special", ".357 Magnum"),
        ("44 special", "44 mag"),
        ("45 colt", "45 acp"),
        ("22 short", "22 lr"),
        ("280 rem", "280 ackley"),
    ] {
        assert_ne!(leads(one), leads(other), "{one} and {other}");
    }
}

/// Aliases that others share: of a load's cartridge they are taken for the usual one, and of any ammunition asked back.
const ASKED_BACK: [&str; 6] = ["20", "32 mag", "270", "280", "7 mag", "7 mm mag"];

#[test]
fn every_name_and_alias_leads_to_its_own_cartridge_alone() {
    let catalog = Catalog::builtin().unwrap();
    for cartridge in Cartridge::builtin().unwrap() {
        for name in cartridge.names().filter(|name| !ASKED_BACK.contains(name)) {
            for spelled in [name.to_owned(), name.to_uppercase(), name.replace(' ', "-")] {
                assert_eq!(catalog.cartridge(&spelled).unwrap().name(), cartridge.name(), "{spelled}");
            }
        }
    }
}

#[test]
fn every_shipped_cartridge_has_a_source_and_extremes_of_which_each_is_one() {
    for cartridge in Cartridge::builtin().unwrap() {
        let name = cartridge.name();
        assert!(!cartridge.basis().is_empty() && !cartridge.source().is_empty() && cartridge.calibre().is_some());
        assert!(!cartridge.envelopes().is_empty(), "{name}");
        for envelope in cartridge.envelopes() {
            let most =
                |value: &dyn Fn(&Load) -> f64| envelope.loads().map(|l| value(l)).into_iter().fold(0.0, f64::max);
            let velocity = |l: &Load| l.facts().muzzle_velocity.si();
            let mass = |l: &Load| l.facts().bullet.si();
            let energy = |l: &Load| l.muzzle_energy().si();
            assert!(velocity(&envelope.fastest) >= most(&velocity), "{name}");
            assert!(mass(&envelope.heaviest) >= most(&mass), "{name}");
            assert!(energy(&envelope.strongest) >= most(&energy), "{name}");
            for load in envelope.loads() {
                assert_eq!(load.facts().firearm, envelope.firearm);
                assert_eq!(load.facts().steel_common, cartridge.is_steel_common());
                assert!(load.facts().barrel.is_some() && load.facts().diameter.is_some(), "{}", load.id());
                let fps = unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity);
                assert!(
                    (700.0..4600.0).contains(&fps) && ((fps / 10.0).round() * 10.0 - fps).abs() < 1e-6,
                    "{}: {fps}",
                    load.id()
                );
            }
        }
    }
    let luger = Catalog::builtin().unwrap().cartridge("9mm").unwrap();
    let heaviest = &luger.envelopes()[1].heaviest;
    assert_eq!(heaviest.facts().name, "heaviest usual 9 mm Luger, carbine");
    assert_eq!(heaviest.id(), "heaviest-usual-9-mm-luger-carbine");
}

/// Pellets of steel are left out: no plate takes them at any speed, and they leave faster than lead.
#[test]
fn the_same_ammunition_is_quicker_and_stronger_from_a_longer_barrel() {
    let barrel = |envelope: &Envelope| envelope.fastest.facts().barrel.map(Measure::si);
    for cartridge in Cartridge::builtin().unwrap() {
        let envelopes = cartridge.envelopes();
        let pairs = envelopes.iter().flat_map(|short| envelopes.iter().map(move |long| (short, long)));
        let longer = |(short, long): &(&Envelope, &Envelope)| {
            let alike = short.fastest.facts().construction == long.fastest.facts().construction;
            alike && barrel(long) > barrel(short)
        };
        for (short, long) in pairs.filter(longer) {
            let quicker = long.fastest.facts().muzzle_velocity > short.fastest.facts().muzzle_velocity;
            let stronger = long.strongest.muzzle_energy() > short.strongest.muzzle_energy();
            assert!(quicker && stronger, "{}", cartridge.name());
        }
    }
}

#[test]
fn every_listed_load_lies_within_its_cartridge_s_extremes() {
    for entry in Catalog::builtin().unwrap().entries() {
        let (load, facts) = (&entry.load, entry.load.facts());
        let cartridge = Cartridge::of(load).unwrap_or_else(|| panic!("{}: {:?}", load.id(), facts.cartridge));
        assert_eq!(facts.cartridge.as_deref(), Some(cartridge.name()), "{}", load.id());
        assert_eq!(facts.steel_common, cartridge.is_steel_common(), "{}", load.id());
        if facts.construction == Construction::SteelShot {
            continue;
        }
        let like = |l: &&std::sync::Arc<Load>| {
            l.facts().firearm == facts.firearm && (l.class() == Class::Shot) == (load.class() == Class::Shot)
        };
        let extremes: Vec<_> = cartridge.envelopes().iter().flat_map(Envelope::loads).filter(like).collect();
        let most = |value: &dyn Fn(&Load) -> f64| extremes.iter().map(|l| value(l)).fold(0.0, f64::max);
        assert!(facts.muzzle_velocity.si() <= most(&|l| l.facts().muzzle_velocity.si()), "{}: velocity", load.id());
        assert!(facts.bullet.si() <= most(&|l| l.facts().bullet.si()), "{}: mass", load.id());
        assert!(load.muzzle_energy().si() <= most(&|l| l.muzzle_energy().si()), "{}: energy", load.id());
    }
}

#[test]
fn shipped_loads_are_rounded_to_the_strict_side_and_none_is_called_published() {
    for entry in Catalog::builtin().unwrap().entries() {
        let facts = entry.load.facts();
        let fps = unit::FOOT_PER_SECOND.value(facts.muzzle_velocity);
        assert!((fps / 10.0 - (fps / 10.0).round()).abs() < 1e-9, "{}: {fps}", entry.load.id());
        for band in facts.drag.bands() {
            let bc = unit::POUND_PER_SQUARE_INCH.value(band.bc);
            let digit = 10f64.powf(bc.log10().floor() - 1.0);
            assert!((bc / digit - (bc / digit).round()).abs() < 1e-6, "{}: {bc}", entry.load.id());
        }
        assert_eq!(entry.basis, "from memory", "{}", entry.load.id());
    }
}

#[test]
fn any_ammunition_is_what_is_listed_and_the_extremes() {
    let mut catalog = Catalog::builtin().unwrap();
    let any = catalog.any("308 winchester").unwrap();
    assert_eq!((any.cartridge.name(), any.envelope.len(), any.has_envelope), (".308 Win", 3, true));
    assert!(any.listed.len() >= 6 && any.listed.iter().any(|e| e.load.id() == "308-168-match"));
    assert!(catalog.any("257 roberts").unwrap().listed.is_empty(), "a cartridge may have extremes alone");
    assert!(catalog.family("257 roberts").is_err());
    let own = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\ncartridge = \"6.66 Example\"\nfirearm = \"rifle\"\n\
               bullet = \"99 gr\"\nmuzzle-velocity = \"2000 ft/s\"\ndrag = \"G1\"\nbc = \"0.3\"\n\
               [[load]]\nid = \"own-9\"\ncartridge = \"9x19\"\nfirearm = \"handgun\"\n\
               bullet = \"99 gr\"\nmuzzle-velocity = \"1000 ft/s\"\ndrag = \"G1\"\nbc = \"0.1\"\n";
    catalog.add(&SourceText::new("own.toml", own), None).unwrap();
    for asked in ["6.66 Example", "666example", "6.66", "own"] {
        let any = catalog.any(asked).unwrap();
        assert_eq!((any.cartridge.name(), any.listed.len(), any.has_envelope), ("6.66 Example", 1, false), "{asked}");
        assert!(any.envelope.is_empty());
    }
    assert!(catalog.any("9mm").unwrap().listed.iter().any(|e| e.load.id() == "own-9"));
    assert!(catalog.load("own-9").unwrap().load.facts().steel_common, "known of the cartridge");
    assert!(!catalog.load("own").unwrap().load.facts().steel_common);
}

#[test]
fn a_search_finds_what_is_typed_the_likeliest_first() {
    let catalog = Catalog::builtin().unwrap();
    let first = |text: &str| catalog.search(text).first().map(|e| e.load.id().to_owned());
    for (text, id) in [
        ("308-168-match", "308-168-match"),
        ("308 match", "308-168-match"),
        ("308 168", "308-168-match"),
        ("9mm", "9mm-115"),
        ("9 mm 147", "9mm-147"),
        ("9x19 nato", "9mm-124-nato"),
        ("hardball", "45acp-230"),
        ("22", "22lr-hv-40"),
        ("300 winchester magnum", "300wm-180"),
        ("buckshot", "12ga-buck-00"),
        ("20 ga slug", "20ga-slug-58"),
        ("air pellet", "177air-pellet-8"),
    ] {
        assert_eq!(first(text).as_deref(), Some(id), "{text}");
    }
    assert_eq!(catalog.search("").len(), catalog.entries().len());
    assert!(catalog.search("zebra").is_empty() && catalog.search("308 zebra").is_empty());
    assert!(catalog.search("7.62x51 ball").iter().all(|e| e.load.facts().cartridge.as_deref() == Some("7.62 x 51 mm")));
}

#[test]
fn what_the_counter_asks_for_is_there() {
    let catalog = Catalog::builtin().unwrap();
    let has = |cartridge: &str, is: &dyn Fn(&Load) -> bool| {
        catalog.any(cartridge).unwrap().listed.iter().any(|e| is(&e.load))
    };
    let of = |construction: Construction| move |l: &Load| l.facts().construction == construction;
    let grains = |gr: f64| move |l: &Load| (unit::GRAIN.value(l.facts().bullet) - gr).abs() < 0.5;
    for cartridge in [
        "22-250",
        "224 valkyrie",
        "6 creedmoor",
        "6 gt",
        "6.5 grendel",
        "6.5 prc",
        "6.5-284",
        "26 nosler",
        "28 nosler",
        "7 prc",
        "300 prc",
        "300 wsm",
        "30 carbine",
        "350 legend",
        "360 buckhammer",
        "450 bushmaster",
        "458 socom",
        "357 sig",
        "32 acp",
        "5.7x28",
        "17 hm2",
        "22 short",
        "25-06",
        "6.8 spc",
        "375 h&h",
        "416 rigby",
        "458 win mag",
        "10 ga",
        "410",
    ] {
        assert!(has(cartridge, &|_| true), "{cartridge}");
    }
    for (cartridge, construction) in [
        ("9mm", Construction::SteelJacket),
        ("223", Construction::SteelJacket),
        ("7.62x39", Construction::JacketedLead),
        ("338 lapua", Construction::Monolithic),
        ("50 bmg", Construction::Monolithic),
        ("458 lott", Construction::Monolithic),
        ("12 ga", Construction::SteelShot),
        ("177 air", Construction::SteelShot),
    ] {
        assert!(has(cartridge, &of(construction)), "{cartridge} {construction}");
    }
    for (cartridge, gr) in [
        ("223", 40.0),
        ("223", 53.0),
        ("223", 62.0),
        ("243", 58.0),
        ("7.62x51", 147.0),
        ("30-06", 150.0),
        ("17 hmr", 20.0),
        ("22 wmr", 30.0),
        ("38 special", 148.0),
        ("45 colt", 250.0),
    ] {
        assert!(has(cartridge, &grains(gr)), "{cartridge} {gr} gr");
    }
    for firearm in [Firearm::MuzzleLoader, Firearm::AirGun] {
        assert!(catalog.entries().iter().filter(|e| e.load.facts().firearm == firearm).count() >= 3, "{firearm}");
    }
    let words = shipped().unwrap().words.len();
    assert!(words > 10, "{words}");
}

#[test]
fn a_name_that_leaves_words_out_is_taken_for_none_and_offers_each() {
    let catalog = Catalog::builtin().unwrap();
    for (asked, offered) in [
        ("300 mag", &[".300 Win Mag", ".300 Weatherby Magnum", ".300 Norma Magnum"][..]),
        ("338 magnum", &[".338 Win Mag", ".338 Lapua Magnum"]),
    ] {
        let fault = catalog.cartridge(asked).unwrap_err();
        for name in offered {
            assert!(fault.help().contains(name), "{asked}: {}", fault.help());
        }
    }
}
