//! Outlines on a lattice: one, or a pair of which the second is turned by 180°, in rows.
//!
//! A shape is taken as its profiles: how far it reaches to the right and to the left at each height, and up and down
//! at each place along, each grown by half the gap. Two shapes side by side are apart from where the one's right
//! profile clears the other's left one at every height on; rows lie apart by the profiles up and down. Bins err
//! outward, so that nothing overlaps; the plan is checked by coordinates all the same, and dropped where it does.

use super::{Room, Spots};
use std::f64::consts::{PI, TAU};

/// Width of a bin of a profile, m: 1/24 in.
const BIN: f64 = 0.0254 / 24.0;
/// How near a chord comes to its arc, m: 1/1000 in.
pub const CHORD: f64 = 2.54e-5;
/// Points of a shape beyond which it is thinned out, so that a traced drawing takes no longer.
const MAX_SHAPE: usize = 600;
/// Steps between the rotations that are tried, degrees.
const TURN_DEG: usize = 5;
/// Places that a neighbour, and a row, are tried at.
const SHIFTS: u32 = 8;

/// To the right, and up, m.
pub type Spot = [f64; 2];

/// Adds the points of an arc between its ends; a bulge is the tangent of a quarter of its sweep.
pub fn arc_points(from: Spot, to: Spot, bulge: f64, points: &mut Vec<Spot>) {
    let chord = (to[0] - from[0]).hypot(to[1] - from[1]);
    if bulge.abs() < 1e-9 || chord <= 0.0 {
        return;
    }
    let sweep = 4.0 * bulge.atan();
    let radius = 0.5 * chord / (0.5 * sweep).sin();
    let toward = [(to[0] - from[0]) / chord, (to[1] - from[1]) / chord];
    let off = radius * (0.5 * sweep).cos();
    let centre = [0.5 * (from[0] + to[0]) - off * toward[1], 0.5 * (from[1] + to[1]) + off * toward[0]];
    let step = 2.0 * (1.0 - CHORD / radius.abs()).clamp(-1.0, 1.0).acos().max(0.01);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A few hundred at most.
    let pieces = (sweep.abs() / step).ceil().clamp(1.0, 1000.0) as u32;
    let start = (from[1] - centre[1]).atan2(from[0] - centre[0]);
    for i in 1..pieces {
        let angle = start + sweep * f64::from(i) / f64::from(pieces);
        points.push([centre[0] + radius.abs() * angle.cos(), centre[1] + radius.abs() * angle.sin()]);
    }
}

/// Left, right, bottom and top of some points.
#[must_use]
pub fn bounds(points: &[Spot]) -> [f64; 4] {
    let mut box_ = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
    for p in points {
        box_ = [box_[0].min(p[0]), box_[1].max(p[0]), box_[2].min(p[1]), box_[3].max(p[1])];
    }
    box_
}

/// A shape with the centre of its bounds at the origin.
#[must_use]
pub fn turned(points: &[Spot], angle: f64) -> Vec<Spot> {
    let (sin, cos) = angle.sin_cos();
    let turned: Vec<Spot> = points.iter().map(|p| [cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]]).collect();
    let [left, right, bottom, top] = bounds(&turned);
    let centre = [0.5 * (left + right), 0.5 * (bottom + top)];
    turned.iter().map(|p| [p[0] - centre[0], p[1] - centre[1]]).collect()
}

fn swapped(points: &[Spot]) -> Vec<Spot> {
    points.iter().map(|p| [p[1], p[0]]).collect()
}

/// How far a shape reaches, by height: bins about the origin.
#[derive(Debug, Clone)]
struct Profile {
    /// Index of the bin at the origin.
    origin: i64,
    /// Least and most of each bin; nothing where least is above most.
    bins: Vec<[f64; 2]>,
}

impl Profile {
    /// The profile of a shape grown all around by `grow`.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // Some thousands.
    fn new(shape: &[Spot], grow: f64) -> Self {
        let [_, _, bottom, top] = bounds(shape);
        let origin = ((grow - bottom) / BIN).ceil() as i64 + 1;
        let count = origin + ((top + grow) / BIN).ceil() as i64 + 2;
        let mut bins = vec![[f64::INFINITY, f64::NEG_INFINITY]; count.max(1) as usize];
        let mut put = |y: f64, left: f64, right: f64| {
            let index = (y / BIN).floor() as i64 + origin;
            if let Some(bin) = usize::try_from(index).ok().and_then(|i| bins.get_mut(i)) {
                *bin = [bin[0].min(left), bin[1].max(right)];
            }
        };
        for (i, from) in shape.iter().enumerate() {
            let to = shape[(i + 1) % shape.len()];
            let length = (to[0] - from[0]).hypot(to[1] - from[1]);
            let pieces = (length / (0.5 * BIN)).ceil().max(1.0);
            // A point stands for half a piece to each side.
            let slack = 0.5 * length / pieces;
            for piece in 0..pieces as u32 {
                let share = (f64::from(piece) + 0.5) / pieces;
                let at = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
                grown(at, grow + slack, &mut put);
            }
        }
        Self { origin, bins }
    }

