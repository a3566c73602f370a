//! Documents for programs: JSON in SI and degrees, nine significant digits, `schema` first.

use super::page::Notice;
use crate::load::Load;
use crate::quantity::{Measure, unit};
use crate::rules::{Finding, RuleSet, Subject};
use crate::source::{Diagnostic, is_unsafe_char};
use crate::strike::Strike;
use serde_json::{Map, Value, json};
use std::fmt::Write;

/// Significant digits of every number.
const DIGITS: i32 = 9;

/// A document in the making.
#[derive(Debug, Clone)]
pub struct Document(Map<String, Value>);

/// What every document says beside its answer.
#[derive(Debug, Clone)]
pub struct Circumstances {
    /// The inputs as understood.
    pub inputs: Value,
    /// Every assumption taken, in words.
    pub assumed: Vec<String>,
    /// Cautions, in words.
    pub cautions: Vec<String>,
}

fn program() -> Value {
    json!(concat!("thickset ", env!("CARGO_PKG_VERSION")))
}

impl Document {
    /// A document of a schema, `thickset/advise/1`.
    #[must_use]
    pub fn new(schema: &str, circumstances: &Circumstances, rules: &RuleSet) -> Self {
        let mut map = Map::new();
        map.insert("schema".into(), json!(schema));
        map.insert("program".into(), program());
        map.insert("inputs".into(), circumstances.inputs.clone());
        map.insert("assumed".into(), json!(circumstances.assumed));
        let rules = rules.rules().iter().map(|r| json!({"id": r.id, "overlay": r.overlay.as_deref()}));
        map.insert("rules".into(), rules.collect());
        map.insert("cautions".into(), json!(circumstances.cautions));
        map.insert("notice".into(), json!(Notice::default().text()));
        Self(map)
    }

    /// Adds a key.
    #[must_use]
    pub fn with(mut self, key: &str, value: Value) -> Self {
        self.0.insert(key.into(), value);
        self
    }

    /// The text, with a line break at its end.
    #[must_use]
    pub fn text(self) -> String {
        printed(Value::Object(self.0))
    }
}

fn printed(mut value: Value) -> String {
    round(&mut value);
    // A value of maps with text keys always prints.
    escaped(serde_json::to_string_pretty(&value).unwrap_or_default()) + "\n"
}

/// The document with every character that could steer a terminal as an escape of JSON: the same document.
/// The printer has escaped those below a space; its own line breaks stay.
fn escaped(text: String) -> String {
    let steers = |c: char| c != '\n' && is_unsafe_char(c);
    if !text.contains(steers) {
        return text;
    }
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if steers(c) {
            for unit in c.encode_utf16(&mut [0; 2]) {
                let _ = write!(safe, "\\u{unit:04x}");
            }
        } else {
            safe.push(c);
        }
    }
    safe
}

fn round(value: &mut Value) {
    match value {
        Value::Number(number) if number.is_f64() => {
            if let Some(rounded) = number.as_f64().map(significant) {
                *value = json!(rounded);
            }
        }
        Value::Array(items) => items.iter_mut().for_each(round),
        Value::Object(map) => map.values_mut().for_each(round),
        _ => {}
    }
}

/// Rounded to the digits of a document; what is not finite is null there.
fn significant(number: f64) -> f64 {
    if number == 0.0 || !number.is_finite() {
        return number;
    }
    #[allow(clippy::cast_possible_truncation)] // The exponent of a finite number is small.
    let scale = 10_f64.powi(DIGITS - 1 - number.abs().log10().floor() as i32);
    if scale.is_finite() && scale > 0.0 { (number * scale).round() / scale } else { number }
}

/// The unit a subject's numbers are given in.
#[must_use]
pub fn unit_of(subject: Subject) -> Option<&'static str> {
    match subject {
        Subject::Distance | Subject::Thickness | Subject::Calibre => Some("m"),
        Subject::ImpactSpeed | Subject::SlowSpeed | Subject::MuzzleSpeed => Some("m/s"),
        Subject::Energy | Subject::MuzzleEnergy => Some("J"),
        Subject::Demand | Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => Some("1"),
        Subject::Lean | Subject::Oblique => Some("deg"),
        Subject::Case => None,
    }
}

/// A finding; angles in degrees.
#[must_use]
pub fn finding(finding: &Finding, case: &str, text: &str) -> Value {
    let rule = finding.rule();
    let number = |value: Option<crate::rules::Value>| match value? {
        crate::rules::Value::Angle(angle) => Some(unit::DEGREE.value(angle)),
        value => Some(value.si()),
    };
    json!({
        "rule": rule.id,
        "case": case,
        "verdict": finding.verdict,
        "limit": number(finding.limit),
        "actual": number(finding.actual),
        "unit": unit_of(rule.subject),
        "margin": finding.margin,
        "basis": rule.basis,
        "source": rule.source,
        "text": text,
    })
}

/// What arrives, all projectiles of a shot.
#[must_use]
pub fn strike(load: &Load, strike: &Strike) -> Value {
    json!({
        "distance_m": strike.distance.si(),
        "speed_m_s": strike.mean.si(),
        "mach": strike.mach,
        "energy_j": load.charge_energy(strike.mean).si(),
        "momentum_kg_m_s": load.charge_momentum(strike.mean).si(),
        "time_s": strike.time.si(),
        "descent_deg": unit::DEGREE.value(strike.descent),
        "fast_speed_m_s": strike.fast.si(),
        "fast_energy_j": load.charge_energy(strike.fast).si(),
        "slow_speed_m_s": strike.slow.si(),
    })
}

/// The document of what went wrong.
#[must_use]
pub fn error_document(faults: &[Diagnostic]) -> String {
    let errors: Vec<Value> = faults
        .iter()
        .map(|fault| {
            let position = fault.position();
            json!({
                "message": fault.message,
                "field": fault.field,
                "file": fault.place.as_ref().map(|p| p.source.name.to_string()),
                "line": position.map(|p| p.0),
                "column": position.map(|p| p.1),
                "row": fault.cell.as_ref().map(|c| c.row),
                "heading": fault.cell.as_ref().and_then(|c| c.column.clone()),
                "cell": fault.cell.as_ref().and_then(|c| c.text.clone()),
                "help": fault.help,
            })
        })
        .collect();
    printed(json!({"schema": "thickset/error/1", "program": program(), "errors": errors}))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_is_escaped_and_the_document_stays_the_same() {
        let value = json!({"schema": "x", "name": "a\u{1b}\u{9b}\u{202e}\u{7f}\u{e0001}\n\"é"});
        let text = printed(value.clone());
        assert!(!text.replace('\n', "").contains(is_unsafe_char), "{text:?}");
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), value);
    }

    #[test]
    fn numbers_have_nine_digits_and_what_is_not_finite_is_null() {
        assert_eq!(significant(807.720_000_000_01), 807.72);
        assert_eq!(significant(1.234_567_894_4e-7), 1.234_567_89e-7);
        assert_eq!(json!(f64::NAN), Value::Null);
        let text = printed(json!({"schema": "x", "a": 1.0 / 3.0, "n": 3}));
        assert_eq!(text, "{\n  \"schema\": \"x\",\n  \"a\": 0.333333333,\n  \"n\": 3\n}\n");
    }
}
