//! What a target, its drawing and a load are called is held against what would be judged, and unlikely numbers are asked for.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;
use std::path::Path;
use std::process::Output;

const VET: &str = "vet --load 308-168-match --at 300yd --plate 1/2in --tilt 10deg --altitude 500ft --temperature 60F";

/// A square of ten inches, as a drawing with something else in it.
fn drawn(path: &Path, more: &str) {
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10in\" height=\"10in\" viewBox=\"0 0 10 10\">\
         {more}<rect width=\"10\" height=\"10\" fill=\"none\" stroke=\"black\"/></svg>"
    );
    fs::write(path, text).expect("a file");
}

fn told(output: &Output) -> String {
    format!("{}{}", stdout(output), stderr(output))
}

#[test]
fn grams_under_grains_are_asked_for_and_light_bullets_are_taken() {
    let vet = |bullet: &str, rest: &str| {
        thickset(&format!(
            "vet --bullet {bullet} {rest} --drag G1 --construction jacketed-lead --at 25yd --plate 1/4in --condition sound"
        ))
    };
    for (number, rest) in [
        ("15.6", "--velocity 1360fps --bc 0.19 --firearm handgun"),
        ("22.7", "--velocity 1810fps --bc 0.16 --firearm handgun"),
        ("22.7", "--velocity 550fps --bc 0.16 --firearm handgun"),
        ("26.2", "--velocity 1850fps --bc 0.28 --firearm rifle"),
    ] {
        let output = vet(&format!("{number}gr"), rest);
        assert!(status(&output) == 2 && stderr(&output).contains(&format!("write `{number} g`")), "{}", told(&output));
        // What the help says is read.
        let grams = vet(&format!("{number}g"), &rest.replace("550fps", "550m/s"));
        assert_ne!(status(&grams), 2, "{}", told(&grams));
    }
    for (bullet, rest) in [
        ("20gr", "--velocity 3650fps --bc 0.185 --firearm rifle"),
        ("39gr", "--velocity 3750fps --bc 0.287 --firearm rifle"),
        ("28gr", "--velocity 2050fps --bc 0.08 --firearm handgun"),
    ] {
        assert_ne!(status(&vet(bullet, rest)), 2, "{}", told(&vet(bullet, rest)));
    }
}

#[test]
fn a_drawing_is_what_its_file_is_called_whether_or_not_its_condition_is_known() {
    let folder = tempfile::tempdir().expect("a folder");
    let asked = |name: &str, line: &str| {
        let path = folder.path().join(format!("{name}.svg"));
        drawn(&path, "");
        let output = thickset(&format!("{line} --outline \"{}\"", path.display()));
        (status(&output) == 2, told(&output))
    };
    let standoff = "standoff --load 308-168-match --plate 1/2in --altitude 500ft --temperature 60F";
    for name in ["cracked gong", "pitted", "bent", "AR400", "0.25 in", "gong 6 mm", "1-4 in plate", "quarter inch gong"]
    {
        for line in [VET, standoff, &format!("{VET} --condition sound"), &format!("{standoff} --condition unknown")] {
            let (refused, told) = asked(name, line);
            assert!(refused && told.contains("outline"), "{name}: {line}: {told}");
        }
    }
    for name in ["50 yd gong", "public gong"] {
        assert!(asked(name, VET).0, "{name}");
    }
    for (name, line) in [
        ("cracked gong", format!("{VET} --condition cracked")),
        ("gong 6 mm", VET.replace("1/2in", "6mm")),
        ("public gong", format!("{VET} --duty public")),
    ] {
        assert!(!asked(name, &line).0, "{name}: {}", asked(name, &line).1);
    }
    for name in
        ["gong", "T1", "iron maiden", "10 in gong", "1-2 in gong", "300 yd gong", "four holes", "gong on 1-4 in chain"]
    {
        let (refused, told) = asked(name, VET);
        assert!(!refused, "{name}: {told}");
    }
}

#[test]
fn what_stands_in_a_drawing_of_another_plate_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.svg");
    let asked = |more: &str| {
        drawn(&path, more);
        let output = thickset(&format!("{VET} --outline {}", path.display()));
        (status(&output) == 2, told(&output))
    };
    for more in ["<text>1/4 in mild steel</text>", "<text>PLATE <tspan>1/4 in</tspan></text>", "<text>A36</text>"] {
        let (refused, told) = asked(more);
        assert!(refused && told.contains("stands in it"), "{more}: {told}");
    }
    for more in
        ["<text>1/4 in holes</text>", "<text>R 1/4</text>", "<text>1/2 in AR500 plate</text>", "<text>gong</text>"]
    {
        let (refused, told) = asked(more);
        assert!(!refused, "{more}: {told}");
    }
    let outline = folder.path().join("own.toml");
    for (source, refused) in [("mild steel 1/4 in", true), ("1/4 in plate", true), ("my own", false)] {
        let text = format!(
            "schema = \"thickset/outline/1\"\nname = \"gong\"\nunit = \"in\"\nsource = \"{source}\"\n\
             points = [[0, 0], [12, 0], [12, 12], [0, 12]]\n"
        );
        fs::write(&outline, text).expect("a file");
        let output = thickset(&format!("{VET} --outline {}", outline.display()));
        assert_eq!(status(&output) == 2, refused, "{source}: {}", told(&output));
    }
}

