//! What the TOML reader finds wrong, in plain words with the fix: it speaks of sequences, maps and integers.

use super::SourceText;
use std::ops::Range;

/// The most characters of what stands in a file that a message repeats.
const MAX_SHOWN: usize = 40;
/// Where a file's keys are told.
pub(super) const KEYS: &str = "`thickset catalog keys` tells the keys of every file, and what each takes";

/// The fault of a message in plain words, and the fix; `None` for one that is plain as it is.
pub(super) fn plain(source: &SourceText, span: &Range<usize>, message: &str) -> Option<(String, String)> {
    if let Some(field) = message.strip_prefix("missing field `").and_then(|rest| rest.strip_suffix('`')) {
        return Some((format!("there is no `{field}`"), format!("write a line `{field} = …`; {KEYS}")));
    }
    if source.text.trim_start().starts_with('{') {
        let fix = format!("write `key = value`, each in a line of its own; {KEYS}");
        return Some(("the file is written as JSON, and is read as TOML".into(), fix));
    }
    if let Some(fix) = grammar(message) {
        return Some((message.to_owned(), fix.to_owned()));
    }
    if let Some(head) = single(source, span, message) {
        let name = head.trim_matches(['[', ']']);
        return Some((format!("`{head}` stands once"), format!("give it one bracket, `[{name}]`; {KEYS}")));
    }
    let of_type = ["invalid type: ", "invalid value: ", "invalid length "]
        .iter()
        .find_map(|begin| message.strip_prefix(begin))?;
    let (found, expected) = of_type.rsplit_once(", expected ")?;
    let written = shown(source.text.get(span.clone())?);
    if expected == "a sequence" && found == "map" {
        return Some(table(&written));
    }
    let key = key(source, span.start);
    let key = key.as_deref().unwrap_or("…");
    let bare = written.trim_matches(['"', '\'']);
    let (is_no, fix) = match expected {
        "a sequence" => ("a list stands in brackets", format!("write `{key} = [{written}]`")),
        "a string" => ("a text stands in quotes", format!("write `{key} = \"{bare}\"`")),
        "a boolean" => ("it is `true` or `false`", format!("write `{key} = true` or `{key} = false`, without quotes")),
        "u8" | "u16" | "u32" | "u64" | "usize" => {
            ("it is a whole number, from 0", format!("write one without quotes, `{key} = {}`", whole(bare)))
        }
        "f64" => ("it is a number", format!("write one without quotes, `{key} = {}`", number(bare))),
        _ if expected.starts_with("struct ") || expected == "a map" => {
            ("it has keys of its own", format!("write them under a head `[{key}]`; {KEYS}"))
        }
        _ => return None,
    };
    Some((format!("`{key} = {written}`: {is_no}"), fix))
}

/// What to write where the text is no TOML.
fn grammar(message: &str) -> Option<&'static str> {
    let fixes = [
        ("string values must be quoted", "put texts and quantities in straight quotes, `altitude = \"1800 ft\"`"),
        ("invalid basic string", "end the text with `\"` on its line"),
        ("key with no value", "write `key = value`, one to a line"),
        ("duplicate key", "keep one of them; what may stand several times has two brackets, `[[stage]]`"),
        ("missing comma between array elements", "put a comma between them, `[\"a\", \"b\"]`"),
        ("unclosed array", "end the list with `]`"),
    ];
    fixes.iter().find(|(begin, _)| message.starts_with(begin)).map(|(_, fix)| *fix)
}

/// The head in two brackets of what stands once: the reader takes its tables for the first of its values.
fn single<'t>(source: &'t SourceText, span: &Range<usize>, message: &str) -> Option<&'t str> {
    let (before, after) = (source.text.get(..span.start)?, source.text.get(span.end..)?);
    let begins = before.rsplit('\n').next().is_some_and(|line| line.trim().is_empty());
    let at_key = begins && message.starts_with("unknown variant `") && after.trim_start_matches(' ').starts_with('=');
    let of_head = |line: &&str| line.starts_with("[[");
    if at_key {
        return before.lines().rev().map(str::trim).find(|line| line.starts_with('[')).filter(of_head);
    }
    source.text.get(span.clone())?.lines().next().map(str::trim).filter(of_head)
}

/// A table where several may stand.
fn table(written: &str) -> (String, String) {
    let name = written.trim_matches(['[', ']']);
    if written.starts_with('[') {
        return (
            format!("`{written}` may stand several times"),
            format!("give it two brackets each time, `[[{name}]]`"),
        );
    }
    ("one may stand several times: it is a list".into(), "put it in brackets, `[{ … }]`".into())
}

