//! The narrowest width of plates turned every way, against morphology on a raster.

use super::{Contour, INCH_M, Spot, Thin, Thinnest, thinnest};
use crate::flat::apart;
use crate::outline::contour::Vertex;
use crate::quantity::unit;
use proptest::test_runner::{Config, RngSeed, TestRunner};

fn turned(knots: &[Spot], degrees: f64) -> Vec<Spot> {
    let (sin, cos) = degrees.to_radians().sin_cos();
    knots.iter().map(|&(x, y)| (cos * x - sin * y, sin * x + cos * y)).collect()
}

fn found(knots: &[Spot]) -> Thinnest {
    let vertex = |&(x, y): &Spot| Vertex::of((x * INCH_M, y * INCH_M), 0.0);
    let contour = Contour::new(knots.iter().map(vertex).collect()).expect("a contour");
    thinnest(&contour, &[]).expect("a width")
}

fn width(knots: &[Spot]) -> f64 {
    unit::INCH.value(found(knots).width)
}

/// Rectangles on one another, each with its width, its height, and how far its middle lies to the right.
fn stack(rectangles: &[(f64, f64, f64)]) -> Vec<Spot> {
    let (mut right, mut left, mut y) = (Vec::new(), Vec::new(), 0.0);
    for &(wide, high, off) in rectangles {
        for y in [y, y + high] {
            right.push((off + 0.5 * wide, y));
            left.push((off - 0.5 * wide, y));
        }
        y += high;
    }
    right.into_iter().chain(left.into_iter().rev()).collect()
}

#[test]
fn a_neck_under_a_head_lower_than_the_neck_is_wide_is_found_however_the_plate_is_turned() {
    for (plate, neck) in [
        ([(9.3, 10.3, 0.0), (4.9, 2.0, -0.4), (7.7, 4.5, -0.2)], 4.9),
        ([(6.602, 7.359, 0.0), (3.762, 2.845, -0.063), (6.475, 3.587, -0.7195)], 3.762),
        ([(7.472, 3.537, 0.0), (4.155, 2.636, 0.3515), (9.47, 4.539, 0.986)], 4.155),
    ] {
        let plate = stack(&plate);
        for degrees in (0..360).step_by(25) {
            let wide = found(&turned(&plate, f64::from(degrees)));
            assert!((unit::INCH.value(wide.width) / neck - 1.0).abs() < 1e-3, "{neck} at {degrees}: {wide:?}");
            assert_eq!(wide.what, Thin::Neck);
        }
    }
}

