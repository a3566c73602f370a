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
    let (table, told) = tag.split_once("Shown: the ").unwrap_or_else(|| panic!("nothing is counted: {tag}"));
    let shown = |name: &str| table.contains(name);
    let number = |after: &str| told.split(after).nth(1)?.split_whitespace().next()?.parse::<usize>().ok();
    let left = number("The distances of the other ").expect("how many are left");
    assert!(
        told.contains("loads that are to be shot from farthest") && told.contains("printed without the tag"),
        "{told}"
    );
    assert!(number(" of ").is_some_and(|all| all == cells().count()) && !tag.contains("see the sheet"), "{tag}");
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
    // As many as there is room for.
    assert!(cells().count() - left >= 8, "{tag}");
}

/// Few loads stand whole, whatever else stands on the tag.
#[test]
fn a_tag_of_few_loads_has_them_all() {
    let folder = tempfile::tempdir().expect("a folder");
    let range = folder.path().join("range.toml");
    let caution = |id: &str, why: &str| {
        format!("[[rule]]\nid = \"{id}\"\nsubject = \"case\"\nsense = \"caution\"\nwhy = \"{why}\"\n")
    };
    let rules = caution("eyes", "eye and ear protection on everybody, at all times")
        + &caution("cold", "nobody goes forward before the officer calls the range cold");
    fs::write(&range, format!("schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n{rules}")).expect("a file");
    let loads =
        "--load 22lr-hv-40 --load 22lr-std-40 --load 9mm-115 --load 45acp-230 --load 308-168-match --load 243-100";
    for (loads, rows, class) in [
        (loads.to_owned(), 6, "tag close"),
        (format!("{loads} --range-rules {}", range.display()), 6, "tag close"),
        ("--load 308-168-match --load 9mm-115".to_owned(), 2, "tag"),
    ] {
        let line = format!("standoff --plate 3/8in {loads} --tag");
        let html = stdout(&thickset(&line));
        let body = html.split("<tbody>").nth(1).and_then(|rest| rest.split("</tbody>").next()).expect("rows");
        assert_eq!(body.matches("<tr").count(), rows, "{line}: {body}");
        assert!(html.contains(&format!("<main class=\"{class}\">")) && !html.contains("Shown:"), "{line}");
    }
}

/// Nothing is handed out on which no load has a distance: why, and what to give.
#[test]
fn a_sheet_without_a_row_is_refused_with_the_reason_and_nothing_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let (range, sheet) = (folder.path().join("range.toml"), folder.path().join("sheet.html"));
    let rule = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n[[rule]]\nid = \"must-lean\"\nsubject = \"lean\"\n\
                sense = \"at-least\"\nsuits = \"15 deg\"\nwhy = \"splash goes down\"\n";
    fs::write(&range, rule).expect("a file");
    let under = format!("--range-rules {}", range.display());
    for line in [
        format!("standoff {under} --chart"),
        format!("standoff {under} --plate 3/8in --load 308-168-match --load 9mm-115 --chart"),
        format!("standoff {under} --plate 3/8in --load 308-168-match --tag"),
        format!("standoff {under} {SHOP} --fragment"),
    ] {
        for (to, is_file) in [(String::new(), false), (format!(" -o {}", sheet.display()), true)] {
            let output = thickset(&format!("{line}{to}"));
            let told = stderr(&output);
            assert_eq!((status(&output), stdout(&output).as_str()), (1, ""), "{line}: {told}");
            assert!(told.contains("the range's rule must-lean") && told.contains("splash goes down"), "{line}: {told}");
            assert!(told.contains("give `--tilt`"), "{line}: {told}");
            assert!(!is_file || !sheet.exists(), "{line}");
        }
        assert_eq!(status(&thickset(&format!("{line} --tilt 15deg"))), 0, "{line}");
        // The same answer has the same status without the sheet.
        let bare = line.replace(" --chart", "").replace(" --tag", "").replace(" --fragment", " --format csv");
        assert_eq!(status(&thickset(&bare)), 1, "{bare}");
    }
    // Ammunition that is borderline at best, and what no rule of the range's is against.
    for (line, code, words) in [
        ("standoff --any .308 --plate 3/8in --tag", 3, "solid copper"),
        ("standoff --load 556-62-steel --plate 3/8in --tag", 1, "never-on-steel fails every plate"),
        ("standoff --condition cracked --chart", 1, "condition-retire"),
    ] {
        let output = thickset(line);
        assert_eq!((status(&output), stdout(&output).as_str()), (code, ""), "{line}");
        assert!(stderr(&output).contains(words), "{line}: {}", stderr(&output));
    }
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

