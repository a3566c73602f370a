//! What would mend the targets of a line: its shooters moved, plates changed, faces set right, loads left out, in
//! combination, the cheapest first.
//!
//! For every change of a target (an option) the loads' distances are found once: from where each passes. A line's
//! shift, its positions and the loads that are left out are then a matter of comparing numbers. What is proposed is
//! judged again as a whole by the caller.

mod change;
mod lines;
mod need;
mod plan;

use super::judge::{Conditions, Outcome, follow};
use super::{Books, Case, Course, Kept, Target, alike, judge};
use crate::load::Class;
use crate::plate::{Condition, Ladder, Mount, Plate, Steel, same_thickness};
use crate::quantity::{Angle, Length, Measure, unit};
use crate::rules::{Allowance, Rule, Setup, Subject, Verdict};
use crate::spread::{CoverageError, FlightConditions, Flights, Followed};
pub use change::Change;
use change::cost;
use need::{MAX_REFUSED, Need, Needs, TOP, Top};
pub(crate) use plan::is_damaged;
pub use plan::mended;
use plan::{Failing, Plan};
use std::collections::{BTreeSet, HashMap, HashSet};

/// Failing loads of a case whose rules are looked at.
const LOOKED: usize = 8;
/// Rounds of search after fixes that did not hold.
const MAX_ROUNDS: usize = 6;
/// Loads that are looked at first, whose needs let the others be passed over.
const SEED: usize = 2 * TOP;
/// The lean toward the shooter that a face is set to, degrees beyond the slope.
const LEAN_DEG: f64 = 10.0;

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

/// What mends a target, together with what is done to its line.
#[derive(Debug, Clone, Default)]
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
    /// The rules that each part of it answers to.
    pub reasons: Reasons<'r>,
    /// What it costs; the line's part is counted at each of its targets.
    pub cost: f64,
    /// The same without the line's part.
    own_cost: f64,
    /// Whether the target alone is set farther off, and its stage's line stays.
    pub apart: bool,
    /// Its change among those that were tried.
    option: usize,
}

/// The rules that the parts of a fix answer to.
#[derive(Debug, Clone, Default)]
pub struct Reasons<'r> {
    /// Those that set how far each class moves, the farthest first.
    pub moved: Vec<(Class, &'r Rule)>,
    /// Those that call for what is changed at the target.
    pub changed: Vec<&'r Rule>,
    /// Those that the loads left out do not meet: each load's own.
    pub refused: Vec<(usize, &'r Rule)>,
}

impl<'r> Reasons<'r> {
    /// The rule that sets a fix as a whole: a new plate's, then the move's.
    fn first(&self, change: &Change) -> Option<&'r Rule> {
        let changed = self.changed.first().copied();
        let plate = changed.filter(|_| change.fresh || change.plate.is_some());
        plate.or(self.moved.first().map(|(_, rule)| *rule)).or(changed).or(self.refused.first().map(|(_, rule)| *rule))
    }
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
    /// The slopes that it is shot on.
    slopes: Vec<Angle>,
    /// Where the slopes of its positions differ: its line, and the places of each class on it, from near to far.
    line: Option<usize>,
    places: Vec<Vec<Place>>,
    /// What needs are kept of: each class from its nearest position on, then, where slopes differ, from each other.
    slots: Vec<(usize, usize)>,
    air: usize,
    rules: usize,
    setup: Setup,
    plate: Plate,
    classes: Vec<Class>,
    /// Loads that are left out as it stands.
    without: Vec<usize>,
    /// From where each class shoots at the nearest of them, m.
    nearest: Vec<f64>,
    targets: Vec<usize>,
    options: Vec<(Change, f64)>,
    blocking: Vec<&'r Rule>,
}

/// A position as a class shoots from it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    /// How far behind the nearest position of the class, m.
    behind: f64,
    slope: Angle,
}

/// Kinds of targets of one air and slope.
struct OnSlope {
    air: usize,
    conditions: FlightConditions,
    kinds: Vec<usize>,
}

/// A load flown on a slope, with those that are alike.
struct Shot<'f> {
    /// Its place, and those of the loads that are alike, as far as they count.
    loads: Vec<usize>,
    flights: &'f Flights,
    followed: Option<(Followed<'f>, Length)>,
}

/// What did not hold: options of targets, and lines that stay where they are.
#[derive(Default)]
struct Banned {
    options: HashMap<usize, Vec<usize>>,
    lines: BTreeSet<usize>,
}

/// Which of the two fixes of a target.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Which {
    Fix,
    Other,
}

