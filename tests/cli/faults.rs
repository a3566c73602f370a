//! Malformed options and files: status 2, the field, and the fix.

use super::{status, stderr, stdout, thickset};
use std::fs;

const LOAD: &str = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";

/// A command line, and what standard error must name.
const FAULTS: &[(&str, &[&str])] = &[
    ("advise LOAD --at 100", &["--at", "100 yd"]),
    ("advise LOAD --at -5yd", &["at"]),
    ("advise LOAD", &["--at"]),
    ("advise --at 100yd", &["--load"]),
    ("advise --load no-such-load --at 100yd", &["no-such-load", "catalog loads"]),
    ("advise --load 308-168-mach --at 100yd", &["308-168-match"]),
    ("advise --load 308-168-match@hundred", &["hundred"]),
    ("advise --load 308 --at 100yd", &["308-168-match"]),
    ("advise --load \"308 Win 168 gr Match\" --at 100yd", &["`308-168-match`"]),
    ("advise --load 308-168-match@100yd --velocity 2700fps", &["--velocity", "named", "--load-file"]),
    (
        "chrono 2650fps 2655fps 2641fps 264fps 2651fps 2639fps 2657fps --load 308-168-match",
        &["the string spreads by", "reading 4 (264 ft/s)"],
    ),
    ("advise examples/shop.toml", &["thickset/shop/1", "thickset/inquiry/1"]),
    ("course examples/inquiry.toml", &["thickset/inquiry/1", "thickset/course/1"]),
    ("advise LOAD --at 100yd --shop examples/match.toml", &["thickset/course/1", "thickset/shop/1"]),
    ("standoff --load-file examples/shop.toml", &["thickset/shop/1", "thickset/loads/1"]),
    ("advise LOAD --at 100yd --face 12", &["face", "in"]),
    ("advise LOAD --at 100yd --face \"12'\"", &["face", "ft"]),
    ("advise LOAD --at 2,000yd", &["at", "comma"]),
    ("advise LOAD --at 100yd --coverage 50%", &["coverage", "90"]),
    ("advise LOAD --at 100yd --slope 89deg", &["slope", "60"]),
    ("advise LOAD --at 100yd --temperature 95F..-10F", &["temperature"]),
    ("advise LOAD --at 100yd --temperature 500F", &["temperature"]),
    ("advise LOAD --at 100yd --chain 6in", &["--chain", "hung from open hooks", "`chain`"]),
    ("vet LOAD --plate 3/8in --at 100yd --mount bolted --chain 6in", &["--chain", "bolted"]),
    ("advise LOAD --at 100yd --mount chain --chain 0in", &["--chain", "6 in"]),
    ("advise LOAD --at 100yd --mount chain --chain 100yd", &["--chain", "20 ft"]),
    ("advise LOAD --at 100yd --mount chain --chain 6", &["--chain", "in"]),
    ("advise LOAD --at 100yd --duty sometimes", &["duty", "private"]),
    ("advise LOAD --at 100yd --duty publik", &["did you mean `public`?"]),
    ("advise LOAD --at 30000yd", &["--at", "farther"]),
    ("advise --bullet 40lb --velocity 2650fps --bc 0.2 --drag G1 --at 100yd", &["bullet"]),
    ("advise --bullet 168gr --velocity 13000fps --bc 0.2 --drag G1 --at 100yd", &["velocity"]),
    ("advise --bullet 168gr --velocity 2650fps --bc 0.001 --drag G1 --at 100yd", &["bc"]),
    ("advise --bullet 168gr --velocity 2650fps --bc 0.2 --at 100yd", &["--drag", "G7"]),
    ("advise --bullet 168gr --bc 0.2 --drag G1 --at 100yd", &["--velocity"]),
    ("advise --bullet nan --velocity 2650fps --bc 0.2 --drag G1 --at 100yd", &["bullet"]),
    ("advise LOAD --at 100yd --velocity-sd 0fps", &["--velocity-sd", "every shot is alike", "30 ft/s"]),
    ("advise --load 308-168-match@100yd --velocity-sd 0.01fps", &["--velocity-sd", "measured"]),
    ("advise LOAD --at 100yd --bc-sd 0%", &["--bc-sd", "every shot is alike", "3 %"]),
    ("advise LOAD --at 100yd --bc-sd -1%", &["--bc-sd", "20 %"]),
    ("chrono 2650.00fps 2650.01fps 2650.02fps", &["readings", "no spread"]),
    ("advise no-such-file.toml", &["no-such-file.toml"]),
    ("advise LOAD --at 100yd --range-rules no-such-file.toml", &["no-such-file.toml"]),
    ("vet LOAD --at 100yd", &["--plate"]),
    ("vet LOAD --plate 3/8in", &["--at"]),
    ("vet LOAD --plate 8 --at 100yd", &["plate"]),
    ("strike LOAD --from 0yd --to 100yd --step 0yd", &["step"]),
    ("strike --load 9mm-115 --to 5000yd --step 1000yd", &["--to", "2000 yd"]),
    ("strike --load 9mm-115 --at 5000yd", &["--at", "5000 yd"]),
    ("strike LOAD --from 500yd --to 100yd", &["from"]),
    ("catalog horses", &["horses", "loads"]),
];

