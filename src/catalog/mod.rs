//! The loads built in, and the user's own.

mod barrel;
mod called;
mod cartridge;
mod described;
mod find;
mod form;
mod house;
mod measured;
mod mention;
mod place;
mod print;
mod reach;
mod resolve;
mod saying;
mod several;
mod slow;
mod spelling;

pub use barrel::{BarrelError, moved_to_barrel};
pub use called::{is_called_otherwise, is_load_of, is_stronger_than};
pub use cartridge::{CARTRIDGES_SCHEMA, Cartridge};
use described::BandRecord;
pub use described::{BuildError, Built, Coefficients, Described, DescriptionError, Model};
pub use find::AnyOf;
use house::Shipped;
pub use measured::measured;
pub use mention::Mention;
pub(crate) use place::key_span;
pub use print::render_load;
pub use reach::Envelope;
pub use resolve::{Beside, Resolver};
pub use slow::AS_WRITTEN;

use crate::load::{Construction, Load};
use crate::source::{Diagnostic, Keys, SourceText, is_unsafe_char, nearest};
use serde::Deserialize;
use std::collections::{HashMap, HashSet};
use std::sync::{Arc, OnceLock};
use thiserror::Error;
use toml::Spanned;

/// The schema a file of loads states.
pub const SCHEMA: &str = "thickset/loads/1";
/// The most loads of one file.
pub const MAX_LOADS: usize = 10_000;
/// Where what was not said of its source comes from.
const GIVEN: &str = "given";
/// The most names that a hint lists.
const MAX_LISTED: usize = 10;

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

/// Loads by name, in the order of their files: the shipped ones, read as they are asked for, and those that were added.
#[derive(Debug, Clone, Default)]
pub struct Catalog {
    shipped: &'static [Shipped],
    added: Vec<Entry>,
    by_id: HashMap<String, usize>,
    /// Those of the added that stand in no shipped one's place.
    own: Vec<usize>,
    redefined: Vec<String>,
    all: OnceLock<Vec<Entry>>,
}

/// A load in its place.
#[derive(Clone, Copy)]
enum Listed<'c> {
    Shipped(&'static Shipped),
    Added(&'c Entry),
}

impl<'c> Listed<'c> {
    fn cartridge(self) -> Option<&'c str> {
        match self {
            Self::Shipped(shipped) => Some(shipped.cartridge()),
            Self::Added(entry) => entry.load.facts().cartridge.as_deref(),
        }
    }

    fn entry(self) -> Option<&'c Entry> {
        match self {
            Self::Shipped(shipped) => shipped.entry(),
            Self::Added(entry) => Some(entry),
        }
    }
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
    /// Several cartridges go by this name.
    #[error("`{name}` may be several cartridges")]
    Several {
        /// What was asked for.
        name: String,
        /// Which they are.
        help: String,
    },
}

impl CatalogError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> &str {
        match self {
            Self::NoLoad { help, .. } | Self::NoCartridge { help, .. } | Self::Several { help, .. } => help,
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

/// The keys of a file of loads.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![Keys::of::<File>(""), Keys::of::<Described>("[[load]]"), Keys::of::<BandRecord>("bc = [..]")]
}

impl Catalog {
    /// The shipped loads.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn builtin() -> Result<Self, Diagnostic> {
        Ok(Self { shipped: house::shipped()?, ..Self::default() })
    }

