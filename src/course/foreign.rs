//! Columns of a spreadsheet that nothing reads, and what of them speaks of what is judged.

use super::heads::judged_head;
use super::names::Names;
use super::people::{counts_people, holds_names};
use super::spoken::{Of, has_mass, is_measure, judged_cell};
use super::{Course, TableRead};
use crate::catalog::{Cartridge, Entry, is_called_otherwise};
use crate::quantity::{Length, Measure, parse};
use crate::source::Diagnostic;
use crate::source::table::{IGNORE, Row, Table, TableCell};
use crate::words::listed;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A column that nothing reads, and whose head speaks of what is judged, would be missed.
pub(super) fn foreign_heads(table: &Table, of: Of) -> Option<Diagnostic> {
    let is_rules = |title: &&str| title.to_lowercase().replace(['-', '_'], " ").contains("range rules");
    if let Some(title) = table.foreign().find(is_rules) {
        let message = format!("column `{title}`: a match is held under one set of range rules");
        let help = "write `range-rules = [\"range.toml\"]` at the head of the match, and a match for each range";
        return Some(table.fault_of_head(title, message).help(help));
    }
    let filled = filled(table.rows().flat_map(|row| row.others().collect::<Vec<_>>()));
    // A column that nobody fills says nothing.
    let meant = table.foreign().filter_map(|title| Some((title, judged_head(title, of, *filled.get(title)?)?)));
    let meant: Vec<(&str, String)> = meant.collect();
    let (first, _) = meant.first()?;
    let (message, help) = unread_heads(&meant);
    Some(table.fault_of_head(first, message).help(help))
}

/// The columns that somebody fills, and whether with a number somewhere.
fn filled<'t>(cells: impl Iterator<Item = (&'t str, Cow<'t, str>)>) -> BTreeMap<&'t str, bool> {
    let mut filled = BTreeMap::new();
    for (title, text) in cells.filter(|(_, text)| !text.trim().is_empty()) {
        let number = filled.entry(title).or_insert(false);
        *number = *number || is_measure(&text);
    }
    filled
}

/// What to say of heads that nothing reads, each with the columns that it may be meant for: of all of them at once, since
/// a run for each is a run too many.
fn unread_heads(meant: &[(&str, String)]) -> (String, String) {
    let each = |of: &dyn Fn(&(&str, String)) -> String| meant.iter().map(of).collect::<Vec<_>>();
    let titles = listed(&each(&|(title, _)| format!("`{title}`")));
    let ignore = listed(&each(&|(title, _)| format!("`\"{title}\" = \"{IGNORE}\"`")));
    let (message, heads, say) = match meant {
        [(_, write)] => {
            (format!("column {titles} speaks of what is judged, and nothing reads it"), write.clone(), "it says")
        }
        _ => (
            format!("columns {titles} speak of what is judged, and nothing reads them"),
            each(&|(title, write)| format!("`{title}`: {write}")).join("; "),
            "they say",
        ),
    };
    (message, format!("{heads}; or, where {say} nothing that counts, write {ignore} under `[columns]` in the match"))
}

/// Cells of columns that nothing reads, and that speak of what is judged.
pub(super) fn foreign_cells<'t>(row: &Row<'t>, of: Of) -> impl Iterator<Item = Diagnostic> + use<'t> {
    let row = *row;
    let own = if of == Of::Targets { row.cell("at") } else { None };
    let speaks = row.others().filter(move |(title, text)| {
        let text = own.map_or_else(|| text.to_string(), |own| without_own(text, &own));
        judged_cell(title, &text, of)
    });
    speaks.map(move |(title, text)| {
        let message = format!("`{}` speaks of what is judged, and nothing reads this column", text.trim());
        let columns = match of {
            Of::Loads => "`construction`, `velocity (ft/s)` or `load`",
            Of::Targets => "`condition`, `plate`, `class`, `at (yd)`, `to (yd)` or `range-rules`",
        };
        row.fault_at(title, &text, message).help(format!(
            "say it in a column that is read, such as {columns}; or, where it says nothing that counts, write \
             `\"{title}\" = \"{IGNORE}\"` under `[columns]` in the match"
        ))
    })
}

/// A text without the distance that its row is judged from: `shot from the 300 yd line` at 300 yd.
fn without_own(text: &str, own: &TableCell) -> String {
    let Ok(far) = own.quantity::<Length>() else { return text.to_owned() };
    let is_own = |text: &str| parse::<Length>(text).is_ok_and(|length| (length.si() - far.si()).abs() < 1e-6);
    let (mut words, mut kept) = (text.split_whitespace().peekable(), Vec::new());
    while let Some(word) = words.next() {
        if is_own(word) {
            continue;
        }
        // `300 yd`, in two words.
        if words.next_if(|next| is_own(&format!("{word} {next}"))).is_none() {
            kept.push(word);
        }
    }
    kept.join(" ")
}

