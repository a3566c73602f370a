//! What tells that readings are not one string, or not taken at the muzzle, or not all there.

use super::sums::{has, numbers, said, word_behind};
use crate::quantity::{is_yards_or_metres, parse, unit, yards_or_metres};
use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

/// Names of a column that tells one load, day or barrel from another: with two words in it there are two strings.
#[rustfmt::skip]
const APART: &[&str] = &[
    "load", "recipe", "charge", "powder charge", "powder", "bullet", "ammo", "ammunition", "cartridge", "lot", "batch",
    "session", "group", "serie", "série", "rifle", "gun", "firearm", "barrel",
];
/// Names of a column that counts shots.
const COUNTS: &[&str] =
    &["shot", "#", "n", "no", "no.", "nr", "nr.", "shot number", "shot no", "shot no.", "shot #", "schuss"];
/// Names of a column that says of a shot that it counts, and that it does not; and words that say so anywhere.
const COUNTS_IF: &[&str] = &["include", "included", "valid", "use", "used", "active", "keep", "kept", "enabled", "ok"];
const LEFT_IF: &[&str] = &["delete", "deleted", "exclude", "excluded", "hide", "hidden", "ignore", "ignored", "skip"];
#[rustfmt::skip]
const LEFT: &[&str] = &[
    "deleted", "error", "misread", "excluded", "ignored", "discarded", "void", "invalid", "rejected", "removed",
    "do not count",
];
const NO: &[&str] = &["no", "n", "false", "0", "nein", "non"];
const YES: &[&str] = &["yes", "y", "true", "1", "x", "ja", "oui", "sí", "si"];
/// Words of a speed that was taken farther out than at the muzzle.
#[rustfmt::skip]
const FAR: &[&str] = &[
    "target", "impact", "terminal", "downrange", "striking", "strike", "retained", "remaining", "arrival", "ziel", "plate",
];
/// As far from the muzzle as optical chronographs stand, ft, and the least distance that a `V10` names, m.
const CLOSE_FT: f64 = 15.0;
const FAR_M: f64 = 5.0;
/// Words that say that a unit follows.
#[rustfmt::skip]
const UNIT_WORDS: &[&str] = &[
    "unit", "units", "einheit", "einheiten", "unité", "unités", "unidad", "unidades", "unità", "eenheid", "enhet",
    "enhed", "yksikkö", "jednostka", "jednotka",
];
/// Units of speed that nobody reads a chronograph in.
const FOREIGN: &[&str] = &["kmh", "kph", "mph", "kn", "kt", "knots"];

/// Whether words above a head say in which unit its readings are.
pub(super) fn speaks_of_a_unit(words: &[String]) -> bool {
    has(words, UNIT_WORDS) && !words.iter().any(|word| word == "wind")
}

/// The distance that a speed is named by, and its unit: `25` of `v25`, `10` and `ft` of `v10ft`.
fn named_by_distance(word: &str) -> Option<(f64, &str)> {
    let rest = word.strip_prefix('v')?;
    let digits = rest.trim_end_matches(char::is_alphabetic);
    Some((digits.parse().ok()?, &rest[digits.len()..]))
}

/// Whether a title speaks of a speed farther out than at the muzzle: `Impact velocity`, `V100`, `Velocity at 50 yd`.
pub(super) fn is_down_range(title: &str) -> bool {
    let words = said(&title.replace('@', " at "));
    let number = |text: &str| text.parse::<f64>().ok();
    let far = |(i, word): (usize, &String)| {
        let digits = word.trim_end_matches(char::is_alphabetic);
        let behind = &word[digits.len()..];
        let unit = if behind.is_empty() { words.get(i + 1).map_or("", String::as_str) } else { behind };
        let distance = number(digits).is_some_and(|n| match unit {
            unit if is_yards_or_metres(unit) || unit == "y" => n > 0.0,
            "ft" | "feet" => n > CLOSE_FT,
            _ => false,
        });
        let named = named_by_distance(word).is_some_and(|(number, unit)| match unit {
            unit if unit.ends_with("ft") || unit.ends_with("feet") => number > CLOSE_FT,
            _ => number >= FAR_M,
        });
        // A bare number behind `at` is of yards or of metres.
        let stands_at = i > 0 && words[i - 1] == "at" && behind.is_empty() && !["ft", "feet"].contains(&unit);
        let bare = stands_at && number(digits).is_some_and(|n| n >= FAR_M);
        FAR.contains(&word.as_str()) || distance || named || bare
    };
    words.iter().enumerate().any(far) || words.windows(2).any(|pair| pair[0] == "down" && pair[1] == "range")
}

