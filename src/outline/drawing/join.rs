//! Strokes joined to closed contours: what was drawn twice is dropped, small gaps are closed, open ends left out.

use super::{Fault, Sketch, Stroke};
use crate::flat::{Spot, apart};
use crate::order::Order;
use crate::outline::contour::Edge;
use cavalier_contours::static_aabb2d_index::{StaticAABB2DIndex, StaticAABB2DIndexBuilder};
use std::collections::{BTreeMap, HashMap};

/// Ends nearer than this are one place, in.
const SAME_IN: f64 = 5e-4;
/// Shorter edges are none, in.
const SHORT_IN: f64 = 5e-5;
/// Gaps between open ends up to this are closed, in.
pub(super) const GAP_IN: f64 = 0.005;
/// Edges this near to another, all along, are drawn twice, in.
const TWICE_IN: f64 = 1e-3;
/// Open ends nearer than this, of a run at least `LONG` times as long, were meant to meet, in.
const NEAR_IN: f64 = 0.1;
const LONG: f64 = 12.0;

/// A closed contour as drawn, with the layers of its edges.
#[derive(Debug, Clone)]
pub(super) struct Loop {
    pub points: Vec<(Spot, f64)>,
    pub layers: Vec<usize>,
    /// Whether chords of it stay chords.
    pub chords: bool,
}

/// What does not close: its ends, the box around it, and the runs of edges that it is of.
#[derive(Debug, Clone)]
pub(super) struct Stray {
    pub ends: Vec<Spot>,
    pub bounds: [f64; 4],
    pub straight: bool,
    pub runs: Vec<Vec<Edge>>,
    pub layers: Vec<usize>,
    /// Whether all of it is drawn as a centre line.
    pub centre_line: bool,
}

/// What strokes join to.
#[derive(Debug, Default)]
pub(super) struct Joined {
    pub loops: Vec<Loop>,
    pub strays: Vec<Stray>,
}

fn edges_of(stroke: &Stroke) -> impl Iterator<Item = Edge> + '_ {
    let n = stroke.points.len();
    let count = if stroke.closed { n } else { n.saturating_sub(1) };
    (0..count).map(move |i| Edge {
        from: stroke.points[i].0,
        to: stroke.points[(i + 1) % n].0,
        bulge: stroke.points[i].1,
    })
}

fn length_of(stroke: &Stroke) -> f64 {
    edges_of(stroke).map(|e| e.length()).sum()
}

/// Joins the strokes of a sketch; what it drops it tallies there.
pub(super) fn joined(sketch: &mut Sketch) -> Result<Joined, Fault> {
    let mut strokes: Vec<Stroke> = Vec::new();
    let mut joined = Joined::default();
    for stroke in std::mem::take(&mut sketch.strokes) {
        let Some(stroke) = cleaned(stroke) else { continue };
        strokes.push(stroke);
    }
    let twice = drop_repeats(&mut strokes);
    sketch.left_out.add_many("edge", "drawn twice", twice);
    let (closed, open): (Vec<Stroke>, Vec<Stroke>) = strokes.into_iter().partition(|s| s.closed);
    joined.loops.extend(closed.into_iter().map(|s| Loop { points: s.points, layers: vec![s.layer], chords: s.chords }));
    let mut graph = Graph::new(open);
    let gaps = graph.close_gaps();
    sketch.left_out.add_many("gap", "narrower than any cut, closed", gaps);
    let loose = graph.prune();
    joined.strays = graph.strays(&loose);
    meant_to_meet(&joined.strays, &graph, &loose, sketch)?;
    let centre_lines = joined.strays.iter().filter(|s| s.centre_line).count();
    sketch.left_out.add_many("centre line", "", centre_lines);
    sketch.left_out.add_many("open line", "not closed", joined.strays.len() - centre_lines);
    joined.loops.extend(graph.loops(sketch)?);
    Ok(joined)
}

