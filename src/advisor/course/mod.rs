//! A whole match answered: read, judged, mended, and put into words.

mod aloft;
mod beyond;
mod brief;
mod build;
mod compact;
mod counted;
mod elsewhere;
mod gather;
mod haul;
mod holds;
mod home;
mod item;
mod leave;
mod near;
mod nearer;
mod part;
mod shift;
mod sign;
mod stages;
mod standing;
mod words;

use self::elsewhere::Elsewhere;
use self::home::Home;
use super::books::{Books, Brought, units};
use super::error::at;
use super::question::{CourseQuestion, Inline};
use crate::advisor::answer::{CourseAnswer, TargetVerdict};
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::course::{
    Asked as FixesAsked, Barred, Books as RuleBooks, Case, Course, Fix, Judged, Kept, Leaving, Mending, Open, Outcome,
    Reading, judge, keep_off, leaving, mendings, used,
};
use crate::load::Class;
use crate::order::Order;
use crate::plate::Ladder;
use crate::quantity::{Angle, Length, Measure, unit};
use crate::rules::RuleSet;
use crate::shop::price::Shop;
use crate::source::{Diagnostic, SourceText};
use crate::spread::risk::PopulationError;
use crate::spread::{CoverageError, FlightConditions, hot_muzzle};
use crate::standoff::match_risk;
use crate::words::Units;
use std::cell::OnceCell;
use std::collections::HashSet;
use std::path::Path;

/// What a match is answered with.
pub struct Asked<'a> {
    /// The loads there are.
    pub catalog: Catalog,
    /// The plates there are.
    pub ladder: &'a Ladder,
    /// The plates that are proposed.
    pub offered: &'a Ladder,
    /// The rules; the match's own range rules are added.
    pub rules: RuleSet,
    /// A shop's prices.
    pub shop: Option<&'a Shop>,
    /// Opens the files that the match names; `None` for a stranger's text, which opens no file.
    pub open: Option<Open<'a>>,
    /// Where drag tables are looked for; `None` where none is read.
    pub folder: Option<&'a Path>,
    /// Units of the words.
    pub units: Units,
    /// Threads to judge with; every core where none is given.
    pub threads: Option<usize>,
    /// Hears how many loads are done, of how many.
    pub progress: &'a (dyn Fn(usize, usize) + Sync),
}

/// What is told of a match while it is put into words.
struct Told<'a, 'r> {
    course: &'a Course,
    cases: &'a [Case],
    judged: &'a Judged<'r>,
    /// What cases come to; those of targets to fix in all of the air that was not given.
    at_stake: &'a [Outcome<'r>],
    mendings: &'a [Mending<'r>],
    /// Targets that have a fix in the air that was taken, and none that holds in all of the air that was not given.
    by_air: &'a [usize],
    /// All of the air that was not given, where some was not: `0 to 6000 ft at -10 to 100 °F`.
    whole: Option<String>,
    leaving: &'a Leaving,
    barred: &'a [Barred<'r>],
    rules: RuleBooks<'r>,
    /// The plates that are proposed.
    ladder: &'a Ladder,
    shop: Option<&'a Shop>,
    units: Units,
    /// What is better left than what it calls for is mended: the first fix, and all others and every line hold with it
    /// left.
    home: Option<Home>,
    /// The classes that are brought.
    brought: Vec<Class>,
    /// Who brings more than one load.
    several: HashSet<String>,
    /// Standing targets that some load does not drop.
    stays: Vec<standing::Stays>,
    /// The distance that each load must keep for the risk of a match, m.
    keep: &'a Kept,
    /// The same in all of the air that was not given.
    keep_there: &'a Kept,
    /// Targets whose verdict changes where the air was not given.
    elsewhere: Option<Elsewhere>,
    level: &'a FlightConditions,
    /// Cases by target.
    by_target: Vec<Vec<usize>>,
    /// Names that speak of something else than what was judged, once they were looked for.
    called_otherwise: OnceCell<Vec<beyond::Look>>,
}

