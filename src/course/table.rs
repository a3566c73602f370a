//! Loads and targets from spreadsheets.

use super::{Course, TableRead};
use crate::catalog::{BuildError, Catalog, Described, Entry, known_of_cartridge};
use crate::load::Load;
use crate::quantity::{Angle, BallisticCoefficient, Length, Mass, Measure, Velocity, show, unit};
use crate::source::table::{Column, Row, Table};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Titles that a match maps to known columns, and those that were met.
#[derive(Debug, Default)]
pub(super) struct Mapping {
    pub titles: BTreeMap<String, String>,
    pub met: BTreeSet<String>,
}

impl Mapping {
    /// The titles that stand in a table: a match may have tables of several kinds.
    fn of(&mut self, source: &SourceText) -> Vec<(&str, &str)> {
        let head = source.text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#')).unwrap_or("");
        let head = head.to_lowercase();
        let there = self.titles.iter().filter(|(title, _)| head.contains(&title.trim().to_lowercase()));
        let there: Vec<(&str, &str)> = there.map(|(title, key)| (title.as_str(), key.as_str())).collect();
        self.met.extend(there.iter().map(|(title, _)| (*title).to_owned()));
        there
    }

    /// Titles that stand in no table.
    pub fn missed(&self) -> impl Iterator<Item = &str> {
        self.titles.keys().map(String::as_str).filter(|title| !self.met.contains(*title))
    }
}

/// The columns of declared loads.
const LOADS: [Column; 13] = [
    Column::words("shooter", &["bib", "competitor", "bib no", "bib number", "number"]),
    Column::words("load", &["load id", "catalogue load"]).exact(),
    Column::words("name", &["load name", "ammunition", "ammo"]).exact(),
    Column::words("cartridge", &["chambering"]).exact(),
    Column::words("firearm", &["gun"]),
    Column::words("construction", &["bullet type", "bullet construction"]),
    Column::measured::<Mass>("bullet", &["bullet weight", "weight"]),
    Column::measured::<Length>("diameter", &["bullet diameter", "calibre", "caliber"]),
    Column::measured::<Velocity>("velocity", &["muzzle velocity", "speed", "mv"]),
    Column::measured::<BallisticCoefficient>("bc", &["ballistic coefficient"]),
    Column::words("drag", &["drag model", "model"]),
    Column::measured::<Velocity>("velocity-sd", &["sd"]),
    Column::words("projectiles", &["pellets"]),
];

/// The columns of targets.
const TARGETS: [Column; 17] = [
    Column::words("stage", &[]),
    Column::words("target", &["target name"]).exact(),
    Column::words("count", &["how many", "quantity", "qty"]),
    Column::words("kind", &[]),
    Column::words("plate", &["thickness", "plate thickness"]),
    Column::measured::<Length>("at", &["distance", "nearest"]),
    Column::measured::<Length>("to", &[]),
    Column::words("position", &["firing point"]),
    Column::words("class", &["classes"]),
    Column::words("face", &["size", "face size"]),
    Column::words("mount", &["hung"]),
    Column::measured::<Length>("chain", &[]),
    Column::words("duty", &[]),
    Column::words("condition", &["state"]),
    Column::words("steel", &[]),
    Column::measured::<Angle>("tilt", &["lean"]),
    Column::measured::<Angle>("slope", &[]),
];

/// Declared loads: the catalogue's by name, or described.
pub(super) fn loads(
    course: &mut Course,
    source: &SourceText,
    mapping: &mut Mapping,
    catalog: &Catalog,
    mut admit: impl FnMut(&mut Course, &Entry, Option<String>),
) -> Result<(), Diagnostic> {
    let table = Table::read(source, &LOADS, &mapping.of(source))?;
    if !table.has("load") && !table.has("bullet") {
        let help = "a column `load` with names of the catalogue, or `bullet (gr)`, `velocity (ft/s)`, `bc` and `drag`";
        return Err(source.fault(0..0, "the table has no column that says what is shot").help(help));
    }
    let (mut rows, mut read) = (table.faults().count(), 0);
    course.unread.append(table.faults().clone());
    for row in table.rows() {
        rows += 1;
        match declared(&row, catalog) {
            Ok((entry, who)) => {
                read += 1;
                admit(course, &entry, who);
            }
            Err(fault) => course.unread.push(fault),
        }
    }
    told(course, &table, "loads", rows, read);
    Ok(())
}

fn told(course: &mut Course, table: &Table, of: &'static str, rows: usize, read: usize) {
    let (name, left_out) = (table.source().name.to_string(), table.left_out().to_vec());
    course.tables.push(TableRead { name, of, rows, read, left_out });
}

