//! A whole match: every target against every admitted load, at once.

mod admit;
mod alike;
mod by_range;
mod called;
mod crowd;
mod file;
mod fix;
mod foreign;
mod heads;
mod judge;
mod kept_for;
mod leave;
mod lines;
mod names;
mod noted;
mod noticed;
mod numbered;
mod paired;
mod people;
mod place;
mod record;
mod rows;
mod second;
mod shooter;
mod spoken;
mod stood;
mod table;
mod tally;
mod unread;
mod vocabulary;
mod within;
mod worst;
mod written;

pub use admit::{Admission, Ammunition, InPart, Lack};
pub use by_range::used;
pub use by_range::{Books, Kept, any_fails, judge, verdicts};
pub use called::{SAME, named_nearer, named_thinner, speaks_of_rigid, speaks_of_targets};
pub use called::{drawn_otherwise, is_thickness, judged_otherwise, steel_otherwise};
pub use crowd::keep_off;
pub use file::REDEFINED;
pub use file::{MAX_LOADS, MAX_TARGETS, Open, Reading, SCHEMA};
pub use fix::{Asked, Change, Fix, LEAVING, Mending, Move, Reasons, mended, mendings};
pub use fix::{is_damaged, passes_from};
pub use judge::{Conditions, Judged, Outcome, Warning};
pub use kept_for::KeptFor;
pub use leave::{Leaving, Left, leaving, without};
pub use noted::{
    layers_not_cut, noted_damage, noted_scale, noted_size, noted_steel, noted_thinner, noted_unit, plate_within,
};
pub use paired::named_narrower;
pub use people::without_initials;
pub use stood::{is_moved_nearer, is_sloped, line_named};
pub use tally::Work;
pub use unread::Unread;
pub use written::keys;

use crate::air::Weather;
use crate::load::{Class, Load};
use crate::order::Order;
use crate::plate::{Face, Kind, Ladder, Mount, Plate};
use crate::quantity::{Angle, Length, Measure, Ratio, unit};
use crate::rules::{Closest, Rule, RuleSet, Setup, Verdict, demand};
use crate::source::{Faults, SourceText};
use crate::spread::{FlightConditions, Flights};
use crate::standoff;
use crate::words::Units;
use std::collections::HashSet;
use std::sync::Arc;

/// What is just short of a distance, as a share of it: by more than rounding makes of it.
const JUST_SHORT: f64 = 1.0 - 1e-6;

/// A set of classes of load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClassSet(u32);

impl ClassSet {
    /// Every class.
    pub const ALL: Self = Self(u32::MAX);

    /// One class.
    #[must_use]
    pub fn of(class: Class) -> Self {
        Self(1 << class as u32)
    }

    /// These classes; all where none is named.
    #[must_use]
    pub fn or_all(classes: &[Class]) -> Self {
        if classes.is_empty() { Self::ALL } else { Self(classes.iter().fold(0, |set, class| set | 1 << *class as u32)) }
    }

    /// Whether a class is one of them.
    #[must_use]
    pub fn has(self, class: Class) -> bool {
        self.0 & 1 << class as u32 != 0
    }

    fn with(self, class: Class) -> Self {
        Self(self.0 | 1 << class as u32)
    }
}

/// A place that the targets of a line are shot from.
#[derive(Debug, Clone, PartialEq)]
pub struct Position {
    /// What it is called.
    pub name: Option<String>,
    /// The nearest point that can be reached from it, beyond the distance that a target itself states.
    pub offset: Length,
    /// How much farther off a shooter who moves may be; zero where nobody does.
    pub reach: Length,
    /// Who shoots from it.
    pub classes: ClassSet,
    /// The slope from it, positive uphill, where it has one of its own.
    pub slope: Option<Angle>,
}

impl Position {
    /// The distance of a target that states this distance itself.
    #[must_use]
    pub fn distance(&self, at: Length) -> Length {
        self.offset + at
    }

    /// The farthest that such a target is shot from here.
    #[must_use]
    pub fn farthest(&self, at: Length) -> Length {
        self.offset + at + self.reach
    }
}

/// The positions that targets are shot from: a stage's, or those of one target alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its stage.
    pub stage: usize,
    /// Its positions, at least one.
    pub positions: Vec<Position>,
}

impl Line {
    /// The nearest point a class shoots from; `None` where it has no position.
    #[must_use]
    pub fn nearest(&self, at: Length, class: Class) -> Option<Length> {
        self.positions_of(class).first().map(|&(index, _)| self.positions[index].distance(at))
    }

    /// The farthest point a class shoots from.
    #[must_use]
    pub fn farthest(&self, at: Length, class: Class) -> Option<Length> {
        let mine = self.positions.iter().filter(|position| position.classes.has(class));
        mine.map(|position| position.farthest(at)).reduce(Length::max)
    }

