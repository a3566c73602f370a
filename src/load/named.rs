//! Names of loads that speak against what they are made of.

use super::Construction;

/// Beginnings of words of a load's name that a lead core does not bear out, and words that stand together.
#[rustfmt::skip]
const NOT_LEAD: [&str; 49] = [
    "monolit", "lathe", "penetrat", "tracer", "incendi", "armour", "armor", "pierc", "tungsten", "carbide",
    "bimetal", "m855", "xm855", "ss109", "stahlk", "hartkern", "hardcore", "magnet", "greentip", "blacktip", "m80a1",
    "m61", "m62", "m856", "m99", "ss190", "m2ap", "steelc", "steelj", "steelt", "monomet", "nontox", "leuchtspur",
    "wolfram", "vollkupfer", "explos", "raufoss", "apm2", "nonlead", "unleaded", "bleifrei", "perfora", "panzerb",
    "noyau", "núcleo", "nucleo", "traçant", "tracant", "trazador",
];
/// Whole words of it.
#[rustfmt::skip]
const WORDS: [&str; 34] = [
    "ap", "api", "apit", "apds", "slap", "mono", "7n6", "7n10", "7n22", "lps", "b32", "bz", "msc", "iron", "steel",
    "zinc", "ss110", "l110", "p96", "ferrous", "copper", "ap4", "7n14", "7n1", "stahl", "acier", "acero", "cuivre",
    "unknown", "proof", "mystery",
    "solids", "cuzn", "messing",
];
#[rustfmt::skip]
const NOT_LEAD_TOGETHER: [&str; 53] = [
    "bi-metal", "bi metal", "green tip", "green-tip", "black tip", "black-tip", "silver tip", "silver-tip",
    "red tip", "red-tip", "blue tip", "blue-tip", "orange tip", "orange-tip", "solid brass", "brass solid",
    "hardened core", "hard core", "hard-core", "lead-free", "lead free", "bullet unknown", "a. p.", "a p i",
    "ss-109", "ss 109", "b-32", "m2 ap", "no lead", "non-lead", "non lead", "non-toxic", "non toxic", "sans plomb",
    "turned brass", "cu solid", "steel core", "steel-core", "steel tip", "steel-tip", "steel jacket", "steel-jacket",
    "solid copper", "copper solid", "all copper", "steel shot", "steel insert", "mild steel", "mild-steel",
    "washed steel", "hardened steel", "magnet sticks", "a.p",
];
/// Words that stand together and speak of a case, a target or a sport.
#[rustfmt::skip]
const NOT_OF_THE_BULLET: [&str; 30] = [
    "steel cased", "steel-cased", "steel case", "steel-case", "lacquered steel", "steel challenge", "steel match",
    "steel target", "steel plate", "steel silhouette", "steel gong", "on steel", "for steel", "steel load",
    "steel safe", "not magnetic", "no magnet", "copper jacket", "copper-jacket", "copper plated", "copper-plated",
    "copper washed", "copper-washed", "copper wash", "copper coat", "copper-coat", "copper clad", "copper-clad",
    "copper gas check", "copper tube",
];

/// Words of a name for what is shoulder-fired, and what `rifle` may stand before that is none.
#[rustfmt::skip]
const LONG_GUNS: [&str; 12] = [
    "rifle", "rifles", "carbine", "carbines", "pcc", "shotgun", "lever gun", "levergun", "lever action", "leveraction",
    "long gun", "bolt action",
];
const OF_A_RIFLE: [&str; 5] = ["primer", "primers", "powder", "scope", "bullet"];

/// The word of a name that speaks of a long gun, but neither `rifle primers` nor the cartridge `.30 carbine`.
#[must_use]
pub fn long_gun_named(name: &str) -> Option<&'static str> {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let is_other = |at: usize| {
        let before = at.checked_sub(1).map(|before| words[before]);
        words.get(at + 1).is_some_and(|next| OF_A_RIFLE.contains(next))
            || (words[at] == "carbine" && before == Some("30"))
    };
    let at = |at: &usize| {
        let pair = words.get(at + 1).map(|next| format!("{} {next}", words[*at])).unwrap_or_default();
        LONG_GUNS.into_iter().find(|known| *known == words[*at] || *known == pair)
    };
    (0..words.len()).filter(|index| !is_other(*index)).find_map(|index| at(&index))
}

/// What is written of a load that speaks against the lead it is given as: what is wrong, and what to write.
pub fn spoken_against<'t>(
    construction: Construction,
    texts: impl IntoIterator<Item = &'t str>,
) -> Option<(String, &'static str)> {
    let is_jacketed = construction == Construction::JacketedLead;
    let speaks = |text: &&str| names_no_lead(text) || (is_jacketed && names_metal(text, &OF_A_JACKETED));
    let text = texts.into_iter().filter(|_| construction.is_lead_or_shot()).find(speaks)?;
    let help = "hold a magnet to the bullet, and give the construction that it has, or another name";
    Some((format!("`{text}` is called what {construction} is not"), help))
}

