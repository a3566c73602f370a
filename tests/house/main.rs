//! The house keeps its own order: rooms, data, help, and what must not stand in the repository.

mod data;
mod forbidden;
mod light;
mod rooms;

use std::fs;
use std::path::{Path, PathBuf};

/// The package's folder.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder of the package, in order.
pub(crate) fn files(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the package") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// A file's text; empty for one that is not text.
pub(crate) fn text(path: &Path) -> String {
    String::from_utf8(fs::read(path).expect("a file of the package")).unwrap_or_default()
}
