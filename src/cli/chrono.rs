//! `thickset chrono`: a chronograph string.

use super::context::{self, Surroundings};
use super::notes::{Notes, shots};
use super::options::CaseArgs;
use super::{Answer, Status};
use crate::catalog::{SCHEMA, measured as measured_load, render_load};
use crate::chrono::{Readings, Summary};
use crate::drag::DragModel;
use crate::load::{Load, MuzzleSpread};
use crate::plate::{Condition, Plate};
use crate::quantity::{Measure, Ratio, parse, unit};
use crate::report::chrono::Told;
use crate::report::{self, Circumstances};
use crate::rules::RuleSet;
use crate::source::{Diagnostic, SourceText};
use crate::standoff::{Chart, Row};
use clap::Args;
use serde_json::json;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A chronograph string to mean, standard deviation and tolerance bound
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Readings with their unit, `2648fps 2655fps`; or a file of them; or `-` for standard input
    #[arg(value_name = "READING|FILE", required = true)]
    pub readings: Vec<String>,
    /// Column of a CSV file that holds the readings
    #[arg(long, value_name = "NAME")]
    pub column: Option<String>,
    /// Confidence of the bound; 0.95 where not said
    #[arg(long, value_name = "SHARE", value_parser = share, allow_hyphen_values = true)]
    pub confidence: Option<Ratio>,
    /// Plate to give the standoff on, `3/8in`; every plate of the ladder where not said
    #[arg(long, value_name = "THICKNESS", allow_hyphen_values = true)]
    pub plate: Vec<String>,
    /// Write the load with this string's mean and bound to a file that --load-file reads
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Name of the saved load
    #[arg(long, value_name = "NAME", default_value = "chronographed")]
    pub id: String,
    #[command(flatten)]
    pub case: CaseArgs,
}

/// A share as `0.95` or `95%`.
fn share(text: &str) -> Result<Ratio, String> {
    match text.trim().parse::<f64>() {
        Ok(number) => Ok(unit::ONE.of(number)),
        Err(_) => parse(text).map_err(|error| format!("{error}; {}", error.help())),
    }
}

pub(super) fn run(args: &Arguments, stdin: &mut dyn Read) -> Result<Answer, Diagnostic> {
    let mut assumed = Notes::default();
    let rules = context::rules(&args.case.rules)?;
    let readings = readings(args, stdin)?;
    let coverage = args.case.loads.spread.coverage.unwrap_or_else(|| unit::PERCENT.of(99.0));
    let confidence = args.confidence.unwrap_or_else(|| unit::PERCENT.of(95.0));
    let summary = readings
        .summary(coverage.si(), confidence.si())
        .map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))?;
    let load = measured(args, &summary, &mut assumed)?;
    if let Some(path) = &args.save {
        save(path, load.as_deref(), &args.id, &summary)?;
    }
    let plates = context::plates(&args.plate, &context::ladder(&args.case.rules)?)?;
    let mut cautions = Notes::default();
    let row = if let Some(load) = &load {
        Some(standoff(args, load, &rules, &plates, &mut assumed, &mut cautions)?)
    } else {
        cautions.note("No chronograph within 20° of the plate's plane: splash finds it.");
        None
    };
    let suspicions = readings.suspicions();
    let circumstances = Circumstances {
        inputs: json!({
            "readings_m_s": readings.readings().iter().map(|v| v.si()).collect::<Vec<_>>(),
            "load": load.as_ref().map(|l| context::load_json(l)),
        }),
        assumed: assumed.list().to_vec(),
        cautions: cautions.into_list(),
    };
    let told = Told {
        summary: &summary,
        suspicions: &suspicions,
        coverage,
        confidence,
        standoff: row.as_ref().map(|r| (r, plates.as_slice())),
        circumstances: &circumstances,
        units: args.case.output.units,
    };
    Answer::new(
        Status::Suits,
        args.case.output.format,
        || report::chrono::page(&told),
        || Ok(report::chrono::document(&told, &rules)),
    )
}

