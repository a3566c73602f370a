//! The aimed path, by steps of Dormand and Prince's 5(4) pair in slant distance.

use super::arrival::{Arrival, FlightError};
use super::time_form;
use crate::air::Air;
use crate::drag::{BOTTOM_MACH, Drag, IntegralTable, TOP_MACH};
use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};

/// The steepest slope that is flown, degrees.
pub const MOST_SLOPE_DEG: f64 = 60.0;
/// A bullet slower than this along the line has not arrived, m/s.
const LEAST_SPEED_MPS: f64 = 30.0;
/// The steepest launch above the line of slope, as a tangent: tan 20°.
const MOST_LAUNCH: f64 = 0.364;
/// Offset from the target that counts as hit, per metre of distance: it moves a speed by p·Δp, some 1e-7 of it.
const AIM_TOLERANCE: f64 = 2e-5;
/// How much more than the tolerance a run may err that only looks for the launch.
const COARSE: f64 = 200.0;
/// Nearer than this a path is a step or two anyway, m.
const COARSE_BEYOND_M: f64 = 60.0;
/// Most attempts at aiming.
const MOST_AIMS: u32 = 12;
/// Error of a step in q: a speed errs by the share Cd·Δq, so the whole stays below 0.01 ft/s (tests compare
/// with the twin).
const TOLERANCE_Q: f64 = 5e-7;
/// Error of a step in p: it moves the speed only by p·Δp.
const TOLERANCE_P: f64 = 5e-6;
/// Error of a step in n, m: a millimetre of height moves no air.
const TOLERANCE_N_M: f64 = 1e-3;
/// Error of a step in t, s.
const TOLERANCE_T_S: f64 = 1e-6;
/// The longest step, m.
const LONGEST_STEP_M: f64 = 400.0;
/// The most steps of one path; a bullet within reach takes fewer than 60.
const MOST_STEPS: u32 = 400;

/// State along the path, SI: q, p, n, t.
pub(super) type State = [f64; 4];

/// One bullet from one muzzle in one air on one slope; cheap to make.
#[derive(Debug, Clone)]
pub struct Flight {
    drag: Drag,
    muzzle_mps: f64,
    air: Air,
    sin: f64,
    cos: f64,
    pub(super) gravity: f64,
}

/// A node of a path: where, the state, and its rate there.
#[derive(Debug, Clone, Copy)]
struct Node {
    s: f64,
    y: State,
    rate: State,
}

/// An aimed path with dense output.
#[derive(Debug, Clone)]
pub struct Path<'f> {
    flight: &'f Flight,
    nodes: Vec<Node>,
    evaluations: u32,
}

/// Everything the rates need, gathered once per run.
pub(super) struct Core<'f> {
    table: &'f IntegralTable,
    flight: &'f Flight,
    /// (π/8)/BC of the band.
    k: f64,
    /// Factor on the tolerance.
    ease: f64,
    evaluations: u32,
}

