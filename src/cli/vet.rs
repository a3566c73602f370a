//! `thickset vet`: does this load suit this target.

use super::context::{self, Assumed};
use super::options::{CaseArgs, quantity};
use super::{Answer, Status};
use crate::load::Load;
use crate::plate::{Condition, Plate};
use crate::quantity::Length;
use crate::reaction::topple::{centre_height, topple};
use crate::report::vet::Told;
use crate::report::{self, Circumstances, Units, cautions, say};
use crate::rules::Setup;
use crate::source::Diagnostic;
use crate::spread::Conditions;
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
    #[command(flatten)]
    pub case: CaseArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Assumed::default();
    let rules = context::rules(&args.case.rules)?;
    let ladder = context::ladder(&args.case.rules)?;
    let asked = context::one_load(&args.case.loads, &mut assumed)?;
    let plate = context::plate(args.plate.as_deref(), &ladder)?;
    let distance = asked.distance.or(args.at).ok_or_else(|| {
        Diagnostic::plain("no distance was said").field("--at").help("say it: `--at 100yd`, or `--load NAME@100yd`")
    })?;
    let distance = context::positive(distance, "--at")?;
    let setup = context::setup(&args.case.target, Condition::Unknown, &mut assumed)?;
    let weather = context::weather(&args.case.air, &mut assumed)?;
    let conditions = context::conditions(&weather, &args.case.target, &args.case.loads.spread, &mut assumed)?;
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    let load = &*asked.load;
    let vetting = vet(&question, load, &plate, distance).map_err(|e| context::flight_fault(&e, load))?;

    let mut remarks = Vec::new();
    if weather.is_unsaid() {
        remarks.extend(elsewhere(&question, load, &plate, &vetting)?);
    }
    remarks.extend(say::changes(&vetting.changes, args.case.output.units));
    remarks.extend(report::hanging::cut_remarks(&setup.face, &plate, args.case.output.units));
    if let Some(base) = args.base {
        let base = context::positive(base, "--base")?;
        let slow = load.charge_momentum(vetting.strike.slow);
        let topple = topple(&setup.face, &plate, base, slow, centre_height(&setup.face));
        remarks.push(report::hanging::topple_words(&topple));
    }
    let circumstances = Circumstances {
        inputs: json!({
            "load": context::load_json(load),
            "distance_m": distance.value,
            "plate": {"label": plate.label, "thickness_m": plate.thickness.value},
            "target": context::setup_json(&setup),
            "conditions": context::conditions_json(&conditions),
        }),
        assumed: assumed.list().to_vec(),
        cautions: said_cautions(&vetting, load, &setup, &conditions, args.case.output.units),
    };
    let told = Told {
        load,
        plate: &plate,
        circumstances: &circumstances,
        remarks: &remarks,
        units: args.case.output.units,
        explain: args.case.output.explain,
    };
    Answer::new(
        Status::from(vetting.judgement.verdict),
        args.case.output.format,
        || report::vet::page(&vetting, &told),
        || Ok(report::vet::document(&vetting, &told, &rules)),
    )
}

/// Where nothing was said of the air: whether high and hot, where bullets arrive faster, changes the verdict.
fn elsewhere(question: &Question, load: &Load, plate: &Plate, here: &Vetting) -> Result<Option<String>, Diagnostic> {
    let conditions = context::there(question.conditions)?;
    let there = Question { conditions: &conditions, ..*question };
    let other = vet(&there, load, plate, here.strike.distance).map_err(|e| context::flight_fault(&e, load))?;
    Ok((other.judgement.verdict != here.judgement.verdict).then(|| {
        format!(
            "The air was not said. At 6000 ft and 100 °F it is {}: say `--altitude` and `--temperature`.",
            other.judgement.verdict
        )
    }))
}

fn said_cautions(vetting: &Vetting, load: &Load, setup: &Setup, conditions: &Conditions, units: Units) -> Vec<String> {
    let mut said: Vec<String> = vetting.cautions.iter().map(|r| report::words::sentence(&r.why) + ".").collect();
    said.extend(context::carry_caution(&[load], conditions, units));
    let nearest = Some(vetting.strike.distance);
    said.extend(cautions::of(&cautions::Occasion { loads: &[load], setups: &[setup], nearest }));
    said
}
