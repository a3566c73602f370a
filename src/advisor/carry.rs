//! How far a miss carries: flown for the loads that could carry farthest, and for no others.

use crate::drag::DragModel;
use crate::load::Load;
use crate::quantity::Measure;
use crate::spread::{Carry, FlightConditions, Flights, hot_muzzle, muzzle_sd};
use crate::words::Units;

/// The carry in a sentence.
pub(crate) fn words(carry: &Carry, units: Units) -> String {
    format!(
        "A miss carries about {}; keep {} behind the plate clear (30 % added).",
        units.distance_up(carry.about),
        units.distance_up(carry.keep_clear)
    )
}

/// The carry of the farthest of the loads; none where none can be flown.
pub(crate) fn farthest<'l>(loads: impl IntoIterator<Item = &'l Load>, conditions: &FlightConditions) -> Option<Carry> {
    let carries =
        leading(loads, conditions).into_iter().filter_map(|load| Flights::new(load, conditions).ok()?.carry());
    carries.reduce(|a, b| if a.keep_clear > b.keep_clear { a } else { b })
}

/// What makes a load carry: among loads of one drag model the faster and the better one carries farther.
#[derive(Clone, Copy)]
struct Reach {
    mean: f64,
    fast: f64,
    worst_bc: f64,
    best_bc: f64,
    /// What the coefficient spreads by.
    share: f64,
}

impl Reach {
    fn of(load: &Load, conditions: &FlightConditions) -> Self {
        let facts = load.facts();
        let bands = || facts.drag.bands().iter().map(|band| band.bc.si());
        let mean = hot_muzzle(load, conditions).si();
        Self {
            mean,
            // Three standard deviations lie beyond any coverage's bound but the largest.
            fast: mean + 3.0 * muzzle_sd(load, conditions).si(),
            worst_bc: bands().fold(f64::INFINITY, f64::min),
            best_bc: bands().fold(0.0, f64::max),
            share: load.bc_sd().si(),
        }
    }

    /// Whether another load of the model carries at least as far.
    fn is_behind(&self, other: &Self) -> bool {
        other.mean >= self.mean
            && other.fast >= self.fast
            && other.worst_bc >= self.best_bc
            && other.share >= self.share
            // Of two alike one is flown.
            && (other.fast, other.worst_bc, other.share) != (self.fast, self.best_bc, self.share)
    }
}

/// Whether a load's carry is ranked by speed and coefficient: pellets are followed otherwise.
fn is_ranked(load: &Load) -> bool {
    load.facts().drag.model() != DragModel::Own && !load.facts().construction.is_shot()
}

/// The loads that no other is sure to outreach.
fn leading<'l>(loads: impl IntoIterator<Item = &'l Load>, conditions: &FlightConditions) -> Vec<&'l Load> {
    let all: Vec<(&Load, Reach)> = loads.into_iter().map(|load| (load, Reach::of(load, conditions))).collect();
    let model = |load: &Load| load.facts().drag.model();
    let behind = |(index, (load, reach)): (usize, &(&Load, Reach))| {
        is_ranked(load)
            && all.iter().enumerate().any(|(other, (ahead, far))| {
                other != index && is_ranked(ahead) && model(ahead) == model(load) && reach.is_behind(far)
            })
    };
    all.iter().enumerate().filter(|pair| !behind((pair.0, pair.1))).map(|(_, (load, _))| *load).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Weather;
    use crate::catalog::Catalog;
    use crate::quantity::unit;

    #[test]
    fn the_few_that_are_flown_hold_the_farthest_of_all() {
        let catalog = Catalog::builtin().unwrap();
        let level = unit::DEGREE.of(0.0);
        let conditions = FlightConditions::new(&Weather::default(), level, unit::PERCENT.of(99.0)).unwrap();
        let loads: Vec<&Load> = catalog.entries().iter().map(|e| &*e.load).collect();
        let all = loads.iter().filter_map(|l| Flights::new(l, &conditions).unwrap().carry());
        let all = all.map(|carry| carry.keep_clear).reduce(|a, b| if a > b { a } else { b }).unwrap();
        let found = farthest(loads.iter().copied(), &conditions).unwrap();
        assert_eq!(found.keep_clear, all);
        assert!(leading(loads.iter().copied(), &conditions).len() < loads.len() / 5);
        assert!(words(&found, Units::Us).contains("(30 % added)"));
    }
}
