//! Cartridges and loads by what people call them.

use super::cartridge::{Cartridge, Shipped, shipped};
use super::several::{may_be, named_within, others_meant};
use super::spelling::{Spelled, begins, form, tokens};
use super::{Catalog, CatalogError, Entry, Listed, MAX_LISTED};
use crate::load::Load;
use crate::order::Order;
use crate::source::nearest;
use std::collections::HashSet;
use std::sync::Arc;

/// Any ammunition of a cartridge: what stands for it.
#[derive(Debug, Clone)]
pub struct AnyOf<'c> {
    /// The cartridge.
    pub cartridge: Arc<Cartridge>,
    /// Every load listed for it, the user's own included.
    pub listed: Vec<&'c Entry>,
    /// The extremes of its usual ammunition.
    pub envelope: Vec<Arc<Load>>,
    /// Whether it has extremes. One without is judged by the listed loads alone, which is borderline at best.
    pub has_envelope: bool,
}

impl AnyOf<'_> {
    /// Whether it often comes with jackets or cores of steel, and no such load is listed.
    #[must_use]
    pub fn lacks_steel(&self) -> bool {
        let is_of_steel = |entry: &&Entry| entry.load.facts().construction.may_be_steel();
        self.cartridge.is_steel_common() && !self.listed.iter().any(is_of_steel)
    }
}

/// What a name leads to.
enum Meant {
    Shipped(Arc<Cartridge>),
    /// A cartridge known by its loads alone, as the first of them spells it.
    Own(String),
}

impl Catalog {
    /// The cartridge that people call so. A beginning does where one cartridge alone has it, and so does the name of
    /// any load of it.
    ///
    /// # Errors
    /// [`CatalogError::NoCartridge`] with the cartridges it could be, or the nearest name.
    pub fn cartridge(&self, name: &str) -> Result<Arc<Cartridge>, CatalogError> {
        self.meant_cartridge(name).map(|meant| match meant {
            Meant::Shipped(cartridge) => cartridge,
            Meant::Own(name) => Arc::new(Cartridge::unlisted(&name)),
        })
    }

    /// Any ammunition of a cartridge: every load listed for it, and the extremes of what is usual.
    ///
    /// # Errors
    /// As [`Catalog::cartridge`].
    pub fn any(&self, name: &str) -> Result<AnyOf<'_>, CatalogError> {
        let cartridge = self.cartridge(name)?;
        let listed = self.loads_of(&cartridge);
        let envelope = cartridge.envelope_loads();
        let has_envelope = !envelope.is_empty();
        Ok(AnyOf { cartridge, listed, envelope, has_envelope })
    }

    /// Every load listed for a cartridge. `.308 Win`, `308 Winchester`, `308win`, `308` and the name of any load of
    /// it ask for the same; loads that spell their cartridge otherwise are among them.
    ///
    /// # Errors
    /// [`CatalogError::NoCartridge`] where none is of it, or the name fits several.
    pub fn family(&self, cartridge: &str) -> Result<Vec<&Entry>, CatalogError> {
        let loads = self.loads_of(&*self.cartridge(cartridge)?);
        if loads.is_empty() {
            let help = "describe a load by `--bullet`, `--velocity`, `--bc` and `--drag`".into();
            return Err(CatalogError::NoCartridge { name: cartridge.into(), help });
        }
        Ok(loads)
    }

    /// The cartridges there are loads of, each once, as the first load of it spells it.
    #[must_use]
    pub fn cartridges(&self) -> Vec<&str> {
        let mut seen = HashSet::new();
        let names = self.listed().filter_map(Listed::cartridge);
        names.filter(|name| seen.insert(key(name))).collect()
    }

    /// The loads that a text may mean, the likeliest first: every word of it begins a word of the load's name or of
    /// its cartridge's names. An empty text means every load.
    #[must_use]
    pub fn search(&self, text: &str) -> Vec<&Entry> {
        let Ok(shipped) = shipped() else { return Vec::new() };
        let (asked, whole) = (tokens(text, &shipped.words), form(text, &shipped.words));
        let ranked = self.entries().iter().filter_map(|entry| Some((rank(entry, &asked, &whole, shipped)?, entry)));
        let mut found: Vec<(usize, &Entry)> = ranked.collect();
        // Stable: the file's order, everyday loads first, within a rank.
        found.order_by_key(|(rank, _)| *rank);
        found.into_iter().map(|(_, entry)| entry).collect()
    }

    fn loads_of(&self, cartridge: &Cartridge) -> Vec<&Entry> {
        let wanted = key(cartridge.name());
        let is_of = |listed: &Listed| listed.cartridge().is_some_and(|name| key(name) == wanted);
        // A listed load that another took the name of is still sold: any ammunition of its cartridge holds it.
        self.every().filter(is_of).filter_map(Listed::entry).collect()
    }

    fn meant_cartridge(&self, name: &str) -> Result<Meant, CatalogError> {
        let fault = |help| CatalogError::NoCartridge { name: name.into(), help };
        let several = |several: &[&str]| CatalogError::Several { name: name.into(), help: choice(several) };
        let shipped = shipped().map_err(|e| fault(e.message))?;
        if let Some(cartridge) = shipped.called(name) {
            let others = others_meant(name, cartridge, shipped);
            return if others.is_empty() { Ok(Meant::Shipped(Arc::clone(cartridge))) } else { Err(several(&others)) };
        }
        let own = self.own_cartridges(shipped);
        let asked = Spelled::of(name, &shipped.words);
        if let Some(same) = own.iter().find(|own| asked.is_of(&Spelled::of(own, &shipped.words))) {
            return Ok(Meant::Own((*same).to_owned()));
        }
        if let Some(load) = self.found(name.trim()).and_then(|e| e.load.facts().cartridge.as_deref()) {
            return Ok(meant(load, shipped));
        }
        let names: Vec<&str> = shipped.cartridges.iter().map(|c| c.name()).chain(own).collect();
        match begun(name, &names, shipped).as_slice() {
            [one] => match meant(one, shipped) {
                Meant::Shipped(cartridge) => match others_meant(name, &cartridge, shipped).as_slice() {
                    [] => Ok(Meant::Shipped(cartridge)),
                    others => Err(several(others)),
                },
                own @ Meant::Own(_) => Ok(own),
            },
            [] => Err(match may_be(name, &names, shipped).as_slice() {
                [] => fault(instead(near(&asked.form, &names, shipped), &named_within(name, shipped))),
                [one] => fault(choice(&[one])),
                may_be => several(may_be),
            }),
            begun => Err(several(begun)),
        }
    }

    /// The cartridges of loads that are not shipped, each once, as the first load of it spells it.
    fn own_cartridges(&self, shipped: &Shipped) -> Vec<&str> {
        self.cartridges().into_iter().filter(|name| shipped.called(name).is_none()).collect()
    }
}

