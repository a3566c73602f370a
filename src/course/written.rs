//! A match as its file writes it.

use super::admit::Ammunition;
use super::place::PositionRecord;
use super::record::{AirRecord, StandRecord};
use super::vocabulary::classes;
use crate::catalog::Described;
use crate::load::Class;
use crate::plate::Kind;
use crate::quantity::{Length, Ratio, Text, Velocity};
use crate::source::Keys;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::PathBuf;
use toml::Spanned;

/// The keys of a match's file.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![
        Keys::of::<File>(""),
        Keys::of::<AirRecord>("[air]"),
        Keys::of::<StandRecord>("[stand]"),
        Keys::of::<Ammunition>("[[ammunition]]"),
        Keys::of::<StageRecord>("[[stage]]"),
        Keys::of::<TargetRecord>("[[stage.target]]"),
        Keys::of::<PositionRecord>("positions = [..]"),
    ]
}

/// A match's file as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct File {
    pub schema: Spanned<String>,
    pub name: String,
    pub coverage: Option<Text<Ratio>>,
    pub shooters: Option<Spanned<u32>>,
    pub rounds: Option<Spanned<u32>>,
    pub risk: Option<Spanned<Text<Ratio>>>,
    pub rifle_spread: Option<Text<Velocity>>,
    #[serde(default)]
    pub range_rules: Vec<PathBuf>,
    pub air: Option<Spanned<AirRecord>>,
    /// What every target is, unless it says otherwise.
    #[serde(default)]
    pub stand: StandRecord,
    #[serde(default)]
    pub ammunition: Vec<Ammunition>,
    #[serde(default)]
    pub loads: Vec<Spanned<String>>,
    #[serde(default)]
    pub any: Vec<Spanned<String>>,
    /// Whatever the ammunition rules admit of these classes.
    #[serde(default, deserialize_with = "classes")]
    pub anything: Vec<Class>,
    /// Spreadsheets of loads.
    #[serde(default)]
    pub declared: Vec<Spanned<PathBuf>>,
    /// Spreadsheets of targets.
    #[serde(default)]
    pub targets: Vec<Spanned<PathBuf>>,
    /// Titles of spreadsheets' columns, and what they are.
    #[serde(default)]
    pub columns: BTreeMap<String, String>,
    #[serde(default)]
    pub load: Vec<Spanned<Described>>,
    #[serde(default)]
    pub stage: Vec<Spanned<StageRecord>>,
}

/// A stage as it is written.
#[derive(Deserialize, Default, Clone)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct StageRecord {
    pub name: String,
    #[serde(default)]
    pub positions: Vec<PositionRecord>,
    #[serde(default)]
    pub stand: StandRecord,
    /// Rules of the range that it stands on, over the match's.
    #[serde(default)]
    pub range_rules: Vec<PathBuf>,
    /// Shooters or loads that are left out on the stage.
    #[serde(default)]
    pub without: Vec<String>,
    pub air: Option<Spanned<AirRecord>>,
    #[serde(default)]
    pub target: Vec<Spanned<toml::Table>>,
}

/// A target as it is written.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct TargetRecord {
    pub name: String,
    pub plate: String,
    pub count: Option<u32>,
    pub kind: Option<Kind>,
    pub at: Option<Text<Length>>,
    pub base: Option<Text<Length>>,
    #[serde(default)]
    pub positions: Vec<PositionRecord>,
    #[serde(default, deserialize_with = "classes")]
    pub class: Vec<Class>,
    /// Shooters or loads that are left out at it.
    #[serde(default)]
    pub without: Vec<String>,
    #[serde(default)]
    pub stand: StandRecord,
}
