//! Names of loads, shooters and targets that speak against what they are judged as.

use super::Course;
use super::stood::{is_turned, leans_back, lies};
use crate::catalog::{Catalog, CatalogError};
use crate::load::{Firearm, Load, spoken_against};
use crate::plate::{Condition, Duty, Steel, damage_named, holes_named, sizes_named, steel_named};
use crate::quantity::{Length, Measure, unit, yards_or_metres};
use crate::rules::Setup;
use crate::source::{Diagnostic, clean, words_of};
use std::collections::HashMap;

/// A stage's name as it is told from others: without case and double spaces.
pub(super) fn folded(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The names of a match's stages, each as it was first written.
pub(super) struct StageNames {
    by_folded: HashMap<String, String>,
    by_joined: HashMap<String, String>,
}

impl StageNames {
    pub fn of<'n>(names: impl Iterator<Item = &'n String>) -> Self {
        let mut known = Self { by_folded: HashMap::new(), by_joined: HashMap::new() };
        names.for_each(|name| drop(known.called(name)));
        known
    }

    /// The stage that is called so.
    pub fn called(&mut self, name: &str) -> String {
        self.by_joined.entry(joined(name)).or_insert_with(|| name.to_owned());
        self.by_folded.entry(folded(name)).or_insert_with(|| name.to_owned()).clone()
    }

    /// The stage that is meant by a name that no stage has, but for what parts its words: its rules and its air would be
    /// passed over.
    pub fn meant(&self, name: &str) -> Option<&str> {
        let twin = self.by_joined.get(&joined(name)).filter(|_| !self.by_folded.contains_key(&folded(name)));
        twin.map(String::as_str)
    }
}

/// A name in one piece: `Bay 1`, `Bay1` and `bay-1` are one, `1-1` and `11` two.
fn joined(name: &str) -> String {
    let parts: Vec<String> = name.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase).collect();
    let mut whole = String::new();
    for part in parts.iter().filter(|part| !part.is_empty()) {
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        if digit(whole.chars().last()) && digit(part.chars().next()) {
            whole.push(' ');
        }
        whole += part;
    }
    whole
}

impl Course {
    /// Cartridges of the ammunition rules that neither the catalogue nor a load brought goes by.
    pub(super) fn unknown_cartridges(&self, catalog: &Catalog) -> Vec<Diagnostic> {
        let loads = self.loads.iter().map(|b| &b.load).chain(self.refused.iter().map(|r| &r.load));
        let own: Vec<&str> = loads.filter_map(|load| load.facts().cartridge.as_deref()).collect();
        let brought = |name: &str| own.iter().any(|own| own.trim().eq_ignore_ascii_case(name.trim()));
        let named = self.admission.0.iter().flat_map(|rule| rule.cartridges.iter().chain(&rule.cartridges_refused));
        let fault = |name: &String| {
            match catalog.family(name) {
                // Whichever was meant, another would be let in or kept out.
                Err(e @ CatalogError::Several { .. }) => {
                    let message =
                        format!("`{}`, which an ammunition rule names, may be several cartridges", clean(name));
                    Some(Diagnostic::plain(message).help(e.help()))
                }
                Err(_) if !brought(name) => {
                    let message = format!("no cartridge `{}`, which an ammunition rule names, is listed", clean(name));
                    Some(
                        Diagnostic::plain(message)
                            .help("write it as `thickset catalog cartridges` does, such as `.308 Win`"),
                    )
                }
                _ => None,
            }
        };
        named.filter_map(fault).collect()
    }
}

/// Why a load can't be judged as it is described, and what to write.
pub(super) fn unclear(load: &Load) -> Option<(String, &'static str)> {
    let facts = load.facts();
    let name = &facts.name;
    let texts = std::iter::once(name).chain(&facts.cartridge).map(String::as_str);
    if let Some(fault) = spoken_against(facts.construction, texts) {
        return Some(fault);
    }
    let help = "name its firearm: it decides which targets it is shot at";
    (facts.firearm == Firearm::Unknown).then(|| (format!("{name}: what fires it is not known"), help))
}

