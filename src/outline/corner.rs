//! Sharp inside corners: where the edge turns into the steel within little of its length.

use super::contour::{Contour, Edge, Point};
use super::{Outline, Ring};
use crate::quantity::{Length, Measure};
use std::f64::consts::TAU;

/// A corner turns by more than this, rad: 20°.
const CORNER_RAD: f64 = 20.0 * std::f64::consts::PI / 180.0;
/// A turn at one place by more than this is sharp, rad.
const SHARP_RAD: f64 = 10.0 * std::f64::consts::PI / 180.0;

/// An inside corner of the steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Where it lies.
    pub at: Point,
    /// The radius it is cut with, 0 for a sharp one.
    pub radius: Length,
    /// Whose it is.
    pub ring: Ring,
}

/// A piece of the edge that turns: at a place, or along an arc.
#[derive(Clone, Copy)]
struct Turning {
    from: f64,
    to: f64,
    /// Into the steel, rad.
    angle: f64,
    radius: f64,
    at: (f64, f64),
}

impl Outline {
    /// Inside corners too sharp for a plate: places where the edge turns inward by more than 20° with a radius below its
    /// thickness, which is the radius wanted.
    #[must_use]
    pub fn sharp_corners(&self, thickness: Length) -> Vec<Corner> {
        let mut corners = sharp(self.contour(), Ring::Outline, thickness.si());
        for (index, (hole, cut)) in self.holes().iter().zip(self.cuts()).enumerate() {
            if !hole.is_round() {
                corners.extend(sharp(cut, Ring::Hole(index), thickness.si()));
            }
        }
        corners
    }
}

/// The turning of a contour in its order: each join, and each arc in pieces no longer than `piece`.
fn turnings(contour: &Contour, inward: f64, piece: f64) -> (Vec<Turning>, f64) {
    let edges: Vec<Edge> = contour.edges().collect();
    let mut turnings = Vec::new();
    let mut along = 0.0;
    for (i, edge) in edges.iter().enumerate() {
        let before = &edges[(i + edges.len() - 1) % edges.len()];
        let mut turn = (edge.headings().0 - before.headings().1).rem_euclid(TAU);
        if turn > 0.5 * TAU {
            turn -= TAU;
        }
        turnings.push(Turning { from: along, to: along, angle: turn * inward, radius: 0.0, at: edge.from });
        let length = edge.length();
        if let Some(bow) = edge.bow() {
            let pieces = (length / piece).ceil().clamp(1.0, 256.0);
            let mut k = 0.0;
            while k < pieces {
                let (from, to) = (along + length * k / pieces, along + length * (k + 1.0) / pieces);
                let at = edge.at((k + 0.5) / pieces);
                turnings.push(Turning { from, to, angle: bow.sweep * inward / pieces, radius: bow.radius, at });
                k += 1.0;
            }
        }
        along += length;
    }
    (turnings, along)
}

/// Corners of a contour whose steel lies outside the angle: of an outline where it turns right, of a hole left.
fn sharp(contour: &Contour, ring: Ring, thickness: f64) -> Vec<Corner> {
    let inward = if ring == Ring::Outline { -1.0 } else { 1.0 };
    // Along which an arc of that radius turns so far.
    let window = CORNER_RAD * thickness;
    if !(window > 0.0) {
        return Vec::new();
    }
    let (turnings, around) = turnings(contour, inward, 0.25 * window);
    let n = turnings.len();
    let (mut marked, mut linked) = (vec![false; n], vec![false; n]);
    for i in 0..n {
        let end = turnings[i].from + window * (1.0 + 1e-9);
        let mut sum = 0.0;
        for k in 0..n {
            let t = turnings[(i + k) % n];
            let wrapped = if i + k >= n { around } else { 0.0 };
            let (from, to) = (t.from + wrapped, t.to + wrapped);
            if from > end {
                break;
            }
            // Of an arc's piece that reaches beyond, what lies within.
            sum += if to > end { t.angle * (end - from) / (to - from) } else { t.angle };
            if sum > CORNER_RAD && turnings[i].angle > 0.0 && t.angle > 0.0 {
                (0..=k).for_each(|j| marked[(i + j) % n] = true);
                (0..k).for_each(|j| linked[(i + j) % n] = true);
            }
            if to > end {
                break;
            }
        }
    }
    runs(&marked, &linked).into_iter().filter_map(|run| corner(&turnings, &run, thickness, ring)).collect()
}

/// Runs of marked places around the contour, each linked to the next.
fn runs(marked: &[bool], linked: &[bool]) -> Vec<Vec<usize>> {
    let n = marked.len();
    let begins = |i: &usize| !linked[(i + n - 1) % n];
    let first = (0..n).find(begins).unwrap_or(0);
    let mut runs: Vec<Vec<usize>> = Vec::new();
    for i in (0..n).map(|k| (first + k) % n).filter(|i| marked[*i]) {
        match runs.last_mut() {
            Some(run) if !begins(&i) => run.push(i),
            _ => runs.push(vec![i]),
        }
    }
    runs
}

/// The corner that a run of turning makes: at the middle of its turn.
fn corner(turnings: &[Turning], run: &[usize], thickness: f64, ring: Ring) -> Option<Corner> {
    let all: f64 = run.iter().map(|i| turnings[*i].angle).sum();
    let mut sum = 0.0;
    let middle = run.iter().find(|i| {
        sum += turnings[**i].angle;
        sum >= 0.5 * all
    })?;
    let sharpest = run.iter().map(|i| turnings[*i]).filter(|t| t.to == t.from).map(|t| t.angle).fold(0.0, f64::max);
    let arcs = run.iter().map(|i| turnings[*i]).filter(|t| t.radius > 0.0 && t.angle > 0.0);
    let tightest = arcs.map(|t| t.radius).fold(f64::INFINITY, f64::min);
    let radius = if sharpest > SHARP_RAD || !tightest.is_finite() { 0.0 } else { tightest };
    let sharp_at = run.iter().find(|i| turnings[**i].angle >= sharpest && turnings[**i].to == turnings[**i].from);
    let at = turnings[*sharp_at.filter(|_| sharpest > SHARP_RAD).unwrap_or(middle)].at;
    (radius < thickness * (1.0 - 1e-9)).then(|| Corner { at: Point::of(at), radius: Length::from_si(radius), ring })
}
