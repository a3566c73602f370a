//! The independent twin: the same flight in time, Cartesian, adaptive Dormand–Prince; and how far a
//! miss carries.
//!
//! It shares with the solver only the drag curve and the air. Cd(M) is only continuous with its slope,
//! so the tolerance is kept far below what is asked of the answer.

use super::arrival::{Arrival, FlightError};
use crate::air::Air;
use crate::drag::Drag;
use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};

/// Relative error of a step, of speed and place.
const TOLERANCE: f64 = 1e-11;
/// How near zero the last value of a flight is brought.
const END: f64 = 1e-10;
/// Relative error of a step of a flight that tells how far a miss carries, which is known to a few percent at best.
const CARRY_TOLERANCE: f64 = 1e-6;
/// How near the ground such a flight ends, m.
const CARRY_END_M: f64 = 1e-3;
/// The most steps of one flight; a shot across 6 km takes fewer than 20,000.
const MAX_STEPS: u32 = 200_000;
/// Offset from the target that counts as hit, m.
const AIM_TOLERANCE_M: f64 = 1e-7;

/// x along the level, y up, and their velocities; SI.
type State = [f64; 4];

struct Equations<'a> {
    drag: &'a Drag,
    air: &'a Air,
    gravity: f64,
    tolerance: f64,
    /// How near zero a flight's last value is brought.
    end: f64,
}