/// The search for fixes over a course.
pub(super) struct Search<'a, 'r> {
    pub course: &'a Course,
    pub cases: &'a [Case],
    pub outcomes: &'a [Outcome<'r>],
    pub rules: Books<'r>,
    pub ladder: &'a Ladder,
    pub conditions: Conditions<'a>,
    /// A distance of each load's own that it must keep besides, m: the risk of a match.
    pub keep: &'a Kept,
    /// What a shift is rounded up to.
    pub step: Length,
    /// The loads in groups of those that are alike.
    pub groups: &'a [Vec<usize>],
}

impl<'r> Search<'_, 'r> {
    /// What mends each target that does not pass, in the order of the targets; each judged again as a whole. A limit
    /// may be met near and passed farther out, which distances alone don't see: such a change is tried no more.
    pub fn run(&self) -> Result<Vec<Mending<'r>>, CoverageError> {
        let kinds = self.kinds();
        let needs = self.needs(&kinds)?;
        let mut banned = Banned::default();
        let mut found = self.planned(&kinds, &needs, &banned);
        for round in 0..=MAX_ROUNDS {
            let failing = self.failing_again(&found)?;
            let stay = self.lines_that_stay(&found)?;
            let is_moved = !stay.is_subset(&banned.lines);
            banned.lines.extend(stay);
            for mending in &mut found {
                let target = mending.target;
                if failing.contains(&(target, Which::Other)) {
                    mending.other = None;
                }
                if failing.contains(&(target, Which::Fix)) {
                    let option = mending.fix.take().map(|fix| fix.option);
                    banned.options.entry(target).or_default().extend(option);
                }
            }
            let holds = !is_moved && failing.iter().all(|(_, which)| *which == Which::Other);
            if round == MAX_ROUNDS || holds {
                break;
            }
            found = self.planned(&kinds, &needs, &banned);
        }
        Ok(found)
    }

    /// The fixes that do not hold when all is judged anew.
    fn failing_again(&self, found: &[Mending<'r>]) -> Result<HashSet<(usize, Which)>, CoverageError> {
        let both = found.iter().flat_map(|mending| {
            let which = [(Which::Fix, &mending.fix), (Which::Other, &mending.other)];
            which.into_iter().filter_map(|(which, fix)| Some(((mending.target, which), fix.as_ref()?)))
        });
        let (of, fixes): (Vec<(usize, Which)>, Vec<_>) = both.map(|(of, fix)| (of, (of.0, fix))).unzip();
        let (mended, cases) = mended(self.course, &fixes);
        let judged = judge(&mended, &cases, self.rules, self.conditions, &|| ())?;
        let outcomes = cases.iter().zip(&judged.outcomes);
        let failing = outcomes.filter(|(_, outcome)| outcome.failing > 0);
        Ok(failing.map(|(case, _)| of[case.target - self.course.targets.len()]).collect())
    }

    fn planned(&self, kinds: &[Kind<'r>], needs: &[Needs<'r>], banned: &Banned) -> Vec<Mending<'r>> {
        let mut lines: Vec<Vec<Failing<'_, 'r>>> = self.course.lines.iter().map(|_| Vec::new()).collect();
        for (kind, needs) in kinds.iter().zip(needs) {
            for &target in &kind.targets {
                let banned = banned.options.get(&target).cloned().unwrap_or_default();
                let failing = Failing { banned, ..self.failing(target, kind, needs) };
                lines[self.course.targets[target].line].push(failing);
            }
        }
        let mut found: Vec<Mending<'r>> = Vec::new();
        for (index, (line, failing)) in self.course.lines.iter().zip(&lines).enumerate() {
            if !failing.is_empty() {
                let apart = banned.lines.contains(&index);
                let plans = if apart { failing.chunks(1) } else { failing.chunks(failing.len()) };
                found.extend(plans.flat_map(|failing| Plan { search: self, line, failing, apart }.mendings()));
            }
        }
        found.sort_by_key(|m| m.target);
        found
    }

    fn failing<'k>(&self, target: usize, kind: &'k Kind<'r>, needs: &'k Needs<'r>) -> Failing<'k, 'r> {
        let distances = kind.classes.iter().map(|&class| self.distance(target, class));
        Failing { target, kind, needs, distances: distances.collect(), banned: Vec::new() }
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
            let slopes = self.slopes_at(target, &brought);
            let line = (slopes.len() > 1).then_some(target.line);
            let at = kinds.iter().position(|kind| {
                kind.air == target.air
                    && kind.rules == target.rules
                    && kind.slopes == slopes
                    && kind.line == line
                    && kind.plate.thickness == target.plate.thickness
                    && kind.setup == target.setup
                    && kind.without == target.without
                    && kind.classes == self.course.classes_at(target, &brought)
            });
            let at = at.unwrap_or_else(|| {
                kinds.push(Kind {
                    slopes,
                    line,
                    places: Vec::new(),
                    slots: Vec::new(),
                    air: target.air,
                    rules: target.rules,
                    setup: target.setup.clone(),
                    plate: target.plate.clone(),
                    classes: self.course.classes_at(target, &brought),
                    without: target.without.clone(),
                    nearest: Vec::new(),
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
            kind.nearest = self.nearest(kind);
            kind.places = self.places(kind);
            kind.slots = (0..kind.classes.len()).map(|class| (class, 0)).collect();
            let further = kind
                .places
                .iter()
                .enumerate()
                .flat_map(|(class, places)| (1..places.len()).map(move |from| (class, from)).collect::<Vec<_>>());
            kind.slots.extend(further.collect::<Vec<_>>());
            kind.options = self.options(kind);
        }
        kinds
    }

    /// The slopes that a target is shot on by those who shoot at it, each once.
    fn slopes_at(&self, target: &Target, brought: &[Class]) -> Vec<Angle> {
        let line = &self.course.lines[target.line];
        let classes = self.course.classes_at(target, brought).into_iter();
        let places = classes.flat_map(|class| line.positions_of(class));
        let mut slopes: Vec<Angle> =
            places.map(|(index, _)| line.positions[index].slope.unwrap_or(target.slope)).collect();
        slopes.sort_by(|a, b| a.si().total_cmp(&b.si()));
        slopes.dedup();
        slopes
    }

    /// The places of each class where their slopes differ.
    fn places(&self, kind: &Kind) -> Vec<Vec<Place>> {
        let (Some(line), Some(first)) = (kind.line, kind.targets.first()) else { return Vec::new() };
        let (line, own) = (&self.course.lines[line], self.course.targets[*first].slope);
        let of = |class: &Class| {
            let positions = line.positions_of(*class);
            let near = positions.first().map_or(0.0, |(_, offset)| offset.si());
            let place = |(index, offset): &(usize, Length)| Place {
                behind: offset.si() - near,
                slope: line.positions[*index].slope.unwrap_or(own),
            };
            positions.iter().map(place).collect()
        };
        kind.classes.iter().map(of).collect()
    }

    /// From where each class of a kind shoots at the nearest of its targets, m.
    fn nearest(&self, kind: &Kind) -> Vec<f64> {
        let least = |class: &Class| {
            let at = kind.targets.iter().map(|target| self.distance(*target, *class));
            at.fold(f64::INFINITY, f64::min)
        };
        kind.classes.iter().map(least).collect()
    }

    /// From where a class shoots at a target, m; infinite where it does not.
    fn distance(&self, target: usize, class: Class) -> f64 {
        let target = &self.course.targets[target];
        self.course.lines[target.line].nearest(target.at, class).map_or(f64::INFINITY, Measure::si)
    }

    fn is_risky(&self, case: &Case) -> bool {
        let mut kept = self.keep.all_of(self.course.targets[case.target].rules);
        kept.any(|(load, keep)| case.is_nearer_than(keep, load, self.course))
    }

    /// The rules that the failing loads do not meet, the worst load's governing one first.
    fn blocking(&self, case: &Case, outcome: &Outcome<'r>) -> Vec<&'r Rule> {
        let target = &self.course.targets[case.target];
        let mut rules: Vec<&'r Rule> =
            outcome.rule.filter(|_| outcome.verdict != Some(Verdict::Suits)).into_iter().collect();
        let Ok(conditions) = (self.conditions)(&self.course.airs[target.air], case.slope) else { return rules };
        for &load in outcome.named.iter().take(LOOKED) {
            let load = &self.course.loads[load].load;
            let Ok(strike) = Flights::new(load, &conditions).and_then(|f| f.strike(case.distance)) else { continue };
            let book = self.rules.of(target.rules);
            for finding in book.allow(load, &target.plate, &target.setup, strike.muzzle).findings(&strike) {
                if finding.verdict != Verdict::Suits && !rules.iter().any(|r| r.id == finding.rule().id) {
                    rules.push(finding.rule());
                }
            }
        }
        rules
    }

    /// The changes that are tried: those that the blocking rules call for, on every plate that is no thinner.
    fn options(&self, kind: &Kind) -> Vec<(Change, f64)> {
        let setup = &kind.setup;
        let slope = kind.slopes.iter().map(|slope| unit::DEGREE.value(*slope)).fold(f64::NEG_INFINITY, f64::max);
        let slope = if slope.is_finite() { slope } else { 0.0 };
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
        let mut slopes: Vec<OnSlope> = Vec::new();
        let each =
            kinds.iter().enumerate().flat_map(|(index, kind)| kind.slopes.iter().map(move |s| (index, kind, *s)));
        for (index, kind, slope) in each {
            let same =
                |on: &&mut OnSlope| on.air == kind.air && on.conditions.slope().si().total_cmp(&slope.si()).is_eq();
            if let Some(on) = slopes.iter_mut().find(same) {
                on.kinds.push(index);
            } else {
                let conditions = (self.conditions)(&self.course.airs[kind.air], slope)?;
                slopes.push(OnSlope { air: kind.air, conditions, kinds: vec![index] });
            }
        }
        // Those that ask the most of a plate first: the others are then passed over at a glance.
        let demand = |alike: &[usize]| super::demand_of(&self.course.loads[alike[0]].load);
        let mut order: Vec<(f64, &[usize])> =
            self.groups.iter().map(|alike| (demand(alike), alike.as_slice())).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        let (first, rest) = order.split_at(order.len().min(SEED));
        let mut seed: Vec<Needs<'r>> =
            kinds.iter().map(|k| vec![vec![Top::default(); k.slots.len()]; k.options.len()]).collect();
        first.iter().for_each(|(_, alike)| self.needs_of(alike, kinds, &slopes, &mut seed));
        let merged = |mut a: Vec<Needs<'r>>, b: Vec<Needs<'r>>| {
            for (to, from) in a.iter_mut().flatten().flatten().zip(b.iter().flatten().flatten()) {
                from.0.iter().for_each(|need| to.offer(*need));
            }
            a
        };
        let add = |mut needs: Vec<Needs<'r>>, _: usize, (_, alike): &(f64, &[usize])| {
            self.needs_of(alike, kinds, &slopes, &mut needs);
            needs
        };
        Ok(crate::threads::fold(rest, || seed.clone(), add, merged))
    }

    /// What loads that are alike need at each kind of target.
    fn needs_of(&self, alike: &[usize], kinds: &[Kind<'r>], slopes: &[OnSlope], needs: &mut [Needs<'r>]) {
        let load = &self.course.loads[alike[0]];
        let own = load.class();
        for on in slopes {
            let mine = |at: usize| {
                let class = kinds[at].classes.iter().position(|c| *c == own)?;
                // Of those that need the same no more than are kept count.
                let shoots = alike.iter().copied().filter(|load| !kinds[at].without.contains(load));
                let loads: Vec<usize> = shoots.take(TOP).collect();
                (!loads.is_empty()).then_some((at, class, loads))
            };
            let mine: Vec<(usize, usize, Vec<usize>)> = on.kinds.iter().filter_map(|at| mine(*at)).collect();
            if mine.is_empty() {
                continue;
            }
            let Ok(flights) = Flights::new(&load.load, &on.conditions) else { continue };
            let farthest = |(at, class, _): &(usize, usize, Vec<usize>)| {
                let least = needs[*at].iter().filter_map(|tops| tops[*class].least()).filter(|m| m.is_finite());
                let farther = kinds[*at].places.get(*class).and_then(|places| places.last()).map_or(0.0, |p| p.behind);
                least.fold(kinds[*at].nearest[*class], f64::max) + farther
            };
            let farthest = mine.iter().map(farthest).filter(|m| m.is_finite()).fold(0.0, f64::max);
            let mut shot = Shot {
                loads: Vec::new(),
                followed: if farthest > 0.0 { follow(&flights, Length::from_si(farthest)) } else { None },
                flights: &flights,
            };
            for (at, class, loads) in mine {
                shot.loads = loads;
                if kinds[at].line.is_some() {
                    self.needs_of_places(&shot, on.conditions.slope(), &kinds[at], class, &mut needs[at]);
                } else {
                    self.needs_at(&shot, &kinds[at], class, &mut needs[at]);
                }
            }
        }
    }

    /// What a load needs at a kind of target, with each of its changes made.
    fn needs_at(&self, shot: &Shot, kind: &Kind<'r>, class: usize, needs: &mut Needs<'r>) {
        let (first, near) = (shot.loads[0], kind.nearest[class]);
        let (load, keep) = (&self.course.loads[first].load, self.keep.of(kind.rules, first));
        let rules = self.rules.of(kind.rules);
        let mut as_it_stands = false;
        for ((change, _), tops) in kind.options.iter().zip(needs) {
            let top = &mut tops[class];
            let least = top.least();
            if least.is_some_and(f64::is_infinite) {
                continue;
            }
            let threshold = near.max(least.unwrap_or(0.0));
            let plate = change.plate.as_ref().unwrap_or(&kind.plate);
            // What passes as it stands passes with a change made; the whole is judged again.
            let setup = || change.apply(&kind.setup);
            let allowance = (!as_it_stands).then(|| rules.allow(load, plate, &setup(), shot.flights.muzzle()));
            let Some(allowance) = allowance.filter(|a| !passes_at(shot, a, keep, threshold)) else {
                as_it_stands |= change.is_nothing() && keep <= near && threshold <= near;
                shot.loads.iter().for_each(|&load| top.offer(Need { metres: 0.0, load, by: None }));
                continue;
            };
            let (metres, by) = passes_from(&allowance, shot.flights, self.course.loads[first].floor(), near);
            let (metres, by) = if keep > metres { (keep, rules.speed_ceiling().map(|c| c.1)) } else { (metres, by) };
            shot.loads.iter().for_each(|&load| top.offer(Need { metres, load, by }));
        }
    }

    /// The same where slopes differ: what a load needs at each place on this slope, as a distance of the place that the
    /// class then shoots from as its nearest.
    fn needs_of_places(&self, shot: &Shot, slope: Angle, kind: &Kind<'r>, class: usize, needs: &mut Needs<'r>) {
        let first = shot.loads[0];
        let (load, keep) = (&self.course.loads[first].load, self.keep.of(kind.rules, first));
        let (rules, places) = (self.rules.of(kind.rules), &kind.places[class]);
        let here = |place: &&Place| place.slope.si().total_cmp(&slope.si()).is_eq();
        for ((change, _), tops) in kind.options.iter().zip(needs) {
            let plate = change.plate.as_ref().unwrap_or(&kind.plate);
            let allowance = rules.allow(load, plate, &change.apply(&kind.setup), shot.flights.muzzle());
            for place in places.iter().filter(here) {
                let near = kind.nearest[class] + place.behind;
                let (metres, by) = if passes_at(shot, &allowance, keep, near) {
                    (0.0, None)
                } else {
                    let (metres, by) = passes_from(&allowance, shot.flights, self.course.loads[first].floor(), near);
                    if keep > metres { (keep, rules.speed_ceiling().map(|c| c.1)) } else { (metres, by) }
                };
                for (top, &(_, from)) in tops.iter_mut().zip(&kind.slots).filter(|(_, (of, _))| *of == class) {
                    let start = places[from].behind;
                    if start <= place.behind {
                        let metres = (metres - (place.behind - start)).max(0.0);
                        shot.loads.iter().for_each(|&load| top.offer(Need { metres, load, by }));
                    }
                }
            }
        }
    }
}

/// Whether a load passes at a distance, by a quick look that errs to the strict side.
fn passes_at(shot: &Shot, allowance: &Allowance, keep: f64, metres: f64) -> bool {
    let Some((followed, to)) = &shot.followed else { return false };
    let distance = Length::from_si(metres);
    keep <= metres
        && distance <= *to
        && shot.flights.slows_down()
        && !allowance.asks_slow(distance)
        && allowance.judge(&followed.look(distance)).verdict == Verdict::Suits
}

/// The distance from which a load comes to no worse than a verdict, m, and the rule that sets it; infinite where it
/// fails at `near` by what moving back does not mend: the bullet falls more steeply there, or arrives more slowly.
pub(crate) fn passes_from<'r>(
    allowance: &Allowance<'r>,
    flights: &Flights,
    floor: Verdict,
    near: f64,
) -> (f64, Option<&'r Rule>) {
    let closest = match floor {
        Verdict::Suits => allowance.closest(flights),
        Verdict::Borderline => allowance.borderline_from(flights),
        Verdict::Unsuitable => return (0.0, None),
    };
    let Some(metres) = closest.distance().map(Measure::si) else { return (f64::INFINITY, closest.by()) };
    if metres > near || !near.is_finite() {
        return (metres, closest.by());
    }
    let distance = Length::from_si(near);
    match flights.strike_for(distance, allowance.asks_slow(distance)).map(|strike| allowance.judge(&strike)) {
        Ok(judgement) if judgement.verdict > floor => (f64::INFINITY, judgement.rule),
        _ => (metres, closest.by()),
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
    rules: impl Into<Books<'r>>,
    ladder: &Ladder,
    conditions: Conditions,
    keep: &Kept,
    step: Length,
) -> Result<Vec<Mending<'r>>, CoverageError> {
    let groups = alike::groups(&course.loads);
    let rules = rules.into();
    Search { course, cases, outcomes, rules, ladder, conditions, keep, step, groups: &groups }.run()
}