/// The word of a name that speaks of a plate held rigid.
#[must_use]
pub fn speaks_of_rigid(name: &str) -> Option<String> {
    const STEMS: [&str; 7] = ["bolted", "welded", "rigid", "fixed", "bracket", "popper", "falling"];
    #[rustfmt::skip]
    const WORDS: [&str; 9] = [
        "post", "posts", "stand", "stands", "standing", "stake", "stakes", "freestanding", "rack",
    ];
    let name = name.to_lowercase();
    let mut words = name.split(|c: char| !c.is_alphanumeric());
    let found = words.find(|word| WORDS.contains(word) || STEMS.iter().any(|stem| word.starts_with(stem)));
    found.map(str::to_owned)
}

/// The thickest plate: a longer size in a name is the face's.
const THICKEST_IN: f64 = 1.05;

/// Whether a size in a name may be a plate's thickness.
#[must_use]
pub fn is_thickness(size: Length) -> bool {
    unit::INCH.value(size) <= THICKEST_IN
}

/// What a size before it is of, and no plate's thickness: `1/4 in chain`, `1/2 in holes`.
#[rustfmt::skip]
pub(super) const OF_ANOTHER: [&str; 12] = [
    "hole", "bolt", "chain", "slot", "hook", "shank", "hanger", "radius", "corner", "cable", "rope", "screw",
];

/// What stands before its size.
const BEFORE_ITS_SIZE: [&str; 6] = ["r", "radius", "hole", "holes", "bolts", "rev"];

/// Thicknesses that a name tells as bare numbers, in.
const BARE_INCHES: [&str; 7] = ["0.1875", "0.187", "0.188", "0.25", "0.3125", "0.313", "0.375"];

/// The words of a name without sizes of holes and of what it hangs by.
fn without_hardware(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    let is_of = |at: usize| {
        words.get(at).is_some_and(|word| OF_ANOTHER.iter().any(|stem| word.to_lowercase().starts_with(stem)))
    };
    let is_unit = |word: &str| matches!(word.to_lowercase().as_str(), "in" | "inch" | "mm");
    let is_size = |word: &str| word.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let is_behind = |at: usize| at > 0 && BEFORE_ITS_SIZE.contains(&words[at - 1].to_lowercase().as_str());
    let is_left = |at: usize| {
        let next = words.get(at + 1).is_some_and(|next| is_unit(next));
        let size = is_size(words[at]) && (is_behind(at) || is_of(at + 1) || next && is_of(at + 2));
        !(size || is_unit(words[at]) && is_of(at + 1))
    };
    (0..words.len()).filter(|at| is_left(*at)).map(|at| words[at]).collect::<Vec<_>>().join(" ")
}

/// A thickness in a name: `1/4 in gong`, `6 mm`, and neither the calibre of `9 mm rack` nor the share of `1/3 scale`.
#[must_use]
pub fn thickness_named(name: &str) -> Option<Length> {
    const CALIBRES_MM: [f64; 5] = [5.56, 6.5, 7.62, 9.0, 5.7];
    let given = name;
    let is_calibre = |size: &Length| CALIBRES_MM.iter().any(|mm| (unit::MILLIMETRE.value(*size) - mm).abs() < 1e-9);
    let name = without_hardware(&name.replace(['=', ':'], " "));
    let words: Vec<&str> = name.split_whitespace().collect();
    let is_of_inch = |at: usize| words.get(at + 1).is_some_and(|next| next.to_lowercase().starts_with("in"));
    let is_share = |at: usize| matches!(words[at], "1/3" | "2/3") && !is_of_inch(at);
    let name: Vec<&str> = (0..words.len()).filter(|at| !is_share(*at)).map(|at| words[at]).collect();
    let name = name.join(" ");
    let bare = || name.split([' ', '_', ',']).find(|word| BARE_INCHES.contains(word))?.parse().ok();
    let named = sizes_named(&name).into_iter().find(|size| is_thickness(*size) && !is_calibre(size));
    named.or_else(|| bare().map(|inches| unit::INCH.of(inches))).or_else(|| beside_its_word(given))
}

/// What a number without a unit beside a word for thickness is of otherwise.
#[rustfmt::skip]
const OF_A_COAT: [&str; 8] = ["paint", "coat", "coating", "coated", "zinc", "powder", "primer", "weld"];
/// The least thickness of a plate that a number without a unit tells.
const THINNEST_MM: f64 = 1.0;
/// The most that it tells, mm.
const MOST_MM: f64 = 30.0;