/// A stroke without points on one another; closed where its ends meet. `None` where nothing is left.
fn cleaned(mut stroke: Stroke) -> Option<Stroke> {
    let mut points: Vec<(Spot, f64)> = Vec::with_capacity(stroke.points.len());
    for point in stroke.points {
        match points.last_mut() {
            // The edge between two points in one place is none; what leaves the second stays.
            Some(last) if apart(last.0, point.0) < SHORT_IN => last.1 = point.1,
            _ => points.push(point),
        }
    }
    if points.len() > 1 && apart(points[0].0, points[points.len() - 1].0) < SAME_IN && length_at_least(&points) {
        points.pop();
        stroke.closed = true;
    }
    stroke.points = points;
    let enough = if stroke.closed && stroke.points.iter().all(|p| p.1 == 0.0) { 3 } else { 2 };
    if stroke.closed && stroke.points.len() < enough {
        stroke.closed = false;
    }
    (stroke.points.len() > 1).then_some(stroke)
}

fn length_at_least(points: &[(Spot, f64)]) -> bool {
    points.windows(2).map(|p| Edge { from: p[0].0, to: p[1].0, bulge: p[0].1 }.length()).sum::<f64>() > 10.0 * SAME_IN
}

/// Drops edges that lie on another all along, and closed contours that lie on one; how many.
fn drop_repeats(strokes: &mut Vec<Stroke>) -> usize {
    let edges: Vec<(usize, Edge)> =
        strokes.iter().enumerate().flat_map(|(i, s)| edges_of(s).map(move |e| (i, e))).collect();
    let Some(index) = boxes(&edges) else { return 0 };
    let lengths: Vec<f64> = strokes.iter().map(length_of).collect();
    let counts: Vec<usize> = strokes.iter().map(|s| edges_of(s).count()).collect();
    let mut gone = vec![false; strokes.len()];
    let mut first = 0;
    for i in 0..strokes.len() {
        let own = &edges[first..first + counts[i]];
        first += counts[i];
        // All of its edges lie on edges of one stroke that is longer, or as long and stands before it.
        let mut on: Option<Vec<usize>> = None;
        for (_, edge) in own {
            let bounds = edge.bounds();
            let near =
                index.query(bounds[0] - TWICE_IN, bounds[2] - TWICE_IN, bounds[1] + TWICE_IN, bounds[3] + TWICE_IN);
            let mut covers: Vec<usize> = near
                .into_iter()
                .map(|k| edges[k])
                .filter(|(j, _)| *j != i && !gone[*j])
                .filter(|(j, _)| lengths[*j] > lengths[i] + TWICE_IN || (lengths[*j] > lengths[i] - TWICE_IN && *j < i))
                .filter(|(_, other)| lies_on(edge, other))
                .map(|(j, _)| j)
                .collect();
            covers.order();
            covers.dedup();
            let both = match on.take() {
                Some(before) => before.into_iter().filter(|j| covers.contains(j)).collect(),
                None => covers,
            };
            let none = both.is_empty();
            on = Some(both);
            if none {
                break;
            }
        }
        gone[i] = on.is_some_and(|on| !on.is_empty());
    }
    let mut i = 0;
    strokes.retain(|_| {
        i += 1;
        !gone[i - 1]
    });
    gone.iter().filter(|g| **g).count()
}

fn boxes(edges: &[(usize, Edge)]) -> Option<StaticAABB2DIndex<f64>> {
    let mut builder = StaticAABB2DIndexBuilder::new(edges.len());
    for (_, edge) in edges {
        let [left, right, bottom, top] = edge.bounds();
        builder.add(left, bottom, right, top);
    }
    builder.build().ok()
}

fn lies_on(edge: &Edge, other: &Edge) -> bool {
    [0.0, 0.5, 1.0, 0.25, 0.75].iter().all(|t| off(other, edge.at(*t)) <= TWICE_IN)
}

