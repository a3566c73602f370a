//! Cartridges in a text: whole names wherever they stand, and numbers where the words beside them say what they are.

use super::cartridge::{Cartridge, Shipped, shipped};
use super::spelling::form;
use crate::quantity::{Angle, Length, Mass, Measure, Pressure, Ratio, Temperature, Time, Velocity};
use std::sync::Arc;

/// The most words of a cartridge's name.
const MAX_WORDS: usize = 5;
/// A number of as many digits is no calibre, but `30-06 Springfield`.
const LONG_NUMBER: usize = 4;
/// What sets words apart.
const BETWEEN: &str = ",;:\t\"'()[]=_/|!?";
/// What stands for the dash of a name.
const DASHES: [char; 4] = ['\u{2010}', '\u{2011}', '\u{2013}', '\u{2212}'];

/// Words that say that the number behind them is of a cartridge: of what fires it, what is fired, and what people bring.
#[rustfmt::skip]
const SAYS_A_CARTRIDGE: [&str; 43] = [
    "rifle", "rifles", "gun", "guns", "pistol", "pistols", "handgun", "revolver", "carbine", "shotgun", "upper", "barrel",
    "ammo", "ammunition", "munition", "load", "loads", "laborierung", "cartridge", "cartridges", "cal", "kal", "caliber",
    "calibre", "kaliber", "calibro", "patrone", "cartouche", "cartucho", "kalibre", "chambering", "chambered", "brings",
    "bring", "bringing", "brought", "shoots", "shooting", "spare", "backup", "uses", "using", "fires",
];
/// Words that may stand between those and the number.
#[rustfmt::skip]
const ON_THE_WAY: [&str; 17] = [
    "in", "is", "a", "an", "the", "my", "his", "her", "of", "-", "for", "with", "second", "spare", "also", "another", "extra",
];
/// Words that join one cartridge and the next.
const JOINS: [&str; 6] = ["and", "or", "&", "+", "und", "et"];
/// Words that a cartridge's number alone is called one by: `40 cal`.
const CALIBRES: [&str; 5] = ["cal", "caliber", "calibre", "cartridge", "kal"];
/// Words before two numbers with a dash that are a day, a score, a mark or a measure.
#[rustfmt::skip]
const NO_PAIR_BEHIND: [&str; 26] = [
    "date", "datum", "dated", "day", "session", "time", "on", "from", "temp", "temperature", "humidity", "score", "scores",
    "points", "hits", "lot", "batch", "no", "nr", "page", "pages", "age", "ages", "squad", "bib", "shots",
];
/// Words behind them that say the same.
#[rustfmt::skip]
const NO_PAIR_BEFORE: [&str; 14] = [
    "shot", "shots", "rounds", "rds", "points", "pts", "hits", "degrees", "degree", "mph", "kmh", "kph", "years", "people",
];
/// Words beside a fraction that is a measure or a coefficient, and no calibre: `BC .223 G7`, `.308 in`.
#[rustfmt::skip]
const NO_CALIBRE: [&str; 22] = [
    "bc", "g1", "g7", "i7", "coefficient", "factor", "form", "group", "groups", "size", "diameter", "dia", "jump", "trim",
    "neck", "bushing", "shoulder", "runout", "freebore", "moa", "sd", "bore",
];

/// A cartridge as a text names it.
#[derive(Debug, Clone)]
pub struct Mention {
    /// The cartridge.
    pub cartridge: &'static Arc<Cartridge>,
    /// The words that name it.
    pub text: String,
    /// Whether that is a calibre alone, which other cartridges have as well: `308`, `9 mm`.
    pub is_calibre: bool,
    /// How many words stand before it.
    pub at: usize,
}

impl Mention {
    /// The number of a calibre alone, as it is written: 308 of `308`.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        self.text.parse().ok().filter(|_| self.is_calibre)
    }

    /// Whether it is a word alone, which may be somebody's name: `Makarov`.
    #[must_use]
    pub fn is_word(&self) -> bool {
        !self.text.contains(|c: char| c.is_ascii_digit())
    }
}

