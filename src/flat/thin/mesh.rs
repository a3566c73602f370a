//! The largest discs in a plate, and how they join.

use super::{Found, Thin};
use crate::flat::{Edge, Spot, apart};
use crate::order::Order;
use delaunator::{EMPTY, triangulate};

/// Chords this near to the edge stand for it, as a share of their longest length.
const FLAT_SHARE: f64 = 0.02;
/// Rounds of splitting chords that the triangulation passed over.
const ROUNDS: usize = 8;
const CROWDED_ROUNDS: usize = 3;
/// Places are taken turned by this. The triangulation takes them in the order of their distance from one, and along
/// sides that stand square to each other, with many equally far, it turns ten times as many triangles over.
pub(super) const ASKEW_RAD: f64 = 0.3;
/// By how much the triangles inside may miss the area.
const AREA_SHARE: f64 = 1e-3;

/// Places along a contour, in, with the plate to their left.
pub(super) struct Ring(Vec<Spot>);

impl Ring {
    /// Places at most a step apart; corners first, so that both sides of a corner have theirs alike.
    pub fn along(edges: &[Edge], step: f64) -> Self {
        let mut fine = Vec::new();
        for edge in edges {
            let askew = |spot: Spot| turned(spot, ASKEW_RAD);
            place_along(&Edge { from: askew(edge.from), to: askew(edge.to), bulge: edge.bulge }, step, &mut fine);
        }
        Self(thinned(&fine, step))
    }

    pub fn reversed(mut self) -> Self {
        self.0.reverse();
        self
    }

    fn area(&self) -> f64 {
        let n = self.0.len();
        let cross = |i: usize| {
            let (a, b) = (self.0[i], self.0[(i + 1) % n]);
            a.0 * b.1 - a.1 * b.0
        };
        0.5 * (0..n).map(cross).sum::<f64>()
    }
}

/// A place turned about the origin.
pub(super) fn turned((x, y): Spot, angle: f64) -> Spot {
    let (sin, cos) = angle.sin_cos();
    (cos * x - sin * y, sin * x + cos * y)
}

fn place_along(edge: &Edge, step: f64, places: &mut Vec<Spot>) {
    let length = edge.length();
    places.push(edge.from);
    // An arc is followed within a share of the step too.
    let turn = edge.bow().map_or(0.0, |bow| bow.sweep.abs());
    let step = step.min(if turn > 0.0 { 0.35 * length / turn } else { step });
    let steps = (0.5 * length / step).floor().min(1e5);
    let mut shares: Vec<f64> = Vec::new();
    let mut k = 1.0;
    while k <= steps {
        shares.push(k * step / length);
        k += 1.0;
    }
    let back: Vec<f64> = shares.iter().rev().map(|s| 1.0 - s).collect();
    if length - 2.0 * steps * step > step {
        shares.push(0.5);
    }
    for share in shares.iter().copied().chain(back) {
        let place = edge.at(share);
        if places.last().is_none_or(|last| apart(*last, place) > 0.25 * step) {
            places.push(place);
        }
    }
}

/// Places left out where the chord that passes them lies on them.
fn thinned(fine: &[Spot], step: f64) -> Vec<Spot> {
    let flat = FLAT_SHARE * step;
    let mut kept: Vec<Spot> = Vec::with_capacity(fine.len());
    let mut i = 0;
    while i < fine.len() {
        kept.push(fine[i]);
        let mut j = i + 1;
        while j + 1 < fine.len()
            && apart(fine[i], fine[j + 1]) <= step
            && fine[i + 1..=j].iter().all(|p| off_chord(fine[i], fine[j + 1], *p) <= flat)
        {
            j += 1;
        }
        i = j;
    }
    kept
}

fn off_chord(a: Spot, b: Spot, p: Spot) -> f64 {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let along = ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / (dx * dx + dy * dy).max(1e-30);
    let along = along.clamp(0.0, 1.0);
    apart(p, (a.0 + along * dx, a.1 + along * dy))
}

/// The largest disc at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Disc {
    pub centre: Spot,
    pub radius: f64,
    /// The places of the edge that it touches.
    pub touches: [usize; 3],
}

/// The narrowest way between two discs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    pub discs: [usize; 2],
    pub radius: f64,
    pub at: Spot,
    /// A place of the edge that all discs on the way touch.
    pub touches: usize,
}

pub(super) struct Mesh {
    pub places: Vec<Spot>,
    pub discs: Vec<Disc>,
    ways: Vec<Way>,
    cut_outs: usize,
}

/// A triangulation of places, with the place that follows each along the edge.
struct Triangles {
    places: Vec<Spot>,
    next: Vec<usize>,
    corners: Vec<usize>,
    twins: Vec<usize>,
    /// Whether the corners of a triangle stand counterclockwise.
    counterclockwise: bool,
}