impl<'r> Told<'_, 'r> {
    /// The classes that shoot at a target, the load left at home and those left out there by its fix.
    fn classes_at(&self, target: usize) -> Vec<Class> {
        let course = self.home.as_ref().map_or(self.course, |home| &home.after);
        let place = &course.targets[target];
        let mut classes = course.classes_at(place, &self.brought);
        let refused = self.fix(target).map_or(&[][..], |fix| &fix.refuse);
        if !refused.is_empty() {
            classes.retain(|class| words::is_left(course, place, refused, *class));
        }
        classes
    }

    /// The loads that are left out at a target, by the match or by the fix that is made: indices.
    fn left_out_at(&self, target: usize) -> impl Iterator<Item = usize> {
        let by_fix = self.fix(target).into_iter().flat_map(|fix| &fix.refuse);
        self.course.targets[target].without.iter().chain(by_fix).copied()
    }

    /// The loads of a class that are left out at a target and do not stay at home anyhow.
    fn missing_at(&self, target: usize, class: Class) -> Vec<usize> {
        let at_home = self.home.as_ref().map_or(&[][..], |home| &home.loads);
        let mine = self.left_out_at(target).filter(|load| self.course.loads[*load].class() == class);
        let mut missing: Vec<usize> = mine.filter(|load| !at_home.contains(load)).collect();
        missing.order();
        missing.dedup();
        missing
    }

    fn cases_of(&self, target: usize) -> &[usize] {
        &self.by_target[target]
    }

    fn mending(&self, target: usize) -> Option<&Mending<'r>> {
        self.mendings.binary_search_by_key(&target, |m| m.target).ok().map(|at| &self.mendings[at])
    }

    /// The fix of a target that is made: none where it passes, or passes once a load is left at home.
    fn fix(&self, target: usize) -> Option<&Fix<'r>> {
        self.mending(target).filter(|_| !self.is_lifted(target)).and_then(|m| m.fix.as_ref())
    }

    /// Loads that fail on a target, as it stands: what its fix is for.
    fn failing_on(&self, target: usize) -> Vec<usize> {
        let outcomes = self.cases_of(target).iter().map(|&case| &self.at_stake[case]);
        let mut failing: Vec<usize> = outcomes.flat_map(|outcome| outcome.named.iter().copied()).collect();
        failing.order();
        failing.dedup();
        failing
    }

    /// All who bring a load that fails on a target.
    fn everybody_concerned(&self, target: usize) -> Vec<String> {
        self.bringing(self.failing_on(target))
    }

    /// Who is meant by a load: those who bring it, one who brings others by the load as well; or the load.
    fn people(&self, load: usize) -> Vec<String> {
        let load = &self.course.loads[load];
        let of_several = |who: String| {
            if self.several.contains(&who) { format!("{who}'s {}", load.load.facts().name) } else { who }
        };
        words::people(load).into_iter().map(of_several).collect()
    }

    fn bringing(&self, loads: Vec<usize>) -> Vec<String> {
        let mut known = HashSet::new();
        let names = loads.into_iter().flat_map(|load| self.people(load));
        names.filter(|name| known.insert(name.clone())).collect()
    }

    /// Who is concerned by the fix of a target: all who bring a load that fails on it, but for what stays at home
    /// anyhow.
    fn concerns(&self, target: usize) -> Vec<String> {
        self.concerns_of(target, &|_| true)
    }

    /// The same of some classes.
    fn concerns_of(&self, target: usize, is_of: &dyn Fn(Class) -> bool) -> Vec<String> {
        let mut failing = self.failing_on(target);
        failing.retain(|load| is_of(self.course.loads[*load].class()));
        let home = self.home.as_ref().filter(|_| !self.is_lifted(target));
        failing.retain(|load| home.is_none_or(|home| !home.loads.contains(load)));
        self.bringing(failing)
    }

    /// What is left at home, where a target's own fix is made beside it.
    fn home_beside(&self, target: usize) -> Option<&Home> {
        self.home.as_ref().filter(|_| !self.is_lifted(target))
    }

    /// Whether a target was judged and calls for no fix; there may be a load to decide on.
    fn passes(&self, target: usize, verdict: TargetVerdict) -> bool {
        self.mending(target).is_none() && matches!(verdict, TargetVerdict::Suits | TargetVerdict::Borderline)
    }

    /// Whether the load that is better left at home lifts a target.
    fn is_lifted(&self, target: usize) -> bool {
        self.home.as_ref().is_some_and(|home| home.lifts.binary_search(&target).is_ok())
    }
}

