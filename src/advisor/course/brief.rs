//! What a director acts on in a minute: a line's move once, plates that change together, everything cut to a few lines.

use super::item::{
    Item, NAMED, STAGES, because, by_stage, every, few, made, names_all, placed, put, refusals, retires,
};
use super::part::Part;
use super::shift::{SHIFTS, moved, shifts};
use super::words::{self, count, some};
use super::{Home, Told, compact, haul, leave, standing};
use crate::advisor::answer::{CourseAnswer, CourseBrief};
use crate::course::{Change, Fix};
use crate::order::Order;
use crate::words::listed;
use std::collections::HashSet;

/// Lines of a list before the rest is counted.
const FIXES: usize = 7;
const LEAVE: usize = 4;
/// Targets of a match that is small.
const SMALL: usize = 24;

/// The brief as it is, or, where the page would be longer than is read, everything in fewer words.
pub(super) fn of(told: &Told, answer: &CourseAnswer) -> CourseBrief {
    let brief = usual(told, answer);
    // A small match with few targets to fix has each told in full.
    let is_large = told.mendings.len() > words::BUSY || told.course.targets.len() > SMALL;
    let is_named = !told.mendings.is_empty() && names_all(told);
    if !is_large || !is_named || compact::page(answer, &brief) <= compact::PAGE {
        return brief;
    }
    let mut leave = compact::by_reason(&leave::at_home(told));
    leave.extend(leave::lifts_in_short(told));
    let mut decide = compact::by_reason(&leave::doubtful(told, false));
    decide.extend(leave::in_part(told));
    decide.extend(standing::told(told, true).into_iter().map(|line| line + "."));
    let mut brief = CourseBrief {
        fix: Vec::new(),
        leave,
        decide: cut(decide),
        good: good_in_short(told, answer),
        haul: haul::by_thickness(told, &answer.haul, answer.haul_mass.0),
        is_crowded: true,
    };
    let room = compact::PAGE.saturating_sub(compact::page(answer, &brief));
    brief.fix = compact::fixes(told, room);
    brief
}

fn usual(told: &Told, answer: &CourseAnswer) -> CourseBrief {
    let mut leave = shortened(&leave::at_home(told));
    leave.extend(leave::lifts(told, few, true));
    let mut decide = shortened(&leave::doubtful(told, false));
    decide.extend(leave::in_part(told));
    decide.extend(standing::told(told, true).into_iter().map(|line| line + "."));
    CourseBrief {
        fix: named(told, fixes(told)),
        good: good(told, answer),
        leave,
        decide: cut(decide),
        haul: haul::brief(told, &answer.haul, answer.haul_mass.0),
        is_crowded: false,
    }
}

/// The first of a list; what is cut is counted.
fn cut(mut items: Vec<String>) -> Vec<String> {
    let more = items.len().saturating_sub(FIXES + 1);
    if more > 0 {
        items.truncate(FIXES);
        items.push(format!("{} more: see `--full`.", more + 1));
    }
    items
}

/// The first fixes, and the targets of the others by name; where targets are counted, the long form names them.
fn named(told: &Told, mut items: Vec<Item>) -> Vec<String> {
    let rest = if items.len() > FIXES + 1 { items.split_off(FIXES) } else { Vec::new() };
    let named: HashSet<usize> = items.iter().flat_map(|item| item.targets.iter().copied()).collect();
    let mut lines: Vec<String> = items.into_iter().map(|item| item.words).collect();
    if !rest.is_empty() {
        let mut targets: Vec<usize> = rest.iter().flat_map(|item| item.targets.iter().copied()).collect();
        let all = targets.len();
        targets.retain(|target| !named.contains(target));
        let above = if targets.len() < all { ", some at targets above" } else { "" };
        targets.order();
        targets.dedup();
        let places = if targets.is_empty() { String::new() } else { format!(": {}", placed(told, &targets)) };
        let fixes = count(rest.len(), "more fix").replace("fixs", "fixes");
        lines.push(format!("{fixes}{above}, see `--full`{places}."));
    } else if is_counted(told) {
        lines.push("each target by name: see `--full`.".into());
    }
    lines
}

/// Loads to leave: the first with their reason, the others by who brings them.
fn shortened(lines: &[leave::Line]) -> Vec<String> {
    let first = if lines.len() > LEAVE { LEAVE - 1 } else { lines.len() };
    let mut items: Vec<String> = lines[..first].iter().map(leave::Line::short).collect();
    let rest: Vec<String> = lines[first..].iter().flat_map(leave::Line::people).collect();
    if !rest.is_empty() {
        let loads = count(lines.len() - first, "more load");
        items.push(format!("{loads}, of {}: see `--full`.", few(&rest)));
    }
    items
}

fn fixes(told: &Told) -> Vec<Item> {
    let mut items: Vec<Item> = told.home.iter().map(|home| Item::new(left(told, home), &home.lifts)).collect();
    // What comes off a target for good is named target by target.
    items.extend(changes(told, true));
    let lost = told.mendings.iter().filter(|m| m.fix.is_none() && !told.is_lifted(m.target));
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    lost.for_each(|mending| put(&mut groups, words::none(told, mending), mending.target));
    items.extend(
        groups.iter().map(|(words, targets)| Item::new(format!("{words}: {}.", placed(told, targets)), targets)),
    );
    items.extend(moved(told));
    items.extend(changes(told, false));
    items.extend(refusals(told, listed, &|targets| placed(told, targets)));
    items
}

