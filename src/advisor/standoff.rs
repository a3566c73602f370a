//! How close.

mod ceiling;
mod crowd;
mod headline;
mod hear;
mod none;
mod rows;

use super::answer::{
    Cell, Closest as ClosestTold, ClosestWhy, Finding, MatchRisk, StandoffAnswer, StandoffInputs, StandoffRow,
};
use super::books::{Books, Brought, as_named, units};
use super::elsewhere;
use super::error::{Faults, at, refuse};
use super::found::Found;
use super::judge::Judge;
use super::lean::Lean;
use super::nearest::Nearest;
use super::preamble::{Said, no_slower, stands_on};
use super::question::StandoffQuestion;
use super::resolve::air::air;
use super::resolve::loads::{AnyAmmunition, Asked, LoadSource, coverage, positive, tell_spread};
use super::resolve::plates;
use super::resolve::taken::Taken;
use super::resolve::target::{Stand, stand};
use super::safety::Occasion;
use super::{carry, curve, facts, say};
use crate::air::Weather;
use crate::load::Load;
use crate::plate::{Condition, Plate};
use crate::quantity::{Length, Ratio, Si};
use crate::rules::{Closest, OnPlate, Setup, Verdict};
use crate::source::{Diagnostic, clean};
use crate::spread::{FlightConditions, Flights};
use crate::standoff::{Chart, Match};
use crate::strike::Strike;
use crate::words::Units;
use ceiling::Airs;

/// Loads from which on rows are worked out on several threads.
const MANY: usize = 32;

struct Case {
    books: Books,
    units: Units,
    asked: Vec<Asked>,
    /// Whether loads were named; else it is the chart of all.
    named: bool,
    plates: Vec<Plate>,
    stand: Stand,
    air: Weather,
    coverage: Ratio,
    at: Option<Length>,
    /// So many shots of so many shooters, where they were asked.
    crowd: Option<Match>,
}

/// The chart: by what was asked, then by plate.
type Rows<'r> = Vec<Vec<Found<'r>>>;

/// The loads of each row, flown in the air taken, and then all of them at the bad end of it where there is one.
type Flown = [Vec<Flights>];

pub(crate) fn answer(books: &Books, question: &StandoffQuestion) -> Result<StandoffAnswer, Faults> {
    let mut taken = Taken::default();
    let mut case = resolve(books, question, &mut taken)?;
    let conditions = case.conditions(&case.air)?;
    let there = elsewhere::bad_end(&case.air).map(|weather| case.conditions(&weather)).transpose()?;
    case.crowd = crowd::asked(&case, question, &mut taken)?;
    let airs = Airs { here: &conditions, there: there.as_ref() };
    let work = || case.answer(question, airs, taken);
    Ok(if case.is_wide() { crate::threads::with(None, work)?? } else { work()? })
}

fn resolve(books: &Books, question: &StandoffQuestion, taken: &mut Taken) -> Result<Case, Diagnostic> {
    let units = units(question.units);
    refuse_idle(question)?;
    let brought = Brought {
        range_rules: &question.range_rules,
        plates: question.plates.as_ref(),
        loads: &question.loads,
        shop: question.shop.as_ref(),
    };
    let books = books.with(&brought, units)?;
    books.tell(taken);
    let spread = question.spread_part();
    let source = LoadSource::new(&books, &spread, question.of, units);
    let mut asked = source.all(&question.load.0, &question.any.0, taken)?;
    let named = !asked.is_empty();
    if let Some(own) = asked.iter().find_map(|one| one.distance) {
        let message = format!("a load with a distance, {}, and what is asked is how close", units.distance(own));
        return Err(at("load", message, "leave the distance out, or ask for verdicts with `at`"));
    }
    if !named {
        asked = source.whole_catalog(taken)?;
    }
    let product = books.product(question.product.as_deref())?;
    let mut plates = match &product {
        Some(product) if question.plate.0.is_empty() => books.made(product)?,
        _ => plates::plates(&question.plate, &books)?,
    };
    for plate in &plates {
        super::vet::made_in(product.as_ref(), plate)?;
    }
    as_named(&mut plates, &question.plate.0, units);
    let stand = stand(&question.target_part(), product.as_ref(), Condition::Unknown, "", &books.files, units, taken)?;
    // A chart of every plate is no claim about one.
    if product.is_some() || !question.plate.0.is_empty() {
        stand.check_plates(&plates, taken)?;
    }
    taken.doubt_falling(stand.falls);
    let air = air(question.air_part(), units, taken)?;
    tell_spread(asked.iter().flat_map(|a| a.loads.iter().map(|l| &**l)), &spread, units, taken);
    let coverage = coverage(spread.coverage, taken);
    let at = question.at.as_ref().map(|d| positive(d.value(), "at")).transpose()?;
    at.map_or(Ok(()), |at| stand.check_distance(at, units))?;
    let loads: Vec<&Load> = asked.iter().flat_map(|asked| asked.loads.iter().map(|load| &**load)).collect();
    // A chart of every load is no claim about one.
    let loads = if named { loads } else { Vec::new() };
    stand.check_loads(loads.iter().copied(), taken)?;
    stand.check_labels(&plates, (&loads, at), units, taken)?;
    Ok(Case { books, units, asked, named, plates, stand, air, coverage, at, crowd: None })
}

