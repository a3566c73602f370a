//! A page as text, HTML or CSV.

use super::page::{Page, PageError};
use super::{csv, html, text};

impl Page {
    /// The page as text, for a terminal of a width or a pipe.
    #[must_use]
    pub fn text(&self, width: Option<usize>, colour: bool) -> String {
        text::render(&self.sanitized(), width, colour)
    }

    /// The page as a whole HTML document.
    #[must_use]
    pub fn html(&self) -> String {
        html::render(&self.sanitized())
    }

    /// The page as HTML without frame and style, for a page of one's own.
    #[must_use]
    pub fn fragment(&self) -> String {
        html::fragment(&self.sanitized())
    }

    /// A table as CSV: the first, or the one of a name.
    pub fn csv(&self, table: Option<&str>) -> Result<String, PageError> {
        let page = self.sanitized();
        let tables = page.spreadsheet();
        let found = match table {
            None => tables.first().ok_or(PageError::NoTable)?,
            Some(name) => tables
                .iter()
                .find(|t| t.name == name)
                .ok_or_else(|| PageError::UnknownTable { name: name.into(), known: self.tables() })?,
        };
        Ok(csv::table(found))
    }
}
