//! What a disc leaves out or cuts off.
//!
//! The discs of a plate hang together in a tree by their widest ways, its root the largest. A disc of a given size
//! that comes from the root stands still where the way beyond is narrower: in the mouth of what lies beyond it. That
//! counts where it reaches far from the disc in its mouth, whether all of it is lost or wider places in it are cut
//! off, and whatever else of the plate lies near it over a slit.

use super::mesh::{Joins, Mesh, Way};
use super::{Found, Thin, far};
use crate::flat::{Spot, apart};
use crate::order::Order;

/// Discs between two that join, for each step between places.
const FINER: f64 = 6.0;
/// By how much what lies beyond a neck is wider than it, at least.
const WIDENS: f64 = 1.003;
/// A part so many times as wide as the neck it hangs by counts however little it reaches, from this width on, in.
const HANGS: f64 = 2.0;
const LUMP_IN: f64 = 0.5;
/// The most discs that a reach is measured against; fewer make a reach longer.
const MAX_DISCS: usize = 800;
/// Places that are passed over at once where a box around them is near.
const BLOCK: usize = 48;

/// A box: left, right, bottom, top.
type Extent = [f64; 4];

const NOTHING: Extent = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];

fn around(a: Extent, b: Extent) -> Extent {
    [a[0].min(b[0]), a[1].max(b[1]), a[2].min(b[2]), a[3].max(b[3])]
}

/// The distance of the farthest corner of a box.
fn farthest(extent: Extent, at: Spot) -> f64 {
    let [left, right, bottom, top] = extent;
    (right - at.0).max(at.0 - left).hypot((top - at.1).max(at.1 - bottom))
}

/// Discs in an order in which whatever hangs on one follows it.
pub(super) struct Tree<'a> {
    mesh: &'a Mesh,
    order: Vec<Hung>,
    /// The places that the discs touch, three for each, and boxes around so many of them.
    places: Vec<Spot>,
    blocks: Vec<Extent>,
}

/// A disc in its place in the tree.
struct Hung {
    disc: usize,
    /// The disc it hangs on, and the way there; its own for the root.
    from: usize,
    way: usize,
    /// Where what hangs on it ends, in the order.
    end: usize,
    /// The largest radius of it and of what hangs on it, and the box around all places they touch.
    top: f64,
    extent: Extent,
}

/// A disc in the mouth of what lies beyond it, by its index in the order.
struct Mouth {
    radius: f64,
    at: Spot,
    beyond: usize,
}

/// The least width below `below` at which a disc leaves out or cuts off what reaches far.
pub(super) fn part(mesh: &Mesh, joins: &Joins, largest: usize, step: f64, below: f64) -> Option<Found> {
    let tree = Tree::new(mesh, &joins.ways, largest);
    let mut mouths = tree.mouths(&joins.ways, step, 0.5 * below);
    mouths.extend(tree.threads(&joins.ways, 0.5 * below));
    mouths.order_by(|a, b| a.radius.total_cmp(&b.radius));
    let mouth = mouths.iter().find(|mouth| tree.hangs_by_a_thread(mouth) || tree.counts(mouth))?;
    let neck = tree.order[mouth.beyond].top >= WIDENS * mouth.radius;
    Some(Found { width: 2.0 * mouth.radius, at: mouth.at, what: if neck { Thin::Neck } else { Thin::Part } })
}

impl<'a> Tree<'a> {
    pub fn new(mesh: &'a Mesh, ways: &[Way], root: usize) -> Self {
        let mut ways_of = vec![Vec::new(); mesh.discs.len()];
        for (w, way) in ways.iter().enumerate() {
            way.discs.iter().for_each(|disc| ways_of[*disc].push(w));
        }
        let mut order: Vec<Hung> = Vec::with_capacity(mesh.discs.len());
        let mut open = vec![(root, root, usize::MAX)];
        while let Some((disc, from, way)) = open.pop() {
            let touched = mesh.discs[disc].touches.map(|place| mesh.places[place]);
            let extent = touched.iter().fold(NOTHING, |all, &(x, y)| around(all, [x, x, y, y]));
            order.push(Hung { disc, from, way, end: 0, top: mesh.discs[disc].radius, extent });
            for &next in ways_of[disc].iter().filter(|next| **next != way) {
                let [a, b] = ways[next].discs;
                open.push((if a == disc { b } else { a }, disc, next));
            }
        }
        let mut index = vec![0; mesh.discs.len()];
        order.iter().enumerate().for_each(|(i, hung)| index[hung.disc] = i);
        for i in (0..order.len()).rev() {
            order[i].end = order[i].end.max(i + 1);
            let Hung { from, end, top, extent, .. } = order[i];
            let from = &mut order[index[from]];
            from.end = from.end.max(end);
            from.top = from.top.max(top);
            from.extent = around(from.extent, extent);
        }
        let places: Vec<Spot> =
            order.iter().flat_map(|hung| mesh.discs[hung.disc].touches.map(|place| mesh.places[place])).collect();
        let boxed = |block: &[Spot]| block.iter().fold(NOTHING, |all, &(x, y)| around(all, [x, x, y, y]));
        let blocks = places.chunks(BLOCK).map(boxed).collect();
        Self { mesh, order, places, blocks }
    }

