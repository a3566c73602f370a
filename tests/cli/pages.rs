//! What people read: how long it is, that it is well formed, and what a page for a customer bears.

use super::{json, status, stderr, stdout, thickset};
use std::fs;
use std::path::Path;

/// The page of a command line.
fn page(line: &str) -> String {
    let output = thickset(line);
    let text = stdout(&output);
    assert!(text.contains('<'), "{line}\n{}", stderr(&output));
    text.replace('\u{a0}', " ")
}

/// An HTML page as XML: void elements closed. A page that is not well formed is refused by the reader.
fn well_formed(name: &str, text: &str) {
    let mut xml = String::new();
    let body = text.trim_start_matches("<!DOCTYPE html>").replace("<br>", "<br/>");
    for part in body.split_inclusive('>') {
        if part.trim_start().starts_with("<meta") {
            xml.push_str(&part.replace('>', "/>"));
        } else {
            xml.push_str(part);
        }
    }
    let document = roxmltree::Document::parse(&xml).unwrap_or_else(|e| panic!("{name}: {e}\n{text}"));
    let mut ids: Vec<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "{name}: an id stands twice");
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        let tag = node.tag_name().name();
        assert!(!["script", "iframe", "object", "link", "img"].contains(&tag), "{name}: <{tag}>");
        assert!(!node.attributes().any(|a| a.name().starts_with("on") || a.name() == "src"), "{name}: <{tag}>");
        let has = |child: &str| node.children().any(|c| c.tag_name().name() == child);
        assert!(
            tag != "svg" || node.attribute("aria-label").is_some() || has("title"),
            "{name}: a figure without a title"
        );
        assert!(tag != "ul" || has("li"), "{name}: an empty list");
        assert!(tag != "tr" || has("td") || has("th"), "{name}: an empty row");
    }
}

const PRODUCT: &str = "--shop examples/shop.toml --product \"Gong 12\"";
const DRAWN: &str = "--shop examples/shop.toml --outline examples/outlines/shield.dxf";

#[test]
fn every_page_is_well_formed_and_alone() {
    for line in [
        &format!("advise --load 308-168-match@200yd --load 300wm-180@100yd {DRAWN} --format html --full"),
        &format!("advise --load 308-168-match@200yd {PRODUCT} --for \"A. Example\" --quantity 4"),
        "vet --load 300wm-180 --at 100yd --plate 3/8in --format html --explain",
        "standoff --load 556-55 --plate 3/8in --format html",
        "standoff --format html",
        "standoff --chart",
        "standoff --load 308-168-match --load 223-55 --plate 3/8in --tag",
        &format!("standoff {PRODUCT} --format html"),
        &format!("standoff {PRODUCT} --fragment"),
        "strike --load 308-168-match --format html",
        "chrono 2648fps 2655fps 2641fps --load 308-168-match --format html",
        "course examples/match.toml --format html",
        "catalog rules --format html",
    ] {
        well_formed(line, &stdout(&thickset(line)));
    }
    let folder = tempfile::tempdir().expect("a folder");
    thickset(&format!("course examples/match.toml --sheets {}", folder.path().display()));
    let mut sheets = 0;
    for entry in fs::read_dir(folder.path()).expect("sheets") {
        let path = entry.expect("a sheet").path();
        well_formed(&path.display().to_string(), &fs::read_to_string(&path).expect("a sheet"));
        sheets += 1;
    }
    assert!(sheets >= 4, "{sheets}");
}

#[test]
fn a_customers_page_bears_the_shop_and_no_option() {
    let line =
        format!("advise --load 308-168-match --at 200yd {PRODUCT} --for \"A. Example\" --quantity 4 --dated \"1 May\"");
    let text = page(&line);
    let body = text.split("<body>").nth(1).expect("a body");
    for words in ["Example Target Shop", "For A. Example", "Dated 1 May", "Gong 12", "308 Win 168 gr match at 200 yd"] {
        assert!(body.contains(words), "{words}\n{body}");
    }
    // The nearest distance is the one of the cautions, whatever air was not given.
    let answer = json(&format!("advise --load 308-168-match --at 200yd {PRODUCT} --quantity 4"));
    assert_eq!(answer["inputs"]["shop"], "Example Target Shop");
    let nearest = answer["nearest"].as_str().expect("words");
    let yards = nearest.split("Nobody nearer than ").nth(1).and_then(|t| t.split(" yd").next()).expect("a distance");
    assert!(body.contains(&format!("{yards} yd; nobody nearer while hot")), "{yards}\n{body}");
    for sheet in [line.as_str(), "standoff --load 308-168-match --plate 3/8in --tag", "standoff --chart"] {
        let text = page(sheet);
        let body = text.split("<body>").nth(1).expect("a body");
        assert!(!body.contains("--"), "{sheet}\n{body}");
        assert!(body.to_lowercase().contains("glasses"), "{sheet}");
    }
}

