//! How close: one load on one plate, or the chart of loads and thicknesses.

use crate::flight::FlightError;
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::Length;
use crate::rules::{Closest, Judgement, RuleSet, Setup};
use crate::spread::{Conditions, Flights};
use std::sync::Arc;

/// A load's row of the chart: one cell for each plate.
#[derive(Debug, Clone)]
pub struct Row<'r> {
    /// The load.
    pub load: Arc<Load>,
    /// The cells, in the order of the plates asked.
    pub cells: Vec<Cell<'r>>,
}

/// A cell of the chart.
#[derive(Debug, Clone, Copy)]
pub struct Cell<'r> {
    /// The closest distance.
    pub closest: Closest<'r>,
    /// The verdict at the distance asked, where one was; `None` also where the bullet does not reach it.
    pub at: Option<Judgement<'r>>,
}

/// What the whole chart is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Chart<'r> {
    /// The rules to judge by.
    pub rules: &'r RuleSet,
    /// The plates, in the order of the columns.
    pub plates: &'r [Plate],
    /// How the plates stand.
    pub setup: &'r Setup,
    /// Weather, slope and coverage.
    pub conditions: &'r Conditions,
    /// A distance to give verdicts at.
    pub at: Option<Length>,
}

impl<'r> Chart<'r> {
    /// The row of one load.
    ///
    /// # Errors
    /// [`FlightError`] where the load can't be flown at all, on this slope for instance.
    pub fn row(&self, load: &Arc<Load>) -> Result<Row<'r>, FlightError> {
        let flights = Flights::new(load, self.conditions)?;
        let strike = self.at.and_then(|distance| flights.strike(distance).ok());
        let cells = self.plates.iter().map(|plate| {
            let allowance = self.rules.allow(load, plate, self.setup);
            Cell { closest: allowance.closest(&flights), at: strike.map(|s| allowance.judge(&s)) }
        });
        Ok(Row { load: Arc::clone(load), cells: cells.collect() })
    }
}
