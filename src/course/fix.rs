//! What would mend the targets of a line: its shooters moved, plates changed, faces set right, loads left out, in
//! combination, the cheapest first.
//!
//! For every change of a target (an option) the loads' distances are found once: from where each passes. A line's
//! shift, its positions and the loads that are left out are then a matter of comparing numbers. What is proposed is
//! judged again as a whole by the caller.

use super::judge::{Conditions, NAMED, Outcome, follow};
use super::{Case, ClassSet, Course, Line};
use crate::load::Class;
use crate::plate::{Condition, Ladder, Mount, Plate, Steel, same_thickness};
use crate::quantity::{Angle, Length, Measure, unit};
use crate::rules::{Allowance, Closest, Rule, RuleSet, Setup, Subject, Verdict};
use crate::spread::{CoverageError, FOLLOWED_YD, Flights, Followed};
use rayon::prelude::*;

/// Loads that may be left out at a target, at most.
const MOST_REFUSED: usize = 3;
/// What is kept of an option: the loads that need the most distance.
const TOP: usize = MOST_REFUSED + 1;
/// Shifts of a line that are tried for a class.
const TRIED_SHIFTS: usize = 24;
/// The lean toward the shooter that a face is set to, degrees beyond the slope.
const LEAN_DEG: f64 = 10.0;

/// What a fix costs against another (house assumptions): a face set right or a position left out costs next to
/// nothing, a line moved by half its distance little, a plate its steel, a load a shooter, a line moved far a stage.
mod cost {
    pub const FACE: f64 = 1.0;
    pub const LOOK: f64 = 1.0;
    pub const POSITION: f64 = 1.0;
    pub const MOUNT: f64 = 2.0;
    pub const SHIFT: f64 = 4.0;
    pub const PLATE: f64 = 6.0;
    pub const PLATE_STEP: f64 = 0.5;
    pub const REFUSE: f64 = 7.0;
    pub const REFUSE_MORE: f64 = 3.0;
    pub const SHIFT_FAR: f64 = 12.0;
    pub const SHIFT_TOO_FAR: f64 = 20.0;
    pub const NONE: f64 = 1000.0;
}

/// What leaving one load at home counts as beside the other fixes.
pub const LEAVING: f64 = cost::REFUSE;

/// How the shooters of a class are moved on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Move {
    /// Not at all.
    Keep,
    /// They shoot from this position and those farther only: its index among the line's.
    From(usize),
    /// Back by a length.
    Back(Length),
}

/// What is changed at a target.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Change {
    /// The lean of the face toward the shooter.
    pub tilt: Option<Angle>,
    /// The face is turned square to the line.
    pub square: bool,
    /// How it is held.
    pub mount: Option<Mount>,
    /// The plate is looked over and found sound, or its mark found.
    pub look: bool,
    /// A new, sound AR500 plate.
    pub fresh: bool,
    /// A plate of another thickness.
    pub plate: Option<Plate>,
}

impl Change {
    /// Whether it changes nothing.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// The setup as changed.
    #[must_use]
    pub fn apply(&self, setup: &Setup) -> Setup {
        let mut setup = setup.clone();
        setup.tilt = self.tilt.or(setup.tilt);
        if self.square {
            setup.oblique = Angle::from_si(0.0);
        }
        if let Some(mount) = self.mount {
            (setup.mount, setup.chain) = (mount, None);
        }
        if self.look || self.fresh {
            (setup.condition, setup.steel) = (Condition::Sound, Steel::Ar500);
        }
        setup
    }

    fn cost(&self, steps: usize) -> f64 {
        let plate = if self.plate.is_some() { cost::PLATE + cost::PLATE_STEP * steps as f64 } else { 0.0 };
        let fresh = if self.fresh && self.plate.is_none() { cost::PLATE } else { 0.0 };
        let part = |is: bool, cost: f64| if is { cost } else { 0.0 };
        part(self.tilt.is_some(), cost::FACE)
            + part(self.square, cost::FACE)
            + part(self.mount.is_some(), cost::MOUNT)
            + part(self.look, cost::LOOK)
            + plate
            + fresh
    }
}

