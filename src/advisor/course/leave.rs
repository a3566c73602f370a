//! The loads that stay at home, and those that the officer decides on.

use super::Told;
use super::words::{brought, called, count, id, next, numbered, place, shooters, some, why};
use crate::advisor::answer::{BarredLoad, BroughtLoad, LeavingAnswer, LeftAtHome, RefusedLoad};
use crate::course::{Barred, InPart, Lack, Left, Refused};
use crate::load::Class;
use crate::rules::Verdict;
use crate::words::listed;
use std::collections::{HashMap, HashSet};

pub(super) fn refused(refused: &Refused) -> RefusedLoad {
    RefusedLoad {
        load: refused.load.id().to_owned(),
        name: refused.load.facts().name.clone(),
        who: refused.who.clone(),
        why: refused.why.clone(),
    }
}

/// The loads that are the first fix, left at home.
pub(super) fn better_left(told: &Told) -> Vec<RefusedLoad> {
    let home = told.home.as_ref().filter(|home| home.from.is_empty());
    let loads = home.iter().flat_map(|home| &home.loads).map(|&load| &told.course.loads[load]);
    let why = home.map(|home| {
        format!("then {} without a fix: else none of the other fixes holds", count(home.lifts.len(), "target"))
    });
    let left = loads.map(|brought| RefusedLoad {
        load: brought.load.id().to_owned(),
        name: brought.load.facts().name.clone(),
        who: (!brought.who.is_empty()).then(|| brought.who.join("; ")),
        why: why.clone().unwrap_or_default(),
    });
    left.collect()
}

pub(super) fn barred(barred: &Barred) -> BarredLoad {
    let brought = &barred.brought;
    BarredLoad {
        load: brought.load.id().to_owned(),
        name: brought.load.facts().name.clone(),
        who: brought.who.first().cloned(),
        all_who: brought.who.clone(),
        verdict: barred.verdict,
        rule: barred.rule.id.clone(),
        why: why(barred.rule),
        next: next(barred.rule),
    }
}

pub(super) fn leaving(told: &Told) -> LeavingAnswer {
    let left = told.leaving.best.iter().map(|left| {
        let loads: Vec<BroughtLoad> = left.loads.iter().map(|&i| brought(&told.course.loads[i])).collect();
        LeftAtHome {
            words: without(told, left, listed, true),
            targets: left.lifts.iter().map(|&t| place(told, t)).collect(),
            loads,
            lifts: left.lifts.len(),
        }
    });
    LeavingAnswer { best: left.collect(), exact: told.leaving.exact }
}

/// What leaving loads at home lifts, in words; `names` lists those who bring a load.
fn without(told: &Told, left: &Left, names: impl Fn(&[String]) -> String, whole: bool) -> String {
    let loads = left.loads.iter().map(|&index| {
        let load = &told.course.loads[index];
        match told.people(index).as_slice() {
            [one] => one.clone(),
            _ => format!("{} ({})", load.load.facts().name, names(&load.who)),
        }
    });
    let (loads, lifts) = (called(&loads.collect::<Vec<_>>()), left.lifts.len());
    let verb = if lifts == 1 { "passes" } else { "pass" };
    if whole {
        format!("Without {}: {} {verb}.", listed(&loads), count(lifts, "more target"))
    } else {
        format!("Without {}: {lifts}.", listed(&loads))
    }
}

/// A load that stays at home or is decided on: who brings what, and why.
pub(super) struct Line {
    /// The load.
    pub name: String,
    /// Who brings it.
    pub who: Vec<String>,
    /// Why, and what to do about it.
    pub why: String,
    /// The same by the rule's name, where it is a rule's.
    brief: String,
}

impl Line {
    fn of_barred(barred: &Barred, before: &str) -> Self {
        let next = next(barred.rule);
        let next = if next.is_empty() { String::new() } else { format!("; {next}") };
        Self {
            name: barred.brought.load.facts().name.clone(),
            who: barred.brought.who.clone(),
            why: format!("{before}{}{next}", why(barred.rule)),
            brief: format!("{before}{}", id(barred.rule)),
        }
    }

    /// Everybody named.
    pub fn whole(&self) -> String {
        let who = if self.who.is_empty() { String::new() } else { format!(" ({})", listed(&self.who)) };
        format!("{}{who}: {}.", self.name, self.why)
    }

    /// The first named.
    pub fn short(&self) -> String {
        let who = if self.who.is_empty() { String::new() } else { format!(" ({})", some(&numbered(&self.who))) };
        format!("{}{who}: {}.", self.name, self.brief)
    }

    /// Why, by the rule's name.
    pub fn brief(&self) -> &str {
        &self.brief
    }

    /// Who is meant: those who bring it, or the load.
    pub fn people(&self) -> Vec<String> {
        if self.who.is_empty() { vec![self.name.clone()] } else { self.who.clone() }
    }
}

/// The loads that no plate takes, and those that the ammunition rules refuse.
pub(super) fn at_home(told: &Told) -> Vec<Line> {
    let barred = told.barred.iter().filter(|b| b.verdict == Verdict::Unsuitable);
    let mut lines: Vec<Line> = barred.map(|barred| Line::of_barred(barred, "")).collect();
    let mut known: HashMap<(&str, &str), usize> = HashMap::new();
    for refused in &told.course.refused {
        let (name, why) = (&refused.load.facts().name, &refused.why);
        let at = *known.entry((name, why)).or_insert_with(|| {
            lines.push(Line { name: name.clone(), who: Vec::new(), why: why.clone(), brief: why.clone() });
            lines.len() - 1
        });
        lines[at].who.extend(refused.who.clone());
    }
    lines
}

