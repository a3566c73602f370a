//! Which holes take hardware, and which weaken a plate as any other cut-out does.
//!
//! House assumptions: a hole up to 1.5 in across takes a bolt or a hook and leaves a plate as strong as it was, where
//! there are few, small beside the plate, and with steel around them. Steel beside a bolt hole is half its diameter at
//! least (its centre a diameter from the edge), of one above 3/4 in, and between two, a whole diameter. None of
//! this depends on the plate's thickness: a thicker plate is never judged worse for it.

use super::contour::{Contour, Fence, MIL_M, Point};
use super::{Outline, Ring, web};
use crate::flat::{Spot, apart};
use crate::quantity::{Length, Measure};

const INCH_M: f64 = 0.0254;
/// Holes no longer than this in any direction may be for hardware, m.
pub const MAX_HARDWARE_M: f64 = 1.5 * INCH_M;
/// Holes no longer than this are for bolts, m.
const BOLT_M: f64 = 0.75 * INCH_M;
/// Steel to the edge beside a hole for a bolt, as a share of its width.
const BOLT_EDGE: f64 = 0.5;
/// The most holes of a plate that are for hardware.
pub const MAX_HARDWARE_HOLES: usize = 8;
/// The most of a plate's area, holes not taken off, that holes for hardware take.
pub const MAX_HARDWARE_AREA: f64 = 0.05;
/// Rounding in drawings: four digits of an inch.
const SLACK: f64 = 1e-4;

/// Why holes of hardware size count as cut-outs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// There are more than [`MAX_HARDWARE_HOLES`].
    Many,
    /// They take more than [`MAX_HARDWARE_AREA`] of the plate.
    Large,
    /// They are too near to the edge, to a cut-out or to one another.
    Near,
}

/// Holes of hardware size that count as cut-outs in the narrowest width.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Weakening {
    /// Which holes, by their index from 0.
    pub holes: Vec<usize>,
    /// Why; `None` where there are none.
    pub why: Option<Counted>,
}

/// Whether a cut-out is longer, in any direction, than holes for hardware.
pub(super) fn is_large(cut: &Contour) -> bool {
    longest(cut) > MAX_HARDWARE_M * (1.0 + SLACK)
}

/// The longest straight line in a contour, m; of a circle its diameter. Larger ones are cut short at twice a hole
/// for hardware.
fn longest(cut: &Contour) -> f64 {
    if let Some((_, diameter)) = cut.round(MIL_M) {
        return diameter;
    }
    let [left, right, bottom, top] = cut.bounds();
    let side = (right - left).max(top - bottom);
    if side > MAX_HARDWARE_M {
        return side;
    }
    let places: Vec<Spot> = cut.polygon(Length::from_si(MIL_M)).into_iter().map(Point::spot).collect();
    let stride = places.len() / 200 + 1;
    let mut most = 0.0_f64;
    for a in places.iter().step_by(stride) {
        for b in places.iter().step_by(stride) {
            most = most.max(apart(*a, *b));
        }
    }
    most
}

/// The holes of hardware size that count.
pub(super) fn weakening(outline: &Outline) -> Weakening {
    let (small, large): (Vec<usize>, Vec<usize>) =
        (0..outline.cuts().len()).partition(|hole| !is_large(&outline.cuts()[*hole]));
    if small.is_empty() {
        return Weakening::default();
    }
    let taken: f64 = small.iter().map(|hole| outline.cuts()[*hole].area()).sum();
    let all = |why: Counted| Weakening { holes: small.clone(), why: Some(why) };
    if small.len() > MAX_HARDWARE_HOLES {
        return all(Counted::Many);
    }
    if taken > MAX_HARDWARE_AREA * outline.contour().area() {
        return all(Counted::Large);
    }
    let near = too_near(outline, &small, &large);
    let why = (!near.is_empty()).then_some(Counted::Near);
    Weakening { holes: near, why }
}

/// Holes with too little steel beside them.
fn too_near(outline: &Outline, small: &[usize], large: &[usize]) -> Vec<usize> {
    let edge = outline.contour().fence();
    let fence = |hole: &usize| outline.cuts()[*hole].fence();
    let (fences, beside): (Vec<Fence>, Vec<Fence>) =
        (small.iter().map(fence).collect(), large.iter().map(fence).collect());
    let width = |hole: usize| outline.holes()[hole].width().si();
    let mut near = vec![false; small.len()];
    for (i, &hole) in small.iter().enumerate() {
        let share = if longest(&outline.cuts()[hole]) > BOLT_M * (1.0 + SLACK) { 1.0 } else { BOLT_EDGE };
        let asked = share * width(hole) * (1.0 - SLACK);
        near[i] |= web::gap(outline, (hole, &fences[i]), (Ring::Outline, &edge), asked).is_some();
        near[i] |= beside.iter().any(|cut| fences[i].gap(cut, asked).is_some());
        for (j, &other) in small[..i].iter().enumerate() {
            let asked = width(hole).max(width(other)) * (1.0 - SLACK);
            if web::gap(outline, (hole, &fences[i]), (Ring::Hole(other), &fences[j]), asked).is_some() {
                (near[i], near[j]) = (true, true);
            }
        }
    }
    small.iter().zip(near).filter(|(_, near)| *near).map(|(hole, _)| *hole).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::SourceText;

    #[test]
    fn a_hole_just_as_far_from_the_edge_as_is_asked_is_for_hardware_however_its_place_was_rounded() {
        let near = |height: f64| {
            let text = format!(
                "schema = \"{}\"\nname = \"p\"\nunit = \"in\"\npoints = [[0,0],[12,0],[12,16],[0,16]]\n[[hole]]\nat = [2, {height}]\ndiameter = 0.5\n",
                crate::outline::SCHEMA
            );
            !Outline::from_toml(&SourceText::new("p.toml", text)).unwrap().weakening().holes.is_empty()
        };
        assert!([15.5, 15.500_01, 15.499_99].into_iter().all(|height| !near(height)));
        assert!(near(15.501) && near(15.6));
    }
}
