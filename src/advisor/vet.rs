//! Does this load suit this target.

use super::answer::{Curve, Finding, Topple, VetAnswer, VetInputs, WouldSuit};
use super::books::{Books, Brought, as_named, units};
use super::elsewhere::{self, Turn};
use super::error::{Faults, at, refuse};
use super::preamble::{Said, stands_on};
use super::question::VetQuestion;
use super::resolve::air::{AirAsked, air};
use super::resolve::loads::{AnyAmmunition, Asked, LoadSource, coverage, positive, tell_spread};
use super::resolve::plates;
use super::resolve::taken::Taken;
use super::resolve::target::{Stand, stand};
use super::safety::Occasion;
use super::worst::{self, Arriving, Judged, flight_fault};
use super::{carry, curve, facts, say};
use crate::air::Weather;
use crate::load::Load;
use crate::plate::{Condition, Kind, Plate};
use crate::quantity::{Length, Measure, Momentum, Number, Ratio, Si, Velocity};
use crate::reaction::{Hit, topple, topple::Standing};
use crate::rules::{Setup, Subject, Verdict};
use crate::shop::product::Product;
use crate::source::{Diagnostic, clean};
use crate::spread::{FlightConditions, Flights};
use crate::vet::{self, Question, Remedies};
use crate::words::{self, Units};

/// A question as resolved.
struct Case {
    books: Books,
    units: Units,
    asked: Asked,
    distance: Length,
    plate: Plate,
    stand: Stand,
    air: AirAsked,
    coverage: Ratio,
}

/// What a case comes to.
struct Outcome<'r> {
    arriving: Arriving,
    conditions: FlightConditions,
    judged: Judged<'r>,
}

pub(crate) fn answer(books: &Books, question: &VetQuestion) -> Result<VetAnswer, Faults> {
    let mut taken = Taken::default();
    let case = resolve(books, question, &mut taken)?;
    let outcome = case.judge(&case.air.weather)?;
    let turn = case.elsewhere(&outcome)?;
    Ok(case.told(question, &outcome, turn.as_ref(), taken)?)
}

fn resolve(books: &Books, question: &VetQuestion, taken: &mut Taken) -> Result<Case, Diagnostic> {
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
    let source = LoadSource {
        catalog: &books.catalog,
        rules: &books.rules,
        spread: &spread,
        of: question.of,
        units,
        reads_files: books.files.are_read(),
    };
    let mut asked = source.all(&question.load.0, &question.any.0, taken)?;
    if asked.len() > 1 {
        return Err(at(
            "load",
            "more than one load was named",
            "name one load here; `advise` and `standoff` take several",
        ));
    }
    let asked = asked.pop().ok_or_else(|| at("load", "no load was named", NO_LOAD))?;
    let given = question.at.as_ref().map(crate::quantity::Given::value);
    if let (Some(own), Some(_)) = (asked.distance, given) {
        let message = format!("`at` stands beside a load with a distance of its own, {}", units.distance(own));
        return Err(at("at", message, "give the distance once"));
    }
    let distance = asked.distance.or(given);
    let distance = distance.ok_or_else(|| at("at", "no distance was given", "give it, `100 yd`"))?;
    let distance = positive(distance, "at")?;
    let product = books.product(question.product.as_deref())?;
    let mut plate = plates::plate(question.plate.as_deref(), &books.ladder)?;
    made_in(product.as_ref(), &plate)?;
    as_named(std::slice::from_mut(&mut plate), question.plate.as_slice(), units);
    let target = question.target_part();
    let stand = stand(&target, product.as_ref(), Condition::Unknown, "", &books.files, units, taken)?;
    let air = air(question.air_part(), units, taken)?;
    tell_spread(asked.loads.iter().map(|l| &**l), &spread, units, taken);
    let coverage = coverage(spread.coverage, taken);
    Ok(Case { books, units, asked, distance, plate, stand, air, coverage })
}

/// What to do where no load was named.
pub(crate) const NO_LOAD: &str = "name one, `308-168-match`, or describe it by its bullet, velocity, coefficient with \
its drag model, and construction";

