//! Whether a hit can be called from the firing point: seen, and heard.

use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};

/// Motion that an eye makes out, arc minutes, divided by the magnification (house assumption).
pub const EYE_ARCMIN: f64 = 2.0;
/// Magnification that is taken unless said.
pub const MAGNIFICATION: f64 = 20.0;

/// What the swing of a hit looks like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Rise of the lower edge as an angle at the firing point.
    pub motion: Angle,
    /// The least that is made out through the glass.
    pub least: Angle,
}

impl Seen {
    /// The rise of the lower edge at a distance, through a magnification.
    #[must_use]
    pub fn new(rise: Length, distance: Length, magnification: f64) -> Self {
        Self {
            motion: Angle::from_si((rise.si() / distance.si()).atan()),
            least: unit::ARCMINUTE.of(EYE_ARCMIN / magnification),
        }
    }

    /// Whether it can be called; mirage may hide it all the same.
    #[must_use]
    pub fn can_be_called(&self) -> bool {
        self.motion >= self.least
    }
}

/// How far a swing can be called.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Called {
    /// Up to this distance.
    To(Length),
    /// At no distance looked at.
    Nowhere,
    /// As far as was looked.
    AllTheWay,
}

/// How far a swing can be called, where the rise at each distance is known: the motion falls with distance.
#[must_use]
pub fn farthest_called(
    rise: impl Fn(Length) -> Option<Length>,
    magnification: f64,
    nearest: Length,
    farthest: Length,
) -> Called {
    let called = |metres: f64| {
        let at = Length::from_si(metres);
        rise(at).is_some_and(|r| Seen::new(r, at, magnification).can_be_called())
    };
    if called(farthest.si()) {
        return Called::AllTheWay;
    }
    if !called(nearest.si()) {
        return Called::Nowhere;
    }
    let (mut low, mut high) = (nearest.si(), farthest.si());
    while high - low > 0.1 {
        let middle = 0.5 * (low + high);
        if called(middle) { low = middle } else { high = middle }
    }
    Called::To(Length::from_si(low))
}

/// Time from the shot to the ring at the firing point: flight, and the way back at the speed of sound.
#[must_use]
pub fn until_heard(flight: Time, distance: Length, sound: Velocity) -> Time {
    flight + distance / sound
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_an_eye_makes_out_scales_with_the_glass_and_the_distance() {
        let seen = |yards: f64, glass: f64| Seen::new(unit::INCH.of(1.0), unit::YARD.of(yards), glass);
        // 1 in at 100 yd is 0.95 arc minutes.
        assert!((unit::ARCMINUTE.value(seen(100.0, 20.0).motion) - 0.955).abs() < 1e-3);
        assert!(
            seen(900.0, 20.0).can_be_called()
                && !seen(1000.0, 20.0).can_be_called()
                && seen(1000.0, 25.0).can_be_called()
        );
        let last = |glass: f64| {
            farthest_called(|_| Some(unit::INCH.of(1.0)), glass, unit::YARD.of(10.0), unit::YARD.of(3000.0))
        };
        assert!(matches!(last(20.0), Called::To(d) if (unit::YARD.value(d) - 954.9).abs() < 1.0), "{:?}", last(20.0));
        assert_eq!((last(0.1), last(100.0)), (Called::Nowhere, Called::AllTheWay));
    }

    #[test]
    fn the_ring_comes_back_with_the_speed_of_sound() {
        let heard = until_heard(unit::SECOND.of(1.6), unit::METRE.of(680.588), unit::METRE_PER_SECOND.of(340.294));
        assert!((heard.si() - 3.6).abs() < 1e-12);
    }
}