/// One row: a load by name, or described; and who brings it.
fn declared(row: &Row, catalog: &Catalog) -> Result<(Entry, Option<String>), Diagnostic> {
    let who = row.cell("shooter").map(|cell| cell.text().trim().to_owned());
    if let Some(cell) = row.cell("load") {
        let entry = catalog.load(cell.text().trim()).map_err(|e| cell.fault(e.to_string()).help(e.help()))?;
        same(row, &entry.load)?;
        return Ok((entry.clone(), who));
    }
    let mut record = toml::Table::new();
    for cell in row.cells().filter(|cell| cell.key() != "shooter") {
        let key = if cell.key() == "velocity" { "muzzle-velocity" } else { cell.key() };
        let text = cell.with_unit();
        let value = match key {
            "projectiles" => {
                let number = text.trim().parse::<i64>();
                toml::Value::Integer(number.map_err(|_| {
                    cell.fault(format!("`{text}` is not a number of projectiles")).help("write a whole number")
                })?)
            }
            "firearm" | "construction" => toml::Value::String(text.trim().to_lowercase().replace([' ', '_'], "-")),
            "drag" => toml::Value::String(text.trim().to_uppercase()),
            _ => toml::Value::String(text),
        };
        record.insert(key.into(), value);
    }
    if !record.contains_key("firearm") {
        return Err(row.fault("the row does not say what fires the load").help(
            "fill a column `firearm`: rifle, handgun, pistol-carbine, rimfire-rifle, rimfire-pistol, shotgun …",
        ));
    }
    let described = Described::deserialize(toml::Value::Table(record)).map_err(|e| located(row, e.message()))?;
    let id = format!("declared-{}", row.number());
    let built = described.build(&id, None).map_err(|e| match e {
        BuildError::Description(e) => {
            let key = if e.key == "muzzle-velocity" { "velocity" } else { e.key };
            let fault =
                row.cell(key).map_or_else(|| row.fault(e.message.clone()), |cell| cell.fault(e.message.clone()));
            fault.help(e.help)
        }
        BuildError::File(fault) => row.fault(fault.message).help(fault.help.unwrap_or_default()),
    })?;
    let load = known_of_cartridge(built.load);
    Ok((Entry { load: Arc::new(load), basis: "declared".into(), assumed: built.assumed }, who))
}

/// A fault of the cell that a message speaks of. A second line of the message is the help.
fn located(row: &Row, message: &str) -> Diagnostic {
    let mut lines = message.splitn(2, '\n');
    let first = lines.next().unwrap_or_default();
    let speaks = |text: &str| !text.is_empty() && first.to_lowercase().contains(&format!("`{}`", text.to_lowercase()));
    let spoken = row.cells().find(|cell| {
        speaks(&cell.with_unit()) || speaks(&cell.text()) || speaks(&cell.text().trim().replace([' ', '_'], "-"))
    });
    let fault = spoken.map_or_else(|| row.fault(first), |cell| cell.fault(first));
    fault.help(lines.next().unwrap_or("give the load's name, or its bullet, velocity, bc and drag"))
}

/// How far a value of a row may be from the catalogue's, as a share.
const SAME: f64 = 0.005;

/// A row that names a load of the catalogue and describes it must describe that one.
fn same(row: &Row, load: &Load) -> Result<(), Diagnostic> {
    let facts = load.facts();
    let other = |key: &str, own: String| -> Diagnostic {
        let message = format!("the row names `{}`, whose {key} is {own}, and describes another", load.id());
        let fault = row.cell(key).map_or_else(|| row.fault(message.clone()), |cell| cell.fault(message.clone()));
        fault.help("name the load of the catalogue alone, or leave `load` empty and describe your own")
    };
    let near = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs();
    for cell in row.cells() {
        let (key, text) = (cell.key(), cell.text());
        let word = text.trim().to_lowercase().replace([' ', '_'], "-");
        let is_same = match key {
            "bullet" => near(cell.quantity::<Mass>()?.si(), facts.bullet.si()),
            "velocity" => near(cell.quantity::<Velocity>()?.si(), facts.muzzle_velocity.si()),
            "diameter" => {
                let given = cell.quantity::<Length>()?;
                facts.diameter.is_some_and(|d| near(given.si(), d.si()))
            }
            "bc" => {
                let given = cell.quantity::<BallisticCoefficient>()?;
                facts.drag.bands().iter().any(|band| near(given.si(), band.bc.si()))
            }
            "drag" => word == facts.drag.model().to_string().to_lowercase(),
            "firearm" => word == facts.firearm.to_string(),
            "construction" => word == facts.construction.to_string(),
            "projectiles" => word == facts.projectiles.to_string(),
            "cartridge" => {
                let own = facts.cartridge.as_deref().unwrap_or_default();
                plain(&text) == plain(own)
            }
            "name" => plain(&text) == plain(&facts.name) || text.trim() == load.id(),
            "velocity-sd" => false,
            _ => true,
        };
        if !is_same {
            let own = match key {
                "bullet" => show(facts.bullet, &unit::GRAIN, 1),
                "velocity" => show(facts.muzzle_velocity, &unit::FOOT_PER_SECOND, 0),
                "diameter" => facts.diameter.map_or_else(|| "not known".into(), |d| show(d, &unit::INCH, 3)),
                "drag" => facts.drag.model().to_string(),
                "firearm" => facts.firearm.to_string(),
                "construction" => facts.construction.to_string(),
                "projectiles" => facts.projectiles.to_string(),
                "cartridge" => facts.cartridge.clone().unwrap_or_default(),
                "name" => format!("`{}`", facts.name),
                _ => "its own".into(),
            };
            return Err(other(key, own));
        }
    }
    Ok(())
}

