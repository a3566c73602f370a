//! What is said beside an answer, each thing once: assumptions, remarks, cautions.

use super::context;
use crate::load::Load;
use crate::plate::Plate;
use crate::report::{Units, cautions, say, words};
use crate::rules::{RuleSet, Setup};
use crate::source::Diagnostic;
use crate::spread::{FlightConditions, Flights};
use crate::standoff::{Chart, Row};
use crate::strike::Strike;

/// Lines, each once, in the order they arise.
#[derive(Debug, Clone, Default)]
pub(super) struct Notes(Vec<String>);

/// A load on a plate that stands so, with its strike where it arrives.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shot<'a> {
    pub load: &'a Load,
    pub plate: &'a Plate,
    pub setup: &'a Setup,
    pub conditions: &'a FlightConditions,
    pub strike: Option<Strike>,
}

impl Notes {
    pub fn note(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.0.contains(&text) {
            self.0.push(text);
        }
    }

    pub fn extend(&mut self, lines: impl IntoIterator<Item = String>) {
        lines.into_iter().for_each(|line| self.note(line));
    }

    pub fn list(&self) -> &[String] {
        &self.0
    }

    pub fn into_list(self) -> Vec<String> {
        self.0
    }

    /// What a range's rules change for any of the shots.
    pub fn changes(&mut self, rules: &RuleSet, shots: &[Shot], units: Units) {
        if rules.overlays().is_empty() {
            return;
        }
        for shot in shots {
            self.extend(say::changes(&rules.allow(shot.load, shot.plate, shot.setup).changes(), units));
        }
    }

    /// Where nothing was said of the air: what changes high and hot, where bullets arrive faster. `change` is told
    /// the conditions there, in the order of those here.
    pub fn high_and_hot(
        &mut self,
        unsaid: bool,
        here: &[FlightConditions],
        change: impl FnOnce(&[FlightConditions]) -> Result<Option<String>, Diagnostic>,
    ) -> Result<(), Diagnostic> {
        if unsaid {
            let there = here.iter().map(context::there).collect::<Result<Vec<_>, _>>()?;
            self.extend(
                change(&there)?.map(|change| say::high_and_hot(&change, "say `--altitude` and `--temperature`")),
            );
        }
        Ok(())
    }

    /// What the rules that only speak say of the shots, how far a miss carries, then the cautions of the trade.
    pub fn cautions(&mut self, rules: &RuleSet, shots: &[Shot], units: Units) {
        for shot in shots {
            let Some(strike) = &shot.strike else { continue };
            let allowance = rules.allow(shot.load, shot.plate, shot.setup);
            self.extend(allowance.cautions(strike).map(|rule| words::sentence(&rule.why) + "."));
        }
        let loads = distinct(shots.iter().map(|shot| shot.load));
        let setups = distinct(shots.iter().map(|shot| shot.setup));
        // A miss is followed over level ground, in weather that all shots share.
        self.extend(shots.first().and_then(|shot| context::carry_caution(&loads, shot.conditions, units)));
        let distances = shots.iter().filter_map(|shot| shot.strike.map(|strike| strike.distance));
        let nearest = distances.reduce(|a, b| if a < b { a } else { b });
        self.extend(cautions::of(&cautions::Occasion { loads: &loads, setups: &setups, nearest }));
    }
}

/// Every load on every plate, at the distance asked or the closest that suits.
pub(super) fn shots<'a>(chart: &Chart<'_, 'a>, rows: &'a [Row]) -> Vec<Shot<'a>> {
    let mut shots: Vec<Shot> = Vec::new();
    for row in rows {
        let flights = Flights::new(&row.load, chart.conditions).ok();
        let first = shots.len();
        for (plate, cell) in chart.plates.iter().zip(&row.cells) {
            let distance = chart.at.or(cell.closest.distance());
            // Most plates share a floor, and what arrives there.
            let known = shots[first..].iter().filter_map(|shot| shot.strike).find(|s| Some(s.distance) == distance);
            let strike = known.or_else(|| flights.as_ref()?.strike(distance?).ok());
            let (setup, conditions) = (chart.setup, chart.conditions);
            shots.push(Shot { load: &row.load, plate, setup, conditions, strike });
        }
    }
    shots
}

/// Each thing once: the same load stands in many shots.
fn distinct<'a, T>(things: impl Iterator<Item = &'a T>) -> Vec<&'a T> {
    let mut seen: Vec<&T> = Vec::new();
    for thing in things {
        if !seen.iter().any(|known| std::ptr::eq(*known, thing)) {
            seen.push(thing);
        }
    }
    seen
}
