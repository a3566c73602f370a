//! The steel between a hanger and the body, however short the part that hangs by it.
//!
//! The widest disc that holds the hanger and can be moved to the widest place without leaving the steel: as wide as the
//! narrowest place on its way.

use super::lost::Tree;
use super::mesh::{Joins, Mesh};
use super::{Found, Thin};
use crate::flat::{Spot, apart};

/// A tip that is so much narrower than one twice as far in tapers.
const TAPERS: f64 = 0.75;

/// A place that a plate hangs from, and how far beside it a disc may lie, in.
#[derive(Debug, Clone, Copy)]
pub struct Grip {
    /// Where.
    pub at: Spot,
    /// How far beside it a disc may lie.
    pub reach: f64,
    /// Whether it is only taken for one: where the steel tapers to a tip, nothing hangs from it.
    pub taken: bool,
}

/// Places so nearly as wide as the widest are as wide: drawn in another unit or mirrored, another of them is the widest.
const AS_WIDE: f64 = 0.99;
/// The most widest places apart from one another that are looked at.
const MAX_WIDEST: usize = 8;

/// The narrowest steel that any of some places hangs by, or the widest place; `None` where one lies in no disc. Of several
/// widest places with a neck between them that one is taken which it hangs by the least steel from.
pub(super) fn narrowest(mesh: &Mesh, joins: &Joins, largest: usize, grips: &[Grip]) -> Option<Found> {
    let enough = AS_WIDE * mesh.discs[largest].radius;
    let mut apart_from_all: Vec<usize> = (0..mesh.discs.len()).filter(|i| mesh.discs[*i].radius >= enough).collect();
    let (mut body, mut least) = (largest, None::<Found>);
    for _ in 0..MAX_WIDEST {
        let ways = Tree::new(mesh, &joins.ways, body).widest_ways(&joins.ways);
        let found = narrowest_from(mesh, body, &ways, grips)?;
        least = Some(least.filter(|least| least.width <= found.width).unwrap_or(found));
        apart_from_all.retain(|disc| ways[*disc].0 < AS_WIDE * enough);
        let Some(next) = apart_from_all.first() else { break };
        body = *next;
    }
    least
}

/// The same by the widest ways from one place.
fn narrowest_from(mesh: &Mesh, body: usize, ways: &[(f64, Spot)], grips: &[Grip]) -> Option<Found> {
    let whole = mesh.discs[body];
    let mut least = Found { width: 2.0 * whole.radius, at: whole.centre, what: Thin::Whole };
    for grip in grips {
        let widest = |reach: f64| {
            let holds = |disc: &usize| apart(mesh.discs[*disc].centre, grip.at) <= mesh.discs[*disc].radius + reach;
            let discs = (0..mesh.discs.len()).filter(holds);
            discs.map(|disc| ways[disc]).max_by(|a, b| a.0.total_cmp(&b.0))
        };
        let (radius, at) = widest(grip.reach)?;
        let tapers = || widest(2.0 * grip.reach).is_some_and(|farther| radius < TAPERS * farther.0);
        if 2.0 * radius < least.width && !(grip.taken && tapers()) {
            least = Found { width: 2.0 * radius, at, what: Thin::Neck };
        }
    }
    Some(least)
}
