//! G1 flight against printed ammunition-catalogue rows.

#![allow(dead_code)] // Also compiled into the verification example, which uses the checks alone.

use super::check::{Check, Status};
use thickset::advisor::answer::StrikeRow;
use thickset::advisor::{Advisor, StrikeQuestion};
use thickset::air::Air;
use thickset::drag::{Drag, DragModel};
use thickset::flight::Flight;
use thickset::quantity::{Length, Velocity, unit};

const SOURCE: &str = "a US ammunition catalogue, printed rows in Army Standard Metro air";
/// Printed catalogue speeds are whole and of their maker's own integrator.
const SPEED_ALLOWED: f64 = 3.0;
/// Energy that 3 ft/s make at the heaviest row, and rounding.
const ENERGY_ALLOWED: f64 = 9.0;

struct Row {
    name: &'static str,
    grains: f64,
    bc: f64,
    speed: [f64; 6],
    energy: [f64; 6],
}

const ROWS: &[Row] = &[
    Row {
        name: ".223 55 gr",
        grains: 55.0,
        bc: 0.197,
        speed: [3240.0, 2747.0, 2304.0, 1905.0, 1554.0, 1270.0],
        energy: [1282.0, 921.0, 648.0, 443.0, 295.0, 197.0],
    },
    Row {
        name: ".243 100 gr",
        grains: 100.0,
        bc: 0.356,
        speed: [2960.0, 2697.0, 2449.0, 2215.0, 1993.0, 1786.0],
        energy: [1945.0, 1615.0, 1332.0, 1089.0, 882.0, 708.0],
    },
    Row {
        name: "7 mm Rem Mag 150 gr",
        grains: 150.0,
        bc: 0.346,
        speed: [3110.0, 2830.0, 2568.0, 2320.0, 2085.0, 1866.0],
        energy: [3221.0, 2667.0, 2196.0, 1792.0, 1448.0, 1160.0],
    },
    Row {
        name: ".308 150 gr",
        grains: 150.0,
        bc: 0.314,
        speed: [2820.0, 2533.0, 2263.0, 2009.0, 1774.0, 1560.0],
        energy: [2648.0, 2137.0, 1705.0, 1344.0, 1048.0, 810.0],
    },
    Row {
        name: ".308 180 gr",
        grains: 180.0,
        bc: 0.383,
        speed: [2620.0, 2393.0, 2178.0, 1974.0, 1782.0, 1604.0],
        energy: [2743.0, 2288.0, 1896.0, 1557.0, 1269.0, 1028.0],
    },
    Row {
        name: ".30-06 180 gr",
        grains: 180.0,
        bc: 0.383,
        speed: [2700.0, 2469.0, 2250.0, 2042.0, 1846.0, 1663.0],
        energy: [2913.0, 2436.0, 2023.0, 1666.0, 1362.0, 1105.0],
    },
    Row {
        name: ".300 Win Mag 180 gr",
        grains: 180.0,
        bc: 0.383,
        speed: [2960.0, 2715.0, 2482.0, 2262.0, 2052.0, 1856.0],
        energy: [3501.0, 2945.0, 2463.0, 2044.0, 1683.0, 1375.0],
    },
];

fn speeds(row: &Row, air: &Air) -> Vec<Velocity> {
    let drag = Drag::single(DragModel::G1, unit::POUND_PER_SQUARE_INCH.of(row.bc)).expect("a coefficient in bounds");
    let level = unit::DEGREE.of(0.0);
    let flight = Flight::new(&drag, unit::FOOT_PER_SECOND.of(row.speed[0]), air, level).expect("a flight");
    (0..6).map(|i| flight.arrive(yards(i)).expect("within reach").speed).collect()
}

fn yards(hundreds: usize) -> Length {
    unit::YARD.of(100.0 * hundreds as f64)
}

/// What the program answers of a row, each hundred yards: mean speed in ft/s and energy in ft·lbf.
fn answered(row: &Row) -> Vec<(f64, f64)> {
    let text = format!(
        r#"{{"load": {{"bullet": "{} gr", "velocity": "{} ft/s", "bc": "{}", "drag": "G1", "construction": "jacketed-lead"}},
            "air": "ASM", "to": "500 yd", "step": "100 yd"}}"#,
        row.grains, row.speed[0], row.bc
    );
    let question: StrikeQuestion = serde_json::from_str(&text).expect("a question");
    let answer = Advisor::house().and_then(|advisor| advisor.strike(&question)).expect("an answer");
    let fps = |row: &StrikeRow| unit::FOOT_PER_SECOND.value(*row.speed);
    answer.rows.iter().map(|row| (fps(row), unit::FOOT_POUND.value(*row.energy))).collect()
}

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for row in ROWS {
        for (i, (fps, ft_lbf)) in answered(row).into_iter().enumerate() {
            // The speed at the muzzle is what is given.
            if i > 0 {
                let what = format!("{} speed at {} yd, ft/s", row.name, 100 * i);
                checks.push(Check::new(what, SOURCE, Status::Memory, row.speed[i], fps, SPEED_ALLOWED));
            }
            let what = format!("{} energy at {} yd, ft·lbf", row.name, 100 * i);
            checks.push(Check::new(what, SOURCE, Status::Memory, row.energy[i], ft_lbf, ENERGY_ALLOWED));
        }
    }
    checks
}

#[test]
fn flight_reproduces_printed_catalogue_rows() {
    super::check::assert_all(&checks());
}

#[test]
fn the_denser_icao_air_shows_as_a_bias_of_about_eleven_feet_per_second() {
    let icao = Air::icao(unit::METRE.of(0.0));
    let biases = ROWS.iter().flat_map(|row| {
        let speeds = speeds(row, &icao);
        (3..6).map(move |i| unit::FOOT_PER_SECOND.value(speeds[i]) - row.speed[i]).collect::<Vec<_>>()
    });
    let all: Vec<f64> = biases.collect();
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    assert!((-16.0..-6.0).contains(&mean), "mean bias {mean}");
}

/// A shipped load stands for its class; a maker's row is what the solver is checked with, and no more.
#[test]
fn no_shipped_load_repeats_a_printed_row() {
    let catalog = thickset::catalog::Catalog::builtin().expect("the loads");
    for entry in catalog.entries() {
        let facts = entry.load.facts();
        let bc = facts.drag.bands().last().map_or(0.0, |b| unit::POUND_PER_SQUARE_INCH.value(b.bc));
        let repeats = |row: &&Row| {
            facts.drag.model() == DragModel::G1
                && (unit::GRAIN.value(facts.bullet) - row.grains).abs() < 0.5
                && (unit::FOOT_PER_SECOND.value(facts.muzzle_velocity) - row.speed[0]).abs() < 0.5
                && (bc - row.bc).abs() < 5e-4
        };
        assert!(ROWS.iter().find(repeats).is_none(), "{}", entry.load.id());
    }
}