/// Writes a shop's file whose product bears a name.
fn shop(folder: &Path, name: &str) -> String {
    let path = folder.join("shop.toml");
    let points = "[0, 0], [10, 0], [10, 12], [0, 12]";
    let outline = format!("{{ schema = \"thickset/outline/1\", name = '{name}', unit = \"in\", points = [{points}] }}");
    let text = format!(
        "schema = \"thickset/shop/1\"\nname = '{name}'\ncurrency = \"$\"\n[[product]]\nname = '{name}'\n\
         outline = {outline}\nmade = [{{ thickness = \"3/8 in\", price = 42 }}]\n"
    );
    fs::write(&path, text).expect("a file");
    path.display().to_string()
}

#[test]
fn a_name_that_would_be_markup_is_text_in_pages_and_figures() {
    let folder = tempfile::tempdir().expect("a folder");
    let name = "<script>alert(1)</script>";
    let shop = shop(folder.path(), name);
    for line in [
        format!("advise --load 308-168-match --at 200yd --shop {shop} --product \"{name}\" --for \"{name}\""),
        format!("advise --load 308-168-match --at 200yd --shop {shop} --product \"{name}\" --format html"),
        format!("standoff --load 308-168-match --shop {shop} --product \"{name}\" --fragment"),
    ] {
        let text = page(&line);
        assert!(!text.contains("<script"), "{line}\n{text}");
        assert!(text.contains("&lt;script&gt;"), "{line}\n{text}");
        well_formed(&line, &text);
    }
    let figure =
        page(&format!("advise --load 308-168-match --at 200yd --shop {shop} --product \"{name}\" --format html"));
    assert!(figure.contains("class=\"steel\""), "the outline is drawn");
}

#[test]
fn a_chart_of_every_load_is_grouped_and_the_air_it_holds_in_is_told() {
    let text = page("standoff --chart");
    let rows = text.matches("<tr").count();
    assert!((30..100).contains(&rows), "{rows}");
    for words in
        ["Rifle", "Handgun", "Slugs", "Rounded up to 5, 50 or 100 yd", "Good for 0 to 6000 ft at -10 to 100 °F"]
    {
        assert!(text.contains(words), "{words}");
    }
    assert!(text.contains("lot many") && text.contains(".many{columns:2;font-size:8pt}"), "legible at arm's length");
    // Each load that has a distance stands in it, with those of its row.
    for name in ["308 Win 168, 175 gr match", "9 mm Luger 115, 124, 147 gr", "30-30 Win 150, 170 gr"] {
        assert!(text.contains(name), "{name}");
    }
    let given = page("standoff --chart --altitude 500ft --temperature 20F..90F");
    assert!(!given.contains("Distances hold up to"));
}

#[test]
fn a_sheet_is_no_nearer_than_the_answer_in_any_air_that_was_not_given() {
    let tag = page("standoff --load 308-168-match --plate 3/8in --tag");
    let answer = json("standoff --load 308-168-match --plate 3/8in");
    let told = answer["nearest"].as_str().expect("words").replace("Nobody nearer than ", "").replace('.', "");
    assert!(tag.contains(&told), "{told}\n{tag}");
    let cell = &answer["rows"][0]["plates"][0];
    assert!(cell["nearest_m"].as_f64() >= cell["closest"]["distance_m"].as_f64());
    assert_eq!(answer["nearest_m"], cell["nearest_m"]);
}

/// Answers whose words are looked through for units that were not asked for.
const METRIC: &[&str] = &[
    "advise --load 308-168-match@100m --load 300wm-180@100m",
    "advise --load 308-168-match@200m --shop examples/shop.toml --outline examples/outlines/shield.dxf --quantity 3",
    "vet --load 9mm-115 --at 10m --plate 10mm --kind popper",
    "vet --load 45acp-230 --at 10m --plate 5mm --tilt=-5deg --oblique 40deg --condition pitted",
    "standoff --load 556-55 --plate 10mm --shooters 40 --rounds 100",
    "standoff --load 556-55 --plate 10mm --at 100m",
    "strike --load 308-168-match",
    "chrono 848m/s 851m/s 842m/s --load 308-168-match",
];

/// Numbers with units of inches, grains, pounds or Fahrenheit; thicknesses named by their label are left out.
fn foreign(text: &str) -> Vec<String> {
    const UNITS: [&str; 13] =
        ["in", "in²", "gr", "°F", "ft·lbf", "ft/s", "fps", "yd", "lb", "ft", "psi", "inHg", "grains"];
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_unit = |word: &str| UNITS.contains(&word.trim_end_matches([',', ';', '.', ':', ')', '(']));
    let pairs = words.windows(2).filter(|two| {
        let number = two[0].trim_start_matches(['(', '-', '–']);
        number.ends_with(|c: char| c.is_ascii_digit())
            && number.starts_with(|c: char| c.is_ascii_digit())
            && !number.contains('/')
            && is_unit(two[1])
    });
    pairs.map(|two| two.join(" ")).collect()
}

