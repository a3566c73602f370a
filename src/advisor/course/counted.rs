//! How many loads are judged on a target, over all of its positions.

use super::Told;
use crate::load::Class;
use std::collections::BTreeSet;

/// The loads of positions that share a class.
#[derive(Default)]
struct Shared {
    classes: Vec<Class>,
    /// Those that fail, as far as they are named.
    named: BTreeSet<usize>,
    failing: usize,
    shot_by: usize,
}

/// How many loads do not pass on a target, and how many were judged on it: positions that share a class are shot by the
/// same loads.
pub(super) fn counted(told: &Told, target: usize) -> (usize, usize) {
    let mut groups: Vec<Shared> = Vec::new();
    for &case in told.cases_of(target) {
        let (of, outcome) = (&told.cases[case], &told.judged.outcomes[case]);
        let classes: Vec<Class> = told.brought.iter().copied().filter(|class| of.classes.has(*class)).collect();
        let named = outcome.named.iter().copied().collect();
        let mut mine = Shared { classes, named, failing: outcome.failing, shot_by: outcome.shot_by };
        let (same, apart): (Vec<Shared>, Vec<Shared>) =
            groups.into_iter().partition(|group| group.classes.iter().any(|class| mine.classes.contains(class)));
        for group in same {
            mine.classes.extend(group.classes);
            mine.named.extend(group.named);
            mine.failing = mine.failing.max(group.failing);
            mine.shot_by = mine.shot_by.max(group.shot_by);
        }
        groups = apart;
        groups.push(mine);
    }
    let failing = groups.iter().map(|group| group.failing.max(group.named.len())).sum();
    (failing, groups.iter().map(|group| group.shot_by).sum())
}
