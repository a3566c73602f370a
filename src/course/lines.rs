//! The lines that the targets of a stage are shot from.

use super::place::{At, POSITION_HELP, positions};
use super::written::TargetRecord;
use super::{ClassSet, Course, Line, Position};
use crate::quantity::{Length, Measure};
use crate::source::Diagnostic;
use std::collections::HashSet;

/// What to do where a target and its stage have positions.
const EITHER: &str = "leave the target's out, or write every position at each target of the stage";

/// A stage while its targets are read.
pub(super) struct StageRead<'a> {
    pub name: &'a str,
    pub without: &'a [String],
    pub index: usize,
    pub air: usize,
    pub rules: usize,
    /// Its targets' names so far.
    pub names: HashSet<String>,
    pub line: Option<usize>,
    /// Whether its positions state distances; none where it has no positions of its own.
    pub distant: Option<bool>,
}

impl Course {
    /// The line a target is shot from, and its distance from it.
    pub(super) fn line_of(
        &mut self,
        read: &TargetRecord,
        at: &At,
        stage: &mut StageRead,
    ) -> Result<(usize, Length), Diagnostic> {
        let zero = Length::from_si(0.0);
        if !read.positions.is_empty() {
            if read.at.is_some() {
                return Err(at.key("at", "the target has `at` and `positions`").help("keep one of them"));
            }
            if stage.distant == Some(true) {
                let message = "the target has a distance of its own, and its stage's positions have theirs";
                return Err(at.key("at", message).help(EITHER));
            }
            let (positions, distant) =
                positions(&read.positions).map_err(|(message, help)| at.key("at", message).help(help))?;
            if !distant {
                let help = "write `at` in each of a target's own positions";
                return Err(at.key("positions", "a position of the target has no distance").help(help));
            }
            // One distance without a name is the stage's line.
            if let [only] = positions.as_slice()
                && only.name.is_none()
                && only.slope.is_none()
                && only.reach.si() <= 0.0
                && only.classes == ClassSet::ALL
            {
                return Ok((self.stage_line(stage), only.offset));
            }
            if stage.distant.is_some() {
                let message = "the target has positions of its own, and its stage has others";
                return Err(at.key("positions", message).help(EITHER));
            }
            self.lines.push(Line { stage: stage.index, positions });
            return Ok((self.lines.len() - 1, zero));
        }
        match (&read.at, stage.line, stage.distant) {
            (Some(distance), ..) if !(distance.0.si() > 0.0) => {
                Err(at.key("at", "a distance is not above zero").help(POSITION_HELP))
            }
            (Some(_), Some(_), Some(true)) => Err(at
                .key("at", "the target has a distance, and its stage's positions have theirs")
                .help("write the positions' `back` from the line that targets are measured from, or leave `at` out")),
            (Some(distance), ..) => Ok((self.stage_line(stage), distance.0)),
            (None, Some(line), Some(true)) => Ok((line, zero)),
            (None, ..) => Err(at.key("at", "it has no distance").help(POSITION_HELP)),
        }
    }

    /// The line that a stage's targets state their distances from.
    fn stage_line(&mut self, stage: &mut StageRead) -> usize {
        let lines = &mut self.lines;
        *stage.line.get_or_insert_with(|| {
            let position = Position {
                name: None,
                offset: Length::from_si(0.0),
                reach: Length::from_si(0.0),
                classes: ClassSet::ALL,
                slope: None,
            };
            lines.push(Line { stage: stage.index, positions: vec![position] });
            lines.len() - 1
        })
    }
}
