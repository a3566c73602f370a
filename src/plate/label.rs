//! What a plate's label says of it, held against its thickness and against AR500, which is what its answers stand on.

use super::steels::{damage_named, other_steel};
use crate::quantity::{Length, Measure, parse, show, unit};

/// How far a mill size may lie from the nominal thickness that it goes by, as a share.
const MILL_SHARE: f64 = 0.06;
/// Words that may stand beside a bare number that is a thickness.
const BESIDE_A_NUMBER: [&str; 6] = ["plate", "steel", "thick", "ar500", "nominal", "about"];

/// What a label says against a thickness, in words; none where it says nothing against it.
pub(super) fn contradiction(label: &str, thickness: Length) -> Option<String> {
    if let Some(message) = spoken_against(label) {
        return Some(message);
    }
    let named = misnamed(label, thickness)?;
    Some(format!("`{label}` is {named} thick by its name, and {} by its thickness", show(thickness, &unit::INCH, 3)))
}

/// What a text says against sound AR500, in words; none where it says nothing against it.
pub(super) fn spoken_against(label: &str) -> Option<String> {
    if let Some(steel) = other_steel(label) {
        return Some(format!("`{label}` names another steel than AR500, `{steel}`"));
    }
    damage_named(label).map(|word| {
        format!("`{label}` says `{word}` of a plate that is judged as sound; a target's state is its `condition`")
    })
}

/// The thickness that a label names, where that is not the plate's: `1/4 in AR500` as well as `1/4"` and `quarter inch`.
fn misnamed(label: &str, thickness: Length) -> Option<String> {
    let same = |named: &Length| (named.si() / thickness.si() - 1.0).abs() <= MILL_SHARE;
    let named = thicknesses(label);
    if let Some(first) = named.first() {
        return if named.iter().any(same) { None } else { Some(show(*first, &unit::INCH, 3)) };
    }
    // A number alone may be of inches or of millimetres.
    let number = bare_number(label)?;
    let readings = [unit::INCH.of(number), unit::MILLIMETRE.of(number)];
    if readings.iter().any(same) { None } else { Some(format!("{number} in or mm")) }
}

/// The lengths among a label's words that a plate could be thick by.
fn thicknesses(label: &str) -> Vec<Length> {
    sizes_named(label).into_iter().filter(|length| (0.001..=0.05).contains(&length.si())).collect()
}

/// The lengths among a text's words; a fraction without a unit is of an inch, and inches may be written out.
#[must_use]
pub fn sizes_named(text: &str) -> Vec<Length> {
    let spelt = spelt(text);
    let words = words_of_sizes(&spelt);
    let runs = (1..=3).rev().flat_map(|count| words.windows(count));
    runs.filter_map(length).collect()
}

/// The length that a text is and nothing else: `3/16"`, `6 mm`, `QUARTER INCH`.
#[must_use]
pub fn size_alone(text: &str) -> Option<Length> {
    length(&words_of_sizes(&spelt(text)))
}

fn spelt(text: &str) -> String {
    let spelt = without_underscores(&text.to_lowercase()).replace(['"', '″', '”'], " in ").replace("''", " in ");
    let parts = [("¼", " 1/4"), ("½", " 1/2"), ("¾", " 3/4"), ("⅜", " 3/8"), ("⅛", " 1/8"), ("⅝", " 5/8")];
    let spelt = parts.iter().fold(spelt, |text, (sign, part)| text.replace(sign, part));
    in_digits(&with_slashes(&spelt))
}

fn words_of_sizes(spelt: &str) -> Vec<&str> {
    spelt.split_whitespace().map(|word| word.trim_matches([',', ';', '(', ')'])).collect()
}

fn length(run: &[&str]) -> Option<Length> {
    let text = run.join(" ");
    let fraction = run.len() == 1 && text.contains('/') && !text.contains(char::is_alphabetic);
    parse::<Length>(&if fraction { format!("{text} in") } else { text }).ok()
}

/// Names of files as they are spoken: `gong_6mm` as `gong 6mm`, and `3_8in` as `3-8in`.
fn without_underscores(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let is_digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
    let spoken = letters.iter().enumerate().map(|(at, letter)| match letter {
        '_' if is_digit(at.checked_sub(1)) && is_digit(Some(at + 1)) => '-',
        '_' => ' ',
        letter => *letter,
    });
    spoken.collect()
}

/// Fractions of an inch as names of files have them: `3-8 in` as `3/8 in`.
fn with_slashes(text: &str) -> String {
    let part = |word: &str| {
        let (above, below) = word.split_once('-')?;
        let unit = below.trim_start_matches(|c: char| c.is_ascii_digit());
        let (above, parts) = (above.parse::<u32>().ok()?, below[..below.len() - unit.len()].parse::<u32>().ok()?);
        let is_part = above % 2 == 1 && above < parts && [2, 4, 8, 16].contains(&parts) && unit != "mm";
        is_part.then(|| format!("{above}/{parts} {unit}"))
    };
    let words: Vec<String> =
        text.split_whitespace().map(|word| part(word).unwrap_or_else(|| word.to_owned())).collect();
    words.join(" ")
}

