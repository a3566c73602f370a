//! Area, centre and moments of a face, exact for straight edges and arcs.
//!
//! By Green's theorem over the boundary: `A = ∮ x dy`, `∫x dA = ∮ x²/2 dy`, `∫x² dA = ∮ x³/3 dy`, and
//! likewise for y; holes are subtracted by the same integrals over their contours. The integrands are
//! polynomials on straight edges and short sums of sines on arcs; Gauss–Legendre of order 8 on pieces of at
//! most 45° gives them to the last digits.

use super::contour::{Contour, Edge, Point};
use crate::quantity::{Area, Length, Measure, SecondMomentOfArea};
use std::f64::consts::{FRAC_PI_4, PI};

const X: [f64; 4] = [0.183_434_642_495_649_8, 0.525_532_409_916_329, 0.796_666_477_413_626_7, 0.960_289_856_497_536_3];
const W: [f64; 4] = [0.362_683_783_378_362, 0.313_706_645_877_887_3, 0.222_381_034_453_374_5, 0.101_228_536_290_376_3];

/// The section of a face, y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Area, holes taken off.
    pub area: Area,
    /// Centre of mass.
    pub centre: Point,
    /// ∫y² dA about the centre: resists turning about a level line in the plate.
    pub i_xx: SecondMomentOfArea,
    /// ∫x² dA about the centre: resists turning about an upright line in the plate.
    pub i_yy: SecondMomentOfArea,
    /// Length of all cuts, holes included.
    pub perimeter: Length,
    /// The box around it.
    pub bounds: Bounds,
    /// Height that it hangs from: its hangers', or its top.
    pub hanger: Length,
}

/// The box around a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its left side.
    pub left: Length,
    /// Its right side.
    pub right: Length,
    /// Its lower edge.
    pub bottom: Length,
    /// Its upper edge.
    pub top: Length,
}

impl Bounds {
    pub(crate) fn of([left, right, bottom, top]: [f64; 4]) -> Self {
        let [left, right, bottom, top] = [left, right, bottom, top].map(Length::from_si);
        Self { left, right, bottom, top }
    }

    /// From side to side.
    #[must_use]
    pub fn width(&self) -> Length {
        self.right - self.left
    }

    /// From the lower edge to the upper.
    #[must_use]
    pub fn height(&self) -> Length {
        self.top - self.bottom
    }
}

/// Integrals over a boundary about its origin, SI.
#[derive(Default)]
struct Sums {
    origin: (f64, f64),
    area: f64,
    x: f64,
    y: f64,
    xx: f64,
    yy: f64,
}

impl Sums {
    /// Adds an edge; `sign` is -1 for one of a hole.
    fn add(&mut self, edge: &Edge, sign: f64) {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // At most eight pieces.
        let pieces = edge.bow().map_or(1, |bow| (bow.sweep.abs() / FRAC_PI_4).ceil().max(1.0) as u32);
        let width = 1.0 / f64::from(pieces);
        for piece in 0..pieces {
            let middle = (f64::from(piece) + 0.5) * width;
            for (x, w) in X.iter().zip(W) {
                for t in [middle - 0.5 * width * x, middle + 0.5 * width * x] {
                    self.node(edge, t, 0.5 * width * w * sign);
                }
            }
        }
    }

    fn node(&mut self, edge: &Edge, t: f64, weight: f64) {
        let ((x, y), (dx, dy)) = edge.place_and_rate(t);
        let (x, y) = (x - self.origin.0, y - self.origin.1);
        self.area += weight * 0.5 * (x * dy - y * dx);
        self.x += weight * 0.5 * x * x * dy;
        self.y -= weight * 0.5 * y * y * dx;
        self.xx += weight * x * x * x / 3.0 * dy;
        self.yy -= weight * y * y * y / 3.0 * dx;
    }
}

