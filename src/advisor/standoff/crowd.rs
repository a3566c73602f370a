//! So many shots of so many shooters: the chance that one of them is too fast, and the distance that it asks for.

use super::super::answer::MatchRisk;
use super::super::error::at;
use super::super::found::{Found, There};
use super::super::question::StandoffQuestion;
use super::super::resolve::taken::Taken;
use super::ceiling::Airs;
use super::{Case, Rows, single};
use crate::load::Load;
use crate::quantity::{Given, Length, Measure, Number, Si, unit};
use crate::rules::{Closest, Rule, Verdict};
use crate::source::{Diagnostic, clean};
use crate::spread::FlightConditions;
use crate::spread::risk::assumed_between_rifles;
use crate::standoff::{Match, MatchRisk as Risk, match_risk};
use crate::words;

/// The match that was asked; none where there is none.
pub(super) fn asked(case: &Case, question: &StandoffQuestion, taken: &mut Taken) -> Result<Option<Match>, Diagnostic> {
    let (Some(shooters), Some(rounds)) = (question.shooters, question.rounds) else { return Ok(None) };
    if case.asked.len() != 1 || case.plates.len() != 1 || case.asked[0].any.is_some() {
        return Err(at("shooters", "a match's risk is for one load on one plate", "name one load and one plate"));
    }
    let given = question.rifle_spread.as_ref().map(Given::value);
    let between_rifles = given.unwrap_or_else(assumed_between_rifles);
    let words = case.units.small_speed(between_rifles);
    taken.take("rifle spread SD", words.clone(), given.is_some(), &format!("spread between rifles {words} (SD)"));
    let accepted = question.risk.as_ref().map_or(0.01, |risk| risk.value().si());
    let words = words::percent(unit::ONE.of(accepted));
    taken.take("risk accepted", words.clone(), question.risk.is_some(), &format!("a risk of {words} accepted"));
    taken.given("shooters", shooters.to_string());
    taken.given("rounds", rounds.to_string());
    Ok(Some(Match { shooters, rounds, between_rifles, accepted }))
}

/// From where on a match's chance is accepted: a distance, or none within reach.
struct Safe<'r> {
    from: Option<Length>,
    rule: &'r Rule,
}

impl Safe<'_> {
    fn is_nearer(&self, at: Length) -> bool {
        self.from.is_none_or(|from| at < from)
    }
}

/// The farther of what the rules say of each shot and of what the match asks for.
fn farther<'r>(closest: Closest<'r>, safe: Option<&Safe<'r>>) -> Closest<'r> {
    let (Closest::At { distance, by, .. }, Some(safe)) = (closest, safe) else { return closest };
    match safe.from {
        Some(from) if from <= distance => closest,
        Some(from) => Closest::At { distance: from, by: Some(safe.rule), next: by },
        None => Closest::BeyondReach { by: safe.rule },
    }
}

impl Case {
    /// What the match does at the distance asked, else at the nearest that a single shot may have: in the air where it
    /// does worst.
    pub(super) fn risk(&self, rows: &Rows, airs: Airs) -> Result<Option<MatchRisk>, Diagnostic> {
        let (Some(of), Some(cell)) = (&self.crowd, single(rows)) else { return Ok(None) };
        let from = cell.nearest().1.distance().or(cell.closest.distance());
        let Some(at_distance) = self.at.or(from) else { return Ok(None) };
        let found = |load: usize, conditions: &FlightConditions| {
            match_risk(&self.books.rules, &self.asked[0].loads[load], conditions, at_distance, of)
                .map_err(|e| at(e.field(), e, e.help()))
        };
        let Some(here) = found(cell.load, airs.here)? else { return Ok(None) };
        let there = match (cell.there, airs.there) {
            (Some(there), Some(conditions)) => found(there.load, conditions)?,
            _ => None,
        };
        Ok(Some(self.risk_told(&here, there.as_ref())))
    }

