//! How pieces lie on a sheet, in black outlines.

use super::Figure;
use super::svg::{contour, px, words};
use crate::advisor::answer::CutPlan;
use crate::quantity::Measure;
use crate::report::numbers::Numbers;
use crate::words::Units;
use maud::html;

const WIDTH: f64 = 480.0;
const MARGIN: f64 = 8.0;

/// The cut plan, where there is a piece on it.
pub(in crate::report) fn cut_plan(plan: &CutPlan, units: Units) -> Option<Figure> {
    let (length, breadth) = (plan.sheet[0].si(), plan.sheet[1].si());
    if plan.pieces.is_empty() || plan.shapes.is_empty() || !(length > 0.0 && breadth > 0.0) {
        return None;
    }
    let numbers = Numbers(units);
    let scale = (WIDTH - 2.0 * MARGIN) / length;
    let bottom = MARGIN + breadth * scale;
    let piece: String = plan.shapes.iter().map(|s| contour(s, scale, |x, y| (x * scale, -y * scale))).collect();
    let sheet = format!("{} by {}", numbers.size().words(plan.sheet[0].0), numbers.size().words(plan.sheet[1].0));
    let kerf = numbers.fine().words(plan.kerf.0);
    let count = plan.pieces.len();
    let drawing = html! {
        rect.sheet x=(px(MARGIN)) y=(px(MARGIN)) width=(px(length * scale)) height=(px(breadth * scale)) fill="none"
            stroke="currentColor" stroke-width="2" {}
        @for place in &plan.pieces {
            @let (x, y) = (MARGIN + place.pivot[0].si() * scale, bottom - place.pivot[1].si() * scale);
            @let turn = px(-crate::quantity::unit::DEGREE.value(place.turned.0));
            path.piece d=(piece) transform=(format!("translate({} {}) rotate({turn})", px(x), px(y))) fill="none"
                stroke="currentColor" stroke-width="1" {}
        }
        (words((WIDTH / 2.0, bottom + 20.0), "middle", "size", &format!("sheet {sheet}, kerf {kerf}")))
    };
    let title = format!("Cut plan: {count} of a sheet {sheet}.");
    let description = format!("{count} pieces on a sheet {sheet}, kerf {kerf}.");
    Some(Figure::new(&title, &description, "", (WIDTH, bottom + 30.0), drawing))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::samples;

    #[test]
    fn each_piece_is_drawn_where_it_lies() {
        let plan = samples::cut_plan();
        let text = cut_plan(&plan, Units::Us).expect("a figure").markup().into_string();
        let places: Vec<(f64, f64)> = text
            .split("translate(")
            .skip(1)
            .filter_map(|part| part.split(')').next()?.split_once(' '))
            .map(|(x, y)| (x.parse().expect("a number"), y.parse().expect("a number")))
            .collect();
        assert_eq!(places.len(), plan.pieces.len());
        for (place, (x, y)) in plan.pieces.iter().zip(places) {
            let sheet = text.split("class=\"sheet\"").nth(1).expect("the sheet");
            let of = |name: &str| -> f64 {
                sheet
                    .split(&format!("{name}=\""))
                    .nth(1)
                    .and_then(|t| t.split('"').next())
                    .and_then(|t| t.parse().ok())
                    .expect(name)
            };
            let share = [place.pivot[0].si() / plan.sheet[0].si(), place.pivot[1].si() / plan.sheet[1].si()];
            assert!((x - of("x") - share[0] * of("width")).abs() < 0.2, "{x}");
            assert!((y - of("y") - (1.0 - share[1]) * of("height")).abs() < 0.2, "{y}");
        }
    }
}
