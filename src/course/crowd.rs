//! How many shoot how much at a match.

use super::{Books, Case, Course, Kept, Outcome};
use crate::quantity::{Measure, Ratio, Text, Velocity};
use crate::rules::Verdict;
use crate::source::{Diagnostic, SourceText};
use crate::spread::risk::{MAX_RISK, MAX_ROUNDS, MAX_SHOOTERS, assumed_between_rifles};
use crate::standoff::Match;
use std::collections::HashSet;
use toml::Spanned;

/// The risk that is accepted unless one is given (house assumption).
const ACCEPTED: f64 = 0.01;

/// Loads that a case names at most as nearer than they must keep.
const NAMED: usize = 64;

/// What a match says of it.
pub(super) struct Crowd {
    pub shooters: Option<Spanned<u32>>,
    pub rounds: Option<Spanned<u32>>,
    pub risk: Option<Spanned<Text<Ratio>>>,
    pub rifle_spread: Option<Text<Velocity>>,
}

/// How many shoot how much.
pub(super) fn crowd(source: &SourceText, file: &Crowd, course: &mut Course) -> Result<Option<Match>, Diagnostic> {
    let (Some(shooters), Some(rounds)) = (&file.shooters, &file.rounds) else {
        let lone = file.shooters.as_ref().or(file.rounds.as_ref()).map(Spanned::span);
        let risk = file.risk.as_ref().map(Spanned::span);
        let stray = if file.rifle_spread.is_some() { Some(0..0) } else { None };
        return match lone.or(risk).or(stray) {
            Some(span) => Err(source.fault(span, "`shooters` and `rounds` go together").help(
                "write both, `shooters = 60` and `rounds = 120`, or leave out `risk` and `rifle-spread` as well",
            )),
            None => Ok(None),
        };
    };
    let (people, each) = (*shooters.get_ref(), *rounds.get_ref());
    if !(1..=MAX_SHOOTERS).contains(&people) || !(1..=MAX_ROUNDS).contains(&each) {
        return Err(source
            .fault(shooters.span(), format!("{people} shooters × {each} rounds"))
            .help(format!("shooters are taken from 1 to {MAX_SHOOTERS}, rounds of each from 1 to {MAX_ROUNDS}")));
    }
    let between_rifles = file.rifle_spread.map_or_else(
        || {
            course.note("spread between rifles 40 ft/s (SD)");
            assumed_between_rifles()
        },
        |t| t.0,
    );
    let accepted = file.risk.as_ref().map_or(ACCEPTED, |r| r.get_ref().0.si());
    if !(accepted > 0.0 && accepted <= MAX_RISK) {
        let span = file.risk.as_ref().map_or(0..0, Spanned::span);
        return Err(source.fault(span, "the risk is not above 0 and at most 50 %").help("write `risk = \"1 %\"`"));
    }
    if file.risk.is_none() {
        course.note("a chance of 1 % accepted that one shot of the match is too fast");
    }
    Ok(Some(Match { shooters: people, rounds: each, between_rifles, accepted }))
}

impl Course {
    /// More who are named than who are said to shoot are more shots than would be counted.
    pub(super) fn counts_all(&self, source: &SourceText, file: &Crowd) -> Result<(), Diagnostic> {
        let named: HashSet<&str> = self.loads.iter().flat_map(|load| &load.who).map(String::as_str).collect();
        let (Some(crowd), Some(shooters)) = (&self.crowd, &file.shooters) else { return Ok(()) };
        if named.len() <= usize::try_from(crowd.shooters).unwrap_or(usize::MAX) {
            return Ok(());
        }
        let message = format!("`shooters = {}`, and {} are named who bring a load", crowd.shooters, named.len());
        Err(source.fault(shooters.span(), message).help("count everybody who shoots"))
    }
}

/// Counts a load that must keep farther off for the risk of a match as one that does not suit: so many shots are
/// accepted or not, and nothing lies between.
pub fn keep_off<'r>(outcomes: &mut [Outcome<'r>], course: &Course, cases: &[Case], rules: Books<'r>, keep: &Kept) {
    for (case, outcome) in cases.iter().zip(outcomes) {
        let book = course.targets[case.target].rules;
        let nearer = keep.all_of(book).filter(|(load, keep)| case.is_nearer_than(*keep, *load, course));
        let nearer: Vec<(usize, f64)> = nearer.collect();
        let Some(&farthest) = nearer.iter().reduce(|a, b| if b.1 > a.1 { b } else { a }) else { continue };
        add_failing(outcome, &nearer);
        if outcome.verdict.is_some_and(|verdict| verdict < Verdict::Unsuitable) {
            let (load, metres) = farthest;
            *outcome = Outcome {
                verdict: Some(Verdict::Unsuitable),
                worst: Some(load),
                rule: rules.of(book).speed_ceiling().map(|(_, rule)| rule),
                margin: Some(case.distance.si() / metres - 1.0),
                strike: outcome.strike.filter(|_| outcome.worst == Some(load)),
                ..std::mem::take(outcome)
            };
        }
    }
}

/// Adds loads to those that fail, where all of these are named.
fn add_failing(outcome: &mut Outcome, nearer: &[(usize, f64)]) {
    if outcome.named.len() < outcome.failing {
        return;
    }
    for (load, _) in nearer {
        if !outcome.named.contains(load) {
            outcome.failing += 1;
            if outcome.named.len() < NAMED {
                outcome.named.push(*load);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{RULES, judged, read};
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn what_suits_by_every_rule_does_not_suit_nearer_than_a_match_of_many_shots_allows() {
        let course = read(
            "loads = [\"223-77\", \"308-168-match\"]\n[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\n\
             plate = \"1/2 in\"\nat = \"150 yd\"\nstand = { tilt = \"15 deg\", condition = \"sound\" }\n",
        )
        .unwrap();
        let of = |yards: f64| {
            let mut outcomes = judged(&course, 1).0;
            let keep = Kept::new(vec![vec![unit::YARD.of(yards).si(), 0.0]]);
            keep_off(&mut outcomes, &course, &course.cases(), (&*RULES).into(), &keep);
            outcomes.remove(0)
        };
        let far = of(140.0);
        assert_eq!((far.verdict, far.failing), (Some(Verdict::Suits), 0));
        let near = of(200.0);
        assert_eq!((near.verdict, near.worst, near.failing), (Some(Verdict::Unsuitable), Some(0), 1));
        assert_eq!((near.named, near.rule.map(|rule| rule.id.as_str())), (vec![0], Some("speed-ceiling")));
        assert!(near.margin.is_some_and(|margin| (margin + 0.25).abs() < 1e-9), "{:?}", near.margin);
        assert!(near.strike.is_none_or(|_| far.worst == Some(0)));
    }
}