impl Section {
    /// The section of a contour less its cut-outs.
    pub(super) fn of_contours(contour: &Contour, cuts: &[Contour]) -> Self {
        // About the corner of its box, so that a place far from the origin costs no digits.
        let bounds = contour.bounds();
        let mut sums = Sums { origin: (bounds[0], bounds[2]), ..Sums::default() };
        contour.edges().for_each(|e| sums.add(&e, 1.0));
        cuts.iter().flat_map(Contour::edges).for_each(|e| sums.add(&e, -1.0));
        let perimeter = contour.length() + cuts.iter().map(Contour::length).sum::<f64>();
        let (x, y) = (sums.x / sums.area, sums.y / sums.area);
        Self {
            area: Area::from_si(sums.area),
            centre: Point::of((x + bounds[0], y + bounds[2])),
            i_xx: SecondMomentOfArea::from_si(sums.yy - sums.area * y * y),
            i_yy: SecondMomentOfArea::from_si(sums.xx - sums.area * x * x),
            perimeter: Length::from_si(perimeter),
            bounds: Bounds::of(bounds),
            hanger: Length::from_si(bounds[3]),
        }
    }

    /// The section of a round face.
    pub(crate) fn of_round(diameter: f64) -> Self {
        let r = 0.5 * diameter;
        let area = PI * r * r;
        let moment = SecondMomentOfArea::from_si(0.25 * area * r * r);
        Self {
            area: Area::from_si(area),
            centre: Point::of((0.0, 0.0)),
            i_xx: moment,
            i_yy: moment,
            perimeter: Length::from_si(2.0 * PI * r),
            bounds: Bounds::of([-r, r, -r, r]),
            hanger: Length::from_si(r),
        }
    }