/// Words of how far off something stands, and of what is no chronograph.
const HOW_FAR: &[&str] =
    &["distance", "dist", "entfernung", "abstand", "messdistanz", "distanz", "afstand", "distancia"];
#[rustfmt::skip]
const OF_THE_TARGET: &[&str] = &[
    "target", "ziel", "cible", "plate", "zero", "zeroed", "sight", "altitude", "alt", "elevation", "height", "höhe", "hoehe",
    "da", "density", "visibility", "barrel", "group", "groups", "primer", "primers", "zündhütchen", "amorce", "innesco",
    "powder", "pulver", "brass", "lot",
];

/// Words of how far off something stands where they have a unit of it.
const HOW_FAR_BY_UNIT: &[&str] = &["range", "lane", "location", "position", "offset"];

/// What a line's name, or a column's head, says of how far from the muzzle the readings may have been taken.
pub(super) struct Whereabouts {
    says_how_far: bool,
    /// The unit that it names, or its last word.
    unit: String,
}

impl Whereabouts {
    /// `None` where it is of the target, or of a height.
    pub fn of(name: &str) -> Option<Self> {
        let words = said(name);
        let inside = name.split_once(['(', '[']).map(|(_, inside)| inside.trim_end_matches([')', ']']).trim());
        let unit = inside.or_else(|| words.last().map(String::as_str)).unwrap_or_default();
        let by_unit = inside.is_some_and(is_yards_or_metres) && has(&words, HOW_FAR_BY_UNIT);
        let says_how_far = has(&words, HOW_FAR) || by_unit;
        (!has(&words, OF_THE_TARGET)).then(|| Self { says_how_far, unit: unit.to_owned() })
    }

    /// Why what stands there says that they were taken far from it: yards or metres, whatever they are of, and whatever
    /// is said of how far.
    pub fn far_off(&self, value: &str) -> Option<String> {
        let value = value.trim();
        let lower = value.to_lowercase();
        let place = STANDS_AT.iter().find_map(|word| {
            let behind = lower.strip_prefix(word)?;
            let is_word = *word == "@" || behind.starts_with(' ');
            is_word.then(|| behind.trim_start())
        });
        let place = place.unwrap_or(&lower);
        let is_far = if self.says_how_far {
            self.is_far(place)
        } else {
            !is_of_a_range(place) && yards_or_metres(place).is_some_and(is_beyond)
        };
        is_far.then(|| format!("the readings were taken at {value}, not at the muzzle"))
    }

    /// The same of what says how far it was: of several distances the farthest, and one that can't be read.
    fn is_far(&self, place: &str) -> bool {
        let feet = place.strip_suffix(['\'', '′', '’']).map(|feet| format!("{feet} ft"));
        let place = feet.as_deref().unwrap_or(place);
        let numbers = numbers(place);
        let at = |(index, (span, number)): (usize, &(std::ops::Range<usize>, f64))| {
            // A first of two numbers has the unit of the second.
            let own = word_behind(&place[span.end..]);
            let last = numbers[index..].iter().map(|(span, _)| word_behind(&place[span.end..]));
            let unit =
                if is_length(own) { own } else { last.into_iter().find(|word| is_length(word)).unwrap_or(&self.unit) };
            // A number without a unit is taken for yards.
            let (number, unit) = if unit == "km" { (&(number * 1e3), "m") } else { (number, unit) };
            parse(&format!("{number} {unit}")).unwrap_or_else(|_| unit::YARD.of(*number))
        };
        // `1OO yd`.
        let clings = |(span, _): &(std::ops::Range<usize>, f64)| {
            let own = word_behind(&place[span.end..]);
            place[span.end..].starts_with(char::is_alphabetic) && !is_length(own)
        };
        let is_spoiled = numbers.iter().any(clings) && said(place).iter().any(|word| is_length(word));
        let names = numbers.is_empty() || place.starts_with(|c: char| c.is_alphabetic());
        is_spoiled || (!names && numbers.iter().enumerate().map(at).any(is_beyond))
    }
}

/// Whether a word is a unit that a distance is told in.
fn is_length(word: &str) -> bool {
    is_yards_or_metres(word) || ["ft", "feet", "foot", "km", "y", "in", "cm"].contains(&word)
}

/// Whether it is a range that is so long: `200 yard bay`.
fn is_of_a_range(place: &str) -> bool {
    said(place).last().is_some_and(|word| ["range", "bay", "pit", "tunnel", "berm"].contains(&word.as_str()))
}

fn is_beyond(at: crate::quantity::Length) -> bool {
    at > unit::FOOT.of(CLOSE_FT) * (1.0 + 1e-9)
}

