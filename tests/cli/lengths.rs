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
const PRODUCTS: [&str; 5] = ["Gong 6", "Gong 12", "Torso 12 by 20", "Popper 42", "Shouldered torso"];
const RANGE: &str = "--range-rules examples/gravel-pit.toml";
const NOTICE: &str = "--range-rules service-notice";
const AIR: &str = "--altitude 500ft --temperature 20F..90F";
const SHOP: &str = "--shop examples/shop.toml";
const PRODUCT: &str = "--shop examples/shop.toml --product \"Gong 12\"";

/// A question, and how many lines more it may take than its command promises.
type Asked = (String, usize);

/// Questions of one load and of several, of one target and of two.
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
        ("advise --load 308-168-match@100m --load 300wm-180@100m --units si".into(), 0),
        (format!("advise --load 308-168-match@100yd --load 45acp-230@25yd {RANGE}"), 0),
        (format!("advise --load 308-168-match@100yd --load 45acp-230@25yd {NOTICE}"), 0),
        (
            "advise --load 308-168-match@100yd --load 300wm-180@200yd --load 556-55@100yd --load 9mm-115@10yd \
             --load 22lr-std-40@50yd"
                .into(),
            2,
        ),
        // Six loads on two targets.
        ("advise examples/inquiry.toml".into(), 0),
        ("advise --any \".308 Win@100yd\"".into(), 0),
        ("advise --any \"12 ga@25yd\"".into(), 0),
        ("advise --any \".50 BMG@500yd\"".into(), 0),
        ("advise --any \".308 Win@100yd\" --any \"9mm Luger@10yd\"".into(), 0),
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
            one("--plate 3/8in --shooters 40 --rounds 100", 0),
        ]);
    }
    for mount in MOUNTS {
        asked.push((format!("standoff --load 308-168-match --plate 3/8in --mount {mount} --condition pitted"), 0));
    }
    asked
        .extend(DRAWN.map(|file| {
            (format!("standoff --load 308-168-match --plate 3/8in --outline examples/outlines/{file}"), 0)
        }));
    for any in [".308 Win", ".50 BMG", "9mm Luger"] {
        asked.push((format!("standoff --any \"{any}\" --plate 3/8in"), 0));
    }
    asked
}

/// Further questions of the same kinds: every product, other drawings, ranges and units, several of them at once.
fn more_advice() -> Vec<Asked> {
    let asked = |line: String| (line, 0);
    let mut all: Vec<Asked> = PRODUCTS
        .map(|product| {
            asked(format!("advise --load 9mm-115 --at 25yd --shop examples/shop.toml --product \"{product}\""))
        })
        .to_vec();
    for load in LOADS {
        all.push(asked(format!("advise --load {load} --at 150yd {NOTICE} --units si")));
        all.push(asked(format!("advise --load {load} --at 60yd {RANGE} {SHOP} --quantity 6")));
    }
    for rest in [
        format!("--load 308-168-match@200yd --load 9mm-115@15yd --outline examples/outlines/shield.dxf {SHOP}"),
        format!("--load 308-168-match@200yd --outline examples/outlines/lantern.toml {RANGE}"),
        format!("--load 556-55@200yd --load 300wm-180@400yd {NOTICE} --units si --duty public"),
        format!("--any \"9mm@25yd\" --any \"5.56@150yd\" {AIR} --tilt 15deg"),
        "--any \"12 ga@40yd\" --any \".22 LR@50yd\" --units si".to_owned(),
        "--any \".30-06@300yd\" --steel unknown --condition unknown".to_owned(),
        "--load 45acp-230@10yd --tilt=-5deg --oblique 20deg --mount bolted".to_owned(),
    ] {
        all.push(asked(format!("advise {rest}")));
    }
    // A swing that nothing gives is told with what was tried.
    let swing = "--mount chain --chain 14in --want-swing 10deg";
    all.push((format!("advise --load 338lm-250@600yd --load 308-168-match@300yd {AIR} {swing}"), 1));
    all
}

fn more_vetting() -> Vec<Asked> {
    let asked = |line: String| (line, 0);
    let mut all: Vec<Asked> = Vec::new();
    for (product, plate) in
        [("Gong 6", "1/4 in"), ("Popper 42", "3/8 in"), ("Falling plate 8", "3/8 in"), ("Shouldered torso", "3/8 in")]
    {
        let target = format!("--plate \"{plate}\" --shop examples/shop.toml --product \"{product}\"");
        all.push(asked(format!("vet --load 45acp-230 --at 15yd {target} --condition pitted")));
        all.push(asked(format!("vet --load 308-168-match --at 120yd {target} {RANGE} --units si")));
    }
    for file in DRAWN {
        let drawn = format!("--outline examples/outlines/{file}");
        all.push(asked(format!(
            "vet --load 45acp-230 --at 8m --plate 6mm {drawn} --tilt=-5deg --steel unknown --units si"
        )));
        all.push(asked(format!("vet --load 338lm-250 --at 300yd --plate 1/2in {drawn} {NOTICE} --mount chain")));
    }
    for slope in ["15deg", "-15deg", "30deg"] {
        all.push(asked(format!("vet --load 308-168-match --at 200yd --plate 3/8in --slope={slope}")));
    }
    for steel in STEELS {
        all.push(asked(format!(
            "vet --load 556-55 --at 200yd --plate 3/8in --steel {steel} --mount welded --condition pitted {RANGE}"
        )));
    }
    all
}

