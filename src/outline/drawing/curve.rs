//! Curves traced by points: ellipses, splines by control points, splines through points.

use crate::flat::{Spot, apart};

/// How far a traced curve lies from its chords, in.
const TRACE_IN: f64 = 2e-5;
/// The most halvings of a piece.
const MAX_HALVINGS: u32 = 14;

/// Points along a curve between shares of its parameter, each piece halved until its chord lies on it.
pub(super) fn traced(at: &impl Fn(f64) -> Spot, breaks: &[f64], pieces: u32) -> Vec<Spot> {
    let mut points = Vec::new();
    let Some(first) = breaks.first() else { return points };
    points.push(at(*first));
    for pair in breaks.windows(2) {
        for k in 0..pieces {
            let share = |k: u32| pair[0] + (pair[1] - pair[0]) * f64::from(k) / f64::from(pieces);
            halved(at, (share(k), at(share(k))), (share(k + 1), at(share(k + 1))), MAX_HALVINGS, &mut points);
        }
    }
    points
}

fn halved(at: &impl Fn(f64) -> Spot, a: (f64, Spot), b: (f64, Spot), left: u32, points: &mut Vec<Spot>) {
    let between = |share: f64| at(a.0 + share * (b.0 - a.0));
    let middle = between(0.5);
    let flat = [between(0.25), middle, between(0.75)].iter().all(|p| off(a.1, b.1, *p) <= TRACE_IN);
    if left == 0 || flat || !(middle.0.is_finite() && middle.1.is_finite()) {
        points.push(b.1);
        return;
    }
    let m = (0.5 * (a.0 + b.0), middle);
    halved(at, a, m, left - 1, points);
    halved(at, m, b, left - 1, points);
}

fn off(a: Spot, b: Spot, p: Spot) -> f64 {
    let chord = apart(a, b);
    if chord < 1e-12 {
        return apart(a, p);
    }
    ((b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0)).abs() / chord
}

/// A spline by control points, rational where it has weights.
#[derive(Debug, Clone)]
pub(super) struct Spline {
    pub degree: usize,
    pub knots: Vec<f64>,
    pub controls: Vec<Spot>,
    pub weights: Vec<f64>,
}

impl Spline {
    /// Whether its parts are as many as they must be, and in order.
    pub fn is_whole(&self) -> bool {
        let n = self.controls.len();
        (1..=25).contains(&self.degree)
            && n > self.degree
            && self.knots.len() == n + self.degree + 1
            && self.knots.windows(2).all(|k| k[0] <= k[1])
            && self.knots[self.degree] < self.knots[n]
            && (self.weights.is_empty() || self.weights.len() == n)
            && self.weights.iter().all(|w| *w > 0.0)
    }

    /// The distinct knots it runs over.
    pub fn breaks(&self) -> Vec<f64> {
        let mut breaks = self.knots[self.degree..=self.controls.len()].to_vec();
        breaks.dedup();
        breaks
    }

    /// The place at a parameter, by de Boor's algorithm.
    pub fn at(&self, t: f64) -> Spot {
        let (p, n) = (self.degree, self.controls.len());
        let span = self.knots[p + 1..n].iter().take_while(|k| **k <= t).count() + p;
        let weight = |i: usize| self.weights.get(i).copied().unwrap_or(1.0);
        let mut d: Vec<[f64; 3]> = (span - p..=span)
            .map(|i| [self.controls[i].0 * weight(i), self.controls[i].1 * weight(i), weight(i)])
            .collect();
        for r in 1..=p {
            for j in (r..=p).rev() {
                let low = self.knots[span - p + j];
                let width = self.knots[j + 1 + span - r] - low;
                let share = if width > 0.0 { (t - low) / width } else { 0.0 };
                for c in 0..3 {
                    d[j][c] = (1.0 - share) * d[j - 1][c] + share * d[j][c];
                }
            }
        }
        (d[p][0] / d[p][2], d[p][1] / d[p][2])
    }
}

/// The cubic spline through points, its parameter the chords' length, with the directions at its ends where they
/// are given, else without curvature there; a closed one without a corner where its ends meet.
pub(super) fn through(points: &[Spot], ends: [Option<Spot>; 2], closed: bool) -> Option<impl Fn(f64) -> Spot + use<>> {
    let mut points = points.to_vec();
    points.dedup_by(|a, b| apart(*a, *b) < 1e-9);
    let n = points.len();
    if n < 2 {
        return None;
    }
    let mut shares = vec![0.0];
    for pair in points.windows(2) {
        shares.push(shares[shares.len() - 1] + apart(pair[0], pair[1]));
    }
    let unit = |d: Spot| {
        let length = d.0.hypot(d.1);
        (length > 1e-12).then(|| (d.0 / length, d.1 / length))
    };
    let [start, end] = ends.map(|d| d.and_then(unit));
    let round = closed && n > 3 && apart(points[0], points[n - 1]) < 1e-6;
    let of = |axis: fn(&Spot) -> f64| {
        let values: Vec<f64> = points.iter().map(axis).collect();
        slopes(&shares, &values, start.as_ref().map(axis), end.as_ref().map(axis), round)
    };
    let (dx, dy) = (of(|p| p.0), of(|p| p.1));
    let last = shares[n - 1];
    Some(move |t: f64| {
        let s = t.clamp(0.0, 1.0) * last;
        let i = shares[1..n - 1].iter().take_while(|k| **k <= s).count();
        let (h, u) = (shares[i + 1] - shares[i], (s - shares[i]) / (shares[i + 1] - shares[i]));
        let hermite = |a: f64, b: f64, da: f64, db: f64| {
            let (u2, u3) = (u * u, u * u * u);
            (2.0 * u3 - 3.0 * u2 + 1.0) * a
                + (u3 - 2.0 * u2 + u) * h * da
                + (3.0 * u2 - 2.0 * u3) * b
                + (u3 - u2) * h * db
        };
        (
            hermite(points[i].0, points[i + 1].0, dx[i], dx[i + 1]),
            hermite(points[i].1, points[i + 1].1, dy[i], dy[i + 1]),
        )
    })
}

