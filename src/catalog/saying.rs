//! Numbers that a load's name says: masses, speeds, sizes of shot.

use crate::load::lead_sphere;
use crate::quantity::{Length, Mass, Measure, Velocity, unit};
use crate::source::words_of;

/// Units of a mass as people write them; a gram is spelled like a gauge.
#[rustfmt::skip]
const GRAINS: [&str; 7] = ["gr", "grs", "grn", "grns", "gn", "grain", "grains"];
const GRAMS: [&str; 6] = ["g", "gram", "grams", "gramme", "grammes", "gramm"];
const FEET: [&str; 6] = ["fps", "ft/s", "ftps", "ft/sec", "feet/s", "f/s"];
const METRES: [&str; 4] = ["m/s", "mps", "m/sec", "metres/s"];
/// Feet, which are a speed where `per second` follows.
const FEET_PER_SECOND: [&str; 3] = ["feet", "foot", "ft"];
/// Words before a speed, feet a second where it has no unit: read slower than it may be, which says nothing.
const BEFORE_A_SPEED: [&str; 5] = ["mv", "v0", "velocity", "vel", "muzzle"];
/// A speed of a bullet at the muzzle, ft/s: a name may say others.
const LEAST_SPEED_FT_S: f64 = 300.0;
/// Sizes of buckshot by their numbers, and the width of a pellet, in (terms of the trade, from memory).
#[rustfmt::skip]
const BUCK: [(&str, f64); 8] = [
    ("0000", 0.38), ("000", 0.36), ("00", 0.33), ("0", 0.32), ("1", 0.30), ("2", 0.27), ("3", 0.25), ("4", 0.24),
];
/// The same in words.
const BUCK_IN_WORDS: [(&str, f64); 3] = [("triple aught", 0.36), ("triple ought", 0.36), ("double", 0.33)];
/// The least buckshot, in.
const LEAST_BUCK_IN: f64 = 0.24;

/// A number in a text with what stands behind it, in lower case.
struct Number<'t> {
    value: f64,
    unit: &'t str,
    /// The number and its unit as they are written.
    text: &'t str,
    /// Whether `per second` follows.
    is_per_second: bool,
    /// Whether it is called a speed.
    is_speed: bool,
}

/// The numbers of a text, each with the word behind it: `180gr`, `180-grain` and `180 gr.` alike.
fn numbers(lower: &str) -> Vec<Number<'_>> {
    let bytes = lower.as_bytes();
    let is_digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let is_point = |at: usize| matches!(bytes.get(at), Some(b'.' | b','));
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let begins = is_digit(at) || (bytes[at] == b'.' && is_digit(at + 1));
        if !begins {
            at += 1;
            continue;
        }
        let start = at;
        while is_digit(at) {
            at += 1;
        }
        // A comma before three digits sets thousands off, or numbers apart.
        let is_comma = bytes.get(at) == Some(&b',') && (1..=3).all(|n| is_digit(at + n)) && !is_digit(at + 4);
        if is_comma && at - start <= 2 {
            at += 4;
        } else if is_point(at) && is_digit(at + 1) && !is_comma {
            at += 1;
            while is_digit(at) {
                at += 1;
            }
        }
        let behind = lower[at..].trim_start_matches([' ', '-', '_', '\u{a0}']);
        let is_inner = |c: char| c.is_alphanumeric() || c == '/';
        let unit = &behind[..behind.find(|c: char| !is_inner(c)).unwrap_or(behind.len())];
        let end = lower.len() - behind.len() + unit.len();
        let digits = &lower[start..at];
        let digits = if is_comma { digits.replace(',', "") } else { digits.replace(',', ".") };
        if let Ok(value) = digits.parse::<f64>() {
            let is_per_second = lower[end..].trim_start().starts_with("per s");
            let before = lower[..start].trim_end_matches([' ', ':', '=', '-', '.']);
            let before = before.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
            let is_speed = BEFORE_A_SPEED.contains(&before);
            found.push(Number { value, unit, text: &lower[start..end], is_per_second, is_speed });
        }
    }
    found
}

/// What a name says of masses and speeds.
#[derive(Debug, Default)]
pub(super) struct Said {
    /// Masses as they are written, and what they are.
    pub masses: Vec<(String, Mass)>,
    pub speeds: Vec<(String, Velocity)>,
    /// Every number, whatever its unit.
    pub numbers: Vec<f64>,
}

