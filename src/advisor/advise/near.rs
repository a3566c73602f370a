//! How near anyone may come with each load that was asked.

use super::super::answer::NearestOf;
use super::super::elsewhere;
use super::super::error::at;
use super::super::judge::Judge;
use super::super::lean::Lean;
use super::super::nearest::{Nearest, One, farther, is_nearer};
use super::super::preamble::no_slower;
use super::super::resolve::loads::AnyAmmunition;
use super::telling::Telling;
use crate::order::Order;
use crate::quantity::{Length, Si};
use crate::rules::Verdict;
use crate::source::{Diagnostic, clean};
use crate::spread::FlightConditions;
use crate::words::Units;

/// The loads of each line, flown once in the air that was taken and at the bad end of what was not given. A load that is
/// asked at several distances of one target is flown once.
pub(super) struct Judges<'a> {
    of: Vec<((usize, usize), Judge<'a>)>,
}

/// How near anyone may come with one load on one target.
pub(super) struct Near {
    pub of: NearestOf,
    /// The distance that is told: the same, or that of what is ever good of it.
    from: Option<Length>,
    to: Option<Length>,
    but: Option<String>,
    in_part: bool,
}

/// What was asked, and of which target.
fn key(telling: &Telling, line: usize) -> (usize, usize) {
    let of = &telling.matrix.lines[line].line;
    (of.asked, of.target)
}

/// The lines of what was asked of a target.
fn lines_of(telling: &Telling, of: (usize, usize)) -> impl Iterator<Item = usize> {
    (0..telling.matrix.lines.len()).filter(move |line| key(telling, *line) == of)
}

impl<'a> Judges<'a> {
    pub fn new(telling: &Telling<'a>) -> Result<Self, Diagnostic> {
        let inquiry = &telling.case.inquiry;
        let end = elsewhere::bad_end(&inquiry.air);
        let mut of: Vec<((usize, usize), Judge)> = Vec::new();
        for line in 0..telling.matrix.lines.len() {
            let key = key(telling, line);
            if of.iter().any(|(known, _)| *known == key) {
                continue;
            }
            let slope = inquiry.targets[key.1].stand.slope;
            let there = end.as_ref().map(|weather| FlightConditions::new(weather, slope, inquiry.coverage));
            let there = there.transpose().map_err(|e| at("coverage", &e, e.help()))?;
            let loads = &inquiry.asked[key.0].loads;
            of.push((key, Judge::new(&telling.case.books.rules, loads, telling.conditions(line), there.as_ref())?));
        }
        Ok(Self { of })
    }

