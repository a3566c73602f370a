//! The plan of a line: how each of its classes moves, and what is changed at each target.

use super::{Change, Fix, Kind, MAX_REFUSED, Mending, Move, Needs, Reasons, Search, Slot, TOP, Top, cost};
use crate::course::{Case, ClassSet, Course, Line, Target};
use crate::load::Class;
use crate::order::Order;
use crate::plate::Condition;
use crate::quantity::{Angle, Length, Measure, unit};
use crate::rules::{Rule, Subject};

/// Shifts of a line that are tried for a class.
const TRIED_SHIFTS: usize = 24;

/// How much farther a line is moved at most: to so many times its distance, or back by so many yards, whichever is
/// more. A match has no place for more (house assumption).
const MAX_FARTHER: f64 = 3.0;
const MAX_BACK_YD: f64 = 330.0;

/// Whether a plate is beyond looking over.
#[must_use]
pub fn is_damaged(condition: Condition) -> bool {
    !matches!(condition, Condition::Sound | Condition::Unknown)
}

/// A target of a line that does not pass.
pub(super) struct Failing<'k, 'r> {
    pub target: usize,
    pub kind: &'k Kind<'r>,
    pub needs: &'k Needs<'r>,
    /// Where its classes shoot from.
    pub distances: Vec<f64>,
    /// Options that did not hold.
    pub banned: Vec<usize>,
}

/// Where the classes of a target shoot from, m, and the slots of what they need there.
pub(super) struct Placed {
    metres: Vec<f64>,
    slots: Vec<usize>,
}

/// What an option comes to at distances.
struct Tried {
    option: usize,
    cost: f64,
    refuse: Vec<usize>,
}

