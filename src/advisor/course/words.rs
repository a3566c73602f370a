//! A match in words.

use super::Told;
use crate::advisor::answer::BroughtLoad;
use crate::course::{Brought, Fix, Mending, Move};
use crate::load::Class;
use crate::quantity::{Length, Measure};
use crate::rules::Rule;
use crate::words::{degrees, listed};

/// Names of a list before the rest is counted.
const LISTED: usize = 4;

/// `1 target`, `5 targets`.
pub(super) fn count(n: usize, word: &str) -> String {
    if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") }
}

/// What the shooters of a class are called.
pub(super) fn shooters(class: Class) -> String {
    match class {
        Class::RimfirePistol => "rimfire pistols".into(),
        Class::RimfireRifle => "rimfire rifles".into(),
        Class::Handgun => "handguns".into(),
        Class::PistolCarbine => "pistol carbines".into(),
        Class::Shot => "shot".into(),
        Class::Slug => "slugs".into(),
        Class::Rifle => "rifles".into(),
        other => format!("{other}s"),
    }
}

/// The first names of a list, and how many more there are.
pub(super) fn some(names: &[String]) -> String {
    if names.len() <= LISTED + 1 {
        return listed(names);
    }
    format!("{} and {} more", names[..LISTED].join(", "), names.len() - LISTED)
}

/// A load with who brings it.
pub(super) fn brought(load: &Brought) -> BroughtLoad {
    let name = load.load.facts().name.clone();
    let who = if load.who.is_empty() { String::new() } else { format!(" ({})", some(&load.who)) };
    BroughtLoad { load: load.load.id().to_owned(), words: format!("{name}{who}"), name, who: load.who.clone() }
}

/// Who is meant by a load: those who bring it, or the load.
pub(super) fn people(load: &Brought) -> Vec<String> {
    if load.who.is_empty() { vec![load.load.facts().name.clone()] } else { load.who.clone() }
}

/// Why, in a rule's words; a range's rule names its range.
pub(super) fn why(rule: &Rule) -> String {
    match &rule.overlay {
        Some(range) => format!("{} ({range})", rule.why),
        None => rule.why.clone(),
    }
}

/// A target's name with its stage.
pub(super) fn place(told: &Told, target: usize) -> String {
    let target = &told.course.targets[target];
    format!("{}, {}", told.course.stages[target.stage].name, target.name)
}

/// What a fix asks for, in words.
pub(super) fn fix(told: &Told, mending: &Mending, fix: &Fix) -> String {
    let mut parts = moves(told, mending, fix);
    let change = &fix.change;
    let target = &told.course.targets[mending.target];
    if let Some(plate) = &change.plate {
        parts.push(format!("hang {}", plate.label));
    } else if change.fresh {
        parts.push(format!("retire it and hang a new {}", target.plate.label));
    }
    if change.look {
        parts.push(look(target.setup.condition, target.setup.steel));
    }
    if let Some(mount) = change.mount {
        parts.push(format!("have it {}", mount.words()));
    }
    if let Some(tilt) = change.tilt {
        let leans = match tilt.si() {
            t if t > 1e-9 => format!("lean it {} toward the shooter", degrees(tilt)),
            t if t < -1e-9 => format!("lean it back {}", degrees(-tilt)),
            _ => "hang it plumb".into(),
        };
        parts.push(leans);
    }
    if change.square {
        parts.push("turn the face square to the line".into());
    }
    if !fix.refuse.is_empty() {
        let names: Vec<String> = fix.refuse.iter().map(|&i| brought(&told.course.loads[i]).words).collect();
        parts.push(format!("leave out {}", listed(&names)));
    }
    if parts.is_empty() { "nothing".into() } else { parts.join(", ") }
}

fn look(condition: crate::plate::Condition, steel: crate::plate::Steel) -> String {
    use crate::plate::{Condition, Steel};
    match (condition, steel) {
        (Condition::Unknown, Steel::Unknown) => "look it over on both faces and find its mark: sound AR500, it passes",
        (_, Steel::Unknown) => "find its mark: AR500, it passes",
        _ => "look it over on both faces: sound, it passes",
    }
    .into()
}

/// How the line moves, classes that move alike together.
fn moves(told: &Told, mending: &Mending, fix: &Fix) -> Vec<String> {
    let target = &told.course.targets[mending.target];
    let line = &told.course.lines[target.line];
    let shared = told.course.targets.iter().filter(|t| t.line == target.line).count() > 1;
    let mut done: Vec<Move> = Vec::new();
    let mut parts = Vec::new();
    for (_, moved) in &fix.moves {
        if *moved == Move::Keep || done.contains(moved) {
            continue;
        }
        done.push(*moved);
        let alike: Vec<Class> = fix.moves.iter().filter(|(_, m)| m == moved).map(|(c, _)| *c).collect();
        let all = alike.len() == fix.moves.len();
        let who = listed(&alike.iter().map(|c| shooters(*c)).collect::<Vec<_>>());
        let words = match moved {
            Move::From(position) => {
                let position = &line.positions[*position];
                let distance = told.units.distance(position.distance(target.at));
                let from = match &position.name {
                    Some(name) if shared => name.clone(),
                    Some(name) => format!("{name} ({distance})"),
                    None => distance,
                };
                if all { format!("shoot it from {from} only") } else { format!("{who} from {from} only") }
            }
            Move::Back(by) if shared => {
                let by = told.units.distance(*by);
                if all { format!("move the line back {by}") } else { format!("{who} step back {by}") }
            }
            _ => {
                let nearest = nearest(fix, &alike);
                let to = told.units.distance_up(nearest);
                if all { format!("move the line to {to}") } else { format!("{who} step back to {to}") }
            }
        };
        parts.push(words);
    }
    let stay: Vec<String> = fix.moves.iter().filter(|(_, m)| *m == Move::Keep).map(|(c, _)| shooters(*c)).collect();
    if !parts.is_empty() && !stay.is_empty() {
        parts.insert(0, format!("{} may stay", listed(&stay)));
    }
    parts
}

/// The nearest point that these classes then shoot from.
fn nearest(fix: &Fix, classes: &[Class]) -> Length {
    let mine = fix.distances.iter().filter(|(class, _)| classes.contains(class)).map(|d| d.1);
    mine.reduce(|a, b| if b < a { b } else { a }).unwrap_or_else(|| Length::from_si(0.0))
}

/// A position's name and distance.
pub(super) fn position(told: &Told, target: usize, position: usize) -> String {
    let target = &told.course.targets[target];
    let position = &told.course.lines[target.line].positions[position];
    let distance = told.units.distance(position.distance(target.at));
    position.name.as_ref().map_or(distance.clone(), |name| format!("{name}, {distance}"))
}

/// What the blocking rules say to do, where no fix was found.
pub(super) fn none(mending: &Mending) -> String {
    let next = mending.blocking.iter().map(|r| r.next.as_str()).find(|next| !next.is_empty());
    format!("no fix found: {}", next.unwrap_or("take it down"))
}