impl Core<'_> {
    #[cfg(test)]
    pub(super) fn table(&self) -> &IntegralTable {
        self.table
    }

    /// The rates of q, p, n, t; `None` where the bullet is too slow to follow.
    #[inline]
    pub(super) fn rates(&mut self, s: f64, y: &State) -> Option<State> {
        self.evaluations += 1;
        let flight = self.flight;
        let (mach, per_cd) = self.table.at(y[0])?;
        let p = y[1];
        let air = flight.air.at(s * flight.sin + y[2] * flight.cos);
        let stretch = (1.0 + p * p).sqrt();
        let per_v = 1.0 / (mach * air.sound_mps);
        let per_along = stretch * per_v;
        if per_along > 1.0 / LEAST_SPEED_MPS {
            return None;
        }
        let rise = flight.sin + p * flight.cos;
        let drag = self.k * air.density * stretch;
        let q = drag + (flight.gravity * per_v * per_v + air.sound_gradient_per_m) * rise * per_cd;
        let bend = flight.gravity * (flight.cos - p * flight.sin);
        Some([q, -bend * per_along * per_along, p, per_along])
    }

    /// One step of the pair: the new state, its rate, and the error over the tolerance.
    #[inline]
    pub(super) fn step(&mut self, s: f64, y: &State, k1: &State, h: f64) -> Option<(State, State, f64)> {
        let k2 = self.rates(s + 0.2 * h, &mix(y, h, [(0.2, k1)]))?;
        let k3 = self.rates(s + 0.3 * h, &mix(y, h, [(3.0 / 40.0, k1), (9.0 / 40.0, &k2)]))?;
        let k4 = self.rates(s + 0.8 * h, &mix(y, h, [(44.0 / 45.0, k1), (-56.0 / 15.0, &k2), (32.0 / 9.0, &k3)]))?;
        let stage5 = [(19372.0 / 6561.0, k1), (-25360.0 / 2187.0, &k2), (64448.0 / 6561.0, &k3), (-212.0 / 729.0, &k4)];
        let k5 = self.rates(s + 8.0 / 9.0 * h, &mix(y, h, stage5))?;
        let stage6 = [
            (9017.0 / 3168.0, k1),
            (-355.0 / 33.0, &k2),
            (46732.0 / 5247.0, &k3),
            (49.0 / 176.0, &k4),
            (-5103.0 / 18656.0, &k5),
        ];
        let k6 = self.rates(s + h, &mix(y, h, stage6))?;
        let end = [
            (35.0 / 384.0, k1),
            (500.0 / 1113.0, &k3),
            (125.0 / 192.0, &k4),
            (-2187.0 / 6784.0, &k5),
            (11.0 / 84.0, &k6),
        ];
        let next = mix(y, h, end);
        let k7 = self.rates(s + h, &next)?;
        let difference = [
            (71.0 / 57600.0, k1),
            (-71.0 / 16695.0, &k3),
            (71.0 / 1920.0, &k4),
            (-17253.0 / 339_200.0, &k5),
            (22.0 / 525.0, &k6),
            (-1.0 / 40.0, &k7),
        ];
        let e = mix(&[0.0; 4], h, difference);
        let error = (e[0].abs() * (1.0 / TOLERANCE_Q))
            .max(e[1].abs() * (1.0 / TOLERANCE_P))
            .max(e[2].abs() * (1.0 / TOLERANCE_N_M))
            .max(e[3].abs() * (1.0 / TOLERANCE_T_S));
        Some((next, k7, error / self.ease))
    }
}

/// y + h·Σ w·k.
#[inline]
fn mix<const N: usize>(y: &State, h: f64, weighted: [(f64, &State); N]) -> State {
    let mut out = [0.0; 4];
    for (weight, k) in weighted {
        for i in 0..4 {
            out[i] += weight * k[i];
        }
    }
    for i in 0..4 {
        out[i] = y[i] + h * out[i];
    }
    out
}

impl Flight {
    /// A flight of a bullet from the muzzle.
    ///
    /// # Errors
    /// [`FlightError`] for a slope beyond ±60° or a speed that can't be flown.
    pub fn new(drag: &Drag, muzzle: Velocity, air: &Air, slope: Angle) -> Result<Self, FlightError> {
        if !(unit::DEGREE.value(slope).abs() <= MOST_SLOPE_DEG + 1e-9) {
            return Err(FlightError::Slope { slope });
        }
        let mach = muzzle.si() / air.sound_speed().si();
        if !(muzzle.si() >= LEAST_SPEED_MPS && mach > BOTTOM_MACH && mach < TOP_MACH) {
            return Err(FlightError::Speed { speed: muzzle });
        }
        let (sin, cos) = slope.si().sin_cos();
        Ok(Self { drag: drag.clone(), muzzle_mps: muzzle.si(), air: *air, sin, cos, gravity: unit::STANDARD_GRAVITY })
    }

