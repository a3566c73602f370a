//! Options: one that an answer can't use is refused by name, one mistyped is answered with the right one, and each that
//! is accepted changes the answer or what it holds for.

use super::draws::cases;
use super::{status, stderr, stdout, thickset};
use serde_json::Value;
use thickset::cli;

const LOAD: &str = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";

/// A command line with an option that it has no use for, and what the refusal must name.
const IDLE: &[(&str, &[&str])] = &[
    ("advise examples/inquiry.toml --face banana", &["--face", "inquiry"]),
    ("advise examples/inquiry.toml --load 308-168-match", &["--load"]),
    ("advise examples/inquiry.toml --at 100yd", &["--at"]),
    ("advise examples/inquiry.toml --duty public", &["--duty"]),
    ("advise examples/inquiry.toml --altitude 4000ft", &["--altitude"]),
    ("advise examples/inquiry.toml --velocity-sd 10fps", &["--velocity-sd"]),
    ("advise examples/inquiry.toml --bullet 168gr", &["--bullet"]),
    ("advise --load 308-168-match@100yd --at 200yd", &["--at", "distance of its own"]),
    ("vet --load 308-168-match@100yd --at 200yd --plate 3/8in", &["--at"]),
    ("standoff --load 308-168-match@100yd --plate 3/8in", &["--load", "distance"]),
    ("standoff --load 308-168-match --plate 3/8in --shooters 40", &["--shooters", "--rounds"]),
    ("standoff --load 308-168-match --plate 3/8in --rounds 40", &["--rounds", "--shooters"]),
    ("standoff --load 308-168-match --plate 3/8in --risk 2%", &["--risk", "--shooters"]),
    ("standoff --load 308-168-match --plate 3/8in --rifle-spread 40fps", &["--rifle-spread"]),
    ("standoff --load 308-168-match --load 300wm-180 --plate 3/8in --shooters 4 --rounds 9", &["--shooters"]),
    ("chrono 2648fps 2655fps 2641fps --plate 3/8in", &["--plate", "load"]),
    ("chrono 2648fps 2655fps 2641fps --altitude 4000ft", &["--altitude", "load"]),
    ("chrono 2648fps 2655fps 2641fps --face 12in", &["--face", "load"]),
    ("chrono 2648fps 2655fps 2641fps --velocity-sd 12fps --load 308-168-match", &["--velocity-sd"]),
    ("chrono 2648fps 2655fps 2641fps --bc-sd 2%", &["--bc-sd"]),
    ("chrono 2648fps 2655fps 2641fps --load-file examples/none.toml", &["none.toml"]),
    ("advise LOAD --at 100yd --altitude 4000ft --pressure 26inHg", &["--pressure", "--altitude"]),
    ("advise LOAD --at 100yd --mount bolted --want-swing 20deg", &["--want-swing", "hang free"]),
    ("advise LOAD --at 100yd --face 12in --outline examples/outlines/shield.toml", &["--face", "--outline"]),
    ("advise LOAD --at 100yd --outline-unit mm", &["--outline-unit", "--outline"]),
    ("advise LOAD --at 100yd --layer cut", &["--layer", "outline"]),
    ("advise LOAD --at 100yd --quantity 0", &["--quantity"]),
    ("advise LOAD --at 100yd --product gong", &["--product", "shop"]),
    ("advise LOAD --at 100yd --dated today", &["--dated", "sheet"]),
    ("advise LOAD --at 100yd --table plates", &["--table", "csv"]),
    ("advise LOAD --at 100yd --format json --full", &["--full"]),
    ("advise LOAD --at 100yd --barrel 16in", &["--barrel", "described"]),
    ("vet --load 308-168-match --bullet 168gr --at 100yd --plate 3/8in", &["--load", "--bullet"]),
    ("strike LOAD --face 12in", &["`strike` has no use for `--face`", "`advise`"]),
    ("strike LOAD --tilt 10deg", &["`strike` has no use for `--tilt`"]),
    ("strike LOAD --at 100yd --to 300yd", &["--to", "distances"]),
    ("catalog plates --class rifle", &["--class", "listed"]),
    ("catalog rules --of lead", &["--of", "listed"]),
    ("catalog loads --plate-file examples/none.toml", &["--plate-file"]),
];

#[test]
fn an_option_that_the_answer_can_t_use_is_refused_by_name() {
    for (line, names) in IDLE {
        let output = thickset(&line.replace("LOAD", LOAD));
        let text = stderr(&output);
        assert_eq!(status(&output), 2, "{line}\n{text}\n{}", stdout(&output));
        assert!(stdout(&output).is_empty(), "{line}");
        for name in *names {
            assert!(text.contains(name), "{line}: `{name}` is not in\n{text}");
        }
    }
}