/// How a name names.
enum Names {
    /// Wherever it stands.
    InFull,
    /// Two numbers with a dash: `30-06`, which may be a day.
    Pair,
    /// A fraction: `.223`, which may be a coefficient.
    Fraction,
    /// A number, or a measure, that is said to be a cartridge's: `223`, `9 mm`, `12 g`.
    Number,
    /// The same, that says itself that it is: `40 cal`.
    Calibre,
}

impl Cartridge {
    /// The shipped cartridges that a text names: `Profile 308 Win 150gr`, `brings .30-06`, but neither a number alone nor
    /// `group of 10 mm`.
    #[must_use]
    pub fn named_in(text: &str) -> Vec<&'static Arc<Self>> {
        Self::mentions("", text).into_iter().map(|mention| mention.cartridge).collect()
    }

    /// The same of a text under a title, with the words that name each.
    #[must_use]
    pub fn mentions(title: &str, text: &str) -> Vec<Mention> {
        let Ok(shipped) = shipped() else { return Vec::new() };
        let (title, text) = (plain(title), plain(text));
        let (heads, words) = (words_of(&title), words_of(&text));
        let (mut found, mut at) = (Vec::<Mention>::new(), 0);
        while at < words.len() {
            let longest = (1..=MAX_WORDS.min(words.len() - at)).rev();
            let mention = longest.map(|count| &words[at..at + count]).find_map(|name| {
                let place = Place { heads: &heads, words: &words, at, end: at + name.len(), last: found.last() };
                Some((name.len(), place.mention(&name.join(" "), shipped)?))
            });
            at += mention.as_ref().map_or(1, |(count, _)| *count);
            found.extend(mention.map(|(_, mention)| mention));
        }
        found
    }
}

/// A text in the marks that a keyboard has.
fn plain(text: &str) -> String {
    text.replace('×', "x").replace(DASHES, "-")
}

fn words_of(text: &str) -> Vec<&str> {
    let words = text.split(|c: char| c.is_whitespace() || BETWEEN.contains(c));
    words.map(|word| word.trim_end_matches('.')).filter(|word| !word.is_empty()).collect()
}

/// Where a name stands.
struct Place<'t> {
    heads: &'t [&'t str],
    words: &'t [&'t str],
    at: usize,
    end: usize,
    last: Option<&'t Mention>,
}

impl Place<'_> {
    /// The cartridge that a name leads to, where it is one in this place.
    fn mention(&self, name: &str, shipped: &'static Shipped) -> Option<Mention> {
        let (cartridge, named) = match shipped.called(name) {
            Some(cartridge) => (cartridge, names(name, cartridge, shipped)?),
            None => (shipped.called(before_a_mass(name)?)?, Names::Pair),
        };
        let holds = match named {
            Names::InFull | Names::Calibre => true,
            Names::Pair => name.starts_with('.') || self.is_no_day(),
            Names::Fraction => self.is_said() || self.is_no_coefficient(),
            Names::Number => self.is_said() && !self.is_measured(),
        };
        let is_calibre = matches!(named, Names::Fraction | Names::Number | Names::Calibre);
        holds.then(|| Mention { cartridge, text: name.to_owned(), is_calibre, at: self.at })
    }

    /// The words before it, the nearest first, those of the title last.
    fn before(&self) -> impl Iterator<Item = String> {
        let words = self.words[..self.at].iter().rev().chain(self.heads.iter().rev());
        words.map(|word| word.to_lowercase())
    }

    fn next(&self) -> Option<String> {
        self.words.get(self.end).map(|word| word.to_lowercase())
    }

    /// Whether the words before it say that it is a cartridge: `spare rifle 223`, `308 Win and 223`.
    fn is_said(&self) -> bool {
        let is_way = |word: &String| ON_THE_WAY.contains(&word.as_str());
        let is_said = |word: &String| SAYS_A_CARTRIDGE.contains(&word.as_str());
        let is_joined = self.before().next().is_some_and(|word| JOINS.contains(&word.as_str()))
            && self.last.is_some_and(|last| last.at + words_of(&last.text).len() + 1 == self.at);
        is_joined || self.before().find(|word| !is_way(word) || is_said(word)).is_some_and(|word| is_said(&word))
    }

    /// Whether a unit stands behind it, or what it is a measure of.
    fn is_measured(&self) -> bool {
        self.next().is_some_and(|word| word == "of" || (is_unit(&word) && !["in", "c", "f"].contains(&word.as_str())))
    }

    fn is_no_day(&self) -> bool {
        let listed = |word: Option<String>, list: &[&str]| word.is_some_and(|word| list.contains(&word.as_str()));
        // `in` is a word where others follow.
        let next = self.next().filter(|word| word != "in" || self.end + 1 == self.words.len());
        let is_unit = next.as_ref().is_some_and(|word| is_unit(word));
        !is_unit && !listed(next, &NO_PAIR_BEFORE) && !listed(self.before().next(), &NO_PAIR_BEHIND)
    }

    fn is_no_coefficient(&self) -> bool {
        let beside = self.before().take(2).chain(self.next());
        let is_of_two = |word: String| is_unit(&word) || NO_CALIBRE.contains(&word.as_str());
        !beside.into_iter().any(is_of_two)
    }
}

