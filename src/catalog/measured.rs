//! A load with what a chronograph measured of it.

use crate::load::{Load, LoadError, MuzzleSpread};
use crate::quantity::{Length, Measure, Velocity};
use crate::words::Units;

/// A load with the mean and the spread of a chronograph string in place of its own. Whatever barrel the load's
/// velocity was stated for, or moved to, no longer counts: it is the one that the string was shot from, and unknown
/// unless given. Its name says the mean, so that nobody takes it for the listed one.
///
/// # Errors
/// [`LoadError`] where the result can't be.
pub fn measured(
    load: &Load,
    mean: Velocity,
    spread: MuzzleSpread,
    readings: usize,
    barrel: Option<Length>,
    units: Units,
) -> Result<Load, LoadError> {
    load.with(|facts| {
        facts.name = called(&facts.name, mean, units);
        facts.muzzle_velocity = mean;
        facts.barrel = barrel;
        facts.spread.slow_margin = Velocity::from_si(0.0);
        facts.spread.muzzle = spread;
        facts.source = format!("chronograph string of {readings} readings");
    })
}

/// `300 Win Mag 180 gr at 2302 ft/s`: a name with the mean that was measured, in place of another velocity
/// behind it.
fn called(name: &str, mean: Velocity, units: Units) -> String {
    let is_speed = |text: &str| {
        let number = text.strip_suffix(" ft/s").or_else(|| text.strip_suffix(" m/s"));
        number.is_some_and(|number| !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit()))
    };
    let plain = name.rsplit_once(" at ").filter(|(_, speed)| is_speed(speed)).map_or(name, |(plain, _)| plain);
    format!("{plain} at {}", units.speed(mean))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn a_measured_load_is_called_by_its_mean_once() {
        let mean = unit::FOOT_PER_SECOND.of(2302.2);
        let of = |name: &str| called(name, mean, Units::Us);
        assert_eq!(called("300 Win Mag 180 gr at 2961 ft/s", mean, Units::Si), "300 Win Mag 180 gr at 702 m/s");
        assert_eq!(of("300 Win Mag 180 gr"), "300 Win Mag 180 gr at 2302 ft/s");
        assert_eq!(of("300 Win Mag 180 gr at 2961 ft/s"), "300 Win Mag 180 gr at 2302 ft/s");
        assert_eq!(of("zero at 100 yd"), "zero at 100 yd at 2302 ft/s");
    }
}