#[test]
fn a_mistyped_option_is_answered_with_the_right_one() {
    for (typed, right) in [
        ("--html", "--format html"),
        ("--price", "--shop FILE"),
        ("--size", "--face SIZE"),
        ("--qty", "--quantity N"),
        ("--alttitude", "--altitude"),
        ("--tempature", "--temperature"),
        ("--mout", "--mount"),
    ] {
        let output = thickset(&format!("advise {LOAD} --at 100yd {typed}"));
        assert_eq!(status(&output), 2, "{typed}");
        assert!(stderr(&output).contains(right), "{typed}: {}", stderr(&output));
    }
    let output = thickset("advize --load 308-168-match");
    assert!(stderr(&output).contains("`advise`"), "{}", stderr(&output));
}

#[test]
fn a_fault_of_usage_has_its_field_and_its_help_in_json() {
    for (line, field) in [
        ("advise --load 308-168-match --at 100yd --mount welted", "--mount"),
        ("advise --load 308-168-match --at 100yd --html", "--html"),
        ("advise --load 308-168-match --at", "--at"),
        ("standoff --shooters 1.5 --rounds 3", "--shooters"),
        ("advise --load 308-168-match@100yd --magnification 20x", "--magnification"),
        ("strike --load 308-168-match --tilt 3deg", "--tilt"),
        ("advise --load 308-168-match@100yd --barrel 16", "--barrel"),
        ("advise --load 308-168-match@100yd --velocity-sd 1e308fps", "--velocity-sd"),
    ] {
        let output = thickset(&format!("{line} --format json"));
        assert_eq!(status(&output), 2, "{line}");
        let document: Value = serde_json::from_str(&stderr(&output)).unwrap_or_else(|e| panic!("{line}: {e}"));
        let error = &document["errors"][0];
        assert_eq!(error["field"], field, "{line}: {error}");
        assert!(error["help"].as_str().is_some_and(|help| help.len() > 5), "{line}: {error}");
    }
}

#[test]
fn a_value_of_the_wrong_size_is_told_one_of_the_right_size() {
    for (option, help) in [
        ("--barrel 16", "16 in"),
        ("--face 12", "12in"),
        ("--altitude 4200", "4200 ft"),
        ("--chain 6 --mount chain", "6 in"),
        ("--tilt 15", "15 deg"),
        ("--coverage 90", "90 %"),
        ("--velocity-sd 12", "12 fps"),
    ] {
        let output = thickset(&format!("advise --load 308-168-match@100yd {option}"));
        assert_eq!(status(&output), 2, "{option}");
        assert!(stderr(&output).contains(help), "{option}: {}", stderr(&output));
    }
    for share in ["0.99", "99%", "99 %"] {
        let output = thickset(&format!("vet --load 308-168-match@100yd --plate 3/8in --coverage \"{share}\""));
        assert_ne!(status(&output), 2, "{share}: {}", stderr(&output));
    }
}

/// Runs in this process: a hundred thousand runs of the binary would take an hour.
fn answered(line: &[String]) -> Option<Value> {
    let mut out = Vec::new();
    let words =
        std::iter::once("thickset".to_owned()).chain(line.iter().cloned()).chain(["--format".into(), "json".into()]);
    let status = cli::run(words, &mut std::io::empty(), &mut out, &mut std::io::sink());
    (status != cli::Status::InvalidInput).then(|| serde_json::from_slice(&out).expect("a document"))
}

/// Commands, by a letter each.
const COMMANDS: &[(char, &str)] = &[('v', "vet"), ('a', "advise"), ('s', "standoff"), ('t', "strike")];

