//! What stands in a drawing that speaks against what is judged: of its steel, its thickness, its unit, of damage, and of
//! layers that nobody cuts.

use super::called::{is_condition_open, named_thinner, says_thickness};
use crate::outline::{Outline, Reading};
use crate::plate::{Steel, damage_named, other_steel, steel_named};
use crate::quantity::{Length, unit};
use crate::rules::Setup;
use crate::source::words_of;

/// Words of a drawing's note that is of the plate.
const OF_A_PLATE: [&str; 11] =
    ["plate", "pl", "thk", "thick", "thickness", "steel", "material", "mat", "matl", "mtl", "ar500"];

/// What stands in a drawing, its names and texts and where it comes from, that names another steel than AR500.
#[must_use]
pub fn noted_steel<'o>(outline: &'o Outline, setup: &Setup) -> Option<&'o str> {
    let mut notes = outline.reading().written();
    // What says that it is of the material names steels as a label does, `MATERIAL: T1`; AR500 is called armour as well.
    let is_label = |note: &str| is_of_a_plate(note) && !note.to_lowercase().contains("ar500");
    let names = |note: &str| steel_named(note).is_some() || is_label(note) && other_steel(note).is_some();
    notes.find(|note| setup.steel == Steel::Ar500 && names(note))
}

/// What stands in a drawing of a plate, or as the whole name of one of its parts, that says of a thinner one than is
/// judged. Its other sizes are of holes and corners.
#[must_use]
pub fn noted_thinner(outline: &Outline, plate: Length) -> Option<&str> {
    let reading = outline.reading();
    let is_thinner = |note: &&str| {
        is_of_a_plate(note) && named_thinner(note, plate)
            || gauge_named(note, is_of_a_plate(note)).is_some_and(|gauge| gauge < plate)
    };
    let name = || reading.called().find(|name| is_bare(name) && named_thinner(name, plate));
    reading.written().find(is_thinner).or_else(name).or_else(|| size_beside(&reading.notes, plate))
}

/// Whether a note is of the plate.
fn is_of_a_plate(note: &str) -> bool {
    let lower = note.to_lowercase();
    words_of(&lower).iter().any(|word| OF_A_PLATE.contains(word)) || says_thickness(&lower)
}

/// Whether a text is a size and nothing else.
fn is_bare(text: &str) -> bool {
    let letters: String = text.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
    matches!(letters.as_str(), "" | "in" | "inch" | "mm")
}

/// A size of a thinner plate, as a text of its own behind one that says what it is of: a title block has both.
fn size_beside(notes: &[String], plate: Length) -> Option<&str> {
    let is_of_thickness = |word: &str| {
        let lower = word.to_lowercase();
        words_of(&lower).last().is_some_and(|last| OF_THICKNESS.contains(last))
    };
    // A whole number alone may be a count.
    let is_size = |text: &str| is_bare(text) && text.contains(|c: char| !c.is_ascii_digit());
    let mut pairs = notes.windows(2).filter(|pair| is_of_thickness(&pair[0]) && is_size(&pair[1]));
    pairs.find(|pair| named_thinner(&format!("thk {}", pair[1]), plate)).map(|pair| pair[1].as_str())
}

/// What ends a text that the thickness stands beside.
const OF_THICKNESS: [&str; 3] = ["thk", "thick", "thickness"];

/// Inches of the manufacturers' standard gauges of steel sheet, from 3 to 16 (from memory).
#[rustfmt::skip]
const GAUGES: [f64; 14] = [
    0.2391, 0.2242, 0.2092, 0.1943, 0.1793, 0.1644, 0.1495, 0.1345, 0.1196, 0.1046, 0.0897, 0.0747, 0.0673, 0.0598,
];
const FIRST_GAUGE: usize = 3;
/// What a gauge is of that is no sheet's.
const OF_A_SHOTGUN: [&str; 7] = ["shotgun", "shot", "slug", "slugs", "buck", "buckshot", "bore"];

/// The thickness of a gauge in a note of a plate, or in one that says nothing else: `10 GA`, `GAUGE 12 STEEL`.
fn gauge_named(note: &str, of_a_plate: bool) -> Option<Length> {
    let lower = note.to_lowercase();
    let words = words_of(&lower);
    if words.iter().any(|word| OF_A_SHOTGUN.contains(word)) {
        return None;
    }
    let is_gauge = |word: &str| matches!(word, "ga" | "gauge" | "gage");
    let number = |word: &str| word.parse::<usize>().ok();
    let joined = |word: &&str| {
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
        number(&word[..word.len() - unit.len()]).filter(|_| is_gauge(unit))
    };
    let pair = |pair: &[&str]| match pair {
        [first, second] if is_gauge(second) => number(first),
        [first, second] if is_gauge(first) => number(second),
        _ => None,
    };
    let alone = words.len() == 1 || words.len() == 2 && words.iter().any(|word| is_gauge(word));
    let named = words.windows(2).find_map(pair).or_else(|| words.iter().find_map(joined));
    let inches = named.filter(|_| of_a_plate || alone)?.checked_sub(FIRST_GAUGE).and_then(|at| GAUGES.get(at))?;
    Some(unit::INCH.of(*inches))
}

