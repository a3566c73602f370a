//! Does this load suit this target.

use super::answer::{Curve, Finding, Topple, VetAnswer, VetInputs, WouldSuit};
use super::books::{Books, Brought, as_named, units};
use super::elsewhere::{self, Turn};
use super::error::{Faults, at, refuse};
use super::judge::Judge;
use super::lean::Lean;
use super::nearest::{Nearest, is_nearer};
use super::preamble::{Said, no_slower, stands_on};
use super::question::{TargetPart, VetQuestion};
use super::remedy::{Sought, from_where, nothing_would};
use super::resolve::air::air;
use super::resolve::loads::{AnyAmmunition, Asked, LoadSource, coverage, positive, tell_spread};
use super::resolve::plates;
use super::resolve::taken::Taken;
use super::resolve::target::{Stand, stand};
use super::safety::Occasion;
use super::worst::{self, Arriving, Judged, Lost, flight_fault};
use super::{carry, curve, facts, say};
use crate::air::Weather;
use crate::load::Load;
use crate::order::Order;
use crate::plate::{Condition, Kind, Ladder, Plate};
use crate::quantity::{Length, Measure, Momentum, Number, Ratio, Si, Velocity, unit};
use crate::reaction::{Hit, topple, topple::Standing};
use crate::rules::{Setup, Subject, Verdict};
use crate::shop::product::Product;
use crate::source::{Diagnostic, clean};
use crate::spread::FlightConditions;
use crate::vet::{self, Question, Remedies};
use crate::words::{self, Units};
use std::sync::Arc;

/// A question as resolved.
struct Case {
    books: Books,
    units: Units,
    asked: Asked,
    distance: Length,
    plate: Plate,
    /// The plates there are; of a product, those that it is made in.
    ladder: Arc<Ladder>,
    stand: Stand,
    air: Weather,
    coverage: Ratio,
    /// How it stands to be toppled, where it does.
    standing: Option<Standing>,
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
    let outcome = case.judge(&case.air).map_err(Diagnostic::from)?;
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
    let source = LoadSource::new(&books, &spread, question.of, units);
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
    let made = product.as_ref().filter(|_| question.plate.is_none()).map(|product| books.made(product)).transpose()?;
    let only = made.filter(|made| made.len() == 1);
    let mut plate = match only.and_then(|made| made.into_iter().next()) {
        Some(made) => made,
        None => plate_asked(question.plate.as_deref(), product.as_ref(), &books)?,
    };
    made_in(product.as_ref(), &plate)?;
    as_named(std::slice::from_mut(&mut plate), question.plate.as_slice(), units);
    let target = TargetPart { kind: kind(question, product.as_ref()), ..question.target_part() };
    let stand = stand(&target, product.as_ref(), Condition::Unknown, "", &books.files, units, taken)?;
    stand.check_plates(std::slice::from_ref(&plate), taken)?;
    stand.check_distance(distance, units)?;
    let loads: Vec<&Load> = asked.loads.iter().map(|load| &**load).collect();
    stand.check_loads(loads.iter().copied(), taken)?;
    stand.check_labels(std::slice::from_ref(&plate), (&loads, Some(distance)), units, taken)?;
    let standing = standing(question, product.as_ref(), units, taken)?;
    let air = air(question.air_part(), units, taken)?;
    tell_spread(asked.loads.iter().map(|l| &**l), &spread, units, taken);
    let coverage = coverage(spread.coverage, taken);
    let made = product.as_ref().and_then(|product| Ladder::of_shop(product.plates()));
    let ladder = made.map_or_else(|| Arc::clone(&books.ladder), Arc::new);
    Ok(Case { books, units, asked, distance, plate, ladder, stand, air, coverage, standing })
}

/// The plate that was named; where none was, what there is to choose from.
fn plate_asked(text: Option<&str>, product: Option<&Product>, books: &Books) -> Result<Plate, Diagnostic> {
    if text.is_some() {
        return plates::plate(text, books);
    }
    let help = product.map_or_else(
        || "give its thickness, `3/8 in`; where it is not known, measure it at an edge, or ask `advise` for the one it would take".to_owned(),
        |product| {
            let made: Vec<String> = product.plates().iter().map(|plate| clean(&plate.label)).collect();
            format!("`{}` is made in {}: name the one that hangs there", clean(&product.name), words::listed(&made))
        },
    );
    Err(at("plate", "no plate was given", help))
}

