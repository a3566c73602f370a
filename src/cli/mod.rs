//! The commands: arguments in, a page or a document out, and a status. No physics here.

mod advise;
mod catalog;
mod chrono;
mod context;
mod course;
mod hanging;
mod notes;
mod options;
mod standoff;
mod strike;
mod vet;
mod write;

use crate::report::{self, Format, Page};
use crate::rules::Verdict;
use crate::source::{Diagnostic, Faults, sanitize};
use clap::{Parser, Subcommand, error::ErrorKind};
use options::{OutputArgs, When};
use std::ffi::OsString;
use std::io::{ErrorKind as IoErrorKind, Read, Write};

/// What the exit status says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub enum Status {
    /// It suits, a plate is recommended, or what was asked is done.
    Suits = 0,
    /// Unsuitable; no plate.
    Unsuitable = 1,
    /// The input or the usage is at fault.
    InvalidInput = 2,
    /// Borderline at best.
    Borderline = 3,
}

impl From<Verdict> for Status {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Suits => Self::Suits,
            Verdict::Borderline => Self::Borderline,
            Verdict::Unsuitable => Self::Unsuitable,
        }
    }
}

/// What standard output and standard error are.
#[derive(Debug, Clone, Copy, Default)]
pub struct Terminal {
    /// Columns, where standard output is a terminal.
    pub width: Option<usize>,
    /// Whether to colour unless told otherwise.
    pub colour: bool,
    /// Whether standard error is a terminal that progress can be shown on.
    pub progress: bool,
}

/// Which AR500 steel plate, how close, and whether a load suits a target
#[derive(Debug, Parser)]
#[command(name = "thickset", version, max_term_width = 100, disable_help_subcommand = true, after_help = AFTER)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

const AFTER: &str = "Limits are rules of thumb for AR500 plate. The range's own rules, local law and the range officer \
stand above them.\nExit status: 0 suits or done, 1 unsuitable, 3 borderline at best, 2 fault in the input.";

#[derive(Debug, Subcommand)]
enum Command {
    /// Which plate, with the choices side by side
    Advise(Box<advise::Arguments>),
    /// How close: one load on one plate, or the chart of loads and thicknesses
    Standoff(Box<standoff::Arguments>),
    /// Does this load suit this target; the exit status tells
    Vet(Box<vet::Arguments>),
    /// What arrives at each distance
    Strike(Box<strike::Arguments>),
    /// A match file: every target against every admitted load
    Course(Box<course::Arguments>),
    /// A chronograph string to mean, standard deviation and tolerance bound
    Chrono(Box<chrono::Arguments>),
    /// Loads, plates, rules and sources, built in or given
    Catalog(Box<catalog::Arguments>),
}

/// What a command answers: its status, and the answer in the form that was asked for.
struct Answer {
    status: Status,
    body: Body,
    /// Faults that did not keep the rest from being answered.
    faults: Vec<Diagnostic>,
}

enum Body {
    Page(Page),
    Document(String),
}

impl Answer {
    /// Builds only the form that is asked for.
    fn new(
        status: Status,
        format: Format,
        page: impl FnOnce() -> Page,
        document: impl FnOnce() -> Result<String, Diagnostic>,
    ) -> Result<Self, Diagnostic> {
        let body = match format {
            Format::Json => Body::Document(document()?),
            Format::Table | Format::Csv | Format::Html => Body::Page(page()),
        };
        Ok(Self { status, body, faults: Vec::new() })
    }
}

/// Runs a command as if through pipes: 80 columns, no colour.
pub fn run<I, T>(args: I, stdin: &mut dyn Read, out: &mut dyn Write, err: &mut dyn Write) -> Status
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    run_on(Terminal::default(), args, stdin, out, err)
}