impl Equations<'_> {
    fn rates(&self, y: &State) -> State {
        let speed = (y[2] * y[2] + y[3] * y[3]).sqrt();
        let (density, sound) = self.air.aloft(Length::from_si(y[1]));
        let bands = self.drag.bands();
        let band = bands.iter().rev().find(|b| b.above.si() < speed).unwrap_or(&bands[0]);
        let cd = self.drag.curve().cd(speed / sound.si());
        let slowing = std::f64::consts::FRAC_PI_8 * density.si() * speed * cd / band.bc.si();
        [y[2], y[3], -slowing * y[2], -slowing * y[3] - self.gravity]
    }

    /// A step of the pair from a state and its rates; its end, the rates there, and its error over the tolerance.
    fn step(&self, y: &State, rates: &State, h: f64) -> (State, State, f64) {
        const A: [[f64; 6]; 6] = [
            [0.2, 0.0, 0.0, 0.0, 0.0, 0.0],
            [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
            [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
            [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0, 0.0, 0.0],
            [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0, 0.0],
            [35.0 / 384.0, 0.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0],
        ];
        const E: [f64; 7] =
            [71.0 / 57600.0, 0.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];
        let mut k = [[0.0; 4]; 7];
        k[0] = *rates;
        let mut next = *y;
        for (stage, row) in A.iter().enumerate() {
            for i in 0..4 {
                next[i] = y[i] + h * (0..=stage).map(|j| row[j] * k[j][i]).sum::<f64>();
            }
            k[stage + 1] = self.rates(&next);
        }
        let mut error: f64 = 0.0;
        for i in 0..4 {
            let e: f64 = (0..7).map(|j| E[j] * k[j][i]).sum();
            let scale = if i < 2 { 10.0 + y[i].abs() } else { 100.0 + y[i].abs() };
            error = error.max((h * e).abs() / (scale * self.tolerance));
        }
        (next, k[6], error)
    }

    /// Flies until `value` of the state falls to zero, and ends there; the state and the time.
    fn until(&self, start: State, value: impl Fn(&State) -> f64) -> Option<(State, f64)> {
        let (mut y, mut rates, mut t, mut h) = (start, self.rates(&start), 0.0, 1e-3);
        for _ in 0..MAX_STEPS {
            let (next, its_rates, error) = self.step(&y, &rates, h);
            let scaled = (0.9 * error.max(1e-12).powf(-0.2)).clamp(0.2, 5.0);
            if error > 1.0 {
                h *= scaled;
                continue;
            }
            if value(&next) <= 0.0 {
                let (last, rest) = ended((value(&y), h, next), self.end, |h| self.step(&y, &rates, h).0, &value);
                return Some((last, t + rest));
            }
            (y, rates, t) = (next, its_rates, t + h);
            h *= scaled;
            if t > 300.0 || y[2] < 1.0 {
                return None;
            }
        }
        None
    }
}

/// A step of `h` that ends at `end`, cut where the value is zero, by false position with halving to `near` it.
fn ended(
    (at_start, h, end): (f64, f64, State),
    near: f64,
    step: impl Fn(f64) -> State,
    value: impl Fn(&State) -> f64,
) -> (State, f64) {
    let (mut low, mut high) = (0.0, h);
    let (mut at_low, mut at_high, mut last) = (at_start, value(&end), end);
    for _ in 0..100 {
        if high - low < 1e-13 || at_high == 0.0 {
            break;
        }
        let middle = low + (high - low) * at_low / (at_low - at_high);
        let middle = if middle > low && middle < high { middle } else { 0.5 * (low + high) };
        let there = step(middle);
        let at = value(&there);
        if at.abs() < near {
            return (there, middle);
        }
        if at > 0.0 {
            (low, at_low) = (middle, at);
            at_high *= 0.5;
        } else {
            (high, at_high, last) = (middle, at, there);
            at_low *= 0.5;
        }
    }
    (last, high)
}

/// What arrives at a slant distance, aimed at it.
///
/// # Errors
/// [`FlightError::OutOfReach`] where the bullet does not get there within 300 s.
pub fn arrive(
    drag: &Drag,
    muzzle: Velocity,
    air: &Air,
    slope: Angle,
    distance: Length,
) -> Result<Arrival, FlightError> {
    let equations = Equations { drag, air, gravity: unit::STANDARD_GRAVITY, tolerance: TOLERANCE, end: END };
    aimed(&equations, muzzle.si(), slope.si(), distance.si()).ok_or(FlightError::OutOfReach { distance })
}

fn aimed(equations: &Equations, muzzle_mps: f64, slope_rad: f64, metres: f64) -> Option<Arrival> {
    let (sin, cos) = slope_rad.sin_cos();
    let along = |y: &State| y[0] * cos + y[1] * sin;
    let across = |y: &State| y[1] * cos - y[0] * sin;
    let fly = |launch: f64| {
        let angle = slope_rad + launch;
        let start = [0.0, 0.0, muzzle_mps * angle.cos(), muzzle_mps * angle.sin()];
        equations.until(start, |y| metres - along(y))
    };
    let mut launch = 0.5 * equations.gravity * metres * cos / (muzzle_mps * muzzle_mps);
    let mut last: Option<(f64, f64)> = None;
    for _ in 0..30 {
        let (y, t) = fly(launch)?;
        let miss = across(&y);
        if miss.abs() <= AIM_TOLERANCE_M {
            let (vs, vn) = (y[2] * cos + y[3] * sin, y[3] * cos - y[2] * sin);
            let speed = y[2].hypot(y[3]);
            let sound = equations.air.aloft(Length::from_si(y[1])).1;
            return Some(Arrival {
                distance: Length::from_si(metres),
                speed: Velocity::from_si(speed),
                mach: speed / sound.si(),
                descent: Angle::from_si(-vn.atan2(vs)),
                time: Time::from_si(t),
            });
        }
        let slope = match last {
            Some((before, at)) if (miss - at).abs() > 0.0 => (miss - at) / (launch - before),
            _ => metres,
        };
        last = Some((launch, miss));
        launch -= miss / slope;
    }
    None
}

/// How far a bullet can carry over level ground: the farthest over all launch angles, in air that thins
/// with height.
///
/// # Errors
/// [`FlightError::OutOfReach`] where a flight does not end within 300 s, which no bullet's does.
pub fn carry(drag: &Drag, muzzle: Velocity, air: &Air) -> Result<Length, FlightError> {
    farthest(drag, muzzle, air).map(|found| found.0)
}

/// How far a bullet carries over level ground from a launch angle; nothing where its flight does not end.
pub(super) fn carried(drag: &Drag, muzzle: Velocity, air: &Air, launch: Angle) -> Length {
    let equations =
        Equations { drag, air, gravity: unit::STANDARD_GRAVITY, tolerance: CARRY_TOLERANCE, end: CARRY_END_M };
    let (sin, cos) = launch.si().sin_cos();
    // A hair above the ground, so that the first step does not end the flight.
    let start = [0.0, 1e-6, muzzle.si() * cos, muzzle.si() * sin];
    Length::from_si(equations.until(start, |y| y[1]).map_or(0.0, |(y, _)| y[0]))
}

/// As [`carry`], with the launch angle that does it, to a degree.
pub(super) fn farthest(drag: &Drag, muzzle: Velocity, air: &Air) -> Result<(Length, Angle), FlightError> {
    let range = |degrees: f64| carried(drag, muzzle, air, unit::DEGREE.of(degrees)).si();
    // Near its one maximum the range is a parabola of the launch: fitted to three, then to the three about its top.
    let mut tried: Vec<(f64, f64)> = [24.0, 32.0, 40.0].map(|degrees| (degrees, range(degrees))).to_vec();
    for _ in 0..MAX_FITS {
        let best = (0..tried.len()).max_by(|a, b| tried[*a].1.total_cmp(&tried[*b].1)).unwrap_or(0);
        let inner = best.clamp(1, tried.len() - 2);
        let top = top_of([tried[inner - 1], tried[inner], tried[inner + 1]]).clamp(LAUNCHES.0, LAUNCHES.1);
        if tried.iter().any(|(degrees, _)| (degrees - top).abs() < LAUNCH_FOUND) {
            break;
        }
        let at = tried.partition_point(|(degrees, _)| *degrees < top);
        tried.insert(at, (top, range(top)));
    }
    let (degrees, distance) = tried.into_iter().reduce(|a, b| if b.1 > a.1 { b } else { a }).unwrap_or_default();
    if distance > 0.0 {
        Ok((Length::from_si(distance), unit::DEGREE.of(degrees)))
    } else {
        Err(FlightError::OutOfReach { distance: unit::YARD.of(0.0) })
    }
}

/// Launches between which the farthest lies, degrees.
const LAUNCHES: (f64, f64) = (15.0, 50.0);
/// How well the farthest launch is found, degrees: it leaves less than a thousandth of the range.
const LAUNCH_FOUND: f64 = 1.0;
/// The most parabolas that are fitted.
const MAX_FITS: u32 = 6;

/// The place of a parabola's top; its highest point's where it has none.
fn top_of([a, b, c]: [(f64, f64); 3]) -> f64 {
    let (left, right) = ((b.1 - a.1) / (b.0 - a.0), (c.1 - b.1) / (c.0 - b.0));
    let bend = (right - left) / (c.0 - a.0);
    if bend < 0.0 {
        0.5 * (a.0 + b.0) - 0.5 * left / bend
    } else if a.1 > c.1 {
        LAUNCHES.0
    } else {
        LAUNCHES.1
    }
}

/// Speed in m/s after a distance without gravity, for the closed form.
#[cfg(test)]
pub(super) fn weightless(drag: &Drag, muzzle: Velocity, air: &Air, metres: f64) -> Option<f64> {
    let equations = Equations { drag, air, gravity: 0.0, tolerance: TOLERANCE, end: END };
    let (y, _) = equations.until([0.0, 0.0, muzzle.si(), 0.0], |y| metres - y[0])?;
    Some(y[2])
}
