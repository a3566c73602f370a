//! `thickset course`: a whole match.

use super::asked;
use super::files::Files;
use super::form::Form;
use super::options::Verb;
use super::{Given, Status, Terminal, advisor};
use crate::advisor::Faults;
use crate::advisor::answer::CourseAnswer;
use crate::advisor::question::CourseQuestion;
use crate::order::Order;
use crate::report::course_sheets;
use crate::source::{Diagnostic, read_bytes};
use clap::ArgMatches;
use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
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
    let folder = matches.get_one::<String>("sheets").map(Path::new);
    let answer = answer.map_err(|faults| told_of_old_sheets(faults, folder))?;
    let mut given = Given::of(answer.verdict, &answer.preamble, form, form.render(&answer, terminal)?);
    given.beside = form.beside(&answer.preamble, true);
    if let Some(folder) = folder {
        write_sheets(&answer, folder, form.dated.as_deref(), files)?;
    }
    if !answer.faults.is_empty() {
        given.status = Status::InvalidInput;
    }
    given.faults = answer.faults;
    Ok(given)
}

fn write_sheets(answer: &CourseAnswer, folder: &Path, dated: Option<&str>, files: &Files) -> Result<(), Diagnostic> {
    std::fs::create_dir_all(folder).map_err(|e| {
        Diagnostic::plain(format!("cannot make the folder `{}`: {e}", folder.display()))
            .field("--sheets")
            .help("name a folder that can be written")
    })?;
    let sheets = course_sheets::sheets(answer, dated);
    let (old, foreign) = sheets_in(folder);
    if let Some(path) = foreign.first() {
        return Err(Diagnostic::plain(format!("`{}` is there, and is no sheet of this program", path.display()))
            .field("--sheets")
            .help("name another folder, or move that file away"));
    }
    // A sign of an earlier run beside those of this one would open a stage that this run closed.
    for path in old.iter().filter(|path| !sheets.iter().any(|sheet| path.ends_with(&sheet.name))) {
        std::fs::remove_file(path).map_err(|e| {
            Diagnostic::plain(format!("cannot remove `{}`, of an earlier run: {e}", path.display()))
                .field("--sheets")
                .help("remove it yourself, or name another folder")
        })?;
    }
    for sheet in sheets {
        files.write(&folder.join(&sheet.name), sheet.text.as_bytes(), "--sheets")?;
    }
    Ok(())
}

/// Files of a folder that bear a sheet's name: those that this program wrote, and those that it did not.
fn sheets_in(folder: &Path) -> (Vec<PathBuf>, Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return (Vec::new(), Vec::new()) };
    let named = entries.filter_map(|entry| {
        let entry = entry.ok()?;
        course_sheets::is_sheet_name(entry.file_name().to_str()?).then(|| entry.path())
    });
    let mut named: Vec<PathBuf> = named.collect();
    named.order();
    let is_own =
        |path: &PathBuf| read_bytes(path).is_ok_and(|bytes| course_sheets::is_sheet(&String::from_utf8_lossy(&bytes)));
    named.into_iter().partition(is_own)
}

/// A match that can't be read leaves the sheets of an earlier run where they are, and says so.
fn told_of_old_sheets(faults: Faults, folder: Option<&Path>) -> Faults {
    let Some(folder) = folder.filter(|folder| !sheets_in(folder).0.is_empty()) else { return faults };
    let mut list = faults.into_list();
    list.push(
        Diagnostic::plain(format!("the sheets in `{}` are of an earlier run", folder.display()))
            .field("--sheets")
            .help("take them down until the match is read, and run it again"),
    );
    Faults::from(list)
}
