//! Something to do, with the targets that it is for: why, whom it concerns, and how they are named.

use super::Told;
use super::words::{self, count, id};
use crate::course::{Fix, Mending, is_damaged};
use crate::load::Class;
use crate::rules::Rule;
use crate::words::listed;
use std::collections::HashSet;

/// Stages that a group of targets names.
pub(super) const STAGES: usize = 4;
/// Names of rules, of people, and of targets of a stage.
pub(super) const NAMED: usize = 2;
/// Targets to fix that are all named; of more some are counted.
const MOST: usize = 64;

/// What is to be done, and the targets that it is for.
#[derive(Clone)]
pub(super) struct Item {
    pub words: String,
    /// Those that it names.
    pub targets: Vec<usize>,
    /// Those that it is for.
    pub concerns: Vec<usize>,
    /// Whether it comes before what is for more targets.
    pub is_first: bool,
    /// Its parts with the targets that each names, where a page may hold but some of them; and what stands before and
    /// behind them.
    pub parts: Vec<(String, Vec<usize>)>,
    pub head: String,
    pub tail: String,
}

impl Item {
    pub fn new(words: String, targets: &[usize]) -> Self {
        let (targets, concerns) = (targets.to_vec(), targets.to_vec());
        let (parts, head, tail) = (Vec::new(), String::new(), String::new());
        Self { words, targets, concerns, is_first: false, parts, head, tail }
    }
}

/// Whether every target to fix is named.
pub(super) fn names_all(told: &Told) -> bool {
    told.mendings.len() <= MOST
}

pub(super) fn put<K: PartialEq>(groups: &mut Vec<(K, Vec<usize>)>, key: K, target: usize) {
    match groups.iter_mut().find(|(other, _)| *other == key) {
        Some((_, targets)) if targets.contains(&target) => {}
        Some((_, targets)) => targets.push(target),
        None => groups.push((key, vec![target])),
    }
}

pub(super) fn put_one<K: PartialEq, T>(groups: &mut Vec<(K, Vec<T>)>, key: K, one: T) {
    match groups.iter_mut().find(|(other, _)| *other == key) {
        Some((_, mine)) => mine.push(one),
        None => groups.push((key, vec![one])),
    }
}

/// Targets by stage, in the order of the first of each.
pub(super) fn by_stage(told: &Told, targets: impl Iterator<Item = usize>) -> Vec<(usize, Vec<usize>)> {
    let mut stages: Vec<(usize, Vec<usize>)> = Vec::new();
    targets.for_each(|target| put(&mut stages, told.course.targets[target].stage, target));
    stages
}

/// The fixes that are made.
pub(super) fn made<'t, 'r>(told: &'t Told<'_, 'r>) -> impl Iterator<Item = (&'t Mending<'r>, &'t Fix<'r>)> {
    let mendings = told.mendings.iter().filter(|mending| !told.is_lifted(mending.target));
    mendings.filter_map(|mending| Some((mending, mending.fix.as_ref()?)))
}

/// Why some classes move, and whom of them it concerns.
pub(super) fn why_moved(told: &Told, targets: &[usize], classes: &[Class]) -> String {
    let rules = |target| {
        let moved = told.fix(target).map(|fix| fix.reasons.moved.as_slice()).unwrap_or_default();
        moved.iter().filter(|(class, _)| classes.contains(class)).map(|(_, rule)| *rule).collect()
    };
    reasons(told, targets, &rules, &|class| classes.contains(&class))
}

/// Why, and whom it concerns.
pub(super) fn because<'r>(told: &Told<'_, 'r>, targets: &[usize], why: &dyn Fn(usize) -> Vec<&'r Rule>) -> String {
    reasons(told, targets, why, &|_| true)
}

/// Why, and whom of some classes it concerns.
fn reasons<'r>(
    told: &Told<'_, 'r>,
    targets: &[usize],
    why: &dyn Fn(usize) -> Vec<&'r Rule>,
    is_of: &dyn Fn(Class) -> bool,
) -> String {
    let (rules, people) = grounds(told, targets, why, is_of);
    first_of(&rules, NAMED) + &concerned(told, &people)
}

/// The rules that something answers to at targets, each once, and all whom of some classes it concerns.
pub(super) fn grounds<'r>(
    told: &Told<'_, 'r>,
    targets: &[usize],
    why: &dyn Fn(usize) -> Vec<&'r Rule>,
    is_of: &dyn Fn(Class) -> bool,
) -> (Vec<String>, Vec<String>) {
    let mut rules: Vec<String> = Vec::new();
    let (mut people, mut known) = (Vec::new(), HashSet::new());
    for &target in targets {
        let mut mine = why(target);
        if mine.is_empty() {
            mine.extend(told.mending(target).and_then(|m| m.blocking.first().copied()));
        }
        for name in mine.into_iter().map(id) {
            if !rules.contains(&name) {
                rules.push(name);
            }
        }
        for name in told.concerns_of(target, is_of) {
            if known.insert(name.clone()) {
                people.push(name);
            }
        }
    }
    (rules, people)
}

