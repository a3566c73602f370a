//! What stands in a drawing that speaks against what is judged: of its steel, its thickness, its unit, of damage, and of
//! layers that nobody cuts.

use super::called::{OF_THICKNESS, SAME, apart_from_numbers, is_condition_open, named_thinner, says_thickness};
use crate::outline::{Outline, Reading};
use crate::plate::{Steel, damage_named, is_abbreviated, other_steel, size_alone, steel_named};
use crate::quantity::{Length, Measure, unit};
use crate::rules::Setup;
use crate::source::words_of;

/// Words of a drawing's note that is of the plate, beside those for its thickness.
#[rustfmt::skip]
const OF_A_PLATE: [&str; 16] = [
    "plate", "pl", "plt", "steel", "material", "mat", "matl", "mtl", "ar500", "blech", "stahl", "werkstoff", "tôle", "tole",
    "acier", "matière",
];
/// The word of the trade before a plate's thickness, `PL 8` and `PL8x300`.
const PLATE_OF: &str = "pl";
/// The least number behind it that is one of millimetres: fewer count plates.
const LEAST_PLATE_MM: f64 = 3.0;

/// What stands in a drawing, its names and texts and where it comes from, that names another steel than AR500.
#[must_use]
pub fn noted_steel<'o>(outline: &'o Outline, setup: &Setup) -> Option<&'o str> {
    let reading = outline.reading();
    // What says that it is of the material names steels as a label does, `MATERIAL: T1`; AR500 is called armour as well.
    let is_label = |note: &str| is_of_a_plate(note) && !note.to_lowercase().contains("ar500");
    let names = |note: &str| steel_named(note).is_some() || is_label(note) && other_steel(note).is_some();
    let short = || {
        let at = (0..reading.notes.len()).find(|at| is_short_for_steel(&reading.notes, *at));
        at.map(|at| reading.notes[at].as_str())
    };
    (setup.steel == Steel::Ar500).then(|| reading.written().find(|note| names(note)).or_else(short)).flatten()
}

/// Words of a title block before somebody's initials.
#[rustfmt::skip]
const OF_A_PERSON: [&str; 20] = [
    "drawn", "drn", "dwn", "by", "checked", "chkd", "chk", "ckd", "approved", "appd", "app", "designed", "design", "designer",
    "drafter", "name", "initials", "gez", "gepr", "engineer",
];

/// Whether a text is short for another steel: `MS` alone, behind no word for a person, and `1/4 MS PLATE`.
fn is_short_for_steel(notes: &[String], at: usize) -> bool {
    let lower = notes[at].to_lowercase();
    let words = words_of(&lower);
    let is_size = |word: &str| word.starts_with(|c: char| c.is_ascii_digit()) || matches!(word, "mm" | "in" | "inch");
    let is_of_it = |word: &str| is_size(word) || OF_A_PLATE.contains(&word) || OF_THICKNESS.contains(&word);
    let mut others = words.iter().filter(|word| !is_of_it(word));
    let is_short = others.next().is_some_and(|word| is_abbreviated(word)) && others.next().is_none();
    let is_of_a_person = || {
        let before = at.checked_sub(1).map(|before| notes[before].to_lowercase()).unwrap_or_default();
        words_of(&before).iter().any(|word| OF_A_PERSON.contains(word))
    };
    is_short && !words.contains(&"ar500") && (is_of_a_plate(&lower) || lower.trim() == "ms" && !is_of_a_person())
}

/// A size of a thinner plate that stands in a drawing alone, where no other does and no hole is of it: it may be the
/// plate's, or that of a corner.
#[must_use]
pub fn noted_size(outline: &Outline, plate: Length) -> Option<&str> {
    let mut sizes = outline.reading().notes.iter().filter_map(|note| Some((note, size_alone(note)?)));
    let (note, size) = sizes.next().filter(|_| sizes.next().is_none())?;
    let is_near = |other: Length| ((size / other).si() - 1.0).abs() < 1.0 - SAME;
    (size < plate * SAME && !outline.holes().iter().any(|hole| is_near(hole.width()))).then_some(note.as_str())
}

