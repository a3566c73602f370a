//! The loads that need the most distance of a target, by option.

use super::{Kind, Place, Search, passes_from};
use crate::course::demand_of;
use crate::course::judge::follow;
use crate::order::Order;
use crate::quantity::{Angle, Length, Measure};
use crate::rules::{Allowance, OnPlate, Rule, Verdict};
use crate::spread::{CoverageError, FlightConditions, Flights, Followed};
use crate::strike::Strike;
use std::cell::OnceCell;

/// Loads that may be left out at a target, at most.
pub(super) const MAX_REFUSED: usize = 3;
/// What is kept of an option: the loads that need the most distance.
pub(super) const TOP: usize = MAX_REFUSED + 1;
/// Loads that are looked at first, whose needs let the others be passed over.
const SEED: usize = 2 * TOP;

/// From where a load passes.
#[derive(Clone, Copy)]
pub(super) struct Need<'r> {
    pub metres: f64,
    pub load: usize,
    pub by: Option<&'r Rule>,
}

/// The loads of a class that need the most distance, the most first.
#[derive(Clone, Default)]
pub(super) struct Top<'r>(pub Vec<Need<'r>>);

impl<'r> Top<'r> {
    pub fn offer(&mut self, need: Need<'r>) {
        // A load that is offered from several places needs the most of them.
        if let Some(known) = self.0.iter().position(|known| known.load == need.load) {
            if self.0[known].metres >= need.metres {
                return;
            }
            self.0.remove(known);
        }
        let before = |n: &Need| n.metres.total_cmp(&need.metres).then(need.load.cmp(&n.load)).is_gt();
        let at = self.0.iter().position(|n| !before(n)).unwrap_or(self.0.len());
        if at < TOP {
            self.0.insert(at, need);
            self.0.truncate(TOP);
        }
    }

    /// The distance that a further load must need to count.
    pub fn least(&self) -> Option<f64> {
        self.0.get(TOP - 1).map(|n| n.metres)
    }

    pub fn beyond(&self, metres: f64) -> impl Iterator<Item = &Need<'r>> {
        self.0.iter().take_while(move |n| n.metres > metres * (1.0 + 1e-9))
    }
}

/// By option, then by slot: the classes first.
pub(super) type Needs<'r> = Vec<Vec<Top<'r>>>;

/// Kinds of targets of one air and slope.
struct OnSlope {
    air: usize,
    conditions: FlightConditions,
    kinds: Vec<usize>,
}

/// Everything that loads are looked at against.
struct Field<'k, 'r> {
    kinds: &'k [Kind<'r>],
    slopes: Vec<OnSlope>,
    /// By kind, then by option.
    rules: Vec<Vec<OnPlate<'r, 'k>>>,
}

/// A kind of target as a class stands before it.
struct Before<'k, 'r> {
    kind: &'k Kind<'r>,
    /// By option.
    rules: &'k [OnPlate<'r, 'k>],
    class: usize,
}

/// A load flown on a slope, with those that are alike.
struct Shot<'f, 'p> {
    /// Its place, and those of the loads that are alike, as far as they count.
    loads: Vec<usize>,
    flights: &'f Flights,
    /// As far as it is followed, once it is asked for.
    farthest: f64,
    followed: &'p OnceCell<Option<(Followed<'f>, Length)>>,
}

