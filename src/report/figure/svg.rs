//! What drawings share: an axis, a path, words with room around them.

use crate::advisor::answer::{Segment, Shape};
use crate::quantity::{Length, Measure, Si};
use maud::{Markup, html};
use std::fmt::Write;

/// A length on paper, to a tenth.
pub(super) fn px(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".into() } else { text.into() }
}

/// About how broad words are at the size they are set in.
pub(super) fn breadth(words: &str) -> f64 {
    const PER_LETTER: f64 = 6.6;
    textwrap::core::display_width(words) as f64 * PER_LETTER
}

/// Words with room around them, so that a line behind does not cross them out.
pub(super) fn words(at: (f64, f64), anchor: &str, class: &str, text: &str) -> Markup {
    html! {
        text x=(px(at.0)) y=(px(at.1)) text-anchor=(anchor) class=(class) stroke="var(--paper, #fff)" stroke-width="4"
            stroke-linejoin="round" paint-order="stroke" { (crate::source::clean(text)) }
    }
}

/// A straight line.
pub(super) fn line(from: (f64, f64), to: (f64, f64), class: &str, width: &str, dashes: Option<&str>) -> Markup {
    html! {
        path class=(class) d=(format!("M{} {}L{} {}", px(from.0), px(from.1), px(to.0), px(to.1))) fill="none"
            stroke="currentColor" stroke-width=(width) stroke-dasharray=[dashes] {}
    }
}

/// A run of points as a path's data.
pub(super) fn run(points: impl Iterator<Item = (f64, f64)>) -> String {
    let mut data = String::new();
    for (index, (x, y)) in points.enumerate() {
        let _ = write!(data, "{}{} {}", if index == 0 { 'M' } else { 'L' }, px(x), px(y));
    }
    data
}

/// A scale from numbers to paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    step: f64,
    from: f64,
    to: f64,
}

impl Axis {
    /// A scale that holds all of `low..=high`, from `from` on paper to `to`, with about `parts` round steps.
    pub fn new(low: f64, high: f64, parts: f64, from: f64, to: f64) -> Self {
        let span = (high - low).max(high.abs() * 1e-6).max(1e-9);
        let rough = span / parts;
        let decade = 10_f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0].into_iter().map(|m| m * decade).find(|s| *s >= rough).unwrap_or(10.0 * decade);
        let (low, high) = ((low / step).floor() * step, (high / step - 1e-9).ceil() * step);
        Self { low, high: high.max(low + step), step, from, to }
    }

    /// The same scale that ends where the numbers end, not at a round one.
    pub fn ending(self, high: f64) -> Self {
        Self { high: if high > self.low { high } else { self.high }, ..self }
    }

    /// Where a number stands on paper.
    pub fn at(self, value: f64) -> f64 {
        self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from)
    }

    /// The round numbers, each with its words.
    pub fn ticks(self) -> impl Iterator<Item = (f64, String)> {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Small by construction.
        let count = ((self.high - self.low) / self.step + 1e-9).floor() as usize;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let decimals = (-self.step.log10().floor()).max(0.0) as usize;
        (0..=count.min(50)).map(move |index| {
            let value = self.low + index as f64 * self.step;
            (value, format!("{value:.decimals$}"))
        })
    }
}

/// A contour as a path's data; `place` puts a point on paper, on which y points down.
pub(super) fn contour(shape: &Shape, scale: f64, place: impl Fn(f64, f64) -> (f64, f64)) -> String {
    let xy = |point: [Si<Length>; 2]| place(point[0].si(), point[1].si());
    let start = xy(shape.start);
    let mut data = format!("M{} {}", px(start.0), px(start.1));
    for segment in &shape.segments {
        let _ = match *segment {
            Segment::Line(end) => {
                let end = xy(end);
                write!(data, "L{} {}", px(end.0), px(end.1))
            }
            Segment::Arc(end, radius, long, counterclockwise) => {
                let (end, radius) = (xy(end), px(radius.si() * scale));
                // Turned over with the axis, counterclockwise is the negative direction of SVG.
                let (long, sweep) = (u8::from(long), u8::from(!counterclockwise));
                write!(data, "A{radius} {radius} 0 {long} {sweep} {} {}", px(end.0), px(end.1))
            }
        };
    }
    data.push('Z');
    data
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_holds_its_numbers_and_its_marks_are_round() {
        let axis = Axis::new(1830.0, 2790.0, 5.0, 200.0, 0.0);
        let marks: Vec<String> = axis.ticks().map(|(_, words)| words).collect();
        assert_eq!(marks, ["1800", "2000", "2200", "2400", "2600", "2800"]);
        assert!((axis.at(1800.0) - 200.0).abs() < 1e-9 && axis.at(2800.0).abs() < 1e-9);
        assert_eq!(Axis::new(5.0, 5.0, 5.0, 0.0, 1.0).ticks().count().min(2), 2);
    }
}
