//! The fast and the slow shot: one-sided bounds of speed at distance.
//!
//! The muzzle velocity and the ballistic coefficient are moved to their bounds one at a time, each is
//! flown, and the two gains are root-sum-squared. Where drag bends, in the transonic, that alone is up to
//! 2.5 ft/s low; so the shot with both moved at once, in the proportion of their gains and as improbable
//! as the bound, is flown too, and the larger gain counts.

use super::carry::Carry;
use super::conditions::FlightConditions;
use super::muzzle::{day_muzzle, mean_for, mean_muzzle, muzzle_bound, own_z, powder, slowest};
use crate::air::Air;
use crate::drag::{Drag, DragModel};
use crate::flight::{Arrival, Flight, FlightError, Path};
use crate::load::Load;
use crate::numeric::falling;
use crate::quantity::{Angle, Length, Measure, Range, Temperature, Velocity, unit};
use crate::strike::Strike;
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};

/// Slopes below this are downhill enough for a slow bullet to gain speed: every bullet above 100 m/s loses more
/// to drag than gravity gives on −10°.
const STEEP_DOWN_RAD: f64 = -0.175;
/// Speeds of a kind that are remembered.
const REMEMBERED: usize = 16;
/// How far a bullet is followed to find where it suits: beyond it lies out of reach.
pub const FOLLOWED_YD: f64 = 3000.0;

/// A bound of speed: a base flight, the flights with one thing moved, and what to move both with.
#[derive(Debug, Clone)]
pub(super) struct Bound {
    pub(super) base: Flight,
    pub(super) muzzle: Flight,
    pub(super) coefficient: Flight,
    /// +1 for the fast shot, −1 for the slow one.
    pub(super) sign: f64,
    mover: Mover,
}

/// Moves the muzzle velocity and the coefficient by shares of their bounds.
#[derive(Debug, Clone)]
struct Mover {
    drag: Drag,
    air: Air,
    slope: Angle,
    muzzle: Velocity,
    /// Signed, to the bound.
    muzzle_by: Velocity,
    coefficient_by: f64,
}

impl Mover {
    fn flight(&self, muzzle_share: f64, coefficient_share: f64) -> Result<Flight, FlightError> {
        let speed = (self.muzzle + self.muzzle_by * muzzle_share).max(slowest());
        let factor = (1.0 + self.coefficient_by * coefficient_share).max(0.05);
        Flight::new(&self.drag.scaled(factor), speed, &self.air, self.slope)
    }
}

impl Bound {
    fn new(mover: Mover, sign: f64) -> Result<Self, FlightError> {
        Ok(Self {
            base: mover.flight(0.0, 0.0)?,
            muzzle: mover.flight(1.0, 0.0)?,
            coefficient: mover.flight(0.0, 1.0)?,
            sign,
            mover,
        })
    }

    /// The bound of speed at a distance.
    fn speed(&self, distance: Length) -> Result<Velocity, FlightError> {
        self.speed_about(self.base.arrive(distance)?.speed, distance)
    }

    /// The same where the base's own speed is known.
    fn speed_about(&self, base: Velocity, distance: Length) -> Result<Velocity, FlightError> {
        let gain = |flight: &Flight| Ok(self.sign * (flight.arrive(distance)?.speed - base).si());
        let (muzzle, coefficient) = (gain(&self.muzzle)?, gain(&self.coefficient)?);
        let apart = muzzle.hypot(coefficient);
        let together =
            if apart > 0.0 { gain(&self.mover.flight(muzzle.abs() / apart, coefficient.abs() / apart)?)? } else { 0.0 };
        Ok(base + Velocity::from_si(self.sign * apart.max(together)))
    }
}

/// How much each source moves the fast (or slow) shot from the mean one at a distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gains {
    /// Powder temperature, and the difference between the ends of the weather.
    pub weather: Velocity,
    /// Spread of the muzzle velocity.
    pub muzzle: Velocity,
    /// Spread of the ballistic coefficient.
    pub coefficient: Velocity,
}

/// A load flown: the mean shot and the bounds, at any distance.
#[derive(Debug)]
pub struct Flights {
    pub(super) mean: Flight,
    pub(super) fast: Bound,
    pub(super) slow: Bound,
    pellet: Option<Carry>,
    slope_rad: f64,
    /// Whether what the slow shots are spread about is the mean shot: on a day of one air.
    is_one_day: bool,
    /// Mean muzzle velocities of the day, and what is listed between them.
    day_muzzle: Range<Velocity>,
    reach: OnceLock<Length>,
    /// Fast and slow speeds by distance: the plates of a chart ask for the same floors again and again.
    seen_fast: Seen,
    seen_slow: Seen,
}

