//! What stands beside the readings of a file, held against the load that it is said to be of.

use super::super::books::Books;
use crate::catalog::Cartridge;
use crate::chrono::{Above, Warmth};
use crate::load::{Load, spoken_against};
use crate::quantity::{Temperature, unit};
use crate::source::{Diagnostic, SourceText, clean};
use crate::words::Units;
use std::sync::Arc;

/// Refuses a file whose lines above the table speak of another load: its bullet, its cartridge, what it is made of.
pub(super) fn like_the_load(
    books: &Books,
    readings: &str,
    above: &[Above],
    load: &Load,
    units: Units,
) -> Result<(), Diagnostic> {
    let against = above.iter().find_map(|line| Some((line, speaks_against(books, line, load, units)?)));
    against.map_or(Ok(()), |(line, why)| {
        let source = SourceText::new("readings", readings);
        let fault = source.fault(line.span.clone(), format!("`{}` is of another load: {why}", clean(&line.text)));
        Err(fault.field("readings").help("name the load that was shot, or take the line out where it is wrong"))
    })
}

fn speaks_against(books: &Books, line: &Above, load: &Load, units: Units) -> Option<String> {
    let (facts, name) = (load.facts(), clean(&load.facts().name));
    if line.is_of_another_bullet(load) {
        return Some(format!("{name} has one of {}", units.bullet(facts.bullet)));
    }
    if spoken_against(facts.construction, std::iter::once(line.text.as_str())).is_some() {
        return Some(format!("{name} is {}", facts.construction.words()));
    }
    let called = line.cartridge()?;
    let own = Cartridge::of(load)?;
    // A calibre alone is that of many cartridges.
    let is_calibre = |inches: f64| own.calibre().is_some_and(|own| (unit::INCH.value(own) - inches).abs() < 0.002);
    if called.parse::<f64>().is_ok_and(is_calibre) {
        return None;
    }
    let other = cartridge_of(books, called)?;
    (other.name() != own.name()).then(|| format!("{name} is of {}", own.name()))
}

/// The cartridge that a name of one, or of a load, stands for.
fn cartridge_of(books: &Books, called: &str) -> Option<Arc<Cartridge>> {
    match books.catalog.load(called) {
        Ok(entry) => Cartridge::of(&entry.load).cloned(),
        Err(_) => books.catalog.cartridge(called).ok(),
    }
}

/// Lines about the load that nothing could be held against.
pub(super) fn unheld(books: &Books, above: &[Above], load: &Load) -> Vec<String> {
    let is_known = |line: &Above| line.cartridge().is_some_and(|called| cartridge_of(books, called).is_some());
    let is_held = |line: &Above| line.states_a_bullet() || (Cartridge::of(load).is_some() && is_known(line));
    let lines = above.iter().filter(|line| line.is_about_the_load() && !is_held(line));
    lines
        .map(|line| {
            format!("`{}`, which nothing of {} could be held against", clean(&line.text), clean(&load.facts().name))
        })
        .collect()
}

/// The powder's temperature as a file's own column tells it, for a load that has powder.
pub(super) fn powder_of(warmth: Option<&Warmth>, load: &Load) -> Option<Temperature> {
    warmth?.at.filter(|at| load.has_powder() && TAKEN_F.contains(&unit::FAHRENHEIT.value(*at)))
}

/// Temperatures that a string is shot at, °F (house assumption): beyond, the column holds something else.
const TAKEN_F: std::ops::RangeInclusive<f64> = -40.0..=130.0;

/// What is said of a column of temperatures that is taken.
pub(super) fn taken(warmth: &Warmth, load: &Load, units: Units) -> String {
    let at = units.temperature(load.measured_at());
    format!("The powder's temperature, {at}, is that of the column `{}`.", clean(&warmth.title))
}

/// What is said behind one that is left out.
pub(super) fn left_out(load: &Load, units: Units) -> String {
    format!(", the powder taken to have {}: give `measured-at`", units.temperature(load.measured_at()))
}
