//! The aimed path by steps of Dormand and Prince's 5(4) pair: for coefficients in bands, whose edges end a
//! step, and for paths that bend too much to be found whole.

use super::rates::Rates;
use super::state::{Flight, MAX_LAUNCH, Node, State};
use crate::quantity::Measure;

/// Offset from the target that counts as hit, per metre of distance: it moves a speed by p·Δp, some 1e-7 of it.
const AIM_TOLERANCE: f64 = 2e-5;
/// How much more than the tolerance a run may err that only looks for the launch.
const COARSE: f64 = 200.0;
/// Nearer than this a path is a step or two anyway, m.
const COARSE_BEYOND_M: f64 = 60.0;
/// Most attempts at aiming.
const MAX_AIMS: u32 = 12;
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
const MAX_STEPS: u32 = 400;

/// The pair's state.
pub(super) struct Steps<'f> {
    pub rates: Rates<'f>,
    flight: &'f Flight,
    /// Factor on the tolerance.
    ease: f64,
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

impl<'f> Steps<'f> {
    pub fn new(flight: &'f Flight) -> Self {
        Self { rates: Rates::new(flight), flight, ease: 1.0 }
    }

    /// One step of the pair: the new state, its rate, and the error over the tolerance.
    #[inline]
    pub fn step(&mut self, s: f64, y: &State, k1: &State, h: f64) -> Option<(State, State, f64)> {
        let k2 = self.rates.at(s + 0.2 * h, &mix(y, h, [(0.2, k1)]))?;
        let k3 = self.rates.at(s + 0.3 * h, &mix(y, h, [(3.0 / 40.0, k1), (9.0 / 40.0, &k2)]))?;
        let k4 = self.rates.at(s + 0.8 * h, &mix(y, h, [(44.0 / 45.0, k1), (-56.0 / 15.0, &k2), (32.0 / 9.0, &k3)]))?;
        let stage5 = [(19372.0 / 6561.0, k1), (-25360.0 / 2187.0, &k2), (64448.0 / 6561.0, &k3), (-212.0 / 729.0, &k4)];
        let k5 = self.rates.at(s + 8.0 / 9.0 * h, &mix(y, h, stage5))?;
        let stage6 = [
            (9017.0 / 3168.0, k1),
            (-355.0 / 33.0, &k2),
            (46732.0 / 5247.0, &k3),
            (49.0 / 176.0, &k4),
            (-5103.0 / 18656.0, &k5),
        ];
        let k6 = self.rates.at(s + h, &mix(y, h, stage6))?;
        let end = [
            (35.0 / 384.0, k1),
            (500.0 / 1113.0, &k3),
            (125.0 / 192.0, &k4),
            (-2187.0 / 6784.0, &k5),
            (11.0 / 84.0, &k6),
        ];
        let next = mix(y, h, end);
        let k7 = self.rates.at(s + h, &next)?;
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

    /// Integrates to `metres` and leaves the nodes; the offset there, or `None` where the bullet is lost.
    fn run(&mut self, metres: f64, launch: f64, nodes: &mut Vec<Node>) -> Option<f64> {
        nodes.clear();
        let mut band = self.flight.band(self.flight.muzzle_mps);
        self.rates.k = self.flight.k(band);
        let mut s = 0.0;
        let mut y: State = [self.rates.start(), launch, 0.0, 0.0];
        let mut rate = self.rates.at(s, &y)?;
        nodes.push(Node { s, y, rate });
        let mut h = metres.min(LONGEST_STEP_M).min(first_step(&rate));
        for _ in 0..MAX_STEPS {
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
            let Some((next, next_rate, error)) = self.step(s, &y, &rate, tried) else {
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
            if let Some((edge, other)) = self.crossing(band, end, &next) {
                let cut = self.cut((s, &y, &rate), tried, edge)?;
                s += cut.0;
                y = cut.1;
                band = other;
                self.rates.k = self.flight.k(band);
                rate = self.rates.at(s, &y)?;
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
    fn crossing(&self, band: usize, s: f64, y: &State) -> Option<(f64, usize)> {
        let bands = self.flight.drag.bands();
        if bands.len() == 1 {
            return None;
        }
        let speed = self.flight.speed(s, y);
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
    fn cut(&mut self, from: (f64, &State, &State), tried: f64, edge: f64) -> Option<(f64, State)> {
        let (s, y, rate) = from;
        let mut at_low = self.flight.speed(s, y) - edge;
        let mut miss = |h: f64| {
            let (next, _, _) = self.step(s, y, rate, h)?;
            Some((self.flight.speed(s + h, &next) - edge, next))
        };
        let (mut low, mut high) = (0.0, tried);
        let (mut at_high, mut next) = miss(high)?;
        let mut h = high;
        for _ in 0..40 {
            if at_high.abs() <= edge * 1e-12 || high - low <= 1e-9 {
                break;
            }
            let middle = low + (high - low) * at_low / (at_low - at_high);
            h = middle.clamp(low, high);
            let (at, state) = miss(h)?;
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
}

/// Finds the launch that hits, by secants: the offset is nearly linear in the launch tangent. Leaves the nodes of
/// the path, and tells the evaluations it took; `None` where the bullet does not get there.
pub(super) fn aim(flight: &Flight, metres: f64, nodes: &mut Vec<Node>) -> Option<u32> {
    let tolerance = AIM_TOLERANCE * metres.max(1.0);
    let mut steps = Steps::new(flight);
    let mut launch = first_launch(&steps, metres);
    let mut last: Option<(f64, f64)> = None;
    for attempt in 0..MAX_AIMS {
        // The first run only looks for the launch: it may be coarse, but a coarse one is never the answer.
        let coarse = attempt == 0 && metres > COARSE_BEYOND_M;
        steps.ease = if coarse { COARSE } else { 1.0 };
        let offset = match steps.run(metres, launch, nodes) {
            Some(offset) => offset,
            // Too steep a start loses itself: try flatter, once towards where it was good.
            None if launch > 1e-4 && last.is_none() => {
                launch *= 0.5;
                continue;
            }
            None => return None,
        };
        if offset.abs() <= tolerance && !coarse {
            return Some(steps.rates.evaluations);
        }
        let slope = match last {
            Some((before, at)) if (offset - at).abs() > f64::EPSILON * metres => (offset - at) / (launch - before),
            _ => metres,
        };
        last = Some((launch, offset));
        launch -= offset / slope;
        if !(launch.abs() <= MAX_LAUNCH) {
            return None;
        }
    }
    None
}

/// The mean drag over the path lengthens the fall; most of q·Cd is a fair first guess.
fn first_launch(steps: &Steps, metres: f64) -> f64 {
    let flight = steps.flight;
    let fall = 0.5 * flight.gravity * metres / (flight.muzzle_mps * flight.muzzle_mps);
    let slowing = steps.rates.level() * flight.drag.curve().cd(flight.muzzle_mps / flight.air.sound_speed().si());
    (fall * flight.cos * (1.0 + 0.7 * slowing * metres)).min(MAX_LAUNCH)
}

/// A first step over which the path bends little: p changes by a few thousandths.
fn first_step(rate: &State) -> f64 {
    (0.02 / rate[1].abs().max(1e-9)).clamp(5.0, LONGEST_STEP_M)
}
