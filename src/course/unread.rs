//! What of a match could not be read, and the loads that are left out at a target.

use super::names::plain;
use super::{Brought, Course};
use crate::load::Load;
use crate::source::{Diagnostic, Faults};
use std::collections::BTreeMap;

/// What could not be read, by what it keeps closed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Unread {
    /// Loads, and rows of no stage: they may be shot, or hang, on any.
    pub everywhere: usize,
    /// Rows and records of a stage.
    pub stages: BTreeMap<String, usize>,
}

impl Unread {
    /// How much of a stage could not be read, what may be of any stage not counted.
    #[must_use]
    pub fn on(&self, stage: &str) -> usize {
        self.stages.get(stage).copied().unwrap_or(0)
    }
}

impl Course {
    /// What could not be read, and may belong to any stage.
    pub(super) fn unread_everywhere(&mut self, faults: Faults) {
        self.unread_on.everywhere += faults.count();
        self.unread.append(faults);
    }

    pub(super) fn unread_everywhere_one(&mut self, fault: Diagnostic) {
        self.unread_on.everywhere += 1;
        self.unread.push(fault);
    }

    /// What could not be read of a stage.
    pub(super) fn unread_at(&mut self, stage: &str, fault: Diagnostic) {
        *self.unread_on.stages.entry(stage.to_owned()).or_default() += 1;
        self.unread.push(fault);
    }

    /// Finds the loads that targets leave out by the names of their shooters or their own. A load that another
    /// shooter brings as well stays.
    pub(super) fn leave_out(&mut self) {
        for index in 0..self.targets.len() {
            let names: Vec<String> = self.targets[index].without_names.iter().map(|name| person(name)).collect();
            if names.is_empty() {
                continue;
            }
            let left = |brought: &Brought| {
                let own = [brought.load.id(), brought.load.facts().name.as_str()];
                own.iter().any(|name| names.contains(&person(name)))
                    || (!brought.who.is_empty() && brought.who.iter().all(|who| names.contains(&person(who))))
            };
            let shared = self.loads.iter().filter(|brought| !left(brought));
            let shared: Vec<String> = shared
                .filter_map(|brought| {
                    let out = brought.who.iter().find(|who| names.contains(&person(who)))?;
                    let stays = brought.who.iter().find(|who| !names.contains(&person(who)))?;
                    Some(format!("`{out}` is left out, and their load is judged all the same: `{stays}` brings it too"))
                })
                .collect();
            let (stage, name) = (self.stages[self.targets[index].stage].name.clone(), self.targets[index].name.clone());
            for words in shared {
                let fault = Diagnostic::plain(words).help("leave out everybody who brings it, or name the load");
                self.unread_at(&stage, named(&stage, Some(&name), fault));
            }
            let loads = self.loads.iter().enumerate();
            self.targets[index].without = loads.filter(|(_, load)| left(load)).map(|(at, _)| at).collect();
            self.unknown_left_out(index);
        }
    }

    /// A name that nobody bears leaves nobody out.
    fn unknown_left_out(&mut self, target: usize) {
        let target = &self.targets[target];
        let (stage, name) = (self.stages[target.stage].name.clone(), target.name.clone());
        let unknown: Vec<String> = target.without_names.iter().filter(|name| !self.is_known(name)).cloned().collect();
        for left in unknown {
            let fault = Diagnostic::plain(format!("`{left}` brings no load, and no load is called so"))
                .help("write the shooter as the table of loads does, or the load's name");
            self.unread_at(&stage, named(&stage, Some(&name), fault));
        }
    }

    fn is_known(&self, name: &str) -> bool {
        let name = person(name);
        let is = |load: &Load, who: Vec<&String>| {
            person(load.id()) == name || person(&load.facts().name) == name || who.iter().any(|who| person(who) == name)
        };
        self.loads.iter().any(|brought| is(&brought.load, brought.who.iter().collect()))
            || self.refused.iter().any(|refused| is(&refused.load, refused.who.iter().collect()))
    }
}

/// A name as it is told from others; `no. 12` and `bib 12`, as pages call a number, are `12`.
fn person(name: &str) -> String {
    let name = plain(name);
    let number = name.strip_prefix("no").or_else(|| name.strip_prefix("bib"));
    let number = number.filter(|rest| !rest.is_empty() && rest.chars().all(|c| c.is_ascii_digit()));
    number.map(str::to_owned).unwrap_or(name)
}

/// A fault with the stage and the target that it is of.
pub(super) fn named(stage: &str, target: Option<&str>, mut fault: Diagnostic) -> Diagnostic {
    let target = target.map(|t| format!(", target `{t}`")).unwrap_or_default();
    fault.message = format!("stage `{stage}`{target}: {}", fault.message);
    fault
}
