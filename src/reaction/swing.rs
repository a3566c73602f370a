//! A hanging plate struck, from its hooks or on a chain.
//!
//! **From hooks** it is a physical pendulum about its hanger line. The hit gives it the angular velocity
//! ω = J·b/I, with J the momentum times the cosine of the incidence (the splash leaves along the face; a factor of
//! 1.2 is that of the edge case, whose splash leaves a little backward), b its lever below the hanger, I the moment
//! about it. The peak follows from the energy, ½Iω² = m·g·c·(1 − cos θ).
//!
//! **On a chain**, massless and of a fixed length ℓ, the pull at rest is upright and the hit level: the chain
//! takes nothing of it, and just after it the plate moves as a free one, at J/m with its centre and turning at
//! J·s/I₀, s the distance of the hit from the centre and I₀ the moment about it. What follows is a double
//! pendulum, whose share of lift and turn is not foretold here. Bounds are: all the energy lifts the centre, by
//! h = E/(m·g), and the swing told is the angle about the chain's top, h = (ℓ + c)·(1 − cos θ), to 90°: above its
//! top a chain goes slack, and the plate is told as flipping; or all of it turns the plate about its own links,
//! E = m·g·c·(1 − cos φ), and beyond the top its face flips. It goes over no hanger. Where less is the strict side, in what is seen of
//! a faint hit, the centre is taken to rise as that of a rigid pendulum about the chain's top, to which a hit gives
//! the least energy (Bertrand's theorem: a constraint more never gives more); so is the period. Damping is left
//! out, and a chain that goes slack.

use crate::plate::{Face, Mount, Plate, STEEL_KG_M3, Section};
use crate::quantity::{Angle, Energy, Length, Mass, Measure, Momentum, Time, Velocity, unit};
use serde::{Deserialize, Serialize};

/// Momentum factor of a hit whose splash leaves along the face.
pub const MIN_FACTOR: f64 = 1.0;
/// Momentum factor of the edge case, whose splash leaves a little backward (house assumption).
pub const MAX_FACTOR: f64 = 1.2;
/// The lowest hit that is reckoned with, as a share of the way from the centre to the lower edge (house assumption:
/// nearer to the edge a bullet is as likely to miss).
pub const LOW_SHARE: f64 = 0.85;
/// Speed of the plate's centre beyond which an open hook may lose it, m/s (house assumption).
pub const HOOK_SPEED_MPS: f64 = 5.0;
/// Swing beyond which a second hit on the return leaves upward, degrees (derived: splash follows the face).
pub const RETURN_DEG: f64 = 20.0;

/// What a plate that hangs free hangs from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Suspension {
    /// Hooks or links at its hanger line.
    Hooks,
    /// A chain of this length above its hanger line.
    Chain(Length),
}

impl Suspension {
    /// What a mount hangs a plate from; `None` where it does not hang free. A chain of a length not given is taken
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
    i_xx: f64,
    /// About the upright line through the centre.
    i_yy: f64,
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
    /// On a chain: the chain goes slack, or the face turns right over about its own links.
    Flips,
    /// From hooks: over its hangers.
    ThrownOver,
}

/// A swing in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Liveliness {
    /// Up to 20°: a second hit on the return does not leave upward.
    Calm,
    /// Up to a right angle.
    Lively,
    /// Beyond it, where the plate no longer hangs from what holds it.
    Over,
}

impl std::fmt::Display for Liveliness {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(match self {
            Self::Calm => "calm",
            Self::Lively => "lively",
            Self::Over => "over",
        })
    }
}

impl Swing {
    /// The angle, where it stays below the top.
    #[must_use]
    pub fn angle(&self) -> Option<Angle> {
        match self {
            Self::To(angle) => Some(*angle),
            Self::Flips | Self::ThrownOver => None,
        }
    }

    /// In one word.
    #[must_use]
    pub fn liveliness(&self) -> Liveliness {
        match self.angle().map(|angle| unit::DEGREE.value(angle)) {
            Some(degrees) if degrees <= RETURN_DEG => Liveliness::Calm,
            Some(degrees) if degrees <= 90.0 => Liveliness::Lively,
            _ => Liveliness::Over,
        }
    }
}

/// Where on the plate a hit lands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HitPoint {
    /// At the centre of mass.
    Centre,
    /// At 85 % of the way from the centre to the lower edge: the lowest that is reckoned with.
    Low,
    /// At the very lower edge.
    LowerEdge,
    /// At a distance below the hanger line.
    Below(Length),
}