fn refuse_idle(question: &StandoffQuestion) -> Result<(), Diagnostic> {
    refuse(
        question.shop.is_some() && question.product.is_none(),
        "shop",
        "no product of the shop is asked",
        "leave it out",
    )?;
    let both = question.shooters.is_some() && question.rounds.is_some();
    for (given, key) in [
        (question.shooters.is_some(), "shooters"),
        (question.rounds.is_some(), "rounds"),
        (question.rifle_spread.is_some(), "rifle_spread"),
        (question.risk.is_some(), "risk"),
    ] {
        refuse(given && !both, key, "a match has shooters and rounds", "give both `shooters` and `rounds`")?;
    }
    Ok(())
}

/// The one cell of one load on one plate.
fn single<'f, 'r>(rows: &'f Rows<'r>) -> Option<&'f Found<'r>> {
    match rows.as_slice() {
        [row] if row.len() == 1 => row.first(),
        _ => None,
    }
}

/// What arrives of loads, at each of some distances.
type Arrivals<'l> = Vec<(Length, Vec<Arriving<'l>>)>;

/// What arrives of a load, and whether that is at the bad end of the air.
struct Arriving<'l> {
    load: &'l Load,
    strike: Strike,
    there: bool,
}

impl Case {
    fn conditions(&self, weather: &Weather) -> Result<FlightConditions, Diagnostic> {
        FlightConditions::new(weather, self.stand.slope, self.coverage).map_err(|e| at("coverage", &e, e.help()))
    }

