//! A hanging plate struck: a physical pendulum about its hanger line.
//!
//! The hit gives the plate the angular velocity ω = J·b/I, with J the momentum (times cos of the incidence
//! and a factor 1.0 to 1.2: the splash leaves along the face, and may leave a little backward), b its lever
//! below the hanger, I the moment about it. The peak follows from the energy, ½Iω² = m·g·c·(1 − cos θ).

use crate::plate::{Face, Plate, STEEL_KG_M3, Section};
use crate::quantity::{Angle, Length, Mass, Measure, Momentum, Time, Velocity, unit};

/// Momentum factor of a hit whose splash leaves along the face.
pub const LEAST_FACTOR: f64 = 1.0;
/// Momentum factor of the liveliest hit (house assumption).
pub const MOST_FACTOR: f64 = 1.2;
/// Speed of the plate's centre beyond which an open hook may lose it, m/s (house assumption).
pub const HOOK_SPEED_MPS: f64 = 5.0;
/// Swing beyond which a second hit on the return leaves upward, degrees (derived: splash follows the face).
pub const RETURN_DEG: f64 = 20.0;

/// A hanging plate, SI inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pendulum {
    mass: f64,
    /// About the hanger line.
    inertia: f64,
    /// About the upright line through the centre.
    upright: f64,
    /// Centre below the hanger line.
    centre: f64,
    /// Lower edge below the hanger line.
    lower: f64,
    /// Half the width.
    half_width: f64,
}

/// How far a plate swings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Swing {
    /// To this angle.
    To(Angle),
    /// Over the top.
    ThrownOver,
}

impl Swing {
    /// The angle, where it stays below the top.
    #[must_use]
    pub fn angle(&self) -> Option<Angle> {
        match self {
            Self::To(angle) => Some(*angle),
            Self::ThrownOver => None,
        }
    }
}

/// Where on the plate a hit lands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// At the centre of mass.
    Centre,
    /// At the lower edge: the worst for swing.
    LowerEdge,
    /// At a distance below the hanger line.
    Below(Length),
}

