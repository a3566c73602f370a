//! `thickset advise`: which plate.

use super::context::{self, Surroundings};
use super::notes::{Notes, Shot};
use super::options::{CaseArgs, HangingArgs, quantity};
use super::{Answer, Status, hanging};
use crate::advice::{Advice, Case, advise};
use crate::inquiry::{Inquiry, Line, Target};
use crate::plate::{Condition, Ladder};
use crate::quantity::Length;
use crate::report::advise::Told;
use crate::report::{self, Circumstances};
use crate::rules::RuleSet;
use crate::shop::price::Shop;
use crate::source::{Diagnostic, SourceText};
use crate::spread::FlightConditions;
use crate::vet::Question;
use clap::Args;
use serde_json::json;
use std::path::{Path, PathBuf};

/// Which plate, with the choices side by side
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// A file with the loads, distances and targets of an inquiry, in place of the options
    #[arg(value_name = "INQUIRY")]
    pub inquiry: Option<PathBuf>,
    /// Distance to the plate, for every load without one of its own, `100yd`
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub at: Vec<Length>,
    #[command(flatten)]
    pub hanging: HangingArgs,
    #[command(flatten)]
    pub case: CaseArgs,
}

/// The circumstances of an inquiry, from options or from a file.
struct Scene {
    targets: Vec<Target>,
    /// One for each target: their slopes differ.
    conditions: Vec<FlightConditions>,
    lines: Vec<Line>,
    air_unspecified: bool,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Notes::default();
    let rules = context::rules(&args.case.rules)?;
    let ladder = context::ladder(&args.case.rules)?;
    let scene = match &args.inquiry {
        Some(path) => from_file(path, args, &mut assumed)?,
        None => from_options(args, &mut assumed)?,
    };
    let cases = cases(&scene, &scene.conditions, &rules, &ladder)?;
    let advice = advise(ladder.plates(), &cases).ok_or_else(|| Diagnostic::plain("there is nothing to judge"))?;

    let units = args.case.output.units;
    let shots = shots(&cases, &advice);
    let mut remarks = Notes::default();
    remarks.high_and_hot(scene.air_unspecified, &scene.conditions, |there| {
        let other = self::cases(&scene, there, &rules, &ladder)?;
        Ok(advise(ladder.plates(), &other).and_then(|other| report::advise::flips(&advice, &other)))
    })?;
    remarks.changes(&rules, &shots, units);
    let shop = args.hanging.shop.as_deref().map(|path| Shop::read(&SourceText::read(path)?)).transpose()?;
    let comparisons = hanging::comparisons(&cases, &advice, &args.hanging, shop.as_ref())?;
    remarks.extend(hanging::remarks(&comparisons, &cases, &advice, &args.hanging, units).into_list());
    let mut cautions = Notes::default();
    cautions.cautions(&rules, &shots, units);
    let circumstances =
        Circumstances { inputs: inputs(&scene), assumed: assumed.list().to_vec(), cautions: cautions.into_list() };
    let told = Told {
        cases: &cases,
        circumstances: &circumstances,
        comparisons: &comparisons,
        shop: shop.as_ref(),
        remarks: remarks.list(),
        units,
        explain: args.case.output.explain,
    };
    Answer::new(
        Status::from(advice.verdict()),
        args.case.output.format,
        || report::advise::page(&advice, &told),
        || Ok(report::advise::document(&advice, &told, &rules)),
    )
}

fn from_options(args: &Arguments, assumed: &mut Notes) -> Result<Scene, Diagnostic> {
    let asked = context::some_loads(&args.case.loads, assumed)?;
    let Surroundings { setup, conditions, air_unspecified } =
        context::surroundings(&args.case, Condition::Sound, assumed)?;
    let slope = conditions.slope();
    Ok(Scene {
        targets: vec![Target { name: String::new(), setup, slope }],
        conditions: vec![conditions],
        lines: lines(&asked, &args.at)?,
        air_unspecified,
    })
}

