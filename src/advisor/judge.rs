//! The loads of a case, flown once, and what they come to on any plate, however it stands, from any distance.

use super::nearest::farther;
use super::worst::flight_fault;
use crate::load::{Construction, Load};
use crate::plate::Plate;
use crate::quantity::Length;
use crate::rules::{RuleSet, Setup, Verdict};
use crate::source::Diagnostic;
use crate::spread::{FlightConditions, Flights};
use std::sync::Arc;

/// A load with its flights in the air that was taken, and at the bad end of what was not given.
struct Shot {
    load: Arc<Load>,
    here: Flights,
    there: Option<Flights>,
}

/// Loads that stand for one that was asked: what is said of them holds for each.
pub(crate) struct Judge<'r> {
    rules: &'r RuleSet,
    shots: Vec<Shot>,
}

impl<'r> Judge<'r> {
    /// Flies the loads here and, where the air was not all given, there.
    pub fn new<'l>(
        rules: &'r RuleSet,
        loads: impl IntoIterator<Item = &'l Arc<Load>>,
        here: &FlightConditions,
        there: Option<&FlightConditions>,
    ) -> Result<Self, Diagnostic> {
        let fly = |load: &Arc<Load>, in_air: &FlightConditions| {
            Flights::new(load, in_air).map_err(|e| flight_fault(&e, load))
        };
        let shot = |load: &'l Arc<Load>| {
            let there = there.map(|air| fly(load, air)).transpose()?;
            Ok(Shot { load: Arc::clone(load), here: fly(load, here)?, there })
        };
        Ok(Self { rules, shots: loads.into_iter().map(shot).collect::<Result<_, Diagnostic>>()? })
    }

    /// The worst verdict from a distance, in the air that was taken; unsuitable where a load does not get there.
    pub fn verdict(&self, plate: &Plate, setup: &Setup, distance: Length) -> Verdict {
        let of = |shot: &Shot| {
            let strike = shot.here.strike(distance).ok()?;
            Some(self.rules.allow(&shot.load, plate, setup).judge(&strike).verdict)
        };
        let verdicts = self.shots.iter().map(|shot| of(shot).unwrap_or(Verdict::Unsuitable));
        verdicts.max().unwrap_or(Verdict::Unsuitable)
    }

    pub fn suits(&self, plate: &Plate, setup: &Setup, distance: Length) -> bool {
        self.verdict(plate, setup, distance) == Verdict::Suits
    }

    /// From where on all of them suit, in the air that was taken.
    pub fn closest(&self, plate: &Plate, setup: &Setup) -> Option<Length> {
        self.from(plate, setup, |shot| Some(&shot.here))
    }

    /// From where on all of them suit, also at the bad end of the air that was not given: how near anyone may come.
    pub fn nearest(&self, plate: &Plate, setup: &Setup) -> Option<Length> {
        let here = self.closest(plate, setup)?;
        if self.shots.iter().all(|shot| shot.there.is_none()) {
            return Some(here);
        }
        Some(farther(here, self.from(plate, setup, |shot| shot.there.as_ref())?))
    }

    fn from<'s>(
        &'s self,
        plate: &Plate,
        setup: &Setup,
        in_air: impl Fn(&'s Shot) -> Option<&'s Flights>,
    ) -> Option<Length> {
        let mut farthest: Option<Length> = None;
        for shot in &self.shots {
            let Some(flights) = in_air(shot) else { continue };
            let from = self.rules.allow(&shot.load, plate, setup).closest(flights).distance()?;
            farthest = Some(farthest.map_or(from, |known| farther(known, from)));
        }
        farthest
    }

    /// Whether it is not known what a bullet is made of.
    pub fn any_unknown(&self) -> bool {
        self.shots.iter().any(|shot| shot.load.facts().construction == Construction::Unknown)
    }

    /// The same loads with a lead core in place of what they are made of; none where nothing is changed by it.
    pub fn of_lead_core(self) -> Option<Self> {
        let mut changed = false;
        let mut shot = |shot: Shot| {
            let lead =
                if shot.load.facts().projectiles > 1 { Construction::LeadShot } else { Construction::JacketedLead };
            let is_lead = matches!(
                shot.load.judged_construction(),
                Construction::JacketedLead
                    | Construction::Lead
                    | Construction::Plated
                    | Construction::LeadShot
                    | Construction::Frangible
            );
            if is_lead {
                return Some(shot);
            }
            changed = true;
            let of_lead = shot.load.with(|facts| facts.construction = lead).ok()?;
            Some(Shot { load: Arc::new(of_lead), ..shot })
        };
        let shots = self.shots.into_iter().map(&mut shot).collect::<Option<Vec<_>>>()?;
        changed.then_some(Self { rules: self.rules, shots })
    }
}
