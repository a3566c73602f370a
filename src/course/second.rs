//! What a note beside a load says of another gun or load than it: a second one, one in its place, one that nobody knows,
//! or of more speed. What says so is refused; what may say so is told.

use super::people::PEOPLE;
use crate::load::Firearm;

/// What fires.
#[rustfmt::skip]
pub(super) const GUNS: [&str; 25] = [
    "rifle", "rifles", "gun", "guns", "pistol", "pistols", "handgun", "handguns", "revolver", "revolvers", "carbine",
    "carbines", "shotgun", "shotguns", "rimfire", "rimfires", "upper", "uppers", "pcc", "sbr", "calibres", "calibers",
    "chambering", "cartridge", "cartridges",
];
/// What is fired.
#[rustfmt::skip]
pub(super) const AMMUNITION: [&str; 9] = [
    "ammo", "ammunition", "load", "loads", "handloads", "reloads", "slugs", "munition", "recipe",
];
/// Words behind a gun or a load that make it none: `rifle match`, `gun club`, `ammo can`.
#[rustfmt::skip]
const NONE_BEFORE: [&str; 52] = [
    "match", "matches", "club", "clubs", "range", "ranges", "case", "cases", "safe", "shop", "course", "class", "classes",
    "team", "shooter", "shooters", "bag", "bags", "rest", "rests", "sling", "mat", "mats", "rack", "racks", "season",
    "owner", "permit", "permits", "license", "licence", "instructor", "trainer", "coach", "stage", "stages", "scope",
    "oil", "store", "dealer", "show", "smith", "belt", "can", "cans", "box", "boxes", "crate", "lock", "locks", "grip",
    "grips",
];
/// So many of them.
#[rustfmt::skip]
const MORE_THAN_ONE: [&str; 9] = [
    "two", "three", "four", "several", "multiple", "various", "2", "3", "4",
];
/// Another one.
#[rustfmt::skip]
const ANOTHER: [&str; 13] = [
    "both", "second", "2nd", "third", "3rd", "other", "others", "different", "spare", "backup", "back-up", "alternate",
    "separate",
];
/// Words that may stand between those and the gun.
#[rustfmt::skip]
const BETWEEN: [&str; 17] = [
    "kinds", "types", "sorts", "brands", "of", "different", "more", "other", "his", "her", "my", "their", "bolt",
    "match", "the", "custom", "target",
];
/// One in the place of another.
const EXCHANGED: [&str; 5] = ["instead", "swap", "switch", "chang", "trad"];
/// Nobody knows which.
const OPEN: [&str; 8] = ["whatever", "whichever", "unsure", "undecided", "tbd", "tba", "depends", "which"];
/// Of many.
const MIXED: [&str; 4] = ["any", "random", "mixed", "assorted"];
const NO: [&str; 5] = ["no", "without", "not", "never", "only"];

/// Words of more pressure and speed, and what stands before them where there is none.
#[rustfmt::skip]
const FASTER: [&str; 29] = [
    "max load", "maximum load", "max charge", "maximum charge", "book max", "above book", "over book", "near max",
    "above max", "max pressure", "pressure sign", "high pressure", "warm load", "warm hand", "loaded warm", "warm ammo",
    "stout load", "stout hand", "loaded stout", "fast lot", "lot is fast", "lot runs fast", "fast load", "loads are fast",
    "fast ammo", "full power", "full-power", "spicy load", "rechamber",
];
const BEFORE_NONE: [&str; 5] = ["no", "below", "under", "without", "not"];

