//! `thickset strike`: what arrives at each distance.

use super::context;
use super::notes::Notes;
use super::options::{AirArgs, LoadArgs, OutputArgs, quantity};
use super::{Answer, Status};
use crate::flight::FlightError;
use crate::quantity::{Angle, Length, Measure, unit};
use crate::report::strike::Line;
use crate::report::{self, Circumstances};
use crate::rules::RuleSet;
use crate::source::Diagnostic;
use crate::spread::Flights;
use clap::Args;
use serde_json::json;

/// The most rows of the table.
const MAX_ROWS: usize = 5000;

/// What arrives at each distance: mean, fast and slow shot
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// First distance; 0 where not said
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub from: Option<Length>,
    /// Last distance; 500 yd where not said
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub to: Option<Length>,
    /// Distance between rows; 100 yd where not said
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub step: Option<Length>,
    /// Distances of your own, in place of --from, --to and --step
    #[arg(long, value_name = "DISTANCE", value_parser = quantity::<Length>, allow_hyphen_values = true,
          conflicts_with_all = ["from", "to", "step"])]
    pub at: Vec<Length>,
    /// Slope to the target, uphill positive, `-15deg`
    #[arg(long, value_name = "ANGLE", value_parser = quantity::<Angle>, allow_hyphen_values = true)]
    pub slope: Option<Angle>,
    #[command(flatten)]
    pub loads: LoadArgs,
    #[command(flatten)]
    pub air: AirArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

pub(super) fn run(args: &Arguments) -> Result<Answer, Diagnostic> {
    let mut assumed = Notes::default();
    let rules = RuleSet::house()?;
    let asked = context::one_load(&args.loads, &mut assumed)?;
    let weather = context::weather(&args.air, &mut assumed)?;
    let conditions = context::conditions(&weather, args.slope, &args.loads.spread, &mut assumed)?;
    let load = &*asked.load;
    let flights = Flights::new(load, &conditions).map_err(|e| context::flight_fault(&e, load))?;
    let mut lines = Vec::new();
    for distance in distances(args, asked.distance)? {
        let fault = |e: FlightError| said_where(context::flight_fault(&e, load), args, asked.distance);
        let strike = flights.strike(distance).map_err(fault)?;
        let gains = flights.fast_gains(distance).map_err(fault)?;
        lines.push(Line { strike, gains });
    }
    let circumstances = Circumstances {
        inputs: json!({"load": context::load_json(load), "conditions": context::conditions_json(&conditions)}),
        assumed: assumed.list().to_vec(),
        cautions: context::carry_caution(&[load], &conditions, args.output.units).into_iter().collect(),
    };
    Answer::new(
        Status::Suits,
        args.output.format,
        || report::strike::page(load, &lines, &circumstances, args.output.units, args.output.explain),
        || Ok(report::strike::document(load, &lines, &circumstances, &rules)),
    )
}

/// A fault of a distance with the option that set it: rows run to `--to` where none was named.
fn said_where(fault: Diagnostic, args: &Arguments, own: Option<Length>) -> Diagnostic {
    let runs = own.is_none() && args.at.is_empty();
    if runs && fault.field.as_deref() == Some("--at") { fault.field("--to") } else { fault }
}

/// The distances of the rows: those named, or from, to, step.
fn distances(args: &Arguments, own: Option<Length>) -> Result<Vec<Length>, Diagnostic> {
    if let Some(distance) = own {
        return Ok(vec![distance]);
    }
    if !args.at.is_empty() {
        return args.at.iter().map(|&d| context::positive(d, "--at")).collect();
    }
    let from = args.from.unwrap_or_else(|| unit::YARD.of(0.0));
    let to = args.to.unwrap_or_else(|| from.max(unit::YARD.of(500.0)));
    let step = args.step.unwrap_or_else(|| unit::YARD.of(100.0));
    if from.si() < 0.0 {
        return Err(Diagnostic::plain("--from is negative").field("--from").help("write zero or more, `0 yd`"));
    }
    if to < from {
        return Err(Diagnostic::plain("--to lies before --from")
            .field("--to")
            .help("write the nearer distance as --from"));
    }
    context::positive(step, "--step")?;
    let count = ((to.si() - from.si()) / step.si() + 1e-9).floor();
    if count >= MAX_ROWS as f64 {
        let message = format!("the table would have more than {MAX_ROWS} rows");
        return Err(Diagnostic::plain(message).field("--step").help("take a longer step"));
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Checked against the most rows.
    let count = count as usize;
    Ok((0..=count).map(|i| Length::from_si(from.si() + step.si() * i as f64)).collect())
}
