//! Closed contours of a drawing, and the parts that they make.

use crate::flat::Spot;
use crate::outline::contour::{Contour, Fence};

/// Metres of an inch.
pub(super) const INCH_M: f64 = 0.0254;

/// A closed contour, its place among others, and its layers.
pub(super) struct Closed {
    pub contour: Contour,
    pub fence: Fence,
    /// In inches as drawn.
    pub bounds: [f64; 4],
    pub area: f64,
    pub layers: Vec<usize>,
    /// The place of the drawing that contours and fences are measured from.
    pub corner: Spot,
}

impl Closed {
    /// Where a place of a fence lies in the drawing.
    pub fn drawn(&self, at: Spot) -> Spot {
        (at.0 / INCH_M + self.corner.0, at.1 / INCH_M + self.corner.1)
    }

    /// Where a place of the drawing lies for a fence.
    pub fn own(&self, at: Spot) -> Spot {
        ((at.0 - self.corner.0) * INCH_M, (at.1 - self.corner.1) * INCH_M)
    }
}

/// A part: an outer contour with the cut-outs in it, by their index.
pub(super) struct Part {
    pub outer: usize,
    pub cuts: Vec<usize>,
}
