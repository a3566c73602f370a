//! Arbitrary bytes, mutated files and arbitrary arguments: refused with a message, never a panic, never a hang,
//! never more memory than [`MAX_BYTES`].
//!
//! `THICKSET_FUZZ_TIMES` multiplies the cases, `THICKSET_FUZZ_SEED` draws others. Inputs that once failed stand in
//! `corpus/`, and are tried first.

// The large texts are built once.
#![allow(clippy::format_collect)]

use peak_alloc::PeakAlloc;
use std::fmt::Debug;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use thickset::advisor::{Advisor, inquiry_question};
use thickset::catalog::Catalog;
use thickset::chrono::Readings;
use thickset::cli;
use thickset::course::{Course, Reading};
use thickset::drag::DragCurve;
use thickset::plate::{Ladder, Outline};
use thickset::quantity::{Mass, Velocity};
use thickset::rules::RuleSet;
use thickset::shop::price::Shop;
use thickset::source::SourceText;
use thickset::source::table::{Column, Table};
use thickset::words::Units;

/// Counts what is allocated; the library itself keeps no such count.
#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Longer than this is a hang.
const HANG: Duration = Duration::from_secs(20);
/// The most that all cases together may hold at any moment: sixteen times the largest file that is read. Tests
/// run side by side in one process, so one case alone has less.
const MAX_BYTES: usize = 256 * 1024 * 1024;

/// Runs one case: it must end within `longest`, and the process must never have held more than [`MAX_BYTES`].
fn bounded<T>(case: &dyn Debug, longest: Duration, run: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let result = run();
    assert!(begun.elapsed() < longest, "a hang on {case:?}");
    let peak = MEMORY.peak_usage();
    assert!(peak <= MAX_BYTES, "{peak} bytes were held at once, by {case:?} or a case beside it");
    result
}

/// Draws of one case, the same in every run.
struct Draws(u64);

impl Draws {
    /// splitmix64 (G. Steele and others, 2014).
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number up to and with `most`.
    fn upto(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % (most as u64 + 1)).unwrap_or(0)
    }

    /// Once in so many times.
    fn once_in(&mut self, times: usize) -> bool {
        self.upto(times - 1) == 0
    }

    fn choose<'t, T>(&mut self, from: &'t [T]) -> &'t T {
        &from[self.upto(from.len() - 1)]
    }

    fn bytes(&mut self, most: usize) -> Vec<u8> {
        (0..self.upto(most)).map(|_| self.next().to_le_bytes()[0]).collect()
    }
}

/// Says which case ended the test.
struct Case(u64);

impl Drop for Case {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("case {} of THICKSET_FUZZ_SEED={}", self.0, seed());
        }
    }
}

fn number(variable: &str) -> Option<u64> {
    std::env::var(variable).ok()?.parse().ok()
}

fn seed() -> u64 {
    number("THICKSET_FUZZ_SEED").unwrap_or(1)
}

