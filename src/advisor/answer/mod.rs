//! What is answered: owned data that other threads and other programs can take.
//!
//! Every answer begins with the same [`Preamble`]. Numbers are SI (angles in degrees) in nine digits; words are in the
//! units of the question. A report lays these out; it never works anything out anew.

mod advise;
mod catalog;
mod chrono;
mod course;
mod facts;
mod finding;
mod plate;
mod standoff;
mod strike;
mod vet;

pub use advise::{AdviseAnswer, AdviseInputs, Excluded, Line, NearestOf, PlateChoice, Remedy, TargetFacts};
pub use catalog::{
    CatalogAnswer, CatalogInputs, ListedCartridge, ListedKey, ListedLoad, ListedPlate, ListedRule, ListedSource,
};
pub use chrono::{Apart, ChronoAnswer, ChronoInputs, PlateDistance};
pub use course::{
    BarredLoad, BroughtLoad, CourseAnswer, CourseBrief, CourseInputs, CourseRisk, FixParts, Haul, LeavingAnswer,
    LeftAtHome, Needs, PositionAnswer, RefusedLoad, StageAnswer, TableFacts, TargetAnswer, TargetFinding,
    TargetVerdict,
};
pub use facts::{AirFacts, Band, ConditionsFacts, LoadFacts, PlateName, SetupFacts};
pub use finding::{AppliedRule, Finding};
pub use plate::{
    Corner, CutPlan, Hole, Material, Mode, OutlineFacts, PerSheet, Piece, Placement, Price, Reaction, RoundFacts,
    Segment, Shape, Spotting, Swing, SwingWord, Thinnest, Together, Topple, Visible,
};
pub use standoff::{Cell, Closest, ClosestWhy, MatchRisk, OF_RANGE, StandoffAnswer, StandoffInputs, StandoffRow};
pub use strike::{Curve, Gains, Limit, StrikeAnswer, StrikeInputs, StrikeRow};
pub use vet::{Changes, VetAnswer, VetInputs, WouldSuit};

use crate::quantity::{Length, Si};
use crate::words::Units;
use serde::Serialize;

/// What every answer says beside what was asked.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Preamble<I> {
    /// Name and version of the document's form, `thickset/vet/1`.
    pub schema: String,
    /// The program and its version.
    pub program: String,
    /// Units of the words.
    pub units: Units,
    /// The inputs as understood.
    pub inputs: I,
    /// The answer in one line: verdict with plate, load, distance and margin.
    pub headline: String,
    /// How near anyone may shoot it, and what else a person on the phone must hear; empty where there is nothing to say.
    pub nearest: String,
    /// The same as a number: no nearer than at the bad end of the air that was not given. None where no distance is
    /// good, and where what was asked has several.
    #[serde(rename = "nearest_m")]
    pub nearest_distance: Option<Si<Length>>,
    /// What the answer stands on, in one line: `Only if sound on both faces, marked AR500, …`.
    pub stands_on: String,
    /// Every value that was taken because none was given, in words.
    pub assumed: Vec<String>,
    /// Each condition that the answer rests on, given or not.
    pub holds_for: Vec<Condition>,
    /// What would change the answer, and what else is worth knowing.
    pub remarks: Vec<String>,
    /// What was given and could not be judged.
    pub not_judged: Vec<NotJudged>,
    /// What was given and left out without bearing on the verdict: annotations of a drawing, foreign columns.
    pub left_out: Vec<String>,
    /// The rules that applied.
    pub rules: Vec<AppliedRule>,
    /// The cautions of this case in one paragraph, the range's own rules and those who stand above it included.
    pub safety: String,
    /// What speaks against something that was taken, which `stands_on` ends with.
    #[serde(skip)]
    pub doubts: Vec<String>,
    /// What the range's own rules warn of, which `safety` begins with.
    #[serde(skip)]
    pub range_says: Vec<String>,
    /// What of `safety` not every case calls for.
    #[serde(skip)]
    pub case_says: String,
    /// Every caution, each once, the most pressing first.
    pub cautions: Vec<String>,
    /// What these limits are, and what stands above them.
    pub notice: String,
}

/// A condition that an answer rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Condition {
    /// What it is of: `air`, `face`, `hanger line`.
    pub what: String,
    /// The value in words: `500 ft, 20 to 90 °F`.
    pub value: String,
    /// Whether it was given; else it is an assumption.
    pub given: bool,
    /// The target that it is of, where there are several and they are not alike in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
}

impl Condition {
    /// Whether it was given of each target by itself, as its own row says.
    pub(crate) fn is_each_target_s(&self) -> bool {
        self.given && matches!(self.what.as_str(), "face" | "mount" | "condition" | "lean" | "turn" | "slope")
    }
}

/// Something that was given and could not be judged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NotJudged {
    /// What it is: a load, a target, a row of a file.
    pub what: String,
    /// Why it was not judged.
    pub why: String,
    /// Whether it could not be read, which makes the status that of invalid input; else nothing applied to it.
    pub unreadable: bool,
    /// Where it stands, `loads.csv:14:3`, where it stands in a file.
    #[serde(rename = "where")]
    pub place: Option<String>,
}
