//! The largest discs in a plate, and how they join.

use super::{Found, INCH_M, Thin, far};
use crate::outline::contour::{Contour, Edge};
use crate::outline::spot::{Spot, apart};
use delaunator::{EMPTY, triangulate};
use std::collections::BinaryHeap;

/// Chords this near to the edge stand for it, as a share of their longest length.
const FLAT_SHARE: f64 = 0.02;
/// Rounds of splitting chords that the triangulation passed over.
const ROUNDS: usize = 8;
const CROWDED_ROUNDS: usize = 3;
/// By how much the triangles inside may miss the area.
const AREA_SHARE: f64 = 1e-3;
/// Discs between two that join, for each step between places.
const FINER: f64 = 6.0;
/// Discs on the way into a neck.
const ON_A_WAY: u32 = 24;
/// By how much a plate widens beside a neck, at least.
const WIDENS: f64 = 1.003;
/// The most discs that a reach is measured against; fewer make a reach longer.
const MAX_DISCS: usize = 800;

/// Places along a contour, in, with the plate to their left.
pub(super) struct Ring(Vec<Spot>);

impl Ring {
    /// Places at most a step apart; corners first, so that both sides of a corner have theirs alike.
    pub fn along(contour: &Contour, step: f64) -> Self {
        let mut fine = Vec::new();
        for edge in contour.edges() {
            let inch = |(x, y): Spot| (x / INCH_M, y / INCH_M);
            place_along(&Edge { from: inch(edge.from), to: inch(edge.to), bulge: edge.bulge }, step, &mut fine);
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
    touches: [usize; 3],
}

/// The narrowest way between two discs.
#[derive(Debug, Clone, Copy)]
struct Way {
    discs: [usize; 2],
    radius: f64,
    at: Spot,
    /// A place of the edge that all discs on the way touch.
    touches: usize,
}

pub(super) struct Mesh {
    places: Vec<Spot>,
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
        Self { places, next, corners: made.triangles, twins: made.halfedges }
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
                    let inside = (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0) > 0.0;
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

    /// The least width at which a part is lost that reaches far from what stays.
    pub fn lost_part(&self, step: f64) -> Option<Found> {
        let mut queue = Queue::new(self, step);
        // Places no farther from the discs so far than an ear reaches can be lost no more.
        let mut open: Vec<(Spot, f64, usize)> =
            self.places.iter().enumerate().map(|(i, place)| (*place, f64::INFINITY, i)).collect();
        let mut found = None;
        let mut farthest = (f64::INFINITY, 0);
        let mut order: Vec<(f64, Spot)> = Vec::new();
        while let Some((radius, centre)) = queue.next() {
            // With all larger discs, and not yet this one.
            if farthest.0.is_finite() && farthest.0 > far(2.0 * radius) {
                found = Some((radius, farthest.1));
            }
            order.push((radius, centre));
            farthest = (0.0, 0);
            open.retain_mut(|(place, off, i)| {
                let (x, y) = (place.0 - centre.0, place.1 - centre.1);
                let (square, reach) = (x * x + y * y, *off + radius);
                if square < reach * reach {
                    *off = (square.sqrt() - radius).max(0.0);
                }
                if *off > farthest.0 {
                    farthest = (*off, *i);
                }
                *off > far(0.0)
            });
            if open.is_empty() {
                break;
            }
        }
        let (radius, place) = found?;
        // Shown where the lost part begins: the disc of that size nearest to its tip.
        let tip = self.places[place];
        let nearest = order.iter().filter(|d| d.0 >= radius * (1.0 - 1e-9));
        let at = nearest.min_by(|a, b| (apart(a.1, tip) - a.0).total_cmp(&(apart(b.1, tip) - b.0)))?.1;
        Some(Found { width: 2.0 * radius, at, what: Thin::Part })
    }

    /// How the discs join, largest first; `None` where the rings they close are not as many as the cut-outs.
    pub fn joins(&self) -> Option<Joins> {
        let mut ways = self.ways.clone();
        ways.sort_by(|a, b| b.radius.total_cmp(&a.radius));
        let mut forest = Forest::new(self.discs.len());
        let mut rings = Vec::new();
        for way in &ways {
            if !forest.join(way) {
                rings.push(way);
            }
        }
        if rings.len() != self.cut_outs {
            return None;
        }
        let strip = rings.last().map(|way| Found { width: 2.0 * way.radius, at: way.at, what: Thin::Strip });
        Some(Joins { strip, forest })
    }
}

/// Discs, the largest first. Those on the ways from a disc to smaller ones are no larger than it, and are made when
/// it is taken.
struct Queue<'a> {
    mesh: &'a Mesh,
    step: f64,
    ways_of: Vec<Vec<usize>>,
    /// Radii by their bits, which are in order for what is not negative.
    heap: BinaryHeap<(u64, usize)>,
    /// Discs on ways, behind those of the mesh.
    between: Vec<(f64, Spot)>,
}

impl<'a> Queue<'a> {
    fn new(mesh: &'a Mesh, step: f64) -> Self {
        let mut ways_of = vec![Vec::new(); mesh.discs.len()];
        for (w, way) in mesh.ways.iter().enumerate() {
            let [a, b] = way.discs;
            ways_of[if mesh.discs[a].radius >= mesh.discs[b].radius { a } else { b }].push(w);
        }
        let heap = mesh.discs.iter().enumerate().map(|(i, d)| (d.radius.abs().to_bits(), i)).collect();
        Self { mesh, step, ways_of, heap, between: Vec::new() }
    }

