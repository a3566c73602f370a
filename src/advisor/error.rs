//! What keeps a question from being answered.

use crate::source::Diagnostic;
use std::fmt;

/// The faults of a question, at least one: each with the question's key in `field`, what is wrong, and what would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults(Vec<Diagnostic>);

impl Faults {
    /// The faults, in the order they were found.
    #[must_use]
    pub fn list(&self) -> &[Diagnostic] {
        &self.0
    }

    /// The faults, in the order they were found.
    #[must_use]
    pub fn into_list(self) -> Vec<Diagnostic> {
        self.0
    }
}

impl From<Diagnostic> for Faults {
    fn from(mut fault: Diagnostic) -> Self {
        let also = std::mem::take(&mut fault.also);
        Self(std::iter::once(fault).chain(also).collect())
    }
}

impl From<Vec<Diagnostic>> for Faults {
    fn from(faults: Vec<Diagnostic>) -> Self {
        Self(faults)
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            fault.fmt(f)?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        self.0.first().map(|fault| fault as &(dyn std::error::Error + 'static))
    }
}

/// A fault at a key of the question; keys of the domain's own errors are written with hyphens.
pub(crate) fn at(key: &str, message: impl fmt::Display, help: impl Into<String>) -> Diagnostic {
    Diagnostic::plain(message.to_string()).field(key.replace('-', "_")).help(help)
}

/// Refuses what was given and can't be used in this question.
pub(crate) fn refuse(given: bool, key: &str, why: &str, help: &str) -> Result<(), Diagnostic> {
    if given { Err(at(key, format!("`{key}` is not used here: {why}"), help)) } else { Ok(()) }
}
