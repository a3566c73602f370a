//! Files that stand in a question, or are referred to by it.

use super::super::error::at;
use super::super::question::Inline;
use crate::source::{Diagnostic, SourceText};
use std::fmt;
use std::sync::Arc;

/// Reads the files that questions refer to. Without one a reference is refused: a stranger's text opens no file.
pub trait Resolver: Send + Sync {
    /// The bytes behind a reference.
    ///
    /// # Errors
    /// A [`Diagnostic`] where there is nothing behind it, or nothing that may be read.
    fn read(&self, reference: &str) -> Result<Vec<u8>, Diagnostic>;
}

impl<F: Fn(&str) -> Result<Vec<u8>, Diagnostic> + Send + Sync> Resolver for F {
    fn read(&self, reference: &str) -> Result<Vec<u8>, Diagnostic> {
        self(reference)
    }
}

/// The resolver of an advisor, where it has one.
#[derive(Clone, Default)]
pub(crate) struct Files(Option<Arc<dyn Resolver>>);

impl fmt::Debug for Files {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.0.is_some() { "Files(read)" } else { "Files(refused)" })
    }
}

impl Files {
    pub fn new(resolver: impl Resolver + 'static) -> Self {
        Self(Some(Arc::new(resolver)))
    }

    /// Whether files that are referred to are read.
    pub fn are_read(&self) -> bool {
        self.0.is_some()
    }

    /// The bytes behind a reference.
    pub fn bytes(&self, key: &str, reference: &str) -> Result<Vec<u8>, Diagnostic> {
        let Some(resolver) = &self.0 else {
            let message = format!("`{reference}` names a file, and no file is read here");
            return Err(at(key, message, "give what the file holds in place of its name"));
        };
        resolver.read(reference).map_err(|fault| if fault.field.is_none() { fault.field(key) } else { fault })
    }

    /// The text behind a reference.
    pub fn text(&self, key: &str, reference: &str) -> Result<SourceText, Diagnostic> {
        let bytes = self.bytes(key, reference)?;
        let text = String::from_utf8(bytes)
            .map_err(|_| at(key, format!("`{reference}` is not UTF-8 text"), "save it as UTF-8"))?;
        Ok(SourceText::new(reference, text))
    }

    /// What stands in the question, as the text of its file.
    pub fn source(&self, key: &str, inline: &Inline) -> Result<SourceText, Diagnostic> {
        match inline {
            Inline::File(reference) => self.text(key, reference),
            Inline::Object(object) => {
                let text = toml::to_string(object)
                    .map_err(|e| at(key, format!("`{key}` can't be read: {e}"), "write it as its file holds it"))?;
                Ok(SourceText::new(key, text))
            }
        }
    }
}