fn more_standoffs() -> Vec<Asked> {
    let asked = |line: String| (line, 0);
    let mut all: Vec<Asked> = Vec::new();
    for file in DRAWN {
        let drawn = format!("--outline examples/outlines/{file}");
        all.push(asked(format!("standoff --load 338lm-250 --plate 1/2in {drawn} {RANGE} --duty match")));
        all.push(asked(format!("standoff --any \"5.56\" --plate 10mm {drawn} --units si")));
    }
    for steel in STEELS {
        all.push(asked(format!("standoff --load 556-55 --plate 3/8in --steel {steel} --mount bolted --duty public")));
    }
    for slope in ["20deg", "-20deg"] {
        all.push(asked(format!("standoff --load 300wm-180 --plate 1/2in --slope={slope} {NOTICE} --units si")));
    }
    all.push(asked(format!("standoff --load 308-168-match --plate 1/2in {AIR} --barrel 16in --coverage 95% --shooters 60 --rounds 200 --risk 5%")));
    all
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

fn are_short(asked: Vec<Asked>, promised: usize) {
    let mut long = Vec::new();
    for (at, (line, more)) in asked.into_iter().enumerate() {
        let (text, err) = printed(&line, 80);
        let lines = text.lines().count();
        assert!(lines >= 5, "{line}\n{text}{err}");
        assert!(text.lines().all(|l| l.chars().count() <= 80), "{line}\n{text}");
        if lines > promised + more {
            long.push(format!("{line}: {lines} of {promised} and {more}\n{text}"));
        }
        if at % 8 == 0 {
            fits_as(&line, 60, &(text, err));
        }
    }
    assert!(long.is_empty(), "{} too long:\n{}", long.len(), long.join("\n"));
}

/// No line is broader than the terminal, and no word is broken to make it so: each stands whole where there is room.
fn fits_as(line: &str, width: usize, wide: &(String, String)) {
    let (text, err) = printed(line, width);
    let widest = text.lines().chain(err.lines()).max_by_key(|l| l.chars().count()).unwrap_or_default();
    assert!(widest.chars().count() <= width, "{line} at {width}: {widest}");
    let whole: HashSet<&str> = wide.0.split_whitespace().chain(wide.1.split_whitespace()).collect();
    let broken: Vec<&str> =
        text.split_whitespace().chain(err.split_whitespace()).filter(|word| !whole.contains(word)).collect();
    assert!(broken.is_empty(), "{line} at {width}: {broken:?}\n{text}");
}

/// At 60 columns and at 80.
fn fits(line: &str) {
    let wide = printed(line, 80);
    let widest = wide.0.lines().chain(wide.1.lines()).max_by_key(|l| l.chars().count()).unwrap_or_default();
    assert!(widest.chars().count() <= 80, "{line}: {widest}");
    fits_as(line, 60, &wide);
}

#[test]
fn advice_takes_26_lines() {
    are_short(advise().into_iter().chain(more_advice()).collect(), 26);
}

#[test]
fn a_vetting_takes_24_lines() {
    are_short(vet().into_iter().chain(more_vetting()).collect(), 24);
}

#[test]
fn how_close_takes_18_lines() {
    are_short(standoff().into_iter().chain(more_standoffs()).collect(), 18);
}

#[test]
fn what_arrives_takes_12_lines_beside_its_rows() {
    are_short(strike(), 12);
}

#[test]
fn whatever_is_printed_fits_a_narrow_terminal() {
    let answers = [
        "advise --load 308-168-match@200yd --load 300wm-180@100yd --shop examples/shop.toml --quantity 3",
        "advise examples/inquiry.toml",
        "vet --load 300wm-180 --at 100yd --plate 1/4in --duty public --condition pitted --mount welded",
        "standoff --at 100yd",
        "standoff --load 308-168-match",
        "standoff",
        "standoff --shop examples/shop.toml --product \"Gong 12\"",
        "strike --load 308-168-match",
        "chrono 2648fps 2655fps 2641fps 2850fps --load 308-168-match",
        "course examples/match.toml",
    ];
    for (at, line) in answers.into_iter().enumerate() {
        // Each has its shortest and its broadest form, and every other one those between.
        let details = ["", "--full --units si", "--full", "--explain"];
        for detail in &details[..if at % 2 == 0 { 4 } else { 2 }] {
            fits(&format!("{line} {detail}"));
        }
    }
    for what in ["loads", "cartridges", "plates", "rules", "sources"] {
        fits(&format!("catalog {what}"));
        fits(&format!("catalog {what} --full --units si"));
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
        fits(fault);
    }
}