/// Runs so many cases, or as many times more as `THICKSET_FUZZ_TIMES` says.
fn cases(count: u64, mut case: impl FnMut(&mut Draws)) {
    for index in 0..count * number("THICKSET_FUZZ_TIMES").unwrap_or(1) {
        let _told = Case(index);
        case(&mut Draws(seed().wrapping_mul(0x2545_f491_4f6c_dd1d).wrapping_add(index)));
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every reader of text files, given one text.
fn read_all(text: &str) {
    bounded(&text, HANG, || read_unbounded(text));
}

fn read_unbounded(text: &str) {
    let source = SourceText::new("fuzz", text);
    let _ = RuleSet::house().and_then(|r| r.with_overlay(&source)).map_err(|d| d.to_string());
    let mut catalog = Catalog::builtin().expect("the catalogue");
    let _ = catalog.add(&source, None).map_err(|d| d.to_string());
    let ladder = Ladder::builtin().expect("the ladder");
    let _ = Ladder::read(&source).map_err(|d| d.to_string());
    let _ = Outline::from_toml(&source).map_err(|d| d.to_string());
    let advisor = Advisor::house().expect("the advisor");
    let _ = inquiry_question(&source).and_then(|question| advisor.advise(&question)).map_err(|d| d.to_string());
    let _ = Course::read(&source, Reading { catalog, ladder: &ladder, open: None, folder: None, units: Units::Us })
        .map_err(|d| d.to_string());
    let _ = Shop::read(&source).map_err(|d| d.to_string());
    let _ = DragCurve::from_csv(&source).map_err(|d| d.to_string());
    read_table(&source);
    for column in [None, Some("velocity")] {
        let _ = Readings::read(&source, column).map_err(|d| d.to_string());
    }
}

/// Tables as spreadsheets write them: every cell as the quantity it may be.
fn read_table(source: &SourceText) {
    let columns = [
        Column::words("load", &["name"]),
        Column::measured::<Mass>("bullet", &["bullet weight"]),
        Column::measured::<Velocity>("velocity", &["speed"]),
    ];
    let Ok(table) = Table::read(source, &columns, &[]).map_err(|d| d.to_string()) else { return };
    table.faults().shown().iter().for_each(|fault| drop(fault.to_string()));
    for cell in table.rows().take(1000).flat_map(|row| row.cells().collect::<Vec<_>>()) {
        let _ = cell.quantity::<Mass>().map_err(|d| d.to_string());
        let _ = cell.quantity::<Velocity>();
        let _ = cell.number();
    }
}

/// The reader of drawings, given a file.
fn read_drawing(path: &Path) {
    let bytes = std::fs::read(path).expect("a drawing");
    let _ = bounded(&String::from_utf8_lossy(&bytes), HANG, || Outline::read(path).map_err(|d| d.to_string()));
}

/// Files that are read whole, to be spoiled.
fn files() -> Vec<String> {
    let names = [
        "data/house-rules.toml",
        "data/plates.toml",
        "data/drag-g7.csv",
        "examples/match-loads.csv",
        "examples/gravel-pit.toml",
        "examples/inquiry.toml",
        "examples/match.toml",
        "examples/shop.toml",
        "examples/outlines/shield.toml",
        "examples/outlines/lantern.toml",
    ];
    names.iter().map(|n| std::fs::read_to_string(root().join(n)).expect("a file of the package")).collect()
}

fn corpus() -> Vec<PathBuf> {
    let folder = root().join("tests/fuzz/corpus");
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("the corpus").map(|e| e.expect("an entry").path()).collect();
    paths.sort();
    paths
}

/// Pieces that break what reads carelessly.
const NASTY: &[&str] = &[
    "\"",
    "[[",
    "]]",
    "=",
    "nan",
    "inf",
    "-",
    "1e999",
    "0",
    "-1",
    "99999999999999999999",
    "\n",
    ",",
    "..",
    "é",
    "\u{0}",
    "yd",
    "3/0 in",
    "\"100 yd\"",
    "{",
    "}",
    "true",
    "#",
];

/// A text with a few places spoiled.
fn spoiled(u: &mut Draws, text: &str) -> String {
    let mut text = text.to_owned();
    for _ in 0..=u.upto(3) {
        let at = (0..=u.upto(text.len())).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0);
        let end = (at..=text.len()).filter(|i| text.is_char_boundary(*i)).nth(u.upto(12)).unwrap_or(at);
        let piece = if u.once_in(2) { (*u.choose(NASTY)).to_owned() } else { String::new() };
        text.replace_range(at..end, &piece);
    }
    text
}

#[test]
fn inputs_that_once_failed_are_refused_or_read() {
    let paths = corpus();
    assert!(!paths.is_empty());
    for path in paths {
        if path.extension().is_some_and(|e| e == "dxf") {
            read_drawing(&path);
            continue;
        }
        read_all(&String::from_utf8_lossy(&std::fs::read(path).expect("a corpus file")));
    }
}

#[test]
fn arbitrary_text_makes_no_reader_panic_or_hang() {
    cases(300, |u| {
        let bytes = u.bytes(400);
        read_all(&String::from_utf8_lossy(&bytes));
    });
}

#[test]
fn spoiled_files_make_no_reader_panic_or_hang() {
    let files = files();
    cases(240, |u| {
        let file = u.choose(&files).clone();
        read_all(&spoiled(u, &file));
    });
}

const COMMANDS: &[&str] = &["advise", "standoff", "vet", "strike", "course", "chrono", "catalog", "help", "--help"];
const OPTIONS: &[&str] = &[
    "--load",
    "--any",
    "--bullet",
    "--velocity",
    "--bc",
    "--drag",
    "--construction",
    "--firearm",
    "--projectiles",
    "--at",
    "--plate",
    "--face",
    "--mount",
    "--chain",
    "--duty",
    "--condition",
    "--steel",
    "--tilt",
    "--oblique",
    "--slope",
    "--air",
    "--altitude",
    "--temperature",
    "--pressure",
    "--humidity",
    "--velocity-sd",
    "--bc-sd",
    "--coverage",
    "--barrel",
    "--format",
    "--units",
    "--explain",
    "--from",
    "--to",
    "--step",
    "--shooters",
    "--rounds",
    "--risk",
    "--magnification",
    "--want-swing",
    "--base",
    "--confidence",
    "--range-rules",
];
const VALUES: &[&str] = &[
    "308-168-match",
    "308-168-match@100yd",
    "12ga-buck-00",
    ".308 Win",
    "168gr",
    "2650fps",
    "0.223",
    "G7",
    "G1",
    "jacketed-lead",
    "lead-shot",
    "rifle",
    "shotgun",
    "9",
    "100yd",
    "1e300yd",
    "0yd",
    "-5yd",
    "3/8in",
    "1/3in",
    "12in",
    "4x9in",
    "chain",
    "public",
    "cratered",
    "AR500",
    "20deg",
    "-60deg",
    "90deg",
    "ICAO",
    "ASM",
    "14000ft",
    "-60F..130F",
    "20inHg",
    "100%",
    "0%",
    "99.99%",
    "50%",
    "16in",
    "json",
    "csv",
    "html",
    "table",
    "si",
    "us",
    "loads",
    "rules",
    "nan",
    "inf",
    "",
    "💥",
    "examples/match.toml",
    "examples/inquiry.toml",
    "no-such-file",
    "-",
];

#[test]
fn arbitrary_arguments_end_in_a_status_and_never_in_a_panic_or_a_hang() {
    cases(300, |u| {
        let mut args = vec!["thickset".to_owned(), (*u.choose(COMMANDS)).to_owned()];
        for _ in 0..u.upto(10) {
            if u.once_in(2) {
                args.push((*u.choose(OPTIONS)).to_owned());
            }
            args.push((*u.choose(VALUES)).to_owned());
        }
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let status =
            bounded(&args, 2 * HANG, || cli::run(&args, &mut "2648fps\n2650fps\n".as_bytes(), &mut out, &mut err));
        assert!(status == cli::Status::InvalidInput || !out.is_empty(), "{args:?} said nothing");
        assert!(status != cli::Status::InvalidInput || !err.is_empty(), "{args:?} failed in silence");
    });
}

#[test]
fn adversarial_numbers_are_judged_or_refused_by_name() {
    let load = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";
    for (line, status) in [
        (format!("vet {load} --plate 3/8in --at 950yd"), &[0, 3][..]),
        (
            format!(
                "vet {load} --plate 3/8in --at 200yd --temperature -60F..130F --altitude 14000ft --humidity 0%..100%"
            ),
            &[0, 1, 3],
        ),
        (format!("vet {load} --plate 3/8in --at 200yd --slope 89deg"), &[2]),
        (format!("vet {load} --plate 3/8in --at 200yd --slope 60deg --tilt 60deg"), &[0, 1, 3]),
        (format!("vet {load} --plate 3/8in --at 9000yd"), &[2]),
        (format!("vet {load} --plate 3/8in --at 200yd --humidity 100% --temperature 130F"), &[0, 1, 3]),
        (format!("strike {load} --at 2500yd"), &[0]),
        ("vet --bullet 2gr --velocity 5500fps --bc 0.019 --drag G1 --plate 3/8in --at 10yd".to_owned(), &[1, 3]),
        ("vet --bullet 2000gr --velocity 5500fps --bc 2 --drag G1 --plate 3/4in --at 1000yd".to_owned(), &[1]),
        (
            "vet --bullet 500gr --velocity 100fps --bc 0.2 --drag G1 --construction lead --plate 3/8in --at 20yd"
                .to_owned(),
            &[1, 2, 3],
        ),
    ] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let args = std::iter::once("thickset").chain(line.split_whitespace());
        let got = bounded(&line, 2 * HANG, || cli::run(args, &mut std::io::empty(), &mut out, &mut err) as i32);
        assert!(status.contains(&got), "{line}: {got}\n{}", String::from_utf8_lossy(&err));
    }
}