/// Distance of a place to an edge.
fn off(edge: &Edge, p: Spot) -> f64 {
    let ends = apart(p, edge.from).min(apart(p, edge.to));
    if let Some(bow) = edge.bow() {
        let angle = (p.1 - bow.centre.1).atan2(p.0 - bow.centre.0);
        let ahead = if bow.sweep > 0.0 { angle - bow.start } else { bow.start - angle };
        let within = ahead.rem_euclid(std::f64::consts::TAU) <= bow.sweep.abs();
        if within { ends.min((apart(p, bow.centre) - bow.radius).abs()) } else { ends }
    } else {
        let (dx, dy) = (edge.to.0 - edge.from.0, edge.to.1 - edge.from.1);
        let t = ((p.0 - edge.from.0) * dx + (p.1 - edge.from.1) * dy) / (dx * dx + dy * dy).max(1e-30);
        apart(p, edge.at(t.clamp(0.0, 1.0)))
    }
}

/// Open strokes between nodes.
struct Graph {
    strokes: Vec<Stroke>,
    nodes: Vec<Spot>,
    ends: Vec<[usize; 2]>,
}

impl Graph {
    fn new(strokes: Vec<Stroke>) -> Self {
        let mut nodes: Vec<Spot> = Vec::new();
        let mut cells: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
        #[allow(clippy::cast_possible_truncation)] // A place far off the sheet shares the last cell.
        let cell = |p: Spot| ((p.0 / SAME_IN).floor() as i64, (p.1 / SAME_IN).floor() as i64);
        let mut node = |p: Spot| {
            let (x, y) = cell(p);
            for (i, j) in (-1..=1).flat_map(|i| (-1..=1).map(move |j| (i, j))) {
                let near = cells.get(&(x.saturating_add(i), y.saturating_add(j)));
                if let Some(found) = near.into_iter().flatten().find(|n| apart(nodes[**n], p) <= SAME_IN) {
                    return *found;
                }
            }
            nodes.push(p);
            cells.entry((x, y)).or_default().push(nodes.len() - 1);
            nodes.len() - 1
        };
        let ends = strokes.iter().map(|s| [node(s.points[0].0), node(s.points[s.points.len() - 1].0)]).collect();
        Self { strokes, nodes, ends }
    }

    fn degrees(&self) -> Vec<usize> {
        let mut degrees = vec![0; self.nodes.len()];
        self.ends.iter().flatten().for_each(|n| degrees[*n] += 1);
        degrees
    }

    /// Joins open ends nearer than the gap that is closed, the nearest first; how many.
    fn close_gaps(&mut self) -> usize {
        let degrees = self.degrees();
        let mut free: Vec<usize> = (0..self.nodes.len()).filter(|n| degrees[*n] == 1).collect();
        free.order_by(|a, b| self.nodes[*a].0.total_cmp(&self.nodes[*b].0));
        let mut pairs = Vec::new();
        for (i, &a) in free.iter().enumerate() {
            for &b in &free[i + 1..] {
                if self.nodes[b].0 - self.nodes[a].0 > GAP_IN {
                    break;
                }
                let gap = apart(self.nodes[a], self.nodes[b]);
                if gap <= GAP_IN * (1.0 + 1e-9) && !self.is_speck(a, b) {
                    pairs.push((gap, a, b));
                }
            }
        }
        pairs.order_by(|a, b| a.0.total_cmp(&b.0));
        let mut taken = vec![false; self.nodes.len()];
        let mut other: HashMap<usize, usize> = HashMap::new();
        for (_, a, b) in pairs {
            if !taken[a] && !taken[b] {
                (taken[a], taken[b]) = (true, true);
                other.insert(b, a);
            }
        }
        for end in self.ends.iter_mut().flatten() {
            *end = other.get(end).copied().unwrap_or(*end);
        }
        other.len()
    }

    /// Whether two open ends are those of one stroke that is no longer than a gap: closed, it would hold nothing.
    fn is_speck(&self, a: usize, b: usize) -> bool {
        let both = |ends: &&[usize; 2]| **ends == [a, b] || **ends == [b, a];
        let stroke = self.ends.iter().position(|ends| both(&ends));
        stroke.is_some_and(|i| length_of(&self.strokes[i]) <= 2.0 * GAP_IN)
    }

