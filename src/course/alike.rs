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

/// Each load by itself.
#[cfg(test)]
pub(super) fn singly(loads: &[Brought]) -> Vec<Vec<usize>> {
    (0..loads.len()).map(|load| vec![load]).collect()
}
