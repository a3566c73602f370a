//! A match in a file.

use super::admit::{Admission, Ammunition};
use super::{Course, Declared, Position, Refused, Target, worst};
use crate::catalog::{Beside, Catalog, Described, Entry, Resolver, key_span};
use crate::inquiry::record::{AirRecord, StandRecord};
use crate::load::Class;
use crate::plate::{Condition, Ladder};
use crate::quantity::{Length, Measure, Ratio, Text};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use toml::Spanned;

/// The schema a match states.
pub const SCHEMA: &str = "thickset/course/1";
/// The most targets of a match.
pub const MAX_TARGETS: usize = 10_000;
/// The most loads of a match.
pub const MAX_LOADS: usize = 100_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: String,
    coverage: Option<Text<Ratio>>,
    #[serde(default)]
    range_rules: Vec<PathBuf>,
    air: Option<Spanned<AirRecord>>,
    /// What every target is, unless it says otherwise.
    #[serde(default)]
    stand: StandRecord,
    #[serde(default)]
    ammunition: Vec<Ammunition>,
    #[serde(default)]
    loads: Vec<Spanned<String>>,
    #[serde(default)]
    any: Vec<Spanned<String>>,
    /// Whatever the ammunition rules admit of these classes.
    #[serde(default)]
    anything: Vec<Class>,
    #[serde(default)]
    declared: Vec<Spanned<PathBuf>>,
    #[serde(default)]
    load: Vec<Spanned<Described>>,
    #[serde(default)]
    stage: Vec<StageRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct StageRecord {
    name: String,
    #[serde(default)]
    target: Vec<Spanned<toml::Table>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct TargetRecord {
    name: String,
    plate: String,
    at: Option<Text<Length>>,
    #[serde(default)]
    positions: Vec<PositionRecord>,
    #[serde(default)]
    class: Vec<Class>,
    #[serde(default)]
    stand: StandRecord,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct PositionRecord {
    name: Option<String>,
    /// Where it begins.
    at: Text<Length>,
    /// Where a moving shooter may get to.
    to: Option<Text<Length>>,
}

impl Course {
    /// Reads a match. Targets and declared loads that can't be read become faults of the course; the rest stands.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the file as a whole can't be read.
    pub fn read(
        source: &SourceText,
        folder: Option<&Path>,
        mut catalog: Catalog,
        ladder: &Ladder,
    ) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("matches", SCHEMA, |file: &File| &file.schema)?;
        let weather = match &file.air {
            Some(air) => Some(air.get_ref().weather(source, &air.span())?),
            None => None,
        };
        let own: Vec<String> = file.load.iter().filter_map(|l| l.get_ref().id.clone()).collect();
        let resolver = folder.map(Beside::folder);
        catalog.add_records(source, resolver.as_ref().map(|beside| beside as &dyn Resolver), file.load)?;
        let admission = Admission(file.ammunition);
        let mut course = Self {
            name: file.name,
            targets: Vec::new(),
            loads: Vec::new(),
            refused: Vec::new(),
            weather,
            coverage: file.coverage.map(|t| t.0),
            range_rules: file.range_rules.iter().map(|p| beside(folder, p)).collect(),
            assumed: Vec::new(),
            faults: Vec::new(),
        };
        course.read_targets(source, &file.stage, &file.stand, ladder)?;
        let fault =
            |span: Range<usize>, e: &crate::catalog::CatalogError| source.fault(span, e.to_string()).help(e.help());
        for name in &file.loads {
            match catalog.load(name.get_ref()) {
                Ok(entry) => course.admit(entry, None, &admission),
                Err(e) => course.faults.push(fault(name.span(), &e)),
            }
        }
        for name in &file.any {
            match catalog.family(name.get_ref()) {
                Ok(family) => family.into_iter().for_each(|entry| course.admit(entry, None, &admission)),
                Err(e) => course.faults.push(fault(name.span(), &e)),
            }
        }
        for id in &own {
            if let Ok(entry) = catalog.load(id) {
                course.admit(entry, None, &admission);
            }
        }
        for path in &file.declared {
            course.read_declared(&beside(folder, path.get_ref()), &catalog, &admission)?;
        }
        for &class in &file.anything {
            let (loads, told) = worst::extremes(&admission, class, &catalog);
            course.assumed.extend(told);
            course.loads.extend(loads.into_iter().map(|load| Declared { load, who: None }));
        }
        if course.loads.is_empty() && course.faults.is_empty() {
            let help = "name them: `loads = [\"308-168-match\"]`, `any = [\".308 Win\"]`, `declared = [\"loads.csv\"]`, or `anything = [\"rifle\"]`";
            return Err(source.fault(file.schema.span(), "the match has no admitted load").help(help));
        }
        if course.loads.len() > MAX_LOADS {
            return Err(source
                .fault(file.schema.span(), "too many loads")
                .help(format!("a match has at most {MAX_LOADS}")));
        }
        Ok(course)
    }

    fn admit(&mut self, entry: &Entry, who: Option<String>, admission: &Admission) {
        let declared = Declared { load: Arc::clone(&entry.load), who };
        for text in &entry.assumed {
            let text = format!("{}: {text}", entry.load.id());
            if !self.assumed.contains(&text) {
                self.assumed.push(text);
            }
        }
        match admission.refusal(&declared.load) {
            Some(why) => self.refused.push(Refused { declared, why }),
            None => self.loads.push(declared),
        }
    }

    fn read_targets(
        &mut self,
        source: &SourceText,
        stages: &[StageRecord],
        stand: &StandRecord,
        ladder: &Ladder,
    ) -> Result<(), Diagnostic> {
        let count: usize = stages.iter().map(|s| s.target.len()).sum();
        if count == 0 || count > MAX_TARGETS {
            let help = format!("a match has 1 to {MAX_TARGETS} targets: `[[stage]]` with `[[stage.target]]`");
            return Err(source.fault(0..0, format!("{count} targets")).help(help));
        }
        for stage in stages {
            for record in &stage.target {
                match target(source, &stage.name, record, stand, ladder) {
                    Ok((target, assumed)) => {
                        self.targets.push(target);
                        for text in assumed {
                            if !self.assumed.iter().any(|a| a == text) {
                                self.assumed.push(text.into());
                            }
                        }
                    }
                    Err(fault) => self.faults.push(fault),
                }
            }
        }
        Ok(())
    }

    /// Loads that competitors declared, as CSV: `shooter` and `load`, or the load's own values with their units
    /// in the heads, `bullet (gr)`.
    fn read_declared(&mut self, path: &Path, catalog: &Catalog, admission: &Admission) -> Result<(), Diagnostic> {
        let source = SourceText::read(path)?;
        let mut reader =
            csv::ReaderBuilder::new().comment(Some(b'#')).trim(csv::Trim::All).from_reader(source.text.as_bytes());
        let whole = |e: &csv::Error| {
            source.fault(0..0, format!("the table can't be read: {e}")).help("save it as CSV with a head")
        };
        let head: Vec<String> = reader.headers().map_err(|e| whole(&e))?.iter().map(str::to_owned).collect();
        if let Some(unknown) = head.iter().find(|title| !KEYS.contains(&split(title).0)) {
            let help = format!("columns that are read: {}; units stand in brackets, `bullet (gr)`", KEYS.join(", "));
            return Err(source
                .fault(0..source.text.find('\n').unwrap_or(0), format!("column `{unknown}` is not read"))
                .help(help));
        }
        for (row, record) in reader.records().enumerate() {
            let record = record.map_err(|e| whole(&e))?;
            #[allow(clippy::cast_possible_truncation)] // A position in a text held in memory.
            let at = record.position().map_or(0, |p| p.byte() as usize);
            let end = source.text.get(at..).and_then(|t| t.find('\n')).map_or(source.text.len(), |n| at + n);
            let cells: Vec<(&str, String)> = head
                .iter()
                .zip(record.iter())
                .filter(|(_, cell)| !cell.is_empty())
                .map(|(title, cell)| {
                    let (key, unit) = split(title);
                    let bare = cell.parse::<f64>().is_ok() && !unit.is_empty();
                    (key, if bare { format!("{cell} {unit}") } else { cell.to_owned() })
                })
                .collect();
            match declared(&cells, row, catalog) {
                Ok((entry, who)) => self.admit(&entry, who, admission),
                Err((message, help)) => self.faults.push(source.fault(at..end, message).help(help)),
            }
            if self.loads.len() > MAX_LOADS {
                return Err(source.fault(at..end, "too many loads").help(format!("a match has at most {MAX_LOADS}")));
            }
        }
        Ok(())
    }
}

/// The columns of declared loads.
const KEYS: &[&str] = &[
    "shooter",
    "load",
    "name",
    "cartridge",
    "firearm",
    "construction",
    "bullet",
    "diameter",
    "velocity",
    "bc",
    "drag",
    "velocity-sd",
    "projectiles",
];

/// A column's key and its unit.
fn split(title: &str) -> (&str, &str) {
    match title.split_once('(') {
        Some((key, unit)) => (key.trim(), unit.trim_end_matches(')').trim()),
        None => (title.trim(), ""),
    }
}

type RowFault = (String, String);

/// One row of declared loads: a load by name, or described.
fn declared(cells: &[(&str, String)], row: usize, catalog: &Catalog) -> Result<(Entry, Option<String>), RowFault> {
    let cell = |key: &str| cells.iter().find(|(k, _)| *k == key).map(|(_, text)| text.clone());
    let who = cell("shooter");
    if let Some(name) = cell("load") {
        let entry = catalog.load(&name).map_err(|e| (e.to_string(), e.help().to_owned()))?;
        return Ok((entry.clone(), who));
    }
    let mut record = toml::Table::new();
    for (key, text) in cells.iter().filter(|(k, _)| *k != "shooter") {
        let key = if *key == "velocity" { "muzzle-velocity" } else { key };
        let value = match key {
            "projectiles" => {
                text.parse::<i64>().map_or_else(|_| toml::Value::String(text.clone()), toml::Value::Integer)
            }
            _ => toml::Value::String(text.clone()),
        };
        record.insert(key.into(), value);
    }
    let fault = |message: &str| {
        let mut lines = message.splitn(2, '\n');
        let first = lines.next().unwrap_or_default().to_owned();
        (first, lines.next().unwrap_or("give the load's name, or its bullet, velocity, bc and drag").to_owned())
    };
    let described = Described::deserialize(toml::Value::Table(record)).map_err(|e| fault(e.message()))?;
    let id = format!("declared-{}", row + 1);
    let built = described.build(&id, None).map_err(|e| match e {
        crate::catalog::BuildError::Description(e) => (e.message, e.help),
        crate::catalog::BuildError::File(d) => (d.message, d.help.unwrap_or_default()),
    })?;
    let entry = Entry { load: Arc::new(built.load), basis: "declared".into(), assumed: built.assumed };
    Ok((entry, who))
}

fn beside(folder: Option<&Path>, path: &Path) -> PathBuf {
    folder.map_or_else(|| path.to_owned(), |f| f.join(path))
}

/// A target of a stage; its faults name both.
fn target(
    source: &SourceText,
    stage: &str,
    record: &Spanned<toml::Table>,
    stand: &StandRecord,
    ladder: &Ladder,
) -> Result<(Target, Vec<&'static str>), Diagnostic> {
    let span = record.span();
    let name = record.get_ref().get("name").and_then(toml::Value::as_str).unwrap_or("without a name").to_owned();
    let fault = |span: Range<usize>, message: String, help: String| {
        source.fault(span, format!("stage `{stage}`, target `{name}`: {message}")).help(help)
    };
    let read: TargetRecord = TargetRecord::deserialize(toml::Value::Table(record.get_ref().clone())).map_err(|e| {
        let mut lines = e.message().splitn(2, '\n');
        let message = lines.next().unwrap_or_default().to_owned();
        let help =
            lines.next().unwrap_or("a target has `name`, `plate`, `at` or `positions`, `class` and `stand`").to_owned();
        fault(culprit(source, record, &message), message, help)
    })?;
    let plate =
        ladder.named(&read.plate).map_err(|e| fault(key_span(source, &span, "plate"), e.to_string(), e.help()))?;
    let positions = positions(&read).map_err(|(message, help)| fault(key_span(source, &span, "at"), message, help))?;
    let stand = read.stand.or(stand).stand(Condition::Unknown, source, &span).map_err(|mut d| {
        d.message = format!("stage `{stage}`, target `{name}`: {}", d.message);
        d
    })?;
    let target = Target {
        stage: stage.into(),
        name: read.name,
        positions,
        setup: stand.setup,
        slope: stand.slope,
        plate,
        classes: read.class,
    };
    Ok((target, stand.assumed))
}

/// The line of the key that a message speaks of: the one whose value, or whose name, stands in it.
fn culprit(source: &SourceText, record: &Spanned<toml::Table>, message: &str) -> Range<usize> {
    let speaks = |(key, value): &(&String, &toml::Value)| {
        message.contains(&format!("`{key}`"))
            || value.as_str().is_some_and(|text| message.contains(&format!("`{text}`")))
    };
    let span = record.span();
    record.get_ref().iter().find(speaks).map_or(span.clone(), |(key, _)| key_span(source, &span, key))
}

fn positions(read: &TargetRecord) -> Result<Vec<Position>, RowFault> {
    let help = || "write `at = \"100 yd\"`, or positions with `at`, and `to` where a shooter moves".to_owned();
    let mut positions: Vec<Position> = read.at.iter().map(|at| Position { name: None, nearest: at.0 }).collect();
    for record in &read.positions {
        let nearest = record.to.map_or(record.at.0, |to| to.0.min(record.at.0));
        positions.push(Position { name: record.name.clone(), nearest });
    }
    if positions.is_empty() {
        return Err(("it has no distance".into(), help()));
    }
    if positions.iter().any(|p| p.nearest.si() <= 0.0) {
        return Err(("a distance is not above zero".into(), help()));
    }
    Ok(positions)
}
