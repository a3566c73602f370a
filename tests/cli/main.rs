//! The real binary, as people and scripts use it. What is asked in many words, one after the other, is asked [`here`]: a
//! process for each would be most of the time that the tests take.

mod asked_back;
mod called;
mod contradicted;
mod course;
mod course_air;
mod course_beyond;
mod course_fixes;
mod course_heads;
mod course_left_home;
mod course_left_out;
mod course_notes;
mod course_pages;
mod course_ranges;
mod course_signs;
mod course_tables;
mod drawn_notes;
#[path = "../draws.rs"]
mod draws;
mod expected;
mod exported;
mod far_end;
mod faults;
mod handed_out;
mod hanging;
mod heard;
mod hostile;
mod interview;
mod keys;
mod lengths;
mod looked_into;
mod measured;
mod metric;
#[path = "../advisor/misfits.rs"]
mod misfits;
mod misnamed;
mod nearest;
mod no_false_yes;
mod noted;
mod one_check;
mod options;
mod outline;
mod output;
mod overlay;
mod pages;
mod readme;
mod same_answer;
mod schema;
mod shell;
mod shop;
mod standing;
mod unreadable;
mod ways_out;

use std::process::{Command, Output};

/// Runs the binary in the package's folder with words separated by spaces; a word in quotes holds together.
pub(crate) fn thickset(line: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_thickset"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).env_remove("NO_COLOR").env_remove("COLUMNS").args(words(line));
    command.output().expect("the binary runs")
}

/// The program in this process. It is the binary but for what its process adds, which is held beside it in
/// [`same_answer`].
pub(crate) mod here {
    use super::{Output, read_json, words};
    #[cfg(unix)]
    use std::os::unix::process::ExitStatusExt;
    #[cfg(windows)]
    use std::os::windows::process::ExitStatusExt;
    use std::process::ExitStatus;
    use thickset::cli::{self, Status};

    /// Status, standard output and standard error of a command.
    pub(crate) fn run(words: &[String], stdin: &str) -> (Status, String, String) {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let words = std::iter::once("thickset").chain(words.iter().map(String::as_str));
        let status = cli::run(words, &mut stdin.as_bytes(), &mut out, &mut err);
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
        (status, text(out), text(err))
    }

    /// Runs it with words separated by spaces; a word in quotes holds together.
    pub(crate) fn thickset(line: &str) -> Output {
        let (status, stdout, stderr) = run(&words(line), "");
        // Unix has the code above the signal.
        let status = if cfg!(unix) { (status as u16) << 8 } else { status as u16 };
        Output { status: ExitStatus::from_raw(status.into()), stdout: stdout.into_bytes(), stderr: stderr.into_bytes() }
    }

    /// The JSON document on standard output.
    pub(crate) fn json(line: &str) -> serde_json::Value {
        read_json(line, &thickset(&format!("{line} --format json")))
    }
}

/// Standard output as text.
pub(crate) fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("output is UTF-8")
}

/// Standard error as text.
pub(crate) fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("output is UTF-8")
}

/// The exit status.
pub(crate) fn status(output: &Output) -> i32 {
    output.status.code().expect("the program was not killed")
}

/// The JSON document on standard output.
pub(crate) fn json(line: &str) -> serde_json::Value {
    read_json(line, &thickset(&format!("{line} --format json")))
}

fn read_json(line: &str, output: &Output) -> serde_json::Value {
    serde_json::from_str(&stdout(output)).unwrap_or_else(|e| panic!("{line}: {e}\n{}", stderr(output)))
}

pub(crate) fn words(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (index, part) in line.split('"').enumerate() {
        if index % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}
