//! Cartridges: what they are called, and what their usual ammunition reaches.

use super::reach::{Envelope, Reach};
use super::spelling::{Spelled, Words, form};
use crate::load::Load;
use crate::quantity::Length;
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::{Arc, LazyLock, OnceLock};

/// The schema a file of cartridges states.
pub const CARTRIDGES_SCHEMA: &str = "thickset/cartridges/1";

/// A cartridge: its names, and how far its usual ammunition reaches, which is read when it is first asked for.
#[derive(Debug, Clone)]
pub struct Cartridge {
    name: String,
    aliases: Vec<String>,
    /// Its record in the file; `None` where it is known by its loads alone.
    record: Option<&'static str>,
    reach: OnceLock<Reach>,
}

impl Cartridge {
    /// The shipped cartridges.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn builtin() -> Result<&'static [Arc<Self>], Diagnostic> {
        shipped().map(|shipped| shipped.cartridges.as_slice())
    }

    /// The shipped cartridge that a load is of, however the load spells it.
    #[must_use]
    pub fn of(load: &Load) -> Option<&'static Arc<Self>> {
        Self::called(load.facts().cartridge.as_deref()?)
    }

    /// The shipped cartridge of a name or alias: of one that others share the usual one, which is asked back where any
    /// ammunition is judged.
    #[must_use]
    pub fn called(name: &str) -> Option<&'static Arc<Self>> {
        shipped().ok()?.called(name)
    }

    /// One that is known by its loads alone.
    pub(super) fn unlisted(name: &str) -> Self {
        Self { name: name.into(), aliases: Vec::new(), record: None, reach: OnceLock::new() }
    }

    /// The cartridge of a record; `None` where it has no name, or no aliases, in a line of its own.
    fn of_record(record: &'static str) -> Option<Self> {
        let line = |key: &str| record.lines().find_map(|line| line.strip_prefix(key));
        let name = line("name = \"")?.strip_suffix('"')?.to_owned();
        let aliases = line("aliases = [")?.strip_suffix(']')?.split('"').skip(1).step_by(2).map(str::to_owned);
        Some(Self { name, aliases: aliases.collect(), record: Some(record), reach: OnceLock::new() })
    }

    /// A record that can't be read, which a test rules out, has no extremes, and any magnet to hold to its bullets.
    fn reach(&self) -> &Reach {
        self.reach.get_or_init(|| match self.record {
            Some(record) => {
                Reach::of_record(record).unwrap_or_else(|_| Reach { steel_common: true, ..Reach::unknown() })
            }
            None => Reach::unknown(),
        })
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What else people call it.
    #[must_use]
    pub fn aliases(&self) -> &[String] {
        &self.aliases
    }

    /// Its name and what else people call it.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.name).chain(&self.aliases).map(String::as_str)
    }

    /// Diameter of the bullet, of the bore for a shotgun; `None` where it is known by its loads alone.
    #[must_use]
    pub fn calibre(&self) -> Option<Length> {
        self.reach().calibre
    }

    /// Whether its ammunition commonly has jackets or cores of steel: hold a magnet to it.
    #[must_use]
    pub fn is_steel_common(&self) -> bool {
        self.reach().steel_common
    }

    /// Whether it is a magnum of revolvers, whose slow powder gains most from a rifle's barrel.
    #[must_use]
    pub fn is_magnum_revolver(&self) -> bool {
        self.reach().magnum_revolver
    }

    /// Its extremes, by firearm and kind of projectile; none where it is known by its loads alone.
    #[must_use]
    pub fn envelopes(&self) -> &[Envelope] {
        &self.reach().envelopes
    }

    /// The loads of its extremes: what stands for any ammunition of it, beside the loads that are listed.
    #[must_use]
    pub fn envelope_loads(&self) -> Vec<Arc<Load>> {
        self.envelopes().iter().flat_map(Envelope::loads).map(Arc::clone).collect()
    }

    /// How well its values are founded.
    #[must_use]
    pub fn basis(&self) -> &str {
        &self.reach().basis
    }

    /// Where its values come from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.reach().source
    }
}

/// The shipped cartridges, and their index by name.
pub(super) struct Shipped {
    pub(super) words: Words,
    pub(super) cartridges: Vec<Arc<Cartridge>>,
    by_name: HashMap<String, usize>,
    /// By every form of a name or alias, made for the first name that is not spelled as in the list.
    by_form: OnceLock<HashMap<String, (Spelled, usize)>>,
    /// What people say that may be any of several.
    several: Vec<Several>,
}

/// What people say that may be any of several cartridges, or one that is not listed.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Several {
    pub called: Vec<String>,
    pub cartridges: Vec<String>,
}

