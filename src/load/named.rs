//! Names of loads that speak against what they are made of.

use super::Construction;
use crate::source::words_of;

/// Words of a load's name: beginnings, whole words, and words that stand together.
struct Words {
    stems: &'static [&'static str],
    whole: &'static [&'static str],
    together: &'static [&'static str],
}

/// Words that a lead core does not bear out, of what a magnet tells.
#[rustfmt::skip]
const OF_STEEL: Words = Words {
    stems: &[
        "penetrat", "bimetal", "m855", "xm855", "ss109", "stahl", "7n", "greentip", "blacktip", "m80a1", "ss190",
        "steelc", "steelj", "steelt", "noyau", "núcleo", "nucleo", "57n",
    ],
    whole: &[
        "lps", "msc", "iron", "steel", "ss110", "l110", "p96", "ferrous", "acier", "acero", "m33", "hardened",
    ],
    together: &[
        "bi-metal", "bi metal", "green tip", "green-tip", "hardened core", "hard core", "hard-core", "ss-109",
        "ss 109", "steel core", "steel-core", "steel tip", "steel-tip", "steel jacket", "steel-jacket", "steel shot",
        "steel insert", "mild steel", "mild-steel", "washed steel", "hardened steel", "magnet sticks", "57-n", "57 n",
        "ps ball",
    ],
};
/// The same of what no magnet tells: a tracer, a solid of copper, a core of tungsten.
#[rustfmt::skip]
const OF_NO_STEEL: Words = Words {
    stems: &[
        "monolit", "lathe", "tracer", "incendi", "armour", "armor", "pierc", "tungsten", "carbide", "mk211",
        "leadfree", "bismut", "allcopp", "hartkern", "hardcore", "m61", "m62", "m856", "m99", "m2ap", "monomet",
        "nontox", "leuchtspur", "wolfram", "vollkupfer", "explos", "raufoss", "apm2", "nonlead", "unleaded",
        "bleifrei", "perfora", "panzerb", "traçant", "tracant", "trazador", "explod",
    ],
    whole: &[
        "ap", "api", "apit", "apds", "slap", "mono", "bz", "b32", "zinc", "copper", "ap4", "cuivre", "m8", "m20",
        "tss", "solids", "cuzn", "messing", "epr", "monos", "ttsx", "tsx", "gmx", "lrx",
    ],
    together: &[
        "black tip", "black-tip", "silver tip", "silver-tip", "red tip", "red-tip", "blue tip", "blue-tip",
        "orange tip", "orange-tip", "solid brass", "brass solid", "lead-free", "lead free", "a. p.", "a p i", "b-32",
        "m2 ap", "no lead", "non-lead", "non lead", "non-toxic", "non toxic", "sans plomb", "turned brass",
        "cu solid", "solid copper", "copper solid", "all copper", "a.p", "metal solid", "yellow tip", "yellow-tip",
        "s.m.k", "p.m.k", "depleted uranium",
    ],
};
/// Words that leave open what the bullet is.
#[rustfmt::skip]
const OPEN: Words = Words {
    stems: &[
        "magnet",
    ],
    whole: &[
        "unknown", "mystery", "proof",
    ],
    together: &[
        "bullet unknown",
    ],
};
/// Short names in the letters that they are written in: `SMK` is a match bullet, and `SmK` has a core of steel.
const AS_WRITTEN: [&str; 3] = ["SmK", "PmK", "DU"];
/// Words that stand together and say that there is no steel in it, or speak of the primer.
#[rustfmt::skip]
const NO_STEEL: [&str; 17] = [
    "no steel core", "no steel jacket", "no steel", "without steel", "not steel", "non-magnetic", "non magnetic",
    "nonmagnetic", "not magnetic", "passes magnet", "passed magnet", "lead free primer", "lead-free primer",
    "hardened lead", "hardened cast", "water hardened", "hardened alloy",
];
/// Words that stand together and speak of a case, a target or a sport.
#[rustfmt::skip]
const NOT_OF_THE_BULLET: [&str; 34] = [
    "steelcase", "steel cased", "steel-cased", "steel case", "steel-case", "lacquered steel", "steel challenge", "steel match",
    "steel target", "exploding target", "steel plate", "steel silhouette", "steel gong", "on steel", "for steel", "steel load",
    "steel safe", "steel stage", "yd steel", "yard steel", "no magnet", "copper jacket", "copper-jacket", "copper plated", "copper-plated",
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
    let words = words_of(&lower);
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
    if construction == Construction::Unknown {
        return says_unsaid(true, texts);
    }
    let is_jacketed = construction == Construction::JacketedLead;
    let is_ball = |text: &str| construction == Construction::Lead && has_word(text, &STEEL_BALLS);
    let speaks =
        |text: &&str| names_no_lead(text) || is_ball(text) || (is_jacketed && names_metal(text, &OF_A_JACKETED));
    let text = texts.into_iter().filter(|_| construction.is_lead_or_shot()).find(speaks)?;
    let help = "hold a magnet to the bullet, and give the construction that it has, or another name";
    Some((format!("`{text}` is called what {construction} is not"), help))
}

