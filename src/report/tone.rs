//! How a line stands.

use crate::rules::Verdict;

/// How a line stands: said by words and marks, never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// Nothing to judge.
    #[default]
    Plain,
    /// It suits.
    Good,
    /// Borderline, or not known.
    Doubtful,
    /// Unsuitable.
    Bad,
}

impl From<Verdict> for Tone {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Suits => Self::Good,
            Verdict::Borderline => Self::Doubtful,
            Verdict::Unsuitable => Self::Bad,
        }
    }
}