#[test]
fn a_layer_of_another_steel_or_thickness_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.svg");
    for (layer, refused) in [("AR400", true), ("1/4 in", true), ("mild steel", true), ("cut", false), ("1/2 in", false)]
    {
        let text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10in\" height=\"10in\" viewBox=\"0 0 10 10\">\
             <g id=\"{layer}\"><rect width=\"10\" height=\"10\" fill=\"none\" stroke=\"black\"/></g></svg>"
        );
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("{VET} --outline {}", path.display()));
        assert_eq!(status(&output) == 2, refused, "{layer}: {}", told(&output));
    }
}

#[test]
fn a_product_and_a_target_of_an_inquiry_are_as_thick_as_they_are_called() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("shop.toml");
    let example = fs::read_to_string("examples/shop.toml").expect("the shop");
    for (name, refused) in [
        ("Gong 12", false),
        ("Gong 12, 1/4 in", true),
        ("Gong cracked", true),
        ("Gong 12, 3/4 in", false),
        ("Handgun only gong", true),
        ("Gong, pistols-only", true),
    ] {
        fs::write(&shop, example.replace("\"Gong 12\"", &format!("\"{name}\""))).expect("a file");
        for line in [
            VET.to_owned(),
            "standoff --load 308-168-match --plate 1/2in".into(),
            "advise --load 308-168-match --at 300yd --tilt 10deg --condition unknown".into(),
        ] {
            let output = thickset(&format!("{line} --product \"{name}\" --shop {}", shop.display()));
            assert_eq!(status(&output) == 2, refused, "{name}: {line}: {}", told(&output));
        }
    }
    let inquiry = folder.path().join("inquiry.toml");
    for (name, refused) in [("1/4 in gong", true), ("3/8 in gong", false), ("gong", false), ("public days gong", true)]
    {
        let text = format!(
            "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"{name}\"\n[[shot]]\nload = \"308-168-match\"\nat = [\"300 yd\"]\n"
        );
        fs::write(&inquiry, text).expect("a file");
        let output = thickset(&format!("advise {}", inquiry.display()));
        assert_eq!(status(&output) == 2, refused, "{name}: {}", told(&output));
    }
}

#[test]
fn a_match_waits_for_a_target_that_is_called_spent_whether_or_not_its_condition_is_known() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("match.toml");
    let judged = |name: &str, stand: &str| {
        let text = format!(
            "schema = \"thickset/course/1\"\nname = \"m\"\nloads = [\"308-168-match\"]\n\
             [air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n[stand]\ntilt = \"10 deg\"\n{stand}\
             [[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"{name}\"\nplate = \"1/2 in\"\nat = \"300 yd\"\n"
        );
        fs::write(&path, text).expect("a file");
        status(&thickset(&format!("course {}", path.display())))
    };
    for stand in ["", "condition = \"sound\"\n", "condition = \"unknown\"\n"] {
        assert_eq!(judged("gong", stand), 0, "{stand}");
        for name in ["cracked", "pitted one", "head, holed", "dented gong"] {
            assert_ne!(judged(name, stand), 0, "{name} {stand}");
        }
    }
}

const OWN: &str = "--bullet 168gr --velocity 2650fps --bc 0.45 --drag G1 --firearm rifle";
const AT: &str = "--at 300yd --plate 1/2in --condition sound --tilt 10deg --altitude 500ft --temperature 60F";

#[test]
fn a_load_is_what_its_name_says_of_its_mass_its_speed_its_cartridge_and_its_metal() {
    let vet = |name: &str| thickset(&format!("vet {OWN} --construction jacketed-lead --name \"{name}\" {AT}"));
    for name in [
        "180gr.",
        "180-grain",
        "308-180gr",
        "200grn",
        "12 g match",
        "10.2 g SMK",
        "168 gr, 3100 ft/s",
        "308 at 3000 fps",
        "2900fps",
        "338 LM",
        "brass",
        "bronze",
        "solids",
        "CuZn",
        "solid",
    ] {
        let output = vet(name);
        assert_eq!(status(&output), 2, "{name}: {}", told(&output));
    }
    for name in [
        "my load",
        "168gr match",
        "10.9 g SMK",
        "308 Win 168 gr at 2700 fps",
        "Lapua brass, 43.5 gr and 168 gr",
        "2.8 g N140",
        "7.62 NATO",
        "308 Win",
        "bronze tip 168",
    ] {
        let output = vet(name);
        assert_eq!(status(&output), 0, "{name}: {}", told(&output));
    }
}

