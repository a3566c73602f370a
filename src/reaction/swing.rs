//! A hanging plate struck, from its hooks or on a chain.
//!
//! **From hooks** it is a physical pendulum about its hanger line. The hit gives it the angular velocity
//! ω = J·b/I, with J the momentum (times cos of the incidence and a factor 1.0 to 1.2: the splash leaves along
//! the face, and may leave a little backward), b its lever below the hanger, I the moment about it. The peak
//! follows from the energy, ½Iω² = m·g·c·(1 − cos θ).
//!
//! **On a chain**, massless and of a fixed length ℓ, the pull at rest is upright and the hit level: the chain
//! takes nothing of it, and just after it the plate moves as a free one, at J/m with its centre and turning at
//! J·s/I₀, s the distance of the hit from the centre and I₀ the moment about it. What follows is a double
//! pendulum, whose share of lift and turn is not foretold here. Bounds are: all the energy lifts the centre, by
//! h = E/(m·g), and the swing told is the angle about the chain's top, h = (ℓ + c)·(1 − cos θ), to 90°: above its
//! top a chain goes slack, a folded one turns farther, and the plate is told as thrown over; or all of it
//! turns the plate about its own links, E = m·g·c·(1 − cos φ). Where less is the strict side, in what is seen of
//! a faint hit, the centre is taken to rise as that of a rigid pendulum about the chain's top, to which a hit gives
//! the least energy (Bertrand's theorem: a constraint more never gives more); so is the period. Damping is left
//! out, and a chain that goes slack.

use crate::plate::{Face, Mount, Plate, STEEL_KG_M3, Section};
use crate::quantity::{Angle, Energy, Length, Mass, Measure, Momentum, Time, Velocity, unit};

/// Momentum factor of a hit whose splash leaves along the face.
pub const MIN_FACTOR: f64 = 1.0;
/// Momentum factor of the liveliest hit (house assumption).
pub const MAX_FACTOR: f64 = 1.2;
/// Speed of the plate's centre beyond which an open hook may lose it, m/s (house assumption).
pub const HOOK_SPEED_MPS: f64 = 5.0;
/// Swing beyond which a second hit on the return leaves upward, degrees (derived: splash follows the face).
pub const RETURN_DEG: f64 = 20.0;

/// What a plate that hangs free hangs from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hung {
    /// Hooks or links at its hanger line.
    Hooks,
    /// A chain of this length above its hanger line.
    Chain(Length),
}

impl Hung {
    /// What a mount hangs a plate from; `None` where it does not hang free. A chain of a length not said is taken
    /// as none at all: it swings farthest.
    #[must_use]
    pub fn from_mount(mount: Mount, chain: Option<Length>) -> Option<Self> {
        match mount {
            Mount::OpenHook | Mount::CaptiveHook => Some(Self::Hooks),
            Mount::Chain => Some(Self::Chain(chain.unwrap_or_else(|| Length::from_si(0.0)))),
            Mount::Bolted | Mount::Welded => None,
        }
    }
}

