//! A match in words.

use super::{Home, Told};
use crate::advisor::answer::BroughtLoad;
use crate::course::{Brought, Change, Course, Fix, Line, Mending, Move, Target, is_damaged};
use crate::load::{Class, Load};
use crate::plate::{Face, Kind, Mount, Plate};
use crate::quantity::{Length, Measure, Velocity, unit};
use crate::rules::{Rule, Subject};
use crate::words::{Units, degrees, listed};

/// Names of a list before the rest is counted.
const LISTED: usize = 4;
/// Targets to fix above which a short line names one of the people whom it concerns.
pub(super) const BUSY: usize = 12;

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

/// Names that are one word and a number each, with the word once: `bib 3, 9 and 12`.
pub(super) fn numbered(names: &[String]) -> Vec<String> {
    let parts = |name: &String| {
        let (word, number) = name.rsplit_once(' ')?;
        (!number.is_empty() && number.bytes().all(|b| b.is_ascii_digit())).then(|| (word.to_owned(), number.to_owned()))
    };
    let Some(parted) = names.iter().map(parts).collect::<Option<Vec<_>>>() else { return names.to_vec() };
    if parted.iter().any(|(word, _)| *word != parted[0].0) {
        return names.to_vec();
    }
    let rest = parted.iter().skip(1).map(|(_, number)| number.clone());
    names.first().cloned().into_iter().chain(rest).collect()
}

/// The first names of a list, and how many more there are.
pub(super) fn some(names: &[String]) -> String {
    if names.len() <= LISTED + 1 {
        return listed(names);
    }
    format!("{} and {} more", names[..LISTED].join(", "), names.len() - LISTED)
}

/// A load with who brings it: all of them, so that each can be written to.
pub(super) fn brought(load: &Brought) -> BroughtLoad {
    brought_by(&load.load, &load.who)
}

/// A load and those who bring it.
pub(super) fn brought_by(load: &Load, who: &[String]) -> BroughtLoad {
    let name = load.facts().name.clone();
    let by = if who.is_empty() { String::new() } else { format!(" ({})", listed(who)) };
    BroughtLoad { load: load.id().to_owned(), words: format!("{name}{by}"), name, who: who.to_vec() }
}

/// The same for a short line: the first who bring it.
pub(super) fn shortly(load: &Brought) -> String {
    let name = load.load.facts().name.clone();
    if load.who.is_empty() { name } else { format!("{name} ({})", some(&numbered(&load.who))) }
}

/// Who is meant by a load: those who bring it, or the load.
pub(super) fn people(load: &Brought) -> Vec<String> {
    if load.who.is_empty() { vec![load.load.facts().name.clone()] } else { load.who.clone() }
}

/// Names of people; a bare number would read as a count.
pub(super) fn called(names: &[String]) -> Vec<String> {
    let is_bare = |name: &&String| !name.is_empty() && name.bytes().all(|b| b.is_ascii_digit());
    let called = |name: &String| if is_bare(&name) { format!("no. {name}") } else { name.clone() };
    numbered(&names.iter().map(called).collect::<Vec<_>>())
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

/// A thickness: as it was named, or, where it was named by nothing but its inches, in the units asked for.
pub(super) fn plate(told: &Told, plate: &Plate) -> String {
    let bare = crate::quantity::show(plate.thickness, &unit::INCH, 3);
    if told.units == Units::Si && plate.label == bare {
        told.units.thickness(plate.thickness)
    } else {
        plate.label.clone()
    }
}

/// A face in the units asked for.
pub(super) fn face(told: &Told, face: &Face) -> String {
    match (told.units, face) {
        (Units::Si, Face::Round(diameter)) => format!("{} round", told.units.size(*diameter)),
        (Units::Si, Face::Rectangle(width, height)) => {
            format!("{} × {}", told.units.size(*width).trim_end_matches(" mm"), told.units.size(*height))
        }
        _ => face.to_string(),
    }
}

/// How a target is held: what is no hung plate stands as its kind does.
pub(super) fn held(target: &Target, mount: Mount) -> &'static str {
    target.kind.held_by(mount)
}

