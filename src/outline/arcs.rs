//! Chords back to arcs: a run of chords that turn little and whose ends lie on an arc becomes that arc.

use crate::flat::{Spot, apart};

/// Chords that turn by more are edges of a polygon, rad: 15°, and what rounding adds.
const MAX_TURN_RAD: f64 = 15.02 * std::f64::consts::PI / 180.0;
/// A run is this many chords at least.
const MIN_CHORDS: usize = 3;
/// A run of chords that leave their arc by more of the tolerance is this many at least: the ends of three edges that lie
/// alike to either side are on a circle as well.
const MIN_COARSE: usize = 6;
/// How many times the tolerance coarse chords leave their arc by.
const COARSE: f64 = 5.0;
/// Of two chords that meet on an arc one is at most this many times as long as the other, unless both lie on it.
const MAX_RATIO: f64 = 4.0;
/// An arc that rises by less of the tolerance over its chord is straight.
const STRAIGHT: f64 = 5e-4;

/// A run of points as lines and arcs that pass it within a tolerance. The first and the last stay, as does
/// every point where it turns sharply.
pub(super) fn fitted(points: &[Spot], tolerance: f64) -> Vec<(Spot, f64)> {
    let run = Run { points, tolerance };
    let mut fitted = Vec::new();
    let mut i = 0;
    while i + 1 < points.len() {
        let (end, bulge) = run.longest(i);
        fitted.push((points[i], bulge));
        i = end;
    }
    fitted.extend(points.last().map(|p| (*p, 0.0)));
    fitted
}

/// The straight runs of a closed ring as arcs where they are such; its arcs stay.
pub(super) fn fitted_ring(ring: &[(Spot, f64)], tolerance: f64) -> Vec<(Spot, f64)> {
    let n = ring.len();
    if n < 3 {
        return ring.to_vec();
    }
    // Begin where no run passes, so that the place where the drawing begins does not matter.
    let breaks = |i: usize| {
        let (before, at, after) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
        before.1 != 0.0 || at.1 != 0.0 || turn(before.0, at.0, after.0).abs() > MAX_TURN_RAD
    };
    let first = if let Some(first) = (0..n).find(|i| breaks(*i)) {
        first
    } else {
        if let Some(circle) = circle(ring, tolerance) {
            return circle;
        }
        0
    };
    let at = |k: usize| ring[(first + k) % n];
    let mut done = Vec::with_capacity(n);
    let mut k = 0;
    while k < n {
        if at(k).1 != 0.0 {
            done.push(at(k));
            k += 1;
            continue;
        }
        let mut run = vec![at(k).0];
        while k < n && at(k).1 == 0.0 {
            k += 1;
            run.push(at(k).0);
        }
        let mut fits = fitted(&run, tolerance);
        fits.pop();
        done.append(&mut fits);
    }
    done
}

/// A closed ring of chords as two arcs, where all its points lie on one circle.
fn circle(ring: &[(Spot, f64)], tolerance: f64) -> Option<Vec<(Spot, f64)>> {
    let n = ring.len();
    let [a, b, c] = [0, n / 3, 2 * n / 3].map(|i| ring[i].0);
    let (d, e) = ((b.0 - a.0, b.1 - a.1), (c.0 - a.0, c.1 - a.1));
    let (dd, ee) = (d.0 * d.0 + d.1 * d.1, e.0 * e.0 + e.1 * e.1);
    let twice = 2.0 * (d.0 * e.1 - d.1 * e.0);
    let off = ((e.1 * dd - d.1 * ee) / twice, (d.0 * ee - e.0 * dd) / twice);
    let (centre, radius) = ((a.0 + off.0, a.1 + off.1), off.0.hypot(off.1));
    if !radius.is_finite() || ring.iter().any(|(p, _)| (apart(*p, centre) - radius).abs() > tolerance) {
        return None;
    }
    let sense = twice.signum();
    let around: f64 = (0..n).map(|i| turn(ring[i].0, ring[(i + 1) % n].0, ring[(i + 2) % n].0)).sum();
    if (around * sense - std::f64::consts::TAU).abs() > 1e-6 {
        return None;
    }
    // Two points apart by any angle: the tangent of a quarter of it.
    let half = ring[n / 2].0;
    let angle = |p: Spot| (p.1 - centre.1).atan2(p.0 - centre.0);
    let there = (sense * (angle(half) - angle(a))).rem_euclid(std::f64::consts::TAU);
    let bulge = |sweep: f64| sense * (0.25 * sweep).tan();
    Some(vec![(a, bulge(there)), (half, bulge(std::f64::consts::TAU - there))])
}

fn turn(a: Spot, b: Spot, c: Spot) -> f64 {
    let (u, v) = ((b.0 - a.0, b.1 - a.1), (c.0 - b.0, c.1 - b.1));
    (u.0 * v.1 - u.1 * v.0).atan2(u.0 * v.0 + u.1 * v.1)
}

struct Run<'a> {
    points: &'a [Spot],
    tolerance: f64,
}

