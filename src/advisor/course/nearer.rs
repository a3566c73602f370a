//! From where to where a target suits that it is shot at from too far: no line moves toward a plate by itself.

use super::super::judge::Judge;
use super::super::remedy;
use super::{Told, elsewhere};
use crate::spread::FlightConditions;

/// `suits nearer, from 100 yd to 283 yd`, of a target as it stands and all that shoots at it, in all of the air; none where
/// it suits from nowhere nearer. A match that counts its shots is judged otherwise.
pub(super) fn words(told: &Told, target: usize) -> Option<String> {
    let (course, units) = (told.course, told.units);
    let of = &course.targets[target];
    let cases: Vec<_> = told.cases_of(target).iter().map(|case| &told.cases[*case]).collect();
    let slope = cases.first()?.slope;
    if course.crowd.is_some() || cases.iter().any(|case| case.slope != slope) {
        return None;
    }
    let is_shot = |load: usize| {
        let class = course.loads[load].class();
        cases.iter().any(|case| case.classes.has(class) && !case.without.contains(&load))
    };
    let loads = (0..course.loads.len()).filter(|load| is_shot(*load)).map(|load| &course.loads[load].load);
    let whole = elsewhere::whole(course);
    let coverage = told.level.coverage();
    let here = FlightConditions::new(&course.airs[of.air], slope, coverage).ok()?;
    let there = whole.and_then(|whole| FlightConditions::new(&whole.airs[of.air], slope, coverage).ok());
    let judge = Judge::new(told.rules.of(of.rules), loads, &here, there.as_ref()).ok()?;
    let fails = cases.iter().map(|case| case.distance).reduce(|a, b| if a > b { a } else { b })?;
    let (from, to) = remedy::nearer(&judge, &of.plate, &of.setup, fails, units)?;
    Some(format!("suits nearer, from {}", units.from_to(from, Some(to))))
}
