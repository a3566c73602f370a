//! What a hit does to a hanging plate: swing, sight, ring, and wear as a ranking.

mod free_plate;
pub mod ring;
pub mod sight;
pub mod swing;
pub mod topple;

use crate::plate::{Face, Plate};
use crate::quantity::{Angle, Energy, Length, Measure, Momentum, Time, Velocity, unit};
use ring::Mode;
use sight::Seen;
use swing::{HOOK_SPEED_MPS, LEAST_FACTOR, MOST_FACTOR, Pendulum, Place, RETURN_DEG, Swing};

/// A shot as the plate feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// Momentum of the mean shot.
    pub momentum: Momentum,
    /// Momentum of the slow shot.
    pub slow: Momentum,
    /// Angle between the bullet's path and the face's normal.
    pub incidence: Angle,
    /// Distance to the firing point.
    pub distance: Length,
}

/// What the hits of an inquiry do to a hanging plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Reaction {
    /// Swing of the liveliest mean shot at the centre, splash along the face.
    pub swing: Swing,
    /// Swing of the same at the lower edge, splash leaving a little backward: the worst.
    pub swing_low_edge: Swing,
    /// Speed of the plate as a whole, at the worst.
    pub plate_speed: Velocity,
    /// Period of that swing, of small ones where it is thrown over.
    pub period: Time,
    /// Turn about the upright line that a hit at the edge gives, rad/s.
    pub twist: f64,
    /// What the faintest slow shot looks like, by its distance.
    pub seen: Seen,
    /// The modes; `None` where the outline has no published constants.
    pub ring: Option<Vec<Mode>>,
}

impl Reaction {
    /// The reaction of a plate of a face to hits, of which there must be one; seen through a magnification.
    #[must_use]
    pub fn of(face: &Face, plate: &Plate, hits: &[Hit], magnification: f64) -> Option<Self> {
        let pendulum = Pendulum::hung(face, plate);
        let liveliest = hits.iter().copied().reduce(|a, b| if b.momentum > a.momentum { b } else { a })?;
        let seen = |hit: &Hit| {
            let swing = pendulum.swing(hit.slow, hit.incidence, LEAST_FACTOR, Place::Centre);
            let rise = pendulum.rise(swing.angle().unwrap_or_else(|| unit::DEGREE.of(180.0)));
            Seen::new(rise, hit.distance, magnification)
        };
        let faintest = hits.iter().map(seen).reduce(|a, b| if b.motion < a.motion { b } else { a })?;
        let swing = pendulum.swing(liveliest.momentum, liveliest.incidence, LEAST_FACTOR, Place::Centre);
        Some(Self {
            swing,
            swing_low_edge: pendulum.swing(liveliest.momentum, liveliest.incidence, MOST_FACTOR, Place::LowerEdge),
            plate_speed: pendulum.plate_speed(liveliest.momentum, MOST_FACTOR),
            period: swing.angle().map_or_else(|| pendulum.period(), |angle| pendulum.period_at(angle)),
            twist: pendulum.twist(liveliest.momentum, LEAST_FACTOR),
            seen: faintest,
            ring: ring::modes(face, plate),
        })
    }

    /// Whether the worst hit throws the plate over its hangers.
    #[must_use]
    pub fn thrown_over(&self) -> bool {
        self.swing_low_edge == Swing::ThrownOver
    }

    /// Whether an open hook may lose the plate.
    #[must_use]
    pub fn leaves_open_hook(&self) -> bool {
        self.thrown_over() || self.plate_speed.si() > HOOK_SPEED_MPS
    }

    /// Whether a second hit on the return swing leaves far enough upward to matter.
    #[must_use]
    pub fn returns_upward(&self) -> bool {
        self.swing.angle().is_none_or(|angle| unit::DEGREE.value(angle) > RETURN_DEG)
    }

    /// The mode that a hit at the centre rings.
    #[must_use]
    pub fn centre_mode(&self) -> Option<&Mode> {
        self.ring.as_ref()?.iter().find(|m| m.from_centre)
    }
}

/// Wear of a hit over that of a reference: energy per mass of plate, beside 2,240 ft·lbf (a .308-class match
/// load at 100 yd) on a 12 in round of 3/8 in. A ranking, not a life in rounds.
#[must_use]
pub fn wear(energy: Energy, face: &Face, plate: &Plate) -> Option<f64> {
    let reference_face = Face::round(unit::INCH.of(12.0)).ok()?;
    let reference = unit::FOOT_POUND.of(2240.0) / reference_face.mass(unit::INCH.of(0.375));
    Some(((energy / face.mass(plate.thickness)) / reference).value)
}