impl Run<'_> {
    /// Where the longest arc from a point ends, and its bulge; the next point and none where there is no arc.
    fn longest(&self, i: usize) -> (usize, f64) {
        let last = self.points.len() - 1;
        let Some(mut bulge) = (i + MIN_CHORDS <= last).then(|| self.arc(i, i + MIN_CHORDS)).flatten() else {
            return (i + 1, 0.0);
        };
        // Strides twice as long as long as they hold, then half as long.
        let (mut good, mut step, mut held) = (i + MIN_CHORDS, MIN_CHORDS, true);
        while step > 0 {
            let next = (good + step).min(last);
            if let Some(b) = (next > good).then(|| self.arc(i, next)).flatten() {
                (good, bulge) = (next, b);
                step = if held { 2 * step } else { step / 2 };
            } else {
                held = false;
                step /= 2;
            }
        }
        if good - i < MIN_COARSE && self.is_coarse(i, good, bulge) { (i + 1, 0.0) } else { (good, bulge) }
    }

    /// Whether some chord leaves the arc from one point to another by more than drawings of arcs do.
    fn is_coarse(&self, i: usize, j: usize, bulge: f64) -> bool {
        let radius = apart(self.points[i], self.points[j]) * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        let longest = (i..j).map(|k| apart(self.points[k], self.points[k + 1])).fold(0.0, f64::max);
        longest * longest / (8.0 * radius) > COARSE * self.tolerance
    }

    /// The bulge of the arc from one point to another that passes those between.
    fn arc(&self, i: usize, j: usize) -> Option<f64> {
        let p = self.points;
        let (a, b) = (p[i], p[j]);
        let chord = apart(a, b);
        let sense = turn(p[i], p[i + 1], p[i + 2]);
        for k in i + 1..j {
            let turn = turn(p[k - 1], p[k], p[k + 1]);
            if turn.abs() > MAX_TURN_RAD || turn * sense < 0.0 && turn.abs() > 1e-7 {
                return None;
            }
        }
        if !(chord > 0.0) {
            return None;
        }
        // The rise over the chord from the point that lies nearest to its middle.
        let (dx, dy) = ((b.0 - a.0) / chord, (b.1 - a.1) / chord);
        let local = |q: Spot| {
            let (x, y) = (q.0 - a.0, q.1 - a.1);
            (x * dx + y * dy - 0.5 * chord, x * dy - y * dx)
        };
        let (x, y) = local(p[usize::midpoint(i, j)]);
        let mut rise = rise_through(x, y, 0.5 * chord)?;
        for _ in 0..2 {
            let (mut most, mut least) = (0.0_f64, 0.0_f64);
            for k in i + 1..j {
                let off = off_arc(local(p[k]), rise, 0.5 * chord);
                (most, least) = (most.max(off), least.min(off));
            }
            if most <= self.tolerance && least >= -self.tolerance {
                return self.suits(i, j, rise, chord).then(|| self.bulge(rise, chord));
            }
            rise += 0.5 * (most + least) * if rise < 0.0 { -1.0 } else { 1.0 };
        }
        None
    }

    fn bulge(&self, rise: f64, chord: f64) -> f64 {
        if rise.abs() < STRAIGHT * self.tolerance { 0.0 } else { 2.0 * rise / chord }
    }

    /// Whether chords of one arc are of like length where they leave it.
    fn suits(&self, i: usize, j: usize, rise: f64, chord: f64) -> bool {
        let p = self.points;
        let half = 0.5 * chord;
        // No more than half a turn, so that a circle is two arcs.
        if rise.abs() > half * 1.001 {
            return false;
        }
        if self.bulge(rise, chord) == 0.0 {
            return true;
        }
        let radius = (half * half + rise * rise) / (2.0 * rise.abs());
        let mut before = apart(p[i], p[i + 1]);
        let leaves = |c: f64| c * c / (8.0 * radius) > self.tolerance;
        for k in i + 1..j {
            let after = apart(p[k], p[k + 1]);
            let (short, long) = (before.min(after), before.max(after));
            if long > MAX_RATIO * short && leaves(long) {
                return false;
            }
            before = after;
        }
        true
    }
}

/// The rise of the arc over a chord through a place, from the chord's middle; positive to its right, where a
/// counterclockwise arc passes.
fn rise_through(x: f64, y: f64, half: f64) -> Option<f64> {
    if y.abs() < 1e-12 * half {
        return Some(0.0);
    }
    // Centre at (0, c): x² + (y - c)² = half² + c².
    let c = (x * x + y * y - half * half) / (2.0 * y);
    let radius = half.hypot(c);
    let rise = if y > 0.0 { c + radius } else { c - radius };
    rise.is_finite().then_some(rise)
}

