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

/// The drawn quantile, the bound, and the mean shot's speed and Mach number.
fn compare(id: &str, yards: f64, coverage: f64) -> (f64, f64, f64, f64) {
    let load = &Catalog::builtin().expect("loads").load(id).expect("a shipped load").load.clone();
    let conditions =
        FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::ONE.of(coverage)).expect("conditions");
    let at = unit::YARD.of(yards);
    let grid = Grid::new(load, &conditions, at);
    let mut draws = Draws::seeded();
    let mut speeds: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let (a, b) = draws.pair();
            grid.at(a, b)
        })
        .collect();
    let rank = (coverage * DRAWS as f64) as usize;
    let (_, drawn, _) = speeds.select_nth_unstable_by(rank, f64::total_cmp);
    let strike = Flights::new(load, &conditions).expect("flights").strike(at).expect("within reach");
    (*drawn, strike.fast.si(), strike.mean.si(), strike.mach)
}

#[test]
fn the_combined_spread_agrees_with_a_million_draws_and_is_never_far_below_in_the_transonic() {
    let feet = |mps: f64| unit::FOOT_PER_SECOND.value(Velocity::from_si(mps));
    let (mut outside, mut inside) = (0, 0);
    for (id, yards) in [
        ("308-168-match", 100.0),
        ("308-168-match", 500.0),
        ("556-55", 300.0),
        ("9mm-115", 50.0),
        ("308-168-match", 950.0),
        ("45acp-230", 200.0),
        ("22lr-hv-40", 60.0),
    ] {
        for coverage in [0.95, 0.99] {
            let (drawn, bound, mean, mach) = compare(id, yards, coverage);
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
