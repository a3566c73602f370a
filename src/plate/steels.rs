//! Words for other steels than AR500 and for plates that are spent, in labels, notes and names.

use crate::source::words_of;

/// Words for steels that targets are not cut from, and for what is no steel, wherever they stand.
#[rustfmt::skip]
const OTHER_STEELS: [&str; 27] = [
    "mild", "structural", "stainless", "aluminium", "aluminum", "titanium", "boiler", "corten", "weathering", "rebar",
    "hrs", "crs", "hotrolled", "coldrolled", "weldox", "galvanized", "galvanised", "baustahl", "lexan", "plywood",
    "domex", "plow", "plough", "inox", "edelstahl", "annealed", "manhole",
];
/// Such words that are parts of other names as well, `iron maiden` and `soft cover`: of a steel in a label, and in a
/// name only before one of the others.
#[rustfmt::skip]
const STEELS_BY_LABEL: [&str; 8] = ["soft", "carbon", "armour", "armor", "iron", "brass", "bronze", "cast"];
#[rustfmt::skip]
const BEHIND_A_STEEL: [&str; 13] = [
    "steel", "plate", "plates", "iron", "sheet", "gong", "gongs", "target", "targets", "disc", "disk", "slab", "metal",
];
/// Words for a steel that nobody knows, and what they may be of.
#[rustfmt::skip]
const NOT_KNOWN: [&str; 8] = [
    "unknown", "mystery", "unidentified", "unspecified", "uncertain", "unsure", "questionable", "unverified",
];
#[rustfmt::skip]
const OF_A_STEEL: [&str; 9] = [
    "steel", "metal", "alloy", "material", "grade", "hardness", "ar500", "maker", "stamp",
];
/// Letters for other steels and metals, in a text that is of the material and says nothing else of it.
const ABBREVIATED: [&str; 6] = ["ms", "ss", "cs", "gi", "al", "alu"];
/// Makers' words before the hardness of plate that wears little, as `ar` is.
const WEAR_PLATES: [&str; 5] = ["ar", "hardox", "xar", "nm", "quard"];
/// Numbers of stainless grades, behind SS or before it.
#[rustfmt::skip]
const STAINLESS: [&str; 9] = ["303", "304", "304l", "316", "316l", "321", "410", "420", "430"];
/// Numbers of aluminium alloys, beside a word for the metal or for its temper, `t6`.
const ALUMINIUM: [&str; 8] = ["6061", "6063", "6082", "5052", "5083", "5754", "7075", "2024"];
/// Numbers of structural, tool and stainless steels in the European standard: none is a part of an inch.
#[rustfmt::skip]
const NUMBERED: [&str; 20] = [
    "1.0036", "1.0037", "1.0038", "1.0044", "1.0045", "1.0114", "1.0117", "1.0330", "1.0332", "1.0335", "1.0503", "1.0553",
    "1.0570", "1.0577", "1.1191", "1.4301", "1.4307", "1.4401", "1.4404", "1.4571",
];
/// The strengths that structural plate has grades of, ksi.
const GRADES_KSI: [&str; 7] = ["36", "42", "50", "55", "60", "65", "70"];
/// How many words apart they stand at most: `steel type unknown`.
const BESIDE: usize = 2;
/// Words that stand together and say that nothing proves the steel.
#[rustfmt::skip]
const UNPROVEN: [&str; 26] = [
    "no stamp", "no stamps", "unstamped", "not stamped", "without stamp", "stamp missing", "stamp gone", "not marked",
    "unmarked steel", "unmarked plate", "no steel mark", "no grade mark", "disc blade", "disk blade", "leaf spring",
    "no ar stamp", "no ar mark", "black iron", "wrought iron", "low carbon", "rail steel", "tool steel", "spring steel",
    "acier doux", "unmarked", "no mark",
];
/// Words before AR500 that deny or doubt it, words that may stand between, and words behind it that do the same.
#[rustfmt::skip]
const DENIES: [&str; 23] = [
    "no", "not", "non", "never", "without", "isn", "isnt", "wasn", "fake", "imitation", "near", "nearly", "almost", "like",
    "maybe", "perhaps", "possibly", "probably", "supposedly", "allegedly", "unverified", "lacks",
    "un",
];
#[rustfmt::skip]
const BETWEEN_DENIED: [&str; 10] = ["t", "an", "a", "the", "real", "true", "genuine", "certified", "proper", "any"];
#[rustfmt::skip]
const DENIES_BEHIND: [&str; 14] = [
    "equivalent", "equiv", "eq", "like", "style", "similar", "substitute", "ish", "lookalike", "copy", "imitation",
    "unverified", "unconfirmed", "wannabe",
];
/// Beginnings of words that a target's name has for them besides.
const STEELS_BY_NAME: [&str; 1] = ["hardox"];
/// Numbers of the standards for structural and vessel plate, behind an A, and of structural steels behind an S.
const STRUCTURAL: [&str; 11] = ["36", "283", "285", "514", "515", "516", "572", "588", "656", "709", "992"];
const STRUCTURAL_S: [&str; 8] = ["235", "275", "355", "420", "460", "690", "700", "960"];
/// Numbers of alloys, alone; the first are distances in a name.
const CARBON_ALLOYS: [&str; 3] = ["1018", "1020", "1045"];
const ALLOYS: [&str; 5] = ["4130", "4140", "4142", "4340", "8620"];
/// The hardness that AR500 has itself, by Brinell and by Rockwell (from memory).
const OWN_BRINELL: std::ops::RangeInclusive<u32> = 470..=550;
const OWN_ROCKWELL: std::ops::RangeInclusive<u32> = 47..=55;
/// What a number before it is a hardness by.
const HARDNESSES: [&str; 5] = ["bhn", "hb", "hbw", "hrc", "brinell"];
/// Beginnings of words for a plate that is spent.
#[rustfmt::skip]
const SPENT: [&str; 28] = [
    "reweld", "curled", "crater", "pitted", "reject", "scrap", "bowed", "retired", "damag", "dished", "warp", "gouge",
    "condemn", "chipped", "pockmark", "buckled", "straightened", "repaired", "fractur", "deformed", "pocked", "spall",
    "dimpled", "cupped", "shatter", "divot", "punctur", "perforat",
];
/// Whole words for it: `dental`, `Bentley` and `cracker` are others.
#[rustfmt::skip]
const SPENT_WORDS: [&str; 27] = [
    "bent", "dent", "dents", "dented", "denting", "crack", "cracks", "cracked", "cracking", "split", "worn", "broken",
    "splits", "splitting", "dings", "dinged", "pock", "flipped", "hairline", "reversed",
    "bulged", "bulging", "brazed", "torn", "concave", "unsafe", "junk",
];
/// Words for it that stand together, with one space between them.
#[rustfmt::skip]
const SPENT_TOGETHER: [&str; 60] = [
    "do not use", "do not shoot", "shot out", "shot up", "shot through", "worn out", "out of service", "heat damage",
    "not safe", "re welded", "beat up", "torch cut", "flame cut", "oxy cut", "gas cut", "cut with a torch",
    "used both faces", "used both sides", "both sides used", "both faces used", "shot both sides", "both sides shot",
    "both faces shot", "shot both faces", "used on both", "shot on both", "hit on both", "turned round",
    "turned around", "turned over", "turn it round", "turn it around", "turn it over", "of a bow", "slight bow",
    "small bow", "has a bow", "slight bend", "of a bend", "reverse side", "back is shot", "shot on the back",
    "used on the back",
    "blown out", "chewed up", "ground down", "deep pits",
    "weld repair", "repair weld", "repair by weld", "has pits", "with pits", "some pits", "pits in", "pits on", "used plate",
    "used steel", "used gong", "used target", "not in use",
];
/// Places that are called so: words of a state that are none.
const PLACES: [&str; 4] = ["broken arrow", "broken bow", "broken spoke", "crater lake"];
/// The beginning of words for holes: of a target that is shot they are damage, and of a drawing cuts.
const HOLED: &str = "hole";

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
    named.map(|word| if is_other_grade(&word) { word.to_uppercase() } else { word }).or_else(|| doubted(&lower))
}