/// The latest speeds that were found, by distance, m and m/s.
#[derive(Debug, Default)]
struct Seen(Mutex<Vec<(f64, f64)>>);

impl Seen {
    /// What is remembered; a thread that ended amid it leaves nothing half written.
    fn known(&self) -> MutexGuard<'_, Vec<(f64, f64)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The speed at a distance, found anew where it is not remembered.
    fn speed(
        &self,
        distance: Length,
        find: impl FnOnce() -> Result<Velocity, FlightError>,
    ) -> Result<Velocity, FlightError> {
        let metres = distance.si();
        let known = self.known().iter().find(|(at, _)| at.total_cmp(&metres).is_eq()).map(|seen| seen.1);
        if let Some(mps) = known {
            return Ok(Velocity::from_si(mps));
        }
        let speed = find()?;
        let mut known = self.known();
        if known.len() == REMEMBERED {
            known.clear();
        }
        known.push((metres, speed.si()));
        Ok(speed)
    }
}

impl Flights {
    /// Flies a load. The mean shot flies in the thin end of the weather, its powder at the day's middle.
    ///
    /// # Errors
    /// [`FlightError`] where it can't be flown: on a slope too steep, with a drag table that ends below the muzzle's
    /// Mach number, or in a range of weather whose hot end is not its fast end.
    pub fn new(load: &Load, conditions: &FlightConditions) -> Result<Self, FlightError> {
        let facts = load.facts();
        let (a, b) = (conditions.thin.sound_speed(), conditions.dense.sound_speed());
        if facts.drag.model() == DragModel::Own && a != b && !facts.drag.curve().hotter_is_faster() {
            return Err(FlightError::Weather);
        }
        let share = load.bc_sd().si();
        let bound = |air: &Air, powder_at: Temperature, sign: f64| {
            let mover = Mover {
                drag: facts.drag.clone(),
                air: *air,
                slope: conditions.slope,
                muzzle: mean_for(load, sign) + powder(load, powder_at, sign),
                muzzle_by: sign * muzzle_bound(load, conditions),
                coefficient_by: sign * own_z(load, conditions) * share,
            };
            Bound::new(mover, sign)
        };
        let mean = Flight::new(&facts.drag, mean_muzzle(load, conditions), &conditions.thin, conditions.slope)?;
        let slow = bound(&conditions.dense, conditions.coldest, -1.0)?;
        Ok(Self {
            fast: bound(&conditions.thin, conditions.hottest, 1.0)?,
            is_one_day: conditions.thin == conditions.dense && slow.base.muzzle() == mean.muzzle(),
            slow,
            reach: OnceLock::new(),
            seen_fast: Seen::default(),
            seen_slow: Seen::default(),
            pellet: Carry::of_pellet(load),
            slope_rad: conditions.slope.si(),
            day_muzzle: day_muzzle(load, conditions),
            mean,
        })
    }

    /// What arrives at a distance.
    ///
    /// # Errors
    /// [`FlightError`] where the mean shot does not reach it.
    pub fn strike(&self, distance: Length) -> Result<Strike, FlightError> {
        self.strike_for(distance, true)
    }

    /// The slope that it is flown on, positive uphill.
    #[must_use]
    pub fn slope(&self) -> Angle {
        Angle::from_si(self.slope_rad)
    }

    /// What arrives at a distance; the slow shot is flown only where somebody asks for it, and zero elsewhere.
    ///
    /// # Errors
    /// As [`Flights::strike`].
    pub fn strike_for(&self, distance: Length, with_slow: bool) -> Result<Strike, FlightError> {
        let mean = self.mean.arrive(distance)?;
        let base = if self.is_mean_base() { Some(mean.speed) } else { None };
        let fast = self.seen_fast.speed(distance, || match base {
            Some(base) => self.fast.speed_about(base, distance),
            None => self.fast.speed(distance),
        })?;
        Ok(Strike { fast, ..self.strike_of(&mean, distance, with_slow)? })
    }

    /// What ends how far a load suits: the fall, and the slow shot where somebody asks for it; the fast shot, which only
    /// grows slower, is not flown, and zero.
    pub(crate) fn strike_far(&self, distance: Length, with_slow: bool) -> Result<Strike, FlightError> {
        self.strike_of(&self.mean.arrive(distance)?, distance, with_slow)
    }

