//! Whether a hit is seen from the firing point, and when it is heard.

use super::pattern;
use super::swing::Pendulum;
use crate::load::Load;
use crate::numeric::falling;
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
/// Where a spotting range is looked for first, yd.
const LOOKED_TO_YD: [f64; 2] = [600.0, 1500.0];

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

    /// How much of what is wanted is there, the motion and the face: 1 and more is made out.
    fn share(&self, arcsec: f64) -> f64 {
        let seconds = |angle: Angle| 60.0 * unit::ARCMINUTE.value(angle) * self.magnification;
        (seconds(self.motion) / (arcsec * MAGNIFICATION)).min(seconds(self.face) / (60.0 * FACE_ARCMIN))
    }

    /// In one word.
    #[must_use]
    pub fn visible(&self) -> Visible {
        if self.share(DAY_ARCSEC) >= 1.0 {
            Visible::Visible
        } else if self.share(BEST_ARCSEC) >= 1.0 {
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
    /// As far as the bullet is followed, which is here.
    AllTheWay(Length),
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
    let look = Look { pendulum, face, load, incidence, magnification };
    // Most swings are seen no farther than these: there is no need to find how far the bullet gets.
    let mut near = LOOKED_TO_YD.into_iter().filter_map(|yards| {
        let to = unit::YARD.of(yards);
        let speed = flights.follow_slow(to)?;
        Some(look.up_to(to, |at| Some(speed(at))))
    });
    let is_within = |found: &Spotting| !matches!(found.at_best, SpottingRange::AllTheWay(_));
    if let Some(found) = near.find(is_within) {
        return found;
    }
    let reach = flights.reach();
    // A quick look where the slow shot gets that far: what an eye makes out is known to no more.
    match flights.follow_slow(reach) {
        Some(speed) => look.up_to(reach, |at| Some(speed(at))),
        None => look.up_to(reach, |at| flights.slow_speed(at).ok()),
    }
}

/// A plate hit by a load, looked at.
struct Look<'a> {
    pendulum: &'a Pendulum,
    face: &'a Face,
    load: &'a Load,
    incidence: Angle,
    magnification: f64,
}

impl Look<'_> {
    /// How far its swing is seen, looked for up to a distance, by the speeds that arrive.
    fn up_to(&self, to: Length, speed: impl Fn(Length) -> Option<Velocity>) -> Spotting {
        let seen = |at: Length| {
            let slow = speed(at).filter(|v| v.si() > 0.0)?;
            let momentum = self.load.charge_momentum(slow) * pattern::least(self.load, self.face, at);
            Some(Seen::new(self.pendulum.least_rise(momentum, self.incidence), self.face, at, self.magnification))
        };
        let range = |arcsec: f64| {
            let share = |at: Length| seen(at).map_or(0.0, |s| s.share(arcsec));
            farthest(share, unit::YARD.of(NEAREST_YD), to)
        };
        Spotting { by_day: range(DAY_ARCSEC), at_best: range(BEST_ARCSEC) }
    }
}

/// The farthest distance at which something is seen that is seen everywhere before it: where the share of what is
/// wanted, which falls with distance, is 1.
fn farthest(share: impl Fn(Length) -> f64, nearest: Length, farthest: Length) -> SpottingRange {
    if share(farthest) >= 1.0 {
        return SpottingRange::AllTheWay(farthest);
    }
    if share(nearest) < 1.0 {
        return SpottingRange::Nowhere;
    }
    // The share falls over orders of magnitude: its logarithm is nearly straight.
    let log = |metres: f64| share(Length::from_si(metres)).max(0.01).ln();
    let beyond = falling(log, nearest.si(), farthest.si(), FOUND_M);
    SpottingRange::To(Length::from_si((beyond - FOUND_M).max(nearest.si())))
}

/// How well the distance is found, m.
const FOUND_M: f64 = 0.1;

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
        let last = |limit: f64| farthest(|at| limit / unit::YARD.value(at), unit::YARD.of(10.0), unit::YARD.of(3000.0));
        assert!(matches!(last(950.0), SpottingRange::To(d) if (unit::YARD.value(d) - 950.0).abs() < 0.2));
        let all = SpottingRange::AllTheWay(unit::YARD.of(3000.0));
        assert_eq!((last(5.0), last(3000.0)), (SpottingRange::Nowhere, all));
    }

    #[test]
    fn the_ring_comes_back_with_the_speed_of_sound() {
        let heard = until_heard(unit::SECOND.of(1.6), unit::METRE.of(680.588), unit::METRE_PER_SECOND.of(340.294));
        assert!((heard.si() - 3.6).abs() < 1e-12);
    }
}