/// A rule's name, with its range.
pub(super) fn id(rule: &Rule) -> String {
    let name = rule.id.replace('-', " ");
    rule.overlay.as_ref().map_or_else(|| name.clone(), |range| format!("{name}, {range}"))
}

/// What a rule says to do, without the options of other commands.
pub(super) fn next(rule: &Rule) -> String {
    let mut text = rule.next.clone();
    while let Some(from) = text.find(" (`--") {
        let Some(to) = text[from..].find(')') else { break };
        text.replace_range(from..=from + to, "");
    }
    text
}

/// What a fix asks for, in words.
pub(super) fn fix(told: &Told, mending: &Mending, fix: &Fix) -> String {
    let mut parts = moves(told, mending, fix);
    parts.extend(changes(told, mending.target, &fix.change));
    if !fix.refuse.is_empty() {
        let names: Vec<String> = fix.refuse.iter().map(|&i| brought(&told.course.loads[i]).words).collect();
        parts.push(format!("leave out {}", listed(&names)));
    }
    if parts.is_empty() { "nothing".into() } else { parts.join(", ") }
}

/// What is changed at a target, in words.
pub(super) fn changes(told: &Told, target: usize, change: &Change) -> Vec<String> {
    changes_at(told, &told.course.targets[target], change)
}

/// The same of a target.
pub(super) fn changes_at(told: &Told, target: &Target, change: &Change) -> Vec<String> {
    let mut parts = Vec::new();
    let hung = change.plate.as_ref().or_else(|| change.fresh.then_some(&target.plate));
    if let Some(hung) = hung {
        let hung = plate(told, hung) + steel(target);
        parts.push(match target.setup.condition {
            state if is_damaged(state) => format!("retire the {state} plate and hang a new {hung}"),
            _ if change.plate.is_some() => format!("hang {hung}"),
            _ => format!("retire it and hang a new {hung}"),
        });
    }
    if change.look {
        parts.push(look(target.setup.condition, target.setup.steel));
    }
    if let Some(mount) = change.mount {
        parts.push(match target.kind {
            Kind::Plate => format!("have it {}", mount.words()),
            _ => format!("put a plate {} in its place", mount.words()),
        });
    }
    if let Some(tilt) = change.tilt {
        let leans = match tilt.si() {
            t if t > 1e-9 => format!("lean it {} toward the shooter", degrees(tilt)),
            t if t < -1e-9 => format!("lean it {} away from the shooter", degrees(-tilt)),
            _ => "hang it plumb".into(),
        };
        parts.push(leans);
    }
    if change.square {
        parts.push("turn the face square to the line".into());
    }
    parts
}

/// What a new plate is to be of, where the one that hangs is of another steel, or of one that is not known.
pub(super) fn steel(target: &Target) -> &'static str {
    if target.setup.steel == crate::plate::Steel::Ar500 { "" } else { " AR500" }
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

/// Whether any load of a class is left to shoot at a target, those left out there and some others refused.
pub(super) fn is_left(course: &Course, target: &Target, refused: &[usize], class: Class) -> bool {
    let mut loads = course.loads.iter().enumerate().filter(|(_, load)| load.class() == class);
    loads.any(|(index, _)| !refused.contains(&index) && !target.without.contains(&index))
}

/// The positions that are left to a class, `from road (200 yd) only`; of those of a stage without their distances.
pub(super) fn only_from(told: &Told, target: usize, moved: Move, is_stages: bool) -> String {
    let target = &told.course.targets[target];
    let line = &told.course.lines[target.line];
    let (Move::From(index) | Move::UpTo(index)) = moved else { return String::new() };
    let position = &line.positions[index];
    let distance = told.units.distance(position.distance(target.at));
    let distance = if position.reach.si() > 0.0 {
        format!("{distance} to {}", told.units.distance(position.farthest(target.at)))
    } else {
        distance
    };
    let from = match &position.name {
        Some(name) if is_stages => name.clone(),
        Some(name) => format!("{name} ({distance})"),
        None => distance,
    };
    format!("from {from}{} only", and_beyond(line, moved))
}

