//! From options to a question: the same data that a file or another program asks with.

use super::options::{Becomes, OPTIONS, Opt, Verb, option_of_key};
use crate::source::{Diagnostic, meant_by};
use crate::words::{Units, in_units};
use clap::ArgMatches;
use clap::parser::ValueSource;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

/// How far each level of a JSON text is set in.
const INDENT: usize = 2;

/// The question that the options ask, before it is read: keys and values.
pub(super) fn keys(verb: Verb, matches: &ArgMatches) -> Result<Map<String, Value>, Diagnostic> {
    let mut keys = Map::new();
    let mut described = Map::new();
    for opt in OPTIONS.iter().filter(|opt| opt.is_on(verb)) {
        let values = values(opt, matches);
        if values.is_empty() {
            continue;
        }
        match opt.becomes {
            Becomes::Form => {}
            Becomes::Text(key) => put(&mut keys, key, values.into_iter().map(Value::String).collect()),
            Becomes::Number(key) => put(&mut keys, key, vec![number(opt, &values[0])?]),
            Becomes::Whole(key) => put(&mut keys, key, vec![whole(opt, &values[0])?]),
            Becomes::Described(key) => put(&mut described, key, values.into_iter().map(Value::String).collect()),
            Becomes::DescribedWhole(key) => put(&mut described, key, vec![whole(opt, &values[0])?]),
        }
    }
    refuse_beside_named(verb, &keys, &described)?;
    if !described.is_empty() {
        add(&mut keys, "load", Value::Object(described));
    }
    Ok(keys)
}

/// A named load is not changed by options: part of a description beside it is likely meant so. Where one load is asked,
/// a name and a description are two.
fn refuse_beside_named(
    verb: Verb,
    keys: &Map<String, Value>,
    described: &Map<String, Value>,
) -> Result<(), Diagnostic> {
    let Some(key) = described.keys().next() else { return Ok(()) };
    let Some(named) = ["load", "any"].into_iter().find(|key| keys.contains_key(*key)) else { return Ok(()) };
    let option = option_of_key(verb, key).map_or_else(|| format!("--{key}"), |opt| format!("--{}", opt.name));
    let alone = matches!(verb, Verb::Vet | Verb::Strike | Verb::Chrono);
    if !described.contains_key("bullet") {
        return Err(Diagnostic::plain(format!("`{option}` does not change a load that is named")).field(option).help(
            "describe the load whole, with `--bullet`, `--velocity`, `--bc` and `--drag`, or write it in a file for \
             `--load-file`",
        ));
    }
    if alone {
        return Err(Diagnostic::plain(format!("`--{named}` names a load and `{option}` describes another"))
            .field(option)
            .help("leave one of them out: one load is asked here"));
    }
    Ok(())
}

/// The values given for an option, in order.
pub(super) fn values(opt: &Opt, matches: &ArgMatches) -> Vec<String> {
    if opt.is_flag() || !is_given(opt.name, matches) {
        return Vec::new();
    }
    let typed = matches.get_many::<String>(opt.name).map(|values| values.cloned().collect()).unwrap_or_default();
    let Some(choices) = opt.choices else { return typed };
    typed.into_iter().map(|word: String| in_its_case(word, choices())).collect()
}

/// One of some words as it is read: `Sound` as `sound`.
fn in_its_case(word: String, choices: &[&str]) -> String {
    let same = choices.iter().find(|choice| choice.eq_ignore_ascii_case(&word));
    if choices.contains(&word.as_str()) { word } else { same.map_or(word.to_lowercase(), |same| (*same).to_owned()) }
}

/// Whether an option was typed.
pub(super) fn is_given(name: &str, matches: &ArgMatches) -> bool {
    matches.value_source(name) == Some(ValueSource::CommandLine)
}

fn put(keys: &mut Map<String, Value>, key: &str, mut values: Vec<Value>) {
    let value = if values.len() == 1 { values.remove(0) } else { Value::Array(values) };
    keys.insert(key.into(), value);
}

/// Adds a value to a key that may hold several.
fn add(keys: &mut Map<String, Value>, key: &str, value: Value) {
    match keys.get_mut(key) {
        None => put(keys, key, vec![value]),
        Some(Value::Array(list)) => list.push(value),
        Some(one) => *one = Value::Array(vec![one.take(), value]),
    }
}

fn number(opt: &Opt, text: &str) -> Result<Value, Diagnostic> {
    let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    number.and_then(serde_json::Number::from_f64).map(Value::Number).ok_or_else(|| {
        let digits: String = text.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
        let example = if digits.is_empty() { "20".to_owned() } else { digits };
        Diagnostic::plain(format!("`--{} {text}` is not a plain number", opt.name))
            .field(format!("--{}", opt.name))
            .help(format!("write `--{} {example}`", opt.name))
    })
}