    /// Adds the loads of a text; one with the name of a load built in takes its place. What the text refers to is
    /// opened by the resolver, and refused without one. Returns the names that were there already.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn add(&mut self, source: &SourceText, resolver: Option<&dyn Resolver>) -> Result<Vec<String>, Diagnostic> {
        self.add_records(source, resolver, file_of(source)?.load)
    }

    /// Adds records of a larger file, a match or an inquiry: all of them, or none where one is at fault.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub(crate) fn add_records(
        &mut self,
        source: &SourceText,
        resolver: Option<&dyn Resolver>,
        records: Vec<Spanned<Described>>,
    ) -> Result<Vec<String>, Diagnostic> {
        let spans: Vec<_> = records.iter().map(Spanned::span).collect();
        let mut entries = entries_of(source, resolver, records)?;
        for (entry, span) in entries.iter_mut().zip(&spans) {
            entry.load = Arc::new(known_of_cartridge(Load::clone(&entry.load)));
            self.refuse_other_of_its_name(source, span, &entry.load)?;
        }
        let redefined: Vec<String> = entries.into_iter().filter_map(|entry| self.put(entry)).collect();
        self.redefined.extend(redefined.iter().cloned());
        Ok(redefined)
    }

    /// The names that were there already when a load of that name was added and took its place.
    #[must_use]
    pub fn redefined(&self) -> &[String] {
        &self.redefined
    }

    /// Two loads of one's own under one name: whichever counted, the other would be dropped in silence.
    fn refuse_other_of_its_name(
        &self,
        source: &SourceText,
        span: &std::ops::Range<usize>,
        load: &Load,
    ) -> Result<(), Diagnostic> {
        let id = load.id();
        let known = self.by_id.get(id).map(|&index| &self.added[index].load);
        if known.is_none_or(|known| **known == *load) {
            return Ok(());
        }
        let fault =
            source.fault(key_span(source, span, "id"), format!("another file gives a load `{id}` that differs"));
        Err(fault.help("give one of the two a name of its own, or leave it out"))
    }

    /// Puts an entry at its name; the name where one was there.
    fn put(&mut self, entry: Entry) -> Option<String> {
        self.all = OnceLock::new();
        let id = entry.load.id().to_owned();
        if let Some(&index) = self.by_id.get(&id) {
            self.added[index] = entry;
            return Some(id);
        }
        let replaces = self.shipped.iter().any(|shipped| shipped.id() == id);
        self.by_id.insert(id.clone(), self.added.len());
        if !replaces {
            self.own.push(self.added.len());
        }
        self.added.push(entry);
        replaces.then_some(id)
    }

    /// Every load, in the order of the files; one that took the place of a shipped one stands there.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        if self.added.is_empty() && !self.shipped.is_empty() {
            return house::entries();
        }
        self.all.get_or_init(|| self.listed().filter_map(Listed::entry).cloned().collect())
    }

    /// Every load in the order of the files, read or not.
    fn listed(&self) -> impl Iterator<Item = Listed<'_>> {
        let shipped = |shipped| self.of_added(Shipped::id(shipped)).map_or(Listed::Shipped(shipped), Listed::Added);
        self.shipped.iter().map(shipped).chain(self.own.iter().map(|&index| Listed::Added(&self.added[index])))
    }

    /// Every load there is, those whose place another took among them.
    fn every(&self) -> impl Iterator<Item = Listed<'_>> {
        let is_replaced = |shipped: &&Shipped| self.by_id.contains_key(shipped.id());
        self.listed().chain(self.shipped.iter().filter(is_replaced).map(Listed::Shipped))
    }

    /// Every load there is, those whose place another took among them.
    pub(crate) fn known(&self) -> impl Iterator<Item = &Entry> {
        self.every().filter_map(Listed::entry)
    }

    fn of_added(&self, name: &str) -> Option<&Entry> {
        self.by_id.get(name).and_then(|&index| self.added.get(index))
    }

    /// The load of a name.
    ///
    /// # Errors
    /// [`CatalogError::NoLoad`] with the nearest name.
    pub fn load(&self, name: &str) -> Result<&Entry, CatalogError> {
        self.found(name).ok_or_else(|| CatalogError::NoLoad { name: name.into(), help: self.meant(name) })
    }

    fn found(&self, name: &str) -> Option<&Entry> {
        let shipped = || self.shipped.iter().find(|shipped| shipped.id() == name)?.entry();
        self.of_added(name).or_else(shipped)
    }

    /// Whether a load has this name.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.of_added(name).is_some() || self.shipped.iter().any(|shipped| shipped.id() == name)
    }

    /// What was meant by a name that no load has: the one that people call so, those that begin so, or the nearest.
    fn meant(&self, name: &str) -> String {
        let names: Vec<&str> = self.entries().iter().map(|e| e.load.id()).collect();
        let called = |entry: &&Entry| entry.load.facts().name.eq_ignore_ascii_case(name.trim());
        if let Some(entry) = self.entries().iter().find(called) {
            return format!("write its name in the list, `{}`", entry.load.id());
        }
        let begun: Vec<&str> =
            names.iter().copied().filter(|id| id.starts_with(&name.trim().to_ascii_lowercase())).collect();
        match begun.len() {
            1..=MAX_LISTED => format!("names that begin so: {}", begun.join(", ")),
            _ => match likely(name, &names) {
                None if names.len() > MAX_LISTED => self.of_any(name).unwrap_or_default() + &hint(None, &names),
                near => hint(near, &names),
            },
        }
    }

    /// How any ammunition is asked, where a name that no load has is a cartridge's: of `308 win`, and of `9mm +P`.
    fn of_any(&self, name: &str) -> Option<String> {
        let lower = name.to_lowercase();
        let plain = lower.replace("+p+", " ").replace("+p", " ");
        match self.cartridge(plain.trim()) {
            Ok(cartridge) => {
                Some(format!("that is a cartridge: for any of its ammunition write `--any \"{}\"`; ", cartridge.name()))
            }
            Err(CatalogError::Several { help, .. }) => {
                Some(format!("that is a cartridge's: ask any ammunition of one by `--any`, {help}; "))
            }
            Err(_) => None,
        }
    }
}

