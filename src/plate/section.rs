//! Area, centre, moments and widths of a face, exact for straight edges and arcs.
//!
//! By Green's theorem over the boundary: `A = ∮ x dy`, `∫x dA = ∮ x²/2 dy`, `∫x² dA = ∮ x³/3 dy`, and
//! likewise for y. The integrands are polynomials on straight edges and short sums of sines on arcs;
//! Gauss–Legendre of order 8 on pieces of at most 45° gives them to the last digits.

use super::Face;
use super::outline::{Edge, Outline, Vertex};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

const X: [f64; 4] = [0.183_434_642_495_649_8, 0.525_532_409_916_329, 0.796_666_477_413_626_7, 0.960_289_856_497_536_3];
const W: [f64; 4] = [0.362_683_783_378_362, 0.313_706_645_877_887_3, 0.222_381_034_453_374_5, 0.101_228_536_290_376_3];

/// The section of a face: SI, y up, moments about its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Area, m².
    pub area: f64,
    /// Centre, m.
    pub centre: (f64, f64),
    /// ∫y² dA about the centre, m⁴: resists turning about a level line in the plate.
    pub level: f64,
    /// ∫x² dA about the centre, m⁴: resists turning about an upright line in the plate.
    pub upright: f64,
    /// Length of all cuts, holes included, m.
    pub perimeter: f64,
    /// Left, right, bottom, top, m.
    pub bounds: [f64; 4],
    /// Narrowest width, m: of the convex hull, in any direction.
    pub narrowest: f64,
    /// Height that it hangs from, m: its hangers', or its top.
    pub hanger: f64,
}

#[derive(Default)]
struct Sums {
    area: f64,
    x: f64,
    y: f64,
    xx: f64,
    yy: f64,
}

impl Sums {
    fn add(&mut self, edge: &Edge) {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // At most eight pieces.
        let pieces = edge.bend().map_or(1, |(_, sweep)| (sweep.abs() / FRAC_PI_4).ceil().max(1.0) as u32);
        let width = 1.0 / f64::from(pieces);
        for piece in 0..pieces {
            let middle = (f64::from(piece) + 0.5) * width;
            for (x, w) in X.iter().zip(W) {
                for t in [middle - 0.5 * width * x, middle + 0.5 * width * x] {
                    self.node(edge, t, 0.5 * width * w);
                }
            }
        }
    }

    fn node(&mut self, edge: &Edge, t: f64, weight: f64) {
        let ((x, y), (dx, dy)) = (edge.at(t), edge.rate(t));
        self.area += weight * 0.5 * (x * dy - y * dx);
        self.x += weight * 0.5 * x * x * dy;
        self.y -= weight * 0.5 * y * y * dx;
        self.xx += weight * x * x * x / 3.0 * dy;
        self.yy -= weight * y * y * y / 3.0 * dx;
    }
}

impl Section {
    /// The section of an outline.
    #[must_use]
    pub fn of_outline(outline: &Outline) -> Self {
        let mut sums = Sums::default();
        outline.edges().for_each(|e| sums.add(&e));
        let mut perimeter: f64 = outline.edges().map(|e| e.length()).sum();
        for hole in outline.holes() {
            let r = 0.5 * hole.diameter;
            let area = PI * r * r;
            sums.area -= area;
            sums.x -= area * hole.x;
            sums.y -= area * hole.y;
            sums.xx -= area * (hole.x * hole.x + 0.25 * r * r);
            sums.yy -= area * (hole.y * hole.y + 0.25 * r * r);
            perimeter += 2.0 * PI * r;
        }
        let centre = (sums.x / sums.area, sums.y / sums.area);
        let bounds = bounds(outline);
        let hangers = outline.hangers();
        let hanger = if hangers.is_empty() {
            bounds[3]
        } else {
            hangers.iter().map(|h| h.1).sum::<f64>() / hangers.len() as f64
        };
        Self {
            area: sums.area,
            centre,
            level: sums.yy - sums.area * centre.1 * centre.1,
            upright: sums.xx - sums.area * centre.0 * centre.0,
            perimeter,
            bounds,
            narrowest: narrowest(&outline.polygon()),
            hanger,
        }
    }