impl Pendulum {
    /// Where the centre of mass lies below the hanger line.
    pub(super) fn centre_below(&self) -> f64 {
        self.centre
    }

    /// A plate of a face and thickness, hung by the outline's own hangers, or by its top edge.
    #[must_use]
    pub fn hung(face: &Face, plate: &Plate, suspension: Suspension) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.hanger, suspension)
    }

    /// The same with its hanger line at a height above the centre of mass.
    #[must_use]
    pub fn hung_above_centre(face: &Face, plate: &Plate, height: Length, suspension: Suspension) -> Self {
        let section = Section::of(face);
        Self::from_section(&section, plate, section.centre.y + height, suspension)
    }

    fn from_section(section: &Section, plate: &Plate, hanger: Length, suspension: Suspension) -> Self {
        let thickness = plate.thickness.si();
        let areal = STEEL_KG_M3 * thickness;
        let mass = areal * section.area.si();
        let across = mass * thickness * thickness / 12.0;
        Self {
            mass,
            i_xx: areal * section.i_xx.si() + across,
            i_yy: areal * section.i_yy.si() + across,
            centre: (hanger - section.centre.y).si(),
            lower: (hanger - section.bounds.bottom).si(),
            half_width: 0.5 * section.bounds.width().si(),
            chain: match suspension {
                Suspension::Hooks => None,
                Suspension::Chain(length) => Some(length.si()),
            },
        }
    }

    /// Mass of the plate.
    #[must_use]
    pub fn mass(&self) -> Mass {
        Mass::from_si(self.mass)
    }

    fn lever(&self, point: HitPoint) -> f64 {
        match point {
            HitPoint::Centre => self.centre,
            HitPoint::Low => self.centre + LOW_SHARE * (self.lower - self.centre),
            HitPoint::LowerEdge => self.lower,
            HitPoint::Below(below) => below.si(),
        }
    }

    /// Centre below what it swings about: the hanger line, or the chain's top.
    fn drop(&self) -> f64 {
        self.chain.unwrap_or(0.0) + self.centre
    }

    /// Moment about what it swings about, the chain taken as rigid.
    fn inertia(&self) -> f64 {
        self.i_xx + self.mass * self.drop() * self.drop()
    }

    /// Energy that a rise of the centre asks for, J.
    fn lift(&self, rise: f64) -> f64 {
        self.mass * unit::STANDARD_GRAVITY * rise
    }

    /// Energy of a hit of an impulse at a lever below the hanger line, J.
    fn energy(&self, impulse: f64, lever: f64) -> f64 {
        if self.chain.is_some() {
            let off = lever - self.centre;
            0.5 * impulse * impulse * (1.0 / self.mass + off * off / self.i_xx)
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
    pub fn given(&self, momentum: Momentum, incidence: Angle, factor: f64, point: HitPoint) -> Energy {
        Energy::from_si(self.energy(Self::impulse(momentum, incidence, factor), self.lever(point)))
    }

    /// The angle at which an energy is spent where the centre hangs `drop` below what turns; over where its cosine
    /// comes to `over`.
    fn spent(&self, energy: Energy, drop: f64, over: f64) -> Swing {
        let cos = 1.0 - energy.si() / self.lift(drop);
        if self.centre > 0.0 && cos > over {
            Swing::To(Angle::from_si(cos.acos()))
        } else if self.chain.is_some() {
            Swing::Flips
        } else {
            Swing::ThrownOver
        }
    }

    /// Peak swing of a hit: about the hanger line, or about the chain's top, where all its energy lifts the centre.
    #[must_use]
    pub fn swing(&self, momentum: Momentum, incidence: Angle, factor: f64, point: HitPoint) -> Swing {
        let over = if self.chain.is_some() { 0.0 } else { -1.0 };
        self.spent(self.given(momentum, incidence, factor, point), self.drop(), over)
    }

    /// The most that the face can turn out of where it hangs: as the swing from hooks; on a chain, where all the
    /// energy of the hit turns the plate about its own links.
    #[must_use]
    pub fn turn(&self, momentum: Momentum, incidence: Angle, factor: f64, point: HitPoint) -> Swing {
        self.spent(self.given(momentum, incidence, factor, point), self.centre, -1.0)
    }

    /// The most that the centre can rise: E/(m·g), no farther than over the top.
    #[must_use]
    pub fn centre_rise(&self, momentum: Momentum, incidence: Angle, factor: f64, point: HitPoint) -> Length {
        let energy = self.given(momentum, incidence, factor, point).si();
        Length::from_si((energy / self.lift(1.0)).min(2.0 * self.drop().max(0.0)))
    }

    /// How far the lower edge is taken to rise after a hit at the centre whose splash leaves along the face. On a
    /// chain as far as the centre of a rigid pendulum, since the face may stay upright all the way, and no higher
    /// than the chain's top, where it goes slack.
    #[must_use]
    pub fn least_rise(&self, momentum: Momentum, incidence: Angle) -> Length {
        if self.chain.is_none() {
            let swing = self.swing(momentum, incidence, MIN_FACTOR, HitPoint::Centre);
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
        momentum.si() * factor * self.half_width / self.i_yy
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
        let pendulum = Pendulum::hung(&round(30.0), &plate(0.75), Suspension::Hooks);
        let swing = pendulum.swing(ns(0.5), Angle::from_si(SQUARE), 1.0, HitPoint::Centre).angle().unwrap().si();
        let omega = 0.5 * pendulum.centre / pendulum.inertia();
        let closed = omega * (pendulum.inertia() / pendulum.lift(pendulum.centre)).sqrt();
        assert!((swing / closed - 1.0).abs() < 1e-4, "{swing} {closed}");
    }

    #[test]
    fn the_energy_before_and_after_is_the_same() {
        let pendulum = Pendulum::hung(&round(12.0), &plate(0.375), Suspension::Hooks);
        for momentum in [0.5, 3.0, 8.0] {
            let omega = momentum * 0.2_f64.cos() * 1.1 * pendulum.lower / pendulum.inertia();
            let Swing::To(angle) = pendulum.swing(ns(momentum), Angle::from_si(0.2), 1.1, HitPoint::LowerEdge) else {
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
        let big = Pendulum::hung(&round(12.0), &plate(0.375), Suspension::Hooks).swing(
            momentum,
            Angle::from_si(SQUARE),
            1.0,
            HitPoint::Centre,
        );
        let degrees = unit::DEGREE.value(big.angle().unwrap());
        assert!((60.0..72.0).contains(&degrees), "{degrees}");
        let small = Pendulum::hung(&round(4.0), &plate(0.375), Suspension::Hooks);
        assert_eq!(small.swing(momentum, Angle::from_si(SQUARE), 1.0, HitPoint::Centre), Swing::ThrownOver);
        assert!(small.plate_speed(momentum, 1.0).si() > HOOK_SPEED_MPS);
    }

    fn chained(chain: f64) -> Pendulum {
        Pendulum::hung(&round(12.0), &plate(0.375), Suspension::Chain(unit::INCH.of(chain)))
    }

    #[test]
    fn on_a_chain_a_centre_hit_lifts_the_centre_by_its_closed_form() {
        let (pendulum, momentum) = (chained(24.0), 6.0);
        let rise = momentum * momentum / (2.0 * pendulum.mass * pendulum.mass * unit::STANDARD_GRAVITY);
        let told = pendulum.centre_rise(ns(momentum), Angle::from_si(SQUARE), 1.0, HitPoint::Centre).si();
        assert!((told / rise - 1.0).abs() < 1e-12, "{told} {rise}");
        let swing = pendulum.swing(ns(momentum), Angle::from_si(SQUARE), 1.0, HitPoint::Centre).angle().unwrap().si();
        let drop = unit::INCH.of(24.0 + 6.0).si();
        assert!((drop * (1.0 - swing.cos()) / rise - 1.0).abs() < 1e-9);
        // Of a rigid rod as long, ω = J·b/I, the centre rises less.
        let seen = pendulum.least_rise(ns(momentum), Angle::from_si(SQUARE)).si();
        let k = pendulum.i_xx / pendulum.mass;
        assert!((seen / rise * (1.0 + k / (drop * drop)) - 1.0).abs() < 1e-9, "{seen} {rise}");
    }

    #[test]
    fn a_longer_chain_never_swings_farther_and_never_slower_and_none_is_the_worst() {
        let hit = |pendulum: &Pendulum, point| {
            let swing = pendulum.swing(ns(5.0), Angle::from_si(SQUARE), 1.2, point);
            swing.angle().map_or(std::f64::consts::PI, Measure::si)
        };
        let hooks = Pendulum::hung(&round(12.0), &plate(0.375), Suspension::Hooks);
        for point in [HitPoint::Centre, HitPoint::LowerEdge] {
            let mut last = f64::INFINITY;
            assert!(hit(&chained(0.0), point) >= hit(&hooks, point));
            for inches in [0.0, 1.0, 3.0, 6.0, 12.0, 48.0, 240.0] {
                let angle = hit(&chained(inches), point);
                assert!(angle <= last, "{inches}");
                last = angle;
            }
        }
        assert!(
            chained(0.0).least_rise(ns(1.0), Angle::from_si(SQUARE))
                < hooks.least_rise(ns(1.0), Angle::from_si(SQUARE))
        );
        assert!(chained(48.0).period() > chained(6.0).period());
        assert!((chained(0.0).period() / hooks.period()).si() == 1.0);
    }

    #[test]
    fn what_hangs_safely_every_weekend_is_not_thrown_over() {
        // Common practice: a .22 pistol (40 gr at 1,000 ft/s) on a 6 in plate at 10 yd, a 9 mm (115 gr at
        // 1,150 ft/s) on an 8 in and a 10 in one swing, wherever they land.
        let (rimfire, nine) = (ns(0.79), ns(2.61));
        for (inches, momentum) in [(6.0, rimfire), (8.0, nine), (10.0, nine)] {
            let pendulum = Pendulum::hung(&round(inches), &plate(0.375), Suspension::Hooks);
            let low = pendulum.swing(momentum, Angle::from_si(SQUARE), MIN_FACTOR, HitPoint::Low);
            assert!(low.angle().is_some(), "{inches}");
            assert!(pendulum.plate_speed(momentum, MIN_FACTOR).si() < HOOK_SPEED_MPS, "{inches}");
        }
    }

    #[test]
    fn on_a_chain_a_face_flips_and_goes_over_no_hanger() {
        let (light, hard) = (chained(6.0), ns(40.0));
        for point in [HitPoint::Centre, HitPoint::Low, HitPoint::LowerEdge] {
            assert_eq!(light.swing(hard, Angle::from_si(SQUARE), 1.0, point), Swing::Flips);
            assert_eq!(light.turn(hard, Angle::from_si(SQUARE), 1.0, point), Swing::Flips);
        }
        assert_eq!(Swing::Flips.liveliness(), Liveliness::Over);
    }

    #[test]
    fn a_low_hit_lies_between_the_centre_and_the_edge() {
        let pendulum = Pendulum::hung(&round(12.0), &plate(0.375), Suspension::Hooks);
        let angle = |point| pendulum.swing(ns(2.0), Angle::from_si(SQUARE), 1.0, point).angle().unwrap();
        assert!(angle(HitPoint::Centre) < angle(HitPoint::Low) && angle(HitPoint::Low) < angle(HitPoint::LowerEdge));
        let below = unit::INCH.of(6.0 + 0.85 * 6.0);
        assert!((angle(HitPoint::Low) - angle(HitPoint::Below(below))).si().abs() < 1e-12);
    }

    #[test]
    fn a_swing_is_calm_to_where_a_return_hit_leaves_upward_and_over_beyond_a_right_angle() {
        let word = |degrees: f64| Swing::To(unit::DEGREE.of(degrees)).liveliness();
        assert_eq!([word(5.0), word(20.0)], [Liveliness::Calm; 2]);
        assert_eq!([word(21.0), word(90.0)], [Liveliness::Lively; 2]);
        assert_eq!([word(91.0), Swing::ThrownOver.liveliness()], [Liveliness::Over; 2]);
        assert_eq!(Liveliness::Calm.to_string(), "calm");
    }

    #[test]
    fn a_mount_tells_what_a_plate_hangs_from() {
        let chain = Some(unit::INCH.of(6.0));
        assert_eq!(Suspension::from_mount(Mount::Chain, chain), Some(Suspension::Chain(unit::INCH.of(6.0))));
        assert_eq!(Suspension::from_mount(Mount::Chain, None), Some(Suspension::Chain(unit::INCH.of(0.0))));
        assert_eq!(Suspension::from_mount(Mount::OpenHook, None), Some(Suspension::Hooks));
        assert_eq!(Suspension::from_mount(Mount::Bolted, None), None);
    }
}
