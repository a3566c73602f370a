//! The least rectangle around an outline: how a plate is laid, however it lies in its drawing.

use super::nest::points;
use crate::flat::lattice::{Spot, bounds, thinned, turned};
use crate::order::Order;
use crate::plate::Contour;
use std::f64::consts::FRAC_PI_2;

/// By how much of a rectangle another is no smaller and no longer.
const AS_SMALL: f64 = 1e-4;

/// The turn that lays a contour into its least rectangle, at most 45° to either side, and that rectangle, so that a plate
/// costs the same however it lies in its drawing; of several as small the longest.
pub(super) fn least_box(contour: &Contour) -> (f64, [f64; 2]) {
    let all = points(contour);
    let few = thinned(all.clone());
    let size = |points: &[Spot], angle: f64| {
        let [left, right, bottom, top] = bounds(&turned(points, angle));
        [right - left, top - bottom]
    };
    let area = |size: [f64; 2]| size[0] * size[1];
    let long = |size: [f64; 2]| size[0].max(size[1]);
    // As it lies, where that is as good.
    let mut best = (0.0, size(&few, 0.0));
    for angle in hull_turns(&few) {
        let tried = size(&few, angle);
        let as_small = area(tried) <= area(best.1) * (1.0 + AS_SMALL);
        if area(tried) < area(best.1) * (1.0 - AS_SMALL) || (as_small && long(tried) > long(best.1) * (1.0 + AS_SMALL))
        {
            best = (angle, tried);
        }
    }
    (best.0, size(&all, best.0))
}

/// The turns that lay an edge of the hull around some points along an axis.
fn hull_turns(points: &[Spot]) -> Vec<f64> {
    let mut sorted = points.to_vec();
    sorted.order_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let half = |points: &mut dyn Iterator<Item = &Spot>| {
        let mut hull: Vec<Spot> = Vec::new();
        for &p in points {
            while let [.., a, b] = hull[..]
                && (b[0] - a[0]) * (p[1] - a[1]) <= (b[1] - a[1]) * (p[0] - a[0])
            {
                hull.pop();
            }
            hull.push(p);
        }
        hull
    };
    let halves = [half(&mut sorted.iter()), half(&mut sorted.iter().rev())];
    let turn = |side: &[Spot]| {
        let angle = -(side[1][1] - side[0][1]).atan2(side[1][0] - side[0][0]);
        angle - (angle / FRAC_PI_2).round() * FRAC_PI_2
    };
    halves.iter().flat_map(|hull| hull.windows(2).map(turn)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::{Point, Vertex};
    use crate::quantity::unit;
    use crate::shop::nest::lay;
    use crate::shop::sheet::{Cutting, Part, room};

    fn contour(inches: &[(f64, f64, f64)]) -> Contour {
        let at = |x: f64, y: f64| Point { x: unit::INCH.of(x), y: unit::INCH.of(y) };
        Contour::new(inches.iter().map(|&(x, y, bulge)| Vertex { at: at(x, y), bulge }).collect()).unwrap()
    }

    fn counts(contour: &Contour) -> Vec<usize> {
        let rooms = Part::ALL.map(|part| room(part, &Cutting::default()));
        lay(contour, least_box(contour).0, &rooms).iter().map(Vec::len).collect()
    }

    #[test]
    fn as_many_fit_a_sheet_however_a_plate_lies_in_its_drawing() {
        let knots = [
            (0.0, 0.0),
            (15.4, 0.0),
            (15.4, 13.5),
            (14.0, 13.5),
            (14.0, 15.5),
            (13.0, 15.5),
            (13.0, 13.5),
            (2.4, 13.5),
            (2.4, 15.5),
            (1.5, 15.5),
            (1.5, 13.5),
            (0.0, 13.5),
        ];
        let lies = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let turned = knots.map(|(x, y)| (cos * x - sin * y, sin * x + cos * y, 0.0));
            contour(&turned)
        };
        let (_, least) = least_box(&lies(0.0));
        let expected = counts(&lies(0.0));
        for degrees in [2.5, 17.0, 33.3, 45.0, 71.0] {
            let (_, found) = least_box(&lies(degrees));
            assert!((found[0] * found[1] / (least[0] * least[1]) - 1.0).abs() < 1e-6, "{degrees}: {found:?}");
            assert_eq!(counts(&lies(degrees)), expected, "{degrees}");
        }
    }
}