    /// The section of a face; round and rectangular faces by their closed forms.
    #[must_use]
    pub fn of(face: &Face) -> Self {
        match face {
            Face::Round(diameter) => {
                let r = 0.5 * diameter.value;
                let area = PI * r * r;
                let moment = 0.25 * area * r * r;
                Self {
                    area,
                    centre: (0.0, 0.0),
                    level: moment,
                    upright: moment,
                    perimeter: 2.0 * PI * r,
                    bounds: [-r, r, -r, r],
                    narrowest: 2.0 * r,
                    hanger: r,
                }
            }
            Face::Rectangle(width, height) => {
                let (w, h) = (width.value, height.value);
                let area = w * h;
                let bounds = [-0.5 * w, 0.5 * w, -0.5 * h, 0.5 * h];
                Self {
                    area,
                    centre: (0.0, 0.0),
                    level: area * h * h / 12.0,
                    upright: area * w * w / 12.0,
                    perimeter: 2.0 * (w + h),
                    bounds,
                    narrowest: w.min(h),
                    hanger: 0.5 * h,
                }
            }
            Face::Outline(outline) => Self::of_outline(outline),
        }
    }
}

/// The box around the contour, arcs' own extremes included.
fn bounds(outline: &Outline) -> [f64; 4] {
    let mut b = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
    let mut hold = |(x, y): (f64, f64)| b = [b[0].min(x), b[1].max(x), b[2].min(y), b[3].max(y)];
    for edge in outline.edges() {
        hold(edge.at(0.0));
        for quarter in edge.turning_points() {
            hold(quarter);
        }
    }
    b
}

impl Edge {
    /// Where an arc is farthest right, up, left or down.
    fn turning_points(&self) -> Vec<(f64, f64)> {
        let Some((radius, sweep)) = self.bend() else { return Vec::new() };
        let (dx, dy) = self.rate(0.0);
        let start = (-dx / (radius * sweep)).atan2(dy / (radius * sweep));
        // An arc sweeps less than a whole turn from a start within half a turn: six quarters either way hold it.
        let quarters = (-6..=6).map(|quarter| (f64::from(quarter) * FRAC_PI_2 - start) / sweep);
        quarters.filter(|t| (0.0..1.0).contains(t)).map(|t| self.at(t)).collect()
    }
}

/// Least width of the convex hull, by rotating over its edges. Arcs are cut inside, so it errs on the narrow,
/// the strict side.
fn narrowest(points: &[(f64, f64)]) -> f64 {
    let hull = hull(points);
    let n = hull.len();
    let mut least = f64::INFINITY;
    for i in 0..n {
        let (a, b) = (hull[i], hull[(i + 1) % n]);
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let length = dx.hypot(dy);
        if length > 0.0 {
            let far = hull.iter().map(|p| (dx * (p.1 - a.1) - dy * (p.0 - a.0)) / length).fold(0.0, f64::max);
            least = least.min(far);
        }
    }
    least
}

/// Convex hull, counterclockwise, by the monotone chain (A. M. Andrew, 1979).
fn hull(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let turn = |o: (f64, f64), a: (f64, f64), b: (f64, f64)| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0);
    let half = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for p in points {
            while chain.len() >= 2 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0.0 {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut sorted.iter().copied());
    lower.extend(half(&mut sorted.iter().rev().copied()));
    lower
}

/// A whole circle as a contour of two half arcs, for drawings.
#[must_use]
pub fn circle(x: f64, y: f64, diameter: f64) -> Vec<Vertex> {
    let r = 0.5 * diameter;
    vec![Vertex { x: x - r, y, bulge: 1.0 }, Vertex { x: x + r, y, bulge: 1.0 }]
}

#[cfg(test)]
mod tests {
    use super::super::outline::{Hole, OutlineError};
    use super::*;
    use crate::quantity::unit;

    fn polygon(points: &[(f64, f64)]) -> Outline {
        let contour = points.iter().map(|&(x, y)| Vertex { x, y, bulge: 0.0 }).collect();
        Outline::new("test", contour, Vec::new(), Vec::new()).unwrap()
    }

