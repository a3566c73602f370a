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
        let known = cells.iter().filter(|c| matches!(resolve(columns, &c.text(source), false), Title::Known(..)));
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
    let is_known = |title: &str| {
        let mapped = mapping.iter().find(|(from, _)| plain(from) == plain(title)).map(|(_, to)| *to);
        matches!(resolve(columns, mapped.unwrap_or(title), mapped.is_some()), Title::Known(..))
    };
    cut.map_or(0, |_| cells.iter().filter(|cell| is_known(&cell.text(source))).count())
}

/// Whether a mapping may give a title this column: one of the known, or [`IGNORE`].
#[must_use]
pub fn takes(columns: &[Column], key: &str) -> bool {
    key == IGNORE || matches!(resolve(columns, key, true), Title::Known(..))
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
    // `BC (G7)` is a name as a whole.
    let whole = plain(&title.replace(['(', ')', '[', ']'], " "));
    if let Some(index) = columns.iter().position(|column| column.names().any(|known| known == whole)) {
        return Title::Known(index, None);
    }
    let (name, inside) = bracketed(title);
    let name = plain(name);
    for (index, column) in columns.iter().enumerate() {
        if column.names().any(|known| known == name) {
            return known(index, column, title, inside);
        }
        let Some(units) = column.units.filter(|_| inside.is_none()) else { continue };
        // `speed fps`, and `speed_ft_s` as our own tables write it.
        let behind = column.names().find_map(|known| name.strip_prefix(&format!("{known} ")).map(str::to_owned));
        let unit = behind.and_then(|word| (units.spelled)(&word).or_else(|| (units.spelled)(&word.replace(' ', "/"))));
        if unit.is_some() {
            return Title::Known(index, unit);
        }
    }
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

/// A mapping that gives a column another unit than its head does would change every number.
pub(super) fn other_unit(columns: &[Column], title: &str, to: &str) -> Option<Title> {
    let ((_, own), (name, given)) = (bracketed(title), bracketed(to));
    let (own, given) = (own?, given?);
    let units = columns.iter().find(|column| column.names().any(|known| known == plain(name)))?.units?;
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
