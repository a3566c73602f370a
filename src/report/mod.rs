//! One report model for people, documents for programs. No arithmetic here beyond the rounding of words.

mod answer;
mod catalog;
pub mod course_sheets;
mod csv;
mod error;
mod figure;
mod html;
mod numbers;
mod page;
mod render;
#[cfg(test)]
mod samples;
pub mod sheet;
mod style;
mod table;
mod text;
mod tone;

pub use answer::{Detail, Report, page};
pub use error::{ErrorDocument, ErrorRow, error_document};
pub use figure::Figure;
pub use page::{Block, Kind, Notice, Page, PageError};
pub use table::{Align, Column, Place, Rounding, Row, Scale, Table, Value};
pub use text::{PIPE_WIDTH, fitted};
pub use tone::Tone;

/// The form of an answer.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
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

crate::quantity::text_form!(Format);