    fn strike_of(&self, mean: &Arrival, distance: Length, with_slow: bool) -> Result<Strike, FlightError> {
        // What the slow shots are spread about falls the most steeply: in dense air, from cold powder. What does not
        // arrive there any more comes down from above.
        let slowest = if self.is_one_day { Ok(*mean) } else { self.slow.base.arrive(distance) };
        let steepest = slowest.as_ref().map_or(unit::DEGREE.of(90.0), |slowest| slowest.descent.max(mean.descent));
        let slope = Angle::from_si(self.slope_rad);
        Ok(Strike {
            distance,
            muzzle: self.day_muzzle,
            mean: mean.speed,
            mach: mean.mach,
            time: mean.time,
            descent: mean.descent,
            fall: mean.descent - slope,
            steepest: steepest - slope,
            fast: Velocity::from_si(0.0),
            slow: if with_slow {
                self.slow_of(distance, || self.slow.speed_about(slowest?.speed, distance))?
            } else {
                Velocity::from_si(0.0)
            },
        })
    }

    /// Upper bound of speed at a distance.
    ///
    /// # Errors
    /// [`FlightError`] where the shot does not reach it.
    pub fn fast_speed(&self, distance: Length) -> Result<Velocity, FlightError> {
        self.seen_fast.speed(distance, || self.fast.speed(distance))
    }

    /// Lower bound of speed at a distance; zero where the slow shot doesn't arrive.
    ///
    /// # Errors
    /// [`FlightError`] for what is wrong with the distance itself.
    pub fn slow_speed(&self, distance: Length) -> Result<Velocity, FlightError> {
        self.slow_of(distance, || self.slow.speed(distance))
    }

    fn slow_of(
        &self,
        distance: Length,
        find: impl FnOnce() -> Result<Velocity, FlightError>,
    ) -> Result<Velocity, FlightError> {
        self.seen_slow.speed(distance, || match find() {
            Ok(speed) => Ok(speed.max(Velocity::from_si(0.0))),
            Err(FlightError::OutOfReach { .. }) => Ok(Velocity::from_si(0.0)),
            Err(error) => Err(error),
        })
    }

    /// How much each source adds to the fast shot at a distance.
    ///
    /// # Errors
    /// [`FlightError`] where the shot does not reach it.
    pub fn fast_gains(&self, distance: Length) -> Result<Gains, FlightError> {
        let base = self.fast.base.arrive(distance)?.speed;
        Ok(Gains {
            weather: base - self.mean.arrive(distance)?.speed,
            muzzle: self.fast.muzzle.arrive(distance)?.speed - base,
            coefficient: self.fast.coefficient.arrive(distance)?.speed - base,
        })
    }

    /// How far a miss carries over level ground: the fast shot's, in the thin end of the weather; a pellet by the
    /// handbook's rule for lead balls. A caution, never a promise.
    #[must_use]
    pub fn carry(&self) -> Option<Carry> {
        if self.pellet.is_some() {
            return self.pellet;
        }
        let fast = &self.fast;
        let (base, launch) = fast.base.carry().ok()?;
        // About the farthest launch the range hardly changes: the moved shots are as good from the same one.
        let gain = |flight: &Flight| (flight.carried(launch) - base).si().max(0.0);
        let gains = Length::from_si(gain(&fast.muzzle).hypot(gain(&fast.coefficient)));
        Some(Carry::of_bullet(base + gains))
    }

    /// Mean velocities at the muzzle of the day, from the coldest powder to the hottest; what is listed lies between.
    #[must_use]
    pub fn muzzle(&self) -> Range<Velocity> {
        self.day_muzzle
    }

    /// How far the mean shot is followed.
    #[must_use]
    pub fn reach(&self) -> Length {
        *self.reach.get_or_init(|| self.mean.reach(unit::YARD.of(FOLLOWED_YD)))
    }

    /// The closest distance between `from` and `to` at and beyond which the fast shot is no faster than
    /// `limit`; `None` where it is faster at `to`, or does not get so slow before it is lost.
    ///
    /// The root is found on dense paths, which are then aimed at it anew until it stays.
    #[must_use]
    pub fn fast_falls_to(&self, limit: Velocity, from: Length, to: Length) -> Option<Length> {
        let met = |metres: f64| {
            let distance = Length::from_si(metres);
            self.is_fast_within(limit, distance).map_or_else(|| self.fast_speed(distance).map(|v| v <= limit), Ok)
        };
        let (mut low, mut high) = (from.si(), from.si().max(25.0));
        // Outward by doubling: most limits lie near, where a flight is cheap.
        loop {
            high = (2.0 * high).min(to.si());
            match met(high) {
                Ok(true) => break,
                Ok(false) if high < to.si() => low = high,
                Ok(false) | Err(_) => return self.fast_falls_within(limit, low, high, to),
            }
        }
        self.root(limit, low, high)
    }