    fn next(&mut self) -> Option<(f64, Spot)> {
        let (_, i) = self.heap.pop()?;
        let n = self.mesh.discs.len();
        if i >= n {
            return Some(self.between[i - n]);
        }
        for &w in &self.ways_of[i] {
            let way = &self.mesh.ways[w];
            let [a, b] = way.discs.map(|d| self.mesh.discs[d].centre);
            let pieces = (FINER * apart(a, b) / self.step).ceil().min(200.0);
            let mut k = 1.0;
            while k < pieces {
                let t = k / pieces;
                let at = (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
                let radius = apart(at, self.mesh.places[way.touches]);
                self.heap.push((radius.to_bits(), n + self.between.len()));
                self.between.push((radius, at));
                k += 1.0;
            }
        }
        let disc = &self.mesh.discs[i];
        Some((disc.radius, disc.centre))
    }
}

/// Which triangles lie in the plate: those beside its edge by their side of it, the others by their neighbours.
fn inside(triangles: &Triangles) -> Vec<bool> {
    let n = triangles.corners.len() / 3;
    let mut inside = vec![false; n];
    let mut open = Vec::new();
    for e in 0..triangles.corners.len() {
        let [a, b, apex] = triangles.side(e);
        let (p, q, r) = (triangles.places[a], triangles.places[b], triangles.places[apex]);
        let left = (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0) > 0.0;
        let within = (triangles.next[a] == b && left) || (triangles.next[b] == a && !left);
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

pub(super) struct Joins {
    /// The narrowest strip beside a large cut-out.
    pub strip: Option<Found>,
    forest: Forest,
}

/// Two pieces that a way joins: nodes of the forest.
#[derive(Clone, Copy)]
struct Join {
    pieces: [usize; 2],
    way: Way,
}

/// Pieces, joined two by two: the first nodes are discs, the others joins.
struct Forest {
    parent: Vec<usize>,
    top: Vec<usize>,
    discs: usize,
    joins: Vec<Join>,
}

impl Forest {
    fn new(discs: usize) -> Self {
        Self { parent: (0..discs).collect(), top: (0..discs).collect(), discs, joins: Vec::new() }
    }

    fn root(&mut self, mut disc: usize) -> usize {
        while self.parent[disc] != disc {
            self.parent[disc] = self.parent[self.parent[disc]];
            disc = self.parent[disc];
        }
        disc
    }

    /// Joins two pieces; false where they are one already.
    fn join(&mut self, way: &Way) -> bool {
        let (a, b) = (self.root(way.discs[0]), self.root(way.discs[1]));
        if a == b {
            return false;
        }
        self.joins.push(Join { pieces: [self.top[a], self.top[b]], way: *way });
        self.parent[b] = a;
        self.top[a] = self.discs + self.joins.len() - 1;
        true
    }

    /// The discs of a piece.
    fn within(&self, piece: usize) -> Vec<usize> {
        let (mut open, mut discs) = (vec![piece], Vec::new());
        while let Some(node) = open.pop() {
            if node < self.discs {
                discs.push(node);
            } else {
                open.extend(self.joins[node - self.discs].pieces);
            }
        }
        discs
    }
}

impl Joins {
    /// The narrowest neck below a width: both pieces that it joins reach far from one another.
    pub fn neck(&self, mesh: &Mesh, below: f64) -> Option<Found> {
        let mut counts = vec![1_usize; mesh.discs.len()];
        let mut largest: Vec<f64> = mesh.discs.iter().map(|d| d.radius).collect();
        let mut extents: Vec<[f64; 4]> = mesh.discs.iter().map(extent).collect();
        for join in &self.forest.joins {
            let [a, b] = join.pieces;
            counts.push(counts[a] + counts[b]);
            largest.push(largest[a].max(largest[b]));
            let (a, b) = (extents[a], extents[b]);
            extents.push([a[0].min(b[0]), a[1].max(b[1]), a[2].min(b[2]), a[3].max(b[3])]);
        }
        // The last join is the narrowest.
        for join in self.forest.joins.iter().rev() {
            let width = 2.0 * join.way.radius;
            if width >= below {
                return None;
            }
            // A neck widens on both sides; what is as wide all along is no neck, but a part that may be lost.
            if join.pieces.iter().any(|piece| largest[*piece] < WIDENS * join.way.radius) {
                continue;
            }
            let asked = far(width);
            // No farther than its own extent reaches from the way.
            let near = join.pieces.iter().any(|piece| {
                let [left, right, bottom, top] = extents[*piece];
                let at = join.way.at;
                (right - at.0).max(at.0 - left).hypot((top - at.1).max(at.1 - bottom)) <= asked
            });
            if near {
                continue;
            }
            let reaches = |piece: usize, from: usize| {
                let (piece, stays) = (self.forest.within(join.pieces[piece]), self.forest.within(join.pieces[from]));
                mesh.reaches(&piece, &stays, &mesh.toward(&join.way, from), asked)
            };
            // The smaller first: it is less likely to reach far, and sooner looked at.
            let small = usize::from(counts[join.pieces[1]] < counts[join.pieces[0]]);
            if reaches(small, 1 - small) && reaches(1 - small, small) {
                return Some(Found { width, at: join.way.at, what: Thin::Neck });
            }
        }
        None
    }
}

fn extent(disc: &Disc) -> [f64; 4] {
    let ((x, y), r) = (disc.centre, disc.radius);
    [x - r, x + r, y - r, y + r]
}

impl Mesh {
    /// Discs on a way from its narrowest place to one of its two: they reach into the neck farther than that one.
    fn toward(&self, way: &Way, end: usize) -> Vec<(Spot, f64)> {
        let (from, to) = (way.at, self.discs[way.discs[end]].centre);
        let between = |k: u32| {
            let t = f64::from(k) / f64::from(ON_A_WAY);
            let at = (from.0 + t * (to.0 - from.0), from.1 + t * (to.1 - from.1));
            (at, apart(at, self.places[way.touches]))
        };
        (0..ON_A_WAY).map(between).collect()
    }

    /// Whether a piece reaches farther than `asked` from another, of which some discs are named.
    fn reaches(&self, piece: &[usize], from: &[usize], named: &[(Spot, f64)], asked: f64) -> bool {
        let mut stay: Vec<Disc> = from.iter().map(|d| self.discs[*d]).collect();
        stay.sort_by(|a, b| b.radius.total_cmp(&a.radius));
        let stride = stay.len() / MAX_DISCS + 1;
        let stay: Vec<Disc> = stay.into_iter().step_by(stride).collect();
        piece.iter().flat_map(|d| self.discs[*d].touches).any(|place| {
            let at = self.places[place];
            named.iter().all(|(centre, radius)| apart(at, *centre) - radius > asked)
                && stay.iter().all(|d| apart(at, d.centre) - d.radius > asked)
        })
    }
}