#[test]
fn what_is_too_large_is_refused_with_its_limit() {
    let rows = |n: usize, row: &str| row.repeat(n);
    let catalog = || Catalog::builtin().expect("the catalogue");
    let source = |text: String| SourceText::new("large", text);
    let csv = source(format!(
        "mach,cd\n{}",
        (0..3000).map(|i| format!("{},0.3\n", f64::from(i) * 0.001)).collect::<String>()
    ));
    assert!(DragCurve::from_csv(&csv).expect_err("too many rows").to_string().contains("2000"));
    let readings = source(rows(100_002, "2650 fps\n"));
    assert!(Readings::read(&readings, None).expect_err("too many readings").to_string().contains("100000"));
    let points: String = (0..50_500).map(|i| format!("[{}, {}],", f64::from(i) * 0.001, i % 2)).collect();
    let outline =
        source(format!("schema = \"thickset/outline/1\"\nname = \"x\"\nunit = \"in\"\npoints = [{points}]\n"));
    assert!(Outline::from_toml(&outline).expect_err("too many points").to_string().contains("50000"));
    let rule = "[[rule]]\nid = \"ID\"\nsubject = \"distance\"\nsense = \"at-least\"\nsuits = \"5 yd\"\nwhy = \"x\"\n";
    let rules: String = (0..2100).map(|i| rule.replace("ID", &i.to_string())).collect();
    let rules = source(format!("schema = \"thickset/rules/1\"\nname = \"x\"\n{rules}"));
    let fault = RuleSet::house().and_then(|r| r.with_overlay(&rules)).expect_err("too many rules");
    assert!(fault.to_string().contains("2000"));
    let plate: String =
        (1..150).map(|i| format!("[[plate]]\nthickness = \"{} in\"\n", 0.1 + f64::from(i) * 0.01)).collect();
    assert!(Ladder::read(&source(format!("schema = \"thickset/plates/1\"\n{plate}"))).is_err());
    let target = "[[stage.target]]\nname = \"t\"\nplate = \"3/8 in\"\nat = \"100 yd\"\n";
    let course = source(format!(
        "schema = \"thickset/course/1\"\nname = \"x\"\nloads = [\"9mm-115\"]\n[[stage]]\nname = \"s\"\n{}",
        rows(10_050, target)
    ));
    let ladder = Ladder::builtin().expect("the ladder");
    assert!(
        Course::read(
            &course,
            Reading { catalog: catalog(), ladder: &ladder, open: None, folder: None, units: Units::Us }
        )
        .expect_err("too many targets")
        .to_string()
        .contains("10000")
    );
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("large.toml");
    std::fs::write(&path, vec![b'#'; 17 * 1024 * 1024]).expect("a file");
    assert!(SourceText::read(&path).expect_err("too large").to_string().contains("16 MiB"));
    let endless = ["thickset", "chrono", "-"];
    let mut err = Vec::new();
    let run = || cli::run(endless, &mut std::io::repeat(b'9'), &mut Vec::new(), &mut err);
    assert_eq!(bounded(&endless, Duration::MAX, run), cli::Status::InvalidInput);
    assert!(String::from_utf8_lossy(&err).contains("16 MiB"));
}

