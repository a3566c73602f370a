//! A bullet's own drag table against its radar flight.

use super::check::{Check, Status};
use std::sync::Arc;
use thickset::air::Air;
use thickset::drag::{Drag, DragCurve};
use thickset::flight::Flight;
use thickset::quantity::{Measure, unit};

const SOURCE: &str =
    "encyclopedia article \"External ballistics\", radar flight of a .338 19.44 g very-low-drag bullet";
const TABLE: &[(f64, f64)] = &[
    (0.0, 0.230),
    (0.4, 0.229),
    (0.5, 0.200),
    (0.6, 0.171),
    (0.7, 0.164),
    (0.8, 0.144),
    (0.825, 0.141),
    (0.85, 0.137),
    (0.875, 0.137),
    (0.9, 0.142),
    (0.925, 0.154),
    (0.95, 0.177),
    (0.975, 0.236),
    (1.0, 0.306),
    (1.025, 0.334),
    (1.05, 0.341),
    (1.075, 0.345),
    (1.1, 0.347),
    (1.15, 0.348),
    (1.2, 0.348),
    (1.3, 0.343),
    (1.4, 0.336),
    (1.5, 0.328),
    (1.6, 0.321),
    (1.8, 0.304),
    (2.0, 0.292),
    (2.2, 0.282),
    (2.4, 0.270),
];
/// Metres, m/s, s.
const ROWS: &[(f64, f64, f64)] = &[
    (300.0, 711.0, 0.3918),
    (600.0, 604.0, 0.8507),
    (900.0, 507.0, 1.3937),
    (1200.0, 422.0, 2.0435),
    (1500.0, 349.0, 2.8276),
    (1800.0, 311.0, 3.7480),
    (2100.0, 288.0, 4.7522),
    (2400.0, 267.0, 5.8354),
    (2700.0, 247.0, 7.0095),
    (3000.0, 227.0, 8.2909),
    (3300.0, 208.0, 9.7015),
];

pub fn checks() -> Vec<Check> {
    let curve = Arc::new(DragCurve::from_points(TABLE).expect("a table in order"));
    let drag =
        Drag::own(curve, unit::GRAM.of(19.44), unit::MILLIMETRE.of(8.59)).expect("a sectional density in bounds");
    let flight =
        Flight::new(&drag, unit::METRE_PER_SECOND.of(830.0), &Air::icao(unit::METRE.of(0.0)), unit::DEGREE.of(0.0))
            .expect("a flight");
    let mut checks = Vec::new();
    for &(metres, speed, time) in ROWS {
        let arrival = flight.arrive(unit::METRE.of(metres)).expect("within reach");
        let allowed = if metres > 2700.0 { 6.0 } else { 3.0 };
        checks.push(Check::new(
            format!("speed at {metres} m, m/s"),
            SOURCE,
            Status::Memory,
            speed,
            arrival.speed.si(),
            allowed,
        ));
        // 3 m/s of speed is about 1 % of the time where the bullet is slow.
        let what = format!("time to {metres} m, s");
        checks.push(Check::new(what, SOURCE, Status::Memory, time, arrival.time.si(), 0.01 * time));
    }
    checks
}

#[test]
fn a_bullet_s_own_table_reproduces_its_radar_flight() {
    super::check::assert_all(&checks());
}
