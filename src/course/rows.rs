//! Targets from spreadsheets.

use super::Course;
use super::called::StageNames;
use super::foreign::{Beside, Extent, foreign_cells, foreign_heads, left_out, loads_named, told};
use super::names::Names;
use super::spoken::Of;
use super::table::{Mapping, total, word};
use super::vocabulary::{CONDITION, DUTY, KIND, MOUNT, STEEL, named_classes};
use crate::plate::sizes_named;
use crate::quantity::{Angle, Length, unit};
use crate::source::table::{Column, Row, TableCell, together};
use crate::source::{Diagnostic, SourceText, clean};

/// The columns of targets.
pub(super) static TARGETS: [Column; 21] = [
    Column::words("stage", &[]).else_by(&["stage #", "stage no", "stage no.", "stage number"]),
    Column::words("target", &["target name"]).exact().else_by(&["target #", "target no", "target no.", "target number"]),
    Column::words(
        "count",
        &[
            "how many",
            "quantity",
            "qty",
            "pieces",
            "pcs",
            "plates",
            "targets",
            "no. of plates",
            "number of plates",
            "no. of targets",
            "number of targets",
        ],
    ),
    Column::words("kind", &[]),
    Column::measured::<Length>("plate", &["thickness", "plate thickness"])
        .headed("in")
        .where_twice("keep what the plate measures, and the thinner of two where they differ"),
    Column::measured::<Length>("at", &["distance", "nearest", "from"])
        .holding(
            "the distance that the target is shot from, and `to (yd)` the nearest point that somebody may get to",
            &["min", "minimum", "max", "maximum", "closest", "least", "shortest", "safe", "nearest", "limit"],
        )
        .where_twice(
            "head what the target is shot from `at (yd)`, and the nearest point that somebody may get to `to (yd)`; each \
             further position stands in a row of its own",
        ),
    Column::measured::<Length>("to", &[]),
    Column::words("position", &["firing point"])
        .holding("the name of a place that targets are shot from, whose distance is `at (yd)`", &["2nd", "3rd", "2", "3"]),
    Column::words("class", &["classes"]),
    Column::measured::<Length>("face", &["size", "face size"]).headed("in"),
    Column::words("without", &["leave out", "not for"]),
    Column::words("mount", &["hung"]),
    Column::measured::<Length>("chain", &[]).headed("in"),
    Column::words("duty", &[]),
    Column::words("condition", &["state"]),
    Column::words("steel", &[]),
    Column::measured::<Angle>("tilt", &["lean"]),
    Column::measured::<Angle>("oblique", &["turn"]),
    Column::measured::<Angle>("slope", &[]),
    Column::words("range-rules", &["range rules"]),
    Column::measured::<Length>("base", &["base depth", "depth of base"]).headed("in"),
];

/// A target of a table, as the record that a match file would hold, with its stage and row.
pub(super) struct TargetRow {
    pub stage: String,
    pub record: toml::Table,
    /// Files of the rules of the range that its stage stands on.
    pub range_rules: Vec<String>,
    /// Where its first row stands.
    pub fault: Diagnostic,
}

/// The targets of a table: rows of one stage and target are its positions.
pub(super) fn targets(
    course: &mut Course,
    source: &SourceText,
    mapping: &mut Mapping,
    (stages, names): (&mut StageNames, &Names),
) -> Result<Vec<TargetRow>, Diagnostic> {
    let (table, mut heads) = mapping.read(source, &TARGETS)?;
    let missing = ["stage", "target", "plate"].into_iter().filter(|key| !table.has(key));
    heads.extend(missing.map(|key| {
        let help = "a table of targets has `stage`, `target`, `plate` and `at (yd)` at least";
        source.fault(0..0, format!("the table has no column `{key}`")).help(help)
    }));
    heads.extend(foreign_heads(&table, Of::Targets));
    if let Some(fault) = together(heads) {
        return Err(fault);
    }
    let (mut rows, mut read) = (table.faults().count(), 0);
    // A row that could not be cut into cells may be of any stage.
    course.unread_everywhere(table.faults().clone());
    let (mut found, mut beside) = (Vec::<TargetRow>::new(), Beside::default());
    for row in table.rows() {
        rows += 1;
        beside.left_out.extend(left_out(&row, Of::Targets, names, None));
        if let Some(fault) = row.cell("stage").and_then(|cell| another_stage(&row, &cell, stages)) {
            course.unread_everywhere_one(fault);
            continue;
        }
        let stage = row.cell("stage").map(|cell| stages.called(cell.text().trim()));
        let lose = |course: &mut Course, fault: Diagnostic| match &stage {
            Some(stage) => course.unread_at(stage, fault),
            None => course.unread_everywhere_one(fault),
        };
        if let Some(fault) = total(&row) {
            lose(course, fault);
            continue;
        }
        match target(&row, stage.as_deref(), &found) {
            Ok((target, of)) => {
                read += 1;
                match of {
                    Some(of) => {
                        found[of].range_rules.extend(target.range_rules);
                        join(&mut found[of].record, &target.record);
                    }
                    None => found.push(target),
                }
            }
            Err(fault) => lose(course, fault),
        }
        foreign_cells(&row, Of::Targets).chain(loads_named(&row, names)).for_each(|fault| lose(course, fault));
    }
    told(course, &table, Of::Targets, &Extent { rows, read, things: found.len() }, beside);
    Ok(found)
}

