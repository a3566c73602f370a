//! Dependencies between rooms point one way.

use super::{files, root, text};
use std::path::Path;

/// The rooms from the ground up: one may use those before it.
const ORDER: &[&str] = &[
    "quantity", "numeric", "order", "words", "source", "threads", "flat", "drag", "air", "flight", "load", "strike",
    "spread", "chrono", "outline", "plate", "reaction", "shop", "rules", "vet", "standoff", "catalog", "course",
    "advisor", "report", "cli",
];

/// The roots of the three packages and of the program.
const ROOTS: &[&str] = &["base", "domain", "lib", "main"];

fn room(path: &Path) -> Option<String> {
    path.extension().filter(|extension| *extension == "rs")?;
    let below = path.strip_prefix(root().join("src")).ok()?;
    let first = below.components().next()?.as_os_str().to_str()?;
    Some(first.trim_end_matches(".rs").to_owned())
}

fn place(room: &str) -> Option<usize> {
    ORDER.iter().position(|r| *r == room)
}

/// The code of a text, doc comments and tests aside, on one line.
fn code(text: &str) -> String {
    let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
    let lines = code.lines().map(str::trim).filter(|line| !line.starts_with("//"));
    lines.collect::<Vec<_>>().join(" ")
}

/// The names that stand behind a path's beginning: `crate::a::B`, and each of `crate::{a::B, c}`.
fn behind(code: &str, beginning: &str) -> Vec<String> {
    let mut names = Vec::new();
    for after in code.split(beginning).skip(1) {
        match after.strip_prefix('{') {
            Some(inside) => names.extend(in_braces(inside)),
            None => names.push(word(after)),
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

fn word(text: &str) -> String {
    text.trim_start().chars().take_while(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || *c == '_').collect()
}

/// The first name of each path in braces, up to the brace that closes them.
fn in_braces(inside: &str) -> Vec<String> {
    let (mut depth, mut names) = (0, vec![word(inside)]);
    for (at, c) in inside.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(word(&inside[at + 1..])),
            _ => {}
        }
    }
    names
}

/// The rooms that a text uses.
fn used(text: &str) -> Vec<String> {
    behind(&code(text), "crate::")
}

#[test]
fn a_room_uses_only_the_rooms_before_it() {
    let mut looked_at = 0;
    for path in files("src") {
        // Tests may look anywhere.
        if path.ends_with("tests.rs") {
            continue;
        }
        let Some(room) = room(&path).filter(|r| !ROOTS.contains(&r.as_str())) else { continue };
        let own = place(&room).unwrap_or_else(|| panic!("`{room}` is not in the order of rooms"));
        for used in used(&text(&path)) {
            let other = place(&used).unwrap_or_else(|| panic!("{}: `crate::{used}` is no room", path.display()));
            assert!(other <= own, "{}: `{room}` stands before `{used}` and uses it", path.display());
            looked_at += 1;
        }
    }
    assert!(looked_at > 50, "the uses were not found: {looked_at}");
}

/// The file of a module that stands in a folder.
fn module(folder: &Path, name: &str) -> Option<std::path::PathBuf> {
    [folder.join(format!("{name}.rs")), folder.join(name).join("mod.rs")].into_iter().find(|path| path.is_file())
}

/// The files beside a file that it uses. What is in `mod.rs` is the face of its folder, and anybody's.
fn neighbours(path: &Path) -> Vec<std::path::PathBuf> {
    let (Some(folder), src) = (path.parent(), root().join("src")) else { return Vec::new() };
    let code = code(&text(path));
    let mut names = behind(&code, "super::");
    if let Ok(below) = folder.strip_prefix(&src) {
        let parts: Vec<String> = below.iter().map(|part| part.display().to_string()).collect();
        let own = parts.join("::") + if parts.is_empty() { "" } else { "::" };
        names.extend(behind(&code, &format!("crate::{own}")));
    }
    names.iter().filter_map(|name| module(folder, name)).filter(|other| other != path).collect()
}

#[test]
fn no_two_files_of_a_room_import_each_other() {
    let paths: Vec<_> =
        files("src").into_iter().filter(|p| !p.ends_with("mod.rs") && !p.ends_with("tests.rs")).collect();
    let below = |path: &Path| path.strip_prefix(root().join("src")).expect("in src").display().to_string();
    let (mut found, mut looked_at) = (Vec::new(), 0);
    for path in paths.iter().filter(|path| path.parent() != Some(&root().join("src"))) {
        for other in neighbours(path) {
            looked_at += 1;
            if path < &other && neighbours(&other).contains(path) {
                found.push((below(path), below(&other)));
            }
        }
    }
    found.sort();
    found.dedup();
    assert!(found.is_empty(), "files that import each other: {found:?}");
    assert!(looked_at > 30, "the uses were not found: {looked_at}");
}

#[test]
fn uses_in_braces_are_seen() {
    let found = behind("use crate::{load::Load, rules::{Rule, judge}, air}; let a = crate::drag::g1();", "crate::");
    assert_eq!(found, ["load", "rules", "air", "drag"]);
}

#[test]
fn each_package_is_the_rooms_between_the_one_below_it_and_the_one_above() {
    let rooms = |text: &str| -> Vec<String> {
        let modules = text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
        modules.map(str::to_owned).collect()
    };
    let sorted = |rooms: &[&str]| {
        let mut rooms: Vec<String> = rooms.iter().map(|room| (*room).to_owned()).collect();
        rooms.sort_unstable();
        rooms
    };
    let (load, advisor) = (place("load").expect("a room"), place("advisor").expect("a room"));
    for (root_file, own) in [("base", 0..load), ("domain", load..advisor), ("lib", advisor..ORDER.len())] {
        assert_eq!(rooms(&text(&root().join(format!("src/{root_file}.rs")))), sorted(&ORDER[own]), "{root_file}");
    }
}

#[test]
fn every_room_in_the_order_is_there() {
    for room in ORDER {
        let src = root().join("src");
        assert!(src.join(format!("{room}.rs")).is_file() || src.join(room).is_dir(), "{room}");
    }
}

#[test]
fn a_room_file_is_not_crowded() {
    for path in files("src") {
        let lines = text(&path).lines().count();
        assert!(lines <= 560, "{}: {lines} lines", path.display());
    }
}
