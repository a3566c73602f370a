//! A file of rules with more than one fault: what is wrong in one rule hides no other.

use crate::source::{Diagnostic, Faults, MAX_SHOWN_FAULTS, SourceText};
use std::ops::Range;

/// Reads a file whose rules stand in blocks below `[[rule]]`. A block that can't be read is a fault, and what is left
/// is read without it; none where what is wrong stands outside of them.
pub(super) fn read<T>(
    source: &SourceText,
    faults: &mut Faults,
    parse: impl Fn(&SourceText) -> Result<T, Diagnostic>,
) -> Option<T> {
    let mut left = source.clone();
    loop {
        let fault = match parse(&left) {
            Ok(file) => return Some(file),
            Err(fault) => fault,
        };
        let span = fault.place.as_ref().map(|place| place.span.clone());
        let block = span.as_ref().and_then(|span| block_of(&left.text, span.start));
        // Shown in the text as it is given.
        faults.push(match span {
            Some(span) => Diagnostic { place: source.fault(span, "").place, ..fault },
            None => fault,
        });
        match block.filter(|_| faults.count() < MAX_SHOWN_FAULTS) {
            Some(block) => left = without(&left, &block),
            None => return None,
        }
    }
}

/// The rule that a place stands in, from its `[[rule]]` to the next one's.
fn block_of(text: &str, at: usize) -> Option<Range<usize>> {
    let mut starts = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let bare: String = line.chars().filter(|c| !c.is_whitespace()).collect();
        if bare.starts_with("[[rule]]") {
            starts.push(offset);
        }
        offset += line.len();
    }
    let start = starts.iter().copied().rfind(|start| *start <= at)?;
    let end = starts.into_iter().find(|next| *next > at).unwrap_or(text.len());
    Some(start..end)
}

/// The text with a part of it blank, so that every other place stays what it was.
fn without(source: &SourceText, block: &Range<usize>) -> SourceText {
    let blank: String = source.text[block.clone()].bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }).collect();
    SourceText::new(&*source.name, [&source.text[..block.start], &blank, &source.text[block.end..]].concat())
}