/// Slopes at the points of a cubic spline with continuous curvature: clamped, natural or periodic.
fn slopes(t: &[f64], v: &[f64], start: Option<f64>, end: Option<f64>, round: bool) -> Vec<f64> {
    let n = t.len();
    let rise = |i: usize| (v[i + 1] - v[i]) / (t[i + 1] - t[i]);
    let h = |i: usize| t[i + 1] - t[i];
    // Rows of a system with three bands; a periodic one is solved by a few turns around it.
    let mut rows: Vec<[f64; 4]> = (0..n)
        .map(|i| match i {
            0 => start.map_or([0.0, 2.0, 1.0, 3.0 * rise(0)], |d| [0.0, 1.0, 0.0, d]),
            i if i == n - 1 => end.map_or([1.0, 2.0, 0.0, 3.0 * rise(n - 2)], |d| [0.0, 1.0, 0.0, d]),
            i => [h(i), 2.0 * (h(i - 1) + h(i)), h(i - 1), 3.0 * (h(i) * rise(i - 1) + h(i - 1) * rise(i))],
        })
        .collect();
    if !round {
        return banded(&mut rows);
    }
    let (a, b) = (h(n - 2), h(0));
    let seam = [b, 2.0 * (a + b), a, 3.0 * (b * rise(n - 2) + a * rise(0))];
    let mut d = banded(&mut rows.clone());
    for _ in 0..60 {
        let joint = (seam[3] - seam[0] * d[n - 2] - seam[2] * d[1]) / seam[1];
        rows[0] = [0.0, 1.0, 0.0, joint];
        rows[n - 1] = [0.0, 1.0, 0.0, joint];
        d = banded(&mut rows.clone());
    }
    d
}

/// Solves a system of three bands `[below, on, above, right side]`.
fn banded(rows: &mut [[f64; 4]]) -> Vec<f64> {
    let n = rows.len();
    for i in 1..n {
        let share = rows[i][0] / rows[i - 1][1];
        rows[i][1] -= share * rows[i - 1][2];
        rows[i][3] -= share * rows[i - 1][3];
    }
    let mut solved = vec![0.0; n];
    for i in (0..n).rev() {
        let above = if i + 1 < n { rows[i][2] * solved[i + 1] } else { 0.0 };
        solved[i] = (rows[i][3] - above) / rows[i][1];
    }
    solved
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rational_spline_traces_its_circle() {
        let w = std::f64::consts::FRAC_1_SQRT_2;
        let circle = Spline {
            degree: 2,
            knots: vec![0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 2.0],
            controls: vec![(1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (-1.0, 1.0), (-1.0, 0.0)],
            weights: vec![1.0, w, 1.0, w, 1.0],
        };
        assert!(circle.is_whole());
        let points = traced(&|t| circle.at(t), &circle.breaks(), 4);
        assert!(points.len() > 50 && points.iter().all(|p| (p.0.hypot(p.1) - 1.0).abs() < 1e-12));
    }

    #[test]
    fn a_curve_that_crosses_its_chord_in_the_middle_is_traced_all_the_same() {
        let wave = |t: f64| (t, 0.1 * (std::f64::consts::TAU * t).sin());
        let points = traced(&wave, &[0.0, 1.0], 1);
        assert!(points.len() > 50, "{}", points.len());
        for pair in points.windows(2) {
            let middle = (0.5 * (pair[0].0 + pair[1].0), 0.5 * (pair[0].1 + pair[1].1));
            assert!((wave(middle.0).1 - middle.1).abs() < 3.0 * TRACE_IN, "{pair:?}");
        }
    }

    #[test]
    fn a_spline_through_points_of_a_circle_closes_on_it() {
        let points: Vec<Spot> = (0..=24).map(|i| (f64::from(i) * 15_f64.to_radians()).sin_cos()).collect();
        let spline = through(&points, [None, None], true).unwrap();
        for i in 0..=200 {
            let at = spline(f64::from(i) / 200.0);
            assert!((at.0.hypot(at.1) - 1.0).abs() < 2e-4, "{at:?}");
        }
    }
}
