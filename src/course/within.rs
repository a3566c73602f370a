//! How far the ammunition rules let a class shoot.

use super::place::At;
use super::unread::named;
use super::{Course, Target};
use crate::load::Class;
use crate::quantity::Measure;
use crate::source::Diagnostic;

impl Course {
    /// The ammunition rules may say how far a class shoots.
    pub(super) fn too_far(&self, target: &Target, at: &At) -> Result<(), Diagnostic> {
        let found = target.classes.iter().find_map(|class| self.beyond(target, *class));
        match found {
            Some(message) => Err(at.key("at", message).help("bring it nearer, or leave the class out")),
            None => Ok(()),
        }
    }

    /// In words that a class shoots at a target from farther than the ammunition rules let it.
    fn beyond(&self, target: &Target, class: Class) -> Option<String> {
        let (limit, line) = (self.admission.farthest(class)?, &self.lines[target.line]);
        let farthest = line.farthest(target.at, class)?;
        let units = self.units;
        (farthest.si() > limit.si() * (1.0 + 1e-9)).then(|| {
            format!("{class} from {} is beyond the rules' {}", units.distance(farthest), units.distance_down(limit))
        })
    }

    /// The same for targets that name no class: whoever brings a load shoots at them.
    pub(super) fn keep_within(&mut self) {
        let brought = self.classes_brought();
        if brought.iter().all(|class| self.admission.farthest(*class).is_none()) {
            return;
        }
        for index in 0..self.targets.len() {
            let target = &self.targets[index];
            let open = if target.classes.is_empty() { brought.as_slice() } else { &[] };
            if let Some(message) = open.iter().find_map(|class| self.beyond(target, *class)) {
                let (stage, name) = (self.stages[target.stage].name.clone(), target.name.clone());
                let fault = Diagnostic::plain(message).help("bring it nearer, or name the classes that shoot at it");
                self.unread_at(&stage, named(&stage, Some(&name), fault));
            }
        }
    }
}

#[cfg(test)]
mod tests;
