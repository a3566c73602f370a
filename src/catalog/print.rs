//! A load printed as a record that reads back.

use crate::drag::{Band, Drag, DragModel};
use crate::load::{Load, MuzzleSpread, Spread};
use crate::quantity::{Measure, Velocity, unit};
use std::path::Path;

/// The text of a quantity that reads back to the same SI value, or to its neighbour where no text does:
/// in the trade's unit without needless digits if a number of it will do, else in the SI unit.
fn exact<Q: Measure>(quantity: Q, trade: &unit::Unit<Q>, symbol: &str) -> String {
    let value = trade.value(quantity);
    let short = (value * 1e6).round() / 1e6;
    // The conversion there and back may miss by a last digit: the right number is beside it.
    let near = [short, value, value.next_up(), value.next_down()];
    let found = near.into_iter().find(|&number| trade.of(number).si().total_cmp(&quantity.si()).is_eq());
    let is_si = |unit: &&unit::Unit<Q>| [0.0, 1.0].iter().all(|n| unit.of(*n).si().total_cmp(n).is_eq());
    let text = match (found, Q::UNITS.iter().find(|unit| is_si(unit) && !unit.symbol.is_empty())) {
        (Some(number), _) => format!("{number} {symbol}"),
        (None, Some(si)) => format!("{} {}", quantity.si(), si.symbol),
        (None, None) => format!("{value} {symbol}"),
    };
    text.trim_end().to_owned()
}

fn speed(speed: Velocity) -> String {
    exact(speed, &unit::FOOT_PER_SECOND, "ft/s")
}

/// Prints a load as a record that the reader reads back to an equal load. A bullet's own curve can't be
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
    lines.push(format!("bullet = \"{}\"", exact(facts.bullet, &unit::GRAIN, "gr")));
    if let Some(diameter) = facts.diameter {
        lines.push(format!("diameter = \"{}\"", exact(diameter, &unit::INCH, "in")));
    }
    lines.push(format!("muzzle-velocity = \"{}\"", speed(facts.muzzle_velocity)));
    if let Some(barrel) = facts.barrel {
        lines.push(format!("barrel = \"{}\"", exact(barrel, &unit::INCH, "in")));
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
    let bc = |band: &Band| exact(band.bc, &unit::POUND_PER_SQUARE_INCH, "");
    match drag.bands() {
        [one] => lines.push(format!("bc = \"{}\"", bc(one))),
        bands => {
            let bands = bands.iter().map(|b| format!("{{ above = \"{}\", bc = \"{}\" }}", speed(b.above), bc(b)));
            lines.push(format!("bc = [{}]", bands.collect::<Vec<_>>().join(", ")));
        }
    }
}

fn render_spread(spread: &Spread, lines: &mut Vec<String>) {
    match spread.muzzle {
        MuzzleSpread::Assumed => {}
        MuzzleSpread::Sd(sd) => lines.push(format!("velocity-sd = \"{}\"", speed(sd))),
        MuzzleSpread::Bound { sd, factor } => {
            lines.push(format!("velocity-sd = \"{}\"", speed(sd)));
            lines.push(format!("tolerance-factor = {factor:?}"));
        }
    }
    if let Some(share) = spread.bc_sd {
        lines.push(format!("bc-sd = \"{}\"", exact(share, &unit::PERCENT, "%")));
    }
    if let Some(slope) = spread.temperature_slope {
        let text = exact(slope, &unit::FOOT_PER_SECOND_PER_FAHRENHEIT, "ft/s per F");
        lines.push(format!("velocity-temperature-slope = \"{text}\""));
    }
    if let Some(temperature) = spread.measured_at {
        lines.push(format!("measured-at = \"{}\"", exact(temperature, &unit::FAHRENHEIT, "F")));
    }
}