/// How it stands to be toppled: by its own kind or its product's; one of which only the base is known is hit low, as a
/// falling plate is.
fn standing(
    question: &VetQuestion,
    product: Option<&Product>,
    units: Units,
    taken: &mut Taken,
) -> Result<Option<Standing>, Diagnostic> {
    let base = question.base.as_ref().map(|base| positive(base.value(), "base")).transpose()?;
    let own = question.kind.or(kind_of(product));
    if let Some(kind) = own.filter(|kind| !kind.stands()) {
        refuse(base.is_some(), "base", &format!("a {kind} does not topple"), "leave it out")?;
        return Ok(None);
    }
    let Some(kind) = own.or(base.map(|_| Kind::Falling)) else { return Ok(None) };
    taken.take("kind", kind.to_string(), question.kind.is_some() || own.is_some(), "hit low, as a falling plate is");
    let none = match kind {
        Kind::Popper => format!("hinge {} behind its centre", units.size(unit::INCH.of(topple::HINGE_OFFSET_IN))),
        _ => "none but its own thickness".into(),
    };
    let words = base.map_or(none.clone(), |base| units.size(base));
    taken.take("base", words, base.is_some(), &format!("base: {none}"));
    Ok(Some(Standing { base, ..Standing::of(kind) }))
}

/// What kind of target the shop says that its product is; a plate is what it says nothing of.
fn kind_of(product: Option<&Product>) -> Option<Kind> {
    product.map(|product| product.kind).filter(|kind| *kind != Kind::Plate)
}

/// What kind of target is asked; what has a base stands on it.
fn kind(question: &VetQuestion, product: Option<&Product>) -> Option<Kind> {
    let by_base = question.base.as_ref().filter(|_| kind_of(product).is_none());
    question.kind.or(by_base.map(|_| Kind::Falling))
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
    )
}