/// The words of a document, but for sources, which are quoted.
fn texts(value: &serde_json::Value, into: &mut Vec<String>) {
    match value {
        serde_json::Value::String(text) => into.push(text.clone()),
        serde_json::Value::Array(list) => list.iter().for_each(|one| texts(one, into)),
        serde_json::Value::Object(map) => {
            map.iter()
                .filter(|(key, _)| !matches!(key.as_str(), "source" | "basis"))
                .for_each(|(_, one)| texts(one, into));
        }
        _ => {}
    }
}

#[test]
fn metric_has_no_inch_grain_or_fahrenheit_left() {
    let listed = json("catalog loads");
    let names = listed["loads"].as_array().expect("loads").iter().filter_map(|load| load["name"].as_str());
    let names: Vec<&str> = names.collect();
    // The name of a load is a name.
    let foreign = |text: &str| match foreign(text) {
        none if none.is_empty() => none,
        _ => foreign(&names.iter().fold(text.to_owned(), |text, name| text.replace(name, "LOAD"))),
    };
    for line in METRIC {
        let short = stdout(&thickset(&format!("{line} --units si"))).replace('\n', " ");
        let short = short.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(foreign(&short), Vec::<String>::new(), "{line}");
        let mut list = Vec::new();
        texts(&json(&format!("{line} --units si")), &mut list);
        for text in list {
            assert_eq!(foreign(&text), Vec::<String>::new(), "{line}: {text}");
        }
    }
}

#[test]
fn a_fault_in_a_match_s_file_speaks_of_the_file_s_keys() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("match.toml");
    fs::write(&path, "schema = \"thickset/course/1\"\nname = \"x\"\nammunitions = 3\n").expect("a file");
    let output = thickset(&format!("course {}", path.display()));
    let text = stderr(&output);
    assert_eq!(status(&output), 2, "{text}");
    assert!(text.contains("ammunitions") && !text.contains("`--"), "{text}");
}

#[test]
fn what_no_distance_heals_is_told_before_what_one_would() {
    let output = thickset("vet --load 556-62-steel --at 10yd --plate 3/8in");
    let text = stdout(&output).replace('\n', " ");
    assert_eq!(status(&output), 1);
    let headline = text.split("Nobody").next().unwrap_or_default().split("At no").next().unwrap_or_default();
    assert!(headline.contains("never go on steel"), "{text}");
    assert!(text.contains("as it stands: shoot lead-core bullets") && !text.contains("Move back"), "{text}");
    assert!(text.contains("Not met either:"), "{text}");
    let advice = stdout(&thickset("advise --load 556-62-steel --at 10yd")).replace('\n', " ");
    assert!(advice.contains("never go on steel"), "{advice}");
}

#[test]
fn what_would_mend_a_plate_that_no_distance_suits_stands_in_the_first_lines() {
    let lead = |line: &str| {
        let text = stdout(&thickset(line));
        text.split("\n\n").next().unwrap_or_default().replace('\n', " ")
    };
    let uphill =
        lead("vet --load 308-168-match --at 200yd --plate 3/8in --slope=15deg --altitude 500ft --temperature 60F");
    assert!(uphill.contains("At no distance on 3/8 in as it stands: lean the face 12° toward you."), "{uphill}");
    let together = lead(
        "vet --load 300wm-180 --at 100yd --plate 1/4in --condition pitted --steel AR400 --mount welded --oblique 30deg",
    );
    assert!(together.contains("as it stands: hang a sound plate of AR500, "), "{together}");
    let never = lead(
        "vet --load 556-55 --at 200yd --plate 3/8in --steel AR550 --mount welded --condition pitted --range-rules examples/gravel-pit.toml",
    );
    assert!(never.contains("At no distance on 3/8 in, and no change that was tried would do."), "{never}");
}

#[test]
fn what_the_first_lines_say_is_not_said_again_but_in_the_long_form() {
    let line = "advise --load 308-168-match --at 100yd --tilt 15deg";
    let whole = |detail: &str| stdout(&thickset(&format!("{line} {detail}"))).replace('\n', " ");
    let (short, full) = (whole(""), whole("--full"));
    let below = |text: &str| {
        text.split("Holds for: ").nth(1).unwrap_or_default().split("Safety:").next().unwrap_or_default().to_owned()
    };
    for words in ["sound", "AR500", "12 in round", "lean 15°", "29.92 inHg"] {
        assert!(!below(&short).contains(words), "{words}: {short}");
        assert!(below(&full).contains(words), "{words}: {full}");
    }
    for words in ["sound on both faces", "marked AR500", "12 in round", "leaning 15° toward you"] {
        assert!(short.contains(words), "{words}: {short}");
    }
    // What a plate is not known to be is no part of what it stands on.
    let unknown = stdout(&thickset("vet --load 308-168-match --at 200yd --plate 1/2in")).replace('\n', " ");
    assert!(unknown.contains("condition unknown"), "{unknown}");
}