/// Who brings more than one load.
fn bring_several(course: &Course) -> HashSet<String> {
    let mut known = HashSet::new();
    let again = course.loads.iter().flat_map(|load| &load.who).filter(|who| !known.insert(who.as_str()));
    again.cloned().collect()
}

/// Answers a question about a match: files that it names are looked for beside its own.
pub(super) fn of(
    books: &Books,
    question: &CourseQuestion,
    progress: &(dyn Fn(usize, usize) + Sync),
) -> Result<CourseAnswer, Diagnostic> {
    let brought = Brought {
        range_rules: &question.range_rules,
        plates: question.plates.as_ref(),
        loads: &question.loads,
        shop: question.shop.as_ref(),
    };
    let books = books.with(&brought, question.units.unwrap_or_default())?;
    let Some(course) = &question.course else {
        return Err(at("course", "there is no match", "give its file's text, or the same object"));
    };
    let source = books.files.source("course", course)?;
    let beside = match course {
        Inline::File(reference) => Path::new(reference).parent().unwrap_or_else(|| Path::new("")).to_owned(),
        Inline::Object(_) => std::path::PathBuf::new(),
    };
    let open = |path: &Path| books.files.text("course", &beside.join(path).to_string_lossy());
    let offered = books.offered();
    let asked = Asked {
        catalog: Catalog::clone(&books.catalog),
        ladder: &books.ladder,
        offered: &offered,
        rules: RuleSet::clone(&books.rules),
        shop: books.shop.as_deref(),
        open: if books.files.are_read() { Some(&open) } else { None },
        folder: None,
        units: units(question.units),
        threads: question.threads,
        progress,
    };
    answer(&source, &asked)
}

/// Answers a match.
///
/// # Errors
/// A [`Diagnostic`] where the file as a whole can't be read; what of it can't be is told in the answer.
pub fn answer(source: &SourceText, asked: &Asked) -> Result<CourseAnswer, Diagnostic> {
    let (course, rules, of_stages) = prepare(source, asked)?;
    let rules = RuleBooks::new(&rules, &of_stages);
    let judging = Judging {
        ladder: asked.ladder,
        offered: asked.offered,
        shop: asked.shop,
        units: asked.units,
        progress: asked.progress,
    };
    crate::threads::with(asked.threads, || answer_here(course, rules, &judging))?
}

/// The match as read, the rules with the range's own, and those with the further ranges' of stages.
fn prepare(source: &SourceText, asked: &Asked) -> Result<(Course, RuleSet, Vec<RuleSet>), Diagnostic> {
    let reading = Reading {
        catalog: asked.catalog.clone(),
        ladder: asked.ladder,
        open: asked.open,
        folder: asked.folder,
        units: asked.units,
    };
    let course = Course::read(source, reading)?;
    let mut rules = asked.rules.clone();
    for range in &course.range_rules {
        rules = rules.with_overlay(range)?;
    }
    let over = |ranges: &Vec<SourceText>| ranges.iter().try_fold(rules.clone(), RuleSet::with_overlay);
    let of_stages = course.stage_rules.iter().map(over).collect::<Result<Vec<RuleSet>, Diagnostic>>()?;
    Ok((course, rules, of_stages))
}

/// What judging needs of what was asked.
struct Judging<'a> {
    ladder: &'a Ladder,
    offered: &'a Ladder,
    shop: Option<&'a Shop>,
    units: Units,
    progress: &'a (dyn Fn(usize, usize) + Sync),
}