#[test]
fn every_sheet_says_what_a_drawing_left_out_as_the_answer_does() {
    let folder = tempfile::tempdir().expect("a folder");
    let (drawing, shop) = (folder.path().join("gong.svg"), folder.path().join("shop.toml"));
    let shapes = "<rect width=\"10\" height=\"10\"/><circle cx=\"5\" cy=\"5\" r=\"2\" display=\"none\"/>";
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10in\" height=\"10in\" viewBox=\"0 0 10 10\">{shapes}</svg>"
    );
    fs::write(&drawing, svg).expect("a file");
    let product = "schema = \"thickset/shop/1\"\nname = \"S\"\ncurrency = \"$\"\n[[product]]\nname = \"P\"\noutline = \"gong.svg\"\nmade = [{ thickness = \"3/8 in\" }]\n";
    fs::write(&shop, product).expect("a file");
    let (load, drawn) = ("--load 308-168-match", format!("--outline {}", drawing.display()));
    for line in [
        format!("vet {load} --at 200yd --plate 3/8in {drawn}"),
        format!("advise {load} --at 200yd {drawn} --for X"),
        format!("standoff {load} --plate 3/8in {drawn} --tag"),
        format!("standoff {load} {drawn} --chart"),
        format!("standoff {load} --shop {} --product P --fragment", shop.display()),
        format!("standoff {load} --shop {} --product P --tag", shop.display()),
    ] {
        let text = page(&line);
        assert!(text.contains("Left out: Of the drawing gong: 1 circle not displayed."), "{line}\n{text}");
    }
    let left_out = json(&format!("vet {load} --at 200yd --plate 3/8in {drawn}"))["left_out"].clone();
    assert_eq!(left_out, serde_json::json!(["Of the drawing gong: 1 circle not displayed"]));
}

#[test]
fn a_sheet_that_allows_nothing_faster_lists_how_fast_and_how_heavy_each_load_is() {
    let load = "--name \"elk load\" --bullet 180gr --velocity 2900fps --bc .5 --drag G1 --construction lead";
    let sheet = page(&format!("advise {load} --at 300yd --for X"));
    assert!(sheet.contains("elk load at 300 yd: 180 gr at 2900 ft/s, G1 0.500"), "{sheet}");
    let buck = page("advise --load 12ga-buck-00 --at 30yd --for X");
    assert!(buck.contains("9 × ") && buck.contains("gr at 1330 ft/s"), "{buck}");
    let chart = page(&format!("standoff {load} --firearm rifle --chart"));
    assert!(chart.contains("speed at most") && chart.contains("2900 ft/s") && chart.contains("3360 ft·lbf"), "{chart}");
    // The rows of many loads list none.
    let many = page("standoff --chart");
    assert!(
        many.contains("Nothing faster or heavier than a load it names.") && !many.contains("speed at most"),
        "{many}"
    );
}

#[test]
fn a_tag_has_the_cautions_and_the_assumptions_of_its_case() {
    for (line, told) in [
        (
            "--load 308-168-match --mount chain",
            ["Shield the chain.", "Clear dry grass; have water.", "plumb; square; level; ICAO air"],
        ),
        (
            "--load 9mm-115 --temperature 20F",
            ["Nobody ahead of the muzzle.", "No frozen ground or ice under it.", "Lean it 10–20° toward you."],
        ),
        ("--load 308-168-match --mount bolted", ["Hide bolt heads.", "nobody behind it", "condition unknown"]),
    ] {
        let tag = page(&format!("standoff --plate 3/8in {line} --tag"));
        for words in told {
            assert!(tag.contains(words), "{line}: {words}\n{tag}");
        }
    }
}
