//! Words of the trade in a spreadsheet's cells, and heads and cells that speak of what is judged where nothing reads
//! them.

use crate::quantity::{Angle, Energy, Length, Mass, Temperature, Velocity, parse};

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
        ("jacketed", "jacketed-lead"),
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
        ("pistol", "handgun"),
        ("pistols", "handgun"),
        ("revolver", "handgun"),
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
        ("shotgun", "`shot; slug`, or one of them"),
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
        let word = text.trim().to_lowercase().replace([' ', '_'], "-");
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

/// Words in the head of a column that no known one takes, and that speak of what is judged.
const HEADS: [(&str, &str); 46] = [
    ("velocity", SPEED),
    ("speed", SPEED),
    ("chrono", SPEED),
    ("chronograph", SPEED),
    ("fps", SPEED),
    ("v0", SPEED),
    ("mv", SPEED),
    ("muzzle", SPEED),
    ("power", SPEED),
    ("pf", SPEED),
    ("energy", SPEED),
    ("core", CORE),
    ("jacket", CORE),
    ("tip", CORE),
    ("magnet", CORE),
    ("magnetic", CORE),
    ("bullet", CORE),
    ("projectile", CORE),
    ("distance", NEAR),
    ("closest", NEAR),
    ("nearest", NEAR),
    ("near", NEAR),
    ("walk", NEAR),
    ("range", NEAR),
    ("yards", NEAR),
    ("yardage", NEAR),
    ("yds", NEAR),
    ("metres", NEAR),
    ("meters", NEAR),
    ("damage", STATE),
    ("crater", STATE),
    ("craters", STATE),
    ("crack", STATE),
    ("cracks", STATE),
    ("pits", STATE),
    ("hardness", STEEL),
    ("brinell", STEEL),
    ("alloy", STEEL),
    ("grade", STEEL),
    ("lean", LEAN),
    ("tilt", LEAN),
    ("angle", LEAN),
    ("turn", LEAN),
    ("oblique", LEAN),
    ("thick", "`plate (in)`"),
    ("thickness", "`plate (in)`"),
];
const SPEED: &str = "`velocity (ft/s)` beside the load's own bullet, bc and drag";
const CORE: &str = "`construction`";
const NEAR: &str = "`at (yd)`, or `to (yd)` for the nearest point a shooter may get to";
const STATE: &str = "`condition`";
const STEEL: &str = "`steel`";
const LEAN: &str = "`tilt (deg)` or `slope (deg)`";

/// Whether a head that is not read speaks of what is judged; the columns that it may be meant for.
pub(super) fn judged_head(title: &str) -> Option<String> {
    let name = title.to_lowercase();
    let has = |word: &str| name.split(|c: char| !c.is_alphanumeric()).any(|part| part == word);
    if let Some((_, write)) = HEADS.iter().find(|(word, _)| has(word)) {
        return Some((*write).to_owned());
    }
    let (_, inside) = name.split_once(['(', '['])?;
    let one = format!("1 {}", inside.trim_end().trim_end_matches([')', ']']).trim());
    let measured = parse::<Velocity>(&one).is_ok()
        || parse::<Length>(&one).is_ok()
        || parse::<Energy>(&one).is_ok()
        || parse::<Mass>(&one).is_ok()
        || parse::<Angle>(&one).is_ok()
        || parse::<Temperature>(&one).is_ok();
    measured.then(|| "the column that it is meant for".into())
}

/// Words in a cell that speak of bullet, steel or face.
const CELLS: [&str; 52] = [
    "steel",
    "core",
    "magnet",
    "magnetic",
    "sticks",
    "bimetal",
    "penetrator",
    "tracer",
    "incendiary",
    "api",
    "ap",
    "armour",
    "armor",
    "piercing",
    "copper",
    "tungsten",
    "crack",
    "cracked",
    "cracks",
    "crater",
    "cratered",
    "craters",
    "pits",
    "pitted",
    "dent",
    "dented",
    "dents",
    "bowed",
    "bent",
    "dished",
    "hole",
    "holed",
    "holes",
    "weld",
    "welded",
    "lean",
    "leans",
    "leaning",
    "tilt",
    "tilted",
    "angled",
    "mild",
    "ar400",
    "ar550",
    "hardness",
    "brinell",
    "damage",
    "damaged",
    "burr",
    "overcharge",
    "hotter",
    "faster",
];
/// Units in a cell whose number may be one that counts.
const UNITS: [&str; 16] = [
    "fps", "ft/s", "m/s", "yd", "yds", "yard", "yards", "metres", "meters", "ft-lb", "ft-lbf", "ft·lbf", "deg",
    "degrees", "°", "grains",
];

/// Whether a cell that is not read speaks of what is judged.
pub(super) fn judged_cell(text: &str) -> bool {
    let text = text.to_lowercase();
    let words = text.split(|c: char| !c.is_alphanumeric());
    if words.into_iter().any(|word| CELLS.contains(&word)) {
        return true;
    }
    let mut before = "";
    text.split_whitespace().map(|part| part.trim_matches([',', ';', ':', '.', '(', ')'])).any(|part| {
        let unit = part.trim_start_matches(|c: char| c.is_ascii_digit() || ".,-+".contains(c));
        let is_number = |word: &str| word.chars().next_back().is_some_and(|c| c.is_ascii_digit());
        let counts = UNITS.contains(&unit) && (unit.len() < part.len() || is_number(before));
        before = part;
        counts
    })
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

    #[test]
    fn heads_and_cells_that_speak_of_what_is_judged_are_told_from_annotations() {
        for head in
            ["closest (yd)", "chrono (ft/s)", "core", "magnet test", "jacket", "walk to (yd)", "damage", "OAL (in)"]
        {
            assert!(judged_head(head).is_some(), "{head}");
        }
        for head in ["notes", "set by", "who sets it", "squad", "notes (optional)", "last name"] {
            assert!(judged_head(head).is_none(), "{head}");
        }
        for cell in ["magnet sticks", "hairline crack left of the hole", "clocked 3150 fps", "moved to 50yd"] {
            assert!(judged_cell(cell), "{cell}");
        }
        for cell in ["left-handed, box 2", "new barrel", "asks to shoot last, from the back", "the road crew", "pit 3"]
        {
            assert!(!judged_cell(cell), "{cell}");
        }
    }
}
