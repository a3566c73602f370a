//! Faces that a name tells by two sizes: `250 x 400 mm`, `6x8 in plate`, `12x20 torso`.

use super::called::{OF_ANOTHER, SAME, face_named, is_thickness};
use crate::plate::Face;
use crate::quantity::{Length, Measure, unit};
use crate::rules::Setup;

/// How far a size in a name may lie from that of the face, as a share: names are round.
const NEAR: f64 = 0.05;
/// What two sizes before it are of, and no face's: lumber, and parts of a target.
#[rustfmt::skip]
const OF_LUMBER: [&str; 16] = [
    "post", "stand", "frame", "lumber", "stud", "leg", "tube", "tubing", "angle", "bracket", "window", "cutout",
    "opening", "rack", "spacing", "pattern",
];
/// What two numbers without a unit are the face of.
#[rustfmt::skip]
const FACES: [&str; 11] = [
    "torso", "plate", "gong", "target", "steel", "silhouette", "rectangle", "square", "ar500", "popper", "panel",
];
/// Sizes that two numbers without a unit tell, in and mm.
const BARE_INCHES: std::ops::RangeInclusive<f64> = 3.0..=60.0;
const BARE_MILLIMETRES: std::ops::RangeInclusive<f64> = 100.0..=1500.0;
/// Lengths of cases, which stand behind a calibre of at most so many millimetres: `9x19`.
const WIDEST_CALIBRE: f64 = 10.0;
#[rustfmt::skip]
const CASES: [f64; 18] = [
    17.0, 18.0, 19.0, 21.0, 22.0, 23.0, 25.0, 28.0, 33.0, 35.0, 39.0, 45.0, 47.0, 51.0, 53.0, 54.0, 55.0, 57.0,
];

/// Whether a name says of a narrower face than the one that is judged, or of another by two sizes.
#[must_use]
pub fn named_narrower(name: &str, setup: &Setup) -> bool {
    let width = setup.face.narrowest_width();
    face_named(name).is_some_and(|named| named < width * SAME) || named_of_another_face(name, &setup.face)
}

/// Whether a name tells a face by two sizes, and none such is that of the face.
fn named_of_another_face(name: &str, face: &Face) -> bool {
    let (wide, high) = match face {
        Face::Round(diameter) => (*diameter, *diameter),
        Face::Rectangle(width, height) => (*width, *height),
        Face::Outline(outline) => outline.size(),
    };
    let same = |named: Length, size: Length| (named.si() / size.si() - 1.0).abs() <= NEAR;
    let fits = |&(a, b): &(Length, Length)| same(a, wide) && same(b, high) || same(a, high) && same(b, wide);
    let named = faces(name);
    !named.is_empty() && !named.iter().any(fits)
}

/// A piece of a name.
#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(f64),
    Word(String),
}

/// The numbers and words of a name; a number within a word is none.
fn tokens(name: &str) -> Vec<Token> {
    let lower = name.to_lowercase().replace('×', "x").replace(['"', '″', '”'], " in ");
    let (mut tokens, mut rest) = (Vec::new(), lower.as_str());
    while let Some(first) = rest.chars().next() {
        let is_number = |c: char| c.is_ascii_digit() || c == '.' || c == '/';
        let length = |is: &dyn Fn(char) -> bool| rest.find(|c| !is(c)).unwrap_or(rest.len());
        let end = if first.is_ascii_digit() || first == '.' {
            let end = length(&is_number);
            tokens.extend(number(&rest[..end]).map(Token::Number));
            end
        } else if first.is_alphabetic() {
            let letters = length(&char::is_alphabetic);
            // `ar500` is a word, and `x20` a number behind a cross.
            let end = if letters == 1 && first == 'x' { letters } else { length(&|c| c.is_alphanumeric()) };
            tokens.push(Token::Word(rest[..end].to_owned()));
            end
        } else {
            first.len_utf8()
        };
        rest = &rest[end..];
    }
    tokens
}

fn number(text: &str) -> Option<f64> {
    let text = text.trim_end_matches(['.', '/']);
    match text.split_once('/') {
        Some((above, below)) => {
            let share = above.parse::<f64>().ok()? / below.parse::<f64>().ok()?;
            share.is_finite().then_some(share)
        }
        None => text.parse().ok(),
    }
}

