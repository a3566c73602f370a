//! What of a JSON document does not fit a JSON Schema, as far as the schemas of this program go.

use serde_json::Value;

/// What of a document does not fit a schema: types, required keys, keys that are not named, `$ref`, `anyOf`.
pub fn misfits(value: &Value, schema: &Value, root: &Value, path: &str, found: &mut Vec<String>) {
    if let Some(reference) = schema.get("$ref").and_then(Value::as_str) {
        let target = root.pointer(reference.trim_start_matches('#')).unwrap_or(&Value::Null);
        return misfits(value, target, root, path, found);
    }
    if let Some(ways) = schema.get("anyOf").or(schema.get("oneOf")).and_then(Value::as_array) {
        let fits = |way: &Value| {
            let mut of = Vec::new();
            misfits(value, way, root, path, &mut of);
            of.is_empty()
        };
        if !ways.iter().any(fits) {
            found.push(format!("{path}: none of the ways"));
        }
        return;
    }
    if let Some(only) = schema.get("const")
        && only != value
    {
        found.push(format!("{path}: {value} in place of {only}"));
    }
    if let (Some(least), Some(number)) = (schema.get("minimum").and_then(Value::as_f64), value.as_f64())
        && number < least
    {
        found.push(format!("{path}: {number} below {least}"));
    }
    if let Some(allowed) = schema.get("enum").and_then(Value::as_array)
        && !allowed.contains(value)
    {
        found.push(format!("{path}: {value} is not in the list"));
    }
    let types: Vec<&str> = match schema.get("type") {
        Some(Value::String(one)) => vec![one.as_str()],
        Some(Value::Array(list)) => list.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    let is = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    let fits = types.is_empty() || types.contains(&is) || (is == "integer" && types.contains(&"number"));
    if !fits {
        found.push(format!("{path}: {is} in place of {types:?}"));
    }
    if let (Value::Object(map), Some(properties)) = (value, schema.get("properties").and_then(Value::as_object)) {
        for key in schema.get("required").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str) {
            if !map.contains_key(key) {
                found.push(format!("{path}: no `{key}`"));
            }
        }
        for (key, inner) in map {
            match properties.get(key) {
                Some(of) => misfits(inner, of, root, &format!("{path}.{key}"), found),
                None if schema.get("additionalProperties").is_some_and(|more| *more != Value::Bool(false)) => {}
                None => found.push(format!("{path}: `{key}` is not in the schema")),
            }
        }
    }
    if let Value::Array(list) = value {
        let first = schema.get("prefixItems").and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
        for (index, inner) in list.iter().enumerate() {
            match first.get(index).or(schema.get("items")) {
                Some(Value::Bool(false)) => found.push(format!("{path}[{index}]: one too many")),
                Some(of) => misfits(inner, of, root, &format!("{path}[{index}]"), found),
                None => {}
            }
        }
        let bound = |key: &str| schema.get(key).and_then(Value::as_u64).and_then(|n| usize::try_from(n).ok());
        if bound("minItems").is_some_and(|least| list.len() < least)
            || bound("maxItems").is_some_and(|most| list.len() > most)
        {
            found.push(format!("{path}: {} items", list.len()));
        }
    }
}