/// What an air gun's balls are called, which are of steel; of shot it is a size.
const STEEL_BALLS: [&str; 2] = ["bb", "bbs"];

fn has_word(text: &str, words: &[&str]) -> bool {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| words.contains(&word))
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
const BEHIND_A_METAL: [&str; 19] = [
    "case", "cases", "cased", "jacket", "jacketed", "tip", "tipped", "point", "washed", "plated", "lead", "nose", "base",
    "medal", "catcher", "prep", "shot", "reload", "reloads",
];

/// Whether a text that is of a bullet calls it solid: `solid`, `300 gr solid`, and not `a solid shooter`.
#[must_use]
pub fn names_solid(text: &str) -> bool {
    let lower = text.to_lowercase();
    let is_last = words_of(&lower).last().is_some_and(|word| OF_A_JACKETED.contains(word));
    is_last && names_metal(&lower, &OF_A_JACKETED)
}

/// Whether one of some metals is a bullet's by what stands before and behind it.
fn names_metal(name: &str, metals: &[&str]) -> bool {
    let lower = name.to_lowercase();
    let words = words_of(&lower);
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
    names(name, &[&OF_STEEL, &OF_NO_STEEL, &OPEN]) || names_metal(&of_the_bullet(name), &METALS)
}

/// What a name says its bullet is made of, where nobody said it otherwise: what is wrong, and what to write. Of a load
/// that is said to be `unknown`, what no magnet would tell.
pub fn says_unsaid<'t>(is_said: bool, texts: impl IntoIterator<Item = &'t str>) -> Option<(String, &'static str)> {
    let lists: &[&Words] = if is_said { &[&OF_NO_STEEL] } else { &[&OF_STEEL, &OF_NO_STEEL] };
    let text = texts.into_iter().find(|text| names(text, lists))?;
    let help = "write the construction that its name says, such as `tracer`, `armour-piercing`, `steel-core` or \
                `monolithic`; or give it another name";
    Some((format!("`{text}` says what its bullet is made of, and its construction does not"), help))
}

fn without(name: &str, list: &[&str]) -> String {
    list.iter().fold(name.to_owned(), |name, words| name.replace(words, " "))
}

/// A name without what it says of a case, a target or a sport, and without the steel that it denies.
fn of_the_bullet(name: &str) -> String {
    without(&without(&spaced(&name.to_lowercase()), &NO_STEEL), &NOT_OF_THE_BULLET)
}

/// Whether a name has one of some words.
fn names(name: &str, lists: &[&Words]) -> bool {
    let lower = without(&spaced(&name.to_lowercase()), &NO_STEEL);
    let of_bullet = of_the_bullet(name);
    let words = words_of(&of_bullet);
    let is_of =
        |word: &str, list: &Words| list.stems.iter().any(|stem| word.starts_with(stem)) || list.whole.contains(&word);
    lists.iter().any(|list| {
        list.together.iter().any(|together| lower.contains(together))
            || words.iter().any(|word| is_of(word, list))
            || designations(&words).any(|word| is_of(&word, list))
    }) || words_of(name).iter().any(|word| AS_WRITTEN.contains(word))
}

