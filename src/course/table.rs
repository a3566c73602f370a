//! Loads from spreadsheets, and what spreadsheets of loads and of targets share.

use super::Course;
use super::called::unclear;
use super::foreign::{Beside, Extent, doubted, foreign_cells, foreign_heads, left_out, other_loads, told};
use super::names::{Names, plain};
use super::people::shooter;
use super::shooter::says_more;
use super::spoken::Of;
use super::vocabulary::{CONSTRUCTION, FIREARM, Words};
use crate::catalog::{BuildError, Cartridge, CatalogError, Described, Entry, known_of_cartridge};
use crate::load::Load;
use crate::quantity::{
    BallisticCoefficient, Length, Mass, Measure, Ratio, Temperature, Velocity, VelocityPerTemperature, show, unit,
};
use crate::source::table::{Column, IGNORE, Row, Table, TableCell, takes, together};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Titles that a match maps to known columns, and those that were met.
#[derive(Debug, Default)]
pub(super) struct Mapping {
    titles: BTreeMap<String, String>,
    met: BTreeSet<String>,
    /// Titles that were left out of a table that would read them, and of one that would not.
    read_by: BTreeSet<String>,
    foreign_to: BTreeSet<String>,
    /// The columns of each kind of table that a match may have.
    kinds: Vec<&'static [Column]>,
}

impl Mapping {
    /// A mapping of titles. A unit in the head of a mapped column stays its unit.
    pub fn new(titles: BTreeMap<String, String>, kinds: Vec<&'static [Column]>) -> Self {
        let with_unit = |title: &str, key: String| match title.split_once('(') {
            Some((_, unit)) if key != IGNORE && !key.contains(['(', '[']) => format!("{key} ({unit}"),
            _ => key,
        };
        let titles = titles.into_iter().map(|(title, key)| {
            let key = with_unit(&title, key);
            (title, key)
        });
        Self { titles: titles.collect(), kinds, ..Self::default() }
    }

    /// Reads a table, and what is wrong with its heads. A title holds wherever it stands, and is another's where what it
    /// is mapped to is a column of another kind of table alone.
    pub fn read(
        &mut self,
        source: &SourceText,
        columns: &'static [Column],
    ) -> Result<(Table, Vec<Diagnostic>), Diagnostic> {
        let is_another_s = |key: &str| !takes(columns, key) && self.kinds.iter().any(|kind| takes(kind, key));
        let mine = self.titles.iter().filter(|(_, key)| !is_another_s(key));
        let mine: Vec<(&str, &str)> = mine.map(|(title, key)| (title.as_str(), key.as_str())).collect();
        let (table, faults) = Table::with_heads(source, columns, &mine)?;
        for title in table.mapped() {
            self.met.insert(title.to_owned());
            if self.titles.get(title).is_some_and(|key| key == IGNORE) {
                let left_out = if takes(columns, title) { &mut self.read_by } else { &mut self.foreign_to };
                left_out.insert(title.to_owned());
            }
        }
        Ok((table, faults))
    }

    /// A title that stands in no table, or that is left out of one that nobody reads it in and of another that reads it:
    /// the title, what is wrong, and what to write.
    pub fn fault(&self) -> Option<(&str, String, &'static str)> {
        let titles = || self.titles.keys().map(String::as_str);
        if let Some(title) = titles().find(|title| !self.met.contains(*title)) {
            let help = "write the title as it stands in the head of the table";
            return Some((title, format!("no table has a column `{title}`"), help));
        }
        let is_both = |title: &&str| self.read_by.contains(*title) && self.foreign_to.contains(*title);
        let title = titles().find(is_both)?;
        let message = format!("`{title}` would be left out of a table that reads it as well as of one that does not");
        Some((title, message, "give the column that nothing reads another title in its table, and leave that one out"))
    }
}