    pub fn judge(&self, telling: &Telling, line: usize) -> Option<&Judge<'a>> {
        let key = key(telling, line);
        self.of.iter().find(|(known, _)| *known == key).map(|(_, judge)| judge)
    }

    /// From where on a plate suits all of some lines, in the air that was taken.
    pub fn closest(&self, telling: &Telling, plate: usize, of: &[usize]) -> Option<Length> {
        let mut keys: Vec<(usize, usize)> = of.iter().map(|&line| key(telling, line)).collect();
        keys.order();
        keys.dedup();
        let mut farthest: Option<Length> = None;
        for (key, judge) in self.of.iter().filter(|(key, _)| keys.contains(key)) {
            let setup = &telling.case.inquiry.targets[key.1].stand.setup;
            let closest = judge.closest(&telling.case.plates[plate], setup)?;
            farthest = Some(farthest.map_or(closest, |far| farther(far, closest)));
        }
        farthest
    }

    /// Of each load on each target: on the plate that is named, else on the one that takes it from nearest.
    pub fn nearest(&self, telling: &Telling, named: Option<usize>, lean: Option<Lean>) -> Vec<Near> {
        let (inquiry, plates) = (&telling.case.inquiry, &telling.case.plates);
        let of = |(key, judge): &((usize, usize), Judge)| {
            let (asked, target) = (&inquiry.asked[key.0], &inquiry.targets[key.1]);
            let on = |plate: usize| Some((judge.nearest(&plates[plate], &target.stand.setup)?, plate));
            let found = match named {
                Some(plate) => on(plate),
                None => (0..plates.len()).filter_map(on).reduce(|a, b| if b.0 < a.0 { b } else { a }),
            };
            let known = asked.any.as_ref().is_none_or(|any| any.has_envelope);
            let in_part = asked.any.as_ref().is_some_and(AnyAmmunition::is_in_part);
            let name = asked.any.as_ref().map(AnyAmmunition::called);
            let but = found.is_none().then(|| but(telling, judge, *key, named?)).flatten();
            let most = lines_of(telling, *key).map(|line| telling.matrix.lines[line].line.distance).reduce(farther);
            let to = found.zip(most).and_then(|((from, plate), most)| {
                judge.farthest(&plates[plate], &target.stand.setup, from, most, lean)
            });
            let of = NearestOf {
                name: clean(&name.unwrap_or_else(|| asked.loads[0].facts().name.clone())),
                target: clean(&target.name),
                plate: found.map(|(_, plate)| plate).or(named).map(|plate| clean(&plates[plate].label)),
                // Loads that stand for others that are never good, or that nobody knows, are good from nowhere.
                nearest: found.filter(|_| !in_part).map(|(from, _)| Si(from)),
                farthest: to.filter(|_| !in_part).map(Si),
            };
            Near { of, from: found.filter(|_| known).map(|(from, _)| from), to, but, in_part }
        };
        self.of.iter().map(of).collect()
    }

    /// From where on a plate suits every load asked, in all of the air; none where one of them is good from nowhere.
    pub fn nearest_of_all(&self, telling: &Telling, plate: usize) -> Option<Length> {
        let (inquiry, plate) = (&telling.case.inquiry, &telling.case.plates[plate]);
        let mut farthest: Option<Length> = None;
        for ((asked, target), judge) in &self.of {
            let in_part = inquiry.asked[*asked].any.as_ref().is_some_and(AnyAmmunition::is_in_part);
            let from = judge.nearest(plate, &inquiry.targets[*target].stand.setup).filter(|_| !in_part)?;
            farthest = Some(farthest.map_or(from, |far| farther(far, from)));
        }
        farthest
    }

    /// How slow any ammunition that was asked may be at its distances.
    pub fn slowest(&self, telling: &Telling, plate: usize, of: &[usize]) -> Vec<String> {
        let (plates, inquiry) = (&telling.case.plates, &telling.case.inquiry);
        let least = |line: &usize| {
            let line_of = &telling.matrix.lines[*line].line;
            let judge = self.judge(telling, *line).filter(|_| inquiry.asked[line_of.asked].any.is_some())?;
            let least = judge.slowest(&plates[plate], telling.setup(*line), line_of.distance)?;
            no_slower(&inquiry.asked[line_of.asked], inquiry.asked.len() == 1, least, telling.case.units)
        };
        let mut told: Vec<String> = of.iter().filter_map(least).collect();
        told.order();
        told.dedup();
        told
    }

    /// Whether a line that suits in the air that was taken is asked nearer than in all the air that was not given.
    pub fn any_nearer(&self, telling: &Telling, plate: usize) -> bool {
        (0..telling.matrix.lines.len()).any(|line| {
            let suits = telling.matrix.judged[plate][line].judged.verdict == Verdict::Suits;
            let from = || self.judge(telling, line)?.nearest(&telling.case.plates[plate], telling.setup(line));
            let asked = telling.matrix.lines[line].line.distance;
            suits && from().is_some_and(|from| is_nearer(asked, from, telling.case.units))
        })
    }
}

/// How far it goes that a plate which is named is good from no distance: not in all the air that was not given, or for
/// what is borderline from any.
fn but(telling: &Telling, judge: &Judge, key: (usize, usize), plate: usize) -> Option<String> {
    let inquiry = &telling.case.inquiry;
    let setup = &inquiry.targets[key.1].stand.setup;
    if judge.closest(&telling.case.plates[plate], setup).is_some() {
        return Some(format!("{}: give the air", elsewhere::end_words(&inquiry.air, telling.case.units)));
    }
    let verdicts = lines_of(telling, key).map(|line| telling.matrix.judged[plate][line].judged.verdict);
    (verdicts.max() == Some(Verdict::Borderline)).then(|| "is it better than borderline".into())
}

/// The same for words: a load that is alike on every target is named without one.
pub(super) fn nearest(of: &[Near], asked: &[Length], is_named: bool, units: Units) -> Nearest {
    let told = |one: &Near| one.from.map(|from| units.stretch(from, one.to));
    let one = |near: &Near| {
        let alike = of.iter().filter(|other| other.of.name == near.of.name).all(|other| told(other) == told(near));
        let target = &near.of.target;
        let target = if alike || target.is_empty() { String::new() } else { format!(" on {target}") };
        let plate = near.of.plate.as_ref().filter(|_| !is_named && near.from.is_some());
        let plate = plate.map(|plate| format!(" on {plate}")).unwrap_or_default();
        One {
            of: format!("{}{target}{plate}", near.of.name),
            from: near.from,
            to: near.to,
            asked: asked.to_vec(),
            but: near.but.clone(),
            in_part: near.in_part,
        }
    };
    let mut list: Vec<One> = Vec::new();
    for one in of.iter().map(one) {
        if !list.contains(&one) {
            list.push(one);
        }
    }
    if is_named { Nearest::Each("with", list) } else { Nearest::ByPlate(list) }
}
