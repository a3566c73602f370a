//! What a product, a target and a plate are called is held against what is judged by one check, whichever door it comes
//! in by; and words that nobody takes lead to those that are taken.

use super::course_signs::joined;
use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;
use std::path::Path;

const AIR: &str = "--altitude 500ft --temperature 60F";

/// What three doors answer of a name: a shop's product, an inquiry's target and a plate's label.
fn doors(folder: &Path, name: &str, load: &str, at: &str) -> [(i32, String); 3] {
    let path = |file: &str, text: String| {
        let path = folder.join(file);
        fs::write(&path, text).expect("a file");
        path.to_string_lossy().into_owned()
    };
    let name = name.replace('"', "″");
    let shop = path(
        "s.toml",
        format!(
            "schema = \"thickset/shop/1\"\nname = \"S\"\ncurrency = \"$\"\n[[price]]\nthickness = \"3/8 in\"\nper-pound = 2\ncut-per-inch = 0.1\n\
             [[product]]\nname = \"{name}\"\nface = \"12in\"\nmade = [{{ thickness = \"3/8 in\", price = 59 }}]\n"
        ),
    );
    let inquiry = path(
        "i.toml",
        format!(
            "schema = \"thickset/inquiry/1\"\n[air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n[[target]]\n\
             name = \"{name}\"\nstand = {{ face = \"12in\" }}\n[[shot]]\nload = \"{load}\"\nat = [\"{at}\"]\n"
        ),
    );
    let plates = path(
        "p.toml",
        format!("schema = \"thickset/plates/1\"\n[[plate]]\nlabel = \"{name}\"\nthickness = \"3/8 in\"\n"),
    );
    [
        format!("advise --shop {shop} --product \"{name}\" --load {load} --at {at} {AIR}"),
        format!("advise {inquiry}"),
        format!("advise --plate-file {plates} --load {load} --at {at} {AIR}"),
    ]
    .map(|line| {
        let output = thickset(&line);
        (status(&output), joined(&format!("{}{}", stdout(&output), stderr(&output))))
    })
}

#[test]
fn a_name_that_speaks_against_what_is_judged_is_refused_at_every_door() {
    let folder = tempfile::tempdir().expect("a folder");
    #[rustfmt::skip]
    let names = [
        "Not AR500", "AR500 equivalent", "Steel unknown", "T1 steel", "iron gong", "9mm only", "Air rifle only",
        "no centerfire", "not rifle rated", "Rimfire rated", "Handgun only", "broken", "Pocked", "split", "flipped",
        "torch cut", "turned 30 deg", "lying down", "leaning back", "Welded", "re-welded", "Bolted to post", "4in",
        "8 inch gong",
    ];
    for name in names {
        for (door, (status, told)) in doors(folder.path(), name, "308-168-match", "200yd").into_iter().enumerate() {
            assert!(status == 2 && told.contains(name), "{name} at door {door}: {told}");
        }
    }
}

#[test]
fn an_ordinary_name_is_a_plain_yes_at_every_door() {
    let folder = tempfile::tempdir().expect("a folder");
    #[rustfmt::skip]
    let names = [
        "12 in gong", "Hostage", "IPSC-style torso", "Dueling tree paddle", "Square 8", "Range A", "Old faithful",
        "No. 22", "AR500 3/8", "Rifle and pistol gong", "no magnums", "Broken Arrow", "Painted both faces",
        "No-shoot hostage", "Genuine AR500", "members only",
    ];
    for name in names {
        for (door, (status, told)) in doors(folder.path(), name, "308-168-match", "200yd").into_iter().enumerate() {
            assert!(status == 0 && !told.contains("though"), "{name} at door {door}: {told}");
        }
    }
}

#[test]
fn a_name_of_a_milder_kind_is_a_yes_with_a_remark() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, load, at) in [("Rimfire gong", "9mm-115", "15yd"), ("Pistol gong", "308-168-match", "200yd")] {
        for (status, told) in doors(folder.path(), name, load, at) {
            assert!(status == 0 && told.contains("is it made for that?"), "{name}: {told}");
        }
    }
    let line = format!("advise --shop examples/shop.toml --product \"Rimfire spinner\" --load 9mm-115 --at 15yd {AIR}");
    assert!(joined(&stdout(&thickset(&line))).contains("`Rimfire spinner` says `rimfire`"));
    let line = line.replace("9mm-115", "22lr-hv-40").replace("15yd", "50yd");
    assert!(!joined(&stdout(&thickset(&line))).contains("is it made for that?"));
}

#[test]
fn a_name_that_says_what_nobody_said_of_the_bullet_asks_for_its_construction() {
    let own = "vet --bullet 62gr --velocity 3020fps --bc 0.3 --drag G1 --firearm rifle --plate 3/8in --at 250yd";
    for name in ["tracer", "M856 tracer", "armor piercing", "API", "black tip", "steel core", "M855", "7N6"] {
        let output = thickset(&format!("{own} {AIR} --name \"{name}\""));
        assert!(status(&output) == 2 && stderr(&output).contains("--construction"), "{name}: {}", stdout(&output));
    }
    let output = thickset(&format!("{own} {AIR} --name tracer --construction unknown"));
    assert_eq!(status(&output), 2, "{}", stdout(&output));
    let output = thickset(&format!("{own} {AIR} --name tracer --construction tracer"));
    assert_eq!(status(&output), 1, "{}", stderr(&output));
}

#[test]
fn words_that_nobody_takes_lead_to_those_that_are_taken_and_never_to_the_mildest() {
    let vet = |more: &str| thickset(&format!("vet --plate 3/8in --at 200yd {AIR} {more}"));
    for (more, said) in [
        ("--load \"308 win\"", "`--any \".308 Win\"`"),
        ("--load .308", "`--any \".308 Win\"`"),
        ("--load \"9mm +P\"", "`--any \"9 mm Luger\"`"),
        ("--load 308-168-match --condition crack", "did you mean `cracked`?"),
        ("--load 308-168-match --condition good", "did you mean `unknown`?"),
        ("--load 308-168-match --mount post", "did you mean `bolted`?"),
        ("--load 308-168-match --steel A36", "did you mean `other`?"),
        ("--load 308-168-match --steel Hardox", "did you mean `other`?"),
        ("--load 308-168-match --uphill 10deg", "`--slope ANGLE`"),
    ] {
        let output = vet(more);
        assert!(status(&output) == 2 && joined(&stderr(&output)).contains(said), "{more}: {}", stderr(&output));
    }
    let own = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag g7";
    for more in [
        "--load 308-168-match --condition Sound --units SI --format TABLE".to_owned(),
        format!("{own} --firearm Rifle --construction Jacketed-Lead --mount OPEN-HOOK --steel ar500"),
    ] {
        let output = vet(&more);
        assert_eq!(status(&output), 0, "{more}: {}", stderr(&output));
    }
    let output = thickset("vet --load 308-168-match --plate 3/8in --at 200yd --temperature \"72 deg F\"");
    assert_eq!(status(&output), 0, "{}", stderr(&output));
}
