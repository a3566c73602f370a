//! What went wrong, as a document for programs.

use crate::source::{Diagnostic, clean};
use serde::Serialize;

/// The document `thickset/error/1`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ErrorDocument {
    /// Name and version of the document's form.
    pub schema: String,
    /// The program and its version.
    pub program: String,
    /// The faults, in the order they were found.
    pub errors: Vec<ErrorRow>,
}

/// One fault.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ErrorRow {
    /// What failed.
    pub message: String,
    /// The option or key at fault, where there is one.
    pub field: Option<String>,
    /// The file at fault.
    pub file: Option<String>,
    /// Its line, from 1.
    pub line: Option<usize>,
    /// The column in the line, from 1.
    pub column: Option<usize>,
    /// What to do about it.
    pub help: Option<String>,
}

impl From<&Diagnostic> for ErrorRow {
    fn from(fault: &Diagnostic) -> Self {
        let position = fault.position();
        Self {
            message: clean(&message(fault)),
            field: fault.field.as_deref().map(clean),
            file: fault.place.as_ref().map(|place| clean(&place.source.name)),
            line: position.map(|p| p.0),
            column: position.map(|p| p.1),
            help: fault.help.as_deref().map(clean),
        }
    }
}

/// What failed; where it is the same in several rows, with them.
fn message(fault: &Diagnostic) -> String {
    match fault.cell.as_ref().filter(|cell| !cell.more.is_empty()) {
        Some(cell) => format!("{}: {}", cell.words(), fault.told()),
        None => fault.told(),
    }
}

/// The document of what went wrong.
#[must_use]
pub fn error_document(faults: &[Diagnostic]) -> ErrorDocument {
    ErrorDocument {
        schema: "thickset/error/1".into(),
        program: concat!("thickset ", env!("CARGO_PKG_VERSION")).into(),
        errors: faults.iter().map(ErrorRow::from).collect(),
    }
}
