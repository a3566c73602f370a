//! Why nothing that was asked has a distance, and what to give: a sheet to hand out would have no row.

use super::super::elsewhere;
use super::super::worst;
use super::{Case, Rows};
use crate::order::Order;
use crate::rules::{Rule, Subject, words as rule_words};
use crate::source::{Diagnostic, clean};

impl Case {
    /// Why no load has a distance on any of the plates; none where one has.
    pub(super) fn none(&self, rows: &Rows) -> Option<Diagnostic> {
        let cells = || rows.iter().flatten();
        if cells().any(|cell| cell.nearest_distance().is_some() && !cell.listed_only) {
            return None;
        }
        // What suits in the air that was taken alone, or but for the ammunition that nobody knows, fails by no rule.
        if cells().any(|cell| cell.closest.distance().is_some() && cell.is_never_in_all() && !cell.listed_only) {
            let message = format!("no load asked has a distance {}", elsewhere::end_words(&self.air, self.units));
            return Some(Diagnostic::plain(message).help("give the air: `altitude` and `temperature`"));
        }
        let row = rows.iter().position(|row| row.iter().any(|cell| cell.closest.distance().is_some()));
        if let Some(any) = row.and_then(|row| self.asked[row].any.as_ref()) {
            let found = worst::listed_only(any, "");
            return Some(Diagnostic::plain(format!("borderline at best: {}", found.why)).help(found.next));
        }
        let (rule, count) = Self::foremost(rows)?;
        let whose = rule.overlay.as_deref().map_or("the house's", |_| "the range's");
        let allows = rule_words::allows(rule, self.units).filter(|_| rule.subject != Subject::Case);
        let allows = allows.map(|allows| format!(" ({allows})")).unwrap_or_default();
        let (id, why) = (clean(&rule.id), clean(&rule.why));
        let message = if count == cells().count() {
            format!("{whose} rule {id} fails every plate{allows}: {why}")
        } else {
            format!("no load asked suits any of these plates, mostly by {whose} rule {id}{allows}: {why}")
        };
        Some(Diagnostic::plain(message).help(self.what_to_give(rule)))
    }

    /// The rule that keeps most of the cells from a distance, and of how many it does.
    fn foremost<'r>(rows: &Rows<'r>) -> Option<(&'r Rule, usize)> {
        let mut counts: Vec<(&Rule, usize)> = Vec::new();
        for rule in rows.iter().flatten().filter_map(|cell| cell.closest.by()) {
            match counts.iter_mut().find(|(known, _)| known.id == rule.id) {
                Some((_, count)) => *count += 1,
                None => counts.push((rule, 1)),
            }
        }
        counts.order_by(|a, b| b.1.cmp(&a.1));
        counts.first().copied()
    }

    fn what_to_give(&self, rule: &Rule) -> String {
        match rule.subject {
            Subject::Lean if self.stand.setup.tilt.is_none() => "give `tilt`: no lean of the face was given".into(),
            Subject::Lean => "give another `tilt`".into(),
            Subject::Oblique => "give another `oblique`".into(),
            Subject::Thickness => "give a thicker `plate`".into(),
            Subject::Width => "give a wider `face`".into(),
            _ if !rule.next.is_empty() => clean(&rule.next),
            _ => "ask other loads, or another `plate`".into(),
        }
    }
}