fn answer_here(mut course: Course, rules: RuleBooks, judging: &Judging) -> Result<CourseAnswer, Diagnostic> {
    let Judging { ladder, offered, shop, units, progress } = *judging;
    let coverage = course.coverage.unwrap_or_else(|| unit::PERCENT.of(99.0));
    let conditions = |weather: &Weather, slope: Angle| FlightConditions::new(weather, slope, coverage);
    let level = conditions(&course.airs[0], unit::DEGREE.of(0.0)).map_err(|e| coverage_fault(&e))?;
    let barred = course.set_apart(rules.common(), ladder, &level);
    course.look_along(rules);
    let cases = course.cases();
    let total = course.loads.len() * used(&course, &cases).len().max(1);
    let (total, done) = (total, std::sync::atomic::AtomicUsize::new(0));
    let tell = || progress(done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1, total);
    let mut judged = judge(&course, &cases, rules, &conditions, &tell).map_err(|e| coverage_fault(&e))?;
    let keep = kept(&course, &cases, rules, &conditions)?;
    keep_off(&mut judged.outcomes, &course, &cases, rules, &keep);
    let mut search = Search {
        cases: &cases,
        outcomes: &judged.outcomes,
        rules,
        ladder: offered,
        is_stock: shop.is_some(),
        conditions: &conditions,
        keep: &keep,
        keep_here: &keep,
    };
    // What mends a target, and what its leaving would lift, is to hold in all of the air that was not given.
    let there = elsewhere::whole(&course);
    let keep_there = there.as_ref().map(|there| kept(there, &cases, rules, &conditions)).transpose()?;
    search.keep = keep_there.as_ref().unwrap_or(&keep);
    let at_stake = there.as_ref().map(|there| elsewhere::failing(&search, &course, there)).transpose()?;
    search.outcomes = at_stake.as_ref().unwrap_or(&judged.outcomes);
    let everywhere = Airs { here: &course, there: there.as_ref().unwrap_or(&course) };
    let mut mendings = search.mendings(everywhere, units)?;
    let leaving = leaving(&course, &cases, search.outcomes, &keep);
    let home = search.home(everywhere, &mut mendings, &leaving, units)?;
    let by_air = search.mended_here(everywhere, &mendings, home.as_ref(), units)?;
    let elsewhere = elsewhere::of(&search, &course, &mendings, units)?;
    let stays = standing::of(&course, &cases, &mendings, home.as_ref(), &conditions);
    let told = Told {
        home,
        stays,
        brought: course.classes_brought(),
        several: bring_several(&course),
        course: &course,
        cases: &cases,
        judged: &judged,
        at_stake: search.outcomes,
        mendings: &mendings,
        by_air: &by_air,
        whole: there.as_ref().map(|_| elsewhere::end(&course, units)),
        leaving: &leaving,
        barred: &barred,
        rules,
        ladder: offered,
        shop,
        units,
        keep: &keep,
        keep_there: search.keep,
        elsewhere,
        level: &level,
        by_target: by_target(&course, &cases),
        called_otherwise: OnceCell::new(),
    };
    Ok(build::answer(&told))
}

fn by_target(course: &Course, cases: &[Case]) -> Vec<Vec<usize>> {
    let mut by_target = vec![Vec::new(); course.targets.len()];
    for (index, case) in cases.iter().enumerate() {
        by_target[case.target].push(index);
    }
    by_target
}

fn coverage_fault(error: &CoverageError) -> Diagnostic {
    Diagnostic::plain(error.to_string()).field("coverage").help(error.help())
}

fn crowd_fault(error: &PopulationError) -> Diagnostic {
    Diagnostic::plain(error.to_string()).field(error.field()).help(error.help())
}

#[derive(Clone, Copy)]
struct Search<'a, 'r> {
    cases: &'a [Case],
    outcomes: &'a [Outcome<'r>],
    rules: RuleBooks<'r>,
    /// The plates that are proposed.
    ladder: &'a Ladder,
    /// Whether no other new plate is to be had.
    is_stock: bool,
    conditions: crate::course::Conditions<'a>,
    keep: &'a Kept,
    keep_here: &'a Kept,
}

/// A match in the air that was taken, and in all of the air that was not given; the same where all was.
#[derive(Clone, Copy)]
struct Airs<'a> {
    here: &'a Course,
    there: &'a Course,
}