/// Words that may make what a gun or a load is called another one: whose it is, where it comes from.
#[rustfmt::skip]
const WHOSE: [&str; 25] = [
    "borrow", "rent", "loan", "lent", "lend", "shar", "club", "new", "old", "surplus", "milit", "army", "service", "ball",
    "cheap", "buy", "bought", "sale", "may", "might", "maybe", "reduced", "light", "minor", "slow",
];
/// Words that may speak of another bullet, speed or gun alone.
#[rustfmt::skip]
const MAYBE: [&str; 35] = [
    "fmj", "ball", "surplus", "milsurp", "sub", "subs", "subsonic", "suppressor", "suppressed", "silencer", "silenced",
    "moderator", "pf", "wildcat", "ackley", "duplex", "sabot", "saboted", "sabots", "blanks", "exploding",
    "corroded", "whatever", "whichever", "tbd", "tba", "anything", "lot", "powder", "rebarreled", "rebarrelled",
    "downloaded", "ak", "sbr", "untested",
];
/// The same of words that stand together.
const MAYBE_TOGETHER: [&str; 7] =
    ["power factor", "hard cast", "makes major", "major pf", "runs a can", "with can", "on sale"];
/// Words of a barrel that has another speed.
const OF_A_BARREL: [&str; 6] = ["long", "longer", "short", "shorter", "new", "length"];

/// A part of a note that stands for itself, in words.
struct Clause<'t>(Vec<&'t str>);

/// The parts of a note in lower case.
fn clauses(text: &str) -> impl Iterator<Item = Clause<'_>> {
    let parts = text.split([',', ';', '(', ')', '[', ']', '/', ':', '!', '\n']).flat_map(|part| part.split(". "));
    parts.map(|part| {
        let words = part.split_whitespace().map(|word| word.trim_matches(['"', '\'', '?', '“', '”', '+', '&', '-']));
        Clause(words.map(|word| word.trim_end_matches('.')).filter(|word| !word.is_empty()).collect())
    })
}

fn is_of(word: &str, list: &[&str]) -> bool {
    list.contains(&word)
}

fn begins(word: &str, list: &[&str]) -> bool {
    list.iter().any(|stem| word.starts_with(stem))
}

/// Bullets called by their grains: `175s`, and no decade.
fn is_bullets(word: &str) -> bool {
    word.strip_suffix('s').is_some_and(|rest| rest.len() == 3 && rest.parse::<u32>().is_ok_and(|n| n < 400))
}