/// What stands in a drawing of a unit that it is not read in, where that is no dual one: `ALL DIMENSIONS IN INCHES`.
#[must_use]
pub fn noted_unit(outline: &Outline) -> Option<&str> {
    const OF_ALL: [&str; 8] =
        ["dimension", "dimensions", "dims", "dim", "dimensioned", "units", "measurements", "sizes"];
    let Reading { unit, notes, .. } = outline.reading();
    let is_read_in = |words: &[&str]| words.iter().any(|word| unit.starts_with(word));
    // A picture's size on paper says what its units are, whatever its dimensions are written in.
    let (inches, millimetres) =
        (is_read_in(&["in", "inch", "pixels", "units"]), is_read_in(&["mm", "millimetres", "units"]));
    let speaks = |note: &&str| {
        let lower = note.to_lowercase();
        let words = words_of(&lower);
        let has = |known: &[&str]| words.iter().any(|word| known.contains(word));
        let (of_inches, of_millimetres) =
            (has(&["inch", "inches"]), has(&["mm", "mms", "millimeters", "millimetres", "millimeter", "millimetre"]));
        has(&OF_ALL) && of_inches != of_millimetres && if of_inches { !inches } else { !millimetres }
    };
    notes.iter().map(String::as_str).find(speaks)
}

/// What stands in a drawing of a plate's damage, where the plate is judged as one that may be whole. A shop's note may
/// speak of it as of what is not allowed: it is for a person to read.
#[must_use]
pub fn noted_damage<'o>(outline: &'o Outline, setup: &Setup) -> Option<&'o str> {
    let speaks = |note: &&str| is_condition_open(setup) && damage_named(note).is_some();
    outline.reading().notes.iter().map(String::as_str).find(speaks)
}

/// Beginnings of words for layers of what is drawn on a plate or beside it, and whole ones.
const NOT_CUT: [&str; 6] = ["engrav", "etch", "scrib", "annot", "dimension", "construct"];
#[rustfmt::skip]
const NOT_CUT_WORDS: [&str; 32] = [
    "mark", "marks", "marking", "markings", "hidden", "bend", "bends", "center", "centre", "centers", "centres",
    "centerline", "centreline", "centerlines", "centrelines", "dim", "dims", "note", "notes", "text", "hatch", "phantom",
    "border", "borders", "frame", "title", "titleblock", "sheet", "reference", "score", "silk", "silkscreen",
];
/// Words of layers that are cut all the same: `center hole`.
const CUT_WORDS: [&str; 5] = ["cut", "cutout", "hole", "holes", "outline"];

/// Layers of an outline and its holes that are called as what nobody cuts.
#[must_use]
pub fn layers_not_cut(outline: &Outline) -> Vec<&str> {
    let is_not_cut = |layer: &&str| {
        let lower = layer.to_lowercase();
        let words = words_of(&lower);
        let names = |word: &&str| NOT_CUT_WORDS.contains(word) || NOT_CUT.iter().any(|stem| word.starts_with(stem));
        words.iter().any(names) && !words.iter().any(|word| CUT_WORDS.contains(word))
    };
    outline.reading().layers.iter().map(String::as_str).filter(is_not_cut).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::ReadOptions;
    use crate::quantity::parse;
    use crate::source::SourceText;

    /// An outline with a source, which is read as a note.
    fn outline(unit: &str, note: &str) -> Outline {
        let size = if unit == "in" { 12 } else { 300 };
        let text = format!(
            "schema = \"thickset/outline/1\"\nname = \"gong\"\nunit = \"{unit}\"\nsource = '{note}'\n\
             points = [[0, 0], [{size}, 0], [{size}, {size}], [0, {size}]]\n"
        );
        Outline::from_text(&SourceText::new("gong.toml", text), &ReadOptions::default()).unwrap()
    }

    #[test]
    fn a_thickness_in_a_note_is_told_from_other_numbers() {
        let thinner = |note: &str| noted_thinner(&outline("in", note), parse("3/8 in").unwrap()).is_some();
        for note in [
            "t=6",
            "T = 6 mm",
            "t=.25",
            "t=1/4\"",
            "t: 6",
            "THK .188",
            "THK 3/16",
            "6 THK",
            "PLATE 6 mm",
            "THICKNESS: 6,35",
            "thickness 0.25",
            "10 GA",
            "10ga",
            "GAUGE 12 STEEL",
            "MATERIAL 7 GA",
            "12-gauge steel",
        ] {
            assert!(thinner(note), "{note}");
        }
        for note in [
            "t=10",
            "t=.5",
            "THK .5",
            "12 THK",
            "T6",
            "t 6",
            "part=6",
            "QTY 6",
            "6",
            "TYP. 6 PLACES",
            "shot=6",
            "POWDER COAT THK .005",
            "THICKNESS TOLERANCE .010",
            "12 GA SLUG PLATE",
            "12 GAUGE SHOTGUN STEEL",
            "gong 12 ga rack",
            "AR500 PLATE",
            "12 in PLATE, THK 1/2",
        ] {
            assert!(!thinner(note), "{note}");
        }
    }

    #[test]
    fn a_unit_that_a_drawing_is_not_read_in_is_heard_and_a_dual_one_is_not() {
        for (unit, note, heard) in [
            ("mm", "ALL DIMENSIONS IN INCHES", true),
            ("in", "DIMENSIONS IN MM", true),
            ("in", "UNITS: MILLIMETERS", true),
            ("in", "ALL DIMENSIONS IN INCHES", false),
            ("mm", "DIMS. IN MM", false),
            ("mm", "DIMENSIONS IN INCHES [MM]", false),
            ("mm", "12 inch gong", false),
            ("mm", "ALL DIMENSIONS IN PLATE", false),
        ] {
            assert_eq!(noted_unit(&outline(unit, note)).is_some(), heard, "{unit}: {note}");
        }
    }
}