/// The words of a text that deny AR500 or leave its steel open: `not AR500`, `AR500 equivalent`, `steel unknown`.
fn doubted(lower: &str) -> Option<String> {
    let spaced = words_of(lower).join(" ");
    // As a mark, not as a place before the name: `AR-500` is one word.
    let one = spaced.replace("ar 500", "ar500");
    let words: Vec<&str> = one.split(' ').collect();
    let places = |list: &'static [&str]| (0..words.len()).filter(|at| list.contains(&words[*at])).collect::<Vec<_>>();
    let (unknown, steels) = (places(&NOT_KNOWN), places(&OF_A_STEEL));
    if let Some(at) = unknown.into_iter().find(|at| steels.iter().any(|steel| at.abs_diff(*steel) <= BESIDE)) {
        return Some(format!("{} steel", words[at]));
    }
    if let Some(together) = UNPROVEN.into_iter().find(|together| has_together(&one, together)) {
        return Some(together.to_owned());
    }
    if lower.replace([' ', '-'], "").contains("ar500?") {
        return Some("AR500?".to_owned());
    }
    let own = |at: &usize| words[*at] == "ar500" || words[*at] == "500" && words.get(at + 1) == Some(&"bhn");
    (0..words.len()).filter(own).find_map(|at| {
        let before = words[..at].iter().rev().find(|word| !BETWEEN_DENIED.contains(word));
        let before = before.filter(|word| DENIES.contains(word)).map(|word| format!("{word} AR500"));
        let behind = || words.get(at + 1).filter(|word| DENIES_BEHIND.contains(word) || is_unknown(&words, at + 1));
        before.or_else(|| behind().map(|word| format!("AR500 {word}")))
    })
}

