//! What a director acts on in a minute: a line's move once, plates that change together, everything cut to a few lines.

use super::words::{self, count, id, shooters, some};
use super::{Home, Told, haul, leave, standing};
use crate::advisor::answer::{CourseAnswer, CourseBrief, TargetAnswer};
use crate::course::{Fix, Mending, Move, is_damaged};
use crate::load::Class;
use crate::rules::Rule;
use crate::words::listed;
use std::collections::HashSet;

/// Lines of a list before the rest is counted.
const FIXES: usize = 9;
const LEAVE: usize = 4;
/// Stages that a group of targets names.
const STAGES: usize = 4;
/// Names of rules, of people, and of targets of a stage.
const NAMED: usize = 2;
/// Lines that are told each by itself.
const SHIFTS: usize = 4;
/// Lines that a group names.
const LINES: usize = 12;

pub(super) fn of(told: &Told, answer: &CourseAnswer) -> CourseBrief {
    let mut leave = shortened(&leave::at_home(told));
    leave.extend(leave::lifts(told, few, true));
    let mut decide = shortened(&leave::doubtful(told, false));
    decide.extend(leave::in_part(told));
    decide.extend(standing::told(told, true).into_iter().map(|line| line + "."));
    CourseBrief {
        fix: named(told, cut(fixes(told))),
        good: good(told, answer),
        leave,
        decide: cut(decide),
        haul: haul::brief(told, &answer.haul, answer.haul_mass.0),
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

/// Where targets are counted in place of being named, the long form names them.
fn named(told: &Told, mut items: Vec<String>) -> Vec<String> {
    if is_counted(told) && !items.last().is_some_and(|last| last.contains("`--full`")) {
        items.push("each target by name: see `--full`.".into());
    }
    items
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

fn fixes(told: &Told) -> Vec<String> {
    let mut lines: Vec<String> = told.home.iter().map(|home| left(told, home)).collect();
    // What comes off a target for good is named target by target.
    lines.extend(changes(told, true));
    let lost = told.mendings.iter().filter(|m| m.fix.is_none() && !told.is_lifted(m.target));
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    lost.for_each(|mending| put(&mut groups, words::none(mending), mending.target));
    lines.extend(groups.iter().map(|(words, targets)| format!("{words}: {}.", placed(told, targets))));
    lines.extend(moved(told));
    lines.extend(changes(told, false));
    lines.extend(refusals(told));
    lines
}

/// The load that is left at home, with the targets that then need no fix.
fn left(told: &Told, home: &Home) -> String {
    let rules = because(told, &home.lifts, &|target| {
        told.mending(target).and_then(|m| m.blocking.first().copied()).into_iter().collect()
    });
    let others = if told.mendings.len() > home.lifts.len() { "the other fixes and " } else { "" };
    format!(
        "{}: {} ({}); {others}every line below hold only then.",
        words::left(told, home),
        placed(told, &home.lifts),
        rules.split(';').next().unwrap_or_default()
    )
}

/// Whether a short list may have counted a target in place of naming it.
fn is_counted(told: &Told) -> bool {
    let stages = by_stage(told, told.mendings.iter().map(|mending| mending.target));
    stages.len() > STAGES || stages.iter().any(|(_, mine)| mine.len() > NAMED + 1) || shifts(told).len() > SHIFTS
}

fn put<K: PartialEq>(groups: &mut Vec<(K, Vec<usize>)>, key: K, target: usize) {
    match groups.iter_mut().find(|(other, _)| *other == key) {
        Some((_, targets)) if targets.contains(&target) => {}
        Some((_, targets)) => targets.push(target),
        None => groups.push((key, vec![target])),
    }
}

/// Targets by stage, in the order of the first of each.
fn by_stage(told: &Told, targets: impl Iterator<Item = usize>) -> Vec<(usize, Vec<usize>)> {
    let mut stages: Vec<(usize, Vec<usize>)> = Vec::new();
    targets.for_each(|target| put(&mut stages, told.course.targets[target].stage, target));
    stages
}

/// The fixes that are made.
fn made<'t, 'r>(told: &'t Told<'_, 'r>) -> impl Iterator<Item = (&'t Mending<'r>, &'t Fix<'r>)> {
    let mendings = told.mendings.iter().filter(|mending| !told.is_lifted(mending.target));
    mendings.filter_map(|mending| Some((mending, mending.fix.as_ref()?)))
}

/// A move of a line, with the targets that ask for it.
struct Shift {
    line: usize,
    moved: Move,
    classes: Vec<Class>,
    /// Whether every class that shoots there is moved so.
    all: bool,
    /// Whether its one target is set farther off, and the stage's line stays.
    apart: bool,
    targets: Vec<usize>,
}

fn shifts(told: &Told) -> Vec<Shift> {
    let mut shifts: Vec<Shift> = Vec::new();
    for (mending, fix) in made(told) {
        let line = told.course.targets[mending.target].line;
        for &(class, moved) in fix.moves.iter().filter(|(_, moved)| *moved != Move::Keep) {
            let all = fix.moves.iter().all(|(_, other)| *other == moved);
            let same = |shift: &Shift| shift.line == line && shift.moved == moved && !shift.apart && !fix.apart;
            let at = shifts.iter().position(same);
            let at = at.unwrap_or_else(|| {
                let (classes, targets) = (Vec::new(), Vec::new());
                shifts.push(Shift { line, moved, classes, all: true, apart: fix.apart, targets });
                shifts.len() - 1
            });
            let shift = &mut shifts[at];
            shift.all &= all;
            if !shift.classes.contains(&class) {
                shift.classes.push(class);
            }
            if !shift.targets.contains(&mending.target) {
                shift.targets.push(mending.target);
            }
        }
    }
    shifts
}

/// The lines that move: each by itself, or, where they are many, those of the same shooters together.
fn moved(told: &Told) -> Vec<String> {
    let shifts = shifts(told);
    if shifts.len() <= SHIFTS {
        return shifts.iter().map(|shift| shift.words(told)).collect();
    }
    let mut groups: Vec<(String, Vec<&Shift>)> = Vec::new();
    let mut lines = Vec::new();
    for shift in &shifts {
        if !matches!(shift.moved, Move::Back(_)) {
            lines.push(shift.words(told));
            continue;
        }
        let who = shift.who();
        match groups.iter_mut().find(|(other, _)| *other == who) {
            Some((_, mine)) => mine.push(shift),
            None => groups.push((who, vec![shift])),
        }
    }
    let together = groups.iter().map(|(who, mine)| {
        let mut by: Vec<(String, Vec<String>)> = Vec::new();
        for shift in mine.iter().take(LINES) {
            let (far, place) = (shift.by(told), shift.place(told));
            match by.iter_mut().find(|(other, _)| *other == far) {
                Some((_, places)) => places.push(place),
                None => by.push((far, vec![place])),
            }
        }
        let each = by.iter().map(|(far, places)| format!("{} {far}", listed(places)));
        let more = mine.len().saturating_sub(LINES);
        let more = if more > 0 { format!("; {}", count(more, "more line")) } else { String::new() };
        let targets: Vec<usize> = mine.iter().flat_map(|shift| shift.targets.iter().copied()).collect();
        let why = because(told, &targets, &moved_by(told));
        format!("lines back for {who}: {}{more} ({why}).", each.collect::<Vec<_>>().join("; "))
    });
    together.chain(lines).collect()
}

impl Shift {
    /// Who steps back.
    fn who(&self) -> String {
        listed(&self.classes.iter().map(|class| shooters(*class)).collect::<Vec<_>>())
    }

    fn is_shared(&self, told: &Told) -> bool {
        !self.apart && told.course.targets.iter().filter(|target| target.line == self.line).nth(1).is_some()
    }

    /// The stage, or the target that has a line of its own.
    fn place(&self, told: &Told) -> String {
        let first = &told.course.targets[self.targets[0]];
        let stage = &told.course.stages[first.stage].name;
        if self.is_shared(told) { stage.clone() } else { format!("{stage}, {}", first.name) }
    }

    /// How far back, or to where.
    fn by(&self, told: &Told) -> String {
        match self.moved {
            Move::Back(by) if self.is_shared(told) => format!("by {}", told.units.distance(by)),
            _ => {
                let fix = told.fix(self.targets[0]);
                let own = fix.into_iter().flat_map(|f| &f.distances).filter(|(class, _)| self.classes.contains(class));
                let to = own.map(|(_, at)| *at).reduce(|a, b| if b < a { b } else { a });
                to.map_or_else(|| "farther".into(), |to| format!("to {}", told.units.distance_up(to)))
            }
        }
    }

    /// `Ridge: line back 198 yd for rifles (speed ceiling; bib 3, bib 9 and 4 more).`
    fn words(&self, told: &Told) -> String {
        let course = told.course;
        let first = &course.targets[self.targets[0]];
        let (is_shared, place, who) = (self.is_shared(told), self.place(told), self.who());
        let what = match self.moved {
            Move::Back(_) if is_shared => format!("line back {} for {who}", self.by(told)),
            Move::From(position) => {
                let position = &course.lines[self.line].positions[position];
                let distance = told.units.distance(position.distance(first.at));
                let from = match &position.name {
                    Some(name) if is_shared => name.clone(),
                    Some(name) => format!("{name} ({distance})"),
                    None => distance,
                };
                format!("{who} from {from} only")
            }
            _ if self.apart => format!("set it back {} for {who}, the line stays", self.by(told)),
            _ => format!("line {} for {who}", self.by(told)),
        };
        let stay = if self.all { "" } else { "; the others may stay" };
        // The targets that ask for a move of their stage's line.
        let whom = if is_shared { format!(": {}", names(told, &self.targets)) } else { String::new() };
        let why = because(told, &self.targets, &moved_by(told));
        format!("{place}: {what}{stay}{whom} ({why}){}.", self.instead(told))
    }

    /// What else would do, where it is the whole of the alternative: one change for every target that the move mends.
    fn instead(&self, told: &Told) -> String {
        let mut same: Option<String> = None;
        for &target in &self.targets {
            let Some(mending) = told.mending(target) else { return String::new() };
            let (Some(fix), Some(other)) = (&mending.fix, &mending.other) else { return String::new() };
            let words = words::changes(told, target, &other.change).join(", ");
            let is_whole = fix.change.is_nothing() && fix.refuse.is_empty() && other.refuse.is_empty();
            if !is_whole || words.is_empty() || same.as_ref().is_some_and(|same| *same != words) {
                return String::new();
            }
            same = Some(words);
        }
        let on = if self.targets.len() > 1 { format!(" at {}", names(told, &self.targets)) } else { String::new() };
        same.map(|words| format!(", or {words}{on}")).unwrap_or_default()
    }
}

/// The rule that sets how far a line moves for a target.
fn moved_by<'t, 'r>(told: &'t Told<'_, 'r>) -> impl Fn(usize) -> Vec<&'r Rule> + 't {
    |target| told.fix(target).and_then(|fix| fix.reasons.moved).into_iter().collect()
}

/// The rules that call for what is changed at a target.
fn changed_by<'t, 'r>(told: &'t Told<'_, 'r>) -> impl Fn(usize) -> Vec<&'r Rule> + 't {
    |target| told.fix(target).map(|fix| fix.reasons.changed.clone()).unwrap_or_default()
}

/// Why, and whom it concerns.
fn because<'r>(told: &Told<'_, 'r>, targets: &[usize], why: &dyn Fn(usize) -> Vec<&'r Rule>) -> String {
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
        for name in told.concerns(target) {
            if known.insert(name.clone()) {
                people.push(name);
            }
        }
    }
    let more = rules.len().saturating_sub(NAMED);
    rules.truncate(NAMED);
    let more = if more > 0 { format!(" and {}", count(more, "more rule")) } else { String::new() };
    let people = if people.is_empty() { String::new() } else { format!("; {}", few(&people)) };
    format!("{}{more}{people}", rules.join(", "))
}

/// Targets that are changed alike, over all stages: those whose plate is retired, or the others.
fn changes(told: &Told, retired: bool) -> Vec<String> {
    let mut groups: Vec<(String, Vec<usize>)> = Vec::new();
    let is_retired =
        |target: usize, fix: &Fix| fix.change.fresh && is_damaged(told.course.targets[target].setup.condition);
    let changed = made(told).filter(|(_, fix)| !fix.change.is_nothing());
    for (mending, fix) in changed.filter(|(mending, fix)| is_retired(mending.target, fix) == retired) {
        put(&mut groups, words::changes(told, mending.target, &fix.change).join(", "), mending.target);
    }
    let lines = groups.iter().map(|(words, targets)| {
        let places = if retired { every(told, targets) } else { placed(told, targets) };
        format!("{words}: {places} ({}).", because(told, targets, &changed_by(told)))
    });
    lines.collect()
}

/// Loads that are left out at targets.
fn refusals(told: &Told) -> Vec<String> {
    let mut groups: Vec<(usize, Vec<usize>)> = Vec::new();
    for (mending, fix) in made(told) {
        fix.refuse.iter().for_each(|&load| put(&mut groups, load, mending.target));
    }
    let lines = groups.iter().map(|(load, targets)| {
        let rules: Vec<String> = {
            let own = |(of, rule): &(usize, &'_ Rule)| (of == load).then(|| id(rule));
            let reasons = targets.iter().filter_map(|&target| told.fix(target)?.reasons.refused.iter().find_map(own));
            let mut rules: Vec<String> = Vec::new();
            reasons.for_each(|rule| {
                if !rules.contains(&rule) {
                    rules.push(rule);
                }
            });
            rules.truncate(NAMED);
            rules
        };
        let load = words::shortly(&told.course.loads[*load]);
        format!("leave out {load}: {} ({}).", placed(told, targets), rules.join(", "))
    });
    lines.collect()
}

/// Targets by stage: `Ridge gong 1, gong 2 and 3 more; Creek plate`.
fn placed(told: &Told, targets: &[usize]) -> String {
    let stages = by_stage(told, targets.iter().copied());
    let first = stages.iter().take(STAGES);
    let words = first.map(|(stage, mine)| format!("{} {}", told.course.stages[*stage].name, names(told, mine)));
    let words = words.collect::<Vec<_>>().join("; ");
    let rest: usize = stages.iter().skip(STAGES).map(|(_, mine)| mine.len()).sum();
    if rest == 0 { words } else { format!("{words}; {rest} more on {}", count(stages.len() - STAGES, "other stage")) }
}

/// Every target by stage.
fn every(told: &Told, targets: &[usize]) -> String {
    let stages = by_stage(told, targets.iter().copied());
    let words = stages.iter().map(|(stage, mine)| {
        let names: Vec<String> = mine.iter().map(|&target| told.course.targets[target].name.clone()).collect();
        format!("{} {}", told.course.stages[*stage].name, listed(&names))
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Names of targets of a stage, the first few.
fn names(told: &Told, targets: &[usize]) -> String {
    let names: Vec<String> = targets.iter().map(|&target| told.course.targets[target].name.clone()).collect();
    few(&names)
}

/// The first of a list, and how many more there are.
fn few(names: &[String]) -> String {
    let names = &words::numbered(names);
    if names.len() <= NAMED + 1 {
        return listed(names);
    }
    format!("{} and {} more", names[..NAMED].join(", "), names.len() - NAMED)
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
    let of_others = |target: &&TargetAnswer| others.contains(target.stage.as_str());
    let all: Vec<&TargetAnswer> = answer.targets.iter().filter(of_others).collect();
    let pass = all.iter().filter(|target| target.fix == "nothing").count();
    if pass > 0 {
        let on = if whole.is_empty() { String::new() } else { " on the other stages".into() };
        let read = if told.course.unread.is_empty() { "" } else { ", with what could be read" };
        parts.push(format!("{pass} of {}{on} as they stand{read}", count(all.len(), "target")));
    }
    if parts.is_empty() { String::new() } else { format!("{}.", parts.join("; ")) }
}
