//! Cartridges: what they are called, and what their usual ammunition reaches.

use super::described::{BuildError, Described};
use super::place::key_span;
use super::spelling::{Words, form};
use crate::load::{Construction, Firearm, Load};
use crate::quantity::{Length, Text};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::collections::HashMap;
use std::sync::{Arc, LazyLock};
use toml::Spanned;

/// The schema a file of cartridges states.
pub const CARTRIDGES_SCHEMA: &str = "thickset/cartridges/1";

/// A cartridge: its names, and how far its usual ammunition reaches.
#[derive(Debug, Clone)]
pub struct Cartridge {
    name: String,
    aliases: Vec<String>,
    calibre: Option<Length>,
    steel_common: bool,
    magnum_revolver: bool,
    envelopes: Vec<Envelope>,
    basis: String,
    source: String,
}

/// The extremes of a cartridge's usual ammunition from one kind of firearm, or of one kind of projectile.
#[derive(Debug, Clone)]
pub struct Envelope {
    /// What fires it.
    pub firearm: Firearm,
    /// The fastest usual load, a light one.
    pub fastest: Arc<Load>,
    /// The usual load with the heaviest bullet.
    pub heaviest: Arc<Load>,
    /// The usual load with the most energy at the muzzle.
    pub strongest: Arc<Load>,
}

impl Envelope {
    /// Its three loads.
    #[must_use]
    pub fn loads(&self) -> [&Arc<Load>; 3] {
        [&self.fastest, &self.heaviest, &self.strongest]
    }
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
        let name = load.facts().cartridge.as_deref()?;
        shipped().ok()?.called(name)
    }

    /// The shipped cartridges that a text names in full: `Profile 308 Win 150gr`, but neither a number alone nor `10 mm`.
    #[must_use]
    pub fn named_in(text: &str) -> Vec<&'static Arc<Self>> {
        let Ok(shipped) = shipped() else { return Vec::new() };
        let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || ",;:\t\"()[]=_".contains(c)).collect();
        let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
        // A calibre with its point, and nothing else: `.223`.
        if let [word] = words.as_slice()
            && word.starts_with('.')
        {
            return shipped.called(word).into_iter().collect();
        }
        let (mut found, mut at) = (Vec::new(), 0);
        while at < words.len() {
            let longest = (1..=MAX_WORDS.min(words.len() - at)).rev();
            let named = longest.map(|count| (count, words[at..at + count].join(" "))).find_map(|(count, name)| {
                Some((count, shipped.called(&name).filter(|_| is_telling(&name, &shipped.words))?))
            });
            at += named.map_or(1, |(count, _)| count);
            found.extend(named.map(|(_, cartridge)| cartridge));
        }
        found
    }

    /// One that is known by its loads alone.
    pub(super) fn unlisted(name: &str) -> Self {
        Self {
            name: name.into(),
            aliases: Vec::new(),
            calibre: None,
            steel_common: false,
            magnum_revolver: false,
            envelopes: Vec::new(),
            basis: "given".into(),
            source: "given".into(),
        }
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

    /// Diameter of the bullet, of the bore for a shotgun; `None` where it is known by its loads alone.
    #[must_use]
    pub fn calibre(&self) -> Option<Length> {
        self.calibre
    }

    /// Whether its ammunition commonly has jackets or cores of steel: hold a magnet to it.
    #[must_use]
    pub fn is_steel_common(&self) -> bool {
        self.steel_common
    }

    /// Whether it is a magnum of revolvers, whose slow powder gains most from a rifle's barrel.
    #[must_use]
    pub fn is_magnum_revolver(&self) -> bool {
        self.magnum_revolver
    }

    /// Its extremes, by firearm and kind of projectile; none where it is known by its loads alone.
    #[must_use]
    pub fn envelopes(&self) -> &[Envelope] {
        &self.envelopes
    }

    /// The loads of its extremes: what stands for any ammunition of it, beside the loads that are listed.
    #[must_use]
    pub fn envelope_loads(&self) -> Vec<Arc<Load>> {
        self.envelopes.iter().flat_map(Envelope::loads).map(Arc::clone).collect()
    }

    /// How well its values are founded.
    #[must_use]
    pub fn basis(&self) -> &str {
        &self.basis
    }

    /// Where its values come from.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }
}

/// The most words of a cartridge's name.
const MAX_WORDS: usize = 5;

/// Whether a name is a cartridge's wherever it stands: it begins with a number and has a word of the trade with it.
fn is_telling(name: &str, words: &Words) -> bool {
    let form = form(name, words);
    let behind = form.trim_start_matches(|c: char| c.is_ascii_digit());
    let is_number = behind.is_empty() && form.len() < LONG_NUMBER;
    behind.len() < form.len() && name.contains(char::is_alphabetic) && !is_number && behind != "mm"
}

/// A number of as many digits is no calibre, but `30-06 Springfield`.
const LONG_NUMBER: usize = 4;

