//! A page on which much is to be fixed: each target by name once where that will do, what blocks the most first, in no
//! more lines than a director reads.

use super::gather::{Names, gathered};
use super::item::{Item, first_of, grounds, made, put, put_one, refusals, retires};
use super::part::Part;
use super::shift::{Shift, shifts};
use super::words::{self, count};
use super::{Home, Told};
use crate::advisor::answer::{CourseAnswer, CourseBrief};
use crate::course::{Change, Move, is_damaged};
use crate::load::Class;
use crate::order::Order;
use crate::quantity::Measure;
use crate::rules::Rule;
use crate::words::{degrees, listed};
use std::collections::HashSet;

/// Lines of a page that is read in a minute.
pub(super) const PAGE: usize = 32;
/// Their width.
const WIDTH: usize = 80;
/// Lines that fixes have whatever else is told, and fixes that are told as such.
const LEAST: usize = 9;
const TOLD: usize = 1;

/// Lines that a text takes.
pub(super) fn lines(text: &str) -> usize {
    let mut lines = usize::from(!text.is_empty());
    let mut column = 0;
    for word in text.split_whitespace() {
        let long = word.chars().count();
        if column > 0 && column + 1 + long > WIDTH {
            (lines, column) = (lines + 1, long);
        } else {
            column += long + usize::from(column > 0);
        }
    }
    lines
}

fn note(heading: &str, text: &str) -> usize {
    if text.is_empty() { 0 } else { lines(&format!("{heading}: {text}")) }
}

/// About how many lines the page of an answer takes with these first lines.
pub(super) fn page(answer: &CourseAnswer, brief: &CourseBrief) -> usize {
    let preamble = &answer.preamble;
    let mut unjudged: Vec<(&str, String)> = Vec::new();
    for item in &preamble.not_judged {
        let what = format!("{} {}", item.what, item.place.as_deref().unwrap_or_default());
        match unjudged.iter_mut().find(|(why, _)| *why == item.why) {
            Some((_, of)) => *of += &format!(" {what}"),
            None => unjudged.push((&item.why, what)),
        }
    }
    let unjudged: usize = unjudged.iter().map(|(why, of)| note("Not judged", &format!("{of}: {why}"))).sum();
    let says_itself = ["mount", "temperature", "pressure", "face", "condition", "steel", "duty"];
    let holds = preamble.holds_for.iter().filter(|condition| !(brief.is_crowded && condition.is_each_target_s()));
    // What the line above says is not said again.
    let holds = holds.filter(|condition| condition.what != "steel" && condition.what != "pressure");
    let holds = holds.map(|condition| {
        let what = condition.what.as_str();
        if says_itself.contains(&what) { condition.value.clone() } else { format!("{what} {}", condition.value) }
    });
    let holds = holds.collect::<Vec<_>>().join("; ");
    let head = [&preamble.headline, &preamble.nearest, &preamble.stands_on].into_iter().map(|text| lines(text));
    head.sum::<usize>()
        + unjudged
        + 1
        + brief.fix.iter().map(|fix| note("Fix", fix)).sum::<usize>()
        + note("Good", &brief.good)
        + note("Leave", &brief.leave.join(" "))
        + note("Decide", &brief.decide.join(" "))
        + note("Haul", &brief.haul)
        + note("Left out", &preamble.left_out.join(". "))
        + note("Holds for", &holds)
        + note("Safety", &preamble.safety)
}

/// The fixes in as many lines, those for the most targets first; the targets of the others by name.
pub(super) fn fixes(told: &Told, room: usize) -> Vec<String> {
    let names = Names::of(told);
    let first: Vec<Item> = told.home.iter().map(|home| left(told, &names, home)).collect();
    let lost = lost(told, &names);
    let ways = [true, false].map(|split| {
        let mut items = changes(told, &names, split);
        items.extend(refusals(told, words::some, &|targets| names.list(told, targets)));
        let mut done: HashSet<usize> =
            first.iter().chain(&lost).chain(&items).flat_map(|i| i.targets.clone()).collect();
        items.extend(moved(told, &names, &mut done));
        items.order_by_key(|item| (!item.is_first, std::cmp::Reverse(item.concerns.len())));
        items
    });
    let long = |items: &Vec<Item>| items.iter().map(|item| note("Fix", &item.words)).sum::<usize>();
    let [split, whole] = ways;
    let mut items: Vec<Item> = first;
    items.extend(lost);
    items.extend(if long(&split) < long(&whole) { split } else { whole });
    let room = room.max(LEAST);
    let fits = |lines: &[String]| lines.iter().map(|line| note("Fix", line)).sum::<usize>() <= room;
    for shown in (TOLD.min(items.len())..=items.len()).rev() {
        let whole = cut(told, &names, &items, shown);
        if !fits(&whole) {
            continue;
        }
        // Of the next one as many parts as have room.
        let parts = items.get(shown).map_or(0, |item| item.parts.len());
        let more = (1..parts).rev().map(|parts| {
            let mut items = items.clone();
            items[shown] = items[shown].with(parts);
            cut(told, &names, &items, shown + 1)
        });
        return more.into_iter().find(|lines| fits(lines)).unwrap_or(whole);
    }
    cut(told, &names, &items, TOLD.min(items.len()))
}

