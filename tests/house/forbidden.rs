//! What must not stand in the repository.

use super::{files, root, text};

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
            // The name of SVG's namespace is no host that is asked.
            let line = line.replace("http://www.w3.org/2000/svg", "");
            let words = machine.iter().chain(&unfinished).chain(&hosts);
            found.extend(words.filter(|w| line.contains(w.as_str())).map(|w| format!("{path}:{}: {w}", number + 1)));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn every_data_file_says_where_its_numbers_come_from() {
    let words = ["source", "memory", "common practice", "derived", "house assumption"];
    for path in files("data") {
        let text = text(&path);
        assert!(words.iter().any(|w| text.contains(w)), "{}", path.display());
    }
}