/// A text with one space or one hyphen between its words, however they were parted: `green_tip`, `green –  tip`.
fn spaced(text: &str) -> String {
    let is_dash = |c: char| matches!(c, '-' | '_' | '\u{2010}'..='\u{2015}' | '\u{2212}');
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        let c = if c.is_whitespace() || c == '_' {
            ' '
        } else if is_dash(c) {
            '-'
        } else {
            c
        };
        match (out.chars().next_back(), c) {
            (Some(' ' | '-'), ' ') => {}
            (Some(' '), '-') => {
                out.pop();
                out.push('-');
            }
            _ => out.push(c),
        }
    }
    out
}

/// Letters and the number behind them as one word, `M 855` and `M-855` as `m855`.
fn designations<'t>(words: &'t [&str]) -> impl Iterator<Item = String> + 't {
    let is_letters = |word: &str| word.len() <= 2 && word.chars().all(char::is_alphabetic);
    let is_number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    words.windows(2).filter(move |pair| is_letters(pair[0]) && is_number(pair[1])).map(<[&str]>::concat)
}

/// Whether a text names such a bullet beyond what may be a person's name: `M855`, `steel core`, and not Pierce or Steele.
#[must_use]
pub fn designates_no_lead(text: &str) -> bool {
    let text = text.to_lowercase();
    let has_digit = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let words = words_of(&text);
    words.iter().any(|word| has_digit(word) && names_no_lead(word))
        || [&OF_STEEL, &OF_NO_STEEL, &OPEN].iter().any(|list| list.together.iter().any(|words| text.contains(words)))
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
            "M 855",
            "M-855 62 gr",
            "Mk 211",
            "7N21",
            "leadfree",
            "gilding metal solid",
            "Stahlschrot",
            "no steel case, steel core",
            "green_tip",
            "green  tip",
            "green \u{2013} tip",
            "lead_free 62 gr",
            "SmK",
            "S.m.K.",
            "EPR",
            "DU",
            "hardened",
            "exploding",
            "yellow tip",
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
            "147 gr ball, no steel core",
            "passes magnet test",
            "non-magnetic",
            "for the steel stage",
            "lead free primer FMJ",
            "308 brass reload 168 gr",
            "7.62 x 51",
            "M 80 ball",
            "168 SMK",
            "168 gr smk",
            "hardened lead",
            "Du Bois special",
            "exploding target load",
        ] {
            assert!(!names_no_lead(name), "{name}");
        }
    }

    #[test]
    fn a_name_that_says_what_nobody_said_is_told_and_of_a_bullet_said_to_be_unknown_what_no_magnet_tells() {
        let of = |is_said, name| says_unsaid(is_said, [name]).is_some();
        for name in ["tracer", "M856 tracer", "armor piercing", "AP", "API", "black tip", "solid copper"] {
            assert!(of(false, name) && of(true, name), "{name}");
        }
        for name in ["steel core", "M855", "7N6", "LPS"] {
            assert!(of(false, name) && !of(true, name), "{name}");
        }
        for name in ["unknown bullet", "surplus", "mystery", "308 ball", "steel case"] {
            assert!(!of(false, name), "{name}");
        }
    }

    #[test]
    fn a_solid_of_jacketed_lead_is_none_and_one_of_lead_is() {
        let spoken = |construction, name| spoken_against(construction, [name]).is_some();
        assert!(
            spoken(Construction::JacketedLead, "solid") && spoken(Construction::JacketedLead, "375 HH 300 gr solid")
        );
        assert!(spoken(Construction::Lead, "4.5 mm BB") && !spoken(Construction::LeadShot, "BB 1 oz"));
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
