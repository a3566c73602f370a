//! `thickset vet`: does this load suit this target.

use super::context::{self, Surroundings};
use super::notes::{Notes, Shot};
use super::options::{CaseArgs, quantity};
use super::{Answer, Status};
use crate::load::Load;
use crate::plate::{Condition, Kind, Plate};
use crate::quantity::Length;
use crate::reaction::Hit;
use crate::reaction::topple::{Standing, topple};
use crate::report::vet::Told;
use crate::report::{self, Circumstances};
use crate::source::Diagnostic;
use crate::spread::FlightConditions;
use crate::vet::{Question, Vetting, vet};
use clap::Args;
use serde_json::json;

/// Does this load suit this target; the exit status tells
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Distance to the plate, `100yd`
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub at: Option<Length>,
    /// Plate, `3/8in`
    #[arg(long, value_name = "THICKNESS", allow_hyphen_values = true)]
    pub plate: Option<String>,
    /// Depth of the base of a falling plate or popper: tells whether the slow shot topples it, `2in`
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub base: Option<Length>,
    /// What it is besides a hanging plate, `falling`, `popper` or `spinner`: tells whether the slow shot drops it
    #[arg(long, value_name = "KIND")]
    pub kind: Option<Kind>,
    #[command(flatten)]
    pub case: CaseArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Notes::default();
    let rules = context::rules(&args.case.rules)?;
    let ladder = context::ladder(&args.case.rules)?;
    let asked = context::one_load(&args.case.loads, &mut assumed)?;
    let plate = context::plate(args.plate.as_deref(), &ladder)?;
    let distance = asked.distance.or(args.at).ok_or_else(|| {
        Diagnostic::plain("no distance was said").field("--at").help("say it: `--at 100yd`, or `--load NAME@100yd`")
    })?;
    let distance = context::positive(distance, "--at")?;
    let Surroundings { setup, conditions, air_unspecified } =
        context::surroundings(&args.case, Condition::Unknown, &mut assumed)?;
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    let load = &*asked.load;
    let vetting = vet(&question, load, &plate, distance).map_err(|e| context::flight_fault(&e, load))?;

    let units = args.case.output.units;
    let shots = [Shot { load, plate: &plate, setup: &setup, conditions: &conditions, strike: Some(vetting.strike) }];
    let mut remarks = Notes::default();
    remarks.high_and_hot(air_unspecified, std::slice::from_ref(&conditions), |there| {
        elsewhere(&question, load, &plate, &vetting, there)
    })?;
    remarks.changes(&rules, &shots, units);
    remarks.extend(report::hanging::cut_remarks(&setup.face, &plate, units));
    if args.base.is_some() || args.kind.is_some_and(|kind| kind != Kind::Plate) {
        let base = args.base.map(|base| context::positive(base, "--base")).transpose()?;
        let hit = Hit::of(load, &vetting.strike, &setup.face, setup.tilt, setup.oblique);
        let standing = Standing { kind: args.kind, base, hinge_offset: None, hit_height: None };
        if let Some(topple) = topple(&setup.face, &plate, &standing, hit.slow, hit.incidence) {
            remarks.note(report::hanging::topple_words(&topple, units));
        }
    }
    let mut cautions = Notes::default();
    cautions.cautions(&rules, &shots, units);
    let circumstances = Circumstances {
        inputs: json!({
            "load": context::load_json(load),
            "distance_m": distance.value,
            "plate": {"label": plate.label, "thickness_m": plate.thickness.value},
            "target": context::setup_json(&setup),
            "conditions": context::conditions_json(&conditions),
        }),
        assumed: assumed.list().to_vec(),
        cautions: cautions.into_list(),
    };
    let told = Told {
        load,
        plate: &plate,
        circumstances: &circumstances,
        remarks: remarks.list(),
        units,
        explain: args.case.output.explain,
    };
    Answer::new(
        Status::from(vetting.judgement.verdict),
        args.case.output.format,
        || report::vet::page(&vetting, &told),
        || Ok(report::vet::document(&vetting, &told, &rules)),
    )
}

/// How the verdict changes in other conditions.
fn elsewhere(
    question: &Question,
    load: &Load,
    plate: &Plate,
    here: &Vetting,
    there: &[FlightConditions],
) -> Result<Option<String>, Diagnostic> {
    let Some(conditions) = there.first() else { return Ok(None) };
    let there = Question { conditions, ..*question };
    let other = vet(&there, load, plate, here.strike.distance).map_err(|e| context::flight_fault(&e, load))?;
    let changed = other.judgement.verdict != here.judgement.verdict;
    Ok(changed.then(|| format!("it is {}", other.judgement.verdict)))
}
