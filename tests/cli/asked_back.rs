//! What may mean several things is asked back, and what was asked stands in the answer.

use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fs;

fn help(any: &str) -> String {
    let output = thickset(&format!("advise --any \"{any}\" --at 60yd"));
    assert_eq!(status(&output), 2, "{any}: {}", stdout(&output));
    stderr(&output).replace("\n         ", " ")
}

#[test]
fn a_short_name_that_a_hotter_cartridge_shares_is_asked_back() {
    for (any, choices) in [
        ("17 mag", &[".17 HMR", ".17 WSM"][..]),
        ("270", &[".270 Win", ".270 WSM"]),
        ("280", &[".280 Rem", ".280 Ackley Improved"]),
        ("7mm mag", &["7 mm Rem Mag", "7 mm PRC", "7 mm STW", ".28 Nosler"]),
        ("300 mag", &[".300 Win Mag", ".300 PRC"]),
        ("AR-15", &["5.56 mm", ".300 Blackout"]),
        ("shotgun", &["12 gauge", ".410 bore"]),
        ("deer rifle", &[".30-06", ".308 Win"]),
        ("12 gauge slug", &["12 gauge"]),
        ("M855", &["5.56 mm"]),
    ] {
        let help = help(any);
        assert!(choices.iter().all(|choice| help.contains(choice)), "{any}: {help}");
        // What it proposes is taken.
        for choice in choices {
            assert_ne!(status(&thickset(&format!("advise --any \"{choice}\" --at 60yd"))), 2, "{choice}");
        }
    }
    assert!(help("zebra").contains("catalog cartridges"));
    assert!(!help("4.6").contains("460"));
}

#[test]
fn an_everyday_name_that_nothing_hotter_shares_is_taken() {
    for any in
        ["308", "9mm", "45 acp", "223", "30-06", "30.06", "6.5 creedmoor", "22 lr", "10mm", "40", "12 ga", "5.56"]
    {
        let output = thickset(&format!("advise --any \"{any}\" --at 60yd"));
        assert_ne!(status(&output), 2, "{any}: {}", stderr(&output));
    }
}

/// The value of a column in the first row of a table.
fn cell(line: &str, column: &str) -> String {
    let output = thickset(&format!("{line} --format csv"));
    let text = stdout(&output);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().expect("a head").clone();
    let place = head.iter().position(|name| name == column).unwrap_or_else(|| panic!("{line}: no {column}"));
    let row = reader.records().next().expect("a row").expect("a row");
    row.get(place).expect("a cell").to_owned()
}

#[test]
fn of_ammunition_that_is_never_good_in_part_no_answer_names_a_distance_for_all_of_it() {
    let asked = "--any \".303 British\" --at 200yd --condition sound --altitude 0ft --temperature 59F";
    for line in [
        format!("vet {asked} --plate 1/2in"),
        format!("standoff {asked} --plate 1/2in"),
        format!("advise {asked} --plate 1/2in"),
    ] {
        let page = stdout(&thickset(&line)).split_whitespace().collect::<Vec<_>>().join(" ");
        let told = "No distance is good for all of it: nobody nearer than 100 yd with the rest.";
        assert!(page.contains(told) && page.contains("Nobody nearer than 100 yd while hot"), "{page}");
        assert_eq!(cell(&line, "nearest_yd"), "", "{line}");
        assert!(page.contains("worst: fastest usual 303 British") || line.starts_with("advise"), "{line}: {page}");
        let document = json(&line);
        assert!(document["nearest_m"].is_null(), "{line}");
        let rows = [&document["rows"][0]["plates"][0]["nearest_m"], &document["plates"][0]["nearest_m"]];
        assert!(rows.iter().all(|row| row.is_null()), "{line}");
    }
    // All of it, where it is narrowed.
    let narrowed = format!("{asked} --of jacketed-lead --plate 1/2in");
    for verb in ["vet", "standoff", "advise"] {
        assert_eq!(cell(&format!("{verb} {narrowed}"), "nearest_yd"), "100", "{verb}");
        assert!(json(&format!("{verb} {narrowed}"))["nearest_m"].as_f64().is_some(), "{verb}");
    }
}

#[test]
fn a_swing_that_was_asked_for_is_told_on_every_page() {
    let line = "advise --load 308-168-match --at 200yd";
    let told = "45°: hang 3/8 in on 7.0 in of chain";
    for format in ["table", "csv", "html", "json"] {
        let text = stdout(&thickset(&format!("{line} --want-swing 45deg --format {format}"))).replace('\u{a0}', " ");
        assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains(told), "{format}: {text}");
    }
    let none = stdout(&thickset("advise --load 338lm-250 --at 20yd --want-swing 45deg"));
    assert!(none.contains("Swing asked: 45°: no plate is named"), "{none}");
}

