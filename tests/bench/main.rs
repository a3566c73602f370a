//! How long the work takes: one solve, the chart, a large course, the program itself. `cargo bench`; timing lives here
//! and in no test. `general/` has the same flight by a general ODE crate.

use std::fmt::Write as _;
use std::hint::black_box;
use std::time::{Duration, Instant};
use thickset::air::{Air, Weather};
use thickset::catalog::Catalog;
use thickset::course::{Course, Reading, judge};
use thickset::drag::{Drag, DragModel};
use thickset::flight::{Flight, time_form};
use thickset::plate::{Face, Ladder};
use thickset::quantity::{Angle, unit};
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

fn twin() {
    let (speed, slope) = (unit::FOOT_PER_SECOND.of(2650.0), unit::DEGREE.of(0.0));
    let took = time(50, |_| {
        black_box(time_form::arrive(&match_bullet(), speed, &icao(), slope, unit::YARD.of(1000.0))).ok();
    });
    println!("the usual time form with its aim, at 1e-11: {took:?}");
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
    twin();
    chart();
    course(100, 1_000);
    course(10_000, 10_000);
    program(10, "advise", &["advise", "--load", "308-168-match", "--at", "100yd"]);
    program(10, "standoff with all loads", &["standoff"]);
    whole_course(100, 1_000, Alike::Many);
    whole_course(10_000, 10_000, Alike::Many);
    whole_course(10_000, 10_000, Alike::None);
}