/// The columns of declared loads.
pub(super) static LOADS: [Column; 20] = [
    Column::words("shooter", &["competitor", "who", "shooter name"]).else_by(&[
        "bib",
        "bib no",
        "bib no.",
        "bib number",
        "number",
        "start number",
        "start no",
        "competitor no",
        "competitor number",
        "shooter no",
        "shooter number",
    ]),
    Column::words("load", &["load id", "catalogue load"]).exact(),
    Column::words("name", &["load name", "ammunition", "ammo"]).exact(),
    Column::words("cartridge", &["chambering"]).exact(),
    Column::words("firearm", &["gun"]),
    Column::words("construction", &["bullet type", "bullet construction"]),
    Column::measured::<Mass>("bullet", &["bullet weight", "weight"])
        .holding("the mass of one bullet", &["name", "type"]),
    Column::measured::<Length>("diameter", &["bullet diameter", "calibre", "caliber"]).headed("in"),
    Column::measured::<Velocity>("velocity", &["muzzle velocity", "speed", "mv"])
        .holding("the mean speed at the muzzle", &NOT_THE_MUZZLE_S)
        .in_thousands(),
    Column::measured::<BallisticCoefficient>("bc", &["ballistic coefficient"]),
    // The model in the head, as many keep it.
    Column::measured::<BallisticCoefficient>(
        "bc-g1",
        &["g1 bc", "g1", "ballistic coefficient g1", "g1 ballistic coefficient"],
    ),
    Column::measured::<BallisticCoefficient>(
        "bc-g7",
        &["g7 bc", "g7", "ballistic coefficient g7", "g7 ballistic coefficient"],
    ),
    Column::words("drag", &["drag model", "model"]),
    Column::measured::<Velocity>("velocity-sd", &["sd"]),
    Column::words("projectiles", &["pellets"]),
    Column::measured::<Temperature>("measured-at", &[]),
    Column::measured::<Length>("barrel", &["barrel length"]).headed("in").exact(),
    Column::measured::<Ratio>("bc-sd", &[]).headed("%"),
    Column::words("tolerance-factor", &[]),
    Column::measured::<VelocityPerTemperature>("velocity-temperature-slope", &[]),
];

/// Words beside a speed that make it another than the mean at the muzzle.
#[rustfmt::skip]
const NOT_THE_MUZZLE_S: [&str; 19] = [
    "@", "at", "impact", "target", "downrange", "terminal", "remaining", "min", "minimum", "max", "maximum", "low",
    "lowest", "slowest", "high", "highest", "fastest", "limit", "required",
];

/// Declared loads: the catalogue's by name, or described.
pub(super) fn loads(
    course: &mut Course,
    source: &SourceText,
    mapping: &mut Mapping,
    names: &Names,
    mut admit: impl FnMut(&mut Course, &Entry, Option<String>),
) -> Result<(), Diagnostic> {
    let (table, mut heads) = mapping.read(source, &LOADS)?;
    if heads.is_empty() && !["load", "bullet", "name"].iter().any(|key| table.has(key)) {
        let help = "a column `load` with names of the catalogue, or `bullet (gr)`, `velocity (ft/s)`, `bc` and `drag`";
        heads.push(source.fault(0..0, "the table has no column that says what is shot").help(help));
    }
    heads.extend(foreign_heads(&table, Of::Loads));
    heads.extend(unfit_columns(&table));
    if let Some(fault) = together(heads) {
        return Err(fault);
    }
    let (mut rows, mut read) = (table.faults().count(), 0);
    course.unread_everywhere(table.faults().clone());
    let mut beside = Beside::default();
    for row in table.rows() {
        rows += 1;
        if let Some(fault) = total(&row) {
            course.unread_everywhere_one(fault);
            continue;
        }
        let declared = declared(&row, names);
        let own = declared.as_ref().ok().map(|(entry, _)| &*entry.load);
        beside.left_out.extend(left_out(&row, Of::Loads, names, own));
        match declared {
            Ok((entry, who)) => {
                other_loads(&row, names, &entry).for_each(|fault| course.unread_everywhere_one(by_whom(&row, fault)));
                if let Some((message, help)) = unclear(&entry.load) {
                    course.unread_everywhere_one(by_whom(&row, row.fault(message).help(help)));
                } else {
                    read += 1;
                    beside.doubted.extend(doubted(&row, &entry.load));
                    if let Some(who) = who.as_ref().filter(|who| says_more(who, names, &entry.load)) {
                        course.called_more.insert((who.clone(), entry.load.id().to_owned()));
                    }
                    admit(course, &entry, who);
                }
            }
            Err(fault) => course.unread_everywhere_one(by_whom(&row, fault)),
        }
        foreign_cells(&row, Of::Loads).for_each(|fault| course.unread_everywhere_one(by_whom(&row, fault)));
    }
    told(course, &table, Of::Loads, &Extent { rows, read, things: read }, beside);
    Ok(())
}