/// That what is nearer, or farther, is left as well, where anything is.
pub(super) fn and_beyond(line: &Line, moved: Move) -> &'static str {
    let any = |is_so: &dyn Fn(Length) -> bool| line.positions.iter().any(|position| is_so(position.offset));
    match moved {
        Move::UpTo(last) if any(&|offset| offset < line.positions[last].offset) => " and nearer",
        Move::From(first) if any(&|offset| offset > line.positions[first].offset) => " and farther",
        _ => "",
    }
}

/// How the line moves, classes that move alike together.
fn moves(told: &Told, mending: &Mending, fix: &Fix) -> Vec<String> {
    let target = &told.course.targets[mending.target];
    let line = &told.course.lines[target.line];
    let shared = !fix.apart && told.course.targets.iter().filter(|t| t.line == target.line).count() > 1;
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
            Move::From(_) | Move::UpTo(_) => {
                let from = only_from(told, mending.target, *moved, shared);
                if all { format!("shoot it {from}") } else { format!("{who} {from}") }
            }
            Move::Back(by) if shared || (!fix.apart && is_uneven(line)) => {
                let by = told.units.distance(*by);
                if all { format!("move the line back {by}") } else { format!("{who} step back {by}") }
            }
            _ => {
                let nearest = nearest(fix, &alike);
                let to = told.units.line(nearest);
                if all && fix.apart {
                    format!("set it back to {to}, the line stays")
                } else if all {
                    format!("move the line to {to}")
                } else {
                    format!("{who} step back to {to}")
                }
            }
        };
        parts.push(words);
    }
    let shoots = |class| is_left(told.course, target, &fix.refuse, class);
    let stay = fix.moves.iter().filter(|(class, moved)| *moved == Move::Keep && shoots(*class));
    let stay: Vec<String> = stay.map(|(class, _)| shooters(*class)).collect();
    if !parts.is_empty() && !stay.is_empty() {
        parts.insert(0, format!("{} may stay", listed(&stay)));
    }
    parts
}

/// Whether a line's positions stand on different slopes: a distance that serves the nearest of them may not serve
/// another, so that they move back together.
pub(super) fn is_uneven(line: &Line) -> bool {
    let slope = |at: usize| line.positions[at].slope.map(Measure::si);
    (1..line.positions.len()).any(|at| slope(at) != slope(0))
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
    let near = told.units.distance(position.distance(target.at));
    let far = (position.reach.si() > 0.0).then(|| told.units.distance(position.farthest(target.at)));
    let distance = far.map_or(near.clone(), |far| format!("{near} to {far}"));
    let slope = position.slope.map(|slope| format!(", slope {}", degrees(slope))).unwrap_or_default();
    let name = position.name.as_ref().map(|name| format!("{name}, ")).unwrap_or_default();
    format!("{name}{distance}{slope}")
}

/// What is left to do where no fix was found. What one rule calls for does not mend what several block, and no plate,
/// line or face that was tried does.
pub(super) fn none(told: &Told, mending: &Mending) -> String {
    let cases = told.cases_of(mending.target).iter().map(|case| told.cases[*case].slope);
    let mut slopes: Vec<f64> = cases.map(Measure::si).collect();
    slopes.dedup();
    if let Some(whole) = told.whole.as_ref().filter(|_| told.by_air.contains(&mending.target)) {
        return format!("no fix found that holds for all of {whole}: give the air");
    }
    if !told.course.anything.is_empty() {
        return "no fix found for all that is admitted: narrow the ammunition rules, or take it down".into();
    }
    let is_for_new = |rule: &&Rule| {
        let state = !rule.filter.condition.is_empty() || !rule.filter.steel.is_empty();
        state || matches!(rule.subject, Subject::Energy | Subject::Demand | Subject::Thickness)
    };
    if let Some(nearer) = super::nearer::words(told, mending.target) {
        return format!("no fix found{}: {nearer}; there, or take it down", by_range(mending));
    }
    if told.shop.is_some() && mending.blocking.iter().any(is_for_new) {
        return "no fix found with a plate that the shop sells: hang one from elsewhere, or take it down".into();
    }
    if slopes.len() > 1 {
        return "no fix found that serves every position: shoot it from fewer of them or with fewer loads, lean it otherwise, or take it down".into();
    }
    let next = match mending.blocking.as_slice() {
        [only]
            if matches!(
                only.subject,
                Subject::Case
                    | Subject::Width
                    | Subject::HangsBy
                    | Subject::MuzzleSpeed
                    | Subject::MuzzleEnergy
                    | Subject::Calibre
            ) =>
        {
            next(only)
        }
        _ => String::new(),
    };
    format!("no fix found{}: {}", by_range(mending), if next.is_empty() { "take it down" } else { &next })
}

