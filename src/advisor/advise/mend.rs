//! What would make the lines suit that no plate takes.

use super::super::answer::Remedy;
use super::super::judge::Judge;
use super::super::remedy::{Sought, nearer, rounded_up};
use super::near::Judges;
use super::telling::Telling;
use crate::order::Order;
use crate::quantity::{Length, Si, Velocity};
use crate::source::{Diagnostic, clean};
use crate::vet::{self, Question};
use crate::words::Units;

impl Telling<'_> {
    /// The lines that no plate suits.
    fn unmet(&self) -> Vec<usize> {
        let pick = &self.matrix.pick;
        let mut lines: Vec<usize> = pick.excluded.iter().chain(&pick.doubtful).copied().collect();
        lines.order();
        lines
    }

    pub fn remedies(&self, judges: &Judges) -> Result<Vec<(usize, Remedy)>, Diagnostic> {
        self.unmet().into_iter().map(|line| Ok((line, self.remedy(judges, line)?))).collect()
    }

    fn remedy(&self, judges: &Judges, line: usize) -> Result<Remedy, Diagnostic> {
        let plate = self.matrix.nearest_plate(line);
        let judge = self.judge_of_all(judges, line);
        let plates = || 0..self.case.plates.len();
        // The plate that takes it from nearest, in all the air that was not given.
        let from = |index: usize| judge.and_then(|judge| self.from(judge, index, line));
        let nearest = plates().filter_map(|i| Some((from(i)?, i))).reduce(|a, b| if b.0.1 < a.0.1 { b } else { a });
        let speed = |index: usize| judge.and_then(|judge| self.fastest(judge, index, line));
        let velocity = plates().filter_map(|i| Some((speed(i)?, i))).reduce(|a, b| if b.0 > a.0 { b } else { a });
        let label = |index: usize| clean(&self.case.plates[index].label);
        let mut remedy = Remedy {
            case: self.case_words(plate, line),
            distance: nearest.map(|((closest, _), _)| Si(closest)),
            nearest: nearest.map(|((_, nearest), _)| Si(nearest)),
            farthest: nearest.and_then(|((_, nearest), index)| self.up_to(judge?, index, line, nearest)).map(Si),
            distance_plate: nearest.map(|(_, index)| label(index)),
            muzzle_velocity: velocity.map(|(speed, _)| Si(speed)),
            muzzle_velocity_plate: velocity.map(|(_, index)| label(index)),
            words: String::new(),
        };
        remedy.words = self.remedy_words(&remedy, judges, plate, line)?;
        Ok(remedy)
    }

    /// What judges a line, where nothing of what was asked is set apart or not known.
    fn judge_of_all<'j, 'a>(&self, judges: &'j Judges<'a>, line: usize) -> Option<&'j Judge<'a>> {
        let asked = &self.case.inquiry.asked[self.matrix.lines[line].line.asked];
        judges.judge(self, line).filter(|_| asked.any.as_ref().is_none_or(|any| !any.is_in_part()))
    }

    /// From where on a plate suits a line, and from where in all the air that was not given; none where that is no
    /// farther than what was asked, and where what is told of it does not suit.
    fn from(&self, judge: &Judge, plate: usize, line: usize) -> Option<(Length, Length)> {
        let (plate, setup) = (&self.case.plates[plate], self.setup(line));
        let (closest, nearest) = (judge.closest(plate, setup)?, judge.nearest(plate, setup)?);
        let suits = closest > self.matrix.lines[line].line.distance
            && judge.suits(plate, setup, rounded_up(nearest, self.case.units));
        suits.then_some((closest, nearest))
    }

    /// Up to where a plate suits a line from a distance on; none where that does not end.
    fn up_to(&self, judge: &Judge, plate: usize, line: usize, from: Length) -> Option<Length> {
        judge.farthest(&self.case.plates[plate], self.setup(line), from, from * 2.0, None)
    }

    fn remedy_words(&self, remedy: &Remedy, judges: &Judges, plate: usize, line: usize) -> Result<String, Diagnostic> {
        let units = self.case.units;
        let judge = self.judge_of_all(judges, line);
        let from = from_where(remedy, units).map(|(on, from)| format!("{on} from {from}"));
        let mut ways: Vec<String> = from.into_iter().collect();
        if let (Some(speed), Some(on)) = (&remedy.muzzle_velocity, &remedy.muzzle_velocity_plate) {
            let bullet = units.bullet(self.arriving(plate, line).load.facts().bullet);
            let on = if remedy.distance_plate.as_ref() == Some(on) { String::new() } else { format!("{on}, ") };
            ways.push(format!("{on}{bullet} leaving at {} at most", units.speed_down(**speed)));
        }
        match judge {
            Some(judge) if ways.is_empty() => {
                ways.extend(self.nearer(judge, line));
                ways.extend(self.others(judge, plate, line)?);
            }
            // Listed loads stand for others that may be worse: no change of the plate mends that.
            None => ways.extend(self.of_the_others(judges, plate, line)?.or_else(|| self.next(plate, line))),
            Some(_) => {}
        }
        if ways.is_empty() {
            ways.push("no distance, plate, speed or other change that was tried would".into());
        }
        Ok(self.of_case(line, self.unmet().len(), &ways.join("; or ")))
    }

    /// From where to where a plate takes a line that was asked from too far: the plate that takes it to the farthest.
    fn nearer(&self, judge: &Judge, line: usize) -> Option<String> {
        let (setup, asked) = (self.setup(line), self.matrix.lines[line].line.distance);
        let found = self
            .case
            .plates
            .iter()
            .filter_map(|plate| Some((plate, nearer(judge, plate, setup, asked, self.case.units)?)));
        let (plate, (from, to)) = found.reduce(|a, b| if b.1.1 > a.1.1 { b } else { a })?;
        Some(format!("{} from {}", clean(&plate.label), self.case.units.from_to(from, Some(to))))
    }

    /// What would mend all that is judged of a cartridge, where no distance alone does; none where there is no such way.
    fn of_the_others(&self, judges: &Judges, plate: usize, line: usize) -> Result<Option<String>, Diagnostic> {
        let Some(judge) = judges.judge(self, line) else { return Ok(None) };
        let healed = |plate| judge.nearest(plate, self.setup(line)).is_some();
        if self.case.plates.iter().any(healed) {
            return Ok(None);
        }
        let ways = self.others(judge, plate, line)?;
        Ok(ways.first().map(|way| format!("the others suit {way}")))
    }

    /// Other changes that were judged to do.
    fn others(&self, judge: &Judge, plate: usize, line: usize) -> Result<Vec<String>, Diagnostic> {
        let of = &self.matrix.lines[line].line;
        let lead = judge.of_lead_core()?;
        let sought = Sought {
            judge,
            lead: lead.as_ref(),
            plates: &self.case.plates,
            plate: &self.case.plates[plate],
            setup: self.setup(line),
            is_hung: self.case.inquiry.targets[of.target].stand.is_hung,
            distance: of.distance,
            units: self.case.units,
        };
        let on = clean(&self.case.plates[plate].label);
        let alone = sought.others();
        Ok(if alone.is_empty() {
            sought.together().map(|changes| format!("on {on}: {}", changes.words)).into_iter().collect()
        } else {
            alone.into_iter().map(|way| format!("on {on}, {way}")).collect()
        })
    }

    fn next(&self, plate: usize, line: usize) -> Option<String> {
        let findings = self.findings(plate, line);
        let next = self.foremost(&findings, plate, line).map(|(f, _)| f.next.clone());
        next.filter(|next| !next.is_empty())
    }

    /// `3/8 in takes it from 200 yd`.
    pub fn fix(&self, remedy: &Remedy) -> Option<String> {
        let (plate, from) = from_where(remedy, self.case.units)?;
        Some(format!("{plate} takes it from {from}"))
    }

    /// The highest muzzle velocity of one load that suits, also as it is told; none of any ammunition of a cartridge.
    fn fastest(&self, judge: &Judge, plate: usize, line: usize) -> Option<Velocity> {
        let flown = &self.matrix.lines[line];
        let [arriving] = flown.arriving.as_slice() else { return None };
        let (plate, setup) = (&self.case.plates[plate], self.setup(line));
        let (rules, ladder) = (&self.case.books.rules, &self.case.books.ladder);
        let question = Question { rules, ladder, setup, conditions: self.conditions(line) };
        let here = vet::fastest_that_suits(&question, &arriving.load, plate, flown.line.distance)?;
        judge.fastest(here, &question, &arriving.load, plate, flown.line.distance, self.case.units)
    }
}

/// On which plate, and from where: `200 yd`, or `200 yd to 309 yd` where it suits no farther.
fn from_where(remedy: &Remedy, units: Units) -> Option<(&str, String)> {
    let (nearest, plate) = (remedy.nearest.as_ref()?, remedy.distance_plate.as_ref()?);
    Some((plate, units.from_to(**nearest, remedy.farthest.map(|to| *to))))
}