    /// The nearest point a class shoots from once it is moved.
    #[must_use]
    pub fn moved(&self, at: Length, class: Class, moved: Move) -> Option<Length> {
        self.nearest(at, class).map(|near| self.after(at, near, moved))
    }

    /// The same of a class whose nearest point is known.
    pub(crate) fn after(&self, at: Length, near: Length, moved: Move) -> Length {
        match moved {
            Move::Keep | Move::UpTo(_) => near,
            Move::From(position) => self.positions[position].distance(at).max(near),
            Move::Back(by) => near + by,
        }
    }

    /// The positions of a class with their offsets, from near to far.
    #[must_use]
    pub fn positions_of(&self, class: Class) -> Vec<(usize, Length)> {
        let mine = self.positions.iter().enumerate().filter(|(_, p)| p.classes.has(class));
        let mut mine: Vec<(usize, Length)> = mine.map(|(index, p)| (index, p.offset)).collect();
        mine.order_by(|a, b| a.1.si().total_cmp(&b.1.si()));
        mine
    }
}

/// A target of a match.
#[derive(Debug, Clone)]
pub struct Target {
    /// Its stage: an index.
    pub stage: usize,
    /// What it is called.
    pub name: String,
    /// How many there are of it.
    pub count: u32,
    /// How it behaves.
    pub kind: Kind,
    /// The line it is shot from: an index.
    pub line: usize,
    /// Its distance from the line; zero where the positions state theirs.
    pub at: Length,
    /// The air it stands in: an index.
    pub air: usize,
    /// The rules it stands under: 0 for the match's own, else one more than an index of [`Course::stage_rules`].
    pub rules: usize,
    /// Whether it is taken to hang because no mount was given.
    pub is_hung_taken: bool,
    /// How it stands.
    pub setup: Setup,
    /// The slope to it, positive uphill, from positions that have none of their own.
    pub slope: Angle,
    /// Its plate.
    pub plate: Plate,
    /// Depth of the base that a falling plate or a popper stands on, where it was given.
    pub base: Option<Length>,
    /// The classes that shoot at it; all where none is named.
    pub classes: Vec<Class>,
    /// Loads that are left out at it: indices.
    pub without: Vec<usize>,
    /// The same as the match names them: shooters, or loads.
    pub without_names: Vec<String>,
}

/// A target as some classes shoot at it from one position; of one on which a shooter moves, from one place of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The target: an index.
    pub target: usize,
    /// The position among its line's: an index.
    pub position: usize,
    /// From where it is shot there.
    pub distance: Length,
    /// The slope from there, positive uphill.
    pub slope: Angle,
    /// The classes that shoot from there.
    pub classes: ClassSet,
    /// Loads that are left out: indices.
    pub without: Vec<usize>,
}

impl Case {
    /// Whether a load that is shot in it must keep farther off, m.
    #[must_use]
    pub fn is_nearer_than(&self, keep: f64, load: usize, course: &Course) -> bool {
        keep > 0.0
            && self.distance.si() < keep * (1.0 - 1e-9)
            && self.classes.has(course.loads[load].class())
            && !self.without.contains(&load)
    }
}

/// A load that somebody brings.
#[derive(Debug, Clone)]
pub struct Brought {
    /// The load.
    pub load: Arc<Load>,
    /// Who brings it, where it was declared.
    pub who: Vec<String>,
    /// The best verdict that it has on any plate from anywhere, once it was looked at.
    pub best: Verdict,
}

impl Brought {
    /// The class it is shot as: by what fires it, whatever it is judged as besides.
    #[must_use]
    pub fn class(&self) -> Class {
        self.load.class()
    }

    /// A load that nobody is known to bring.
    fn by_nobody(load: Arc<Load>) -> Self {
        Self { load, who: Vec::new(), best: Verdict::Suits }
    }

    fn floor(&self) -> Verdict {
        self.best
    }
}

/// A load that the match's ammunition rules refuse, and why.
#[derive(Debug, Clone)]
pub struct Refused {
    /// The load.
    pub load: Arc<Load>,
    /// Who brings it, where it was declared.
    pub who: Option<String>,
    /// Why.
    pub why: String,
}

/// A load that no plate takes at any distance.
#[derive(Debug, Clone)]
pub struct Barred<'r> {
    /// The load.
    pub brought: Brought,
    /// Its best verdict on steel.
    pub verdict: Verdict,
    /// The rule that says so.
    pub rule: &'r Rule,
}

/// A stage of a match.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stage {
    /// What it is called.
    pub name: String,
    /// The rules it stands under: 0 for the match's own, else one more than an index of [`Course::stage_rules`].
    pub rules: usize,
}

