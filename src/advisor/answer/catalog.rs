//! What is built in or given: loads, cartridges, plates, rules, and where the numbers come from.

use super::{LoadFacts, Preamble};
use crate::quantity::{Length, Si};
use crate::rules::Basis;
use serde::Serialize;

/// What a list was narrowed by.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct CatalogInputs {
    pub what: String,
    pub words: Vec<String>,
}

/// A load of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ListedLoad {
    /// The load.
    #[serde(flatten)]
    pub load: LoadFacts,
    /// How well its values are founded.
    pub basis: String,
}

/// A cartridge of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ListedCartridge {
    /// As it is usually written.
    pub name: String,
    /// Other names that ask for the same.
    pub aliases: Vec<String>,
    /// Diameter of its bullet.
    #[serde(rename = "calibre_m")]
    pub calibre: Option<Si<Length>>,
    /// Whether steel jackets or cores are usual in it.
    pub steel_common: bool,
    /// The loads that stand for any ammunition of it, beside those listed.
    pub envelope: Vec<LoadFacts>,
    /// Loads of it that are listed.
    pub loads: Vec<String>,
    /// How well the envelope is founded.
    pub basis: String,
    /// Where it comes from.
    pub source: String,
}

/// A plate of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct ListedPlate {
    pub label: String,
    #[serde(rename = "thickness_m")]
    pub thickness: Si<Length>,
    pub basis: String,
    pub source: String,
}

/// A rule of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct ListedRule {
    pub id: String,
    pub subject: String,
    /// What it allows, in words.
    pub allows: Option<String>,
    /// When it applies, in words.
    pub applies: String,
    pub why: String,
    pub next: String,
    pub basis: Basis,
    pub source: String,
    /// The range whose rule it is; none for a house rule.
    pub overlay: Option<String>,
    /// The whole in a sentence or two, for a range officer.
    pub words: String,
}

/// A source of the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct ListedSource {
    pub basis: String,
    pub source: String,
    /// What rests on it.
    pub of: Vec<String>,
}

/// A key of a file that a person writes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct ListedKey {
    /// The kind of the file: `rules`, `loads`, `match`.
    pub file: String,
    /// The table it stands in, `[[rule]]`; empty at the head of the file.
    pub table: String,
    pub key: String,
    /// What it takes, and where it is wanted, in words.
    pub takes: String,
}

/// A list of what is built in or given; only the key that was asked for is there.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct CatalogAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<CatalogInputs>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loads: Option<Vec<ListedLoad>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cartridges: Option<Vec<ListedCartridge>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plates: Option<Vec<ListedPlate>>,
    /// The rules; `rules` are those that applied to an answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub listed: Option<Vec<ListedRule>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sources: Option<Vec<ListedSource>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub keys: Option<Vec<ListedKey>>,
}
