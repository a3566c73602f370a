//! Loads that fly and are judged alike: they share their flights, and each of them counts.

use super::Brought;
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
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
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
