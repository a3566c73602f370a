//! What arrives at each distance.

use super::answer::{StrikeAnswer, StrikeInputs, StrikeRow};
use super::books::{Books, Brought, units};
use super::error::{Faults, at, refuse};
use super::nearest::Nearest;
use super::preamble::Said;
use super::question::{Inline, OneOrMany, StrikeQuestion};
use super::resolve::air::air;
use super::resolve::loads::{LoadSource, coverage, positive, tell_spread};
use super::resolve::taken::Taken;
use super::resolve::target::slope;
use super::safety::Occasion;
use super::vet::NO_LOAD;
use super::worst::{flight_fault, strike_fault};
use super::{carry, curve, facts};
use crate::load::Load;
use crate::order::Order;
use crate::quantity::{Given, Length, Measure, unit};
use crate::source::Diagnostic;
use crate::spread::{FlightConditions, Flights};
use crate::words::Units;
use std::sync::Arc;

/// The most rows.
const MAX_ROWS: usize = 5000;

pub(crate) fn answer(books: &Books, question: &StrikeQuestion) -> Result<StrikeAnswer, Faults> {
    let mut taken = Taken::default();
    let units = units(question.units);
    let none: OneOrMany<Inline> = OneOrMany::default();
    let brought = Brought { range_rules: &none, plates: None, loads: &question.loads, shop: None };
    let books = books.with(&brought, units)?;
    refuse(!question.any.0.is_empty(), "any", "the flight of one load is told", "name one of its loads")?;
    let (load, own) = load(&books, question, units, &mut taken)?;
    let air = air(question.air_part(), units, &mut taken)?;
    let slope = slope(question.slope.as_ref().map(Given::value), &mut taken)?;
    let spread = question.spread_part();
    tell_spread(std::iter::once(&*load), &spread, units, &mut taken);
    let coverage = coverage(spread.coverage, &mut taken);
    let conditions = FlightConditions::new(&air, slope, coverage).map_err(|e| at("coverage", &e, e.help()))?;
    let flights = Flights::new(&load, &conditions).map_err(|e| flight_fault(&e, &load))?;
    let distances = distances(question, own, units)?;
    let mut said = Said { headline: headline(&load, units), ..Said::default() };
    // Where nobody says how far, what does not get that far is told as far as it gets.
    let is_open = own.is_none() && question.at.0.is_empty() && question.to.is_none();
    let mut rows: Vec<StrikeRow> = Vec::new();
    for &distance in &distances {
        match row(&load, &flights, distance, question, own) {
            Ok(row) => rows.push(row),
            Err(_) if is_open && !rows.is_empty() && distance > flights.reach() => {
                let reach = units.distance_down(flights.reach());
                said.left_out.push(format!("rows beyond {reach}, where the bullet is not followed"));
                break;
            }
            Err(fault) => return Err(fault.into()),
        }
    }
    let carry = carry::farthest(std::iter::once(&*load), &conditions);
    said.remark(carry.as_ref().map(|c| carry::words(c, units)).unwrap_or_default());
    let occasion = Occasion {
        loads: vec![&*load],
        setups: Vec::new(),
        nearest: Nearest::nothing(),
        is_shot: true,
        lean: None,
        shot_from: None,
        coldest: air.dense().temperature(),
        carry,
        units,
    };
    let inputs = StrikeInputs { load: facts::load(&load), conditions: facts::conditions(&conditions, units) };
    let farthest = rows.last().map_or_else(|| unit::YARD.of(0.0), |row| row.distance.0);
    Ok(StrikeAnswer {
        preamble: said.preamble("strike", units, inputs, taken, &occasion),
        rows,
        curve: if question.figures == Some(true) { curve::alone(&load, &conditions, farthest) } else { None },
    })
}

fn headline(load: &Load, units: Units) -> String {
    let facts = load.facts();
    format!("{}: {} at the muzzle.", facts.name, units.speed(facts.muzzle_velocity))
}

