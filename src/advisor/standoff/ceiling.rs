//! What a distance admits, for a tag or a distance table.

use super::super::found::Found;
use super::Case;
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::{Energy, Length, Measure, Velocity};
use crate::spread::{FlightConditions, Flights};

/// The airs that a distance holds in: the one taken, and the bad end of what was not given.
#[derive(Clone, Copy)]
pub(super) struct Airs<'a> {
    pub here: &'a FlightConditions,
    pub there: Option<&'a FlightConditions>,
}

/// How sure a distance is found, m.
const FOUND_M: f64 = 1e-3;

impl Case {
    /// The greatest speed and energy at the muzzle that a distance admits: those of the load that was judged. Of several
    /// loads, the most that any of them has of either, where each of them suits from there with the most energy too, at
    /// its own speed; else what the load that sets the distance has, which refuses others of
    /// them, and admits nothing that was not judged.
    pub(super) fn ceiling(&self, row: usize, found: &Found, plate: &Plate, airs: Airs) -> Option<(Velocity, Energy)> {
        let nearest = found.nearest_distance().filter(|_| !found.listed_only)?;
        let loads = &self.asked[row].loads;
        let of = |load: &Load| (load.facts().muzzle_velocity, load.muzzle_energy());
        let most = loads.iter().map(|load| of(load)).reduce(|(v, e), (w, f)| (v.max(w), e.max(f)))?;
        let admits = || loads.iter().all(|load| self.suits_with(load, most.1, plate, nearest, airs));
        let own = of(&loads[found.nearest().0]);
        Some(if most != own && admits() { most } else { own })
    }

    /// Whether a load suits from a distance on in every air with the energy of another: its bullet so much heavier.
    fn suits_with(&self, load: &Load, energy: Energy, plate: &Plate, nearest: Length, airs: Airs) -> bool {
        let heavier = energy.si() / load.muzzle_energy().si();
        // Its coefficient stays: neither ceiling limits one.
        let Ok(both) = load.with(|facts| facts.bullet *= heavier) else { return false };
        std::iter::once(airs.here).chain(airs.there).all(|conditions| {
            let Ok(flights) = Flights::new(&both, conditions) else { return false };
            let allowance = self.books.rules.allow(&both, plate, &self.stand.setup, flights.muzzle());
            allowance.closest(&flights).distance().is_some_and(|closest| closest.si() <= nearest.si() + FOUND_M)
        })
    }
}
