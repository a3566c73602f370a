//! The advice told: choices, exclusions, remedies, and what a caller must hear.

use super::super::answer::{
    AdviseAnswer, AdviseInputs, Curve, Excluded, Finding, Line, PlateChoice, StrikeRow, TargetFacts,
};
use super::super::elsewhere::{self, Turn};
use super::super::lean::Lean;
use super::super::nearest::Nearest;
use super::super::preamble::{Said, stands_on};
use super::super::resolve::taken::Taken;
use super::super::safety::Occasion;
use super::super::worst::LISTED_ONLY;
use super::super::{carry, curve, drawn, facts, say};
use super::Case;
use super::hang;
use super::headline::{ExcludedWords, headline};
use super::matrix::{Matrix, Pick};
use super::near::{self, Judges};
use super::swing;
use super::telling::Telling;
use crate::load::Load;
use crate::quantity::{Length, Number, Si};
use crate::rules::{Setup, Subject, Verdict};
use crate::source::{Diagnostic, clean};
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
    let judges = Judges::new(&telling)?;
    let remedies = telling.remedies(&judges)?;
    let excluded = telling.excluded();
    let words: Vec<ExcludedWords> = excluded
        .iter()
        .map(|one| {
            let fix = remedies.iter().find(|(line, _)| *line == one.line).and_then(|(_, remedy)| telling.fix(remedy));
            ExcludedWords { case: one.case.clone(), why: one.why.clone(), fix }
        })
        .collect();
    let named = matrix.pick.named();
    let closest = named.and_then(|plate| judges.closest(&telling, plate, &left));
    let mut said = Said { headline: headline(&telling, turn, &words), ..Said::default() };
    let hanging = hang::Hanging::of(&telling, &left, named);
    // Of one plate there is no other to choose.
    let one = named.or((case.plates.len() == 1).then_some(0));
    let lean = named.and_then(|plate| telling.lean(&judges, plate, &left));
    let nearest_by_load = judges.nearest(&telling, one, lean);
    let asked: Vec<Length> = matrix.lines.iter().map(|flown| flown.line.distance).collect();
    let nearest = near::nearest(&nearest_by_load, &asked, one.is_some(), case.units);
    let nearer = named.is_some_and(|plate| judges.any_nearer(&telling, plate));
    said.nearest = telling.nearest_words(named, &nearest, nearer, &hanging);
    let setups = telling.setups(&left);
    // Corners by the plate that is named, else by the thickest.
    let thickness = named.or(case.plates.len().checked_sub(1)).map(|plate| case.plates[plate].thickness);
    let drawing = setups.first().copied().zip(thickness);
    let loads = telling.loads(&left);
    if let Some(plate) = named {
        let slowest = judges.slowest(&telling, plate, &left);
        said.stands_on = stands_on(&setups, &loads, lean, slowest, case.units);
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
        is_shot: named.is_some() || nearest.least().is_some(),
        nearest,
        lean,
        shot_from: matrix.lines.iter().map(|flown| flown.line.distance).reduce(|a, b| if a < b { a } else { b }),
        coldest: case.inquiry.air.dense().temperature(),
        carry,
        units: case.units,
    };
    let outline = drawing.and_then(|(setup, thickness)| drawn::facts(&setup.face, thickness, case.units));
    let plates: Vec<PlateChoice> =
        (0..case.plates.len()).map(|plate| telling.choice(plate, &left, &judges, &hanging)).collect();
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
        nearest_by_load: nearest_by_load.into_iter().map(|near| near.of).collect(),
        outline,
        round: drawing.filter(|_| case.question.figures == Some(true)).and_then(|(setup, _)| drawn::round(&setup.face)),
        cut_plan: hanging.cut_plan(),
        swing_asked: swing::asked(&telling, &left, named),
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

    /// The leans that come to no worse than what was judged, of every line that is left.
    fn lean(&self, judges: &Judges, plate: usize, left: &[usize]) -> Option<Lean> {
        let of = |&line: &usize| {
            let (judge, distance) = (judges.judge(self, line)?, self.matrix.lines[line].line.distance);
            judge.lean(&self.case.plates[plate], self.setup(line), &[distance])
        };
        left.iter().map(of).reduce(|a, b| a.zip(b).and_then(|(a, b)| a.and(b))).flatten()
    }

    /// What it is to carry and to pay, how near anyone may shoot it, and what a hit does to its hooks.
    fn nearest_words(&self, named: Option<usize>, nearest: &Nearest, nearer: bool, hanging: &hang::Hanging) -> String {
        let tail = if !nearer {
            ""
        } else if elsewhere::bad_end(&self.case.inquiry.air).is_some() {
            ", or give the air"
        } else {
            // A slow bullet is good near, where it is still fast enough, and far; not between.
            ", unless as asked: between it fails"
        };
        let sentence = nearest.sentence("Nobody", tail, self.case.units);
        if named.is_none() {
            return if nearest.least().is_some() { sentence } else { "No distance is good on these plates.".into() };
        }
        let mut parts = hanging.carried();
        parts.push(sentence);
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
            let allowance = self.case.books.rules.allow(
                &arriving.load,
                &self.case.plates[plate],
                self.setup(line),
                arriving.strike.muzzle,
            );
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
            // What is set apart of a cartridge is called so wherever it is named.
            let any = self.case.inquiry.asked[self.matrix.lines[line].line.asked].any.as_ref();
            let is_named = |f: &Finding| f.rule == LISTED_ONLY && any.is_some_and(|any| !any.apart.is_empty());
            let unmet = |f: &Finding| f.verdict != Verdict::Suits && !f.of_plate && !is_named(f);
            for one in findings.iter().filter(|(f, _)| unmet(f)) {
                match worst.iter_mut().find(|known| known.1 == one.1 && one.1 != Subject::Case) {
                    Some(known) if is_nearer(&one.0, Some(&known.0)) => *known = one,
                    Some(_) => {}
                    None => worst.push(one),
                }
            }
            let mut words: Vec<String> = Vec::new();
            for text in worst.iter().map(|(f, subject)| say::brief(f, *subject)) {
                if !words.contains(&text) {
                    words.push(text);
                }
            }
            if !words.is_empty() {
                let text = self.of_case(line, self.matrix.lines.len(), &words.join("; "));
                if !told.contains(&text) {
                    told.push(text);
                }
            }
        }
        told
    }

    fn choice(&self, plate: usize, left: &[usize], judges: &Judges, hanging: &hang::Hanging) -> PlateChoice {
        let worst = self.matrix.worst_on(plate, left).unwrap_or(0);
        let judged = &self.matrix.judged[plate][worst].judged;
        let every: Vec<usize> = (0..self.matrix.lines.len()).collect();
        let worst_of_all = self.matrix.worst_on(plate, &every).unwrap_or(0);
        let of_all = &self.matrix.judged[plate][worst_of_all].judged;
        let is_rest = left.len() < every.len();
        let governs = judged.governed_by();
        let mut findings = Vec::new();
        // What governs, and of what the plate itself must hold what stands nearest to its limit.
        let mut nearest: Option<(Finding, Subject)> = None;
        let mut own: Option<(Finding, Subject)> = None;
        for &line in left {
            for (finding, subject) in self.findings(plate, line) {
                let speaks = subject.weighs() || finding.verdict != Verdict::Suits;
                for (known, counts) in [(&mut nearest, true), (&mut own, finding.of_plate)] {
                    if speaks && counts && is_nearer(&finding, known.as_ref().map(|n| &n.0)) {
                        *known = Some((finding.clone(), subject));
                    }
                }
                let matters = finding.verdict != Verdict::Suits || Some(&finding.rule) == governs.as_ref();
                if left.len() <= MAX_WHOLE_LINES || matters {
                    findings.push(finding);
                }
            }
        }
        let face = &self.setup(left.first().copied().unwrap_or(0)).face;
        let limit = |words: fn(&Finding, Subject) -> String| nearest.as_ref().map(|(f, s)| limit_words(f, *s, words));
        let together = hanging.together(plate);
        PlateChoice {
            label: clean(&self.case.plates[plate].label),
            thickness: Si(self.case.plates[plate].thickness),
            verdict: of_all.verdict,
            verdict_for_the_rest: is_rest.then_some(judged.verdict),
            nearest: judges.nearest_of_all(self, plate).map(Si),
            mass: Some(
                together.as_ref().map_or_else(|| Si(face.mass(self.case.plates[plate].thickness)), |set| set.mass),
            ),
            margin: of_all.of.margin.map(Number),
            margin_for_the_rest: judged.of.margin.map(Number).filter(|_| is_rest),
            governed_by: of_all.governed_by(),
            plate_margin: own.and_then(|(f, _)| f.margin),
            nearest_limit: limit(say::brief).unwrap_or_default(),
            nearest_limit_brief: limit(say::briefer).unwrap_or_default(),
            findings,
            reaction: hanging.reaction(plate),
            material: hanging.material(plate),
            pieces: hanging.pieces(plate),
            together,
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
                    conditions: facts::conditions(conditions, self.case.units),
                })
                .collect(),
            quantity: self.case.quantity,
            product: self.case.product.as_ref().map(|product| clean(&product.name)),
            shop: self.case.books.shop.as_ref().map(|shop| clean(&shop.name)),
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

/// A limit for a row of a table: what has no number and is the same on every plate is told above it.
fn limit_words(finding: &Finding, subject: Subject, words: fn(&Finding, Subject) -> String) -> String {
    if finding.limit.is_none() && !finding.of_plate {
        return finding.rule.replace('-', " ");
    }
    words(finding, subject)
}

/// Whether a finding stands nearer to its limit, or further beyond it.
fn is_nearer(finding: &Finding, than: Option<&Finding>) -> bool {
    let key = |f: &Finding| say::rank(f.verdict, f.margin.map(|m| *m));
    than.is_none_or(|than| {
        let ((a, x), (b, y)) = (key(finding), key(than));
        a.cmp(&b).then(x.total_cmp(&y)) == std::cmp::Ordering::Less
    })
}
