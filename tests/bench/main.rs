//! How long the work takes: one solve, the chart, a large course, the program itself; and the same flight with a general ODE crate at
//! equal accuracy in the same run. `cargo bench`; timing lives here and in no test.

use ode_solvers::dop_shared::OutputType;
use ode_solvers::{Dopri5, System, Vector4};
use std::fmt::Write as _;
use std::hint::black_box;
use std::time::{Duration, Instant};
use thickset::air::{Air, Weather};
use thickset::catalog::Catalog;
use thickset::course::{Course, Reading, judge};
use thickset::drag::{Drag, DragModel};
use thickset::flight::{Flight, time_form};
use thickset::plate::{Face, Ladder};
use thickset::quantity::{Angle, Length, Measure, Velocity, unit};
use thickset::rules::{RuleSet, Setup};
use thickset::source::SourceText;
use thickset::spread::{CoverageError, FlightConditions};
use thickset::standoff::Chart;

/// The least time of several rounds, for one turn.
fn time(turns: u32, mut work: impl FnMut(u32)) -> Duration {
    let round = |work: &mut dyn FnMut(u32)| {
        let begun = Instant::now();
        for turn in 0..turns {
            work(turn);
        }
        begun.elapsed() / turns
    };
    (0..5).map(|_| round(&mut work)).min().unwrap_or_default()
}

fn match_bullet() -> Drag {
    Drag::single(DragModel::G7, unit::POUND_PER_SQUARE_INCH.of(0.223)).expect("a coefficient")
}

fn icao() -> Air {
    Air::icao(unit::METRE.of(0.0))
}

struct Cartesian(Drag, Air);

impl System<f64, Vector4<f64>> for Cartesian {
    fn system(&self, _t: f64, y: &Vector4<f64>, dy: &mut Vector4<f64>) {
        let speed = y[2].hypot(y[3]);
        let (density, sound) = self.1.aloft(Length::from_si(y[1]));
        let cd = self.0.curve().cd(speed / sound.si());
        let slowing = std::f64::consts::FRAC_PI_8 * density.si() * speed * cd / self.0.bands()[0].bc.si();
        *dy = Vector4::new(y[2], y[3], -slowing * y[2], -slowing * y[3] - 9.806_65);
    }
}

/// The same path by a general crate, from the launch and over the time that the solver found; end speed.
fn general(launch: f64, seconds: f64, tolerance: f64) -> f64 {
    let start = Vector4::new(0.0, 0.0, 807.72 * launch.cos(), 807.72 * launch.sin());
    let system = Cartesian(match_bullet(), icao());
    let mut solver = Dopri5::from_param(
        system,
        0.0,
        seconds,
        seconds,
        start,
        tolerance,
        tolerance,
        0.9,
        0.04,
        0.2,
        10.0,
        seconds,
        0.0,
        100_000,
        10_000,
        OutputType::Sparse,
    );
    let _ = solver.integrate();
    solver.y_out().last().map_or(f64::NAN, |y| y[2].hypot(y[3]))
}

fn solves() {
    let drag = match_bullet();
    for degrees in [0.0, 30.0, -30.0] {
        let flight =
            Flight::new(&drag, unit::FOOT_PER_SECOND.of(2650.0), &icao(), unit::DEGREE.of(degrees)).expect("a flight");
        let took = time(20_000, |i| {
            black_box(flight.arrive(unit::YARD.of(1000.0 + f64::from(i) * 1e-6))).ok();
        });
        println!("solve with aim to 1,000 yd, {degrees:+} deg: {took:?}");
    }
}

/// The catalogue's slowest to solve.
fn any_load() {
    let catalog = Catalog::builtin().expect("loads");
    let slowest = catalog.entries().iter().filter_map(|entry| {
        let facts = entry.load.facts();
        let flight = Flight::new(&facts.drag, facts.muzzle_velocity, &icao(), unit::DEGREE.of(0.0)).ok()?;
        flight.arrive(unit::YARD.of(1000.0)).ok()?;
        let took = time(2_000, |i| {
            black_box(flight.arrive(unit::YARD.of(1000.0 + f64::from(i) * 1e-6))).ok();
        });
        Some((took, entry.load.id().to_owned()))
    });
    if let Some((took, id)) = slowest.max() {
        println!("the slowest of the catalogue, level: {id}, {took:?}");
    }
}

fn against_a_general_crate() {
    let slope = unit::DEGREE.of(0.0);
    let speed = unit::FOOT_PER_SECOND.of(2650.0);
    let flight = Flight::new(&match_bullet(), speed, &icao(), slope).expect("a flight");
    let path = flight.path(unit::YARD.of(1000.0)).expect("within reach");
    let (arrival, launch) = (path.arrival(), path.launch().atan());
    let exact = general(launch, arrival.time.si(), 1e-13);
    let ours = (arrival.speed.si() - exact).abs();
    // The loosest tolerance at which the general crate is as near.
    let tolerance = (4..13)
        .map(|p| 10_f64.powi(-p))
        .find(|t| (general(launch, arrival.time.si(), *t) - exact).abs() <= ours.max(1e-4));
    let tolerance = tolerance.unwrap_or(1e-12);
    let own = time(20_000, |i| {
        black_box(flight.arrive(unit::YARD.of(1000.0 + f64::from(i) * 1e-6))).ok();
    });
    // The general crate is given the launch and the time: one run, where the solver's time holds all its aiming.
    let other = time(2_000, |i| {
        black_box(general(launch, arrival.time.si() + f64::from(i) * 1e-12, tolerance));
    });
    let twin = time(50, |_| {
        black_box(time_form::arrive(&match_bullet(), speed, &icao(), slope, unit::YARD.of(1000.0))).ok();
    });
    let error = unit::FOOT_PER_SECOND.value(Velocity::from_si(ours));
    println!("error at 1,000 yd {error:.4} ft/s; general crate at tolerance {tolerance:.0e}");
    println!(
        "general crate, one run {other:?}: {:.1} × the solver with its aim",
        other.as_secs_f64() / own.as_secs_f64()
    );
    println!("the usual time form with its aim, at 1e-11: {:.0} ×", twin.as_secs_f64() / own.as_secs_f64());
}

