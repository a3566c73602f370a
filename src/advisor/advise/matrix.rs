//! Every line judged on every plate, by the code that vets one.

use super::super::error::at;
use super::super::resolve::lines::{Inquiry, Line};
use super::super::worst::{self, Arriving, Judged, Lost};
use crate::air::Weather;
use crate::plate::Plate;
use crate::rules::{RuleSet, Verdict};
use crate::spread::FlightConditions;
use std::cmp::Ordering;

/// A line with what arrives of each load that stands for it.
#[derive(Debug, Clone)]
pub(crate) struct Flown {
    pub line: Line,
    pub arriving: Vec<Arriving>,
}

/// A line on a plate: the load that is worst there, and how it is judged.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OnPlate<'r> {
    pub load: usize,
    pub judged: Judged<'r>,
}

/// What is advised: indices into the plates and the lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pick {
    /// The thinnest plate that suits every line.
    pub recommended: Option<usize>,
    /// The thinnest that is borderline for every line, where none suits.
    pub borderline: Option<usize>,
    /// The lines that every plate is unsuitable for.
    pub excluded: Vec<usize>,
    /// The lines that are borderline at best.
    pub doubtful: Vec<usize>,
    /// The plate for the lines that are left, and what it is for them.
    pub rest: Option<(usize, Verdict)>,
}

impl Pick {
    /// The verdict of the whole.
    pub fn verdict(&self) -> Verdict {
        match (self.recommended, self.borderline) {
            (Some(_), _) => Verdict::Suits,
            (None, Some(_)) => Verdict::Borderline,
            (None, None) => Verdict::Unsuitable,
        }
    }

    /// The plate that is named for all, or for the lines that are left.
    pub fn named(&self) -> Option<usize> {
        self.recommended.or(self.borderline).or(self.rest.map(|(plate, _)| plate))
    }
}

/// Lines × plates.
#[derive(Debug, Clone)]
pub(crate) struct Matrix<'r> {
    /// One for each target: their slopes differ.
    pub conditions: Vec<FlightConditions>,
    pub lines: Vec<Flown>,
    /// By plate, then by line.
    pub judged: Vec<Vec<OnPlate<'r>>>,
    pub pick: Pick,
}

impl<'r> Matrix<'r> {
    pub fn new(rules: &'r RuleSet, plates: &[Plate], inquiry: &Inquiry, weather: &Weather) -> Result<Self, Lost> {
        let conditions = inquiry.targets.iter().map(|target| {
            FlightConditions::new(weather, target.stand.slope, inquiry.coverage)
                .map_err(|e| Lost::Fault(at("coverage", &e, e.help())))
        });
        let conditions: Vec<FlightConditions> = conditions.collect::<Result<_, _>>()?;
        let lines = inquiry.lines.iter().map(|line| flown(inquiry, *line, &conditions[line.target]));
        let lines: Vec<Flown> = lines.collect::<Result<_, _>>()?;
        let judged: Vec<Vec<OnPlate>> =
            plates.iter().map(|plate| lines.iter().filter_map(|l| on(rules, inquiry, l, plate)).collect()).collect();
        let pick = pick(&judged, lines.len());
        Ok(Self { conditions, lines, judged, pick })
    }

    /// The lines that are left where some are excluded; all where every one is.
    pub fn left(&self) -> Vec<usize> {
        let left: Vec<usize> = (0..self.lines.len()).filter(|line| !self.pick.excluded.contains(line)).collect();
        if left.is_empty() { (0..self.lines.len()).collect() } else { left }
    }

    /// The worst of some lines on a plate.
    pub fn worst_on(&self, plate: usize, of: &[usize]) -> Option<usize> {
        let row = self.judged.get(plate)?;
        of.iter().copied().reduce(|a, b| if self.order(row, a, b) == Ordering::Greater { b } else { a })
    }

    fn order(&self, row: &[OnPlate], a: usize, b: usize) -> Ordering {
        let verdicts = row[b].judged.verdict.cmp(&row[a].judged.verdict);
        let hardest = |line: usize| worst::hardest(&self.lines[line].arriving[row[line].load]);
        verdicts
            .then_with(|| worst::compare(&row[a].judged.of, &row[b].judged.of))
            .then_with(|| hardest(b).total_cmp(&hardest(a)))
    }

    /// The plate that comes nearest to suiting a line: of the best verdict, the thickest.
    pub fn nearest_plate(&self, line: usize) -> usize {
        (0..self.judged.len()).rev().min_by_key(|&plate| self.judged[plate][line].judged.verdict).unwrap_or(0)
    }
}

fn flown(inquiry: &Inquiry, line: Line, conditions: &FlightConditions) -> Result<Flown, Lost> {
    let fly = |load| worst::arriving(load, conditions, line.distance);
    let arriving = inquiry.asked[line.asked].loads.iter().map(fly).collect::<Result<_, _>>()?;
    Ok(Flown { line, arriving })
}

fn on<'r>(rules: &'r RuleSet, inquiry: &Inquiry, flown: &Flown, plate: &Plate) -> Option<OnPlate<'r>> {
    let any = inquiry.asked[flown.line.asked].any.as_ref();
    let setup = &inquiry.targets[flown.line.target].stand.setup;
    worst::worst(&flown.arriving, any, rules, plate, setup).map(|(load, judged)| OnPlate { load, judged })
}

fn pick(judged: &[Vec<OnPlate>], lines: usize) -> Pick {
    let best = |line: usize| judged.iter().map(|row| row[line].judged.verdict).min().unwrap_or(Verdict::Unsuitable);
    let bests: Vec<Verdict> = (0..lines).map(best).collect();
    let with = |verdict: Verdict| (0..lines).filter(|&line| bests[line] == verdict).collect::<Vec<usize>>();
    let (excluded, doubtful) = (with(Verdict::Unsuitable), with(Verdict::Borderline));
    let all: Vec<usize> = (0..lines).collect();
    let thinnest = |of: &[usize], verdict: Verdict| {
        judged.iter().position(|row| of.iter().map(|&l| row[l].judged.verdict).max() == Some(verdict))
    };
    let recommended = thinnest(&all, Verdict::Suits);
    let borderline = if recommended.is_none() { thinnest(&all, Verdict::Borderline) } else { None };
    let left: Vec<usize> = all.iter().copied().filter(|line| !excluded.contains(line)).collect();
    let rest = if excluded.is_empty() || left.is_empty() {
        None
    } else {
        let of = |verdict| thinnest(&left, verdict).map(|plate| (plate, verdict));
        of(Verdict::Suits).or_else(|| of(Verdict::Borderline))
    };
    Pick { recommended, borderline, excluded, doubtful, rest }
}