/// Runs a command on a terminal.
pub fn run_on<I, T>(
    terminal: Terminal,
    args: I,
    stdin: &mut dyn Read,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Status
where
    I: IntoIterator<Item = T>,
    T: Into<OsString> + Clone,
{
    let args: Vec<OsString> = args.into_iter().map(Into::into).collect();
    let cli = match Cli::try_parse_from(&args) {
        Ok(cli) => cli,
        Err(error) => return usage(&error, &args, out, err),
    };
    let output = cli.command.output().clone();
    if let Some(path) = output.output.as_ref().filter(|path| path.as_os_str() != "-")
        && let Err(fault) = write::refuse_own_inputs(path, args.iter().map(OsString::as_os_str), [])
    {
        return complain(&[fault], output.format, err);
    }
    let answer = match cli.command {
        Command::Advise(args) => advise::run(&args),
        Command::Standoff(args) => standoff::run(&args),
        Command::Vet(args) => vet::run(&args),
        Command::Strike(args) => strike::run(&args),
        Command::Course(args) => course::run(&args, terminal.progress),
        Command::Chrono(args) => chrono::run(&args, stdin),
        Command::Catalog(args) => catalog::run(&args),
    };
    match answer {
        Ok(answer) => give(answer, &output, terminal, out, err),
        Err(fault) => complain(&[fault], output.format, err),
    }
}

impl Command {
    fn output(&self) -> &OutputArgs {
        match self {
            Self::Advise(a) => &a.case.output,
            Self::Standoff(a) => &a.case.output,
            Self::Vet(a) => &a.case.output,
            Self::Strike(a) => &a.output,
            Self::Course(a) => &a.output,
            Self::Chrono(a) => &a.case.output,
            Self::Catalog(a) => &a.output,
        }
    }
}

/// Help and version go to standard output; a usage fault is told like any other.
fn usage(error: &clap::Error, args: &[OsString], out: &mut dyn Write, err: &mut dyn Write) -> Status {
    let text = error.render();
    if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        let _ = write!(out, "{text}");
        return Status::Suits;
    }
    let json =
        args.iter().any(|a| a == "--format=json") || args.windows(2).any(|w| w[0] == "--format" && w[1] == "json");
    if json {
        let message = text.to_string();
        let message = message.trim().trim_start_matches("error: ").to_owned();
        return complain(&[Diagnostic::plain(message)], Format::Json, err);
    }
    for line in text.to_string().lines() {
        let _ = writeln!(err, "{}", sanitize(line));
    }
    Status::InvalidInput
}

fn complain(faults: &[Diagnostic], format: Format, err: &mut dyn Write) -> Status {
    if format == Format::Json {
        let _ = write!(err, "{}", report::error_document(faults));
    } else {
        let mut told = Faults::default();
        for fault in faults {
            told.push_with(|| fault.clone());
        }
        for fault in told.into_told() {
            let _ = writeln!(err, "{fault}");
        }
    }
    Status::InvalidInput
}

fn give(answer: Answer, output: &OutputArgs, terminal: Terminal, out: &mut dyn Write, err: &mut dyn Write) -> Status {
    let text = match answer.body {
        Body::Document(text) => text,
        Body::Page(page) => render(&page, output, terminal),
    };
    let written = match &output.output {
        Some(path) if path.as_os_str() != "-" => write::write(path, text.as_bytes(), "--output"),
        _ => match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Err(e) if e.kind() != IoErrorKind::BrokenPipe => Err(Diagnostic::plain(format!("cannot write: {e}"))),
            _ => Ok(()),
        },
    };
    if let Err(fault) = written {
        return complain(&[fault], output.format, err);
    }
    if answer.faults.is_empty() { answer.status } else { complain(&answer.faults, output.format, err) }
}

fn render(page: &Page, output: &OutputArgs, terminal: Terminal) -> String {
    let colour = match output.color {
        When::Auto => terminal.colour && output.output.is_none(),
        When::Always => true,
        When::Never => false,
    };
    report::render(page, output.format, terminal.width, colour)
}
