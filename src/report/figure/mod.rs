//! Drawings as inline SVG: black lines with their words where they stand, legible without colour.

mod cut;
mod flight;
mod outline;
mod round;
mod svg;

pub(super) use cut::cut_plan;
pub(super) use flight::flight;
pub(super) use outline::outline;
pub(super) use round::round;

use crate::source::clean;
use maud::{Markup, PreEscaped, html};

/// A drawing with its title, what a screen reader says of it, and a note under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    title: String,
    description: String,
    note: String,
    /// Markup, escaped as it was built.
    drawing: String,
    width: f64,
    height: f64,
}

impl Figure {
    fn new(title: &str, description: &str, note: &str, size: (f64, f64), drawing: Markup) -> Self {
        Self {
            title: clean(title),
            description: clean(description),
            note: clean(note),
            drawing: drawing.into_string(),
            width: size.0,
            height: size.1,
        }
    }

    /// What it shows.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// The drawing as HTML.
    pub(super) fn markup(&self) -> Markup {
        let (width, height) = (svg::px(self.width), svg::px(self.height));
        html! {
            figure {
                svg viewBox=(format!("0 0 {width} {height}")) role="img" aria-label=(self.title)
                    font-family="system-ui, sans-serif" font-size="13" fill="currentColor" {
                    title { (self.title) }
                    desc { (self.description) }
                    (PreEscaped(&self.drawing))
                }
                figcaption { (self.title) @if !self.note.is_empty() { " " span.soft { (self.note) } } }
            }
        }
    }
}
