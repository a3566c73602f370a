//! A plate on a chain against the double pendulum itself, followed in small steps of time.

use super::support::config;
use proptest::prelude::*;
use proptest::test_runner::Config;
use thickset::plate::{Face, Plate, STEEL_KG_M3, Section};
use thickset::quantity::{Angle, Measure, Momentum, unit};
use thickset::reaction::swing::{HitPoint, Pendulum, Suspension, Swing};

const GRAVITY: f64 = 9.806_65;
/// A small plate struck at its edge turns by a twentieth of a radian in it.
const STEP_S: f64 = 2e-4;

/// A rod of a length without mass, and a plate below it: mass, centre below the link, moment about the centre.
#[derive(Debug, Clone, Copy)]
struct Double {
    rod: f64,
    mass: f64,
    centre: f64,
    inertia: f64,
}

/// Angles of rod and plate from the vertical, and their rates.
type State = [f64; 4];

impl Double {
    /// Lagrange's equations, solved for the two accelerations.
    fn rates(&self, [rod, plate, rod_rate, plate_rate]: State) -> State {
        let (l, m, c) = (self.rod, self.mass, self.centre);
        let (sin, cos) = (rod - plate).sin_cos();
        let (a, b, d) = (m * l * l, m * l * c * cos, m * c * c + self.inertia);
        let e = -m * l * c * plate_rate * plate_rate * sin - m * GRAVITY * l * rod.sin();
        let f = m * l * c * rod_rate * rod_rate * sin - m * GRAVITY * c * plate.sin();
        let det = a * d - b * b;
        [rod_rate, plate_rate, (e * d - b * f) / det, (a * f - b * e) / det]
    }

    fn step(&self, state: State, h: f64) -> State {
        let moved = |k: State, share: f64| std::array::from_fn(|i| state[i] + share * h * k[i]);
        let k1 = self.rates(state);
        let k2 = self.rates(moved(k1, 0.5));
        let k3 = self.rates(moved(k2, 0.5));
        let k4 = self.rates(moved(k3, 1.0));
        std::array::from_fn(|i| state[i] + h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]))
    }

    /// Just after an impulse at a distance below the centre: the plate is free.
    fn struck(&self, impulse: f64, below: f64) -> State {
        let turn = impulse * below / self.inertia;
        [0.0, 0.0, (impulse / self.mass - self.centre * turn) / self.rod, turn]
    }

    /// Peaks of the rise of the centre, of its angle about the top, and of the plate's own, over some seconds.
    fn peaks(&self, mut state: State, seconds: f64) -> [f64; 3] {
        let mut peaks = [0.0_f64; 3];
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Some thousands.
        for _ in 0..(seconds / STEP_S) as usize {
            state = self.step(state, STEP_S);
            let (x, y) = (
                self.rod * state[0].sin() + self.centre * state[1].sin(),
                self.rod * state[0].cos() + self.centre * state[1].cos(),
            );
            peaks[0] = peaks[0].max(self.rod + self.centre - y);
            peaks[1] = peaks[1].max(x.atan2(y).abs());
            peaks[2] = peaks[2].max(state[1].abs());
        }
        peaks
    }
}

/// Each case follows some seconds of swinging.
fn fewer() -> Config {
    let config = config();
    Config { cases: config.cases.div_ceil(20), ..config }
}

proptest! {
    #![proptest_config(fewer())]

    #[test]
    fn no_swing_on_a_chain_goes_beyond_what_is_told(
        inches in 4.0..24.0_f64,
        chain in 2.0..48.0_f64,
        speed in 0.1..3.0_f64,
        low in any::<bool>(),
    ) {
        let face = Face::round(unit::INCH.of(inches)).expect("a face");
        let plate = Plate::new("drawn", unit::INCH.of(0.375)).expect("a plate");
        let pendulum = Pendulum::hung(&face, &plate, Suspension::Chain(unit::INCH.of(chain)));
        let (mass, half) = (pendulum.mass().si(), 0.5 * unit::INCH.of(inches).si());
        let thickness = plate.thickness.si();
        let inertia = STEEL_KG_M3 * thickness * Section::of(&face).i_xx.si() + mass * thickness * thickness / 12.0;
        let double = Double { rod: unit::INCH.of(chain).si(), mass, centre: half, inertia };
        let momentum = Momentum::from_si(speed * mass);
        let (place, below) = if low { (HitPoint::LowerEdge, half) } else { (HitPoint::Centre, 0.0) };
        let [rise, swing, turn] = double.peaks(double.struck(momentum.si(), below), 3.0);

        let square = Angle::from_si(0.0);
        let bound = |s: Swing| s.angle().map_or(f64::INFINITY, Measure::si) + 1e-3;
        let most = pendulum.centre_rise(momentum, square, 1.0, place).si();
        prop_assert!(rise <= most * (1.0 + 1e-3) + 1e-6, "rises {rise}, told {most}");
        prop_assert!(swing <= bound(pendulum.swing(momentum, square, 1.0, place)), "swings {swing}");
        prop_assert!(turn <= bound(pendulum.turn(momentum, square, 1.0, place)), "turns {turn}");
        if !low {
            let least = pendulum.least_rise(momentum, square).si();
            prop_assert!(rise >= least * 0.999 - 1e-6, "rises {rise}, told at least {least}");
        }
    }
}