    /// The section of a rectangular face.
    pub(crate) fn of_rectangle(w: f64, h: f64) -> Self {
        let area = w * h;
        Self {
            area: Area::from_si(area),
            centre: Point::of((0.0, 0.0)),
            i_xx: SecondMomentOfArea::from_si(area * h * h / 12.0),
            i_yy: SecondMomentOfArea::from_si(area * w * w / 12.0),
            perimeter: Length::from_si(2.0 * (w + h)),
            bounds: Bounds::of([-0.5 * w, 0.5 * w, -0.5 * h, 0.5 * h]),
            hanger: Length::from_si(0.5 * h),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::contour::plain::{Knot, box_of, contour};
    use super::super::{Hole, Outline};
    use super::*;
    use crate::quantity::unit;

    fn section(points: &[Knot], holes: Vec<Hole>) -> Section {
        *Outline::new("test", contour(points), holes, Vec::new()).unwrap().section()
    }

    fn circle(x: f64, y: f64, diameter: f64) -> Contour {
        Contour::circle(Point::of((x, y)), unit::METRE.of(diameter)).unwrap()
    }

    fn close<Q: Measure>(a: Q, b: Q, share: f64) {
        let (a, b) = (a.si(), b.si());
        assert!((a - b).abs() <= share * b.abs().max(1e-30), "{a} {b}");
    }

    fn metres(value: f64) -> Length {
        unit::METRE.of(value)
    }

    fn fourth(value: f64) -> SecondMomentOfArea {
        unit::METRE_TO_THE_FOURTH.of(value)
    }

    #[test]
    fn a_circle_of_arcs_is_exact_and_one_of_many_points_comes_near() {
        let exact = Section::of_round(0.3);
        let arcs = *Outline::new("c", circle(0.1, -0.2, 0.3), Vec::new(), Vec::new()).unwrap().section();
        close(arcs.area, exact.area, 1e-13);
        close(arcs.i_xx, exact.i_xx, 1e-12);
        close(arcs.i_yy, exact.i_yy, 1e-12);
        close(arcs.perimeter, exact.perimeter, 1e-13);
        close(arcs.bounds.top, metres(-0.05), 1e-12);
        let knots = (0..720).map(|i| (f64::from(i) * PI / 360.0).sin_cos()).map(|(s, c)| (0.15 * c, 0.15 * s, 0.0));
        let many = section(&knots.collect::<Vec<_>>(), Vec::new());
        close(many.area, exact.area, 2e-5);
        close(many.i_xx, exact.i_xx, 4e-5);
    }

    #[test]
    fn a_rectangle_and_an_l_shape_have_their_closed_forms() {
        let rectangle = section(&box_of(1.0, 1.0, 0.4, 0.2), Vec::new());
        close(rectangle.area, unit::SQUARE_METRE.of(0.08), 1e-13);
        close(rectangle.i_xx, fourth(0.4 * 0.2_f64.powi(3) / 12.0), 1e-11);
        close(rectangle.i_yy, fourth(0.2 * 0.4_f64.powi(3) / 12.0), 1e-11);
        // An L of two rectangles 0.1 × 0.3 and 0.2 × 0.1.
        let l = [(0.0, 0.0), (0.3, 0.0), (0.3, 0.1), (0.1, 0.1), (0.1, 0.3), (0.0, 0.3)].map(|(x, y)| (x, y, 0.0));
        let l = section(&l, Vec::new());
        close(l.area, unit::SQUARE_METRE.of(0.05), 1e-13);
        close(l.centre.x, metres((0.03 * 0.05 + 0.02 * 0.2) / 0.05), 1e-12);
        let (a, b) = (0.1 * 0.3_f64.powi(3) / 12.0, 0.2 * 0.1_f64.powi(3) / 12.0);
        let cy = l.centre.y.si();
        close(l.i_xx, fourth(a + 0.03 * (0.15 - cy).powi(2) + b + 0.02 * (0.05 - cy).powi(2)), 1e-11);
    }

    #[test]
    fn a_rectangle_with_a_rectangular_window_has_its_closed_forms() {
        // 0.4 × 0.3 less 0.1 × 0.06, whose centre lies (0.05, 0.04) from the plate's.
        let window = Hole::Cut(contour(&box_of(1.2, 0.66, 0.1, 0.06)));
        let framed = section(&box_of(1.0, 0.5, 0.4, 0.3), vec![window]);
        let (whole, cut): (f64, f64) = (0.12, 0.006);
        close(framed.area, unit::SQUARE_METRE.of(whole - cut), 1e-12);
        let shift = |off: f64| -cut * off / (whole - cut);
        close(framed.centre.x, metres(1.2 + shift(0.05)), 1e-12);
        close(framed.centre.y, metres(0.65 + shift(0.04)), 1e-12);
        let moment = |side: f64, hole: f64, off: f64| {
            let to = shift(off);
            whole * (side * side / 12.0 + to * to) - cut * (hole * hole / 12.0 + (off - to).powi(2))
        };
        close(framed.i_xx, fourth(moment(0.3, 0.06, 0.04)), 1e-11);
        close(framed.i_yy, fourth(moment(0.4, 0.1, 0.05)), 1e-11);
        close(framed.perimeter, metres(1.4 + 0.32), 1e-13);
    }

    #[test]
    fn a_round_plate_with_a_slot_has_its_closed_forms() {
        // Radius 0.15, a level slot of length 0.1 between its ends' centres, 0.02 wide, through the middle.
        let (r, l, w): (f64, f64, f64) = (0.15, 0.1, 0.02);
        let (from, to) = (Point::of((-0.05, 0.0)), Point::of((0.05, 0.0)));
        let slot = Hole::Slot { from, to, width: metres(w) };
        let plate = *Outline::new("s", circle(0.0, 0.0, 2.0 * r), vec![slot], Vec::new()).unwrap().section();
        close(plate.area, unit::SQUARE_METRE.of(PI * r * r - (w * l + PI * w * w / 4.0)), 1e-13);
        let level = l * w.powi(3) / 12.0 + PI * w.powi(4) / 64.0;
        close(plate.i_xx, fourth(PI * r.powi(4) / 4.0 - level), 1e-12);
        // Two half discs: their centres lie 4r/3π beyond the ends of the rectangle.
        let (a, c) = (0.5 * w, 4.0 * (0.5 * w) / (3.0 * PI));
        let half = 0.5 * PI * a * a;
        let own = PI * a.powi(4) / 8.0 - half * c * c;
        let upright = w * l.powi(3) / 12.0 + 2.0 * (own + half * (0.5 * l + c).powi(2));
        close(plate.i_yy, fourth(PI * r.powi(4) / 4.0 - upright), 1e-12);
        close(plate.perimeter, metres(2.0 * PI * r + 2.0 * l + PI * w), 1e-12);
    }

    #[test]
    fn a_contour_drawn_clockwise_is_the_same_plate() {
        let forward = section(&[(0.0, 0.0, 0.5), (0.3, 0.0, 0.0), (0.1, 0.3, -0.1)], Vec::new());
        let back = section(&[(0.1, 0.3, 0.0), (0.3, 0.0, -0.5), (0.0, 0.0, 0.1)], Vec::new());
        close(back.area, forward.area, 1e-13);
        close(back.i_xx, forward.i_xx, 1e-12);
    }
}
