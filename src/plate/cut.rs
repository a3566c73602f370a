//! What a cut leaves that cracks or tears: inside corners, and thin steel beside holes.

use super::contour::{Contour, Fence, Point};
use super::edge::Edge;
use super::hole::{Hole, Size};
use super::outline::{Outline, Ring};
use crate::quantity::{Length, Measure};

/// A join that turns by less than this is taken for tangent, rad: a drawing rounds its points.
const TANGENT_RAD: f64 = 0.02;
/// Holes no longer than this in any direction take bolts and hooks, and leave no strip, m: 1.5 in (house assumption).
pub(super) const HARDWARE_M: f64 = 1.5 * 0.0254;

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
    /// Inside corners of the steel: of the outline where it turns in, and every corner of a cut-out. A round hole
    /// has none; the ends of a slot count with their radius.
    #[must_use]
    pub fn inside_corners(&self) -> Vec<Corner> {
        let mut corners = corners(self.contour(), Ring::Outline);
        for (index, (hole, (cut, _))) in self.holes().iter().zip(self.cuts()).enumerate() {
            if !matches!(hole, Hole::Round { .. }) {
                corners.extend(self::corners(cut, Ring::Hole(index)));
            }
        }
        corners
    }

    /// Steel between a hole and the edge, or between two holes, that is thinner than the hole is wide
    /// ([`Hole::width`]; of two the wider one's). Common practice for round holes and an edge: one diameter.
    #[must_use]
    pub fn thin_webs(&self) -> Vec<Web> {
        let thin = webs(self.contour(), self.cuts(), |size| size.width);
        thin.into_iter().filter(|web| web.gap.si() < web.asked.si() * (1.0 - 1e-9)).collect()
    }
}

/// The narrowest strip that a cut-out leaves: steel between it and the edge, or another hole, that is narrower than
/// the cut-out is long, so that it takes a hit as a bar does. Beside holes for hardware there is none; of two the
/// longer one counts. `None` where no cut-out leaves one.
pub(super) fn narrowest_strip(contour: &Contour, cuts: &[(Contour, Size)]) -> Option<Web> {
    let strips = webs(contour, cuts, |size| if size.length > HARDWARE_M { size.length } else { 0.0 });
    strips.into_iter().reduce(|a, b| if b.gap < a.gap { b } else { a })
}

/// Corners whose steel lies outside the angle: those of an outline that turn right, and those of a hole that
/// turn left.
fn corners(contour: &Contour, ring: Ring) -> Vec<Corner> {
    let inward = if ring == Ring::Outline { -1.0 } else { 1.0 };
    let edges: Vec<Edge> = contour.edges().collect();
    let mut corners = Vec::new();
    let mut found = |at: (f64, f64), radius: f64| {
        corners.push(Corner { at: Point::of(at), radius: Length::from_si(radius), ring });
    };
    for (i, edge) in edges.iter().enumerate() {
        let before = &edges[(i + edges.len() - 1) % edges.len()];
        if let Some((radius, sweep)) = edge.bend()
            && sweep * inward > 0.0
            && !edge.continues(before)
        {
            found(edge.at(0.5), radius);
        }
        let (a, b) = (before.rate(1.0), edge.rate(0.0));
        let turn = (a.0 * b.1 - a.1 * b.0).atan2(a.0 * b.0 + a.1 * b.1);
        // A tangent join turns by rounding only.
        if turn * inward > TANGENT_RAD {
            found(edge.at(0.0), 0.0);
        }
    }
    corners
}