impl Pendulum {
    /// A plate of a face and thickness on its hangers: the outline's own, or its top edge.
    #[must_use]
    pub fn hung(face: &Face, plate: &Plate) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.hanger)
    }

    /// The same on a hanger line at a height above the centre of mass.
    #[must_use]
    pub fn hung_above_centre(face: &Face, plate: &Plate, height: Length) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.centre.y + height)
    }

    fn from_section(section: &Section, plate: &Plate, hanger: Length) -> Self {
        let thickness = plate.thickness.si();
        let areal = STEEL_KG_M3 * thickness;
        let mass = areal * section.area.si();
        let across = mass * thickness * thickness / 12.0;
        let centre = (hanger - section.centre.y).si();
        Self {
            mass,
            inertia: areal * section.level.si() + across + mass * centre * centre,
            upright: areal * section.upright.si() + across,
            centre,
            lower: (hanger - section.bounds.bottom).si(),
            half_width: 0.5 * section.bounds.width().si(),
        }
    }

    /// Mass of the plate.
    #[must_use]
    pub fn mass(&self) -> Mass {
        Mass::from_si(self.mass)
    }

    /// Lower edge below the hanger line.
    #[must_use]
    pub fn lower_edge(&self) -> Length {
        Length::from_si(self.lower)
    }

    fn lever(&self, place: Place) -> f64 {
        match place {
            Place::Centre => self.centre,
            Place::LowerEdge => self.lower,
            Place::Below(below) => below.si(),
        }
    }

    /// Energy that the top asks for over that at rest.
    fn climb(&self) -> f64 {
        self.mass * unit::STANDARD_GRAVITY * self.centre
    }

    /// The angular velocity that a hit gives, rad/s.
    fn kick(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> f64 {
        momentum.si() * incidence.si().cos().abs() * factor * self.lever(place) / self.inertia
    }

    /// Peak swing of a hit.
    #[must_use]
    pub fn swing(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> Swing {
        let omega = self.kick(momentum, incidence, factor, place);
        let cos = 1.0 - 0.5 * self.inertia * omega * omega / self.climb();
        if self.centre <= 0.0 || cos <= -1.0 { Swing::ThrownOver } else { Swing::To(Angle::from_si(cos.acos())) }
    }

    /// Speed of the plate as a whole, p/M: what an open hook must hold.
    #[must_use]
    pub fn plate_speed(&self, momentum: Momentum, factor: f64) -> Velocity {
        Velocity::from_si(momentum.si() * factor / self.mass)
    }

    /// Period of small swings, 2π√(I/(m·g·c)); endless where it hangs at or below its centre.
    #[must_use]
    pub fn period(&self) -> Time {
        let climb = self.climb().max(0.0);
        Time::from_si(std::f64::consts::TAU * (self.inertia / climb).sqrt())
    }

    /// Period of swings to an amplitude, by the complete elliptic integral (arithmetic–geometric mean).
    #[must_use]
    pub fn period_at(&self, amplitude: Angle) -> Time {
        self.period() * period_ratio(amplitude)
    }

    /// Turn about the upright line that a hit at the edge gives, rad/s.
    #[must_use]
    pub fn twist(&self, momentum: Momentum, factor: f64) -> f64 {
        momentum.si() * factor * self.half_width / self.upright
    }

    /// How far the lower edge rises at a swing.
    #[must_use]
    pub fn rise(&self, swing: Angle) -> Length {
        Length::from_si(self.lower * (1.0 - swing.si().cos()))
    }
}

/// Period at an amplitude over that of small swings: 1/agm(1, cos(θ/2)).
#[must_use]
pub fn period_ratio(amplitude: Angle) -> f64 {
    let (mut a, mut b) = (1.0, (0.5 * amplitude.si()).cos());
    while (a - b).abs() > 1e-15 {
        (a, b) = (0.5 * (a + b), (a * b).sqrt());
    }
    1.0 / a
}

/// Where the hanger line should lie above the centre of mass for a swing wanted of a centre hit; `None` where
/// no height within twice the plate's own gives it.
#[must_use]
pub fn hanger_for(face: &Face, plate: &Plate, momentum: Momentum, factor: f64, wanted: Angle) -> Option<Length> {
    let tall = 2.0 * Section::of(face).bounds.height().si();
    let swing = |height: f64| {
        let pendulum = Pendulum::hung_above_centre(face, plate, Length::from_si(height));
        pendulum
            .swing(momentum, Angle::from_si(0.0), factor, Place::Centre)
            .angle()
            .map_or(std::f64::consts::PI, Measure::si)
    };
    // From low to high the swing first grows, then falls: the higher of the two lines is the calmer, so it is
    // looked for from above.
    let steps = 400;
    let at = |i: i32| tall * f64::from(i) / f64::from(steps);
    let found = (1..steps).rev().find(|&i| (swing(at(i)) - wanted.si()) * (swing(at(i + 1)) - wanted.si()) <= 0.0)?;
    let (mut low, mut high) = (at(found), at(found + 1));
    let falls = swing(low) > swing(high);
    while high - low > 1e-9 {
        let middle = 0.5 * (low + high);
        if (swing(middle) > wanted.si()) == falls { low = middle } else { high = middle }
    }
    Some(Length::from_si(0.5 * (low + high)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plate(inches: f64) -> Plate {
        Plate::new("test", unit::INCH.of(inches)).unwrap()
    }

    fn round(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    fn ns(value: f64) -> Momentum {
        Momentum::from_si(value)
    }

    const SQUARE: f64 = 0.0;

    #[test]
    fn a_heavy_plate_swings_by_the_small_angle_closed_form() {
        let pendulum = Pendulum::hung(&round(30.0), &plate(0.75));
        let swing = pendulum.swing(ns(0.5), Angle::from_si(SQUARE), 1.0, Place::Centre).angle().unwrap().si();
        let omega = 0.5 * pendulum.centre / pendulum.inertia;
        let closed = omega * (pendulum.inertia / pendulum.climb()).sqrt();
        assert!((swing / closed - 1.0).abs() < 1e-4, "{swing} {closed}");
    }

    #[test]
    fn the_energy_before_and_after_is_the_same() {
        let pendulum = Pendulum::hung(&round(12.0), &plate(0.375));
        for momentum in [0.5, 3.0, 8.0] {
            let omega = pendulum.kick(ns(momentum), Angle::from_si(0.2), 1.1, Place::LowerEdge);
            let Swing::To(angle) = pendulum.swing(ns(momentum), Angle::from_si(0.2), 1.1, Place::LowerEdge) else {
                continue;
            };
            let (before, after) = (0.5 * pendulum.inertia * omega * omega, pendulum.climb() * (1.0 - angle.si().cos()));
            assert!((before - after).abs() <= 1e-12 * before.max(1.0), "{before} {after}");
        }
    }

    #[test]
    fn a_twelve_inch_plate_swings_and_a_four_inch_one_is_thrown_over() {
        // 168 gr at 2,449 ft/s.
        let momentum = ns(0.010_886 * 746.5);
        let big =
            Pendulum::hung(&round(12.0), &plate(0.375)).swing(momentum, Angle::from_si(SQUARE), 1.0, Place::Centre);
        let degrees = unit::DEGREE.value(big.angle().unwrap());
        assert!((60.0..72.0).contains(&degrees), "{degrees}");
        let small = Pendulum::hung(&round(4.0), &plate(0.375));
        assert_eq!(small.swing(momentum, Angle::from_si(SQUARE), 1.0, Place::Centre), Swing::ThrownOver);
        assert!(small.plate_speed(momentum, 1.0).si() > HOOK_SPEED_MPS);
    }

    #[test]
    fn the_hanger_line_found_gives_the_swing_wanted() {
        let (face, plate, momentum) = (round(12.0), plate(0.375), ns(8.1));
        for degrees in [30.0, 45.0, 60.0] {
            let wanted = unit::DEGREE.of(degrees);
            let height = hanger_for(&face, &plate, momentum, 1.0, wanted).unwrap();
            let swing = Pendulum::hung_above_centre(&face, &plate, height).swing(
                momentum,
                Angle::from_si(SQUARE),
                1.0,
                Place::Centre,
            );
            assert!((swing.angle().unwrap().si() - wanted.si()).abs() < 1e-6, "{degrees}");
        }
        assert!(hanger_for(&face, &plate, ns(1e-3), 1.0, unit::DEGREE.of(90.0)).is_none());
    }
}
