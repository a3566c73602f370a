//! Sheets that are handed out: their date, their size, and what an energy on them is of.

use super::{json, status, stderr, stdout, thickset};
use std::fs;

/// The words of a page of HTML, spaces as one.
fn page(line: &str) -> String {
    let output = thickset(line);
    assert!(status(&output) != 2, "{line}: {}", stderr(&output));
    words_of(&stdout(&output))
}

fn words_of(html: &str) -> String {
    let body = html.split("<body").nth(1).unwrap_or(html);
    let mut words = String::new();
    let mut inside = false;
    for letter in body.chars() {
        match letter {
            '<' => inside = true,
            '>' => {
                inside = false;
                words.push(' ');
            }
            other if !inside => words.push(other),
            _ => {}
        }
    }
    words.replace('\u{a0}', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

const SHOP: &str = "--shop examples/shop.toml --product \"Gong 12\"";

#[test]
fn every_sheet_handed_out_bears_its_date_or_a_line_to_write_it_on() {
    for line in [
        format!("advise --load 308-168-match --at 200yd {SHOP} --for \"A. Example\""),
        "standoff --load 308-168-match --load 9mm-115 --chart".to_owned(),
        "standoff --load 308-168-match --plate 3/8in --tag".to_owned(),
    ] {
        let empty = page(&line);
        assert!(empty.contains("Date: ____") || empty.contains("Date ____"), "{line}: {empty}");
        let dated = page(&format!("{line} --dated \"1 May\""));
        assert!(dated.contains("Dated: 1 May") || dated.contains("Dated 1 May"), "{line}: {dated}");
        assert!(!dated.contains("____"), "{line}: {dated}");
    }
    // A table for a page of one's own has no line to write on.
    let product = format!("standoff {SHOP} --fragment");
    assert!(!page(&product).contains("Date"), "{product}");
    assert!(page(&format!("{product} --dated \"1 May\"")).contains("Dated: 1 May"), "{product}");
    for idle in ["standoff --load 308-168-match --dated today", "course examples/match.toml --dated today"] {
        let output = thickset(idle);
        assert!(status(&output) == 2 && stderr(&output).contains("--dated"), "{idle}: {}", stderr(&output));
    }
}

#[test]
fn every_sheet_of_a_match_bears_its_date_and_is_in_its_units() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sheets");
    for (options, date, heavy, other) in [
        ("", "Date ____", "above 50 lb", "20 kg"),
        ("--units si --dated \"1 May\"", "Dated 1 May", "above 20 kg", " lb"),
    ] {
        let line = format!("course examples/match.toml --sheets {} {options}", path.display());
        assert_ne!(status(&thickset(&line)), 2, "{line}");
        for sheet in fs::read_dir(&path).expect("sheets") {
            let name = sheet.expect("a sheet").path();
            let text = words_of(&fs::read_to_string(&name).expect("a text"));
            assert!(text.contains(date), "{}: {text}", name.display());
            if name.ends_with("haul.html") {
                assert!(text.contains(heavy) && !text.contains(other), "{text}");
            }
        }
    }
}

#[test]
fn a_tag_of_many_loads_keeps_the_strictest_and_counts_the_rest() {
    let loads = "22lr-40-hv 357mag-158 9mm-115 45acp-230 556-55 308-168-match 300wm-180 338lm-250 270-130 243-100";
    let known = json("catalog loads");
    let known: Vec<&str> = known["loads"].as_array().expect("loads").iter().filter_map(|l| l["id"].as_str()).collect();
    let loads: Vec<&str> =
        loads.split(' ').filter(|load| known.contains(load)).chain(known.iter().copied().step_by(9)).collect();
    let line = loads.iter().fold("standoff --plate 3/8in".to_owned(), |line, load| format!("{line} --load {load}"));
    let tag = page(&format!("{line} --tag"));
    let rows = json(&line);
    let cells = || {
        rows["rows"]
            .as_array()
            .expect("rows")
            .iter()
            .filter_map(|row| Some((row["plates"][0]["nearest_m"].as_f64()?, row["name"].as_str()?)))
    };
    let table = tag.split(" more: see the sheet.").next().unwrap_or_default();
    let shown = |name: &str| table.contains(name);
    let left: usize = tag
        .split("And ")
        .find_map(|part| part.split_once(" more: see the sheet.")?.0.parse().ok())
        .unwrap_or_else(|| panic!("nothing is counted: {tag}"));
    let (kept, dropped): (Vec<_>, Vec<_>) = cells().partition(|(_, name)| shown(name));
    assert!(
        !kept.is_empty() && dropped.len() <= left && kept.len() + left >= cells().count(),
        "{left} of {}",
        cells().count()
    );
    let strictest = cells().fold(0.0_f64, |most, (metres, _)| most.max(metres));
    assert!(kept.iter().any(|(metres, _)| (metres - strictest).abs() < 1e-9), "{tag}");
    let nearest_kept = kept.iter().fold(f64::INFINITY, |least, (metres, _)| least.min(*metres));
    assert!(dropped.iter().all(|(metres, _)| *metres <= nearest_kept + 1e-9), "{dropped:?} {kept:?}");
    // Few loads stand whole.
    assert!(!page("standoff --plate 3/8in --load 308-168-match --load 9mm-115 --tag").contains("see the sheet"));
}

#[test]
fn an_energy_of_shot_says_whether_it_is_of_a_pellet_or_of_all() {
    let buck = "--load 12ga-buck-00";
    for (line, words) in [
        (format!("standoff {buck} --plate 3/8in --tag"), "211 ft·lbf a pellet"),
        (
            format!("standoff {buck} --plate 3/8in --product \"Gong 12\" --shop examples/shop.toml --fragment"),
            "ft·lbf a pellet",
        ),
        (format!("vet {buck} --at 30yd --plate 3/8in --explain"), "145 ft·lbf a pellet"),
        (format!("vet {buck} --at 30yd --plate 3/8in --full"), "1308 ft·lbf (9 pellets together)"),
        (format!("strike {buck} --to 50yd"), "Energy: of all 9 pellets together; a plate is judged by one."),
        (format!("strike {buck} --to 50yd --format html"), "energy of one pellet"),
        (format!("advise {buck}@30yd --load 308-168-match@100yd --full"), "Energy: of shot, all pellets together"),
        (format!("advise {buck}@30yd --plate 3/16in --explain"), "fast shot 145 ft·lbf a pellet, at most"),
    ] {
        let text = page(&line);
        assert!(text.contains(words), "{line}: {words}\n{text}");
        let rifle = page(&line.replace("12ga-buck-00", "9mm-115").replace("--load 308-168-match@100yd", ""));
        assert!(!rifle.contains("pellet"), "{line}\n{rifle}");
    }
    for (line, all) in [
        (format!("vet {buck} --at 30yd --plate 3/8in"), "9 pellets together"),
        (format!("strike {buck} --at 30yd"), "9 pellets together"),
        (format!("standoff {buck} --plate 3/8in"), "one pellet"),
    ] {
        let text = stdout(&thickset(&format!("{line} --format csv")));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let index = reader.headers().expect("a head").iter().position(|name| name == "energy_of").expect("its column");
        assert_eq!(&reader.records().next().expect("a row").expect("cells")[index], all, "{line}");
    }
    // A range's limit at the muzzle is of the whole charge.
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("range.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"charge\"\nsubject = \"muzzle-energy\"\n\
                sense = \"at-most\"\nsuits = \"1500 ft·lbf\"\nwhy = \"the berm is low\"\n";
    fs::write(&path, rule).expect("a file");
    let text = page(&format!("vet {buck} --at 30yd --plate 3/8in --range-rules {}", path.display()));
    assert!(
        text.contains("of 1500 ft·lbf of all pellets") && text.contains("ft·lbf of all pellets at most 1500"),
        "{text}"
    );
}
