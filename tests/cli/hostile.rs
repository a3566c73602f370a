//! Names from files of others come out sanitized, whatever the form of the answer.

use super::{status, stderr, stdout, thickset};
use std::fs;
use std::path::{Path, PathBuf};
use thickset::source::is_unsafe_char;

/// A formula, markup, a quote, and what steers a terminal: as TOML writes it, and as it is read.
const WRITTEN: &str = r#"=1+1,=2,\"<script>alert(1)</script>\u001B[2J\u009B2J\u202E\u2066\u200B\n+3"#;
const READ: &str = "=1+1,=2,\"<script>alert(1)</script>\u{1b}[2J\u{9b}2J\u{202e}\u{2066}\u{200b}\n+3";

const COURSE: &str = r#"schema = "thickset/course/1"
name = "NAME"
range-rules = ["rules.toml"]
loads = ["a"]

[stand]
condition = "sound"

[[load]]
id = "a"
name = "NAME"
cartridge = "NAME"
firearm = "rifle"
construction = "unknown"
bullet = "105 gr"
muzzle-velocity = "2930 ft/s"
drag = "G7"
bc = "0.275"
source = "NAME"

[[stage]]
name = "NAME"

[[stage.target]]
name = "NAME"
plate = "1/4 in"
positions = [{ name = "NAME", at = "180 yd" }, { name = "NAME", at = "340 yd" }]
"#;

const RULES: &str = r#"schema = "thickset/rules/1"
name = "NAME"

[[rule]]
id = "own"
subject = "distance"
sense = "at-least"
suits = "5000 yd"
why = "NAME"
next = "NAME"
source = "NAME"
"#;

const INQUIRY: &str = r#"schema = "thickset/inquiry/1"

[[target]]
name = "NAME"
stand = { face = "12in" }

[[shot]]
load = "a"
at = ["200 yd"]
"#;

/// Files whose every name is hostile.
fn files(folder: &Path) -> [PathBuf; 4] {
    let loads = COURSE.split("[[load]]").nth(1).and_then(|rest| rest.split("[[stage]]").next()).expect("a load");
    let loads = format!("schema = \"thickset/loads/1\"\n[[load]]{loads}");
    [("match.toml", COURSE), ("rules.toml", RULES), ("inquiry.toml", INQUIRY), ("loads.toml", &loads)].map(
        |(name, text)| {
            let path = folder.join(name);
            fs::write(&path, text.replace("NAME", WRITTEN)).expect("a file");
            path
        },
    )
}

fn commands(folder: &Path) -> Vec<String> {
    let [course, rules, inquiry, loads] = files(folder).map(|path| path.display().to_string());
    let own = format!("--load-file {loads} --range-rules {rules} --explain");
    vec![
        format!("course {course} --explain"),
        format!("advise {inquiry} {own}"),
        format!("standoff --load a {own}"),
        format!("vet --load a@100yd --plate 3/8in {own}"),
        format!("strike --load a --load-file {loads}"),
        format!("catalog loads --load-file {loads}"),
        format!("catalog rules --range-rules {rules}"),
        format!("catalog sources --range-rules {rules}"),
    ]
}

fn assert_harmless(text: &str, of: &str) {
    let found: Vec<char> = text.chars().filter(|&c| c != '\n' && is_unsafe_char(c)).collect();
    assert!(found.is_empty(), "{of}: {found:?} in\n{text}");
}

/// Whether a spreadsheet would reckon with a cell, numbers aside.
fn is_formula(cell: &str) -> bool {
    let number = cell.split([' ', '°']).next().is_some_and(|first| first.parse::<f64>().is_ok());
    cell.trim_start().starts_with(['=', '+', '-', '@']) && !number
}

#[test]
fn hostile_names_come_out_harmless_in_every_form() {
    let folder = tempfile::tempdir().expect("a folder");
    for command in commands(folder.path()) {
        for format in ["table", "csv", "html", "json"] {
            // Only what people read has a long form.
            let long = matches!(format, "table" | "html");
            let command = if long { command.clone() } else { command.replace("--explain", "") };
            let of = format!("{command} --format {format}");
            let output = thickset(&of);
            let text = stdout(&output);
            assert_ne!(status(&output), 2, "{of}: {}", stderr(&output));
            // A table of plates or of distances names no load.
            let names = format != "csv";
            assert!(!names || text.contains("alert(1)"), "{of} leaves the name out:\n{text}");
            assert_harmless(&text, &of);
            assert_harmless(&stderr(&output), &of);
            match format {
                "html" => assert!(!text.contains("<script"), "{of}"),
                "csv" => assert_csv_harmless(&text, &of),
                "json" => assert!(serde_json::from_str::<serde_json::Value>(&text).is_ok(), "{of}"),
                _ => {}
            }
        }
    }
}

/// No cell is a formula, and the comment lines above the tables leave no quote open.
fn assert_csv_harmless(text: &str, of: &str) {
    let mut reader = csv::ReaderBuilder::new().flexible(true).has_headers(false).from_reader(text.as_bytes());
    let records: Vec<_> = reader.records().map(|record| record.expect("a record")).collect();
    for cell in records.iter().flatten() {
        assert!(!is_formula(cell), "{of}: {cell:?}");
    }
    let comments = text.lines().filter(|line| line.starts_with("# "));
    assert_eq!(comments.count(), records.iter().filter(|r| r.get(0).is_some_and(|c| c.starts_with("# "))).count());
}

#[test]
fn json_keeps_a_hostile_name_to_the_letter() {
    let folder = tempfile::tempdir().expect("a folder");
    let [course, ..] = files(folder.path());
    let text = stdout(&thickset(&format!("course {} --format json", course.display())));
    let document: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    assert_eq!(document["targets"][0]["stage"], READ);
}

#[test]
fn faults_about_hostile_names_are_harmless() {
    let nasty = "\u{1b}[2J\u{9b}2J\u{202e}<b>";
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(format!("a{nasty}.toml"));
    fs::write(&path, format!("schema = \"thickset/inquiry/1\"\n# {nasty}\nx{nasty} = 1\n")).expect("a file");
    for line in [
        format!("vet --load a{nasty} --plate 3/8in --at 100yd"),
        format!("vet --load 9mm-115 --plate {nasty} --at 100yd"),
        format!("vet --load 9mm-115 --plate 3/8in --at {nasty}"),
        format!("advise \"{}\"", path.display()),
        format!("advise no-{nasty}.toml"),
        format!("catalog {nasty}"),
        format!("--{nasty}"),
        format!("chrono 2650fps {nasty}"),
    ] {
        for format in ["table", "json"] {
            let output = thickset(&format!("{line} --format {format}"));
            assert_eq!(status(&output), 2, "{line}");
            assert!(!stderr(&output).is_empty(), "{line}");
            assert_harmless(&stderr(&output), &line);
        }
    }
}
