//! `thickset standoff`: how close.

use super::context::{self, Surroundings};
use super::notes::{Notes, shots};
use super::options::{CaseArgs, quantity};
use super::{Answer, Status};
use crate::load::Load;
use crate::plate::Condition;
use crate::quantity::{Length, Measure, Ratio, Velocity};
use crate::report::standoff::Told;
use crate::report::{self, Circumstances};
use crate::rules::RuleSet;
use crate::source::Diagnostic;
use crate::spread::FlightConditions;
use crate::spread::risk::assumed_between_rifles;
use crate::standoff::{Chart, Match, MatchRisk, Row, match_risk};
use clap::Args;
use serde_json::json;
use std::sync::Arc;

/// How close: one load on one plate, or the chart of loads and thicknesses
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Plate, `3/8in`; every plate of the ladder where not said
    #[arg(long, value_name = "THICKNESS", allow_hyphen_values = true)]
    pub plate: Vec<String>,
    /// Verdicts at a distance instead of closest distances, `100yd`
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub at: Option<Length>,
    /// Shooters of a match: the chance that a shot of it passes the speed ceiling
    #[arg(long, value_name = "N", requires = "rounds")]
    pub shooters: Option<u32>,
    /// Rounds of each shooter
    #[arg(long, value_name = "M", requires = "shooters")]
    pub rounds: Option<u32>,
    /// Spread of mean velocity between rifles (SD); 40 ft/s where not said
    #[arg(long, value_name = "SPEED", value_parser = quantity::<Velocity>, allow_hyphen_values = true, requires = "shooters")]
    pub rifle_spread: Option<Velocity>,
    /// The chance that is accepted; 1 % where not said
    #[arg(long, value_name = "SHARE", value_parser = quantity::<Ratio>, allow_hyphen_values = true, requires = "shooters")]
    pub risk: Option<Ratio>,
    #[command(flatten)]
    pub case: CaseArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Notes::default();
    let rules = context::rules(&args.case.rules)?;
    let ladder = context::ladder(&args.case.rules)?;
    let loads = loads(args, &mut assumed)?;
    let plates = context::plates(&args.plate, &ladder)?;
    let Surroundings { setup, conditions, air_unspecified } =
        context::surroundings(&args.case, Condition::Unknown, &mut assumed)?;
    let at = args.at.map(|d| context::positive(d, "--at")).transpose()?;
    let chart = Chart { rules: &rules, plates: &plates, setup: &setup, conditions: &conditions, at };
    let rows = rows(&chart, &loads)?;

    let risk = risk(args, &rules, &loads, &rows, &conditions, &mut assumed)?;
    let units = args.case.output.units;
    let shots = shots(&chart, &rows);
    let mut remarks = Notes::default();
    remarks.high_and_hot(air_unspecified, std::slice::from_ref(&conditions), |there| {
        elsewhere(&chart, &loads, &rows, there, units)
    })?;
    remarks.changes(&rules, &shots, units);
    let mut cautions = Notes::default();
    cautions.cautions(&rules, &shots, units);
    let circumstances = Circumstances {
        inputs: json!({
            "loads": loads.iter().map(|l| context::load_json(l)).collect::<Vec<_>>(),
            "plates": plates.iter().map(|p| json!({"label": p.label, "thickness_m": p.thickness.si()})).collect::<Vec<_>>(),
            "target": context::setup_json(&setup),
            "conditions": context::conditions_json(&conditions),
        }),
        assumed: assumed.list().to_vec(),
        cautions: cautions.into_list(),
    };
    let words = format!("{} AR500, {}, {} duty", setup.face, setup.mount.words(), setup.duty);
    let told = Told {
        plates: &plates,
        at,
        setup: &words,
        risk: risk.as_ref(),
        circumstances: &circumstances,
        remarks: remarks.list(),
        units,
        explain: args.case.output.explain,
    };
    Answer::new(
        report::standoff::verdict(&rows, at).map_or(Status::Suits, Status::from),
        args.case.output.format,
        || report::standoff::page(&rows, &told),
        || Ok(report::standoff::document(&rows, &told, &rules)),
    )
}

/// The risk of a match, for one load on one plate.
fn risk<'r>(
    args: &Arguments,
    rules: &'r RuleSet,
    loads: &[Arc<Load>],
    rows: &[Row],
    conditions: &FlightConditions,
    assumed: &mut Notes,
) -> Result<Option<MatchRisk<'r>>, Diagnostic> {
    let (Some(shooters), Some(rounds)) = (args.shooters, args.rounds) else { return Ok(None) };
    let ([load], [row]) = (loads, rows) else {
        return Err(Diagnostic::plain("a match's risk is for one load")
            .field("--shooters")
            .help("name one load and one plate"));
    };
    let [cell] = row.cells.as_slice() else {
        return Err(Diagnostic::plain("a match's risk is for one plate")
            .field("--shooters")
            .help("name one: `--plate 3/8in`"));
    };
    let between_rifles = args.rifle_spread.unwrap_or_else(|| {
        assumed.note("spread between rifles 40 ft/s (SD)");
        assumed_between_rifles()
    });
    if between_rifles.si() == 0.0 {
        assumed.note("no spread between rifles: every shooter's rifle gives this load's mean velocity");
    }
    let accepted = args.risk.map_or(0.01, Measure::si);
    let Some(at) = args.at.or(cell.closest.distance()) else { return Ok(None) };
    let of = Match { shooters, rounds, between_rifles, accepted };
    match_risk(rules, load, conditions, at, &of)
        .map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))
}

/// The loads that were asked for; the whole catalogue where none was.
fn loads(args: &Arguments, assumed: &mut Notes) -> Result<Vec<Arc<Load>>, Diagnostic> {
    let asked = context::loads(&args.case.loads, assumed)?;
    if !asked.is_empty() {
        return Ok(asked.into_iter().map(|a| a.load).collect());
    }
    context::whole_catalog(&args.case.loads, assumed)
}

fn rows<'r>(chart: &Chart<'r, '_>, loads: &[Arc<Load>]) -> Result<Vec<Row<'r>>, Diagnostic> {
    loads.iter().map(|load| chart.row(load).map_err(|e| context::flight_fault(&e, load))).collect()
}

/// By how much the longest distance grows in other conditions.
fn elsewhere(
    chart: &Chart,
    loads: &[Arc<Load>],
    here: &[Row],
    there: &[FlightConditions],
    units: report::Units,
) -> Result<Option<String>, Diagnostic> {
    let Some(conditions) = there.first() else { return Ok(None) };
    let there = rows(&Chart { conditions, ..*chart }, loads)?;
    Ok(report::standoff::farther(here, &there, units))
}
