//! A whole match.

use super::{ConditionsFacts, Preamble};
use crate::quantity::{Degrees, Length, Mass, Number, Si};
use crate::rules::Verdict;
use crate::source::Diagnostic;
use serde::Serialize;

/// What a target comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum TargetVerdict {
    /// Every load that shoots at it suits.
    Suits,
    /// Its worst load is borderline.
    Borderline,
    /// Its worst load is unsuitable.
    Unsuitable,
    /// No load was judged on it.
    #[serde(rename = "not judged")]
    NotJudged,
}

impl From<Option<Verdict>> for TargetVerdict {
    fn from(verdict: Option<Verdict>) -> Self {
        match verdict {
            Some(Verdict::Suits) => Self::Suits,
            Some(Verdict::Borderline) => Self::Borderline,
            Some(Verdict::Unsuitable) => Self::Unsuitable,
            None => Self::NotJudged,
        }
    }
}

impl std::fmt::Display for TargetVerdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(match self {
            Self::Suits => "suits",
            Self::Borderline => "borderline",
            Self::Unsuitable => "unsuitable",
            Self::NotJudged => "not judged",
        })
    }
}

/// A table that was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct TableFacts {
    pub file: String,
    /// What its rows hold: `loads` or `targets`.
    pub of: String,
    pub rows: usize,
    pub read: usize,
    /// How many things they hold: rows of one target are its positions.
    pub things: usize,
    /// The same in words: `12 rows, 12 read: 11 loads`.
    pub words: String,
}

/// The inputs of `course` as understood.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct CourseInputs {
    pub name: String,
    pub stages: usize,
    pub targets: usize,
    pub loads: usize,
    pub shooters: Option<u32>,
    pub rounds: Option<u32>,
    pub tables: Vec<TableFacts>,
    /// Cartridges and loads that stand for what the rules admit, in words, by class.
    pub anything: Vec<String>,
    pub conditions: ConditionsFacts,
}

/// A load that is brought, and by whom.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct BroughtLoad {
    /// Its name in the catalogue or in the match.
    pub load: String,
    /// What people call it.
    pub name: String,
    /// Who brings it, where that was declared.
    pub who: Vec<String>,
    /// Both in words: `.300 Win Mag 190 gr match (bib 13)`.
    pub words: String,
}

/// A finding of a target.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TargetFinding {
    /// The rule's stable name.
    pub rule: Option<String>,
    /// The range whose rule it is; none for a house rule.
    pub overlay: Option<String>,
    /// What it comes to.
    pub verdict: TargetVerdict,
    /// Share of the limit to spare, negative where it is passed.
    pub margin: Option<Number>,
    /// Why, in words.
    pub text: Option<String>,
}

/// The least that would do, one change at a time.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Needs {
    /// The thinnest plate that suits from where it is shot.
    pub label: Option<String>,
    /// The distance from which every load passes on the plate that hangs.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
}

/// A position that a target is shot from.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PositionAnswer {
    /// What it is called.
    pub name: Option<String>,
    /// The nearest point that can be reached from it.
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    /// The slope from it, where it has one of its own.
    #[serde(rename = "slope_deg", skip_serializing_if = "Option::is_none")]
    pub slope: Option<Degrees>,
    /// Who shoots from it, where not everybody does.
    pub classes: Vec<String>,
    /// What it comes to.
    pub verdict: TargetVerdict,
    /// Name and distance in words.
    pub words: String,
}

