//! What a hit does to a hanging plate: swing, sight, ring, and wear as a ranking.

mod free_plate;
pub mod ring;
pub mod sight;
pub mod swing;
pub mod topple;

use crate::load::Load;
use crate::plate::{Face, Plate};
use crate::quantity::{Angle, Energy, Length, Measure, Momentum, Time, Velocity, unit};
use crate::spread::Flights;
use crate::strike::Strike;
use ring::Mode;
use sight::{Called, Seen};
use swing::{HOOK_SPEED_MPS, Hung, MAX_FACTOR, MIN_FACTOR, Pendulum, Place, RETURN_DEG, Swing};

/// The nearest that a swing is looked at from, yd.
const NEAREST_YD: f64 = 10.0;

/// A shot as the plate feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// Momentum of the mean shot.
    pub momentum: Momentum,
    /// Momentum of the slow shot.
    pub slow: Momentum,
    /// Energy of the mean shot.
    pub energy: Energy,
    /// Angle between the bullet's path and the face's normal.
    pub incidence: Angle,
    /// Distance to the firing point.
    pub distance: Length,
}

impl Hit {
    /// What a load that strikes a face of a lean does to it: all projectiles of a shot together.
    #[must_use]
    pub fn of(load: &Load, strike: &Strike, tilt: Option<Angle>) -> Self {
        Self {
            momentum: load.charge_momentum(strike.mean),
            slow: load.charge_momentum(strike.slow),
            energy: load.charge_energy(strike.mean),
            incidence: tilt.unwrap_or_else(|| unit::DEGREE.of(0.0)) + strike.fall,
            distance: strike.distance,
        }
    }

    /// The hit of the most momentum, of which the mean shot counts.
    #[must_use]
    pub fn liveliest(hits: &[Self]) -> Option<Self> {
        hits.iter().copied().reduce(|a, b| if b.momentum > a.momentum { b } else { a })
    }

    /// The index of the hit of the least momentum, of which the slow shot counts.
    #[must_use]
    pub fn weakest(hits: &[Self]) -> Option<usize> {
        (0..hits.len()).reduce(|a, b| if hits[b].slow < hits[a].slow { b } else { a })
    }

    /// Energy of the hardest hit.
    #[must_use]
    pub fn hardest(hits: &[Self]) -> Energy {
        hits.iter().map(|h| h.energy).fold(Energy::from_si(0.0), |a, b| if b > a { b } else { a })
    }
}

/// What the hits of an inquiry do to a hanging plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Reaction {
    /// Swing of the liveliest mean shot at the centre, splash along the face.
    pub swing: Swing,
    /// Swing of the same at the lower edge, splash leaving a little backward: the worst.
    pub swing_low_edge: Swing,
    /// The most that the face turns of the first of these hits: more than the swing on a chain.
    pub turn: Swing,
    /// The most that the face turns of the second.
    pub turn_low_edge: Swing,
    /// The most that the centre rises of the first.
    pub centre_rise: Length,
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
    pub fn of(face: &Face, plate: &Plate, hung: Hung, hits: &[Hit], magnification: f64) -> Option<Self> {
        let pendulum = Pendulum::hung(face, plate, hung);
        let Hit { momentum, incidence, .. } = Hit::liveliest(hits)?;
        let seen = |hit: &Hit| Seen::new(pendulum.least_rise(hit.slow, hit.incidence), hit.distance, magnification);
        let faintest = hits.iter().map(seen).reduce(|a, b| if b.motion < a.motion { b } else { a })?;
        let swing = pendulum.swing(momentum, incidence, MIN_FACTOR, Place::Centre);
        Some(Self {
            swing,
            swing_low_edge: pendulum.swing(momentum, incidence, MAX_FACTOR, Place::LowerEdge),
            turn: pendulum.turn(momentum, incidence, MIN_FACTOR, Place::Centre),
            turn_low_edge: pendulum.turn(momentum, incidence, MAX_FACTOR, Place::LowerEdge),
            centre_rise: pendulum.centre_rise(momentum, incidence, MIN_FACTOR, Place::Centre),
            plate_speed: pendulum.plate_speed(momentum, MAX_FACTOR),
            period: swing.angle().map_or_else(|| pendulum.period(), |angle| pendulum.period_at(angle)),
            twist: pendulum.twist(momentum, MIN_FACTOR),
            seen: faintest,
            ring: ring::modes(face, plate),
        })
    }

    /// Whether the worst hit can throw the plate over its hangers, or over the top of its chain.
    #[must_use]
    pub fn thrown_over(&self) -> bool {
        self.swing_low_edge == Swing::ThrownOver || self.turn_low_edge == Swing::ThrownOver
    }

    /// Whether an open hook may lose the plate.
    #[must_use]
    pub fn leaves_open_hook(&self) -> bool {
        self.thrown_over() || self.plate_speed.si() > HOOK_SPEED_MPS
    }

    /// Whether a second hit on the return swing leaves far enough upward to matter.
    #[must_use]
    pub fn returns_upward(&self) -> bool {
        self.turn.angle().is_none_or(|angle| unit::DEGREE.value(angle) > RETURN_DEG)
    }

    /// The mode that a hit at the centre rings.
    #[must_use]
    pub fn centre_mode(&self) -> Option<&Mode> {
        self.ring.as_ref()?.iter().find(|m| m.from_centre)
    }
}

/// How far the swing of a plate can be called with the slow shot of a load, through a magnification. A shot that
/// does not arrive is not called.
#[must_use]
pub fn called(pendulum: &Pendulum, load: &Load, flights: &Flights, incidence: Angle, magnification: f64) -> Called {
    let rise = |at: Length| {
        let slow = flights.slow_speed(at).ok().filter(|v| v.si() > 0.0)?;
        Some(pendulum.least_rise(load.charge_momentum(slow), incidence))
    };
    sight::farthest_called(rise, magnification, unit::YARD.of(NEAREST_YD), flights.reach())
}

/// Wear of a hit over that of a reference: energy per mass of plate, beside 2,240 ft·lbf (a .308-class match
/// load at 100 yd) on a 12 in round of 3/8 in. A ranking, not a life in rounds.
#[must_use]
pub fn wear(energy: Energy, face: &Face, plate: &Plate) -> Option<f64> {
    let reference_face = Face::round(unit::INCH.of(12.0)).ok()?;
    let reference = unit::FOOT_POUND.of(2240.0) / reference_face.mass(unit::INCH.of(0.375));
    Some(((energy / face.mass(plate.thickness)) / reference).value)
}