#[test]
fn a_malformed_option_ends_in_status_2_and_names_the_field_and_the_fix() {
    for (line, names) in FAULTS {
        let output = thickset(&line.replace("LOAD", LOAD));
        let text = stderr(&output);
        assert_eq!(status(&output), 2, "{line}\n{text}\n{}", stdout(&output));
        assert!(stdout(&output).is_empty(), "{line}: a half answer\n{}", stdout(&output));
        for name in *names {
            assert!(text.contains(name), "{line}: `{name}` is not in\n{text}");
        }
    }
}

#[test]
fn a_fault_in_a_file_shows_its_place_and_as_json_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("range.toml");
    fs::write(&path, "schema = \"thickset/rules/1\"\nname = \"Gravel Pit\"\n[[rule]]\nid = \"a\"\nsubject = \"distance\"\nsense = \"at-least\"\nsuits = \"50\"\nwhy = \"x\"\n")
        .expect("a file");
    let line = format!("vet {LOAD} --plate 3/8in --at 100yd --range-rules {}", path.display());
    let output = thickset(&line);
    assert_eq!(status(&output), 2);
    assert!(stderr(&output).contains("range.toml:7:9"), "{}", stderr(&output));
    let output = thickset(&format!("{line} --format json"));
    let document: serde_json::Value = serde_json::from_str(&stderr(&output)).expect("JSON on standard error");
    assert_eq!(document["schema"], "thickset/error/1");
    assert_eq!(document["errors"][0]["line"], 7);
    assert!(document["errors"][0]["help"].as_str().expect("a fix").contains("50 yd"));
}

#[test]
fn a_bullet_that_falls_short_is_told_how_far_it_gets_and_gets_there() {
    for line in [
        "strike --load 308-168-match --to 20000yd --step 500yd",
        "strike --load 9mm-115 --at 5000yd",
        "vet --load 308-168-match --plate 3/8in --at 5000yd",
        "advise --load 22lr-hv-40 --at 3000yd",
    ] {
        let output = thickset(line);
        assert_eq!(status(&output), 2, "{line}");
        let told = stderr(&output);
        let reach = told.split("name a distance up to `").nth(1).and_then(|rest| rest.split(" yd`").next());
        let reach = reach.unwrap_or_else(|| panic!("{line}\n{told}"));
        let load = line.split(' ').skip_while(|word| *word != "--load").nth(1).expect("a load");
        let there = thickset(&format!("strike --load {load} --at {reach}yd"));
        assert_eq!(status(&there), 0, "{line}\n{told}");
        let beyond: f64 = reach.parse().expect("a number");
        assert_eq!(status(&thickset(&format!("strike --load {load} --at {}yd", beyond + 3.0))), 2, "{line}");
    }
}

/// The keys that were expected are named as well, and the record has some of them.
#[test]
fn an_unknown_key_of_a_target_is_shown_where_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("m.toml");
    for (wrong, line) in [
        ("fcae = \"12in\"", 9),
        ("tilt = \"5 deg\"", 9),
        ("kind = \"poppper\"", 9),
        ("class = [\"rifle\"]\nstand = { fcae = \"12in\" }", 10),
    ] {
        let text = format!(
            "schema = \"thickset/course/1\"\nname = \"m\"\nloads = [\"308-168-match\"]\n[[stage]]\nname = \"Bay 1\"\n\
             [[stage.target]]\nname = \"gong\"\nplate = \"3/8 in\"\n{wrong}\nat = \"100 yd\"\n"
        );
        fs::write(&path, text).expect("a file");
        let told = stderr(&thickset(&format!("course {}", path.display())));
        assert!(told.contains(&format!("m.toml:{line}:1")), "{wrong}: {told}");
    }
}
