//! The command line: parse, run, exit status.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use thickset::cli::{self, Terminal};

/// The width that the environment asks for, as the help of the program heeds it too.
fn columns() -> Option<usize> {
    std::env::var("COLUMNS").ok()?.parse().ok().filter(|columns| *columns > 0)
}

/// The width of the terminal.
fn size() -> Option<usize> {
    terminal_size::terminal_size().map(|(width, _)| usize::from(width.0))
}

fn main() -> ExitCode {
    let stdout = std::io::stdout();
    let is_terminal = stdout.is_terminal();
    let terminal = Terminal {
        width: columns().or_else(|| is_terminal.then(size).flatten()),
        colour: is_terminal && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()),
        progress: std::io::stderr().is_terminal(),
    };
    let mut out = std::io::BufWriter::new(stdout.lock());
    let mut err = std::io::stderr().lock();
    let status = cli::run_on(terminal, std::env::args_os(), &mut std::io::stdin().lock(), &mut out, &mut err);
    // A reader that went away took what it wanted: the status stays the verdict's.
    let _ = out.flush();
    ExitCode::from(status as u8)
}
