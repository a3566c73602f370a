//! Columns of a spreadsheet that nothing reads, and what of them speaks of what is judged.

use super::heads::judged_head;
use super::names::Names;
use super::people::{counts_people, holds_names, is_half, is_number, shooter};
use super::second::{is_second, may_be_second};
use super::spoken::{Of, has_mass, is_measure, judged_cell};
use super::{Course, TableRead};
use crate::catalog::{Cartridge, Entry, is_called_otherwise};
use crate::load::Load;
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
    let cells = row.others().filter(|(title, text)| names_load(title, text, names, None));
    let cells = cells.filter(|(title, text)| !judged_cell(title, text, Of::Targets)).collect::<Vec<_>>();
    cells.into_iter().map(move |(title, text)| {
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
    let row = *row;
    let named = |(title, text): (&'t str, Cow<'t, str>)| {
        let is_named = names_load(title, &text, names, Some(&entry.load));
        (is_named || calls_second(title, &text)).then_some((title, text, is_named))
    };
    let cells = row.others().filter_map(named).filter(|(title, text, _)| !judged_cell(title, text, Of::Loads));
    cells.collect::<Vec<_>>().into_iter().map(move |(title, text, is_named)| {
        let speaks = if is_named { "names another load" } else { "speaks of another gun or load" };
        let message = format!("`{}` {speaks} than the row's, and nothing reads this column", text.trim());
        row.fault_at(title, &text, message)
            .help(format!("give each load a row of its own; or write `\"{title}\" = \"{IGNORE}\"` under `[columns]`"))
    })
}

/// Whether a cell speaks of a second gun or load, whatever it is.
fn calls_second(title: &str, text: &str) -> bool {
    !holds_names(title) && is_second(&text.to_lowercase())
}

/// Whether a cell names a load, or another than its row's.
fn names_load(title: &str, text: &str, names: &Names, own: Option<&Load>) -> bool {
    let cartridges = || if holds_names(title) { Vec::new() } else { Cartridge::mentions(title, text) };
    let Some(load) = own else { return names.has_other(text, "") || !cartridges().is_empty() };
    let own = Cartridge::of(load);
    names.has_other(text, load.id())
        || is_called_otherwise(text, load)
        || cartridges().iter().any(|other| own.is_none_or(|own| !Arc::ptr_eq(other.cartridge, own)))
}

/// Cells of columns that nothing reads, and that may be of another gun, load or speed than the row's, whose they are.
pub(super) fn doubted(row: &Row, own: &Load) -> Vec<String> {
    let cells = row.others().filter(|(title, text)| is_doubted(title, text, own));
    cells.map(|(title, text)| whose(row, title, &text)).collect()
}

fn is_doubted(title: &str, text: &str, own: &Load) -> bool {
    !holds_names(title) && may_be_second(text, own.facts().firearm)
}

/// A cell with who or what its row is of.
fn whose(row: &Row, title: &str, text: &str) -> String {
    let who = shooter(row).or_else(|| row.cell("target").map(|cell| cell.text().trim().to_owned()));
    let who = who.map(|who| format!("{who}: ")).unwrap_or_default();
    format!("{who}\"{}\" (row {}, {title})", text.trim(), row.number())
}

/// What a row says in columns that the match leaves out.
pub(super) struct LeftOut {
    title: String,
    /// The cell, and whose it is.
    words: String,
    /// Whether it names a load, or another than the row's, or speaks of one.
    names_load: bool,
    speaks: bool,
}

/// The cells of a row in columns that the match leaves out on purpose; a row of loads has its own one, where it was read.
pub(super) fn left_out(row: &Row, of: Of, names: &Names, own: Option<&Load>) -> Vec<LeftOut> {
    let cells = row.ignored().filter(|(_, text)| !text.trim().is_empty());
    cells
        .map(|(title, text)| LeftOut {
            title: title.to_owned(),
            words: whose(row, title, &text),
            names_load: names_load(title, &text, names, own) || (of == Of::Loads && calls_second(title, &text)),
            speaks: judged_cell(title, &text, of)
                || (of == Of::Loads && has_mass(&text))
                || own.is_some_and(|own| is_doubted(title, &text, own)),
        })
        .collect()
}

/// How much of a table was read: its rows, those of them that were read, and the things that they hold.
pub(super) struct Extent {
    pub rows: usize,
    pub read: usize,
    pub things: usize,
}

/// What rows say beyond what is read of them.
#[derive(Default)]
pub(super) struct Beside {
    /// Cells in columns that the match leaves out.
    pub left_out: Vec<LeftOut>,
    /// Cells in columns that nothing reads and that may be of another load.
    pub doubted: Vec<String>,
}

/// Notes a table that was read, with what stands beside it.
pub(super) fn told(course: &mut Course, table: &Table, of: Of, extent: &Extent, beside: Beside) {
    let name = table.source().name.to_string();
    let is_read = |title: &&String| of == Of::Loads && is_half(table, title);
    let left_out = table.left_out().iter().filter(|title| !is_read(title)).cloned().collect();
    let (unread, ignored) = (unread(table, of), ignored(table, of, &beside.left_out));
    let Extent { rows, read, things } = *extent;
    course.tables.push(TableRead {
        name,
        of: of.words(),
        rows,
        read,
        things,
        left_out,
        unread,
        doubted: beside.doubted,
        ignored,
    });
}

/// What was left out on purpose and speaks of what is judged all the same: a column by its head where its cells say more
/// than no, else by its cells. Cells that name a load come first: they are the last that a false alarm may hide.
fn ignored(table: &Table, of: Of, cells: &[LeftOut]) -> Vec<String> {
    let ignored = || table.rows().flat_map(|row| row.ignored().collect::<Vec<_>>());
    let filled = filled(ignored().filter(|(_, text)| !says_no(text)));
    // A bib is like a shooter, and neither is judged; the class that shoots at a target is.
    let like_known = |title: &str| table.ignored().any(|(other, known)| other == title && known);
    let by_head = |title: &str| (of == Of::Targets || !counts_people(title)) && like_known(title);
    let speaks = |title: &str| {
        filled.get(title).is_some_and(|number| by_head(title) || judged_head(title, of, *number).is_some())
    };
    let heads = table.ignored().filter(|(title, _)| speaks(title)).map(|(title, _)| format!("column \"{title}\""));
    let words = |is_meant: fn(&LeftOut) -> bool| cells.iter().filter(move |cell| is_meant(cell)).collect::<Vec<_>>();
    let loads = words(|cell| cell.names_load);
    let others = words(|cell| !cell.names_load && cell.speaks).into_iter().filter(|cell| !speaks(&cell.title));
    loads.into_iter().map(|cell| cell.words.clone()).chain(heads).chain(others.map(|cell| cell.words.clone())).collect()
}

/// Whether a cell says that there is nothing: `no`, `none`, `-`.
fn says_no(text: &str) -> bool {
    matches!(text.trim().to_lowercase().as_str(), "no" | "none" | "n/a" | "-" | "ok")
}

/// The columns that nobody read and that say something: a word, a mark, yes and no by 1 and 0, or a number of nobody
/// knows what. Numbers of squads and telephones say nothing of what is judged.
fn unread(table: &Table, of: Of) -> Vec<String> {
    let mut titles: Vec<&str> = Vec::new();
    // Whether every cell so far is a 1 or a 0.
    let mut flags: BTreeMap<&str, bool> = BTreeMap::new();
    for (title, text) in table.rows().flat_map(|row| row.others().collect::<Vec<_>>()) {
        let text = text.trim();
        if !titles.contains(&title) && (!counts_people(title) || is_word(text) && !is_number(text)) {
            titles.push(title);
        }
        *flags.entry(title).or_insert(true) &= matches!(text, "0" | "1");
    }
    let says = |title: &str| titles.contains(&title) || flags.get(title).is_some_and(|flag| *flag);
    let is_unread = |title: &&str| says(title) && !(of == Of::Loads && is_half(table, title));
    table.foreign().filter(is_unread).map(str::to_owned).collect()
}

fn is_word(text: &str) -> bool {
    text.chars()
        .any(|c| c.is_alphabetic() || "+*!?".contains(c) || !(c.is_ascii() || c.is_numeric() || "–—".contains(c)))
}
