//! `thickset course`: a whole match.

use super::asked;
use super::files::Files;
use super::form::Form;
use super::options::Verb;
use super::{Given, Status, Terminal, advisor};
use crate::advisor::Faults;
use crate::advisor::answer::CourseAnswer;
use crate::advisor::question::CourseQuestion;
use crate::report::course_sheets;
use crate::source::Diagnostic;
use clap::ArgMatches;
use serde_json::Value;
use std::io::Write;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How long a match may take in silence.
const QUIET: Duration = Duration::from_secs(2);
/// Loads between two words of progress.
const STEP: usize = 64;

pub(super) fn run(matches: &ArgMatches, form: &Form, files: &Files, terminal: Terminal) -> Result<Given, Faults> {
    let mut keys = asked::keys(Verb::Course, matches)?;
    keys.insert("course".into(), Value::String(matches.get_one::<String>("FILE").cloned().unwrap_or_default()));
    let question: CourseQuestion = asked::question(Verb::Course, keys)?;
    let (begun, is_told) = (Instant::now(), AtomicBool::new(false));
    let progress = |done: usize, total: usize| {
        if terminal.progress && (done.is_multiple_of(STEP) || done == total) && begun.elapsed() > QUIET {
            is_told.store(true, Ordering::Relaxed);
            // Progress is a courtesy: that it can't be written changes nothing.
            let _ = write!(std::io::stderr(), "\r{done} of {total} loads");
        }
    };
    let answer = advisor(files)?.course_with(&question, &progress);
    if is_told.load(Ordering::Relaxed) {
        let _ = writeln!(std::io::stderr());
    }
    let answer = answer?;
    let mut given =
        Given::new(Status::of(answer.verdict, &answer.preamble.not_judged), form.render(&answer, terminal)?);
    if let Some(folder) = matches.get_one::<String>("sheets") {
        write_sheets(&answer, Path::new(folder), files)?;
    }
    if !answer.faults.is_empty() {
        given.status = Status::InvalidInput;
    }
    given.faults = answer.faults;
    Ok(given)
}

fn write_sheets(answer: &CourseAnswer, folder: &Path, files: &Files) -> Result<(), Diagnostic> {
    std::fs::create_dir_all(folder).map_err(|e| {
        Diagnostic::plain(format!("cannot make the folder `{}`: {e}", folder.display()))
            .field("--sheets")
            .help("name a folder that can be written")
    })?;
    for sheet in course_sheets::sheets(answer) {
        files.write(&folder.join(&sheet.name), sheet.text.as_bytes(), "--sheets")?;
    }
    Ok(())
}