/// A product is asked in a thickness that it is made in.
pub(crate) fn made_in(product: Option<&Product>, plate: &Plate) -> Result<(), Diagnostic> {
    let Some(product) = product.filter(|p| p.made(plate.thickness).is_none()) else { return Ok(()) };
    let made: Vec<String> = product.plates().iter().map(|p| clean(&p.label)).collect();
    let message = format!("`{}` is not made in {}", product.name, plate.label);
    Err(at("plate", message, format!("it is made in {}", words::listed(&made))))
}

fn refuse_idle(question: &VetQuestion) -> Result<(), Diagnostic> {
    let alone = question.product.is_none();
    refuse(
        question.shop.is_some() && alone,
        "shop",
        "no product of the shop is asked",
        "name a `product`, or leave it out",
    )?;
    let drawn = question.outline.is_some();
    refuse(question.outline_unit.is_some() && !drawn, "outline_unit", "there is no outline", "leave it out")?;
    refuse(!question.layer.0.is_empty() && !drawn, "layer", "there is no outline", "leave it out")?;
    refuse(question.part.is_some() && !drawn, "part", "there is no outline", "leave it out")
}

impl Case {
    fn judge(&self, weather: &Weather) -> Result<Outcome<'_>, Diagnostic> {
        let conditions = self.conditions(weather)?;
        let mut arriving = Vec::with_capacity(self.asked.loads.len());
        for load in &self.asked.loads {
            let flown = Flights::new(load, &conditions).and_then(|flights| flights.strike(self.distance));
            let strike = flown.map_err(|e| flight_fault(&e, load))?;
            arriving.push(Arriving { load: load.clone(), strike });
        }
        let any = self.asked.any.as_ref();
        let found = worst::worst(&arriving, any, &self.books.rules, &self.plate, &self.stand.setup);
        let (index, judged) = found.ok_or_else(|| at("load", "no load was named", NO_LOAD))?;
        Ok(Outcome { arriving: arriving.swap_remove(index), conditions, judged })
    }

    fn elsewhere(&self, here: &Outcome) -> Result<Option<Turn<Verdict>>, Diagnostic> {
        // A shot that is lost on the way to thinner air is not: it arrives faster there.
        let judge = |weather: &Weather| self.judge(weather).map(|outcome| outcome.judged.verdict);
        elsewhere::turn(&self.air, &here.judged.verdict, self.units, judge)
    }

    fn question<'a>(&'a self, conditions: &'a FlightConditions) -> Question<'a> {
        Question { rules: &self.books.rules, ladder: &self.books.ladder, setup: &self.stand.setup, conditions }
    }

    fn told(
        &self,
        question: &VetQuestion,
        outcome: &Outcome,
        turn: Option<&Turn<Verdict>>,
        taken: Taken,
    ) -> Result<VetAnswer, Diagnostic> {
        let load = &*outcome.arriving.load;
        let vetting = vet::vet(&self.question(&outcome.conditions), load, &self.plate, self.distance)
            .map_err(|e| flight_fault(&e, load))?;
        let findings = self.findings(outcome, &vetting.findings);
        let remedies = self.for_every_load(vetting.remedies, outcome);
        let would_suit = self.would_suit(outcome, &remedies);
        let nearest = self.nearest(&outcome.conditions)?;
        let mut said = self.said(outcome, &findings, &remedies, nearest, turn);
        let allowance = self.books.rules.allow(load, &self.plate, &self.stand.setup);
        said.hear(&allowance, &vetting.strike);
        for change in say::changes(&allowance.changes(), self.units) {
            said.remark(change);
        }
        let topple = self.topple(question, outcome)?;
        let carry = carry::farthest(self.asked.loads.iter().map(|l| &**l), &outcome.conditions);
        said.remark(carry.as_ref().map(|c| carry::words(c, self.units)).unwrap_or_default());
        let drawn = super::drawn::remarks(&self.stand.setup.face, self.plate.thickness, self.units);
        drawn.into_iter().for_each(|text| said.remark(text));
        let occasion = Occasion {
            loads: self.asked.loads.iter().map(|l| &**l).collect(),
            setups: vec![&self.stand.setup],
            nearest,
            shot_from: Some(self.distance),
            coldest: self.air.weather.dense().temperature(),
            carry,
            units: self.units,
        };
        let inputs = VetInputs {
            load: facts::load(load),
            loads: self.asked.loads.len(),
            distance: self.distance.into(),
            plate: facts::plate(&self.plate),
            target: facts::setup(&self.stand.setup, self.units),
            conditions: facts::conditions(&outcome.conditions),
        };
        Ok(VetAnswer {
            preamble: said.preamble("vet", self.units, inputs, taken, &occasion),
            verdict: outcome.judged.verdict,
            governed_by: outcome.judged.governed_by(),
            margin: outcome.judged.of.margin.map(Number),
            findings,
            strike: facts::strike(load, &vetting.strike),
            would_suit,
            topple,
            outline: super::drawn::facts(&self.stand.setup.face, self.plate.thickness, self.units),
            curve: self.curve(question, outcome, &remedies),
        })
    }

    /// What mends it for every load that stands for what was asked; remedies are of the worst of them.
    fn for_every_load<'r>(&self, of: Remedies<'r>, outcome: &Outcome) -> Remedies<'r> {
        if self.asked.loads.len() == 1 || outcome.judged.verdict == Verdict::Suits {
            return of;
        }
        let here = &outcome.conditions;
        let suits = |plate: &Plate, setup: &Setup| {
            self.asked.loads.iter().all(|load| {
                let strike = Flights::new(load, here).and_then(|flights| flights.strike(self.distance));
                let judged = strike.map(|strike| self.books.rules.allow(load, plate, setup).judge(&strike).verdict);
                judged.is_ok_and(|verdict| verdict == Verdict::Suits)
            })
        };
        let changed = |change: &dyn Fn(&mut Setup)| {
            let mut setup = self.stand.setup.clone();
            change(&mut setup);
            suits(&self.plate, &setup)
        };
        let thicker = self.books.ladder.plates().iter().filter(|p| p.thickness > self.plate.thickness);
        Remedies {
            distance: self.closest(here),
            plate: thicker.clone().find(|plate| suits(plate, &self.stand.setup)).cloned(),
            muzzle_velocity: None,
            tilt: of.tilt.filter(|tilt| changed(&|setup| setup.tilt = Some(*tilt))),
            oblique: of.oblique.filter(|turn| changed(&|setup| setup.oblique = *turn)),
            mount: of.mount.filter(|mount| changed(&|setup| setup.mount = *mount)),
            ..of
        }
    }

    /// Every rule that speaks of the case, the worst first.
    fn findings(&self, outcome: &Outcome, found: &[crate::rules::Finding]) -> Vec<Finding> {
        let load = &outcome.arriving.load;
        let case = self.case_words(load);
        let mut findings: Vec<Finding> = found.iter().map(|f| say::finding(f, &case, load, self.units)).collect();
        if let Some(any) = self.asked.any.as_ref().filter(|_| outcome.judged.listed_only) {
            findings.push(worst::listed_only(any, &case));
        }
        findings.sort_by(|a, b| {
            let rank = |f: &Finding| say::rank(f.verdict, f.margin.map(|m| *m));
            rank(a).0.cmp(&rank(b).0).then(rank(a).1.total_cmp(&rank(b).1))
        });
        findings
    }

    fn case_words(&self, load: &Load) -> String {
        let name = worst::called(&self.asked, load);
        format!("{name} on {} at {}", clean(&self.plate.label), self.units.distance(self.distance))
    }

    /// How near it may be shot: the farthest that any of its loads asks for.
    fn nearest(&self, here: &FlightConditions) -> Result<Option<Length>, Diagnostic> {
        let there = match elsewhere::bad_end(&self.air)? {
            Some(weather) => Some(self.closest(&self.conditions(&weather)?)),
            None => None,
        };
        Ok(elsewhere::nearest(self.closest(here), there, self.distance))
    }

    fn closest(&self, conditions: &FlightConditions) -> Option<Length> {
        let closest = |load: &std::sync::Arc<Load>| {
            let flights = Flights::new(load, conditions).ok()?;
            self.books.rules.allow(load, &self.plate, &self.stand.setup).closest(&flights).distance()
        };
        let all: Option<Vec<Length>> = self.asked.loads.iter().map(closest).collect();
        all?.into_iter().reduce(uom::si::Quantity::max)
    }

    fn conditions(&self, weather: &Weather) -> Result<FlightConditions, Diagnostic> {
        FlightConditions::new(weather, self.stand.slope, self.coverage).map_err(|e| at("coverage", &e, e.help()))
    }

    fn said(
        &self,
        outcome: &Outcome,
        findings: &[Finding],
        remedies: &Remedies,
        nearest: Option<Length>,
        turn: Option<&Turn<Verdict>>,
    ) -> Said {
        let mut said = Said { headline: self.headline(outcome, findings, remedies, turn), ..Said::default() };
        said.nearest = match nearest {
            Some(distance) => format!("Nobody nearer than {}.", self.units.distance_up(distance)),
            None => format!("At no distance on {}.", clean(&self.plate.label)),
        };
        if outcome.judged.verdict != Verdict::Unsuitable {
            let loads: Vec<&Load> = self.asked.loads.iter().map(|l| &**l).collect();
            said.stands_on = stands_on(&[&self.stand.setup], &loads);
        }
        if let Some(turn) = turn {
            said.remark(format!("Not all of the air was given: {} it is {}.", turn.end, turn.there));
        }
        said
    }

    fn headline(
        &self,
        outcome: &Outcome,
        findings: &[Finding],
        remedies: &Remedies,
        turn: Option<&Turn<Verdict>>,
    ) -> String {
        let verdict = outcome.judged.verdict;
        let verdict_words = words::sentence(&verdict.to_string());
        let lead = turn.map_or(verdict_words.clone(), |t| format!("{verdict_words} {}, else {}", t.holds, t.there));
        let case = self.case_words(&outcome.arriving.load);
        if verdict == Verdict::Suits {
            return format!("{lead}: {case}{}", self.spare(outcome));
        }
        let why = findings.first().map(|first| say::brief(first, subject_of(outcome, first))).unwrap_or_default();
        format!("{lead}: {case}: {why}{}.", self.where_from(remedies))
    }

    /// `, 14 % to spare.`, or how little, and what the next plate has.
    fn spare(&self, outcome: &Outcome) -> String {
        let Some(margin) = outcome.judged.of.margin else { return ", within every rule.".into() };
        if margin >= say::JUST {
            return format!(", {}.", say::to_spare(margin));
        }
        let thicker = self.books.ladder.plates().iter().find(|p| p.thickness > self.plate.thickness);
        let more = thicker.and_then(|plate| {
            let allowance = self.books.rules.allow(&outcome.arriving.load, plate, &self.stand.setup);
            Some((plate, allowance.judge(&outcome.arriving.strike).margin.filter(|m| *m > margin)?))
        });
        let more = more.map(|(plate, m)| format!("; {} has {}", clean(&plate.label), words::margin(m)));
        format!(". Just {}{}.", say::to_spare(margin), more.unwrap_or_default())
    }

    /// From where, or on which plate, it suits.
    fn where_from(&self, remedies: &Remedies) -> String {
        let distance = remedies.distance.map(|d| format!("from {}", self.units.distance_up(d)));
        let plate = remedies.plate.as_ref().map(|p| format!("on {}", clean(&p.label)));
        let ways: Vec<String> = distance.into_iter().chain(plate).collect();
        match self.asked.any.as_ref().filter(|any| any.is_in_part()) {
            _ if ways.is_empty() => String::new(),
            None => format!("; suits {}", ways.join(", or ")),
            Some(any) if any.has_envelope => format!("; those suit {}", ways.join(", or ")),
            Some(_) => String::new(),
        }
    }

    fn would_suit(&self, outcome: &Outcome, remedies: &Remedies) -> WouldSuit {
        let in_part = self.asked.any.as_ref().is_some_and(AnyAmmunition::is_in_part);
        if outcome.judged.verdict == Verdict::Suits || in_part {
            return WouldSuit::default();
        }
        let mut words = Vec::new();
        if let Some(distance) = remedies.distance {
            words.push(format!("Shoot it from {} or farther.", self.units.distance_up(distance)));
        }
        if let Some(plate) = &remedies.plate {
            words.push(format!("Hang {} at this distance.", clean(&plate.label)));
        }
        if let Some(tilt) = remedies.tilt {
            words.push(format!("Lean the face {} toward you.", words::degrees(tilt)));
        }
        if let Some(turn) = remedies.oblique {
            words.push(format!("Turn the face to {} at most.", words::degrees(turn.abs())));
        }
        if let Some(mount) = remedies.mount {
            words.push(format!("Have it {}.", mount.words()));
        }
        if let Some(speed) = remedies.muzzle_velocity {
            words.push(format!("Load it to no more than {} at the muzzle.", self.units.speed_down(speed)));
        }
        if words.is_empty() {
            let next = outcome.judged.of.rule.map(|r| clean(&r.next)).filter(|next| !next.is_empty());
            words.push(next.map_or_else(
                || "No single change of distance, plate, velocity, lean, turn or mount would do.".into(),
                |next| words::sentence(&next) + ".",
            ));
        }
        WouldSuit {
            distance: remedies.distance.map(Into::into),
            plate: remedies.plate.as_ref().map(facts::plate),
            muzzle_velocity: remedies.muzzle_velocity.map(Into::into),
            tilt: remedies.tilt.map(Into::into),
            oblique: remedies.oblique.map(Into::into),
            mount: remedies.mount,
            words,
        }
    }

    /// Whether the slow shot topples it, where a kind or a base was given.
    fn topple(&self, question: &VetQuestion, outcome: &Outcome) -> Result<Option<Topple>, Diagnostic> {
        let kind = question.kind;
        if matches!(kind, Some(Kind::Plate | Kind::Spinner)) {
            return Ok(None); // It hangs or spins: nothing topples.
        }
        let base = question.base.as_ref().map(|base| positive(base.value(), "base")).transpose()?;
        if kind.is_none() && base.is_none() {
            return Ok(None);
        }
        let standing = Standing { kind, base, hinge_offset: None, hit_height: None };
        let (load, setup) = (&*outcome.arriving.load, &self.stand.setup);
        let hit = Hit::of(load, &outcome.arriving.strike, &setup.face, setup.tilt, setup.oblique);
        let found = topple::topple(&setup.face, &self.plate, &standing, hit.slow, hit.incidence);
        Ok(found.map(|found| topple_told(&found, load, hit.slow, outcome.arriving.strike.slow, self.units)))
    }

    fn curve(&self, question: &VetQuestion, outcome: &Outcome, remedies: &Remedies) -> Option<Curve> {
        if question.figures != Some(true) {
            return None;
        }
        let load = &outcome.arriving.load;
        let mut marks = vec![(self.distance, "asked".to_owned())];
        marks.extend(remedies.distance.map(|d| (d, "suits from here".to_owned())));
        let plates = std::slice::from_ref(&self.plate);
        curve::of(load, &outcome.conditions, &self.books.rules, plates, &self.stand.setup, marks, self.units)
    }
}

/// The subject of a finding that is told, for its words.
fn subject_of(outcome: &Outcome, finding: &Finding) -> Subject {
    outcome.judged.of.rule.filter(|rule| rule.id == finding.rule).map_or(Subject::Case, |rule| rule.subject)
}

/// What a hit on a standing plate comes to. The slow shot's share of momentum on the face is that of its speed.
fn topple_told(found: &topple::Topple, load: &Load, slow: Momentum, speed: Velocity, units: Units) -> Topple {
    // Pellets that miss the face bring nothing: the speed scales with the momentum that arrives.
    let least = (slow.si() > 0.0).then(|| speed * (found.just_drops.si() / slow.si()));
    let bullet = units.bullet(load.facts().bullet);
    let at =
        least.map(|v| format!("; with {bullet} it falls from {} at the plate on", units.speed(v))).unwrap_or_default();
    let verdict = if found.falls() { "topples it" } else { "does not topple it" };
    Topple {
        falls: found.falls(),
        least_speed: least.map(Si),
        words: format!("The slow shot, {} above the foot, {verdict}{at}.", units.size(found.hit_height)),
    }
}
