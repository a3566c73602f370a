//! Words for other steels than AR500 and for plates that are spent, in labels, notes and names.

use crate::source::words_of;

/// Words for steels that targets are not cut from, and for what is no steel, wherever they stand.
#[rustfmt::skip]
const OTHER_STEELS: [&str; 20] = [
    "mild", "structural", "stainless", "aluminium", "aluminum", "titanium", "boiler", "corten", "weathering", "rebar",
    "hrs", "crs", "hotrolled", "coldrolled", "weldox", "galvanized", "galvanised", "baustahl", "lexan", "plywood",
];
/// Such words that are parts of other names as well, `iron maiden` and `soft cover`: of a steel in a label, and in a
/// name only before one of the others.
#[rustfmt::skip]
const STEELS_BY_LABEL: [&str; 8] = ["soft", "carbon", "armour", "armor", "iron", "brass", "bronze", "cast"];
const BEHIND_A_STEEL: [&str; 5] = ["steel", "plate", "plates", "iron", "sheet"];
/// Beginnings of words that a target's name has for them besides.
const STEELS_BY_NAME: [&str; 1] = ["hardox"];
/// Numbers of the standards for structural and vessel plate, behind an A, and of structural steels behind an S.
const STRUCTURAL: [&str; 11] = ["36", "283", "285", "514", "515", "516", "572", "588", "656", "709", "992"];
const STRUCTURAL_S: [&str; 8] = ["235", "275", "355", "420", "460", "690", "700", "960"];
/// Numbers of alloys, alone; the first are distances in a name.
const CARBON_ALLOYS: [&str; 3] = ["1018", "1020", "1045"];
const ALLOYS: [&str; 5] = ["4130", "4140", "4142", "4340", "8620"];
/// What a number before it is a hardness by.
/// The hardness that AR500 has itself, by Brinell and by Rockwell (from memory).
const OWN_BRINELL: std::ops::RangeInclusive<u32> = 470..=550;
const OWN_ROCKWELL: std::ops::RangeInclusive<u32> = 47..=55;
const HARDNESSES: [&str; 5] = ["bhn", "hb", "hbw", "hrc", "brinell"];
/// Beginnings of words for a plate that is spent.
#[rustfmt::skip]
const SPENT: [&str; 20] = [
    "reweld", "curled", "crater", "pitted", "reject", "scrap", "bowed", "retired", "damag", "dished", "warp", "gouge", "condemn", "chipped", "pockmark", "buckled", "straightened", "repaired", "fractur", "deformed",
];
/// Whole words for it: `dental`, `Bentley` and `cracker` are others.
const SPENT_WORDS: [&str; 9] = ["bent", "dent", "dents", "dented", "denting", "crack", "cracks", "cracked", "cracking"];
/// Words for it that stand together.
#[rustfmt::skip]
const SPENT_TOGETHER: [&str; 9] = [
    "do not use", "do not shoot", "shot out", "shot up", "shot through", "worn out", "out of service", "heat damage",
    "not safe",
];
/// Beginnings of words for holes: of a target that is shot they are damage, and of a drawing cuts.
const HOLED: [&str; 2] = ["hole", "split"];

/// The steel that a label names, where that is not AR500.
#[must_use]
pub fn other_steel(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let words = words_of(&lower);
    let letters = |word: &str| word.chars().all(char::is_alphabetic);
    let pairs = words.windows(2).filter(|pair| letters(pair[0])).map(<[&str]>::concat);
    let alone = words.iter().map(|word| (*word).to_owned());
    let is_word = |word: &str| OTHER_STEELS.contains(&word) || STEELS_BY_LABEL.contains(&word);
    let named = alone.chain(pairs).chain(hardnesses(&words)).find(|word| is_word(word) || is_other_grade(word));
    named.map(|word| if is_other_grade(&word) { word.to_uppercase() } else { word })
}

/// The steel that a target's or a drawing's name has in it, where that is not AR500: fewer words than a label's, for
/// `T1`, `A-36` and `iron maiden` are names.
#[must_use]
pub fn steel_named(name: &str) -> Option<String> {
    let lower = name.to_lowercase();
    let words = words_of(&lower);
    // `mildsteel` and `boilerplate`, and not Mildred's.
    let is_steel = |word: &str| OTHER_STEELS.contains(&["steel", "plate"].iter().fold(word, |w, end| bare(w, end)));
    let is_word = |word: &&&str| {
        is_steel(word) || STEELS_BY_NAME.iter().any(|stem| word.starts_with(stem)) || is_grade_in_a_name(word)
    };
    let before = |pair: &&[&str]| {
        // AR500 is called armour as well.
        let is_own = pair[0].starts_with("armo") && words.contains(&"ar500");
        let is_unclear = STEELS_BY_LABEL.contains(&pair[0]) && !is_own || pair[0] == "unknown";
        is_unclear && BEHIND_A_STEEL.contains(&pair[1])
            || pair[0] == "ar" && is_grade_in_a_name(&pair.concat())
            || pair[1] == "rolled" && OTHER_STEELS.contains(&pair.concat().as_str())
    };
    let alone = words.iter().find(is_word).map(|word| (*word).to_owned());
    let pair = || words.windows(2).find(before).map(|pair| pair.join(" "));
    alone.or_else(pair).or_else(|| hardnesses(&words).find(|word| is_other_grade(word)))
}

/// A word without an ending that was written together with it.
fn bare<'w>(word: &'w str, end: &str) -> &'w str {
    word.strip_suffix(end).unwrap_or(word)
}