/// A row that sums up the ones above it.
pub(super) fn total(row: &Row) -> Option<Diagnostic> {
    let texts = row.cells().map(|cell| cell.text()).chain(row.others().map(|(_, text)| text));
    let is_total = |text: &str| {
        let text = text.trim().to_lowercase();
        let word = text.split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
        matches!(word, "total" | "totals" | "subtotal") || text == "sum"
    };
    let found = texts.map(Cow::into_owned).find(|text| is_total(text))?;
    Some(row.fault(format!("`{}`: the row is a total of others", found.trim())).help("remove it from the table"))
}

/// A fault of a row with who brings its load.
fn by_whom(row: &Row, mut fault: Diagnostic) -> Diagnostic {
    if let Some(who) = shooter(row) {
        match &mut fault.cell {
            Some(cell) => cell.of.push(who),
            None => fault.message = format!("{who}: {}", fault.message),
        }
    }
    fault
}

/// A fault of a cell that a row does not fill.
fn missing(row: &Row, key: &str, message: impl Into<String>) -> Diagnostic {
    let mut fault = row.fault(message);
    if let Some(cell) = &mut fault.cell {
        cell.column = Some(key.to_owned());
    }
    fault
}

/// Columns of loads that hold another thing than their heads say, and those that are missing wherever a load is
/// described.
fn unfit_columns(table: &Table) -> Vec<Diagnostic> {
    let cells = |key: &'static str| table.rows().filter_map(move |row| row.cell(key));
    let mut faults = Vec::new();
    let ignore = |title: &str| format!("write `\"{title}\" = \"{IGNORE}\"` under `[columns]` in the match");
    let words = |cell: TableCell| !cell.text().contains(|c: char| c.is_ascii_digit());
    if let Some(title) = table.title("bullet").filter(|_| cells("bullet").count() > 0 && cells("bullet").all(words)) {
        let help = format!("head the bullet's mass `bullet (gr)`, and {} where this is its name", ignore(title));
        faults.push(table.fault_of_head(title, format!("column `{title}` holds words, and no mass")).help(help));
    }
    let is_number = |text: &str| text.trim().trim_end_matches('"').parse::<f64>().is_ok();
    let is_cartridge = |cell: TableCell| !is_number(&cell.text()) && !Cartridge::named_in(&cell.text()).is_empty();
    if let Some(title) = table.title("diameter").filter(|_| cells("diameter").any(is_cartridge)) {
        let help = format!(
            "head it `cartridge`, or write `\"{title}\" = \"cartridge\"` under `[columns]` in the match; \
             `diameter (in)` is the bullet's own"
        );
        faults.push(
            table.fault_of_head(title, format!("column `{title}` names cartridges, and no diameters")).help(help),
        );
    }
    let describes = cells("load").count() == 0 && (table.has("velocity") || cells("bc").count() > 0);
    if describes && !table.has("firearm") {
        let help = "add a column `firearm`: rifle, handgun, pistol-carbine, rimfire-rifle, rimfire-pistol, shotgun …";
        faults.push(table.fault_of_head("", "no column says what fires the loads").help(help));
    }
    if let Some(title) =
        table.title("bc").filter(|_| describes && !["drag", "bc-g1", "bc-g7"].iter().any(|key| table.has(key)))
    {
        let help =
            format!("head it `BC G1` or `BC G7`, whichever it is, or add a column `drag`: {title} alone is neither");
        faults
            .push(table.fault_of_head(title, format!("column `{title}` does not say of which model it is")).help(help));
    }
    faults
}

/// The word of a cell as it is read.
pub(super) fn word(cell: &TableCell, words: &Words) -> Result<String, Diagnostic> {
    words.read(&cell.text()).map_err(|(message, help)| cell.fault(message).help(help))
}

/// A cell that holds a quantity, as it is written.
fn quantity<Q: Measure>(cell: &TableCell) -> Result<toml::Value, Diagnostic> {
    cell.quantity::<Q>().map(|_| toml::Value::String(cell.with_unit()))
}

/// The drag model that a head names.
fn model_of(key: &str) -> Option<&str> {
    key.strip_prefix("bc-").filter(|model| *model != "sd")
}

/// A row has one coefficient, and one model that it refers to.
fn one_coefficient(row: &Row) -> Result<(), Diagnostic> {
    let mut of_model = row.cells().filter(|cell| model_of(cell.key()).is_some());
    let Some(cell) = of_model.next() else { return Ok(()) };
    let other = |drag: &TableCell| !drag.text().trim().eq_ignore_ascii_case(model_of(cell.key()).unwrap_or_default());
    let Some(second) = of_model.next().or_else(|| row.cell("bc")).or_else(|| row.cell("drag").filter(other)) else {
        return Ok(());
    };
    let message = format!("`{}` and `{}` say of one bullet how it slows down", cell.key(), second.key());
    Err(second.fault(message).help("leave one of the cells empty"))
}

