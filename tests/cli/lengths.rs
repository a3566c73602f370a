//! How long and how broad what people read is, over many questions: every command at 60 and at 80 columns.

use super::words;
use std::collections::HashSet;
use thickset::cli::{Terminal, run_on};

/// What a command line prints on a terminal of a width.
fn printed(line: &str, width: usize) -> (String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("thickset".to_owned()).chain(words(line));
    run_on(Terminal { width: Some(width), ..Terminal::default() }, args, &mut std::io::empty(), &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    (text(out), text(err))
}

const MOUNTS: [&str; 5] = ["open-hook", "captive-hook", "chain", "bolted", "welded"];
const STEELS: [&str; 5] = ["AR500", "AR550", "AR400", "unknown", "other"];
const CONDITIONS: [&str; 7] = ["sound", "unknown", "pitted", "cratered", "cracked", "holed", "bowed"];
const DUTIES: [&str; 3] = ["private", "match", "public"];
const KINDS: [&str; 4] = ["plate", "popper", "spinner", "falling"];
const DRAWN: [&str; 3] = ["shield.dxf", "shield.toml", "lantern.toml"];
const LOADS: [&str; 8] =
    ["556-55", "308-168-match", "9mm-115", "45acp-230", "300wm-180", "22lr-std-40", "556-62-steel", "338lm-250"];
const RANGE: &str = "--range-rules examples/gravel-pit.toml";
const NOTICE: &str = "--range-rules service-notice";
const AIR: &str = "--altitude 500ft --temperature 20F..90F";
const SHOP: &str = "--shop examples/shop.toml";
const PRODUCT: &str = "--shop examples/shop.toml --product \"Gong 12\"";

/// A question, and how many lines more it may take than its command promises.
type Asked = (String, usize);

/// The promise is for one load on one target. Several loads have a distance each, and names; what was read of a drawing
/// is told on a line or two.
fn advise() -> Vec<Asked> {
    let one = |rest: String| (format!("advise --load 308-168-match --at 100yd {rest}"), 0);
    let far = |rest: String| (format!("advise --load 308-168-match --at 200yd {rest}"), 0);
    let mut asked: Vec<Asked> = vec![
        one(String::new()),
        one(format!("{AIR} --tilt 15deg")),
        one("--units si".into()),
        one("--want-swing 10deg".into()),
        far(format!("{SHOP} --quantity 4")),
        far(PRODUCT.into()),
        ("advise --load 308-168-match@100yd --load 22lr-std-40@50yd --load 45acp-230@25yd".into(), 0),
        ("advise --load 300wm-180 --load 556-55 --load 9mm-115 --at 10yd".into(), 0),
        ("advise --load 308-168-match@100m --load 300wm-180@100m --units si".into(), 1),
        (format!("advise --load 308-168-match@100yd --load 45acp-230@25yd {RANGE}"), 1),
        (format!("advise --load 308-168-match@100yd --load 45acp-230@25yd {NOTICE}"), 0),
        (
            "advise --load 308-168-match@100yd --load 300wm-180@200yd --load 556-55@100yd --load 9mm-115@10yd \
             --load 22lr-std-40@50yd"
                .into(),
            2,
        ),
        // Six loads on two targets.
        ("advise examples/inquiry.toml".into(), 3),
        ("advise --any \".308 Win@100yd\"".into(), 0),
        ("advise --any \"12 ga@25yd\"".into(), 0),
        ("advise --any \".50 BMG@500yd\"".into(), 0),
        ("advise --any \".308 Win@100yd\" --any \"9mm Luger@10yd\"".into(), 4),
        ("advise --load 300wm-180 --at 100yd".into(), 0),
        ("advise --load 556-62-steel --at 10yd".into(), 0),
        ("advise --load 9mm-115 --at 10yd --tilt=-5deg".into(), 0),
        ("advise --load 45acp-230 --at 10yd --oblique 40deg --condition pitted".into(), 0),
        (
            "advise --bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead --at 100yd"
                .into(),
            0,
        ),
    ];
    for mount in MOUNTS {
        asked.push(far(format!("--mount {mount}")));
        asked.push(one(format!("--mount {mount} {RANGE}")));
    }
    asked.extend(DUTIES.map(|duty| one(format!("--duty {duty} {AIR}"))));
    asked.extend(STEELS.map(|steel| one(format!("--steel {steel}"))));
    asked.extend([RANGE, NOTICE].map(|rules| (format!("advise --load 300wm-180 --at 300yd {rules}"), 0)));
    asked.extend(DRAWN.map(|file| far(format!("--outline examples/outlines/{file}"))));
    asked.push(far(format!("{SHOP} --outline examples/outlines/lantern.toml --quantity 10")));
    asked
}

fn vet() -> Vec<Asked> {
    let mut asked: Vec<Asked> = LOADS.map(|load| (format!("vet --load {load} --at 50yd --plate 3/8in"), 0)).to_vec();
    asked.extend(DUTIES.map(|duty| (format!("vet --load 338lm-250 --at 100yd --plate 1/4in --duty {duty}"), 0)));
    for kind in KINDS {
        for (load, at) in [("9mm-115", 10), ("45acp-230", 7), ("308-168-match", 100), ("22lr-std-40", 50)] {
            asked.push((format!("vet --load {load} --at {at}yd --plate 3/8in --kind {kind}"), 0));
        }
        asked.push((format!("vet --load 300wm-180 --at 50yd --plate 10mm --kind {kind} --units si"), 0));
    }
    for mount in MOUNTS {
        asked.push((format!("vet --load 308-168-match --at 100yd --plate 3/8in --mount {mount} {RANGE}"), 0));
        asked.push((format!("vet --load 300wm-180 --at 100yd --plate 1/4in --mount {mount} {NOTICE}"), 0));
    }
    asked.extend(CONDITIONS.map(|state| (format!("vet --load 556-55 --at 50yd --plate 3/8in --condition {state}"), 0)));
    asked.extend(
        DRAWN.map(|file| {
            (format!("vet --load 300wm-180 --at 100yd --plate 3/8in --outline examples/outlines/{file}"), 0)
        }),
    );
    for any in [".308 Win@100yd", ".50 BMG@100yd", "12 ga@10yd"] {
        asked.push((format!("vet --any \"{any}\" --plate 3/8in"), 0));
    }
    asked.push((format!("vet --load 308-168-match --at 200yd --plate 3/8in {PRODUCT}"), 0));
    // Five and six things wrong at once, each named.
    asked.push((
        "vet --load 45acp-230 --at 10m --plate 5mm --tilt=-5deg --oblique 40deg --condition pitted --units si".into(),
        1,
    ));
    asked.push((
        "vet --load 300wm-180 --at 100yd --plate 1/4in --duty public --condition pitted --steel AR400 --mount welded \
         --oblique 30deg"
            .into(),
        2,
    ));
    asked
}

fn standoff() -> Vec<Asked> {
    let mut asked: Vec<Asked> = Vec::new();
    for load in LOADS {
        let one = |rest: &str, more| (format!("standoff --load {load} {rest}"), more);
        asked.extend([
            one("--plate 3/8in", 0),
            one(&format!("--plate 1/4in {AIR}"), 0),
            one("--plate 1/2in --tilt 20deg", 0),
            one(&format!("--plate 3/8in {RANGE}"), 0),
            one(&format!("--plate 3/8in {NOTICE}"), 0),
            one("--plate 10mm --units si", 0),
            one("--plate 3/8in --at 100yd", 0),
            // The risk of a match is a line of its own.
            one("--plate 3/8in --shooters 40 --rounds 100", 1),
        ]);
    }
    for mount in MOUNTS {
        asked.push((format!("standoff --load 308-168-match --plate 3/8in --mount {mount} --condition pitted"), 0));
    }
    asked
        .extend(DRAWN.map(|file| {
            (format!("standoff --load 308-168-match --plate 3/8in --outline examples/outlines/{file}"), 1)
        }));
    for any in [".308 Win", ".50 BMG", "9mm Luger"] {
        asked.push((format!("standoff --any \"{any}\" --plate 3/8in"), 0));
    }
    asked
}

/// With the rows that it has.
fn strike() -> Vec<Asked> {
    [
        ("--load 308-168-match --to 500yd", 6),
        ("--load 9mm-115 --at 25yd", 1),
        ("--load 308-168-match --to 300yd --altitude 500ft --temperature 20F..90F", 4),
        ("--load 308-168-match --units si", 6),
        ("--load 12ga-buck-00 --to 50yd --step 10yd", 6),
        ("--load 308-168-match --slope 20deg --barrel 16in --to 300yd", 4),
        ("--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead --at 100yd", 1),
    ]
    .map(|(rest, rows)| (format!("strike {rest}"), rows))
    .to_vec()
}

fn is_short((line, more): Asked, promised: usize) {
    let (text, err) = printed(&line, 80);
    let lines = text.lines().count();
    assert!((5..=promised + more).contains(&lines), "{line}: {lines} of {promised} and {more}\n{text}{err}");
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{line}\n{text}");
    fits(&line, 60);
}

/// No line is broader than the terminal, and no word is broken to make it so.
fn fits(line: &str, width: usize) {
    let (text, err) = printed(line, width);
    let widest = text.lines().chain(err.lines()).max_by_key(|l| l.chars().count()).unwrap_or_default();
    assert!(widest.chars().count() <= width, "{line} at {width}: {widest}");
    let wide = printed(line, 110);
    let whole: HashSet<&str> = wide.0.split_whitespace().chain(wide.1.split_whitespace()).collect();
    let broken: Vec<&str> =
        text.split_whitespace().chain(err.split_whitespace()).filter(|word| !whole.contains(word)).collect();
    assert!(broken.is_empty(), "{line} at {width}: {broken:?}\n{text}");
}

#[test]
fn advice_takes_26_lines() {
    advise().into_iter().for_each(|asked| is_short(asked, 26));
}

#[test]
fn a_vetting_takes_24_lines() {
    vet().into_iter().for_each(|asked| is_short(asked, 24));
}

#[test]
fn how_close_takes_18_lines() {
    standoff().into_iter().for_each(|asked| is_short(asked, 18));
}

#[test]
fn what_arrives_takes_12_lines_beside_its_rows() {
    strike().into_iter().for_each(|asked| is_short(asked, 12));
}

#[test]
fn whatever_is_printed_fits_a_narrow_terminal() {
    let answers = [
        "advise --load 308-168-match@200yd --load 300wm-180@100yd --shop examples/shop.toml --quantity 3",
        "advise examples/inquiry.toml",
        "vet --load 300wm-180 --at 100yd --plate 1/4in --duty public --condition pitted --mount welded",
        "standoff",
        "standoff --at 100yd",
        "standoff --load 308-168-match",
        "standoff --shop examples/shop.toml --product \"Gong 12\"",
        "strike --load 308-168-match",
        "chrono 2648fps 2655fps 2641fps 2850fps --load 308-168-match",
        "course examples/match.toml",
    ];
    for line in answers {
        for detail in ["", "--full", "--explain", "--full --units si"] {
            for width in [60, 80] {
                fits(&format!("{line} {detail}"), width);
            }
        }
    }
    for what in ["loads", "cartridges", "plates", "rules", "sources"] {
        for width in [60, 80] {
            fits(&format!("catalog {what}"), width);
            fits(&format!("catalog {what} --full --units si"), width);
        }
    }
    for fault in [
        "advise --load nothing --at 100yd",
        "advise --load 308-168-match --at 100yd --pressure 26inHg --altitude 4200ft",
        "vet --load 308-168-match --at 100yd --plate 3/8in --outline README.md",
        "vet --load 308-168-match --at 100 --plate 3/8in",
        "strike --load 308-168-match --qty 3",
        "standoff --any Nonsense",
        "course examples/shop.toml",
        "advise --html",
    ] {
        for width in [60, 80] {
            fits(fault, width);
        }
    }
}