/// The cheapest fix as data; what is none is not changed.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct FixParts {
    /// The line moves back by this: the most of its classes.
    #[serde(rename = "back_m")]
    pub back: Option<Si<Length>>,
    /// The nearest point it is then shot from.
    #[serde(rename = "distance_m")]
    pub distance: Option<Si<Length>>,
    /// Shots are fired from this position and those farther only.
    pub from: Option<String>,
    /// Shots are fired from this position and those nearer only.
    pub up_to: Option<String>,
    /// A plate of this thickness is hung.
    pub plate: Option<String>,
    /// A new plate, sound and of AR500.
    pub new_plate: bool,
    /// What a new plate is of, where the one that hangs is of another steel: `AR500`.
    pub steel: Option<String>,
    /// The face leans toward the shooter by this.
    #[serde(rename = "tilt_deg")]
    pub tilt: Option<Degrees>,
    /// The face is turned square.
    pub square: bool,
    /// It is held so.
    pub mount: Option<String>,
    /// The plate is looked over, or its mark is found.
    pub look: bool,
    /// Loads are left out at this target.
    pub refuse: Vec<BroughtLoad>,
}

/// A target.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TargetAnswer {
    /// Its stage.
    pub stage: String,
    /// What it is called.
    pub target: String,
    /// How many there are.
    pub count: u32,
    /// The nearest point it is shot from.
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    /// The same in words.
    pub from: String,
    /// The plate that hangs.
    pub plate: String,
    /// The face.
    pub face: String,
    /// The load that is worst on it.
    pub worst_load: Option<String>,
    /// What people call that load.
    pub worst_name: Option<String>,
    /// Who brings it.
    pub who: Option<String>,
    /// What the target comes to.
    pub verdict: TargetVerdict,
    /// The least that would do, one change at a time.
    pub needs: Needs,
    /// The cheapest fix in words; `nothing` where it passes, `decide on …` where a load is borderline on any plate.
    pub fix: String,
    /// The fix as data.
    pub parts: FixParts,
    /// A fix that moves nobody, where the cheapest does.
    pub or: Option<String>,
    /// Why, by the rule that sets the fix.
    pub why: Option<String>,
    /// Every rule that blocks it.
    pub blocked_by: Vec<String>,
    /// The shooters, or the loads, that it concerns.
    pub concerns: Vec<String>,
    /// Loads that do not pass.
    pub failing: usize,
    /// Loads that were judged on it.
    pub shot_by: usize,
    /// Its positions, each by itself.
    pub positions: Vec<PositionAnswer>,
    /// What governs it.
    pub findings: Vec<TargetFinding>,
}

/// A load that the ammunition rules refuse.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct RefusedLoad {
    pub load: String,
    pub name: String,
    pub who: Option<String>,
    pub why: String,
}

/// A load that no plate takes at any distance, or none without doubt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)]
pub struct BarredLoad {
    pub load: String,
    pub name: String,
    /// The first who brings it.
    pub who: Option<String>,
    pub all_who: Vec<String>,
    pub verdict: Verdict,
    pub rule: String,
    pub why: String,
    pub next: String,
}

/// Loads that are left at home, and what that lifts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LeftAtHome {
    /// The loads.
    pub loads: Vec<BroughtLoad>,
    /// How many targets more pass.
    pub lifts: usize,
    /// Their names.
    pub targets: Vec<String>,
    /// In words: `Without bib 9: 9 more targets pass.`
    pub words: String,
}

/// What leaving the best loads at home would lift.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LeavingAnswer {
    /// The best 1, 2 and 3, as far as each lifts more.
    pub best: Vec<LeftAtHome>,
    /// Whether every set was tried; else loads were added by the largest gain.
    pub exact: bool,
}

/// Plates of one thickness and size to bring, the fixes made.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Haul {
    /// The thickness.
    pub plate: String,
    /// The face.
    pub face: String,
    /// How many.
    pub count: u32,
    /// How many of them are new: hung by a fix.
    pub new: u32,
    /// Of one.
    #[serde(rename = "mass_kg")]
    pub mass: Si<Mass>,
    /// Of all of them.
    #[serde(rename = "total_kg")]
    pub total: Si<Mass>,
    /// Of one, where the shop's prices say.
    pub price: Option<String>,
    /// In words.
    pub words: String,
}