/// Hardnesses beside their numbers, `400 hb`, `HB 400` and `400hb`, as grades are written.
fn hardnesses<'w>(words: &'w [&str]) -> impl Iterator<Item = String> + 'w {
    let is_number = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let pair = move |pair: &'w [&str]| match pair {
        [number, unit] if HARDNESSES.contains(unit) => Some([*unit, *number].concat()),
        [unit, number] if HARDNESSES.contains(unit) && is_number(number) => Some([*unit, *number].concat()),
        _ => None,
    };
    let joined = move |word: &&'w str| {
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
        let number = &word[..word.len() - unit.len()];
        (HARDNESSES.contains(&unit) && !number.is_empty()).then(|| [unit, number].concat())
    };
    words.windows(2).filter_map(pair).chain(words.iter().filter_map(joined))
}

/// Letters and the digits behind them, without what closes the word: `ar` and `450` of `ar450f`.
fn grade(word: &str) -> Option<(&str, &str)> {
    let digits = word.trim_start_matches(|c: char| c.is_ascii_alphabetic());
    let (letters, digits) = (&word[..word.len() - digits.len()], digits.trim_end_matches(char::is_alphabetic));
    (!digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())).then_some((letters, digits))
}

/// Whether a word is a grade other than AR500: `ar400`, `a36`, `s355`, `hb400`, `t1`.
fn is_other_grade(word: &str) -> bool {
    if ALLOYS.contains(&word) || CARBON_ALLOYS.contains(&word) {
        return true;
    }
    let Some((letters, digits)) = grade(word) else { return false };
    match letters {
        "ar" | "hardox" => digits != "500",
        "a" => STRUCTURAL.contains(&digits),
        "s" => digits.len() == 3,
        "t" => digits == "1",
        "st" => ["37", "52"].contains(&digits),
        "q" => ["235", "345", "355"].contains(&digits),
        "hb" | "hbw" | "hrc" | "bhn" | "brinell" => is_other_hardness(letters, digits),
        "grade" | "gr" => digits.len() > 1 && digits != "500",
        _ => false,
    }
}

/// Whether a hardness is none that AR500 has.
fn is_other_hardness(scale: &str, digits: &str) -> bool {
    let own = if scale == "hrc" { OWN_ROCKWELL } else { OWN_BRINELL };
    digits.len() > 1 && digits.parse().is_ok_and(|hardness| !own.contains(&hardness))
}

/// Whether a word of a name is one: not `AR15`, `T1`, `S100`, a firearm, a target and a distance.
fn is_grade_in_a_name(word: &str) -> bool {
    let Some((letters, digits)) = grade(word) else { return false };
    ALLOYS.contains(&word)
        || match letters {
            "ar" => digits.len() == 3 && digits != "500",
            "a" => STRUCTURAL.contains(&digits),
            "s" => STRUCTURAL_S.contains(&digits),
            "st" | "q" => is_other_grade(word),
            "hb" | "hbw" | "bhn" | "brinell" => is_other_hardness(letters, digits),
            _ => false,
        }
}

/// The word of a text that speaks of a spent plate.
#[must_use]
pub fn damage_named(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let is_spent = |word: &&str| SPENT_WORDS.contains(word) || SPENT.iter().any(|stem| word.starts_with(stem));
    let word = words_of(&lower).into_iter().find(is_spent);
    let together = || SPENT_TOGETHER.into_iter().find(|words| lower.contains(words));
    word.or_else(together).map(str::to_owned)
}

/// Whether a name speaks of holes: of a plate that was shot through, or of one that was cut so.
#[must_use]
pub fn holes_named(name: &str) -> bool {
    let lower = name.to_lowercase();
    words_of(&lower).iter().any(|word| HOLED.iter().any(|stem| word.starts_with(stem)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_of_another_steel_is_told_from_one_that_looks_like_it() {
        for name in [
            "AR400 gong",
            "AR 400",
            "ar-550",
            "AR450F",
            "mild steel gong",
            "mildsteel",
            "A36 plate",
            "S355",
            "Hardox 450",
            "boiler plate",
            "boilerplate",
            "unknown steel",
            "soft steel",
            "cast iron skillet",
            "iron plate",
            "stainless gong",
            "400 HB gong",
            "4140 gong",
        ] {
            assert!(steel_named(name).is_some(), "{name}");
        }
        for name in [
            "AR500 gong",
            "AR-500",
            "T1",
            "Mildred",
            "S100",
            "A-36",
            "AR15 rack",
            "AR-10 gong",
            "iron maiden",
            "soft cover",
            "1020",
            "bronze medal stage",
            "500 BHN gong",
            "cast away",
            "gr 12",
        ] {
            assert_eq!(steel_named(name), None, "{name}");
        }
    }

    #[test]
    fn a_name_of_a_spent_plate_is_told_from_one_of_a_sound_one() {
        for name in [
            "cracked gong",
            "pitted.svg",
            "Bent",
            "dished",
            "shot-out, shot up",
            "do not use",
            "scrap",
            "dents",
            "rewelded",
        ] {
            assert!(damage_named(name).is_some(), "{name}");
        }
        for name in
            ["gong", "head", "four-hole gong", "split", "dental", "Bentley", "shooter 3", "firecracker", "crackerbox"]
        {
            assert_eq!(damage_named(name), None, "{name}");
        }
        assert!(holes_named("four-hole gong") && holes_named("Holed") && !holes_named("whole"));
    }
}
