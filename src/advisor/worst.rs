//! The worst of the loads that stand for one that was asked.

use super::answer::Finding;
use super::resolve::loads::{AnyAmmunition, Asked};
use super::say;
use crate::flight::FlightError;
use crate::load::Load;
use crate::numeric::bisect;
use crate::plate::Plate;
use crate::quantity::{Length, Measure, show, unit};
use crate::rules::{Basis, Judgement, RuleSet, Setup, Verdict, demand};
use crate::source::{Diagnostic, clean};
use crate::spread::{FlightConditions, Flights};
use crate::strike::Strike;
use std::cmp::Ordering;
use std::sync::Arc;

/// The finding of any ammunition of a cartridge whose extremes are not known.
pub(crate) const LISTED_ONLY: &str = "any-of-listed-loads";

/// A load with what arrives of it.
#[derive(Debug, Clone)]
pub(crate) struct Arriving {
    pub load: Arc<Load>,
    pub strike: Strike,
}

/// A judgement, and that it is of listed loads alone where it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Judged<'r> {
    pub verdict: Verdict,
    pub of: Judgement<'r>,
    /// Borderline for want of the cartridge's extremes, not by a rule.
    pub listed_only: bool,
}

impl Judged<'_> {
    /// The rule that governs.
    pub fn governed_by(&self) -> Option<String> {
        if self.listed_only { Some(LISTED_ONLY.into()) } else { self.of.rule.map(|r| clean(&r.id)) }
    }
}

/// The worst of what arrives on a plate: its place, and how it is judged.
pub(crate) fn worst<'r>(
    arriving: &[Arriving],
    any: Option<&AnyAmmunition>,
    rules: &'r RuleSet,
    plate: &Plate,
    setup: &Setup,
) -> Option<(usize, Judged<'r>)> {
    let judge = |one: &Arriving| rules.allow(&one.load, plate, setup, one.strike.muzzle).judge(&one.strike);
    let judged: Vec<Judgement> = arriving.iter().map(judge).collect();
    let worst = (0..judged.len()).reduce(|a, b| {
        let order =
            compare(&judged[a], &judged[b]).then_with(|| hardest(&arriving[b]).total_cmp(&hardest(&arriving[a])));
        if order == Ordering::Greater { b } else { a }
    })?;
    Some((worst, capped(judged[worst], any)))
}

/// A judgement of a cartridge whose extremes are not known is borderline at best.
fn capped<'r>(of: Judgement<'r>, any: Option<&AnyAmmunition>) -> Judged<'r> {
    let listed_only = of.verdict == Verdict::Suits && any.is_some_and(AnyAmmunition::is_in_part);
    Judged { verdict: if listed_only { Verdict::Borderline } else { of.verdict }, of, listed_only }
}

/// The worse one first.
pub(crate) fn compare(a: &Judgement, b: &Judgement) -> Ordering {
    let ((verdict, margin), (other, its)) = (say::rank(a.verdict, a.margin), say::rank(b.verdict, b.margin));
    verdict.cmp(&other).then(margin.total_cmp(&its))
}

/// Demand of what arrives: ties go to the greatest.
pub(crate) fn hardest(one: &Arriving) -> f64 {
    demand::thickness(one.load.energy(one.strike.fast), one.load.facts().bullet).si()
}

/// The finding that keeps a cartridge of unknown extremes from suiting.
pub(crate) fn listed_only(any: &AnyAmmunition, case: &str) -> Finding {
    let (why, next) = in_part(any);
    Finding {
        rule: LISTED_ONLY.into(),
        case: case.to_owned(),
        verdict: Verdict::Borderline,
        limit: None,
        actual: None,
        unit: None,
        margin: None,
        basis: Basis::HouseAssumption,
        source: "house assumption".into(),
        overlay: None,
        of_plate: false,
        found_words: String::new(),
        limit_words: String::new(),
        limit_brief: String::new(),
        divided_by: Vec::new(),
        why: why.clone(),
        next,
        text: why,
    }
}

/// Why any ammunition of a cartridge is judged in part only, and what to do.
fn in_part(any: &AnyAmmunition) -> (String, String) {
    if any.apart.is_empty() {
        let why = format!("{} is judged by {}, and its hottest ammunition may be hotter", any.cartridge, listed(any));
        return (why, "name the loads that are shot".into());
    }
    let why = format!("{} comes as {} as well, which does not suit steel", any.cartridge, any.apart_words());
    let next = any.narrower.map_or_else(
        || "name the loads that are shot".into(),
        |kind| format!("narrow it (`--of {kind}`), or name the loads"),
    );
    (why, next)
}

/// `the 2 loads listed`.
pub(crate) fn listed(any: &AnyAmmunition) -> String {
    match any.listed {
        1 => "the 1 load listed".into(),
        n => format!("the {n} loads listed"),
    }
}

/// What was asked, in words: a load's name, or any ammunition of a cartridge and the worst of it.
pub(crate) fn called(asked: &Asked, load: &Load) -> String {
    match &asked.any {
        None => load.facts().name.clone(),
        Some(any) if any.has_envelope => {
            let (called, worst) = (any.called(), &load.facts().name);
            match called.strip_suffix(')') {
                Some(open) => format!("{open}; worst: {worst})"),
                None => format!("{called} (worst: {worst})"),
            }
        }
        Some(any) => format!("{}, of {}", load.facts().name, listed(any)),
    }
}

/// Why a case was not judged in some air.
#[derive(Debug)]
pub(crate) enum Lost {
    /// The bullet does not get there: it hits nothing.
    Short(Diagnostic),
    /// Anything else.
    Fault(Diagnostic),
}

/// What arrives at a distance, or why nothing can be judged there.
pub(crate) fn arriving(load: &Arc<Load>, conditions: &FlightConditions, distance: Length) -> Result<Arriving, Lost> {
    let flights = Flights::new(load, conditions).map_err(|e| Lost::Fault(flight_fault(&e, load)))?;
    match flights.strike(distance) {
        Ok(strike) => Ok(Arriving { load: load.clone(), strike }),
        Err(e @ FlightError::OutOfReach { .. }) => Err(Lost::Short(strike_fault(&e, load, &flights))),
        Err(e) => Err(Lost::Fault(flight_fault(&e, load))),
    }
}

impl From<Diagnostic> for Lost {
    fn from(fault: Diagnostic) -> Self {
        Self::Fault(fault)
    }
}

impl From<Lost> for Diagnostic {
    fn from(lost: Lost) -> Self {
        match lost {
            Lost::Short(fault) | Lost::Fault(fault) => fault,
        }
    }
}

/// A strike's fault as one of the question: a bullet that falls short is told with its reach.
pub(crate) fn strike_fault(error: &FlightError, load: &Load, flights: &Flights) -> Diagnostic {
    let fault = flight_fault(error, load);
    let FlightError::OutOfReach { distance } = error else { return fault };
    let gets_to = |metres| flights.strike(Length::from_si(metres)).is_ok();
    let (reach, _) = bisect(0.0, distance.si(), 0.5, gets_to);
    let reach = unit::YARD.of(unit::YARD.value(Length::from_si(reach)).floor());
    fault.help(format!("name a distance up to `{}`: so far it is followed", show(reach, &unit::YARD, 0)))
}

/// A flight's fault as one of the question.
pub(crate) fn flight_fault(error: &FlightError, load: &Load) -> Diagnostic {
    super::error::at(error.field(), format!("{}: {error}", load.facts().name), error.help())
}