/// Words for a bullet of one metal that are words of other things too: alone, or behind a number, a unit or a cartridge,
/// they are of the bullet, and `Lapua brass` is of the case.
const METALS: [&str; 2] = ["brass", "bronze"];
/// The same of a jacketed bullet; one of lead is called solid where it has no hollow point.
const OF_A_JACKETED: [&str; 1] = ["solid"];
#[rustfmt::skip]
const BEFORE_A_METAL: [&str; 21] = [
    "win", "mag", "magnum", "rem", "spl", "special", "acp", "auto", "nato", "gr", "grain", "grains", "mm", "bullet",
    "bullets", "match", "creedmoor", "swaged", "pure", "all", "lm",
];
#[rustfmt::skip]
const BEHIND_A_METAL: [&str; 17] = [
    "case", "cases", "cased", "jacket", "jacketed", "tip", "tipped", "point", "washed", "plated", "lead", "nose", "base",
    "medal", "catcher", "prep", "shot",
];

/// Whether one of some metals is a bullet's by what stands before and behind it.
fn names_metal(name: &str, metals: &[&str]) -> bool {
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    (0..words.len()).filter(|at| metals.contains(&words[*at])).any(|at| {
        let before = at.checked_sub(1).map(|before| words[before]);
        let is_free = |word: &str| BEFORE_A_METAL.contains(&word) || word.starts_with(|c: char| c.is_ascii_digit());
        let is_case = words.get(at + 1).is_some_and(|next| BEHIND_A_METAL.contains(next));
        before.is_none_or(is_free) && !is_case
    })
}

/// Whether a load's name, or what is written of it, speaks of a bullet that has no plain lead core.
#[must_use]
pub fn names_no_lead(name: &str) -> bool {
    let name = name.to_lowercase();
    if NOT_LEAD_TOGETHER.iter().any(|words| name.contains(words)) {
        return true;
    }
    let name = NOT_OF_THE_BULLET.iter().fold(name, |name, words| name.replace(words, " "));
    let is_of = |word: &&str| NOT_LEAD.iter().any(|stem| word.starts_with(stem)) || WORDS.contains(word);
    name.split(|c: char| !c.is_alphanumeric()).any(|word| is_of(&word)) || names_metal(&name, &METALS)
}

/// Whether a text names such a bullet beyond what may be a person's name: `M855`, `steel core`, and not Pierce or Steele.
#[must_use]
pub fn designates_no_lead(text: &str) -> bool {
    let text = text.to_lowercase();
    let has_digit = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    words.iter().any(|word| has_digit(word) && names_no_lead(word))
        || NOT_LEAD_TOGETHER.iter().any(|together| text.contains(together))
        || words.windows(2).any(|pair| pair[0] == "steel" && pair[1] != "case" && pair[1] != "cased")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_speaks_of_a_core_that_is_no_lead_is_told_from_one_that_speaks_of_a_case_or_a_target() {
        for name in [
            "308 147 clings to magnet",
            "steel FMJ",
            "steel jkt",
            "copper plated steel",
            "greentip",
            "green-tip 62",
            "SS-109",
            "XM855",
            "A.P.",
            "M2AP",
            "B-32",
            "silver tip",
            "M856",
            "M62",
            "iron core",
            "zinc core",
            "hard core",
            "Stahlkern",
            "7.62 steel case, steel core",
            "unknown bullet",
            "construction unknown",
            "non-lead",
            "AP4",
            "7N14",
            "turned brass",
            "monometal",
            "Stahl",
            "proof load",
            "lead-free",
            "lead free",
            "for steel core",
            "solid copper-jacketed",
            "brass",
            "308 Win brass",
            "168 gr bronze",
            "bronze bullet",
            "solids",
            "CuZn 168",
        ] {
            assert!(names_no_lead(name), "{name}");
        }
        for name in [
            "steel-cased 147 gr ball",
            "my steel challenge load",
            "200 gr for steel",
            "bronze tip",
            "Lapua brass",
            "once fired brass",
            "brass cased 55 gr",
            "bronze point 130 gr",
            "38 special",
            "copper-jacketed 150 gr",
        ] {
            assert!(!names_no_lead(name), "{name}");
        }
    }

    #[test]
    fn a_solid_of_jacketed_lead_is_none_and_one_of_lead_is() {
        let spoken = |construction, name| spoken_against(construction, [name]).is_some();
        assert!(
            spoken(Construction::JacketedLead, "solid") && spoken(Construction::JacketedLead, "375 HH 300 gr solid")
        );
        assert!(!spoken(Construction::Lead, "22 LR solid") && !spoken(Construction::JacketedLead, "solid base 150 gr"));
    }

    #[test]
    fn a_long_gun_is_told_from_its_primers_and_its_cartridge() {
        for name in ["357 Magnum lever gun", "lever-action", "357 rifle", "9 mm carbine", "PCC 9mm"] {
            assert!(long_gun_named(name).is_some(), "{name}");
        }
        for name in ["small rifle primers", ".30 Carbine", "rifled", "357 Magnum", "2 rifle powder"] {
            assert_eq!(long_gun_named(name), None, "{name}");
        }
    }

    #[test]
    fn a_designation_is_told_from_a_person_s_name() {
        for text in ["Joe M855", "Joe SS109", "steel core ok", "Ann green tip"] {
            assert!(designates_no_lead(text), "{text}");
        }
        for text in ["Ann Pierce", "Bob Steele", "Joe Armour", "bib 855", "steel"] {
            assert!(!designates_no_lead(text), "{text}");
        }
    }
}