fn load(
    books: &Books,
    question: &StrikeQuestion,
    units: Units,
    taken: &mut Taken,
) -> Result<(Arc<Load>, Option<Length>), Diagnostic> {
    let spread = question.spread_part();
    let source = LoadSource::new(books, &spread, question.of, units);
    let mut asked = source.all(&question.load.0, &[], taken)?;
    if asked.len() > 1 {
        return Err(at("load", "more than one load was named", "name one load here"));
    }
    let mut asked = asked.pop().ok_or_else(|| at("load", "no load was named", NO_LOAD))?;
    let load = asked.loads.pop().ok_or_else(|| at("load", "no load was named", NO_LOAD))?;
    Ok((load, asked.distance))
}

fn row(
    load: &Load,
    flights: &Flights,
    distance: Length,
    question: &StrikeQuestion,
    own: Option<Length>,
) -> Result<StrikeRow, Diagnostic> {
    // Rows run to `to` where no distance was named.
    let runs = own.is_none() && question.at.0.is_empty();
    let fault = |e: crate::flight::FlightError| {
        let fault = strike_fault(&e, load, flights);
        if runs && fault.field.as_deref() == Some("at") { fault.field("to") } else { fault }
    };
    let mut row = facts::strike(load, &flights.strike(distance).map_err(fault)?);
    row.fast_gains = Some(facts::gains(&flights.fast_gains(distance).map_err(fault)?));
    Ok(row)
}

/// The distances of the rows, nearest first: those named, or from, to, step.
fn distances(question: &StrikeQuestion, own: Option<Length>, units: Units) -> Result<Vec<Length>, Diagnostic> {
    let runs = [(question.from.is_some(), "from"), (question.to.is_some(), "to"), (question.step.is_some(), "step")];
    let named = own.is_some() || !question.at.0.is_empty();
    for (given, key) in runs {
        refuse(named && given, key, "distances are named", "name distances, or give a span of them")?;
    }
    if own.is_some() {
        refuse(!question.at.0.is_empty(), "at", "the load has a distance of its own", "give the distance once")?;
        return Ok(own.into_iter().collect());
    }
    if !question.at.0.is_empty() {
        let mut at: Vec<Length> = question.at.0.iter().map(|d| positive(d.value(), "at")).collect::<Result<_, _>>()?;
        at.order_by(|a, b| a.si().total_cmp(&b.si()));
        return Ok(at);
    }
    let value = |given: &Option<Given<Length>>| given.as_ref().map(Given::value);
    let from = value(&question.from).unwrap_or_else(|| unit::YARD.of(0.0));
    let round = if units == Units::Us { unit::YARD } else { unit::METRE };
    let own_step = value(&question.step);
    let step = own_step.unwrap_or_else(|| round.of(100.0));
    // A step of one's own is taken once at least.
    let usual = || from.max(round.of(500.0)).max(from + own_step.unwrap_or_else(|| round.of(0.0)));
    let to = value(&question.to).unwrap_or_else(usual);
    if from.si() < 0.0 {
        return Err(at("from", "`from` is negative", format!("write zero or more, `0 {}`", round.symbol)));
    }
    if to < from {
        return Err(at("to", "`to` lies before `from`", "write the nearer distance as `from`"));
    }
    positive(step, "step")?;
    let count = ((to.si() - from.si()) / step.si() + 1e-9).floor();
    if count >= MAX_ROWS as f64 {
        return Err(at("step", format!("the table would have more than {MAX_ROWS} rows"), "take a longer step"));
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Checked against the most rows.
    let count = count as usize;
    let mut rows: Vec<Length> = (0..=count).map(|i| Length::from_si(from.si() + step.si() * i as f64)).collect();
    // How far was asked stands in the table, whether or not a step ends there.
    let last = rows.last().map_or(from.si(), |row| row.si());
    if question.to.is_some() && to.si() > last + step.si() * 1e-6 {
        rows.push(to);
    }
    Ok(rows)
}
