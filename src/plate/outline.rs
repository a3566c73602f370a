//! Any closed outline with holes: straight edges and arcs, valid by construction.
//!
//! A contour is a ring of points; the edge that leaves a point is straight, or an arc of the point's bulge,
//! the tangent of a quarter of its included angle, positive counterclockwise. Coordinates are metres, y up.

use thiserror::Error;

/// The most points of an outline and its holes together.
pub const MOST_POINTS: usize = 2000;
/// The least length of an edge, m.
const LEAST_EDGE_M: f64 = 1e-6;
/// Straight pieces that an arc is cut into where crossings and widths are looked for.
const PIECES: u32 = 48;

/// A point of a contour, and the bulge of the edge that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Metres to the right.
    pub x: f64,
    /// Metres up.
    pub y: f64,
    /// Tangent of a quarter of the arc's included angle; 0 for a straight edge.
    pub bulge: f64,
}

/// A round hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Centre, metres.
    pub x: f64,
    /// Centre, metres.
    pub y: f64,
    /// Diameter, metres.
    pub diameter: f64,
}

/// A plate's outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// What it is called.
    pub name: String,
    contour: Vec<Vertex>,
    holes: Vec<Hole>,
    /// Points it hangs from; the top edge where there are none.
    hangers: Vec<(f64, f64)>,
}

/// An outline that can't be cut. Coordinates in inches, as they are told. [`OutlineError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum OutlineError {
    /// Too few or too many points.
    #[error("an outline of {points} points")]
    Points {
        /// How many there are.
        points: usize,
    },
    /// A coordinate or bulge that is not a number, or absurd.
    #[error("point {index} is not a place on a plate")]
    Place {
        /// Which point, from 1.
        index: usize,
    },
    /// Two points in one place.
    #[error("point {index} at ({x:.3}, {y:.3}) in lies on the one before it")]
    Repeated {
        /// Which point, from 1.
        index: usize,
        /// In.
        x: f64,
        /// In.
        y: f64,
    },
    /// Edges that cross.
    #[error("the outline crosses itself near ({x:.3}, {y:.3}) in, edges {first} and {second}")]
    Crossing {
        /// Which edge, from 1.
        first: usize,
        /// Which edge, from 1.
        second: usize,
        /// In.
        x: f64,
        /// In.
        y: f64,
    },
    /// A hole that does not lie within.
    #[error("hole {index} at ({x:.3}, {y:.3}) in is not inside the outline, or meets another hole")]
    Hole {
        /// Which hole, from 1.
        index: usize,
        /// In.
        x: f64,
        /// In.
        y: f64,
    },
    /// A contour that does not close.
    #[error("the outline is open: it ends at ({x:.3}, {y:.3}) and nothing begins there")]
    Open {
        /// In the drawing's unit.
        x: f64,
        /// In the drawing's unit.
        y: f64,
    },
}

impl OutlineError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Points { .. } => {
                format!("an outline has 2 to {MOST_POINTS} points, at least 3 where all edges are straight")
            }
            Self::Place { .. } => "coordinates lie within 120 in, bulges between -10 and 10".into(),
            Self::Repeated { .. } => "remove one of the points".into(),
            Self::Crossing { .. } => "put the points in the order of the cut".into(),
            Self::Hole { .. } => "move the hole into the steel, clear of the edge and of other holes".into(),
            Self::Open { .. } => "draw the missing edge, or join the ends".into(),
        }
    }
}

const INCH_M: f64 = 0.0254;
/// The farthest coordinate that is taken, m.
const FARTHEST_M: f64 = 120.0 * INCH_M;

/// An edge, ready to be asked: a straight one or an arc.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    from: (f64, f64),
    to: (f64, f64),
    /// Centre, radius, start angle and sweep of an arc.
    arc: Option<((f64, f64), f64, f64, f64)>,
}