/// How far outside of an arc a place lies.
fn off_arc((x, y): (f64, f64), rise: f64, half: f64) -> f64 {
    if rise.abs() < 1e-9 * half {
        return y.abs();
    }
    let c = (rise * rise - half * half) / (2.0 * rise);
    (x.hypot(y - c)) - half.hypot(c)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn ring(chords: u32, radius: f64) -> Vec<(Spot, f64)> {
        let at = |i: u32| (TAU * f64::from(i) / f64::from(chords)).sin_cos();
        (0..chords).map(at).map(|(s, c)| ((radius * c, radius * s), 0.0)).collect()
    }

    #[test]
    fn a_circle_of_chords_is_two_arcs_and_an_octagon_stays() {
        for chords in [24, 48, 60, 64, 500] {
            let fit = fitted_ring(&ring(chords, 6.0), 0.002);
            assert!(fit.len() <= 3 && fit.iter().all(|(_, b)| *b > 0.3), "{chords}: {fit:?}");
        }
        for chords in [3, 8, 12, 20] {
            assert_eq!(fitted_ring(&ring(chords, 6.0), 0.002).len(), chords as usize);
        }
    }

    #[test]
    fn a_circle_of_chords_keeps_its_size_and_sense_wherever_it_lies() {
        for (chords, sense) in [(24, 1.0), (60, 1.0), (60, -1.0), (61, -1.0)] {
            let moved = |(at, bulge): (Spot, f64)| ((at.0 + 7.0, sense * at.1 - 5.0), bulge);
            let fit = fitted_ring(&ring(chords, 3.0).into_iter().map(moved).collect::<Vec<_>>(), 0.002);
            assert_eq!(fit.len(), 2, "{chords}: {fit:?}");
            // An arc of bulge b turns by 4 atan b: around once, in the sense of the chords.
            let around: f64 = fit.iter().map(|(_, bulge)| 4.0 * bulge.atan()).sum();
            assert!((around - sense * TAU).abs() < 1e-9, "{chords}: {fit:?}");
            let chord = apart(fit[0].0, fit[1].0);
            for (_, bulge) in fit {
                let radius = chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
                assert!((radius - 3.0).abs() < 1e-6, "{chords}: {radius}");
            }
        }
    }

    #[test]
    fn an_arc_passes_its_points_within_the_tolerance_on_either_side() {
        // Points of a quarter circle, one of them off it to the outside or to the inside.
        for off in [0.01, -0.01] {
            let at = |i: u32| {
                let (sin, cos) = (f64::from(i) * 5_f64.to_radians()).sin_cos();
                let radius = if i == 5 { 3.0 + off } else { 3.0 };
                (radius * cos, radius * sin)
            };
            let points: Vec<Spot> = (0..=18).map(at).collect();
            let fit = fitted(&points, 0.002);
            assert!(fit.len() > 2, "{off}: {fit:?}");
        }
    }

    #[test]
    fn a_long_edge_before_a_fillet_of_chords_stays_straight() {
        let mut points = vec![((0.0, 0.0), 0.0), ((10.0, 0.0), 0.0)];
        for i in 1..=18 {
            let (sin, cos) = (f64::from(i) * 5_f64.to_radians()).sin_cos();
            points.push(((10.0 + 0.05 * sin, 0.05 - 0.05 * cos), 0.0));
        }
        points.extend([((10.05, 8.0), 0.0), ((0.0, 8.0), 0.0)]);
        let fit = fitted_ring(&points, 0.002);
        let arcs: Vec<_> = fit.iter().filter(|(_, b)| *b != 0.0).collect();
        assert_eq!((fit.len(), arcs.len()), (5, 1), "{fit:?}");
        let fillet = arcs[0];
        assert!((fillet.0.0 - 10.0).abs() < 0.02 && (fillet.1 - (TAU / 16.0).tan()).abs() < 0.05, "{fit:?}");
    }

    #[test]
    fn edges_that_lie_alike_to_either_side_stay_though_their_ends_are_on_a_circle() {
        let crown = [(0.0, 14.96), (2.95, 15.75), (8.86, 15.75), (11.81, 14.96)];
        let barrel = [(11.02, 0.0), (11.81, 5.24), (11.81, 10.47), (11.02, 15.71)];
        let five = [(-3.0, 0.0), (-1.6, 0.35), (-0.5, 0.45), (0.5, 0.45), (1.6, 0.35), (3.0, 0.0)];
        for edges in [&crown[..], &barrel[..], &five[..]] {
            assert!(fitted(edges, 0.002).iter().all(|(_, bulge)| *bulge == 0.0), "{edges:?}");
        }
        // A small fillet in three chords is one.
        let fillet = |i: u32| (f64::from(i) * 15_f64.to_radians()).sin_cos();
        let points: Vec<Spot> = (0..=3).map(fillet).map(|(sin, cos)| (0.25 * sin, 0.25 * cos)).collect();
        assert_eq!(fitted(&points, 0.002).len(), 2);
    }

    #[test]
    fn a_few_edges_that_turn_little_but_are_no_arc_stay() {
        let points = [(0.0, 0.0), (6.0, 0.0), (12.0, 1.0), (13.0, 1.3), (20.0, 5.0)];
        assert!(fitted(&points, 0.002).iter().all(|(_, bulge)| *bulge == 0.0));
    }
}
