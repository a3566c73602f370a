//! Answers as pages. Words and numbers are the answer's own; here they are only laid out.

mod advise;
mod chrono;
mod common;
mod course;
mod standoff;
mod strike;
mod vet;

pub(super) use common::{LEFT_OUT, holds_briefly, holds_for, holds_for_all_air, safety, sentences};
pub(super) use standoff::{NO_FARTHER, load_words, no_farther};

use super::page::Page;

/// How much of an answer is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Detail {
    /// Everything there is.
    pub full: bool,
    /// Every finding, with its basis and source.
    pub explain: bool,
}

/// An answer that can be told as a page.
pub trait Report {
    /// The page, in as much detail as asked.
    fn page(&self, detail: Detail) -> Page;
}

/// The page of an answer in its short form.
#[must_use]
pub fn page(answer: &impl Report) -> Page {
    answer.page(Detail::default())
}

#[cfg(test)]
mod tests;
