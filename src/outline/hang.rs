//! Where a plate hangs: at given points, at its highest holes, at its top edge.

use super::contour::{Contour, Fence, Point};
use super::hardware::{MAX_HARDWARE_M, is_large};
use super::{Hole, Outline, OutlineError, Section};
use crate::flat::Spot;
use crate::order::Order;
use crate::quantity::{Angle, Length, Measure};
use std::f64::consts::FRAC_PI_2;

/// Rounding of a diameter.
const SLACK: f64 = 1e-6;
/// Heights nearer than this are level, m: 0.02 in.
const LEVEL_M: f64 = 0.02 * 0.0254;
/// By how much a hanger may lie beside the edge, m.
const ROUNDED_M: f64 = 1e-6;

/// What the points of a hanger are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HangFrom {
    /// Given with the outline.
    Given,
    /// The two highest holes above the centroid that take a hook, round ones before others: a proposal.
    Holes,
    /// The top edge: there are no two such holes.
    TopEdge,
}

/// How a plate hangs.
#[derive(Debug, Clone, PartialEq)]
pub struct Hanging {
    /// What the points are.
    pub from: HangFrom,
    /// The points; for the top edge its two ends, which may be one place.
    pub points: Vec<Point>,
    /// The line's middle.
    pub middle: Point,
    /// How far the plate turns in its plane until its centroid hangs below the line's middle, positive where the
    /// centroid lies to the right.
    pub lean: Angle,
    /// By how much the highest point is above the lowest.
    pub unevenness: Length,
}

/// Refuses hangers beside the plate, and those in a window of it farther from its edge than a hook in a hole is.
pub(super) fn on_steel(edge: &Fence, windows: &[Fence], hangers: &[Point]) -> Result<(), OutlineError> {
    let beside = |h: &Point| !edge.contains(h.spot()) && edge.distance(h.spot()) > ROUNDED_M;
    let in_window = |h: &Point| {
        windows.iter().any(|w| w.contains(h.spot()) && w.distance(h.spot()) > 0.5 * MAX_HARDWARE_M * (1.0 + SLACK))
    };
    let off = |h: &Point| beside(h) || in_window(h);
    match hangers.iter().position(off) {
        Some(i) => Err(OutlineError::OffSteel { index: i + 1, at: hangers[i] }),
        None => Ok(()),
    }
}

impl Hanging {
    pub(super) fn of(
        contour: &Contour,
        (holes, cuts): (&[Hole], &[Contour]),
        given: &[Point],
        section: &Section,
    ) -> Self {
        let (from, points) = if !given.is_empty() {
            (HangFrom::Given, given.to_vec())
        } else if let Some(pair) = highest(holes, cuts, section.centre) {
            (HangFrom::Holes, pair.to_vec())
        } else {
            (HangFrom::TopEdge, top(contour).to_vec())
        };
        let heights = || points.iter().map(|p| p.y.si());
        let (low, high) = heights().fold((f64::INFINITY, f64::NEG_INFINITY), |a, y| (a.0.min(y), a.1.max(y)));
        let xs = points.iter().map(|p| p.x.si());
        let (left, right) = xs.clone().fold((f64::INFINITY, f64::NEG_INFINITY), |a, x| (a.0.min(x), a.1.max(x)));
        let y = heights().sum::<f64>() / points.len() as f64;
        // Between the outermost two: what hangs between them carries as it will.
        let middle = if points.len() == 2 { 0.5 * (left + right) } else { xs.sum::<f64>() / points.len() as f64 };
        let (cx, cy) = section.centre.spot();
        let lean = (cx - middle).atan2((y - cy).max(0.0).max(f64::MIN_POSITIVE));
        Self {
            from,
            middle: Point::of((middle, y)),
            lean: Angle::from_si(lean),
            unevenness: Length::from_si(high - low),
            points,
        }
    }

    /// Refuses points below the balance point, given so: a plate hung there turns over.
    pub(super) fn above(&self, balance: Point) -> Result<(), OutlineError> {
        if self.from == HangFrom::Given && self.middle.y.si() < balance.y.si() - LEVEL_M {
            return Err(OutlineError::TopHeavy { at: self.middle, balance });
        }
        Ok(())
    }

    /// The height of the line.
    #[must_use]
    pub fn line(&self) -> Length {
        self.middle.y
    }
}

