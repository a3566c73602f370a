//! Whether a hit is seen from the firing point, and when it is heard.

use super::pattern;
use super::swing::Pendulum;
use crate::load::Load;
use crate::numeric::bisect;
use crate::plate::{Face, Section};
use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};
use crate::spread::Flights;
use serde::{Deserialize, Serialize};

/// Magnification that is taken unless given, and that the least motions are stated for.
pub const MAGNIFICATION: f64 = 20.0;
/// Motion that is made out by day at 20×, arc seconds (house assumption: 10, for the mirage of a warm range).
pub const DAY_ARCSEC: f64 = 10.0;
/// Motion that is made out at best at 20×, arc seconds (house assumption: two arc minutes for the eye, at dawn).
pub const BEST_ARCSEC: f64 = 6.0;
/// A face smaller than this in the glass, arc minutes, is a speck on which no motion is made out (house assumption).
pub const FACE_ARCMIN: f64 = 10.0;
/// The nearest that a swing is looked at from, yd.
const NEAREST_YD: f64 = 10.0;

/// Whether a swing is seen, in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Visible {
    /// By day.
    Visible,
    /// At best: at dawn, without mirage.
    Faint,
    /// Not at all.
    No,
}

impl std::fmt::Display for Visible {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(match self {
            Self::Visible => "visible",
            Self::Faint => "faint",
            Self::No => "no",
        })
    }
}

/// What the swing of a hit looks like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Rise of the lower edge as an angle at the firing point.
    pub motion: Angle,
    /// The smaller side of the face as an angle at the firing point.
    pub face: Angle,
    /// The magnification it is seen through.
    pub magnification: f64,
}

impl Seen {
    /// The rise of the lower edge of a face at a distance, through a magnification.
    #[must_use]
    pub fn new(rise: Length, face: &Face, distance: Length, magnification: f64) -> Self {
        let bounds = Section::of(face).bounds;
        let side = bounds.width().min(bounds.height());
        let angle = |length: Length| Angle::from_si((length.si() / distance.si()).atan());
        Self { motion: angle(rise), face: angle(side), magnification }
    }

    fn is_made_out(&self, arcsec: f64) -> bool {
        let seconds = |angle: Angle| 60.0 * unit::ARCMINUTE.value(angle) * self.magnification;
        seconds(self.motion) >= arcsec * MAGNIFICATION && seconds(self.face) >= 60.0 * FACE_ARCMIN
    }

    /// In one word.
    #[must_use]
    pub fn visible(&self) -> Visible {
        if self.is_made_out(DAY_ARCSEC) {
            Visible::Visible
        } else if self.is_made_out(BEST_ARCSEC) {
            Visible::Faint
        } else {
            Visible::No
        }
    }
}

/// How far a swing is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SpottingRange {
    /// Up to this distance.
    To(Length),
    /// At no distance looked at.
    Nowhere,
    /// As far as the bullet is followed.
    AllTheWay,
}

/// How far a swing is seen by day, and at best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spotting {
    /// By day.
    pub by_day: SpottingRange,
    /// At dawn, without mirage.
    pub at_best: SpottingRange,
}

/// How far the swing of a plate is seen with the slow shot of a load, through a magnification. A shot that does not
/// arrive is not seen.
#[must_use]
pub fn spotting(
    pendulum: &Pendulum,
    face: &Face,
    load: &Load,
    flights: &Flights,
    incidence: Angle,
    magnification: f64,
) -> Spotting {
    let seen = |at: Length| {
        let slow = flights.slow_speed(at).ok().filter(|v| v.si() > 0.0)?;
        let momentum = load.charge_momentum(slow) * pattern::least(load, face, at);
        Some(Seen::new(pendulum.least_rise(momentum, incidence), face, at, magnification))
    };
    let range = |wanted: Visible| {
        farthest(|at| seen(at).is_some_and(|s| s.visible() <= wanted), unit::YARD.of(NEAREST_YD), flights.reach())
    };
    Spotting { by_day: range(Visible::Visible), at_best: range(Visible::Faint) }
}

/// The farthest distance at which something is seen that is seen everywhere before it.
#[must_use]
pub fn farthest(seen: impl Fn(Length) -> bool, nearest: Length, farthest: Length) -> SpottingRange {
    if seen(farthest) {
        return SpottingRange::AllTheWay;
    }
    if !seen(nearest) {
        return SpottingRange::Nowhere;
    }
    let (last, _) = bisect(nearest.si(), farthest.si(), 0.1, |metres| seen(Length::from_si(metres)));
    SpottingRange::To(Length::from_si(last))
}

/// Time from the shot to the ring at the firing point: flight, and the way back at the speed of sound.
#[must_use]
pub fn until_heard(flight: Time, distance: Length, sound: Velocity) -> Time {
    flight + distance / sound
}

#[cfg(test)]
mod tests {
    use super::*;

    fn face(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    #[test]
    fn what_an_eye_makes_out_scales_with_the_glass_and_the_distance() {
        let seen =
            |yards: f64, glass: f64| Seen::new(unit::INCH.of(1.0), &face(60.0), unit::YARD.of(yards), glass).visible();
        // 1 in is 10 arc seconds at 573 yd and 6 at 955 yd.
        assert_eq!([seen(570.0, 20.0), seen(575.0, 20.0)], [Visible::Visible, Visible::Faint]);
        assert_eq!([seen(950.0, 20.0), seen(960.0, 20.0)], [Visible::Faint, Visible::No]);
        assert_eq!([seen(1140.0, 40.0), seen(950.0, 10.0)], [Visible::Visible, Visible::No]);
    }

    #[test]
    fn a_face_that_is_a_speck_in_the_glass_shows_no_motion() {
        // 4 in at 20× are 10 arc minutes at 764 yd (derived): thrown right over it is not seen from 3,000 yd.
        let seen = |yards: f64| Seen::new(unit::INCH.of(8.0), &face(4.0), unit::YARD.of(yards), 20.0).visible();
        assert_eq!([seen(760.0), seen(770.0), seen(3000.0)], [Visible::Visible, Visible::No, Visible::No]);
    }

    #[test]
    fn the_farthest_distance_is_found() {
        let last =
            |limit: f64| farthest(|at| unit::YARD.value(at) <= limit, unit::YARD.of(10.0), unit::YARD.of(3000.0));
        assert!(matches!(last(950.0), SpottingRange::To(d) if (unit::YARD.value(d) - 950.0).abs() < 0.2));
        assert_eq!((last(5.0), last(3000.0)), (SpottingRange::Nowhere, SpottingRange::AllTheWay));
    }

    #[test]
    fn the_ring_comes_back_with_the_speed_of_sound() {
        let heard = until_heard(unit::SECOND.of(1.6), unit::METRE.of(680.588), unit::METRE_PER_SECOND.of(340.294));
        assert!((heard.si() - 3.6).abs() < 1e-12);
    }
}
