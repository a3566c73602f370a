//! The combined spread against a million seeded draws of muzzle velocity and coefficient.

// Grid places are small and positive.
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use super::support::Draws;
use thickset::air::Weather;
use thickset::catalog::Catalog;
use thickset::flight::Flight;
use thickset::load::Load;
use thickset::quantity::{Length, Measure, Velocity, unit};
use thickset::spread::{FlightConditions, Flights, normal::quantile};

const DRAWS: usize = 1_000_000;
/// Nodes of the grid of exact flights on each axis, over ±6 standard deviations; between them bilinear.
const NODES: usize = 49;
const SPAN: f64 = 6.0;

/// Impact speeds, m/s, over standard deviations of velocity and coefficient.
struct Grid(Vec<Vec<f64>>);

impl Grid {
    fn new(load: &Load, conditions: &FlightConditions, at: Length) -> Self {
        let facts = load.facts();
        let deviation = |i: usize| SPAN * (2.0 * i as f64 / (NODES - 1) as f64 - 1.0);
        let arrive = |i: usize, j: usize| {
            let muzzle = facts.muzzle_velocity + load.velocity_sd() * deviation(i);
            let drag = facts.drag.scaled(1.0 + 0.03 * deviation(j));
            let flight = Flight::new(&drag, muzzle, conditions.thin(), conditions.slope()).expect("a flight");
            flight.arrive(at).expect("within reach").speed.si()
        };
        Self((0..NODES).map(|i| (0..NODES).map(|j| arrive(i, j)).collect()).collect())
    }

    fn at(&self, a: f64, b: f64) -> f64 {
        let place = |z: f64| {
            let scaled = ((z / SPAN + 1.0) * 0.5 * (NODES - 1) as f64).clamp(0.0, (NODES - 1) as f64 - 1e-9);
            (scaled.floor() as usize, scaled.fract())
        };
        let ((i, x), (j, y)) = (place(a), place(b));
        let grid = &self.0;
        (1.0 - x) * ((1.0 - y) * grid[i][j] + y * grid[i][j + 1])
            + x * ((1.0 - y) * grid[i + 1][j] + y * grid[i + 1][j + 1])
    }
}

/// Where a shot is drawn, in standard deviations of velocity and coefficient.
fn drawn() -> Vec<(f64, f64)> {
    let mut draws = Draws::seeded();
    (0..DRAWS).map(|_| draws.pair()).collect()
}

/// What is compared at a coverage: the drawn quantile, and the bound.
struct Compared {
    coverage: f64,
    drawn: f64,
    bound: f64,
}

/// The mean shot's speed and Mach number, and the comparison at each coverage.
fn compare(id: &str, yards: f64, drawn: &[(f64, f64)]) -> (f64, f64, [Compared; 2]) {
    let load = &Catalog::builtin().expect("loads").load(id).expect("a shipped load").load.clone();
    let at = unit::YARD.of(yards);
    let flights = |coverage: f64| {
        let level = unit::DEGREE.of(0.0);
        let conditions = FlightConditions::new(&Weather::default(), level, unit::ONE.of(coverage)).expect("conditions");
        (Flights::new(load, &conditions).expect("flights"), conditions)
    };
    let grid = Grid::new(load, &flights(0.99).1, at);
    let mut speeds: Vec<f64> = drawn.iter().map(|(a, b)| grid.at(*a, *b)).collect();
    let compared = [0.95, 0.99].map(|coverage| {
        let rank = (coverage * DRAWS as f64) as usize;
        let (_, drawn, _) = speeds.select_nth_unstable_by(rank, f64::total_cmp);
        Compared { coverage, drawn: *drawn, bound: flights(coverage).0.strike(at).expect("within reach").fast.si() }
    });
    let strike = flights(0.99).0.strike(at).expect("within reach");
    (strike.mean.si(), strike.mach, compared)
}

#[test]
fn the_combined_spread_agrees_with_a_million_draws_and_is_never_far_below_in_the_transonic() {
    let feet = |mps: f64| unit::FOOT_PER_SECOND.value(Velocity::from_si(mps));
    let (mut outside, mut inside, shots) = (0, 0, drawn());
    for (id, yards) in [
        ("308-168-match", 100.0),
        ("308-168-match", 500.0),
        ("556-55", 300.0),
        ("9mm-115", 50.0),
        ("308-168-match", 950.0),
        ("45acp-230", 200.0),
        ("22lr-hv-40", 60.0),
    ] {
        let (mean, mach, compared) = compare(id, yards, &shots);
        for Compared { coverage, drawn, bound } in compared {
            if (0.9..1.15).contains(&mach) {
                assert!(feet(bound) >= feet(drawn) - 2.0, "{id} {yards}: {} below {}", feet(bound), feet(drawn));
                inside += 1;
            } else {
                let share = (bound - mean) / (drawn - mean);
                assert!((share - 1.0).abs() < 0.02, "{id} {yards} {coverage} at Mach {mach:.2}: {share}");
                outside += 1;
            }
        }
    }
    assert!(outside >= 6 && inside >= 2, "{outside} {inside}");
    assert!((quantile(0.99).expect("a quantile") - 2.3263).abs() < 1e-4);
}