impl Shipped {
    fn of(text: &'static str) -> Option<Self> {
        let heads: Vec<usize> = text.match_indices(HEAD).map(|(at, _)| at).collect();
        let (first, ends) = (*heads.first()?, heads.iter().skip(1).copied().chain([text.len()]));
        let Top { words, several, .. } =
            toml::from_str(&text[..first]).ok().filter(|top: &Top| top.schema == CARTRIDGES_SCHEMA)?;
        let records = heads.iter().zip(ends).map(|(from, to)| &text[*from..to]);
        let cartridges: Vec<Arc<Cartridge>> =
            records.map(|record| Cartridge::of_record(record).map(Arc::new)).collect::<Option<_>>()?;
        let by_name = cartridges.iter().enumerate().map(|(index, cartridge)| (cartridge.name.clone(), index)).collect();
        Some(Self { words, cartridges, by_name, by_form: OnceLock::new(), several })
    }

    /// Every form of a name with the cartridges that it leads to: a test holds that it is one.
    fn forms(&self) -> impl Iterator<Item = (Spelled, usize)> {
        let named = self
            .cartridges
            .iter()
            .enumerate()
            .flat_map(|(index, cartridge)| cartridge.names().map(move |name| (name, index)));
        named.map(|(name, index)| (Spelled::of(name, &self.words), index))
    }

    /// The cartridges that a text may mean any of, as people speak; `None` where they speak so of none.
    pub(super) fn several(&self, name: &str) -> Option<&[String]> {
        let asked = form(name, &self.words);
        let is_so = |called: &String| !asked.is_empty() && form(called, &self.words) == asked;
        let found = self.several.iter().find(|several| several.called.iter().any(is_so))?;
        Some(&found.cartridges)
    }

    /// The cartridge of a name or alias.
    pub(super) fn called(&self, name: &str) -> Option<&Arc<Cartridge>> {
        let by_form = || {
            let asked = Spelled::of(name, &self.words);
            let keyed = || self.forms().map(|(spelled, index)| (spelled.form.clone(), (spelled, index))).collect();
            let (spelled, index) = self.by_form.get_or_init(keyed).get(&asked.form)?;
            asked.is_of(spelled).then_some(*index)
        };
        let index = self.by_name.get(name).copied().or_else(by_form)?;
        self.cartridges.get(index)
    }
}

const TEXT: &str = include_str!("../../data/cartridges.toml");
/// What each record of the file begins with.
const HEAD: &str = "\n[[cartridge]]\n";

static SHIPPED: LazyLock<Option<Shipped>> = LazyLock::new(|| Shipped::of(TEXT));

/// The shipped cartridges.
pub(super) fn shipped() -> Result<&'static Shipped, Diagnostic> {
    let fault = || {
        SourceText::new("data/cartridges.toml", TEXT)
            .fault(0..0, "the schema is another, or a record has no line of its name or aliases")
    };
    SHIPPED.as_ref().ok_or_else(fault)
}

/// What stands above the records.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Top {
    schema: String,
    words: Words,
    several: Vec<Several>,
}

#[cfg(test)]
mod tests {
    use super::super::reach::tests::whole;
    use super::*;

    #[test]
    fn each_record_read_alone_is_that_of_the_file_read_whole() {
        let (shipped, whole) = (shipped().unwrap(), whole(TEXT));
        assert_eq!(shipped.cartridges.len(), whole.len());
        for (alone, (name, aliases, reach)) in shipped.cartridges.iter().zip(whole) {
            assert_eq!((alone.name(), alone.aliases()), (name.as_str(), aliases.as_slice()));
            assert_eq!(alone.reach(), &reach, "{name}");
        }
    }

    #[test]
    fn every_name_leads_to_one_cartridge() {
        let shipped = shipped().unwrap();
        let mut seen: HashMap<String, usize> = HashMap::new();
        for (Spelled { form, .. }, index) in shipped.forms() {
            assert!(!form.is_empty(), "{}", shipped.cartridges[index].name());
            let before = seen.insert(form.clone(), index);
            assert_eq!(before, None, "`{form}` stands twice");
        }
    }

    #[test]
    fn what_may_be_several_is_said_once_and_means_cartridges_that_are_listed() {
        let shipped = shipped().unwrap();
        let mut seen = std::collections::HashSet::new();
        for several in &shipped.several {
            for called in &several.called {
                let form = form(called, &shipped.words);
                assert!(!form.is_empty() && seen.insert(form), "{called}");
            }
            assert!(!several.cartridges.is_empty());
            for name in &several.cartridges {
                assert!(shipped.cartridges.iter().any(|c| c.name() == name), "{name}");
            }
        }
    }

    #[test]
    fn a_record_that_cannot_be_read_has_no_extremes_and_needs_a_magnet() {
        let broken = Cartridge::of_record("[[cartridge]]\nname = \"a\"\naliases = []\ncalibre = 3\n").unwrap();
        assert!(broken.envelopes().is_empty() && broken.is_steel_common());
    }
}