/// Words of the readings, and of what takes them.
#[rustfmt::skip]
const TAKEN: &[&str] = &[
    "velocity", "velocities", "speed", "speeds", "reading", "readings", "chrono", "chronograph", "chronographed",
    "chronied", "chronoed", "instrument", "radar", "measured", "recorded", "clocked", "taken", "geschwindigkeit", "gemessen",
    "messung", "screen", "screens", "skyscreens", "sensor", "sensors",
];
/// Words before a distance, or behind it, that say that something stands there.
#[rustfmt::skip]
const STANDS_AT: &[&str] = &[
    "at", "@", "from", "to", "distance", "dist", "in", "auf", "bei", "away", "out", "ahead", "past", "beyond",
    "downrange", "behind", "before", "after", "front",
];

/// Words before a place.
const IN_FRONT: &[&str] = &["at", "the", "from", "down", "range", "measured"];

/// Why a line says that the readings were taken far from the muzzle: `Velocities at 25 m`, `Chrono at 15 m`,
/// `Instrument: downrange, 100 yd`.
pub(super) fn taken_far(name: &str, text: &str) -> Option<String> {
    // `100-yard velocities`.
    let text = &text.replace("-y", " y").replace("-m", " m");
    let whole = said(text);
    let pair = |a: &str, b: &str| whole.windows(2).any(|pair| pair[0] == a && pair[1] == b);
    let is_far = whole.iter().any(|word| FAR.contains(&word.as_str()) && !OF_THE_TARGET.contains(&word.as_str()));
    let is_far = is_far || pair("down", "range") || pair("at", "target") || pair("the", "target") && pair("at", "the");
    let is_denied = has(&whole, &["muzzle"]) && has(&whole, &["not"]);
    let is_far = is_far || is_denied;
    let first = whole.first().and_then(|word| named_by_distance(word));
    let is_named_far = first.is_some_and(|(metres, unit)| unit.is_empty() && metres >= FAR_M);
    // Nothing else stands there.
    let is_all =
        whole.len() <= 3 && whole.iter().all(|word| IN_FRONT.contains(&word.as_str()) || FAR.contains(&word.as_str()));
    if is_far && (has(&whole, TAKEN) || is_all || is_denied) || (whole.len() < 3 && is_named_far) {
        return Some(format!("`{}` says that the readings are of farther out than the muzzle", text.trim()));
    }
    // A point between digits parts nothing.
    let clauses = text.split(';').flat_map(|part| part.split(", ")).flat_map(|part| part.split(". "));
    let clauses = clauses.map(|clause| (clause, said(&format!("{name} {clause}"))));
    let clauses = clauses.filter(|(_, words)| (has(words, TAKEN) || has(words, HOW_FAR)) && !has(words, OF_THE_TARGET));
    let found = clauses.flat_map(|(clause, _)| numbers(clause).into_iter().map(move |(span, _)| (clause, span)));
    found.into_iter().find_map(|(clause, span)| {
        let (before, at) = clause.split_at(span.start);
        let last = before.split_whitespace().next_back().unwrap_or_default().to_lowercase();
        let last = last.trim_end_matches([':', '=', '(', '@']);
        let unit = word_behind(&at[span.len()..]);
        let behind = said(&at[span.len()..]).into_iter().nth(1).unwrap_or_default();
        let is_there = STANDS_AT.contains(&last)
            || TAKEN.contains(&last)
            || HOW_FAR.contains(&last)
            || [STANDS_AT, TAKEN].iter().any(|list| list.contains(&behind.as_str()));
        let told = &at[..span.len()];
        let is_foot = ["ft", "feet", "foot"].contains(&unit.to_lowercase().as_str())
            || at[span.len()..].starts_with(['\'', '′', '’']);
        let length = if is_foot { parse(&format!("{told} ft")).ok() } else { yards_or_metres(at) };
        (is_there && is_beyond(length?)).then(|| format!("the readings were taken at {told} {unit}, not at the muzzle"))
    })
}

/// A unit of speed in the brackets of a title that readings are not read in: `km/h`.
pub(super) fn foreign_unit(title: &str) -> Option<&str> {
    let inside = title.split_once(['(', '['])?.1.trim_end_matches([')', ']']).trim();
    (inside.contains('/') || FOREIGN.contains(&inside.to_lowercase().as_str())).then_some(inside)
}

/// How several strings in one file are asked for, and shots that are marked.
pub(super) const ONE_STRING: &str = "give each string a file of its own, and ask for each alone";
const MARKED: &str = "does the shot count? take the row out of the file, or the mark";
const TWICE: &str = "take it out, or number the shots in a column `shot`";

