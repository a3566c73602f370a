//! The loads built in, and the user's own.

mod barrel;
mod described;

pub use barrel::{BarrelError, moved_to_barrel};
pub use described::{BuildError, Built, Coefficients, Described, DescriptionError, Model, render_load};

use crate::load::Load;
use crate::source::{Diagnostic, SourceText, nearest};
use serde::Deserialize;
use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::path::Path;
use std::sync::{Arc, LazyLock};
use thiserror::Error;
use toml::Spanned;

/// The schema a file of loads states.
pub const SCHEMA: &str = "thickset/loads/1";
/// The most loads of one file.
pub const MOST_LOADS: usize = 10_000;

/// A load with where it comes from.
#[derive(Debug, Clone)]
pub struct Entry {
    /// The load.
    pub load: Arc<Load>,
    /// How well its values are founded.
    pub basis: String,
    /// What was assumed to make it a load.
    pub assumed: Vec<String>,
}

/// Loads by name, in the order of their files.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    entries: Vec<Entry>,
    by_id: HashMap<String, usize>,
}

/// A load that is not there. [`CatalogError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CatalogError {
    /// No load has this name.
    #[error("there is no load `{name}`")]
    NoLoad {
        /// What was asked for.
        name: String,
        /// The names that would do, as far as they are worth listing.
        help: String,
    },
    /// No load is of this cartridge.
    #[error("there is no load of the cartridge `{name}`")]
    NoCartridge {
        /// What was asked for.
        name: String,
        /// The names that would do, as far as they are worth listing.
        help: String,
    },
}

impl CatalogError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> &str {
        match self {
            Self::NoLoad { help, .. } | Self::NoCartridge { help, .. } => help,
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    #[serde(default)]
    load: Vec<Spanned<Described>>,
}

static BUILTIN: LazyLock<Result<Catalog, Diagnostic>> = LazyLock::new(|| {
    let mut catalog = Catalog::default();
    catalog.add(&SourceText::new("data/loads.toml", include_str!("../../data/loads.toml")), None)?;
    Ok(catalog)
});

impl Catalog {
    /// The shipped loads.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn builtin() -> Result<Self, Diagnostic> {
        BUILTIN.clone()
    }

