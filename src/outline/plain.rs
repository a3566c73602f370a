//! Contours by plain numbers, for the tests of this room.

use super::{Contour, Vertex};

/// A point and the bulge behind it, metres.
pub type Knot = (f64, f64, f64);

pub fn contour(points: &[Knot]) -> Contour {
    Contour::new(points.iter().map(|&(x, y, bulge)| Vertex::of((x, y), bulge)).collect()).unwrap()
}

pub fn box_of(left: f64, bottom: f64, w: f64, h: f64) -> [Knot; 4] {
    [(left, bottom, 0.0), (left + w, bottom, 0.0), (left + w, bottom + h, 0.0), (left, bottom + h, 0.0)]
}
