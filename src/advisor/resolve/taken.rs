//! What an answer rests on: every condition, given or taken for one that was not.

use super::super::answer::Condition;
use crate::course::speaks_of_rigid;
use crate::rules::Setup;
use crate::source::clean;

/// Conditions in the order they arise, each once, and the assumptions among them in words.
#[derive(Debug, Clone, Default)]
pub(crate) struct Taken {
    holds: Vec<Condition>,
    assumed: Vec<String>,
    /// What speaks against something that was taken.
    remarks: Vec<String>,
    /// The target that conditions are of; none where there is one alone.
    of: Option<String>,
    targets: Vec<String>,
}

impl Taken {
    /// What follows is of a target of a name; of all where it has none.
    pub fn begin(&mut self, target: &str) {
        let name = clean(target);
        self.of = (!name.is_empty()).then_some(name);
        self.targets.extend(self.of.clone().filter(|name| !self.targets.contains(name)));
    }

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

    /// A name that speaks of a plate held rigid, where it was taken to hang because its mount was not given.
    pub fn doubt_hung(&mut self, name: &str, setup: &Setup, mount_given: bool) {
        if mount_given || !setup.mount.is_free() {
            return;
        }
        if let Some(word) = speaks_of_rigid(name) {
            let judged = setup.mount.words();
            self.remark(&format!("Judged {judged}, though `{name}` says `{word}`: give its mount."));
        }
    }

    /// What is to fall, where that is not judged.
    pub fn doubt_falling(&mut self, falls: bool) {
        if falls {
            self.remark("Whether it falls when hit is not judged here.");
        }
    }

    /// Something that speaks against what was taken, once.
    pub fn remark(&mut self, text: &str) {
        let text = clean(text);
        if !self.remarks.contains(&text) {
            self.remarks.push(text);
        }
    }

    /// What speaks against something that was taken.
    pub fn remarks(&self) -> &[String] {
        &self.remarks
    }

    /// An assumption that is no condition of its own.
    pub fn note(&mut self, told: impl Into<String>) {
        let told = clean(&told.into());
        if !self.assumed.contains(&told) {
            self.assumed.push(told);
        }
    }

    fn condition(&mut self, what: &str, value: String, given: bool) {
        let of = self.of.clone();
        let condition = Condition { what: what.into(), value: clean(&value), given, of };
        if !self.holds.contains(&condition) {
            self.holds.push(condition);
        }
    }

    /// What was assumed in words, and every condition; what all targets have alike stands once, for all.
    pub fn into_parts(self) -> (Vec<String>, Vec<Condition>) {
        let alike = |one: &Condition, other: &Condition| {
            (&one.what, &one.value, one.given) == (&other.what, &other.value, other.given)
        };
        let mut told: Vec<Condition> = Vec::new();
        for condition in &self.holds {
            let everywhere = condition.of.is_some()
                && self.targets.iter().all(|target| {
                    self.holds.iter().any(|other| other.of.as_ref() == Some(target) && alike(condition, other))
                });
            let of = condition.of.clone().filter(|_| !everywhere);
            let condition = Condition { of, ..condition.clone() };
            if !told.contains(&condition) {
                told.push(condition);
            }
        }
        (self.assumed, told)
    }
}
