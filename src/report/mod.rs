//! One report model for people, documents for programs. No arithmetic here beyond the rounding of words.

pub mod advise;
mod answer;
pub mod catalog;
pub mod cautions;
pub mod chrono;
pub mod course_sheets;
mod csv;
mod figure;
pub mod hanging;
mod html;
pub mod json;
mod numbers;
mod page;
#[cfg(test)]
mod samples;
pub mod say;
pub mod sheet;
pub mod standoff;
pub mod strike;
mod style;
mod table;
mod text;
pub mod vet;
pub use crate::words;

pub use answer::{Detail, Report, page};
pub use figure::Figure;
pub use json::{Circumstances, Document, error_document};
pub use page::{Block, Kind, Notice, Page, PageError, Tone};
pub use table::{Align, Column, Place, Rounding, Row, Scale, Table, Value};
pub use text::PIPE_WIDTH;
pub use words::Units;

use clap::ValueEnum;

/// The form of an answer.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// Text for a terminal
    #[default]
    Table,
    /// A document in SI for programs
    Json,
    /// Tables for a spreadsheet
    Csv,
    /// A page for a screen, a phone or a wall
    Html,
}

/// Renders a page. JSON has documents of its own; asked of a page it is text.
#[must_use]
pub fn render(page: &Page, format: Format, width: Option<usize>, colour: bool) -> String {
    match format {
        Format::Table | Format::Json => page.text(width, colour),
        Format::Csv => page.csv(None).unwrap_or_default(),
        Format::Html => page.html(),
    }
}