impl<'r> Failing<'_, 'r> {
    /// The cheapest option with its classes at these distances.
    fn cheapest(&self, placed: &Placed) -> Option<Tried> {
        let distances = &placed.metres;
        let mut best: Option<Tried> = None;
        for (option, ((_, cost), tops)) in self.kind.options.iter().zip(self.needs).enumerate() {
            if best.as_ref().is_some_and(|b| b.cost <= *cost) || self.banned.contains(&option) {
                continue;
            }
            let tops: Vec<&Top<'r>> = placed.slots.iter().map(|slot| &tops[*slot]).collect();
            let over = |(top, metres): (&&Top<'r>, &f64)| top.beyond(*metres).count();
            let each: Vec<usize> = tops.iter().zip(distances).map(over).collect();
            let refused: usize = each.iter().sum();
            if refused > MAX_REFUSED || each.contains(&TOP) {
                continue;
            }
            // Leaving out everybody is no fix.
            let brought: usize = tops.iter().map(|t| t.0.len()).sum();
            if refused > 0 && refused >= brought {
                continue;
            }
            // A stage is for those who come to it: a class that is left out whole costs more than its loads.
            let emptied = tops.iter().zip(&each).filter(|(top, out)| **out > 0 && **out >= top.0.len()).count();
            let cost = cost
                + cost::EMPTY * emptied as f64
                + if refused > 0 { cost::REFUSE + cost::REFUSE_MORE * (refused - 1) as f64 } else { 0.0 };
            if best.as_ref().is_none_or(|b| cost < b.cost) {
                let refuse = tops.iter().zip(distances).flat_map(|(top, m)| top.beyond(*m).map(|n| n.load));
                best = Some(Tried { option, cost, refuse: refuse.collect() });
            }
        }
        best
    }

    /// The rules that a fix answers to: each of its parts has its own.
    fn reasons(&self, tried: &Tried, moved: &[bool], placed: &Placed) -> Reasons<'r> {
        let all = &self.needs[tried.option];
        let needs: Vec<&Top<'r>> = placed.slots.iter().map(|slot| &all[*slot]).collect();
        // What sets a move is what is needed from where a class shoots now.
        let classes = self.kind.classes.iter().zip(all).zip(&placed.metres).zip(moved).filter(|(_, moved)| **moved);
        let mut met: Vec<(f64, Class, &'r Rule)> = classes
            .filter_map(|(((class, top), at), _)| {
                // What no distance mends is mended by shooting from elsewhere.
                let need = top.0.iter().find(|n| n.metres <= *at * (1.0 + 1e-9)).or(top.0.first())?;
                Some((need.metres, *class, need.by?))
            })
            .collect();
        met.order_by(|a, b| b.0.total_cmp(&a.0));
        let refused = needs.iter().flat_map(|top| &top.0).filter(|need| tried.refuse.contains(&need.load));
        let refused = refused.filter_map(|need| Some((need.load, need.by?)));
        Reasons {
            moved: met.into_iter().map(|(_, class, rule)| (class, rule)).collect(),
            changed: self.changed_by(&self.kind.options[tried.option].0),
            refused: refused.collect(),
        }
    }

    /// The rules that what is changed answers to, the state of the plate first.
    fn changed_by(&self, change: &Change) -> Vec<&'r Rule> {
        let find = |speaks: &dyn Fn(&Rule) -> bool| self.kind.blocking.iter().copied().find(|rule| speaks(rule));
        let state = |r: &Rule| !r.filter.condition.is_empty() || !r.filter.steel.is_empty();
        let weighs = |r: &Rule| matches!(r.subject, Subject::Energy | Subject::Demand | Subject::Thickness);
        // A damaged plate goes whatever it is to hold; another is changed for what it must hold first.
        let new = change.plate.is_some() && !is_damaged(self.kind.setup.condition);
        let parts = [
            (change.fresh || change.look)
                .then(|| if new { find(&weighs).or_else(|| find(&state)) } else { find(&state) }),
            (change.plate.is_some() && !new).then(|| find(&weighs)),
            new.then(|| find(&|r| !r.filter.steel.is_empty())),
            change.tilt.is_some().then(|| find(&|r| r.subject == Subject::Lean || r.filter.tilt_given.is_some())),
            change.square.then(|| find(&|r| r.subject == Subject::Oblique)),
            change.mount.is_some().then(|| find(&|r| !r.filter.mount.is_empty())),
        ];
        parts.into_iter().flatten().flatten().collect()
    }
}

/// The fixes of one line.
pub(super) struct Plan<'p, 'a, 'r> {
    pub search: &'p Search<'a, 'r>,
    pub line: &'p Line,
    pub failing: &'p [Failing<'p, 'r>],
    /// Whether the line stays where it is, since targets that pass would fail once it is moved: the one target is set
    /// farther off.
    pub apart: bool,
}

