//! The advice told: choices, exclusions, remedies, and what a caller must hear.

use super::super::answer::{
    AdviseAnswer, AdviseInputs, Curve, Excluded, Finding, Line, PlateChoice, Remedy, StrikeRow, TargetFacts,
};
use super::super::elsewhere::{self, Turn};
use super::super::preamble::{Said, stands_on};
use super::super::resolve::taken::Taken;
use super::super::safety::Occasion;
use super::super::worst::Arriving;
use super::super::{carry, curve, drawn, facts, say};
use super::Case;
use super::hang;
use super::headline::{ExcludedWords, headline};
use super::matrix::{Matrix, Pick};
use super::telling::Telling;
use crate::load::Load;
use crate::quantity::{Length, Number, Si, Velocity};
use crate::rules::{Setup, Subject, Verdict};
use crate::source::{Diagnostic, clean};
use crate::spread::Flights;
use crate::vet::{self, Question};
use std::sync::Arc;

/// Beyond this many lines a plate's findings are those that are not met, and the one that governs.
const MAX_WHOLE_LINES: usize = 50;

pub(super) fn told(
    case: &Case,
    matrix: &Matrix,
    turn: Option<&Turn<Pick>>,
    taken: Taken,
) -> Result<AdviseAnswer, Diagnostic> {
    let telling = Telling { case, matrix };
    let left = matrix.left();
    let remedies = telling.remedies();
    let excluded = telling.excluded();
    let words: Vec<ExcludedWords> = excluded
        .iter()
        .map(|one| {
            let fix = remedies.iter().find(|(line, _)| *line == one.line).and_then(|(_, remedy)| telling.fix(remedy));
            ExcludedWords { case: one.case.clone(), why: one.why.clone(), fix }
        })
        .collect();
    let named = matrix.pick.named();
    let closest = named.and_then(|plate| telling.closest(plate, &left, matrix));
    let mut said = Said { headline: headline(&telling, turn, &words), ..Said::default() };
    let hanging = hang::Hanging::of(&telling, &left, named);
    let nearest = telling.nearest(named, &left, &remedies)?;
    said.nearest = telling.nearest_words(named, nearest, &hanging);
    let setups = telling.setups(&left);
    // Corners by the plate that is named, else by the thickest.
    let thickness = named.or(case.plates.len().checked_sub(1)).map(|plate| case.plates[plate].thickness);
    let drawing = setups.first().copied().zip(thickness);
    let loads = telling.loads(&left);
    if named.is_some() {
        said.stands_on = stands_on(&setups, &loads);
    }
    if let Some(turn) = turn {
        said.remark(format!("Not all of the air was given: {} the answer is another one.", turn.end));
    }
    telling.hear(&mut said, named, &left);
    hanging.remarks().into_iter().for_each(|text| said.remark(text));
    if let Some((setup, thickness)) = drawing {
        drawn::remarks(&setup.face, thickness, case.units).into_iter().for_each(|text| said.remark(text));
    }
    let carry = carry::farthest(case.inquiry.loads(), &matrix.conditions[0]);
    said.remark(carry.as_ref().map(|c| carry::words(c, case.units)).unwrap_or_default());
    let occasion = Occasion {
        loads: case.inquiry.loads().collect(),
        setups,
        nearest,
        shot_from: matrix.lines.iter().map(|flown| flown.line.distance).reduce(|a, b| if a < b { a } else { b }),
        coldest: case.inquiry.air.weather.dense().temperature(),
        carry,
        units: case.units,
    };
    let outline = drawing.and_then(|(setup, thickness)| drawn::facts(&setup.face, thickness, case.units));
    let plates: Vec<PlateChoice> = (0..case.plates.len()).map(|plate| telling.choice(plate, &left, &hanging)).collect();
    let name = |plate: Option<usize>| plate.map(|plate| facts::plate(&case.plates[plate]));
    Ok(AdviseAnswer {
        verdict: matrix.pick.verdict(),
        recommended: name(matrix.pick.recommended),
        borderline: name(matrix.pick.borderline),
        for_the_rest: matrix.pick.rest.map(|(plate, _)| facts::plate(&case.plates[plate])),
        whatever_plate: telling.whatever_plate(&left),
        excluded,
        plates,
        remedies: remedies.into_iter().map(|(_, remedy)| remedy).collect(),
        strikes: telling.strikes(),
        closest: closest.map(Si),
        outline,
        cut_plan: hanging.cut_plan(),
        curves: telling.curves(named),
        preamble: said.preamble("advise", case.units, telling.inputs(), taken, &occasion),
    })
}

