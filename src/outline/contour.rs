//! A closed ring of points, straight edges and arcs: an outline, or a cut-out in it. Valid by construction.
//!
//! The edge that leaves a point is straight, or an arc of the point's bulge, the tangent of a quarter of its
//! included angle, positive counterclockwise. Crossings, containment and distances are those of
//! `cavalier_contours`, whose tolerances are absolute: it is asked in thousandths of an inch.

use super::arcs::fitted_ring;
pub use super::vertex::{ContourError, MAX_POINTS, Point, Segment, Vertex};
use crate::flat::Bow;
pub(super) use crate::flat::{Edge, Spot, apart};
use crate::quantity::{Length, Measure};
use cavalier_contours::core::Control;
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{
    PlineCreation, PlineIntersect, PlineSelfIntersectOptions, PlineSource, PlineSourceMut, PlineVertex, Polyline,
    SelfIntersectsInclude,
};

/// The least length of an edge, and the least steel between two contours, m.
pub(super) const MIN_M: f64 = 1e-6;
/// How near to an arc the ends of chords lie that become it, m: 0.002 in.
const CHORDS_M: f64 = 0.002 * 0.0254;
/// A thousandth of an inch, m.
pub(super) const MIL_M: f64 = 2.54e-5;
/// Places nearer than this are one to the geometry library, thousandths of an inch.
const SAME_MIL: f64 = 1e-3;
/// How near to a circle a cut-out is a round hole, m: 0.002 in.
const ROUND_M: f64 = 0.002 * 0.0254;
/// The arcs of a round hole go around this much, rad: a polygon has none.
const MAX_OF_A_TURN: f64 = 0.75 * std::f64::consts::TAU;
/// The largest bulge that is taken.
const MAX_BULGE: f64 = 10.0;
/// How far chords may lie from the arcs of a polygon that distances are asked of, thousandths of an inch.
const CHORD_MIL: f64 = 0.1;

/// Edges behind one another for the geometry library, in thousandths of an inch, with the edge that each of its edges is
/// of: arcs of more than half a turn are two there.
fn pline_of(edges: impl Iterator<Item = Edge>, closed: bool) -> (Polyline<f64>, Vec<usize>) {
    let mut pline = Polyline::with_capacity(8, closed);
    let (mut of, mut last) = (Vec::new(), None);
    let mut add = |(x, y): Spot, bulge: f64, edge: usize| {
        pline.add_vertex(PlineVertex::new(x / MIL_M, y / MIL_M, bulge));
        of.push(edge);
    };
    for (i, edge) in edges.enumerate() {
        if edge.bulge.abs() > 1.0 {
            let half = (0.5 * edge.bulge.atan()).tan();
            add(edge.from, half, i);
            add(edge.at(0.5), half, i);
        } else {
            add(edge.from, edge.bulge, i);
        }
        last = Some((edge.to, i));
    }
    if let (Some((end, i)), false) = (last, closed) {
        add(end, 0.0, i);
    }
    (pline, of)
}

fn chords_of(pline: Polyline<f64>, tolerance_mil: f64) -> Vec<Spot> {
    let cut = pline.arcs_to_approx_lines(tolerance_mil.max(1e-3)).unwrap_or(pline);
    cut.iter_vertexes().map(|v| (v.x * MIL_M, v.y * MIL_M)).collect()
}