/// A drawing of a closed outline with a hole and an arc.
const DRAWING: &str = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\n\
    ENTITIES\n0\nLWPOLYLINE\n8\nCUT\n90\n4\n70\n1\n10\n0\n20\n0\n10\n4\n20\n0\n42\n0.2\n10\n4\n20\n6\n10\n0\n20\n6\n\
    0\nCIRCLE\n8\nCUT\n10\n2\n20\n5\n40\n0.25\n0\nARC\n8\nCUT\n10\n0\n20\n0\n40\n1\n50\n0\n51\n90\n0\nENDSEC\n0\nEOF\n";

/// A drawing of every shape, with groups, uses, styles and nested frames.
const SVG: &str = "<svg width=\"300mm\" height=\"12in\" viewBox=\"0 0 300 300\">
<style>.cut { stroke: red; fill: none } #gone { display: none }</style><defs><path id=\"eye\" d=\"M0 0 h9 v9 z\"/></defs>
<g class=\"cut\" transform=\"translate(5 5) rotate(10) scale(0.9)\"><path d=\"M0,0 C10 -5 90 -5 100 0 S150 90 100 150
Q50 200 0 150 A400 400 0 0 1 0 0 Z\"/><circle cx=\"40\" cy=\"40\" r=\"6\"/><ellipse cx=\"60\" cy=\"90\" rx=\"8\" ry=\"4\"/>
<rect x=\"30\" y=\"60\" width=\"9\" height=\"12\" rx=\"2\"/><use href=\"#eye\" x=\"20\" y=\"100\"/></g>
<svg x=\"9\" y=\"9\" width=\"90\" height=\"90\" viewBox=\"0 0 9 9\"><polygon id=\"gone\" points=\"1,1 2,1 2,2\"/></svg>
<line x1=\"0\" y1=\"0\" x2=\"9\" y2=\"9\" opacity=\"0\"/><text x=\"9\" y=\"9\">a plate</text></svg>
";

