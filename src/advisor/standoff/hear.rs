//! What the rules say of a chart: those that apply to any cell, and what they warn of.

use super::super::found::Found;
use super::super::preamble::Said;
use super::super::{facts, say};
use super::{Case, Flown, Rows};
use crate::quantity::{Length, Measure};
use crate::rules::{OnPlate, Rule};
use crate::spread::{FlightConditions, Flights};

/// What rules say of a load on a plate.
struct Heard<'r> {
    applied: Vec<&'r Rule>,
    warned: Vec<&'r Rule>,
    changed: Vec<String>,
}

impl Case {
    /// The rules that apply to any of the cells, and what they warn of.
    pub(super) fn hear(&self, said: &mut Said, rows: &Rows, flown: &Flown, conditions: &FlightConditions) {
        let chart = self.chart(conditions);
        let on = chart.columns();
        let mut known = Vec::new();
        for heard in self.of_each(|row| self.heard(&rows[row], row, &flown[row], &on)).into_iter().flatten() {
            let mut is_new = |rule: &Rule, warns: bool| {
                let one = (std::ptr::from_ref(rule), warns);
                let is_new = !known.contains(&one);
                known.extend(is_new.then_some(one));
                is_new
            };
            heard
                .applied
                .into_iter()
                .filter(|rule| is_new(rule, false))
                .for_each(|rule| facts::applied(&mut said.rules, rule));
            heard.warned.into_iter().filter(|rule| is_new(rule, true)).for_each(|rule| said.warn(rule));
            heard.changed.into_iter().for_each(|change| said.remark(change));
        }
    }

    /// What is said of a row's load on each plate.
    fn heard<'a>(&self, cells: &[Found], row: usize, flown: &[Flights], on: &[OnPlate<'a, '_>]) -> Vec<Heard<'a>> {
        let (mut told, mut heard): (Vec<(usize, Length)>, Vec<Heard>) = (Vec::new(), Vec::new());
        for (found, on) in cells.iter().zip(on) {
            // Where no distance is good, what is said of the case is said all the same.
            let distance = self.at.or(found.closest.distance()).unwrap_or(Length::from_si(0.0));
            // Most plates share a floor, and what is said there.
            if told.contains(&(found.load, distance)) {
                continue;
            }
            told.push((found.load, distance));
            let (load, flights) = (self.load(row, found), &flown[found.load]);
            let allowance = on.allow(load, flights.muzzle());
            let Ok(strike) = flights.strike_for(distance, allowance.asks_slow(distance)) else { continue };
            heard.push(Heard {
                applied: allowance.findings(&strike).iter().map(crate::rules::Finding::rule).collect(),
                warned: allowance.cautions(&strike).collect(),
                changed: say::changes(&allowance.changes(), self.units),
            });
        }
        heard
    }
}
