//! The keys of the files that people write, told in one place.

use super::{json, status, stderr, stdout, thickset};
use std::fs;

/// The keys of a file, with the table that each stands in.
fn keys(file: &str) -> Vec<(String, String)> {
    let document = json(&format!("catalog keys {file}"));
    let text = |key: &serde_json::Value, name: &str| key[name].as_str().unwrap_or_default().to_owned();
    let listed = document["keys"].as_array().expect("keys").clone();
    assert!(listed.iter().all(|key| key["file"] == file && !text(key, "takes").is_empty()), "{file}");
    listed.iter().map(|key| (text(key, "table"), text(key, "key"))).collect()
}

#[test]
fn a_file_of_each_kind_has_its_keys_and_a_word_narrows_them() {
    for (file, table, key) in [
        ("rules", "[[rule]]", "by-thickness"),
        ("loads", "[[load]]", "velocity-sd"),
        ("plates", "[[plate]]", "label"),
        ("shop", "[[price]]", "cut-per-inch"),
        ("inquiry", "[[shot]]", "any"),
        ("match", "[[ammunition]]", "power-factor-at-least"),
        ("outline", "[[hole]]", "slot"),
    ] {
        let keys = keys(file);
        assert!(keys.contains(&(table.into(), key.into())), "{file}: {keys:?}");
        assert!(keys.contains(&(String::new(), "schema".into())), "{file}: {keys:?}");
    }
    let text = stdout(&thickset("catalog keys rules borderlines"));
    assert!(text.contains("borderlines: with an outcome") && !text.contains("by-thickness"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    assert_eq!(status(&thickset("catalog keys --range-rules examples/gravel-pit.toml")), 2);
}

#[test]
fn the_example_of_a_range_s_rules_has_every_key_and_is_read() {
    let text = fs::read_to_string("examples/range-rules.toml").expect("the example");
    for (table, key) in keys("rules") {
        let has = text.lines().any(|line| line.starts_with(&format!("{key} = ")) || line == format!("[[{key}]]"));
        assert!(has, "{table} `{key}` is not in the example");
    }
    let rules = json("catalog rules hill --range-rules examples/range-rules.toml");
    let count = text.lines().filter(|line| *line == "[[rule]]").count();
    assert_eq!(rules["listed"].as_array().map(Vec::len), Some(count));
    let vetted = thickset("vet --load 308-168-match --at 115yd --plate 3/8in --range-rules examples/range-rules.toml");
    assert_eq!(status(&vetted), 3, "{}", stdout(&vetted));
}

#[test]
fn an_unknown_key_is_told_where_the_keys_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("rules.toml");
    fs::write(&path, "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nidd = \"x\"\n").expect("a file");
    let output = thickset(&format!("catalog rules --range-rules {}", path.display()));
    assert!(status(&output) == 2 && stderr(&output).contains("`thickset catalog keys`"), "{}", stderr(&output));
}

#[test]
fn a_thickness_written_as_the_keys_say_is_meant_exactly() {
    let told = stdout(&thickset("catalog keys rules")).split_whitespace().collect::<Vec<_>>().join(" ");
    let written = told.split(" for 0.5 in").next().and_then(|t| t.rsplit('`').nth(1)).expect("an example").to_owned();
    let folder = tempfile::tempdir().expect("a folder");
    let rules = folder.path().join("range.toml");
    let text = "schema = \"thickset/rules/1\"\nname = \"R\"\n[[rule]]\nid = \"thick\"\nsubject = \"thickness\"\n";
    let text = format!("{text}sense = \"at-least\"\nsuits = \"{written}\"\nwhy = \"half an inch\"\n");
    fs::write(&rules, text).expect("a file");
    let vet = |plate: &str| {
        let asked = format!("vet --load 308-168-match --at 300yd --condition sound --tilt 15deg --plate {plate}");
        thickset(&format!("{asked} --range-rules {}", rules.display())).status.code()
    };
    assert_eq!((vet("1/2in"), vet("12.69mm")), (Some(0), Some(1)), "{written}");
}