fn meant(name: &str, shipped: &Shipped) -> Meant {
    shipped.called(name).map_or_else(|| Meant::Own(name.into()), |c| Meant::Shipped(Arc::clone(c)))
}

/// What two spellings of one cartridge share.
fn key(name: &str) -> String {
    let Ok(shipped) = shipped() else { return name.into() };
    shipped.called(name).map_or_else(|| form(name, &shipped.words), |cartridge| cartridge.name().to_owned())
}

/// The names that begin so: by whole numbers (`30` begins `.30-06`), else by letters alone (`65c`).
fn begun<'n>(asked: &str, names: &[&'n str], shipped: &Shipped) -> Vec<&'n str> {
    let words = tokens(asked, &shipped.words);
    let by_word = |name: &&&str| begins(&words, &tokens(name, &shipped.words));
    let found: Vec<&str> = names.iter().filter(by_word).copied().collect();
    if !found.is_empty() {
        return found;
    }
    let spelled = Spelled::of(asked, &shipped.words);
    names.iter().filter(|name| spelled.begins(&Spelled::of(name, &shipped.words))).copied().collect()
}

fn choice(several: &[&str]) -> String {
    let listed = several.iter().take(MAX_LISTED).copied().collect::<Vec<&str>>().join(", ");
    match several.len().saturating_sub(MAX_LISTED) {
        0 => format!("it could be {listed}"),
        more => format!("it could be {listed}, or one of {more} more: write more of the name"),
    }
}

/// What to write in place of a name that leads nowhere.
fn instead(near: Option<&str>, within: &[&str]) -> String {
    let guess = match (near, within) {
        (Some(name), _) => format!("did you mean `{name}`? "),
        (None, []) => String::new(),
        (None, within) => choice(within) + "; ",
    };
    guess + "write the cartridge as it stands on the barrel or the box; `thickset catalog cartridges` lists them"
}

/// The cartridge whose name or alias is nearest.
fn near<'n>(asked: &str, names: &[&'n str], shipped: &Shipped) -> Option<&'n str> {
    let mut spelled: Vec<(String, &str)> = names.iter().map(|name| (form(name, &shipped.words), *name)).collect();
    for name in names {
        let aliases = shipped.called(name).map_or(&[][..], |c| c.aliases());
        spelled.extend(aliases.iter().map(|alias| (form(alias, &shipped.words), *name)));
    }
    let found = nearest(asked, spelled.iter().map(|(form, _)| form.as_str()))?;
    spelled.iter().find(|(form, _)| form == found).map(|(_, name)| *name)
}

/// How well a load fits what was asked, the best 0.
fn rank(entry: &Entry, asked: &[String], whole: &str, shipped: &Shipped) -> Option<usize> {
    let facts = entry.load.facts();
    let (id, name) = (form(entry.load.id(), &shipped.words), form(&facts.name, &shipped.words));
    let cartridge = facts.cartridge.as_deref().unwrap_or_default();
    let called = shipped.called(cartridge);
    let names = std::iter::once(cartridge).chain(called.into_iter().flat_map(|c| c.aliases()).map(String::as_str));
    let spelled: Vec<Vec<String>> = names.map(|name| tokens(name, &shipped.words)).collect();
    let of_load = [tokens(entry.load.id(), &shipped.words), tokens(&facts.name, &shipped.words)].concat();
    if id == whole || name == whole {
        return Some(0);
    }
    if !whole.is_empty() && spelled.iter().any(|name| name.concat() == whole) {
        return Some(1);
    }
    if id.starts_with(whole) || name.starts_with(whole) {
        return Some(2);
    }
    let within = |words: &[String]| asked.iter().all(|word| words.iter().any(|other| other.starts_with(word.as_str())));
    if within(&of_load) {
        return Some(3);
    }
    spelled.iter().any(|name| within(&[of_load.as_slice(), name].concat())).then_some(4)
}
