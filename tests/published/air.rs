//! Air against the printed standard atmospheres, and against a second route.

use super::check::{Check, Status};
use thickset::air::Air;
use thickset::quantity::{Measure, unit};

const ISO: &str = "ISO 2533:1975 by geopotential altitude";
const METRO: &str = "Army Standard Metro, printed values";
const HYDROSTATIC: &str = "hydrostatic equation integrated numerically from ISO 2533 constants";

/// H m, T K, p Pa, ρ kg/m³, a m/s.
const ROWS: &[[f64; 5]] = &[
    [0.0, 288.15, 101_325.0, 1.22500, 340.294],
    [500.0, 284.90, 95_460.8, 1.16727, 338.369],
    [1000.0, 281.65, 89_874.6, 1.11164, 336.434],
    [2000.0, 275.15, 79_495.2, 1.00649, 332.529],
    [3000.0, 268.65, 70_108.5, 0.90912, 328.578],
];

pub fn checks() -> Vec<Check> {
    let mut checks = Vec::new();
    for &[h, t, p, rho, a] in ROWS {
        let air = Air::icao(unit::METRE.of(h));
        let mut add = |what: &str, expected: f64, got: f64, allowed: f64| {
            checks.push(Check::new(format!("{what} at {h} m"), ISO, Status::Computed, expected, got, allowed));
        };
        // Half a unit of the last digit printed.
        add("temperature, K", t, air.temperature().si(), 0.005);
        add("pressure, Pa", p, air.pressure().si(), 0.06);
        add("density, kg/m³", rho, air.density().si(), 6e-6);
        add("speed of sound, m/s", a, air.sound_speed().si(), 6e-4);
        checks.push(Check::new(
            format!("pressure at {h} m, second route, Pa"),
            HYDROSTATIC,
            Status::Computed,
            hydrostatic(h),
            air.pressure().si(),
            0.01,
        ));
    }
    let metro = Air::army_standard_metro();
    let density = unit::POUND_PER_CUBIC_FOOT.value(metro.density());
    checks.push(Check::new("Metro density, lb/ft³", METRO, Status::Memory, 0.075_126_5, density, 1e-9));
    let sound = unit::FOOT_PER_SECOND.value(metro.sound_speed());
    checks.push(Check::new("Metro speed of sound, ft/s", METRO, Status::Memory, 1120.27, sound, 1e-9));
    let ratio = Air::icao(unit::METRE.of(0.0)).density().si() / metro.density().si();
    checks.push(Check::new("ICAO over Metro density", METRO, Status::Computed, 1.01794, ratio, 5e-6));
    checks
}

/// dp/dh = −g·p/(R·T), Runge–Kutta in steps of a metre.
fn hydrostatic(height: f64) -> f64 {
    let slope = |h: f64, p: f64| -9.806_65 * p / (287.052_87 * (288.15 - 0.0065 * h));
    let (mut h, mut p) = (0.0, 101_325.0);
    while h < height {
        let k1 = slope(h, p);
        let k2 = slope(h + 0.5, p + 0.5 * k1);
        let k3 = slope(h + 0.5, p + 0.5 * k2);
        let k4 = slope(h + 1.0, p + k3);
        p += (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0;
        h += 1.0;
    }
    p
}

#[test]
fn air_agrees_with_the_standard_atmospheres() {
    super::check::assert_all(&checks());
}
