//! Necks: where the steel between two places of an outline is narrow, and each part that hangs on it is longer than
//! half as wide as the neck, and longer than an ear for a hook (house assumption: a shorter one is a step in the edge).
//!
//! A neck begins where the outline turns in, at a corner or along a hollow, and ends square on an edge or where the
//! outline turns in again: of all such lines through the steel the shortest counts.

use super::contour::{Contour, Point};
use super::cut::HARDWARE_M;
use super::edge::{Edge, Spot, apart, box_gap};
use crate::quantity::{Length, Measure};

/// A corner that turns in by less than this is straight, rad.
const STRAIGHT_RAD: f64 = 1e-6;
/// By how much a line may miss being square where it begins, rad: a drawing rounds its points.
const SQUARE_RAD: f64 = 0.02;
/// Places that are looked at along a hollow arc, less one.
const ALONG: usize = 16;
/// Places that are looked at along all of them together, or one each.
const ALONG_ALL: usize = 4000;
/// Ends nearer than this to a corner are that corner, m.
const CORNER_M: f64 = 1e-6;
/// The most lines that are looked at; the next shortest is taken for a neck unseen.
const LOOKED_AT: usize = 4000;

/// Rounds of drawing a line in.
const SETTLING: u32 = 30;

/// The narrowest neck of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Neck {
    /// One end.
    pub from: Point,
    /// The other.
    pub to: Point,
    /// How wide the steel is there.
    pub width: Length,
}

/// A place where an outline turns in.
struct Inward {
    /// The edge it lies on; that which begins at it, of a corner.
    edge: usize,
    is_corner: bool,
    spot: Spot,
    /// Unit directions along the outline, away from it.
    away: [Spot; 2],
    slack: f64,
}

/// A line through the steel.
struct Line {
    width: f64,
    from: usize,
    to: Spot,
    /// The edge it ends on; that which begins at its end, of a corner.
    edge: usize,
    is_corner: bool,
}

/// The narrowest neck below a width, m.
pub(super) fn narrowest(contour: &Contour, below: f64) -> Option<Neck> {
    let edges: Vec<Edge> = contour.edges().collect();
    let inward = inward(&edges);
    let (lines, unseen) = lines(&edges, &inward, below);
    let boxed: Vec<(Edge, [f64; 4])> = edges.iter().map(|e| (*e, e.bounds())).collect();
    let is_neck = |line: &&Line| {
        let from = &inward[line.from];
        is_clear(contour, &boxed, from.spot, line.to)
            && least_part(&edges, from, line) > (0.5 * line.width).max(HARDWARE_M)
    };
    let found = lines.iter().take(LOOKED_AT).find(is_neck);
    let left = || lines.last().filter(|_| unseen);
    found.or_else(left).map(|line| settled(&edges, &inward[line.from], line))
}

/// The line drawn in to where it is shortest: along a hollow only some places were looked at.
fn settled(edges: &[Edge], from: &Inward, line: &Line) -> Neck {
    let (mut a, mut b) = (from.spot, line.to);
    for _ in 0..SETTLING {
        if !from.is_corner {
            a = edges[from.edge].nearest(b);
        }
        if !line.is_corner {
            b = edges[line.edge].nearest(a);
        }
    }
    Neck { from: Point::of(a), to: Point::of(b), width: Length::from_si(apart(a, b)) }
}

fn unit(v: Spot) -> Spot {
    let length = v.0.hypot(v.1);
    (v.0 / length, v.1 / length)
}

fn dot(a: Spot, b: Spot) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

fn cross(a: Spot, b: Spot) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

fn less(a: Spot, b: Spot) -> Spot {
    (a.0 - b.0, a.1 - b.1)
}

/// Corners where the outline turns in, and places along its hollow arcs.
fn inward(edges: &[Edge]) -> Vec<Inward> {
    let mut found = Vec::new();
    let hollows = edges.iter().filter(|e| e.bend().is_some_and(|(_, sweep)| sweep < 0.0)).count();
    let along = (ALONG_ALL / hollows.max(1)).clamp(2, ALONG);
    for (i, edge) in edges.iter().enumerate() {
        let before = &edges[(i + edges.len() - 1) % edges.len()];
        let (a, b) = (unit(before.rate(1.0)), unit(edge.rate(0.0)));
        if cross(a, b).atan2(dot(a, b)) < -STRAIGHT_RAD {
            let away = [b, (-a.0, -a.1)];
            found.push(Inward { edge: i, is_corner: true, spot: edge.at(0.0), away, slack: SQUARE_RAD });
        }
        if let Some((_, sweep)) = edge.bend()
            && sweep < 0.0
        {
            let slack = SQUARE_RAD + 0.5 * sweep.abs() / along as f64;
            found.extend((1..along).map(|k| {
                let t = k as f64 / along as f64;
                let ahead = unit(edge.rate(t));
                let away = [ahead, (-ahead.0, -ahead.1)];
                Inward { edge: i, is_corner: false, spot: edge.at(t), away, slack }
            }));
        }
    }
    found
}