/// The name that was likely meant: written otherwise, with more behind it, or the nearest of those with its numbers. One
/// of more pressure is none without.
fn likely<'n>(name: &str, names: &[&'n str]) -> Option<&'n str> {
    let asked = name.to_lowercase().replace("+p", " plusp").replace("plusp+", "pluspplus");
    let parts = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty()).map(str::to_owned).collect()
    };
    let own = parts(&asked);
    if let Some(same) = names.iter().find(|id| parts(id) == own) {
        return Some(same);
    }
    let pressure = |parts: &[String]| parts.iter().any(|part| part.contains("plusp"));
    let would_do: Vec<&str> = names.iter().copied().filter(|id| pressure(&parts(id)) == pressure(&own)).collect();
    // `223-77-match` of `223-77`; a hot one is another load.
    let says_no_more = |part: &String| ["match", "ball", "load", "gr", "grain", "grains"].contains(&part.as_str());
    let begins = |id: &&&str| {
        let known = parts(id);
        known.len() > 1 && own.starts_with(&known) && own[known.len()..].iter().all(says_no_more)
    };
    if let Some(begun) = would_do.iter().filter(begins).max_by_key(|id| id.len()) {
        return Some(begun);
    }
    let numbers = |parts: &[String]| -> Vec<String> {
        parts.iter().filter(|part| part.contains(|c: char| c.is_ascii_digit())).cloned().collect()
    };
    let alike = would_do.iter().copied().filter(|id| numbers(&parts(id)) == numbers(&own));
    let kin = would_do.iter().copied().filter(|id| parts(id).first() == own.first());
    nearest(name, alike).or_else(|| nearest(name, kin)).or_else(|| {
        // A slip in the numbers themselves leaves most of the letters.
        if numbers(&own).len() > 1 { None } else { nearest(name, would_do.iter().copied()) }
    })
}

/// The name that was likely meant, and those there are as far as they are worth listing.
fn hint(near: Option<&str>, names: &[&str]) -> String {
    if names.is_empty() {
        return "there is none at all: give a file that has some".into();
    }
    let list = if names.len() <= MAX_LISTED {
        format!("there are: {}", names.join(", "))
    } else {
        "`thickset catalog loads` lists them".into()
    };
    near.map(|name| format!("did you mean `{name}`? ")).unwrap_or_default() + &list
}

fn file_of(source: &SourceText) -> Result<File, Diagnostic> {
    let file: File = source.toml_of("loads", SCHEMA, |file: &File| &file.schema)?;
    if file.load.is_empty() {
        return Err(source.fault(file.schema.span(), "there is no load in this file").help("add a `[[load]]`"));
    }
    Ok(file)
}

