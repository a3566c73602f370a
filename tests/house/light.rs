//! What the library alone and the whole program stand on.

use super::root;
use std::collections::BTreeSet;
use std::process::Command;

/// The names of the crates at run time, our own among them.
fn crates(options: &[&str]) -> BTreeSet<String> {
    let mut tree = Command::new(env!("CARGO"));
    tree.current_dir(root()).args(["tree", "--offline", "--locked", "-e", "normal", "--prefix", "none"]).args(options);
    let output = tree.output().expect("cargo lists its tree");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).expect("names are UTF-8");
    text.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

#[test]
fn the_library_alone_stands_on_few_crates_and_on_none_of_the_program_s() {
    let alone = crates(&["--no-default-features"]);
    assert!((20..=45).contains(&alone.len()), "{}: {alone:?}", alone.len());
    for of_the_program in ["clap", "comfy-table", "maud", "textwrap", "inquire", "rayon", "schemars"] {
        assert!(!alone.contains(of_the_program), "{of_the_program}");
    }
}

#[test]
fn the_whole_program_stands_on_no_more_crates_than_it_needs() {
    let all = crates(&["--all-features"]);
    assert!((60..=105).contains(&all.len()), "{}: {all:?}", all.len());
}
