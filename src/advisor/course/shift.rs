//! Lines that move: whose, how far, and for which targets.

use super::Told;
use super::item::{Item, made, names, names_all, placed, put_one, why_moved};
use super::words::{self, count, shooters};
use crate::course::Move;
use crate::load::Class;
use crate::words::listed;

/// Lines that are told each by itself.
pub(super) const SHIFTS: usize = 4;
/// Lines that a group names.
const LINES: usize = 12;

/// A move of a line, with the targets that ask for it.
pub(super) struct Shift {
    line: usize,
    pub moved: Move,
    pub classes: Vec<Class>,
    /// Whether every class that shoots there is moved.
    all: bool,
    /// Whether its one target is set farther off, and the stage's line stays.
    apart: bool,
    pub targets: Vec<usize>,
}

pub(super) fn shifts(told: &Told) -> Vec<Shift> {
    let mut shifts: Vec<Shift> = Vec::new();
    for (mending, fix) in made(told) {
        let line = told.course.targets[mending.target].line;
        for &(class, moved) in fix.moves.iter().filter(|(_, moved)| *moved != Move::Keep) {
            let all = fix.moves.iter().all(|(_, other)| *other != Move::Keep);
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
pub(super) fn moved(told: &Told) -> Vec<Item> {
    let shifts = shifts(told);
    let item = |shift: &Shift| Item::new(shift.words(told), &shift.targets);
    if shifts.len() <= SHIFTS {
        return shifts.iter().map(item).collect();
    }
    let mut groups: Vec<(String, Vec<&Shift>)> = Vec::new();
    for shift in &shifts {
        put_one(&mut groups, shift.together(told), shift);
    }
    let together = groups.iter().map(|(words, mine)| match mine.as_slice() {
        [one] => item(one),
        several => several_moved(told, words, several),
    });
    together.collect()
}

/// Lines of the same shooters that move, each as far as it does.
fn several_moved(told: &Told, words: &str, mine: &[&Shift]) -> Item {
    let most = if names_all(told) { usize::MAX } else { LINES };
    let mut by: Vec<(String, Vec<String>)> = Vec::new();
    for shift in mine.iter().take(most) {
        put_one(&mut by, shift.by(told), shift.place_and_targets(told));
    }
    let each = by.iter().map(|(far, places)| format!("{} {far}", listed(places)));
    let more = mine.len().saturating_sub(most);
    let more = if more > 0 { format!("; {}", count(more, "more line")) } else { String::new() };
    let targets: Vec<usize> = mine.iter().flat_map(|shift| shift.targets.iter().copied()).collect();
    let classes: Vec<Class> = mine.iter().flat_map(|shift| shift.classes.iter().copied()).collect();
    let why = why_moved(told, &targets, &classes);
    Item::new(format!("{words}: {}{more} ({why}).", each.collect::<Vec<_>>().join("; ")), &targets)
}

impl Shift {
    /// Who steps back.
    pub fn who(&self) -> String {
        listed(&self.classes.iter().map(|class| shooters(*class)).collect::<Vec<_>>())
    }

    /// What is done, in the words of lines that are told together.
    fn together(&self, told: &Told) -> String {
        match self.moved {
            Move::From(_) => format!("{} {} only", self.who(), self.only_from(told).unwrap_or("from farther".into())),
            Move::UpTo(_) => format!("{} {} only", self.who(), self.only_from(told).unwrap_or("from nearer".into())),
            _ => format!("lines back for {}", self.who()),
        }
    }

    /// The positions that are left, by the name of the one that bounds them, `from road`; none where it has none.
    pub fn only_from(&self, told: &Told) -> Option<String> {
        let (Move::From(position) | Move::UpTo(position)) = self.moved else { return None };
        let line = &told.course.lines[self.line];
        let name = line.positions[position].name.as_ref()?;
        Some(format!("from {name}{}", words::and_beyond(line, self.moved)))
    }

    /// Its place with the targets that ask for the move.
    fn place_and_targets(&self, told: &Told) -> String {
        let place = self.place(told);
        match self.is_shared(told) {
            true if names_all(told) => format!("{place} ({})", names(told, &self.targets)),
            true => place,
            false => placed(told, &self.targets),
        }
    }

    pub fn is_shared(&self, told: &Told) -> bool {
        !self.apart && told.course.targets.iter().filter(|target| target.line == self.line).nth(1).is_some()
    }

    /// Whether all of the line moves back as far, wherever its positions stand.
    fn is_back(&self, told: &Told) -> bool {
        self.is_shared(told) || (!self.apart && words::is_uneven(&told.course.lines[self.line]))
    }

    /// The stage, or the target that has a line of its own.
    pub fn place(&self, told: &Told) -> String {
        let first = &told.course.targets[self.targets[0]];
        let stage = &told.course.stages[first.stage].name;
        if self.is_shared(told) { stage.clone() } else { format!("{stage}, {}", first.name) }
    }

    /// How far back, or to where.
    pub fn by(&self, told: &Told) -> String {
        match self.moved {
            Move::Back(by) if self.is_back(told) => format!("by {}", told.units.distance(by)),
            Move::From(position) | Move::UpTo(position) => {
                let first = &told.course.targets[self.targets[0]];
                let line = &told.course.lines[self.line];
                let distance = told.units.distance(line.positions[position].distance(first.at));
                format!("from {distance}{}", words::and_beyond(line, self.moved))
            }
            _ => {
                let fix = told.fix(self.targets[0]);
                let own = fix.into_iter().flat_map(|f| &f.distances).filter(|(class, _)| self.classes.contains(class));
                let to = own.map(|(_, at)| *at).reduce(|a, b| if b < a { b } else { a });
                to.map_or_else(|| "farther".into(), |to| format!("to {}", told.units.line(to)))
            }
        }
    }

    /// `Ridge: line back 198 yd for rifles (speed ceiling; bib 3, bib 9 and 4 more).`
    fn words(&self, told: &Told) -> String {
        let (is_shared, place, who) = (self.is_shared(told), self.place(told), self.who());
        let what = match self.moved {
            Move::Back(_) if self.is_back(told) => format!("line back {} for {who}", self.by(told)),
            Move::From(_) | Move::UpTo(_) => {
                format!("{who} {}", words::only_from(told, self.targets[0], self.moved, is_shared))
            }
            _ if self.apart => format!("set it back {} for {who}, the line stays", self.by(told)),
            _ => format!("line {} for {who}", self.by(told)),
        };
        let stay = if self.all { "" } else { "; the others may stay" };
        // The targets that ask for a move of their stage's line.
        let whom = if is_shared { format!(": {}", names(told, &self.targets)) } else { String::new() };
        let why = why_moved(told, &self.targets, &self.classes);
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
