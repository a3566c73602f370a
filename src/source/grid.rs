//! A text cut into rows and cells, each with its place: commas, semicolons or tabs between the cells, quotes around
//! those that hold one.
//!
//! A quote ends on its own line. A general CSV reader lets an open quote run on and swallow the rows below it; here
//! such a row is a fault, and the next one is read.

use super::{Diagnostic, SourceText};
use std::borrow::Cow;
use std::ops::Range;

/// What may stand between cells.
pub const SEPARATORS: [char; 3] = [',', ';', '\t'];

/// A cell's place, quotes and blanks around it left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Its bytes.
    pub span: Range<usize>,
    /// Whether quotes in it are written twice.
    doubled: bool,
}

impl Field {
    /// What the cell says.
    #[must_use]
    pub fn text<'t>(&self, source: &'t SourceText) -> Cow<'t, str> {
        let text = source.text.get(self.span.clone()).unwrap_or_default();
        if self.doubled { Cow::Owned(text.replace("\"\"", "\"")) } else { Cow::Borrowed(text) }
    }

    /// Whether it says nothing.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.span.is_empty()
    }
}

/// A row's place: its number, from 1, as a spreadsheet counts, and its bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// From 1.
    pub number: usize,
    /// Its bytes.
    pub span: Range<usize>,
}

impl Line {
    /// What stands in it.
    #[must_use]
    pub fn text<'t>(&self, source: &'t SourceText) -> &'t str {
        source.text.get(self.span.clone()).unwrap_or_default()
    }

    /// Whether it says nothing: blanks and separators.
    #[must_use]
    pub fn is_blank(&self, source: &SourceText) -> bool {
        self.text(source).chars().all(|c| c.is_whitespace() || SEPARATORS.contains(&c))
    }

    /// Whether it is a comment: `#`, and not a column that is headed so.
    #[must_use]
    pub fn is_comment(&self, source: &SourceText) -> bool {
        let rest = self.text(source).trim_start().strip_prefix('#');
        rest.is_some_and(|rest| !rest.trim_start_matches(' ').starts_with(SEPARATORS))
    }
}

/// The lines of a text, whichever way they end.
pub fn lines(text: &str) -> impl Iterator<Item = Line> {
    let (mut begin, mut number) = (0, 0);
    std::iter::from_fn(move || {
        if begin >= text.len() {
            return None;
        }
        let rest = &text[begin..];
        let length = rest.find(['\n', '\r']).unwrap_or(rest.len());
        let span = begin..begin + length;
        let end = &rest[length..];
        begin += length + if end.starts_with("\r\n") { 2 } else { usize::from(!end.is_empty()) };
        number += 1;
        Some(Line { number, span })
    })
}

/// A quote that is not one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BrokenQuote {
    at: Range<usize>,
    message: &'static str,
}

impl BrokenQuote {
    /// What to say of it.
    #[must_use]
    pub fn fault(&self, source: &SourceText) -> Diagnostic {
        source
            .fault(self.at.clone(), self.message)
            .help("quotes stand around a whole cell, on one line, and a quote inside them is written twice")
    }
}

/// Cuts a line into cells. Keeps the first `most` and returns how many there are, blank ones at the end not counted
/// beyond `most`.
///
/// # Errors
/// [`BrokenQuote`] for a quote that is not closed on its line, or does not stand around the whole cell.
pub fn cut(
    source: &SourceText,
    line: &Line,
    separator: char,
    most: usize,
    cells: &mut Vec<Field>,
) -> Result<usize, BrokenQuote> {
    cells.clear();
    let (mut at, end) = (line.span.start, line.span.end);
    let mut count = 0;
    for index in 1.. {
        let (cell, stop) = cell(source, at..end, separator)?;
        if index <= most || !cell.is_blank() {
            count = index;
        }
        if index <= most {
            cells.push(cell);
        }
        if stop >= end {
            break;
        }
        at = stop + separator.len_utf8();
    }
    Ok(count)
}

/// The cell that begins a span, and where the separator behind it stands.
fn cell(source: &SourceText, span: Range<usize>, separator: char) -> Result<(Field, usize), BrokenQuote> {
    let text = source.text.get(span.clone()).unwrap_or_default();
    let blank = |c: char| c != separator && c.is_whitespace();
    let lead = text.len() - text.trim_start_matches(blank).len();
    let start = span.start + lead;
    let text = &text[lead..];
    if let Some(inside) = text.strip_prefix('"') {
        return quoted(inside, start, separator);
    }
    let stop = text.find(separator).unwrap_or(text.len());
    let said = text[..stop].trim_end();
    // An inch mark stands behind its number: `12" x 20"`.
    let is_mark = |at: &usize| said[..*at].ends_with(|c: char| c.is_ascii_digit());
    if let Some(at) = said.match_indices('"').map(|(at, _)| at).find(|at| !is_mark(at)) {
        let at = start + at..start + at + 1;
        return Err(BrokenQuote { at, message: "a quote stands inside a cell that has none around it" });
    }
    Ok((Field { span: start..start + said.len(), doubled: false }, start + stop))
}

fn quoted(inside: &str, start: usize, separator: char) -> Result<(Field, usize), BrokenQuote> {
    let (mut length, mut doubled) = (0, false);
    loop {
        let Some(quote) = inside[length..].find('"') else {
            return Err(BrokenQuote { at: start..start + 1, message: "a quote is not closed" });
        };
        length += quote;
        if !inside[length + 1..].starts_with('"') {
            break;
        }
        doubled = true;
        length += 2;
    }
    let after = &inside[length + 1..];
    let rest = after.trim_start_matches(|c: char| c != separator && c.is_whitespace());
    let stop = start + 1 + length + 1 + (after.len() - rest.len());
    if !rest.is_empty() && !rest.starts_with(separator) {
        let at = stop..stop + rest.chars().next().map_or(0, char::len_utf8);
        return Err(BrokenQuote { at, message: "a cell goes on behind its quote" });
    }
    let said = &inside[..length];
    let begin = start + 1 + (said.len() - said.trim_start().len());
    Ok((Field { span: begin..begin + said.trim().len(), doubled }, stop))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str, separator: char) -> Result<Vec<String>, BrokenQuote> {
        let source = SourceText::new("a.csv", text);
        let line = lines(&source.text).next().expect("a line");
        let mut cells = Vec::new();
        cut(&source, &line, separator, 9, &mut cells)?;
        Ok(cells.iter().map(|c| c.text(&source).into_owned()).collect())
    }

    #[test]
    fn cells_are_cut_as_spreadsheets_write_them() {
        assert_eq!(cells("a, b ,\"c, d\" ,\"e \"\"f\"\"\",", ',').unwrap(), ["a", "b", "c, d", "e \"f\"", ""]);
        assert_eq!(cells("a;1,5;\"\"", ';').unwrap(), ["a", "1,5", ""]);
        assert_eq!(cells("a\t\t b", '\t').unwrap(), ["a", "", "b"]);
    }

    #[test]
    fn a_broken_quote_is_refused_and_swallows_no_row() {
        for text in ["a,\"b\nc\",d", "a,\"b\"c", "a,b\"c\"", "\""] {
            assert!(cells(text, ',').is_err(), "{text}");
        }
    }

    #[test]
    fn lines_end_in_three_ways_and_are_counted() {
        let found: Vec<_> = lines("a\r\n\rb\nc").map(|l| (l.number, l.span)).collect();
        assert_eq!(found, [(1, 0..1), (2, 3..3), (3, 4..5), (4, 6..7)]);
    }
}
