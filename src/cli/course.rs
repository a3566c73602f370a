//! `thickset course`: a whole match.

use super::context;
use super::options::{OutputArgs, RuleArgs};
use super::{Answer, Status, write};
use crate::advisor::answer::CourseAnswer;
use crate::advisor::course::{Asked, answer};
use crate::report::{Detail, Format, Report, course_sheets};
use crate::shop::price::Shop;
use crate::source::{Diagnostic, SourceText};
use clap::Args;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How long a match may take in silence.
const QUIET: Duration = Duration::from_secs(2);

/// A match file: every target against every admitted load
#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// The match
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// A file of loads of your own, added to those built in
    #[arg(long, value_name = "FILE")]
    pub load_file: Vec<PathBuf>,
    /// A shop's prices, for what the plates cost
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Everything: each target, position and caution
    #[arg(long)]
    pub full: bool,
    /// Write a sign for each stage, an officer's sheet and a haul list into a folder, as HTML
    #[arg(long, value_name = "DIR")]
    pub sheets: Option<PathBuf>,
    /// Threads to judge with; every core where not given
    #[arg(long, value_name = "N")]
    pub threads: Option<usize>,
    #[command(flatten)]
    pub rules: RuleArgs,
    #[command(flatten)]
    pub output: OutputArgs,
}

pub(super) fn run(args: &Arguments, show_progress: bool) -> Result<Answer, Diagnostic> {
    let ladder = context::ladder(&args.rules)?;
    let shop = args.shop.as_ref().map(|path| Shop::read(&SourceText::read(path)?)).transpose()?;
    let (begun, is_told) = (Instant::now(), AtomicBool::new(false));
    let progress = |done: usize, total: usize| {
        if show_progress && (done % 64 == 0 || done == total) && begun.elapsed() > QUIET {
            is_told.store(true, Ordering::Relaxed);
            // Progress is a courtesy: that it can't be written changes nothing.
            let _ = write!(std::io::stderr(), "\r{done} of {total} loads");
        }
    };
    let folder = args.file.parent().unwrap_or_else(|| Path::new(""));
    let open = |path: &Path| SourceText::read(&folder.join(path));
    let asked = Asked {
        catalog: context::catalog_of(&args.load_file)?,
        ladder: &ladder,
        rules: context::rules(&args.rules)?,
        shop: shop.as_ref(),
        open: Some(&open),
        folder: Some(folder),
        units: args.output.units,
        threads: args.threads,
        progress: &progress,
    };
    let told = answer(&SourceText::read(&args.file)?, &asked);
    if is_told.load(Ordering::Relaxed) {
        let _ = writeln!(std::io::stderr());
    }
    let told = told?;
    // HTML is read at leisure, and has room.
    let full = args.full || args.output.format == Format::Html;
    let detail = Detail { full, explain: args.output.explain };
    let mut answer = Answer::new(
        Status::from(told.verdict),
        args.output.format,
        || told.page(detail),
        || document(&told),
    )?;
    if let Some(folder) = &args.sheets {
        write_sheets(&told, folder)?;
    }
    answer.faults = told.faults;
    Ok(answer)
}

fn write_sheets(told: &CourseAnswer, folder: &Path) -> Result<(), Diagnostic> {
    std::fs::create_dir_all(folder).map_err(|e| {
        Diagnostic::plain(format!("cannot make the folder `{}`: {e}", folder.display()))
            .field("--sheets")
            .help("name a folder that can be written")
    })?;
    for sheet in course_sheets::sheets(told) {
        write::write(&folder.join(&sheet.name), sheet.text.as_bytes(), "--sheets")?;
    }
    Ok(())
}

fn document(told: &CourseAnswer) -> Result<String, Diagnostic> {
    let text = serde_json::to_string_pretty(told).map_err(|e| Diagnostic::plain(e.to_string()))?;
    Ok(text + "\n")
}