fn joined(parts: &[(String, Vec<usize>)]) -> String {
    parts.iter().map(|(words, _)| words.as_str()).collect::<Vec<_>>().join("; ")
}

impl Item {
    fn ending(self, tail: String) -> Self {
        Self { tail, ..self }
    }

    /// With its first parts alone; the others are counted.
    fn with(&self, parts: usize) -> Self {
        let (shown, rest) = self.parts.split_at(parts);
        let words = format!("{}{}; {} more{}", self.head, joined(shown), rest.len(), self.tail);
        let targets = shown.iter().flat_map(|(_, targets)| targets.iter().copied()).collect();
        Self { words, targets, parts: Vec::new(), ..self.clone() }
    }
}

/// The first fixes, and the targets of the others by name.
fn cut(told: &Told, names: &Names, items: &[Item], shown: usize) -> Vec<String> {
    let (first, rest) = items.split_at(shown);
    let mut lines: Vec<String> = first.iter().map(|item| item.words.clone()).collect();
    let named: HashSet<usize> = first.iter().flat_map(|item| item.targets.iter().copied()).collect();
    // What an item that is shown in part has left unnamed is named too.
    let mut targets: Vec<usize> = items.iter().flat_map(|item| item.concerns.iter().copied()).collect();
    targets.retain(|target| !named.contains(target));
    let above = if rest.iter().any(|item| item.concerns.iter().any(|t| named.contains(t))) {
        ", some at targets above"
    } else {
        ""
    };
    targets.order();
    targets.dedup();
    if rest.is_empty() && targets.is_empty() {
        return lines;
    }
    let places = if targets.is_empty() { String::new() } else { format!(": {}", names.list(told, &targets)) };
    let fixes = match rest.len() {
        0 => "the rest".into(),
        1 => "1 more fix".into(),
        more => format!("{more} more fixes"),
    };
    lines.push(format!("{fixes}{above}, see `--full`{places}."));
    lines
}

/// What is left, and the targets that then need no fix.
fn left(told: &Told, names: &Names, home: &Home) -> Item {
    let blocking = |target| told.mending(target).and_then(|m| m.blocking.first().copied()).into_iter().collect();
    let (rules, _) = grounds(told, &home.lifts, &blocking, &|_| true);
    let rules = first_of(&rules, 1);
    let lifted = names.list(told, &home.lifts);
    let words = format!("{}: {lifted} ({rules}); all below holds only then.", words::left(told, home));
    Item::new(words, &home.lifts)
}

fn lost(told: &Told, names: &Names) -> Vec<Item> {
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    let lost = told.mendings.iter().filter(|m| m.fix.is_none() && !told.is_lifted(m.target));
    lost.for_each(|mending| put(&mut groups, words::none(told, mending), mending.target));
    let items =
        groups.iter().map(|(words, targets)| Item::new(format!("{words}: {}.", names.list(told, targets)), targets));
    items.collect()
}