/// A hanging plate, SI inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pendulum {
    mass: f64,
    /// About the level line through the centre.
    about_centre: f64,
    /// About the upright line through the centre.
    upright: f64,
    /// Centre below the hanger line.
    centre: f64,
    /// Lower edge below the hanger line.
    lower: f64,
    /// Half the width.
    half_width: f64,
    /// Length of the chain above the hanger line, where it hangs from one.
    chain: Option<f64>,
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
    /// A plate of a face and thickness, hung by the outline's own hangers, or by its top edge.
    #[must_use]
    pub fn hung(face: &Face, plate: &Plate, hung: Hung) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.hanger, hung)
    }

    /// The same with its hanger line at a height above the centre of mass.
    #[must_use]
    pub fn hung_above_centre(face: &Face, plate: &Plate, height: Length, hung: Hung) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.centre.y + height, hung)
    }

    fn from_section(section: &Section, plate: &Plate, hanger: Length, hung: Hung) -> Self {
        let thickness = plate.thickness.si();
        let areal = STEEL_KG_M3 * thickness;
        let mass = areal * section.area.si();
        let across = mass * thickness * thickness / 12.0;
        Self {
            mass,
            about_centre: areal * section.level.si() + across,
            upright: areal * section.upright.si() + across,
            centre: (hanger - section.centre.y).si(),
            lower: (hanger - section.bounds.bottom).si(),
            half_width: 0.5 * section.bounds.width().si(),
            chain: match hung {
                Hung::Hooks => None,
                Hung::Chain(length) => Some(length.si()),
            },
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

    /// Centre below what it swings about: the hanger line, or the chain's top.
    fn drop(&self) -> f64 {
        self.chain.unwrap_or(0.0) + self.centre
    }

    /// Moment about what it swings about, the chain taken as rigid.
    fn inertia(&self) -> f64 {
        self.about_centre + self.mass * self.drop() * self.drop()
    }

    /// Energy that a rise of the centre asks for, J.
    fn lift(&self, rise: f64) -> f64 {
        self.mass * unit::STANDARD_GRAVITY * rise
    }

    /// Energy of a hit of an impulse at a lever below the hanger line, J.
    fn energy(&self, impulse: f64, lever: f64) -> f64 {
        if self.chain.is_some() {
            let off = lever - self.centre;
            0.5 * impulse * impulse * (1.0 / self.mass + off * off / self.about_centre)
        } else {
            self.rigid_energy(impulse, lever)
        }
    }

    /// As [`Pendulum::energy`], as a rigid pendulum about what it swings about: of all the least.
    fn rigid_energy(&self, impulse: f64, lever: f64) -> f64 {
        let turn = impulse * (self.chain.unwrap_or(0.0) + lever);
        0.5 * turn * turn / self.inertia()
    }

    fn impulse(momentum: Momentum, incidence: Angle, factor: f64) -> f64 {
        momentum.si() * incidence.si().cos().abs() * factor
    }

    /// Energy that a hit gives the plate.
    #[must_use]
    pub fn given(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> Energy {
        Energy::from_si(self.energy(Self::impulse(momentum, incidence, factor), self.lever(place)))
    }

    /// The angle at which an energy is spent where the centre hangs `drop` below what turns; over where its cosine
    /// comes to `over`.
    fn spent(&self, energy: Energy, drop: f64, over: f64) -> Swing {
        let cos = 1.0 - energy.si() / self.lift(drop);
        if self.centre <= 0.0 || !(cos > over) { Swing::ThrownOver } else { Swing::To(Angle::from_si(cos.acos())) }
    }

    /// Peak swing of a hit: about the hanger line, or about the chain's top, where all its energy lifts the centre.
    #[must_use]
    pub fn swing(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> Swing {
        let over = if self.chain.is_some() { 0.0 } else { -1.0 };
        self.spent(self.given(momentum, incidence, factor, place), self.drop(), over)
    }

    /// The most that the face can turn out of where it hangs: as the swing from hooks; on a chain, where all the
    /// energy of the hit turns the plate about its own links.
    #[must_use]
    pub fn turn(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> Swing {
        self.spent(self.given(momentum, incidence, factor, place), self.centre, -1.0)
    }

    /// The most that the centre can rise: E/(m·g), no farther than over the top.
    #[must_use]
    pub fn centre_rise(&self, momentum: Momentum, incidence: Angle, factor: f64, place: Place) -> Length {
        let energy = self.given(momentum, incidence, factor, place).si();
        Length::from_si((energy / self.lift(1.0)).min(2.0 * self.drop().max(0.0)))
    }

    /// How far the lower edge is taken to rise after a hit at the centre whose splash leaves along the face. On a
    /// chain as far as the centre of a rigid pendulum, since the face may stay upright all the way, and no higher
    /// than the chain's top, where it goes slack.
    #[must_use]
    pub fn least_rise(&self, momentum: Momentum, incidence: Angle) -> Length {
        if self.chain.is_none() {
            let swing = self.swing(momentum, incidence, MIN_FACTOR, Place::Centre);
            return self.rise(swing.angle().unwrap_or_else(|| unit::DEGREE.of(180.0)));
        }
        let energy = self.rigid_energy(Self::impulse(momentum, incidence, MIN_FACTOR), self.centre);
        Length::from_si((energy / self.lift(1.0)).min(self.drop().max(0.0)))
    }

    /// Speed of the plate as a whole, p/M: what an open hook must hold.
    #[must_use]
    pub fn plate_speed(&self, momentum: Momentum, factor: f64) -> Velocity {
        Velocity::from_si(momentum.si() * factor / self.mass)
    }

    /// Period of small swings, 2π√(I/(m·g·c)), the chain taken as rigid; endless where it hangs at or below its
    /// centre.
    #[must_use]
    pub fn period(&self) -> Time {
        let climb = self.lift(self.drop()).max(0.0);
        Time::from_si(std::f64::consts::TAU * (self.inertia() / climb).sqrt())
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

    /// How far the lower edge rises at a swing about the hanger line.
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
pub fn hanger_for(
    face: &Face,
    plate: &Plate,
    hung: Hung,
    momentum: Momentum,
    factor: f64,
    wanted: Angle,
) -> Option<Length> {
    let tall = 2.0 * Section::of(face).bounds.height().si();
    let swing = |height: f64| {
        let pendulum = Pendulum::hung_above_centre(face, plate, Length::from_si(height), hung);
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
    // On a chain the swing jumps from a right angle to over: a swing wanted between is none.
    let height = 0.5 * (low + high);
    ((swing(height) - wanted.si()).abs() < 1e-3).then(|| Length::from_si(height))
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
        let pendulum = Pendulum::hung(&round(30.0), &plate(0.75), Hung::Hooks);
        let swing = pendulum.swing(ns(0.5), Angle::from_si(SQUARE), 1.0, Place::Centre).angle().unwrap().si();
        let omega = 0.5 * pendulum.centre / pendulum.inertia();
        let closed = omega * (pendulum.inertia() / pendulum.lift(pendulum.centre)).sqrt();
        assert!((swing / closed - 1.0).abs() < 1e-4, "{swing} {closed}");
    }

    #[test]
    fn the_energy_before_and_after_is_the_same() {
        let pendulum = Pendulum::hung(&round(12.0), &plate(0.375), Hung::Hooks);
        for momentum in [0.5, 3.0, 8.0] {
            let omega = momentum * 0.2_f64.cos() * 1.1 * pendulum.lower / pendulum.inertia();
            let Swing::To(angle) = pendulum.swing(ns(momentum), Angle::from_si(0.2), 1.1, Place::LowerEdge) else {
                continue;
            };
            let rise = pendulum.centre * (1.0 - angle.si().cos());
            let (before, after) = (0.5 * pendulum.inertia() * omega * omega, pendulum.lift(rise));
            assert!((before - after).abs() <= 1e-12 * before.max(1.0), "{before} {after}");
        }
    }

    #[test]
    fn a_twelve_inch_plate_swings_and_a_four_inch_one_is_thrown_over() {
        // 168 gr at 2,449 ft/s.
        let momentum = ns(0.010_886 * 746.5);
        let big = Pendulum::hung(&round(12.0), &plate(0.375), Hung::Hooks).swing(
            momentum,
            Angle::from_si(SQUARE),
            1.0,
            Place::Centre,
        );
        let degrees = unit::DEGREE.value(big.angle().unwrap());
        assert!((60.0..72.0).contains(&degrees), "{degrees}");
        let small = Pendulum::hung(&round(4.0), &plate(0.375), Hung::Hooks);
        assert_eq!(small.swing(momentum, Angle::from_si(SQUARE), 1.0, Place::Centre), Swing::ThrownOver);
        assert!(small.plate_speed(momentum, 1.0).si() > HOOK_SPEED_MPS);
    }

    #[test]
    fn the_hanger_line_found_gives_the_swing_wanted() {
        let (face, plate, momentum) = (round(12.0), plate(0.375), ns(8.1));
        for degrees in [30.0, 45.0, 60.0] {
            let wanted = unit::DEGREE.of(degrees);
            let height = hanger_for(&face, &plate, Hung::Hooks, momentum, 1.0, wanted).unwrap();
            let swing = Pendulum::hung_above_centre(&face, &plate, height, Hung::Hooks).swing(
                momentum,
                Angle::from_si(SQUARE),
                1.0,
                Place::Centre,
            );
            assert!((swing.angle().unwrap().si() - wanted.si()).abs() < 1e-6, "{degrees}");
        }
        assert!(hanger_for(&face, &plate, Hung::Hooks, ns(1e-3), 1.0, unit::DEGREE.of(90.0)).is_none());
        let chain = Hung::Chain(unit::INCH.of(6.0));
        assert!(hanger_for(&face, &plate, chain, momentum, 1.0, unit::DEGREE.of(50.0)).is_some());
        assert!(hanger_for(&face, &plate, chain, momentum, 1.0, unit::DEGREE.of(120.0)).is_none());
    }

    fn chained(chain: f64) -> Pendulum {
        Pendulum::hung(&round(12.0), &plate(0.375), Hung::Chain(unit::INCH.of(chain)))
    }

    #[test]
    fn on_a_chain_a_centre_hit_lifts_the_centre_by_its_closed_form() {
        let (pendulum, momentum) = (chained(24.0), 6.0);
        let rise = momentum * momentum / (2.0 * pendulum.mass * pendulum.mass * unit::STANDARD_GRAVITY);
        let told = pendulum.centre_rise(ns(momentum), Angle::from_si(SQUARE), 1.0, Place::Centre).si();
        assert!((told / rise - 1.0).abs() < 1e-12, "{told} {rise}");
        let swing = pendulum.swing(ns(momentum), Angle::from_si(SQUARE), 1.0, Place::Centre).angle().unwrap().si();
        let drop = unit::INCH.of(24.0 + 6.0).si();
        assert!((drop * (1.0 - swing.cos()) / rise - 1.0).abs() < 1e-9);
        // Of a rigid rod as long, ω = J·b/I, the centre rises less.
        let seen = pendulum.least_rise(ns(momentum), Angle::from_si(SQUARE)).si();
        let k = pendulum.about_centre / pendulum.mass;
        assert!((seen / rise * (1.0 + k / (drop * drop)) - 1.0).abs() < 1e-9, "{seen} {rise}");
    }

    #[test]
    fn a_longer_chain_never_swings_farther_and_never_slower_and_none_is_the_worst() {
        let hit = |pendulum: &Pendulum, place| {
            let swing = pendulum.swing(ns(5.0), Angle::from_si(SQUARE), 1.2, place);
            swing.angle().map_or(std::f64::consts::PI, Measure::si)
        };
        let hooks = Pendulum::hung(&round(12.0), &plate(0.375), Hung::Hooks);
        for place in [Place::Centre, Place::LowerEdge] {
            let mut last = f64::INFINITY;
            assert!(hit(&chained(0.0), place) >= hit(&hooks, place));
            for inches in [0.0, 1.0, 3.0, 6.0, 12.0, 48.0, 240.0] {
                let angle = hit(&chained(inches), place);
                assert!(angle <= last, "{inches}");
                last = angle;
            }
        }
        assert!(
            chained(0.0).least_rise(ns(1.0), Angle::from_si(SQUARE))
                < hooks.least_rise(ns(1.0), Angle::from_si(SQUARE))
        );
        assert!(chained(48.0).period() > chained(6.0).period());
        assert!((chained(0.0).period() / hooks.period()).value == 1.0);
    }

    #[test]
    fn a_mount_tells_what_a_plate_hangs_from() {
        let chain = Some(unit::INCH.of(6.0));
        assert_eq!(Hung::from_mount(Mount::Chain, chain), Some(Hung::Chain(unit::INCH.of(6.0))));
        assert_eq!(Hung::from_mount(Mount::Chain, None), Some(Hung::Chain(unit::INCH.of(0.0))));
        assert_eq!(Hung::from_mount(Mount::OpenHook, None), Some(Hung::Hooks));
        assert_eq!(Hung::from_mount(Mount::Bolted, None), None);
    }
}