/// The loads of the records: all of them, or the fault of the first that can't be.
fn entries_of(
    source: &SourceText,
    resolver: Option<&dyn Resolver>,
    records: Vec<Spanned<Described>>,
) -> Result<Vec<Entry>, Diagnostic> {
    if let Some(beyond) = records.get(MAX_LOADS) {
        let message = format!("{} loads in one file", records.len());
        let help = format!("a file may hold {MAX_LOADS} at most: split it");
        return Err(source.fault(beyond.span(), message).help(help));
    }
    let mut seen = HashSet::new();
    records.into_iter().map(|record| entry_of(source, resolver, record, &mut seen)).collect()
}

/// What is known of the cartridge holds for a load of it that is not listed, which rarely says so: that steel jackets
/// or cores are common, and, of a load whose construction is not known, that its kind often has a core of steel. Where
/// its cartridge was not said, one that its name names counts. Of a cartridge that is spelled as none is, nothing is
/// known, and it is marked so.
#[must_use]
pub fn known_of_cartridge(load: Load) -> Load {
    let cartridges = match (&load.facts().cartridge, Cartridge::of(&load)) {
        (_, Some(cartridge)) => vec![cartridge],
        (Some(_), None) => return load.with(|facts| facts.cartridge_unlisted = true).unwrap_or(load),
        (None, None) => Cartridge::named_in(&load.facts().name),
    };
    let core = |cartridge: &&'static Arc<Cartridge>| {
        house::of_cartridge(cartridge).any(|entry| entry.load.facts().steel_core_common)
    };
    let core = load.facts().construction == Construction::Unknown && cartridges.iter().any(core);
    let marked = load.with(|facts| {
        facts.cartridge_unlisted = false;
        facts.steel_common |= cartridges.iter().any(|cartridge| cartridge.is_steel_common());
        facts.steel_core_common |= core;
    });
    marked.unwrap_or(load)
}

/// What keeps a name from being asked for by, as `NAME` or `NAME@DISTANCE`, and what to write.
fn id_fault(id: &str) -> Option<(&'static str, &'static str)> {
    if id.contains('@') {
        return Some(("has an `@`", "`@` sets a distance off a load's name: leave it out"));
    }
    if id.contains(char::is_whitespace) {
        return Some(("has a space in it", "join the words with `-`"));
    }
    if id.contains(is_unsafe_char) {
        return Some(("has a character that can't be seen", "write letters, digits and `-`"));
    }
    if id.starts_with('-') {
        return Some(("begins with `-`, as an option does", "begin it with a letter or a digit"));
    }
    None
}

/// The load of one record; `seen` holds the names of those before it in the file.
fn entry_of(
    source: &SourceText,
    resolver: Option<&dyn Resolver>,
    record: Spanned<Described>,
    seen: &mut HashSet<String>,
) -> Result<Entry, Diagnostic> {
    let span = record.span();
    let record = record.into_inner();
    let at = |key: &str, message: String| source.fault(key_span(source, &span, key), message);
    let Some(id) = record.id.clone().filter(|id| !id.trim().is_empty()) else {
        return Err(at("id", "the load has no `id`".into()).help("name it, for instance `id = \"308-175\"`"));
    };
    if let Some((what, help)) = id_fault(&id) {
        return Err(at("id", format!("`{}` {what}", id.escape_debug())).help(help));
    }
    if !seen.insert(id.clone()) {
        return Err(at("id", format!("load `{id}` stands twice")).help("give each load a name of its own"));
    }
    let built = record.build(&id, resolver).map_err(|error| match error {
        BuildError::File(fault) if fault.place.is_some() => fault,
        // The file it names can't be read: the name is what a person can mend.
        BuildError::File(fault) => at("drag-table", fault.message).help(fault.help.unwrap_or_default()),
        BuildError::Description(e) => at(e.key, e.message).help(e.help),
    })?;
    let basis = record.basis.filter(|basis| !basis.trim().is_empty()).unwrap_or_else(|| GIVEN.into());
    Ok(Entry { load: Arc::new(built.load), basis, assumed: built.assumed })
}

#[cfg(test)]
mod shipped;
#[cfg(test)]
mod tests;