    fn close(a: f64, b: f64, share: f64) {
        assert!((a - b).abs() <= share * b.abs().max(1e-30), "{a} {b}");
    }

    #[test]
    fn a_circle_of_arcs_is_exact_and_one_of_many_points_comes_near() {
        let exact = Section::of(&Face::round(unit::METRE.of(0.3)).unwrap());
        let arcs = Section::of_outline(&Outline::new("c", circle(0.1, -0.2, 0.3), Vec::new(), Vec::new()).unwrap());
        close(arcs.area, exact.area, 1e-13);
        close(arcs.level, exact.level, 1e-12);
        close(arcs.upright, exact.upright, 1e-12);
        close(arcs.perimeter, exact.perimeter, 1e-13);
        close(arcs.bounds[3], -0.05, 1e-12);
        assert!(arcs.narrowest <= 0.3 && arcs.narrowest > 0.2995);
        let points: Vec<(f64, f64)> =
            (0..720).map(|i| (f64::from(i) * PI / 360.0).sin_cos()).map(|(s, c)| (0.15 * c, 0.15 * s)).collect();
        let many = Section::of_outline(&polygon(&points));
        close(many.area, exact.area, 2e-5);
        close(many.level, exact.level, 4e-5);
    }

    #[test]
    fn a_rectangle_and_an_l_shape_have_their_closed_forms() {
        let rectangle = Section::of_outline(&polygon(&[(1.0, 1.0), (1.4, 1.0), (1.4, 1.2), (1.0, 1.2)]));
        close(rectangle.area, 0.08, 1e-13);
        close(rectangle.level, 0.4 * 0.2_f64.powi(3) / 12.0, 1e-11);
        close(rectangle.upright, 0.2 * 0.4_f64.powi(3) / 12.0, 1e-11);
        close(rectangle.narrowest, 0.2, 1e-12);
        // An L of two rectangles 0.1 × 0.3 and 0.2 × 0.1.
        let l =
            Section::of_outline(&polygon(&[(0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.1, 0.1), (0.1, 0.3), (0.0, 0.3)]));
        close(l.area, 0.05, 1e-13);
        close(l.centre.0, (0.03 * 0.05 + 0.02 * 0.2) / 0.05, 1e-12);
        let (a, b) = (0.1 * 0.3_f64.powi(3) / 12.0, 0.2 * 0.1_f64.powi(3) / 12.0);
        let cy = l.centre.1;
        close(l.level, a + 0.03 * (0.15 - cy).powi(2) + b + 0.02 * (0.05 - cy).powi(2), 1e-11);
    }

    #[test]
    fn a_shift_changes_no_moment_and_a_quarter_turn_swaps_them() {
        let shape = |dx: f64, dy: f64, turn: bool| {
            let points = [(0.0, 0.0, 0.2), (0.3, 0.0, 0.0), (0.35, 0.25, -0.3), (0.05, 0.2, 0.0)];
            let place = |&(x, y, bulge): &(f64, f64, f64)| {
                let (x, y) = if turn { (-y, x) } else { (x, y) };
                Vertex { x: x + dx, y: y + dy, bulge }
            };
            let hole = if turn { (-0.1 + dx, 0.15 + dy) } else { (0.15 + dx, 0.1 + dy) };
            let hole = Hole { x: hole.0, y: hole.1, diameter: 0.02 };
            Section::of_outline(&Outline::new("s", points.iter().map(place).collect(), vec![hole], Vec::new()).unwrap())
        };
        let (here, there, turned) = (shape(0.0, 0.0, false), shape(0.7, -0.4, false), shape(0.1, 0.2, true));
        close(there.area, here.area, 1e-12);
        close(there.level, here.level, 1e-9);
        close(there.upright, here.upright, 1e-9);
        close(turned.level, here.upright, 1e-9);
        close(turned.upright, here.level, 1e-9);
        close(turned.narrowest, here.narrowest, 1e-9);
    }

