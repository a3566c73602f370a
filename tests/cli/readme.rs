//! The README's transcripts are what the program prints.
//!
//! A block fenced with ```` ```console ```` holds commands behind `$ ` and their output; `…` on a line of
//! its own stands for lines left out. `thickset` in a command is the binary under test.

use super::{stderr, stdout, thickset};

/// Commands with the output that the README shows for them.
fn transcripts(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for block in text.split("```console\n").skip(1) {
        let block = block.split("```").next().unwrap_or_default();
        for part in block.split("$ ").skip(1) {
            let (command, output) = part.split_once('\n').unwrap_or((part, ""));
            found.push((command.trim().to_owned(), output.trim_end().to_owned()));
        }
    }
    found
}

/// Whether the shown text is the printed one, but for what `…` leaves out.
fn shows(printed: &str, shown: &str) -> bool {
    let mut rest = printed;
    for (index, part) in shown.split("\n…").enumerate() {
        let part = part.trim_matches('\n');
        match rest.find(part) {
            Some(0) => rest = &rest[part.len()..],
            Some(at) if index > 0 => rest = &rest[at + part.len()..],
            _ => return false,
        }
    }
    shown.ends_with('…') || rest.trim().is_empty()
}

#[test]
fn every_transcript_of_the_readme_is_what_the_program_prints() {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("the README");
    let mut compared = 0;
    for (command, shown) in transcripts(&readme) {
        let args = command.strip_prefix("thickset ").unwrap_or_else(|| panic!("not a thickset command: {command}"));
        let output = thickset(args);
        let printed = stdout(&output) + &stderr(&output);
        assert!(shows(printed.trim_end(), &shown), "{command}\n--- printed\n{printed}\n--- shown\n{shown}");
        compared += 1;
    }
    assert!(compared >= 3, "{compared}");
}
