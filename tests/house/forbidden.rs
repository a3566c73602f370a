//! What must not stand in the repository.

use super::{files, root, text};
use std::path::PathBuf;

/// Folders that are searched, and the files beside them.
const FOLDERS: &[&str] = &["src", "tests", "data", "examples"];
const BESIDE: &[&str] = &["README.md", "DEVELOPERS.md", "Cargo.toml"];

fn all() -> Vec<(String, String)> {
    let mut paths: Vec<_> = FOLDERS.iter().flat_map(|f| files(f)).collect();
    paths.extend(BESIDE.iter().map(|f| root().join(f)));
    let this = root().join("tests/house/forbidden.rs");
    paths.retain(|p| *p != this);
    paths.into_iter().map(|p| (p.display().to_string(), text(&p))).collect()
}

#[test]
fn no_path_of_a_machine_no_host_and_nothing_unfinished_stands_in_the_repository() {
    let machine = ["home", "root", "work", "tmp", "Users"].map(|folder| format!("/{folder}/"));
    let unfinished = [["TO", "DO"], ["FIX", "ME"], ["to", "do!("], ["unimple", "mented!("]].map(|parts| parts.concat());
    let hosts = ["http://", "https://", "localhost", "127.0.0.1", "C:\\"].map(str::to_owned);
    let mut found = Vec::new();
    for (path, text) in all() {
        for (number, line) in text.lines().enumerate() {
            // The names of SVG's namespace and of the form of schemas are no hosts that are asked.
            let names = ["http://www.w3.org/2000/svg", "https://json-schema.org/draft/2020-12/schema"];
            let line = names.iter().fold(line.to_owned(), |line, name| line.replace(name, ""));
            let words = machine.iter().chain(&unfinished).chain(&hosts);
            found.extend(words.filter(|w| line.contains(w.as_str())).map(|w| format!("{path}:{}: {w}", number + 1)));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn every_data_file_says_where_its_numbers_come_from() {
    let words = ["source", "memory", "common practice", "derived", "house assumption"];
    // Schemas are made from types, and hold no numbers.
    let is_schema = |path: &PathBuf| path.starts_with(root().join("data/schema"));
    for path in files("data").into_iter().filter(|path| !is_schema(path)) {
        let text = text(&path);
        assert!(words.iter().any(|w| text.contains(w)), "{}", path.display());
    }
}
