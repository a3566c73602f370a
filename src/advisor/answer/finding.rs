//! Rules as they applied.

use crate::quantity::Number;
use crate::rules::{Basis, Verdict};
use serde::Serialize;

/// A rule that applied.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AppliedRule {
    /// Its stable name.
    pub id: String,
    /// The range whose rule it is; none for a house rule.
    pub overlay: Option<String>,
}

/// One rule looked at for one load on one plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Finding {
    /// The rule's stable name.
    pub rule: String,
    /// Load, plate and distance in words.
    pub case: String,
    /// What it comes to.
    pub verdict: Verdict,
    /// The last value that suits, divided by the factors.
    pub limit: Option<Number>,
    /// The value found.
    pub actual: Option<Number>,
    /// Unit of the two: `m/s`, `J`, `m`, `deg`, `1`.
    pub unit: Option<String>,
    /// Share of the limit to spare, negative where it is passed.
    pub margin: Option<Number>,
    /// How well the limit is founded.
    pub basis: Basis,
    /// Where it comes from.
    pub source: String,
    /// The range whose rule it is; none for a house rule.
    pub overlay: Option<String>,
    /// Whether it is of what the plate itself must hold; else no plate changes it.
    pub of_plate: bool,
    /// What was found in words: `energy 2442 ft·lbf`.
    pub found_words: String,
    /// The limit in words, traceable: `2000 ft·lbf (2800 ÷ 1.40 public)`.
    pub limit_words: String,
    /// The limit without its factors, for a table that names them once.
    #[serde(skip)]
    pub limit_brief: String,
    /// What the limit was divided by: `1.40 public`.
    pub divided_by: Vec<String>,
    /// Why the rule is there.
    pub why: String,
    /// What to do where it is not met.
    pub next: String,
    /// The whole in a sentence.
    pub text: String,
}
