//! Local thickness: where a plate is thinnest, and how thin the steel is that it hangs by. Looked for in plain numbers, in
//! inches ([`flat::thin`]), ever finer until the places along the edge are fine enough for what is found.

use super::contour::{Contour, Point};
pub(super) use crate::flat::thin::Grip;
pub use crate::flat::thin::Thin;
use crate::flat::thin::{self as flat_thin, Found};
use crate::flat::{Edge, Spot};
use crate::quantity::{Length, Measure};

const INCH_M: f64 = 0.0254;
/// Places along the edge in the first look.
const FIRST_PLACES: f64 = 1200.0;
/// Most places along the edge.
const MAX_PLACES: f64 = 12_000.0;
/// Places along the edge for each narrowest width: discs touch between two of them, which costs 1/(2·40²) of a width.
const PLACES_A_WIDTH: f64 = 40.0;

/// The narrowest width of a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinnest {
    /// The width.
    pub width: Length,
    /// Where.
    pub at: Point,
    /// What is as narrow as that.
    pub what: Thin,
}

/// What is looked for with places along the edges a step apart.
type Look<'s> = dyn Fn(&[Vec<Edge>], f64) -> Option<Found> + 's;

/// The narrowest width of a contour less the cut-outs that count; `None` where a check of the computation fails.
pub(super) fn thinnest(contour: &Contour, large: &[&Contour]) -> Option<Thinnest> {
    narrowest(contour, large, &flat_thin::narrowest)
}

/// The narrowest steel between places that a plate hangs from and its widest place, or that place; `None` where a check
/// fails.
pub(super) fn hung_by(contour: &Contour, large: &[&Contour], grips: &[Grip]) -> Option<Thinnest> {
    let inch = |grip: &Grip| Grip { at: (grip.at.0 / INCH_M, grip.at.1 / INCH_M), reach: grip.reach / INCH_M, ..*grip };
    let grips: Vec<Grip> = grips.iter().map(inch).collect();
    narrowest(contour, large, &|rings, step| flat_thin::hung_by(rings, &grips, step))
}

/// The narrowest place that a search in the discs finds, its places along the edge finer until they are fine enough.
fn narrowest(contour: &Contour, large: &[&Contour], look: &Look) -> Option<Thinnest> {
    let inch = |(x, y): Spot| (x / INCH_M, y / INCH_M);
    let in_inches = |edge: Edge| Edge { from: inch(edge.from), to: inch(edge.to), bulge: edge.bulge };
    let rings: Vec<Vec<Edge>> =
        std::iter::once(&contour).chain(large).map(|c| c.edges().map(in_inches).collect()).collect();
    let perimeter = (contour.length() + large.iter().map(|c| c.length()).sum::<f64>()) / INCH_M;
    let mut step = perimeter / FIRST_PLACES;
    let mut found = look(&rings, step)?;
    for _ in 0..3 {
        let finer = (found.width / PLACES_A_WIDTH).max(perimeter / MAX_PLACES);
        if finer >= step * 0.98 {
            break;
        }
        step = finer;
        found = look(&rings, step)?;
    }
    let at = (found.at.0 * INCH_M, found.at.1 * INCH_M);
    // A disc that touches places of the edge reaches a hair beyond what lies between them.
    let clear = std::iter::once(&contour).chain(large).map(|c| c.fence().distance(at)).fold(f64::INFINITY, f64::min);
    let width = found.width * INCH_M;
    let width = if 2.0 * clear > 0.995 * width { width.min(2.0 * clear) } else { width };
    Some(Thinnest { width: Length::from_si(width), at: Point::of(at), what: found.what })
}

#[cfg(test)]
mod tests;