    /// The far end could not be flown to, or is still too fast there: look up to where the bullet is followed.
    fn fast_falls_within(&self, limit: Velocity, low: f64, high: f64, to: Length) -> Option<Length> {
        let reach = self.reach().min(to).si();
        if reach <= low || reach >= high {
            return None;
        }
        match self.fast_speed(Length::from_si(reach)) {
            Ok(speed) if speed <= limit => self.root(limit, low, reach),
            _ => None,
        }
    }

    /// The root between a distance where it is too fast and one where it is not: found on dense paths aimed at
    /// the far one, then mended by secants on paths aimed at the root itself.
    fn root(&self, limit: Velocity, low: f64, high: f64) -> Option<Length> {
        let paths = BoundPaths::aimed(&self.fast, high)?;
        let dense = |s: f64| paths.speed(s) - limit.si();
        let excess = |s: f64| self.fast_speed(Length::from_si(s)).ok().map(|v| v.si() - limit.si());
        let mut at = falling(dense, low, high, 0.25 * ROOT_TOLERANCE_M);
        let mut slope = ((dense(at) - dense(at - 0.5)) / 0.5).min(-MIN_SLOPE);
        for _ in 0..ROOT_ROUNDS {
            let miss = excess(at)?;
            let next = (at - miss / slope).clamp(low, high);
            let moved = next - at;
            if moved.abs() <= SETTLED_M {
                at = next;
                break;
            }
            let there = excess(next)?;
            if (there - miss) / moved < -MIN_SLOPE {
                slope = (there - miss) / moved;
            }
            at = next;
        }
        self.confirmed(limit, at, high)
    }

    /// The root moved outward, by as little as it takes, until a path aimed at it is no faster than the limit.
    fn confirmed(&self, limit: Velocity, root: f64, high: f64) -> Option<Length> {
        let mut nudge = ROOT_TOLERANCE_M;
        let mut metres = root;
        while metres < high {
            if self.fast_speed(Length::from_si(metres)).ok()? <= limit {
                return Some(Length::from_si(metres));
            }
            metres += nudge;
            nudge *= 2.0;
        }
        Some(Length::from_si(high))
    }

    /// Whether the mean shot is the one that the fast shot is spread about: both fly in the thin end of the weather, and
    /// on a day of one temperature the same powder drives them.
    fn is_mean_base(&self) -> bool {
        self.mean.muzzle() == self.fast.base.muzzle()
    }

    /// The load followed on dense paths aimed at a far distance, for quick looks at nearer ones. `None` where it
    /// does not get there.
    #[must_use]
    pub fn follow(&self, farthest: Length) -> Option<Followed<'_>> {
        let mean = if self.is_mean_base() { None } else { Some(self.mean.path(farthest).ok()?) };
        let steep = if self.is_one_day { None } else { Some(self.slow.base.path(farthest).ok()?) };
        let fast = BoundPaths::aimed(&self.fast, farthest.si())?;
        let launch_rad = launch(mean.as_ref().unwrap_or(&fast.base));
        Some(Followed {
            mean,
            launch_rad,
            steep: steep.map(|path| (launch(&path), path)),
            fast,
            slope_rad: self.slope_rad,
            day_muzzle: self.day_muzzle,
        })
    }

    /// The slow shot on dense paths aimed at a far distance, for looks that need no exact speed: the speed at a
    /// nearer distance, its spreads combined without the joint shot. `None` where it does not get there.
    pub(crate) fn follow_slow(&self, farthest: Length) -> Option<impl Fn(Length) -> Velocity> {
        let paths = BoundPaths::aimed(&self.slow, farthest.si())?;
        Some(move |at: Length| Velocity::from_si(paths.speed(at.si()).max(0.0)))
    }

    /// Whether a bullet this fast slows down all the way on this slope: downhill a slow one may gain speed.
    #[must_use]
    pub fn slows_down(&self) -> bool {
        self.slope_rad >= STEEP_DOWN_RAD
    }
}