/// Whether a hole takes a hook: one of hardware size, or a longer one no wider than that at its middle.
fn takes_hook(hole: &Hole, cut: &Contour) -> bool {
    let narrow =
        |fence: &Fence, at: Spot| fence.contains(at) && fence.distance(at) <= 0.5 * MAX_HARDWARE_M * (1.0 + SLACK);
    !is_large(cut) || narrow(&cut.fence(), hole.centre().spot())
}

/// The two highest holes above a place that take a hook, of those as high as the second the ones farthest apart. Where
/// two are round, what is of another form is taken for a window, and where two are of hardware size, what is longer:
/// those lie no higher, and are no looser.
fn highest(holes: &[Hole], cuts: &[Contour], centre: Point) -> Option<[Point; 2]> {
    let takes = |(hole, cut): &(&Hole, &Contour)| hole.centre().y > centre.y && takes_hook(hole, cut);
    let above: Vec<(&Hole, &Contour)> = holes.iter().zip(cuts).filter(takes).collect();
    let small = || above.iter().filter(|(_, cut)| !is_large(cut));
    let round = || small().filter(|(hole, _)| hole.is_round());
    let among: Vec<&(&Hole, &Contour)> = if round().count() >= 2 {
        round().collect()
    } else if small().count() >= 2 {
        small().collect()
    } else {
        above.iter().collect()
    };
    let mut places: Vec<Spot> = among.iter().map(|(hole, _)| hole.centre().spot()).collect();
    places.order_by(|a, b| b.1.total_cmp(&a.1).then(a.0.total_cmp(&b.0)));
    let (first, second) = (*places.first()?, *places.get(1)?);
    let level = |p: &&Spot| p.1 >= second.1 - LEVEL_M;
    let mut pair = if first.1 - second.1 > LEVEL_M {
        let farthest =
            places[1..].iter().filter(level).max_by(|a, b| (a.0 - first.0).abs().total_cmp(&(b.0 - first.0).abs()))?;
        [first, *farthest]
    } else {
        let row = || places.iter().filter(level);
        [*row().min_by(|a, b| a.0.total_cmp(&b.0))?, *row().max_by(|a, b| a.0.total_cmp(&b.0))?]
    };
    pair.order_by(|a, b| a.0.total_cmp(&b.0));
    Some(pair.map(Point::of))
}

impl Outline {
    /// How many holes lie above its balance point: those that take a hook, and those too wide for one.
    #[must_use]
    pub fn holes_above_balance(&self) -> (usize, usize) {
        let above = |(hole, _): &(&Hole, &Contour)| hole.centre().y > self.section().centre.y;
        let (taking, wide): (Vec<_>, Vec<_>) =
            self.holes().iter().zip(self.cuts()).filter(above).partition(|(hole, cut)| takes_hook(hole, cut));
        (taking.len(), wide.len())
    }
}

/// The ends of the top edge.
pub(super) fn top(contour: &Contour) -> [Point; 2] {
    let [.., top] = contour.bounds();
    let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
    for edge in contour.edges() {
        let level = |share: f64| edge.at(share).1 >= top - LEVEL_M;
        let mut reaches = |share: f64| {
            let x = edge.at(share).0;
            ends = (ends.0.min(x), ends.1.max(x));
        };
        let mut shares: Vec<f64> = (0..=16).map(|k| f64::from(k) / 16.0).collect();
        shares.extend(edge.bow().and_then(|bow| bow.share_of(FRAC_PI_2)));
        shares.order_by(f64::total_cmp);
        shares.iter().copied().filter(|share| level(*share)).for_each(&mut reaches);
        // An arc to where it leaves the level: those of a round plate may begin anywhere.
        let leaves = |pair: &&[f64]| edge.bow().is_some() && level(pair[0]) != level(pair[1]);
        for pair in shares.windows(2).filter(leaves) {
            let (mut on, mut off) = if level(pair[0]) { (pair[0], pair[1]) } else { (pair[1], pair[0]) };
            for _ in 0..40 {
                let middle = 0.5 * (on + off);
                if level(middle) { on = middle } else { off = middle }
            }
            reaches(on);
        }
    }
    if !(ends.0 <= ends.1) {
        let [left, right, ..] = contour.bounds();
        ends = (left, right);
    }
    [Point::of((ends.0, top)), Point::of((ends.1, top))]
}