    /// Strokes that hang on an open end, or on such strokes.
    fn prune(&self) -> Vec<bool> {
        let mut degrees = self.degrees();
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); self.nodes.len()];
        for (i, ends) in self.ends.iter().enumerate() {
            ends.iter().for_each(|n| at[*n].push(i));
        }
        let mut loose = vec![false; self.strokes.len()];
        let mut open: Vec<usize> = (0..self.nodes.len()).filter(|n| degrees[*n] == 1).collect();
        while let Some(node) = open.pop() {
            let Some(&stroke) = at[node].iter().find(|s| !loose[**s]) else { continue };
            loose[stroke] = true;
            for end in self.ends[stroke] {
                degrees[end] -= 1;
                if degrees[end] == 1 {
                    open.push(end);
                }
            }
        }
        loose
    }

    /// The loose strokes, those that hang together as one.
    fn strays(&self, loose: &[bool]) -> Vec<Stray> {
        let mut group: Vec<usize> = (0..self.nodes.len()).collect();
        let some = |i: &usize| loose[*i];
        for i in (0..self.strokes.len()).filter(some) {
            let [a, b] = self.ends[i].map(|n| root(&mut group, n));
            group[b] = a;
        }
        let mut degrees = vec![0; self.nodes.len()];
        (0..self.strokes.len()).filter(some).flat_map(|i| self.ends[i]).for_each(|n| degrees[n] += 1);
        let mut strays: BTreeMap<usize, Stray> = BTreeMap::new();
        for i in (0..self.strokes.len()).filter(some) {
            let key = root(&mut group, self.ends[i][0]);
            let none = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
            let first = !strays.contains_key(&key);
            let stray = strays.entry(key).or_insert(Stray {
                ends: Vec::new(),
                bounds: none,
                straight: true,
                runs: Vec::new(),
                layers: Vec::new(),
                centre_line: true,
            });
            stray.runs.push(edges_of(&self.strokes[i]).collect());
            stray.layers.push(self.strokes[i].layer);
            stray.centre_line &= self.strokes[i].centre_line;
            for edge in edges_of(&self.strokes[i]) {
                let b = edge.bounds();
                let s = stray.bounds;
                stray.bounds = [s[0].min(b[0]), s[1].max(b[1]), s[2].min(b[2]), s[3].max(b[3])];
            }
            let one_line = self.strokes[i].points.len() == 2 && self.strokes[i].points[0].1 == 0.0;
            stray.straight &= first && one_line;
            let [a, b] = self.ends[i];
            stray.ends.extend([a, b].iter().filter(|n| degrees[**n] == 1).map(|n| self.nodes[*n]));
        }
        strays.into_values().collect()
    }

    /// The closed contours of what is not loose.
    fn loops(&self, sketch: &Sketch) -> Result<Vec<Loop>, Fault> {
        let loose = self.prune();
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); self.nodes.len()];
        for (i, ends) in self.ends.iter().enumerate().filter(|(i, _)| !loose[*i]) {
            ends.iter().for_each(|n| at[*n].push(i));
        }
        if let Some(node) = at.iter().position(|strokes| strokes.len() > 2) {
            let layers: Vec<&str> = at[node].iter().map(|s| sketch.layers[self.strokes[*s].layer].as_str()).collect();
            return Err((
                format!("{} lines meet at {}, on {}", at[node].len(), placed(self.nodes[node], sketch), named(&layers)),
                "draw each contour as one closed line; put lines that are not cut on a layer of their own, and name the \
                 other with the option for a layer"
                    .into(),
            ));
        }
        let mut used = vec![false; self.strokes.len()];
        let mut loops = Vec::new();
        for start in 0..self.strokes.len() {
            if loose[start] || used[start] {
                continue;
            }
            let (mut points, mut layers, mut chords) = (Vec::new(), Vec::new(), false);
            let (mut stroke, mut from) = (start, self.ends[start][0]);
            while !used[stroke] {
                used[stroke] = true;
                chords |= self.strokes[stroke].chords;
                let forward = self.ends[stroke][0] == from;
                points.extend(along(&self.strokes[stroke], forward));
                layers.push(self.strokes[stroke].layer);
                from = self.ends[stroke][usize::from(forward)];
                let Some(next) = at[from].iter().find(|s| !used[**s]) else { break };
                stroke = *next;
            }
            layers.order();
            layers.dedup();
            loops.push(Loop { points, layers, chords });
        }
        Ok(loops)
    }
}