/// What to do where a row that describes a load names it as one of the catalogue's.
const DESCRIBED: &str =
    "`load` names a load of the catalogue; where the row describes its own, head this column `name`";

/// One row: a load by name, or described; and who brings it.
fn declared(row: &Row, names: &Names) -> Result<(Entry, Option<String>), Diagnostic> {
    let who = shooter(row);
    // A name alone is one of the list's.
    let describes = row.cell("bullet").is_some() || row.cell("velocity").is_some();
    if let Some(cell) = row.cell("load").or_else(|| row.cell("name").filter(|_| !describes)) {
        let unknown = |e: CatalogError| {
            let help = if describes { DESCRIBED } else { e.help() };
            cell.fault(e.to_string()).help(help)
        };
        let entry = names.load(cell.text().trim()).map_err(unknown)?;
        same(row, &entry.load)?;
        return Ok((entry.clone(), who));
    }
    one_coefficient(row)?;
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
            "firearm" => toml::Value::String(word(&cell, &FIREARM)?),
            "construction" => toml::Value::String(word(&cell, &CONSTRUCTION)?),
            "drag" => toml::Value::String(text.trim().to_uppercase()),
            "bullet" => quantity::<Mass>(&cell)?,
            "diameter" | "barrel" => quantity::<Length>(&cell)?,
            "bc-sd" => quantity::<Ratio>(&cell)?,
            "velocity-temperature-slope" => quantity::<VelocityPerTemperature>(&cell)?,
            "measured-at" => quantity::<Temperature>(&cell)?,
            "tolerance-factor" => toml::Value::Float(cell.number()?),
            "muzzle-velocity" | "velocity-sd" => quantity::<Velocity>(&cell)?,
            "bc" | "bc-g1" | "bc-g7" => quantity::<BallisticCoefficient>(&cell)?,
            _ => toml::Value::String(text),
        };
        if let Some(model) = model_of(key) {
            record.insert("drag".into(), toml::Value::String(model.to_uppercase()));
        }
        record.insert(if model_of(key).is_some() { "bc" } else { key }.into(), value);
    }
    if !record.contains_key("firearm") {
        return Err(missing(row, "firearm", "the row does not say what fires the load").help(
            "fill a column `firearm`: rifle, handgun, pistol-carbine, rimfire-rifle, rimfire-pistol, shotgun …",
        ));
    }
    let described = Described::deserialize(toml::Value::Table(record)).map_err(|e| located(row, e.message()))?;
    let id = format!("declared-{}", row.number());
    let built = described.build(&id, None).map_err(|e| match e {
        BuildError::Description(e) => {
            let key = if e.key == "muzzle-velocity" { "velocity" } else { e.key };
            let fault =
                row.cell(key).map_or_else(|| missing(row, key, &*e.message), |cell| cell.fault(e.message.clone()));
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
        fault.help(if key == "name" {
            "name the load of the catalogue alone; a shooter's name or number stands in a column `bib`"
        } else {
            "name the load of the catalogue alone, or leave `load` empty and describe your own"
        })
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
            "bc" | "bc-g1" | "bc-g7" => {
                let given = cell.quantity::<BallisticCoefficient>()?;
                let own = facts.drag.model().to_string().to_lowercase();
                model_of(key).is_none_or(|model| model == own)
                    && facts.drag.bands().iter().any(|band| near(given.si(), band.bc.si()))
            }
            "drag" => word == facts.drag.model().to_string().to_lowercase(),
            "firearm" => FIREARM.read(&text).is_ok_and(|given| given == facts.firearm.to_string()),
            "construction" => CONSTRUCTION.read(&text).is_ok_and(|given| given == facts.construction.to_string()),
            "projectiles" => word == facts.projectiles.to_string(),
            "cartridge" => {
                let own = facts.cartridge.as_deref().unwrap_or_default();
                plain(&text) == plain(own)
            }
            "name" => plain(&text) == plain(&facts.name) || text.trim() == load.id(),
            "shooter" | "load" => true,
            _ => false,
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

#[cfg(test)]
mod tests;
