//! Dependencies between rooms point one way.

use super::{files, root, text};
use std::path::Path;

/// The rooms from the ground up: one may use those before it.
const ORDER: &[&str] = &[
    "quantity", "words", "source", "threads", "drag", "air", "load", "flight", "strike", "spread", "chrono", "outline",
    "plate", "reaction", "shop", "rules", "vet", "advice", "standoff", "catalog", "inquiry", "course", "advisor",
    "report", "cli",
];

fn room(path: &Path) -> Option<String> {
    let below = path.strip_prefix(root().join("src")).ok()?;
    let first = below.components().next()?.as_os_str().to_str()?;
    Some(first.trim_end_matches(".rs").to_owned())
}

fn place(room: &str) -> Option<usize> {
    ORDER.iter().position(|r| *r == room)
}

/// The rooms named behind `crate::` in a text, doc comments and tests aside.
fn used(text: &str) -> Vec<String> {
    let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
    let mut rooms = Vec::new();
    for line in code.lines().filter(|l| !l.trim_start().starts_with("//")) {
        for after in line.split("crate::").skip(1) {
            let word: String = after.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
            if !word.is_empty() {
                rooms.push(word);
            }
        }
    }
    rooms
}

#[test]
fn a_room_uses_only_the_rooms_before_it() {
    let mut looked_at = 0;
    for path in files("src") {
        // Tests may look anywhere.
        if path.ends_with("tests.rs") {
            continue;
        }
        let Some(room) = room(&path).filter(|r| r != "lib" && r != "main") else { continue };
        let own = place(&room).unwrap_or_else(|| panic!("`{room}` is not in the order of rooms"));
        for used in used(&text(&path)) {
            let other = place(&used).unwrap_or_else(|| panic!("{}: `crate::{used}` is no room", path.display()));
            assert!(other <= own, "{}: `{room}` stands before `{used}` and uses it", path.display());
            looked_at += 1;
        }
    }
    assert!(looked_at > 50, "the uses were not found: {looked_at}");
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