/// What mends a target, together with what is done to its line.
#[derive(Debug, Clone)]
pub struct Fix<'r> {
    /// What is changed at the target.
    pub change: Change,
    /// How each class is moved that shoots at it.
    pub moves: Vec<(Class, Move)>,
    /// Loads to leave out at it.
    pub refuse: Vec<usize>,
    /// Where its classes then shoot from.
    pub distances: Vec<(Class, Length)>,
    /// The rule that sets the fix.
    pub reason: Option<&'r Rule>,
    /// What it costs; the line's part is counted at each of its targets.
    pub cost: f64,
}

/// What is known of a target that does not pass.
#[derive(Debug, Clone)]
pub struct Mending<'r> {
    /// The target.
    pub target: usize,
    /// Every rule that blocks it.
    pub blocking: Vec<&'r Rule>,
    /// The cheapest fix; `None` where none was found.
    pub fix: Option<Fix<'r>>,
    /// The cheapest that moves nobody, where the fix does.
    pub other: Option<Fix<'r>>,
    /// The distance from which every load passes as it stands; `None` where one never does.
    pub distance: Option<Length>,
    /// The thinnest plate of the ladder that suits from where it is shot.
    pub plate: Option<Plate>,
}

/// Targets that differ in nothing but where they are shot from.
struct Kind<'r> {
    slope: Angle,
    air: usize,
    setup: Setup,
    plate: Plate,
    classes: Vec<Class>,
    targets: Vec<usize>,
    options: Vec<(Change, f64)>,
    blocking: Vec<&'r Rule>,
}

/// From where a load passes.
#[derive(Clone, Copy)]
struct Need<'r> {
    metres: f64,
    load: usize,
    by: Option<&'r Rule>,
}

/// The loads of a class that need the most distance, the most first.
#[derive(Clone, Default)]
struct Top<'r>(Vec<Need<'r>>);

impl<'r> Top<'r> {
    fn offer(&mut self, need: Need<'r>) {
        let before = |n: &Need| n.metres.total_cmp(&need.metres).then(need.load.cmp(&n.load)).is_gt();
        let at = self.0.iter().position(|n| !before(n)).unwrap_or(self.0.len());
        if at < TOP {
            self.0.insert(at, need);
            self.0.truncate(TOP);
        }
    }

    /// The distance that a further load must need to count.
    fn least(&self) -> Option<f64> {
        self.0.get(TOP - 1).map(|n| n.metres)
    }

    fn beyond(&self, metres: f64) -> impl Iterator<Item = &Need<'r>> {
        self.0.iter().take_while(move |n| n.metres > metres * (1.0 + 1e-9))
    }
}

/// By option, then by class.
type Needs<'r> = Vec<Vec<Top<'r>>>;

/// The search for fixes over a course.
struct Search<'a, 'r> {
    pub course: &'a Course,
    pub cases: &'a [Case],
    pub outcomes: &'a [Outcome<'r>],
    pub rules: &'r RuleSet,
    pub ladder: &'a Ladder,
    pub conditions: Conditions<'a>,
    /// A distance of each load's own that it must keep besides, m: the risk of a match.
    pub keep: &'a [f64],
    /// What a shift is rounded up to.
    pub step: Length,
}