/// What the rows of each string said so far beside their readings.
pub(super) struct Marks {
    counted: Option<usize>,
    apart: Vec<usize>,
    /// Columns that say of a shot that it counts, and that it does not.
    counts_if: Vec<usize>,
    left_if: Vec<usize>,
    strings: HashMap<Option<String>, Seen>,
}

#[derive(Default)]
struct Seen {
    numbers: HashSet<String>,
    /// Rows with the second that they were shot in.
    rows: HashSet<String>,
    /// Shots of which no reading was taken.
    bare: HashSet<String>,
    /// The first word of each column that tells strings apart.
    words: HashMap<usize, String>,
}

impl Marks {
    /// Of the names of columns; those that are read as something else are `taken`.
    pub fn of(names: &[String], taken: impl Fn(usize) -> bool) -> Self {
        let free = |list: &[&str]| -> Vec<usize> {
            (0..names.len()).filter(|&i| !taken(i) && list.contains(&names[i].as_str())).collect()
        };
        Self {
            counted: free(COUNTS).first().copied(),
            apart: free(APART),
            counts_if: free(COUNTS_IF),
            left_if: free(LEFT_IF),
            strings: HashMap::new(),
        }
    }

    /// Takes a row of a shot of which no reading was taken.
    pub fn pass(&mut self, bib: Option<&String>, texts: &[Cow<str>]) {
        let number = self.counted.and_then(|at| texts.get(at)).map(|text| text.trim().to_owned());
        self.strings.entry(bib.cloned()).or_default().bare.extend(number);
    }

    /// The shots that the numbers of a string leave out, between its first and its last.
    pub fn missing(&self) -> Vec<u32> {
        let of_one = |seen: &Seen| {
            let numbers: Option<HashSet<u32>> =
                seen.numbers.iter().chain(&seen.bare).map(|number| number.parse().ok()).collect();
            let numbers = numbers.unwrap_or_default();
            let (first, last) = (numbers.iter().min().copied()?, numbers.iter().max().copied()?);
            // Numbers that lie wide apart are no count of shots.
            let is_count = usize::try_from(last - first).is_ok_and(|span| span < 2 * numbers.len());
            is_count.then(|| (first..=last).filter(|number| !numbers.contains(number)).collect::<Vec<_>>())
        };
        let mut missing: Vec<u32> = self.strings.values().filter_map(of_one).flatten().collect();
        missing.sort_unstable();
        missing
    }

    /// Takes a row of a string.
    ///
    /// # Errors
    /// The column, why the row is none of that string, and what to do.
    pub fn take(&mut self, bib: Option<&String>, texts: &[Cow<str>]) -> Result<(), (usize, String, &'static str)> {
        if let Some(at) = self.left(texts) {
            return Err((at, format!("`{}` says that the shot does not count", texts[at].trim()), MARKED));
        }
        let seen = self.strings.entry(bib.cloned()).or_default();
        let cell = |at: usize| texts.get(at).map(|text| text.trim()).filter(|text| !text.is_empty());
        for &at in &self.apart {
            let Some(word) = cell(at) else { continue };
            let first = seen.words.entry(at).or_insert_with(|| word.to_owned());
            if !first.eq_ignore_ascii_case(word) {
                return Err((at, format!("`{word}` here, `{first}` above: these are two strings"), ONE_STRING));
            }
        }
        if let Some(at) = texts.iter().position(|text| has_seconds(text))
            && !seen.rows.insert(texts.join("\t"))
        {
            return Err((at, "the same row stands there twice".into(), TWICE));
        }
        match self.counted.and_then(|at| Some((at, cell(at)?))) {
            Some((at, number)) if !seen.numbers.insert(number.to_owned()) => {
                Err((at, format!("shot `{number}` stands there twice"), ONE_STRING))
            }
            _ => Ok(()),
        }
    }

    /// The column that says of a row's shot that it does not count.
    fn left(&self, texts: &[Cow<str>]) -> Option<usize> {
        let is = |at: usize, list: &[&str]| list.contains(&texts[at].trim().to_lowercase().as_str());
        (0..texts.len()).find(|&at| {
            is(at, LEFT) || (self.counts_if.contains(&at) && is(at, NO)) || (self.left_if.contains(&at) && is(at, YES))
        })
    }
}

