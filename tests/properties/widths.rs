//! The narrowest width against a raster, and against what must not change it.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use thickset::outline::{Contour, Hole, Outline, Point, Vertex};
use thickset::quantity::{Measure, unit};

/// So many cases, or as the environment says.
fn cases(cases: u32) -> Config {
    Config {
        cases: super::support::cases(cases),
        rng_seed: RngSeed::Fixed(0x51AB),
        failure_persistence: None,
        ..Config::default()
    }
}

type Knot = (f64, f64, f64);

fn outline(knots: &[Knot]) -> Option<Outline> {
    let at = |x: f64, y: f64| Point { x: unit::INCH.of(x), y: unit::INCH.of(y) };
    let vertices = knots.iter().map(|&(x, y, bulge)| Vertex { at: at(x, y), bulge }).collect();
    Outline::new("drawn", Contour::new(vertices).ok()?, Vec::<Hole>::new(), Vec::new()).ok()
}

fn width(knots: &[Knot]) -> Option<f64> {
    Some(unit::INCH.value(outline(knots)?.thinnest().expect("a width").width))
}

/// A figure from a profile: half widths by height, straight between, mirrored; its parts are what is drawn.
fn figure(profile: &[(f64, f64)]) -> Vec<Knot> {
    let right = profile.iter().map(|&(y, half)| (half, y, 0.0));
    let left = profile.iter().rev().map(|&(y, half)| (-half, y, 0.0));
    right.chain(left).collect()
}

/// Necks, legs, tongues, bells and tapers between and below two bodies.
fn profile() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let body = || (2.0..6.0_f64, 3.0..8.0_f64);
    let joint = (0.4..1.8_f64, 0.7..1.3_f64, 1.2..6.0_f64, 0.0..0.6_f64);
    (0..4_u8, body(), joint, body()).prop_map(|(kind, foot, (half, taper, long, slope), head)| {
        let top = |y: f64| [(y + slope, head.0), (y + slope + head.1, head.0)];
        let mut points = match kind {
            // A leg or a tongue below a body, straight or tapering.
            0 => vec![(0.0, half * taper), (long, half)],
            // A neck between two bodies.
            1 => vec![(0.0, foot.0), (foot.1, foot.0), (foot.1 + slope, half), (foot.1 + slope + long, half * taper)],
            // A bell: a taper into the body.
            2 => vec![(0.0, foot.0), (long, half)],
            // A plain body with steps.
            _ => vec![(0.0, foot.0), (foot.1, foot.0 * taper)],
        };
        let y = points.last().map_or(0.0, |p| p.0);
        points.extend(top(y + 1e-3));
        points
    })
}

/// The narrowest width by morphology on a raster: opened at each width in turn, what is left compared.
mod raster {
    const CELL: f64 = 0.05;

    pub struct Raster {
        size: (usize, usize),
        inside: Vec<bool>,
    }