impl<'r> Search<'_, 'r> {
    /// The rules of a kind with each of its options.
    fn rules_of<'k>(&self, kind: &'k Kind<'r>) -> Vec<OnPlate<'r, 'k>> {
        let plates = kind.options.iter().map(|(change, _)| change.plate.as_ref().unwrap_or(&kind.plate));
        plates.zip(&kind.setups).map(|(plate, setup)| self.rules.of(kind.rules).on(plate, setup)).collect()
    }

    /// The rule that loads keep their distance for besides.
    fn ceiling(&self, kind: &Kind) -> Option<&'r Rule> {
        self.rules.of(kind.rules).speed_ceiling().map(|ceiling| ceiling.1)
    }

    pub(super) fn needs(&self, kinds: &[Kind<'r>]) -> Result<Vec<Needs<'r>>, CoverageError> {
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
        let field = Field { kinds, slopes, rules: kinds.iter().map(|kind| self.rules_of(kind)).collect() };
        // Those that ask the most of a plate first: the others are then passed over at a glance.
        let demand = |alike: &[usize]| demand_of(&self.course.loads[alike[0]].load);
        let mut order: Vec<(f64, &[usize])> =
            self.groups.iter().map(|alike| (demand(alike), alike.as_slice())).collect();
        order.order_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
        let (first, rest) = order.split_at(order.len().min(SEED));
        let mut seed: Vec<Needs<'r>> =
            kinds.iter().map(|k| vec![vec![Top::default(); k.slots.len()]; k.options.len()]).collect();
        first.iter().for_each(|(_, alike)| self.needs_of(alike, &field, &mut seed));
        let merged = |mut a: Vec<Needs<'r>>, b: Vec<Needs<'r>>| {
            for (to, from) in a.iter_mut().flatten().flatten().zip(b.iter().flatten().flatten()) {
                from.0.iter().for_each(|need| to.offer(*need));
            }
            a
        };
        let add = |mut needs: Vec<Needs<'r>>, _: usize, (_, alike): &(f64, &[usize])| {
            self.needs_of(alike, &field, &mut needs);
            needs
        };
        Ok(crate::threads::fold(rest, || seed.clone(), add, merged))
    }

    /// What loads that are alike need at each kind of target.
    fn needs_of(&self, alike: &[usize], field: &Field<'_, 'r>, needs: &mut [Needs<'r>]) {
        let kinds = field.kinds;
        let load = &self.course.loads[alike[0]];
        let own = load.class();
        for on in &field.slopes {
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
            let mut shot = Shot { loads: Vec::new(), flights: &flights, farthest, followed: &OnceCell::new() };
            for (at, class, loads) in mine {
                shot.loads = loads;
                let before = Before { kind: &kinds[at], rules: &field.rules[at], class };
                if kinds[at].line.is_some() {
                    self.needs_of_places(&shot, on.conditions.slope(), &before, &mut needs[at]);
                } else {
                    self.needs_at(&shot, &before, &mut needs[at]);
                }
            }
        }
    }

    /// What a load needs at a kind of target, with each of its changes made.
    fn needs_at(&self, shot: &Shot, before: &Before<'_, 'r>, needs: &mut Needs<'r>) {
        let (kind, class) = (before.kind, before.class);
        let (first, near) = (shot.loads[0], kind.nearest[class]);
        let (load, keep) = (&self.course.loads[first].load, self.keep.of(kind.rules, first));
        let mut as_it_stands = false;
        for (((change, _), rules), tops) in kind.options.iter().zip(before.rules).zip(needs) {
            let top = &mut tops[class];
            let least = top.least();
            if least.is_some_and(f64::is_infinite) {
                continue;
            }
            let threshold = near.max(least.unwrap_or(0.0));
            // What passes as it stands passes with a change made; the whole is judged again.
            let allowance = (!as_it_stands).then(|| rules.allow(load, shot.flights.muzzle()));
            let Some(allowance) = allowance.filter(|a| !passes_at(shot, a, keep, threshold)) else {
                as_it_stands |= change.is_nothing() && keep <= near && threshold <= near;
                shot.loads.iter().for_each(|&load| top.offer(Need { metres: 0.0, load, by: None }));
                continue;
            };
            let (metres, by) = passes_from(&allowance, shot.flights, self.course.loads[first].floor(), near);
            let (metres, by) = if keep > metres { (keep, self.ceiling(kind)) } else { (metres, by) };
            shot.loads.iter().for_each(|&load| top.offer(Need { metres, load, by }));
        }
    }

    /// The same place by place: what a load needs at each place on this slope, as a distance of the place that the
    /// class then shoots from as its nearest.
    fn needs_of_places(&self, shot: &Shot, slope: Angle, before: &Before<'_, 'r>, needs: &mut Needs<'r>) {
        let (kind, class) = (before.kind, before.class);
        let first = shot.loads[0];
        let (load, keep) = (&self.course.loads[first].load, self.keep.of(kind.rules, first));
        let places = &kind.places[class];
        let here = |place: &&Place| place.slope.si().total_cmp(&slope.si()).is_eq();
        for (rules, tops) in before.rules.iter().zip(needs) {
            let allowance = rules.allow(load, shot.flights.muzzle());
            for place in places.iter().filter(here) {
                let near = kind.nearest[class] + place.behind;
                let (metres, by) = if passes_at(shot, &allowance, keep, near) {
                    (0.0, None)
                } else {
                    let (metres, by) = passes_from(&allowance, shot.flights, self.course.loads[first].floor(), near);
                    if keep > metres { (keep, self.ceiling(kind)) } else { (metres, by) }
                };
                for (top, slot) in tops.iter_mut().zip(&kind.slots).filter(|(_, slot)| slot.class == class) {
                    let (start, end) = (places[slot.from].behind, places[slot.to].behind);
                    if (start..=end).contains(&place.behind) {
                        let metres = (metres - (place.behind - start)).max(0.0);
                        shot.loads.iter().for_each(|&load| top.offer(Need { metres, load, by }));
                    }
                }
            }
        }
    }
}

/// Whether a load passes at a distance, by looks that err to the strict side.
fn passes_at(shot: &Shot, allowance: &Allowance, keep: f64, metres: f64) -> bool {
    let distance = Length::from_si(metres);
    if keep > metres || !shot.flights.slows_down() || allowance.asks_slow(distance) {
        return false;
    }
    let suits = |strike: &Strike| allowance.judge(strike).verdict == Verdict::Suits;
    // Bounds cost next to nothing, and settle most.
    if shot.flights.glance(distance).is_some_and(|strike| suits(&strike)) {
        return true;
    }
    let follow = || if shot.farthest > 0.0 { follow(shot.flights, Length::from_si(shot.farthest)) } else { None };
    let followed = shot.followed.get_or_init(follow).as_ref().filter(|(_, to)| distance <= *to);
    followed.is_some_and(|(followed, _)| suits(&followed.look(distance)))
}
