//! Which plate: the ladder scanned for the thinnest that suits everything asked of it.

use crate::flight::FlightError;
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Length, Velocity};
use crate::rules::{Judgement, Verdict};
use crate::spread::Flights;
use crate::strike::Strike;
use crate::vet::{Question, fastest_that_suits};
use std::sync::Arc;

/// One load at one distance on one target: a line of the inquiry.
#[derive(Debug, Clone)]
pub struct Case<'r> {
    /// The load.
    pub load: Arc<Load>,
    /// The target and the circumstances it is asked in.
    pub question: Question<'r>,
    /// What the target is called, where the inquiry has several.
    pub target: Option<String>,
    /// What arrives.
    pub strike: Strike,
}

impl<'r> Case<'r> {
    /// Flies the load to the distance.
    ///
    /// # Errors
    /// [`FlightError`] where the bullet does not reach it.
    pub fn new(
        load: Arc<Load>,
        question: Question<'r>,
        target: Option<String>,
        distance: Length,
    ) -> Result<Self, FlightError> {
        let strike = Flights::new(&load, question.conditions)?.strike(distance)?;
        Ok(Self { load, question, target, strike })
    }

    /// The verdict on one plate.
    #[must_use]
    pub fn judge(&self, plate: &Plate) -> Judgement<'r> {
        self.question.rules.allow(&self.load, plate, self.question.setup).judge(&self.strike)
    }
}

/// A plate of the ladder, judged by every case.
#[derive(Debug, Clone)]
pub struct Choice<'r> {
    /// The plate.
    pub plate: Plate,
    /// The worst case's judgement.
    pub judgement: Judgement<'r>,
    /// The index of that case in the inquiry.
    pub worst: usize,
    /// Every case's judgement, in the inquiry's order.
    pub each: Vec<Judgement<'r>>,
}

/// What would make a case suit, where no plate does.
#[derive(Debug, Clone)]
pub struct Remedy {
    /// The index of the case.
    pub case: usize,
    /// The distance from which on some plate suits, and the thinnest such plate.
    pub distance: Option<(Length, Plate)>,
    /// The highest muzzle velocity that suits at the distance asked, and the thinnest plate that takes it.
    pub muzzle_velocity: Option<(Velocity, Plate)>,
}

/// The advice: every choice, and which to take.
#[derive(Debug, Clone)]
pub struct Advice<'r> {
    /// The ladder from thin to thick.
    pub choices: Vec<Choice<'r>>,
    /// Index of the thinnest choice that suits everything.
    pub recommended: Option<usize>,
    /// Index of the thinnest borderline choice, where none suits.
    pub borderline: Option<usize>,
    /// For each case that no plate suits, what would.
    pub remedies: Vec<Remedy>,
    /// Index of the thinnest choice that suits every case but those that no plate suits, where some do.
    pub rest: Option<usize>,
}

impl Advice<'_> {
    /// The verdict of the whole: that of the choice named, unsuitable where none can be.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match (self.recommended, self.borderline) {
            (Some(_), _) => Verdict::Suits,
            (None, Some(_)) => Verdict::Borderline,
            (None, None) => Verdict::Unsuitable,
        }
    }

    /// Index of the choice that is named: recommended, else borderline.
    #[must_use]
    pub fn named(&self) -> Option<usize> {
        self.recommended.or(self.borderline)
    }
}

/// Scans the ladder for an inquiry of at least one case. An empty inquiry has no advice.
#[must_use]
pub fn advise<'r>(plates: &[Plate], cases: &[Case<'r>]) -> Option<Advice<'r>> {
    let choices: Vec<Choice<'r>> = plates.iter().filter_map(|plate| choice(plate, cases)).collect();
    if choices.is_empty() {
        return None;
    }
    let thinnest = |verdict| choices.iter().position(|c| c.judgement.verdict == verdict);
    let recommended = thinnest(Verdict::Suits);
    let borderline = if recommended.is_none() { thinnest(Verdict::Borderline) } else { None };
    let remedies = if recommended.is_some() { Vec::new() } else { remedies(&choices, cases) };
    let rest = rest(&choices, cases.len(), &remedies);
    Some(Advice { choices, recommended, borderline, remedies, rest })
}

fn rest(choices: &[Choice], cases: usize, remedies: &[Remedy]) -> Option<usize> {
    let others: Vec<usize> = (0..cases).filter(|case| remedies.iter().all(|r| r.case != *case)).collect();
    if others.is_empty() || remedies.is_empty() {
        return None;
    }
    choices.iter().position(|c| others.iter().all(|&case| c.each[case].verdict == Verdict::Suits))
}

fn choice<'r>(plate: &Plate, cases: &[Case<'r>]) -> Option<Choice<'r>> {
    let each: Vec<Judgement<'r>> = cases.iter().map(|case| case.judge(plate)).collect();
    let mut worst = 0;
    for index in 1..each.len() {
        if each[index].is_worse_than(&each[worst]) {
            worst = index;
        }
    }
    Some(Choice { plate: plate.clone(), judgement: *each.get(worst)?, worst, each })
}

fn remedies(choices: &[Choice], cases: &[Case]) -> Vec<Remedy> {
    let unmet = |case: usize| choices.iter().all(|c| c.each[case].verdict != Verdict::Suits);
    (0..cases.len()).filter(|&case| unmet(case)).map(|case| remedy(choices, case, &cases[case])).collect()
}

fn remedy(choices: &[Choice], index: usize, case: &Case) -> Remedy {
    let question = &case.question;
    let flights = Flights::new(&case.load, question.conditions).ok();
    let mut distance: Option<(Length, Plate)> = None;
    let mut muzzle_velocity: Option<(Velocity, Plate)> = None;
    for choice in choices {
        let allowance = question.rules.allow(&case.load, &choice.plate, question.setup);
        // Nearer is no remedy, should it be the far fall that fails.
        if let Some(closest) = flights.as_ref().and_then(|f| allowance.closest(f).distance())
            && closest > case.strike.distance
            && distance.as_ref().is_none_or(|(best, _)| closest < *best)
        {
            distance = Some((closest, choice.plate.clone()));
        }
        if let Some(speed) = fastest_that_suits(question, &case.load, &choice.plate, case.strike.distance)
            && muzzle_velocity.as_ref().is_none_or(|(best, _)| speed > *best)
        {
            muzzle_velocity = Some((speed, choice.plate.clone()));
        }
    }
    Remedy { case: index, distance, muzzle_velocity }
}