impl<'a> Telling<'a> {
    fn excluded(&self) -> Vec<Excluded> {
        let pick = &self.matrix.pick;
        let of = |line: usize| {
            let plate = self.matrix.nearest_plate(line);
            Excluded {
                line,
                case: self.case_words(plate, line),
                verdict: self.matrix.judged[plate][line].judged.verdict,
                why: self.why(plate, line),
            }
        };
        pick.excluded.iter().map(|&line| of(line)).collect()
    }

    /// The lines that no plate suits.
    fn unmet(&self) -> Vec<usize> {
        let pick = &self.matrix.pick;
        let mut lines: Vec<usize> = pick.excluded.iter().chain(&pick.doubtful).copied().collect();
        lines.sort_unstable();
        lines
    }

    fn remedies(&self) -> Vec<(usize, Remedy)> {
        self.unmet().into_iter().map(|line| (line, self.remedy(line))).collect()
    }

    fn remedy(&self, line: usize) -> Remedy {
        let plate = self.matrix.nearest_plate(line);
        let listed_only = self.matrix.judged.iter().any(|row| row[line].judged.listed_only);
        let (mut distance, mut velocity): (Option<(Length, usize)>, Option<(Velocity, usize)>) = (None, None);
        for index in (0..self.case.plates.len()).filter(|_| !listed_only) {
            if let Some(closest) = self.closest_of(index, line, self.matrix)
                && distance.is_none_or(|(best, _)| closest < best)
            {
                distance = Some((closest, index));
            }
            if let Some(speed) = self.fastest(index, line)
                && velocity.is_none_or(|(best, _)| speed > best)
            {
                velocity = Some((speed, index));
            }
        }
        let label = |index: usize| clean(&self.case.plates[index].label);
        let mut remedy = Remedy {
            case: self.case_words(plate, line),
            distance: distance.map(|(at, _)| Si(at)),
            distance_plate: distance.map(|(_, index)| label(index)),
            muzzle_velocity: velocity.map(|(speed, _)| Si(speed)),
            muzzle_velocity_plate: velocity.map(|(_, index)| label(index)),
            words: String::new(),
        };
        remedy.words = self.remedy_words(&remedy, plate, line);
        remedy
    }

    fn remedy_words(&self, remedy: &Remedy, plate: usize, line: usize) -> String {
        let units = self.case.units;
        let mut ways: Vec<String> = self.fix(remedy).into_iter().collect();
        if let (Some(speed), Some(on)) = (&remedy.muzzle_velocity, &remedy.muzzle_velocity_plate) {
            let bullet = units.bullet(self.arriving(plate, line).load.facts().bullet);
            ways.push(format!(
                "{on} with this {bullet} bullet at no more than {} from the muzzle",
                units.speed_down(**speed)
            ));
        }
        if ways.is_empty() {
            let findings = self.findings(plate, line);
            let governs = self.matrix.judged[plate][line].judged.governed_by();
            let next = findings.iter().find(|(f, _)| Some(&f.rule) == governs.as_ref()).map(|(f, _)| f.next.clone());
            ways.extend(next.filter(|next| !next.is_empty()));
        }
        if ways.is_empty() {
            ways.push("no distance, plate or speed would".into());
        }
        format!("{}: {}.", remedy.case, ways.join("; or "))
    }

    /// `3/8 in takes it from 200 yd`.
    fn fix(&self, remedy: &Remedy) -> Option<String> {
        let (distance, plate) = (remedy.distance.as_ref()?, remedy.distance_plate.as_ref()?);
        Some(format!("{plate} takes it from {}", self.case.units.distance_up(**distance)))
    }

    /// The highest muzzle velocity of one load that suits; none of any ammunition of a cartridge.
    fn fastest(&self, plate: usize, line: usize) -> Option<Velocity> {
        let flown = &self.matrix.lines[line];
        let [arriving] = flown.arriving.as_slice() else { return None };
        let question = Question {
            rules: &self.case.books.rules,
            ladder: &self.case.books.ladder,
            setup: self.setup(line),
            conditions: self.conditions(line),
        };
        vet::fastest_that_suits(&question, &arriving.load, &self.case.plates[plate], flown.line.distance)
    }

    /// From where on every load of a line suits a plate, in the air of a matrix.
    fn closest_of(&self, plate: usize, line: usize, matrix: &Matrix) -> Option<Length> {
        let conditions = &matrix.conditions[self.matrix.lines[line].line.target];
        let closest = |arriving: &Arriving| {
            let flights = Flights::new(&arriving.load, conditions).ok()?;
            let allowance = self.case.books.rules.allow(&arriving.load, &self.case.plates[plate], self.setup(line));
            allowance.closest(&flights).distance()
        };
        let all: Option<Vec<Length>> = self.matrix.lines[line].arriving.iter().map(closest).collect();
        all?.into_iter().reduce(farther)
    }

