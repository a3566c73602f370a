//! Words of the trade in a spreadsheet's cells, and heads and cells that speak of what is judged where nothing reads
//! them.

use crate::load::Class;
use serde::Deserialize;

/// The words that a column takes.
pub(super) struct Words {
    /// What the column holds: `construction`.
    what: &'static str,
    /// The words as they are read.
    taken: &'static [&'static str],
    /// Words of the trade for one of them, or for a stricter one.
    same: &'static [(&'static str, &'static str)],
    /// Words that leave open what counts, and what to write in their place.
    open: &'static [(&'static str, &'static str)],
}

/// What a bullet is made of.
pub(super) const CONSTRUCTION: Words = Words {
    what: "construction",
    taken: &[
        "lead",
        "jacketed-lead",
        "plated",
        "frangible",
        "monolithic",
        "steel-jacket",
        "steel-core",
        "armour-piercing",
        "incendiary",
        "tracer",
        "lead-shot",
        "steel-shot",
        "unknown",
    ],
    same: &[
        ("penetrator", "steel-core"),
        ("green-tip", "steel-core"),
        ("steel-tip", "steel-core"),
        ("steel-penetrator", "steel-core"),
        ("steel", "steel-core"),
        ("bimetal", "steel-jacket"),
        ("bi-metal", "steel-jacket"),
        ("armor-piercing", "armour-piercing"),
        ("ap", "armour-piercing"),
        ("api", "armour-piercing"),
        ("cast", "lead"),
        ("cast-lead", "lead"),
        ("hard-cast", "lead"),
        ("lrn", "lead"),
        ("lead-round-nose", "lead"),
        ("wadcutter", "lead"),
        ("swc", "lead"),
        ("lswc", "lead"),
        ("bonded", "jacketed-lead"),
        ("soft-point", "jacketed-lead"),
        ("jsp", "jacketed-lead"),
        ("jhp", "jacketed-lead"),
        ("jacketed-hollow-point", "jacketed-lead"),
        ("bthp", "jacketed-lead"),
        ("hpbt", "jacketed-lead"),
        ("otm", "jacketed-lead"),
        ("copper", "monolithic"),
        ("solid-copper", "monolithic"),
        ("all-copper", "monolithic"),
        ("brass", "monolithic"),
        ("solid", "monolithic"),
        ("mono", "monolithic"),
        ("lead-free", "monolithic"),
        ("birdshot", "lead-shot"),
        ("buckshot", "lead-shot"),
        ("bb", "steel-shot"),
        ("hard-shot", "steel-shot"),
        ("tungsten-shot", "steel-shot"),
        ("sintered", "frangible"),
        ("?", "unknown"),
        ("not-known", "unknown"),
    ],
    open: &[
        ("fmj", JACKET),
        ("full-metal-jacket", JACKET),
        ("ball", JACKET),
        ("jacketed", JACKET),
        ("lead-core", JACKET),
        (
            "tmj",
            "`plated` where the coat is electroplated copper; else hold a magnet to it and write `jacketed-lead` or `steel-jacket`",
        ),
        ("hp", "`jacketed-lead` for a jacketed hollow point, `monolithic` for one of solid copper"),
        ("hollow-point", "`jacketed-lead` for a jacketed hollow point, `monolithic` for one of solid copper"),
    ],
};

const JACKET: &str =
    "hold a magnet to it: `jacketed-lead` where it does not stick, `steel-jacket` or `steel-core` where it does";

/// What fires a load.
pub(super) const FIREARM: Words = Words {
    what: "firearm",
    taken: &[
        "rimfire-pistol",
        "rimfire-rifle",
        "handgun",
        "pistol-carbine",
        "shotgun",
        "rifle",
        "muzzle-loader",
        "air-gun",
        "unknown",
    ],
    same: &[
        ("pistol", "handgun"),
        ("revolver", "handgun"),
        ("centrefire-pistol", "handgun"),
        ("centerfire-pistol", "handgun"),
        ("pcc", "pistol-carbine"),
        ("pistol-calibre-carbine", "pistol-carbine"),
        ("pistol-caliber-carbine", "pistol-carbine"),
        ("centrefire-rifle", "rifle"),
        ("centerfire-rifle", "rifle"),
        ("muzzleloader", "muzzle-loader"),
        ("airgun", "air-gun"),
        ("air-rifle", "air-gun"),
        ("air-pistol", "air-gun"),
    ],
    open: &[
        ("carbine", "`pistol-carbine` where it fires a pistol cartridge, else `rifle`"),
        ("rimfire", "`rimfire-rifle` or `rimfire-pistol`"),
        (".22", "`rimfire-rifle` or `rimfire-pistol`"),
        ("22", "`rimfire-rifle` or `rimfire-pistol`"),
    ],
};

const PISTOLS: &str = "`handgun` and `rimfire-pistol`, or one of them";

