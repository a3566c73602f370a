//! `thickset advise`: which plate.

use super::context::{self, Assumed};
use super::options::{AirArgs, LoadArgs, OutputArgs, RuleArgs, TargetArgs, quantity};
use super::{Answer, Status};
use crate::advice::{Advice, Case, advise};
use crate::load::Load;
use crate::plate::Condition;
use crate::quantity::Length;
use crate::report::advise::Told;
use crate::report::{self, Circumstances, cautions, say};
use crate::rules::Setup;
use crate::source::Diagnostic;
use crate::vet::Question;
use clap::Args;
use serde_json::json;

/// Which plate, with the choices side by side
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Distance to the plate, for every load without one of its own, `100yd`
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub at: Vec<Length>,
    #[command(flatten)]
    pub loads: LoadArgs,
    #[command(flatten)]
    pub target: TargetArgs,
    #[command(flatten)]
    pub air: AirArgs,
    #[command(flatten)]
    pub rules: RuleArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Assumed::default();
    let rules = context::rules(&args.rules)?;
    let ladder = context::ladder(&args.rules)?;
    let asked = context::some_loads(&args.loads, &mut assumed)?;
    let setup = context::setup(&args.target, Condition::Sound, &mut assumed)?;
    let weather = context::weather(&args.air, &mut assumed)?;
    let conditions = context::conditions(&weather, &args.target, &args.loads.spread, &mut assumed)?;
    let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
    let lines = lines(&asked, &args.at)?;
    let cases = cases(&lines, question)?;
    let advice = advise(ladder.plates(), &cases).ok_or_else(|| Diagnostic::plain("there is nothing to judge"))?;

    let mut remarks = Vec::new();
    if weather.is_unsaid() {
        remarks.extend(elsewhere(&lines, question, &advice)?);
    }
    remarks.extend(changes(&cases, &advice, args.output.units));
    let circumstances = Circumstances {
        inputs: json!({
            "loads": lines.iter().map(|(load, d)| json!({"load": context::load_json(load), "distance_m": d.value})).collect::<Vec<_>>(),
            "target": context::setup_json(&setup),
            "conditions": context::conditions_json(&conditions),
        }),
        assumed: assumed.list().to_vec(),
        cautions: said_cautions(&cases, &advice),
    };
    let told = Told {
        cases: &cases,
        circumstances: &circumstances,
        remarks: &remarks,
        units: args.output.units,
        explain: args.output.explain,
    };
    Answer::new(
        Status::from(advice.verdict()),
        args.output.format,
        || report::advise::page(&advice, &told),
        || Ok(report::advise::document(&advice, &told, &rules)),
    )
}

type Line = (std::sync::Arc<Load>, Length);

/// Every load with every distance it is asked at.
fn lines(asked: &[context::Asked], at: &[Length]) -> Result<Vec<Line>, Diagnostic> {
    let mut lines = Vec::new();
    for one in asked {
        match one.distance {
            Some(distance) => lines.push((one.load.clone(), distance)),
            None if at.is_empty() => {
                return Err(Diagnostic::plain(format!("no distance for `{}`", one.load.facts().name))
                    .field("--at")
                    .help("say it: `--at 100yd`, or `--load NAME@100yd`"));
            }
            None => {
                for &distance in at {
                    lines.push((one.load.clone(), context::positive(distance, "--at")?));
                }
            }
        }
    }
    Ok(lines)
}

fn cases<'r>(lines: &[Line], question: Question<'r>) -> Result<Vec<Case<'r>>, Diagnostic> {
    lines
        .iter()
        .map(|(load, distance)| {
            Case::new(load.clone(), question, None, *distance).map_err(|e| context::flight_fault(&e, load))
        })
        .collect()
}

/// Where nothing was said of the air: whether high and hot, where bullets arrive faster, changes the answer.
fn elsewhere(lines: &[Line], question: Question, advice: &Advice) -> Result<Option<String>, Diagnostic> {
    let conditions = context::there(question.conditions)?;
    let there = Question { conditions: &conditions, ..question };
    let cases = cases(lines, there)?;
    let Some(other) = advise(question.ladder.plates(), &cases) else { return Ok(None) };
    Ok(report::advise::flips(advice, &other))
}

/// What the rules that only speak say, then the cautions of the trade.
fn said_cautions(cases: &[Case], advice: &Advice) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let plate = advice.named().and_then(|i| advice.choices.get(i)).or(advice.choices.last());
    for case in cases {
        let Some(choice) = plate else { continue };
        let allowance = case.question.rules.allow(&case.load, &choice.plate, case.question.setup);
        for rule in allowance.cautions(&case.strike) {
            let text = report::words::sentence(&rule.why) + ".";
            if !said.contains(&text) {
                said.push(text);
            }
        }
    }
    let loads: Vec<&Load> = cases.iter().map(|c| &*c.load).collect();
    let setups: Vec<&Setup> = cases.iter().map(|c| c.question.setup).collect();
    let nearest = cases.iter().map(|c| c.strike.distance).reduce(|a, b| if a < b { a } else { b });
    said.extend(cautions::of(&cautions::Occasion { loads: &loads, setups: &setups, nearest }));
    said
}

/// What a range's rules change, each once.
fn changes(cases: &[Case], advice: &Advice, units: report::Units) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let Some(choice) = advice.named().and_then(|i| advice.choices.get(i)).or(advice.choices.last()) else {
        return said;
    };
    for case in cases {
        let allowance = case.question.rules.allow(&case.load, &choice.plate, case.question.setup);
        for text in say::changes(&allowance.changes(), units) {
            if !said.contains(&text) {
                said.push(text);
            }
        }
    }
    said
}