impl Inward {
    /// Whether neither way along the outline leads nearer to a place: a line to it begins square.
    fn faces(&self, p: Spot) -> bool {
        let toward = unit(less(p, self.spot));
        self.away.iter().all(|away| dot(toward, *away) <= self.slack)
    }
}

/// Lines that begin and end square, from the shortest; and whether there are more than are kept.
fn lines(edges: &[Edge], inward: &[Inward], below: f64) -> (Vec<Line>, bool) {
    let n = edges.len();
    let mut corners: Vec<Option<usize>> = vec![None; n];
    for (index, place) in inward.iter().enumerate().filter(|(_, place)| place.is_corner) {
        corners[place.edge] = Some(index);
    }
    let (mut lines, mut unseen) = (Vec::new(), false);
    for (index, from) in inward.iter().enumerate() {
        let own = |j: usize| j == from.edge || (from.is_corner && (j + 1) % n == from.edge);
        for j in (0..n).filter(|j| !own(*j)) {
            let to = edges[j].nearest(from.spot);
            let width = apart(from.spot, to);
            if width >= below || width < CORNER_M || !from.faces(to) {
                continue;
            }
            let Some((edge, is_corner)) = ends(edges, &corners, inward, (j, to), from.spot) else { continue };
            lines.push(Line { width, from: index, to, edge, is_corner });
            if lines.len() > 2 * LOOKED_AT {
                shortest(&mut lines);
                unseen = true;
            }
        }
    }
    unseen |= lines.len() > LOOKED_AT;
    shortest(&mut lines);
    (lines, unseen)
}

/// Sorted, and no more than one beyond those that are looked at.
fn shortest(lines: &mut Vec<Line>) {
    lines.sort_by(|a, b| a.width.total_cmp(&b.width));
    lines.truncate(LOOKED_AT + 1);
}

/// Where a line ends, if it does so square and from within the steel: the edge, and whether at its first corner.
fn ends(
    edges: &[Edge],
    corners: &[Option<usize>],
    inward: &[Inward],
    (j, to): (usize, Spot),
    from: Spot,
) -> Option<(usize, bool)> {
    let corner = if apart(to, edges[j].at(0.0)) < CORNER_M {
        Some(j)
    } else if apart(to, edges[j].at(1.0)) < CORNER_M {
        Some((j + 1) % edges.len())
    } else {
        None
    };
    match corner {
        Some(vertex) => corners[vertex].filter(|&index| inward[index].faces(from)).map(|_| (vertex, true)),
        // Steel lies to the left of an outline.
        None => (cross(edges[j].direction_at(to), less(from, to)) > 0.0).then_some((j, false)),
    }
}

/// Whether a line lies in the steel all the way, holes not regarded.
fn is_clear(contour: &Contour, edges: &[(Edge, [f64; 4])], from: Spot, to: Spot) -> bool {
    let line = Edge::new(from, to, 0.0);
    let bounds = line.bounds();
    let near = |(_, of): &&(Edge, [f64; 4])| box_gap(bounds, *of) < CORNER_M;
    contour.contains(line.at(0.5)) && edges.iter().filter(near).all(|(e, _)| e.meets(&line, &[from, to]).is_none())
}

/// How far the shorter of the two parts that a line divides reaches from it.
fn least_part(edges: &[Edge], from: &Inward, line: &Line) -> f64 {
    let chord = Edge::new(from.spot, line.to, 0.0);
    let (begin, end) = ((from.edge, from.is_corner), (line.edge, line.is_corner));
    reach(edges, &chord, begin, end.0).min(reach(edges, &chord, end, begin.0))
}

