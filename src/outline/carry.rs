//! The least steel that a plate hangs by: beside the holes it hangs from, and from there to its body.

use super::contour::{Fence, Point};
use super::hang::{HangFrom, top};
use super::thin::{self, Grip, Thin, Thinnest};
use super::{Contour, Outline, Ring, hardware, web};
use crate::flat::apart;
use crate::quantity::{Length, Measure};

/// A hanger nearer to the edge than this is taken as one so far in, m: 1/4 in.
const INSET_M: f64 = 0.25 * 0.0254;
/// A hanger so near to a hole is in it, m: 0.02 in.
const AT_HOLE_M: f64 = 0.02 * 0.0254;
/// Rounding in drawings.
const SLACK: f64 = 1e-6;

/// The least steel that a plate hangs by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HungBy {
    /// No part is narrower than the plate where it hangs, or it is not known where that is.
    Whole,
    /// A check of the computation failed.
    Unknown,
    /// So narrow, there.
    Steel(Thinnest),
}

/// Where a plate hangs, and the hole there.
struct Hung {
    at: Point,
    hole: Option<usize>,
    taken: bool,
}

impl Outline {
    /// Its hangers, given or found; where nobody knows whether it hangs by these, the ends of its top edge, and any hole
    /// above its balance point that takes hardware.
    fn hung_at(&self) -> Vec<Hung> {
        let small = |hole: &usize| !hardware::is_large(&self.cuts()[*hole]);
        let holes: Vec<usize> = (0..self.cuts().len()).filter(small).collect();
        let fences: Vec<Fence> = holes.iter().map(|hole| self.cuts()[*hole].fence()).collect();
        let hole_at = |at: Point| {
            let here = |i: &usize| {
                let middle = self.holes()[holes[*i]].centre();
                let (fence, at) = (&fences[*i], at.spot());
                // The middle of a bent hole lies beside it.
                fence.contains(at) || fence.distance(at) <= AT_HOLE_M || apart(middle.spot(), at) <= AT_HOLE_M
            };
            (0..holes.len()).find(here).map(|i| holes[i])
        };
        let from = self.hanging().from;
        let places = self.hanging().points.iter().map(|at| Hung {
            at: *at,
            hole: hole_at(*at),
            taken: from == HangFrom::TopEdge,
        });
        let mut hung: Vec<Hung> = places.collect();
        let is_round = |hung: &Hung| hung.hole.is_some_and(|hole| self.holes()[hole].is_round());
        if from == HangFrom::Given || (from == HangFrom::Holes && hung.iter().all(is_round)) {
            return hung;
        }
        if from == HangFrom::Holes {
            hung.extend(top(self.contour()).map(|at| Hung { at, hole: hole_at(at), taken: true }));
        }
        let of = |hole: &usize| Hung { at: self.holes()[*hole].centre(), hole: Some(*hole), taken: false };
        hung.extend(holes.iter().map(of).filter(|hung| hung.at.y > self.section().centre.y));
        hung
    }

    pub(super) fn find_hung_by(&self) -> HungBy {
        let hung = self.hung_at();
        let is_hung = |hole: usize| hung.iter().any(|hung| hung.hole == Some(hole));
        let others = (0..self.cuts().len()).filter(|hole| !is_hung(*hole));
        let cuts: Vec<&Contour> = others.map(|hole| &self.cuts()[hole]).collect();
        let edges: Vec<Fence> =
            std::iter::once(self.contour()).chain(cuts.iter().copied()).map(Contour::fence).collect();
        let grip = |hung: &Hung| {
            let at = hung.at.spot();
            let edge = edges.iter().map(|edge| edge.distance(at)).fold(f64::INFINITY, f64::min);
            let in_window = edges[1..].iter().any(|window| window.contains(at));
            let reach = if in_window { edge + INSET_M } else { (INSET_M - edge).max(0.0) };
            Grip { at, reach, taken: hung.taken }
        };
        let grips: Vec<Grip> = hung.iter().map(grip).collect();
        let Some(mut least) = thin::hung_by(self.contour(), &cuts, &grips) else { return HungBy::Unknown };
        hung.iter().filter_map(|hung| hung.hole).for_each(|hole| self.beside(hole, &mut least));
        if least.what == Thin::Whole { HungBy::Whole } else { HungBy::Steel(least) }
    }

    /// Beside a hole two sides carry, each taken as thin as the thinnest.
    fn beside(&self, hole: usize, least: &mut Thinnest) {
        let fence = self.cuts()[hole].fence();
        let mut hold = |other: Ring, contour: &Contour| {
            let asked = 0.5 * least.width.si();
            if let Some(gap) = web::gap(self, (hole, &fence), (other, &contour.fence()), asked) {
                let width = Length::from_si(2.0 * gap * (1.0 + SLACK));
                *least = Thinnest { width, at: self.holes()[hole].centre(), what: Thin::Strip };
            }
        };
        hold(Ring::Outline, self.contour());
        for other in (0..self.cuts().len()).filter(|other| *other != hole) {
            hold(Ring::Hole(other), &self.cuts()[other]);
        }
    }
}