/// What stands in a drawing of a plate, or as the whole name of one of its parts, that says of a thinner one than is
/// judged. Its other sizes are of holes and corners.
#[must_use]
pub fn noted_thinner(outline: &Outline, plate: Length) -> Option<&str> {
    let reading = outline.reading();
    let is_thinner = |note: &&str| {
        let lower = apart_from_numbers(&note.to_lowercase(), &OF_A_PLATE);
        is_of_a_plate(&lower) && named_thinner(&lower, plate)
            || plate_of(&lower).is_some_and(|size| size < plate * SAME)
            || gauge_named(note, is_of_a_plate(note)).is_some_and(|gauge| gauge < plate)
    };
    let name = || reading.called().find(|name| is_bare(name) && named_thinner(name, plate));
    reading.written().find(is_thinner).or_else(name).or_else(|| size_beside(&reading.notes, plate))
}

/// Whether a note is of the plate.
fn is_of_a_plate(note: &str) -> bool {
    let lower = note.to_lowercase();
    // `THK_6` and `THK6`.
    let lower = apart_from_numbers(&lower, &OF_THICKNESS);
    let is_word = |word: &&str| OF_A_PLATE.contains(word) || OF_THICKNESS.contains(word);
    words_of(&lower).iter().any(is_word) || says_thickness(&lower)
}

/// The thickness of a note that has a plate's in millimetres and at most its other sizes: `pl 8`, `pl 8x300x400`.
fn plate_of(lower: &str) -> Option<Length> {
    let size = lower.strip_prefix(PLATE_OF)?.trim_start();
    let (number, others) = size.split_at(size.find(['x', '×', '*']).unwrap_or(size.len()));
    let is_size = |c: char| c.is_ascii_digit() || matches!(c, 'x' | '×' | '*' | '.' | ',' | ' ');
    let number = number.trim().replace(',', ".").parse::<f64>().ok().filter(|_| others.chars().all(is_size))?;
    (number >= LEAST_PLATE_MM).then(|| unit::MILLIMETRE.of(number))
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
    const OF_ALL: [&str; 9] =
        ["dimension", "dimensions", "dims", "dim", "dimensioned", "unit", "units", "measurements", "sizes"];
    const OF_CENTIMETRES: [&str; 6] = ["cm", "cms", "centimeter", "centimetre", "centimeters", "centimetres"];
    let Reading { unit, notes, .. } = outline.reading();
    let is_read_in = |words: &[&str]| words.iter().any(|word| unit.starts_with(word));
    // A picture's size on paper says what its units are, whatever its dimensions are written in.
    let (inches, millimetres) =
        (is_read_in(&["in", "inch", "pixels", "units"]), is_read_in(&["mm", "millimetres", "units"]));
    let centimetres = is_read_in(&["cm", "centimetres", "units"]);
    let speaks = |note: &str| {
        let lower = note.to_lowercase();
        let words = words_of(&lower);
        let has = |known: &[&str]| words.iter().any(|word| known.contains(word));
        let (of_inches, of_millimetres) =
            (has(&["inch", "inches"]), has(&["mm", "mms", "millimeters", "millimetres", "millimeter", "millimetre"]));
        match (has(&OF_ALL), of_inches, of_millimetres, has(&OF_CENTIMETRES)) {
            (true, true, false, false) => !inches,
            (true, false, true, false) => !millimetres,
            (true, false, false, true) => !centimetres,
            _ => false,
        }
    };
    let beside = || notes.windows(2).find(|pair| is_of_units(&pair[0]) && speaks(&pair.join(" ")));
    notes.iter().map(String::as_str).find(|note| speaks(note)).or_else(|| beside().map(|pair| pair[1].as_str()))
}

/// Whether a text is a title block's word before the unit.
fn is_of_units(text: &str) -> bool {
    matches!(words_of(&text.to_lowercase())[..], ["unit" | "units"])
}