/// Most rounds of aiming at the root: the second already moves it by less than a millimetre.
const ROOT_ROUNDS: u32 = 6;
/// The least a bullet slows down, (m/s)/m, so that a secant stays a step.
const MIN_SLOPE: f64 = 1e-3;
/// A secant that moves the root by less than this has found it: what it leaves is its square.
const SETTLED_M: f64 = 1e-3;
/// How well the root is found, m.
const ROOT_TOLERANCE_M: f64 = 1e-5;

/// The three paths of a bound, dense, aimed at one distance.
#[derive(Debug)]
struct BoundPaths<'f> {
    base: Path<'f>,
    muzzle: Path<'f>,
    coefficient: Path<'f>,
    sign: f64,
}

impl<'f> BoundPaths<'f> {
    fn aimed(bound: &'f Bound, metres: f64) -> Option<Self> {
        let at = Length::from_si(metres);
        Some(Self {
            base: bound.base.path(at).ok()?,
            muzzle: bound.muzzle.path(at).ok()?,
            coefficient: bound.coefficient.path(at).ok()?,
            sign: bound.sign,
        })
    }

    fn speed(&self, s: f64) -> f64 {
        let (base, muzzle, coefficient) = self.moved(s);
        base + self.sign * muzzle.hypot(coefficient)
    }

    /// The base's speed, and what each of the moved shots differs from it by.
    fn moved(&self, s: f64) -> (f64, f64, f64) {
        let base = self.base.speed_mps(s);
        (base, self.muzzle.speed_mps(s) - base, self.coefficient.speed_mps(s) - base)
    }

    /// The speed with what a quick look adds to it.
    fn quick(&self, s: f64) -> f64 {
        let (base, muzzle, coefficient) = self.moved(s);
        let joint = QUICK_PER_MPS * (muzzle * coefficient).abs();
        base + self.sign * (muzzle.hypot(coefficient) + joint + QUICK_MPS)
    }
}

/// A load on dense paths: a quick look errs to the strict side only.
#[derive(Debug)]
pub struct Followed<'f> {
    /// `None` where the mean shot is the one that the fast shot is spread about.
    mean: Option<Path<'f>>,
    /// How steeply it is launched, rad.
    launch_rad: f64,
    /// The same of what falls the most steeply; `None` where that is the mean shot.
    steep: Option<(f64, Path<'f>)>,
    fast: BoundPaths<'f>,
    slope_rad: f64,
    day_muzzle: Range<Velocity>,
}

/// What a quick look adds to the fast shot, m/s: what aiming at another distance changes, and the joint shot where
/// spreads are small, come to less than 1 m/s.
pub(super) const QUICK_MPS: f64 = 1.5;
/// What it adds for the joint shot where spreads are large, a share of the product of the two gains, per m/s: the most
/// that was found, in the transonic, is 0.02.
pub(super) const QUICK_PER_MPS: f64 = 0.025;
/// What a quick look adds to the fall, rad, since a face must not lean too far over.
const QUICK_RAD: f64 = 1e-3;

/// How steeply a path leaves the line of slope, rad. A path aimed farther leaves higher, and falls less at a nearer
/// distance: by its launch at most.
fn launch(path: &Path) -> f64 {
    (-path.at(Length::from_si(0.0)).descent.si()).max(0.0)
}

impl Followed<'_> {
    /// A strike no less strict than the exact one, but for its slow shot, which is not flown.
    #[must_use]
    pub fn look(&self, distance: Length) -> Strike {
        let mean = self.mean.as_ref().unwrap_or(&self.fast.base).at(distance);
        let at_most = |descent: Angle, launch_rad: f64| descent + Angle::from_si(launch_rad + QUICK_RAD);
        let descent = at_most(mean.descent, self.launch_rad);
        let steep = self.steep.as_ref().map(|(launch_rad, path)| at_most(path.at(distance).descent, *launch_rad));
        let steep = steep.map_or(descent, |steep| steep.max(descent));
        Strike {
            distance,
            muzzle: self.day_muzzle,
            mean: mean.speed,
            mach: mean.mach,
            time: mean.time,
            descent,
            fall: descent - Angle::from_si(self.slope_rad),
            steepest: steep - Angle::from_si(self.slope_rad),
            fast: Velocity::from_si(self.fast.quick(distance.si())),
            slow: Velocity::from_si(0.0),
        }
    }

    /// A speed that the fast shot is no slower than.
    pub(crate) fn least_fast(&self, distance: Length) -> Velocity {
        Velocity::from_si(self.fast.speed(distance.si()) - QUICK_MPS)
    }
}
