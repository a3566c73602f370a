//! How many shoot how much at a match.

use super::Course;
use crate::quantity::{Measure, Ratio, Text, Velocity};
use crate::source::{Diagnostic, SourceText};
use crate::spread::risk::{MAX_RISK, MAX_ROUNDS, MAX_SHOOTERS, assumed_between_rifles};
use crate::standoff::Match;
use toml::Spanned;

/// The risk that is accepted unless one is given (house assumption).
const ACCEPTED: f64 = 0.01;

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
