//! How far a cartridge's usual ammunition reaches, from its record.

use super::GIVEN;
use super::described::{BuildError, Built, Described};
use crate::load::{Construction, Firearm, Load};
use crate::quantity::{Length, Text};
use crate::source::words_of;
use serde::Deserialize;
use std::sync::Arc;

/// The extremes of a cartridge's usual ammunition from one kind of firearm, or of one kind of projectile.
#[derive(Debug, Clone, PartialEq)]
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

/// What a cartridge's record says beside its names.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reach {
    pub calibre: Option<Length>,
    pub steel_common: bool,
    pub magnum_revolver: bool,
    pub envelopes: Vec<Envelope>,
    pub basis: String,
    pub source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    cartridge: [Record; 1],
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Record {
    name: String,
    #[cfg_attr(not(test), allow(dead_code))] // The index of names has read its line.
    aliases: Vec<String>,
    calibre: Text<Length>,
    #[serde(default)]
    steel_common: bool,
    #[serde(default)]
    magnum_revolver: bool,
    envelope: Vec<EnvelopeRecord>,
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

impl Reach {
    /// Of a cartridge that is known by its loads alone.
    pub fn unknown() -> Self {
        Self {
            calibre: None,
            steel_common: false,
            magnum_revolver: false,
            envelopes: Vec::new(),
            basis: GIVEN.into(),
            source: GIVEN.into(),
        }
    }

    /// Of a record with its head.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn of_record(text: &str) -> Result<Self, String> {
        let File { cartridge: [record] } = toml::from_str(text).map_err(|error| error.to_string())?;
        record.reach(|extreme, id| extreme.load(id, None))
    }
}

impl Record {
    /// What it says, its extremes made loads by `build`.
    fn reach(self, build: impl Fn(&Described, &str) -> Result<Built, BuildError>) -> Result<Reach, String> {
        let envelope = |own: &EnvelopeRecord| {
            let load = |which: &str, extreme: &Described| {
                let (whole, id) = self.extreme(own, which, extreme);
                build(&whole, &id).map(|built| Arc::new(built.load)).map_err(|error| format!("{id}: {error:?}"))
            };
            Ok(Envelope {
                firearm: own.firearm,
                fastest: load("fastest", &own.fastest)?,
                heaviest: load("heaviest", &own.heaviest)?,
                strongest: load("strongest", &own.strongest)?,
            })
        };
        Ok(Reach {
            envelopes: self.envelope.iter().map(envelope).collect::<Result<_, String>>()?,
            calibre: Some(self.calibre.0),
            steel_common: self.steel_common,
            magnum_revolver: self.magnum_revolver,
            basis: self.basis,
            source: self.source,
        })
    }

    /// One extreme, plainly named, with its name among loads: `heaviest usual 9 mm Luger, carbine`.
    fn extreme(&self, envelope: &EnvelopeRecord, which: &str, extreme: &Described) -> (Described, String) {
        let cartridge = self.name.trim_start_matches('.');
        let of = envelope.of.as_ref().map(|of| format!(", {of}")).unwrap_or_default();
        let name = format!("{which} usual {cartridge}{of}");
        let id = words_of(&name);
        let id = id.join("-").to_lowercase();
        let whole = Described {
            name: Some(name),
            cartridge: Some(self.name.clone()),
            firearm: Some(envelope.firearm),
            construction: extreme.construction.or(Some(envelope.construction)),
            diameter: extreme.diameter.or(Some(self.calibre)),
            barrel: Some(envelope.barrel),
            steel_common: self.steel_common,
            source: Some(self.source.clone()),
            ..extreme.clone()
        };
        (whole, id)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::catalog::CARTRIDGES_SCHEMA;
    use crate::catalog::spelling::Words;

    #[derive(Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Whole {
        schema: String,
        #[serde(rename = "words")]
        _words: Words,
        #[serde(rename = "several")]
        _several: Vec<toml::Value>,
        cartridge: Vec<Record>,
    }

    /// Names, aliases and reach of every record of the file, read whole and checked as a person's loads are.
    pub fn whole(text: &str) -> Vec<(String, Vec<String>, Reach)> {
        let whole: Whole = toml::from_str(text).unwrap();
        assert_eq!(whole.schema, CARTRIDGES_SCHEMA);
        let read = |record: Record| {
            let (name, aliases) = (record.name.clone(), record.aliases.clone());
            (name, aliases, record.reach(|extreme, id| extreme.build_as_written(id, None)).unwrap())
        };
        whole.cartridge.into_iter().map(read).collect()
    }
}