    /// The profile of the shape turned by 180°.
    fn negated(&self) -> Self {
        let count = i64::try_from(self.bins.len()).unwrap_or(i64::MAX);
        let bins = self.bins.iter().rev().map(|[least, most]| [-most, -least]).collect();
        Self { origin: count - self.origin, bins }
    }

    /// How far the other must lie to the right, at a height above this, so that it is clear from there on.
    fn clear(&self, other: &Self, above: i64) -> f64 {
        let mut apart = f64::NEG_INFINITY;
        for (i, mine) in self.bins.iter().enumerate() {
            let Ok(i) = i64::try_from(i) else { break };
            let theirs = usize::try_from(i - self.origin - above + other.origin).ok().and_then(|j| other.bins.get(j));
            if let Some(theirs) = theirs {
                apart = apart.max(mine[1] - theirs[0]);
            }
        }
        apart
    }
}

/// A disc about a point, into every bin that it touches.
fn grown(at: Spot, radius: f64, put: &mut impl FnMut(f64, f64, f64)) {
    let mut y = ((at[1] - radius) / BIN).floor() * BIN;
    while y < at[1] + radius {
        // The widest place of the disc within the bin.
        let off = (y - at[1]).max(at[1] - y - BIN).max(0.0);
        if off <= radius {
            let half = (radius * radius - off * off).sqrt();
            put(y + 0.5 * BIN, at[0] - half, at[0] + half);
        }
        y += BIN;
    }
}

/// A row: what stands in one period, and the period.
struct Row {
    /// Where the centre of its bounds stands, and whether it is turned.
    members: Vec<(Spot, bool)>,
    period: f64,
    half_width: f64,
    height: [f64; 2],
}

#[allow(clippy::cast_precision_loss)] // Some thousands.
fn metres(bins: i64) -> f64 {
    bins as f64 * BIN
}

/// The rows worth trying of a turned shape: of itself, and of pairs.
fn rows(shape: &[Spot], gap: f64) -> Vec<Row> {
    let grow = 0.5 * gap;
    let [_, half_width, bottom, top] = bounds(shape);
    let own = Profile::new(shape, grow);
    let theirs = own.negated();
    let alone = own.clear(&own, 0);
    let mut rows = vec![Row { members: vec![([0.0, 0.0], false)], period: alone, half_width, height: [bottom, top] }];
    #[allow(clippy::cast_possible_truncation)] // Some thousands.
    let tall = ((top - bottom) / BIN) as i64;
    for step in (0..SHIFTS).map(i64::from) {
        let up = tall * step / (2 * i64::from(SHIFTS));
        let (to_other, back) = (own.clear(&theirs, up), theirs.clear(&own, -up));
        let period = (to_other + back).max(alone).max(theirs.clear(&theirs, 0));
        if period.is_finite() && to_other.is_finite() {
            let up = metres(up);
            let members = vec![([0.0, 0.0], false), ([to_other, up], true)];
            rows.push(Row { members, period, half_width, height: [bottom, top + up] });
        }
    }
    rows
}

impl Row {
    /// The rows of a room, as many as fit, every second one moved by a shift.
    fn lay(&self, shift: f64, apart: [f64; 2], angle: f64, room: Room) -> Spots {
        let mut spots = Spots::new();
        let (mut base, mut row) = (-self.height[0], 0);
        while base + self.height[1] <= room.size[1] + 1e-9 {
            let from = if row % 2 == 1 { shift } else { 0.0 };
            self.lay_row(from, base, angle, room, &mut spots);
            base += apart[row % 2];
            row += 1;
        }
        spots
    }

    fn lay_row(&self, from: f64, base: f64, angle: f64, room: Room, spots: &mut Spots) {
        // Turned by 180° a shape has the same bounds about their centre.
        let half = self.half_width;
        let left = self.members.iter().map(|(at, _)| at[0] - half).fold(f64::INFINITY, f64::min);
        for (at, flipped) in &self.members {
            let [shape_left, shape_right] = [-half, half];
            let mut x = at[0] - left + from;
            // A row that begins farther right may have room for one more on its left.
            while x - self.period + shape_left >= -1e-9 {
                x -= self.period;
            }
            while x + shape_right <= room.size[0] + 1e-9 {
                spots.push(([x, base + at[1]], angle + if *flipped { PI } else { 0.0 }));
                x += self.period;
            }
        }
    }