impl Clause<'_> {
    fn word(&self, at: usize) -> &str {
        self.0.get(at).copied().unwrap_or_default()
    }

    fn before(&self, at: usize) -> &str {
        at.checked_sub(1).map(|at| self.word(at)).unwrap_or_default()
    }

    /// Whether a gun or a load is called there.
    fn is_thing(&self, at: usize) -> bool {
        (is_of(self.word(at), &GUNS) || is_of(self.word(at), &AMMUNITION)) && !is_of(self.word(at + 1), &NONE_BEFORE)
    }

    fn has_thing(&self) -> bool {
        (0..self.0.len()).any(|at| self.is_thing(at))
    }

    /// The gun or the load that a word belongs to: `2 types of ammo`.
    fn thing_behind(&self, at: usize) -> Option<&str> {
        let mut behind = at + 1;
        while is_of(self.word(behind), &BETWEEN) && !self.is_thing(behind) {
            behind += 1;
        }
        self.is_thing(behind).then(|| self.word(behind))
    }

    /// Whether it speaks of several guns or loads, or of another one.
    fn counts(&self, at: usize) -> bool {
        let (word, before) = (self.word(at), self.before(at));
        let Some(thing) = self.thing_behind(at) else { return false };
        // `3 gun` is a sport, and `squad 2` no count.
        let is_many = thing.ends_with('s') || is_of(thing, &AMMUNITION);
        let is_number = word.starts_with(|c: char| c.is_ascii_digit());
        if is_of(word, &MORE_THAN_ONE) {
            return is_many && !(is_number && is_of(before, &PEOPLE)) && !is_of(before, &NO);
        }
        // Spare ammunition is of the same.
        let is_same = is_of(thing, &AMMUNITION) && is_of(word, &["spare", "backup", "back-up"]);
        is_of(word, &ANOTHER) && !is_same && !is_of(before, &NO)
    }

    /// Whether any of many, or one beside the row's, is brought: `any ammo`, `any .308`, `and a carbine`.
    fn adds(&self, at: usize) -> bool {
        let (word, next) = (self.word(at), self.word(at + 1));
        let is_calibre = || next.trim_start_matches('.').parse::<u32>().is_ok_and(|n| (100..1000).contains(&n));
        let is_mixed = is_of(word, &MIXED) && self.is_thing(at + 1) && is_of(next, &AMMUNITION);
        let is_with = is_of(word, &["and", "plus"]) && is_of(next, &["a", "an", "his", "her", "my"]);
        is_mixed || (word == "any" && is_calibre()) || (is_with && self.is_thing(at + 2))
    }

    /// Whether one is exchanged for another, or nobody knows which it is.
    fn is_open(&self) -> bool {
        let words = || (0..self.0.len()).map(|at| (self.word(at), self.before(at)));
        let has_bullets = || words().any(|(word, _)| is_bullets(word));
        let is_exchanged = words().any(|(word, before)| begins(word, &EXCHANGED) && !is_of(before, &NO));
        let is_unsure = words().any(|(word, before)| is_of(word, &OPEN) || (word == "sure" && before == "not"));
        let is_denied = || words().any(|(word, before)| is_bullets(word) && (before == "not" || before == "the"));
        (is_exchanged && (self.has_thing() || has_bullets()))
            || (is_unsure && self.has_thing())
            || (is_denied() && words().any(|(word, _)| word == "not"))
    }

    /// Whether it may speak of another gun or load, or of another speed.
    fn may_be_another(&self) -> bool {
        let words = || self.0.iter().copied();
        let is_whose = |word: &str| begins(word, &WHOSE) || word.ends_with("'s") || word.ends_with("’s");
        let has_number = || words().any(|word| word.contains(|c: char| c.is_ascii_digit()));
        let of_barrel = |word: &str| begins(word, &["barrel"]);
        (self.has_thing() && words().any(is_whose))
            || words().any(|word| is_of(word, &MAYBE) || is_bullets(word))
            || (words().any(of_barrel)
                && (has_number() || words().any(|word| is_of(word, &OF_A_BARREL) || word.ends_with("-length"))))
    }

    /// Whether it calls a gun that the load is not fired from.
    fn is_fired_otherwise(&self, firearm: Firearm) -> bool {
        let others: &[&str] = match firearm {
            Firearm::Rifle | Firearm::Unknown => &["pistol", "handgun", "revolver", "shotgun", "carbine", "pcc"],
            Firearm::Handgun => &["rifle", "carbine", "shotgun", "pcc", "rimfire"],
            Firearm::PistolCarbine => &["rifle", "pistol", "handgun", "revolver", "shotgun", "rimfire"],
            Firearm::Shotgun => &["rifle", "pistol", "handgun", "revolver", "carbine", "pcc"],
            Firearm::RimfirePistol => &["rifle", "carbine", "shotgun"],
            Firearm::RimfireRifle => &["pistol", "handgun", "revolver", "shotgun"],
            Firearm::MuzzleLoader | Firearm::AirGun => return false,
        };
        (0..self.0.len()).any(|at| {
            let word = self.word(at);
            self.is_thing(at) && is_of(word.strip_suffix('s').unwrap_or(word), others) && !is_of(self.before(at), &NO)
        })
    }
}

/// Whether a note in lower case says of another gun or load than its row's, or of one that nobody knows: `two guns`,
/// `brings a second rifle`, `load may change`.
pub(super) fn is_second(text: &str) -> bool {
    clauses(text).any(|clause| clause.is_open() || (0..clause.0.len()).any(|at| clause.counts(at) || clause.adds(at)))
}

/// Whether it says of more pressure or speed than is usual.
pub(super) fn is_faster(text: &str) -> bool {
    FASTER.iter().flat_map(|words| text.match_indices(words)).any(|(at, _)| {
        let before = text[..at].split_whitespace().next_back().unwrap_or_default();
        (at == 0 || !text[..at].ends_with(char::is_alphanumeric)) && !is_of(before, &BEFORE_NONE)
    })
}