impl<'r> Search<'_, 'r> {
    /// What mends each target that does not pass, in the order of the targets.
    ///
    /// # Errors
    /// [`CoverageError`] from the conditions.
    pub fn run(&self) -> Result<Vec<Mending<'r>>, CoverageError> {
        let kinds = self.kinds();
        let needs = self.needs(&kinds)?;
        let mut found: Vec<Mending<'r>> = Vec::new();
        for (index, line) in self.course.lines.iter().enumerate() {
            let failing: Vec<Failing<'_, 'r>> = kinds
                .iter()
                .zip(&needs)
                .flat_map(|(kind, needs)| kind.targets.iter().map(move |&target| (target, kind, needs)))
                .filter(|(target, ..)| self.course.targets[*target].line == index)
                .map(|(target, kind, needs)| self.failing(target, kind, needs))
                .collect();
            if !failing.is_empty() {
                found.extend(Plan { search: self, line, failing: &failing }.mendings());
            }
        }
        found.sort_by_key(|m| m.target);
        Ok(found)
    }

    fn failing<'k>(&self, target: usize, kind: &'k Kind<'r>, needs: &'k Needs<'r>) -> Failing<'k, 'r> {
        let line = &self.course.lines[self.course.targets[target].line];
        let at = self.course.targets[target].at;
        let distances = kind.classes.iter().map(|&class| line.nearest(at, class).map_or(f64::INFINITY, Measure::si));
        Failing { target, kind, needs, distances: distances.collect() }
    }

    fn kinds(&self) -> Vec<Kind<'r>> {
        let mut kinds: Vec<Kind<'r>> = Vec::new();
        let brought = self.course.classes_brought();
        let mut last = None;
        for (case, outcome) in self.cases.iter().zip(self.outcomes) {
            if outcome.failing == 0 && !self.is_risky(case) {
                continue;
            }
            let target = &self.course.targets[case.target];
            let blocking = self.blocking(case, outcome);
            let at = kinds.iter().position(|kind| {
                kind.air == target.air
                    && kind.slope.si().total_cmp(&target.slope.si()).is_eq()
                    && kind.plate.thickness == target.plate.thickness
                    && kind.setup == target.setup
                    && kind.classes == self.course.classes_at(target, &brought)
            });
            let at = at.unwrap_or_else(|| {
                kinds.push(Kind {
                    slope: target.slope,
                    air: target.air,
                    setup: target.setup.clone(),
                    plate: target.plate.clone(),
                    classes: self.course.classes_at(target, &brought),
                    targets: Vec::new(),
                    options: Vec::new(),
                    blocking: Vec::new(),
                });
                kinds.len() - 1
            });
            let kind = &mut kinds[at];
            if last != Some(case.target) || kind.targets.last() != Some(&case.target) {
                kind.targets.push(case.target);
            }
            last = Some(case.target);
            for rule in blocking {
                if !kind.blocking.iter().any(|known| known.id == rule.id && known.overlay == rule.overlay) {
                    kind.blocking.push(rule);
                }
            }
        }
        for kind in &mut kinds {
            kind.targets.dedup();
            kind.options = self.options(kind);
        }
        kinds
    }

    fn is_risky(&self, case: &Case) -> bool {
        let nearer = |(load, keep): (usize, &f64)| {
            case.classes.has(self.course.loads[load].class()) && case.distance.si() < keep * (1.0 - 1e-9)
        };
        self.keep.iter().enumerate().any(|pair| *pair.1 > 0.0 && nearer(pair))
    }

    /// The rules that the failing loads do not meet, the worst load's governing one first.
    fn blocking(&self, case: &Case, outcome: &Outcome<'r>) -> Vec<&'r Rule> {
        let target = &self.course.targets[case.target];
        let mut rules: Vec<&'r Rule> =
            outcome.rule.filter(|_| outcome.verdict != Some(Verdict::Suits)).into_iter().collect();
        let Ok(conditions) = (self.conditions)(&self.course.airs[target.air], target.slope) else { return rules };
        for &load in outcome.named.iter().take(NAMED) {
            let load = &self.course.loads[load].load;
            let Ok(strike) = Flights::new(load, &conditions).and_then(|f| f.strike(case.distance)) else { continue };
            for finding in self.rules.allow(load, &target.plate, &target.setup).findings(&strike) {
                if finding.verdict != Verdict::Suits && !rules.iter().any(|r| r.id == finding.rule().id) {
                    rules.push(finding.rule());
                }
            }
        }
        rules
    }

    /// The changes that are tried: those that the blocking rules call for, on every plate that is no thinner.
    fn options(&self, kind: &Kind) -> Vec<(Change, f64)> {
        let (setup, slope) = (&kind.setup, unit::DEGREE.value(kind.slope));
        let is = |speaks: &dyn Fn(&Rule) -> bool| kind.blocking.iter().any(|rule| speaks(rule));
        let state = is(&|r| !r.filter.condition.is_empty() || !r.filter.steel.is_empty());
        let unknown = matches!(setup.condition, Condition::Unknown | Condition::Sound)
            && matches!(setup.steel, Steel::Unknown | Steel::Ar500);
        let parts: [(bool, Change); 5] = [
            (
                is(&|r| r.subject == Subject::Lean || r.filter.tilt_given.is_some()),
                Change { tilt: Some(unit::DEGREE.of((slope - 1e-9).ceil() + LEAN_DEG)), ..Change::default() },
            ),
            (is(&|r| r.subject == Subject::Oblique), Change { square: true, ..Change::default() }),
            (!setup.mount.is_free(), Change { mount: Some(Mount::CaptiveHook), ..Change::default() }),
            (state && unknown, Change { look: true, ..Change::default() }),
            (state && !unknown, Change { fresh: true, ..Change::default() }),
        ];
        let parts: Vec<&Change> = parts.iter().filter(|p| p.0).map(|p| &p.1).collect();
        let mut changes = vec![Change::default()];
        for part in parts {
            let with: Vec<Change> = changes
                .iter()
                .map(|c| Change {
                    tilt: part.tilt.or(c.tilt),
                    square: part.square || c.square,
                    mount: part.mount.or(c.mount),
                    look: part.look || c.look,
                    fresh: part.fresh || c.fresh,
                    plate: None,
                })
                .collect();
            changes.extend(with);
        }
        let mut options = Vec::new();
        for change in changes {
            let thicker =
                self.ladder.plates().iter().filter(|p| {
                    p.thickness > kind.plate.thickness && !same_thickness(p.thickness, kind.plate.thickness)
                });
            options.push((change.clone(), change.cost(0)));
            for (steps, plate) in thicker.enumerate() {
                // A new plate is sound and of known steel: nothing is left to look over.
                let hung = Change { plate: Some(plate.clone()), look: false, fresh: true, ..change.clone() };
                if !change.look && !change.fresh {
                    options.push((hung.clone(), hung.cost(steps + 1)));
                }
            }
        }
        options
    }

    fn needs(&self, kinds: &[Kind<'r>]) -> Result<Vec<Needs<'r>>, CoverageError> {
        let conditions = kinds
            .iter()
            .map(|kind| (self.conditions)(&self.course.airs[kind.air], kind.slope))
            .collect::<Result<Vec<_>, _>>()?;
        // Those that ask the most of a plate first: the others are then passed over at a glance.
        let mut order: Vec<usize> = (0..self.course.loads.len()).collect();
        let demand = |load: &usize| super::demand_of(&self.course.loads[*load].load);
        order.sort_by(|a, b| demand(b).total_cmp(&demand(a)).then(a.cmp(b)));
        let none = || -> Vec<Needs<'r>> {
            kinds.iter().map(|k| vec![vec![Top::default(); k.classes.len()]; k.options.len()]).collect()
        };
        let merged = |mut a: Vec<Needs<'r>>, b: Vec<Needs<'r>>| {
            for (to, from) in a.iter_mut().flatten().flatten().zip(b.iter().flatten().flatten()) {
                from.0.iter().for_each(|need| to.offer(*need));
            }
            a
        };
        let found = order.par_iter().fold(none, |mut needs, &load| {
            self.needs_of(load, kinds, &conditions, &mut needs);
            needs
        });
        Ok(found.reduce(none, merged))
    }

    fn needs_of(
        &self,
        index: usize,
        kinds: &[Kind<'r>],
        conditions: &[crate::spread::FlightConditions],
        needs: &mut [Needs<'r>],
    ) {
        let (load, own) = (&self.course.loads[index].load, self.course.loads[index].class());
        let mut flown: Option<(usize, Flights)> = None;
        for (at, kind) in kinds.iter().enumerate() {
            let Some(class) = kind.classes.iter().position(|c| *c == own) else { continue };
            let same = |other: usize| kinds[other].air == kind.air && kinds[other].slope == kind.slope;
            if !flown.as_ref().is_some_and(|(other, _)| same(*other)) {
                flown = Flights::new(load, &conditions[at]).ok().map(|flights| (at, flights));
            }
            let Some((_, flights)) = &flown else { continue };
            let farthest = needs[at].iter().filter_map(|tops| tops[class].least()).filter(|m| m.is_finite());
            let farthest = farthest.fold(0.0, f64::max);
            let followed = if farthest > 0.0 { follow(flights, Length::from_si(farthest)) } else { None };
            for ((change, _), tops) in kind.options.iter().zip(&mut needs[at]) {
                let plate = change.plate.as_ref().unwrap_or(&kind.plate);
                let allowance = self.rules.allow(load, plate, &change.apply(&kind.setup));
                let top = &mut tops[class];
                if self.counts_for_nothing(index, top, flights, followed.as_ref(), &allowance) {
                    continue;
                }
                let (metres, by) = passes_from(&allowance, flights, self.course.loads[index].floor());
                let (metres, by) = if self.keep[index] > metres {
                    (self.keep[index], self.rules.speed_ceiling().map(|c| c.1))
                } else {
                    (metres, by)
                };
                top.offer(Need { metres, load: index, by });
            }
        }
    }

    /// Whether a load passes already where the others need to stand.
    fn counts_for_nothing(
        &self,
        index: usize,
        top: &Top,
        flights: &Flights,
        followed: Option<&(Followed<'_>, Length)>,
        allowance: &Allowance,
    ) -> bool {
        let (Some(least), Some((followed, to))) = (top.least(), followed) else { return false };
        let distance = Length::from_si(least);
        self.keep[index] <= least
            && distance <= *to
            && flights.slows_down()
            && !allowance.asks_slow(distance)
            && allowance.judge(&followed.look(distance)).verdict == Verdict::Suits
    }
}

/// The distance from which a load comes to no worse than a verdict, m, and the rule that sets it.
pub(super) fn passes_from<'r>(allowance: &Allowance<'r>, flights: &Flights, floor: Verdict) -> (f64, Option<&'r Rule>) {
    let closest = allowance.closest(flights);
    match (closest, floor) {
        (Closest::At { distance, by, .. }, _) => (distance.si(), by),
        (_, Verdict::Suits) => (f64::INFINITY, closest.by()),
        (_, floor) => (borderline_from(allowance, flights, floor), closest.by()),
    }
}

/// As above where it suits nowhere, by halving.
fn borderline_from(allowance: &Allowance, flights: &Flights, floor: Verdict) -> f64 {
    let passes = |metres: f64| {
        let distance = Length::from_si(metres);
        let strike = flights.strike_for(distance, allowance.asks_slow(distance));
        strike.is_ok_and(|strike| allowance.judge(&strike).verdict <= floor)
    };
    let mut high = unit::YARD.of(FOLLOWED_YD).min(flights.reach()).si() * 0.999;
    while !passes(high) {
        high *= 0.5;
        if high < 1.0 {
            return f64::INFINITY;
        }
    }
    let mut low = 0.0;
    while high - low > 1e-3 {
        let middle = 0.5 * (low + high);
        if passes(middle) { high = middle } else { low = middle }
    }
    high
}

/// A target of a line that does not pass.
struct Failing<'k, 'r> {
    target: usize,
    kind: &'k Kind<'r>,
    needs: &'k Needs<'r>,
    /// Where its classes shoot from.
    distances: Vec<f64>,
}

/// What an option comes to at distances.
struct Tried {
    option: usize,
    cost: f64,
    refuse: Vec<usize>,
}

impl<'r> Failing<'_, 'r> {
    /// The cheapest option with its classes at these distances.
    fn cheapest(&self, distances: &[f64]) -> Option<Tried> {
        let mut best: Option<Tried> = None;
        for (option, ((_, cost), tops)) in self.kind.options.iter().zip(self.needs).enumerate() {
            if best.as_ref().is_some_and(|b| b.cost <= *cost) {
                continue;
            }
            let over = |(top, metres): (&Top<'r>, &f64)| top.beyond(*metres).count();
            let each: Vec<usize> = tops.iter().zip(distances).map(over).collect();
            let refused: usize = each.iter().sum();
            if refused > MOST_REFUSED || each.contains(&TOP) {
                continue;
            }
            // Leaving out everybody is no fix.
            let brought: usize = tops.iter().map(|t| t.0.len()).sum();
            if refused > 0 && refused >= brought {
                continue;
            }
            let cost = cost + if refused > 0 { cost::REFUSE + cost::REFUSE_MORE * (refused - 1) as f64 } else { 0.0 };
            if best.as_ref().is_none_or(|b| cost < b.cost) {
                let refuse = tops.iter().zip(distances).flat_map(|(top, m)| top.beyond(*m).map(|n| n.load));
                best = Some(Tried { option, cost, refuse: refuse.collect() });
            }
        }
        best
    }

    /// The rule that sets a fix: the one that what is changed answers to.
    fn reason(&self, tried: &Tried, moved: bool, distances: &[f64]) -> Option<&'r Rule> {
        let change = &self.kind.options[tried.option].0;
        let find = |speaks: &dyn Fn(&Rule) -> bool| self.kind.blocking.iter().copied().find(|rule| speaks(rule));
        let weighs = |r: &Rule| matches!(r.subject, Subject::Energy | Subject::Demand | Subject::Thickness);
        let set = if change.fresh && change.plate.is_none() {
            find(&|r| !r.filter.condition.is_empty() || !r.filter.steel.is_empty())
        } else if change.plate.is_some() {
            find(&weighs).or_else(|| find(&|r| !r.filter.condition.is_empty() || !r.filter.steel.is_empty()))
        } else if moved {
            let tops = self.needs[tried.option].iter().zip(distances);
            let needs = tops.filter_map(|(top, at)| top.0.iter().find(|n| n.metres <= *at * (1.0 + 1e-9)));
            needs.reduce(|a, b| if b.metres > a.metres { b } else { a }).and_then(|need| need.by)
        } else if change.tilt.is_some() {
            find(&|r| r.subject == Subject::Lean || r.filter.tilt_given.is_some())
        } else if change.square {
            find(&|r| r.subject == Subject::Oblique)
        } else if change.mount.is_some() {
            find(&|r| !r.filter.mount.is_empty())
        } else if change.look {
            find(&|r| !r.filter.condition.is_empty() || !r.filter.steel.is_empty())
        } else {
            let refused = |need: &&Need<'r>| tried.refuse.contains(&need.load);
            self.needs[tried.option].iter().flat_map(|top| &top.0).find(refused).and_then(|need| need.by)
        };
        set.or_else(|| self.kind.blocking.first().copied())
    }
}

/// The fixes of one line.
struct Plan<'p, 'a, 'r> {
    search: &'p Search<'a, 'r>,
    line: &'p Line,
    failing: &'p [Failing<'p, 'r>],
}

impl<'r> Plan<'_, '_, 'r> {
    fn mendings(&self) -> Vec<Mending<'r>> {
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
        classes.sort_unstable();
        classes.dedup();
        classes
    }

    /// The moves of a class that are tried, those that do least first.
    fn candidates(&self, class: Class) -> Vec<Move> {
        let mut moves = vec![Move::Keep];
        let positions = self.line.positions_of(class);
        moves.extend(positions.iter().skip(1).map(|&(index, _)| Move::From(index)));
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
        let mut shifts: Vec<f64> = shifts.into_iter().map(|s| (s / step - 1e-6).ceil() * step).collect();
        shifts.sort_by(f64::total_cmp);
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

    fn line_cost(&self, class: Class, moved: Move) -> f64 {
        match moved {
            Move::Keep => 0.0,
            Move::From(_) => cost::POSITION,
            Move::Back(by) => {
                let at = |f: &Failing| f.kind.classes.iter().position(|c| *c == class).map(|slot| f.distances[slot]);
                let nearest = self.failing.iter().filter_map(at).fold(f64::INFINITY, f64::min);
                let share = by.si() / nearest;
                let base = if share <= 0.5 {
                    cost::SHIFT
                } else if share <= 2.0 {
                    cost::SHIFT_FAR
                } else {
                    cost::SHIFT_TOO_FAR
                };
                base + share.min(10.0) * 0.1
            }
        }
    }

    /// Where the classes of a target shoot from once they are moved.
    fn moved(&self, failing: &Failing, classes: &[Class], moves: &[Move]) -> Vec<f64> {
        let at = self.search.course.targets[failing.target].at;
        let moved = failing.kind.classes.iter().zip(&failing.distances).map(|(class, metres)| {
            let index = classes.iter().position(|c| c == class);
            match index.map_or(Move::Keep, |i| moves[i]) {
                Move::Keep => *metres,
                Move::From(position) => self.line.positions[position].distance(at).si().max(*metres),
                Move::Back(by) => metres + by.si(),
            }
        });
        moved.collect()
    }

    fn mending(&self, failing: &Failing<'_, 'r>, classes: &[Class], moves: &[Move]) -> Mending<'r> {
        let kind = failing.kind;
        let fix = |moves: &[Move]| {
            let distances = self.moved(failing, classes, moves);
            let tried = failing.cheapest(&distances)?;
            let mine = |class: &Class| classes.iter().position(|c| c == class).map_or(Move::Keep, |i| moves[i]);
            let moves: Vec<(Class, Move)> = kind.classes.iter().map(|c| (*c, mine(c))).collect();
            let moved = moves.iter().any(|m| m.1 != Move::Keep);
            let line: f64 = moves.iter().map(|(c, m)| self.line_cost(*c, *m)).fold(0.0, f64::max);
            Some(Fix {
                change: kind.options[tried.option].0.clone(),
                reason: failing.reason(&tried, moved, &distances),
                cost: tried.cost + line,
                distances: kind.classes.iter().copied().zip(distances.into_iter().map(Length::from_si)).collect(),
                moves,
                refuse: tried.refuse,
            })
        };
        let chosen = fix(moves);
        let is_moved = chosen.as_ref().is_some_and(|f| f.moves.iter().any(|m| m.1 != Move::Keep));
        let keep = vec![Move::Keep; classes.len()];
        let first = |tops: &Vec<Top<'r>>| {
            let needs = tops.iter().filter_map(|top| top.0.first()).map(|n| n.metres);
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
            other: if is_moved { fix(&keep) } else { None },
            fix: chosen,
            distance,
            plate: plate.and_then(|((change, _), _)| change.plate.clone()),
        }
    }
}