    /// The shifts that are tried of every second row, and how far the rows then lie apart: the second above the
    /// first, and the third above the second.
    fn stack(&self, profiles: &[&Profile; 2]) -> Vec<(f64, [f64; 2])> {
        let (skyline, width) = self.skyline(profiles);
        let count = skyline.len();
        // A bin more to either side, for what rounding moves.
        let lowest = |i: usize| skyline[i][0].min(skyline[(i + 1) % count][0]).min(skyline[(i + count - 1) % count][0]);
        let lows: Vec<f64> = (0..count).map(lowest).collect();
        let straight = stacked(&skyline, &lows, 0);
        let shift = |step: usize| {
            let moved = count * step / SHIFTS as usize;
            let up = stacked(&skyline, &lows, moved).max(BIN);
            // The third stands over the first again.
            let back = stacked(&skyline, &lows, count - moved).max(BIN).max(straight - up);
            (moved as f64 * width, [up, back])
        };
        (0..SHIFTS as usize).map(shift).collect()
    }

    /// Profiles of the endless row, up and down, by place along one period; from those of the shape and of it turned.
    fn skyline(&self, profiles: &[&Profile; 2]) -> (Vec<[f64; 2]>, f64) {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Some thousands.
        let count = (self.period / BIN).floor().max(1.0) as usize;
        // Bins that divide the period: a little wider than those of a profile.
        let width = self.period / count as f64;
        let mut bins = vec![[f64::INFINITY, f64::NEG_INFINITY]; count];
        for (at, flipped) in &self.members {
            let profile = profiles[usize::from(*flipped)];
            for (i, bin) in profile.bins.iter().enumerate().filter(|(_, bin)| bin[0] <= bin[1]) {
                let Ok(i) = i64::try_from(i) else { break };
                let x = metres(i - profile.origin) + at[0];
                for x in [x, x + BIN] {
                    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Within a period.
                    let index = (x.rem_euclid(self.period) / width) as usize % count;
                    bins[index] = [bins[index][0].min(bin[0] + at[1]), bins[index][1].max(bin[1] + at[1])];
                }
            }
        }
        (bins, width)
    }
}

/// How far above the next row lies that is moved by so many bins; `lows` are the row's lowest places.
fn stacked(skyline: &[[f64; 2]], lows: &[f64], moved: usize) -> f64 {
    let (after, before) = lows.split_at(lows.len() - moved);
    let mut above = f64::NEG_INFINITY;
    for (top, low) in skyline.iter().zip(before.iter().chain(after)) {
        above = above.max(top[1] - low);
    }
    above
}

/// The plans of the most plates that are found for each room, from a turn on; empty where none is.
#[must_use]
pub fn lay(points: Vec<Spot>, least_turn: f64, rooms: &[Room]) -> Vec<Spots> {
    let points = thinned(points);
    let mut best = vec![Spots::new(); rooms.len()];
    for degrees in (0..180).step_by(TURN_DEG) {
        let angle = least_turn + f64::from(degrees).to_radians();
        let shape = turned(&points, angle);
        let [left, right, bottom, top] = bounds(&shape);
        let fits = |room: &Room| right - left <= room.size[0] && top - bottom <= room.size[1];
        let Some(room) = rooms.iter().find(|room| fits(room)) else { continue };
        let grow = 0.5 * room.gap;
        let upright = Profile::new(&swapped(&shape), grow);
        let over = upright.negated();
        for row in rows(&shape, room.gap) {
            let stack = row.stack(&[&upright, &over]);
            for (room, best) in rooms.iter().zip(&mut best).filter(|(room, _)| fits(room)) {
                for &(shift, apart) in &stack {
                    let spots = row.lay(shift, apart, angle, *room);
                    if spots.len() > best.len() {
                        *best = spots;
                    }
                }
            }
        }
    }
    for (room, best) in rooms.iter().zip(&mut best) {
        if overlaps(&points, best, room.gap - 4.0 * CHORD) {
            best.clear();
        }
    }
    best
}

