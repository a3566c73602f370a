//! Words of strangers: what is safe to show, and what was likely meant.

use std::borrow::Cow;

/// Whether a character can steer a terminal or turn the order of a text that is read: controls, marks of
/// direction, and what is not seen at all.
#[must_use]
pub fn is_unsafe_char(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{61c}' | '\u{200b}' | '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The text on one line with every harmful character spelled out, `\u{1b}`; breaks and tabs are spaces.
#[must_use]
pub fn sanitize(text: &str) -> Cow<'_, str> {
    // Most texts are plain: their bytes are looked at before their characters.
    if text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) || !text.contains(is_unsafe_char) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => safe.push(' '),
            c if is_unsafe_char(c) => safe.extend(c.escape_unicode()),
            c => safe.push(c),
        }
    }
    Cow::Owned(safe)
}

/// The same, as a text of its own.
#[must_use]
pub fn clean(text: &str) -> String {
    sanitize(text).into_owned()
}

/// The words of a text: letters and digits, whatever parts them.
#[must_use]
pub fn words_of(text: &str) -> Vec<&str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect()
}

/// The candidate nearest to `word`, for "did you mean"; the first in the list where several are as near.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = word.chars().count();
    let limit = (letters / 3).clamp(1, 4);
    let mut best: Option<(usize, &str)> = None;
    // Each letter more or less is an edit.
    for candidate in candidates.into_iter().filter(|c| c.chars().count().abs_diff(letters) <= limit) {
        let distance = edits(word, candidate);
        if distance <= limit && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// Levenshtein distance.
pub(super) fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &y) in b.iter().enumerate() {
            let replaced = diagonal + usize::from(x != y);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}
