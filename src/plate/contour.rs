//! A closed ring of points, straight edges and arcs: an outline, or a cut-out in it. Valid by construction.
//!
//! The edge that leaves a point is straight, or an arc of the point's bulge, the tangent of a quarter of its
//! included angle, positive counterclockwise.

use super::edge::{Edge, Spot, apart, box_around, box_gap};
use crate::quantity::{Length, Measure, unit};
use std::fmt;
use thiserror::Error;

/// The most points of an outline and its holes together.
pub const MAX_POINTS: usize = 2000;
/// The least length of an edge, and the least steel between two contours, m.
pub(super) const MIN_M: f64 = 1e-6;
/// The farthest coordinate that is taken, in.
const FARTHEST_IN: f64 = 120.0;
/// The largest bulge that is taken.
const MAX_BULGE: f64 = 10.0;

/// A place on a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

impl Point {
    pub(super) fn of((x, y): Spot) -> Self {
        Self { x: Length::from_si(x), y: Length::from_si(y) }
    }

    pub(super) fn spot(self) -> Spot {
        (self.x.si(), self.y.si())
    }

    /// Whether it may lie on a plate.
    pub(super) fn is_placed(self) -> bool {
        let near = |v: Length| unit::INCH.value(v).abs() <= FARTHEST_IN * (1.0 + 1e-9);
        near(self.x) && near(self.y)
    }
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "({:.3}, {:.3}) in", unit::INCH.value(self.x), unit::INCH.value(self.y))
    }
}

/// A point of a contour, and the bulge of the edge that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Where it lies.
    pub at: Point,
    /// Tangent of a quarter of the arc's included angle, positive counterclockwise; 0 for a straight edge.
    pub bulge: f64,
}

impl Vertex {
    pub(super) fn of(at: Spot, bulge: f64) -> Self {
        Self { at: Point::of(at), bulge }
    }
}

/// A contour that can't be cut, to be read behind its name: `hole 2 crosses itself near …`.
/// [`ContourError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ContourError {
    /// Too few or too many points.
    #[error("has {points} points")]
    Points {
        /// How many there are.
        points: usize,
    },
    /// A coordinate or bulge that is not a number, or absurd.
    #[error("has a point {index} that is not a place on a plate")]
    Place {
        /// Which point, from 1.
        index: usize,
    },
    /// A diameter, a width or a length that is not above zero, or absurd.
    #[error("has no size that could be cut")]
    Size,
    /// Two points in one place.
    #[error("has its point {index} at {at} on the one before it")]
    Repeated {
        /// Which point, from 1.
        index: usize,
        /// Where.
        at: Point,
    },
    /// Edges that cross or touch.
    #[error("crosses itself near {at}, edges {first} and {second}")]
    Crossing {
        /// Which edge, from 1.
        first: usize,
        /// Which edge, from 1.
        second: usize,
        /// Where.
        at: Point,
    },
}

impl ContourError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Points { .. } => {
                format!(
                    "a contour has 2 points or more, 3 where all edges are straight, and a plate {MAX_POINTS} at most"
                )
            }
            Self::Place { .. } => "coordinates lie within 120 in, bulges between -10 and 10".into(),
            Self::Size => "give a diameter or width above zero, and a slot two ends apart".into(),
            Self::Repeated { .. } => "remove one of the points".into(),
            Self::Crossing { .. } => "put the points in the order of the cut".into(),
        }
    }

    /// The point or edge at fault, from 1.
    #[must_use]
    pub fn index(&self) -> Option<usize> {
        match self {
            Self::Place { index } | Self::Repeated { index, .. } => Some(*index),
            Self::Crossing { second, .. } => Some(*second),
            Self::Points { .. } | Self::Size => None,
        }
    }
}

/// A closed contour, counterclockwise, whose edges meet at their ends only.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour(Vec<Vertex>);

impl Contour {
    /// A contour from its points in order, either way around.
    ///
    /// # Errors
    /// [`ContourError`] names the offending point.
    pub fn new(vertices: Vec<Vertex>) -> Result<Self, ContourError> {
        let points = vertices.len();
        let straight = vertices.iter().all(|v| v.bulge == 0.0);
        if points < if straight { 3 } else { 2 } || points > MAX_POINTS {
            return Err(ContourError::Points { points });
        }
        if let Some(i) = vertices.iter().position(|v| !(v.at.is_placed() && v.bulge.abs() <= MAX_BULGE)) {
            return Err(ContourError::Place { index: i + 1 });
        }
        let contour = Self(vertices);
        contour.no_repeats()?;
        contour.no_crossing()?;
        Ok(if contour.edges().map(|e| e.swept()).sum::<f64>() < 0.0 { contour.reversed() } else { contour })
    }

    /// A circle, of two half arcs.
    ///
    /// # Errors
    /// [`ContourError`] where it lies nowhere or has no size.
    pub fn circle(centre: Point, diameter: Length) -> Result<Self, ContourError> {
        if !(diameter.si() > MIN_M) {
            return Err(ContourError::Size);
        }
        let side = |x: Length| Vertex { at: Point { x, y: centre.y }, bulge: 1.0 };
        Self::new(vec![side(centre.x - 0.5 * diameter), side(centre.x + 0.5 * diameter)])
    }

