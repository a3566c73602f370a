//! The shipped loads. Most questions ask for one of two hundred: each record is read when it is first asked for.

use super::{Entry, entry_of};
use crate::source::{Diagnostic, SourceText};
use std::collections::HashSet;
use std::sync::{LazyLock, OnceLock};
use toml::Spanned;

const TEXT: &str = include_str!("../../data/loads.toml");
/// What each record of the file begins with.
const HEAD: &str = "\n[[load]]\n";

/// A record of the shipped file.
#[derive(Debug)]
pub(super) struct Shipped {
    id: &'static str,
    text: &'static str,
    entry: OnceLock<Option<Entry>>,
}

impl Shipped {
    /// The record of a text; `None` where it has no name in a line of its own.
    fn of(text: &'static str) -> Option<Self> {
        let id = text.lines().find_map(|line| line.strip_prefix("id = \"")?.strip_suffix('"'))?;
        Some(Self { id, text, entry: OnceLock::new() })
    }

    pub(super) fn id(&self) -> &'static str {
        self.id
    }

    /// The load, read now if it was not before. A test holds every record against the file read whole.
    pub(super) fn entry(&self) -> Option<&Entry> {
        let read = || {
            let source = SourceText::new("data/loads.toml", self.text);
            let record = toml::from_str(self.text).ok()?;
            entry_of(&source, None, Spanned::new(0..self.text.len(), record), &mut HashSet::new()).ok()
        };
        self.entry.get_or_init(read).as_ref()
    }
}

static SHIPPED: LazyLock<Option<Vec<Shipped>>> = LazyLock::new(|| TEXT.split(HEAD).skip(1).map(Shipped::of).collect());

/// The shipped records, unread.
pub(super) fn shipped() -> Result<&'static [Shipped], Diagnostic> {
    let fault = || SourceText::new("data/loads.toml", TEXT).fault(0..0, "a load has no line `id = \"…\"`");
    SHIPPED.as_deref().ok_or_else(fault)
}

/// Every shipped load, in the order of the file.
pub(super) fn entries() -> &'static [Entry] {
    static ENTRIES: LazyLock<Vec<Entry>> =
        LazyLock::new(|| SHIPPED.iter().flatten().filter_map(Shipped::entry).cloned().collect());
    &ENTRIES
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{entries_of, file_of};

    #[test]
    fn each_record_read_alone_is_that_of_the_file_read_whole() {
        let source = SourceText::new("data/loads.toml", TEXT);
        let whole = entries_of(&source, None, file_of(&source).unwrap().load).unwrap();
        let ids: Vec<&str> = shipped().unwrap().iter().map(Shipped::id).collect();
        assert_eq!(ids, whole.iter().map(|entry| entry.load.id()).collect::<Vec<_>>());
        assert_eq!(entries().len(), whole.len());
        for (alone, whole) in entries().iter().zip(&whole) {
            assert_eq!(alone.load, whole.load);
            assert_eq!((&alone.basis, &alone.assumed), (&whole.basis, &whole.assumed), "{}", whole.load.id());
        }
    }
}