    #[test]
    fn a_contour_drawn_clockwise_is_the_same_plate() {
        let forward = Outline::new(
            "f",
            vec![
                Vertex { x: 0.0, y: 0.0, bulge: 0.5 },
                Vertex { x: 0.3, y: 0.0, bulge: 0.0 },
                Vertex { x: 0.1, y: 0.3, bulge: -0.1 },
            ],
            Vec::new(),
            Vec::new(),
        )
        .unwrap();
        let back = Outline::new(
            "b",
            vec![
                Vertex { x: 0.1, y: 0.3, bulge: 0.0 },
                Vertex { x: 0.3, y: 0.0, bulge: -0.5 },
                Vertex { x: 0.0, y: 0.0, bulge: 0.1 },
            ],
            Vec::new(),
            Vec::new(),
        )
        .unwrap();
        close(Section::of_outline(&back).area, Section::of_outline(&forward).area, 1e-13);
        close(Section::of_outline(&back).level, Section::of_outline(&forward).level, 1e-12);
    }

    #[test]
    fn what_can_t_be_cut_is_refused_with_the_point() {
        let vertex = |x: f64, y: f64| Vertex { x: x * 0.0254, y: y * 0.0254, bulge: 0.0 };
        let new = |points: Vec<Vertex>, holes| Outline::new("x", points, holes, Vec::new());
        let bow_tie =
            new(vec![vertex(0.0, 0.0), vertex(4.0, 4.0), vertex(4.0, 0.0), vertex(0.0, 4.0)], Vec::new()).unwrap_err();
        assert!(bow_tie.to_string().contains("(2.000, 2.000)"), "{bow_tie}");
        let square = || vec![vertex(0.0, 0.0), vertex(4.0, 0.0), vertex(4.0, 4.0), vertex(0.0, 4.0)];
        let hole = |x: f64, y: f64, d: f64| Hole { x: x * 0.0254, y: y * 0.0254, diameter: d * 0.0254 };
        assert!(matches!(new(square(), vec![hole(4.0, 2.0, 0.5)]), Err(OutlineError::Hole { index: 1, .. })));
        assert!(matches!(new(square(), vec![hole(9.0, 2.0, 0.5)]), Err(OutlineError::Hole { index: 1, .. })));
        assert!(matches!(
            new(square(), vec![hole(2.0, 2.0, 0.5), hole(2.2, 2.0, 0.5)]),
            Err(OutlineError::Hole { index: 2, .. })
        ));
        assert!(matches!(
            new(vec![vertex(0.0, 0.0), vertex(0.0, 0.0), vertex(1.0, 1.0)], Vec::new()),
            Err(OutlineError::Repeated { .. })
        ));
        assert!(matches!(new(vec![vertex(0.0, 0.0), vertex(1.0, 1.0)], Vec::new()), Err(OutlineError::Points { .. })));
        assert!(matches!(
            new(vec![vertex(0.0, f64::NAN), vertex(1.0, 1.0), vertex(0.0, 1.0)], Vec::new()),
            Err(OutlineError::Place { index: 1 })
        ));
    }

    #[test]
    fn inside_corners_are_found_with_their_radius_and_holes_near_the_edge_are_named() {
        let l = polygon(&[(0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.1, 0.1), (0.1, 0.3), (0.0, 0.3)]);
        assert_eq!(l.inside_corners(), vec![(0.1, 0.1, 0.0)]);
        // The same corner cut with a 10 mm fillet.
        let v = |x: f64, y: f64, bulge: f64| Vertex { x, y, bulge };
        let b = -(PI / 8.0).tan();
        let filleted = vec![
            v(0.0, 0.0, 0.0),
            v(0.3, 0.0, 0.0),
            v(0.3, 0.1, 0.0),
            v(0.11, 0.1, b),
            v(0.1, 0.11, 0.0),
            v(0.1, 0.3, 0.0),
            v(0.0, 0.3, 0.0),
        ];
        let hole = |y: f64| Hole { x: 0.05, y, diameter: 0.01 };
        let filleted = Outline::new("f", filleted, vec![hole(0.15), hole(0.286)], Vec::new()).unwrap();
        let corners = filleted.inside_corners();
        assert_eq!(corners.len(), 1, "{corners:?}");
        close(corners[0].2, 0.01, 1e-9);
        let near = filleted.holes_near_edge();
        assert_eq!(near.len(), 1);
        assert_eq!(near[0].0, 1);
        close(near[0].1, 0.009, 1e-9);
    }
}