/// Words for a plate's thickness, in the languages that drawings come in.
#[rustfmt::skip]
pub(super) const OF_THICKNESS: [&str; 12] = [
    "thk", "thick", "thickness", "thkness", "dicke", "dick", "blechdicke", "materialdicke", "plattendicke", "blechstärke",
    "épaisseur", "epaisseur",
];
/// Letters for it that say so in a text of nothing else, `e=6`: `s=6 places` is of another thing.
const LETTERS_ALONE: [&str; 3] = ["e", "s", "ep"];

/// Whether a text of some words is such a letter, its sign and a number, with a unit or without.
fn is_letter_alone(words: &[String]) -> bool {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    matches!(words[..], [letter, "=", _] | [letter, "=", _, "mm" | "in"] if LETTERS_ALONE.contains(&letter))
}

/// Whether a text says a thickness by its letter: `t=6`.
pub(super) fn says_thickness(text: &str) -> bool {
    let words = marked(text);
    words.windows(2).any(|pair| pair == ["t", "="]) || is_letter_alone(&words)
}

/// A text whose words for a thickness stand apart from their numbers: `thk_6` and `THK6` as `thk 6`.
fn parted(text: &str) -> String {
    let lower = text.to_lowercase();
    apart_from_numbers(&lower, &OF_THICKNESS)
}

/// A text in small letters with some of its words parted from the numbers that are written to them.
pub(super) fn apart_from_numbers(text: &str, words: &[&str]) -> String {
    let part = |word: &str| {
        let number = word.trim_start_matches(char::is_alphabetic);
        let (letters, number) = (&word[..word.len() - number.len()], number.trim_start_matches(['_', '-']));
        let is_apart = words.contains(&letters) && number.starts_with(|c: char| c.is_ascii_digit() || c == '.');
        if is_apart { format!("{letters} {number}") } else { word.to_owned() }
    };
    text.split_whitespace().map(part).collect::<Vec<_>>().join(" ")
}