/// Whether a text holds a time to the second, `10:03:00`.
fn has_seconds(text: &str) -> bool {
    let digit = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
    let bytes = text.as_bytes();
    let mut colons = (0..bytes.len()).filter(|&at| bytes[at] == b':' && digit(bytes.get(at + 1)));
    colons.any(|at| at > 0 && digit(bytes.get(at - 1)) && bytes.get(at + 3) == Some(&b':') && digit(bytes.get(at + 4)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chronograph_far_from_the_muzzle_is_told_from_a_target_and_from_one_that_stands_near() {
        let far_off = |name: &str, value: &str| Whereabouts::of(name).and_then(|place| place.far_off(value));
        for (name, value) in [
            ("Distance to chronograph", "100 yd"),
            ("distance (yd)", "100"),
            ("Distance", "25 m"),
            ("Chrono distance", "10"),
            ("Measured at", "100 yd"),
            ("Location", "100 yd from muzzle"),
            ("Offset", "25m"),
            ("Comment", "at 100 yd"),
            ("", "@100yd"),
            ("Note", "from 50 m"),
            ("Distance", "50'"),
            ("Distance", "12-50 ft"),
            ("Distance", "10 ft to 100 yd"),
            ("Distance", "0.1 km"),
            ("Distance", "1OO yd"),
            ("Distanz (m)", "25,0"),
            ("Range (yd)", "100"),
            ("Distance", "at 100 yd"),
        ] {
            assert!(far_off(name, value).is_some(), "{name} {value}");
        }
        for (name, value) in [
            ("Distance to chronograph", "10 ft"),
            ("Distance (ft)", "12"),
            ("Target distance", "100 yd"),
            ("Distance", "Hollow Creek"),
            ("Session", "100"),
            ("distance (m)", "3"),
            ("Altitude", "350 m"),
            ("Zero", "100 yd"),
            ("Note", "3 m wind"),
            ("Session", "2 May"),
            ("Primer", "210M"),
            ("Powder lot", "25 m"),
            ("Distance", "10'"),
            ("Distance", "10-12 ft"),
            ("Distance", "3,5 m"),
            ("Range", "Hollow Creek 2"),
            ("Range", "100"),
            ("Distance", "bench 4"),
            ("", "200 yard bay"),
            ("", "100 yd range"),
        ] {
            assert!(far_off(name, value).is_none(), "{name} {value}");
        }
    }

    #[test]
    fn a_line_that_says_where_the_readings_were_taken_is_told_from_one_on_the_target_or_near_the_muzzle() {
        for far in [
            "Velocities at 25 m",
            "Chrono at 15 m",
            "Instrument: downrange, 100 yd",
            "chronograph 30 ft from the muzzle",
            "measured at 50yd",
            "Velocity at target",
            "Chrono 15 m",
            "Speeds are impact speeds",
            "Radar: 20 m downrange",
            "100-yard velocities",
            "screens 25m out",
            "downrange",
            "at the target",
            "Chrono at 25'",
            "chrono@25yd",
            "Abstand 25 m",
            "V25",
            "V25 m",
            "Not at the muzzle",
            "Chrono at 4.6 m",
        ] {
            assert!(taken_far("", far).is_some(), "{far}");
        }
        for near in [
            "Chrono at 10 ft",
            "Chrono at 3 m",
            "Velocities at the muzzle, target at 100 yd",
            "Average speed 853 m/s",
            "Speed: 2650 ft/s",
            "Velocity at muzzle 807 m/s",
            "Chrono session for a target rifle",
            "Shot at 100 yd, chrono at 3 m",
            "Readings of 10 m/s wind",
            "Chronograph session 2 May",
            "Velocity for a 100 yd zero",
            "Screens at 10 ft",
            "at the range",
            "Chrono at 5 yd",
            "Chrono at 10'",
            "V0",
        ] {
            assert!(taken_far("", near).is_none(), "{near}: {:?}", taken_far("", near));
        }
    }

    #[test]
    fn a_speed_farther_out_is_told_by_its_title_and_one_at_the_muzzle_is_not() {
        for far in [
            "Velocity at target (fps)",
            "Impact velocity",
            "V100 (fps)",
            "V10 (m/s)",
            "Velocity at 50 yd",
            "speed 25m (m/s)",
            "Down-range speed (ft/s)",
            "velocity at 30 ft (fps)",
            "Velocity@100 (fps)",
            "Velocity 100y (fps)",
            "Plate speed (fps)",
            "V25",
        ] {
            assert!(is_down_range(far), "{far}");
        }
        for near in
            ["Velocity (m/s)", "V0 (m/s)", "Speed 1 (fps)", "velocity at 10 ft (fps)", "V10ft", "muzzle velocity"]
        {
            assert!(!is_down_range(near), "{near}");
        }
    }
}