    /// A slot with round ends: all that lies within half its width of the line between two places.
    ///
    /// # Errors
    /// [`ContourError`] where it lies nowhere or has no size.
    pub fn slot(from: Point, to: Point, width: Length) -> Result<Self, ContourError> {
        let (a, b) = (from.spot(), to.spot());
        let length = apart(a, b);
        if !(length > MIN_M && width.si() > MIN_M) {
            return Err(ContourError::Size);
        }
        let half = 0.5 * width.si() / length;
        let (x, y) = (-(b.1 - a.1) * half, (b.0 - a.0) * half);
        Self::new(vec![
            Vertex::of((a.0 - x, a.1 - y), 0.0),
            Vertex::of((b.0 - x, b.1 - y), 1.0),
            Vertex::of((b.0 + x, b.1 + y), 0.0),
            Vertex::of((a.0 + x, a.1 + y), 1.0),
        ])
    }

    /// The points, counterclockwise.
    #[must_use]
    pub fn vertices(&self) -> &[Vertex] {
        &self.0
    }

    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> + Clone + '_ {
        let n = self.0.len();
        (0..n).map(move |i| Edge::new(self.0[i].at.spot(), self.0[(i + 1) % n].at.spot(), self.0[i].bulge))
    }

    fn no_repeats(&self) -> Result<(), ContourError> {
        let n = self.0.len();
        for i in 0..n {
            let (a, b) = (self.0[i].at, self.0[(i + 1) % n].at);
            if apart(a.spot(), b.spot()) < MIN_M {
                return Err(ContourError::Repeated { index: (i + 1) % n + 1, at: b });
            }
        }
        Ok(())
    }

    fn no_crossing(&self) -> Result<(), ContourError> {
        let edges: Vec<Edge> = self.edges().collect();
        let boxes: Vec<[f64; 4]> = edges.iter().map(Edge::bounds).collect();
        let n = edges.len();
        for i in 0..n {
            for j in i + 1..n {
                if box_gap(boxes[i], boxes[j]) > MIN_M {
                    continue;
                }
                if let Some(at) = edges[i].meets(&edges[j], &self.shared(i, j)) {
                    return Err(ContourError::Crossing { first: i + 1, second: j + 1, at: Point::of(at) });
                }
            }
        }
        Ok(())
    }

    /// The corners that two edges share.
    fn shared(&self, i: usize, j: usize) -> Vec<Spot> {
        let n = self.0.len();
        let follows = |a: usize, b: usize| ((a + 1) % n == b).then(|| self.0[b].at.spot());
        follows(i, j).into_iter().chain(follows(j, i)).collect()
    }

    fn reversed(&self) -> Self {
        let n = self.0.len();
        let turned = |i: usize| {
            let before = self.0[(2 * n - 2 - i) % n];
            Vertex { at: self.0[n - 1 - i].at, bulge: 0.0 - before.bulge }
        };
        Self((0..n).map(turned).collect())
    }

    /// Whether a place lies inside, by the crossings of a ray.
    pub(super) fn contains(&self, p: Spot) -> bool {
        self.edges().filter(|e| e.crossed_by_ray(p)).count() % 2 == 1
    }

    /// Left, right, bottom and top, m.
    pub(super) fn bounds(&self) -> [f64; 4] {
        box_around(self.edges().map(|e| e.bounds()))
    }

    /// Area by its closed form, m².
    pub(super) fn area(&self) -> f64 {
        0.5 * self.edges().map(|e| e.swept()).sum::<f64>()
    }

    pub(super) fn length(&self) -> f64 {
        self.edges().map(|e| e.length()).sum()
    }

    /// The contour with arcs cut into straight pieces.
    pub(super) fn polygon(&self) -> Vec<Spot> {
        let cut = |e: Edge| (0..e.pieces()).map(move |i| e.at(f64::from(i) / f64::from(e.pieces())));
        self.edges().flat_map(cut).collect()
    }
}

/// The edges of a contour with their boxes, for many questions of distance.
#[derive(Debug, Clone)]
pub(super) struct Fence {
    edges: Vec<(Edge, [f64; 4])>,
    bounds: [f64; 4],
}

impl Fence {
    pub fn of(contour: &Contour) -> Self {
        Self { edges: contour.edges().map(|e| (e, e.bounds())).collect(), bounds: contour.bounds() }
    }

    /// Least distance between two contours where it is below `far`, and its place on this one.
    pub fn gap(&self, other: &Self, far: f64) -> Option<(f64, Spot)> {
        let mut least = (far, (0.0, 0.0));
        if box_gap(self.bounds, other.bounds) >= far {
            return None;
        }
        for (edge, bounds) in &self.edges {
            if box_gap(*bounds, other.bounds) >= least.0 {
                continue;
            }
            for (against, box_of) in &other.edges {
                if box_gap(*bounds, *box_of) < least.0 {
                    let gap = edge.gap(against);
                    least = if gap.0 < least.0 { gap } else { least };
                }
            }
        }
        (least.0 < far).then_some(least)
    }
}

/// Contours by plain numbers, for the tests of this room.
#[cfg(test)]
pub(super) mod plain {
    use super::{Contour, Vertex};

    /// A point and the bulge behind it, metres.
    pub type Knot = (f64, f64, f64);

    pub fn contour(points: &[Knot]) -> Contour {
        Contour::new(points.iter().map(|&(x, y, bulge)| Vertex::of((x, y), bulge)).collect()).unwrap()
    }

    pub fn box_of(left: f64, bottom: f64, w: f64, h: f64) -> [Knot; 4] {
        [(left, bottom, 0.0), (left + w, bottom, 0.0), (left + w, bottom + h, 0.0), (left, bottom + h, 0.0)]
    }
}