fn bounds_of(edges: impl Iterator<Item = Edge>) -> [f64; 4] {
    let none = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
    edges.map(|e| e.bounds()).fold(none, |a, b| [a[0].min(b[0]), a[1].max(b[1]), a[2].min(b[2]), a[3].max(b[3])])
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
        Ok(if contour.signed_area() < 0.0 { contour.reversed() } else { contour })
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

    /// The edges, counterclockwise, for those who draw it.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        self.edges().map(|edge| {
            let (from, to) = (Point::of(edge.from), Point::of(edge.to));
            edge.bow().map_or(Segment::Line { from, to }, |bow| Segment::Arc {
                from,
                to,
                centre: Point::of(bow.centre),
                radius: Length::from_si(bow.radius),
                sweep: bow.sweep,
            })
        })
    }

    /// The contour as a polygon whose chords lie within a tolerance of its arcs.
    #[must_use]
    pub fn polygon(&self, tolerance: Length) -> Vec<Point> {
        self.chords(tolerance.si() / MIL_M).into_iter().map(Point::of).collect()
    }

    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> + Clone + '_ {
        let n = self.0.len();
        (0..n).map(move |i| Edge {
            from: self.0[i].at.spot(),
            to: self.0[(i + 1) % n].at.spot(),
            bulge: self.0[i].bulge,
        })
    }

    fn chords(&self, tolerance_mil: f64) -> Vec<Spot> {
        chords_of(self.pline().0, tolerance_mil)
    }

    /// The same for the geometry library.
    fn pline(&self) -> (Polyline<f64>, Vec<usize>) {
        pline_of(self.edges(), true)
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
        let (pline, edges) = self.pline();
        let mut visitor = |found: PlineIntersect<f64>| {
            let (first, second, at) = match found {
                PlineIntersect::Basic(b) => (b.start_index1, b.start_index2, b.point),
                PlineIntersect::Overlapping(o) => (o.start_index1, o.start_index2, o.point1),
            };
            let (first, second) = (edges[first.min(second)] + 1, edges[first.max(second)] + 1);
            Control::Break(ContourError::Crossing { first, second, at: Point::of((at.x * MIL_M, at.y * MIL_M)) })
        };
        let options = PlineSelfIntersectOptions {
            aabb_index: None,
            pos_equal_eps: SAME_MIL,
            include: SelfIntersectsInclude::All,
        };
        match pline.visit_self_intersects_opt(&mut visitor, &options) {
            Control::Break(fault) => Err(fault),
            _ => Ok(()),
        }
    }

    fn reversed(&self) -> Self {
        let n = self.0.len();
        let turned = |i: usize| {
            let before = self.0[(2 * n - 2 - i) % n];
            Vertex { at: self.0[n - 1 - i].at, bulge: 0.0 - before.bulge }
        };
        Self((0..n).map(turned).collect())
    }

    /// Left, right, bottom and top, m.
    pub(crate) fn bounds(&self) -> [f64; 4] {
        bounds_of(self.edges())
    }

    fn signed_area(&self) -> f64 {
        let (first, mut sum) = (self.0[0].at.spot(), 0.0);
        for edge in self.edges() {
            let (a, b) = ((edge.from.0 - first.0, edge.from.1 - first.1), (edge.to.0 - first.0, edge.to.1 - first.1));
            sum += 0.5 * (a.0 * b.1 - a.1 * b.0);
            if let Some(bow) = edge.bow() {
                sum += 0.5 * bow.radius * bow.radius * (bow.sweep - bow.sweep.sin());
            }
        }
        sum
    }

    /// Area by its closed form, m².
    pub(super) fn area(&self) -> f64 {
        self.signed_area()
    }

    pub(super) fn length(&self) -> f64 {
        self.edges().map(|e| e.length()).sum()
    }

    /// The same with runs of chords that lie on an arc as that arc, unless it would cross itself then.
    pub(super) fn with_arcs(self) -> Self {
        let ring: Vec<(Spot, f64)> = self.0.iter().map(|v| (v.at.spot(), v.bulge)).collect();
        let fits = fitted_ring(&ring, CHORDS_M);
        if fits.len() == ring.len() {
            return self;
        }
        Self::new(fits.into_iter().map(|(at, bulge)| Vertex::of(at, bulge)).collect()).unwrap_or(self)
    }

    #[cfg(feature = "dxf")]
    pub(super) fn shifted(&self, dx: f64, dy: f64) -> Self {
        let moved = |v: &Vertex| {
            let (x, y) = v.at.spot();
            Vertex::of((x + dx, y + dy), v.bulge)
        };
        Self(self.0.iter().map(moved).collect())
    }

    /// The circle it is, centre and diameter in metres, where its arcs are of one and go around most of it; what is left
    /// of a curve between two fitted arcs may be a chord.
    pub(super) fn round(&self, tolerance: f64) -> Option<(Spot, f64)> {
        let bows: Vec<Bow> = self.edges().filter_map(|e| e.bow()).collect();
        let weight: f64 = bows.iter().map(|b| b.sweep.abs()).sum();
        if weight < MAX_OF_A_TURN {
            return None;
        }
        let mean = |of: fn(&Bow) -> f64| bows.iter().map(|b| of(b) * b.sweep.abs()).sum::<f64>() / weight;
        let (centre, radius) = ((mean(|b| b.centre.0), mean(|b| b.centre.1)), mean(|b| b.radius));
        let near =
            |e: Edge| [0.0, 0.25, 0.5, 0.75].iter().all(|t| (apart(e.at(*t), centre) - radius).abs() <= tolerance);
        self.edges().all(near).then_some((centre, 2.0 * radius))
    }

    /// Itself as a hole: a round one where it is a circle.
    pub(super) fn into_hole(self) -> super::Hole {
        match self.round(ROUND_M) {
            Some((centre, diameter)) => {
                super::Hole::Round { centre: Point::of(centre), diameter: Length::from_si(diameter) }
            }
            None => super::Hole::Cut(self),
        }
    }

    /// For many questions of distance and containment.
    pub(super) fn fence(&self) -> Fence {
        Fence { pline: self.pline().0, chords: self.chords(CHORD_MIL), bounds: self.bounds() }
    }
}