/// Cells of columns of targets that nothing reads, and that name a load or a cartridge: who shoots there.
pub(super) fn loads_named<'t>(row: &Row<'t>, names: &Names) -> impl Iterator<Item = Diagnostic> + use<'t> {
    let row = *row;
    let names_one = |title: &str, text: &str| {
        names.has_other(text, "") || (!holds_names(title) && !Cartridge::mentions(title, text).is_empty())
    };
    let cells = row.others().filter(|(title, text)| names_one(title, text) && !judged_cell(title, text, Of::Targets));
    cells.collect::<Vec<_>>().into_iter().map(move |(title, text)| {
        let message = format!("`{}` speaks of a load, and nothing reads this column", text.trim());
        row.fault_at(title, &text, message).help(format!(
            "who shoots at a target is its `class`, and who does not `without`; or write `\"{title}\" = \"{IGNORE}\"` \
             under `[columns]` in the match"
        ))
    })
}

/// Cells of columns that nothing reads, and that name another load than the row's: a second one that somebody brings.
pub(super) fn other_loads<'t>(
    row: &Row<'t>,
    names: &Names,
    entry: &Entry,
) -> impl Iterator<Item = Diagnostic> + use<'t> {
    let (row, own) = (*row, Cartridge::of(&entry.load));
    let is_other = |title: &str, text: &str| {
        let named = Cartridge::mentions(title, text);
        names.has_other(text, entry.load.id())
            || is_called_otherwise(text, &entry.load)
            || (!holds_names(title)
                && !named.is_empty()
                && own.is_none_or(|own| named.iter().any(|other| !Arc::ptr_eq(other.cartridge, own))))
    };
    let cells = row.others().filter(|(title, text)| is_other(title, text)).collect::<Vec<_>>();
    cells.into_iter().filter(|(title, text)| !judged_cell(title, text, Of::Loads)).map(move |(title, text)| {
        let message = format!("`{}` names another load than the row's, and nothing reads this column", text.trim());
        row.fault_at(title, &text, message)
            .help(format!("give each load a row of its own; or write `\"{title}\" = \"{IGNORE}\"` under `[columns]`"))
    })
}

/// Notes a table that was read: its rows, those of them that were read, and the things that they hold.
pub(super) fn told(course: &mut Course, table: &Table, of: Of, rows: usize, (read, things): (usize, usize)) {
    let (name, left_out) = (table.source().name.to_string(), table.left_out().to_vec());
    let (unread, ignored) = (unread(table), ignored(table, of));
    course.tables.push(TableRead { name, of: of.words(), rows, read, things, left_out, unread, ignored });
}

/// What was left out on purpose and speaks of what is judged all the same: a column by its head where its cells say more
/// than no, else by its cells.
fn ignored(table: &Table, of: Of) -> Vec<String> {
    let cells = || table.rows().flat_map(|row| row.ignored().collect::<Vec<_>>());
    let filled = filled(cells().filter(|(_, text)| !says_no(text)));
    // A bib is like a shooter, and neither is judged; the class that shoots at a target is.
    let like_known = |title: &str| table.ignored().any(|(other, known)| other == title && known);
    let by_head = |title: &str| (of == Of::Targets || !counts_people(title)) && like_known(title);
    let speaks = |title: &str| {
        filled.get(title).is_some_and(|number| by_head(title) || judged_head(title, of, *number).is_some())
    };
    let heads = table.ignored().filter(|(title, _)| speaks(title)).map(|(title, _)| format!("column \"{title}\""));
    let mut told: Vec<String> = heads.collect();
    for row in table.rows() {
        let is_judged = |title: &str, text: &str| judged_cell(title, text, of) || (of == Of::Loads && has_mass(text));
        let cells = row.ignored().filter(|(title, text)| !speaks(title) && is_judged(title, text));
        told.extend(cells.map(|(title, text)| {
            let who = ["shooter", "target"].iter().find_map(|key| row.cell(key));
            let who = who.map(|cell| format!("{}: ", cell.text().trim())).unwrap_or_default();
            format!("{who}\"{}\" (row {}, {title})", text.trim(), row.number())
        }));
    }
    told
}

/// Whether a cell says that there is nothing: `no`, `none`, `-`.
fn says_no(text: &str) -> bool {
    matches!(text.trim().to_lowercase().as_str(), "no" | "none" | "n/a" | "-" | "ok")
}

/// The columns that nobody read and that say something: a word, a mark, yes and no by 1 and 0, or a number of nobody
/// knows what. Numbers of squads and telephones say nothing of what is judged.
fn unread(table: &Table) -> Vec<String> {
    let mut titles: Vec<&str> = Vec::new();
    // Whether every cell so far is a 1 or a 0.
    let mut flags: BTreeMap<&str, bool> = BTreeMap::new();
    for (title, text) in table.rows().flat_map(|row| row.others().collect::<Vec<_>>()) {
        let text = text.trim();
        if !titles.contains(&title) && (is_word(text) || !counts_people(title)) {
            titles.push(title);
        }
        *flags.entry(title).or_insert(true) &= matches!(text, "0" | "1");
    }
    let is_unread = |title: &&str| titles.contains(title) || flags.get(title).is_some_and(|flag| *flag);
    table.foreign().filter(is_unread).map(str::to_owned).collect()
}

fn is_word(text: &str) -> bool {
    text.chars()
        .any(|c| c.is_alphabetic() || "+*!?".contains(c) || !(c.is_ascii() || c.is_numeric() || "–—".contains(c)))
}