/// A stage whose name is another's but for what parts its words.
fn another_stage(row: &Row, cell: &TableCell, stages: &StageNames) -> Option<Diagnostic> {
    let name = cell.text();
    let meant = stages.meant(name.trim())?;
    let message = format!("there is a stage `{}`, and no `{}`", clean(meant), clean(name.trim()));
    let help = "write the name alike in every file: a stage's air, rules and positions hold for its name alone";
    Some(row.fault_at(cell.title(), &name, message).help(help))
}

fn array(record: &toml::Table, key: &str) -> Vec<toml::Value> {
    record.get(key).and_then(toml::Value::as_array).cloned().unwrap_or_default()
}

/// Adds the positions of a further row. Where rows name different classes, each position is its own row's classes',
/// and the target is for all of them.
fn join(first: &mut toml::Table, more: &toml::Table) {
    let (own, other) = (array(first, "class"), array(more, "class"));
    let mut positions = array(first, "positions");
    let mut added = array(more, "positions");
    let is_split = positions.iter().any(|p| p.as_table().is_some_and(|p| p.contains_key("class")));
    if own != other || is_split {
        let label = |positions: &mut Vec<toml::Value>, classes: &[toml::Value]| {
            for position in positions.iter_mut().filter_map(toml::Value::as_table_mut) {
                if !classes.is_empty() && !position.contains_key("class") {
                    position.insert("class".into(), toml::Value::Array(classes.to_vec()));
                }
            }
        };
        if !is_split {
            label(&mut positions, &own);
        }
        label(&mut added, &other);
        if own.is_empty() || other.is_empty() {
            first.remove("class");
        } else {
            let mut all = own;
            all.extend(other.into_iter().filter(|class| !array(first, "class").contains(class)));
            first.insert("class".into(), toml::Value::Array(all));
        }
    }
    part_slopes(first, more, &mut positions, &mut added);
    positions.extend(added);
    first.insert("positions".into(), toml::Value::Array(positions));
}

/// Where rows name different slopes, each position has its own row's.
fn part_slopes(first: &mut toml::Table, more: &toml::Table, positions: &mut [toml::Value], added: &mut [toml::Value]) {
    let slope = |record: &toml::Table| record.get("stand").and_then(|stand| stand.get("slope")).cloned();
    let (own, other) = (slope(first), slope(more));
    if own == other {
        return;
    }
    let label = |positions: &mut [toml::Value], slope: Option<toml::Value>| {
        let Some(slope) = slope else { return };
        for position in positions.iter_mut().filter_map(toml::Value::as_table_mut) {
            position.entry("slope").or_insert_with(|| slope.clone());
        }
    };
    label(positions, own);
    label(added, other);
    if let Some(stand) = first.get_mut("stand").and_then(toml::Value::as_table_mut) {
        stand.remove("slope");
    }
}

/// Keys of a record that stand in its `stand`.
const STAND: [&str; 9] = ["face", "mount", "chain", "duty", "condition", "steel", "tilt", "oblique", "slope"];

/// A size with the unit of its head where it has none: `3/8`, `300x500`.
fn sized(cell: &TableCell) -> String {
    let text = cell.with_unit();
    let text = in_figures(&text).unwrap_or(text);
    // An inch mark is what it is, of a plate or a face.
    let text = text.strip_suffix(['"', '″', '”']).map_or_else(|| text.clone(), |size| format!("{size} in"));
    match cell.head_unit() {
        Some(unit)
            if !text.contains(|c: char| c.is_alphabetic() && !"xX".contains(c)) && !text.contains(['"', '″']) =>
        {
            format!("{text} {unit}")
        }
        _ => text,
    }
}

/// A size with a fraction in one sign, `½ in`, where it can be read in one way.
fn in_figures(text: &str) -> Option<String> {
    text.contains(|c: char| c.is_numeric() && !c.is_ascii()).then_some(())?;
    let mut sizes = sizes_named(text).into_iter().map(|size| unit::INCH.value(size));
    let first = sizes.next()?;
    let words = text.split_whitespace().count();
    (words <= 2 && sizes.all(|size| (size - first).abs() < 1e-9)).then(|| format!("{first} in"))
}

