//! The catalogue as pages: loads, plates, rules, sources.

use super::page::{Block, Column, Notice, Page, Table, Tone};
use super::words::{self, Units};
use super::{Circumstances, Document, say};
use crate::catalog::Entry;
use crate::plate::Ladder;
use crate::quantity::{Measure, unit};
use crate::rules::{Rule, RuleSet};
use serde_json::{Value, json};

/// A place a number comes from, and how many records rest on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Its words.
    pub text: String,
    /// How well it is founded.
    pub basis: String,
    /// The records that rest on it.
    pub of: Vec<String>,
}

fn page(headline: String, table: Table) -> Page {
    let mut page = Page::new(Tone::Plain, headline, Notice::default());
    page.push(Block::Table(table));
    page
}

/// The loads; the last column numbers the sources that are listed below.
#[must_use]
pub fn loads(entries: &[&Entry], units: Units) -> Page {
    let mut table = Table::new(vec![
        Column::words("name"),
        Column::words("load"),
        Column::numbers("velocity"),
        Column::words("drag"),
        Column::words("construction"),
        Column::numbers("source"),
    ]);
    let mut sources: Vec<&str> = Vec::new();
    for entry in entries {
        let facts = entry.load.facts();
        let bands = facts.drag.bands();
        let bc = bands.last().map_or(0.0, |b| unit::POUND_PER_SQUARE_INCH.value(b.bc));
        let known = sources.iter().position(|s| *s == facts.source);
        let number = known.unwrap_or_else(|| {
            sources.push(&facts.source);
            sources.len() - 1
        });
        table.push(
            Tone::Plain,
            vec![
                Some(entry.load.id().into()),
                Some(facts.name.clone()),
                Some(units.speed(facts.muzzle_velocity)),
                Some(format!("{} {bc:.3}", facts.drag.model())),
                Some(facts.construction.to_string()),
                Some((number + 1).to_string()),
            ],
        );
    }
    let mut page = page(format!("{} loads.", entries.len()), table);
    page.push(Block::Heading("Sources".into()));
    page.push(Block::Facts(
        sources.iter().enumerate().map(|(i, text)| ((i + 1).to_string(), (*text).to_owned())).collect(),
    ));
    page
}

/// The plates, each with its source.
#[must_use]
pub fn plates(ladder: &Ladder, units: Units) -> Page {
    let mut table = Table::new(vec![Column::words("plate"), Column::numbers("thickness"), Column::words("source")]);
    for (plate, note) in ladder.plates().iter().zip(ladder.notes()) {
        table.push(
            Tone::Plain,
            vec![Some(plate.label.clone()), Some(units.thickness(plate.thickness)), Some(note.source.clone())],
        );
    }
    page(format!("{} plates.", ladder.plates().len()), table)
}

/// The rules, each with what it allows, why, and its source.
#[must_use]
pub fn rules(rules: &[&Rule], units: Units) -> Page {
    let mut table = Table::new(vec![
        Column::words("rule"),
        Column::words("applies to"),
        Column::words("allows"),
        Column::words("why"),
        Column::words("basis, source"),
    ]);
    for rule in rules {
        let source = match (rule.source.starts_with(&rule.basis.to_string()), &rule.overlay) {
            (true, None) => rule.source.clone(),
            (false, None) => format!("{}: {}", rule.basis, rule.source),
            (_, Some(range)) => format!("{range}: {}", rule.source),
        };
        let applies = Some(crate::rules::words::applies(rule, units));
        let cells = vec![Some(rule.id.clone()), applies, say::limit(rule, units), Some(rule.why.clone()), Some(source)];
        table.push(Tone::Plain, cells);
    }
    page(format!("{} rules; all are evaluated, and the strictest wins.", rules.len()), table)
}

/// The sources, each with what rests on it.
#[must_use]
pub fn sources(sources: &[Source]) -> Page {
    let mut table =
        Table::new(vec![Column::words("basis"), Column::words("source"), Column::words("what rests on it")]);
    for source in sources {
        let few = if source.of.len() > 6 {
            format!("{} and {} more", source.of[..5].join(", "), source.of.len() - 5)
        } else {
            words::listed(&source.of)
        };
        table.push(Tone::Plain, vec![Some(source.basis.clone()), Some(source.text.clone()), Some(few)]);
    }
    page(format!("{} sources.", sources.len()), table)
}

/// The document `thickset/catalog/1`: what was listed, under its own key.
#[must_use]
pub fn document(circumstances: &Circumstances, rules: &RuleSet, key: &str, rows: Value) -> String {
    Document::new("thickset/catalog/1", circumstances, rules).with(key, rows).text()
}

/// A rule for a document.
#[must_use]
pub fn rule_json(rule: &Rule) -> Value {
    json!({
        "id": rule.id,
        "subject": rule.subject,
        "applies": crate::rules::words::applies(rule, Units::Si),
        "allows": say::limit(rule, Units::Si),
        "why": rule.why,
        "next": rule.next,
        "basis": rule.basis,
        "source": rule.source,
        "overlay": rule.overlay.as_deref(),
    })
}

/// The plates for a document.
#[must_use]
pub fn plates_json(ladder: &Ladder) -> Value {
    let rows = ladder.plates().iter().zip(ladder.notes());
    rows.map(|(p, n)| json!({"label": p.label, "thickness_m": p.thickness.si(), "basis": n.basis, "source": n.source}))
        .collect()
}