impl Triangles {
    fn new(rings: &[Ring]) -> Self {
        let mut places = Vec::new();
        let mut next = Vec::new();
        for ring in rings {
            let first = places.len();
            places.extend_from_slice(&ring.0);
            next.extend((first..places.len()).map(|i| if i + 1 < places.len() { i + 1 } else { first }));
        }
        let points: Vec<delaunator::Point> = places.iter().map(|&(x, y)| delaunator::Point { x, y }).collect();
        let made = triangulate(&points);
        let turn = |corners: &[usize]| {
            let [p, q, r] = [corners[0], corners[1], corners[2]].map(|i| places[i]);
            (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0)
        };
        let counterclockwise = made.triangles.chunks_exact(3).map(turn).sum::<f64>() > 0.0;
        Self { places, next, corners: made.triangles, twins: made.halfedges, counterclockwise }
    }

    /// Whether a side of a triangle, in the triangle's order, is a chord with the triangle on the plate's hand. By the
    /// order and not by the place of the third corner: along a straight side triangles are as flat as rounding.
    fn follows(&self, a: usize, b: usize) -> bool {
        if self.counterclockwise { self.next[a] == b } else { self.next[b] == a }
    }

    /// The two ends of a side, the triangle's other corner, in the triangle's order.
    fn side(&self, e: usize) -> [usize; 3] {
        let first = e - e % 3;
        [self.corners[e], self.corners[first + (e + 1) % 3], self.corners[first + (e + 2) % 3]]
    }

    /// Chords of the edge that are no side of a triangle, or whose circle holds the triangle's corner inside.
    fn passed_over(&self, crowds: bool) -> Vec<bool> {
        let mut passed = vec![true; self.places.len()];
        let mut crowded = vec![false; self.places.len()];
        for e in 0..self.corners.len() {
            let [a, b, apex] = self.side(e);
            for (from, to) in [(a, b), (b, a)] {
                if self.next[from] == to {
                    passed[from] = false;
                    let (p, q, r) = (self.places[from], self.places[to], self.places[apex]);
                    let inside = self.follows(a, b);
                    let (u, v) = ((p.0 - r.0, p.1 - r.1), (q.0 - r.0, q.1 - r.1));
                    if crowds && inside && u.0 * v.0 + u.1 * v.1 < -1e-3 * u.0.hypot(u.1) * v.0.hypot(v.1) {
                        crowded[from] = true;
                    }
                }
            }
        }
        passed.iter().zip(crowded).map(|(p, c)| *p || c).collect()
    }
}

/// Chords shorter than this are not split, in.
const SHORTEST_IN: f64 = 2e-3;

impl Mesh {
    /// `None` where the triangles inside do not fill the plate.
    pub fn new(mut rings: Vec<Ring>, cut_outs: usize) -> Option<Self> {
        let mut triangles = Triangles::new(&rings);
        for round in 0..ROUNDS {
            let passed = triangles.passed_over(round < CROWDED_ROUNDS);
            let mut split = false;
            let mut i = 0;
            for ring in &mut rings {
                let n = ring.0.len();
                let mut finer = Vec::with_capacity(n + 8);
                for k in 0..n {
                    let (a, b) = (ring.0[k], ring.0[(k + 1) % n]);
                    finer.push(a);
                    if passed[i] && apart(a, b) > SHORTEST_IN {
                        finer.push((0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1)));
                        split = true;
                    }
                    i += 1;
                }
                ring.0 = finer;
            }
            if !split {
                break;
            }
            triangles = Triangles::new(&rings);
        }
        let area: f64 = rings.iter().map(Ring::area).sum();
        Self::of(triangles, area, cut_outs)
    }

    fn of(triangles: Triangles, area: f64, cut_outs: usize) -> Option<Self> {
        let inside = inside(&triangles);
        let mut covered = 0.0;
        let mut discs = Vec::new();
        let mut disc_of = vec![usize::MAX; triangles.corners.len() / 3];
        for (t, _) in inside.iter().enumerate().filter(|(_, inside)| **inside) {
            let touches = [0, 1, 2].map(|k| triangles.corners[3 * t + k]);
            let [a, b, c] = touches.map(|i| triangles.places[i]);
            covered += 0.5 * ((b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)).abs();
            disc_of[t] = discs.len();
            discs.push(disc(&triangles, t, touches));
        }
        if discs.is_empty() || !((covered - area).abs() <= AREA_SHARE * area) {
            return None;
        }
        let mut ways = Vec::new();
        for e in 0..triangles.corners.len() {
            let twin = triangles.twins[e];
            let [a, b, _] = triangles.side(e);
            if twin == EMPTY || e > twin || triangles.next[a] == b || triangles.next[b] == a {
                continue;
            }
            let pair = [disc_of[e / 3], disc_of[twin / 3]];
            if pair.iter().all(|d| *d != usize::MAX) {
                ways.push(way(&triangles, &discs, pair, a, b));
            }
        }
        Some(Self { places: triangles.places, discs, ways, cut_outs })
    }

    /// How the discs join, largest first; `None` where the rings they close are not as many as the cut-outs.
    pub fn joins(&self) -> Option<Joins> {
        let mut ways = self.ways.clone();
        ways.order_by(|a, b| b.radius.total_cmp(&a.radius));
        let mut group: Vec<usize> = (0..self.discs.len()).collect();
        let (mut kept, mut rings) = (Vec::with_capacity(self.discs.len()), Vec::new());
        for way in ways {
            let [a, b] = way.discs.map(|disc| root(&mut group, disc));
            group[b] = a;
            if a == b { rings.push(way) } else { kept.push(way) }
        }
        if rings.len() != self.cut_outs {
            return None;
        }
        let strip = rings.last().map(|way| Found { width: 2.0 * way.radius, at: way.at, what: Thin::Strip });
        Some(Joins { strip, ways: kept })
    }
}