/// Every face that a name tells by two sizes.
fn faces(name: &str) -> Vec<(Length, Length)> {
    let tokens = tokens(name);
    let word = |at: usize| match tokens.get(at) {
        Some(Token::Word(word)) => word.as_str(),
        _ => "",
    };
    let (mut faces, mut at) = (Vec::new(), 0);
    while at < tokens.len() {
        let (mut numbers, mut units, mut end) = (Vec::new(), Vec::new(), at);
        while let Some(Token::Number(number)) = tokens.get(end) {
            numbers.push(*number);
            end += 1;
            if unit_of(word(end)).is_some() {
                units.extend(unit_of(word(end)));
                end += 1;
            }
            if !matches!(word(end), "x" | "by") || !matches!(tokens.get(end + 1), Some(Token::Number(_))) {
                break;
            }
            end += 1;
        }
        let before = at.checked_sub(1).map_or("", word);
        let is_another = |word: &str| OF_ANOTHER.iter().chain(&OF_LUMBER).any(|stem| word.starts_with(stem));
        let is_of_another = is_another(word(end)) || is_another(word(end + 1)) || is_another(before);
        // Another unit than those of faces.
        let is_far = matches!(word(end), "yd" | "yds" | "yard" | "yards" | "m" | "ft" | "feet");
        if (2..=3).contains(&numbers.len()) && !is_of_another && !is_far {
            let is_face = |word: &str| FACES.contains(&word);
            let of = units.last().copied().or_else(|| {
                let is_named = is_face(word(end)) || word(end).is_empty() && is_face(before);
                bare(&numbers).filter(|_| is_named)
            });
            faces.extend(of.and_then(|of| pair(&numbers, of)));
        }
        at = end.max(at + 1);
    }
    faces
}

/// What a number is of.
#[derive(Debug, Clone, Copy)]
enum Of {
    Inches,
    Millimetres,
    Centimetres,
}

fn unit_of(word: &str) -> Option<Of> {
    Some(match word {
        "in" | "inch" | "inches" => Of::Inches,
        "mm" => Of::Millimetres,
        "cm" => Of::Centimetres,
        _ => return None,
    })
}

/// The unit of numbers that name none, by how large they are.
fn bare(numbers: &[f64]) -> Option<Of> {
    let &[first, second] = numbers else { return None };
    if first <= WIDEST_CALIBRE && CASES.contains(&second) {
        return None;
    }
    let all = |range: &std::ops::RangeInclusive<f64>| numbers.iter().all(|number| range.contains(number));
    if all(&BARE_INCHES) { Some(Of::Inches) } else { all(&BARE_MILLIMETRES).then_some(Of::Millimetres) }
}

/// The two of some numbers that are no thickness.
fn pair(numbers: &[f64], of: Of) -> Option<(Length, Length)> {
    let length = |number: &f64| match of {
        Of::Inches => unit::INCH.of(*number),
        Of::Millimetres => unit::MILLIMETRE.of(*number),
        Of::Centimetres => unit::MILLIMETRE.of(10.0 * *number),
    };
    let sizes: Vec<Length> = numbers.iter().map(length).filter(|size| !is_thickness(*size)).collect();
    match sizes[..] {
        [first, second] => Some((first, second)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_face_of_two_sizes_is_told_from_cartridges_lumber_and_counts() {
        let of = |face: &str| face.parse::<Face>().unwrap();
        let other = |name: &str, face: &str| named_of_another_face(name, &of(face));
        for name in [
            "250 x 400 mm",
            "gong 250x400mm",
            "6x8 in plate",
            "6 x 8\" plate",
            "12x20 torso",
            "torso 12x20",
            "12 in x 20 in",
            "12 by 20 inch torso",
            "plate_300x500mm",
            "30 × 50 cm",
            "12 x 20 x 1/4 in",
            "250x400 plate",
            "12x20 torso, 6x6 in panel",
        ] {
            assert!(other(name, "12in"), "{name}");
        }
        for (name, face) in [
            ("12x20 torso", "12x20in"),
            ("20x12 torso", "12x20in"),
            ("300 x 500 mm", "12x20in"),
            ("12x12 in plate", "12in"),
            ("12x20 torso, 6x6 in panel", "12x20in"),
            ("3/8 x 12 x 20 in", "12x20in"),
            ("gong 12 in", "12in"),
            ("9x19 gong", "12in"),
            ("7.62x39 mm plate", "12in"),
            ("8x57 steel", "12in"),
            ("gong on 2x4 in post", "12in"),
            ("4x4 post", "12in"),
            ("2x2 in square tube", "12in"),
            ("2x gong", "12in"),
            ("5x1 plate rack", "12in"),
            ("6x2 plates", "12in"),
            ("20 x 30 yd bay", "12in"),
            ("gong 12 in, holes 8 x 2 in", "12in"),
            ("AR500 x 12", "12in"),
            ("T3x5", "12in"),
            ("3x5 card", "12in"),
            ("1/0x2 in", "12in"),
        ] {
            assert!(!other(name, face), "{name}");
        }
    }
}
