//! Holes and cut-outs of a plate.

use super::contour::{Contour, ContourError, Edge, Point};
use super::hardware::is_large;
use crate::flat::{Spot, apart};
use crate::quantity::{Length, Measure};
use std::f64::consts::TAU;

/// A chord of a round hole turns by no more than that of an octagon, rad, and what rounding of its ends adds.
const CHORD_RAD: f64 = TAU / 8.0 * 1.05;
/// How near to one circle the corners of a round hole lie, m: 0.002 in.
const ROUND_M: f64 = 0.002 * 0.0254;

/// A hole in a plate, of any shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Hole {
    /// A round hole.
    Round {
        /// Its centre.
        centre: Point,
        /// Its diameter.
        diameter: Length,
    },
    /// A slot with round ends.
    Slot {
        /// The centre of one end.
        from: Point,
        /// The centre of the other.
        to: Point,
        /// Its width, twice the radius of its ends.
        width: Length,
    },
    /// A cut-out along any contour.
    Cut(Contour),
}

impl Hole {
    /// Its contour.
    ///
    /// # Errors
    /// [`ContourError`] where it can't be cut.
    pub fn contour(&self) -> Result<Contour, ContourError> {
        match self {
            Self::Round { centre, diameter } if centre.is_placed() => Contour::circle(*centre, *diameter),
            Self::Round { .. } => Err(ContourError::Place { index: 1 }),
            Self::Slot { from, to, width } => Contour::slot(*from, *to, *width),
            Self::Cut(contour) => Ok(contour.clone()),
        }
    }

    /// Where it lies: the centre of a round one, chords or not, or of a slot, else of the box around its points.
    #[must_use]
    pub fn centre(&self) -> Point {
        match self {
            Self::Round { centre, .. } => *centre,
            Self::Slot { from, to, .. } => Point { x: 0.5 * (from.x + to.x), y: 0.5 * (from.y + to.y) },
            Self::Cut(contour) => {
                if let Some(centre) = chorded(contour) {
                    return Point::of(centre);
                }
                let [left, right, bottom, top] = contour.bounds();
                Point::of((0.5 * (left + right), 0.5 * (bottom + top)))
            }
        }
    }

    /// Whether it is round, or of hardware size with eight corners or more on one circle, as programs write a round
    /// hole that know no arcs.
    #[must_use]
    pub fn is_round(&self) -> bool {
        match self {
            Self::Round { .. } => true,
            Self::Slot { .. } => false,
            Self::Cut(contour) => chorded(contour).is_some(),
        }
    }

    /// How wide it counts where steel beside it is judged: the diameter of a round hole; of any other the
    /// diameter of the round hole of the same area, so that a long slot asks for more steel beside it than a round
    /// hole of its width (house assumption).
    #[must_use]
    pub fn width(&self) -> Length {
        match self {
            Self::Round { diameter, .. } => *diameter,
            Self::Slot { .. } | Self::Cut(_) => {
                let area = self.contour().map_or(0.0, |c| c.area());
                Length::from_si(2.0 * (area / std::f64::consts::PI).sqrt())
            }
        }
    }
}

/// The middle of a small cut-out whose corners lie on one circle, none far from the next.
fn chorded(contour: &Contour) -> Option<Spot> {
    let corners: Vec<Spot> = contour.edges().map(|edge| edge.from).collect();
    let n = corners.len();
    if n < 8 || is_large(contour) {
        return None;
    }
    let centre = around([corners[0], corners[n / 3], corners[2 * n / 3]])?;
    let radius = apart(corners[0], centre);
    let on_circle = |at: Spot| (apart(at, centre) - radius).abs() <= ROUND_M;
    let follows = |edge: Edge| match edge.bow() {
        Some(_) => [0.25, 0.5, 0.75].iter().all(|share| on_circle(edge.at(*share))),
        None => apart(edge.from, edge.to) <= 2.0 * radius * (0.5 * CHORD_RAD).sin(),
    };
    (corners.iter().all(|at| on_circle(*at)) && contour.edges().all(follows)).then_some(centre)
}

/// The centre of the circle through three places.
fn around([a, b, c]: [Spot; 3]) -> Option<Spot> {
    let (p, q) = ((b.0 - a.0, b.1 - a.1), (c.0 - a.0, c.1 - a.1));
    let twice = 2.0 * (p.0 * q.1 - p.1 * q.0);
    let (pp, qq) = (p.0 * p.0 + p.1 * p.1, q.0 * q.0 + q.1 * q.1);
    let centre = (a.0 + (q.1 * pp - p.1 * qq) / twice, a.1 + (p.0 * qq - q.0 * pp) / twice);
    (centre.0.is_finite() && centre.1.is_finite()).then_some(centre)
}