/// The points of a stroke but its last, either way.
fn along(stroke: &Stroke, forward: bool) -> Vec<(Spot, f64)> {
    let n = stroke.points.len();
    if forward {
        return stroke.points[..n - 1].to_vec();
    }
    (1..n).rev().map(|i| (stroke.points[i].0, -stroke.points[i - 1].1)).collect()
}

/// A place in the drawing's own unit.
pub(super) fn placed(at: Spot, sketch: &Sketch) -> String {
    let own = |v: f64| {
        let text = format!("{v:.3}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        if text == "-0" { "0".to_owned() } else { text.to_owned() }
    };
    let up = if sketch.down { -1.0 } else { 1.0 };
    format!("({}, {})", own(at.0 / sketch.scale + sketch.origin.0), own(up * at.1 / sketch.scale + sketch.origin.1))
}

/// Layers by name.
pub(super) fn named(layers: &[&str]) -> String {
    let mut layers: Vec<String> = layers.iter().map(|l| format!("`{l}`")).collect();
    layers.order();
    layers.dedup();
    let word = if layers.len() == 1 { "layer" } else { "layers" };
    format!("{word} {}", layers.join(", "))
}

/// Refuses open ends that were meant to meet: near to one another, of a run that is long beside the gap.
fn meant_to_meet(strays: &[Stray], graph: &Graph, loose: &[bool], sketch: &Sketch) -> Result<(), Fault> {
    let mut ends: Vec<(Spot, usize)> =
        strays.iter().enumerate().flat_map(|(i, s)| s.ends.iter().map(move |e| (*e, i))).collect();
    ends.order_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let total: f64 = graph.strokes.iter().zip(loose).filter(|(_, l)| **l).map(|(s, _)| length_of(s)).sum();
    let mut nearest: Option<(f64, Spot, Spot)> = None;
    for (i, &(a, of_a)) in ends.iter().enumerate() {
        for &(b, of_b) in &ends[i + 1..] {
            if b.0 - a.0 > NEAR_IN {
                break;
            }
            let gap = apart(a, b);
            let straight =
                of_a != of_b && strays[of_a].straight && strays[of_b].straight && in_line(strays, of_a, of_b);
            let size = |s: &Stray| (s.bounds[1] - s.bounds[0]).max(s.bounds[3] - s.bounds[2]);
            let long = size(&strays[of_a]).min(size(&strays[of_b])).min(total) >= LONG * gap;
            if gap <= NEAR_IN && long && !straight && nearest.is_none_or(|(least, ..)| gap < least) {
                nearest = Some((gap, a, b));
            }
        }
    }
    match nearest {
        Some((gap, a, b)) => Err(gap_fault(gap, a, b, sketch)),
        None => Ok(()),
    }
}

/// Whether two straight strays are dashes of one line.
fn in_line(strays: &[Stray], a: usize, b: usize) -> bool {
    let dash = |s: &Stray| match s.ends[..] {
        [from, to] => Some((to.1 - from.1).atan2(to.0 - from.0)),
        _ => None,
    };
    let (Some(a), Some(b)) = (dash(&strays[a]), dash(&strays[b])) else { return false };
    (a - b).sin().abs() < 0.02
}

/// The fault of a contour that is open.
pub(super) fn gap_fault(gap: f64, a: Spot, b: Spot, sketch: &Sketch) -> Fault {
    let (first, second) = if a <= b { (a, b) } else { (b, a) };
    let inches = format!("{gap:.4}");
    let inches = inches.trim_end_matches('0').trim_end_matches('.');
    (
        format!(
            "the outline is open: its ends at {} and {} lie {inches} in apart",
            placed(first, sketch),
            placed(second, sketch)
        ),
        "join the two ends: gaps up to 0.005 in are closed".into(),
    )
}

/// What a node's group is known by.
fn root(group: &mut [usize], mut n: usize) -> usize {
    while group[n] != n {
        group[n] = group[group[n]];
        n = group[n];
    }
    n
}
