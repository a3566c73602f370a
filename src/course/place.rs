//! Where a target's record stands, and the positions it is shot from.

use super::record::{Stand, StandRecord};
use super::vocabulary::classes;
use super::{ClassSet, Position};
use crate::catalog::key_span;
use crate::load::Class;
use crate::plate::Condition;
use crate::quantity::{Angle, Length, Measure, Text, unit};
use crate::source::{Diagnostic, SourceText};
use crate::words::degrees;
use serde::Deserialize;
use std::ops::Range;

/// Where a target's record stands.
pub(super) enum At<'a> {
    Record(&'a SourceText, Range<usize>),
    Row(&'a Diagnostic),
}

impl At<'_> {
    /// A fault at a key.
    pub fn key(&self, key: &str, message: impl Into<String>) -> Diagnostic {
        match self {
            Self::Record(source, span) => source.fault(key_span(source, span, key), message),
            Self::Row(row) => {
                let mut fault = Diagnostic { message: message.into(), ..(*row).clone() };
                if let Some(cell) = &mut fault.cell {
                    cell.column = Some(key.to_owned());
                }
                fault
            }
        }
    }

    /// A fault at the key that a message speaks of: the one whose value, or whose name, stands first in it. Behind it
    /// stand the keys that were expected, which the record may have as well.
    pub fn culprit(&self, record: &toml::Table, message: &str) -> Diagnostic {
        let quoted = |text: &str| message.find(&format!("`{text}`"));
        let speaks =
            |key: &str, value: &toml::Value| quoted(key).into_iter().chain(value.as_str().and_then(quoted)).min();
        let stand = record.get("stand").and_then(toml::Value::as_table);
        let keys = record.iter().chain(stand.into_iter().flatten());
        let found = keys.filter_map(|(key, value)| Some((speaks(key, value)?, key.as_str()))).min();
        match (found.map(|(_, key)| key), self) {
            (Some(key), _) => self.key(key, message),
            (None, Self::Record(source, span)) => source.fault(span.clone(), message),
            (None, Self::Row(row)) => Diagnostic { message: message.into(), ..(*row).clone() },
        }
    }

    pub fn stand(&self, record: &StandRecord) -> Result<Stand, Diagnostic> {
        match self {
            Self::Record(source, span) => record.stand(Condition::Unknown, source, span),
            Self::Row(row) => {
                let source = SourceText::new("", "");
                record.stand(Condition::Unknown, &source, &(0..0)).map_err(|fault| Diagnostic {
                    message: fault.message,
                    help: fault.help,
                    ..(*row).clone()
                })
            }
        }
    }
}

/// A position as a file holds it.
#[derive(Deserialize, Clone)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct PositionRecord {
    pub name: Option<String>,
    /// Where it begins.
    pub at: Option<Text<Length>>,
    /// Where a moving shooter may get to.
    pub to: Option<Text<Length>>,
    /// How far behind the line that targets state their distance from.
    pub back: Option<Text<Length>>,
    /// The slope from it, where the targets' own is another.
    pub slope: Option<Text<Angle>>,
    #[serde(default, deserialize_with = "classes")]
    pub class: Vec<Class>,
}

/// How a distance is given.
pub(super) const POSITION_HELP: &str =
    "write `at = \"100 yd\"`, or positions with `at`, and `to` where a shooter moves; or give the stage positions";

/// The positions of a line, and whether they state distances; else how far they stand behind the line.
pub(super) fn positions(records: &[PositionRecord]) -> Result<(Vec<Position>, bool), (String, String)> {
    let help = |text: &str| text.to_owned();
    let distant = records.iter().any(|r| r.at.is_some());
    let mut positions = Vec::new();
    for record in records {
        let (offset, reach) = match (&record.at, &record.back) {
            (Some(at), None) => {
                let to = record.to.map_or(at.0, |to| to.0);
                (to.min(at.0), Length::from_si((to - at.0).si().abs()))
            }
            (None, Some(back)) if !distant && record.to.is_none() => (back.0, Length::from_si(0.0)),
            _ => {
                return Err((
                    "a position needs one of `at` and `back`, and all of a line the same".into(),
                    help(
                        "write `at = \"100 yd\"` with `to` where a shooter moves, or `back = \"10 yd\"` behind the targets' line",
                    ),
                ));
            }
        };
        if distant && !(offset.si() > 0.0) {
            return Err(("a distance is not above zero".into(), help(POSITION_HELP)));
        }
        let steepest = crate::flight::MAX_SLOPE_DEG;
        let slope = record.slope.map(|slope| slope.0);
        if slope.is_some_and(|slope| !(unit::DEGREE.value(slope).abs() <= steepest + 1e-9)) {
            return Err((
                format!("the slope of a position is beyond {steepest} deg"),
                format!("write -{steepest} deg to {steepest} deg"),
            ));
        }
        let (name, classes) = (record.name.clone(), ClassSet::or_all(&record.class));
        positions.push(Position { name, offset, reach, classes, slope });
    }
    Ok((positions, distant))
}

/// A slope of the target's own beside another of a position it is shot from: one of them would be dropped.
pub(super) fn one_slope(own: Option<Text<Angle>>, positions: &[Position], at: &At) -> Result<(), Diagnostic> {
    let Some(Text(own)) = own else { return Ok(()) };
    let is_other = |slope: &Angle| (unit::DEGREE.value(*slope) - unit::DEGREE.value(own)).abs() > 1e-9;
    let other = positions.iter().find_map(|p| p.slope.filter(is_other).map(|slope| (p, slope)));
    let Some((position, slope)) = other else { return Ok(()) };
    let name = position.name.as_ref().map(|name| format!(" `{name}`")).unwrap_or_default();
    let message =
        format!("the target has a slope of {}, and its position{name} one of {}", degrees(own), degrees(slope));
    Err(at.key("slope", message).help("keep the one that is measured from the position, and leave the other out"))
}

#[cfg(test)]
mod tests;
