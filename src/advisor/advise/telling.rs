//! What was judged, as everything that is told of it reads it.

use super::super::answer::Finding;
use super::super::resolve::loads::AnyAmmunition;
use super::super::say;
use super::super::worst::{self, Arriving};
use super::Case;
use super::matrix::Matrix;
use crate::reaction::Hit;
use crate::rules::{Setup, Subject};

/// What is told of, and what of it was judged.
#[derive(Clone, Copy)]
pub(super) struct Telling<'a> {
    pub case: &'a Case<'a>,
    pub matrix: &'a Matrix<'a>,
}

impl<'a> Telling<'a> {
    pub fn arriving(&self, plate: usize, line: usize) -> &'a Arriving {
        &self.matrix.lines[line].arriving[self.matrix.judged[plate][line].load]
    }

    pub fn setup(&self, line: usize) -> &'a Setup {
        &self.case.inquiry.targets[self.matrix.lines[line].line.target].stand.setup
    }

    /// What a shot of a line does to its target.
    pub fn hit(&self, plate: usize, line: usize) -> Hit {
        let (arriving, of) = (self.arriving(plate, line), self.setup(line));
        Hit::of(&arriving.load, &arriving.strike, &of.face, of.tilt, of.oblique)
    }

    pub fn conditions(&self, line: usize) -> &'a crate::spread::FlightConditions {
        &self.matrix.conditions[self.matrix.lines[line].line.target]
    }

    /// Load, distance and target in words.
    pub fn case_words(&self, plate: usize, line: usize) -> String {
        let of = &self.matrix.lines[line].line;
        let name = worst::called(&self.case.inquiry.asked[of.asked], &self.arriving(plate, line).load);
        self.at_target(&name, line)
    }

    fn at_target(&self, name: &str, line: usize) -> String {
        let of = &self.matrix.lines[line].line;
        let target = &self.case.inquiry.targets[of.target].name;
        let target = if target.is_empty() { String::new() } else { format!(" on {target}") };
        format!("{name} at {}{target}", self.case.units.distance(of.distance))
    }

    /// Words about a line, which is named where it is one of several.
    pub fn of_case(&self, line: usize, of: usize, words: &str) -> String {
        if of == 1 {
            return format!("{words}.");
        }
        let of = &self.matrix.lines[line].line;
        let asked = &self.case.inquiry.asked[of.asked];
        // What is never shot of it stands in the headline.
        let name = asked.any.as_ref().map_or_else(|| asked.loads[0].facts().name.clone(), AnyAmmunition::in_short);
        format!("{}: {words}.", self.at_target(&name, line))
    }

    /// Every rule that speaks of a line on a plate.
    pub fn findings(&self, plate: usize, line: usize) -> Vec<(Finding, Subject)> {
        let arriving = self.arriving(plate, line);
        let allowance = self.case.books.rules.allow(
            &arriving.load,
            &self.case.plates[plate],
            self.setup(line),
            arriving.strike.muzzle,
        );
        let case = self.case_words(plate, line);
        let told =
            |f: &crate::rules::Finding| (say::finding(f, &case, &arriving.load, self.case.units), f.rule().subject);
        let mut findings: Vec<(Finding, Subject)> = allowance.findings(&arriving.strike).iter().map(told).collect();
        let any = self.case.inquiry.asked[self.matrix.lines[line].line.asked].any.as_ref();
        if let Some(any) = any.filter(|_| self.matrix.judged[plate][line].judged.listed_only) {
            findings.push((worst::listed_only(any, &case), Subject::Case));
        }
        findings
    }

    /// Why a line is judged as it is on a plate.
    pub fn why(&self, plate: usize, line: usize) -> String {
        let judged = &self.matrix.judged[plate][line].judged;
        let findings = self.findings(plate, line);
        let found = self.foremost(&findings, plate, line);
        found.map_or_else(|| judged.verdict.to_string(), |(f, subject)| say::brief(f, *subject))
    }

    /// The finding that is told: what no distance heals, else the one that governs.
    pub fn foremost<'f>(
        &self,
        findings: &'f [(Finding, Subject)],
        plate: usize,
        line: usize,
    ) -> Option<&'f (Finding, Subject)> {
        let governs = self.matrix.judged[plate][line].judged.governed_by();
        let hopeless = findings.iter().find(|(f, _)| say::is_without_measure(f));
        hopeless.or_else(|| findings.iter().find(|(f, _)| Some(&f.rule) == governs.as_ref()))
    }
}
