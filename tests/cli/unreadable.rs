//! Whatever of what is given is made unreadable or put out of place, a no does not become a yes, and what it was is
//! named, in every form.

use std::fs;
use std::path::Path;
use thickset::cli::Status;

const FORMS: [&str; 4] = ["table", "json", "csv", "html"];

/// Runs in this process; the status and both streams as one text.
fn run(words: &[String]) -> (Status, String) {
    let (status, out, err) = super::here::run(words, "");
    (status, out + &err)
}

fn words(line: &[&str]) -> Vec<String> {
    line.iter().map(|word| (*word).to_owned()).collect()
}

/// Questions that are answered with a no.
const NO: &[&[&str]] = &[
    &["advise", "--load", "300wm-180@50yd", "--load", "22lr-std-40@25yd", "--altitude", "500ft", "--tilt", "10deg"],
    &["vet", "--load", "308-168-match", "--at", "60yd", "--plate", "1/4in", "--mount", "bolted", "--duty", "public"],
    &["vet", "--any", ".30-06", "--at", "300yd", "--plate", "3/8in", "--temperature", "20F..90F", "--slope", "5deg"],
    &["standoff", "--load", "50bmg-647", "--plate", "3/8in", "--steel", "AR400", "--condition", "pitted"],
];

#[test]
fn a_value_made_unreadable_is_refused_by_its_option() {
    for line in NO {
        let (before, text) = run(&words(line));
        assert_ne!(before, Status::Suits, "{line:?}: {text}");
        for (at, option) in line.iter().enumerate().filter(|(_, word)| word.starts_with("--")) {
            for form in FORMS {
                let mut garbled = words(line);
                garbled[at + 1] = format!("{}zz", garbled[at + 1]);
                garbled.extend(words(&["--format", form]));
                let (after, text) = run(&garbled);
                assert_eq!(after, Status::InvalidInput, "{garbled:?}");
                assert!(text.contains(option), "{garbled:?}: {text}");
            }
            let mut garbled = words(line);
            garbled[at] = format!("{option}x");
            let (after, text) = run(&garbled);
            assert_eq!(after, Status::InvalidInput, "{garbled:?}");
            assert!(text.contains(option), "{garbled:?}: {text}");
        }
    }
}

/// Each line of a file spoilt in turn, by a mark before it, behind it, and in its middle.
fn spoilt(text: &str) -> Vec<(usize, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let mut files = Vec::new();
    for (at, line) in lines.iter().enumerate().filter(|(_, l)| !l.trim().is_empty() && !l.trim_start().starts_with('#'))
    {
        let half = (0..=line.len() / 2).rev().find(|i| line.is_char_boundary(*i)).unwrap_or(0);
        for bad in [format!("~~{line}"), format!("{line}~~"), format!("{}~~{}", &line[..half], &line[half..])] {
            let mut lines = lines.clone();
            lines[at] = &bad;
            files.push((at + 1, lines.join("\n") + "\n"));
        }
    }
    files
}

/// Asks with a file beside each of its spoilt copies; none may lift the status to a yes.
fn no_spoilt_line_lifts(name: &str, text: &str, line: impl Fn(&str) -> Vec<String>) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(name);
    let shown = path.display().to_string();
    let asked = |text: &str, form: &str| {
        fs::write(&path, text).expect("a file");
        let mut words = line(&shown);
        words.extend(["--format".to_owned(), form.to_owned()]);
        run(&words)
    };
    let (before, told) = asked(text, "table");
    assert!(matches!(before, Status::Unsuitable | Status::Borderline), "{name}: {told}");
    for (turn, (number, text)) in spoilt(text).into_iter().enumerate() {
        // The forms take turns: what is refused is refused before any is chosen.
        let form = FORMS[(turn + number) % FORMS.len()];
        let (after, told) = asked(&text, form);
        assert_ne!(after, Status::Suits, "{name}, line {number}, as {form}:\n{told}");
        if after == Status::InvalidInput {
            assert!(told.contains(Path::new(name).file_stem().and_then(|s| s.to_str()).expect("a name")), "{told}");
        }
    }
}

#[test]
fn a_line_of_an_inquiry_made_unreadable_never_lifts_its_no() {
    let text = "schema = \"thickset/inquiry/1\"\n[air]\naltitude = \"4200 ft\"\ntemperature = \"-10 F..95 F\"\n\
                [[target]]\nname = \"gong\"\nstand = { face = \"12in\", tilt = \"15 deg\" }\n\
                [[load]]\nid = \"own\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\nbullet = \"180 gr\"\n\
                muzzle-velocity = \"3100 ft/s\"\ndrag = \"G7\"\nbc = \"0.29\"\n\
                [[shot]]\nload = \"own\"\nat = [\"60 yd\"]\ntarget = [\"gong\"]\n\
                [[shot]]\nany = \".22 LR\"\nat = [\"50 yd\"]\n";
    no_spoilt_line_lifts("asked.toml", text, |path| words(&["advise", path]));
}

#[test]
fn a_line_of_a_file_of_loads_plates_or_rules_made_unreadable_never_lifts_a_no() {
    let load = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\n\
                bullet = \"180 gr\"\nmuzzle-velocity = \"3100 ft/s\"\ndrag = \"G7\"\nbc = \"0.29\"\n";
    no_spoilt_line_lifts("loads.toml", load, |path| {
        words(&["vet", "--load", "own", "--at", "60yd", "--plate", "1/2in", "--load-file", path])
    });
    let plates = "schema = \"thickset/plates/1\"\n[[plate]]\nlabel = \"1/4 in\"\nthickness = \"6 mm\"\n[[plate]]\nthickness = \"8 mm\"\n";
    no_spoilt_line_lifts("plates.toml", plates, |path| {
        words(&["advise", "--load", "300wm-180@60yd", "--plate-file", path])
    });
    let rules = fs::read_to_string("examples/gravel-pit.toml").expect("the example");
    no_spoilt_line_lifts("rules.toml", &rules, |path| {
        words(&["vet", "--load", "308-180", "--at", "40yd", "--plate", "3/8in", "--range-rules", path])
    });
}

#[test]
fn a_line_of_a_drawing_made_unreadable_never_lifts_a_no() {
    let svg = "<svg width=\"12in\" height=\"12in\" viewBox=\"0 0 12 12\">\n\
               <path d=\"M0 0 H12 V12 H0 Z\"/>\n<path d=\"M1 1 H11 V5.8 H1 Z\"/>\n<path d=\"M1 6.2 H11 V11 H1 Z\"/>\n</svg>\n";
    no_spoilt_line_lifts("part.svg", svg, |path| {
        words(&["vet", "--load", "308-168-match", "--at", "150yd", "--plate", "3/8in", "--outline", path])
    });
}

#[test]
fn a_row_of_a_chronograph_s_file_made_unreadable_is_named_or_refused() {
    let text = "shot,velocity (ft/s)\n1,2650\n2,2655\n3,2641\n4,2660\n5,2648\n";
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("string.csv");
    for (number, text) in spoilt(text) {
        fs::write(&path, &text).expect("a file");
        let (status, told) = run(&words(&["chrono", &path.display().to_string(), "--format", "json"]));
        let whole = status != Status::InvalidInput && told.contains("\"n\": 5");
        assert!(!whole || number == 1 || !told.contains("~~") || told.contains("left_out"), "line {number}: {told}");
        if status == Status::Suits && !whole {
            assert!(told.contains("left_out") || told.contains("apart"), "line {number}: {told}");
        }
    }
}