    /// Nobody comes nearer than the accepted chance lets a match, in either air.
    pub(super) fn keep_off<'a>(
        &'a self,
        rows: &mut Rows<'a>,
        here: &FlightConditions,
        there: Option<&FlightConditions>,
    ) -> Result<(), Diagnostic> {
        let (Some(of), Some(&cell)) = (&self.crowd, single(rows)) else { return Ok(()) };
        let load = self.load(0, &cell);
        let safe = |closest: &Closest<'a>, conditions: &FlightConditions| self.safe(load, closest, conditions, of);
        let safe_here = safe(&cell.closest, here)?;
        let is_too_near = |safe: Option<&Safe>| self.at.zip(safe).is_some_and(|(at, safe)| safe.is_nearer(at));
        let refused = |verdict, safe: Option<&Safe>| if is_too_near(safe) { Verdict::Unsuitable } else { verdict };
        let there = match (cell.there, there) {
            (Some(cell), Some(conditions)) => {
                let safe = safe(&cell.closest, conditions)?;
                let at = cell.at.map(|verdict| refused(verdict, safe.as_ref()));
                Some(There { closest: farther(cell.closest, safe.as_ref()), at, ..cell })
            }
            (there, _) => there,
        };
        let closest = farther(cell.closest, safe_here.as_ref());
        rows[0][0] = Found {
            closest,
            there,
            // So many shots are accepted or not: nothing lies between.
            borderline: cell.borderline.filter(|_| closest.distance() == cell.closest.distance()),
            at: cell.at.map(|(judgement, verdict)| (judgement, refused(verdict, safe_here.as_ref()))),
            ..cell
        }
        .ended(self.units);
        Ok(())
    }

    /// From where on the chance is accepted; none where no rule sets a ceiling, or no shot is good at any distance.
    fn safe<'r>(
        &'r self,
        load: &Load,
        closest: &Closest<'r>,
        conditions: &FlightConditions,
        of: &Match,
    ) -> Result<Option<Safe<'r>>, Diagnostic> {
        let Some(distance) = closest.distance() else { return Ok(None) };
        let found = match_risk(&self.books.rules, load, conditions, distance, of);
        let found = found.map_err(|e| at(e.field(), e, e.help()))?;
        Ok(found.map(|risk| Safe { from: risk.safe, rule: risk.rule }))
    }

    fn risk_told(&self, here: &Risk, there: Option<&Risk>) -> MatchRisk {
        let percent =
            |share: f64| if share < 1e-4 { "below 0.01 %".to_owned() } else { format!("{:.2} %", share * 100.0) };
        let chance = there.map_or(here.chance, |there| here.chance.max(there.chance));
        let safe = match (here.safe, there.map(|there| there.safe)) {
            (Some(here), Some(Some(there))) => Some(if there > here { there } else { here }),
            (_, Some(None)) => None,
            (here, _) => here,
        };
        // Nearer than what the other rules ask says nothing.
        let from = match safe {
            Some(safe) if safe <= here.at => String::new(),
            Some(safe) => format!("; {} or less from {} on", percent(here.accepted), self.units.distance_up(safe)),
            None => format!("; {} or less nowhere within reach", percent(here.accepted)),
        };
        let chances = if percent(chance) == percent(here.chance) {
            percent(chance)
        } else {
            format!("{} in the worst of the air, {} in this air,", percent(chance), percent(here.chance))
        };
        MatchRisk {
            ceiling: Si(here.ceiling),
            rule: clean(&here.rule.id),
            at: Si(here.at),
            chance: Number(chance),
            chance_in_air_taken: Number(here.chance),
            accepted: Number(here.accepted),
            safe: safe.map(Si),
            words: format!(
                "{chances} that a shot passes the {} ceiling at {}{from}.",
                self.units.speed(here.ceiling),
                self.units.distance(here.at),
            ),
        }
    }
}
