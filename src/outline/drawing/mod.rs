//! Drawings: what a cutter would cut, from lines, arcs and curves in any order. Lengths here are inches.
//!
//! A reader ([`dxf`], [`svg`]) traces strokes and tallies what it leaves out; [`mod@join`] makes closed contours of
//! them, and [`mod@parts`] an outline of those.

mod closed;
mod curve;
mod cut;
mod dxf;
mod join;
mod layers;
mod parts;
mod svg;

use super::read::{LeftOut, ReadOptions};
use super::{Outline, Reading};
use crate::flat::{Spot, apart};
use layers::Layers;
use std::collections::{BTreeMap, HashSet};

/// What a drawing's fault says, and what would do.
pub(super) type Fault = (String, String);

/// A run of edges as drawn: places, each with the bulge of the edge that leaves it.
#[derive(Debug, Clone)]
pub(super) struct Stroke {
    pub points: Vec<(Spot, f64)>,
    pub closed: bool,
    pub layer: usize,
    /// Chords of a curve that is what they are, and become no arcs.
    pub chords: bool,
    /// A centre line, by its line type: open, it is no cut.
    pub centre_line: bool,
}

/// Ends of a stroke nearer than this are one place, in.
const SAME_IN: f64 = 1e-3;

impl Stroke {
    /// Whether it ends where it begins, said so or drawn so.
    pub fn encloses(&self) -> bool {
        let ends = self.points.first().zip(self.points.last());
        self.closed || self.points.len() > 2 && ends.is_some_and(|(a, b)| apart(a.0, b.0) < SAME_IN)
    }
}

/// What a drawing holds, in inches.
#[derive(Debug, Default)]
pub(super) struct Sketch {
    pub strokes: Vec<Stroke>,
    /// The layers, by the index that strokes hold.
    pub layers: Layers,
    /// What was left out: its name and why, with their number.
    pub left_out: Tally,
    /// What the whole drawing is called by itself.
    pub called: Vec<String>,
    /// What its texts say.
    pub notes: Notes,
    /// What the unit is, in words.
    pub unit: String,
    /// Inches for each unit of the drawing, for places in messages.
    pub scale: f64,
    /// Where the sketch's origin lies in the drawing, in its units.
    pub origin: Spot,
    /// Whether the drawing's y runs down.
    pub down: bool,
}

/// What is left out, counted.
#[derive(Debug, Default)]
pub(super) struct Tally(BTreeMap<(String, String), usize>);

impl Tally {
    pub fn add(&mut self, what: impl Into<String>, why: impl Into<String>) {
        self.add_many(what, why, 1);
    }

    pub fn add_many(&mut self, what: impl Into<String>, why: impl Into<String>, count: usize) {
        if count > 0 {
            *self.0.entry((what.into(), why.into())).or_default() += count;
        }
    }

    pub fn list(&self) -> Vec<LeftOut> {
        let one = |((what, why), count): (&(String, String), &usize)| LeftOut {
            what: what.clone(),
            why: why.clone(),
            count: *count,
        };
        self.0.iter().map(one).collect()
    }
}

/// What texts say, each once and bounded.
#[derive(Debug, Default)]
pub(super) struct Notes {
    texts: Vec<String>,
    known: HashSet<String>,
    letters: usize,
}

/// The most letters of all texts.
const MAX_LETTERS: usize = 400_000;
/// The longest word: what is longer is a picture or a key in letters.
const MAX_WORD: usize = 60;

/// The groups of digits of a key that programs mark files and objects by.
const KEY: [usize; 5] = [8, 4, 4, 4, 12];

/// Whether a word is such a key, `xmp.did:1b9d6bcd-4130-…`: its digits are of nothing.
fn is_key(word: &str) -> bool {
    let word = word.trim_end_matches(|c: char| !c.is_alphanumeric());
    let digits = word.rsplit(|c: char| !(c.is_ascii_hexdigit() || c == '-')).next().unwrap_or_default();
    let groups: Vec<&str> = digits.split('-').collect();
    groups.len() >= KEY.len() && groups.iter().rev().zip(KEY.iter().rev()).all(|(group, size)| group.len() >= *size)
}

/// The most edges that a drawing may hold.
pub(super) const MAX_EDGES: usize = 400_000;

impl Sketch {
    /// Keeps what a text says. More than is read would be dropped unheard.
    pub fn note(&mut self, text: &str) -> Result<(), Fault> {
        let words: Vec<&str> = text.split_whitespace().filter(|word| word.len() <= MAX_WORD && !is_key(word)).collect();
        let (text, notes) = (words.join(" "), &mut self.notes);
        if text.is_empty() || !notes.known.insert(text.clone()) {
            return Ok(());
        }
        notes.letters += text.len();
        if notes.letters > MAX_LETTERS {
            let message = format!("the drawing has more than {MAX_LETTERS} letters of text");
            return Err((message, "delete texts that are not of the plate, and export the drawing anew".into()));
        }
        notes.texts.push(text);
        Ok(())
    }

    /// Adds a stroke; one that is nowhere is a fault.
    pub fn stroke(&mut self, points: Vec<(Spot, f64)>, closed: bool, layer: usize) -> Result<(), Fault> {
        if points.iter().any(|((x, y), bulge)| !(x.is_finite() && y.is_finite() && bulge.is_finite())) {
            return Err(("the drawing has an edge that is nowhere".into(), "save it anew".into()));
        }
        self.strokes.push(Stroke { points, closed, layer, chords: false, centre_line: false });
        Ok(())
    }
}

/// Reads a drawing in DXF, ASCII or binary.
pub(super) fn from_dxf(bytes: &[u8], title: &str, options: &ReadOptions) -> Result<Outline, Fault> {
    parts::outline(dxf::sketch(bytes, options)?, title, options)
}

/// Reads a drawing in SVG.
pub(super) fn from_svg(text: &str, title: &str, options: &ReadOptions) -> Result<Outline, Fault> {
    parts::outline(svg::sketch(text, options)?, title, options)
}

#[cfg(test)]
mod tests;