/// Inches written out in digits: `quarter inch` as `1/4 in`, `three-eighths` as `3/8 in`.
fn in_digits(text: &str) -> String {
    const NUMBERS: [&str; 16] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
        "fourteen", "fifteen", "sixteen",
    ];
    const PARTS: [(&str, u32); 4] = [("half", 2), ("quarter", 4), ("eighth", 8), ("sixteenth", 16)];
    let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || c == '-').collect();
    let number = |word: &str| NUMBERS.iter().position(|known| *known == word).map(|at| at + 1);
    let part = |word: &str| PARTS.iter().find(|(name, _)| *name == word.trim_end_matches('s')).map(|(_, part)| *part);
    let mut told = Vec::new();
    for (index, word) in words.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| number(words[before]));
        let unit = |word: &str| matches!(word, "in" | "inch" | "inches" | "of");
        let measured = words.get(index + 1).is_none_or(|next| unit(next) || BESIDE_A_NUMBER.contains(next));
        if matches!(*word, "inch" | "inches") {
            told.push("in".to_owned());
        } else if let Some(part) = part(word).filter(|_| measured || before.is_some()) {
            if before.is_some() {
                told.pop();
            }
            told.push(format!("{}/{part}", before.unwrap_or(1)));
        } else if let Some(whole) = number(word) {
            told.push(whole.to_string());
        } else {
            told.push((*word).to_owned());
        }
    }
    told.join(" ")
}

/// The number of a label that holds nothing else: `0.25`, `10`, `0.25 plate`.
fn bare_number(label: &str) -> Option<f64> {
    let lower = label.to_lowercase();
    let mut words = lower.split_whitespace().filter(|word| !BESIDE_A_NUMBER.contains(word));
    let number = words.next()?.trim_start_matches('#').replace(',', ".").parse::<f64>().ok()?;
    (words.next().is_none() && number.is_finite() && number > 0.0).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_that_names_another_size_or_another_steel_is_told_and_no_other() {
        let of = |label: &str, thickness: &str| contradiction(label, parse(thickness).unwrap());
        for (label, thickness) in [
            ("1/4 in AR500", "1/2 in"),
            ("1/4\"", "1/2 in"),
            ("AR500 1/4", "1/2 in"),
            ("0.25 in plate", "1/2 in"),
            ("0.25", "1/2 in"),
            (".25", "1/2 in"),
            ("0,25", "1/2 in"),
            ("0.25 plate", "1/2 in"),
            ("10", "20 mm"),
            ("AR500 10", "20 mm"),
            ("10mm", "20 mm"),
            ("quarter inch", "1/2 in"),
            ("Quarter-inch plate", "1/2 in"),
            ("quarter", "1/2 in"),
            ("one quarter inch", "1/2 in"),
            ("quarter of an inch", "1/2 in"),
            ("half inch", "3/8 in"),
            ("three-eighths", "1/2 in"),
            ("three eighths inch AR500", "1/2 in"),
            ("three sixteenths", "1/4 in"),
            ("one inch", "1/2 in"),
            ("9/64 plate", "1/2 in"),
            ("1/3 plate", "1/2 in"),
        ] {
            assert!(of(label, thickness).is_some_and(|why| why.contains("thick by its name")), "{label}");
        }
        for label in [
            "AR400 1/2 in",
            "AR-400 1/2 in",
            "ar 400, 1/2 in",
            "AR450F 1/2 in",
            "mild steel 1/2 in",
            "Mild 1/2 in",
            "A36 1/2 in",
            "A-36",
            "S355 1/2 in",
            "T1 1/2 in",
            "HB400",
            "1/2 in stainless",
            "AR550 1/2 in",
        ] {
            assert!(of(label, "1/2 in").is_some_and(|why| why.contains("another steel")), "{label}");
        }
        for (label, thickness) in [
            ("1/2 in AR500", "1/2 in"),
            ("AR 500 half inch", "1/2 in"),
            ("half", "1/2 in"),
            ("half-size gong", "3/8 in"),
            ("three-eighths", "3/8 in"),
            ("0.5", "1/2 in"),
            ("10", "10 mm"),
            ("Gong 12", "3/8 in"),
            ("12 in gong, 1/2 in", "1/2 in"),
            ("Big", "1/2 in"),
            ("3/8 in", "9.5 mm"),
            ("Bay 36", "1/2 in"),
        ] {
            assert_eq!(of(label, thickness), None, "{label}");
        }
    }
}