/// `; bib 3, 9 and 2 more`: fewer of them where many targets are to be fixed.
fn concerned(told: &Told, people: &[String]) -> String {
    match people {
        [] => String::new(),
        [first, rest @ ..] if told.mendings.len() > words::BUSY && rest.len() > 1 => {
            format!("; {} and {} more", words::called(std::slice::from_ref(first)).join(""), rest.len())
        }
        _ => format!("; {}", few(&words::called(people))),
    }
}

/// Whether a fix takes a damaged plate down for good.
pub(super) fn retires(told: &Told, target: usize, fix: &Fix) -> bool {
    fix.change.fresh && is_damaged(told.course.targets[target].setup.condition)
}

/// The rules that a load does not meet at targets.
fn refused_by(told: &Told, load: usize, targets: &[usize]) -> String {
    let own = |(of, rule): &(usize, &Rule)| (*of == load).then(|| id(rule));
    let reasons = targets.iter().filter_map(|&target| told.fix(target)?.reasons.refused.iter().find_map(own));
    let mut rules: Vec<String> = Vec::new();
    reasons.for_each(|rule| {
        if !rules.contains(&rule) {
            rules.push(rule);
        }
    });
    rules.truncate(NAMED);
    rules.join(", ")
}

/// Targets by stage: `Ridge gong 1, gong 2 and 3 more; Creek plate`.
pub(super) fn placed(told: &Told, targets: &[usize]) -> String {
    let stages = by_stage(told, targets.iter().copied());
    if names_all(told) {
        return every(told, targets);
    }
    let first = stages.iter().take(STAGES);
    let words = first.map(|(stage, mine)| format!("{} {}", told.course.stages[*stage].name, names(told, mine)));
    let words = words.collect::<Vec<_>>().join("; ");
    let rest: usize = stages.iter().skip(STAGES).map(|(_, mine)| mine.len()).sum();
    if rest == 0 { words } else { format!("{words}; {rest} more on {}", count(stages.len() - STAGES, "other stage")) }
}

/// Every target by stage.
pub(super) fn every(told: &Told, targets: &[usize]) -> String {
    let stages = by_stage(told, targets.iter().copied());
    let words = stages.iter().map(|(stage, mine)| {
        let names: Vec<String> = mine.iter().map(|&target| told.course.targets[target].name.clone()).collect();
        format!("{} {}", told.course.stages[*stage].name, listed(&words::numbered(&names)))
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Names of targets of a stage; the first few where there are many to fix.
pub(super) fn names(told: &Told, targets: &[usize]) -> String {
    let names: Vec<String> = targets.iter().map(|&target| told.course.targets[target].name.clone()).collect();
    if names_all(told) { listed(&words::numbered(&names)) } else { few(&names) }
}

/// The first of a list, and how many more there are.
pub(super) fn few(names: &[String]) -> String {
    let names = &words::numbered(names);
    if names.len() <= NAMED + 1 {
        return listed(names);
    }
    format!("{} and {} more", names[..NAMED].join(", "), names.len() - NAMED)
}

/// Loads that are left out at targets: those of the same targets by the same rules together; and how loads and targets
/// are named.
pub(super) fn refusals(
    told: &Told,
    loads_named: fn(&[String]) -> String,
    targets_named: &dyn Fn(&[usize]) -> String,
) -> Vec<Item> {
    /// At which targets, by which rules.
    type Out = (Vec<usize>, String);
    let mut loads: Vec<(usize, Vec<usize>)> = Vec::new();
    for (mending, fix) in made(told) {
        fix.refuse.iter().for_each(|&load| put(&mut loads, load, mending.target));
    }
    let mut groups: Vec<(Out, Vec<usize>)> = Vec::new();
    for (load, targets) in loads {
        let rules = refused_by(told, load, &targets);
        put_one(&mut groups, (targets, rules), load);
    }
    let items = groups.iter().map(|((targets, rules), loads)| {
        let loads: Vec<String> = loads.iter().map(|load| words::shortly(&told.course.loads[*load])).collect();
        Item::new(format!("leave out {}: {} ({rules}).", loads_named(&loads), targets_named(targets)), targets)
    });
    items.collect()
}

/// The first rules by name, and how many more there are.
pub(super) fn first_of(rules: &[String], shown: usize) -> String {
    let more = rules.len().saturating_sub(shown);
    let first = rules[..rules.len() - more].join(", ");
    if more > 0 { format!("{first} and {}", count(more, "more rule")) } else { first }
}