fn whole(opt: &Opt, text: &str) -> Result<Value, Diagnostic> {
    text.trim().parse::<u32>().map(Value::from).map_err(|_| {
        Diagnostic::plain(format!("`--{} {text}` is not a whole number", opt.name))
            .field(format!("--{}", opt.name))
            .help(format!("write a whole number, `--{} 2`", opt.name))
    })
}

/// Reads the keys as a question.
pub(super) fn question<Q: DeserializeOwned>(verb: Verb, keys: Map<String, Value>) -> Result<Q, Diagnostic> {
    let units = if keys.get("units").is_some_and(|units| units == "si") { Units::Si } else { Units::Us };
    // Each value on a line of its own: the line of a fault tells the key.
    let text = format!("{:#}", Value::Object(keys));
    serde_json::from_str(&text).map_err(|error| {
        let place = format!(" at line {} column {}", error.line(), error.column());
        let fault = error.to_string();
        let fault = fault.strip_suffix(&place).unwrap_or(&fault);
        let key = key_at(&text, error.line(), fault.starts_with("missing field"));
        let (message, help) = fault.split_once('\n').unwrap_or((fault, ""));
        let option = option_of_key(verb, key);
        let sized =
            option.filter(|_| message.contains("has no unit")).and_then(|opt| with_its_unit(opt, message, units));
        let meant = if help.is_empty() { meant_by(message) } else { None };
        let help = sized.or(meant).unwrap_or_else(|| help.to_owned());
        let message = match option {
            Some(opt) => format!("--{}: {message}", opt.name),
            None => message.to_owned(),
        };
        let fault = Diagnostic::plain(message);
        let fault = match option {
            Some(opt) => fault.field(format!("--{}", opt.name)),
            None => fault.field(key),
        };
        if help.is_empty() { fault } else { fault.help(help) }
    })
}

/// The key whose value ends at a line or, the last of a table, before it: on the nearest line above that is no further
/// in. What a table lacks is told where it ends, of the table itself.
fn key_at(text: &str, line: usize, is_of_table: bool) -> &str {
    let depth = |line: &str| line.len() - line.trim_start().len();
    let above: Vec<&str> = text.lines().take(line).collect();
    let Some(at) = above.last() else { return "" };
    let is_before = at.trim_start().starts_with('}') && !is_of_table;
    let within = depth(at) + if is_before { INDENT } else { 0 };
    let opening = above.iter().rev().filter(|line| depth(line) <= within);
    let named = opening.filter_map(|line| line.trim_start().strip_prefix('"')?.split_once("\": "));
    named.map(|(key, _)| key).find(|key| !key.contains('\\')).unwrap_or_default()
}

/// What was typed, with the units that this option is usually given in: an altitude in feet, a barrel in inches; in
/// metric units where those are asked for.
fn with_its_unit(opt: &Opt, message: &str, units: Units) -> Option<String> {
    let typed = message.split('`').nth(1)?;
    let help = in_units(opt.help, units);
    let is_example = |part: &&str| part.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
    let mut would_do: Vec<String> = Vec::new();
    for example in help.split('`').filter(is_example) {
        let unit = example.trim_start_matches(|c: char| !c.is_alphabetic() && c != '%');
        let written = format!("`{typed} {unit}`");
        if !unit.is_empty() && !unit.contains(|c: char| c.is_ascii_digit()) && !would_do.contains(&written) {
            would_do.push(written);
        }
    }
    (!would_do.is_empty()).then(|| format!("write {}", would_do.join(" or ")))
}

/// The keys that an inquiry's file asks with those of the options beside it. Loads of one's own are those of both; any
/// other key that stands in both would drop one of them in silence.
pub(super) fn beside(
    mut file: Map<String, Value>,
    options: Map<String, Value>,
) -> Result<Map<String, Value>, Diagnostic> {
    for (key, value) in options {
        let is_asked = file.get(&key).is_some_and(|own| !own.is_null() && own.as_array().is_none_or(|l| !l.is_empty()));
        if !is_asked {
            file.insert(key, value);
            continue;
        }
        if key != "loads" {
            return Err(own_of_inquiry(option_of_key(Verb::Advise, &key).map_or(key.as_str(), |opt| opt.name)));
        }
        let values = if let Value::Array(values) = value { values } else { vec![value] };
        values.into_iter().for_each(|value| add(&mut file, &key, value));
    }
    Ok(file)
}

/// The fault of an option beside an inquiry that says the same in its file.
pub(super) fn own_of_inquiry(name: &str) -> Diagnostic {
    Diagnostic::plain(format!("`--{name}` stands beside an inquiry, which has its own"))
        .field(format!("--{name}"))
        .help("leave one of them out; `thickset catalog keys inquiry` tells what an inquiry takes")
}

/// The keys of a question that a file has asked.
pub(super) fn keys_of<Q: serde::Serialize>(question: &Q) -> Map<String, Value> {
    // A question is a map of texts, numbers and lists: it always serialises.
    match serde_json::to_value(question) {
        Ok(Value::Object(keys)) => keys,
        _ => Map::new(),
    }
}
