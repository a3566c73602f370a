//! `thickset completions` and `thickset man`: what a shell and a manual reader need.

use super::parse::program;
use clap_complete::Shell;
use std::io;

/// What a shell needs to complete commands and options.
pub(super) fn completions(shell: &str) -> Vec<u8> {
    let mut text = Vec::new();
    if let Ok(shell) = shell.parse::<Shell>() {
        clap_complete::generate(shell, &mut program(None), "thickset", &mut text);
    }
    text
}

/// The manual page of the program, or of a command.
pub(super) fn manual(verb: Option<&str>) -> io::Result<Vec<u8>> {
    let mut program = program(None);
    program.build();
    let (page, title) = match verb.and_then(|verb| program.find_subcommand(verb)) {
        Some(command) => {
            let title = format!("thickset-{}", command.get_name());
            (command.clone().display_name(title.clone()), title)
        }
        None => (program, "thickset".into()),
    };
    let mut text = Vec::new();
    clap_mangen::Man::new(page).title(title).render(&mut text)?;
    Ok(text)
}