/// A range's own rules are named: its people may know a way.
fn by_range(mending: &Mending) -> String {
    let ranges = mending.blocking.iter().filter(|rule| rule.overlay.is_some());
    let ranges: Vec<String> = ranges.map(|rule| id(rule)).collect();
    if ranges.is_empty() { String::new() } else { format!(" ({})", listed(&ranges)) }
}

/// What is left, as it is to be done: `leave 44 Magnum 240 gr (P2) at home`, `admit handguns from 700 ft/s`.
pub(super) fn left(told: &Told, home: &Home) -> String {
    match home.from.as_slice() {
        [] => format!("leave {} at home", loads_left(told, home)),
        from => format!("admit {} by `muzzle-velocity-at-least`", admitted(told, from)),
    }
}

fn loads_left(told: &Told, home: &Home) -> String {
    let loads: Vec<String> = home.loads.iter().map(|load| shortly(&told.course.loads[*load])).collect();
    listed(&loads)
}

/// The same behind what else is said: many who bring one are counted.
fn loads_left_in_short(told: &Told, home: &Home) -> String {
    let loads = home.loads.iter().map(|load| &told.course.loads[*load]);
    let words = loads.map(|load| match load.who.len() {
        0..=2 => shortly(load),
        many => format!("{} ({many} shooters)", load.load.facts().name),
    });
    listed(&words.collect::<Vec<_>>())
}

/// `handguns from 700 ft/s and carbines from 900 ft/s`.
fn admitted(told: &Told, from: &[(Class, Velocity)]) -> String {
    let each = from.iter().map(|(class, speed)| format!("{} from {}", shooters(*class), told.units.speed(*speed)));
    listed(&each.collect::<Vec<String>>())
}

/// The same as what every line holds with: `44 Magnum 240 gr (P2) left at home`.
pub(super) fn with_left(told: &Told, home: &Home) -> String {
    match home.from.as_slice() {
        [] => format!("{} left at home", loads_left_in_short(told, home)),
        from => format!("{} admitted only", admitted(told, from)),
    }
}

/// A fix of a target that holds only with something left as well, where anything is.
pub(super) fn beside_left(told: &Told, target: usize, own: String) -> String {
    told.home_beside(target).map(|home| format!("{own}; {} as well", left(told, home))).unwrap_or(own)
}

/// A fix of a target that passes once something is left: that first, and else the fix.
pub(super) fn or_left(told: &Told, target: usize, own: String) -> String {
    let Some(home) = told.home.as_ref().filter(|_| told.is_lifted(target)) else { return own };
    let is_the_same = |fix: &Fix| {
        let moves = fix.moves.iter().any(|(_, moved)| *moved != Move::Keep);
        let left = !fix.refuse.is_empty() && fix.refuse.iter().all(|load| home.loads.contains(load));
        home.from.is_empty() && left && fix.change.is_nothing() && !moves
    };
    let left = left(told, home);
    if told.mending(target).and_then(|m| m.fix.as_ref()).is_some_and(is_the_same) {
        return left;
    }
    let others = if told.mendings.len() > home.lifts.len() { ": the other fixes then do not hold" } else { "" };
    format!("{left} (or {own}{others})")
}
