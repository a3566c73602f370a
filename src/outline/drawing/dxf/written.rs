//! What the texts of a drawing say, without the marks of their layout: those of a line (`%%u`), and those of a paragraph
//! (`\P`, `{\fArial;…}`).

/// How long a mark with a value is at most: a font's name is the longest.
const MAX_MARK: usize = 120;

/// A text as it is read.
pub(super) fn plain(text: &str) -> String {
    let (mut said, mut rest) = (String::new(), text);
    while let Some(letter) = rest.chars().next() {
        let behind = &rest[letter.len_utf8()..];
        let (piece, left) = match letter {
            '\\' => mark(behind),
            '%' if behind.starts_with('%') => sign(&behind[1..]),
            '^' => control(behind),
            '{' | '}' => (Piece::Nothing, behind),
            letter => (Piece::Letter(letter), behind),
        };
        match piece {
            Piece::Nothing => {}
            Piece::Letter(letter) => said.push(letter),
            Piece::Fraction(parts) => said.push_str(&format!(" {} ", parts.replace(['^', '#'], "/"))),
        }
        rest = left;
    }
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a mark stands for.
enum Piece<'t> {
    Nothing,
    Letter(char),
    /// Numbers that stand over one another.
    Fraction(&'t str),
}

/// A mark of a paragraph, behind its backslash, and what is behind it.
fn mark(text: &str) -> (Piece<'_>, &str) {
    let Some(kind) = text.chars().next() else { return (Piece::Nothing, text) };
    let behind = &text[kind.len_utf8()..];
    let value = behind.char_indices().take(MAX_MARK).find(|(_, letter)| *letter == ';').map(|(end, _)| end);
    match kind {
        // Lines over, under and through what follows.
        'L' | 'l' | 'O' | 'o' | 'K' | 'k' => (Piece::Nothing, behind),
        // Font, height, colour, track, slant, width, alignment and tabs.
        'f' | 'F' | 'H' | 'C' | 'c' | 'T' | 'Q' | 'W' | 'A' | 'p' => match value {
            Some(end) => (Piece::Nothing, &behind[end + 1..]),
            None => (Piece::Letter(' '), text),
        },
        'S' => match value {
            Some(end) => (Piece::Fraction(&behind[..end]), &behind[end + 1..]),
            None => (Piece::Letter(' '), text),
        },
        'U' if behind.starts_with('+') => {
            let letter = behind.get(1..5).and_then(|code| u32::from_str_radix(code, 16).ok()).and_then(char::from_u32);
            letter.map_or((Piece::Letter(' '), text), |letter| (Piece::Letter(letter), &behind[5..]))
        }
        '\\' | '{' | '}' => (Piece::Letter(kind), behind),
        // A new line, paragraph or column.
        'P' | 'X' | 'N' | 'n' | '~' => (Piece::Letter(' '), behind),
        _ => (Piece::Letter(' '), text),
    }
}

/// A sign of a line, behind its `%%`, and what is behind it.
fn sign(text: &str) -> (Piece<'_>, &str) {
    let Some(kind) = text.chars().next() else { return (Piece::Nothing, text) };
    let behind = &text[kind.len_utf8()..];
    let number = text.get(..3).and_then(|code| code.parse::<u32>().ok()).and_then(char::from_u32);
    match kind.to_ascii_lowercase() {
        'u' | 'o' | 'k' => (Piece::Nothing, behind),
        'd' => (Piece::Letter('°'), behind),
        'p' => (Piece::Letter('±'), behind),
        'c' => (Piece::Letter('⌀'), behind),
        '%' => (Piece::Letter('%'), behind),
        _ => number.map_or((Piece::Nothing, text), |letter| (Piece::Letter(letter), &text[3..])),
    }
}

/// A letter of a control code, behind its caret: a line's end or a tab, and a caret alone.
fn control(text: &str) -> (Piece<'_>, &str) {
    match text.chars().next() {
        Some('I' | 'J' | 'M') => (Piece::Letter(' '), &text[1..]),
        Some(' ') => (Piece::Letter('^'), &text[1..]),
        _ => (Piece::Letter('^'), text),
    }
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn marks_of_layout_are_taken_off_and_the_words_between_them_kept() {
        for (text, said) in [
            ("%%uMILD STEEL%%u", "MILD STEEL"),
            ("%%UMILD%%O STEEL", "MILD STEEL"),
            (r"{\fArial|b0|i0;MILD\P STEEL}", "MILD STEEL"),
            (r"\A1;{\H2.5x;\LA36\l} PLATE", "A36 PLATE"),
            (r"\pxqc;\C1;6\~mm", "6 mm"),
            (r"MILD\U+0020STEEL", "MILD STEEL"),
            (r"1\S1/4; in, \S3#16; in", "1 1/4 in, 3/16 in"),
            ("MILD^JSTEEL", "MILD STEEL"),
            ("%%065%%051%%054", "A36"),
            ("%%c6 mm, 90%%d, %%p.1, 50%%%", "⌀6 mm, 90°, ±.1, 50%"),
            (r"see \jobs\A36 STEEL", "see jobs A36 STEEL"),
            (r"\\server \{a\}", r"\server {a}"),
            ("\\", ""),
            ("%%", ""),
            (r"\U+00", "U+00"),
            (r"\Über", "Über"),
        ] {
            assert_eq!(plain(text), said, "{text}");
        }
    }
}
