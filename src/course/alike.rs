//! Loads that fly and are judged alike: they share their flights, and each of them counts.

use super::Brought;
use crate::order::Order;
use crate::quantity::Measure;
use std::collections::HashMap;

/// The loads in groups of those that differ in nothing but what they are called, each group in order and by its first:
/// indices.
pub(super) fn groups(loads: &[Brought]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut near: HashMap<(u64, u64), Vec<usize>> = HashMap::new();
    for (index, brought) in loads.iter().enumerate() {
        let facts = brought.load.facts();
        let key = (facts.bullet.si().to_bits(), facts.muzzle_velocity.si().to_bits());
        let candidates = near.entry(key).or_default();
        let is_alike = |group: &&usize| {
            let first: &Brought = &loads[groups[**group][0]];
            first.best == brought.best && first.load.is_shot_like(&brought.load)
        };
        if let Some(group) = candidates.iter().find(is_alike).copied() {
            groups[group].push(index);
        } else {
            candidates.push(groups.len());
            groups.push(vec![index]);
        }
    }
    groups
}

/// Groups of which one is likely the worst somewhere, of each kind of worst this many at most, and as a share.
const LIKELY: usize = 24;
const SHARE: usize = 8;

/// The groups parted into those that are likely the worst somewhere, by demand, speed, energy, or for being slow, and the
/// rest.
pub(super) fn likely_worst_first<'g>(
    groups: &'g [Vec<usize>],
    loads: &[Brought],
) -> (Vec<&'g Vec<usize>>, Vec<&'g Vec<usize>>) {
    let most = LIKELY.min(groups.len() / SHARE);
    let load = |group: usize| &*loads[groups[group][0]].load;
    let measures: [&dyn Fn(usize) -> f64; 4] = [
        &|group| super::demand_of(load(group)),
        &|group| load(group).facts().muzzle_velocity.si(),
        &|group| load(group).muzzle_energy().si(),
        &|group| -load(group).facts().muzzle_velocity.si(),
    ];
    let mut is_first = vec![false; groups.len()];
    for measure in measures {
        let mut order: Vec<(f64, usize)> = (0..groups.len()).map(|group| (measure(group), group)).collect();
        order.order_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        order.iter().take(most).for_each(|(_, group)| is_first[*group] = true);
    }
    let (first, rest): (Vec<_>, Vec<_>) = groups.iter().zip(is_first).partition(|(_, is_first)| *is_first);
    let only = |pairs: Vec<(&'g Vec<usize>, bool)>| pairs.into_iter().map(|(group, _)| group).collect();
    (only(first), only(rest))
}

/// Each load by itself.
#[cfg(test)]
pub(super) fn singly(loads: &[Brought]) -> Vec<Vec<usize>> {
    (0..loads.len()).map(|load| vec![load]).collect()
}

#[cfg(test)]
mod tests {
    use super::super::fix::Search;
    use super::super::judge::judge_in;
    use super::super::tests::{RULES, many, on};
    use super::super::*;
    use super::*;
    use crate::quantity::unit;
    use std::sync::Arc;

    /// Loads that several shooters declare, targets that stand alike, some of which leave loads out.
    fn crowded() -> Course {
        let mut course = many(60);
        let own = course.loads.clone();
        for (copy, brought) in (0..3).flat_map(|copy| own.iter().map(move |brought| (copy, brought))).take(100) {
            let who = vec![format!("shooter {copy}")];
            let load = brought.load.with(|facts| facts.name = format!("{} of {copy}", facts.name)).unwrap();
            course.loads.push(Brought { load: Arc::new(load), who, ..brought.clone() });
        }
        let (targets, loads) = (course.targets.clone(), course.loads.len());
        for (index, mut target) in targets.into_iter().enumerate() {
            target.name += " again";
            if index % 3 == 0 {
                target.without = vec![index % loads, (index * 7 + 1) % loads];
            }
            course.targets.push(target);
        }
        course
    }

    #[test]
    fn what_is_alike_is_judged_once_and_comes_to_what_each_by_itself_does() {
        let course = crowded();
        let together_in = groups(&course.loads);
        assert!(together_in.len() * 2 < course.loads.len(), "{}", together_in.len());
        let cases = course.cases();
        let together = judge(&course, &cases, &*RULES, &on, &|| ()).unwrap();
        let apart_in = singly(&course.loads);
        let apart = judge_in(&apart_in, &course, &cases, &RULES, &on, &|| ()).unwrap();
        assert!(together.work.flights * 2 < apart.work.flights, "{:?} {:?}", together.work, apart.work);
        let mut failing = 0;
        for (case, (a, b)) in cases.iter().zip(together.outcomes.iter().zip(&apart.outcomes)) {
            let of = |o: &Outcome| (o.verdict, o.worst, o.rule.map(|r| r.id.clone()), o.margin, o.failing, o.shot_by);
            assert_eq!(of(a), of(b), "{case:?}");
            assert_eq!(a.named, b.named, "{case:?}");
            failing += a.failing;
        }
        // And to what every load comes to on exact flights.
        for (case, outcome) in cases.iter().zip(&together.outcomes).step_by(11) {
            let target = &course.targets[case.target];
            let conditions = on(&Weather::default(), target.slope).unwrap();
            let shoots = |load: &usize| case.classes.has(course.loads[*load].class()) && !case.without.contains(load);
            let exact = (0..course.loads.len()).filter(shoots).filter_map(|load| {
                let flown = &course.loads[load].load;
                let strike = Flights::new(flown, &conditions).unwrap().strike(case.distance).ok()?;
                let judged = RULES.allow(flown, &target.plate, &target.setup, strike.muzzle).judge(&strike);
                Some((load, judged.verdict, judged.margin))
            });
            let exact: Vec<(usize, Verdict, Option<f64>)> = exact.collect();
            let fails: Vec<usize> =
                exact.iter().filter(|(_, v, _)| *v != Verdict::Suits).map(|(load, ..)| *load).collect();
            assert_eq!((outcome.shot_by, outcome.failing), (exact.len(), fails.len()), "{case:?}");
            assert_eq!(outcome.named, fails.into_iter().take(outcome.named.len()).collect::<Vec<_>>(), "{case:?}");
            let worst = exact.iter().map(|(_, verdict, _)| *verdict).max();
            assert_eq!(outcome.verdict, worst, "{case:?}");
            let of_worst = exact.iter().filter(|(_, verdict, _)| Some(*verdict) == worst).filter_map(|e| e.2);
            let least = of_worst.reduce(f64::min);
            assert!(outcome.margin.zip(least).is_none_or(|(own, least)| (own - least).abs() < 1e-9), "{case:?}");
        }
        assert!(failing > 100, "{failing}");
        let ladder = Ladder::builtin().unwrap();
        let keep = Kept::new(Vec::new());
        let of = |groups: &[Vec<usize>]| {
            let asked = Asked {
                course: &course,
                here: &course,
                cases: &cases,
                outcomes: &apart.outcomes,
                rules: (&*RULES).into(),
                ladder: &ladder,
                is_stock: false,
                conditions: &on,
                keep: &keep,
                keep_here: &keep,
                step: unit::YARD.of(1.0),
            };
            Search { asked: &asked, groups }.run().unwrap()
        };
        let (a, b) = (of(&together_in), of(&apart_in));
        assert!(a.len() > 5 && a.len() == b.len());
        for (a, b) in a.iter().zip(&b) {
            let of = |m: &Mending| {
                let fix = |fix: &Option<Fix>| {
                    fix.as_ref().map(|f| (f.change.clone(), f.moves.clone(), f.refuse.clone(), f.cost))
                };
                (m.target, fix(&m.fix), fix(&m.other), m.distance, m.plate.clone())
            };
            assert_eq!(of(a), of(b));
        }
    }

    #[test]
    fn loads_are_alike_that_differ_in_their_name_alone() {
        let one = many(1).loads[0].clone();
        let with = |change: &dyn Fn(&mut crate::load::Facts)| {
            let load = one.load.with(|facts| change(facts)).unwrap();
            Brought { load: Arc::new(load), ..one.clone() }
        };
        let named = with(&|facts| facts.name = "another".into());
        let hard = with(&|facts| facts.construction = crate::load::Construction::Monolithic);
        let sleek = with(&|facts| facts.diameter = None);
        let borderline = Brought { best: Verdict::Borderline, ..one.clone() };
        let apart = [one.clone(), named, hard, sleek, borderline];
        assert_eq!(groups(&apart), [vec![0, 1], vec![2], vec![3], vec![4]]);
    }

    #[test]
    fn flights_are_shared_where_air_and_slope_are() {
        let course = many(60);
        let work = judge(&course, &course.cases(), &*RULES, &on, &|| ()).unwrap().work;
        assert_eq!(work.flights, course.loads.len() * 3, "one set of flights a load and slope");
        assert_eq!(work.compiled, course.loads.len() * 6, "one rule set a load, slope and plate");
        assert!(work.exact < course.loads.len() * course.targets.len() / 2, "{work:?}");
    }
}