impl<'r> Search<'_, 'r> {
    /// The fixes, each of which holds in all of the air that was not given.
    fn mendings(&self, airs: Airs, units: Units) -> Result<Vec<Mending<'r>>, Diagnostic> {
        let step = if units == Units::Us { unit::YARD.of(1.0) } else { unit::METRE.of(1.0) };
        let Search { cases, outcomes, rules, ladder, is_stock, conditions, keep, keep_here } = *self;
        let Airs { here, there: course } = airs;
        let asked =
            FixesAsked { course, here, cases, outcomes, rules, ladder, is_stock, conditions, keep, keep_here, step };
        mendings(&asked).map_err(|e| coverage_fault(&e))
    }

    /// The targets without a fix that holds in all of the air that was not given, and with one in the air that was
    /// taken.
    fn mended_here(
        &self,
        airs: Airs,
        found: &[Mending<'r>],
        home: Option<&Home>,
        units: Units,
    ) -> Result<Vec<usize>, Diagnostic> {
        let is_lifted = |target: usize| home.is_some_and(|home| home.lifts.binary_search(&target).is_ok());
        let lost = found.iter().filter(|m| m.fix.is_none() && !is_lifted(m.target)).map(|m| m.target);
        let lost: Vec<usize> = lost.collect();
        if lost.is_empty() || std::ptr::eq(airs.here, airs.there) {
            return Ok(Vec::new());
        }
        let here = home.map_or(airs.here, |home| &home.after);
        let cases: Vec<Case> =
            here.cases().into_iter().filter(|case| lost.binary_search(&case.target).is_ok()).collect();
        let judged = judge(here, &cases, self.rules, self.conditions, &|| ()).map_err(|e| coverage_fault(&e))?;
        let search = Search { cases: &cases, outcomes: &judged.outcomes, keep: self.keep_here, ..*self };
        let found = search.mendings(Airs { here, there: here }, units)?;
        Ok(found.iter().filter(|mending| mending.fix.is_some()).map(|mending| mending.target).collect())
    }
}

/// The distance that each load must keep so that a match of many shots holds the accepted risk, m,
/// in whatever air of a stage asks for most.
fn kept(
    course: &Course,
    cases: &[Case],
    rules: RuleBooks,
    conditions: crate::course::Conditions,
) -> Result<Kept, Diagnostic> {
    if course.crowd.is_none() {
        return Ok(Kept::new(Vec::new()));
    }
    let mut by_rules = Vec::new();
    for (book, rules) in rules.all().enumerate() {
        let mine = cases.iter().filter(|case| course.targets[case.target].rules == book);
        let mine: Vec<Case> = mine.cloned().collect();
        let mut kept = vec![0.0; course.loads.len()];
        for air in &course.airs {
            let level = conditions(air, unit::DEGREE.of(0.0)).map_err(|e| coverage_fault(&e))?;
            let here = kept_in(course, &mine, rules, &level)?;
            kept.iter_mut().zip(here).for_each(|(most, keep)| *most = f64::max(*most, keep));
        }
        by_rules.push(kept);
    }
    Ok(Kept::new(by_rules))
}

fn kept_in(course: &Course, cases: &[Case], rules: &RuleSet, level: &FlightConditions) -> Result<Vec<f64>, Diagnostic> {
    let none = vec![0.0; course.loads.len()];
    let (Some(crowd), Some((ceiling, _))) = (course.crowd, rules.speed_ceiling()) else { return Ok(none) };
    let keep = |brought: &crate::course::Brought| -> Result<f64, Diagnostic> {
        let class = brought.class();
        let nearest =
            cases.iter().filter(|c| c.classes.has(class)).map(|c| c.distance.si()).fold(f64::INFINITY, f64::min);
        // What leaves this much slower than the ceiling does not pass it in any match.
        if !nearest.is_finite() || hot_muzzle(&brought.load, level).si() < 0.8 * ceiling.si() {
            return Ok(0.0);
        }
        let risk =
            match_risk(rules, &brought.load, level, Length::from_si(nearest), &crowd).map_err(|e| crowd_fault(&e))?;
        Ok(risk.map_or(0.0, |risk| risk.safe.map_or(f64::INFINITY, Measure::si)))
    };
    crate::threads::map(&course.loads, keep)
}