/// What mends each target that does not pass, in the order of the targets. `keep` is a distance of each load's own, m;
/// shifts are rounded up to whole steps.
///
/// # Errors
/// [`CoverageError`] from the conditions.
#[allow(clippy::too_many_arguments)]
pub fn mendings<'r>(
    course: &Course,
    cases: &[Case],
    outcomes: &[Outcome<'r>],
    rules: &'r RuleSet,
    ladder: &Ladder,
    conditions: Conditions,
    keep: &[f64],
    step: Length,
) -> Result<Vec<Mending<'r>>, CoverageError> {
    Search { course, cases, outcomes, rules, ladder, conditions, keep, step }.run()
}

/// The course with its fixes made, and the cases of its mended targets.
#[must_use]
pub fn mended(course: &Course, mendings: &[Mending]) -> (Course, Vec<Case>) {
    let mut course = course.clone();
    let mut cases = Vec::new();
    for mending in mendings {
        let Some(fix) = &mending.fix else { continue };
        let target = &mut course.targets[mending.target];
        target.setup = fix.change.apply(&target.setup);
        if let Some(plate) = &fix.change.plate {
            target.plate = plate.clone();
        }
        for &(class, distance) in &fix.distances {
            if distance.is_finite() {
                cases.push(Case {
                    target: mending.target,
                    position: 0,
                    distance,
                    classes: ClassSet::of(class),
                    without: fix.refuse.clone(),
                });
            }
        }
    }
    (course, cases)
}