    impl Raster {
        pub fn of(polygon: &[(f64, f64)]) -> Self {
            let bound = |f: fn(f64, f64) -> f64, of: fn(&(f64, f64)) -> f64| polygon.iter().map(of).reduce(f).unwrap();
            let (left, right) = (bound(f64::min, |p| p.0), bound(f64::max, |p| p.0));
            let (bottom, top) = (bound(f64::min, |p| p.1), bound(f64::max, |p| p.1));
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Some hundreds.
            let cells = |span: f64| (span / CELL).ceil() as usize + 4;
            let size = (cells(right - left), cells(top - bottom));
            let mut inside = vec![false; size.0 * size.1];
            for j in 0..size.1 {
                let y = bottom + (j as f64 - 1.5) * CELL;
                let mut crossings: Vec<f64> = Vec::new();
                for (i, a) in polygon.iter().enumerate() {
                    let b = polygon[(i + 1) % polygon.len()];
                    if (a.1 > y) != (b.1 > y) {
                        crossings.push(a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
                    }
                }
                crossings.sort_by(f64::total_cmp);
                for pair in crossings.chunks_exact(2) {
                    for i in 0..size.0 {
                        let x = left + (i as f64 - 1.5) * CELL;
                        inside[j * size.0 + i] |= x >= pair[0] && x <= pair[1];
                    }
                }
            }
            Self { size, inside }
        }

        /// Squared distance, in cells, to the nearest cell of a kind: rows and columns by lower envelopes.
        fn distance(&self, of: &[bool]) -> Vec<f64> {
            let far = 1e12;
            let (w, h) = self.size;
            let mut field: Vec<f64> = of.iter().map(|c| if *c { 0.0 } else { far }).collect();
            for j in 0..h {
                let row: Vec<f64> = field[j * w..(j + 1) * w].to_vec();
                field[j * w..(j + 1) * w].copy_from_slice(&envelope(&row));
            }
            for i in 0..w {
                let column: Vec<f64> = (0..h).map(|j| field[j * w + i]).collect();
                for (j, value) in envelope(&column).into_iter().enumerate() {
                    field[j * w + i] = value;
                }
            }
            field
        }

        fn pieces(&self, of: &[bool]) -> (usize, Vec<usize>) {
            let (w, mut piece, mut count) = (self.size.0, vec![0; of.len()], 0);
            for start in 0..of.len() {
                if !of[start] || piece[start] != 0 {
                    continue;
                }
                count += 1;
                let mut open = vec![start];
                piece[start] = count;
                while let Some(cell) = open.pop() {
                    for next in [cell + 1, cell.wrapping_sub(1), cell + w, cell.wrapping_sub(w)] {
                        if next < of.len() && of[next] && piece[next] == 0 {
                            piece[next] = count;
                            open.push(next);
                        }
                    }
                }
            }
            (count, piece)
        }

        /// Whether the plate is thinner than a width: nothing is left of it, a part is lost that reaches far, or it
        /// is shrunk to pieces of which each reaches far from the other; `more` cells are asked of a reach, and of what
        /// may fall short of it by a few no pieces are asked.
        fn is_thin(&self, depth: &[f64], width: f64, more: f64) -> bool {
            let radius = 0.5 * width / CELL;
            let shrunk: Vec<bool> = depth.iter().map(|d| d.sqrt() >= radius).collect();
            let (count, piece) = self.pieces(&shrunk);
            let far = (1.5_f64).max(0.5 * width) * (1.0 + 0.01 * more) / CELL + more;
            if count == 0 || self.loses(&self.distance(&shrunk), radius, far) {
                return true;
            }
            // A neck counts at its own width: wider discs reach less far into it, and leave more apart.
            more < 0.0 && count > 1 && (1..=count).any(|one| self.parts_far(&piece, one, radius + far))
        }

        /// Whether a part that is lost reaches far from what stays beside it: what is near over a slit is not beside it.
        fn loses(&self, to_shrunk: &[f64], radius: f64, far: f64) -> bool {
            let w = self.size.0;
            // A cell more, so that no rim of cells joins the parts.
            let lost: Vec<bool> =
                (0..to_shrunk.len()).map(|c| self.inside[c] && to_shrunk[c].sqrt() > radius + 1.0).collect();
            let (count, part) = self.pieces(&lost);
            let mut parts = vec![(Vec::new(), Vec::new()); count + 1];
            for c in (0..part.len()).filter(|c| part[*c] != 0) {
                let at = ((c % w) as f64, (c / w) as f64);
                parts[part[c]].0.push(at);
                if [c + 1, c - 1, c + w, c - w].into_iter().any(|n| self.inside[n] && !lost[n]) {
                    parts[part[c]].1.push(at);
                }
            }
            let off = |a: &(f64, f64), b: &(f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
            parts.iter().any(|(cells, mouth)| cells.iter().any(|c| mouth.iter().all(|m| off(c, m) + 1.0 > far)))
        }

        /// Whether a piece and the rest each reach far from where the other comes nearest to them, though a slit may
        /// bring them near elsewhere.
        fn parts_far(&self, piece: &[usize], one: usize, reach: f64) -> bool {
            let of = |own: bool| -> Vec<bool> { piece.iter().map(|p| *p != 0 && (*p == one) == own).collect() };
            let ((own, rest), w) = ((of(true), of(false)), self.size.0);
            let (to_own, to_rest) = (self.distance(&own), self.distance(&rest));
            let reaches = |from: &[bool], to: &[f64], back: &[f64]| {
                let cells = (0..from.len()).filter(|c| from[*c]);
                let mouth = cells.min_by(|a, b| to[*a].total_cmp(&to[*b])).expect("a piece");
                let off = |c: usize| ((c % w) as f64 - (mouth % w) as f64).hypot((c / w) as f64 - (mouth / w) as f64);
                (0..to.len()).any(|c| self.inside[c] && to[c] <= back[c] && off(c) > reach)
            };
            reaches(&rest, &to_own, &to_rest) && reaches(&own, &to_rest, &to_own)
        }

        /// Whether it is thin below a width, and at any width about it: above, a piece may be too small to reach far.
        pub fn thin_around(&self, width: f64, off: f64) -> [bool; 2] {
            let outside: Vec<bool> = self.inside.iter().map(|c| !c).collect();
            let depth = self.distance(&outside);
            // A tip is cut short by what is less than a cell wide.
            let above = (0..=28).any(|k| self.is_thin(&depth, width + off * (1.8 - 0.1 * f64::from(k)), -2.0));
            [self.is_thin(&depth, width - off, 2.0), above]
        }

        pub fn cell() -> f64 {
            CELL
        }
    }

    /// The lower envelope of parabolas (Felzenszwalb and Huttenlocher, 2012).
    fn envelope(f: &[f64]) -> Vec<f64> {
        let n = f.len();
        let (mut v, mut z) = (vec![0_usize; n], vec![f64::NEG_INFINITY; n + 1]);
        let mut k = 0;
        z[1] = f64::INFINITY;
        let meet =
            |p: usize, q: usize| ((f[q] + (q * q) as f64) - (f[p] + (p * p) as f64)) / (2.0 * (q as f64 - p as f64));
        for q in 1..n {
            let mut s = meet(v[k], q);
            while s <= z[k] {
                k -= 1;
                s = meet(v[k], q);
            }
            k += 1;
            v[k] = q;
            z[k] = s;
            z[k + 1] = f64::INFINITY;
        }
        let mut k = 0;
        (0..n)
            .map(|q| {
                while z[k + 1] < q as f64 {
                    k += 1;
                }
                let d = q as f64 - v[k] as f64;
                d * d + f[v[k]]
            })
            .collect()
    }
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn the_width_agrees_with_a_raster(profile in profile()) {
        let knots = figure(&profile);
        let Some(found) = width(&knots) else { return Ok(()) };
        let raster = raster::Raster::of(&knots.iter().map(|k| (k.0, k.1)).collect::<Vec<_>>());
        // A raster knows a width to about two cells, and twice as many between the tips of two wedges.
        let off = 2.5 * raster::Raster::cell();
        let [below, above] = raster.thin_around(found, off);
        prop_assert!(!below && above, "{found}: thin below {below}, above {above}\n{profile:?}");
    }
}

proptest! {
    #![proptest_config(cases(30))]

    #[test]
    fn turned_mirrored_moved_begun_elsewhere_it_is_as_wide(
        profile in profile(),
        turn in 0.0..6.3_f64,
        shift in (-40.0..40.0_f64, -40.0..40.0_f64),
        start in 0..8_usize,
    ) {
        let knots = figure(&profile);
        let Some(found) = width(&knots) else { return Ok(()) };
        let (sin, cos) = turn.sin_cos();
        let turned = |&(x, y, b): &Knot| (cos * x - sin * y + shift.0, sin * x + cos * y + shift.1, b);
        let mut moved: Vec<Knot> = knots.iter().map(turned).collect();
        let from = start % moved.len();
        moved.rotate_left(from);
        let mirrored: Vec<Knot> = moved.iter().rev().map(|&(x, y, b)| (-x, y, b)).collect();
        for other in [moved, mirrored] {
            let other = width(&other).expect("the same plate");
            prop_assert!((other / found - 1.0).abs() < 1e-3, "{found} {other}\n{profile:?}");
        }
    }

    #[test]
    fn a_part_made_narrower_never_makes_it_wider(
        (half, taper, long) in (0.4..1.8_f64, 0.7..1.3_f64, 0.2..6.0_f64),
        share in 0.3..1.0_f64,
        neck in any::<bool>(),
    ) {
        // A leg below a body, or a neck between two.
        let drawn = |half: f64| {
            let foot = if neck { vec![(-6.0, 5.0), (-1e-3, 5.0)] } else { Vec::new() };
            let part = [(0.0, half * taper), (long, half), (long + 1e-3, 5.0), (long + 8.0, 5.0)];
            figure(&foot.into_iter().chain(part).collect::<Vec<_>>())
        };
        let (Some(found), Some(narrow)) = (width(&drawn(half)), width(&drawn(half * share))) else { return Ok(()) };
        prop_assert!(narrow <= found * 1.002, "{found} to {narrow}");
    }

    #[test]
    fn a_fillet_at_a_root_widens_it_by_no_more_than_the_fillet(half in 0.5..2.0_f64, long in 2.0..6.0_f64, r in 0.05..0.5_f64) {
        let b = -0.414_213_562_373_095;
        let sharp = |e: f64| if e == 0.0 { vec![(half, 8.0, 0.0)] } else { vec![(half + e, 8.0, b), (half, 8.0 + e, 0.0)] };
        let necked = |e: f64| {
            let mut knots = vec![(-6.0, 0.0, 0.0), (6.0, 0.0, 0.0), (6.0, 8.0, 0.0)];
            knots.extend(sharp(e));
            knots.extend([(half, 8.0 + long, 0.0), (6.0, 8.0 + long, 0.0), (6.0, 16.0 + long, 0.0), (-6.0, 16.0 + long, 0.0)]);
            knots.extend([(-6.0, 8.0 + long, 0.0), (-half, 8.0 + long, 0.0), (-half, 8.0, 0.0), (-6.0, 8.0, 0.0)]);
            knots
        };
        let (plain, filleted) = (width(&necked(0.0)).expect("a plate"), width(&necked(r)).expect("a plate"));
        prop_assert!((plain / (2.0 * half) - 1.0).abs() < 1e-3, "{plain} {half}");
        prop_assert!((filleted / plain - 1.0).abs() < 2e-3, "{plain} {filleted}");
    }

    #[test]
    fn an_arc_or_sixty_chords_is_one_plate(radius in 2.0..12.0_f64, half in 0.4..1.5_f64, chords in 30..90_usize) {
        // A round with a tongue, its arc drawn or in chords.
        let y = (radius * radius - half * half).sqrt();
        let begin = y.atan2(-half);
        let sweep = std::f64::consts::TAU - 2.0 * (half / radius).asin();
        let tongue = [(half, y, 0.0), (half, y + 3.0, 0.0), (-half, y + 3.0, 0.0)];
        let mut arc = vec![(-half, y, (sweep / 8.0).tan()), (0.0, -radius, (sweep / 8.0).tan())];
        arc.extend(tongue);
        let drawn = |i: usize| {
            let (sin, cos) = (begin + sweep * i as f64 / chords as f64).sin_cos();
            (radius * cos, radius * sin)
        };
        let text: String = (0..chords).map(drawn).chain(tongue.map(|k| (k.0, k.1)))
            .map(|(x, y)| format!("[{x:?}, {y:?}]")).collect::<Vec<_>>().join(",");
        let text = format!("schema = \"thickset/outline/1\"\nname = \"x\"\nunit = \"in\"\npoints = [{text}]\n");
        let polygon = Outline::from_toml(&thickset::source::SourceText::new("x.toml", text)).expect("an outline");
        let drawn = outline(&arc).expect("an outline");
        let share = |a: f64, b: f64| (a / b - 1.0).abs();
        prop_assert!(share(polygon.area().si(), drawn.area().si()) < 1e-3);
        prop_assert!(share(polygon.cut_length().si(), drawn.cut_length().si()) < 1e-3);
        let width = |o: &Outline| o.thinnest().expect("a width").width.si();
        prop_assert!(share(width(&polygon), width(&drawn)) < 1e-3, "{} {}", width(&polygon), width(&drawn));
        prop_assert_eq!(polygon.sharp_corners(unit::INCH.of(0.375)).len(), drawn.sharp_corners(unit::INCH.of(0.375)).len());
    }
}