impl Edge {
    pub fn new(from: Vertex, to: Vertex) -> Self {
        let (start, end) = ((from.x, from.y), (to.x, to.y));
        if from.bulge == 0.0 {
            return Self { from: start, to: end, arc: None };
        }
        let (dx, dy) = (end.0 - start.0, end.1 - start.1);
        let b = from.bulge;
        // The centre lies across the chord at (1 − b²)/(4b) of its length.
        let offset = (1.0 - b * b) / (4.0 * b);
        let centre = (start.0 + 0.5 * dx - offset * dy, start.1 + 0.5 * dy + offset * dx);
        let radius = (start.0 - centre.0).hypot(start.1 - centre.1);
        let angle = (start.1 - centre.1).atan2(start.0 - centre.0);
        Self { from: start, to: end, arc: Some((centre, radius, angle, 4.0 * b.atan())) }
    }

    pub fn at(&self, t: f64) -> (f64, f64) {
        match self.arc {
            None => (self.from.0 + t * (self.to.0 - self.from.0), self.from.1 + t * (self.to.1 - self.from.1)),
            Some((c, r, angle, sweep)) => {
                let (sin, cos) = (angle + t * sweep).sin_cos();
                (c.0 + r * cos, c.1 + r * sin)
            }
        }
    }

    /// The derivative by t.
    pub fn rate(&self, t: f64) -> (f64, f64) {
        match self.arc {
            None => (self.to.0 - self.from.0, self.to.1 - self.from.1),
            Some((_, r, angle, sweep)) => {
                let (sin, cos) = (angle + t * sweep).sin_cos();
                (-r * sweep * sin, r * sweep * cos)
            }
        }
    }

    pub fn length(&self) -> f64 {
        match self.arc {
            None => (self.to.0 - self.from.0).hypot(self.to.1 - self.from.1),
            Some((_, r, _, sweep)) => r * sweep.abs(),
        }
    }

    /// Radius and sweep of an arc.
    pub fn bend(&self) -> Option<(f64, f64)> {
        self.arc.map(|(_, r, _, sweep)| (r, sweep))
    }

    pub fn pieces(&self) -> u32 {
        if self.arc.is_some() { PIECES } else { 1 }
    }

    /// Distance from a point.
    fn distance(&self, p: (f64, f64)) -> f64 {
        let n = self.pieces();
        let ends = |i: u32| (self.at(f64::from(i) / f64::from(n)), self.at(f64::from(i + 1) / f64::from(n)));
        (0..n).map(|i| to_segment(p, ends(i))).fold(f64::INFINITY, f64::min)
    }
}

