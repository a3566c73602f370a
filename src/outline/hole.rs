//! Holes and cut-outs of a plate.

use super::contour::{Contour, ContourError, Point};
use crate::quantity::{Length, Measure};

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

    /// Where it lies: the centre of a round one or a slot, else of the box around its points.
    #[must_use]
    pub fn centre(&self) -> Point {
        match self {
            Self::Round { centre, .. } => *centre,
            Self::Slot { from, to, .. } => Point { x: 0.5 * (from.x + to.x), y: 0.5 * (from.y + to.y) },
            Self::Cut(contour) => {
                let [left, right, bottom, top] = contour.bounds();
                Point::of((0.5 * (left + right), 0.5 * (bottom + top)))
            }
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
