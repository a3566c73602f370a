//! One edge of a contour, straight or an arc, in plain metres: places on it, its box, and how it lies to others.
//!
//! Crossings and distances are those of the lines and circles themselves; no arc is cut into straight pieces,
//! but for [`Edge::pieces`], which serve the convex hull.

use std::f64::consts::{FRAC_PI_2, TAU};

/// A place in metres, right and up.
pub(super) type Spot = (f64, f64);

/// A bulge below this is a straight edge: over the largest plate its arc rises by 1.5 µm.
const STRAIGHT: f64 = 1e-6;
/// Edges nearer than this touch, m: far below any cut, far above rounding.
const TOUCH_M: f64 = 1e-8;
/// Within this of a shared corner edges may meet, m.
const CORNER_M: f64 = 1e-6;
/// Straight pieces that an arc is cut into where the convex hull is looked for.
const PIECES: u32 = 48;

/// An edge, ready to be asked: a straight one or an arc.
#[derive(Debug, Clone, Copy)]
pub(super) struct Edge {
    from: Spot,
    to: Spot,
    arc: Option<Arc>,
}

#[derive(Debug, Clone, Copy)]
struct Arc {
    centre: Spot,
    radius: f64,
    /// Where it begins, rad.
    angle: f64,
    /// How far it turns, rad, positive counterclockwise.
    sweep: f64,
}

impl Arc {
    fn at(&self, angle: f64) -> Spot {
        let (sin, cos) = angle.sin_cos();
        (self.centre.0 + self.radius * cos, self.centre.1 + self.radius * sin)
    }

    /// Whether a direction from the centre meets the arc; its ends count.
    fn holds(&self, angle: f64) -> bool {
        let along = ((angle - self.angle) * self.sweep.signum()).rem_euclid(TAU);
        let slack = TOUCH_M / self.radius;
        along <= self.sweep.abs() + slack || along >= TAU - slack
    }

    fn direction(&self, p: Spot) -> f64 {
        (p.1 - self.centre.1).atan2(p.0 - self.centre.0)
    }
}

/// Distance between two places.
pub(super) fn apart(a: Spot, b: Spot) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// Gap between two boxes of left, right, bottom and top; 0 where they overlap.
pub(super) fn box_gap(a: [f64; 4], b: [f64; 4]) -> f64 {
    let across = (b[0] - a[1]).max(a[0] - b[1]).max(0.0);
    let up = (b[2] - a[3]).max(a[2] - b[3]).max(0.0);
    across.hypot(up)
}

/// The box around boxes.
pub(super) fn box_around(boxes: impl Iterator<Item = [f64; 4]>) -> [f64; 4] {
    let none = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
    boxes.fold(none, |b, c| [b[0].min(c[0]), b[1].max(c[1]), b[2].min(c[2]), b[3].max(c[3])])
}

impl Edge {
    /// The edge between two places with a bulge, the tangent of a quarter of its included angle.
    pub fn new(from: Spot, to: Spot, bulge: f64) -> Self {
        if bulge.abs() < STRAIGHT {
            return Self { from, to, arc: None };
        }
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        // The centre lies across the chord at (1 − b²)/(4b) of its length.
        let offset = (1.0 - bulge * bulge) / (4.0 * bulge);
        let centre = (from.0 + 0.5 * dx - offset * dy, from.1 + 0.5 * dy + offset * dx);
        let angle = (from.1 - centre.1).atan2(from.0 - centre.0);
        Self { from, to, arc: Some(Arc { centre, radius: apart(from, centre), angle, sweep: 4.0 * bulge.atan() }) }
    }

    /// The place at a share of the way, 0 to 1.
    pub fn at(&self, t: f64) -> Spot {
        match self.arc {
            None => (self.from.0 + t * (self.to.0 - self.from.0), self.from.1 + t * (self.to.1 - self.from.1)),
            Some(arc) => arc.at(arc.angle + t * arc.sweep),
        }
    }

    /// The derivative by t.
    pub fn rate(&self, t: f64) -> Spot {
        match self.arc {
            None => (self.to.0 - self.from.0, self.to.1 - self.from.1),
            Some(Arc { radius, angle, sweep, .. }) => {
                let (sin, cos) = (angle + t * sweep).sin_cos();
                (-radius * sweep * sin, radius * sweep * cos)
            }
        }
    }

    /// The direction along it at a place on it, of no certain length.
    pub fn direction_at(&self, p: Spot) -> Spot {
        match self.arc {
            None => self.rate(0.0),
            Some(arc) => {
                let turn = arc.sweep.signum();
                ((arc.centre.1 - p.1) * turn, (p.0 - arc.centre.0) * turn)
            }
        }
    }

    pub fn length(&self) -> f64 {
        self.arc.map_or_else(|| apart(self.from, self.to), |arc| arc.radius * arc.sweep.abs())
    }

    /// Radius and sweep of an arc.
    pub fn bend(&self) -> Option<(f64, f64)> {
        self.arc.map(|arc| (arc.radius, arc.sweep))
    }

