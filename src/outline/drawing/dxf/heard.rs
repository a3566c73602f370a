//! Every text of a drawing: of what is left out, of what is hidden, on its sheets, and in the blocks that these show.

use super::super::{Fault, Sketch};
use super::record::Record;
use super::written::plain;
use super::{Drawing, annotation};
use std::collections::HashSet;

/// How the blocks begin that hold the sheets which are not shown now.
const SHEET: &str = "*paper_space";

/// Keeps what texts say, wherever they stand: a title block names the plate on a sheet of its own.
pub(super) fn hear(drawing: &Drawing, sketch: &mut Sketch) -> Result<(), Fault> {
    let mut heard = HashSet::new();
    let sheets = drawing.blocks.iter().filter(|(name, _)| name.starts_with(SHEET)).map(|(_, block)| block);
    let mut shown: Vec<&[Record]> = sheets.map(|block| &block.records[..]).collect();
    // The last is heard first.
    shown.push(&drawing.records);
    while let Some(records) = shown.pop() {
        for record in records {
            let shows = record.name == "INSERT" || annotation(&record.name).is_some();
            if !shows {
                continue;
            }
            for text in texts(record) {
                sketch.note(&text)?;
            }
            // A dimension and a table show a block of their own.
            let block = record.text(2).map(str::to_lowercase).filter(|name| heard.insert(name.clone()));
            if let Some(block) = block.and_then(|name| drawing.blocks.get(&name)) {
                sketch.note(&block.described)?;
                shown.push(&block.records);
            }
        }
    }
    Ok(())
}

/// What a record says.
fn texts(record: &Record) -> Vec<String> {
    match record.name.as_str() {
        "MTEXT" => vec![plain(&pieces(record, &[3, 1]))],
        // A tag says what its value is of.
        "ATTRIB" | "ATTDEF" => {
            let value = record.text(1).unwrap_or_default();
            let mut texts = vec![plain(&format!("{} {value}", record.text(2).unwrap_or_default())), plain(value)];
            texts.extend(record.text(3).map(plain));
            // One of several lines holds them as a text within it.
            texts.push(plain(&record.embedded));
            texts
        }
        // A block of another shape, or the name of a filling.
        "INSERT" | "HATCH" | "MPOLYGON" => Vec::new(),
        "ACAD_TABLE" => cells(record),
        _ => record.pairs().iter().filter(|pair| is_text(pair.code)).map(|pair| said(pair.text())).collect(),
    }
}

/// The groups that texts stand in: of lines, and of what a callout or a cell holds.
fn is_text(code: i32) -> bool {
    matches!(code, 1 | 3 | 4 | 300..=309)
}

/// What a group says; where data begins and ends in it, nothing.
fn said(text: &str) -> String {
    if text.ends_with('{') && !text.contains('}') { String::new() } else { plain(text) }
}

/// A text that is longer than a group, in its order.
fn pieces(record: &Record, codes: &[i32]) -> String {
    record.pairs().iter().filter(|pair| codes.contains(&pair.code)).map(super::pairs::Pair::whole_text).collect()
}

/// What the cells of a table say: each ends with a group of its own, and what is longer comes before. So do names of
/// blocks, and every group is heard by itself as well.
fn cells(record: &Record) -> Vec<String> {
    let (mut cells, mut long) = (Vec::new(), String::new());
    for pair in record.pairs().iter().filter(|pair| pair.code == 2 || is_text(pair.code)) {
        cells.push(said(pair.whole_text()));
        if matches!(pair.code, 2 | 3) {
            long += pair.whole_text();
            continue;
        }
        cells.push(said(&(std::mem::take(&mut long) + pair.whole_text())));
    }
    cells.push(plain(&long));
    cells
}
