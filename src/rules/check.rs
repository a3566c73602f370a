//! A compiled rule, and where a value stands to its limit. Numbers are SI.

use super::demand;
use super::rule::{Rule, Sense, Side, Verdict};
use super::subject::Subject;
use super::value::{at_least, at_most};
use crate::quantity::{Energy, Length, Mass, Measure};

/// What a rule that changes with distance is measured on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gauge {
    Distance,
    Fast,
    Slow,
    /// Mean velocity at the muzzle on the day: the same at every distance.
    Muzzle,
    /// Lean of the face to the line of sight: the bullet's fall does not count.
    LeanToSight,
    /// Lean of the face to the arriving bullet.
    LeanToBullet,
}

/// How a subject grows with what is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Power {
    One,
    /// Energy with speed.
    Two,
    /// Demand with speed.
    FourThirds,
}

impl Power {
    pub fn of(self, x: f64) -> f64 {
        match self {
            Self::One => x,
            Self::Two => x * x,
            Self::FourThirds => x.powf(4.0 / 3.0),
        }
    }

    pub fn root(self, x: f64) -> f64 {
        match self {
            Self::One => x,
            Self::Two => x.sqrt(),
            Self::FourThirds => x.powf(0.75),
        }
    }
}

/// One rule that applies, compiled.
#[derive(Debug, Clone)]
pub(super) struct CompiledRule<'r> {
    pub rule: &'r Rule,
    pub within: f64,
    /// The last value that suits, in the subject's own quantity, before factors.
    pub limit: Option<f64>,
    pub check: Check,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Check {
    /// The same at every distance.
    Fixed { verdict: Verdict, actual: Option<f64>, margin: Option<f64> },
    /// A limit on what is measured; energy and demand are turned into a speed, `power` turns back.
    Moving { gauge: Gauge, side: Side, suits: f64, borderline: f64, power: Power },
    /// Something to say.
    Caution { gauge: Option<Gauge>, below: f64, above: f64 },
    /// A factor that was taken.
    Factor(f64),
}

impl CompiledRule<'_> {
    /// Whether it speaks of the load alone: the same on every plate, however it stands, from everywhere.
    pub fn is_of_load(&self) -> bool {
        let is_same = match self.check {
            Check::Fixed { .. } => matches!(
                self.rule.subject,
                Subject::Case | Subject::Calibre | Subject::MuzzleSpeed | Subject::MuzzleEnergy
            ),
            Check::Moving { gauge, .. } => {
                gauge == Gauge::Muzzle && !matches!(self.rule.sense, Sense::ByThickness { .. })
            }
            Check::Caution { .. } | Check::Factor(_) => false,
        };
        is_same && self.within.is_infinite() && self.rule.filter.admits_any_plate()
    }
}

impl Check {
    /// Whether it can come to a verdict or weigh a hit.
    pub fn counts(&self) -> bool {
        match self {
            Self::Fixed { verdict, .. } => *verdict != Verdict::Suits,
            Self::Moving { .. } => true,
            Self::Caution { .. } | Self::Factor(_) => false,
        }
    }

    /// Whether nearer it is no less strict: the bullet's fall grows with distance, and the slow shot fades.
    pub fn is_stricter_nearer(&self) -> bool {
        !matches!(self, Self::Moving { gauge: Gauge::Slow | Gauge::LeanToBullet, .. })
    }

    /// Whether it is a caution of what arrives by flight.
    pub fn warns_by_flight(&self) -> bool {
        matches!(self, Self::Caution { gauge: Some(Gauge::Fast | Gauge::LeanToBullet), .. })
    }

    /// Whether it speaks of the slow shot.
    pub fn asks_slow(&self) -> bool {
        matches!(self, Self::Moving { gauge: Gauge::Slow, .. } | Self::Caution { gauge: Some(Gauge::Slow), .. })
    }
}

/// So many concerns borderline at once come to this verdict.
#[derive(Debug, Clone, Copy)]
pub(super) struct Together<'r> {
    pub rule: &'r Rule,
    pub concerns: u32,
    pub outcome: Verdict,
}

/// What turns energy and demand into the bullet's speed and back.
#[derive(Debug, Clone, Copy)]
pub(super) struct Projectile {
    pub mass: Mass,
    pub thickness: Length,
    /// Mass of all projectiles of a shot: a limit at the muzzle is on what the firearm does.
    pub charge: Mass,
}

impl Projectile {
    /// The speed at which the subject has a value.
    pub fn speed(self, subject: Subject, value: f64) -> f64 {
        match subject {
            Subject::Energy => (2.0 * value / self.mass.si()).sqrt(),
            Subject::MuzzleEnergy => (2.0 * value / self.charge.si()).sqrt(),
            Subject::Demand => {
                let energy = demand::energy(self.thickness * value, self.mass);
                (2.0 * energy.si() / self.mass.si()).sqrt()
            }
            _ => value,
        }
    }

    /// The subject's value at what is measured.
    pub fn value(self, subject: Subject, measured: f64) -> f64 {
        let energy = 0.5 * self.mass.si() * measured * measured;
        match subject {
            Subject::Energy => energy,
            Subject::MuzzleEnergy => 0.5 * self.charge.si() * measured * measured,
            Subject::Demand => {
                let thickness = demand::thickness(Energy::from_si(energy), self.mass);
                thickness.si() / self.thickness.si()
            }
            _ => measured,
        }
    }
}

/// Where a value stands; what is not a number is unsuitable.
pub(super) fn level(side: Side, suits: f64, borderline: f64, value: f64) -> Verdict {
    let within = |limit| match side {
        Side::AtMost => at_most(value, limit),
        Side::AtLeast => at_least(value, limit),
    };
    if within(suits) {
        Verdict::Suits
    } else if within(borderline) {
        Verdict::Borderline
    } else {
        Verdict::Unsuitable
    }
}

/// The share of a limit to spare; none of a limit of zero, which has no share, nor of an angle's sign.
pub(super) fn margin(side: Side, limit: f64, value: f64, power: Power) -> Option<f64> {
    if limit <= 0.0 {
        return None;
    }
    let share = power.of(value / limit);
    let margin = match side {
        Side::AtMost => 1.0 - share,
        Side::AtLeast => share - 1.0,
    };
    margin.is_finite().then_some(margin)
}