/// A table that was read: how many rows, and how many of them hold what they should.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableRead {
    /// Its file.
    pub name: String,
    /// What its rows hold: `loads`, `targets`.
    pub of: &'static str,
    /// How many rows.
    pub rows: usize,
    /// How many of them were read.
    pub read: usize,
    /// How many things they hold: rows of one target are its positions.
    pub things: usize,
    /// Columns that were left out.
    pub left_out: Vec<String>,
    /// Those of them that say something of nobody knows what, and that were not left out on purpose.
    pub unread: Vec<String>,
    /// Their cells that may be of another gun, load or speed than the row's.
    pub doubted: Vec<String>,
    /// What was left out on purpose and speaks of what is judged: columns by their heads, rows by their cells.
    pub ignored: Vec<String>,
}

/// What was searched for a class where anything is admitted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Anything {
    /// The class.
    pub class: Class,
    /// In words: how many cartridges and loads stand for the rule.
    pub told: String,
    /// How far they reach, in short.
    pub reach: String,
}

/// A match as read.
#[derive(Debug, Clone)]
pub struct Course {
    /// What it is called.
    pub name: String,
    /// Units of the words.
    pub units: Units,
    /// Its stages.
    pub stages: Vec<Stage>,
    /// Its lines.
    pub lines: Vec<Line>,
    /// The targets that could be read.
    pub targets: Vec<Target>,
    /// The loads that are admitted, each once.
    pub loads: Vec<Brought>,
    /// Shooters whose cells say more than a name, each with the load that it speaks against.
    pub called_more: HashSet<(String, String)>,
    /// The loads that are refused.
    pub refused: Vec<Refused>,
    /// The airs: the match's, and those that stages state.
    pub airs: Vec<Weather>,
    /// The coverage of fast and slow shot.
    pub coverage: Option<Ratio>,
    /// How many shooters and rounds, and the risk that is accepted.
    pub crowd: Option<standoff::Match>,
    /// Rules of the range, as the match names their files.
    pub range_rules: Vec<SourceText>,
    /// The distances that rules speak from or up to, m, by the rules that a target stands under; none before rules are
    /// known. A shooter who moves is judged just short of each.
    pub edges: Vec<Vec<f64>>,
    /// Rules of further ranges that stages stand on: those that one stage names together, each such list once.
    pub stage_rules: Vec<Vec<SourceText>>,
    /// What was assumed.
    pub assumed: Vec<String>,
    /// Classes of which anything is admitted.
    pub anything: Vec<Anything>,
    /// Cartridges of which any ammunition was judged, with the classes that fire it.
    pub any: Vec<(String, Vec<Class>)>,
    /// Cartridges of which any ammunition is admitted and only a part is known.
    pub in_part: Vec<InPart>,
    /// Loads as slow as metres a second written as feet, which were taken as written: by name.
    pub as_written: HashSet<String>,
    /// The loads that stand for the slowest that is admitted: indices.
    pub slow: Vec<usize>,
    /// Tables that were read.
    pub tables: Vec<TableRead>,
    /// The ammunition rules.
    pub admission: Admission,
    /// What could not be read.
    pub unread: Faults,
    /// The same by the stages that it keeps closed.
    pub unread_on: Unread,
}

impl Course {
    /// The classes that loads were brought of.
    #[must_use]
    pub fn classes_brought(&self) -> Vec<Class> {
        let mut classes: Vec<Class> = self.loads.iter().map(Brought::class).collect();
        classes.order();
        classes.dedup();
        classes
    }

    /// Of these classes those that shoot at a target.
    #[must_use]
    pub fn classes_at(&self, target: &Target, brought: &[Class]) -> Vec<Class> {
        let (set, line) = (ClassSet::or_all(&target.classes), &self.lines[target.line]);
        let shoots = |class: Class| {
            // A class of which every load is left out does not shoot.
            let mut loads = self.loads.iter().enumerate().filter(|(_, load)| load.class() == class);
            target.without.is_empty() || loads.any(|(index, _)| !target.without.contains(&index))
        };
        let classes = brought.iter().copied();
        classes.filter(|c| set.has(*c) && line.nearest(target.at, *c).is_some() && shoots(*c)).collect()
    }

    /// Every target as the classes that are brought shoot at it, from each of their positions.
    #[must_use]
    pub fn cases(&self) -> Vec<Case> {
        let brought = self.classes_brought();
        let mut cases: Vec<Case> = Vec::new();
        for (index, target) in self.targets.iter().enumerate() {
            let (first, line) = (cases.len(), &self.lines[target.line]);
            for class in self.classes_at(target, &brought) {
                for (position, _) in line.positions_of(class) {
                    let mut known = false;
                    for case in cases[first..].iter_mut().filter(|case| case.position == position) {
                        (case.classes, known) = (case.classes.with(class), true);
                    }
                    if known {
                        continue;
                    }
                    let place = &line.positions[position];
                    cases.extend(self.along(target.rules, place.distance(target.at), place.reach).map(|distance| {
                        Case {
                            target: index,
                            position,
                            distance,
                            slope: place.slope.unwrap_or(target.slope),
                            classes: ClassSet::of(class),
                            without: target.without.clone(),
                        }
                    }));
                }
            }
        }
        cases
    }