    /// What arrives at a distance, aimed at it.
    ///
    /// # Errors
    /// [`FlightError::OutOfReach`] where the bullet does not get there.
    pub fn arrive(&self, distance: Length) -> Result<Arrival, FlightError> {
        self.path(distance).map(|path| path.arrival())
    }

    /// The path aimed at a distance.
    ///
    /// # Errors
    /// [`FlightError::OutOfReach`] where the bullet does not get there.
    pub fn path(&self, distance: Length) -> Result<Path<'_>, FlightError> {
        let metres = distance.si();
        if !(metres >= 0.0 && metres.is_finite()) {
            return Err(FlightError::Distance { distance });
        }
        self.aimed(metres).ok_or(FlightError::OutOfReach { distance })
    }

    /// Finds the launch that hits, by secants: the offset is nearly linear in the launch tangent.
    fn aimed(&self, metres: f64) -> Option<Path<'_>> {
        let tolerance = AIM_TOLERANCE * metres.max(1.0);
        let mut core = self.core();
        // The mean drag over the path lengthens the fall; half of q·Cd is a fair first guess.
        let fall = 0.5 * self.gravity * metres / (self.muzzle_mps * self.muzzle_mps);
        let slowing =
            core.k * self.air.density().si() * self.drag.curve().cd(self.muzzle_mps / self.air.sound_speed().si());
        let mut launch = (fall * self.cos * (1.0 + 0.7 * slowing * metres)).min(MOST_LAUNCH);
        let mut nodes = Vec::with_capacity(12);
        let mut last: Option<(f64, f64)> = None;
        for attempt in 0..MOST_AIMS {
            // The first runs only look for the launch: they may be coarse, but a coarse one is never the answer.
            let coarse = attempt == 0 && metres > COARSE_BEYOND_M;
            core.ease = if coarse { COARSE } else { 1.0 };
            let offset = match self.run(&mut core, metres, launch, &mut nodes) {
                Some(offset) => offset,
                // Too steep a start loses itself: try flatter, once towards where it was good.
                None if launch > 1e-4 && last.is_none() => {
                    launch *= 0.5;
                    continue;
                }
                None => return None,
            };
            if offset.abs() <= tolerance && !coarse {
                return Some(Path { flight: self, nodes, evaluations: core.evaluations });
            }
            let slope = match last {
                Some((before, at)) if (offset - at).abs() > f64::EPSILON * metres => (offset - at) / (launch - before),
                _ => metres,
            };
            last = Some((launch, offset));
            launch -= offset / slope;
            if !(launch.abs() <= MOST_LAUNCH) {
                return None;
            }
        }
        None
    }

    pub(super) fn core(&self) -> Core<'_> {
        Core {
            table: self.drag.curve().integral(),
            flight: self,
            k: self.k(self.band(self.muzzle_mps)),
            ease: 1.0,
            evaluations: 0,
        }
    }

    fn k(&self, band: usize) -> f64 {
        std::f64::consts::FRAC_PI_8 / self.drag.bands()[band].bc.si()
    }

    /// The band that holds at a speed.
    fn band(&self, speed_mps: f64) -> usize {
        self.drag.bands().iter().rposition(|b| b.above.si() < speed_mps).unwrap_or(0)
    }

    fn speed(&self, table: &IntegralTable, s: f64, y: &State) -> f64 {
        let mach = table.at(y[0]).map_or(0.0, |(mach, _)| mach);
        mach * self.air.at(s * self.sin + y[2] * self.cos).sound_mps
    }

    /// Integrates to `metres` and leaves the nodes; the offset there, or `None` where the bullet is lost.
    fn run(&self, core: &mut Core, metres: f64, launch: f64, nodes: &mut Vec<Node>) -> Option<f64> {
        nodes.clear();
        let mut band = self.band(self.muzzle_mps);
        core.k = self.k(band);
        let mut s = 0.0;
        let mut y: State = [core.table.q(self.muzzle_mps / self.air.sound_speed().si()), launch, 0.0, 0.0];
        let mut rate = core.rates(s, &y)?;
        nodes.push(Node { s, y, rate });
        let mut h = metres.min(LONGEST_STEP_M).min(first_step(&rate));
        for _ in 0..MOST_STEPS {
            if s >= metres {
                return Some(y[2]);
            }
            // A last sliver would cost a whole step: stretch or halve to end evenly.
            let left = metres - s;
            let tried = if h >= left {
                left
            } else if h > 0.5 * left {
                0.5 * left
            } else {
                h
            };
            let Some((next, next_rate, error)) = core.step(s, &y, &rate, tried) else {
                h = tried * 0.25;
                if h < 0.5 {
                    return None;
                }
                continue;
            };
            let scaled = (0.9 * error.max(1e-10).powf(-0.2)).clamp(0.2, 6.0);
            if error > 1.0 {
                h = tried * scaled;
                continue;
            }
            let end = if tried >= left { metres } else { s + tried };
            if let Some((edge, other)) = self.crossing(core.table, band, end, &next) {
                let cut = self.cut(core, (s, &y, &rate), tried, edge)?;
                s += cut.0;
                y = cut.1;
                band = other;
                core.k = self.k(band);
                rate = core.rates(s, &y)?;
                nodes.push(Node { s, y, rate });
                continue;
            }
            (s, y, rate) = (end, next, next_rate);
            nodes.push(Node { s, y, rate });
            h = (tried * scaled).min(LONGEST_STEP_M);
        }
        None
    }

    /// The edge of the band that a step has passed, and the band beyond it.
    fn crossing(&self, table: &IntegralTable, band: usize, s: f64, y: &State) -> Option<(f64, usize)> {
        let bands = self.drag.bands();
        if bands.len() == 1 {
            return None;
        }
        let speed = self.speed(table, s, y);
        // A speed on the edge itself belongs to the lower band; a hair of slack keeps a cut step from cutting again.
        if band > 0 && speed < bands[band].above.si() * (1.0 - 1e-12) {
            return Some((bands[band].above.si(), band - 1));
        }
        match bands.get(band + 1) {
            Some(upper) if speed > upper.above.si() * (1.0 + 1e-9) => Some((upper.above.si(), band + 1)),
            _ => None,
        }
    }

    /// The step shortened to end on the band's edge, by false position.
    fn cut(&self, core: &mut Core, from: (f64, &State, &State), tried: f64, edge: f64) -> Option<(f64, State)> {
        let (s, y, rate) = from;
        let miss = |core: &mut Core, h: f64| {
            let (next, _, _) = core.step(s, y, rate, h)?;
            Some((self.speed(core.table, s + h, &next) - edge, next))
        };
        let (mut low, mut high) = (0.0, tried);
        let mut at_low = self.speed(core.table, s, y) - edge;
        let (mut at_high, mut next) = miss(core, high)?;
        let mut h = high;
        for _ in 0..40 {
            if at_high.abs() <= edge * 1e-12 || high - low <= 1e-9 {
                break;
            }
            let middle = low + (high - low) * at_low / (at_low - at_high);
            h = middle.clamp(low, high);
            let (at, state) = miss(core, h)?;
            next = state;
            if at.abs() <= edge * 1e-12 {
                break;
            }
            if (at < 0.0) == (at_high < 0.0) {
                (high, at_high) = (h, at);
                at_low *= 0.5;
            } else {
                (low, at_low) = (h, at);
                at_high *= 0.5;
            }
        }
        Some((h.max(1e-9), next))
    }

    /// How far this bullet can carry over level ground, whatever the slope it is aimed on.
    ///
    /// # Errors
    /// As [`time_form::carry`].
    pub fn carry(&self) -> Result<Length, FlightError> {
        time_form::carry(&self.drag, Velocity::from_si(self.muzzle_mps), &self.air)
    }

    /// The farthest distance up to `limit` that can be aimed at: the bullet arrives at 30 m/s or more
    /// along the line, from a launch within 20° of it.
    #[must_use]
    pub fn reach(&self, limit: Length) -> Length {
        if self.aimed(limit.si()).is_some() {
            return limit;
        }
        let (mut good, mut bad) = (0.0, limit.si());
        while bad - good > 0.5 {
            let middle = 0.5 * (good + bad);
            if self.aimed(middle).is_some() {
                good = middle;
            } else {
                bad = middle;
            }
        }
        Length::from_si(good)
    }
}

