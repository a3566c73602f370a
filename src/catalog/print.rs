//! A load printed as a record that reads back.

use crate::drag::{Band, Drag, DragModel};
use crate::load::{Load, MeasuredString, MuzzleSpread, Spread};
use crate::quantity::{Measure, Velocity, unit};
use std::path::Path;

/// Significant digits of a number that a person reads.
const DIGITS: i32 = 9;
/// A number so near to a rounder one is that one: converting there and back may miss by a last digit.
const NOISE: f64 = 1e-12;

/// The side that a number which has more digits is cut to: never the one that flatters.
#[derive(Clone, Copy)]
enum Cut {
    Up,
    Down,
    Near,
}

impl Cut {
    /// A number of at most nine digits.
    fn number(self, value: f64) -> f64 {
        if value.abs() < NOISE || !value.is_finite() {
            return if value.is_finite() { 0.0 } else { value };
        }
        #[allow(clippy::cast_possible_truncation)] // A handful of digits.
        let whole = value.abs().log10().floor() as i32 + 1;
        let scale = 10_f64.powi((DIGITS - whole).max(0));
        let near = (value * scale).round();
        let is_noise = (near - value * scale).abs() <= NOISE * value.abs() * scale;
        let cut = match self {
            Self::Up if !is_noise => (value * scale).ceil(),
            Self::Down if !is_noise => (value * scale).floor(),
            Self::Up | Self::Down | Self::Near => near,
        };
        cut / scale + 0.0
    }
}

/// The text of a quantity in at most nine digits: in the trade's unit, or in another that alone says it as it is, or
/// more shortly.
fn written<Q: Measure>(quantity: Q, trade: &unit::Unit<Q>, symbol: &str, cut: Cut) -> String {
    let number = |unit: &unit::Unit<Q>| cut.number(unit.value(quantity));
    let off = |unit: &unit::Unit<Q>| (unit.of(number(unit)).si() - quantity.si()).abs();
    let own = format!("{} {symbol}", number(trade)).trim_end().to_owned();
    if off(trade) == 0.0 {
        return own;
    }
    let others = Q::UNITS.iter().filter(|unit| !unit.symbol.is_empty() && off(unit) == 0.0);
    let others = others.map(|unit| format!("{} {}", number(unit), unit.symbol));
    let is_own = off(trade) <= NOISE * quantity.si().abs();
    others.min_by_key(String::len).filter(|other| !is_own || other.len() < own.len()).unwrap_or(own)
}

fn speed(speed: Velocity, cut: Cut) -> String {
    written(speed, &unit::FOOT_PER_SECOND, "ft/s", cut)
}

/// Prints a load as a record that the reader reads back to an equal load, numbers of more than nine digits cut to nine
/// on the side that is judged more strictly. A bullet's own curve can't be
/// printed: it stands in its own file, whose path the caller gives, relative to the file of loads;
/// without it the reader refuses the record for want of its drag.
#[must_use]
pub fn render_load(load: &Load, basis: &str, drag_table: Option<&Path>) -> String {
    let facts = load.facts();
    let quoted = |text: &str| toml::Value::String(text.into()).to_string();
    let mut lines =
        vec!["[[load]]".to_owned(), format!("id = {}", quoted(load.id())), format!("name = {}", quoted(&facts.name))];
    if let Some(cartridge) = &facts.cartridge {
        lines.push(format!("cartridge = {}", quoted(cartridge)));
    }
    lines.push(format!("firearm = \"{}\"", facts.firearm));
    lines.push(format!("construction = \"{}\"", facts.construction));
    lines.push(format!("bullet = \"{}\"", written(facts.bullet, &unit::GRAIN, "gr", Cut::Up)));
    if let Some(diameter) = facts.diameter {
        lines.push(format!("diameter = \"{}\"", written(diameter, &unit::INCH, "in", Cut::Near)));
    }
    lines.push(format!("muzzle-velocity = \"{}\"", speed(facts.muzzle_velocity, Cut::Up)));
    if let Some(barrel) = facts.barrel {
        lines.push(format!("barrel = \"{}\"", written(barrel, &unit::INCH, "in", Cut::Near)));
    }
    render_drag(&facts.drag, drag_table, &mut lines);
    if facts.projectiles != 1 {
        lines.push(format!("projectiles = {}", facts.projectiles));
    }
    if facts.steel_core_common {
        lines.push("steel-core-common = true".into());
    }
    if facts.steel_common {
        lines.push("steel-common = true".into());
    }
    render_spread(&facts.spread, &mut lines);
    lines.push(format!("basis = {}", quoted(basis)));
    lines.push(format!("source = {}", quoted(&facts.source)));
    lines.join("\n") + "\n"
}

