//! What a note beside a target says of how it hangs, what it is made from, who else shoots at it and from where.

use super::kept_for::names_kind;
use super::stood::{is_moved_nearer, is_turned, leans_back, lies};
use crate::source::words_of;

/// Words of a plate that nobody sold as AR500, and of one that hangs askew.
#[rustfmt::skip]
const WORDS: [&str; 12] = [
    "homemade", "handmade", "scrapyard", "junkyard", "salvaged", "salvage", "crooked", "lopsided", "askew", "slanted",
    "skewed", "backside",
];
/// The same that stand together.
#[rustfmt::skip]
const TOGETHER: [&str; 27] = [
    "home made", "hand made", "scrap yard", "junk yard", "farm steel", "by one hook", "on one hook", "one hook only",
    "by one chain", "on one chain", "one chain only", "single hook", "single chain", "one hook missing",
    "one chain missing", "one bolt missing", "by a corner", "by one corner", "run and gun", "on the move", "while moving",
    "walk and shoot", "shoot and move", "shot on the run", "front line too", "any line", "every line",
];
/// Sides that a plate is shot on where it was turned, and no side of a berm.
#[rustfmt::skip]
const SIDES: [[&str; 2]; 7] = [
    ["back", "side"], ["other", "side"], ["rear", "side"], ["wrong", "side"], ["back", "face"], ["other", "face"],
    ["rear", "face"],
];
/// Places above a target, or nearer, that somebody shoots from.
#[rustfmt::skip]
const PLACES: [&str; 12] = [
    "tower", "roof", "rooftop", "porch", "deck", "balcony", "ladder", "platform", "scaffold", "cliff", "hilltop", "front",
];
/// Words that stand for whatever is shot, beside those of kinds.
#[rustfmt::skip]
const GUNS: [&str; 10] = [
    "caliber", "calibers", "calibre", "calibres", "gun", "guns", "loads", "ammo", "cartridges", "magnum",
];
/// Words that let others shoot as well.
const ALSO: [&str; 6] = ["too", "also", "all", "every", "both", "including"];

/// Whether a note in lower case beside a target says of it what is judged.
pub(super) fn speaks_of_target(text: &str) -> bool {
    let words = words_of(text);
    let spaced = format!(" {} ", words.join(" "));
    let any = |list: &[&str]| words.iter().any(|word| list.contains(word));
    any(&WORDS)
        || TOGETHER.iter().any(|together| spaced.contains(&format!(" {together} ")))
        || leans_back(text)
        || lies(text)
        || is_turned(text)
        || is_moved_nearer(text)
        || is_of_a_side(&words)
        || words.windows(3).any(|three| three[..2] == ["from", "the"] && PLACES.contains(&three[2]))
        || any(&ALSO) && (any(&GUNS) || names_kind(text))
}

/// Whether a plate's side is spoken of: `back side`, and not `the back side of the berm`.
fn is_of_a_side(words: &[&str]) -> bool {
    let is = |at: usize| SIDES.iter().any(|side| words[at..].starts_with(side));
    (0..words.len()).any(|at| is(at) && words.get(at + 2).is_none_or(|next| *next != "of"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_that_speak_of_a_target_are_told_from_those_that_do_not() {
        #[rustfmt::skip]
        let speaks = [
            "homemade", "crooked", "not square", "at an angle", "hung by one hook", "moved up", "moved in",
            "from the front line too", "run and gun", "from the tower", "back side", "pistols too", "shotguns too",
            "all calibers", "from the rooftop", "other side", "on one chain", "rimfire also",
        ];
        for text in speaks {
            assert!(speaks_of_target(text), "{text}");
        }
        #[rustfmt::skip]
        let other = [
            "repaint", "hang high", "left of the berm", "right side", "on the back side of the berm", "set by juniors",
            "one hit each", "two people to carry", "bring paint too", "move to next", "all hits count", "also painted",
            "from the left", "tower 3", "double tap",
        ];
        for text in other {
            assert!(!speaks_of_target(text), "{text}");
        }
    }
}