/// The disc that its group is known by.
fn root(group: &mut [usize], mut disc: usize) -> usize {
    while group[disc] != disc {
        group[disc] = group[group[disc]];
        disc = group[disc];
    }
    disc
}

/// How discs join.
pub(super) struct Joins {
    /// The narrowest strip beside a large cut-out.
    pub strip: Option<Found>,
    /// The widest ways that join all discs: a tree.
    pub ways: Vec<Way>,
}

/// Which triangles lie in the plate: those beside its edge by their side of it, the others by their neighbours.
fn inside(triangles: &Triangles) -> Vec<bool> {
    let n = triangles.corners.len() / 3;
    let mut inside = vec![false; n];
    let mut open = Vec::new();
    for e in 0..triangles.corners.len() {
        let [a, b, _] = triangles.side(e);
        let within = triangles.follows(a, b);
        if within && !inside[e / 3] {
            inside[e / 3] = true;
            open.push(e / 3);
        }
    }
    while let Some(t) = open.pop() {
        for e in 3 * t..3 * t + 3 {
            let [a, b, _] = triangles.side(e);
            let twin = triangles.twins[e];
            if twin == EMPTY || triangles.next[a] == b || triangles.next[b] == a || inside[twin / 3] {
                continue;
            }
            inside[twin / 3] = true;
            open.push(twin / 3);
        }
    }
    inside
}

/// The disc around a triangle; where its centre would lie beyond the edge, the disc within it.
fn disc(triangles: &Triangles, t: usize, touches: [usize; 3]) -> Disc {
    let [a, b, c] = touches.map(|i| triangles.places[i]);
    for e in 3 * t..3 * t + 3 {
        let [from, to, apex] = triangles.side(e);
        if triangles.next[from] == to || triangles.next[to] == from {
            let (p, q, r) = (triangles.places[from], triangles.places[to], triangles.places[apex]);
            if (p.0 - r.0) * (q.0 - r.0) + (p.1 - r.1) * (q.1 - r.1) < 0.0 {
                let sides = [apart(b, c), apart(c, a), apart(a, b)];
                let around: f64 = sides.iter().sum();
                let area = 0.5 * ((b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)).abs();
                let mean = |u: f64, v: f64, w: f64| (sides[0] * u + sides[1] * v + sides[2] * w) / around.max(1e-30);
                let centre = (mean(a.0, b.0, c.0), mean(a.1, b.1, c.1));
                return Disc { centre, radius: 2.0 * area / around.max(1e-30), touches };
            }
        }
    }
    let (d, e) = ((b.0 - a.0, b.1 - a.1), (c.0 - a.0, c.1 - a.1));
    let (dd, ee) = (d.0 * d.0 + d.1 * d.1, e.0 * e.0 + e.1 * e.1);
    let twice = 2.0 * (d.0 * e.1 - d.1 * e.0);
    let (x, y) = ((e.1 * dd - d.1 * ee) / twice, (d.0 * ee - e.0 * dd) / twice);
    // Three places in a line have no circle, and by rounding any.
    if x.is_finite() && y.is_finite() && twice.abs() > 1e-6 * dd.max(ee) {
        Disc { centre: (a.0 + x, a.1 + y), radius: x.hypot(y), touches }
    } else {
        Disc { centre: a, radius: 0.0, touches }
    }
}

/// The way over the side from `a` to `b` of two triangles: narrowest in its middle, if that lies between the discs.
fn way(triangles: &Triangles, discs: &[Disc], pair: [usize; 2], a: usize, b: usize) -> Way {
    let (p, q) = (triangles.places[a], triangles.places[b]);
    let middle = (0.5 * (p.0 + q.0), 0.5 * (p.1 + q.1));
    let [one, two] = pair.map(|d| discs[d]);
    let beside = |d: &Disc| (q.0 - p.0) * (d.centre.1 - p.1) - (q.1 - p.1) * (d.centre.0 - p.0);
    let half = 0.5 * apart(p, q);
    let lesser = if one.radius < two.radius { one } else { two };
    if beside(&one) * beside(&two) < 0.0 && half <= lesser.radius {
        Way { discs: pair, radius: half, at: middle, touches: a }
    } else {
        Way { discs: pair, radius: lesser.radius, at: lesser.centre, touches: a }
    }
}
