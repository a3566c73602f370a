//! Falling plates and poppers that some load does not drop.

use super::words::{self, count, place};
use super::{Home, Told};
use crate::course::{Case, Conditions, Course, Fix, Mending};
use crate::load::Load;
use crate::order::Order;
use crate::plate::{Kind, Plate};
use crate::quantity::{Measure, unit};
use crate::reaction::Hit;
use crate::reaction::topple::{self, Standing};
use crate::spread::Flights;

/// Loads of a class that are looked at, those with the least momentum first.
const LOOKED: usize = 12;
/// Standing targets that are looked at.
const TARGETS: usize = 400;

/// A standing target that a load does not drop, the fixes made.
pub(super) struct Stays {
    /// The target.
    pub target: usize,
    /// The loads that leave it standing: indices, the weakest first.
    pub loads: Vec<usize>,
    /// The power factor at the plate that just drops it.
    pub factor: f64,
}

/// The standing targets that some of their loads do not drop.
pub(super) fn of(
    course: &Course,
    cases: &[Case],
    mendings: &[Mending],
    home: Option<&Home>,
    conditions: Conditions,
) -> Vec<Stays> {
    let is_standing = |target: usize| matches!(course.targets[target].kind, Kind::Falling | Kind::Popper);
    if !(0..course.targets.len()).any(is_standing) {
        return Vec::new();
    }
    let mut weakest: Vec<usize> = (0..course.loads.len()).collect();
    let momentum = |load: &usize| {
        let load = &course.loads[*load].load;
        load.charge_momentum(load.facts().muzzle_velocity).si()
    };
    weakest.order_by(|a, b| momentum(a).total_cmp(&momentum(b)));
    if let Some(home) = home {
        weakest.retain(|load| !home.loads.contains(load));
    }
    let mut found: Vec<Stays> = Vec::new();
    for case in cases.iter().filter(|case| is_standing(case.target)).take(TARGETS) {
        let fix = mendings.binary_search_by_key(&case.target, |m| m.target).ok().map(|at| &mendings[at]);
        let lifted = home.is_some_and(|home| home.lifts.binary_search(&case.target).is_ok());
        let fix = fix.filter(|_| !lifted).and_then(|mending| mending.fix.as_ref());
        let Some((loads, factor)) = left_up(course, case, fix, &weakest, conditions) else { continue };
        match found.iter_mut().find(|stays| stays.target == case.target) {
            Some(known) => {
                // A load that leaves it standing from several positions is one.
                loads.into_iter().for_each(|load| {
                    if !known.loads.contains(&load) {
                        known.loads.push(load);
                    }
                });
                known.factor = known.factor.max(factor);
            }
            None => found.push(Stays { target: case.target, loads, factor }),
        }
    }
    found
}

/// The loads of a case that leave it standing, and the power factor at the plate that drops it.
fn left_up(
    course: &Course,
    case: &Case,
    fix: Option<&Fix>,
    weakest: &[usize],
    conditions: Conditions,
) -> Option<(Vec<usize>, f64)> {
    let target = &course.targets[case.target];
    // A hung plate in its place does not fall.
    if fix.is_some_and(|fix| fix.change.mount.is_some()) {
        return None;
    }
    let plate: &Plate = fix.and_then(|fix| fix.change.plate.as_ref()).unwrap_or(&target.plate);
    let setup = fix.map_or_else(|| target.setup.clone(), |fix| fix.change.apply(&target.setup));
    let conditions = conditions(&course.airs[target.air], case.slope).ok()?;
    let standing = Standing { base: target.base, ..Standing::of(target.kind) };
    let refused = fix.map(|fix| fix.refuse.as_slice()).unwrap_or_default();
    let mine = weakest.iter().copied().filter(|load| {
        case.classes.has(course.loads[*load].class()) && !case.without.contains(load) && !refused.contains(load)
    });
    let (mut loads, mut factor) = (Vec::new(), 0.0_f64);
    for index in mine.take(LOOKED) {
        let load: &Load = &course.loads[index].load;
        let class = course.loads[index].class();
        let moved = fix.and_then(|fix| fix.distances.iter().find(|(of, _)| *of == class)).map(|(_, at)| *at);
        let distance = moved.map_or(case.distance, |moved| moved.max(case.distance));
        let Ok(strike) = Flights::new(load, &conditions).and_then(|flights| flights.strike_for(distance, true)) else {
            continue;
        };
        let hit = Hit::of(load, &strike, &setup.face, setup.tilt, setup.oblique);
        let Some(topple) = topple::topple(&setup.face, plate, &standing, hit.slow, hit.incidence) else { continue };
        if !topple.falls() {
            loads.push(index);
            factor = factor.max(
                unit::GRAIN.value(crate::quantity::Mass::from_si(1.0))
                    * unit::FOOT_PER_SECOND.value(crate::quantity::Velocity::from_si(1.0))
                    * topple.just_drops.si()
                    / 1000.0,
            );
        }
    }
    (!loads.is_empty()).then_some((loads, factor))
}

/// `B, rack does not fall to 22 LR 40 gr (P): it takes a power factor of 160 at the plate; hang a thinner …`
pub(super) fn told(told: &Told, short: bool) -> Vec<String> {
    let lines = told.stays.iter().map(|stays| {
        let target = &told.course.targets[stays.target];
        let loads: Vec<String> = stays.loads.iter().map(|load| words::shortly(&told.course.loads[*load])).collect();
        let loads = if short { words::some(&loads) } else { crate::words::listed(&loads) };
        let base = match (target.kind, target.base) {
            (Kind::Falling, None) => " on a base as deep as the plate is thick (no `base` was given)",
            _ => "",
        };
        format!(
            "{} does not fall to {loads}{base}: at the plate it takes a power factor of {:.0}; leave such loads out \
             there, or stand a lighter plate or a narrower base",
            place(told, stays.target),
            stays.factor.ceil()
        )
    });
    let lines: Vec<String> = lines.collect();
    if short && lines.len() > 2 {
        let more = count(lines.len() - 2, "more standing target");
        return lines.into_iter().take(2).chain([format!("{more} that some load leaves up: see `--full`")]).collect();
    }
    lines
}