    /// From where on a plate suits all of some lines.
    fn closest(&self, plate: usize, of: &[usize], matrix: &Matrix) -> Option<Length> {
        // A load that is asked at several distances comes as near as it may once.
        let mut known: Vec<(usize, usize)> = Vec::new();
        let mut farthest: Option<Length> = None;
        for &line in of {
            let key = (self.matrix.lines[line].line.asked, self.matrix.lines[line].line.target);
            if known.contains(&key) {
                continue;
            }
            known.push(key);
            let closest = self.closest_of(plate, line, matrix)?;
            farthest = Some(farthest.map_or(closest, |far| farther(far, closest)));
        }
        farthest
    }

    /// How near anyone may shoot it.
    fn nearest(
        &self,
        named: Option<usize>,
        left: &[usize],
        remedies: &[(usize, Remedy)],
    ) -> Result<Option<Length>, Diagnostic> {
        let Some(plate) = named else { return Ok(self.nearest_of_remedies(remedies)) };
        let here = self.closest(plate, left, self.matrix);
        let distances = left.iter().map(|&line| self.matrix.lines[line].line.distance);
        let Some(asked) = distances.reduce(uom::si::Quantity::min) else { return Ok(here) };
        let there = match elsewhere::bad_end(&self.case.inquiry.air)? {
            Some(weather) => Some(self.closest(plate, left, &self.case.matrix(&weather)?)),
            None => None,
        };
        Ok(elsewhere::nearest(here, there, asked))
    }

    /// From where every line suits some plate, where none is named.
    fn nearest_of_remedies(&self, remedies: &[(usize, Remedy)]) -> Option<Length> {
        let every = remedies.len() == self.matrix.lines.len();
        let distances: Option<Vec<Length>> = remedies.iter().map(|(_, remedy)| Some(*remedy.distance?)).collect();
        distances.filter(|_| every)?.into_iter().reduce(farther)
    }

    /// What it is to carry and to pay, how near anyone may shoot it, and what a hit does to its hooks.
    fn nearest_words(&self, named: Option<usize>, nearest: Option<Length>, hanging: &hang::Hanging) -> String {
        if named.is_none() {
            return nearest.map_or_else(
                || "No distance is good on these plates.".into(),
                |distance| format!("Nobody nearer than {}.", self.case.units.distance_up(distance)),
            );
        }
        let mut parts = hanging.carried();
        parts.push(match nearest {
            Some(distance) => format!("Nobody nearer than {}.", self.case.units.distance_up(distance)),
            None => "No nearest distance is known.".into(),
        });
        parts.extend(hanging.must_hear());
        parts.join(" ")
    }

