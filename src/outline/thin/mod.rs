//! Local thickness: the least width at which opening the plate by a disc of that diameter (shrink by half, grow
//! back) leaves nothing, splits it, opens a large cut-out, or loses a part that reaches far from what stays.
//!
//! Opened by a disc, a plate is the union of all discs of that size that it holds. Those are found all at once: the
//! edge is sampled, and the circles around the triangles of its Delaunay triangulation (`delaunator`) are the largest
//! discs at their places; where two triangles meet lies the narrowest way between two discs. Taken in order of their
//! size, the discs join into pieces and close rings around cut-outs, each at one width; how far what lies beyond a way
//! reaches is measured from the disc that fits no farther, so that a strip beside a slit is far from the body across
//! it. Lengths here are inches. The triangles inside must fill the plate's area, else the width is unknown.

mod hung;
mod lost;
mod mesh;

use super::contour::{Contour, Point};
use super::spot::Spot;
use crate::quantity::{Length, Measure};
pub(super) use hung::Grip;
use mesh::{ASKEW_RAD, Joins, Mesh, Ring, turned};

const INCH_M: f64 = 0.0254;
/// A part that reaches less far from what stays is an ear or a corner, in.
const EAR_IN: f64 = 1.5;
/// By how much a reach must pass half the width: a corner of 60° reaches just that far, at every width.
const REACH_SLACK: f64 = 1.005;
/// By how much a reach must pass that of an ear, in: the places along the edge are not quite dense.
const EAR_SLACK_IN: f64 = 0.002;
/// Places along the edge in the first look.
const FIRST_PLACES: f64 = 1200.0;
/// Most places along the edge.
const MAX_PLACES: f64 = 12_000.0;
/// Places along the edge for each narrowest width: discs touch between two of them, which costs 1/(2·40²) of a width.
const PLACES_A_WIDTH: f64 = 40.0;

/// What becomes of a plate that is opened by a disc wider than its narrowest width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thin {
    /// Nothing is left: it is as wide as its largest disc.
    Whole,
    /// It parts at a neck.
    Neck,
    /// The strip beside a large cut-out opens.
    Strip,
    /// A leg, a tongue or a tip is lost.
    Part,
}

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

/// A width, in, with its place.
#[derive(Debug, Clone, Copy)]
struct Found {
    width: f64,
    at: Spot,
    what: Thin,
}

/// What is searched for in discs, how they join, the largest of them, and the step between places along the edge.
type Search<'s> = dyn Fn(&Mesh, &Joins, usize, f64) -> Option<Found> + 's;

/// The narrowest width of a contour less the cut-outs that count; `None` where a check of the computation fails.
pub(super) fn thinnest(contour: &Contour, large: &[&Contour]) -> Option<Thinnest> {
    narrowest(contour, large, &|mesh, joins, largest, step| {
        let disc = mesh.discs[largest];
        let whole = Found { width: 2.0 * disc.radius, at: disc.centre, what: Thin::Whole };
        let least = joins.strip.filter(|strip| strip.width < whole.width).unwrap_or(whole);
        Some(lost::part(mesh, joins, largest, step, least.width).unwrap_or(least))
    })
}

/// The narrowest steel between places that a plate hangs from and its widest place, or that place; `None` where a check
/// fails.
pub(super) fn hung_by(contour: &Contour, large: &[&Contour], grips: &[Grip]) -> Option<Thinnest> {
    let inch = |grip: &Grip| {
        let at = turned((grip.at.0 / INCH_M, grip.at.1 / INCH_M), ASKEW_RAD);
        Grip { at, reach: grip.reach / INCH_M, ..*grip }
    };
    let grips: Vec<Grip> = grips.iter().map(inch).collect();
    narrowest(contour, large, &|mesh, joins, largest, _| hung::narrowest(mesh, joins, largest, &grips))
}

/// The narrowest place that a search in the discs finds, its places along the edge finer until they are fine enough.
fn narrowest(contour: &Contour, large: &[&Contour], search: &Search) -> Option<Thinnest> {
    let perimeter = (contour.length() + large.iter().map(|c| c.length()).sum::<f64>()) / INCH_M;
    let mut step = perimeter / FIRST_PLACES;
    let mut found = look(contour, large, step, search)?;
    for _ in 0..3 {
        let finer = (found.width / PLACES_A_WIDTH).max(perimeter / MAX_PLACES);
        if finer >= step * 0.98 {
            break;
        }
        step = finer;
        found = look(contour, large, step, search)?;
    }
    let at = (found.at.0 * INCH_M, found.at.1 * INCH_M);
    // A disc that touches places of the edge reaches a hair beyond what lies between them.
    let clear = std::iter::once(&contour).chain(large).map(|c| c.fence().distance(at)).fold(f64::INFINITY, f64::min);
    let width = found.width * INCH_M;
    let width = if 2.0 * clear > 0.995 * width { width.min(2.0 * clear) } else { width };
    Some(Thinnest { width: Length::from_si(width), at: Point::of(at), what: found.what })
}

/// One look with places along the edge a step apart.
fn look(contour: &Contour, large: &[&Contour], step: f64, search: &Search) -> Option<Found> {
    let mut rings = vec![Ring::along(contour, step)];
    rings.extend(large.iter().map(|cut| Ring::along(cut, step).reversed()));
    let mesh = Mesh::new(rings, large.len())?;
    let largest = (0..mesh.discs.len()).max_by(|a, b| mesh.discs[*a].radius.total_cmp(&mesh.discs[*b].radius))?;
    let joins = mesh.joins()?;
    let found = search(&mesh, &joins, largest, step)?;
    Some(Found { at: turned(found.at, -ASKEW_RAD), ..found })
}

/// How far what is lost at a width must reach to count.
fn far(width: f64) -> f64 {
    (EAR_IN + EAR_SLACK_IN).max(0.5 * width * REACH_SLACK)
}

#[cfg(test)]
mod tests;
