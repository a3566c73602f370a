//! Files that a text refers to.

use crate::source::{Diagnostic, SourceText};
use std::path::{Path, PathBuf};

/// Opens what a text refers to by name. A text from a stranger is read without one: it opens nothing.
pub trait Resolver {
    /// The text of that name.
    ///
    /// # Errors
    /// A [`Diagnostic`] where there is none, or it can't be read.
    fn resolve(&self, name: &str) -> Result<SourceText, Diagnostic>;
}

impl<F: Fn(&str) -> Result<SourceText, Diagnostic>> Resolver for F {
    fn resolve(&self, name: &str) -> Result<SourceText, Diagnostic> {
        self(name)
    }
}

/// Opens files by their path from a folder, as the program does beside the file that names them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside(PathBuf);

impl Beside {
    /// Beside a file.
    #[must_use]
    pub fn file(path: &Path) -> Self {
        Self::folder(path.parent().unwrap_or(Path::new("")))
    }

    /// In a folder; an empty path is the one that the program was started in.
    #[must_use]
    pub fn folder(folder: &Path) -> Self {
        Self(folder.to_owned())
    }
}

impl Resolver for Beside {
    fn resolve(&self, name: &str) -> Result<SourceText, Diagnostic> {
        SourceText::read(&self.0.join(name))
    }
}