    fn setups(&self, of: &[usize]) -> Vec<&'a Setup> {
        let mut setups: Vec<&Setup> = Vec::new();
        for &line in of {
            let setup = self.setup(line);
            if !setups.iter().any(|known| std::ptr::eq(*known, setup)) {
                setups.push(setup);
            }
        }
        setups
    }

    fn loads(&self, of: &[usize]) -> Vec<&'a Load> {
        of.iter().flat_map(|&line| self.matrix.lines[line].arriving.iter().map(|a| &*a.load)).collect()
    }

    /// The rules that applied on the plate that is named, and on the thickest for what is excluded.
    fn hear(&self, said: &mut Said, named: Option<usize>, left: &[usize]) {
        let last = self.case.plates.len().saturating_sub(1);
        for line in 0..self.matrix.lines.len() {
            let plate = if left.contains(&line) { named.unwrap_or(last) } else { last };
            let arriving = self.arriving(plate, line);
            let allowance = self.case.books.rules.allow(&arriving.load, &self.case.plates[plate], self.setup(line));
            said.hear(&allowance, &arriving.strike);
            for change in say::changes(&allowance.changes(), self.case.units) {
                said.remark(change);
            }
        }
    }

    /// What no plate changes, of each line that is left: the worst of each subject, in one sentence.
    fn whatever_plate(&self, left: &[usize]) -> Vec<String> {
        let plate = self.case.plates.len().saturating_sub(1);
        let mut told = Vec::new();
        for &line in left {
            let findings = self.findings(plate, line);
            let mut worst: Vec<&(Finding, Subject)> = Vec::new();
            for one in findings.iter().filter(|(f, _)| f.verdict != Verdict::Suits && !f.of_plate) {
                match worst.iter_mut().find(|known| known.1 == one.1 && one.1 != Subject::Case) {
                    Some(known) if is_nearer(&one.0, Some(&known.0)) => *known = one,
                    Some(_) => {}
                    None => worst.push(one),
                }
            }
            let words: Vec<String> = worst.iter().map(|(f, subject)| say::brief(f, *subject)).collect();
            if !words.is_empty() {
                let text = format!("{}: {}.", self.case_words(plate, line), words.join("; "));
                if !told.contains(&text) {
                    told.push(text);
                }
            }
        }
        told
    }

    fn choice(&self, plate: usize, left: &[usize], hanging: &hang::Hanging) -> PlateChoice {
        let worst = self.matrix.worst_on(plate, left).unwrap_or(0);
        let judged = &self.matrix.judged[plate][worst].judged;
        let governs = judged.governed_by();
        let mut findings = Vec::new();
        let mut nearest: Option<(Finding, Subject)> = None;
        for &line in left {
            for (finding, subject) in self.findings(plate, line) {
                // A thickness that is enough says nothing of how near the plate is to its limit.
                let speaks = finding.of_plate && (subject != Subject::Thickness || finding.verdict != Verdict::Suits);
                if speaks && is_nearer(&finding, nearest.as_ref().map(|n| &n.0)) {
                    nearest = Some((finding.clone(), subject));
                }
                let matters = finding.verdict != Verdict::Suits || Some(&finding.rule) == governs.as_ref();
                if left.len() <= MAX_WHOLE_LINES || matters {
                    findings.push(finding);
                }
            }
        }
        let face = &self.setup(left.first().copied().unwrap_or(0)).face;
        PlateChoice {
            label: clean(&self.case.plates[plate].label),
            thickness: Si(self.case.plates[plate].thickness),
            verdict: judged.verdict,
            mass: Some(Si(face.mass(self.case.plates[plate].thickness))),
            margin: judged.of.margin.map(Number),
            governed_by: governs,
            plate_margin: nearest.as_ref().and_then(|(f, _)| f.margin),
            nearest_limit: nearest.map(|(f, subject)| say::brief(&f, subject)).unwrap_or_default(),
            findings,
            reaction: hanging.reaction(plate),
            material: hanging.material(plate),
        }
    }

    fn strikes(&self) -> Vec<StrikeRow> {
        let plate = self.matrix.pick.named().unwrap_or(0);
        (0..self.matrix.lines.len())
            .map(|line| self.arriving(plate, line))
            .map(|arriving| facts::strike(&arriving.load, &arriving.strike))
            .collect()
    }

    fn inputs(&self) -> AdviseInputs {
        let plate = self.matrix.pick.named().unwrap_or(0);
        let line = |line: usize| Line {
            load: facts::load(&self.arriving(plate, line).load),
            distance: Si(self.matrix.lines[line].line.distance),
            target: self.case.inquiry.targets[self.matrix.lines[line].line.target].name.clone(),
        };
        let targets = self.case.inquiry.targets.iter().zip(&self.matrix.conditions);
        AdviseInputs {
            lines: (0..self.matrix.lines.len()).map(line).collect(),
            targets: targets
                .map(|(target, conditions)| TargetFacts {
                    name: target.name.clone(),
                    target: facts::setup(&target.stand.setup, self.case.units),
                    conditions: facts::conditions(conditions),
                })
                .collect(),
            quantity: self.case.quantity,
            product: self.case.product.as_ref().map(|product| clean(&product.name)),
        }
    }

    fn curves(&self, named: Option<usize>) -> Vec<Curve> {
        if self.case.question.figures != Some(true) {
            return Vec::new();
        }
        let plates: Vec<_> = named.map(|plate| self.case.plates[plate].clone()).into_iter().collect();
        let mut seen: Vec<&Arc<Load>> = Vec::new();
        let mut curves = Vec::new();
        for line in 0..self.matrix.lines.len() {
            let load = &self.arriving(named.unwrap_or(0), line).load;
            if seen.contains(&load) {
                continue;
            }
            seen.push(load);
            let asked = (0..self.matrix.lines.len()).filter(|&l| &self.arriving(named.unwrap_or(0), l).load == load);
            let marks = asked.map(|l| (self.matrix.lines[l].line.distance, "asked".to_owned())).collect();
            let (setup, conditions) = (self.setup(line), self.conditions(line));
            curves.extend(curve::of(load, conditions, &self.case.books.rules, &plates, setup, marks, self.case.units));
        }
        curves
    }
}

fn farther(a: Length, b: Length) -> Length {
    if a > b { a } else { b }
}

/// Whether a finding stands nearer to its limit, or further beyond it.
fn is_nearer(finding: &Finding, than: Option<&Finding>) -> bool {
    let key = |f: &Finding| say::rank(f.verdict, f.margin.map(|m| *m));
    than.is_none_or(|than| {
        let ((a, x), (b, y)) = (key(finding), key(than));
        a.cmp(&b).then(x.total_cmp(&y)) == std::cmp::Ordering::Less
    })
}
