//! Numbers without a unit that weigh a bullet: `Bullet: 175 match`, `load 175`.

use crate::catalog::Cartridge;
use crate::chrono::{Above, Weighs};
use crate::load::Load;
use crate::quantity::{Angle, Length, Measure, Temperature, Time, Velocity, unit};

/// How far such a number may be from the load's bullet, gr (house assumption).
pub(super) const LIKE_GR: f64 = 0.5;
/// What may be another bullet of the cartridge, as shares of the load's own (house assumption): of a load the least is
/// more than its powder weighs, unless it is as much as powder rarely is.
const OF_A_BULLET: std::ops::RangeInclusive<f64> = 0.3..=2.5;
const OF_A_LOAD: std::ops::RangeInclusive<f64> = 0.7..=2.0;
const OF_WORDS: std::ops::RangeInclusive<f64> = 0.5..=2.0;
const MORE_THAN_POWDER_GR: f64 = 100.0;
/// Words behind the number that say that it is of a bullet (terms of the trade).
#[rustfmt::skip]
const BULLETS: [&str; 21] = [
    "match", "fmj", "hp", "sp", "otm", "hpbt", "bthp", "jhp", "jsp", "vld", "bt", "boattail", "ball", "soft", "hollow",
    "tipped", "bullet", "bullets", "lrn", "swc", "bonded",
];
/// Capitals behind a number that are no name of a bullet.
#[rustfmt::skip]
const NO_BULLETS: [&str; 20] = [
    "AM", "PM", "UTC", "EST", "RH", "JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC",
    "AR", "NRA", "RDS",
];
/// Words before a number that is none of a mass, and behind one that is counted.
#[rustfmt::skip]
const NUMBERED: [&str; 18] = [
    "lot", "no", "nr", "number", "batch", "box", "primer", "primers", "brass", "of", "test", "group", "serial", "id", "bag",
    "powder", "charge", "case",
];
#[rustfmt::skip]
const COUNTED: [&str; 11] = [
    "shots", "shot", "rounds", "rnds", "rds", "pcs", "pieces", "pack", "count", "ct", "x",
];

/// Whether a line gives a bare number that may be the mass of another bullet than the load's, and none that is its own.
pub(super) fn is_of_another(line: &Above, load: &Load) -> bool {
    let (facts, about) = (load.facts(), line.weighs());
    if about == Weighs::Nothing || facts.projectiles > 1 {
        return false;
    }
    let own = unit::GRAIN.value(facts.bullet);
    let (name, value) = line.parts();
    let mut text = value.to_owned();
    for named in Cartridge::mentions(name, value).iter().filter(|named| !named.is_calibre || about != Weighs::ABullet) {
        text = text.replacen(&named.text, " ", 1);
    }
    let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || ",;:()[]\"/=".contains(c)).collect();
    let words: Vec<&str> = words.into_iter().flat_map(parts).filter(|word| !word.is_empty()).collect();
    let numbers = || words.iter().enumerate().filter_map(|(at, word)| Some((at, whole(word)?)));
    if numbers().any(|(_, number)| (number - own).abs() <= LIKE_GR) {
        return false;
    }
    let is_mass = |(at, number): (usize, f64)| {
        let before = at.checked_sub(1).map_or("", |before| words[before]);
        let behind = words.get(at + 1).copied().unwrap_or_default();
        let share = number / own;
        let is_like = match about {
            Weighs::ABullet => OF_A_BULLET.contains(&share),
            Weighs::ALoad if number >= MORE_THAN_POWDER_GR => OF_WORDS.contains(&share),
            Weighs::ALoad => OF_A_LOAD.contains(&share),
            _ => OF_WORDS.contains(&share) && names_a_bullet(behind),
        };
        is_like && !is_its_calibre(number, load) && !is_of_something_else(before, behind)
    };
    numbers().any(is_mass)
}

/// `175-match` is two words; `30-06` is one, as a load's name is.
fn parts(word: &str) -> Vec<&str> {
    let is_numbered = word.split('-').next().is_some_and(|part| whole(part).is_some());
    if is_numbered && word.contains(char::is_alphabetic) { word.split('-').collect() } else { vec![word] }
}

/// A whole number of two or three digits.
fn whole(word: &str) -> Option<f64> {
    let word = word.trim_end_matches('.');
    let is_whole = (2..=3).contains(&word.len()) && word.bytes().all(|byte| byte.is_ascii_digit());
    word.parse().ok().filter(|_| is_whole)
}

/// Whether a word behind a number is of a bullet: of the trade, or in capitals as makers call theirs.
fn names_a_bullet(word: &str) -> bool {
    let is_in_capitals = (2..=4).contains(&word.len()) && word.bytes().all(|byte| byte.is_ascii_uppercase());
    BULLETS.contains(&word.to_lowercase().as_str()) || (is_in_capitals && !NO_BULLETS.contains(&word))
}

/// Whether a number is the calibre of the load: the bullet's thousandths of an inch, or its cartridge's own.
fn is_its_calibre(number: f64, load: &Load) -> bool {
    let own = Cartridge::of(load);
    let width = load.facts().diameter.or_else(|| own.and_then(|own| own.calibre()));
    let is_width = width.is_some_and(|width| (1e3 * unit::INCH.value(width) - number).abs() < 1.0);
    let is_called =
        own.is_some_and(|own| own.name().split(|c: char| !c.is_ascii_digit()).any(|part| whole(part) == Some(number)));
    is_width || is_called
}

fn is_of_something_else(before: &str, behind: &str) -> bool {
    fn one<Q: Measure>(word: &str) -> bool {
        Q::UNITS.iter().any(|unit| unit.is_spelled_loosely(word))
    }
    let (before, behind) = (before.to_lowercase(), behind.to_lowercase());
    let is_unit = one::<Length>(&behind) || one::<Velocity>(&behind) || one::<Temperature>(&behind);
    let is_unit = is_unit || one::<Time>(&behind) || one::<Angle>(&behind);
    NUMBERED.contains(&before.trim_end_matches('.')) || COUNTED.contains(&behind.as_str()) || is_unit
}