/// Steel beside holes that is thinner than what each hole asks for, of two the one that asks for more.
fn webs(contour: &Contour, cuts: &[(Contour, Size)], asks: impl Fn(&Size) -> f64) -> Vec<Web> {
    let edge = Fence::of(contour);
    let fences: Vec<Fence> = cuts.iter().map(|(cut, _)| Fence::of(cut)).collect();
    let asked: Vec<f64> = cuts.iter().map(|(_, size)| asks(size)).collect();
    let mut found = Vec::new();
    for hole in 0..cuts.len() {
        let mut hold = |other: Ring, fence: &Fence, asked: f64| {
            found.extend(fences[hole].gap(fence, asked).map(|(gap, _)| Web {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::contour::plain::{self, contour};
    use crate::quantity::unit;
    use std::f64::consts::PI;

    fn box_of(left: f64, bottom: f64, w: f64, h: f64) -> Contour {
        contour(&plain::box_of(left, bottom, w, h))
    }

    fn outline(contour: Contour, holes: Vec<Hole>) -> Outline {
        Outline::new("test", contour, holes, Vec::new()).unwrap()
    }

    fn round(x: f64, y: f64, diameter: f64) -> Hole {
        Hole::Round { centre: Point::of((x, y)), diameter: unit::METRE.of(diameter) }
    }

    fn slot(from: (f64, f64), to: (f64, f64), width: f64) -> Hole {
        Hole::Slot { from: Point::of(from), to: Point::of(to), width: unit::METRE.of(width) }
    }

    #[test]
    fn inside_corners_are_found_with_their_radius() {
        let l = [(0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.1, 0.1), (0.1, 0.3), (0.0, 0.3)].map(|(x, y)| (x, y, 0.0));
        let sharp = outline(contour(&l), Vec::new()).inside_corners();
        let expected = Corner { at: Point::of((0.1, 0.1)), radius: Length::from_si(0.0), ring: Ring::Outline };
        assert_eq!(sharp, vec![expected]);
        // The same corner cut with a 10 mm fillet, drawn in two arcs.
        let half = -(PI / 16.0).tan();
        let middle = 0.11 - 0.01 * std::f64::consts::FRAC_1_SQRT_2;
        let filleted = [
            (0.0, 0.0, 0.0),
            (0.3, 0.0, 0.0),
            (0.3, 0.1, 0.0),
            (0.11, 0.1, half),
            (middle, middle, half),
            (0.1, 0.11, 0.0),
            (0.1, 0.3, 0.0),
            (0.0, 0.3, 0.0),
        ];
        let corners = outline(contour(&filleted), Vec::new()).inside_corners();
        assert_eq!(corners.len(), 1, "{corners:?}");
        assert!((corners[0].radius.si() - 0.01).abs() < 1e-9);
    }

    #[test]
    fn every_corner_of_a_window_is_called_out_and_a_round_hole_has_none() {
        let window = Hole::Cut(box_of(0.1, 0.1, 0.05, 0.05));
        let plate = outline(box_of(0.0, 0.0, 0.3, 0.3), vec![round(0.25, 0.25, 0.01), window]);
        let corners = plate.inside_corners();
        assert_eq!(corners.len(), 4, "{corners:?}");
        assert!(corners.iter().all(|c| c.ring == Ring::Hole(1) && c.radius.si() == 0.0));
        // A cut-out that turns in on itself has one corner where the steel sticks out.
        let l = [(0.1, 0.1), (0.2, 0.1), (0.2, 0.15), (0.15, 0.15), (0.15, 0.2), (0.1, 0.2)];
        let notched = Hole::Cut(contour(&l.map(|(x, y)| (x, y, 0.0))));
        assert_eq!(outline(box_of(0.0, 0.0, 0.3, 0.3), vec![notched]).inside_corners().len(), 5);
    }

    #[test]
    fn the_ends_of_a_slot_count_with_their_radius() {
        let plate = outline(box_of(0.0, 0.0, 0.3, 0.3), vec![slot((0.1, 0.15), (0.2, 0.15), 0.012)]);
        let radii: Vec<f64> = plate.inside_corners().iter().map(|c| c.radius.si()).collect();
        assert_eq!(radii.len(), 2, "{radii:?}");
        assert!(radii.iter().all(|r| (r - 0.006).abs() < 1e-12));
    }

    #[test]
    fn a_hole_nearer_the_edge_than_its_width_is_named_with_the_gap() {
        let plate = outline(box_of(0.0, 0.0, 0.1, 0.3), vec![round(0.05, 0.15, 0.01), round(0.05, 0.286, 0.01)]);
        let webs = plate.thin_webs();
        assert_eq!(webs.len(), 1, "{webs:?}");
        assert_eq!((webs[0].hole, webs[0].other), (1, Ring::Outline));
        assert!((webs[0].gap.si() - 0.009).abs() < 1e-12);
        // A slot counts as the round hole of its area: 0.1 × 0.01 and its ends as 37 mm.
        let level = |y: f64| outline(box_of(0.0, 0.0, 0.3, 0.3), vec![slot((0.1, y), (0.2, y), 0.01)]).thin_webs();
        assert_eq!((level(0.04).len(), level(0.043).len()), (1, 0));
        let asked = level(0.04)[0].asked.si();
        assert!((asked - (4.0 * (0.001 + PI * 0.01 * 0.01 / 4.0) / PI).sqrt()).abs() < 1e-12, "{asked}");
    }

    #[test]
    fn two_holes_nearer_than_the_wider_one_s_diameter_are_named() {
        let pair = |gap: f64| {
            let small = round(0.1, 0.15, 0.01);
            outline(box_of(0.0, 0.0, 0.3, 0.3), vec![small, round(0.1 + 0.015 + gap, 0.15, 0.02)]).thin_webs()
        };
        let near = pair(0.0199);
        assert_eq!(near.len(), 1, "{near:?}");
        assert_eq!((near[0].hole, near[0].other), (1, Ring::Hole(0)));
        assert!((near[0].gap.si() - 0.0199).abs() < 1e-12 && (near[0].asked.si() - 0.02).abs() < 1e-12);
        assert!(pair(0.0201).is_empty());
    }

    #[test]
    fn a_cut_out_longer_than_the_steel_beside_it_leaves_a_strip_that_counts_as_the_narrowest_width() {
        let framed = |gap: f64, side: f64| {
            let window = Hole::Cut(box_of(0.1, gap, side, side));
            outline(box_of(0.0, 0.0, 0.4, 0.4), vec![window])
        };
        // A window of 0.1 m is 0.141 m long: steel as wide as that is no strip.
        let narrowest = |plate: &Outline| plate.section().narrowest.si();
        assert!((narrowest(&framed(0.05, 0.1)) - 0.05).abs() < 1e-9);
        assert!((narrowest(&framed(0.15, 0.1)) - 0.1).abs() < 1e-9, "the side to the left is 0.1 m");
        let clear = outline(box_of(0.0, 0.0, 0.4, 0.4), vec![Hole::Cut(box_of(0.15, 0.15, 0.1, 0.1))]);
        assert!(clear.strip().is_none() && (narrowest(&clear) - 0.4).abs() < 1e-9);
        // A bolt hole leaves none, however near the edge; it is called out for that.
        let drilled = outline(box_of(0.0, 0.0, 0.4, 0.4), vec![round(0.2, 0.01, 0.0127)]);
        assert!(drilled.strip().is_none() && drilled.thin_webs().len() == 1);
        // Two slots leave a bar between them.
        let slots = vec![slot((0.1, 0.2), (0.3, 0.2), 0.01), slot((0.1, 0.24), (0.3, 0.24), 0.01)];
        let barred = outline(box_of(0.0, 0.0, 0.4, 0.4), slots);
        assert!((narrowest(&barred) - 0.03).abs() < 1e-9);
        assert_eq!(barred.strip().map(|s| (s.hole, s.other)), Some((1, Ring::Hole(0))));
    }
}