/// The words of a text, its equals signs and colons words too.
fn marked(text: &str) -> Vec<String> {
    let spaced = text.to_lowercase().replace(':', "=").replace('=', " = ");
    let words = spaced.split_whitespace().map(|word| word.trim_matches([',', ';', '(', ')']).trim_end_matches('.'));
    words.filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// A thickness as a number without a unit beside its word: `THK .188`, `6 THK`, `t=6`. Of inches, or of millimetres where
/// no plate is so many inches thick.
fn beside_its_word(text: &str) -> Option<Length> {
    let words = marked(&parted(text));
    if words.iter().any(|word| OF_A_COAT.contains(&word.as_str())) {
        return None;
    }
    let number = |at: Option<usize>| {
        let number = at.and_then(|at| words.get(at))?.replace(',', ".").parse::<f64>().ok()?;
        let size = if number <= THICKEST_IN { unit::INCH.of(number) } else { unit::MILLIMETRE.of(number) };
        (THINNEST_MM..=MOST_MM).contains(&unit::MILLIMETRE.value(size)).then_some(size)
    };
    let is_marked = |at: usize| words.get(at + 1).is_some_and(|next| next == "=");
    let beside = |at: usize| match words[at].as_str() {
        word if is_marked(at) => {
            let says = word == "t" || at == 0 && is_letter_alone(&words) || OF_THICKNESS.contains(&word);
            number(Some(at + 2)).filter(|_| says)
        }
        word if OF_THICKNESS.contains(&word) => number(Some(at + 1)).or_else(|| number(at.checked_sub(1))),
        _ => None,
    };
    (0..words.len()).find_map(beside)
}

/// The least size of a face in a name: `3 in gong`.
#[must_use]
pub fn face_named(name: &str) -> Option<Length> {
    let faces = sizes_named(name).into_iter().filter(|size| !is_thickness(*size));
    faces.reduce(|a, b| if b < a { b } else { a })
}

/// A distance in a name: `hostage 25 yd`, `50m`, `60 ft`, `20 paces`.
#[must_use]
pub fn distance_named(name: &str) -> Option<Length> {
    let is_inner = |c: char| c.is_alphanumeric() || c == '.';
    let mut begins = name.char_indices().map(|(at, _)| at).filter(|&at| !name[..at].ends_with(is_inner));
    // `50-yard gong`.
    begins.find_map(|at| {
        far(&name[at..]).or_else(|| far(&name[at..].replacen('-', " ", 1))).or_else(|| first_of(&name[at..]))
    })
}

fn far(text: &str) -> Option<Length> {
    yards_or_metres(text).or_else(|| feet_or_paces(text))
}

/// What stands between the distances of a list.
const BETWEEN: [&str; 7] = ["-", "–", "/", ",", "and", "to", "&"];
/// A number that is so much less than the next is no distance of the same list: `3-300 yd`.
const MOST_APART: f64 = 10.0;

/// A whole number that a text begins with, and what stands behind it.
fn number(text: &str) -> Option<(f64, &str)> {
    let behind = text.trim_start_matches(|c: char| c.is_ascii_digit());
    let number = text[..text.len() - behind.len()].parse().ok()?;
    Some((number, behind.trim_start()))
}

/// The first of some distances that a text begins with, whose unit stands behind the last: `100-300 yd`, `100 and 200 yd`.
fn first_of(text: &str) -> Option<Length> {
    let (first, behind) = number(text)?;
    let rest = BETWEEN.iter().find_map(|between| behind.strip_prefix(between))?.trim_start();
    let (next, _) = number(rest).filter(|(next, _)| *next > first && *next <= MOST_APART * first)?;
    Some((far(rest).or_else(|| first_of(rest))?) * (first / next))
}

/// Feet or paces that a text begins with: a few feet are a height.
fn feet_or_paces(text: &str) -> Option<Length> {
    let (number, behind) = number(text)?;
    let word = behind.trim_start_matches([' ', '-']).to_lowercase();
    let word = &word[..word.find(|c: char| !c.is_alphabetic()).unwrap_or(word.len())];
    match word {
        "ft" | "feet" | "foot" if number >= LEAST_FEET => Some(unit::FOOT.of(number)),
        // A pace is about a yard, and no more.
        "paces" | "pace" | "steps" => Some(unit::YARD.of(number)),
        _ => None,
    }
}

/// So many feet are a distance.
const LEAST_FEET: f64 = 40.0;
/// How much less than what was judged a name may say, as a share: names are round.
pub const SAME: f64 = 0.97;

/// Whether a name says of a thinner plate than one that is judged.
#[must_use]
pub fn named_thinner(name: &str, plate: Length) -> bool {
    thickness_named(name).is_some_and(|named| named < plate * SAME)
}

/// Words of a distance that is the least.
#[rustfmt::skip]
const LEAST: [&str; 12] = [
    "min", "minimum", "least", "closer", "nearer", "beyond", "past", "farther", "further", "more", "over", "onward",
];

/// Whether a name says that it is shot from nearer than it is judged, or from farther alone: `no closer than 500 yd`.
#[must_use]
pub fn named_nearer(name: &str, judged: Length) -> bool {
    let is_least = || words_of(&name.to_lowercase()).iter().any(|word| LEAST.contains(word));
    distance_named(name).is_some_and(|named| named < judged * SAME || named * SAME > judged && is_least())
}

/// What a stage's name is of where it speaks of what stands there.
const STANDS: [&str; 8] = ["plate", "plates", "gong", "gongs", "target", "targets", "popper", "poppers"];

/// Whether the name of a stage speaks of its targets: `Creek (cracked plates)`, and not `Cracked Rock`.
#[must_use]
pub fn speaks_of_targets(name: &str) -> bool {
    let lower = name.to_lowercase();
    words_of(&lower).iter().any(|word| STANDS.contains(word)) || lower.contains(['(', '['])
}

/// What a target is judged as where its name, or its stage's, speaks of something else: `sound` of a cracked plate. A
/// plate that nobody looked over is no cracked one either.
#[must_use]
pub fn judged_otherwise(name: &str, setup: &Setup) -> Option<&'static str> {
    if is_condition_open(setup) && holes_named(name) {
        return Some(condition_words(setup));
    }
    drawn_otherwise(name, setup)
}

