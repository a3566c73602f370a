//! What is built in or given, each entry with its source.

use super::answer::{
    CatalogAnswer, CatalogInputs, ListedCartridge, ListedKey, ListedLoad, ListedPlate, ListedRule, ListedSource,
    Preamble,
};
use super::books::{Books, Brought, units};
use super::error::{Faults, refuse};
use super::facts;
use super::keys;
use super::question::{CatalogQuestion, Listing};
use super::safety::NOTICE;
use crate::catalog::{Cartridge, Entry};
use crate::quantity::Si;
use crate::rules::{Rule, words};
use crate::source::clean;
use crate::words::Units;

pub(crate) fn answer(books: &Books, question: &CatalogQuestion) -> Result<CatalogAnswer, Faults> {
    refuse_idle(question)?;
    let brought = Brought {
        range_rules: &question.range_rules,
        plates: question.plates.as_ref(),
        loads: &question.loads,
        shop: None,
    };
    let books = books.with(&brought, units(question.units))?;
    let list = List { books: &books, question, units: units(question.units) };
    let mut answer = list.empty();
    match question.what {
        Listing::Loads => answer.loads = Some(list.entries().map(listed_load).collect()),
        Listing::Cartridges => answer.cartridges = Some(list.cartridges()?),
        Listing::Plates => answer.plates = Some(list.plates()),
        Listing::Rules => answer.listed = Some(list.rules().map(|rule| list.rule(rule)).collect()),
        Listing::Sources => answer.sources = Some(list.sources()?),
        Listing::Keys => answer.keys = Some(list.keys()),
    }
    answer.preamble.headline = headline(&answer, question);
    Ok(answer)
}

/// What has no use for the list that is asked is refused by its name.
fn refuse_idle(question: &CatalogQuestion) -> Result<(), Faults> {
    let what = question.what;
    let is = |list: &[Listing]| list.contains(&what) || what == Listing::Sources;
    let why = "it does not bear on what is listed";
    let help = "leave it out";
    refuse(question.class.is_some() && !is(&[Listing::Loads, Listing::Rules]), "class", why, help)?;
    refuse(question.of.is_some() && !is(&[Listing::Loads]), "of", why, help)?;
    refuse(!question.loads.0.is_empty() && !is(&[Listing::Loads, Listing::Cartridges]), "loads", why, help)?;
    refuse(!question.range_rules.0.is_empty() && !is(&[Listing::Rules]), "range_rules", why, help)?;
    refuse(question.plates.is_some() && !is(&[Listing::Plates]), "plates", why, help)?;
    Ok(())
}

struct List<'a> {
    books: &'a Books,
    question: &'a CatalogQuestion,
    units: Units,
}

