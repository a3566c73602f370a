//! The command line: parse, run, exit status.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;
use thickset::cli::{self, Terminal};

fn main() -> ExitCode {
    let stdout = std::io::stdout();
    let is_terminal = stdout.is_terminal();
    let terminal = Terminal {
        width: if is_terminal { terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)) } else { None },
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