#[test]
fn a_strip_beside_a_slit_counts_though_the_plate_is_near_it_all_along() {
    // 1 in wide and 14 in long, cut loose from the body by a slit of 0.2 in.
    let slit = [(0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (1.0, 18.0), (1.0, 4.0), (0.8, 4.0), (0.8, 18.0), (0.0, 18.0)];
    // The same bent around a corner of the body.
    let hook = [
        (0.0, 0.0),
        (12.0, 0.0),
        (12.0, 12.0),
        (1.2, 12.0),
        (1.2, 1.2),
        (1.0, 1.2),
        (1.0, 12.2),
        (10.0, 12.2),
        (10.0, 13.2),
        (0.0, 13.2),
    ];
    for (plate, wide) in [(&slit[..], 0.8), (&hook, 1.0)] {
        for degrees in (0..360).step_by(35) {
            let found = width(&turned(plate, f64::from(degrees)));
            assert!((found / wide - 1.0).abs() < 2e-3, "{wide} at {degrees}: {found}");
        }
    }
}

/// Random bodies with necks and heads, heads low and wide among them: as wide whichever way they are turned, and as
/// wide as on a raster. `THICKSET_CASES` says how many, 6 unless said.
#[test]
fn bodies_with_necks_and_heads_are_as_wide_as_on_a_raster_and_turned() {
    use proptest::prelude::*;
    let cases = std::env::var("THICKSET_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(6);
    let config = Config { cases, rng_seed: RngSeed::Fixed(0x51AB), failure_persistence: None, ..Config::default() };
    let body = (5.0..11.0_f64, 3.0..10.0_f64);
    let neck = (1.5..5.0_f64, 0.4..3.5_f64, -0.6..0.6_f64);
    let head = (0.8..5.0_f64, 0.5..5.0_f64, -0.8..0.8_f64);
    let plates = (body, neck, head).prop_map(|(body, neck, head)| {
        [(body.0, body.1, 0.0), neck, (neck.0 + 0.4 + head.0, head.1, neck.2 + 0.2 * head.2 * head.0)]
    });
    let run = TestRunner::new(config).run(&plates, |plate| {
        let knots = stack(&plate);
        let wide = width(&knots);
        for degrees in (5..360).step_by(if cases > 100 { 5 } else { 55 }) {
            let other = width(&turned(&knots, f64::from(degrees)));
            prop_assert!((other / wide - 1.0).abs() < 1e-3, "{wide}, turned by {degrees}: {other}\n{plate:?}");
        }
        let raster = Raster::of(&knots);
        // A raster knows a width to about two cells.
        let off = 2.5 * CELL;
        let below: Vec<f64> = [0.5, 0.7, 0.85, 0.95, 1.0].into_iter().map(|share| share * (wide - off)).collect();
        let thin = below.iter().find(|width| raster.is_thin(**width, 1.0));
        prop_assert!(thin.is_none(), "{wide}, but thin at {thin:?}\n{plate:?}");
        let above = (0..=8).any(|k| raster.is_thin(wide + off * (1.5 - 0.25 * f64::from(k)), -1.0));
        prop_assert!(above, "{wide}, but not thin there\n{plate:?}");
        Ok(())
    });
    run.unwrap_or_else(|fault| panic!("{fault}"));
}

/// Cells along an inch of 0.08 in.
const CELL: f64 = 0.08;

/// A plate in cells, and how far each lies from the nearest outside.
struct Raster {
    wide: usize,
    depth: Vec<f64>,
}

impl Raster {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Some hundreds of cells.
    fn of(polygon: &[Spot]) -> Self {
        let least = |of: fn(&Spot) -> f64| polygon.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&Spot) -> f64| polygon.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        let (left, bottom) = (least(|p| p.0), least(|p| p.1));
        let cells = |span: f64| (span / CELL).ceil() as usize + 4;
        let (wide, high) = (cells(most(|p| p.0) - left), cells(most(|p| p.1) - bottom));
        let inside = |i: usize| {
            let (x, y) = (left + ((i % wide) as f64 - 1.5) * CELL, bottom + ((i / wide) as f64 - 1.5) * CELL);
            let ends = polygon.iter().zip(polygon.iter().cycle().skip(1));
            let right =
                |(a, b): &(&Spot, &Spot)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0);
            ends.filter(right).count() % 2 == 1
        };
        let inside: Vec<bool> = (0..wide * high).map(inside).collect();
        let mut raster = Self { wide, depth: inside.iter().map(|i| if *i { 1.0 } else { 0.0 }).collect() };
        // The edge lies half a cell before the outside's.
        let depth = raster.distances(|i| !inside[i]).into_iter().map(|d| (d - 0.5).max(0.0)).collect();
        raster.depth = depth;
        raster
    }

    /// Distance of each cell to the nearest of some, in cells: rows, then columns by looking at all.
    fn distances(&self, of: impl Fn(usize) -> bool) -> Vec<f64> {
        let (wide, high) = (self.wide, self.depth.len() / self.wide);
        let mut rows = vec![f64::INFINITY; wide * high];
        for j in 0..high {
            let mut pass = |cells: &mut dyn Iterator<Item = usize>| {
                let mut steps = f64::INFINITY;
                for i in cells {
                    let cell = j * wide + i;
                    steps = if of(cell) { 0.0 } else { steps + 1.0 };
                    rows[cell] = rows[cell].min(steps);
                }
            };
            pass(&mut (0..wide));
            pass(&mut (0..wide).rev());
        }
        let mut squares = vec![f64::INFINITY; wide * high];
        for i in 0..wide {
            let column: Vec<(f64, f64)> = (0..high)
                .filter(|j| rows[j * wide + i].is_finite())
                .map(|j| (j as f64, rows[j * wide + i].powi(2)))
                .collect();
            for j in 0..high {
                squares[j * wide + i] =
                    column.iter().map(|(k, square)| (k - j as f64).powi(2) + square).fold(f64::INFINITY, f64::min);
            }
        }
        squares.into_iter().map(f64::sqrt).collect()
    }

    fn beside(&self, cell: usize) -> [usize; 4] {
        [cell + 1, cell - 1, cell + self.wide, cell - self.wide]
    }

    /// Cells that hang together.
    fn pieces(&self, of: impl Fn(usize) -> bool) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.depth.len()];
        let mut pieces = Vec::new();
        for start in 0..self.depth.len() {
            if seen[start] || !of(start) {
                continue;
            }
            seen[start] = true;
            let mut piece = vec![start];
            let mut i = 0;
            while i < piece.len() {
                for next in self.beside(piece[i]) {
                    if !seen[next] && of(next) {
                        seen[next] = true;
                        piece.push(next);
                    }
                }
                i += 1;
            }
            pieces.push(piece);
        }
        pieces
    }

    fn apart(&self, a: usize, b: usize) -> f64 {
        let place = |c: usize| ((c % self.wide) as f64, (c / self.wide) as f64);
        apart(place(a), place(b))
    }

    /// Whether any of some cells is farther from all of others than that.
    fn reach(&self, cells: &[usize], from: &[usize], than: f64) -> bool {
        cells.iter().any(|cell| from.iter().all(|other| self.apart(*cell, *other) > than))
    }

    /// Whether at a width nothing is left, or what the largest piece loses reaches far from where it does, and the
    /// rest from what is cut off there; `more` asks two cells more of a reach.
    fn is_thin(&self, width: f64, more: f64) -> bool {
        let radius = 0.5 * width / CELL;
        let asked = 1.5_f64.max(0.5 * width) * (1.0 + 0.01 * more) / CELL + 2.0 * more;
        let stays = |c: usize| self.depth[c] >= radius;
        let deepest = (0..self.depth.len()).max_by(|a, b| self.depth[*a].total_cmp(&self.depth[*b])).expect("a cell");
        if !stays(deepest) {
            return true;
        }
        let main = self.pieces(stays).into_iter().find(|piece| piece.contains(&deepest)).expect("the main piece");
        let mut of_main = vec![false; self.depth.len()];
        main.iter().for_each(|c| of_main[*c] = true);
        let off = self.distances(|c| of_main[c]);
        // A disc of cells leaves a cell out here and there.
        let gone = |c: usize| self.depth[c] > 0.0 && off[c] > radius + 1.0;
        self.pieces(gone).iter().any(|part| {
            let mut mouth: Vec<usize> =
                part.iter().flat_map(|c| self.beside(*c)).filter(|c| self.depth[*c] > 0.0 && !gone(*c)).collect();
            mouth.sort_unstable();
            mouth.dedup();
            if !self.reach(part, &mouth, asked) {
                return false;
            }
            let cut_off: Vec<usize> = part.iter().copied().filter(|c| stays(*c)).collect();
            let mut of_part = vec![false; self.depth.len()];
            part.iter().for_each(|c| of_part[*c] = true);
            let rest: Vec<usize> = (0..self.depth.len()).filter(|c| self.depth[*c] > 0.0 && !of_part[*c]).collect();
            cut_off.is_empty() || self.reach(&rest, &cut_off, asked + radius)
        })
    }
}

