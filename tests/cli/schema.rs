//! Every JSON document is what the schema that the program prints says.

use super::misfits::misfits;
use super::{stderr, stdout, thickset};
use serde_json::Value;

/// Command lines, each with a document of its command.
const DOCUMENTS: &[&str] = &[
    "advise --load 308-168-match@100yd --load 300wm-180@100yd",
    "advise examples/inquiry.toml",
    "advise --any \".308 Win\" --at 200yd --shop examples/shop.toml --outline examples/outlines/shield.dxf --quantity 3",
    "vet --load 300wm-180 --at 100yd --plate 3/8in",
    "vet --load 9mm-115 --at 10yd --plate 3/8in --kind popper",
    "standoff",
    "standoff --load 556-55 --plate 3/8in --shooters 40 --rounds 100",
    "standoff --load 556-55 --load 9mm-115 --at 100yd",
    "strike --load 308-168-match",
    "course examples/match.toml",
    "chrono 2648fps 2655fps 2641fps 264fps",
    "catalog loads",
    "catalog cartridges",
    "catalog plates",
    "catalog rules",
    "catalog sources",
];

fn schema(of: &str) -> Value {
    let output = thickset(&format!("schema {of}"));
    serde_json::from_str(&stdout(&output)).unwrap_or_else(|e| panic!("{of}: {e}\n{}", stderr(&output)))
}

fn assert_fits(line: &str, document: &str, schema: &Value) {
    let document: Value = serde_json::from_str(document).unwrap_or_else(|e| panic!("{line}: {e}\n{document}"));
    let mut found = Vec::new();
    misfits(&document, schema, schema, "$", &mut found);
    assert!(found.is_empty(), "{line}\n{found:#?}");
}

#[test]
fn every_document_fits_the_schema_that_is_printed() {
    for line in DOCUMENTS {
        let command = line.split(' ').next().unwrap_or_default();
        let output = thickset(&format!("{line} --format json"));
        assert_fits(line, &stdout(&output), &schema(command));
    }
    let fault = thickset("vet --load nothing --at 1yd --plate 3/8in --format json");
    assert_fits("a fault", &stderr(&fault), &schema("error"));
}

#[test]
fn a_document_that_does_not_fit_is_found() {
    let schema = schema("vet");
    let output = thickset("vet --load 300wm-180 --at 100yd --plate 3/8in --format json");
    let whole: Value = serde_json::from_str(&stdout(&output)).expect("a document");
    for (change, value) in [("verdict", Value::from("fine")), ("findings", Value::from(3)), ("extra", Value::from(1))] {
        let mut changed = whole.clone();
        changed[change] = value;
        let mut found = Vec::new();
        misfits(&changed, &schema, &schema, "$", &mut found);
        assert!(!found.is_empty(), "{change}");
    }
    let mut less = whole;
    less.as_object_mut().expect("a map").remove("verdict");
    let mut found = Vec::new();
    misfits(&less, &schema, &schema, "$", &mut found);
    assert!(!found.is_empty());
}
