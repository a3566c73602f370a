//! What an answer rests on: every condition, given or taken for one that was not.

use super::super::answer::Condition;
use crate::source::clean;

/// Conditions in the order they arise, each once, and the assumptions among them in words.
#[derive(Debug, Clone, Default)]
pub(crate) struct Taken {
    holds: Vec<Condition>,
    assumed: Vec<String>,
}

impl Taken {
    /// A condition that was given.
    pub fn given(&mut self, what: &str, value: impl Into<String>) {
        self.condition(what, value.into(), true);
    }

    /// A condition that was taken because none was given, and how that is told.
    pub fn assume(&mut self, what: &str, value: impl Into<String>, told: impl Into<String>) {
        self.condition(what, value.into(), false);
        self.note(told);
    }

    /// Either, by whether it was given.
    pub fn take(&mut self, what: &str, value: impl Into<String>, given: bool, told: &str) {
        if given { self.given(what, value) } else { self.assume(what, value, told) }
    }

    /// An assumption that is no condition of its own.
    pub fn note(&mut self, told: impl Into<String>) {
        let told = clean(&told.into());
        if !self.assumed.contains(&told) {
            self.assumed.push(told);
        }
    }

    fn condition(&mut self, what: &str, value: String, given: bool) {
        let condition = Condition { what: what.into(), value: clean(&value), given };
        if !self.holds.contains(&condition) {
            self.holds.push(condition);
        }
    }

    pub fn into_parts(self) -> (Vec<String>, Vec<Condition>) {
        (self.assumed, self.holds)
    }
}