/// The load that is left at home, with the targets that then need no fix.
fn left(told: &Told, home: &Home) -> String {
    let rules = because(told, &home.lifts, &|target| {
        told.mending(target).and_then(|m| m.blocking.first().copied()).into_iter().collect()
    });
    let (others, hold) =
        if told.mendings.len() > home.lifts.len() { ("the other fixes and ", "hold") } else { ("", "holds") };
    format!(
        "{}: {} ({}); {others}every line below {hold} only then.",
        words::left(told, home),
        placed(told, &home.lifts),
        rules.split(';').next().unwrap_or_default()
    )
}

/// Whether a short list may have counted a target in place of naming it.
fn is_counted(told: &Told) -> bool {
    let stages = by_stage(told, told.mendings.iter().map(|mending| mending.target));
    let is_many = stages.len() > STAGES || stages.iter().any(|(_, mine)| mine.len() > NAMED + 1);
    !names_all(told) && (is_many || shifts(told).len() > SHIFTS)
}

/// Targets that are changed alike, over all stages: those whose plate is retired, or the others. Where there are many
/// combinations, each change by itself.
fn changes(told: &Told, retired: bool) -> Vec<Item> {
    let is_retired = |target: usize, fix: &Fix| retires(told, target, fix);
    let changed: Vec<(usize, &Fix)> =
        made(told).filter(|(_, fix)| !fix.change.is_nothing()).map(|(mending, fix)| (mending.target, fix)).collect();
    let whole = |target: usize, change: &Change| words::changes(told, target, change).join(", ");
    let mut kinds: Vec<String> = changed.iter().map(|(target, fix)| whole(*target, &fix.change)).collect();
    kinds.order();
    kinds.dedup();
    let is_split = kinds.len() > COMBINED;
    let words = |target: usize, change: &Change| {
        let state = told.course.targets[target].setup.condition;
        let words = whole(target, change);
        // What of a plate is damaged stands in its reason.
        if is_split { words.replace(&format!("the {state} plate"), "the damaged plate") } else { words }
    };
    let mut groups: Vec<((Part, String), Vec<usize>)> = Vec::new();
    for (target, fix) in changed {
        for part in if is_split { &Part::EACH[..] } else { &[Part::Whole] } {
            let change = part.of(&fix.change);
            let is_plate = matches!(part, Part::Whole | Part::Plate);
            if !change.is_nothing() && (is_plate && is_retired(target, fix)) == retired {
                put(&mut groups, (*part, words(target, &change)), target);
            }
        }
    }
    groups.order_by_key(|((part, _), _)| *part);
    let items = groups.iter().map(|((part, words), targets)| {
        let places = if retired { every(told, targets) } else { placed(told, targets) };
        let why = because(told, targets, &|target| part.rules(told, target));
        Item::new(format!("{words}: {places} ({why})."), targets)
    });
    items.collect()
}

/// Combinations of changes that are told each by itself.
const COMBINED: usize = 6;

/// The same in as few words as say it.
fn good_in_short(told: &Told, answer: &CourseAnswer) -> String {
    let (whole, others): (Vec<_>, Vec<_>) = answer.stages.iter().partition(|stage| stage.closed.is_empty());
    let names: Vec<String> = whole.iter().map(|stage| stage.name.clone()).collect();
    let others: HashSet<&str> = others.iter().map(|stage| stage.name.as_str()).collect();
    let (pass, all) = passing(told, answer, &others);
    let read = if told.course.unread.is_empty() { "" } else { ", with what could be read" };
    match (names.is_empty(), pass) {
        (true, 0) => String::new(),
        (true, pass) => format!("{pass} of {} as they stand{read}.", count(all, "target")),
        (false, 0) => format!("all of {}.", some(&names)),
        (false, pass) => {
            format!("all of {}; {pass} of {} elsewhere{read}.", some(&names), count(all, "target"))
        }
    }
}

/// Stages that pass whole by name, and how many of the other targets do.
fn good(told: &Told, answer: &CourseAnswer) -> String {
    let (whole, others): (Vec<_>, Vec<_>) = answer.stages.iter().partition(|stage| stage.closed.is_empty());
    let mut parts: Vec<String> = Vec::new();
    if !whole.is_empty() {
        let names: Vec<String> = whole.iter().map(|stage| stage.name.clone()).collect();
        parts.push(format!("every target on {}", some(&names)));
    }
    let others: HashSet<&str> = others.iter().map(|stage| stage.name.as_str()).collect();
    let (pass, all) = passing(told, answer, &others);
    if pass > 0 {
        let on = if whole.is_empty() { String::new() } else { " on the other stages".into() };
        let read = if told.course.unread.is_empty() { "" } else { ", with what could be read" };
        parts.push(format!("{pass} of {}{on} as they stand{read}", count(all, "target")));
    }
    if parts.is_empty() { String::new() } else { format!("{}{}.", parts.join("; "), apart(told)) }
}

/// How many targets of some stages pass, and how many there are.
fn passing(told: &Told, answer: &CourseAnswer, stages: &HashSet<&str>) -> (usize, usize) {
    let mine = answer.targets.iter().enumerate().filter(|(_, target)| stages.contains(target.stage.as_str()));
    (mine.clone().filter(|(index, target)| told.passes(*index, target.verdict)).count(), mine.count())
}

/// What is good is so but for the loads that somebody decides on, where it stands on such a one.
fn apart(told: &Told) -> &'static str {
    let any = (0..told.course.targets.len()).any(|target| leave::decided(told, target).is_some());
    if any { ", the loads to decide on apart" } else { "" }
}
