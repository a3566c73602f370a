//! `thickset schema`: the form of what is asked and answered, for another program.
//!
//! The texts are made from the types by a test, with the feature `schema`. What several of them define alike stands in
//! one text beside them, and is put into each that refers to it.

use serde_json::{Map, Value};

/// A document: its name, the schema of the answer, and of the question where one is asked.
type Document = (&'static str, &'static str, Option<&'static str>);

macro_rules! document {
    ($name:literal) => {
        include_str!(concat!("../../data/schema/", $name, ".json"))
    };
}

const DOCUMENTS: &[Document] = &[
    ("advise", document!("advise"), Some(document!("advise-question"))),
    ("standoff", document!("standoff"), Some(document!("standoff-question"))),
    ("vet", document!("vet"), Some(document!("vet-question"))),
    ("strike", document!("strike"), Some(document!("strike-question"))),
    ("course", document!("course"), Some(document!("course-question"))),
    ("chrono", document!("chrono"), Some(document!("chrono-question"))),
    ("catalog", document!("catalog"), None),
    ("error", document!("error"), None),
];

/// The documents there are schemas of.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    DOCUMENTS.iter().map(|(name, ..)| *name)
}

/// The schema of a document, or of the question that it answers; `None` where nothing is asked so.
pub(super) fn of(name: &str, question: bool) -> Option<String> {
    let (_, answer, asked) = DOCUMENTS.iter().find(|(own, ..)| *own == name)?;
    let mut schema: Value = serde_json::from_str(if question { (*asked)? } else { answer }).ok()?;
    define(&mut schema, &serde_json::from_str(document!("shared")).ok()?);
    serde_json::to_string_pretty(&schema).ok().map(|text| text + "\n")
}

/// Puts into a schema what it refers to and does not define itself.
fn define(schema: &mut Value, shared: &Map<String, Value>) {
    let mut open = Vec::new();
    referred(schema, &mut open);
    let mut defined = match schema.as_object_mut().and_then(|schema| schema.remove(DEFINED)) {
        Some(Value::Object(own)) => own,
        _ => Map::new(),
    };
    while let Some(name) = open.pop() {
        if let Some(definition) = shared.get(&name).filter(|_| !defined.contains_key(&name)) {
            referred(definition, &mut open);
            defined.insert(name, definition.clone());
        }
    }
    if !defined.is_empty() {
        schema[DEFINED] = defined.into();
    }
}

/// Where a schema defines what it refers to, and how it refers to it.
const DEFINED: &str = "$defs";
const REFERENCE: &str = "#/$defs/";

/// The names that a schema refers to.
fn referred(schema: &Value, names: &mut Vec<String>) {
    match schema {
        Value::String(text) => names.extend(text.strip_prefix(REFERENCE).map(str::to_owned)),
        Value::Array(all) => all.iter().for_each(|one| referred(one, names)),
        Value::Object(all) => all.values().for_each(|one| referred(one, names)),
        _ => {}
    }
}
