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

use super::judge::{Conditions, Outcome};
use super::{Books, Case, Course, Kept, Target, alike, any_fails};
use crate::load::Class;
use crate::order::Order;
use crate::plate::{Ladder, Plate, same_thickness};
use crate::quantity::{Angle, Length, Measure, unit};
use crate::rules::{Allowance, Rule, Setup, Verdict};
use crate::spread::{CoverageError, Flights};
pub use change::Change;
use change::cost;
use need::{MAX_REFUSED, Needs, TOP, Top};
pub use plan::is_damaged;
pub use plan::mended;
use plan::{Failing, Plan};
use std::collections::{BTreeSet, HashMap, HashSet};

/// Failing loads of a case whose rules are looked at.
const LOOKED: usize = 8;
/// Rounds of search after fixes that did not hold.
const MAX_ROUNDS: usize = 6;

/// What leaving one load at home counts as beside the other fixes.
pub const LEAVING: f64 = cost::REFUSE;

/// How the shooters of a class are moved on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Move {
    /// Not at all.
    Keep,
    /// They shoot from this position and those farther only: its index among the line's.
    From(usize),
    /// They shoot from this position and those nearer only: farther off a bullet falls too steeply, or is too slow.
    UpTo(usize),
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
    /// Where its positions are looked at one by one, since their slopes differ or it passes near and fails farther off:
    /// its line, and the places of each class on it, from near to far.
    line: Option<usize>,
    places: Vec<Vec<Place>>,
    /// What needs are kept of: each class at all of its places, then, where they are looked at one by one, from each on
    /// and up to each.
    slots: Vec<Slot>,
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
    /// How its targets stand with each of the options.
    setups: Vec<Setup>,
    blocking: Vec<&'r Rule>,
}

/// A position as a class shoots from it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    /// How far behind the nearest position of the class, m.
    behind: f64,
    slope: Angle,
}

/// A class at some of its places, from one to another.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Slot {
    class: usize,
    from: usize,
    to: usize,
}

impl Slot {
    /// All of a class's places, then those from each on, then those up to each.
    fn of(class: usize, places: usize) -> impl Iterator<Item = Self> {
        let last = places.saturating_sub(1);
        let from = (1..places).map(move |from| Self { class, from, to: last });
        from.chain((0..last).map(move |to| Self { class, from: 0, to }))
    }
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

/// What fixes are looked for with.
#[derive(Clone, Copy)]
pub struct Asked<'a, 'r> {
    /// The match, in the air that a fix must hold in.
    pub course: &'a Course,
    /// The same in the air that was taken: what passes there is no target to fix.
    pub here: &'a Course,
    /// Its cases.
    pub cases: &'a [Case],
    /// What each comes to: those of targets to fix in the air that a fix must hold in.
    pub outcomes: &'a [Outcome<'r>],
    /// The rules.
    pub rules: Books<'r>,
    /// The plates there are.
    pub ladder: &'a Ladder,
    /// Whether no other new plate is to be had: a shop's own.
    pub is_stock: bool,
    /// The air on a slope.
    pub conditions: Conditions<'a>,
    /// A distance of each load's own that it must keep besides, m: the risk of a match.
    pub keep: &'a Kept,
    /// The same in the air that was taken.
    pub keep_here: &'a Kept,
    /// What a shift is rounded up to.
    pub step: Length,
}

/// The search for fixes over a course.
pub(super) struct Search<'a, 'r> {
    pub asked: &'a Asked<'a, 'r>,
    /// The loads in groups of those that are alike.
    pub groups: &'a [Vec<usize>],
}

impl<'a, 'r> std::ops::Deref for Search<'a, 'r> {
    type Target = Asked<'a, 'r>;