/// How far the edges from one to before another reach from a line. Of an edge that the line begins on only the far
/// corner counts, unless it begins at its corner: the rest belongs to both parts.
fn reach(edges: &[Edge], line: &Edge, (first, is_corner): (usize, bool), end: usize) -> f64 {
    let n = edges.len();
    let mut most: f64 = 0.0;
    for k in (first..first + n).take_while(|k| k % n != end) {
        let edge = &edges[k % n];
        let steps = if edge.bend().is_some() { 4 } else { 1 };
        let begin = if k == first && !is_corner { steps } else { 0 };
        let far = (begin..=steps).map(|step| line.distance(edge.at(f64::from(step) / f64::from(steps))));
        most = far.fold(most, f64::max);
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::contour::plain;
    use crate::quantity::unit;

    fn contour(points: &[(f64, f64, f64)]) -> Contour {
        let inches = |v: f64| unit::INCH.of(v).si();
        plain::contour(&points.iter().map(|&(x, y, bulge)| (inches(x), inches(y), bulge)).collect::<Vec<_>>())
    }

    fn width(points: &[(f64, f64, f64)]) -> Option<f64> {
        narrowest(&contour(points), f64::INFINITY).map(|neck| unit::INCH.value(neck.width))
    }

    fn is(found: Option<f64>, expected: f64, share: f64) {
        let found = found.unwrap_or(f64::NAN);
        assert!((found / expected - 1.0).abs() < share, "{found} {expected}");
    }

    fn straight(points: &[(f64, f64)]) -> Option<f64> {
        width(&points.iter().map(|&(x, y)| (x, y, 0.0)).collect::<Vec<_>>())
    }

    #[test]
    fn a_plate_that_turns_nowhere_in_has_none() {
        assert_eq!(straight(&[(0.0, 0.0), (4.0, 0.0), (4.0, 9.0), (0.0, 9.0)]), None);
        assert_eq!(width(&[(0.0, 0.0, 1.0), (4.0, 0.0, 1.0)]), None);
    }

    #[test]
    fn two_heads_on_a_bar_are_as_narrow_as_the_bar() {
        let bell = [
            (0.0, 0.0),
            (8.0, 0.0),
            (8.0, 8.0),
            (5.0, 8.0),
            (5.0, 14.0),
            (8.0, 14.0),
            (8.0, 22.0),
            (0.0, 22.0),
            (0.0, 14.0),
            (3.0, 14.0),
            (3.0, 8.0),
            (0.0, 8.0),
        ];
        is(straight(&bell), 2.0, 1e-9);
    }

    #[test]
    fn an_arm_of_an_l_counts_by_its_own_width_where_it_is_longer_than_half_of_it() {
        let l = |arm: f64| straight(&[(0.0, 0.0), (12.0, 0.0), (12.0, arm), (arm, arm), (arm, 12.0), (0.0, 12.0)]);
        is(l(4.0), 4.0, 1e-9);
        // An arm of 3 in, 9 in wide, is a step in the edge.
        assert_eq!(l(9.0), None);
    }

    #[test]
    fn an_ear_for_a_hook_is_no_neck_and_a_long_one_is() {
        let eared = |tall: f64| {
            straight(&[
                (0.0, 0.0),
                (12.0, 0.0),
                (12.0, 12.0),
                (6.5, 12.0),
                (6.5, 12.0 + tall),
                (5.5, 12.0 + tall),
                (5.5, 12.0),
                (0.0, 12.0),
            ])
        };
        assert_eq!(eared(1.4), None);
        is(eared(1.6), 1.0, 1e-9);
    }

    #[test]
    fn a_waist_of_two_hollows_is_found_between_their_deepest_places() {
        // Quarter-inch steps would miss nothing: the hollows are arcs of 90 degrees that leave 12 − 2·2.071 in.
        let hollow = -(std::f64::consts::PI / 8.0).tan();
        let waist = [(0.0, 0.0, 0.0), (12.0, 0.0, hollow), (12.0, 10.0, 0.0), (0.0, 10.0, hollow)];
        is(width(&waist), 12.0 - 2.0 * 5.0 * (2.0_f64.sqrt() - 1.0), 1e-6);
        // Off centre, the deepest places lie between those that are looked at.
        let skew = [(0.0, 0.0, 0.0), (12.0, 0.0, hollow), (12.0, 10.0, 0.0), (0.0, 11.3, hollow)];
        let skewed = width(&skew).unwrap();
        let dense = [(12.0, 0.0, hollow), (12.0, 10.0, 0.0), (0.0, 11.3, hollow), (0.0, 0.0, 0.0)];
        let edges: Vec<Edge> = contour(&dense).edges().collect();
        let places = |edge: &Edge| (0..=2000).map(|i| edge.at(f64::from(i) / 2000.0)).collect::<Vec<_>>();
        let (right, left) = (places(&edges[0]), places(&edges[2]));
        let least = right.iter().flat_map(|a| left.iter().map(|b| apart(*a, *b))).fold(f64::INFINITY, f64::min);
        is(Some(skewed), unit::INCH.value(Length::from_si(least)), 1e-5);
    }

    #[test]
    fn a_round_head_on_a_neck_is_as_narrow_as_the_neck() {
        let popper = [
            (3.0, 0.0, 0.0),
            (9.0, 0.0, 0.0),
            (9.0, 10.0, 0.0),
            (7.5, 12.0, 0.0),
            (7.5, 16.0, 2.5),
            (4.5, 16.0, 0.0),
            (4.5, 12.0, 0.0),
            (3.0, 10.0, 0.0),
        ];
        is(width(&popper), 3.0, 1e-6);
    }

    #[test]
    fn a_neck_of_many_short_edges_is_that_of_its_arcs() {
        // Hollows 3 in deep and 10 in tall on both sides of a plate 12 in wide.
        let hollow = |x: f64, depth: f64| {
            (0..=60).map(move |i| {
                let (sin, cos) = (std::f64::consts::PI * (f64::from(i) / 60.0 - 0.5)).sin_cos();
                (x + depth * cos, 10.0 + 5.0 * sin)
            })
        };
        let mut points = vec![(0.0, 0.0), (12.0, 0.0)];
        points.extend(hollow(12.0, -3.0));
        points.extend([(12.0, 20.0), (0.0, 20.0)]);
        points.extend(hollow(0.0, 3.0).rev());
        is(straight(&points), 6.0, 1e-3);
    }
}