    /// Adds the loads of a file; one with a name that is there already takes its place. A drag table's
    /// path is looked for beside the file.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn add_file(&mut self, path: &Path) -> Result<(), Diagnostic> {
        self.add(&SourceText::read(path)?, path.parent())
    }

    /// Adds the loads of a text.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn add(&mut self, source: &SourceText, folder: Option<&Path>) -> Result<(), Diagnostic> {
        let file: File = toml::from_str(&source.text).map_err(|e| source.toml_fault(&e))?;
        if file.schema.get_ref() != SCHEMA {
            let message = format!("schema `{}` is not one of loads", file.schema.get_ref());
            return Err(source.fault(file.schema.span(), message).help(format!("write `schema = \"{SCHEMA}\"`")));
        }
        if file.load.is_empty() {
            return Err(source.fault(file.schema.span(), "there is no load in this file").help("add a `[[load]]`"));
        }
        self.add_records(source, folder, file.load)
    }

    /// Adds records of a larger file, a match or an inquiry.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub(crate) fn add_records(
        &mut self,
        source: &SourceText,
        folder: Option<&Path>,
        records: Vec<Spanned<Described>>,
    ) -> Result<(), Diagnostic> {
        if records.len() > MOST_LOADS {
            let message = format!("{} loads in one file", records.len());
            return Err(Diagnostic::plain(message).help(format!("a file may hold {MOST_LOADS} at most: split it")));
        }
        let mut seen = HashSet::new();
        for record in records {
            let span = record.span();
            let record = record.into_inner();
            let Some(id) = record.id.clone().filter(|id| !id.trim().is_empty()) else {
                return Err(source
                    .fault(span, "the load has no `id`")
                    .help("name it, for instance `id = \"308-175\"`"));
            };
            if id.contains('@') {
                let place = key_span(source, &span, "id");
                return Err(source
                    .fault(place, format!("`{id}` has an `@`"))
                    .help("`@` sets a distance off a load's name: leave it out"));
            }
            if !seen.insert(id.clone()) {
                let place = key_span(source, &span, "id");
                return Err(source
                    .fault(place, format!("load `{id}` stands twice"))
                    .help("give each load a name of its own"));
            }
            let built = record.build(&id, folder).map_err(|error| match error {
                BuildError::File(diagnostic) => diagnostic,
                BuildError::Description(e) => source.fault(key_span(source, &span, e.key), e.message).help(e.help),
            })?;
            let basis = record.basis.unwrap_or_else(|| "given".into());
            self.put(Entry { load: Arc::new(built.load), basis, assumed: built.assumed });
        }
        Ok(())
    }

    fn put(&mut self, entry: Entry) {
        let id = entry.load.id().to_owned();
        if let Some(&index) = self.by_id.get(&id) {
            self.entries[index] = entry;
        } else {
            self.by_id.insert(id, self.entries.len());
            self.entries.push(entry);
        }
    }

    /// Every load, in the order of the files.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The load of a name.
    ///
    /// # Errors
    /// [`CatalogError::NoLoad`] with the nearest name.
    pub fn load(&self, name: &str) -> Result<&Entry, CatalogError> {
        self.by_id.get(name).and_then(|&index| self.entries.get(index)).ok_or_else(|| CatalogError::NoLoad {
            name: name.into(),
            help: self.hint(name, self.entries.iter().map(|e| e.load.id())),
        })
    }

    /// Every load of a cartridge: any ammunition of it. `.308 Win`, `308win` and `308` are the same.
    ///
    /// # Errors
    /// [`CatalogError::NoCartridge`] where none is of it, or the name fits several.
    pub fn family(&self, cartridge: &str) -> Result<Vec<&Entry>, CatalogError> {
        let asked = plain(cartridge);
        let names: Vec<&str> = self.cartridges();
        let whole = names.iter().copied().filter(|n| plain(n) == asked);
        let begun = names.iter().copied().filter(|n| !asked.is_empty() && plain(n).starts_with(&asked));
        let found = whole.clone().chain(begun.clone());
        let fault = |help| CatalogError::NoCartridge { name: cartridge.into(), help };
        let unique = whole.clone().count() == 1 || begun.clone().count() == 1;
        match found.clone().next() {
            Some(name) if unique => {
                Ok(self.entries.iter().filter(|e| e.load.facts().cartridge.as_deref() == Some(name)).collect())
            }
            Some(_) => Err(fault(format!("it could be {}", begun.collect::<Vec<_>>().join(", ")))),
            None => Err(fault(self.hint(cartridge, names.iter().copied()))),
        }
    }

    /// The cartridges there are loads of, each once.
    #[must_use]
    pub fn cartridges(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for name in self.entries.iter().filter_map(|e| e.load.facts().cartridge.as_deref()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    fn hint<'a>(&self, word: &str, names: impl Iterator<Item = &'a str> + Clone) -> String {
        let nearest = nearest(word, names.clone()).map(|n| format!("did you mean `{n}`? "));
        let list = if self.entries.len() <= 10 {
            format!("there are: {}", names.collect::<Vec<_>>().join(", "))
        } else {
            "`thickset catalog loads` lists them".into()
        };
        nearest.unwrap_or_default() + &list
    }
}

/// Letters and digits only, lower case.
fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// The span of a key's line in the record that begins at `record`; the record's own where the key is not there.
pub(crate) fn key_span(source: &SourceText, record: &Range<usize>, key: &str) -> Range<usize> {
    let start = record.start.min(source.text.len());
    let mut offset = start;
    for (number, line) in source.text.get(start..).unwrap_or_default().split_inclusive('\n').enumerate() {
        let text = line.trim();
        if number > 0 && text.starts_with('[') {
            break;
        }
        let is_key = text.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='));
        if is_key {
            let lead = line.len() - line.trim_start().len();
            return offset + lead..offset + line.trim_end().len();
        }
        offset += line.len();
    }
    record.clone()
}

#[cfg(test)]
mod tests;
