//! What a hit does to a plate: swing, toppling, sight and ring.

mod free_plate;
pub mod pattern;
pub mod ring;
pub mod sight;
pub mod swing;
pub mod topple;
pub mod wanted;

use crate::load::Load;
use crate::plate::{Face, Plate};
use crate::quantity::{Angle, Frequency, Length, Measure, Momentum, Time, Velocity, unit};
use crate::strike::Strike;
use ring::Mode;
use sight::Seen;
use swing::{HOOK_SPEED_MPS, HitPoint, Liveliness, MAX_FACTOR, MIN_FACTOR, Pendulum, RETURN_DEG, Suspension, Swing};

/// A shot as the plate feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// Momentum of the mean shot: of a charge, of the most that meets the face.
    pub momentum: Momentum,
    /// Momentum of the slow shot: of a charge, of the least that meets the face.
    pub slow: Momentum,
    /// Angle between the bullet's path and the face's normal.
    pub incidence: Angle,
    /// Distance to the firing point.
    pub distance: Length,
}

impl Hit {
    /// What a load that strikes a face of a lean and a turn does to it.
    #[must_use]
    pub fn of(load: &Load, strike: &Strike, face: &Face, tilt: Option<Angle>, oblique: Angle) -> Self {
        Self {
            momentum: load.charge_momentum(strike.mean) * pattern::most(load, face, strike.distance),
            slow: load.charge_momentum(strike.slow) * pattern::least(load, face, strike.distance),
            incidence: incidence(tilt.unwrap_or_else(|| unit::DEGREE.of(0.0)), oblique, strike.fall),
            distance: strike.distance,
        }
    }

    /// The hit of the most momentum across the face, of which the mean shot counts.
    #[must_use]
    pub fn liveliest(hits: &[Self]) -> Option<Self> {
        let across = |hit: &Self| hit.momentum.si() * hit.incidence.si().cos();
        hits.iter().copied().reduce(|a, b| if across(&b) > across(&a) { b } else { a })
    }

    /// The index of the hit of the least momentum across the face, of which the slow shot counts.
    #[must_use]
    pub fn weakest(hits: &[Self]) -> Option<usize> {
        let across = |i: usize| hits[i].slow.si() * hits[i].incidence.si().cos();
        (0..hits.len()).reduce(|a, b| if across(b) < across(a) { b } else { a })
    }
}

/// Angle between a bullet's path that falls and the normal of a face that leans toward the shooter and is turned about
/// the upright line: their cosine is cos ψ·cos τ·cos f − sin τ·sin f.
#[must_use]
pub fn incidence(tilt: Angle, oblique: Angle, fall: Angle) -> Angle {
    let (tilt, turn, fall) = (tilt.si(), oblique.si(), fall.si());
    let cos = turn.cos() * tilt.cos() * fall.cos() - tilt.sin() * fall.sin();
    Angle::from_si(cos.clamp(-1.0, 1.0).acos())
}

/// The edge case: a hit at the very edge whose splash leaves a little backward.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Its swing.
    pub swing: Swing,
    /// The most that the face turns.
    pub turn: Swing,
    /// Speed of the plate as a whole.
    pub plate_speed: Velocity,
}

/// What the hits of an inquiry do to a hanging plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Reaction {
    /// Swing of the liveliest mean shot at the centre.
    pub swing: Swing,
    /// Swing of the same at 85 % of the way to the lower edge: the lowest that is reckoned with.
    pub swing_low: Swing,
    /// The most that the face turns of the first of these hits: more than the swing on a chain.
    pub turn: Swing,
    /// The most that the face turns of the second.
    pub turn_low: Swing,
    /// The edge case.
    pub edge: Edge,
    /// The most that the centre rises of a hit at the centre.
    pub centre_rise: Length,
    /// Speed of the plate as a whole.
    pub plate_speed: Velocity,
    /// Period of that swing, of small ones where it is thrown over.
    pub period: Time,
    /// Turn about the upright line that a hit at the edge gives, rad/s.
    pub twist: f64,
    /// What the faintest slow shot looks like, by its distance.
    pub seen: Seen,
    /// The modes that are heard as a pitch; `None` where the outline has no published constants.
    pub ring: Option<Vec<Mode>>,
}

impl Reaction {
    /// The reaction of a plate of a face to hits, of which there must be one; seen through a magnification.
    #[must_use]
    pub fn of(face: &Face, plate: &Plate, hung: Suspension, hits: &[Hit], magnification: f64) -> Option<Self> {
        Self::with_ring(face, plate, hung, hits, magnification, ring::modes(face, plate).as_deref())
    }

    /// The same, by modes of the plate that are known: they are alike for every load.
    #[must_use]
    pub fn with_ring(
        face: &Face,
        plate: &Plate,
        hung: Suspension,
        hits: &[Hit],
        magnification: f64,
        modes: Option<&[Mode]>,
    ) -> Option<Self> {
        let pendulum = Pendulum::hung(face, plate, hung);
        let Hit { momentum, incidence, .. } = Hit::liveliest(hits)?;
        let seen =
            |hit: &Hit| Seen::new(pendulum.least_rise(hit.slow, hit.incidence), face, hit.distance, magnification);
        let faintest = hits.iter().map(seen).reduce(|a, b| if b.motion < a.motion { b } else { a })?;
        let swing = |factor, point| pendulum.swing(momentum, incidence, factor, point);
        let turn = |factor, point| pendulum.turn(momentum, incidence, factor, point);
        let across = momentum * incidence.si().cos().abs();
        let centre = swing(MIN_FACTOR, HitPoint::Centre);
        Some(Self {
            swing: centre,
            swing_low: swing(MIN_FACTOR, HitPoint::Low),
            turn: turn(MIN_FACTOR, HitPoint::Centre),
            turn_low: turn(MIN_FACTOR, HitPoint::Low),
            edge: Edge {
                swing: swing(MAX_FACTOR, HitPoint::LowerEdge),
                turn: turn(MAX_FACTOR, HitPoint::LowerEdge),
                plate_speed: pendulum.plate_speed(across, MAX_FACTOR),
            },
            centre_rise: pendulum.centre_rise(momentum, incidence, MIN_FACTOR, HitPoint::Centre),
            plate_speed: pendulum.plate_speed(across, MIN_FACTOR),
            period: centre.angle().map_or_else(|| pendulum.period(), |angle| pendulum.period_at(angle)),
            twist: pendulum.twist(across, MIN_FACTOR),
            seen: faintest,
            ring: modes.map(|modes| modes.iter().copied().filter(Mode::is_audible).collect()),
        })
    }

    /// The swing of a hit at the centre in one word.
    #[must_use]
    pub fn liveliness(&self) -> Liveliness {
        self.swing.liveliness()
    }

    /// Whether a low hit can throw the plate over its hangers; on a chain there are none to go over.
    #[must_use]
    pub fn thrown_over(&self) -> bool {
        self.swing_low == Swing::ThrownOver
    }

    /// Whether a low hit can flip the face on its chain.
    #[must_use]
    pub fn flips(&self) -> bool {
        self.swing_low == Swing::Flips || self.turn_low == Swing::Flips
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

    /// The mode that a hit at the centre rings, where it is heard as a pitch.
    #[must_use]
    pub fn centre_mode(&self) -> Option<&Mode> {
        self.ring.as_ref()?.iter().find(|m| m.from_centre)
    }

    /// The pitch of a hit at the centre.
    #[must_use]
    pub fn pitch(&self) -> Option<Frequency> {
        self.centre_mode().map(|mode| mode.frequency)
    }
}

#[cfg(test)]
mod tests;