    /// Where a shooter who moves is judged under some rules: at both ends of the way, and just short of each distance
    /// between them at which a rule begins or ends to speak, where what fades with distance is weakest.
    pub(crate) fn along(&self, rules: usize, near: Length, reach: Length) -> impl Iterator<Item = Length> {
        let far = near + reach;
        let edges = self.edges.get(rules).filter(|_| reach.si() > 0.0).map_or(&[][..], Vec::as_slice);
        let short = edges.iter().map(|edge| Length::from_si(edge * JUST_SHORT));
        let between = short.filter(move |at| *at > near && *at < far);
        let end = (reach.si() > 0.0).then_some(far);
        std::iter::once(near).chain(between.collect::<Vec<_>>()).chain(end)
    }

    /// Takes note of the distances that rules speak from or up to.
    pub fn look_along(&mut self, rules: Books) {
        self.edges = rules.all().map(RuleSet::edges).collect();
    }

    /// The nearest point a target can be shot from, whoever shoots.
    #[must_use]
    pub fn nearest(&self, target: &Target) -> Length {
        let offsets = self.lines[target.line].positions.iter().map(|p| p.distance(target.at));
        offsets.reduce(|a, b| if b < a { b } else { a }).unwrap_or_else(|| Length::from_si(0.0))
    }

    /// Sets apart the loads that no plate takes at any distance, and marks those that are borderline at best.
    pub fn set_apart<'r>(
        &mut self,
        rules: &'r RuleSet,
        ladder: &Ladder,
        conditions: &FlightConditions,
    ) -> Vec<Barred<'r>> {
        let (Some(thickest), Ok(face)) = (ladder.plates().last(), Face::round(unit::INCH.of(24.0))) else {
            return Vec::new();
        };
        let setup = Setup { mount: Mount::CaptiveHook, tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(face) };
        let on_the_best = rules.on(thickest, &setup).of_loads();
        let best = |brought: &Brought| {
            let flights = Flights::new(&brought.load, conditions).ok()?;
            let allowance = on_the_best.allow(&brought.load, flights.muzzle());
            let by = match allowance.closest(&flights) {
                Closest::At { .. } => return None,
                other => other.by()?,
            };
            let verdicts = BARRED_AT_YD.iter().filter_map(|yards| flights.strike(unit::YARD.of(*yards)).ok());
            let best = verdicts.map(|strike| allowance.judge(&strike).verdict).min()?;
            Some((best.max(Verdict::Borderline), by))
        };
        let groups = alike::groups(&self.loads);
        let of_groups: Vec<Option<(Verdict, &'r Rule)>> =
            crate::threads::map(&groups, |alike: &Vec<usize>| best(&self.loads[alike[0]]));
        let mut found = vec![None; self.loads.len()];
        for (alike, of_all) in groups.iter().zip(of_groups) {
            alike.iter().for_each(|load| found[*load] = of_all);
        }
        let mut barred = Vec::new();
        let mut index = 0;
        let mut kept: Vec<usize> = Vec::new();
        self.loads.retain_mut(|brought| {
            index += 1;
            let Some((verdict, rule)) = found[index - 1] else {
                kept.push(index - 1);
                return true;
            };
            brought.best = verdict;
            barred.push(Barred { brought: brought.clone(), verdict, rule });
            let stays = verdict == Verdict::Borderline;
            kept.extend(stays.then_some(index - 1));
            stays
        });
        let place = |load: &usize| kept.binary_search(load).ok();
        for target in self.targets.iter_mut().filter(|target| !target.without.is_empty()) {
            target.without = target.without.iter().filter_map(place).collect();
        }
        self.slow = self.slow.iter().filter_map(place).collect();
        barred
    }

    fn note(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.assumed.contains(&text) {
            self.assumed.push(text);
        }
    }
}

/// Where a load that suits nowhere is looked at for whether it is borderline somewhere, yd.
const BARRED_AT_YD: [f64; 5] = [50.0, 150.0, 400.0, 800.0, 1500.0];

/// The demand of a load at the muzzle: what ties go by.
fn demand_of(load: &Load) -> f64 {
    demand::thickness(load.muzzle_energy(), load.facts().bullet).si()
}

#[cfg(test)]
mod tests;