const SHOP: &str = r#"schema = "thickset/shop/1"
name = "Metric Example Targets"
currency = "€"
[[price]]
thickness = "6 mm"
per-kilogram = 4
cut-per-metre = 3
[[price]]
thickness = "8 mm"
per-kilogram = 4
cut-per-metre = 3
[[price]]
thickness = "10 mm"
per-kilogram = 4
cut-per-metre = 3
[[price]]
thickness = "12 mm"
per-kilogram = 4
cut-per-metre = 3
"#;

#[test]
fn every_thickness_that_a_shop_sells_has_its_price() {
    let folder = tempfile::tempdir().expect("a folder");
    let shop = folder.path().join("shop.toml");
    fs::write(&shop, SHOP).expect("a file");
    let line = format!("advise --load 338lm-250 --at 400m --shop {}", shop.display());
    let document = json(&line);
    assert_eq!(document["recommended"]["label"], "12 mm");
    for row in document["plates"].as_array().expect("plates") {
        assert!(row["material"]["cost"].is_string(), "{row}");
    }
}

#[test]
fn a_row_of_several_targets_weighs_and_costs_one_of_each_in_every_form() {
    let folder = tempfile::tempdir().expect("a folder");
    let (shop, inquiry) = (folder.path().join("shop.toml"), folder.path().join("inquiry.toml"));
    fs::write(&shop, SHOP).expect("a file");
    let text = "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"big\"\nstand = { face = \"450x750mm\" }\n\
                [[target]]\nname = \"small\"\nstand = { face = \"200mm\" }\n[[shot]]\nload = \"308-168-match\"\n\
                at = [\"200 m\"]\n";
    fs::write(&inquiry, text).expect("a file");
    let line = format!("advise {} --shop {} --units si", inquiry.display(), shop.display());
    let (one, three) = (json(&line), json(&format!("{line} --quantity 3")));
    for document in [&one, &three] {
        let row = &document["plates"][0];
        let sum = |key: &str| -> f64 {
            let pieces = row["pieces"].as_array().expect("pieces");
            let number = |piece: &serde_json::Value| match key {
                "mass" => piece["mass_kg"].as_f64().expect("kg"),
                _ => piece["material"]["cost"].as_str().expect("a cost").parse().expect("a number"),
            };
            pieces.iter().map(number).sum()
        };
        assert!((row["mass_kg"].as_f64().expect("kg") - sum("mass")).abs() < 1e-6, "{row}");
        assert_eq!(row["together"]["mass_kg"], row["mass_kg"]);
        let cost: f64 = row["together"]["cost"].as_str().expect("a cost").parse().expect("a number");
        assert!((cost - sum("cost")).abs() < 0.01, "{row}");
    }
    for quantity in ["", " --quantity 3"] {
        let line = format!("{line}{quantity}");
        let row = &json(&line)["plates"][0];
        assert_eq!(Some(cell(&line, "price").as_str()), row["together"]["cost"].as_str(), "{line}");
        assert_eq!(cell(&line, "weight_kg"), format!("{:.1}", row["mass_kg"].as_f64().expect("kg")), "{line}");
        assert_eq!(
            (cell(&line, "weight_and_price_of").as_str(), cell(&line, "first_target").as_str()),
            ("a set of 2", "big")
        );
    }
    let full = stdout(&thickset(&format!("{line} --quantity 3 --full")));
    assert!(full.contains("set weight") && full.contains("a set, €") && full.contains("on big; "), "{full}");
}

#[test]
fn a_page_that_holds_in_all_of_the_air_says_of_none_that_it_was_taken() {
    let line = "standoff --product \"Gong 12\" --shop examples/shop.toml --fragment";
    let page = |more: &str| stdout(&thickset(&format!("{line}{more}"))).replace('\u{a0}', " ");
    let open = page("");
    assert!(open.contains("Good for 0 to 6000 ft at -10 to 100 °F."), "{open}");
    for taken in ["sea level", "59 °F; dry", "inHg"] {
        assert!(!open.contains(taken), "{taken}: {open}");
    }
    let given = page(" --altitude 500ft");
    assert!(given.contains("500 ft") && given.contains("Good for -10 to 100 °F."), "{given}");
}

#[test]
fn the_last_distance_asked_stands_in_the_table() {
    let rows = |line: &str| -> Vec<f64> {
        let document = json(&format!("strike --load 308-168-match {line}"));
        let rows = document["rows"].as_array().expect("rows").iter();
        rows.map(|row| (row["distance_m"].as_f64().expect("m") / 0.9144).round()).collect()
    };
    assert_eq!(rows("--to 500yd --step 700yd"), [0.0, 500.0]);
    assert_eq!(rows("--from 50yd --to 120yd --step 50yd"), [50.0, 100.0, 120.0]);
    assert_eq!(rows("--to 300yd"), [0.0, 100.0, 200.0, 300.0]);
    assert_eq!(rows("--step 700yd"), [0.0, 700.0]);
}
