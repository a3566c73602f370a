//! `thickset course`: a whole match.

use super::context;
use super::notes::Notes;
use super::options::{OutputArgs, RuleArgs};
use super::{Answer, Status};
use crate::air::Weather;
use crate::course::{Course, Outcome, judge};
use crate::load::Load;
use crate::quantity::{Angle, Measure, unit};
use crate::report::course::Told;
use crate::report::{self, Circumstances, cautions, say};
use crate::rules::{RuleSet, Setup};
use crate::source::{Diagnostic, SourceText};
use crate::spread::{CoverageError, FlightConditions};
use clap::Args;
use serde_json::json;
use std::io::Write;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// How long a match may take in silence.
const QUIET: Duration = Duration::from_secs(2);
/// Loads whose carry is flown for the caution: those that leave with the most energy.
const CARRIED: usize = 8;

/// A match file: every target against every admitted load
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// The match
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// A file of loads of your own, added to those built in
    #[arg(long, value_name = "FILE")]
    pub load_file: Vec<PathBuf>,
    /// Threads to judge with; every core where not said
    #[arg(long, value_name = "N")]
    pub threads: Option<usize>,
    #[command(flatten)]
    pub rules: RuleArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

pub(super) fn run(args: &Arguments, show_progress: bool, err: &mut dyn Write) -> Result<Answer, Diagnostic> {
    let ladder = context::ladder(&args.rules)?;
    let catalog = context::catalog_of(&args.load_file)?;
    let mut course = Course::read(&SourceText::read(&args.file)?, args.file.parent(), catalog, &ladder)?;
    let mut rules = context::rules(&args.rules)?;
    for path in &course.range_rules {
        rules = rules.with_overlay(&SourceText::read(path)?)?;
    }
    let mut assumed = Notes::default();
    course.assumed.iter().for_each(|text| assumed.note(text.clone()));
    course.loads.iter().for_each(|d| context::note_spread(&d.load, &mut assumed));
    let weather = course.weather.unwrap_or_default();
    if weather.is_unspecified() {
        assumed.note(weather.thin().to_string());
    }
    let coverage = context::coverage(course.coverage, &mut assumed);
    let on = |weather: &Weather, slope: Angle| FlightConditions::new(weather, slope, coverage);
    let level = on(&weather, unit::DEGREE.of(0.0)).map_err(|e| coverage_fault(&e))?;
    let barred = course.set_apart(&rules, &ladder, &level);
    let outcomes = judged(&course, &rules, &ladder, args.threads, &|slope| on(&weather, slope), show_progress, err)?;

    let mut remarks = Vec::new();
    if weather.is_unspecified() {
        let there = context::high_and_hot()?;
        let other = judged(&course, &rules, &ladder, args.threads, &|slope| on(&there, slope), show_progress, err)?;
        let flipped = outcomes.iter().zip(&other).filter(|(a, b)| a.verdict != b.verdict).count();
        if flipped > 0 {
            let change = if flipped == 1 { "1 verdict changes".into() } else { format!("{flipped} verdicts change") };
            remarks.push(say::high_and_hot(&change, "say it under `[air]`"));
        }
    }
    let circumstances = Circumstances {
        inputs: json!({
            "name": course.name,
            "loads": course.loads.len(),
            "targets": course.targets.len(),
            "conditions": context::conditions_json(&level),
        }),
        assumed: assumed.list().to_vec(),
        cautions: said_cautions(&course, &level, args.output.units),
    };
    let told = Told {
        course: &course,
        outcomes: &outcomes,
        barred: &barred,
        circumstances: &circumstances,
        remarks: &remarks,
        units: args.output.units,
        explain: args.output.explain,
    };
    let mut answer = Answer::new(
        Status::from(report::course::verdict(&outcomes, &barred)),
        args.output.format,
        || report::course::page(&told),
        || Ok(report::course::document(&told, &rules)),
    )?;
    answer.faults.clone_from(&course.faults);
    Ok(answer)
}

fn coverage_fault(error: &CoverageError) -> Diagnostic {
    Diagnostic::plain(error.to_string()).field("coverage").help(error.help())
}

/// The course judged, with progress on standard error where it takes long and is a terminal.
fn judged(
    course: &Course,
    rules: &RuleSet,
    ladder: &crate::plate::Ladder,
    threads: Option<usize>,
    conditions: &(dyn Fn(Angle) -> Result<FlightConditions, CoverageError> + Sync),
    show_progress: bool,
    err: &mut dyn Write,
) -> Result<Vec<Outcome>, Diagnostic> {
    let (begun, done) = (Instant::now(), AtomicUsize::new(0));
    let total = course.loads.len();
    let progress = || {
        let count = done.fetch_add(1, Ordering::Relaxed) + 1;
        if show_progress && count % 256 == 0 && begun.elapsed() > QUIET {
            // Progress is a courtesy: that it can't be written changes nothing.
            let _ = write!(std::io::stderr(), "\r{count} of {total} loads");
        }
    };
    let judged = || judge(course, rules, ladder, conditions, &progress).map_err(|e| coverage_fault(&e));
    let outcome = crate::threads::with(threads, judged)??;
    if show_progress && begun.elapsed() > QUIET {
        let _ = writeln!(err);
    }
    Ok(outcome.0)
}

fn said_cautions(course: &Course, conditions: &FlightConditions, units: report::Units) -> Vec<String> {
    let mut strongest: Vec<&Load> = course.loads.iter().map(|d| &*d.load).collect();
    strongest.sort_by(|a, b| b.muzzle_energy().si().total_cmp(&a.muzzle_energy().si()));
    strongest.truncate(CARRIED);
    let mut said: Vec<String> = context::carry_caution(&strongest, conditions, units).into_iter().collect();
    let loads: Vec<&Load> = course.loads.iter().map(|d| &*d.load).collect();
    let setups: Vec<&Setup> = course.targets.iter().map(|t| &t.setup).collect();
    let nearest = course.targets.iter().map(crate::course::Target::nearest).reduce(|a, b| if b < a { b } else { a });
    said.extend(cautions::of(&cautions::Occasion { loads: &loads, setups: &setups, nearest }));
    said
}