    fn deref(&self) -> &Self::Target {
        self.asked
    }
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
        let fails = any_fails(&mended, &cases, self.rules, self.conditions)?;
        let failing = cases.iter().zip(fails).filter(|(_, fails)| *fails);
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
        found.order_by_key(|m| m.target);
        found
    }

    fn failing<'k>(&self, target: usize, kind: &'k Kind<'r>, needs: &'k Needs<'r>) -> Failing<'k, 'r> {
        let distances = kind.classes.iter().map(|&class| self.distance(target, class));
        Failing { target, kind, needs, distances: distances.collect(), banned: Vec::new() }
    }

    fn kinds(&self) -> Vec<Kind<'r>> {
        let mut kinds: Vec<Kind<'r>> = Vec::new();
        let brought = self.course.classes_brought();
        let fading = self.fading();
        for (case, outcome) in self.cases.iter().zip(self.outcomes) {
            if outcome.failing == 0 && !self.is_risky(case) {
                continue;
            }
            let target = &self.course.targets[case.target];
            let blocking = self.blocking(case, outcome);
            let slopes = self.slopes_at(target, &brought);
            let line = (slopes.len() > 1 || fading.contains(&case.target)).then_some(target.line);
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
                    setups: Vec::new(),
                    blocking: Vec::new(),
                });
                kinds.len() - 1
            });
            let kind = &mut kinds[at];
            kind.targets.push(case.target);
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
            let places = |class: usize| kind.places.get(class).map_or(0, Vec::len);
            let all = |class: usize| Slot { class, from: 0, to: places(class).saturating_sub(1) };
            let classes = 0..kind.classes.len();
            let slots = classes.clone().map(all).chain(classes.flat_map(|class| Slot::of(class, places(class))));
            kind.slots = slots.collect();
            kind.options = self.options(kind);
            kind.setups = kind.options.iter().map(|(change, _)| change.apply(&kind.setup)).collect();
        }
        kinds
    }

    /// The targets that a class passes at from near and fails at from farther off.
    fn fading(&self) -> HashSet<usize> {
        let all = self.cases.iter().zip(self.outcomes).flat_map(|(case, outcome)| {
            let mine = Class::ALL.iter().copied().filter(|class| case.classes.has(*class));
            mine.map(move |class| ((case.target, class), case.distance.si(), outcome.failing > 0))
        });
        let (failing, passing): (Vec<_>, Vec<_>) = all.partition(|(_, _, fails)| *fails);
        let mut nearest: HashMap<(usize, Class), f64> = HashMap::new();
        for (shot, metres, _) in passing {
            let least = nearest.entry(shot).or_insert(f64::INFINITY);
            *least = least.min(metres);
        }
        let fades = failing.into_iter().filter(|(shot, metres, _)| nearest.get(shot).is_some_and(|near| near < metres));
        fades.map(|((target, _), ..)| target).collect()
    }

    /// The slopes that a target is shot on by those who shoot at it, each once.
    fn slopes_at(&self, target: &Target, brought: &[Class]) -> Vec<Angle> {
        let line = &self.course.lines[target.line];
        let classes = self.course.classes_at(target, brought).into_iter();
        let places = classes.flat_map(|class| line.positions_of(class));
        let mut slopes: Vec<Angle> =
            places.map(|(index, _)| line.positions[index].slope.unwrap_or(target.slope)).collect();
        slopes.order_by(|a, b| a.si().total_cmp(&b.si()));
        slopes.dedup();
        slopes
    }

    /// The places of each class where they are looked at one by one.
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
        let mut kept = self.keep_here.all_of(self.course.targets[case.target].rules);
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

    /// The plates that a new one of a kind is taken from, beside another of its own thickness: the thicker ones, from
    /// thin to thick; of a stock that has none as thick, all.
    fn others(&self, kind: &Kind) -> Vec<&Plate> {
        let all = || self.ladder.plates().iter();
        let own = kind.plate.thickness;
        let is_as_thick = |plate: &&Plate| plate.thickness > own || same_thickness(plate.thickness, own);
        if self.is_stock && !all().any(|plate| is_as_thick(&plate)) {
            return all().collect();
        }
        all().filter(|plate| is_as_thick(plate) && !same_thickness(plate.thickness, own)).collect()
    }

    /// The changes that are tried: those that the blocking rules call for, on every plate that is no thinner.
    fn options(&self, kind: &Kind) -> Vec<(Change, f64)> {
        let slope = kind.slopes.iter().map(|slope| unit::DEGREE.value(*slope)).fold(f64::NEG_INFINITY, f64::max);
        let slope = if slope.is_finite() { slope } else { 0.0 };
        let changes = change::in_all_ways(&change::ways(&kind.setup, &kind.blocking, slope));
        let mut options = Vec::new();
        let others = self.others(kind);
        let is_sold = |plate: &Plate| same_thickness(plate.thickness, kind.plate.thickness);
        let is_to_be_had = !self.is_stock || self.ladder.plates().iter().any(is_sold);
        for change in changes {
            if is_to_be_had || !change.fresh {
                options.push((change.clone(), change.cost(0)));
            }
            for (steps, plate) in others.iter().enumerate() {
                // A new plate is sound and of known steel: nothing is left to look over.
                let hung = Change { plate: Some((*plate).clone()), look: false, fresh: true, ..change.clone() };
                if !change.look && !change.fresh {
                    options.push((hung.clone(), hung.cost(steps + 1)));
                }
            }
        }
        options
    }
}

/// The distance from which a load comes to no worse than a verdict, m, and the rule that sets it; infinite where it
/// fails at `near` by what moving back does not mend: the bullet falls more steeply there, or arrives more slowly.
pub fn passes_from<'r>(
    allowance: &Allowance<'r>,
    flights: &Flights,
    floor: Verdict,
    near: f64,
) -> (f64, Option<&'r Rule>) {
    let closest = match floor {
        Verdict::Suits => allowance.closest(flights),
        // What speaks of the load alone stays; all else must suit.
        Verdict::Borderline => {
            let beside = passes_from(&allowance.beside_load(), flights, Verdict::Suits, near);
            match allowance.borderline_from(flights) {
                whole if whole.distance().is_none_or(|metres| metres.si() > beside.0) => whole,
                _ => return beside,
            }
        }
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

/// What mends each target that does not pass, in the order of the targets; shifts are rounded up to whole steps.
///
/// # Errors
/// [`CoverageError`] from the conditions.
pub fn mendings<'r>(asked: &Asked<'_, 'r>) -> Result<Vec<Mending<'r>>, CoverageError> {
    let groups = alike::groups(&asked.course.loads);
    Search { asked, groups: &groups }.run()
}

#[cfg(test)]
pub(super) mod tests;