/// The shipped cartridges, and their index by every form of a name.
pub(super) struct Shipped {
    pub(super) words: Words,
    pub(super) cartridges: Vec<Arc<Cartridge>>,
    by_form: HashMap<String, usize>,
}

impl Shipped {
    /// The cartridge of a name or alias.
    pub(super) fn called(&self, name: &str) -> Option<&Arc<Cartridge>> {
        self.by_form.get(&form(name, &self.words)).and_then(|&index| self.cartridges.get(index))
    }
}

static SHIPPED: LazyLock<Result<Shipped, Diagnostic>> =
    LazyLock::new(|| read(&SourceText::new("data/cartridges.toml", include_str!("../../data/cartridges.toml"))));

/// The shipped cartridges, read when they are first asked for: most questions don't.
pub(super) fn shipped() -> Result<&'static Shipped, Diagnostic> {
    SHIPPED.as_ref().map_err(Clone::clone)
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    words: Words,
    cartridge: Vec<Spanned<Record>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Record {
    name: String,
    aliases: Vec<String>,
    calibre: Text<Length>,
    #[serde(default)]
    steel_common: bool,
    #[serde(default)]
    magnum_revolver: bool,
    envelope: Vec<Spanned<EnvelopeRecord>>,
    basis: String,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct EnvelopeRecord {
    firearm: Firearm,
    /// What sets it apart where the cartridge has several.
    of: Option<String>,
    construction: Construction,
    barrel: Text<Length>,
    fastest: Described,
    heaviest: Described,
    strongest: Described,
}

/// Reads a file of cartridges; a name or alias that leads to two is a fault.
pub(super) fn read(source: &SourceText) -> Result<Shipped, Diagnostic> {
    let file: File = source.toml_of("cartridges", CARTRIDGES_SCHEMA, |file: &File| &file.schema)?;
    let mut shipped = Shipped { words: file.words, cartridges: Vec::new(), by_form: HashMap::new() };
    for (index, record) in file.cartridge.into_iter().enumerate() {
        let span = record.span();
        let record = record.into_inner();
        for name in std::iter::once(&record.name).chain(&record.aliases) {
            let form = form(name, &shipped.words);
            if form.is_empty() || shipped.by_form.insert(form, index).is_some() {
                let fault = source.fault(key_span(source, &span, "aliases"), format!("`{name}` leads to two names"));
                return Err(fault.help("leave it out where it stands for two cartridges, or is a spelling of another"));
            }
        }
        shipped.cartridges.push(Arc::new(cartridge_of(source, record)?));
    }
    Ok(shipped)
}

fn cartridge_of(source: &SourceText, record: Record) -> Result<Cartridge, Diagnostic> {
    let mut envelopes = Vec::new();
    for envelope in &record.envelope {
        let own = envelope.get_ref();
        let load = |which: &str, extreme: &Described| {
            extreme_of(&record, own, which, extreme).map(Arc::new).map_err(|(key, message, help)| {
                source.fault(key_span(source, &envelope.span(), which), format!("{which}: {key}: {message}")).help(help)
            })
        };
        envelopes.push(Envelope {
            firearm: own.firearm,
            fastest: load("fastest", &own.fastest)?,
            heaviest: load("heaviest", &own.heaviest)?,
            strongest: load("strongest", &own.strongest)?,
        });
    }
    Ok(Cartridge {
        name: record.name,
        aliases: record.aliases,
        calibre: Some(record.calibre.0),
        steel_common: record.steel_common,
        magnum_revolver: record.magnum_revolver,
        envelopes,
        basis: record.basis,
        source: record.source,
    })
}

/// One extreme as a load, plainly named: `heaviest usual 9 mm Luger, carbine`.
fn extreme_of(
    record: &Record,
    envelope: &EnvelopeRecord,
    which: &str,
    extreme: &Described,
) -> Result<Load, (&'static str, String, String)> {
    let cartridge = record.name.trim_start_matches('.');
    let of = envelope.of.as_ref().map(|of| format!(", {of}")).unwrap_or_default();
    let name = format!("{which} usual {cartridge}{of}");
    let id: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let whole = Described {
        name: Some(name.clone()),
        cartridge: Some(record.name.clone()),
        firearm: Some(envelope.firearm),
        construction: extreme.construction.or(Some(envelope.construction)),
        diameter: extreme.diameter.or(Some(record.calibre)),
        barrel: Some(envelope.barrel),
        steel_common: record.steel_common,
        source: Some(record.source.clone()),
        ..extreme.clone()
    };
    let built = whole.build_as_written(&id.join("-").to_lowercase(), None).map_err(|error| match error {
        BuildError::Description(e) => (e.key, e.message, e.help),
        BuildError::File(e) => ("drag-table", e.message, e.help.unwrap_or_default()),
    })?;
    Ok(built.load)
}