/// Whether a word says that what stands before it is missing: `AR500 mark missing`.
fn is_unknown(words: &[&str], at: usize) -> bool {
    let is_mark = matches!(words[at], "mark" | "marks" | "marking" | "stamp" | "or");
    is_mark && words.get(at + 1).is_some_and(|next| matches!(*next, "missing" | "gone" | "similar" | "equivalent"))
}

/// Whether some words stand together in a text of words with one space between them.
fn has_together(spaced: &str, together: &str) -> bool {
    format!(" {spaced} ").contains(&format!(" {together} "))
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
            || is_other_grade(pair[0]) && pair[1] == "steel"
            || WEAR_PLATES.contains(&pair[0]) && is_grade_in_a_name(&pair.concat())
            || is_alloyed(pair[0], pair[1])
            || is_alloyed(pair[1], pair[0])
            || pair[1] == "rolled" && OTHER_STEELS.contains(&pair.concat().as_str())
    };
    let alone = words.iter().find(is_word).map(|word| (*word).to_owned());
    let pair = || words.windows(2).find(before).map(|pair| pair.join(" "));
    let hardness = || hardnesses(&words).find(|word| is_other_grade(word));
    let number = || {
        let mut words = lower.split_whitespace().map(|word| word.trim_matches([',', ';', '(', ')', ':']));
        words.find(|word| NUMBERED.contains(word)).map(str::to_owned)
    };
    // `A-36 steel`, and not the target A-36.
    let parted = |three: &&[&str]| three[2] == "steel" && is_other_grade(&three[..2].concat());
    let pair = || pair().or_else(|| words.windows(3).find(parted).map(|three| three.join(" ")));
    alone.or_else(pair).or_else(hardness).or_else(number).or_else(|| doubted(&lower))
}

/// Whether a number is that of an alloy beside a word that says so: `304 SS`, `6061-T6`, `AL 6061`.
fn is_alloyed(number: &str, beside: &str) -> bool {
    let is_temper = || {
        let digits = beside.trim_start_matches(['t', 'h']);
        digits.len() + 1 == beside.len() && !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
    };
    STAINLESS.contains(&number) && beside == "ss"
        || ALUMINIUM.contains(&number) && (matches!(beside, "al" | "alu") || is_temper())
}

/// Whether a word is short for another steel or metal, `ms`: initials are so too.
#[must_use]
pub fn is_abbreviated(word: &str) -> bool {
    ABBREVIATED.contains(&word)
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

/// Letters and the digits behind them, without what closes the word: `ar` and `450` of `ar450f`, `s` and `355` of
/// `s355j2`.
fn grade(word: &str) -> Option<(&str, &str)> {
    let digits = word.trim_start_matches(|c: char| c.is_ascii_alphabetic());
    let letters = &word[..word.len() - digits.len()];
    let end = digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len());
    (end > 0).then(|| (letters, &digits[..end]))
}

