//! What was read of a drawing: its contours with balance point, hangers, narrowest place and sharp corners.

use super::Figure;
use super::svg::{breadth, contour, line, px, words};
use crate::advisor::answer::OutlineFacts;
use crate::quantity::{Length, Measure, Si};
use crate::report::numbers::Numbers;
use crate::words::Units;
use maud::{Markup, html};

const WIDTH: f64 = 480.0;
/// The outline's longer side on paper.
const SIDE: f64 = 320.0;
const MARGIN: f64 = 30.0;

/// The outline on paper.
struct Sheet {
    scale: f64,
    left: f64,
    bottom: f64,
}

impl Sheet {
    fn of(facts: &OutlineFacts) -> Option<(Self, f64)> {
        let (width, height) = (facts.width.si(), facts.height.si());
        let longer = width.max(height);
        if !(longer.is_finite() && longer > 0.0) {
            return None;
        }
        let scale = SIDE / longer;
        let bottom = MARGIN + height * scale;
        Some((Self { scale, left: (WIDTH - width * scale) / 2.0, bottom }, bottom + MARGIN + 24.0))
    }

    fn at(&self, x: f64, y: f64) -> (f64, f64) {
        (self.left + x * self.scale, self.bottom - y * self.scale)
    }

    fn point(&self, point: [Si<Length>; 2]) -> (f64, f64) {
        self.at(point[0].si(), point[1].si())
    }
}

/// The outline with what matters of it, where its contours are known.
pub(in crate::report) fn outline(facts: &OutlineFacts, units: Units) -> Option<Figure> {
    if facts.shapes.is_empty() {
        return None;
    }
    let (sheet, height) = Sheet::of(facts)?;
    let numbers = Numbers(units);
    let steel: String = facts.shapes.iter().map(|shape| contour(shape, sheet.scale, |x, y| sheet.at(x, y))).collect();
    let drawing = html! {
        path.steel d=(steel) fill-rule="evenodd" fill-opacity="0.08" stroke="currentColor" stroke-width="1.8" {}
        (hangers(facts, &sheet))
        (narrowest(facts, &sheet, numbers))
        (corners(facts, &sheet, numbers))
        (balance(facts, &sheet))
        (words((WIDTH / 2.0, sheet.bottom + 22.0), "middle", "size", &format!(
            "{} wide, {} high", numbers.size().words(facts.width.0), numbers.size().words(facts.height.0)
        )))
    };
    Some(Figure::new("The outline as it was read.", &described(facts, numbers), "", (WIDTH, height), drawing))
}

fn balance(facts: &OutlineFacts, sheet: &Sheet) -> Markup {
    let (x, y) = sheet.point(facts.centroid);
    html! {
        circle.balance cx=(px(x)) cy=(px(y)) r="6" fill="none" stroke="currentColor" stroke-width="1.4" {}
        circle cx=(px(x)) cy=(px(y)) r="2" {}
        (beside((x, y + 20.0), "balance point"))
    }
}

/// Words about a point, kept on the paper.
fn beside(at: (f64, f64), text: &str) -> Markup {
    let half = breadth(text) / 2.0;
    words((at.0.clamp(half + 2.0, WIDTH - half - 2.0), at.1), "middle", "words", text)
}

fn hangers(facts: &OutlineFacts, sheet: &Sheet) -> Markup {
    let points: Vec<(f64, f64)> = facts.hangers.iter().map(|point| sheet.point(*point)).collect();
    let ends = points.first().zip(points.last());
    html! {
        @if let Some((first, last)) = ends {
            @let (left, right) = if first.0 <= last.0 { (first, last) } else { (last, first) };
            (line((left.0 - 26.0, left.1), (right.0 + 26.0, right.1), "hanger-line", "1.2", Some("7 4")))
            @for (x, y) in &points {
                circle.hanger cx=(px(*x)) cy=(px(*y)) r="5" fill="none" stroke="currentColor" stroke-width="2.2" {}
            }
            @let edge = (sheet.left + facts.width.si() * sheet.scale).max(right.0 + 26.0);
            (beside((edge + 8.0 + breadth("hangs here") / 2.0, right.1 + 4.0), "hangs here"))
        }
    }
}

