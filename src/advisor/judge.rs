//! The loads of a case, flown once, and what they come to on any plate, however it stands, from any distance.

use super::lean::Lean;
use super::nearest::farther;
use super::worst::flight_fault;
use crate::load::{Construction, Load};
use crate::plate::Plate;
use crate::quantity::{Angle, Length, Measure, Velocity, parse, unit};
use crate::rules::{RuleSet, Setup, Verdict};
use crate::source::Diagnostic;
use crate::spread::{FlightConditions, Flights};
use crate::standoff::MAX_LEAN_DEG;
use crate::strike::Strike;
use crate::vet::{self, Question};
use crate::words::Units;
use std::sync::Arc;

/// As near to the end of a window as matters, on its inner side.
const JUST_INSIDE: f64 = 1.0 - 1e-9;

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
    here: FlightConditions,
    there: Option<FlightConditions>,
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
        let shots = loads.into_iter().map(shot).collect::<Result<_, Diagnostic>>()?;
        Ok(Self { rules, shots, here: here.clone(), there: there.cloned() })
    }

    /// The same loads, judged in the air that was taken alone; none where all of it was given.
    pub fn in_the_air_taken(&self) -> Result<Option<Self>, Diagnostic> {
        let loads = self.shots.iter().map(|shot| &shot.load);
        self.there.as_ref().map(|_| Self::new(self.rules, loads, &self.here, None)).transpose()
    }

    /// The air that was taken.
    pub fn air_taken(&self) -> &FlightConditions {
        &self.here
    }

    /// The worst verdict from a distance, in the air that was taken; unsuitable where a load does not get there.
    pub fn verdict(&self, plate: &Plate, setup: &Setup, distance: Length) -> Verdict {
        let verdicts = self.shots.iter().map(|shot| self.verdict_of(shot, &shot.here, plate, setup, distance));
        verdicts.max().unwrap_or(Verdict::Unsuitable)
    }

    fn verdict_of(&self, shot: &Shot, flights: &Flights, plate: &Plate, setup: &Setup, distance: Length) -> Verdict {
        let judged = |strike| self.rules.allow(&shot.load, plate, setup, flights.muzzle()).judge(&strike).verdict;
        flights.strike(distance).map_or(Verdict::Unsuitable, judged)
    }

    /// The leans of a face that come to no worse than as it stands, at each of some distances, in the air that was taken
    /// and at the bad end of what was not given.
    pub fn lean(&self, plate: &Plate, setup: &Setup, distances: &[Length]) -> Option<Lean> {
        let airs: [fn(&Shot) -> Option<&Flights>; 2] = [|shot| Some(&shot.here), |shot| shot.there.as_ref()];
        let worst = |setup: &Setup, arriving: &[(&Shot, &Flights, Strike)]| {
            let judged = arriving.iter().map(|(shot, flights, strike)| {
                self.rules.allow(&shot.load, plate, setup, flights.muzzle()).judge(strike).verdict
            });
            judged.max()
        };
        // What arrives is the same however the face leans; where a load does not get there no lean is worse.
        let arriving = distances.iter().flat_map(|distance| {
            airs.into_iter().filter_map(|in_air| {
                let flown = self.shots.iter().filter_map(|shot| Some((shot, in_air(shot)?)));
                let strikes = flown.map(|(shot, flights)| Some((shot, flights, flights.strike(*distance).ok()?)));
                strikes.collect::<Option<Vec<_>>>()
            })
        });
        let as_it_stands: Vec<_> = arriving.map(|arriving| (worst(setup, &arriving), arriving)).collect();
        Lean::of(|tilt| {
            let leaning = Setup { tilt: Some(tilt), ..setup.clone() };
            as_it_stands.iter().all(|(verdict, arriving)| worst(&leaning, arriving) <= *verdict)
        })
    }

    /// Whether every load suits, also at the bad end of the air that was not given: what is told as a way out holds
    /// there too.
    pub fn suits(&self, plate: &Plate, setup: &Setup, distance: Length) -> bool {
        let in_all = |shot: &Shot| {
            let mut airs = std::iter::once(&shot.here).chain(&shot.there);
            airs.all(|flights| self.verdict_of(shot, flights, plate, setup, distance) == Verdict::Suits)
        };
        !self.shots.is_empty() && self.shots.iter().all(in_all)
    }

    /// From where on all of them suit, in the air that was taken.
    pub fn closest(&self, plate: &Plate, setup: &Setup) -> Option<Length> {
        let from = self.from(plate, setup, |shot| Some(&shot.here))?;
        self.holds_for_all(|| self.verdict(plate, setup, from) == Verdict::Suits).then_some(from)
    }

    /// Whether a distance that suits the load which sets it suits all: what suits from nearer may lean too far over where
    /// the slowest of them suits.
    fn holds_for_all(&self, suits: impl Fn() -> bool) -> bool {
        self.shots.len() < 2 || suits()
    }

    /// From where on all of them suit, also at the bad end of the air that was not given: how near anyone may come.
    pub fn nearest(&self, plate: &Plate, setup: &Setup) -> Option<Length> {
        let here = self.closest(plate, setup)?;
        if self.shots.iter().all(|shot| shot.there.is_none()) {
            return Some(here);
        }
        let nearest = farther(here, self.from(plate, setup, |shot| shot.there.as_ref())?);
        self.holds_for_all(|| self.suits(plate, setup, nearest)).then_some(nearest)
    }

    /// Up to where all of them suit that suit from a distance on, also at the bad end of the air that was not given and,
    /// where no lean is given, at the most that is told, as far as it is looked for; none where that does not end.
    pub fn farthest(
        &self,
        plate: &Plate,
        setup: &Setup,
        from: Length,
        asked: Length,
        lean: Option<Lean>,
    ) -> Option<Length> {
        let as_it_stands = || self.farthest_leaning(plate, setup, asked, None);
        if setup.tilt.is_some() {
            return as_it_stands();
        }
        let most = lean.map_or_else(|| unit::DEGREE.of(MAX_LEAN_DEG.into()), Lean::most);
        let leaning = self.farthest_leaning(plate, setup, asked, Some(most));
        leaning.filter(|end| *end >= from).or_else(as_it_stands)
    }

    fn farthest_leaning(&self, plate: &Plate, setup: &Setup, asked: Length, lean: Option<Angle>) -> Option<Length> {
        let end = |shot: &Shot, flights: &Flights| {
            let allowance = self.rules.allow(&shot.load, plate, setup, flights.muzzle());
            let up_to = allowance.looked_up_to(Some(asked))?;
            let leaning = |lean| allowance.farthest_leaning(lean, flights, up_to);
            Some(lean.map_or_else(|| allowance.farthest(flights, up_to), leaning)?.distance)
        };
        let ends = self.shots.iter().flat_map(|shot| {
            let airs = std::iter::once(&shot.here).chain(&shot.there);
            airs.filter_map(move |flights| end(shot, flights))
        });
        ends.reduce(Length::min)
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
            let from = self.rules.allow(&shot.load, plate, setup, flights.muzzle()).closest(flights).distance()?;
            farthest = Some(farthest.map_or(from, |known| farther(known, from)));
        }
        farthest
    }

    /// The highest muzzle velocity of a load that suits in all the air, also as it is told; none where none does. In the
    /// air that was taken, which the question is of, it is `here`.
    pub fn fastest(
        &self,
        here: Velocity,
        question: &Question,
        load: &Arc<Load>,
        plate: &Plate,
        distance: Length,
        units: Units,
    ) -> Option<Velocity> {
        let slowest = match &self.there {
            Some(conditions) => {
                here.min(vet::fastest_that_suits(&Question { conditions, ..*question }, load, plate, distance)?)
            }
            None => here,
        };
        let told: Velocity = parse(&units.speed_down(slowest)).ok()?;
        let slower = Arc::new(load.with(|facts| facts.muzzle_velocity = told).ok()?);
        let judge = Self::new(self.rules, [&slower], &self.here, self.there.as_ref()).ok()?;
        (told.si() > 0.0 && judge.suits(plate, question.setup, distance)).then_some(slowest)
    }

    /// The least muzzle velocity with which all of them come to a distance as fast as the rules ask of slow shots there,
    /// also at the bad end of the air that was not given; none where they ask nothing. What stands for any ammunition
    /// is the fastest of it: slower comes back.
    pub fn slowest(&self, plate: &Plate, setup: &Setup, distance: Length) -> Option<Velocity> {
        let mut fastest: Option<Velocity> = None;
        for conditions in std::iter::once(&self.here).chain(&self.there) {
            for shot in &self.shots {
                let least = vet::slowest_that_suits(self.rules, conditions, &shot.load, plate, setup, distance);
                fastest = fastest.into_iter().chain(least).reduce(|a, b| if a > b { a } else { b });
            }
        }
        fastest
    }

    /// The same from a distance on: at the far end of what rules ask of slow shots.
    pub fn slowest_from(&self, plate: &Plate, setup: &Setup, from: Length) -> Option<Velocity> {
        let limits = |shot: &Shot| {
            let allowance = self.rules.allow(&shot.load, plate, setup, shot.here.muzzle());
            allowance.slow_limits().map(|(_, within)| within).collect::<Vec<Length>>()
        };
        let ends = self.shots.iter().flat_map(limits).filter(|within| *within > from && within.si().is_finite());
        let end = ends.reduce(farther)?;
        self.slowest(plate, setup, end * JUST_INSIDE)
    }

    /// Whether it is not known what a bullet is made of.
    pub fn any_unknown(&self) -> bool {
        self.shots.iter().any(|shot| shot.load.facts().construction == Construction::Unknown)
    }

    /// The same loads with a lead core in place of what they are made of; none where nothing is changed by it.
    pub fn of_lead_core(&self) -> Result<Option<Self>, Diagnostic> {
        let loads: Option<Vec<Arc<Load>>> = self.shots.iter().map(|shot| of_lead_core(&shot.load)).collect();
        let Some(loads) = loads else { return Ok(None) };
        if loads.iter().zip(&self.shots).all(|(load, shot)| Arc::ptr_eq(load, &shot.load)) {
            return Ok(None);
        }
        Self::new(self.rules, &loads, &self.here, self.there.as_ref()).map(Some)
    }
}

/// A load with a lead core; the load itself where it has one.
fn of_lead_core(load: &Arc<Load>) -> Option<Arc<Load>> {
    let own = load.judged_construction();
    if own.is_lead_or_shot() {
        return Some(Arc::clone(load));
    }
    let lead = if load.facts().projectiles > 1 { Construction::LeadShot } else { Construction::JacketedLead };
    load.with(|facts| facts.construction = lead).map(Arc::new).ok()
}