impl List<'_> {
    fn empty(&self) -> CatalogAnswer {
        CatalogAnswer {
            preamble: Preamble {
                schema: "thickset/catalog/1".into(),
                program: concat!("thickset ", env!("CARGO_PKG_VERSION")).into(),
                units: self.units,
                inputs: CatalogInputs { what: self.question.what.to_string(), words: self.question.words.0.clone() },
                headline: String::new(),
                nearest: String::new(),
                nearest_distance: None,
                stands_on: String::new(),
                assumed: Vec::new(),
                holds_for: Vec::new(),
                remarks: Vec::new(),
                not_judged: Vec::new(),
                left_out: Vec::new(),
                rules: Vec::new(),
                safety: NOTICE.into(),
                doubts: Vec::new(),
                range_says: Vec::new(),
                case_says: String::new(),
                cautions: Vec::new(),
                notice: NOTICE.into(),
            },
            loads: None,
            cartridges: None,
            plates: None,
            listed: None,
            sources: None,
            keys: None,
        }
    }

    fn has_words(&self, texts: &[&str]) -> bool {
        has_all(&self.question.words.0, texts)
    }

    fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.books.catalog.entries().iter().filter(|entry| {
            let facts = entry.load.facts();
            let texts = [entry.load.id(), &facts.name, facts.cartridge.as_deref().unwrap_or(""), &facts.source];
            self.question.class.is_none_or(|class| entry.load.class() == class)
                && self.question.of.is_none_or(|of| facts.construction == of)
                && self.has_words(&texts)
        })
    }

    fn cartridges(&self) -> Result<Vec<ListedCartridge>, Faults> {
        let listed = |cartridge: &Cartridge| ListedCartridge {
            name: cartridge.name().to_owned(),
            aliases: cartridge.aliases().to_vec(),
            calibre: cartridge.calibre().map(Si),
            steel_common: cartridge.is_steel_common(),
            envelope: cartridge.envelope_loads().iter().map(|load| facts::load(load)).collect(),
            loads: self.loads_of(cartridge),
            basis: cartridge.basis().to_owned(),
            source: cartridge.source().to_owned(),
        };
        let cartridges = Cartridge::builtin()?.iter().filter(|c| {
            let aliases = c.aliases().join(" ");
            self.has_words(&[c.name(), &aliases, c.source()])
        });
        Ok(cartridges.map(|cartridge| listed(cartridge)).collect())
    }

    fn loads_of(&self, cartridge: &Cartridge) -> Vec<String> {
        let is_of = |entry: &&Entry| Cartridge::of(&entry.load).is_some_and(|of| of.name() == cartridge.name());
        self.books.catalog.entries().iter().filter(is_of).map(|entry| entry.load.id().to_owned()).collect()
    }

    fn plates(&self) -> Vec<ListedPlate> {
        let ladder = &self.books.ladder;
        let rows = ladder.plates().iter().zip(ladder.notes());
        let rows = rows.filter(|(plate, note)| self.has_words(&[&plate.label, &note.source]));
        let listed = rows.map(|(plate, note)| ListedPlate {
            label: clean(&plate.label),
            thickness: Si(plate.thickness),
            basis: clean(&note.basis),
            source: clean(&note.source),
        });
        listed.collect()
    }

    fn rules(&self) -> impl Iterator<Item = &Rule> {
        self.books.rules.rules().iter().filter(|rule| {
            let class = self.question.class;
            let of_class = class.is_none_or(|c| rule.filter.class.is_empty() || rule.filter.class.contains(&c));
            // All that is printed of it: a range's rules are found by its name, and every rule by what it speaks of.
            let (whole, basis) = (words::whole(rule, self.units), rule.basis.to_string());
            let range = rule.overlay.as_deref().unwrap_or_default();
            of_class && self.has_words(&[&rule.id, &whole, &rule.next, &basis, &rule.source, range])
        })
    }

    fn rule(&self, rule: &Rule) -> ListedRule {
        ListedRule {
            id: clean(&rule.id),
            subject: rule.subject.name().to_owned(),
            allows: words::allows(rule, self.units),
            applies: words::applies(rule, self.units),
            why: clean(&rule.why),
            next: clean(&rule.next),
            basis: rule.basis,
            source: clean(&rule.source),
            overlay: rule.overlay.as_deref().map(clean),
            words: clean(&words::whole(rule, self.units)),
        }
    }

    /// The keys of the files: of one of them where the first word is its name.
    fn keys(&self) -> Vec<ListedKey> {
        let words = &self.question.words.0;
        let file = words.first().filter(|word| keys::names().iter().any(|name| name.eq_ignore_ascii_case(word)));
        let rest = &words[usize::from(file.is_some())..];
        let fits = |key: &ListedKey| {
            let of_file = file.is_none_or(|name| name.eq_ignore_ascii_case(&key.file));
            of_file && has_all(rest, &[&key.file, &key.table, &key.key, &key.takes])
        };
        keys::all(self.units).into_iter().filter(fits).collect()
    }

    /// Every source once, with what rests on it.
    fn sources(&self) -> Result<Vec<ListedSource>, Faults> {
        let mut sources: Vec<ListedSource> = Vec::new();
        let mut rest = |basis: &str, source: &str, of: &str| {
            let (basis, source, of) = (clean(basis), clean(source), clean(of));
            match sources.iter_mut().find(|s| s.source == source) {
                Some(known) => known.of.push(of),
                None => sources.push(ListedSource { basis, source, of: vec![of] }),
            }
        };
        for rule in self.books.rules.rules() {
            rest(&rule.basis.to_string(), &rule.source, &rule.id);
        }
        for (plate, note) in self.books.ladder.plates().iter().zip(self.books.ladder.notes()) {
            rest(&note.basis, &note.source, &plate.label);
        }
        for cartridge in Cartridge::builtin()? {
            rest(cartridge.basis(), cartridge.source(), cartridge.name());
        }
        for entry in self.books.catalog.entries() {
            rest(&entry.basis, &entry.load.facts().source, entry.load.id());
        }
        for model in ["G1", "G7"] {
            rest("from memory", DRAG_SOURCE, &format!("{model} drag table"));
        }
        sources.retain(|s| self.has_words(&[&s.source, &s.basis, &s.of.join(" ")]));
        Ok(sources)
    }
}

const DRAG_SOURCE: &str =
    "standard projectile drag function (US Army Ballistic Research Laboratory), written down from memory";

fn listed_load(entry: &Entry) -> ListedLoad {
    let mut load = facts::load(&entry.load);
    for text in [&mut load.id, &mut load.name, &mut load.source] {
        *text = clean(text);
    }
    load.cartridge = load.cartridge.as_deref().map(clean);
    ListedLoad { load, basis: clean(&entry.basis) }
}

/// Whether each of some words stands in one of some texts.
fn has_all(words: &[String], texts: &[&str]) -> bool {
    let texts: Vec<String> = texts.iter().map(|text| text.to_lowercase()).collect();
    words.iter().all(|word| texts.iter().any(|text| text.contains(&word.to_lowercase())))
}

/// That nothing is listed, and where else to look.
fn nothing(question: &CatalogQuestion) -> String {
    let elsewhere = match question.what {
        Listing::Rules if question.range_rules.0.is_empty() => "; a range's own are listed where its file is given",
        _ => "",
    };
    if question.words.0.is_empty() && question.class.is_none() && question.of.is_none() {
        return "There is none.".into();
    }
    format!("None of the {} is so called{elsewhere}.", question.what)
}

fn headline(answer: &CatalogAnswer, question: &CatalogQuestion) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        0 => nothing(question),
        1 => format!("1 {one}."),
        n => format!("{n} {many}."),
    };
    if let Some(loads) = &answer.loads {
        count(loads.len(), "load", "loads")
    } else if let Some(cartridges) = &answer.cartridges {
        count(cartridges.len(), "cartridge", "cartridges")
    } else if let Some(plates) = &answer.plates {
        count(plates.len(), "plate", "plates")
    } else if let Some(keys) = &answer.keys {
        count(keys.len(), "key", "keys")
    } else if let Some(rules) = &answer.listed {
        count(rules.len(), "rule; the strictest wins", "rules; all are evaluated, and the strictest wins")
    } else {
        let sources = answer.sources.as_ref().map_or(0, Vec::len);
        count(sources, "source", "sources")
    }
}
