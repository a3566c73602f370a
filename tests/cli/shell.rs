//! Completions and man pages, by the syntax checks of those who read them.

use super::{status, stderr, stdout, thickset};
use std::process::{Command, Stdio};

/// Whether a program is on this machine.
fn is_here(program: &str) -> bool {
    let found = Command::new("which").arg(program).stdout(Stdio::null()).stderr(Stdio::null()).status();
    found.is_ok_and(|status| status.success())
}

#[test]
fn the_completions_of_every_shell_pass_its_own_check() {
    let folder = tempfile::tempdir().expect("a folder");
    // A shell that is not here is told; one is on every machine that this is built on.
    let checks: &[(&str, &[&str])] = &[("bash", &["-n"]), ("zsh", &["-n"]), ("fish", &["--no-execute"])];
    let mut checked = Vec::new();
    for (shell, check) in checks {
        let output = thickset(&format!("completions {shell}"));
        let text = stdout(&output);
        assert_eq!(status(&output), 0, "{shell}: {}", stderr(&output));
        for word in ["advise", "standoff", "load", "plate"] {
            assert!(text.contains(word), "{shell}: {word}");
        }
        if !is_here(shell) {
            eprintln!("not checked: {shell} is not on this machine");
            continue;
        }
        let path = folder.path().join(shell);
        std::fs::write(&path, &text).expect("a file");
        let told = Command::new(shell).args(*check).arg(&path).output().expect("the shell runs");
        assert!(told.status.success() && told.stderr.is_empty(), "{shell}: {}", stderr(&told));
        checked.push(*shell);
    }
    assert!(checked.contains(&"bash"), "{checked:?}");
}

#[test]
fn the_man_pages_render_without_warnings() {
    let folder = tempfile::tempdir().expect("a folder");
    for command in
        ["", "advise", "standoff", "vet", "strike", "course", "chrono", "catalog", "completions", "man", "schema"]
    {
        let output = thickset(&format!("man {command}"));
        let text = stdout(&output);
        assert_eq!(status(&output), 0, "{command}: {}", stderr(&output));
        let title = if command.is_empty() { "thickset".to_owned() } else { format!("thickset-{command}") };
        let head = text.lines().find(|line| line.starts_with(".TH")).unwrap_or_default().replace('\\', "");
        assert!(head.starts_with(&format!(".TH {title} ")), "{head}");
        // A line that begins with a point is a request, and must be one that the macros know.
        let known = [
            ".TH", ".SH", ".TP", ".B", ".I", ".RS", ".RE", ".PP", ".br", ".sp", ".ie", ".el", ".IP", ".nf", ".fi",
            ".BR",
        ];
        for line in text.lines().filter(|line| line.starts_with('.')) {
            let request = line.split(' ').next().unwrap_or_default();
            assert!(known.contains(&request), "{command}: {line}");
        }
        if !is_here("groff") {
            eprintln!("not rendered: groff is not on this machine");
            continue;
        }
        let path = folder.path().join("page.1");
        std::fs::write(&path, &text).expect("a file");
        let told =
            Command::new("groff").args(["-man", "-ww", "-Tutf8", "-Kutf8"]).arg(&path).output().expect("it runs");
        assert!(told.status.success() && told.stderr.is_empty(), "{command}: {}", stderr(&told));
        assert!(stdout(&told).lines().count() > 5, "{command}");
    }
}
