//! The cells of a chart: each load on each plate, in the air that was taken and at the bad end of what was not given.

use super::super::found::{Found, There, capped, nearer, worse};
use super::super::nearest::farther;
use super::super::resolve::loads::{AnyAmmunition, Asked};
use super::super::worst::flight_fault;
use super::ceiling::Airs;
use super::{Case, Rows};
use crate::load::Load;
use crate::quantity::Length;
use crate::rules::{Allowance, Closest, Judgement, OnPlate, Verdict};
use crate::source::Diagnostic;
use crate::spread::Flights;
use crate::standoff::{Cell as Judged, Chart};
use std::sync::Arc;

impl Case {
    /// Every cell, and at the bad end of the air as well where there is one; and the loads as they fly here, and then there.
    pub(super) fn rows<'a>(&'a self, airs: Airs<'a>) -> Result<(Rows<'a>, Vec<Vec<Flights>>), Diagnostic> {
        let (here, there) = (self.chart(airs.here), airs.there.map(|there| self.chart(there)));
        let columns = here.columns();
        let rows = self.of_each(|row| self.row(&self.asked[row], &columns, &here, there.as_ref()));
        Ok(rows.into_iter().collect::<Result<Vec<_>, _>>()?.into_iter().unzip())
    }

    fn row<'a>(
        &'a self,
        asked: &Asked,
        columns: &[OnPlate<'a, '_>],
        here: &Chart<'a, 'a>,
        there: Option<&Chart<'a, 'a>>,
    ) -> Result<(Vec<Found<'a>>, Vec<Flights>), Diagnostic> {
        let listed_only = asked.any.as_ref().is_some_and(AnyAmmunition::is_in_part);
        let mut worst: Vec<Found> = Vec::new();
        let (mut flown, mut far_flown): (Vec<Flights>, Vec<Flights>) = (Vec::new(), Vec::new());
        for (load, of) in asked.loads.iter().enumerate() {
            let fly = |chart: &Chart| Flights::new(of, chart.conditions).map_err(|e| flight_fault(&e, of));
            let allow = |flights: &Flights| -> Vec<Allowance<'a>> {
                columns.iter().map(|rules| rules.allow(of, flights.muzzle())).collect()
            };
            let (flights, far) = (fly(here)?, there.map(fly).transpose()?);
            let allowed = allow(&flights);
            let here = here.cells(&allowed, &flights);
            let there = there.zip(far.as_ref()).map(|(chart, far)| {
                // The same is allowed where the powder is as hot.
                let own = (far.muzzle() != flights.muzzle()).then(|| allow(far));
                chart.cells(own.as_ref().unwrap_or(&allowed), far)
            });
            flown.push(flights);
            far_flown.extend(far);
            for (plate, cell) in here.iter().enumerate() {
                let floor = |cell: &Judged<'a>| cell.borderline.or(cell.closest.distance());
                let elsewhere = there.as_ref().map(|cells| &cells[plate]);
                let borderline = match elsewhere {
                    None => floor(cell),
                    Some(there) => floor(cell).zip(floor(there)).map(|(a, b)| farther(a, b)),
                };
                let ends = cell.borderline_to.into_iter().chain(elsewhere.and_then(|there| there.borderline_to));
                let verdict = |judgement: Judgement| capped(judgement.verdict, listed_only);
                let found = Found {
                    load,
                    closest: cell.closest,
                    closest_of: load,
                    there: elsewhere.map(|there| There { load, closest: there.closest, at: there.at.map(verdict) }),
                    borderline,
                    borderline_to: ends.reduce(Length::min),
                    farthest: nearer(cell.farthest, elsewhere.and_then(|there| there.farthest)),
                    listed_only,
                    unknown: asked.any.as_ref().is_some_and(|any| !any.has_envelope),
                    at: cell.at.map(|judgement| (judgement, verdict(judgement))),
                    asked_at: self.at.is_some(),
                };
                match worst.get_mut(plate) {
                    Some(known) => *known = worse(*known, found),
                    None => worst.push(found),
                }
            }
        }
        if asked.loads.len() > 1 {
            hold_to_all(&asked.loads, columns, &mut worst, [&flown, &far_flown]);
        }
        flown.extend(far_flown);
        Ok((worst.into_iter().map(|found| found.ended(self.units)).collect(), flown))
    }
}

/// Leaves no distance told that a load of the row does not suit, in the air that was taken or in either: what suits from
/// nearer may lean too far over where the slowest of them suits.
fn hold_to_all<'a>(loads: &[Arc<Load>], columns: &[OnPlate<'a, '_>], worst: &mut [Found<'a>], airs: [&[Flights]; 2]) {
    for (found, rules) in worst.iter_mut().zip(columns) {
        let refusing = |distance: Length, airs: &[&[Flights]]| {
            airs.iter().flat_map(|flown| loads.iter().zip(*flown)).find_map(|(load, flights)| {
                let allowance = rules.allow(load, flights.muzzle());
                let strike = flights.strike_for(distance, allowance.asks_slow(distance)).ok()?;
                let judgement = allowance.judge(&strike);
                judgement.rule.filter(|_| judgement.verdict != Verdict::Suits)
            })
        };
        if let Some(by) = found.closest.distance().and_then(|here| refusing(here, &airs[..1])) {
            found.closest = Closest::Never { by };
        }
        let nearest = found.nearest().1.distance();
        if let Some((there, by)) = found.there.as_mut().zip(nearest.and_then(|nearest| refusing(nearest, &airs))) {
            there.closest = Closest::Never { by };
        }
    }
}