fn narrowest(facts: &OutlineFacts, sheet: &Sheet, numbers: Numbers) -> Markup {
    html! {
        @if let (Some(width), Some(at)) = (facts.thinnest.width, facts.thinnest.at) {
            @let (x, y) = sheet.point(at);
            @let radius = (width.si() * sheet.scale / 2.0).max(4.0);
            circle.narrowest cx=(px(x)) cy=(px(y)) r=(px(radius)) fill="none" stroke="currentColor" stroke-width="1.2"
                stroke-dasharray="3 2" {}
            (beside((x, y + radius + 14.0), &format!("narrowest {}", numbers.fine().words(width.0))))
        }
    }
}

fn corners(facts: &OutlineFacts, sheet: &Sheet, numbers: Numbers) -> Markup {
    html! {
        @for corner in &facts.corners {
            @let (x, y) = sheet.point(corner.at);
            rect.corner x=(px(x - 5.0)) y=(px(y - 5.0)) width="10" height="10" fill="none" stroke="currentColor"
                stroke-width="1.4" {}
            (beside((x, y - 9.0), &corner_words(corner.radius.0, numbers)))
        }
    }
}

/// A radius below this is told as none, m.
const SHARP_M: f64 = 1e-4;

fn corner_words(radius: Length, numbers: Numbers) -> String {
    if radius.si() < SHARP_M { "sharp".into() } else { format!("R {}", numbers.fine().words(radius)) }
}

fn described(facts: &OutlineFacts, numbers: Numbers) -> String {
    let mut said =
        vec![format!("{}.", facts.words.trim_end_matches('.')), format!("{}.", facts.hangs.trim_end_matches('.'))];
    if let Some(width) = facts.thinnest.width {
        said.push(format!("Narrowest {}.", numbers.fine().words(width.0)));
    }
    match facts.corners.len() {
        0 => {}
        1 => said.push("1 sharp inside corner.".into()),
        many => said.push(format!("{many} sharp inside corners.")),
    }
    said.retain(|words| words.len() > 1);
    said.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::advisor::answer::{Corner, Thinnest};
    use crate::quantity::unit;
    use crate::report::samples;

    fn inches(x: f64, y: f64) -> [Si<Length>; 2] {
        [unit::INCH.of(x).into(), unit::INCH.of(y).into()]
    }

    /// The numbers of a path's data.
    fn numbers_of(data: &str) -> Vec<f64> {
        data.split(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).filter_map(|n| n.parse().ok()).collect()
    }

    #[test]
    fn the_path_has_the_outlines_size_and_the_marks_stand_where_they_are() {
        let mut facts = samples::outline();
        facts.thinnest = Thinnest { width: Some(unit::INCH.of(1.5).into()), at: Some(inches(6.0, 16.0)) };
        facts.corners = vec![Corner { at: inches(3.0, 15.0), radius: unit::INCH.of(0.04).into() }];
        let text = outline(&facts, Units::Us).expect("a figure").markup().into_string();
        let path = text.split("class=\"steel\" d=\"").nth(1).and_then(|t| t.split('"').next()).expect("a path");
        let numbers = numbers_of(path.split('A').next().expect("lines first"));
        let (x, y): (Vec<f64>, Vec<f64>) = numbers.chunks_exact(2).map(|xy| (xy[0], xy[1])).unzip();
        let span =
            |list: &[f64]| list.iter().copied().fold(0.0, f64::max) - list.iter().copied().fold(f64::MAX, f64::min);
        // 12 by 20 in, the longer side on 320 units.
        assert!((span(&y) - 320.0).abs() < 0.2 && (span(&x) - 192.0).abs() < 0.2, "{path}");
        for said in ["narrowest 1.50 in", "R 0.04 in", "balance point", "hangs here", "12.0 in wide, 20.0 in high"] {
            assert!(text.contains(said), "{said}\n{text}");
        }
        assert!(text.contains("1 sharp inside corner."), "{text}");
        // 1.5 in across at 16 units an inch.
        assert!(text.contains("class=\"narrowest\" cx=\"240\" cy=\"94\" r=\"12\""), "{text}");
    }

    #[test]
    fn metric_has_no_inch_left() {
        let text = outline(&samples::outline(), Units::Si).expect("a figure").markup().into_string();
        assert!(!text.contains(" in wide") && text.contains("305 mm wide"), "{text}");
    }
}