/// The readings from the arguments, a file, or standard input.
fn readings(args: &Arguments, stdin: &mut dyn Read) -> Result<Readings, Diagnostic> {
    let column = args.column.as_deref();
    match args.readings.as_slice() {
        [one] if one == "-" => Readings::read(&SourceText::read_standard_input(stdin)?, column),
        [one] if Path::new(one).exists() || !one.starts_with(|c: char| c.is_ascii_digit() || "-+.".contains(c)) => {
            Readings::read(&SourceText::read(Path::new(one))?, column)
        }
        words => Readings::from_words(words.iter().map(String::as_str)),
    }
    .map_err(|fault| if fault.field.is_none() && fault.place.is_none() { fault.field("readings") } else { fault })
}

/// The load the string was shot with, where its rest was given: mean and bound from the string.
fn measured(args: &Arguments, summary: &Summary, assumed: &mut Notes) -> Result<Option<Arc<Load>>, Diagnostic> {
    if args.case.loads.load.is_empty() && args.case.loads.described.bullet.is_none() {
        if args.save.is_some() {
            return Err(Diagnostic::plain("`--save` needs the rest of the load")
                .field("--save")
                .help("name the load it replaces (`--load 308-168-match`), or give `--bullet`, `--bc` and `--drag`"));
        }
        return Ok(None);
    }
    let mut loads = args.case.loads.clone();
    if loads.described.bullet.is_some() {
        if loads.described.velocity.is_some() {
            return Err(Diagnostic::plain("`--velocity` stands beside a chronograph string")
                .field("--velocity")
                .help("leave it out: the string's mean is the velocity"));
        }
        loads.described.velocity = Some(summary.mean);
    }
    loads.spread.velocity_sd = Some(summary.sd);
    let asked = context::one_load(&loads, assumed)?;
    let spread = MuzzleSpread::Bound { sd: summary.sd, factor: summary.factor };
    let load = measured_load(&asked.load, summary.mean, spread, summary.n, args.case.loads.spread.barrel);
    let load = load.map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))?;
    Ok(Some(Arc::new(load)))
}

fn save(path: &Path, load: Option<&Load>, id: &str, summary: &Summary) -> Result<(), Diagnostic> {
    let Some(load) = load else { return Ok(()) };
    if load.facts().drag.model() == DragModel::Own {
        return Err(Diagnostic::plain("a load with a drag table of its own is not saved")
            .field("--save")
            .help("write its record by hand, with `drag-table` naming the file"));
    }
    if path.exists() {
        return Err(Diagnostic::plain(format!("`{}` is there already", path.display()))
            .field("--save")
            .help("name a new file, or move that one away"));
    }
    let named = Load::checked(id, load.facts().clone())
        .map_err(|e| Diagnostic::plain(e.to_string()).field(format!("--{}", e.field())).help(e.help()))?;
    let basis = format!("measured, {} readings", summary.n);
    let text = format!("schema = \"{SCHEMA}\"\n\n{}", render_load(&named, &basis, None));
    super::write::write(path, text.as_bytes(), "--save")
}

fn standoff<'r>(
    args: &Arguments,
    load: &Arc<Load>,
    rules: &'r RuleSet,
    plates: &[Plate],
    assumed: &mut Notes,
    cautions: &mut Notes,
) -> Result<Row<'r>, Diagnostic> {
    let Surroundings { setup, conditions, .. } = context::surroundings(&args.case, Condition::Unknown, assumed)?;
    let chart = Chart { rules, plates, setup: &setup, conditions: &conditions, at: None };
    let row = chart.row(load).map_err(|e| context::flight_fault(&e, load))?;
    cautions.cautions(rules, &shots(&chart, std::slice::from_ref(&row)), args.case.output.units);
    Ok(row)
}
