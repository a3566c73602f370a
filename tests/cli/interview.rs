//! `advise --ask`, driven through a terminal: its last line, run again, gives the same answer.

use super::{status, stdout, thickset};
use std::io::Write;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

/// What is typed to each question, enter behind each.
const TYPED: &[&str] = &["308-168-match", "100yd", "", "", "", "", "15deg", "", "20F..90F"];

#[test]
fn what_was_asked_at_a_terminal_ends_with_the_command_that_repeats_it() {
    let binary = env!("CARGO_BIN_EXE_thickset");
    // The system's own terminal recorder gives the program a terminal to ask at.
    let mut child = Command::new("script")
        .args(["-qefc", &format!("{binary} advise --ask"), "/dev/null"])
        .env("TERM", "xterm")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("`script` is there");
    let mut keys = child.stdin.take().expect("a pipe");
    let typist = std::thread::spawn(move || {
        for answer in TYPED {
            sleep(Duration::from_millis(400));
            // A prompt that ended early has closed its terminal: the output tells why.
            let _ = keys.write_all(format!("{answer}\r").as_bytes());
            let _ = keys.flush();
        }
        // Its end would be the terminal's: it stays open until the program has ended.
        keys
    });
    let output = child.wait_with_output().expect("it ends");
    drop(typist.join().expect("all was typed"));
    let text = String::from_utf8_lossy(&output.stdout).replace('\r', "");
    let command =
        text.lines().rev().find(|line| line.starts_with("thickset advise")).unwrap_or_else(|| panic!("{text}"));
    assert!(command.contains("--load 308-168-match@100yd") && command.contains("--tilt 15deg"), "{command}");
    let again = thickset(command.trim_start_matches("thickset "));
    assert_eq!(Some(status(&again)), output.status.code());
    let headline = stdout(&again).lines().next().expect("a headline").to_owned();
    assert!(text.contains(&headline), "{headline}\n{text}");
}

#[test]
fn without_a_terminal_it_says_so() {
    let output = thickset("advise --ask");
    assert_eq!(status(&output), 2);
    assert!(super::stderr(&output).contains("terminal"), "{}", super::stderr(&output));
}