    /// For each disc the radius that fits all the way to the root, and where no wider one does.
    pub fn widest_ways(&self, ways: &[Way]) -> Vec<(f64, Spot)> {
        let mut widest = vec![(f64::INFINITY, (0.0, 0.0)); self.mesh.discs.len()];
        for hung in &self.order {
            let disc = &self.mesh.discs[hung.disc];
            let own = (disc.radius, disc.centre);
            // The root hangs on itself, by no way.
            let way = ways.get(hung.way).map_or(own, |way| (way.radius, way.at));
            let before = [widest[hung.from], way];
            widest[hung.disc] = before.into_iter().fold(own, |least, next| if next.0 < least.0 { next } else { least });
        }
        widest
    }

    /// Discs on the ways away from the root, wherever these narrow, that may be in the mouth of what reaches far.
    fn mouths(&self, ways: &[Way], step: f64, below: f64) -> Vec<Mouth> {
        let mut mouths = Vec::new();
        for (beyond, hung) in self.order.iter().enumerate().skip(1) {
            let (from, to) = (&self.mesh.discs[hung.from], &self.mesh.discs[hung.disc]);
            let way = &ways[hung.way];
            if way.radius >= below || way.radius >= from.radius {
                continue;
            }
            // As far as it narrows.
            let least = if way.radius < to.radius { way.at } else { to.centre };
            let pieces = (FINER * apart(from.centre, least) / step).ceil().clamp(1.0, 200.0);
            let mut k = 0.0;
            while k <= pieces {
                let t = k / pieces;
                let at = (from.centre.0 + t * (least.0 - from.centre.0), from.centre.1 + t * (least.1 - from.centre.1));
                let radius = apart(at, self.mesh.places[way.touches]).clamp(way.radius, from.radius);
                if radius < below && farthest(hung.extent, at) > radius + far(2.0 * radius) {
                    mouths.push(Mouth { radius, at, beyond });
                }
                k += 1.0;
            }
        }
        mouths
    }

    /// Necks that much wider parts hang by, at their narrowest.
    fn threads(&self, ways: &[Way], below: f64) -> Vec<Mouth> {
        let narrowest = |(beyond, hung): (usize, &Hung)| {
            let way = &ways[hung.way];
            Mouth { radius: way.radius, at: way.at, beyond }
        };
        let mouths = self.order.iter().enumerate().skip(1).map(narrowest);
        mouths.filter(|mouth| mouth.radius < below && self.hangs_by_a_thread(mouth)).collect()
    }

    fn hangs_by_a_thread(&self, mouth: &Mouth) -> bool {
        self.order[mouth.beyond].top >= (HANGS * mouth.radius).max(0.5 * LUMP_IN)
    }

    /// Whether what lies beyond a mouth reaches far from the disc in it, and, where wider places in it stay and are
    /// cut off, the rest of the plate from those: the lesser of two pieces may be an ear.
    fn counts(&self, mouth: &Mouth) -> bool {
        let hung = &self.order[mouth.beyond];
        let asked = far(2.0 * mouth.radius);
        let beyond = 3 * mouth.beyond..3 * hung.end;
        if !self.any_farther(beyond.clone(), mouth.at, mouth.radius + asked) {
            return false;
        }
        if hung.top < WIDENS * mouth.radius {
            return true;
        }
        let discs = || self.order[mouth.beyond..hung.end].iter().map(|hung| &self.mesh.discs[hung.disc]);
        let stays = || discs().filter(|disc| disc.radius >= mouth.radius);
        let stride = stays().count() / MAX_DISCS + 1;
        let stay: Vec<(Spot, f64)> = stays().step_by(stride).map(|disc| (disc.centre, disc.radius + asked)).collect();
        let rest = self.places[..beyond.start].iter().chain(&self.places[beyond.end..]);
        rest.into_iter().any(|place| stay.iter().all(|(centre, reach)| apart(*place, *centre) > *reach))
    }

    /// Whether any of some places is farther from one than that.
    fn any_farther(&self, places: std::ops::Range<usize>, at: Spot, than: f64) -> bool {
        let mut i = places.start;
        while i < places.end {
            let block = i / BLOCK;
            let end = ((block + 1) * BLOCK).min(places.end);
            if farthest(self.blocks[block], at) > than && self.places[i..end].iter().any(|p| apart(*p, at) > than) {
                return true;
            }
            i = end;
        }
        false
    }
}