/// The commands that take an option, the option, and two values of it.
const TWO: &[(&str, &str, &str, &str)] = &[
    ("vast", "--velocity-sd", "10fps", "20fps"),
    ("vast", "--bc-sd", "1%", "2%"),
    ("vast", "--coverage", "95%", "99%"),
    ("vast", "--velocity-temperature-slope", "1 ft/s per F", "2 ft/s per F"),
    ("vast", "--measured-at", "50F", "70F"),
    ("vast", "--barrel", "20in", "26in"),
    ("vas", "--face", "8in", "16in"),
    ("vas", "--mount", "bolted", "captive-hook"),
    ("vas", "--duty", "match", "public"),
    ("vas", "--condition", "sound", "pitted"),
    ("vas", "--steel", "AR500", "AR550"),
    ("vas", "--tilt", "5deg", "15deg"),
    ("vas", "--oblique", "5deg", "20deg"),
    ("vast", "--slope", "5deg", "-5deg"),
    ("vast", "--air", "ICAO", "ASM"),
    ("vast", "--altitude", "1000ft", "5000ft"),
    ("vast", "--temperature", "30F", "90F"),
    ("vast", "--pressure", "26inHg", "29inHg"),
    ("vast", "--humidity", "10%", "90%"),
    ("va", "--at", "150yd", "300yd"),
    ("t", "--to", "300yd", "400yd"),
    ("t", "--step", "50yd", "100yd"),
    ("vas", "--plate", "3/8in", "1/2in"),
    ("vast", "--load", "308-168-match", "300wm-180"),
    ("vast", "--units", "us", "si"),
    ("vas", "--range-rules", "examples/gravel-pit.toml", "service-notice"),
    ("vas", "--shop", "examples/shop.toml", "examples/shop.toml"),
    ("vas", "--product", "Gong 12", "Gong 8"),
    ("a", "--quantity", "2", "5"),
    ("a", "--magnification", "10", "20"),
    ("s", "--shooters", "10", "40"),
    ("s", "--rounds", "50", "100"),
    ("s", "--risk", "1%", "2%"),
    ("s", "--rifle-spread", "20fps", "40fps"),
];

fn is_needed(command: char, option: &str) -> bool {
    match option {
        "--load" => true,
        "--at" => command != 's',
        "--plate" => command == 'v',
        _ => false,
    }
}

/// The answer but for the echo of what was asked.
fn told(mut answer: Value) -> Value {
    answer.as_object_mut().expect("an object").remove("inputs");
    answer
}

#[test]
fn every_accepted_option_changed_alone_changes_the_answer_or_what_it_holds_for() {
    let cases = cases(160);
    let mut seed = 0x9e37_79b9_7f4a_7c15_u64;
    let mut draw = |below: usize| {
        seed ^= seed << 13;
        seed ^= seed >> 7;
        seed ^= seed << 17;
        usize::try_from(seed % below as u64).expect("small")
    };
    let mut compared = [0; 4];
    for _ in 0..cases {
        let which = draw(COMMANDS.len());
        let (letter, command) = COMMANDS[which];
        let options: Vec<_> = TWO.iter().filter(|(commands, ..)| commands.contains(letter)).collect();
        let changed = draw(options.len());
        let mut line = vec![command.to_owned()];
        let mut other = line.clone();
        for (index, (_, option, one, two)) in options.iter().enumerate() {
            // Options that go together are drawn together.
            let with = match *option {
                "--rounds" | "--risk" | "--rifle-spread" => line.contains(&"--shooters".to_owned()),
                "--product" => line.contains(&"--shop".to_owned()),
                _ => false,
            };
            if !is_needed(letter, option) && !with && index != changed && draw(4) > 0 {
                continue;
            }
            let value = if draw(2) == 0 { one } else { two };
            let changed_value = if value == one { two } else { one };
            line.extend([(*option).to_owned(), (*value).to_owned()]);
            other.extend([(*option).to_owned(), (*if index == changed { changed_value } else { value }).to_owned()]);
        }
        if line == other {
            continue;
        }
        let (Some(a), Some(b)) = (answered(&line), answered(&other)) else { continue };
        compared[which] += 1;
        assert_ne!(told(a), told(b), "{line:?}\n{other:?}");
    }
    let fewest = compared.iter().min().expect("four commands");
    assert!(fewest * 40 > cases, "{compared:?} of {cases} were accepted");
}

/// A construction is proposed only where the same question can be answered with it.
#[test]
fn a_narrower_question_that_is_proposed_can_be_asked() {
    let mut proposed = 0;
    for line in [
        "vet --any .177 --at 25yd --plate 3/8in",
        "vet --any 9mm --at 25yd --plate 3/8in",
        "vet --any .308 --at 300yd --plate 1/2in",
        "advise --any 9mm@25yd --any \".22 LR@50yd\"",
        "advise --any .308@300yd --any 7.62x39@200yd",
        "advise --any .177@25yd",
    ] {
        let text = stdout(&thickset(&format!("{line} --explain"))).split_whitespace().collect::<Vec<_>>().join(" ");
        let text = text.to_lowercase();
        let Some(kind) = text.split("narrow it (`--of ").nth(1).and_then(|rest| rest.split('`').next()) else {
            assert!(text.contains("name the loads that are shot"), "{line}: {text}");
            continue;
        };
        proposed += 1;
        let narrowed = thickset(&format!("{line} --of {kind}"));
        assert_ne!(status(&narrowed), 2, "{line} --of {kind}: {}", stderr(&narrowed));
        assert!(!stdout(&narrowed).contains("comes as"), "{line} --of {kind}: {}", stdout(&narrowed));
    }
    assert_eq!(proposed, 5);
}
