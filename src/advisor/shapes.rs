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
