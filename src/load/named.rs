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
const WORDS: [&str; 31] = [
    "ap", "api", "apit", "apds", "slap", "mono", "7n6", "7n10", "7n22", "lps", "b32", "bz", "msc", "iron", "steel",
    "zinc", "ss110", "l110", "p96", "ferrous", "copper", "ap4", "7n14", "7n1", "stahl", "acier", "acero", "cuivre",
    "unknown", "proof", "mystery",
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

/// What is written of a load that speaks against the lead it is given as: what is wrong, and what to write.
pub fn spoken_against<'t>(
    construction: Construction,
    texts: impl IntoIterator<Item = &'t str>,
) -> Option<(String, &'static str)> {
    let text = texts.into_iter().filter(|_| construction.is_lead_or_shot()).find(|text| names_no_lead(text))?;
    let help = "hold a magnet to the bullet, and give the construction that it has, or another name";
    Some((format!("`{text}` is called what {construction} is not"), help))
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
    name.split(|c: char| !c.is_alphanumeric()).any(|word| is_of(&word))
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
        ] {
            assert!(names_no_lead(name), "{name}");
        }
        for name in [
            "steel-cased 147 gr ball",
            "my steel challenge load",
            "200 gr for steel",
            "bronze bullet",
            "38 special",
            "copper-jacketed 150 gr",
        ] {
            assert!(!names_no_lead(name), "{name}");
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