/// What is changed at targets: each combination, or each part of it with all its values.
fn changes(told: &Told, names: &Names, split: bool) -> Vec<Item> {
    /// The values of what is done, each with its targets.
    type Values = Vec<(String, Vec<usize>)>;
    let mut groups: Vec<((Part, bool, &str), Values)> = Vec::new();
    for (mending, fix) in made(told).filter(|(_, fix)| !fix.change.is_nothing()) {
        for part in if split { &Part::EACH[..] } else { &[Part::Whole] } {
            let change = part.of(&fix.change);
            if change.is_nothing() {
                continue;
            }
            let retired = matches!(part, Part::Whole | Part::Plate) && retires(told, mending.target, fix);
            let done = changed(told, mending.target, &change);
            let (verb, value) = match done.as_slice() {
                [(verb, value)] => (*verb, value.clone()),
                several => {
                    let all = several.iter().map(|(verb, value)| format!("{verb}{value}"));
                    ("", all.collect::<Vec<_>>().join(", "))
                }
            };
            let key = (*part, retired, verb);
            let at = groups.iter().position(|(known, _)| *known == key).unwrap_or_else(|| {
                groups.push((key, Vec::new()));
                groups.len() - 1
            });
            put(&mut groups[at].1, value, mending.target);
        }
    }
    let mut items = Vec::new();
    for ((part, retired, verb), values) in groups {
        // Combinations are no values of one thing.
        let runs: Vec<&[(String, Vec<usize>)]> =
            if verb.is_empty() { values.chunks(1).collect() } else { vec![&values] };
        for values in runs {
            let targets: Vec<usize> = values.iter().flat_map(|(_, targets)| targets.iter().copied()).collect();
            let mut parts: Vec<(String, Vec<usize>)> =
                values.iter().map(|(value, at)| (format!("{value} at {}", names.list(told, at)), at.clone())).collect();
            parts.order_by_key(|(_, targets)| std::cmp::Reverse(targets.len()));
            let words = match values {
                [(value, targets)] => format!("{verb}{value}: {}", names.list(told, targets)),
                _ => format!("{verb}{}", joined(&parts)),
            };
            let why = why(told, &targets, &|target| part.rules(told, target), &|_| true);
            let (head, tail) = (verb.to_owned(), format!(" ({why})."));
            items.push(Item { is_first: retired, parts, head, ..Item::new(words + &tail, &targets).ending(tail) });
        }
    }
    items
}

/// What is changed at a target, in as few words as say it: what is done, and by how much.
fn changed(told: &Told, target: usize, change: &Change) -> Vec<(&'static str, String)> {
    let target = &told.course.targets[target];
    let mut parts = Vec::new();
    if let Some(hung) = change.plate.as_ref().or_else(|| change.fresh.then_some(&target.plate)) {
        let verb = match target.setup.condition {
            state if is_damaged(state) => "retire the damaged plate, hang a new ",
            _ if change.plate.is_some() => "hang ",
            _ => "retire it, hang a new ",
        };
        parts.push((verb, words::plate(told, hung) + words::steel(target)));
    }
    let others = Change { plate: None, fresh: false, tilt: None, square: false, ..change.clone() };
    let shorter = |words: String| match words.strip_prefix("have it hung from ") {
        Some(rest) => ("hang it from ", rest.to_owned()),
        None => ("", words),
    };
    parts.extend(words::changes_at(told, target, &others).into_iter().map(shorter));
    parts.extend(change.tilt.map(|tilt| match tilt.si() {
        t if t > 1e-9 => ("lean it ", degrees(tilt)),
        t if t < -1e-9 => ("lean it away from the shooter ", degrees(-tilt)),
        _ => ("hang it plumb", String::new()),
    }));
    parts.extend(change.square.then(|| ("turn it square", String::new())));
    parts
}

/// The first rule and how many more there are, and how many it concerns where they are more than a few.
fn why<'r>(
    told: &Told<'_, 'r>,
    targets: &[usize],
    rules: &dyn Fn(usize) -> Vec<&'r Rule>,
    is_of: &dyn Fn(Class) -> bool,
) -> String {
    let (rules, people) = grounds(told, targets, rules, is_of);
    let rules = first_of(&rules, 1);
    match people.len() {
        0 => rules,
        1..=3 => format!("{rules}; {}", listed(&words::called(&people))),
        many if told.course.loads.iter().all(|load| !load.who.is_empty()) => format!("{rules}; {many} shooters"),
        many => format!("{rules}; {many} loads"),
    }
}

