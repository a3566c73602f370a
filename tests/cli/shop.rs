//! What a shop sells: the thicknesses that are proposed, the price of each, its sheet, its drawings.

use super::{json, status, stderr, stdout, thickset};
use std::fs;
use std::path::PathBuf;

/// A shop that sells plate by the millimetre.
const METRIC: &str = r#"schema = "thickset/shop/1"
name = "Metric Example Targets"
currency = "€"
[[price]]
thickness = "6 mm"
per-kilogram = 4.1
cut-per-metre = 3
[[price]]
thickness = "8 mm"
per-kilogram = 4
cut-per-metre = 4
[[price]]
thickness = "12 mm"
per-kilogram = 4
cut-per-metre = 5
[[product]]
name = "gong on a post"
face = "300mm"
made = [{ thickness = "10 mm", price = 40 }]
"#;

/// A file in a folder.
fn file(folder: &tempfile::TempDir, name: &str, text: &str) -> PathBuf {
    let path = folder.path().join(name);
    fs::write(&path, text).expect("a file");
    path
}

/// A page's words on one line.
fn joined(line: &str) -> String {
    let output = thickset(line);
    assert_ne!(status(&output), 2, "{line}: {}", stderr(&output));
    stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn labels(document: &serde_json::Value) -> Vec<&str> {
    let plates = document["plates"].as_array().expect("plates");
    plates.iter().map(|plate| plate["label"].as_str().expect("a label")).collect()
}

#[test]
fn only_thicknesses_that_the_shop_sells_are_proposed_unless_plates_are_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = file(&folder, "shop.toml", METRIC);
    let asked = "--load 357mag-158@15m --tilt 15deg --units si --face 300mm";
    let line = format!("advise --shop {} {asked}", shop.display());
    let document = json(&line);
    // 10 mm is sold as that one product alone.
    assert_eq!(labels(&document), ["6 mm", "8 mm", "12 mm"]);
    // 6 mm stand for 1/4 in by a rule's least thickness; their energy is the plate's own, and borderline.
    assert_eq!(
        (&document["recommended"]["label"], &document["plates"][0]["verdict"]),
        (&"8 mm".into(), &"borderline".into())
    );
    assert!(joined(&line).starts_with("Hang 8 mm:"));
    let inquiry = "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"pistol plate\"\nstand = { face = \"300mm\", tilt = \"15 deg\" }\n\
                   [[shot]]\nload = \"357mag-158\"\nat = [\"15 m\"]\n";
    let inquiry = file(&folder, "inquiry.toml", inquiry);
    let document = json(&format!("advise {} --shop {}", inquiry.display(), shop.display()));
    // 10 mm is sold as that one product alone.
    assert_eq!(labels(&document), ["6 mm", "8 mm", "12 mm"]);
    let named = json(&format!("{line} --plate 1/4in --plate 3/8in"));
    assert_eq!(labels(&named).len(), 2);
    let plates = file(&folder, "plates.toml", "schema = \"thickset/plates/1\"\n[[plate]]\nthickness = \"1/4 in\"\n");
    assert_eq!(labels(&json(&format!("{line} --plate-file {}", plates.display()))), ["1/4 in"]);
}

#[test]
fn a_plate_that_the_shop_does_not_price_has_no_price_and_it_is_said_wherever_prices_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = file(&folder, "shop.toml", METRIC);
    let line = format!("advise --shop {} --plate 1/4in --load 357mag-158@15m --face 300mm", shop.display());
    let material = &json(&line)["plates"][0]["material"];
    let why = "not priced; the shop has 6 mm and 8 mm";
    assert_eq!((&material["price"], &material["cost"]), (&serde_json::Value::Null, &serde_json::Value::Null));
    assert_eq!(material["not_priced"], why);
    assert!(joined(&line).contains("parcel, not priced: the shop has 6 mm and 8 mm. Nobody"), "{}", joined(&line));
    for more in ["--full", "--for \"A. Example\"", "--format csv --table plates"] {
        assert!(joined(&format!("{line} {more}")).contains(why), "{more}");
    }
    // What is too large for the sheet has no price either.
    let large = joined(&line.replace("300mm", "1300x1300mm").replace("1/4in", "6mm"));
    assert!(large.contains("not priced: none comes from a 4 × 8 ft sheet"), "{large}");
}