/// What leaving loads at home would lift, a sentence each; in short only the first is a whole one.
pub(super) fn lifts(told: &Told, names: impl Fn(&[String]) -> String, in_short: bool) -> Vec<String> {
    let searched = if told.leaving.exact { "" } else { " (searched by the largest gain first)" };
    // What stands for the slowest that is admitted is nobody's to leave.
    let is_somebody_s = |left: &Left| !left.loads.iter().any(|load| told.course.slow.contains(load));
    let is_first_fix = |index: usize| index == 0 && told.home.as_ref().is_some_and(|home| home.from.is_empty());
    let sets = told.leaving.best.iter().enumerate().filter(|(_, left)| is_somebody_s(left));
    // On a page with many targets to fix the load that is better left is the first fix already.
    let is_busy = in_short && told.mendings.len() > super::words::BUSY;
    let sets = sets.filter(|(index, _)| !(is_busy && is_first_fix(*index)));
    let lines = sets.map(|(index, left)| {
        let better = if is_first_fix(index) { " That is less work than mending them." } else { "" };
        format!(
            "{}{searched}{better}",
            without(told, left, &names, index == 0 || !in_short || (is_busy && is_first_fix(index - 1)))
        )
    });
    lines.collect()
}

/// The same in as few words as say it: what a larger set adds to a smaller one.
pub(super) fn lifts_in_short(told: &Told) -> Vec<String> {
    let name = |load: &usize| match told.people(*load).as_slice() {
        [one] => one.clone(),
        _ => told.course.loads[*load].load.facts().name.clone(),
    };
    let mut words = String::new();
    let mut before: &[usize] = &[];
    for left in &told.leaving.best {
        let (loads, lifts) = (left.loads.as_slice(), left.lifts.len());
        // What stands for the slowest that is admitted is nobody's to leave.
        if loads.iter().any(|load| told.course.slow.contains(load)) {
            continue;
        }
        let grows = !before.is_empty() && before.iter().all(|load| loads.contains(load));
        let own = loads.iter().filter(|load| !grows || !before.contains(load)).map(name);
        let own = listed(&called(&own.collect::<Vec<_>>()));
        words += &match (words.is_empty(), grows) {
            (true, _) => {
                format!("Without {own}: {} {}", count(lifts, "more target"), if lifts == 1 { "passes" } else { "pass" })
            }
            (false, true) => format!("; without {own} too: {lifts}"),
            (false, false) => format!("; without {own}: {lifts}"),
        };
        before = loads;
    }
    let searched = if told.leaving.exact { "" } else { " (searched by the largest gain first)" };
    if words.is_empty() { Vec::new() } else { vec![format!("{words}{searched}.")] }
}

/// Classes that loads were brought of and that no ammunition rule of the match is for.
pub(super) fn silent(told: &Told) -> Vec<Class> {
    let brought = told.course.classes_brought().into_iter();
    brought.filter(|class| told.course.admission.is_silent_on(*class)).collect()
}

/// The load that a target which calls for no fix is borderline for: it is on any plate, and the officer decides on it.
pub(super) fn decided<'t, 'r>(told: &'t Told<'_, 'r>, target: usize) -> Option<&'t Barred<'r>> {
    if told.mending(target).is_some() {
        return None;
    }
    let outcomes = told.cases_of(target).iter().map(|&case| &told.judged.outcomes[case]);
    let worst = outcomes.filter(|outcome| outcome.verdict == Some(Verdict::Borderline)).find_map(|o| o.worst)?;
    let load = &told.course.loads[worst].load;
    told.barred.iter().find(|barred| std::sync::Arc::ptr_eq(&barred.brought.load, load))
}

/// The loads that are borderline on any plate, and those whose class no ammunition rule names; those that no target is
/// for are told as not judged, and here only where asked.
pub(super) fn doubtful(told: &Told, with_aimless: bool) -> Vec<Line> {
    let doubtful = told.barred.iter().filter(|b| b.verdict != Verdict::Unsuitable);
    let mut lines: Vec<Line> = doubtful.map(|barred| Line::of_barred(barred, "borderline on any plate: ")).collect();
    for class in silent(told).into_iter().filter(|class| with_aimless || has_target(told, *class)) {
        let mine = told.course.loads.iter().filter(|load| load.class() == class);
        let mut known = HashSet::new();
        let who = mine.flat_map(super::words::people).filter(|name| known.insert(name.clone())).collect();
        lines.push(Line {
            name: shooters(class),
            who,
            why:
                "the match's ammunition rules do not name them; judged as declared: admit them by a rule, or leave them"
                    .into(),
            brief: "the match's ammunition rules do not name them: admit them by a rule, or leave them".into(),
        });
    }
    lines
}

/// Whether anything stands for a class to shoot at.
fn has_target(told: &Told, class: Class) -> bool {
    let brought = told.course.classes_brought();
    told.course.targets.iter().any(|target| told.course.classes_at(target, &brought).contains(&class))
}

/// Cartridges of which any ammunition is admitted, and only the listed loads are known; names that speak of another
/// thing than what was judged.
pub(super) fn in_part(told: &Told) -> Vec<String> {
    let in_part = told.course.in_part.iter().map(|InPart { cartridge, lacks }| match lacks {
        Lack::Extremes => format!(
            "any ammunition of {cartridge}: only its listed loads were judged, nothing is known of how far others reach."
        ),
        Lack::Steel => format!(
            "any ammunition of {cartridge}: it often has jackets or cores of steel, which never go on steel, and none such is listed: name the loads that are brought."
        ),
    });
    let names = super::beyond::named_otherwise(told);
    let names =
        names.iter().map(|look| format!("{}: look, then give it what its name says, or another name.", look.words));
    in_part.chain(names).collect()
}