impl<'r> Plan<'_, '_, 'r> {
    pub fn mendings(&self) -> Vec<Mending<'r>> {
        let classes = self.classes();
        let keep: Vec<Move> = vec![Move::Keep; classes.len()];
        let candidates: Vec<Vec<Move>> = classes.iter().map(|class| self.candidates(*class)).collect();
        let farthest: Vec<Move> = candidates.iter().map(|c| c.last().copied().unwrap_or(Move::Keep)).collect();
        let mut best = (self.cost(&classes, &keep), keep.clone());
        for start in [keep, farthest] {
            let found = self.descend(&classes, &candidates, start);
            if found.0 < best.0 - 1e-9 {
                best = found;
            }
        }
        self.failing.iter().map(|failing| self.mending(failing, &classes, &best.1)).collect()
    }

    /// One class at a time, as long as it gets cheaper.
    fn descend(&self, classes: &[Class], candidates: &[Vec<Move>], start: Vec<Move>) -> (f64, Vec<Move>) {
        let mut best = (self.cost(classes, &start), start);
        for _ in 0..3 {
            let before = best.0;
            for (index, moves) in candidates.iter().enumerate() {
                for &moved in moves {
                    let mut tried = best.1.clone();
                    tried[index] = moved;
                    let cost = self.cost(classes, &tried);
                    if cost < best.0 - 1e-9 {
                        best = (cost, tried);
                    }
                }
            }
            if best.0 >= before {
                break;
            }
        }
        best
    }

    fn classes(&self) -> Vec<Class> {
        let mut classes: Vec<Class> = self.failing.iter().flat_map(|f| f.kind.classes.iter().copied()).collect();
        classes.order();
        classes.dedup();
        classes
    }

    /// The moves of a class that are tried, those that do least first.
    fn candidates(&self, class: Class) -> Vec<Move> {
        let mut moves = vec![Move::Keep];
        let positions = self.line.positions_of(class);
        moves.extend(positions.iter().skip(1).map(|&(index, _)| Move::From(index)));
        moves.extend(positions.iter().rev().skip(1).map(|&(index, _)| Move::UpTo(index)));
        let mut shifts: Vec<f64> = Vec::new();
        for failing in self.failing {
            let Some(slot) = failing.kind.classes.iter().position(|c| *c == class) else { continue };
            let options = failing.kind.options.iter().zip(failing.needs);
            let near = options.filter(|((_, cost), _)| *cost < cost::PLATE + 2.0 * cost::PLATE_STEP + cost::MOUNT);
            for (_, tops) in near {
                let needs = tops[slot].0.iter().map(|n| n.metres - failing.distances[slot]);
                shifts.extend(needs.filter(|s| s.is_finite() && *s > 1e-9));
            }
        }
        let step = self.search.step.si();
        let nearest = self.nearest_of(class);
        let farthest = (MAX_FARTHER * nearest).max(nearest + unit::YARD.of(MAX_BACK_YD).si());
        // No class is moved beyond what the ammunition rules let it shoot over.
        let most = self.farthest_of(class);
        let limit = self.search.course.admission.farthest(class).map_or(f64::INFINITY, Measure::si);
        shifts.retain(|shift| nearest + shift <= farthest && most + shift <= limit * (1.0 + 1e-9));
        let mut shifts: Vec<f64> = shifts.into_iter().map(|s| (s / step - 1e-6).ceil() * step).collect();
        shifts.order_by(f64::total_cmp);
        shifts.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let every = shifts.len().div_ceil(TRIED_SHIFTS).max(1);
        let last = shifts.last().copied();
        moves.extend(shifts.into_iter().step_by(every).chain(last).map(|s| Move::Back(Length::from_si(s))));
        moves
    }

    fn cost(&self, classes: &[Class], moves: &[Move]) -> f64 {
        let lines: f64 = classes.iter().zip(moves).map(|(class, moved)| self.line_cost(*class, *moved)).sum();
        // Classes that are moved alike are moved once.
        let alike = moves.iter().enumerate().filter(|(i, m)| **m != Move::Keep && moves[..*i].contains(m));
        let saved: f64 = alike.map(|(i, moved)| self.line_cost(classes[i], *moved)).sum();
        let targets = self.failing.iter().map(|failing| {
            failing.cheapest(&self.moved(failing, classes, moves)).map_or(cost::NONE, |tried| tried.cost)
        });
        lines - saved + targets.sum::<f64>()
    }

    /// From where a class shoots at the nearest of the targets, m.
    fn nearest_of(&self, class: Class) -> f64 {
        let at = |f: &Failing| f.kind.classes.iter().position(|c| *c == class).map(|slot| f.distances[slot]);
        self.failing.iter().filter_map(at).fold(f64::INFINITY, f64::min)
    }

    /// From where a class shoots at the farthest of the targets, m.
    fn farthest_of(&self, class: Class) -> f64 {
        let at = |f: &Failing| {
            let at = self.search.course.targets[f.target].at;
            self.line.farthest(at, class).map_or(0.0, Measure::si)
        };
        self.failing.iter().map(at).fold(0.0, f64::max)
    }

    fn line_cost(&self, class: Class, moved: Move) -> f64 {
        match moved {
            Move::Keep => 0.0,
            Move::From(_) | Move::UpTo(_) => cost::POSITION,
            Move::Back(by) => cost::back(by.si() / self.nearest_of(class), unit::YARD.value(by)),
        }
    }

    /// Where the classes of a target shoot from once they are moved.
    fn moved(&self, failing: &Failing, classes: &[Class], moves: &[Move]) -> Placed {
        let at = self.search.course.targets[failing.target].at;
        let mut placed = Placed { metres: Vec::new(), slots: Vec::new() };
        for (slot, (class, metres)) in failing.kind.classes.iter().zip(&failing.distances).enumerate() {
            let index = classes.iter().position(|c| c == class);
            let moved = index.map_or(Move::Keep, |i| moves[i]);
            placed.metres.push(self.line.after(at, Length::from_si(*metres), moved).si());
            placed.slots.push(self.slot(failing, slot, *class, moved));
        }
        placed
    }

    /// The slot of a class that is moved: of the places that it shoots from then.
    fn slot(&self, failing: &Failing, class: usize, of: Class, moved: Move) -> usize {
        let mine = self.line.positions_of(of);
        let offset = |position: usize| self.line.positions[position].offset.si();
        // A position as near as the one before it is shot from as well, and one as far as the last.
        let wanted = match moved {
            Move::From(position) => {
                let from = mine.iter().position(|(_, own)| own.si() >= offset(position)).unwrap_or(0);
                Slot { class, from, to: mine.len().saturating_sub(1) }
            }
            Move::UpTo(position) => {
                let to = mine.iter().rposition(|(_, own)| own.si() <= offset(position)).unwrap_or(0);
                Slot { class, from: 0, to }
            }
            Move::Keep | Move::Back(_) => return class,
        };
        failing.kind.slots.iter().position(|known| *known == wanted).unwrap_or(class)
    }

    /// What mends a target with the classes moved.
    fn fix(&self, failing: &Failing<'_, 'r>, classes: &[Class], moves: &[Move]) -> Option<Fix<'r>> {
        let kind = failing.kind;
        let placed = self.moved(failing, classes, moves);
        let tried = failing.cheapest(&placed)?;
        let mine = |class: &Class| classes.iter().position(|c| c == class).map_or(Move::Keep, |i| moves[i]);
        let moves: Vec<(Class, Move)> = kind.classes.iter().map(|c| (*c, mine(c))).collect();
        let moved: Vec<bool> = moves.iter().map(|m| m.1 != Move::Keep).collect();
        let line: f64 = moves.iter().map(|(c, m)| self.line_cost(*c, *m)).fold(0.0, f64::max);
        let reasons = failing.reasons(&tried, &moved, &placed);
        let change = kind.options[tried.option].0.clone();
        Some(Fix {
            reason: reasons.first(&change).or_else(|| kind.blocking.first().copied()),
            change,
            reasons,
            cost: tried.cost + line,
            option: tried.option,
            distances: kind.classes.iter().copied().zip(placed.metres.into_iter().map(Length::from_si)).collect(),
            moves,
            refuse: tried.refuse,
            own_cost: tried.cost,
            apart: self.apart,
        })
    }

    /// The same with only those classes moved whose move makes the rest of the fix any cheaper: what a line is moved
    /// for at other targets is no fix of this one.
    fn least_moved(&self, failing: &Failing<'_, 'r>, classes: &[Class], moves: &[Move]) -> Option<Fix<'r>> {
        let mut fix = self.fix(failing, classes, moves)?;
        let mut moves = moves.to_vec();
        for index in 0..moves.len() {
            let moved = std::mem::replace(&mut moves[index], Move::Keep);
            match self.fix(failing, classes, &moves).filter(|kept| kept.own_cost <= fix.own_cost + 1e-9) {
                Some(kept) => fix = kept,
                None => moves[index] = moved,
            }
        }
        Some(fix)
    }

    fn mending(&self, failing: &Failing<'_, 'r>, classes: &[Class], moves: &[Move]) -> Mending<'r> {
        let kind = failing.kind;
        let chosen = self.least_moved(failing, classes, moves);
        let is_moved = chosen.as_ref().is_some_and(|f| f.moves.iter().any(|m| m.1 != Move::Keep));
        let keep = vec![Move::Keep; classes.len()];
        let first = |tops: &Vec<Top<'r>>| {
            let needs = tops.iter().take(kind.classes.len()).filter_map(|top| top.0.first()).map(|n| n.metres);
            needs.fold(0.0, f64::max)
        };
        let suits_here = |tops: &Vec<Top<'r>>| {
            tops.iter().zip(&failing.distances).all(|(top, metres)| top.beyond(*metres).next().is_none())
        };
        let plain = |change: &Change| Change { plate: None, fresh: false, ..change.clone() }.is_nothing();
        let plate =
            kind.options.iter().zip(failing.needs).find(|((change, _), tops)| plain(change) && suits_here(tops));
        let distance = failing.needs.first().map(first).filter(|m| m.is_finite()).map(Length::from_si);
        Mending {
            target: failing.target,
            blocking: kind.blocking.clone(),
            other: if is_moved { self.fix(failing, classes, &keep) } else { None },
            fix: chosen,
            distance,
            plate: plate.and_then(|((change, _), _)| change.plate.clone()),
        }
    }
}