#[test]
fn a_match_is_mended_with_plates_that_the_shop_sells_at_their_own_price() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = file(&folder, "shop.toml", METRIC);
    let text = "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"308-168-match\"]\n[[stage]]\nname = \"Bay\"\n\
                [[stage.target]]\nname = \"low\"\nplate = \"1/4 in\"\nat = \"120 yd\"\n\
                stand = { condition = \"sound\", tilt = \"15 deg\" }\n\
                [[stage.target]]\nname = \"high\"\nplate = \"19.05 mm\"\nat = \"120 yd\"\n\
                stand = { condition = \"sound\", tilt = \"15 deg\" }\n";
    let course = file(&folder, "m.toml", text);
    let line = format!("course {} --shop {}", course.display(), shop.display());
    let document = json(&line);
    let fix = |document: &serde_json::Value| document["targets"][0]["fix"].as_str().expect("a fix").to_owned();
    assert_eq!(fix(&document), "hang 12 mm");
    assert_eq!(fix(&json(&format!("course {}", course.display()))), "hang 1/2 in");
    let haul: Vec<&str> =
        document["haul"].as_array().expect("a haul").iter().map(|h| h["words"].as_str().expect("words")).collect();
    let thick = haul.iter().find(|words| words.contains("3/4 in")).expect("the thick plate");
    assert!(thick.ends_with("(not priced; the shop has 12 mm)") && !thick.contains('€'), "{thick}");
}

#[test]
fn a_price_by_weight_is_that_of_the_weight_beside_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = "schema = \"thickset/shop/1\"\nname = \"M\"\ncurrency = \"€\"\nscrap-included = true\n[[price]]\nthickness = \"10 mm\"\n\
                per-kilogram = 100\ncut-per-metre = 0\n";
    let shop = file(&folder, "shop.toml", text);
    let line = format!("advise --shop {} --units si --face 1000x1000mm --load 357mag-158@15m", shop.display());
    assert!(joined(&line).contains("78.5 kg, €7850.00, freight."), "{}", joined(&line));
}

#[test]
fn what_a_sheet_gives_is_told_with_the_sheet_that_is_the_shop_s_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = |text: &str| {
        let shop = file(&folder, "shop.toml", text);
        let line = format!("advise --shop {} --units si --face 300mm --load 357mag-158@15m", shop.display());
        let material = json(&line)["plates"][0]["material"].clone();
        (material["per_sheet"]["full"].as_u64().expect("a count"), joined(&format!("{line} --full")))
    };
    let (usual, page) = told(METRIC);
    assert!(page.contains(&format!("{usual} from a 1219 × 2438 mm sheet, ")), "{page}");
    let (large, page) = told(&METRIC.replace("currency", "sheet = \"1500 x 3000 mm\"\ncurrency"));
    assert!(large > usual && page.contains(&format!("{large} from a 1500 × 3000 mm sheet, ")), "{page}");
}

#[test]
fn a_product_s_drawing_is_read_beside_the_shop_s_file_and_no_other_product_waits_for_it() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("drawings")).expect("a folder");
    let outline = "schema = \"thickset/outline/1\"\nname = \"tab\"\nunit = \"mm\"\npoints = [[0, 0], [200, 0], [200, 300], [0, 300]]\n";
    fs::write(folder.path().join("drawings/tab.toml"), outline).expect("a file");
    let drawn = |name: &str, file: &str| {
        format!("[[product]]\nname = \"{name}\"\noutline = \"{file}\"\nmade = [{{ thickness = \"10 mm\" }}]\n")
    };
    let text = METRIC.to_owned() + &drawn("Tab", "drawings/tab.toml") + &drawn("Lost", "drawings/lost.dxf");
    let shop = file(&folder, "shop.toml", &text);
    let line = |product: &str| {
        format!("--shop {} --product \"{product}\" --load 308-168-match@200m --plate 10mm", shop.display())
    };
    for command in ["advise", "vet"] {
        assert!(joined(&format!("{command} {} --units si", line("Tab"))).contains("200 m"));
    }
    let tab = json(&format!("advise {}", line("Tab")));
    let area = tab["outline"]["area_m2"].as_f64().expect("an area");
    assert!((area - 0.06).abs() < 1e-9, "{area}");
    assert_ne!(status(&thickset(&format!("vet {}", line("gong on a post")))), 2);
    let lost = thickset(&format!("vet {}", line("Lost")));
    assert!(status(&lost) == 2 && stderr(&lost).contains("lost.dxf"), "{}", stderr(&lost));
}