fn to_segment(p: (f64, f64), (a, b): ((f64, f64), (f64, f64))) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let length = dx * dx + dy * dy;
    let t = if length > 0.0 { (((p.0 - a.0) * dx + (p.1 - a.1) * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
    (p.0 - a.0 - t * dx).hypot(p.1 - a.1 - t * dy)
}

/// Where two straight pieces cross, ends included.
fn crossing(a: ((f64, f64), (f64, f64)), b: ((f64, f64), (f64, f64))) -> Option<(f64, f64)> {
    let (r, s) = ((a.1.0 - a.0.0, a.1.1 - a.0.1), (b.1.0 - b.0.0, b.1.1 - b.0.1));
    let cross = r.0 * s.1 - r.1 * s.0;
    if cross.abs() < 1e-18 {
        return None;
    }
    let d = (b.0.0 - a.0.0, b.0.1 - a.0.1);
    let (t, u) = ((d.0 * s.1 - d.1 * s.0) / cross, (d.0 * r.1 - d.1 * r.0) / cross);
    let inside = |x: f64| (0.0..=1.0).contains(&x);
    (inside(t) && inside(u)).then_some((a.0.0 + t * r.0, a.0.1 + t * r.1))
}

impl Outline {
    /// An outline from its points in order, its holes, and the points it hangs from.
    ///
    /// # Errors
    /// [`OutlineError`] names the offending point.
    pub fn new(
        name: impl Into<String>,
        contour: Vec<Vertex>,
        holes: Vec<Hole>,
        hangers: Vec<(f64, f64)>,
    ) -> Result<Self, OutlineError> {
        let points = contour.len() + holes.len() + hangers.len();
        let straight = contour.iter().all(|v| v.bulge == 0.0);
        if contour.len() < if straight { 3 } else { 2 } || points > MOST_POINTS {
            return Err(OutlineError::Points { points });
        }
        let placed = |x: f64, y: f64| x.abs() <= FARTHEST_M && y.abs() <= FARTHEST_M;
        if let Some(i) = contour.iter().position(|v| !(placed(v.x, v.y) && v.bulge.abs() <= 10.0)) {
            return Err(OutlineError::Place { index: i + 1 });
        }
        if hangers.iter().any(|h| !placed(h.0, h.1)) || holes.iter().any(|h| !(placed(h.x, h.y) && h.diameter > 0.0)) {
            return Err(OutlineError::Place { index: 0 });
        }
        let mut outline = Self { name: name.into(), contour, holes, hangers };
        outline.no_repeats()?;
        outline.no_crossing()?;
        if outline.signed_area() < 0.0 {
            outline.reverse();
        }
        outline.holes_within()?;
        Ok(outline)
    }

    /// The points, counterclockwise.
    #[must_use]
    pub fn contour(&self) -> &[Vertex] {
        &self.contour
    }

    /// The holes.
    #[must_use]
    pub fn holes(&self) -> &[Hole] {
        &self.holes
    }

    /// The points it hangs from; none where nothing was said.
    #[must_use]
    pub fn hangers(&self) -> &[(f64, f64)] {
        &self.hangers
    }

    pub(super) fn edges(&self) -> impl Iterator<Item = Edge> + Clone + '_ {
        let n = self.contour.len();
        (0..n).map(move |i| Edge::new(self.contour[i], self.contour[(i + 1) % n]))
    }

    fn no_repeats(&self) -> Result<(), OutlineError> {
        let n = self.contour.len();
        for i in 0..n {
            let (a, b) = (self.contour[i], self.contour[(i + 1) % n]);
            if (a.x - b.x).hypot(a.y - b.y) < LEAST_EDGE_M {
                return Err(OutlineError::Repeated { index: (i + 1) % n + 1, x: b.x / INCH_M, y: b.y / INCH_M });
            }
        }
        Ok(())
    }

    fn no_crossing(&self) -> Result<(), OutlineError> {
        let edges: Vec<Edge> = self.edges().collect();
        let chains: Vec<Vec<(f64, f64)>> = edges
            .iter()
            .map(|e| (0..=e.pieces()).map(|i| e.at(f64::from(i) / f64::from(e.pieces()))).collect())
            .collect();
        let boxes: Vec<[f64; 4]> = chains.iter().map(|c| bounds(c)).collect();
        let n = edges.len();
        for i in 0..n {
            for j in i + 1..n {
                let apart = boxes[i][1] < boxes[j][0]
                    || boxes[j][1] < boxes[i][0]
                    || boxes[i][3] < boxes[j][2]
                    || boxes[j][3] < boxes[i][2];
                if apart {
                    continue;
                }
                let joined = j == i + 1 || (i == 0 && j == n - 1);
                if let Some((x, y)) = meet(&chains[i], &chains[j], joined) {
                    return Err(OutlineError::Crossing { first: i + 1, second: j + 1, x: x / INCH_M, y: y / INCH_M });
                }
            }
        }
        Ok(())
    }

    fn holes_within(&self) -> Result<(), OutlineError> {
        for (i, hole) in self.holes.iter().enumerate() {
            let radius = 0.5 * hole.diameter;
            let clear = self.edge_distance((hole.x, hole.y)) > radius && self.contains((hole.x, hole.y));
            let alone = self.holes[..i].iter().all(|h| (h.x - hole.x).hypot(h.y - hole.y) > radius + 0.5 * h.diameter);
            if !(clear && alone) {
                return Err(OutlineError::Hole { index: i + 1, x: hole.x / INCH_M, y: hole.y / INCH_M });
            }
        }
        Ok(())
    }

    /// Distance from a point to the nearest edge.
    fn edge_distance(&self, p: (f64, f64)) -> f64 {
        self.edges().map(|e| e.distance(p)).fold(f64::INFINITY, f64::min)
    }

    /// Whether a point lies inside the contour, by the winding of its boundary.
    fn contains(&self, p: (f64, f64)) -> bool {
        let points = self.polygon();
        let mut inside = false;
        for (i, a) in points.iter().enumerate() {
            let b = points[(i + 1) % points.len()];
            if (a.1 > p.1) != (b.1 > p.1) && p.0 < (b.0 - a.0) * (p.1 - a.1) / (b.1 - a.1) + a.0 {
                inside = !inside;
            }
        }
        inside
    }

    /// The contour with arcs cut into straight pieces.
    pub(super) fn polygon(&self) -> Vec<(f64, f64)> {
        let cut = |e: Edge| (0..e.pieces()).map(move |i| e.at(f64::from(i) / f64::from(e.pieces())));
        self.edges().flat_map(cut).collect()
    }

    fn signed_area(&self) -> f64 {
        let points = self.polygon();
        (0..points.len())
            .map(|i| {
                let (a, b) = (points[i], points[(i + 1) % points.len()]);
                0.5 * (a.0 * b.1 - b.0 * a.1)
            })
            .sum()
    }

    fn reverse(&mut self) {
        let old = self.contour.clone();
        let n = old.len();
        for (i, vertex) in self.contour.iter_mut().enumerate() {
            let from = old[n - 1 - i];
            let before = old[(2 * n - 2 - i) % n];
            *vertex = Vertex { x: from.x, y: from.y, bulge: 0.0 - before.bulge };
        }
    }

    /// Inside corners: their place, and the radius they are cut with, 0 for a sharp one. Metres.
    #[must_use]
    pub fn inside_corners(&self) -> Vec<(f64, f64, f64)> {
        let edges: Vec<Edge> = self.edges().collect();
        let mut corners = Vec::new();
        for (i, edge) in edges.iter().enumerate() {
            if let Some((radius, sweep)) = edge.bend()
                && sweep < 0.0
            {
                let (x, y) = edge.at(0.5);
                corners.push((x, y, radius));
            }
            let before = edges[(i + edges.len() - 1) % edges.len()];
            let (a, b) = (before.rate(1.0), edge.rate(0.0));
            let turn = (a.0 * b.1 - a.1 * b.0).atan2(a.0 * b.0 + a.1 * b.1);
            // A tangent join turns by rounding only.
            if turn < -0.02 {
                let (x, y) = edge.at(0.0);
                corners.push((x, y, 0.0));
            }
        }
        corners
    }

    /// Holes whose edge is nearer the outline's than one diameter: index and distance in metres.
    #[must_use]
    pub fn holes_near_edge(&self) -> Vec<(usize, f64)> {
        let gap = |h: &Hole| self.edge_distance((h.x, h.y)) - 0.5 * h.diameter;
        self.holes
            .iter()
            .enumerate()
            .map(|(i, h)| (i, gap(h)))
            .filter(|&(i, g)| g < self.holes[i].diameter * (1.0 - 1e-9))
            .collect()
    }
}

fn bounds(points: &[(f64, f64)]) -> [f64; 4] {
    points.iter().fold([f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY], |b, p| {
        [b[0].min(p.0), b[1].max(p.0), b[2].min(p.1), b[3].max(p.1)]
    })
}

/// Where two chains meet, but for the point they are joined at.
fn meet(a: &[(f64, f64)], b: &[(f64, f64)], joined: bool) -> Option<(f64, f64)> {
    let shared = |p: (f64, f64)| {
        let ends = [a[0], a[a.len() - 1]];
        let others = [b[0], b[b.len() - 1]];
        ends.iter()
            .any(|e| others.iter().any(|o| (e.0 - o.0).hypot(e.1 - o.1) < 1e-9 && (p.0 - e.0).hypot(p.1 - e.1) < 1e-7))
    };
    for i in a.windows(2) {
        for j in b.windows(2) {
            if let Some(p) = crossing((i[0], i[1]), (j[0], j[1]))
                && !(joined && shared(p))
            {
                return Some(p);
            }
        }
    }
    None
}
