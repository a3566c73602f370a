//! The solver's flights by a general ODE crate: how much longer it takes at equal accuracy, and, asked with `write`,
//! what it finds, which the solver's own tests read from `flights.csv`. It is a package of its own, since its matrices
//! take longer to compile than a third of the library, and none of it changes.
//!
//! `cargo run --release -p general`; `cargo test -p general` holds the file to what the crate finds.

use ode_solvers::dop_shared::OutputType;
use ode_solvers::{Dopri5, System, Vector4};
use std::hint::black_box;
use std::time::{Duration, Instant};
use thickset_domain::air::Air;
use thickset_domain::drag::{Drag, DragModel};
use thickset_domain::flight::Flight;
use thickset_domain::quantity::{Length, Measure, unit};

/// A bullet, its muzzle velocity and the slope it is shot on.
struct Shot {
    drag: Drag,
    muzzle_mps: f64,
    slope_deg: f64,
}

/// The state along the line of slope: offset from it, the velocity along and across it, and the time.
type State = Vector4<f64>;

struct Equations<'a>(&'a Shot, Air);

impl System<f64, State> for Equations<'_> {
    fn system(&self, s: f64, y: &State, dy: &mut State) {
        let Self(shot, air) = self;
        let (sin, cos) = shot.slope_deg.to_radians().sin_cos();
        let speed = y[1].hypot(y[2]);
        let (density, sound) = air.aloft(Length::from_si(s * sin + y[0] * cos));
        let cd = shot.drag.curve().cd(speed / sound.si());
        let slowing = std::f64::consts::FRAC_PI_8 * density.si() * speed * cd / shot.drag.bands()[0].bc.si();
        let gravity = unit::STANDARD_GRAVITY;
        *dy = State::new(y[2], -slowing * y[1] - gravity * sin, -slowing * y[2] - gravity * cos, 1.0) / y[1];
    }
}

impl Shot {
    fn new(model: DragModel, bc: f64, fps: f64, slope_deg: f64) -> Self {
        let drag = Drag::single(model, unit::POUND_PER_SQUARE_INCH.of(bc)).expect("a coefficient");
        Self { drag, muzzle_mps: unit::FOOT_PER_SECOND.of(fps).si(), slope_deg }
    }

    /// From a launch above the line, rad.
    fn flown(&self, launch: f64, metres: f64, tolerance: f64) -> State {
        let start = State::new(0.0, self.muzzle_mps * launch.cos(), self.muzzle_mps * launch.sin(), 0.0);
        let mut solver = Dopri5::from_param(
            Equations(self, icao()),
            0.0,
            metres,
            metres,
            start,
            tolerance,
            tolerance,
            0.9,
            0.04,
            0.2,
            10.0,
            metres,
            0.0,
            100_000,
            10_000,
            OutputType::Sparse,
        );
        solver.integrate().expect("a flight");
        *solver.y_out().last().expect("an end")
    }

    /// Aimed at a distance by secants: the launch, and the state there.
    fn aimed(&self, metres: f64, tolerance: f64) -> (f64, State) {
        let (mut before, mut launch) = (0.0, 1e-3);
        let mut missed = self.flown(before, metres, tolerance)[0];
        for _ in 0..20 {
            let there = self.flown(launch, metres, tolerance);
            if there[0].abs() < 1e-8 {
                return (launch, there);
            }
            let slope = (there[0] - missed) / (launch - before);
            (before, missed) = (launch, there[0]);
            launch -= there[0] / slope;
        }
        panic!("not aimed");
    }
}

fn icao() -> Air {
    Air::icao(unit::METRE.of(0.0))
}

/// What the file holds: supersonic, through the speed of sound and below it, level and on slopes.
fn flights() -> String {
    let mut text = "model,bc,muzzle_fps,slope_deg,yards,speed_mps,time_s\n".to_owned();
    for (model, name, bc, fps) in [
        (DragModel::G7, "G7", 0.223, 2650.0),
        (DragModel::G1, "G1", 0.243, 3240.0),
        (DragModel::G1, "G1", 0.15, 1050.0),
    ] {
        for slope in [-30.0, 0.0, 30.0] {
            let shot = Shot::new(model, bc, fps, slope);
            for yards in [25.0, 100.0, 300.0, 800.0] {
                let there = shot.aimed(unit::YARD.of(yards).si(), 1e-12).1;
                let (speed, time) = (there[1].hypot(there[2]), there[3]);
                text += &format!("{name},{bc},{fps},{slope},{yards},{speed:.5},{time:.7}\n");
            }
        }
    }
    text
}

/// The least time of several rounds, for one turn.
fn time(turns: u32, mut work: impl FnMut(u32)) -> Duration {
    let mut round = || {
        let begun = Instant::now();
        (0..turns).for_each(&mut work);
        begun.elapsed() / turns
    };
    (0..5).map(|_| round()).min().unwrap_or_default()
}

/// The solver with its aim beside one run of the general crate, which is given the launch.
fn compare() {
    let (shot, distance) = (Shot::new(DragModel::G7, 0.223, 2650.0, 0.0), unit::YARD.of(1000.0));
    let muzzle = unit::FOOT_PER_SECOND.of(2650.0);
    let flight = Flight::new(&shot.drag, muzzle, &icao(), unit::DEGREE.of(0.0)).expect("a flight");
    let (launch, exact) = shot.aimed(distance.si(), 1e-13);
    let exact = exact[1].hypot(exact[2]);
    let ours = (flight.arrive(distance).expect("within reach").speed.si() - exact).abs();
    let error = |tolerance: f64| {
        let there = shot.flown(launch, distance.si(), tolerance);
        (there[1].hypot(there[2]) - exact).abs()
    };
    // The loosest tolerance at which the general crate is as near.
    let tolerance = (4..13).map(|p| 10_f64.powi(-p)).find(|t| error(*t) <= ours.max(1e-4)).unwrap_or(1e-12);
    let nearly = |i: u32| distance.si() + f64::from(i) * 1e-6;
    let own = time(20_000, |i| {
        black_box(flight.arrive(Length::from_si(nearly(i)))).ok();
    });
    let other = time(2_000, |i| {
        black_box(shot.flown(launch, nearly(i), tolerance));
    });
    println!("error at 1,000 yd {ours:.5} m/s; the general crate as near at a tolerance of {tolerance:.0e}");
    println!("one run of it {other:?}: {:.1} × the solver with its aim", other.as_secs_f64() / own.as_secs_f64());
}

fn main() {
    if std::env::args().nth(1).as_deref() == Some("write") {
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/flights.csv"), flights()).expect("a file");
    } else {
        compare();
    }
}

#[test]
fn the_file_holds_what_the_general_crate_finds() {
    assert_eq!(include_str!("flights.csv"), flights());
}