/// A name without case, spaces and points.
fn plain(name: &str) -> String {
    name.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect()
}

/// A target of a table, as the record that a match file would hold, with its stage and row.
pub(super) struct TargetRow {
    pub stage: String,
    pub record: toml::Table,
    /// Where its first row stands.
    pub fault: Diagnostic,
}

/// The targets of a table: rows of one stage and target are its positions.
pub(super) fn targets(
    course: &mut Course,
    source: &SourceText,
    mapping: &mut Mapping,
) -> Result<Vec<TargetRow>, Diagnostic> {
    let table = Table::read(source, &TARGETS, &mapping.of(source))?;
    for key in ["stage", "target", "plate"] {
        if !table.has(key) {
            let help = "a table of targets has `stage`, `target`, `plate` and `at (yd)` at least";
            return Err(source.fault(0..0, format!("the table has no column `{key}`")).help(help));
        }
    }
    let (mut rows, mut read) = (table.faults().count(), 0);
    course.unread.append(table.faults().clone());
    let mut found: Vec<TargetRow> = Vec::new();
    for row in table.rows() {
        rows += 1;
        match target(&row, &found) {
            Ok((target, None)) => {
                found.push(target);
                read += 1;
            }
            Ok((target, Some(of))) => {
                read += 1;
                let more = target.record.get("positions").and_then(|p| p.as_array()).cloned().unwrap_or_default();
                if let Some(list) = found[of].record.get_mut("positions").and_then(|p| p.as_array_mut()) {
                    list.extend(more);
                }
            }
            Err(fault) => course.unread.push(fault),
        }
    }
    told(course, &table, "targets", rows, read);
    Ok(found)
}

/// Keys of a record that stand in its `stand`.
const STAND: [&str; 8] = ["face", "mount", "chain", "duty", "condition", "steel", "tilt", "slope"];

/// One row: a target, or a further position of one that stands above.
fn target(row: &Row, above: &[TargetRow]) -> Result<(TargetRow, Option<usize>), Diagnostic> {
    let said = |key: &str| row.cell(key).map(|cell| cell.text().trim().to_owned());
    let stage = said("stage").ok_or_else(|| row.fault("the row has no stage").help("fill the cell"))?;
    let name = said("target").ok_or_else(|| row.fault("the row has no target").help("fill the cell"))?;
    let mut record = toml::Table::new();
    let (mut stand, mut position) = (toml::Table::new(), toml::Table::new());
    for cell in row.cells() {
        let (key, text) = (cell.key(), cell.with_unit());
        match key {
            "stage" => {}
            "target" => drop(record.insert("name".into(), toml::Value::String(name.clone()))),
            "count" => {
                let count = text.trim().parse::<i64>().ok().filter(|n| *n > 0);
                let count =
                    count.ok_or_else(|| cell.fault(format!("`{text}` is not a count")).help("write 1 or more"))?;
                record.insert("count".into(), toml::Value::Integer(count));
            }
            "class" => {
                let classes =
                    text.split([';', '/', '+', ',']).map(|c| c.trim().to_lowercase().replace([' ', '_'], "-"));
                let classes = classes.filter(|c| !c.is_empty()).map(toml::Value::String).collect();
                record.insert("class".into(), toml::Value::Array(classes));
            }
            "at" | "to" => {
                cell.quantity::<Length>()?;
                position.insert(key.into(), toml::Value::String(text));
            }
            "position" => drop(position.insert("name".into(), toml::Value::String(text))),
            "kind" | "mount" | "duty" | "condition" => {
                let word = toml::Value::String(text.trim().to_lowercase().replace([' ', '_'], "-"));
                let table = if key == "kind" { &mut record } else { &mut stand };
                table.insert(key.into(), word);
            }
            _ if STAND.contains(&key) => drop(stand.insert(key.into(), toml::Value::String(text))),
            _ => drop(record.insert(key.into(), toml::Value::String(text))),
        }
    }
    if !position.is_empty() {
        record.insert("positions".into(), toml::Value::Array(vec![toml::Value::Table(position)]));
    }
    if !stand.is_empty() {
        record.insert("stand".into(), toml::Value::Table(stand));
    }
    let known = above.iter().position(|t| t.stage == stage && t.record.get("name") == record.get("name"));
    if let Some(at) = known {
        let differs = |key: &&String| {
            !matches!(key.as_str(), "positions" | "name") && above[at].record.get(*key) != record.get(*key)
        };
        if let Some(key) = record.keys().find(differs) {
            let key = if key == "stand" { "face" } else { key.as_str() };
            let message = format!("target `{name}` stands above with another `{key}`");
            return Err(row
                .fault(message)
                .help("rows of one target are its positions and say the same of it; name another target otherwise, or write `count`"));
        }
        if said("position").is_none() {
            let help = "name its `position`, write `count`, or give the target another name";
            return Err(row.fault(format!("target `{name}` stands twice on stage `{stage}`")).help(help));
        }
    }
    let fault = row.fault("");
    Ok((TargetRow { stage, record, fault }, known))
}