/// The risk of a match: many shots of one load.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct CourseRisk {
    /// The load that needs the most distance.
    pub load: BroughtLoad,
    /// No closer than this.
    #[serde(rename = "distance_m")]
    pub distance: Si<Length>,
    /// The chance that is accepted.
    pub accepted: Number,
    /// Targets that are shot from nearer.
    pub nearer: Vec<String>,
    /// In words.
    pub words: String,
}

/// A stage, for its sign.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct StageAnswer {
    /// What it is called.
    pub name: String,
    /// How many targets.
    pub targets: u32,
    /// How many pass.
    pub pass: u32,
    /// Why it is closed until the officer signs; empty where everything on it was read, was judged and passes.
    pub closed: Vec<String>,
    /// The nearest line of each class, the fixes made, in words.
    pub lines: Vec<String>,
    /// Positions of targets that are shot from several, and which of them pass.
    pub positions: Vec<String>,
    /// What is admitted of each class that shoots here, by the match's and the range's rules.
    pub admitted: Vec<String>,
    /// Loads that are shot here by the officer's word alone.
    pub ask: Vec<String>,
    /// What its sign rests on: plates, lean, bullets, air.
    pub stands_on: String,
    /// Its plates, the fixes made.
    pub plates: Vec<String>,
    /// Loads that are not shot on this stage: refused by the match, good for no plate, or left out here.
    pub refused: Vec<BroughtLoad>,
    /// What is to be done, in words.
    pub fixes: Vec<String>,
    /// Lean and turn to set, in words.
    pub faces: Vec<String>,
    /// Targets and positions that pass as they stand, in words.
    pub good: String,
}

/// What a director acts on in a minute: the same as the whole lists, grouped and cut.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct CourseBrief {
    /// Lines that move, plates that change, loads that are left out at a target.
    pub fix: Vec<String>,
    /// Stages that pass whole, and how many of the other targets do.
    pub good: String,
    /// Loads that stay at home.
    pub leave: Vec<String>,
    /// What the range officer decides.
    pub decide: Vec<String>,
    /// What goes on the trailer.
    pub haul: String,
    /// Whether more is to be told than a page holds: what each target's own row says is then told in the long form alone.
    pub is_crowded: bool,
}

/// A whole match.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct CourseAnswer {
    /// What every answer says.
    #[serde(flatten)]
    pub preamble: Preamble<CourseInputs>,
    /// What the match is called.
    pub name: String,
    /// The worst of its targets and loads; unsuitable where one was not judged.
    pub verdict: Verdict,
    /// Whether it can be shot as it stands: everything given was judged and passes.
    pub ready: bool,
    /// Its targets.
    pub targets: Vec<TargetAnswer>,
    /// Its stages.
    pub stages: Vec<StageAnswer>,
    /// Loads that the ammunition rules refuse.
    pub refused: Vec<RefusedLoad>,
    /// Loads that no plate takes at any distance, or none without doubt.
    pub barred: Vec<BarredLoad>,
    /// Loads that are better left at home than what they fail is mended: every fix holds only then.
    pub better_left: Vec<RefusedLoad>,
    /// What leaving loads at home would lift.
    pub leaving: LeavingAnswer,
    /// The plates to bring, the fixes made.
    pub haul: Vec<Haul>,
    /// Their mass.
    #[serde(rename = "haul_kg")]
    pub haul_mass: Si<Mass>,
    /// The risk of many shots, where shooters and rounds were given.
    pub risk: Option<CourseRisk>,
    /// The short of it.
    pub brief: CourseBrief,
    /// What to fix, one sentence each.
    pub fixes: Vec<String>,
    /// What passes, a sentence a stage.
    pub good: Vec<String>,
    /// What to leave at home, one sentence each.
    pub leave: Vec<String>,
    /// What the range officer decides: loads that are borderline on any plate.
    pub decide: Vec<String>,
    /// What to bring in one sentence.
    pub bring: String,
    /// Every target's worst load, for the long form.
    pub explained: Vec<String>,
    /// What could not be read, at its place.
    #[serde(skip)]
    pub faults: Vec<Diagnostic>,
}