#[test]
fn a_word_for_the_firearm_is_held_against_the_name_and_the_cartridge() {
    let own = "--bullet 158gr --velocity 1250fps --bc 0.21 --drag G1 --construction jacketed-lead";
    let vet = |firearm: &str, name: &str| thickset(&format!("vet {own} --firearm {firearm} --name \"{name}\" {AT}"));
    for name in ["357 Magnum lever gun", "357 Magnum rifle", "9 mm carbine", "12 ga"] {
        let output = vet("handgun", name);
        assert!(status(&output) == 2 && stderr(&output).contains("firearm"), "{name}: {}", told(&output));
    }
    for (firearm, name) in [
        ("handgun", "357 Magnum"),
        ("pistol-carbine", "357 Magnum lever gun"),
        ("rifle", "357 Magnum rifle"),
        ("handgun", "357 Mag, small rifle primers"),
    ] {
        assert_ne!(status(&vet(firearm, name)), 2, "{name}: {}", told(&vet(firearm, name)));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.toml");
    for (cartridge, firearm, numbers, refused) in [
        (".22 Hornet", "rimfire-rifle", ("45 gr", "1290 ft/s", "0.2"), true),
        (".45-70", "shotgun", ("405 gr", "1340 ft/s", "0.29"), true),
        (".50 muzzle-loader", "handgun", ("250 gr", "1500 ft/s", "0.2"), true),
        (".357 Magnum", "handgun", ("158 gr", "1250 ft/s", "0.21"), false),
        (".357 Magnum", "rifle", ("158 gr", "1800 ft/s", "0.21"), false),
        (".223 Rem", "handgun", ("55 gr", "2500 ft/s", "0.25"), false),
    ] {
        let (bullet, velocity, bc) = numbers;
        let text = format!(
            "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\ncartridge = \"{cartridge}\"\nfirearm = \"{firearm}\"\n\
             construction = \"lead\"\nbullet = \"{bullet}\"\nmuzzle-velocity = \"{velocity}\"\ndrag = \"G1\"\nbc = \"{bc}\"\n"
        );
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("vet --load own --load-file {} {AT}", path.display()));
        assert_eq!(status(&output) == 2, refused, "{cartridge} {firearm}: {}", told(&output));
        assert!(!refused || stderr(&output).contains("write the firearm that fires it"), "{}", told(&output));
    }
}

#[test]
fn surplus_that_is_named_by_its_cartridge_alone_is_judged_as_what_is_listed_of_it() {
    let own = "--bullet 123gr --velocity 2380fps --bc 0.3 --drag G1 --firearm rifle";
    for name in ["7.62x39 surplus", "7.62x54R surplus", "5.45x39 surplus"] {
        let own =
            if name.starts_with("5.45") { own.replace("123gr", "60gr").replace("2380", "2900") } else { own.into() };
        let output = thickset(&format!("vet {own} --name \"{name}\" {AT}"));
        assert!(status(&output) == 1 && !told(&output).contains("nothing lists its kind"), "{name}: {}", told(&output));
    }
    let output = thickset(&format!("vet {own} --name \"range pick-up\" {AT}"));
    assert!(status(&output) == 3 && told(&output).contains("nothing lists"), "{}", told(&output));
}

#[test]
fn a_shooter_who_is_called_by_another_cartridge_than_what_is_brought_is_looked_at() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("match.toml");
    let judged = |who: &str| {
        fs::write(folder.path().join("loads.csv"), format!("shooter,load\n{who},308-168-match\n")).expect("a file");
        let text = "schema = \"thickset/course/1\"\nname = \"m\"\ndeclared = [\"loads.csv\"]\n\
             [air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"10 deg\"\n\
             [[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"g\"\nplate = \"1/2 in\"\nat = \"300 yd\"\n";
        fs::write(&path, text).expect("a file");
        thickset(&format!("course {}", path.display()))
    };
    let output = judged("Ann (300 WM)");
    assert!(status(&output) == 3 && told(&output).contains("Ann (300 WM)"), "{}", told(&output));
    for who in ["Ann", "Ann (308 Win)", "Bob 168 gr", "Joe 300"] {
        assert_eq!(status(&judged(who)), 0, "{who}: {}", told(&judged(who)));
    }
}

#[test]
fn an_empty_name_and_shot_of_no_firearm_are_told_in_plain_words() {
    let output = thickset(&format!("vet {OWN} --construction jacketed-lead --name \"\" {AT}"));
    assert!(status(&output) == 2 && stderr(&output).contains("name is empty"), "{}", told(&output));
    let output = thickset(&format!("vet --bullet 5.1gr --velocity 600fps --bc 0.012 --drag G1 --construction bb {AT}"));
    assert!(status(&output) == 2 && stderr(&output).contains("a firearm that was not said"), "{}", told(&output));
}