fn from_file(path: &Path, args: &Arguments, assumed: &mut Notes) -> Result<Scene, Diagnostic> {
    let beside = args.case.loads.load.first().or(args.case.loads.any.first());
    if beside.is_some() || args.case.loads.described.bullet.is_some() || !args.at.is_empty() {
        return Err(Diagnostic::plain("loads and distances stand in the inquiry and on the command line")
            .field("INQUIRY")
            .help("say them in one place"));
    }
    let catalog = context::catalog_of(&args.case.loads.load_file)?;
    let inquiry = Inquiry::read(&SourceText::read(path)?, path.parent(), catalog)?;
    inquiry.assumed.iter().for_each(|text| assumed.note(text.clone()));
    inquiry.lines.iter().for_each(|line| context::note_spread(&line.load, assumed));
    let weather = match inquiry.weather {
        Some(weather) => weather,
        None => context::weather(&args.case.air, assumed)?,
    };
    let coverage = context::coverage(inquiry.coverage.or(args.case.loads.spread.coverage), assumed);
    let conditions = inquiry.targets.iter().map(|target| {
        FlightConditions::new(&weather, target.slope, coverage)
            .map_err(|e| Diagnostic::plain(e.to_string()).field("coverage").help(e.help()))
    });
    Ok(Scene {
        conditions: conditions.collect::<Result<_, _>>()?,
        targets: inquiry.targets,
        lines: inquiry.lines,
        air_unspecified: weather.is_unspecified(),
    })
}

fn inputs(scene: &Scene) -> serde_json::Value {
    let line = |line: &Line| {
        json!({
            "load": context::load_json(&line.load),
            "distance_m": line.distance.value,
            "target": scene.targets.get(line.target).map(|t| &t.name),
        })
    };
    let targets = scene.targets.iter().zip(&scene.conditions);
    json!({
        "lines": scene.lines.iter().map(line).collect::<Vec<_>>(),
        "targets": targets.map(|(t, c)| json!({
            "name": t.name,
            "target": context::setup_json(&t.setup),
            "conditions": context::conditions_json(c),
        })).collect::<Vec<_>>(),
    })
}

/// Every load with every distance it is asked at.
fn lines(asked: &[context::Asked], at: &[Length]) -> Result<Vec<Line>, Diagnostic> {
    let mut lines = Vec::new();
    for one in asked {
        match one.distance {
            Some(distance) => lines.push(Line { load: one.load.clone(), distance, target: 0 }),
            None if at.is_empty() => {
                return Err(Diagnostic::plain(format!("no distance for `{}`", one.load.facts().name))
                    .field("--at")
                    .help("say it: `--at 100yd`, or `--load NAME@100yd`"));
            }
            None => {
                for &distance in at {
                    let distance = context::positive(distance, "--at")?;
                    lines.push(Line { load: one.load.clone(), distance, target: 0 });
                }
            }
        }
    }
    Ok(lines)
}

fn cases<'r>(
    scene: &'r Scene,
    conditions: &'r [FlightConditions],
    rules: &'r RuleSet,
    ladder: &'r Ladder,
) -> Result<Vec<Case<'r>>, Diagnostic> {
    let case = |line: &Line| {
        let (target, conditions) = (&scene.targets[line.target], &conditions[line.target]);
        let question = Question { rules, ladder, setup: &target.setup, conditions };
        let name = (!target.name.is_empty()).then(|| target.name.clone());
        Case::new(line.load.clone(), question, name, line.distance).map_err(|e| context::flight_fault(&e, &line.load))
    };
    scene.lines.iter().map(case).collect()
}

/// Every case on the plate that is named, or on the thickest where none is.
fn shots<'a>(cases: &'a [Case], advice: &'a Advice) -> Vec<Shot<'a>> {
    let named = advice.named().and_then(|i| advice.choices.get(i)).or(advice.choices.last());
    let shot = |case: &'a Case, plate| Shot {
        load: &case.load,
        plate,
        setup: case.question.setup,
        conditions: case.question.conditions,
        strike: Some(case.strike),
    };
    named.map(|choice| cases.iter().map(|case| shot(case, &choice.plate)).collect()).unwrap_or_default()
}
