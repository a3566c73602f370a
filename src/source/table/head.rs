//! What the heads of a table are: known columns, others, or heads that can't stand.

use super::column::{Column, plain};
use crate::source::SourceText;
use crate::source::grid::{self, Line, SEPARATORS};

/// The most columns of a table.
pub const MAX_COLUMNS: usize = 500;
/// What a mapping says of a column that is left out on purpose.
pub const IGNORE: &str = "ignore";

/// What a title turns out to be.
pub(super) enum Title {
    Known(usize, Option<&'static str>),
    Foreign,
    /// A message and what to write instead.
    Refused(String, String),
}

/// What separates the cells of a head: what makes the most known columns of it, then the most cells.
pub(super) fn separator(source: &SourceText, head: &Line, columns: &[Column]) -> char {
    let text = head.text(source);
    let mut cells = Vec::new();
    let mut worth = |mark: char| {
        let count = grid::cut(source, head, mark, MAX_COLUMNS, &mut cells).unwrap_or(0);
        let known = cells.iter().filter(|c| is_known(columns, &c.text(source)));
        (known.count(), count)
    };
    let there = SEPARATORS.into_iter().filter(|mark| text.contains(*mark));
    // The first of equals: a comma before the others.
    there.rev().max_by_key(|mark| worth(*mark)).unwrap_or(',')
}

/// How many known columns a line names, were it the head.
pub(super) fn columns_named(source: &SourceText, line: &Line, columns: &[Column], mapping: &[(&str, &str)]) -> usize {
    let mut cells = Vec::new();
    let cut = grid::cut(source, line, separator(source, line, columns), MAX_COLUMNS, &mut cells);
    let is_one = |title: &str| {
        let mapped = mapping.iter().find(|(from, _)| plain(from) == plain(title)).map(|(_, to)| *to);
        mapped.map_or_else(|| is_known(columns, title), |to| takes(columns, to) && to != IGNORE)
    };
    cut.map_or(0, |_| cells.iter().filter(|cell| is_one(&cell.text(source))).count())
}

/// Whether a mapping may give a title this column: one of the known, or [`IGNORE`].
#[must_use]
pub fn takes(columns: &[Column], key: &str) -> bool {
    key == IGNORE || is_known(columns, key)
}

/// Whether a title is that of a known column.
fn is_known(columns: &[Column], title: &str) -> bool {
    matches!(named(columns, title), Some(Title::Known(..)))
}

/// A title's name and what stands in brackets behind it.
fn bracketed(title: &str) -> (&str, Option<&str>) {
    match title.split_once(['(', '[']) {
        Some((name, inside)) => (name, Some(inside.trim_end().trim_end_matches([')', ']']).trim())),
        None => (title, None),
    }
}

/// What a title is. A `mapped` one must be a known column, or left out.
pub(super) fn resolve(columns: &[Column], title: &str, mapped: bool) -> Title {
    if mapped && title == IGNORE {
        return Title::Foreign;
    }
    if let Some(title) = named(columns, title) {
        return title;
    }
    let name = plain(bracketed(title).0);
    let like = columns.iter().find(|column| column.resembles(&name));
    match like {
        Some(column) => Title::Refused(
            format!("column `{title}` resembles `{}` and is not read as it", column.key),
            format!(
                "{}, give it another name, or write `\"{title}\" = \"{IGNORE}\"` under `[columns]`",
                column.meant_by(title, &name)
            ),
        ),
        None if mapped => Title::Refused(
            format!("`{title}` is not a column that is read"),
            format!(
                "those that are: {}; or `{IGNORE}`",
                columns.iter().map(Column::example).collect::<Vec<_>>().join(", ")
            ),
        ),
        None => Title::Foreign,
    }
}

/// The column that a title names, and its unit, or what is wrong with that; none where it names none.
fn named(columns: &[Column], title: &str) -> Option<Title> {
    // `BC (G7)` is a name as a whole.
    let whole = plain(&title.replace(['(', ')', '[', ']'], " "));
    if let Some(index) = columns.iter().position(|column| column.is_called(&whole)) {
        return Some(Title::Known(index, None));
    }
    let (name, inside) = bracketed(title);
    let name = plain(name);
    columns.iter().enumerate().find_map(|(index, column)| {
        if column.is_called(&name) {
            return Some(known(index, column, title, inside));
        }
        // `speed fps`, and `speed_ft_s` as our own tables write it.
        let units = column.units.filter(|_| inside.is_none())?;
        let word = column.behind_its_name(&name)?;
        let unit = (units.spelled)(word).or_else(|| (units.spelled)(&word.replace(' ', "/")))?;
        Some(Title::Known(index, Some(unit)))
    })
}

/// A mapping that gives a column another unit than its head does would change every number.
pub(super) fn other_unit(columns: &[Column], title: &str, to: &str) -> Option<Title> {
    let ((_, own), (name, given)) = (bracketed(title), bracketed(to));
    let (own, given) = (own?, given?);
    let units = columns.iter().find(|column| column.is_called(&plain(name)))?.units?;
    let (own, given) = ((units.spelled)(own)?, (units.spelled)(given)?);
    let message = format!("column `{title}` is in {own}, and is mapped to {given}");
    (own != given).then(|| Title::Refused(message, format!("map it to `{} ({own})`", name.trim())))
}

fn known(index: usize, column: &Column, title: &str, inside: Option<&str>) -> Title {
    match (inside, column.units) {
        (None, _) => Title::Known(index, None),
        (Some(word), None) => Title::Refused(
            format!("column `{title}`: a {} has no unit, and `{word}` is none", column.key),
            format!("head it {}", column.example()),
        ),
        // `yd.` is `yd`.
        (Some(word), Some(units)) => match (units.spelled)(word.trim_end_matches('.')) {
            Some(unit) => Title::Known(index, Some(unit)),
            // Numbers keep their size under another head: only the one who wrote them can turn them into another unit.
            None => Title::Refused(
                format!("column `{title}`: `{word}` is not a unit of {}", units.quantity),
                format!(
                    "turn its numbers into one of {}, and head it with that, as {}",
                    (units.all)(),
                    column.example()
                ),
            ),
        },
    }
}