/// Whether a word is a grade other than AR500: `ar400`, `a36`, `s355`, `hb400`, `t1`.
fn is_other_grade(word: &str) -> bool {
    if ALLOYS.contains(&word) || CARBON_ALLOYS.contains(&word) {
        return true;
    }
    let Some((letters, digits)) = grade(word) else { return false };
    match letters {
        "ar" | "hardox" => digits != "500",
        "ss" => STAINLESS.contains(&digits),
        _ if WEAR_PLATES.contains(&letters) => digits.len() == 3 && digits != "500",
        "a" => STRUCTURAL.contains(&digits),
        "s" => digits.len() == 3,
        "t" => digits == "1",
        "st" => ["37", "52"].contains(&digits),
        "q" => ["235", "345", "355"].contains(&digits),
        "c" => CARBON_ALLOYS.contains(&digits),
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
            "ss" => STAINLESS.contains(&digits),
            "gr" => GRADES_KSI.contains(&digits),
            _ if WEAR_PLATES.contains(&letters) => digits.len() == 3 && digits != "500",
            "a" => STRUCTURAL.contains(&digits),
            "s" => STRUCTURAL_S.contains(&digits),
            "st" | "q" | "c" => is_other_grade(word),
            "hb" | "hbw" | "bhn" | "brinell" => is_other_hardness(letters, digits),
            _ => false,
        }
}

/// The word of a text that speaks of a spent plate.
#[must_use]
pub fn damage_named(text: &str) -> Option<String> {
    let lower = text.to_lowercase();
    let spaced = words_of(&lower).join(" ");
    let spaced = PLACES.iter().fold(spaced, |text, place| text.replace(place, " "));
    let is_spent = |word: &&str| SPENT_WORDS.contains(word) || SPENT.iter().any(|stem| word.starts_with(stem));
    let word = spaced.split(' ').find(is_spent);
    // Where no space parts its words no other text does either, `shot up` of `shot_up.svg`.
    let together = || SPENT_TOGETHER.into_iter().find(|words| spaced.contains(words));
    word.or_else(together).map(str::to_owned)
}

/// Whether a name speaks of holes: of a plate that was shot through, or of one that was cut so.
#[must_use]
pub fn holes_named(name: &str) -> bool {
    let lower = name.to_lowercase();
    words_of(&lower).iter().any(|word| word.starts_with(HOLED))
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
            "Not AR500",
            "not an AR-500 plate",
            "no AR500 mark",
            "Non-AR500 gong",
            "AR500 equivalent",
            "AR500 or similar",
            "maybe AR 500",
            "Steel unknown",
            "mystery steel",
            "unknown grade",
            "no stamp",
            "unstamped",
            "T1 steel",
            "A-36 steel",
            "iron gong",
            "Domex",
            "plow disc",
            "AR500?",
            "un-AR500",
            "spring steel",
            "C1018",
            "annealed",
            "manhole cover",
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
            "AR500 gong, no hooks",
            "No. 3, AR500",
            "No 3 AR500 gong",
            "mystery target",
            "genuine AR500",
            "AR500 grade steel",
            "stamped AR500",
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
            "re-welded",
            "pocked",
            "pock-marked",
            "spalled",
            "dinged",
            "broken",
            "split",
            "used both faces",
            "flipped",
            "torch-cut",
            "a bit of a bow",
            "shot-up",
            "cupped",
            "Not in use",
        ] {
            assert!(damage_named(name).is_some(), "{name}");
        }
        #[rustfmt::skip]
        let names = [
            "gong", "head", "four-hole gong", "splitter", "dental", "Bentley", "shooter 3", "firecracker", "crackerbox",
            "Broken Arrow", "Crater Lake", "Dingo", "Spinner", "Worner", "Cupcake", "Bowman", "Bow tie",
        ];
        for name in names {
            assert_eq!(damage_named(name), None, "{name}");
        }
        assert!(holes_named("four-hole gong") && holes_named("Holed") && !holes_named("whole"));
    }
}
