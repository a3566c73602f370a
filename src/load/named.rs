//! Names of loads that speak against what they are made of.

use super::Construction;

/// Beginnings of words of a load's name that a lead core does not bear out, and words that stand together.
const NOT_LEAD: [&str; 17] = [
    "monolit",
    "lathe",
    "penetrat",
    "tracer",
    "incendi",
    "armour",
    "armor",
    "pierc",
    "tungsten",
    "bimetal",
    "m855",
    "ss109",
    "steelcore",
    "m80a1",
    "m61",
    "m99",
    "ss190",
];
/// Whole words of it.
const WORDS: [&str; 11] = ["ap", "api", "apit", "apds", "slap", "mono", "7n6", "7n10", "7n22", "lps", "b32"];
const NOT_LEAD_TOGETHER: [&str; 23] = [
    "steel core",
    "steel-core",
    "steel tip",
    "steel-tip",
    "steel jacket",
    "steel-jacket",
    "bi-metal",
    "bi metal",
    "green tip",
    "black tip",
    "solid copper",
    "copper solid",
    "solid brass",
    "brass solid",
    "all copper",
    "steel shot",
    "steel insert",
    "mild steel",
    "mild-steel",
    "washed steel",
    "hardened steel",
    "hardened core",
    "magnet sticks",
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
    let is_of = |word: &&str| NOT_LEAD.iter().any(|stem| word.starts_with(stem)) || WORDS.contains(word);
    name.split(|c: char| !c.is_alphanumeric()).any(|word| is_of(&word))
        || NOT_LEAD_TOGETHER.iter().any(|words| name.contains(words))
}