#[derive(Debug, Clone)]
pub(super) struct Fence {
    pline: Polyline<f64>,
    chords: Vec<Spot>,
    bounds: [f64; 4],
}

impl Fence {
    /// An open run of edges: it contains nothing.
    #[cfg(feature = "dxf")]
    pub fn open(edges: &[Edge]) -> Self {
        let pline = pline_of(edges.iter().copied(), false).0;
        let chords = chords_of(pline.clone(), CHORD_MIL);
        Self { pline, chords, bounds: bounds_of(edges.iter().copied()) }
    }

    pub fn contains(&self, at: Spot) -> bool {
        self.pline.winding_number(Vector2::new(at.0 / MIL_M, at.1 / MIL_M)) != 0
    }

    pub fn distance(&self, at: Spot) -> f64 {
        let found = self.pline.closest_point(Vector2::new(at.0 / MIL_M, at.1 / MIL_M), SAME_MIL);
        found.map_or(f64::INFINITY, |c| c.distance * MIL_M)
    }

    /// Least distance between two contours where it is below `far`, and its place.
    pub fn gap(&self, other: &Self, far: f64) -> Option<(f64, Spot)> {
        let (a, b) = (self.bounds, other.bounds);
        let between = |i: usize| (b[i] - a[i + 1]).max(a[i] - b[i + 1]).max(0.0);
        if between(0).hypot(between(2)) >= far {
            return None;
        }
        let crossed = self.pline.find_intersects(&other.pline);
        if let Some(at) = crossed.basic_intersects.first().map(|c| c.point) {
            return Some((0.0, (at.x * MIL_M, at.y * MIL_M)));
        }
        if let Some(at) = crossed.overlapping_intersects.first().map(|c| c.point1) {
            return Some((0.0, (at.x * MIL_M, at.y * MIL_M)));
        }
        let mut least = (far, (0.0, 0.0));
        for (from, to) in [(self, other), (other, self)] {
            let [left, right, bottom, top] = to.bounds;
            for &at in &from.chords {
                let off = (left - at.0).max(at.0 - right).max(0.0).hypot((bottom - at.1).max(at.1 - top).max(0.0));
                if off < least.0 {
                    let distance = to.distance(at);
                    least = if distance < least.0 { (distance, at) } else { least };
                }
            }
        }
        (least.0 < far).then_some(least)
    }
    pub fn first(&self) -> Spot {
        self.chords.first().copied().unwrap_or_default()
    }
}

#[cfg(test)]
#[path = "plain.rs"]
pub(super) mod plain;