fn render_drag(drag: &Drag, table: Option<&Path>, lines: &mut Vec<String>) {
    if drag.model() == DragModel::Own {
        if let Some(path) = table {
            lines.push(format!("drag-table = {}", toml::Value::String(path.display().to_string())));
        }
        return;
    }
    lines.push(format!("drag = \"{}\"", drag.model()));
    let bc = |band: &Band| written(band.bc, &unit::POUND_PER_SQUARE_INCH, "", Cut::Up);
    match drag.bands() {
        [one] => lines.push(format!("bc = \"{}\"", bc(one))),
        bands => {
            let bands =
                bands.iter().map(|b| format!("{{ above = \"{}\", bc = \"{}\" }}", speed(b.above, Cut::Near), bc(b)));
            lines.push(format!("bc = [{}]", bands.collect::<Vec<_>>().join(", ")));
        }
    }
}

fn render_spread(spread: &Spread, lines: &mut Vec<String>) {
    match spread.muzzle {
        MuzzleSpread::Assumed => {}
        MuzzleSpread::Sd(sd) => lines.push(format!("velocity-sd = \"{}\"", speed(sd, Cut::Up))),
        MuzzleSpread::Bound { sd, factor, string } => {
            lines.push(format!("velocity-sd = \"{}\"", speed(sd, Cut::Up)));
            lines.push(format!("tolerance-factor = {:?}", Cut::Up.number(factor)));
            string.iter().for_each(|string| render_string(string, lines));
        }
    }
    if let Some(share) = spread.bc_sd {
        lines.push(format!("bc-sd = \"{}\"", written(share, &unit::PERCENT, "%", Cut::Up)));
    }
    if let Some(slope) = spread.temperature_slope {
        let text = written(slope, &unit::FOOT_PER_SECOND_PER_FAHRENHEIT, "ft/s per F", Cut::Up);
        lines.push(format!("velocity-temperature-slope = \"{text}\""));
    }
    if let Some(temperature) = spread.measured_at {
        lines.push(format!("measured-at = \"{}\"", written(temperature, &unit::FAHRENHEIT, "F", Cut::Down)));
    }
}

fn render_string(string: &MeasuredString, lines: &mut Vec<String>) {
    let percent = |share: f64| written(unit::ONE.of(share), &unit::PERCENT, "%", Cut::Near);
    lines.push(format!("readings = {}", string.readings));
    lines.push(format!("farthest-reading = {:?}", Cut::Up.number(string.farthest)));
    lines.push(format!("confidence = \"{}\"", percent(string.confidence)));
    lines.extend(string.coverage.map(|coverage| format!("coverage = \"{}\"", percent(coverage))));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_has_nine_digits_at_most_and_is_cut_to_the_side_that_does_not_flatter() {
        let cut = [Cut::Up, Cut::Near, Cut::Down];
        assert_eq!(cut.map(|cut| cut.number(2_302.200_000_000_000_3)), [2302.2; 3]);
        assert_eq!(cut.map(|cut| cut.number(85.999_999_999_999_94)), [86.0; 3]);
        assert_eq!(cut.map(|cut| cut.number(-1e-14)), [0.0; 3]);
        assert_eq!(cut.map(|cut| cut.number(2_586.286_083_238)), [2_586.286_09, 2_586.286_08, 2_586.286_08]);
        assert_eq!(cut.map(|cut| cut.number(0.223)), [0.223; 3]);
        assert_eq!(format!("{}", Cut::Down.number(-1e-14)), "0");
    }

    #[test]
    fn a_quantity_is_written_in_the_trade_s_unit_or_in_the_one_that_says_it_exactly() {
        let of = |fps: f64| speed(unit::FOOT_PER_SECOND.of(fps), Cut::Up);
        assert_eq!([of(2302.2), of(2_302.200_000_000_000_3)], ["2302.2 ft/s"; 2]);
        assert_eq!(speed(unit::METRE_PER_SECOND.of(702.0), Cut::Up), "702 m/s");
        assert_eq!(speed(unit::FOOT_PER_SECOND.of(2_585.123_456_781), Cut::Up), "2585.12346 ft/s");
        let measured = |fahrenheit: f64| written(unit::FAHRENHEIT.of(fahrenheit), &unit::FAHRENHEIT, "F", Cut::Down);
        assert_eq!([measured(86.0), measured(85.999_999_999_999_94)], ["86 F"; 2]);
    }
}
