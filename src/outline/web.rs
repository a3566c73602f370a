//! Steel beside holes that is thinner than the hole is wide.

use super::contour::Fence;
use super::{Contour, Hole, Outline, Ring};
use crate::quantity::{Length, Measure};

/// Steel beside a hole that is thinner than the hole is wide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Web {
    /// The hole, by its index from 0.
    pub hole: usize,
    /// What lies on the other side: the outline, or a hole before it.
    pub other: Ring,
    /// The steel between them.
    pub gap: Length,
    /// The steel there should be: the width of the hole, of the wider one where there are two.
    pub asked: Length,
}

impl Outline {
    /// Steel between a hole and the edge, or between two holes, that is thinner than the hole is wide
    /// ([`Hole::width`]; of two the wider one's). Common practice for round holes and an edge: one diameter.
    #[must_use]
    pub fn thin_webs(&self) -> Vec<Web> {
        let edge = self.contour().fence();
        let fences: Vec<Fence> = self.cuts().iter().map(Contour::fence).collect();
        let asked: Vec<f64> = self.holes().iter().map(|hole| hole.width().si()).collect();
        let mut found = Vec::new();
        for hole in 0..fences.len() {
            let mut hold = |other: Ring, fence: &Fence, asked: f64| {
                let gap = gap(self, (hole, &fences[hole]), (other, fence), asked * (1.0 - 1e-9));
                found.extend(gap.map(|gap| Web {
                    hole,
                    other,
                    gap: Length::from_si(gap),
                    asked: Length::from_si(asked),
                }));
            };
            hold(Ring::Outline, &edge, asked[hole]);
            for other in 0..hole {
                hold(Ring::Hole(other), &fences[other], asked[hole].max(asked[other]));
            }
        }
        found
    }
}

/// Steel between a hole and another contour, m, where it is less than asked.
pub(super) fn gap(
    outline: &Outline,
    (hole, fence): (usize, &Fence),
    (other, beside): (Ring, &Fence),
    asked: f64,
) -> Option<f64> {
    let (gap, _) = fence.gap(beside, asked)?;
    let exact = between_rounds(outline, hole, other).unwrap_or(gap);
    (exact < asked).then_some(exact)
}

/// Between two round holes, or a round hole and the edge, the gap is exact.
fn between_rounds(outline: &Outline, hole: usize, other: Ring) -> Option<f64> {
    let round = |i: usize| match &outline.holes()[i] {
        Hole::Round { centre, diameter } => Some((centre.spot(), 0.5 * diameter.si())),
        _ => None,
    };
    let (centre, radius) = round(hole)?;
    match other {
        Ring::Outline => Some(outline.contour().fence().distance(centre) - radius),
        Ring::Hole(other) => {
            let (at, r) = round(other)?;
            Some((at.0 - centre.0).hypot(at.1 - centre.1) - r - radius)
        }
    }
}