    fn chart<'a>(&'a self, conditions: &'a FlightConditions) -> Chart<'a, 'a> {
        Chart { rules: &self.books.rules, plates: &self.plates, setup: &self.stand.setup, conditions, at: self.at }
    }

    fn answer(&self, question: &StandoffQuestion, airs: Airs, taken: Taken) -> Result<StandoffAnswer, Diagnostic> {
        let (mut rows, flown) = self.rows(airs)?;
        let risk = self.risk(&rows, airs)?;
        self.keep_off(&mut rows, airs.here, airs.there)?;
        self.told(question, (&rows, &flown), airs, risk, taken)
    }

    /// Whether there are so many loads that several threads work on them.
    fn is_wide(&self) -> bool {
        self.asked.len() >= MANY
    }

    /// What is found of each row.
    fn of_each<T: Send>(&self, of: impl Fn(usize) -> T + Sync + Send) -> Vec<T> {
        let rows: Vec<usize> = (0..self.asked.len()).collect();
        if self.is_wide() { crate::threads::map(&rows, |row| of(*row)) } else { rows.into_iter().map(of).collect() }
    }

    fn load(&self, row: usize, found: &Found) -> &Load {
        &self.asked[row].loads[found.load]
    }

    /// What the exit status tells: of each load that was named the best plate; a chart of all loads is done, unless
    /// none of them suits any plate.
    fn verdict(&self, rows: &Rows) -> Verdict {
        let best = |row: &Vec<Found>| row.iter().map(Found::verdict).min().unwrap_or(Verdict::Unsuitable);
        if !self.named {
            let any = rows.iter().any(|row| best(row) != Verdict::Unsuitable);
            return if any { Verdict::Suits } else { Verdict::Unsuitable };
        }
        rows.iter().map(best).max().unwrap_or(Verdict::Unsuitable)
    }

    fn told(
        &self,
        question: &StandoffQuestion,
        (rows, flown): (&Rows, &Flown),
        airs: Airs,
        risk: Option<MatchRisk>,
        taken: Taken,
    ) -> Result<StandoffAnswer, Diagnostic> {
        let conditions = airs.here;
        let mut said = Said { headline: self.headline(rows)?, ..Said::default() };
        let nearest = match single(rows) {
            Some(cell) => {
                let nearest = cell.nearest_distance();
                said.nearest = self.nearest_words(cell, nearest);
                Nearest::of_any(nearest, cell.farthest_distance(), self.at.as_slice(), cell.listed_only)
            }
            None => Nearest::ByRow,
        };
        let loads: Vec<&Load> = self.asked.iter().flat_map(|a| a.loads.iter().map(|l| &**l)).collect();
        let lean = self.lean(rows, flown);
        // Of no there is nothing to stand on.
        if single(rows).is_none_or(|cell| cell.verdict() != Verdict::Unsuitable) {
            let slowest = self.slowest(rows, conditions, airs.there)?;
            said.stands_on = stands_on(&[&self.stand.setup], &loads, lean, slowest, self.units);
        }
        self.hear(&mut said, rows, flown, conditions);
        let carry = carry::farthest(loads.iter().copied(), conditions);
        said.remark(carry.as_ref().map(|c| carry::words(c, self.units)).unwrap_or_default());
        if let Some(thickest) = self.thickest() {
            let drawn = super::drawn::remarks(&self.stand.setup.face, thickest, self.units);
            drawn.into_iter().for_each(|text| said.remark(text));
        }
        let distances = rows.iter().flatten().filter_map(|cell| cell.closest.distance());
        let occasion = Occasion {
            loads: loads.clone(),
            setups: vec![&self.stand.setup],
            is_shot: single(rows).is_none_or(|cell| cell.verdict() != Verdict::Unsuitable) || nearest.least().is_some(),
            nearest,
            lean,
            shot_from: self.at.or_else(|| distances.reduce(|a, b| if a < b { a } else { b })),
            coldest: self.air.dense().temperature(),
            carry,
            units: self.units,
        };
        let inputs = StandoffInputs {
            loads: loads.iter().map(|load| facts::load(load)).collect(),
            plates: self.plates.iter().map(facts::plate).collect(),
            target: facts::setup(&self.stand.setup, self.units),
            conditions: facts::conditions(conditions, self.units),
        };
        Ok(StandoffAnswer {
            preamble: said.preamble("standoff", self.units, inputs, taken, &occasion),
            verdict: self.verdict(rows),
            at: self.at.map(Si),
            nearest_up_to: elsewhere::bad_end(&self.air).map(|_| elsewhere::end(&self.air, self.units)),
            rows: rows.iter().enumerate().map(|(index, row)| self.row_told(index, row, rows, airs)).collect(),
            match_risk: risk,
            none: self.none(rows),
            outline: self.drawn(),
            curve: self.curve(question, rows, conditions),
        })
    }

    /// What was read of the face, its corners for the thickest plate.
    fn drawn(&self) -> Option<super::answer::OutlineFacts> {
        super::drawn::facts(&self.stand.setup.face, self.thickest()?, self.units)
    }

    fn thickest(&self) -> Option<Length> {
        self.plates.iter().map(|p| p.thickness).reduce(|a, b| if a > b { a } else { b })
    }

    fn row_told(&self, index: usize, row: &[Found], rows: &Rows, airs: Airs) -> StandoffRow {
        let asked = &self.asked[index];
        let load = &asked.loads[row.first().map_or(0, |cell| cell.load)];
        let whole = single(rows).is_some();
        let name = asked.any.as_ref().map_or_else(|| load.facts().name.clone(), AnyAmmunition::called);
        let cells = row.iter().zip(&self.plates).map(|(found, plate)| {
            let findings = if whole { self.findings(index, found, plate, airs.here) } else { Vec::new() };
            self.cell(index, found, plate, airs, findings)
        });
        StandoffRow {
            load: load.id().to_owned(),
            name,
            class: load.class(),
            loads: asked.loads.len(),
            projectiles: asked.loads.iter().map(|load| load.facts().projectiles).max().unwrap_or(1),
            plates: cells.collect(),
        }
    }

    fn cell(&self, row: usize, found: &Found, plate: &Plate, airs: Airs, findings: Vec<Finding>) -> Cell {
        let name = |rule: &crate::rules::Rule| clean(&rule.id);
        let distance = found.closest.distance();
        let next = match found.closest {
            Closest::At { next, .. } => next,
            Closest::Never { .. } | Closest::BeyondReach { .. } => None,
        };
        let why = match found.closest {
            Closest::At { .. } => ClosestWhy::At,
            Closest::Never { .. } => ClosestWhy::Never,
            Closest::BeyondReach { .. } => ClosestWhy::OutOfReach,
        };
        let (_, far) = found.nearest();
        // The distance holds for the loads as they were judged, and for nothing faster or heavier; of one at which it is no
        // good nothing is admitted.
        let is_good = self.at.is_none() || found.verdict() != Verdict::Unsuitable;
        let ceiling = self.ceiling(row, found, plate, airs).filter(|_| is_good);
        let words = match (&far, far.distance()) {
            (_, Some(distance)) => self.units.distance_up(distance),
            // It suits in the air that was taken alone.
            _ if distance.is_some() => "give the air".into(),
            (Closest::BeyondReach { .. }, None) => "out of reach".into(),
            (_, None) => "never".into(),
        };
        // What is borderline at best suits from nowhere, and a chart shows it in brackets.
        let nearest = found.nearest_distance().filter(|_| !found.listed_only);
        let (borderline, borderline_to) = match found.borderline() {
            _ if found.listed_only => (found.nearest_distance(), found.farthest_distance()),
            Some((from, to)) => (Some(from), to),
            None => (None, None),
        };
        let distance = distance.filter(|_| !found.listed_only);
        Cell {
            label: clean(&plate.label),
            closest: ClosestTold {
                distance: distance.map(Si),
                borderline: borderline.filter(|b| nearest.is_none_or(|nearest| *b < nearest)).map(Si),
                borderline_to: borderline_to.filter(|_| nearest.is_none()).map(Si),
                why,
                by: found.closest.by().map(name),
                next: next.map(name),
                words,
                short: far.by().map_or_else(|| "any".into(), say::short),
            },
            nearest: nearest.map(Si),
            farthest_of_range: found.farthest.and_then(|end| end.by).is_some_and(|by| by.overlay.is_some()),
            farthest: found.farthest_distance().filter(|_| nearest.is_some()).map(Si),
            nearest_by: far.by().map(name),
            at: found.at.map(|(_, verdict)| verdict),
            verdict: found.verdict(),
            ceiling_speed: ceiling.map(|(speed, _)| Si(speed)),
            ceiling_energy: ceiling.map(|(_, energy)| Si(energy)),
            findings,
        }
    }

    fn findings(&self, row: usize, found: &Found, plate: &Plate, conditions: &FlightConditions) -> Vec<Finding> {
        let load = self.load(row, found);
        let Some(distance) = self.at.or(found.closest.distance()) else { return Vec::new() };
        let Some(strike) = Flights::new(load, conditions).ok().and_then(|f| f.strike(distance).ok()) else {
            return Vec::new();
        };
        let case = format!("{} on {} at {}", load.facts().name, clean(&plate.label), self.units.distance_up(distance));
        let allowance = self.books.rules.allow(load, plate, &self.stand.setup, strike.muzzle);
        allowance.findings(&strike).iter().map(|f| say::finding(f, &case, load, self.units)).collect()
    }

    /// How slow any ammunition that was asked may be, from where it is told on.
    fn slowest(
        &self,
        rows: &Rows,
        here: &FlightConditions,
        there: Option<&FlightConditions>,
    ) -> Result<Vec<String>, Diagnostic> {
        let setup = &self.stand.setup;
        let mut told = Vec::new();
        for (asked, row) in self.asked.iter().zip(rows).filter(|(asked, _)| asked.any.is_some()) {
            let judge = Judge::new(&self.books.rules, &asked.loads, here, there)?;
            let least = row.iter().zip(&self.plates).filter_map(|(cell, plate)| match self.at {
                Some(at) => judge.slowest(plate, setup, at),
                None => judge.slowest_from(plate, setup, cell.nearest_distance()?),
            });
            let least = least.reduce(|a, b| if a > b { a } else { b });
            told.extend(least.and_then(|least| no_slower(asked, self.asked.len() == 1, least, self.units)));
        }
        Ok(told)
    }

    /// The leans that suit at the distances told, of every load on every plate; none where nothing is told.
    fn lean(&self, rows: &Rows, flown: &Flown) -> Option<Lean> {
        let arriving: Vec<Arrivals> =
            self.of_each(|row| self.arriving(row, rows, &flown[row])).into_iter().collect::<Option<_>>()?;
        if arriving.iter().all(Vec::is_empty) {
            return None;
        }
        Lean::of(|tilt| {
            let setup = Setup { tilt: Some(tilt), ..self.stand.setup.clone() };
            let on: Vec<OnPlate> = self.plates.iter().map(|plate| self.books.rules.on(plate, &setup)).collect();
            let suits = |(plate, cell): (usize, &Found), strikes: &[Arriving]| {
                let here = cell.at.map_or(Verdict::Suits, |(judgement, _)| judgement.verdict);
                let there = cell.there.and_then(|there| there.at).unwrap_or(here);
                strikes.iter().all(|Arriving { load, strike, there: is_there }| {
                    let worst = if *is_there { there } else { here };
                    on[plate].allow(load, strike.muzzle).judge(strike).verdict <= worst
                })
            };
            let of_row = |row: usize| {
                let (cells, arriving) = (&rows[row], &arriving[row]);
                let mut told = cells.iter().enumerate().flat_map(|cell| self.told_at(cell.1).map(move |at| (at, cell)));
                told.all(|(at, cell)| {
                    arriving.iter().filter(|(known, _)| *known == at).all(|(_, strikes)| suits(cell, strikes))
                })
            };
            self.of_each(of_row).into_iter().all(|suits| suits)
        })
    }

    /// The distances that a cell tells.
    fn told_at(&self, cell: &Found) -> impl Iterator<Item = Length> {
        let end = cell.farthest_distance().filter(|_| self.at.is_none() && cell.nearest_distance().is_some());
        self.at.or(cell.nearest_distance()).into_iter().chain(end)
    }

    /// What arrives of the loads of a row at each of the distances it tells; none where one of them does not get there.
    fn arriving(&self, row: usize, rows: &Rows, flown: &[Flights]) -> Option<Arrivals<'_>> {
        let own = &self.asked[row].loads;
        let loads =
            || own.iter().cycle().zip(flown).enumerate().map(|(at, (load, flights))| (at >= own.len(), load, flights));
        let mut arriving: Arrivals = Vec::new();
        for at in rows[row].iter().flat_map(|cell| self.told_at(cell)) {
            if !arriving.iter().any(|(known, _)| *known == at) {
                let strikes = loads()
                    .map(|(there, load, flights)| Some(Arriving { load, strike: flights.strike(at).ok()?, there }));
                arriving.push((at, strikes.collect::<Option<_>>()?));
            }
        }
        Some(arriving)
    }

    fn curve(
        &self,
        question: &StandoffQuestion,
        rows: &Rows,
        conditions: &FlightConditions,
    ) -> Option<super::answer::Curve> {
        if question.figures != Some(true) || rows.len() != 1 {
            return None;
        }
        let cell = rows[0].first()?;
        let mut marks: Vec<(Length, String)> = self.at.map(|at| (at, "asked".to_owned())).into_iter().collect();
        for (found, plate) in rows[0].iter().zip(&self.plates) {
            marks.extend(found.nearest_distance().map(|d| (d, format!("{} from here", clean(&plate.label)))));
            marks.extend(found.farthest_distance().map(|d| (d, format!("{} to here", clean(&plate.label)))));
        }
        let load = self.load(0, cell);
        curve::of(load, conditions, &self.books.rules, &self.plates, &self.stand.setup, marks, self.units)
    }
}