fn chart() {
    let (rules, ladder, catalog) =
        (RuleSet::house().expect("rules"), Ladder::builtin().expect("plates"), Catalog::builtin().expect("loads"));
    let conditions =
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).expect("conditions");
    let setup = Setup::hung(Face::round(unit::INCH.of(12.0)).expect("a face"));
    let chart = Chart { rules: &rules, plates: ladder.plates(), setup: &setup, conditions: &conditions, at: None };
    let loads: Vec<_> = catalog.entries().iter().step_by(2).take(25).map(|e| e.load.clone()).collect();
    let took = time(200, |_| {
        for load in &loads {
            black_box(chart.row(load)).ok();
        }
    });
    println!("chart of {} loads × {} plates: {took:?}", loads.len(), ladder.plates().len());
}

/// How many loads and targets of a course are alike.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Alike {
    /// Many: shooters bring the same load, targets of one kind hang at one distance.
    Many,
    /// None.
    None,
}

/// A course of targets on eight slopes and four plates, and of loads.
fn large_text(targets: usize, loads: usize, alike: Alike) -> String {
    let mut text = "schema = \"thickset/course/1\"\nname = \"large\"\nloads = []\n".to_owned();
    for i in 0..loads {
        let (grains, fps) = match alike {
            Alike::Many => ((50 + i % 150) as f64, (2000 + (i * 7) % 900) as f64),
            Alike::None => (50.0 + (i * 37 % 15_000) as f64 / 100.0, 2000.0 + (i * 7919 % 90_000) as f64 / 100.0),
        };
        let _ = write!(
            text,
            "[[load]]\nid = \"l{i}\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\nbullet = \"{grains} gr\"\nmuzzle-velocity = \"{fps} ft/s\"\ndrag = \"G7\"\nbc = \"0.2{}\"\n",
            i % 10
        );
    }
    text += "[[stage]]\nname = \"s\"\n";
    for i in 0..targets {
        let plate = ["1/4 in", "3/8 in", "1/2 in", "3/4 in"][i % 4];
        let yards = match alike {
            Alike::Many => (100 + 9 * (i % 100)) as f64,
            Alike::None => 10.0 + (i * 7 % 9000) as f64 / 10.0,
        };
        let _ = write!(
            text,
            "[[stage.target]]\nname = \"t{i}\"\nplate = \"{plate}\"\nat = \"{yards} yd\"\nstand = {{ slope = \"{} deg\", tilt = \"20 deg\", condition = \"sound\" }}\n",
            i % 8
        );
    }
    text
}

fn large(targets: usize, loads: usize) -> Course {
    let source = SourceText::new("large.toml", large_text(targets, loads, Alike::Many));
    let ladder = Ladder::builtin().expect("plates");
    let catalog = Catalog::builtin().expect("loads");
    Course::read(
        &source,
        Reading { catalog, ladder: &ladder, open: None, folder: None, units: thickset::words::Units::Us },
    )
    .expect("a course")
}

fn course(targets: usize, loads: usize) {
    let (rules, course) = (RuleSet::house().expect("rules"), large(targets, loads));
    let on = |weather: &Weather, slope: Angle| -> Result<FlightConditions, CoverageError> {
        FlightConditions::new(weather, slope, unit::PERCENT.of(99.0))
    };
    let cases = course.cases();
    let mut last = None;
    for threads in [1, 2] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        let took = time(1, |_| {
            black_box(pool.install(|| judge(&course, &cases, &rules, &on, &|| ()))).ok();
        });
        let faster = last
            .map(|l: Duration| format!(", {:.2} × one thread", l.as_secs_f64() / took.as_secs_f64()))
            .unwrap_or_default();
        println!(
            "course of {} targets × {} loads on {threads} threads: {took:?}{faster}",
            course.targets.len(),
            course.loads.len()
        );
        last = Some(took);
    }
    let work = judge(&course, &cases, &rules, &on, &|| ()).map(|judged| judged.work).unwrap_or_default();
    println!("work: {work:?}");
}

/// The program itself, from start to exit.
fn program(turns: u32, what: &str, words: &[&str]) {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_thickset"));
    command.args(words).stdout(std::process::Stdio::null()).stderr(std::process::Stdio::null());
    let took = time(turns, |_| {
        black_box(command.status()).ok();
    });
    println!("{what}, start to exit: {took:?}");
}

/// A match answered whole, with its fixes and its other air, from start to exit.
fn whole_course(targets: usize, loads: usize, alike: Alike) {
    let path = std::env::temp_dir().join(format!("thickset-bench-{}.toml", std::process::id()));
    std::fs::write(&path, large_text(targets, loads, alike)).expect("a file");
    program(1, &format!("course of {targets} × {loads} whole, alike: {alike:?}"), &["course", &path.to_string_lossy()]);
    std::fs::remove_file(&path).ok();
}

fn main() {
    solves();
    any_load();
    against_a_general_crate();
    chart();
    course(100, 1_000);
    course(10_000, 10_000);
    program(10, "advise", &["advise", "--load", "308-168-match", "--at", "100yd"]);
    program(10, "standoff with all loads", &["standoff"]);
    whole_course(100, 1_000, Alike::Many);
    whole_course(10_000, 10_000, Alike::Many);
    whole_course(10_000, 10_000, Alike::None);
}
