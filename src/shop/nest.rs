//! Outlines as the points that they are laid on a lattice by.

use crate::flat::lattice::{self, CHORD, Spot, bounds};
use crate::flat::{Room, Spots};
use crate::plate::Contour;
use crate::quantity::Measure;

/// The contour as points, arcs as chords.
pub(super) fn points(contour: &Contour) -> Vec<Spot> {
    let vertices = contour.vertices();
    let mut points = Vec::new();
    for (i, vertex) in vertices.iter().enumerate() {
        let from = [vertex.at.x.si(), vertex.at.y.si()];
        let next = &vertices[(i + 1) % vertices.len()];
        points.push(from);
        lattice::arc_points(from, [next.at.x.si(), next.at.y.si()], vertex.bulge, &mut points);
    }
    points
}

/// Whether a contour is a circle: every vertex and the middle of every arc equally far from the centre of its box.
pub(super) fn is_circle(contour: &Contour) -> bool {
    if contour.vertices().iter().any(|v| v.bulge.abs() < 1e-9) {
        return false;
    }
    let points = points(contour);
    let [left, right, bottom, top] = bounds(&points);
    let radius = 0.25 * (right - left + top - bottom);
    let centre = [0.5 * (left + right), 0.5 * (bottom + top)];
    points.iter().all(|p| ((p[0] - centre[0]).hypot(p[1] - centre[1]) - radius).abs() < 4.0 * CHORD)
}

/// Where the centre of a turned contour's bounds lies, from the place that the centre of its bounds was turned to: none
/// for what is alike on both sides, much for a silhouette on its corner.
pub(super) fn off_centre(contour: &Contour, angle: f64) -> Spot {
    let points = points(contour);
    let middle = |points: &[Spot]| {
        let [left, right, bottom, top] = bounds(points);
        [0.5 * (left + right), 0.5 * (bottom + top)]
    };
    let (own, (sin, cos)) = (middle(&points), angle.sin_cos());
    let about = points.iter().map(|p| [p[0] - own[0], p[1] - own[1]]);
    middle(&about.map(|p| [cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]]).collect::<Vec<_>>())
}

/// The plans of the most plates that are found for each room, from a turn on; empty where none is.
pub(super) fn lay(contour: &Contour, least_turn: f64, rooms: &[Room]) -> Vec<Spots> {
    lattice::lay(points(contour), least_turn, rooms)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flat::lattice::{overlaps, turned};
    use crate::plate::{Point, Vertex};
    use crate::quantity::{Length, unit};
    use crate::shop::sheet::{Cutting, Part, room};

    fn contour(inches: &[(f64, f64, f64)]) -> Contour {
        let length = |value: f64| Length::from_si(unit::INCH.of(value).si());
        let vertex = |&(x, y, bulge): &(f64, f64, f64)| Vertex { at: Point { x: length(x), y: length(y) }, bulge };
        Contour::new(inches.iter().map(vertex).collect()).unwrap()
    }

    fn rooms() -> Vec<Room> {
        let cutting = Cutting::default();
        Part::ALL.into_iter().map(|part| room(part, &cutting)).collect()
    }

    /// Counts, after every plan was looked at by coordinates.
    fn counts(contour: &Contour) -> Vec<usize> {
        let shape = points(contour);
        let plans = lay(contour, 0.0, &rooms());
        for (plan, room) in plans.iter().zip(rooms()) {
            assert!(!overlaps(&shape, plan, room.gap - 4.0 * CHORD));
            for (at, angle) in plan {
                let [left, right, bottom, top] = bounds(&turned(&shape, *angle));
                assert!(at[0] + left >= -1e-6 && at[0] + right <= room.size[0] + 1e-6, "{at:?}");
                assert!(at[1] + bottom >= -1e-6 && at[1] + top <= room.size[1] + 1e-6, "{at:?}");
            }
        }
        plans.iter().map(Vec::len).collect()
    }

    #[test]
    fn a_square_on_its_corner_lies_as_a_square() {
        // Computed: 16 in from corner to corner, turned by 45°, is 11.31 in wide: 8 × 4.
        let diamond = contour(&[(0.0, -8.0, 0.0), (8.0, 0.0, 0.0), (0.0, 8.0, 0.0), (-8.0, 0.0, 0.0)]);
        assert_eq!(counts(&diamond)[0], 32);
    }

    #[test]
    fn triangles_lie_in_pairs() {
        // 12 in wide and 10 in high: in pairs a row of 95.4 in holds 14, alone 7.
        let triangle = contour(&[(0.0, 0.0, 0.0), (12.0, 0.0, 0.0), (6.0, 10.0, 0.0)]);
        assert!(counts(&triangle)[0] >= 48, "{:?}", counts(&triangle));
    }

    #[test]
    fn a_head_and_shoulders_interlocks_and_smaller_sheets_give_less() {
        let figure = contour(&[
            (0.0, 0.0, 0.0),
            (12.0, 0.0, 0.0),
            (12.0, 12.0, 0.0),
            (9.0, 15.0, 0.0),
            (9.0, 18.0, 1.0),
            (3.0, 18.0, 0.0),
            (3.0, 15.0, 0.0),
            (0.0, 12.0, 0.0),
        ]);
        let counts = counts(&figure);
        // In its box of 12 × 21 in it comes 14 times from a sheet.
        assert!(counts[0] >= 14 && counts[0] >= 2 * counts[1] && counts[1] >= counts[2], "{counts:?}");
    }

    #[test]
    fn a_circle_is_known_however_it_is_drawn_and_an_octagon_is_none() {
        let arcs = |n: u32| {
            let angle = |i: u32| std::f64::consts::TAU * f64::from(i) / f64::from(n);
            let bulge = (0.25 * std::f64::consts::TAU / f64::from(n)).tan();
            let round: Vec<_> = (0..n).map(|i| (6.0 * angle(i).cos(), 6.0 * angle(i).sin(), bulge)).collect();
            let chords: Vec<_> = round.iter().map(|&(x, y, _)| (x, y, 0.0)).collect();
            (is_circle(&contour(&round)), n > 2 && is_circle(&contour(&chords)))
        };
        for n in [2, 3, 4, 8] {
            assert_eq!(arcs(n), (true, false), "{n}");
        }
    }
}