    /// Whether this arc goes on along the circle of the one before it.
    pub fn continues(&self, before: &Self) -> bool {
        match (self.arc, before.arc) {
            (Some(a), Some(b)) => {
                let near = 1e-6 * a.radius;
                apart(a.centre, b.centre) < near && (a.radius - b.radius).abs() < near && a.sweep * b.sweep > 0.0
            }
            _ => false,
        }
    }

    /// Twice the area that the edge adds as seen from the origin, `∮ x dy − y dx`, by its closed form.
    pub fn swept(&self) -> f64 {
        let chord = self.from.0 * self.to.1 - self.to.0 * self.from.1;
        chord + self.arc.map_or(0.0, |arc| arc.radius * arc.radius * (arc.sweep - arc.sweep.sin()))
    }

    pub fn pieces(&self) -> u32 {
        if self.arc.is_some() { PIECES } else { 1 }
    }

    /// Left, right, bottom and top, an arc's own extremes included.
    pub fn bounds(&self) -> [f64; 4] {
        let spots = [self.from, self.to].into_iter().chain(self.turning_points());
        box_around(spots.map(|p| [p.0, p.0, p.1, p.1]))
    }

    /// Where an arc is farthest right, up, left or down.
    fn turning_points(&self) -> impl Iterator<Item = Spot> + '_ {
        let quarters = (0..4).map(|quarter| f64::from(quarter) * FRAC_PI_2);
        self.arc
            .into_iter()
            .flat_map(move |arc| quarters.clone().filter(move |a| arc.holds(*a)).map(move |a| arc.at(a)))
    }

    /// Whether a level ray from a place to the right crosses the edge an odd number of times. An arc counts as
    /// its chord, and once more for a place between chord and arc. A place on the line of the chord is taken to
    /// lie a hair above it, so that both counts see it on the same side.
    pub fn crossed_by_ray(&self, p: Spot) -> bool {
        let (a, b) = (self.from, self.to);
        let side = (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0);
        let left = side > 0.0 || (side == 0.0 && b.0 > a.0);
        let chord = (a.1 > p.1) != (b.1 > p.1) && left == (b.1 > a.1);
        // Right of its chord lies a counterclockwise arc.
        let between = self.arc.is_some_and(|arc| apart(p, arc.centre) < arc.radius && left == (arc.sweep < 0.0));
        chord != between
    }

    /// The nearest place of the edge to another.
    pub fn nearest(&self, p: Spot) -> Spot {
        match self.arc {
            None => {
                let (dx, dy) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
                let along = ((p.0 - self.from.0) * dx + (p.1 - self.from.1) * dy) / (dx * dx + dy * dy);
                if along.is_finite() { self.at(along.clamp(0.0, 1.0)) } else { self.from }
            }
            Some(arc) if arc.holds(arc.direction(p)) => arc.at(arc.direction(p)),
            Some(_) if apart(p, self.from) <= apart(p, self.to) => self.from,
            Some(_) => self.to,
        }
    }

    pub fn distance(&self, p: Spot) -> f64 {
        apart(p, self.nearest(p))
    }

    fn touches(&self, p: Spot) -> bool {
        self.distance(p) <= TOUCH_M
    }

    /// Where two edges meet, but for the corners they share.
    pub fn meets(&self, other: &Self, shared: &[Spot]) -> Option<Spot> {
        let marks = |edge: &Self| [edge.from, edge.at(0.5), edge.to];
        let own = marks(self).into_iter().chain(self.toward(other)).filter(|p| other.touches(*p));
        let theirs = marks(other).into_iter().chain(other.toward(self)).filter(|p| self.touches(*p));
        let crossings = self.crossings(other).into_iter().flatten();
        own.chain(theirs).chain(crossings).find(|p| shared.iter().all(|s| apart(*p, *s) > CORNER_M))
    }

    /// Least distance between two edges, 0 where they meet, and the place of this edge where it is reached.
    pub fn gap(&self, other: &Self) -> (f64, Spot) {
        if let Some(at) = self.meets(other, &[]) {
            return (0.0, at);
        }
        let own = [self.from, self.to].into_iter().chain(self.toward(other));
        let theirs = [other.from, other.to].into_iter().chain(other.toward(self));
        let from_own = own.map(|p| (other.distance(p), p));
        let from_theirs = theirs.map(|p| (self.distance(p), self.nearest(p)));
        from_own.chain(from_theirs).fold((f64::INFINITY, self.from), |a, b| if b.0 < a.0 { b } else { a })
    }

    /// Places of this edge that may be nearest to another: on the line through the centres, or the foot of a centre.
    fn toward(&self, other: &Self) -> impl Iterator<Item = Spot> {
        let foot = other.arc.map(|arc| self.nearest(arc.centre));
        let across = self.arc.zip(other.arc).and_then(|(own, theirs)| {
            let angle = own.direction(theirs.centre) + std::f64::consts::PI;
            own.holds(angle).then(|| own.at(angle))
        });
        foot.into_iter().chain(across)
    }

    /// Where the edges cross as lines and circles do.
    fn crossings(&self, other: &Self) -> [Option<Spot>; 2] {
        let found = match (self.arc, other.arc) {
            (None, None) => [line_line(self, other), None],
            (None, Some(arc)) => line_circle(self, &arc),
            (Some(arc), None) => line_circle(other, &arc),
            (Some(a), Some(b)) => circle_circle(&a, &b),
        };
        found.map(|spot| spot.filter(|p| self.touches(*p) && other.touches(*p)))
    }
}