/// What stands in a drawing of a scale that it is not read at: `SCALE 1:2`, `NOT TO SCALE`.
#[must_use]
pub fn noted_scale(outline: &Outline) -> Option<&str> {
    const SCALES: [&str; 5] = ["scale", "maßstab", "massstab", "échelle", "echelle"];
    const OTHERWISE: [&str; 6] =
        ["not to scale", "half scale", "quarter scale", "half size", "quarter size", "double size"];
    let notes = &outline.reading().notes;
    let is_scale = |text: &str| {
        let lower = text.to_lowercase();
        let words = words_of(&lower);
        let is_ratio = |pair: &[&str]| {
            let numbers = [pair[0], pair[1]].map(|word| word.parse::<u32>().ok());
            let is_written = [":", "/", " : "].iter().any(|sign| lower.contains(&pair.join(sign)));
            is_written && matches!(numbers, [Some(paper), Some(real)] if paper != real)
        };
        let spaced = words.join(" ");
        words == ["nts"]
            || OTHERWISE.iter().any(|other| format!(" {spaced} ").contains(&format!(" {other} ")))
            || words.iter().any(|word| SCALES.contains(word)) && words.windows(2).any(is_ratio)
    };
    let is_title = |text: &str| matches!(words_of(&text.to_lowercase())[..], [word] if SCALES.contains(&word));
    let beside = || notes.windows(2).find(|pair| is_title(&pair[0]) && is_scale(&pair.join(" ")));
    notes.iter().map(String::as_str).find(|note| is_scale(note)).or_else(|| beside().map(|pair| pair[1].as_str()))
}

/// What stands in a drawing of a plate's damage, where the plate is judged as one that may be whole. A shop's note may
/// speak of it as of what is not allowed: it is for a person to read.
#[must_use]
pub fn noted_damage<'o>(outline: &'o Outline, setup: &Setup) -> Option<&'o str> {
    let speaks = |note: &&str| is_condition_open(setup) && damage_named(note).is_some();
    let reading = outline.reading();
    let is_of_lines = |name: &str| words_of(&name.to_lowercase()).iter().any(|word| OF_LINES.contains(word));
    let name = || reading.called().find(|name| !is_of_lines(name) && speaks(name));
    reading.notes.iter().map(String::as_str).find(speaks).or_else(name)
}

/// Words for damage that layers have of lines.
const OF_LINES: [&str; 5] = ["hairline", "split", "splits", "reversed", "flipped"];

/// A share of a face in both directions that a window seldom has: what is larger may be the plate, and the outer line the
/// sheet's or a border.
const OF_A_SHEET: f64 = 1.0 / 3.0;

/// The width and height of a drawing's only hole, where it takes so much of the face that it may be the plate.
#[must_use]
pub fn plate_within(outline: &Outline) -> Option<(Length, Length)> {
    let [cut] = outline.cuts() else { return None };
    let [left, right, bottom, top] = cut.bounds();
    let (width, height) = outline.size();
    let is_large = right - left > width.si() * OF_A_SHEET && top - bottom > height.si() * OF_A_SHEET;
    is_large.then(|| (Length::from_si(right - left), Length::from_si(top - bottom)))
}

/// Beginnings of words for layers of what is drawn on a plate or beside it, and whole ones.
const NOT_CUT: [&str; 6] = ["engrav", "etch", "scrib", "annot", "dimension", "construct"];
#[rustfmt::skip]
const NOT_CUT_WORDS: [&str; 32] = [
    "mark", "marks", "marking", "markings", "hidden", "bend", "bends", "center", "centre", "centers", "centres",
    "centerline", "centreline", "centerlines", "centrelines", "dim", "dims", "note", "notes", "text", "hatch", "phantom",
    "border", "borders", "frame", "title", "titleblock", "sheet", "reference", "score", "silk", "silkscreen",
];
/// What says of a layer that it is not cut, its words with one space between them.
const NEVER_CUT: [&str; 6] = ["do not cut", "dont cut", "don t cut", "no cut", "nocut", "not cut"];
/// Words of layers that are cut all the same: `center hole`.
const CUT_WORDS: [&str; 5] = ["cut", "cutout", "hole", "holes", "outline"];

/// Layers of an outline and its holes that are called as what nobody cuts.
#[must_use]
pub fn layers_not_cut(outline: &Outline) -> Vec<&str> {
    let is_not_cut = |layer: &&str| {
        let lower = layer.to_lowercase();
        let words = words_of(&lower);
        let names = |word: &&str| NOT_CUT_WORDS.contains(word) || NOT_CUT.iter().any(|stem| word.starts_with(stem));
        let spaced = format!(" {} ", words.join(" "));
        NEVER_CUT.iter().any(|never| spaced.contains(&format!(" {never} ")))
            || words.iter().any(names) && !words.iter().any(|word| CUT_WORDS.contains(word))
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