/// Whether a word is a unit of anything that people measure at a range.
fn is_unit(word: &str) -> bool {
    fn one<Q: Measure>(word: &str) -> bool {
        Q::UNITS.iter().any(|unit| !unit.symbol.is_empty() && unit.is_spelled_loosely(word))
    }
    let word = word.trim_end_matches('.');
    let of_space = one::<Length>(word) || one::<Angle>(word) || one::<Velocity>(word);
    of_space
        || one::<Mass>(word)
        || one::<Temperature>(word)
        || one::<Time>(word)
        || one::<Pressure>(word)
        || one::<Ratio>(word)
}

/// How a name that leads to a cartridge names it; `None` for what is one in no place.
fn names(name: &str, cartridge: &Cartridge, shipped: &Shipped) -> Option<Names> {
    let form = form(name, &shipped.words);
    let (behind, has_words) =
        (form.trim_start_matches(|c: char| c.is_ascii_digit()), name.contains(char::is_alphabetic));
    if has_words && behind.is_empty() {
        let is_calibre = name.rsplit(' ').next().is_some_and(|word| CALIBRES.contains(&word.to_lowercase().as_str()));
        return if form.len() >= LONG_NUMBER { Some(Names::InFull) } else { is_calibre.then_some(Names::Calibre) };
    }
    if has_words {
        // A measure may be one: `9 mm`, `12 g`, `6 cm`, `22 s`.
        let is_number = form.starts_with(|c: char| c.is_ascii_digit());
        let is_measure = is_number && is_unit(behind) && name.ends_with(behind);
        let is_short = !is_number && form.len() < LONG_NUMBER;
        return if is_short { None } else { Some(if is_measure { Names::Number } else { Names::InFull }) };
    }
    if is_pair(name) {
        return Some(Names::Pair);
    }
    let digits = name.strip_prefix('.');
    match (name.split(' ').count(), digits) {
        (1, Some(digits)) if digits.len() == 3 => Some(Names::Fraction),
        // `5.56` is one that begins so, and `2.80` is none.
        (1, None) if name.contains('.') => {
            let all = std::iter::once(cartridge.name()).chain(cartridge.aliases().iter().map(String::as_str));
            all.into_iter().any(|own| own.starts_with(name)).then_some(Names::Number)
        }
        (1, _) if form.len() == 3 => Some(Names::Number),
        // `30 06`.
        (2, None) => Some(Names::Number),
        _ => None,
    }
}

/// Whether a word is two numbers with a dash between.
fn is_pair(word: &str) -> bool {
    let is_number = |part: &str| part.starts_with(|c: char| c.is_ascii_digit()) && part.parse::<f64>().is_ok();
    word.trim_start_matches('.').split_once('-').is_some_and(|(a, b)| is_number(a) && is_number(b))
}

/// A pair that a mass or a word is joined to: `30-06` of `30-06-180gr`, and not of `30-06-2026`.
fn before_a_mass(word: &str) -> Option<&str> {
    let (at, _) = word.match_indices('-').nth(1)?;
    let (pair, rest) = (&word[..at], &word[at + 1..]);
    let digits = rest.chars().take_while(char::is_ascii_digit).count();
    (is_pair(pair) && (digits == 3 || rest.contains(char::is_alphabetic))).then_some(pair)
}