/// A shape of fewer points: those are left out that lie near the line between their neighbours, nearer than a chord
/// does to its arc, and then every second.
#[must_use]
pub fn thinned(mut points: Vec<Spot>) -> Vec<Spot> {
    let mut allowed = 0.5 * CHORD;
    while points.len() > MAX_SHAPE && allowed < 64.0 * CHORD {
        let count = points.len();
        let near = |i: usize| {
            let (a, p, b) = (points[(i + count - 1) % count], points[i], points[(i + 1) % count]);
            let along = [b[0] - a[0], b[1] - a[1]];
            let length = along[0].hypot(along[1]);
            length > 0.0 && ((p[0] - a[0]) * along[1] - (p[1] - a[1]) * along[0]).abs() / length < allowed
        };
        let kept: Vec<Spot> = (0..count).filter(|&i| i % 2 == 0 || !near(i)).map(|i| points[i]).collect();
        if kept.len() == count {
            allowed *= 2.0;
        }
        points = kept;
    }
    points
}

/// Whether two plates of a plan come nearer than a gap, m.
#[must_use]
pub fn overlaps(points: &[Spot], spots: &Spots, gap: f64) -> bool {
    let placed: Vec<Vec<Spot>> = spots
        .iter()
        .map(|(at, angle)| turned(points, angle % TAU).iter().map(|p| [p[0] + at[0], p[1] + at[1]]).collect())
        .collect();
    let boxes: Vec<[f64; 4]> = placed.iter().map(|shape| bounds(shape)).collect();
    (0..placed.len()).any(|i| {
        (0..i).any(|j| {
            let (a, b) = (&boxes[i], &boxes[j]);
            let aside = (a[0] - b[1]).max(b[0] - a[1]).max(a[2] - b[3]).max(b[2] - a[3]);
            aside < gap && nearer(&placed[i], &placed[j], gap)
        })
    })
}

/// Whether two polygons come nearer to each other than a gap, or the one holds the other.
fn nearer(a: &[Spot], b: &[Spot], gap: f64) -> bool {
    let [left, right, bottom, top] = bounds(b);
    let edges = |shape: &[Spot]| (0..shape.len()).map(|i| (shape[i], shape[(i + 1) % shape.len()])).collect::<Vec<_>>();
    let theirs = edges(b);
    let close = |&(p, q): &(Spot, Spot)| {
        let apart = (p[0].min(q[0]) - right).max(left - p[0].max(q[0]));
        let apart = apart.max(p[1].min(q[1]) - top).max(bottom - p[1].max(q[1]));
        apart < gap && theirs.iter().any(|&(r, s)| segments_nearer((p, q), (r, s), gap))
    };
    edges(a).iter().any(close) || holds(a, b[0]) || holds(b, a[0])
}

fn holds(shape: &[Spot], p: Spot) -> bool {
    let mut inside = false;
    for i in 0..shape.len() {
        let (a, b) = (shape[i], shape[(i + 1) % shape.len()]);
        if (a[1] > p[1]) != (b[1] > p[1]) && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) {
            inside = !inside;
        }
    }
    inside
}

fn segments_nearer(a: (Spot, Spot), b: (Spot, Spot), gap: f64) -> bool {
    let cross = |o: Spot, p: Spot, q: Spot| (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);
    let crossing =
        cross(a.0, a.1, b.0) * cross(a.0, a.1, b.1) < 0.0 && cross(b.0, b.1, a.0) * cross(b.0, b.1, a.1) < 0.0;
    let to = |p: Spot, (r, s): (Spot, Spot)| {
        let along = [s[0] - r[0], s[1] - r[1]];
        let length = along[0] * along[0] + along[1] * along[1];
        let share = if length > 0.0 {
            (((p[0] - r[0]) * along[0] + (p[1] - r[1]) * along[1]) / length).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (p[0] - r[0] - share * along[0]).hypot(p[1] - r[1] - share * along[1])
    };
    crossing || to(a.0, b).min(to(a.1, b)).min(to(b.0, a)).min(to(b.1, a)) < gap
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_that_touch_cross_or_hold_each_other_are_found() {
        let square = |x: f64, size: f64| vec![[x, 0.0], [x + size, 0.0], [x + size, size], [x, size]];
        assert!(nearer(&square(0.0, 1.0), &square(0.5, 1.0), 0.1));
        assert!(nearer(&square(0.0, 1.0), &square(1.05, 1.0), 0.1));
        assert!(!nearer(&square(0.0, 1.0), &square(1.11, 1.0), 0.1));
        let inner = vec![[4.0, 4.0], [5.0, 4.0], [5.0, 5.0], [4.0, 5.0]];
        assert!(nearer(&square(0.0, 9.0), &inner, 0.1));
    }
}
