//! One report model for people, documents for programs. No arithmetic here beyond the rounding of words.

pub mod advise;
pub mod catalog;
pub mod cautions;
pub mod chrono;
pub mod course;
mod csv;
pub mod hanging;
mod html;
pub mod json;
mod page;
pub mod say;
pub mod standoff;
pub mod strike;
mod text;
pub mod vet;
pub use crate::words;

pub use json::{Circumstances, Document, error_document};
pub use page::{Align, Block, Column, Notice, Page, Row, Table, Tone};
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
    let page = page.sanitized();
    match format {
        Format::Table | Format::Json => text::render(&page, width, colour),
        Format::Csv => csv::render(&page),
        Format::Html => html::render(&page),
    }
}