#[test]
fn a_name_that_speaks_of_a_mount_is_told_beside_the_one_that_was_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = file(&folder, "shop.toml", METRIC);
    let product = format!("--shop {} --product \"gong on a post\" --load 9mm-124@15m", shop.display());
    let doubt = "Judged hung from open hooks, though `gong on a post` says `post`: give its mount.";
    for line in [format!("advise {product}"), format!("vet {product} --plate 10mm")] {
        assert!(joined(&line).contains(doubt), "{}", joined(&line));
        assert!(json(&line)["remarks"].as_array().expect("remarks").contains(&doubt.into()));
        assert!(!joined(&format!("{line} --mount chain")).contains("Judged hung"));
        assert!(!joined(&format!("{line} --mount bolted")).contains("Judged hung"));
    }
    let inquiry = "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"plate on a stand\"\n[[shot]]\nload = \"9mm-124\"\nat = [\"15 m\"]\n";
    let inquiry = file(&folder, "inquiry.toml", inquiry);
    let text = joined(&format!("advise {}", inquiry.display()));
    assert!(text.contains("though `plate on a stand` says `stand`: give its mount."), "{text}");
}

#[test]
fn a_target_of_a_match_whose_name_speaks_of_a_mount_is_told_where_none_was_given() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = |stand: &str| {
        let text = format!(
            "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"9mm-124\"]\n[[stage]]\nname = \"Bay\"\n[[stage.target]]\n\
             name = \"gong on a post\"\nplate = \"3/8 in\"\nat = \"15 yd\"\nstand = {{ condition = \"sound\"{stand} }}\n"
        );
        joined(&format!("course {}", file(&folder, "m.toml", &text).display()))
    };
    let doubt = "Judged hung from open hooks, no mount was given: Bay, gong on a post.";
    assert!(told("").contains(doubt) && told("").starts_with("READY"), "{}", told(""));
    assert!(!told(", mount = \"open-hook\"").contains("Judged hung"));
    assert!(!told(", mount = \"bolted\"").contains("Judged hung"));
}

#[test]
fn what_is_to_fall_is_said_not_to_be_judged_where_only_vetting_does() {
    for (line, told) in [
        ("advise --load 22lr-std-40 --at 25yd --product \"Popper 42\"", true),
        ("standoff --load 22lr-std-40 --plate 3/8in --product \"Falling plate 8\"", true),
        ("advise --load 22lr-std-40 --at 25yd --product \"Gong 12\"", false),
        ("vet --load 22lr-std-40 --at 25yd --plate 3/8in --product \"Popper 42\"", false),
    ] {
        let text = joined(&format!("{line} --shop examples/shop.toml"));
        assert_eq!(text.contains("Whether it falls when hit is not judged here."), told, "{line}: {text}");
        assert_eq!(text.contains("Topples: "), line.starts_with("vet"), "{line}: {text}");
    }
}

#[test]
fn what_a_file_of_plates_says_of_another_steel_or_a_spent_plate_is_refused_wherever_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    for (notes, code) in [
        ("basis = \"given\"\nsource = \"mill certificate, AR500\"", 0),
        ("basis = \"AR400, cracked\"", 2),
        ("source = \"mild steel\"", 2),
    ] {
        let text = format!(
            "schema = \"thickset/plates/1\"\n[[plate]]\nlabel = \"old one\"\nthickness = \"3/8 in\"\n{notes}\n"
        );
        let plates = file(&folder, "plates.toml", &text);
        let output = thickset(&format!("advise --load 308-168-match --at 300yd --plate-file {}", plates.display()));
        assert_eq!(status(&output), code, "{notes}: {}{}", stdout(&output), stderr(&output));
    }
}