/// The same of what is cut: its holes are seen in it, and are no damage.
#[must_use]
pub fn drawn_otherwise(name: &str, setup: &Setup) -> Option<&'static str> {
    const FIXED: [&str; 5] = ["bolted", "welded", "rigid", "screwed", "clamped"];
    let lower = name.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    if is_condition_open(setup) && damage_named(name).is_some() {
        return Some(condition_words(setup));
    }
    if setup.mount.is_free() && words.iter().any(|word| FIXED.iter().any(|stem| word.starts_with(stem))) {
        return Some("hung free");
    }
    if let Some(steel) = steel_otherwise(name, setup) {
        return Some(steel);
    }
    if setup.duty == Duty::Private && words.contains(&"public") {
        return Some("private duty");
    }
    let is_leant_back = setup.tilt.is_some_and(|tilt| tilt.si() < 0.0);
    if !is_leant_back && leans_back(name) {
        return Some("not leaning back");
    }
    if lies(name) {
        return Some("upright");
    }
    (setup.oblique.si() == 0.0 && is_turned(name)).then_some("square to the shooter")
}

/// The steel that a target is judged as where a name says of another.
#[must_use]
pub fn steel_otherwise(name: &str, setup: &Setup) -> Option<&'static str> {
    (setup.steel == Steel::Ar500 && steel_named(name).is_some()).then_some("AR500")
}

/// Whether a plate is judged as one that may be whole.
pub(super) fn is_condition_open(setup: &Setup) -> bool {
    matches!(setup.condition, Condition::Sound | Condition::Unknown)
}

fn condition_words(setup: &Setup) -> &'static str {
    if setup.condition == Condition::Sound { "sound" } else { "not looked over" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_and_distances_are_read_from_a_name() {
        let inches = |size: Option<Length>| size.map(|length| (unit::INCH.value(length) * 1e4).round() / 1e4);
        for (name, thickness, face) in [
            ("1/4 in gong", Some(0.25), None),
            ("gong 3/16", Some(0.1875), None),
            ("3/8\" plate", Some(0.375), None),
            ("1/4-in gong", Some(0.25), None),
            ("1/4in", Some(0.25), None),
            ("quarter inch gong", Some(0.25), None),
            (".25 in gong", Some(0.25), None),
            ("6 mm gong", Some(0.2362), None),
            ("6.35mm", Some(0.25), None),
            ("gong 12 in", None, Some(12.0)),
            ("12 in gong, 1/4 in", Some(0.25), Some(12.0)),
            ("3-inch spinner", None, Some(3.0)),
            ("two 4\" plates", None, Some(4.0)),
            ("a/b", None, None),
            ("gong 7", None, None),
            ("¼ in gong", Some(0.25), None),
            ("shield 3-8 in", Some(0.375), None),
            ("9 mm rack", None, None),
            ("gong on 1/4 in chain", None, None),
            ("gong, corner r 0.25 in", None, None),
            ("gong_6mm", Some(0.2362), None),
            ("gong 3_8in", Some(0.375), None),
            ("gong 0.25", Some(0.25), None),
            ("rev 0.25", None, None),
            ("12 in gong, 1/2 in holes", None, Some(12.0)),
            ("1/4 in gong on chain", Some(0.25), None),
            ("1/3 scale", None, None),
            ("1/3 in scale", Some(0.3333), None),
        ] {
            assert_eq!((inches(thickness_named(name)), inches(face_named(name))), (thickness, face), "{name}");
        }
        let yards = |name: &str| distance_named(name).map(|length| unit::YARD.value(length).round());
        for (name, far) in [
            ("20 yd gong", Some(20.0)),
            ("front 25yd", Some(25.0)),
            ("hostage 50m", Some(55.0)),
            ("60 ft gong", Some(20.0)),
            ("50 paces", Some(50.0)),
            ("50-yard gong", Some(50.0)),
            ("100-300 yd", Some(100.0)),
            ("100, 200 and 300 yd", Some(100.0)),
            ("100/200 yd", Some(100.0)),
            ("3-300 yd", Some(300.0)),
            ("gong", None),
            ("no. 12", None),
            ("A 3", None),
            ("6 ft post", None),
        ] {
            assert_eq!(yards(name), far, "{name}");
        }
    }
}