#[test]
fn a_lump_on_a_thread_counts_however_small_and_a_stub_does_not() {
    // On a plate of 10 in: a square by a neck; an ear straight from the plate.
    for (lump, neck, found) in
        [(1.2, 0.02, 0.02), (1.0, 0.2, 0.2), (0.7, 0.1, 0.1), (1.0, 0.9, 10.0), (0.4, 0.41, 10.0)]
    {
        let plate = [(10.0, 10.0, 0.0), (neck, 0.05, 0.0), (lump, lump, 0.0)];
        for degrees in (0..360).step_by(72) {
            let wide = width(&turned(&stack(&plate), f64::from(degrees)));
            assert!((wide / found - 1.0).abs() < 0.03, "{lump} by {neck} at {degrees}: {wide}");
        }
    }
}

#[test]
fn of_two_pieces_the_lesser_may_be_the_ear_though_it_holds_the_widest_place() {
    // A strip by a narrower place on a block hardly larger than it is wide: no neck, and the strip itself is narrowest.
    for plate in
        [[(1.4, 6.0, 0.0), (1.2, 0.05, 0.0), (1.5, 1.5, 0.0)], [(1.5, 1.5, 0.0), (1.2, 0.05, 0.0), (1.4, 6.0, 0.0)]]
    {
        for degrees in (0..360).step_by(45) {
            let wide = width(&turned(&stack(&plate), f64::from(degrees)));
            assert!((wide / 1.4 - 1.0).abs() < 5e-3, "{degrees}: {wide}");
        }
    }
    // A block that reaches farther is no ear.
    let plate = [(1.4, 6.0, 0.0), (1.2, 0.05, 0.0), (2.5, 2.5, 0.0)];
    let wide = width(&stack(&plate));
    assert!((wide / 1.2 - 1.0).abs() < 5e-3, "{wide}");
}
