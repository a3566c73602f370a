//! The schemas in `data/schema/`, held against the types they are made from.

#[cfg(feature = "schema")]
use serde_json::Value;
use std::path::PathBuf;

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("data/schema/{name}.json"))
}

/// The schema of a document, as it stands in its file.
pub(crate) fn schema(name: &str) -> String {
    let path = path(name);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// `THICKSET_WRITE_SCHEMAS=1` writes them anew instead.
#[cfg(feature = "schema")]
#[test]
fn the_schemas_at_hand_are_those_of_the_types() {
    use schemars::schema_for;
    use thickset::advisor::answer::{
        AdviseAnswer, CatalogAnswer, ChronoAnswer, CourseAnswer, StandoffAnswer, StrikeAnswer, VetAnswer,
    };
    use thickset::advisor::question::{
        AdviseQuestion, ChronoQuestion, CourseQuestion, StandoffQuestion, StrikeQuestion, VetQuestion,
    };
    let of_types = [
        ("advise", schema_for!(AdviseAnswer)),
        ("advise-question", schema_for!(AdviseQuestion)),
        ("standoff", schema_for!(StandoffAnswer)),
        ("standoff-question", schema_for!(StandoffQuestion)),
        ("vet", schema_for!(VetAnswer)),
        ("vet-question", schema_for!(VetQuestion)),
        ("strike", schema_for!(StrikeAnswer)),
        ("strike-question", schema_for!(StrikeQuestion)),
        ("course", schema_for!(CourseAnswer)),
        ("course-question", schema_for!(CourseQuestion)),
        ("chrono", schema_for!(ChronoAnswer)),
        ("chrono-question", schema_for!(ChronoQuestion)),
        ("catalog", schema_for!(CatalogAnswer)),
        ("error", schema_for!(thickset::report::ErrorDocument)),
    ];
    let of_types: Vec<(&str, Value)> =
        of_types.into_iter().map(|(name, schema)| (name, serde_json::to_value(schema).unwrap())).collect();
    for (name, text) in apart(&of_types) {
        if std::env::var_os("THICKSET_WRITE_SCHEMAS").is_some() {
            std::fs::write(path(&name), &text).unwrap();
        }
        assert!(schema(&name) == text, "{name}: write it anew with THICKSET_WRITE_SCHEMAS=1");
    }
    for (name, of_type) in of_types {
        let (document, question) =
            name.strip_suffix("-question").map_or((name, ""), |document| (document, "--question"));
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let words = ["thickset", "schema", document, question].into_iter().filter(|word| !word.is_empty());
        let words = words.map(str::to_owned);
        thickset::cli::run_on(thickset::cli::Terminal::default(), words, &mut std::io::empty(), &mut out, &mut err);
        assert_eq!(serde_json::from_slice::<Value>(&out).unwrap(), of_type, "{name}");
    }
}

/// The texts by name: of each schema without what several define alike, and of that.
#[cfg(feature = "schema")]
fn apart(schemas: &[(&str, Value)]) -> Vec<(String, String)> {
    let defined = |schema: &Value| schema["$defs"].as_object().cloned().unwrap_or_default();
    let mut shared = serde_json::Map::new();
    for (name, definition) in schemas.iter().flat_map(|(_, schema)| defined(schema)) {
        shared.entry(name).or_insert(definition);
    }
    let mut texts = vec![("shared".to_owned(), lines(&shared))];
    for (name, schema) in schemas {
        let mut own = schema.as_object().unwrap().clone();
        let left: serde_json::Map<String, Value> =
            defined(schema).into_iter().filter(|(name, definition)| shared[name] != *definition).collect();
        own.shift_remove("$defs");
        if !left.is_empty() {
            own.insert("$defs".to_owned(), left.into());
        }
        texts.push(((*name).to_owned(), lines(&own)));
    }
    texts
}

/// An object with a line for each of its keys, and for each key of those.
#[cfg(feature = "schema")]
fn lines(object: &serde_json::Map<String, Value>) -> String {
    let within = |inner: &serde_json::Map<String, Value>| {
        let each: Vec<String> =
            inner.iter().map(|(key, value)| format!("    {}: {value}", Value::from(key.as_str()))).collect();
        format!("{{\n{}\n  }}", each.join(",\n"))
    };
    let each: Vec<String> = object
        .iter()
        .map(|(key, value)| match value {
            Value::Object(inner) if !inner.is_empty() => format!("  {}: {}", Value::from(key.as_str()), within(inner)),
            other => format!("  {}: {other}", Value::from(key.as_str())),
        })
        .collect();
    format!("{{\n{}\n}}\n", each.join(",\n"))
}
