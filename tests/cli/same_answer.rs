//! One question by options, in a file and as JSON: one answer, word for word. The options go through the program's own
//! entry, `cli::run`, in one process, so that hundreds are asked in seconds.

use super::draws::{Draws, cases};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use std::fs;
use thickset::advisor::{
    AdviseQuestion, Advisor, ChronoQuestion, CourseQuestion, Faults, StandoffQuestion, StrikeQuestion, VetQuestion,
};
use thickset::catalog::Catalog;
use thickset::cli::Status;

/// Questions of each command, unless the environment says otherwise.
const CASES: usize = 24;

/// Keys of a question with their texts, in the order they were drawn.
#[derive(Default)]
struct Asked(Vec<(&'static str, String)>);

impl Asked {
    /// Draws a text for each key; an empty one leaves the key out.
    fn some(&mut self, draws: &mut Draws, keys: &[(&'static str, &[&str])]) {
        for (key, texts) in keys {
            let text = draws.of(texts);
            if !text.is_empty() {
                self.0.push((key, text.to_owned()));
            }
        }
    }

    /// A load by name, any ammunition of a cartridge, or a description.
    fn load(&mut self, draws: &mut Draws, ids: &[&str], beside: &[(&'static str, &[&str])]) {
        match draws.below(8) {
            0 => self.some(draws, &[("any", &[".308 Win", "9mm", ".22 LR", "12 ga", ".300 Win Mag"])]),
            1 | 2 => {
                self.some(
                    draws,
                    &[
                        ("bullet", &["168 gr", "55 gr", "9.7 g", "220 gr"]),
                        ("velocity", &["2650 fps", "3150 fps", "820 m/s", "1050 fps"]),
                        ("bc", &["0.223", "0.31", "0.45"]),
                        ("drag", &["G7", "G1"]),
                        ("diameter", &["", "0.308 in"]),
                        ("construction", &["", "jacketed-lead", "lead", "frangible"]),
                        ("firearm", &["", "rifle", "handgun"]),
                    ],
                );
            }
            _ => self.0.push(("load", draws.of(ids).to_owned())),
        }
        self.some(draws, beside);
    }

    fn options(&self) -> Vec<String> {
        let option = |(key, text): &(&str, String)| format!("--{}={text}", key.replace('_', "-"));
        self.0.iter().map(option).collect()
    }

    /// As JSON: what describes a load stands in an object of its own.
    fn json(&self) -> Map<String, Value> {
        let (mut keys, mut load) = (Map::new(), Map::new());
        for (key, text) in &self.0 {
            let into = if DESCRIBED.contains(key) { &mut load } else { &mut keys };
            let number = text.parse::<u32>().ok().filter(|_| WHOLE.contains(key)).map(Value::from);
            into.insert((*key).to_owned(), number.unwrap_or_else(|| text.clone().into()));
        }
        if !load.is_empty() {
            keys.insert("load".into(), load.into());
        }
        keys
    }
}

const DESCRIBED: &[&str] = &["bullet", "velocity", "bc", "drag", "diameter", "construction", "firearm"];
const WHOLE: &[&str] = &["quantity", "magnification", "shooters", "rounds"];
const AT: &[(&str, &[&str])] = &[("at", &["7 yd", "25 yd", "100 yd", "200 yd", "350 m", "600 yd"])];
const TARGET: &[(&str, &[&str])] = &[
    ("face", &["", "", "8 in", "300 mm", "12x20 in"]),
    ("mount", &["", "", "bolted", "captive-hook", "chain"]),
    ("duty", &["", "", "match", "public"]),
    ("condition", &["", "sound", "pitted"]),
    ("steel", &["", "", "AR500", "AR550", "unknown"]),
    ("tilt", &["", "15 deg", "-5 deg", "40 deg"]),
    ("oblique", &["", "", "10 deg", "20 deg"]),
    ("slope", &["", "", "10 deg"]),
];
const AIR: &[(&str, &[&str])] = &[
    ("air", &["", "", "ASM"]),
    ("altitude", &["", "4000 ft", "0 ft..1500 m"]),
    ("temperature", &["", "40 F..95 F", "15 C"]),
    ("humidity", &["", "", "40 %"]),
];
const SPREAD: &[(&str, &[&str])] =
    &[("velocity_sd", &["", "", "12 fps"]), ("bc_sd", &["", "", "1.5 %"]), ("coverage", &["", "", "95 %", "0.999"])];
const UNITS: &[(&str, &[&str])] = &[("units", &["", "", "si"])];

/// Status and both streams of a command in its form for programs.
fn run(words: &[String], stdin: &str) -> (Status, String, String) {
    let form = ["--format", "json"].map(str::to_owned);
    super::here::run(&[words, &form].concat(), stdin)
}

/// Asks the library with JSON, and compares with what a command printed; whether there was an answer.
fn same<Q: DeserializeOwned, A: Serialize>(
    words: &[String],
    printed: &(Status, String, String),
    json: Map<String, Value>,
    ask: impl Fn(&Q) -> Result<A, Faults>,
) -> bool {
    let (status, out, err) = printed;
    let text = Value::Object(json).to_string();
    let question: Q = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{text}: {e}"));
    match ask(&question) {
        Ok(answer) => {
            let document = serde_json::to_string_pretty(&answer).expect("an answer serialises") + "\n";
            let differs = document.lines().zip(out.lines()).find(|(a, b)| a != b);
            assert!(document == *out, "{words:?}\n{text}\n{differs:#?}\n{err}");
            true
        }
        Err(faults) => {
            assert_eq!(*status, Status::InvalidInput, "{words:?}\n{text}\n{faults}");
            // The program names options where the library names keys: what is wrong is the same, and how many.
            let told: Value = serde_json::from_str(err).unwrap_or_else(|e| panic!("{words:?}: {e}\n{err}"));
            let told = told["errors"].as_array().map_or(0, Vec::len);
            assert_eq!(told, faults.list().len(), "{words:?}\n{err}");
            false
        }
    }
}

/// What stands beside [`super::here`]: every command, every form, yes and no, and what is refused.
#[test]
fn the_binary_answers_as_it_does_in_this_process() {
    let lines = [
        "advise --load 308-168-match@200yd --load 300wm-180@100yd --shop examples/shop.toml --quantity 3",
        "advise examples/inquiry.toml",
        "vet --load 300wm-180 --at 100yd --plate 1/4in --duty public --condition pitted --mount welded",
        "vet --load 308-168-match --at 200yd --plate 1/2in --outline examples/outlines/shield.dxf",
        "standoff --any \".308 Win\" --plate 3/8in",
        "standoff",
        "strike --load 308-168-match --to 300yd",
        "chrono 2648fps 2655fps 2641fps 2850fps --load 308-168-match",
        "course examples/match.toml",
        "catalog loads",
        "vet --load 308-168-match --at 100 --plate 3/8in",
        "course examples/shop.toml",
    ];
    let forms = ["table", "json", "csv", "html", "table --full"];
    for (at, line) in lines.into_iter().enumerate() {
        let line = format!("{line} --format {}", forms[at % forms.len()]);
        let (alone, here) = (super::thickset(&line), super::here::thickset(&line));
        assert_eq!(super::status(&alone), super::status(&here), "{line}");
        assert_eq!(super::stdout(&alone), super::stdout(&here), "{line}");
        assert_eq!(super::stderr(&alone), super::stderr(&here), "{line}");
    }
}

fn advisor() -> Advisor {
    Advisor::house().expect("the house's advisor")
}

/// Asks so many questions of a command; at least two thirds of them must have been answered.
fn each<Q: DeserializeOwned, A: Serialize>(
    verb: &str,
    seed: u64,
    draw: impl Fn(&mut Asked, &mut Draws, &[&str]),
    ask: impl Fn(&Q) -> Result<A, Faults>,
) {
    let (catalog, mut draws, mut answered) = (Catalog::builtin().expect("loads"), Draws(seed), 0);
    let cases = cases(CASES);
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    for _ in 0..cases {
        let mut asked = Asked::default();
        draw(&mut asked, &mut draws, &ids);
        let words: Vec<String> = std::iter::once(verb.to_owned()).chain(asked.options()).collect();
        answered += usize::from(same(&words, &run(&words, ""), asked.json(), &ask));
    }
    assert!(3 * answered >= 2 * cases, "{verb}: {answered} of {cases} were answered");
}

#[test]
fn vet_answers_options_and_json_alike() {
    let (draw, advisor) = (
        |asked: &mut Asked, draws: &mut Draws, ids: &[&str]| {
            asked.load(draws, ids, AT);
            asked.some(draws, &[("plate", &["3/8 in", "1/2 in", "12 mm", "1/4 in"])]);
            [TARGET, AIR, SPREAD, UNITS].iter().for_each(|keys| asked.some(draws, keys));
        },
        advisor(),
    );
    each("vet", 1, draw, |question: &VetQuestion| advisor.vet(question));
}

#[test]
fn standoff_answers_options_and_json_alike() {
    let (draw, advisor) = (
        |asked: &mut Asked, draws: &mut Draws, ids: &[&str]| {
            asked.load(draws, ids, &[]);
            let crowd = draws.below(4) == 0;
            asked.some(draws, &[("plate", &["", "3/8 in", "1/2 in"]), ("at", &["", "", "150 yd"])]);
            if crowd {
                asked.some(draws, &[("shooters", &["40"]), ("rounds", &["120"]), ("risk", &["", "2 %"])]);
            }
            [TARGET, AIR, SPREAD, UNITS].iter().for_each(|keys| asked.some(draws, keys));
        },
        advisor(),
    );
    each("standoff", 2, draw, |question: &StandoffQuestion| advisor.standoff(question));
}

#[test]
fn strike_answers_options_and_json_alike() {
    let (draw, advisor) = (
        |asked: &mut Asked, draws: &mut Draws, ids: &[&str]| {
            asked.load(draws, ids, &[]);
            asked
                .some(draws, &[("to", &["", "300 yd", "400 m"]), ("step", &["", "50 yd"]), ("slope", &["", "10 deg"])]);
            [AIR, SPREAD, UNITS].iter().for_each(|keys| asked.some(draws, keys));
        },
        advisor(),
    );
    each("strike", 3, draw, |question: &StrikeQuestion| advisor.strike(question));
}

/// The question of an inquiry's file that asks what the options ask.
fn inquiry(asked: &Asked) -> Option<String> {
    let find = |key: &str| asked.0.iter().find(|(k, _)| *k == key).map(|(_, text)| text.as_str());
    let rows = |keys: &[(&'static str, &[&str])]| -> String {
        keys.iter().filter_map(|(key, _)| Some(format!("{key} = {:?}\n", find(key)?))).collect()
    };
    // A file has its coverage, and no spread of its own; its loads are by name.
    if ["velocity_sd", "bc_sd", "bullet"].iter().any(|key| find(key).is_some()) {
        return None;
    }
    let coverage = rows(&[("coverage", &[])]);
    let shot = rows(&[("load", &[]), ("any", &[]), ("at", &[])]).replace("at = ", "at = [").replace('\n', "\u{0}");
    let shot: String = shot
        .split_terminator('\u{0}')
        .map(|line| if line.starts_with("at") { format!("{line}]\n") } else { format!("{line}\n") })
        .collect();
    Some(format!(
        "schema = \"thickset/inquiry/1\"\n{coverage}[air]\n{}[[target]]\nname = \"\"\n[target.stand]\n{}[[shot]]\n{shot}",
        rows(AIR),
        rows(TARGET)
    ))
}

#[test]
fn advise_answers_options_a_file_and_json_alike() {
    let (advisor, folder) = (advisor(), tempfile::tempdir().expect("a folder"));
    let (catalog, mut draws, cases) = (Catalog::builtin().expect("loads"), Draws(4), cases(CASES));
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    let (mut answered, mut by_file) = (0, 0);
    for case in 0..cases {
        let mut asked = Asked::default();
        asked.load(&mut draws, &ids, AT);
        for keys in [TARGET, AIR, SPREAD, UNITS] {
            asked.some(&mut draws, keys);
        }
        asked.some(&mut draws, &[("quantity", &["", "4"]), ("magnification", &["", "", "32"])]);
        let words: Vec<String> = std::iter::once("advise".to_owned()).chain(asked.options()).collect();
        let printed = run(&words, "");
        answered += usize::from(same(&words, &printed, asked.json(), |q: &AdviseQuestion| advisor.advise(q)));
        let Some(text) = inquiry(&asked) else { continue };
        let path = folder.path().join(format!("{case}.toml"));
        fs::write(&path, &text).expect("a file");
        let beside = Asked(asked.0.into_iter().filter(|(k, _)| [&["units"], WHOLE].concat().contains(k)).collect());
        let words: Vec<String> =
            ["advise".to_owned(), path.display().to_string()].into_iter().chain(beside.options()).collect();
        let filed = run(&words, "");
        assert_eq!((filed.0, &filed.1), (printed.0, &printed.1), "{text}\n{}\n{}", filed.2, printed.2);
        by_file += 1;
    }
    assert!(3 * answered >= 2 * cases && 5 * by_file >= cases, "{answered} answered, {by_file} by file");
}

#[test]
fn chrono_answers_options_and_json_alike() {
    let (advisor, catalog, mut draws) = (advisor(), Catalog::builtin().expect("loads"), Draws(5));
    let cases = cases(CASES);
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    let mut answered = 0;
    for _ in 0..cases {
        let (count, unit) = (3 + draws.below(12), draws.of(&["fps", "m/s"]));
        let middle = if unit == "fps" { 2600 } else { 800 };
        let lines: Vec<String> = (0..count).map(|_| format!("{} {unit}", middle + draws.below(40))).collect();
        let readings = lines.join("\n");
        let mut asked = Asked::default();
        if draws.below(2) == 0 {
            asked.0.push(("load", draws.of(&ids).to_owned()));
            asked.some(&mut draws, &[("plate", &["", "3/8 in"])]);
            asked.some(&mut draws, TARGET);
        }
        asked.some(&mut draws, &[("confidence", &["", "90 %"]), ("coverage", &["", "95 %"]), UNITS[0]]);
        let mut words: Vec<String> = std::iter::once("chrono".to_owned()).chain(asked.options()).collect();
        words.push("-".into());
        let mut json = asked.json();
        json.insert("readings".into(), readings.clone().into());
        answered += usize::from(same(&words, &run(&words, &readings), json, |q: &ChronoQuestion| advisor.chrono(q)));
    }
    assert!(3 * answered >= 2 * cases, "{answered} of {cases} were answered");
}

/// A match of one stage with a few targets.
fn course(draws: &mut Draws, ids: &[&str]) -> String {
    let mut text = format!(
        "schema = \"thickset/course/1\"\nname = \"invented\"\nloads = [\"{}\", \"{}\"]\n[air]\naltitude = \"{}\"\ntemperature = \"{}\"\n\
         [stand]\ncondition = \"sound\"\ntilt = \"{}\"\n[[stage]]\nname = \"Bay\"\n",
        draws.of(ids),
        draws.of(ids),
        draws.of(&["500 ft", "0 ft..4000 ft"]),
        draws.of(&["70 F", "20 F..95 F"]),
        draws.of(&["15 deg", "5 deg"]),
    );
    for target in 0..=draws.below(4) {
        text += &format!(
            "[[stage.target]]\nname = \"{target}\"\nplate = \"{}\"\nat = \"{}\"\nstand = {{ face = \"{}\" }}\n",
            draws.of(&["1/4 in", "3/8 in", "1/2 in"]),
            draws.of(&["15 yd", "60 yd", "120 yd", "300 yd"]),
            draws.of(&["8in", "12x20in"]),
        );
    }
    text
}

#[test]
fn a_match_answers_its_file_and_the_same_object_as_json_alike() {
    let (advisor, folder) = (advisor(), tempfile::tempdir().expect("a folder"));
    let (catalog, mut draws) = (Catalog::builtin().expect("loads"), Draws(6));
    let ids: Vec<&str> = catalog.entries().iter().map(|entry| entry.load.id()).collect();
    let mut answered = 0;
    for case in 0..12 {
        let (text, path) = (course(&mut draws, &ids), folder.path().join(format!("{case}.toml")));
        fs::write(&path, &text).expect("a file");
        let words = ["course".to_owned(), path.display().to_string(), "--threads=2".into()];
        let object: Value = toml::from_str(&text).unwrap_or_else(|e| panic!("{text}: {e}"));
        let mut json = Map::new();
        json.insert("course".into(), object);
        json.insert("threads".into(), 1.into());
        answered += usize::from(same(&words, &run(&words, ""), json, |q: &CourseQuestion| advisor.course(q)));
    }
    assert!(answered >= 10, "{answered} of 12 were answered");
}
