//! Drawings: what a cutter would cut, from lines, arcs and curves in any order. Lengths here are inches.
//!
//! A reader ([`dxf`], [`svg`]) traces strokes and tallies what it leaves out; [`mod@join`] makes closed contours of
//! them, and [`mod@parts`] an outline of those.

mod closed;
mod curve;
mod cut;
mod dxf;
mod join;
mod parts;
mod svg;

use super::read::{LeftOut, ReadOptions};
use super::spot::{Spot, apart};
use super::{Outline, Reading};
use std::collections::BTreeMap;

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
    /// Names of layers, by the index that strokes hold.
    pub layers: Vec<String>,
    /// What was left out: its name and why, with their number.
    pub left_out: Tally,
    /// What its texts say.
    pub notes: Vec<String>,
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

/// The most texts that are kept, and the most letters of one.
const MAX_NOTES: usize = 1_000;
const MAX_LETTERS: usize = 200;

/// The most edges that a drawing may hold.
pub(super) const MAX_EDGES: usize = 400_000;

impl Sketch {
    pub fn layer(&mut self, name: &str) -> usize {
        if let Some(found) = self.layers.iter().position(|l| l == name) {
            return found;
        }
        self.layers.push(name.to_owned());
        self.layers.len() - 1
    }

    /// Keeps what a text says.
    pub fn note(&mut self, text: &str) {
        let text: String = text.chars().take(MAX_LETTERS).collect();
        if self.notes.len() < MAX_NOTES && !text.trim().is_empty() && !self.notes.contains(&text) {
            self.notes.push(text);
        }
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