/// The lines that move, by whom and how far; the targets that ask for it and that nothing else names.
fn moved(told: &Told, names: &Names, done: &mut HashSet<usize>) -> Vec<Item> {
    let mut kinds: Vec<(bool, Vec<Shift>)> = Vec::new();
    for shift in shifts(told) {
        put_one(&mut kinds, matches!(shift.moved, Move::From(_) | Move::UpTo(_)), shift);
    }
    let items = kinds.iter().map(|(is_from, mine)| {
        let mut by: Vec<((String, String), Vec<&Shift>)> = Vec::new();
        for shift in mine {
            let far = shift.only_from(told).filter(|_| *is_from).unwrap_or_else(|| shift.by(told));
            put_one(&mut by, (shift.who(), far), shift);
        }
        // Those of the same shooters follow each other.
        let order: Vec<String> = by.iter().map(|((who, _), _)| who.clone()).collect();
        by.order_by_key(|((who, _), mine)| {
            let targets: usize = mine.iter().map(|shift| shift.targets.len()).sum();
            (order.iter().position(|other| other == who), std::cmp::Reverse(targets))
        });
        let mut before = String::new();
        let mut parts: Vec<(String, Vec<usize>)> = Vec::new();
        for ((who, far), mine) in &by {
            // Who steps back is said once for all that follows.
            let whose = if *who == before { String::new() } else { format!("{who} ") };
            before.clone_from(who);
            let mut named = Vec::new();
            let at = places(told, names, mine, done, &mut named);
            parts.push((format!("{whose}{far} at {at}"), named));
        }
        let named: Vec<usize> = parts.iter().flat_map(|(_, named)| named.iter().copied()).collect();
        let concerns: Vec<usize> = mine.iter().flat_map(|shift| shift.targets.iter().copied()).collect();
        let rules = |target| {
            told.fix(target).into_iter().flat_map(|fix| fix.reasons.moved.iter().map(|(_, rule)| *rule)).collect()
        };
        let why = why(told, &concerns, &rules, &|_| true);
        let head = if *is_from { "shoot from farther only: " } else { "lines back: " }.to_owned();
        let tail = format!(" ({why}).");
        let item = Item::new(format!("{head}{}{tail}", joined(&parts)), &named).ending(tail);
        Item { concerns, parts, head, ..item }
    });
    items.collect()
}

/// Stages whose line moves alike, and targets that have a line of their own.
fn places(told: &Told, names: &Names, mine: &[&Shift], done: &mut HashSet<usize>, named: &mut Vec<usize>) -> String {
    let (shared, own): (Vec<&&Shift>, Vec<&&Shift>) = mine.iter().partition(|shift| shift.is_shared(told));
    let own: Vec<usize> = own.iter().flat_map(|shift| shift.targets.iter().copied()).collect();
    let mut open: Vec<usize> = shared.iter().flat_map(|shift| shift.targets.iter().copied()).collect();
    open.retain(|target| done.insert(*target));
    named.extend(own.iter().chain(&open));
    done.extend(&own);
    let mut words: Vec<String> = Vec::new();
    if !shared.is_empty() {
        let stages: Vec<String> = shared.iter().map(|shift| shift.place(told)).collect();
        // Of one stage its targets need no stage.
        let whom = match stages.as_slice() {
            _ if open.is_empty() => String::new(),
            [_] => format!(
                " ({})",
                gathered(&open.iter().map(|t| told.course.targets[*t].name.clone()).collect::<Vec<_>>())
            ),
            _ => format!(" ({})", names.list(told, &open)),
        };
        words.push(gathered(&stages) + &whom);
    }
    if !own.is_empty() {
        words.push(names.list(told, &own));
    }
    listed(&words)
}

/// Loads that stay at home or are decided on, those of one reason together.
pub(super) fn by_reason(lines: &[super::leave::Line]) -> Vec<String> {
    let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
    for line in lines {
        match reasons.iter_mut().find(|(why, _)| *why == line.brief()) {
            Some((_, people)) => people.extend(line.people()),
            None => reasons.push((line.brief(), line.people())),
        }
    }
    reasons.order_by_key(|(_, people)| std::cmp::Reverse(people.len()));
    let few = |people: &[String]| {
        let named = words::called(&people[..people.len().min(REASON_NAMED)]);
        let more = people.len() - named.len();
        if more > 0 { format!("{} and {more} more", named.join(", ")) } else { listed(&named) }
    };
    let shown = if reasons.len() > REASONS + 1 { REASONS } else { reasons.len() };
    let mut told: Vec<String> =
        reasons[..shown].iter().map(|(why, people)| format!("{}: {why}.", few(people))).collect();
    let rest: Vec<String> = reasons[shown..].iter().flat_map(|(_, people)| people.iter().cloned()).collect();
    if !rest.is_empty() {
        told.push(format!("{}, of {}: see `--full`.", count(rest.len(), "more load"), few(&rest)));
    }
    told
}

/// Reasons that are told, and people who are named with each.
const REASONS: usize = 2;
const REASON_NAMED: usize = 5;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_counted_as_they_are_wrapped() {
        assert_eq!(lines(""), 0);
        assert_eq!(lines("one"), 1);
        let forty = "a".repeat(40);
        assert_eq!(lines(&format!("{forty} {}", "b".repeat(39))), 1);
        assert_eq!(lines(&format!("{forty} {}", "b".repeat(40))), 2);
    }
}
