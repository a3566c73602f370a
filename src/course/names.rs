//! Loads by the names that people copy: the list's, or those that pages print, in any case.

use crate::catalog::{Catalog, CatalogError, Entry};
use std::cell::OnceCell;
use std::collections::HashMap;

/// The names of a catalogue's loads without case, spaces and points.
pub(super) struct Names<'c> {
    catalog: &'c Catalog,
    /// The place of the only load that is called so, found for the first name that is not in the list.
    called: OnceCell<HashMap<String, Option<usize>>>,
}

impl<'c> Names<'c> {
    pub fn of(catalog: &'c Catalog) -> Self {
        Self { catalog, called: OnceCell::new() }
    }

    fn called(&self) -> HashMap<String, Option<usize>> {
        let mut called: HashMap<String, Option<usize>> = HashMap::new();
        for (index, entry) in self.catalog.entries().iter().enumerate() {
            let mut names = vec![plain(entry.load.id()), plain(&entry.load.facts().name)];
            names.dedup();
            for name in names {
                // Two loads of one name are neither.
                called.entry(name).and_modify(|known| *known = None).or_insert(Some(index));
            }
        }
        called
    }

    /// Whether a text has the name of a listed load in it that is another than this.
    pub fn has_other(&self, text: &str, own: &str) -> bool {
        let words = text.split(|c: char| !(c.is_alphanumeric() || c == '-')).filter(|word| word.contains('-'));
        words.map(str::to_lowercase).any(|word| word != own && self.catalog.has(&word))
    }

    /// The load that people call so.
    ///
    /// # Errors
    /// [`CatalogError::NoLoad`] with the nearest name.
    pub fn load(&self, name: &str) -> Result<&'c Entry, CatalogError> {
        let exact = self.catalog.load(name);
        // A mark says that somebody is not sure, or says more below the table.
        if exact.is_ok() || name.contains(['?', '*', '!', '†']) {
            return exact;
        }
        let found = self.called.get_or_init(|| self.called()).get(&plain(name)).copied().flatten();
        found.and_then(|index| self.catalog.entries().get(index)).map_or(exact, Ok)
    }
}

/// A name without case, spaces and points.
pub(super) fn plain(name: &str) -> String {
    name.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceText;

    #[test]
    fn a_name_in_any_case_leads_to_its_load_and_one_that_two_share_to_neither() {
        let own = |id: &str| {
            format!(
                "[[load]]\nid = \"{id}\"\nfirearm = \"rifle\"\nconstruction = \"lead\"\nbullet = \"168 gr\"\n\
                 muzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.223\"\nname = \"Of the club, {id}\"\n"
            )
        };
        let text = format!("schema = \"thickset/loads/1\"\n{}{}{}", own("ab-c"), own("a-bc"), own("other"));
        let mut catalog = Catalog::builtin().unwrap();
        catalog.add(&SourceText::new("own.toml", text), None).unwrap();
        let names = Names::of(&catalog);
        let led = |name: &str| names.load(name).ok().map(|entry| entry.load.id().to_owned());
        for (name, id) in [
            ("308-168-MATCH", Some("308-168-match")),
            ("of the club other", Some("other")),
            ("ab-c", Some("ab-c")),
            ("A-BC", None),
            ("abc", None),
            ("zebra", None),
        ] {
            assert_eq!(led(name).as_deref(), id, "{name}");
        }
    }
}