/// The course with a target added for each fix, in their order, with the fix made; and the cases of those.
#[must_use]
pub fn mended(course: &Course, fixes: &[(usize, &Fix)]) -> (Course, Vec<Case>) {
    let mut course = course.clone();
    let mut cases = Vec::new();
    for (of, fix) in fixes {
        let mut target = course.targets[*of].clone();
        target.setup = fix.change.apply(&target.setup);
        if let Some(plate) = &fix.change.plate {
            target.plate = plate.clone();
        }
        for &(class, distance) in fix.distances.iter().filter(|(_, distance)| distance.si().is_finite()) {
            for (distance, slope) in shot_from(&course, &target, class, distance, &fix.moves) {
                cases.push(Case {
                    target: course.targets.len(),
                    position: 0,
                    distance,
                    slope,
                    classes: ClassSet::of(class),
                    without: course.targets[*of].without.iter().chain(&fix.refuse).copied().collect(),
                });
            }
        }
        course.targets.push(target);
    }
    (course, cases)
}

/// From where, and on what slope, a class shoots once it is moved: each of its places.
fn shot_from(
    course: &Course,
    target: &Target,
    class: Class,
    to: Length,
    moves: &[(Class, Move)],
) -> Vec<(Length, Angle)> {
    let line = &course.lines[target.line];
    let place = |&(index, _): &(usize, Length)| {
        let position = &line.positions[index];
        (position.distance(target.at), position.reach, position.slope.unwrap_or(target.slope))
    };
    let mut places: Vec<(Length, Length, Angle)> = line.positions_of(class).iter().map(place).collect();
    let Some(&(near, ..)) = places.first() else { return vec![(to, target.slope)] };
    let up_to = moves.iter().filter(|(of, _)| *of == class).find_map(|(_, moved)| match moved {
        Move::UpTo(position) => Some(line.positions[*position].distance(target.at)),
        _ => None,
    });
    if let Some(last) = up_to {
        places.retain(|(at, ..)| *at <= last);
    } else if moves.iter().any(|(of, moved)| *of == class && matches!(moved, Move::From(_))) {
        places.retain(|(at, ..)| *at >= to);
    } else {
        places.iter_mut().for_each(|(at, ..)| *at += to - near);
    }
    let along = |(at, reach, slope): (Length, Length, Angle)| {
        course.along(target.rules, at, reach).map(move |at| (at, slope)).collect::<Vec<_>>()
    };
    places.into_iter().flat_map(along).collect()
}
