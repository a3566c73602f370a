//! Lines that stay: who shoots a line is moved at each of its targets, and some would fail from farther off.

use super::{Fix, Mending, Move, Search, mended};
use crate::course::{Course, any_fails};
use crate::load::Class;
use crate::quantity::Length;
use crate::spread::CoverageError;
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

impl<'r> Search<'_, 'r> {
    /// The lines whose move makes another of their targets fail: steeper, or slower, from farther off. Who shoots there
    /// is moved at every one.
    pub(super) fn lines_that_stay(&self, found: &[Mending<'r>]) -> Result<BTreeSet<usize>, CoverageError> {
        let mut moved: BTreeMap<usize, Vec<(Class, Move)>> = BTreeMap::new();
        let mut fixes: HashMap<usize, &Fix<'r>> = HashMap::new();
        for (target, fix) in found.iter().filter_map(|m| Some((m.target, m.fix.as_ref()?))) {
            fixes.insert(target, fix);
            if fix.apart {
                continue;
            }
            let line = moved.entry(self.course.targets[target].line).or_default();
            for pair in fix.moves.iter().filter(|(_, m)| *m != Move::Keep) {
                if !line.contains(pair) {
                    line.push(*pair);
                }
            }
        }
        moved.retain(|_, moves| !moves.is_empty());
        if moved.is_empty() {
            return Ok(BTreeSet::new());
        }
        let unmended: HashSet<usize> = found.iter().filter(|m| m.fix.is_none()).map(|m| m.target).collect();
        let brought = self.course.classes_brought();
        let mut others: Vec<(usize, Fix<'r>)> = Vec::new();
        for (index, target) in self.course.targets.iter().enumerate().filter(|(index, _)| !unmended.contains(index)) {
            let Some(moves) = moved.get(&target.line) else { continue };
            let own = fixes.get(&index).copied();
            let stays = |class: Class| own.is_none_or(|fix| fix.moves.contains(&(class, Move::Keep)));
            let mine = self.course.classes_at(target, &brought).into_iter().filter(|class| stays(*class));
            let moves: Vec<(Class, Move)> =
                mine.filter_map(|class| moves.iter().copied().find(|(other, _)| *other == class)).collect();
            let moved = |(class, by): &(Class, Move)| {
                Some((*class, self.course.lines[target.line].moved(target.at, *class, *by)?))
            };
            let distances: Vec<(Class, Length)> = moves.iter().filter_map(moved).collect();
            if !distances.is_empty() {
                let own = own.cloned().unwrap_or_default();
                others.push((index, Fix { moves, distances, ..own }));
            }
        }
        let pairs: Vec<(usize, &Fix)> = others.iter().map(|(index, fix)| (*index, fix)).collect();
        let moved = self.failing_of(self.course, &pairs)?;
        if moved.is_empty() || std::ptr::eq(self.course, self.here) {
            return Ok(moved.into_iter().map(|index| self.course.targets[index].line).collect());
        }
        // What fails in some air where it stands, and passes in the air that was taken, is not made worse.
        let mine = |(index, _): &&(usize, &Fix<'r>)| moved.contains(index);
        let pairs: Vec<(usize, &Fix)> = pairs.iter().filter(mine).copied().collect();
        let here = self.failing_of(self.here, &pairs)?;
        let stays: Vec<(usize, Fix<'r>)> =
            pairs.iter().map(|(index, fix)| (*index, self.unmoved(*index, fix))).collect();
        let stays: Vec<(usize, &Fix)> = stays.iter().map(|(index, fix)| (*index, fix)).collect();
        let before = self.failing_of(self.course, &stays)?;
        let worse = moved.into_iter().filter(|index| here.contains(index) || !before.contains(index));
        Ok(worse.map(|index| self.course.targets[index].line).collect())
    }

    /// The targets that fail with their fixes made, in some air.
    fn failing_of(&self, course: &Course, fixes: &[(usize, &Fix<'r>)]) -> Result<BTreeSet<usize>, CoverageError> {
        let (mended, cases) = mended(course, fixes);
        let fails = any_fails(&mended, &cases, self.rules, self.conditions)?;
        let failing = cases.iter().zip(fails).filter(|(_, fails)| *fails);
        Ok(failing.map(|(case, _)| fixes[case.target - course.targets.len()].0).collect())
    }

    /// A fix with nobody moved.
    fn unmoved(&self, index: usize, fix: &Fix<'r>) -> Fix<'r> {
        let target = &self.course.targets[index];
        let distances = fix
            .distances
            .iter()
            .filter_map(|(class, _)| Some((*class, self.course.lines[target.line].nearest(target.at, *class)?)));
        let moves = fix.moves.iter().map(|(class, _)| (*class, Move::Keep)).collect();
        Fix { distances: distances.collect(), moves, ..fix.clone() }
    }
}