/// A whole number that may have been meant.
fn whole(written: &str) -> String {
    let digits: String = written.chars().skip_while(|c| !c.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    if digits.is_empty() { "10".into() } else { digits }
}

/// A number that may have been meant.
fn number(written: &str) -> String {
    written.trim().parse::<f64>().map_or_else(|_| "1.5".into(), |number| number.to_string())
}

/// The key whose value begins at a place, as it is written.
fn key(source: &SourceText, value: usize) -> Option<String> {
    let before = source.text.get(..value)?.trim_end().strip_suffix('=')?;
    let name = before.rsplit(['\n', '{', ',']).next()?.trim();
    (!name.is_empty()).then(|| shown(name))
}

/// The first line of what is written, cut where it is long.
fn shown(text: &str) -> String {
    let line = text.lines().next().unwrap_or_default();
    let head: String = line.chars().take(MAX_SHOWN).collect();
    if head.len() < line.len() { head + "…" } else { head }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    #[allow(dead_code)]
    struct Part {
        at: String,
        kind: Option<Kind>,
    }

    #[derive(Debug, Deserialize)]
    enum Kind {
        #[serde(rename = "a")]
        A,
    }

    #[derive(Debug, Deserialize)]
    #[allow(dead_code)]
    struct Once {
        kind: Kind,
    }

    #[derive(Debug, Deserialize)]
    #[allow(dead_code)]
    struct File {
        once: Option<Once>,
        name: String,
        #[serde(default)]
        loads: Vec<String>,
        shooters: Option<u32>,
        share: Option<f64>,
        tilted: Option<bool>,
        part: Option<Part>,
        #[serde(default)]
        parts: Vec<Part>,
    }

    fn told(text: &str) -> (String, String) {
        let source = SourceText::new("match.toml", text);
        let error = toml::from_str::<File>(&source.text).unwrap_err();
        let fault = source.toml_fault(&error);
        (fault.message.clone(), fault.help.clone().unwrap_or_default())
    }

    #[test]
    fn a_value_of_another_kind_is_told_with_its_key_and_what_to_write() {
        for (line, message, help) in [
            ("loads = \"a\"", "`loads = \"a\"`: a list stands in brackets", "write `loads = [\"a\"]`"),
            (
                "shooters = \"ten\"",
                "`shooters = \"ten\"`: it is a whole number, from 0",
                "write one without quotes, `shooters = 10`",
            ),
            (
                "shooters = 12.5",
                "`shooters = 12.5`: it is a whole number, from 0",
                "write one without quotes, `shooters = 12`",
            ),
            (
                "shooters = -3",
                "`shooters = -3`: it is a whole number, from 0",
                "write one without quotes, `shooters = 3`",
            ),
            ("share = \"0.2\"", "`share = \"0.2\"`: it is a number", "write one without quotes, `share = 0.2`"),
            (
                "tilted = \"yes\"",
                "`tilted = \"yes\"`: it is `true` or `false`",
                "write `tilted = true` or `tilted = false`, without quotes",
            ),
            ("[parts]\nat = \"a\"", "`[parts]` may stand several times", "give it two brackets each time, `[[parts]]`"),
            ("parts = { at = \"a\" }", "one may stand several times: it is a list", "put it in brackets, `[{ … }]`"),
            ("parts = [{ at = 3 }]", "`at = 3`: a text stands in quotes", "write `at = \"3\"`"),
        ] {
            assert_eq!(told(&format!("name = \"M\"\n{line}\n")), (message.to_owned(), help.to_owned()), "{line}");
        }
        let (message, help) = told("name = \"M\"\npart = 3\n");
        assert!(message == "`part = 3`: it has keys of its own" && help.contains("`[part]`"), "{message} {help}");
        for (head, key) in [("[[part]]", "at"), ("[[once]]", "kind")] {
            let (message, help) = told(&format!("name = \"M\"\n{head}\n{key} = \"a\"\n"));
            assert!(
                message == format!("`{head}` stands once") && help.contains(&head[1..head.len() - 1]),
                "{message} {help}"
            );
        }
        let (message, _) = told("name = \"M\"\n[[parts]]\nat = \"a\"\nkind = { zebra = 3 }\n");
        assert!(message.starts_with("unknown variant `zebra`"), "{message}");
        let (message, help) = told("loads = []\n");
        assert!(message == "there is no `name`" && help.starts_with("write a line `name = …`"), "{message} {help}");
        let long = told(&format!("name = \"M\"\nloads = \"{}\"\n", "x".repeat(300))).0;
        assert!(long.chars().count() < 100, "{long}");
    }

    #[test]
    fn a_text_that_is_no_toml_is_told_with_what_to_write() {
        for (text, help) in [
            ("name = M", "straight quotes"),
            ("name = “M”", "straight quotes"),
            ("name = \"M", "end the text"),
            ("name \"M\"", "write `key = value`"),
            ("name = \"M\"\nname = \"N\"", "keep one of them"),
            ("name = \"M\"\nloads = [\"a\" \"b\"]", "comma"),
            ("name = \"M\"\nloads = [\"a\"", "`]`"),
        ] {
            let told = told(&format!("{text}\n"));
            assert!(told.1.contains(help), "{text}: {told:?}");
        }
    }

    #[test]
    fn a_file_in_json_is_told_to_be_toml() {
        let source = SourceText::new("q.json", "{\"at\": \"1 yd\"}");
        let error = toml::from_str::<Part>(&source.text).unwrap_err();
        assert!(source.toml_fault(&error).message.contains("is read as TOML"));
    }
}