#[test]
fn spoiled_vector_drawings_make_no_reader_panic_or_hang() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("plate.svg");
    std::fs::write(&path, SVG).expect("a file");
    assert!(Outline::read(&path).is_ok(), "the drawing itself is read");
    std::fs::write(&path, SVG.replace("A400 400", "A99999999999999999999400 400")).expect("a file");
    read_drawing(&path);
    cases(300, |u| {
        let mut bytes = spoiled(u, SVG).into_bytes();
        for _ in 0..u.upto(4) {
            let at = u.upto(bytes.len());
            if let Some(byte) = bytes.get_mut(at) {
                *byte = *u.choose(b"0123456789-.eE,MLHVCSQTAZmlhvcsqtaz<>/\"#%()");
            }
        }
        std::fs::write(&path, &bytes).expect("a file");
        read_drawing(&path);
    });
}

#[test]
fn spoiled_drawings_make_no_reader_panic_or_hang() {
    let binary = std::fs::read(root().join("tests/fuzz/corpus/binary.dxf")).expect("a binary drawing");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("plate.dxf");
    cases(300, |u| {
        let mut bytes = if u.once_in(3) { binary.clone() } else { spoiled(u, DRAWING).into_bytes() };
        for _ in 0..u.upto(4) {
            if let Some(byte) = bytes.get_mut(u.upto(400)) {
                *byte = u.next().to_le_bytes()[0];
            }
        }
        std::fs::write(&path, &bytes).expect("a file");
        read_drawing(&path);
    });
}
