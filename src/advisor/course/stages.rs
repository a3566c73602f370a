//! Stages: what is to be done on each, what passes, and what its sign says.

use super::Told;
use super::words::{self, place, shooters, some, why};
use crate::advisor::answer::{BroughtLoad, StageAnswer, TargetAnswer, TargetVerdict};
use crate::course::{Fix, Mending};
use crate::load::Class;
use crate::quantity::{Length, Measure};
use crate::words::{degrees, listed};

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
    let mut lines: Vec<String> =
        groups(told, |target| !told.is_lifted(target)).iter().map(|g| sentence(told, g)).collect();
    if let (Some(load), Some(left)) = (told.better_left, told.leaving.best.first()) {
        let names: Vec<String> = left.lifts.iter().map(|&t| place(told, t)).collect();
        let load = words::brought(&told.course.loads[load]).words;
        lines.push(format!(
            "Leave {load} at home: then {} need no fix: {}.",
            words::count(names.len(), "target"),
            some(&names)
        ));
    }
    lines
}

fn groups(told: &Told, is_in: impl Fn(usize) -> bool) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for mending in told.mendings.iter().filter(|m| is_in(m.target)) {
        let (fix, or) = match &mending.fix {
            Some(fix) => (words::fix(told, mending, fix), other(told, mending)),
            None => (words::none(mending), String::new()),
        };
        let why = reason(mending);
        let stage = told.course.targets[mending.target].stage;
        let fix = fix + &or;
        let concerns = concerns(told, mending.target);
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
    mending.other.as_ref().map(|fix| format!(", or {}", words::fix(told, mending, fix))).unwrap_or_default()
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

fn concerns(told: &Told, target: usize) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for &case in told.cases_of(target) {
        for &load in &told.judged.outcomes[case].named {
            for name in words::people(&told.course.loads[load]) {
                if !names.contains(&name) {
                    names.push(name);
                }
            }
        }
    }
    names
}

fn sentence(told: &Told, group: &Group) -> String {
    let names: Vec<String> = group.targets.iter().map(|&t| told.course.targets[t].name.clone()).collect();
    let failing = group.targets.iter().flat_map(|&t| told.cases_of(t)).map(|c| told.judged.outcomes[*c].failing).max();
    let more = failing.unwrap_or(0).saturating_sub(group.concerns.len());
    let mut who = some(&group.concerns);
    if more > 0 && failing.is_some_and(|f| f > 8) {
        who = format!("{} loads, {who} among them", failing.unwrap_or(0));
    }
    let who = if who.is_empty() { String::new() } else { format!(" ({who})") };
    format!("{}, {}: {}; {}{who}.", told.course.stages[group.stage].name, some(&names), group.fix, group.why)
}

pub(super) fn of(told: &Told, targets: &[TargetAnswer]) -> Vec<StageAnswer> {
    let stages = told.course.stages.iter().enumerate();
    stages
        .map(|(index, stage)| {
            let mine: Vec<usize> = (0..targets.len()).filter(|t| told.course.targets[*t].stage == index).collect();
            let pass: Vec<usize> = mine.iter().copied().filter(|t| targets[*t].fix == "nothing").collect();
            let refused = mine.iter().filter_map(|t| told.mending(*t)?.fix.as_ref()).flat_map(|f| f.refuse.iter());
            let mut refused: Vec<usize> = refused.copied().collect();
            refused.sort_unstable();
            refused.dedup();
            let refused: Vec<BroughtLoad> = refused.iter().map(|&i| words::brought(&told.course.loads[i])).collect();
            let number = |list: &[usize]| list.iter().map(|t| told.course.targets[*t].count).sum();
            StageAnswer {
                name: stage.name.clone(),
                targets: number(&mine),
                pass: number(&pass),
                lines: lines(told, &mine),
                plates: plates(told, &mine),
                refused,
                fixes: groups(told, |t| mine.contains(&t))
                    .iter()
                    .map(|g| format!("{}: {}", names(told, &g.targets), g.fix))
                    .collect(),
                faces: faces(told, &mine),
                good: good(told, targets, index, &mine),
            }
        })
        .collect()
}

fn names(told: &Told, targets: &[usize]) -> String {
    some(&targets.iter().map(|&t| told.course.targets[t].name.clone()).collect::<Vec<_>>())
}