/// Who shoots at a target.
pub(super) const CLASS: Words = Words {
    what: "class",
    taken: &[
        "rimfire-pistol",
        "rimfire-rifle",
        "handgun",
        "pistol-carbine",
        "shot",
        "slug",
        "rifle",
        "muzzle-loader",
        "air-gun",
    ],
    same: &[
        ("rimfire-pistols", "rimfire-pistol"),
        ("rimfire-rifles", "rimfire-rifle"),
        ("handguns", "handgun"),
        ("pcc", "pistol-carbine"),
        ("pistol-carbines", "pistol-carbine"),
        ("slugs", "slug"),
        ("rifles", "rifle"),
        ("muzzleloader", "muzzle-loader"),
        ("muzzle-loaders", "muzzle-loader"),
        ("airgun", "air-gun"),
        ("air-guns", "air-gun"),
    ],
    open: &[
        ("carbine", "`pistol-carbine` where it fires a pistol cartridge, else `rifle`"),
        ("rimfire", "`rimfire-rifle; rimfire-pistol`, or one of them"),
        ("rimfires", "`rimfire-rifle; rimfire-pistol`, or one of them"),
        ("pistol", PISTOLS),
        ("pistols", PISTOLS),
        ("revolver", PISTOLS),
        ("revolvers", PISTOLS),
    ],
};

/// How a plate is held.
pub(super) const MOUNT: Words = Words {
    what: "mount",
    taken: &["open-hook", "captive-hook", "chain", "bolted", "welded"],
    same: &[
        ("hook", "open-hook"),
        ("hooks", "open-hook"),
        ("open-hooks", "open-hook"),
        ("captive-hooks", "captive-hook"),
        ("chains", "chain"),
        ("rigid", "bolted"),
    ],
    open: &[],
};

/// What a plate goes through.
pub(super) const DUTY: Words = Words { what: "duty", taken: &["private", "match", "public"], same: &[], open: &[] };

/// What steel a plate is.
pub(super) const STEEL: Words = Words {
    what: "steel",
    taken: &["ar500", "ar550", "ar400", "unknown", "other"],
    same: &[("ar-500", "ar500"), ("ar-550", "ar550"), ("ar-400", "ar400"), ("?", "unknown")],
    open: &[],
};

/// The state a plate is in.
pub(super) const CONDITION: Words = Words {
    what: "condition",
    taken: &["sound", "unknown", "pitted", "cratered", "cracked", "holed", "bowed"],
    same: &[
        ("new", "sound"),
        ("pits", "pitted"),
        ("craters", "cratered"),
        ("crack", "cracked"),
        ("dished", "bowed"),
        ("bent", "bowed"),
        ("?", "unknown"),
    ],
    open: &[],
};

/// What kind of target it is.
pub(super) const KIND: Words = Words {
    what: "kind",
    taken: &["plate", "falling", "popper", "spinner"],
    same: &[("gong", "plate"), ("falling-plate", "falling"), ("knockdown", "falling")],
    open: &[],
};

impl Words {
    /// The word as it is read; else what is wrong with it, and the words that are taken.
    pub fn read(&self, text: &str) -> Result<String, (String, String)> {
        let word = text.to_lowercase().replace('_', " ").split_whitespace().collect::<Vec<_>>().join("-");
        if self.taken.contains(&word.as_str()) {
            return Ok(word);
        }
        if let Some((_, known)) = self.same.iter().find(|(other, _)| *other == word) {
            return Ok((*known).to_owned());
        }
        if let Some((_, write)) = self.open.iter().find(|(other, _)| *other == word) {
            return Err((format!("`{}` leaves the {} open", text.trim(), self.what), (*write).to_owned()));
        }
        let taken: Vec<String> = self.taken.iter().map(|word| format!("`{word}`")).collect();
        let help = format!("write one of {}", taken.join(", "));
        Err((format!("`{}` is no {} that is known", text.trim(), self.what), help))
    }
}

/// The classes that words name: those of the rules, and what they are called besides. A shotgun fires two.
pub(super) fn named_classes(words: &[String]) -> Result<Vec<Class>, (String, String)> {
    let mut found: Vec<Class> = Vec::new();
    for word in words {
        let both = matches!(word.trim().to_lowercase().as_str(), "shotgun" | "shotguns");
        let named = if both { vec![Class::Shot, Class::Slug] } else { vec![class(word)?] };
        named.into_iter().for_each(|class| {
            if !found.contains(&class) {
                found.push(class);
            }
        });
    }
    Ok(found)
}

fn class(word: &str) -> Result<Class, (String, String)> {
    let read = CLASS.read(word)?;
    let found = Class::ALL.iter().copied().find(|class| class.to_string() == read);
    found.ok_or_else(|| (format!("`{}` is no class that is known", word.trim()), "write `rifle`, `handgun`".into()))
}

/// Classes in a file, by the same words.
pub(super) fn classes<'de, D: serde::Deserializer<'de>>(from: D) -> Result<Vec<Class>, D::Error> {
    let words = Vec::<String>::deserialize(from)?;
    named_classes(&words).map_err(|(message, help)| serde::de::Error::custom(format!("{message}\n{help}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_of_the_trade_is_the_same_or_a_stricter_one_or_its_fault_names_the_words_that_are_taken() {
        for (word, read) in [("Green Tip", "steel-core"), ("solid copper", "monolithic"), ("bonded", "jacketed-lead")] {
            assert_eq!(CONSTRUCTION.read(word).as_deref(), Ok(read));
        }
        for (words, word, help) in [
            (&CONSTRUCTION, "FMJ", "magnet"),
            (&CONSTRUCTION, "shiny", "`jacketed-lead`"),
            (&FIREARM, "carbine", "`pistol-carbine`"),
            (&FIREARM, "bow", "`rifle`"),
            (&CLASS, "rimfire", "rimfire-pistol"),
        ] {
            assert!(words.read(word).is_err_and(|(_, said)| said.contains(help)), "{word}");
        }
    }
}
