//! Stages: what is to be done on each, what passes, and what its sign says.

use super::beyond::{Look, named_otherwise};
use super::words::{self, place, some, why};
use super::{Told, sign};
use crate::advisor::answer::{StageAnswer, TargetAnswer, TargetVerdict};
use crate::course::Mending;
use crate::words::listed;

/// Targets of one stage with the same fix for the same reason.
struct Group {
    stage: usize,
    fix: String,
    why: String,
    targets: Vec<usize>,
    concerns: Vec<String>,
}

/// What to fix, one sentence for each stage, fix and reason; the targets that one load left at home lifts together.
pub(super) fn fixes(told: &Told) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    if let Some(home) = &told.home {
        let names: Vec<String> = home.lifts.iter().map(|&t| place(told, t)).collect();
        let need = if names.len() == 1 { "needs" } else { "need" };
        lines.push(format!(
            "{}: then {} {need} no fix: {}. The other fixes and every line hold only then.",
            crate::words::sentence(&words::left(told, home)),
            words::count(names.len(), "target"),
            listed(&names)
        ));
    }
    lines.extend(groups(told, |target| !told.is_lifted(target)).iter().map(|g| sentence(told, g)));
    lines
}

fn groups(told: &Told, is_in: impl Fn(usize) -> bool) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for mending in told.mendings.iter().filter(|m| is_in(m.target)) {
        let (fix, or) = match &mending.fix {
            // What is told instead of a load left at home has no alternative of its own.
            Some(fix) if told.is_lifted(mending.target) => (words::fix(told, mending, fix), String::new()),
            Some(fix) => (words::fix(told, mending, fix), other(told, mending)),
            None => (words::none(told, mending), String::new()),
        };
        let why = reason(mending);
        let stage = told.course.targets[mending.target].stage;
        let fix = words::or_left(told, mending.target, fix + &or);
        let concerns = told.concerns(mending.target);
        match groups.iter_mut().find(|g| g.stage == stage && g.fix == fix && g.why == why) {
            Some(group) => {
                group.targets.push(mending.target);
                for name in concerns {
                    if !group.concerns.contains(&name) {
                        group.concerns.push(name);
                    }
                }
            }
            None => groups.push(Group { stage, fix, why, targets: vec![mending.target], concerns }),
        }
    }
    groups
}

fn other(told: &Told, mending: &Mending) -> String {
    mending
        .other
        .as_ref()
        .map(|fix| format!(" (or, nobody moved: {})", words::fix(told, mending, fix)))
        .unwrap_or_default()
}

/// The rule that sets the fix, and the others that block by id.
fn reason(mending: &Mending) -> String {
    let set = mending.fix.as_ref().and_then(|f| f.reason).or_else(|| mending.blocking.first().copied());
    let Some(set) = set else { return String::new() };
    let others: Vec<String> =
        mending.blocking.iter().filter(|r| r.id != set.id).map(|r| r.id.replace('-', " ")).collect();
    let besides = if others.is_empty() { String::new() } else { format!("; besides: {}", some(&others)) };
    format!("{}{besides}", why(set))
}

fn sentence(told: &Told, group: &Group) -> String {
    let names: Vec<String> = group.targets.iter().map(|&t| told.course.targets[t].name.clone()).collect();
    let failing = |target: usize| {
        let outcomes = told.cases_of(target).iter().map(|case| &told.judged.outcomes[*case]);
        outcomes.map(|outcome| outcome.failing.saturating_sub(outcome.named.len())).max().unwrap_or(0)
    };
    // Loads beyond those that a case names are counted.
    let more = group.targets.iter().map(|&target| failing(target)).max().unwrap_or(0);
    let more = if more > 0 { format!(", and {}", words::count(more, "more load")) } else { String::new() };
    let who = listed(&words::called(&group.concerns));
    let who = if who.is_empty() { String::new() } else { format!(" ({who}{more})") };
    format!("{}, {}: {}; {}{who}.", told.course.stages[group.stage].name, listed(&names), group.fix, group.why)
}

pub(super) fn of(told: &Told, targets: &[TargetAnswer]) -> Vec<StageAnswer> {
    let stages = told.course.stages.iter().enumerate();
    stages
        .map(|(index, stage)| {
            let mine: Vec<usize> = (0..targets.len()).filter(|t| told.course.targets[*t].stage == index).collect();
            let pass: Vec<usize> = mine.iter().copied().filter(|t| told.passes(*t, targets[*t].verdict)).collect();
            let number = |list: &[usize]| list.iter().map(|t| told.course.targets[*t].count).sum();
            StageAnswer {
                name: stage.name.clone(),
                targets: number(&mine),
                pass: number(&pass),
                closed: sign::closed(told, targets, index, &mine),
                lines: sign::lines(told, &mine),
                positions: positions(told, targets, &mine),
                admitted: sign::admitted(told, &mine),
                ask: sign::ask(told, &mine),
                stands_on: sign::stands_on(told, index, &mine),
                plates: sign::plates(told, &mine),
                refused: sign::refused(told, &mine),
                fixes: groups(told, |t| mine.contains(&t))
                    .iter()
                    .map(|g| format!("{}: {}", names(told, &g.targets), beside_left(told, g)))
                    .chain(named_otherwise(told).iter().filter(|look| look.is_on(&mine)).filter_map(Look::fix))
                    .collect(),
                faces: sign::faces(told, &mine),
                good: good(told, targets, index, &mine),
            }
        })
        .collect()
}

/// A group's fix, which may hold only with something left: all of a group are lifted by that, or none is.
fn beside_left(told: &Told, group: &Group) -> String {
    words::beside_left(told, group.targets[0], group.fix.clone())
}

/// Each position of targets that have several, and whether it passes.
fn positions(told: &Told, targets: &[TargetAnswer], mine: &[usize]) -> Vec<String> {
    let several =
        mine.iter().map(|&target| (target, &targets[target])).filter(|(_, target)| target.positions.len() > 1);
    let words = several.map(|(index, target)| {
        let only = only(told, index);
        let each = target.positions.iter().map(|position| {
            let passes = match position.verdict {
                TargetVerdict::Suits => format!("passes{only}"),
                TargetVerdict::NotJudged => "not judged".into(),
                _ => "does not pass".into(),
            };
            format!("{} {passes}", position.words)
        });
        format!("{}: {}", target.target, each.collect::<Vec<_>>().join("; "))
    });
    words.collect()
}

/// In which air alone a target passes, where some that was not given has a worse verdict: ` up to 3400 ft only`.
fn only(told: &Told, target: usize) -> String {
    let elsewhere = told.elsewhere.as_ref().filter(|elsewhere| elsewhere.changed.contains(&target));
    elsewhere.map(|elsewhere| format!(" {} only", elsewhere.holds)).unwrap_or_default()
}

fn names(told: &Told, targets: &[usize]) -> String {
    listed(&targets.iter().map(|&t| told.course.targets[t].name.clone()).collect::<Vec<_>>())
}

/// What passes as it stands, each position named.
fn good(told: &Told, targets: &[TargetAnswer], stage: usize, mine: &[usize]) -> String {
    let mut parts: Vec<String> = Vec::new();
    for &index in mine {
        let target = &targets[index];
        let passing: Vec<&str> =
            target.positions.iter().filter(|p| p.verdict == TargetVerdict::Suits).map(|p| p.words.as_str()).collect();
        if passing.is_empty() {
            continue;
        }
        parts.push(format!("{} ({}){}", target.target, passing.join("; "), only(told, index)));
    }
    if parts.is_empty() { String::new() } else { format!("{}: {}.", told.course.stages[stage].name, parts.join(", ")) }
}
