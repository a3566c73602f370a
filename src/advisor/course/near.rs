//! How near anyone may come, by stage and by who shoots: each target has its own line.

use super::Told;
use super::words::{count, shooters};
use crate::load::Class;
use crate::quantity::{Length, Measure};
use crate::words::listed;

/// Lines that the sentence names; a match with more has them on its signs.
const NAMED: usize = 6;

/// `Nobody nearer while it is hot than, on Ridge, rifles 340 yd; on Bay, handguns 10 yd.`
pub(super) fn sentence(told: &Told) -> String {
    let lines = lines(told);
    let all: usize = lines.iter().map(|(_, classes)| classes.len()).sum();
    if all == 0 {
        return "No distance was judged: keep off.".into();
    }
    if all > NAMED {
        return format!(
            "Nobody nearer to a plate than its own line while it is hot: the signs of the {} name them.",
            count(lines.len(), "stage")
        );
    }
    let words = lines.iter().map(|(stage, classes)| {
        let mut by: Vec<(String, Vec<String>)> = Vec::new();
        for (class, at) in classes {
            let at = told.units.distance_up(*at);
            match by.iter_mut().find(|(other, _)| *other == at) {
                Some((_, who)) => who.push(shooters(*class)),
                None => by.push((at, vec![shooters(*class)])),
            }
        }
        let each = by.iter().map(|(at, who)| format!("{} {at}", listed(who)));
        format!("{stage} {}", each.collect::<Vec<_>>().join(", "))
    });
    format!("Nobody nearer while it is hot than these lines: {}.", words.collect::<Vec<_>>().join("; "))
}

/// The nearest line of each class on each stage, the fixes made.
fn lines<'t>(told: &'t Told) -> Vec<(&'t str, Vec<(Class, Length)>)> {
    let brought = told.course.classes_brought();
    let mut lines: Vec<(&'t str, Vec<(Class, Length)>)> =
        told.course.stages.iter().map(|stage| (stage.name.as_str(), Vec::new())).collect();
    for (index, target) in told.course.targets.iter().enumerate() {
        for class in told.course.classes_at(target, &brought) {
            let Some(at) = from(told, index, class).filter(|at| at.si().is_finite()) else { continue };
            let classes = &mut lines[target.stage].1;
            match classes.iter_mut().find(|(other, _)| *other == class) {
                Some((_, nearest)) => *nearest = nearest.min(at),
                None => classes.push((class, at)),
            }
        }
    }
    lines.retain(|(_, classes)| !classes.is_empty());
    lines
}

/// Where a class shoots a target from, once mended.
pub(super) fn from(told: &Told, target: usize, class: Class) -> Option<Length> {
    let fixed = told.fix(target).and_then(|f| f.distances.iter().find(|(c, _)| *c == class)).map(|d| d.1);
    let place = &told.course.targets[target];
    fixed.or_else(|| told.course.lines[place.line].nearest(place.at, class))
}

/// The nearest point that anything is shot from, the fixes made.
pub(super) fn nearest(told: &Told) -> Option<Length> {
    let brought = told.course.classes_brought();
    let targets = told.course.targets.iter().enumerate();
    let all = targets.flat_map(|(index, target)| {
        let classes = told.course.classes_at(target, &brought);
        classes.into_iter().filter_map(move |class| from(told, index, class)).collect::<Vec<_>>()
    });
    all.reduce(|a, b| if b < a { b } else { a })
}