impl Case {
    fn judge(&self, weather: &Weather) -> Result<Outcome<'_>, Lost> {
        let conditions = self.conditions(weather)?;
        let fly = |load| worst::arriving(load, &conditions, self.distance);
        let mut arriving = self.asked.loads.iter().map(fly).collect::<Result<Vec<_>, _>>()?;
        let any = self.asked.any.as_ref();
        let found = worst::worst(&arriving, any, &self.books.rules, &self.plate, &self.stand.setup);
        let (index, judged) = found.ok_or_else(|| at("load", "no load was named", NO_LOAD))?;
        Ok(Outcome { arriving: arriving.swap_remove(index), conditions, judged })
    }

    fn elsewhere(&self, here: &Outcome) -> Result<Option<Turn<Verdict>>, Diagnostic> {
        let judge = |weather: &Weather| self.judge(weather).map(|outcome| outcome.judged.verdict);
        elsewhere::turn(&self.air, &here.judged.verdict, self.units, judge)
    }

    fn question<'a>(&'a self, conditions: &'a FlightConditions) -> Question<'a> {
        Question { rules: &self.books.rules, ladder: &self.ladder, setup: &self.stand.setup, conditions }
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
        let there = elsewhere::bad_end(&self.air).map(|weather| self.conditions(&weather)).transpose()?;
        let judge = Judge::new(&self.books.rules, &self.asked.loads, &outcome.conditions, there.as_ref())?;
        let nearest = judge.nearest(&self.plate, &self.stand.setup).filter(|_| !self.is_unknown());
        let would_suit = self.would_suit(outcome, &judge, vetting.remedies)?;
        let others = self.others_suit(outcome, nearest)?;
        let mut said = self.said(outcome, &findings, &would_suit, &others, turn);
        let suits = outcome.judged.verdict == Verdict::Suits;
        let suiting = if suits { self.lean(&judge, nearest) } else { None };
        let end = |from| judge.farthest(&self.plate, &self.stand.setup, from, self.distance, suiting);
        let end = nearest.and_then(end);
        let near = Nearest::of_any(nearest, end, &[self.distance], self.is_in_part());
        // What is told to be good holds for the leans that are told with it.
        let lean = suiting.or_else(|| self.lean(&judge, nearest.into_iter().chain(end)));
        said.nearest = self.nearest_words(&judge, &near, outcome, &would_suit);
        if outcome.judged.verdict != Verdict::Unsuitable {
            let loads: Vec<&Load> = self.asked.loads.iter().map(|l| &**l).collect();
            let least = || judge.slowest(&self.plate, &self.stand.setup, self.distance);
            let least = self.asked.any.is_some().then(least).flatten();
            let slowest = least.and_then(|least| no_slower(&self.asked, true, least, self.units)).into_iter().collect();
            said.stands_on = stands_on(&[&self.stand.setup], &loads, lean, slowest, self.units);
        }
        let allowance = self.books.rules.allow(load, &self.plate, &self.stand.setup, vetting.strike.muzzle);
        said.hear(&allowance, &vetting.strike);
        say::changes(&allowance.changes(), self.units).into_iter().for_each(|change| said.remark(change));
        let topple = self.topple(outcome);
        let carry = carry::farthest(self.asked.loads.iter().map(|l| &**l), &outcome.conditions);
        said.remark(carry.as_ref().map(|c| carry::words(c, self.units)).unwrap_or_default());
        let drawn = super::drawn::remarks(&self.stand.setup.face, self.plate.thickness, self.units);
        drawn.into_iter().for_each(|text| said.remark(text));
        let occasion = Occasion {
            loads: self.asked.loads.iter().map(|l| &**l).collect(),
            setups: vec![&self.stand.setup],
            nearest: near,
            is_shot: outcome.judged.verdict != Verdict::Unsuitable || nearest.is_some(),
            lean: lean.filter(|_| outcome.judged.verdict != Verdict::Unsuitable),
            shot_from: Some(self.distance),
            coldest: self.air.dense().temperature(),
            carry,
            units: self.units,
        };
        let inputs = VetInputs {
            load: facts::load(load),
            loads: self.asked.loads.len(),
            distance: self.distance.into(),
            plate: facts::plate(&self.plate),
            target: facts::setup(&self.stand.setup, self.units),
            conditions: facts::conditions(&outcome.conditions, self.units),
        };
        let curve = self.curve(question, outcome, would_suit.nearest.map(|from| from.0));
        Ok(VetAnswer {
            preamble: said.preamble("vet", self.units, inputs, taken, &occasion),
            verdict: outcome.judged.verdict,
            governed_by: outcome.judged.governed_by(),
            margin: outcome.judged.of.margin.map(Number),
            findings,
            strike: facts::strike(load, &vetting.strike),
            // What stands for others that may be worse has no remedy.
            would_suit: if self.is_in_part() { WouldSuit::default() } else { would_suit },
            topple,
            outline: super::drawn::facts(&self.stand.setup.face, self.plate.thickness, self.units),
            round: super::drawn::round(&self.stand.setup.face).filter(|_| question.figures == Some(true)),
            curve,
        })
    }

    /// Whether listed loads stand for others that may be worse.
    fn is_in_part(&self) -> bool {
        self.asked.any.as_ref().is_some_and(AnyAmmunition::is_in_part)
    }

    /// Whether the extremes of what was asked are not known.
    fn is_unknown(&self) -> bool {
        self.asked.any.as_ref().is_some_and(|any| !any.has_envelope)
    }

    /// What mends it for every load that stands for what was asked, judged again; remedies are of the worst of them.
    fn remedies<'r>(&self, of: Remedies<'r>, judge: &Judge) -> Remedies<'r> {
        let (here, setup) = (self.distance, &self.stand.setup);
        let changed = |change: &dyn Fn(&mut Setup)| {
            let mut setup = setup.clone();
            change(&mut setup);
            judge.suits(&self.plate, &setup, here)
        };
        let from = judge.closest(&self.plate, setup).filter(|from| *from > here);
        let thicker = self.ladder.plates().iter().filter(|p| p.thickness > self.plate.thickness);
        Remedies {
            distance: from.filter(|_| judge.nearest(&self.plate, setup).is_some()),
            plate: thicker.clone().find(|plate| judge.suits(plate, setup, here)).cloned(),
            muzzle_velocity: of.muzzle_velocity.and_then(|here| self.fastest(here, judge)),
            tilt: of.tilt.filter(|tilt| changed(&|setup| setup.tilt = Some(*tilt))),
            oblique: of.oblique.filter(|turn| changed(&|setup| setup.oblique = *turn)),
            mount: of.mount.filter(|mount| self.stand.is_hung && changed(&|setup| setup.mount = *mount)),
            ..of
        }
    }

    /// The leans that come to no worse than what was judged, and than what is told of other distances.
    fn lean(&self, judge: &Judge, told: impl IntoIterator<Item = Length>) -> Option<Lean> {
        let all: Vec<Length> = std::iter::once(self.distance).chain(told).collect();
        let of = |distances: &[Length]| judge.lean(&self.plate, &self.stand.setup, distances);
        of(&all).or_else(|| of(&all[..1]))
    }

    /// Every rule that speaks of the case, the worst first.
    fn findings(&self, outcome: &Outcome, found: &[crate::rules::Finding]) -> Vec<Finding> {
        let load = &outcome.arriving.load;
        let case = self.case_words(load);
        let mut findings: Vec<Finding> = found.iter().map(|f| say::finding(f, &case, load, self.units)).collect();
        if let Some(any) = self.asked.any.as_ref().filter(|_| outcome.judged.listed_only) {
            findings.push(worst::listed_only(any, &case));
        }
        findings.order_by(|a, b| {
            let rank = |f: &Finding| say::rank(f.verdict, f.margin.map(|m| *m));
            let measured = |f: &Finding| !say::is_without_measure(f);
            let class = rank(a).0.cmp(&rank(b).0);
            class.then(measured(a).cmp(&measured(b))).then(rank(a).1.total_cmp(&rank(b).1))
        });
        findings
    }

    fn case_words(&self, load: &Load) -> String {
        let name = worst::called(&self.asked, load);
        format!("{name} on {} at {}", clean(&self.plate.label), self.units.distance(self.distance))
    }

    /// How near anyone may come, whatever distance was asked.
    fn nearest_words(&self, judge: &Judge, nearest: &Nearest, outcome: &Outcome, would_suit: &WouldSuit) -> String {
        let Some(distance) = nearest.least() else {
            return if self.is_unknown() {
                "No distance is good for all of it.".into()
            } else if judge.closest(&self.plate, &self.stand.setup).is_some() {
                let end = elsewhere::end_words(&self.air, self.units);
                format!("At no distance on {} {end}: give the air.", clean(&self.plate.label))
            } else {
                self.no_distance(outcome, would_suit)
            };
        };
        let nearer = outcome.judged.of.verdict == Verdict::Suits && is_nearer(self.distance, distance, self.units);
        let here = judge.closest(&self.plate, &self.stand.setup).filter(|_| nearer);
        let tail = match here {
            None => String::new(),
            // A slow bullet is good near, where it is still fast enough, and far; not between.
            Some(here) if is_nearer(self.distance, here, self.units) => {
                format!(", unless at {} as asked: between it fails", self.units.distance(self.distance))
            }
            // It suits in the air that was taken, and the headline says up to which.
            Some(_) => ", or give the air".into(),
        };
        nearest.sentence("Nobody", &tail, self.units)
    }

    /// `At no distance on 3/8 in as it stands: lean the face 12° toward you.`
    fn no_distance(&self, outcome: &Outcome, would_suit: &WouldSuit) -> String {
        let plate = clean(&self.plate.label);
        let no_way = would_suit.in_the_air_taken_alone || self.is_in_part();
        if *would_suit == nothing_would() && !no_way {
            return format!("At no distance on {plate}, and no change that was tried would do.");
        }
        if no_way || outcome.judged.verdict == Verdict::Suits || would_suit.words.is_empty() {
            return format!("At no distance on {plate}.");
        }
        let ways = would_suit.words.iter().map(|way| {
            let way = way.trim_start_matches("Only together: ").trim_end_matches('.');
            let mut letters = way.chars();
            letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
        });
        format!("At no distance on {plate} as it stands: {}.", ways.collect::<Vec<String>>().join("; or "))
    }

    fn conditions(&self, weather: &Weather) -> Result<FlightConditions, Diagnostic> {
        FlightConditions::new(weather, self.stand.slope, self.coverage).map_err(|e| at("coverage", &e, e.help()))
    }

    fn said(
        &self,
        outcome: &Outcome,
        findings: &[Finding],
        would_suit: &WouldSuit,
        others: &str,
        turn: Option<&Turn<Verdict>>,
    ) -> Said {
        let mut said = Said { headline: self.headline(outcome, findings, would_suit, others, turn), ..Said::default() };
        if let Some(turn) = turn {
            let there = if turn.there == Verdict::Suits { "it suits".into() } else { format!("it is {}", turn.there) };
            said.remark(format!("Not all of the air was given: {} {there}.", turn.end));
        }
        said
    }

    fn headline(
        &self,
        outcome: &Outcome,
        findings: &[Finding],
        would_suit: &WouldSuit,
        others: &str,
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
        format!("{lead}: {case}: {why}{}.", self.where_from(would_suit, others))
    }

    /// `, 14 % to spare.`, or how little, and what the next plate has.
    fn spare(&self, outcome: &Outcome) -> String {
        let Some(margin) = outcome.judged.of.margin else { return ", within every rule.".into() };
        if margin >= say::JUST {
            return format!(", {}.", words::to_spare(margin));
        }
        let thicker = self.ladder.plates().iter().find(|p| p.thickness > self.plate.thickness);
        let strike = &outcome.arriving.strike;
        let more = thicker.and_then(|plate| {
            let allowance = self.books.rules.allow(&outcome.arriving.load, plate, &self.stand.setup, strike.muzzle);
            Some((plate, allowance.judge(strike).margin.filter(|m| *m > margin)?))
        });
        let more = more.map(|(plate, m)| format!("; {} has {}", clean(&plate.label), words::margin(m)));
        format!(". Just {}{}.", words::to_spare(margin), more.unwrap_or_default())
    }

    /// From where, or on which plate, it suits.
    fn where_from(&self, would_suit: &WouldSuit, others: &str) -> String {
        let distance = from_where(would_suit, self.units).map(|from| from.trim_end_matches(" on").to_owned());
        let plate = would_suit.plate.as_ref().map(|p| format!("on {}", p.label));
        let mut ways: Vec<String> = distance.into_iter().chain(plate).collect();
        if would_suit.in_the_air_taken_alone {
            ways.clear();
        }
        match self.asked.any.as_ref().filter(|any| any.is_in_part()) {
            Some(_) if !others.is_empty() => format!("; {others}"),
            _ if ways.is_empty() => String::new(),
            None => format!("; suits {}", ways.join(", or ")),
            Some(any) if any.has_envelope => format!("; the others suit {}", ways.join(", or ")),
            Some(_) => String::new(),
        }
    }

    /// That what is judged of a cartridge suits where the rest of it is set apart, and in which air: the verdict, which is
    /// borderline for the rest, does not tell where that stops.
    fn others_suit(&self, outcome: &Outcome, nearest: Option<Length>) -> Result<String, Diagnostic> {
        if !outcome.judged.listed_only || self.is_unknown() {
            return Ok(String::new());
        }
        let judge = |weather: &Weather| self.judge(weather).map(|outcome| outcome.judged.listed_only);
        let Some(turn) = elsewhere::turn(&self.air, &true, self.units, judge)? else {
            return Ok("the others suit".into());
        };
        let from = nearest.filter(|from| *from > self.distance);
        let there = from
            .map_or_else(|| format!("not {}", turn.end), |from| format!("else from {}", self.units.distance_up(from)));
        Ok(format!("the others suit {}, {there}", turn.holds))
    }

    /// What would suit in all the air that was not given, else what would in the air that was taken, and said so.
    fn would_suit(&self, outcome: &Outcome, judge: &Judge, of: Remedies) -> Result<WouldSuit, Diagnostic> {
        // Listed loads that suit stand for others that may be worse: no change of the plate mends that.
        if outcome.judged.verdict == Verdict::Suits || outcome.judged.listed_only {
            return Ok(WouldSuit::default());
        }
        if let Some(found) = self.sought(judge, of.clone())? {
            return Ok(found);
        }
        let Some(here) = judge.in_the_air_taken()? else { return Ok(nothing_would()) };
        let Some(mut found) = self.sought(&here, of)? else { return Ok(nothing_would()) };
        let end = elsewhere::end_words(&self.air, self.units);
        found.in_the_air_taken_alone = true;
        found.words.insert(0, format!("Only in the air that was taken, not {end}."));
        Ok(found)
    }

    fn sought(&self, judge: &Judge, of: Remedies) -> Result<Option<WouldSuit>, Diagnostic> {
        let lead = judge.of_lead_core()?;
        let sought = Sought {
            judge,
            lead: lead.as_ref(),
            plates: self.ladder.plates(),
            plate: &self.plate,
            setup: &self.stand.setup,
            is_hung: self.stand.is_hung,
            distance: self.distance,
            units: self.units,
        };
        Ok(sought.would_suit(&self.remedies(of, judge)))
    }

    /// The highest muzzle velocity of one load that suits in all the air, also as it is told.
    fn fastest(&self, here: Velocity, judge: &Judge) -> Option<Velocity> {
        let [load] = self.asked.loads.as_slice() else { return None };
        judge.fastest(here, &self.question(judge.air_taken()), load, &self.plate, self.distance, self.units)
    }

    /// Whether the slow shot topples it, where it stands to be toppled.
    fn topple(&self, outcome: &Outcome) -> Option<Topple> {
        let standing = self.standing.as_ref()?;
        let (load, setup) = (&*outcome.arriving.load, &self.stand.setup);
        let hit = Hit::of(load, &outcome.arriving.strike, &setup.face, setup.tilt, setup.oblique);
        let found = topple::topple(&setup.face, &self.plate, standing, hit.slow, hit.incidence);
        found.map(|found| topple_told(&found, hit.slow, outcome.arriving.strike.slow, self.units))
    }

    fn curve(&self, question: &VetQuestion, outcome: &Outcome, from: Option<Length>) -> Option<Curve> {
        if question.figures != Some(true) {
            return None;
        }
        let load = &outcome.arriving.load;
        let mut marks = vec![(self.distance, "asked".to_owned())];
        marks.extend(from.map(|d| (d, "suits from here".to_owned())));
        let plates = std::slice::from_ref(&self.plate);
        curve::of(load, &outcome.conditions, &self.books.rules, plates, &self.stand.setup, marks, self.units)
    }
}

/// The subject of a finding that is told, for its words.
fn subject_of(outcome: &Outcome, finding: &Finding) -> Subject {
    outcome.judged.of.rule.filter(|rule| rule.id == finding.rule).map_or(Subject::Case, |rule| rule.subject)
}

/// What a hit on a standing plate comes to. The slow shot's share of momentum on the face is that of its speed.
fn topple_told(found: &topple::Topple, slow: Momentum, speed: Velocity, units: Units) -> Topple {
    // Pellets that miss the face bring nothing: the speed scales with the momentum that arrives.
    let least = (slow.si() > 0.0).then(|| speed * (found.just_drops.si() / slow.si()));
    let needs = least.map(|v| format!(": it takes {} there", units.speed(v))).unwrap_or_default();
    let verdict = if found.falls() { "Yes," } else { "No, not" };
    Topple {
        falls: found.falls(),
        least_speed: least.map(Si),
        words: format!("{verdict} by the slow shot {} above the foot{needs}.", units.size(found.hit_height)),
    }
}
