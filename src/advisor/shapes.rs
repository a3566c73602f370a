//! Faces as contours, for figures.

use super::answer::{Segment, Shape};
use super::drawn;
use crate::plate::Face;
use crate::quantity::{Length, Measure, Si};

/// The contours of a face about the centre of its bounds.
pub(crate) fn of(face: &Face) -> Vec<Shape> {
    let zero = Length::from_si(0.0);
    match face {
        Face::Round(diameter) => {
            let radius = *diameter * 0.5;
            let half = |x: Length| Segment::Arc([Si(x), Si(zero)], Si(radius), false, true);
            vec![Shape { start: [Si(radius), Si(zero)], segments: vec![half(-radius), half(radius)] }]
        }
        Face::Rectangle(width, height) => {
            let (x, y) = (*width * 0.5, *height * 0.5);
            let to = |x: Length, y: Length| Segment::Line([Si(x), Si(y)]);
            vec![Shape { start: [Si(-x), Si(-y)], segments: vec![to(x, -y), to(x, y), to(-x, y), to(-x, -y)] }]
        }
        Face::Outline(outline) => {
            let bounds = outline.section().bounds;
            drawn::shapes(outline, 0.5 * (bounds.left + bounds.right), 0.5 * (bounds.bottom + bounds.top))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn a_round_face_is_two_half_circles_and_a_rectangle_four_sides_about_their_middle() {
        let inches = |at: &[Si<Length>; 2]| [unit::INCH.value(*at[0]).round(), unit::INCH.value(*at[1]).round()];
        let round = of(&Face::round(unit::INCH.of(12.0)).unwrap());
        assert_eq!(inches(&round[0].start), [6.0, 0.0]);
        let arcs = round[0].segments.iter().map(|segment| match segment {
            Segment::Arc(to, radius, long, counterclockwise) => {
                (inches(to), unit::INCH.value(**radius).round(), *long, *counterclockwise)
            }
            Segment::Line(_) => panic!("{round:?}"),
        });
        assert_eq!(arcs.collect::<Vec<_>>(), [([-6.0, 0.0], 6.0, false, true), ([6.0, 0.0], 6.0, false, true)]);
        let wide = of(&Face::Rectangle(unit::INCH.of(12.0), unit::INCH.of(20.0)));
        assert_eq!(inches(&wide[0].start), [-6.0, -10.0]);
        let corners = wide[0].segments.iter().map(|segment| match segment {
            Segment::Line(to) => inches(to),
            Segment::Arc(..) => panic!("{wide:?}"),
        });
        assert_eq!(corners.collect::<Vec<_>>(), [[6.0, -10.0], [6.0, 10.0], [-6.0, 10.0], [-6.0, -10.0]]);
    }
}
