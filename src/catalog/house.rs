//! The shipped loads. Most questions ask for one of two hundred: each record is read when it is first asked for.

use super::described::Described;
use super::{Cartridge, Entry, GIVEN};
use crate::source::{Diagnostic, SourceText};
use std::sync::{Arc, LazyLock, OnceLock};

const TEXT: &str = include_str!("../../data/loads.toml");
/// What each record of the file begins with.
const HEAD: &str = "\n[[load]]\n";

/// A record of the shipped file.
#[derive(Debug)]
pub(super) struct Shipped {
    id: &'static str,
    cartridge: &'static str,
    text: &'static str,
    entry: OnceLock<Option<Entry>>,
}

impl Shipped {
    /// The record of a text; `None` where it has no name or no cartridge in a line of its own.
    fn of(text: &'static str) -> Option<Self> {
        let line = |key: &str| text.lines().find_map(|line| line.strip_prefix(key)?.strip_suffix('"'));
        Some(Self { id: line("id = \"")?, cartridge: line("cartridge = \"")?, text, entry: OnceLock::new() })
    }

    pub(super) fn id(&self) -> &'static str {
        self.id
    }

    pub(super) fn cartridge(&self) -> &'static str {
        self.cartridge
    }

    /// The load, read now if it was not before. A test holds every record against the file read whole and checked.
    pub(super) fn entry(&self) -> Option<&Entry> {
        let read = || {
            let record: Described = toml::from_str(self.text).ok()?;
            let built = record.load(self.id, None).ok()?;
            let basis = record.basis.unwrap_or_else(|| GIVEN.into());
            Some(Entry { load: Arc::new(built.load), basis, assumed: built.assumed })
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

/// The shipped loads of a cartridge.
pub(super) fn of_cartridge(cartridge: &Cartridge) -> impl Iterator<Item = &'static Entry> {
    let is_of = |record: &&Shipped| Cartridge::called(record.cartridge).is_some_and(|c| c.name() == cartridge.name());
    SHIPPED.iter().flatten().filter(is_of).filter_map(Shipped::entry)
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
        for ((alone, whole), record) in entries().iter().zip(&whole).zip(shipped().unwrap()) {
            assert_eq!(alone.load, whole.load);
            assert_eq!((&alone.basis, &alone.assumed), (&whole.basis, &whole.assumed), "{}", whole.load.id());
            assert_eq!(Some(record.cartridge()), whole.load.facts().cartridge.as_deref());
        }
    }
}
