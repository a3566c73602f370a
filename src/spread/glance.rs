//! What arrives at most, by bounds and without flying: the bullet goes straight through the thinnest air of its way.
//! For many loads that is far from any limit, and settles the matter.

use super::shots::{Bound, Flights, QUICK_MPS, QUICK_PER_MPS};
use crate::flight::Flight;
use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};
use crate::strike::Strike;

/// The steepest slope that is looked at: higher up, where sound is slower, drag is another.
const MAX_RISE: f64 = 0.26;
/// The steepest fall to the line of slope that is looked at, rad: a launch is flatter still, since a bullet slows down.
const MAX_FALL: f64 = 0.25;
/// How high above the line of slope such a path goes at most, a share of its length.
const BUMP: f64 = 0.1;
/// How much longer it is than its line, at the most.
const STRETCH: f64 = 1.032;
/// What its fall gains by its own slope, at the most, as a factor.
const STEEPER: f64 = 1.15;
/// Parts that a fall is summed over, each at its slowest.
const PARTS: u32 = 4;
/// How much more than by straight paths the spread comes to, as a factor.
const SPREADS: f64 = 1.05;
/// What a speed must be above a limit to be surely above it, rounding apart.
const SURE_MPS: f64 = 0.01;

/// A speed of the fast or the slow shot lies between these, m/s.
#[derive(Clone, Copy)]
struct Between {
    low: f64,
    high: f64,
}

impl Bound {
    /// Speeds that the bound lies between after `s` metres on a rise, a sine; `None` for what may not arrive.
    fn between(&self, s: f64, rise: f64) -> Option<Between> {
        let thin = |flight: &Flight| flight.straight(s, (rise + BUMP) * s, 1.0);
        let base = thin(&self.base)?;
        let (muzzle, coefficient) = (thin(&self.muzzle)? - base, thin(&self.coefficient)? - base);
        let apart = muzzle.hypot(coefficient);
        let spread = SPREADS * apart + QUICK_PER_MPS * (muzzle * coefficient).abs() + QUICK_MPS;
        // A bullet gains as much by falling as its path rises above the line, at most.
        let (least, most) = (slowed(&self.base, s, rise)?, base + unit::STANDARD_GRAVITY * BUMP * s / base);
        let is_fast = self.sign > 0.0;
        Some(if is_fast {
            Between { low: least, high: most + spread }
        } else {
            Between { low: least - spread, high: most }
        })
    }
}

/// A speed that a flight is no slower than after `s` metres on a rise, m/s; `None` where it may be lost.
fn slowed(flight: &Flight, s: f64, rise: f64) -> Option<f64> {
    let dense = flight.straight(s, 0.0, STRETCH)?;
    let squared = dense * dense - 2.0 * unit::STANDARD_GRAVITY * (rise + BUMP) * s;
    (squared > 0.0).then(|| squared.sqrt())
}

/// How steeply a flight falls to the line of slope after `s` metres, at the most, rad.
fn steepest(flight: &Flight, s: f64, rise: f64) -> Option<f64> {
    let part = s / f64::from(PARTS);
    let bend = |end: u32| slowed(flight, part * f64::from(end), rise).map(|mps| part / (mps * mps));
    let bends = (1..=PARTS).map(bend).sum::<Option<f64>>()?;
    Some(STEEPER * unit::STANDARD_GRAVITY * bends)
}

impl Flights {
    /// The rise of the slope, a sine, where there are bounds on it: downhill there are none.
    fn rise(&self) -> Option<f64> {
        Some(self.slope().si().sin()).filter(|rise| (0.0..=MAX_RISE).contains(rise))
    }

    /// A strike no less strict than the exact one, but for its slow shot; only what rules measure of it holds. `None`
    /// where there is no such bound, and for what may not arrive.
    pub(crate) fn glance(&self, distance: Length) -> Option<Strike> {
        let (s, rise) = (distance.si(), self.rise()?);
        let (mean, descent) = self.arrives(s, rise)?;
        let steep = steepest(&self.slow.base, s, rise).filter(|steep| *steep < MAX_FALL)?.max(descent);
        let fast = self.fast.between(s, rise)?.high;
        let descent = Angle::from_si(descent);
        Some(Strike {
            distance,
            muzzle: self.muzzle(),
            mean: Velocity::from_si(mean),
            mach: 0.0,
            time: Time::from_si(0.0),
            descent,
            fall: descent - self.slope(),
            steepest: Angle::from_si(steep) - self.slope(),
            fast: Velocity::from_si(fast),
            slow: Velocity::from_si(0.0),
        })
    }

    /// What the mean shot is no slower than, m/s, and falls no more steeply than, rad; `None` for what may not arrive.
    fn arrives(&self, s: f64, rise: f64) -> Option<(f64, f64)> {
        let mean = slowed(&self.mean, s, rise)?;
        let descent = steepest(&self.mean, s, rise)?;
        (descent < MAX_FALL).then_some((mean, descent))
    }

    /// Whether the fast shot arrives no faster than a limit, where bounds tell.
    pub(crate) fn is_fast_within(&self, limit: Velocity, distance: Length) -> Option<bool> {
        let (s, rise) = (distance.si(), self.rise()?);
        self.arrives(s, rise)?;
        let fast = self.fast.between(s, rise)?;
        if fast.high <= limit.si() {
            return Some(true);
        }
        (fast.low > limit.si() + SURE_MPS).then_some(false)
    }

    /// Whether bounds tell that the slow shot arrives no slower than a limit.
    pub(crate) fn is_slow_above(&self, limit: Velocity, distance: Length) -> bool {
        let s = distance.si();
        let is_above = |rise: f64| {
            let slow = self.slow.between(s, rise)?;
            // The slowest of its shots arrives as well.
            let fall = STEEPER * unit::STANDARD_GRAVITY * s / (slow.low * slow.low);
            Some(slow.low >= limit.si() && slow.low > 0.0 && fall < MAX_FALL)
        };
        self.rise().and_then(is_above) == Some(true)
    }
}