/// One row: a target, or a further position of one that stands above.
fn target(row: &Row, stage: Option<&str>, above: &[TargetRow]) -> Result<(TargetRow, Option<usize>), Diagnostic> {
    let said = |key: &str| row.cell(key).map(|cell| cell.text().trim().to_owned());
    let stage = stage.ok_or_else(|| row.fault("the row has no stage").help("fill the cell"))?.to_owned();
    let name = said("target").ok_or_else(|| row.fault("the row has no target").help("fill the cell"))?;
    let mut record = toml::Table::new();
    let (mut stand, mut position) = (toml::Table::new(), toml::Table::new());
    let mut range_rules = Vec::new();
    for cell in row.cells() {
        let (key, text) = (cell.key(), cell.with_unit());
        let string = toml::Value::String;
        match key {
            "stage" => {}
            "target" => drop(record.insert("name".into(), string(name.clone()))),
            "count" => {
                let count = text.trim().parse::<i64>().ok().filter(|n| *n > 0);
                let count =
                    count.ok_or_else(|| cell.fault(format!("`{text}` is not a count")).help("write 1 or more"))?;
                record.insert("count".into(), toml::Value::Integer(count));
            }
            "class" => {
                let words = text.split([';', '/', '+', ',']).filter(|class| !class.trim().is_empty());
                let words: Vec<String> = words.map(str::to_owned).collect();
                let classes = named_classes(&words).map_err(|(message, help)| cell.fault(message).help(help))?;
                let classes = classes.iter().map(|class| string(class.to_string()));
                record.insert("class".into(), toml::Value::Array(classes.collect()));
            }
            "without" => {
                let names = text.split(';').map(str::trim).filter(|name| !name.is_empty());
                let names = toml::Value::Array(names.map(|name| string(name.into())).collect());
                record.insert("without".into(), names);
            }
            "at" | "to" => {
                cell.quantity::<Length>()?;
                position.insert(key.into(), string(text));
            }
            "range-rules" => {
                let names = text.split(';').map(str::trim).filter(|name| !name.is_empty());
                range_rules = names.map(str::to_owned).collect();
            }
            "position" if is_far(row, &text) => {
                let message = format!("position `{text}` is called by a number that may be its distance");
                let help = format!("write the distance in `at (yd)`, or call it by a word as well, `lane {text}`");
                return Err(cell.fault(message).help(help));
            }
            "position" => drop(position.insert("name".into(), string(text))),
            "kind" => drop(record.insert(key.into(), string(word(&cell, &KIND)?))),
            "mount" => drop(stand.insert(key.into(), string(word(&cell, &MOUNT)?))),
            "duty" => drop(stand.insert(key.into(), string(word(&cell, &DUTY)?))),
            "steel" => drop(stand.insert(key.into(), string(word(&cell, &STEEL)?))),
            "condition" => drop(stand.insert(key.into(), string(word(&cell, &CONDITION)?))),
            "plate" => drop(record.insert(key.into(), string(sized(&cell)))),
            "face" => drop(stand.insert(key.into(), string(sized(&cell)))),
            _ if STAND.contains(&key) => drop(stand.insert(key.into(), string(text))),
            _ => drop(record.insert(key.into(), string(text))),
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
        is_further(row, &above[at].record, &record)
            .map_err(|(message, help)| row.fault(format!("target `{name}` {message}")).help(help))?;
    }
    let fault = row.fault("");
    Ok((TargetRow { stage, record, range_rules, fault }, known))
}

/// The least number that a place is called by and that may be its distance.
const FAR: f64 = 7.0;

/// Whether a position is called by a number that is nearer than the distance of its row.
fn is_far(row: &Row, name: &str) -> bool {
    let number = |text: &str| text.trim().split(' ').next().and_then(|word| word.parse::<f64>().ok());
    let own = row.cell("at").and_then(|cell| number(&cell.text()));
    name.trim().parse::<f64>().is_ok_and(|called| called >= FAR && own.is_some_and(|own| called < own))
}

/// Whether a row is a further position of a target above it: another place, or other classes.
fn is_further(row: &Row, above: &toml::Table, record: &toml::Table) -> Result<(), (String, String)> {
    // The ground may rise to one position and fall to another.
    let told = |of: &toml::Table, key: &str| {
        let mut value = of.get(key).cloned();
        if let Some(stand) = value.as_mut().filter(|_| key == "stand").and_then(toml::Value::as_table_mut) {
            stand.remove("slope");
        }
        value.filter(|value| value.as_table().is_none_or(|table| !table.is_empty()))
    };
    let differs = |key: &&String| {
        !matches!(key.as_str(), "positions" | "name" | "class") && told(above, key) != told(record, key)
    };
    if let Some(key) = record.keys().find(differs) {
        let (own, other) =
            (above.get(key).and_then(toml::Value::as_table), record.get(key).and_then(toml::Value::as_table));
        // What stands apart in the record stands in columns of its own in the table.
        let inner = STAND.iter().find(|inner| {
            let of = |table: Option<&toml::Table>| table.and_then(|table| table.get(**inner)).cloned();
            key == "stand" && **inner != "slope" && of(own) != of(other)
        });
        let key = inner.copied().unwrap_or(key.as_str());
        return Err((
            format!("stands above with another `{key}`"),
            format!(
                "rows of one target are its positions and say the same of it, `{key}` too; give what differs the name of \
                 another target, or write `count`"
            ),
        ));
    }
    let (own, other) = (array(above, "class"), array(record, "class"));
    let is_others = !own.is_empty() && !other.is_empty() && !other.iter().any(|class| own.contains(class));
    if row.cell("position").is_none() && !is_others {
        return Err((
            "stands twice".into(),
            "name its `position`, name another `class` that shoots it from there, write `count`, or give the target \
             another name"
                .into(),
        ));
    }
    Ok(())
}