/// The masses and speeds of a name; `gauge` where a whole number before a `g` is one.
pub(super) fn said(name: &str, gauge: bool) -> Said {
    let lower = name.to_lowercase();
    let mut said = Said::default();
    for number in numbers(&lower) {
        let text = || number.text.to_owned();
        said.numbers.push(number.value);
        let is_gauge = gauge && number.value.fract() == 0.0;
        if GRAINS.contains(&number.unit) {
            said.masses.push((text(), unit::GRAIN.of(number.value)));
        } else if GRAMS.contains(&number.unit) && !is_gauge {
            said.masses.push((text(), unit::GRAM.of(number.value)));
        } else if FEET.contains(&number.unit) {
            said.speeds.push((text(), unit::FOOT_PER_SECOND.of(number.value)));
        } else if METRES.contains(&number.unit) || (number.is_per_second && number.unit.starts_with("met")) {
            said.speeds.push((text(), unit::METRE_PER_SECOND.of(number.value)));
        } else if number.is_speed || (number.is_per_second && FEET_PER_SECOND.contains(&number.unit)) {
            said.speeds.push((text(), unit::FOOT_PER_SECOND.of(number.value)));
        }
    }
    said.speeds.retain(|(_, speed)| *speed >= unit::FOOT_PER_SECOND.of(LEAST_SPEED_FT_S));
    said
}

/// The mass of a lead pellet of the buckshot that a name speaks of: of the least where it says no size.
pub(super) fn buckshot(name: &str) -> Option<Mass> {
    let lower = name.to_lowercase();
    let words = words_of(&lower);
    let at = words.iter().position(|word| matches!(*word, "buck" | "buckshot"))?;
    let before = at.checked_sub(1).map(|before| words[before]);
    let size = |word: &str| BUCK.iter().find(|(name, _)| *name == word).map(|(_, inches)| *inches);
    let in_words = || BUCK_IN_WORDS.iter().find(|(words, _)| lower.contains(words)).map(|(_, inches)| *inches);
    let inches = before.and_then(size).or_else(in_words).unwrap_or(LEAST_BUCK_IN);
    Some(ball_of(unit::INCH.of(inches)))
}

/// A lead ball of a width: masses go with the cube of it.
fn ball_of(width: Length) -> Mass {
    let one = unit::GRAIN.of(1.0);
    one * (width.si() / lead_sphere(one).si()).powi(3)
}

/// Whether a name speaks of a slug.
pub(super) fn is_slug(name: &str) -> bool {
    name.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| matches!(word, "slug" | "slugs" | "foster"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_and_speeds_are_read_however_they_are_spelled() {
        for (name, grains) in [
            ("180gr.", 180.0),
            ("180-grain", 180.0),
            ("308-180gr", 180.0),
            ("200grn", 200.0),
            ("180 Gr SMK", 180.0),
            ("12 g match", 185.19),
            ("10.9 g SMK", 168.21),
            ("10,9 g", 168.21),
            ("43.5gr", 43.5),
        ] {
            let said = said(name, false).masses;
            assert!(said.len() == 1 && (unit::GRAIN.value(said[0].1) - grains).abs() < 0.02, "{name}: {said:?}");
        }
        for (name, fps) in [
            ("168 gr, 3100 ft/s", 3100.0),
            ("308 at 3000 fps", 3000.0),
            ("2900fps", 2900.0),
            ("900 m/s", 2952.8),
            ("3,100 fps", 3100.0),
            ("3100 feet per second", 3100.0),
            ("MV: 3100", 3100.0),
            ("mv 900 m/s", 2952.8),
        ] {
            let said = said(name, false).speeds;
            assert!(said.len() == 1 && (unit::FOOT_PER_SECOND.value(said[0].1) - fps).abs() < 0.1, "{name}: {said:?}");
        }
        for name in ["10 g1", "group 3", "308", "bc .45 g7", "5 gong", "30 rd", "grade 8"] {
            assert!(said(name, false).masses.is_empty(), "{name}");
        }
        assert!(said("12 g magnum", true).masses.is_empty());
    }

    #[test]
    fn buckshot_has_a_pellet_of_its_size() {
        let grains = |name: &str| buckshot(name).map(|mass| unit::GRAIN.value(mass).round());
        assert_eq!(grains("00 buckshot"), Some(54.0));
        assert_eq!(grains("double-ought buck"), Some(54.0));
        assert_eq!(grains("No. 4 buck"), Some(21.0));
        assert_eq!(grains("buckshot"), Some(21.0));
        assert_eq!(grains("bird 8"), None);
        assert!(is_slug("1 oz slug") && !is_slug("sluggish"));
    }
}