fn line_line(a: &Edge, b: &Edge) -> Option<Spot> {
    let (r, s) = (a.rate(0.0), b.rate(0.0));
    let cross = r.0 * s.1 - r.1 * s.0;
    let (dx, dy) = (b.from.0 - a.from.0, b.from.1 - a.from.1);
    // Parallel ones meet at their ends, which are looked at apart.
    (cross != 0.0).then(|| a.at((dx * s.1 - dy * s.0) / cross))
}

fn line_circle(line: &Edge, arc: &Arc) -> [Option<Spot>; 2] {
    let (dx, dy) = line.rate(0.0);
    let length = dx.hypot(dy);
    let (fx, fy) = (arc.centre.0 - line.from.0, arc.centre.1 - line.from.1);
    let along = (fx * dx + fy * dy) / length;
    let off = (fx * dy - fy * dx) / length;
    let half = (arc.radius - off) * (arc.radius + off);
    if half < 0.0 {
        return [None, None];
    }
    [along - half.sqrt(), along + half.sqrt()].map(|a| Some(line.at(a / length)))
}

fn circle_circle(a: &Arc, b: &Arc) -> [Option<Spot>; 2] {
    let (dx, dy) = (b.centre.0 - a.centre.0, b.centre.1 - a.centre.1);
    let d = dx.hypot(dy);
    if d == 0.0 {
        return [None, None];
    }
    let along = 0.5 * (d + (a.radius - b.radius) * (a.radius + b.radius) / d);
    let half = (a.radius - along) * (a.radius + along);
    if half < 0.0 {
        return [None, None];
    }
    let (ux, uy) = (dx / d, dy / d);
    [half.sqrt(), -half.sqrt()].map(|h| Some((a.centre.0 + along * ux - h * uy, a.centre.1 + along * uy + h * ux)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use arbtest::arbitrary::{Result, Unstructured};

    fn drawn(u: &mut Unstructured) -> Result<Edge> {
        let mut number = |most: i32| Ok(f64::from(u.int_in_range(-1000..=1000)?) * 1e-3 * f64::from(most));
        let (from, to) = ((number(1)?, number(1)?), (number(1)?, number(1)?));
        let bulge = number(3)?;
        Ok(Edge::new(from, to, if bulge > 1.5 { 0.0 } else { bulge }))
    }

    /// Least distance between many places of each.
    fn sampled(a: &Edge, b: &Edge, steps: u32) -> f64 {
        let spots = |e: &Edge| (0..=steps).map(|i| e.at(f64::from(i) / f64::from(steps))).collect::<Vec<_>>();
        let theirs = spots(b);
        spots(a).iter().flat_map(|p| theirs.iter().map(move |q| apart(*p, *q))).fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn the_gap_between_any_two_edges_is_that_of_many_places_on_them() {
        arbtest::arbtest(|u| {
            let (a, b) = (drawn(u)?, drawn(u)?);
            if a.length() < 1e-3 || b.length() < 1e-3 {
                return Ok(());
            }
            let steps = 200;
            let coarse = sampled(&a, &b, steps);
            let spacing = 0.5 * (a.length() + b.length()) / f64::from(steps);
            let (gap, at) = a.gap(&b);
            assert!(gap <= coarse + 1e-8 && gap >= coarse - spacing, "{gap} {coarse} {a:?} {b:?}");
            assert!(a.distance(at) < 1e-7 && (b.distance(at) - gap).abs() < 1e-7, "{at:?} {a:?} {b:?}");
            assert!((b.gap(&a).0 - gap).abs() < 1e-8, "{a:?} {b:?}");
            Ok(())
        })
        .budget_ms(1500);
    }

    #[test]
    fn the_box_of_an_edge_holds_all_its_places_and_no_more() {
        arbtest::arbtest(|u| {
            let edge = drawn(u)?;
            if edge.length() < 1e-3 {
                return Ok(());
            }
            let [left, right, bottom, top] = edge.bounds();
            let spots: Vec<Spot> = (0..=500).map(|i| edge.at(f64::from(i) / 500.0)).collect();
            let all = box_around(spots.iter().map(|p| [p.0, p.0, p.1, p.1]));
            let slack = edge.length() / 500.0;
            for (a, b) in [(all[0], left), (right, all[1]), (all[2], bottom), (top, all[3])] {
                assert!(a - b >= -1e-7 && a - b <= slack, "{edge:?}");
            }
            Ok(())
        })
        .budget_ms(500);
    }
}