/// Where a class shoots a target from, once mended.
fn from(told: &Told, target: usize, class: Class) -> Option<Length> {
    let fix: Option<&Fix> = told.mending(target).and_then(|m| m.fix.as_ref());
    let fixed = fix.and_then(|f| f.distances.iter().find(|(c, _)| *c == class)).map(|d| d.1);
    let place = &told.course.targets[target];
    fixed.or_else(|| told.course.lines[place.line].nearest(place.at, class))
}

/// The nearest point that anything is shot from, the fixes made.
pub(super) fn nearest(told: &Told) -> Option<Length> {
    let brought = told.course.classes_brought();
    let targets = told.course.targets.iter().enumerate();
    let all = targets.flat_map(|(index, target)| {
        let classes = told.course.classes_at(target, &brought);
        classes.into_iter().filter_map(move |class| from(told, index, class)).collect::<Vec<_>>()
    });
    all.reduce(|a, b| if b < a { b } else { a })
}

/// The nearest line of each target for each class, the fixes made.
fn lines(told: &Told, mine: &[usize]) -> Vec<String> {
    let brought = told.course.classes_brought();
    let mut lines = Vec::new();
    for &target in mine {
        let classes = told.course.classes_at(&told.course.targets[target], &brought);
        let mut by: Vec<(Length, Vec<Class>)> = Vec::new();
        for class in classes {
            let Some(at) = from(told, target, class) else { continue };
            match by.iter_mut().find(|(d, _)| (d.si() - at.si()).abs() < 1e-6) {
                Some(entry) => entry.1.push(class),
                None => by.push((at, vec![class])),
            }
        }
        let name = &told.course.targets[target].name;
        match by.as_slice() {
            [] => lines.push(format!("{name}: not judged")),
            [(at, _)] => lines.push(format!("{name}: {}", told.units.distance_up(*at))),
            several => {
                let parts = several.iter().map(|(at, classes)| {
                    let who: Vec<String> = classes.iter().map(|c| shooters(*c)).collect();
                    format!("{} {}", listed(&who), told.units.distance_up(*at))
                });
                lines.push(format!("{name}: {}", parts.collect::<Vec<_>>().join(", ")));
            }
        }
    }
    lines
}

fn plates(told: &Told, mine: &[usize]) -> Vec<String> {
    mine.iter()
        .map(|&target| {
            let place = &told.course.targets[target];
            let fix = told.mending(target).filter(|_| !told.is_lifted(target)).and_then(|m| m.fix.as_ref());
            let plate = fix.and_then(|f| f.change.plate.as_ref()).map_or(&place.plate.label, |p| &p.label);
            let count = if place.count > 1 { format!("{} × ", place.count) } else { String::new() };
            format!("{}: {count}{plate}, {}", place.name, place.setup.face)
        })
        .collect()
}

/// Lean and turn to set, the fixes made; targets that are set alike together.
fn faces(told: &Told, mine: &[usize]) -> Vec<String> {
    let mut alike: Vec<(String, Vec<String>)> = Vec::new();
    for &target in mine {
        let words = face(told, target);
        let name = told.course.targets[target].name.clone();
        match alike.iter_mut().find(|(other, _)| *other == words) {
            Some((_, names)) => names.push(name),
            None => alike.push((words, vec![name])),
        }
    }
    if let [(words, names)] = alike.as_slice()
        && names.len() > 1
    {
        return vec![format!("all {words}")];
    }
    alike.into_iter().map(|(words, names)| format!("{}: {words}", some(&names))).collect()
}

fn face(told: &Told, target: usize) -> String {
    let place = &told.course.targets[target];
    let fix = told.mending(target).and_then(|m| m.fix.as_ref());
    let setup = fix.map_or_else(|| place.setup.clone(), |f| f.change.apply(&place.setup));
    let lean = match setup.tilt {
        Some(tilt) if tilt.si() < -1e-9 => format!("leaning back {}", degrees(-tilt)),
        Some(tilt) if tilt.si() > 1e-9 => format!("leaning {} toward the shooter", degrees(tilt)),
        _ => "plumb".into(),
    };
    let turn = setup.oblique.si().abs();
    let turn = if turn > 1e-9 {
        format!("turned {}", degrees(crate::quantity::Angle::from_si(turn)))
    } else {
        "square".into()
    };
    format!("{lean}, {turn}, {}", setup.mount.words())
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
        parts.push(format!("{} ({})", target.target, passing.join("; ")));
    }
    if parts.is_empty() { String::new() } else { format!("{}: {}.", told.course.stages[stage].name, parts.join(", ")) }
}