/// A first step over which the path bends little: p changes by a few thousandths.
fn first_step(rate: &State) -> f64 {
    (0.02 / rate[1].abs().max(1e-9)).clamp(5.0, LONGEST_STEP_M)
}

impl Path<'_> {
    /// The end of the path.
    #[must_use]
    pub fn arrival(&self) -> Arrival {
        let node = &self.nodes[self.nodes.len() - 1];
        self.arrival_of(node.s, &node.y)
    }

    /// What passes a distance within the path, by cubic Hermite between the nodes. Beyond the ends the ends hold.
    #[must_use]
    pub fn at(&self, distance: Length) -> Arrival {
        let s = distance.si();
        let (s, y) = self.state(s);
        self.arrival_of(s, &y)
    }

    /// Speed at a distance, m/s. Hot loop: SI.
    pub(crate) fn speed_mps(&self, s: f64) -> f64 {
        let (s, y) = self.state(s);
        self.flight.speed(self.flight.drag.curve().integral(), s, &y)
    }

    fn state(&self, s: f64) -> (f64, State) {
        let nodes = &self.nodes;
        let (first, last) = (&nodes[0], &nodes[nodes.len() - 1]);
        if !(s > first.s) {
            return (first.s, first.y);
        }
        if s >= last.s {
            return (last.s, last.y);
        }
        let right = nodes.partition_point(|n| n.s <= s).min(nodes.len() - 1);
        let (a, b) = (&nodes[right - 1], &nodes[right]);
        let h = b.s - a.s;
        let x = (s - a.s) / h;
        let mut y = [0.0; 4];
        for i in 0..4 {
            let (start, end) = (h * a.rate[i], h * b.rate[i]);
            let rise = b.y[i] - a.y[i];
            y[i] = a.y[i] + x * (start + x * ((3.0 * rise - 2.0 * start - end) + x * (start + end - 2.0 * rise)));
        }
        (s, y)
    }

    fn arrival_of(&self, s: f64, y: &State) -> Arrival {
        let flight = self.flight;
        let mach = flight.drag.curve().integral().at(y[0]).map_or(0.0, |(mach, _)| mach);
        let sound = flight.air.at(s * flight.sin + y[2] * flight.cos).sound_mps;
        Arrival {
            distance: Length::from_si(s),
            speed: Velocity::from_si(mach * sound),
            mach,
            descent: Angle::from_si(-y[1].atan()),
            time: Time::from_si(y[3]),
        }
    }

    /// Height above the firing point at a distance within the path.
    #[must_use]
    pub fn height(&self, distance: Length) -> Length {
        let (s, y) = self.state(distance.si());
        Length::from_si(s * self.flight.sin + y[2] * self.flight.cos)
    }

    /// How far beside the target the path ends, across the line of slope.
    #[must_use]
    pub fn offset(&self) -> Length {
        Length::from_si(self.nodes[self.nodes.len() - 1].y[2])
    }

    /// Tangent of the launch above the line of slope.
    #[must_use]
    pub fn launch(&self) -> f64 {
        self.nodes[0].y[1]
    }

    /// Evaluations of the rates that the path itself takes, aiming aside.
    #[must_use]
    pub fn evaluations_of_last(&self) -> u32 {
        // Six a step, and the first.
        u32::try_from(self.nodes.len()).map_or(u32::MAX, |nodes| 6 * nodes.saturating_sub(1) + 1)
    }

    /// Evaluations of the rates it took to aim and fly: the work, for tests.
    #[must_use]
    pub fn evaluations(&self) -> u32 {
        self.evaluations
    }
}