/// Whether it may say of another gun or load, or of another speed: `borrowed rifle`, `subsonic`, `28" barrel`.
pub(super) fn may_be_second(text: &str, firearm: Firearm) -> bool {
    // `26 in. barrel` is one part.
    let text = text.to_lowercase().replace("in. ", "in ");
    MAYBE_TOGETHER.iter().any(|words| format!(" {text} ").contains(&format!(" {words} ")))
        || (!text.trim().is_empty() && text.trim().chars().all(|c| c == '?'))
        || clauses(&text).any(|clause| clause.may_be_another() || clause.is_fired_otherwise(firearm))
}

/// Whether a text calls a gun or a load.
pub(super) fn calls_thing(text: &str) -> bool {
    clauses(&text.to_lowercase()).any(|clause| clause.has_thing())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_gun_or_load_is_told_from_one_s_own_and_from_sports() {
        for note in [
            "two guns",
            "2 guns",
            "brings two loads",
            "brings 2 types of ammo",
            "two kinds of ammunition",
            "3 different loads",
            "brings a second rifle",
            "bringing both rifles",
            "sunday other gun",
            "second upper, 6.5",
            "will use the spare gun",
            "different rifle on day 2",
            "swaps guns with bib 9",
            "switches rifles after lunch",
            "carbine instead",
            "shoots 175s instead",
            "not the 168s",
            "load may change",
            "may change load",
            "changed loads",
            "not sure which ammo",
            "whatever ammo the store has",
            "any .308",
            "any ammo",
            "mixed ammo",
            "and a carbine",
            "plus his revolver",
        ] {
            assert!(is_second(note), "{note}");
        }
        for note in [
            "3-gun veteran",
            "2 gun match",
            "second rifle match",
            "squad 2, guns checked",
            "no second gun",
            "only one rifle",
            "spare ammo in the car",
            "swaps squads with bib 9",
            "sunday instead of saturday",
            "no change in load",
            "other gun club",
            "two rifle cases",
            "born in the 1980s",
            "168s",
            "same load as last year",
            "changed address",
            "not sure about lunch",
            "any diet",
            "both days",
            "second shooter",
        ] {
            assert!(!is_second(note), "{note}");
        }
    }

    #[test]
    fn more_pressure_is_told_from_less() {
        for note in [
            "max load",
            "over book max",
            "above book",
            "loaded near max",
            "pressure signs",
            "warm loads",
            "rechambered",
        ] {
            assert!(is_faster(note), "{note}");
        }
        for note in ["no pressure signs", "below max load", "warm lunch", "fast shooter", "max 5 rounds"] {
            assert!(!is_faster(note), "{note}");
        }
    }

    #[test]
    fn what_may_be_another_gun_load_or_speed_is_told_from_what_is_of_neither() {
        for note in [
            "borrowed rifle",
            "rental rifle",
            "brings his son's rifle",
            "uses Bob's ammo",
            "club rifle",
            "new load",
            "military surplus",
            "FMJ",
            "ball ammo",
            "subsonic",
            "suppressor",
            "28\" barrel",
            "new barrel, 30 in",
            "longer barrel",
            "PF 175",
            "power factor 175",
            "shot from a pistol",
            "175s",
            "TBD",
            "??",
            "light loads",
        ] {
            assert!(may_be_second(note, Firearm::Rifle), "{note}");
        }
        for note in [
            "rental glasses",
            "borrowed ears",
            "Bob's son",
            "left-handed",
            "rifle 308 Win",
            "rifle case",
            "gun club member",
            "own brass",
            "new shooter",
            "squad 2",
            "no pistols",
            "dog friendly?",
            "dietary: no pork",
        ] {
            assert!(!may_be_second(note, Firearm::Rifle), "{note}");
        }
        assert!(!may_be_second("pistol", Firearm::Handgun) && may_be_second("carbine", Firearm::Handgun));
    }
}
