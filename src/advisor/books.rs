//! What an advisor judges by: rules, plates, loads, a shop; and what one question adds to them.

use super::error::at;
use super::question::{Inline, OneOrMany};
use super::resolve::inline::Files;
use super::resolve::plates;
use super::resolve::taken::Taken;
use crate::catalog::Catalog;
use crate::plate::{Ladder, Plate, same_thickness};
use crate::quantity::{Length, Measure, parse};
use crate::rules::RuleSet;
use crate::shop::price::Shop;
use crate::shop::product::Product;
use crate::source::{Diagnostic, SourceText, clean};
use crate::words::{self, Units};
use std::path::Path;
use std::sync::Arc;

/// Rules, plates, loads and a shop. Cheap to clone.
#[derive(Debug, Clone)]
pub(crate) struct Books {
    pub rules: Arc<RuleSet>,
    pub ladder: Arc<Ladder>,
    pub catalog: Arc<Catalog>,
    pub shop: Option<Arc<Shop>>,
    pub files: Files,
    /// Whether the plates are those built in, which are called by inches.
    pub house_plates: bool,
}

impl Books {
    pub fn house() -> Result<Self, Diagnostic> {
        Ok(Self {
            rules: Arc::new(RuleSet::house()?),
            ladder: Arc::new(Ladder::builtin()?),
            catalog: Arc::new(Catalog::builtin()?),
            shop: None,
            files: Files::default(),
            house_plates: true,
        })
    }

    /// With what a question brings along.
    pub fn with(&self, of: &Brought, units: Units) -> Result<Self, Diagnostic> {
        let files = &self.files;
        let house_plates = self.house_plates && of.plates.is_none();
        let ladder = plates::ladder(&self.ladder, of.plates, files)?;
        Ok(Self {
            rules: told_in(plates::rules(&self.rules, of.range_rules, files)?, units),
            ladder: if house_plates && units == Units::Si { Arc::new(in_millimetres(&ladder)?) } else { ladder },
            catalog: plates::catalog(&self.catalog, &of.loads.0, files)?,
            shop: match of.shop {
                Some(inline) => Some(Arc::new(shop(inline, files)?)),
                None => self.shop.clone(),
            },
            files: self.files.clone(),
            house_plates,
        })
    }
}

/// A shop's file; the drawings of its products are looked for beside it.
fn shop(inline: &Inline, files: &Files) -> Result<Shop, Diagnostic> {
    let folder = match inline {
        Inline::File(reference) => Path::new(reference).parent(),
        Inline::Object(_) => None,
    };
    Shop::read_in(&files.source("shop", inline)?, folder.unwrap_or(Path::new("")))
}

impl Books {
    /// The plates that are proposed: those given, else those that the shop sells, else those built in.
    pub fn offered(&self) -> Arc<Ladder> {
        let sold = self.shop.as_ref().filter(|_| self.house_plates).map(|shop| shop.plates());
        sold.and_then(Ladder::of_shop).map_or_else(|| Arc::clone(&self.ladder), Arc::new)
    }

    /// What a product is made in; where plates were given, those of them alone.
    pub fn made(&self, product: &Product) -> Result<Vec<Plate>, Diagnostic> {
        let made = product.plates();
        if self.house_plates {
            return Ok(made);
        }
        let given = |plate: &Plate| self.ladder.plates().iter().any(|p| same_thickness(p.thickness, plate.thickness));
        let both: Vec<Plate> = made.iter().filter(|plate| given(plate)).cloned().collect();
        if both.is_empty() {
            let message = format!("`{}` is made in none of the plates that were given", product.name);
            let labels: Vec<String> = made.iter().map(|plate| clean(&plate.label)).collect();
            return Err(at("plates", message, format!("it is made in {}", words::listed(&labels))));
        }
        Ok(both)
    }

    /// Says whose rules are laid over the house's.
    pub fn tell(&self, taken: &mut Taken) {
        let names: Vec<String> = self.rules.overlays().iter().map(ToString::to_string).collect();
        if !names.is_empty() {
            taken.given("range rules", words::listed(&names));
        }
    }

    /// The shop's product of a name.
    pub fn product(&self, name: Option<&str>) -> Result<Option<Product>, Diagnostic> {
        let Some(name) = name else { return Ok(None) };
        let Some(shop) = &self.shop else {
            return Err(at("product", format!("product `{name}`, and no shop"), "give the shop's file"));
        };
        shop.product(name).cloned().map(Some).map_err(|e| at("product", &e, e.help()))
    }
}

/// The rules with reasons in the question's units.
fn told_in(rules: Arc<RuleSet>, units: Units) -> Arc<RuleSet> {
    match units {
        Units::Us => rules,
        Units::Si => Arc::new(RuleSet::clone(&rules).told_in(units)),
    }
}

/// The plates built in, called by millimetres.
fn in_millimetres(ladder: &Ladder) -> Result<Ladder, Diagnostic> {
    let mut text = String::from("schema = \"thickset/plates/1\"\n");
    for plate in ladder.plates() {
        let (label, metres) = (Units::Si.thickness(plate.thickness), plate.thickness.si());
        text += &format!("[[plate]]\nlabel = \"{label}\"\nthickness = \"{metres} m\"\n");
    }
    Ladder::read(&SourceText::new("plates", text))
}

/// Plates that were named keep their names in metric words, where the ladder's own are in inches. What a label says
/// beyond its thickness stays.
pub(crate) fn as_named(plates: &mut [Plate], texts: &[String], units: Units) {
    let is_size = |plate: &Plate| parse::<Length>(&plate.label).is_ok();
    for plate in plates.iter_mut().filter(|plate| units == Units::Si && is_size(plate)) {
        let is_it = |text: &&String| parse(text).is_ok_and(|named| same_thickness(named, plate.thickness));
        if let Some(text) = texts.iter().find(is_it) {
            plate.label = text.trim().to_owned();
        }
    }
}

/// The files that a question brings along.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Brought<'q> {
    pub range_rules: &'q OneOrMany<Inline>,
    pub plates: Option<&'q Inline>,
    pub loads: &'q OneOrMany<Inline>,
    pub shop: Option<&'q Inline>,
}

/// The units of a question.
pub(crate) fn units(given: Option<Units>) -> Units {
    given.unwrap_or_default()
}
