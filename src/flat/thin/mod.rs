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

use super::{Edge, Spot};
pub use hung::Grip;
use mesh::{ASKEW_RAD, Joins, Mesh, Ring, turned};

/// A part that reaches less far from what stays is an ear or a corner, in.
const EAR_IN: f64 = 1.5;
/// By how much a reach must pass half the width: a corner of 60° reaches just that far, at every width.
const REACH_SLACK: f64 = 1.005;
/// By how much a reach must pass that of an ear, in: the places along the edge are not quite dense.
const EAR_SLACK_IN: f64 = 0.002;
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

/// A width with its place, in.
#[derive(Debug, Clone, Copy)]
pub struct Found {
    /// The width.
    pub width: f64,
    /// Where.
    pub at: Spot,
    /// What is as narrow as that.
    pub what: Thin,
}

/// The narrowest width of a plate, its outline first and then the cut-outs in it, each counterclockwise, with places along
/// their edges a step apart, in; `None` where a check of the computation fails.
#[must_use]
pub fn narrowest(rings: &[Vec<Edge>], step: f64) -> Option<Found> {
    look(rings, step, &|mesh, joins, largest| {
        let disc = mesh.discs[largest];
        let whole = Found { width: 2.0 * disc.radius, at: disc.centre, what: Thin::Whole };
        let least = joins.strip.filter(|strip| strip.width < whole.width).unwrap_or(whole);
        Some(lost::part(mesh, joins, largest, step, least.width).unwrap_or(least))
    })
}

/// The narrowest steel between places that it hangs from and its widest place, or that place, by the same; `None` where a
/// check fails.
#[must_use]
pub fn hung_by(rings: &[Vec<Edge>], grips: &[Grip], step: f64) -> Option<Found> {
    let grips: Vec<Grip> = grips.iter().map(|grip| Grip { at: turned(grip.at, ASKEW_RAD), ..*grip }).collect();
    look(rings, step, &|mesh, joins, largest| hung::narrowest(mesh, joins, largest, &grips))
}

/// What is searched for in discs, how they join, and the largest of them.
type Search<'s> = dyn Fn(&Mesh, &Joins, usize) -> Option<Found> + 's;

/// One look with places along the edges a step apart.
fn look(rings: &[Vec<Edge>], step: f64, search: &Search) -> Option<Found> {
    let (outline, cuts) = rings.split_first()?;
    let mut rings = vec![Ring::along(outline, step)];
    rings.extend(cuts.iter().map(|cut| Ring::along(cut, step).reversed()));
    let mesh = Mesh::new(rings, cuts.len())?;
    let largest = (0..mesh.discs.len()).max_by(|a, b| mesh.discs[*a].radius.total_cmp(&mesh.discs[*b].radius))?;
    let joins = mesh.joins()?;
    let found = search(&mesh, &joins, largest)?;
    Some(Found { at: turned(found.at, -ASKEW_RAD), ..found })
}

/// How far what is lost at a width must reach to count.
fn far(width: f64) -> f64 {
    (EAR_IN + EAR_SLACK_IN).max(0.5 * width * REACH_SLACK)
}
