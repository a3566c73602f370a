//! Tables from spreadsheets: a head whose known columns are found, rows whose cells are quantities or words, and
//! every fault at its row, column and cell.
//!
//! ```
//! # extern crate thickset_base as thickset;
//! use thickset::quantity::{Mass, Velocity, unit};
//! use thickset::source::{SourceText, table::{Column, Table}};
//! let columns = [
//!     Column::words("shooter", &["bib", "competitor"]),
//!     Column::measured::<Mass>("bullet", &["bullet weight"]),
//!     Column::measured::<Velocity>("velocity", &["muzzle velocity", "speed"]),
//! ];
//! let text = "bib;Bullet Weight (gr);speed;notes\n11;139,5;2650 fps;windy\n";
//! let table = Table::read(&SourceText::new("loads.csv", text), &columns, &[]).unwrap();
//! let row = table.rows().next().unwrap();
//! assert_eq!(row.cell("shooter").unwrap().text(), "11");
//! assert_eq!(row.cell("bullet").unwrap().quantity::<Mass>().unwrap(), unit::GRAIN.of(139.5));
//! assert_eq!(table.left_out(), ["notes"]);
//! ```
//!
//! What separates the cells (comma, semicolon, tab) is found in the head; where it is no comma, `139,5` is a decimal
//! number. A unit stands in the head, `bullet (gr)`, or in each cell. Lines that begin with `#` are comments above the
//! head, and rows below it. A column that resembles no known one is left out and listed; one that resembles a known
//! one is refused, since what it holds would be missed.

mod column;

pub use column::Column;

use super::grid::{self, Field, Line, SEPARATORS};
use super::{CellPlace, Diagnostic, Faults, SourceText};
use crate::quantity::{Measure, QuantityError, parse};
use column::plain;
use std::borrow::Cow;
use std::ops::Range;

/// The most rows of a table.
pub const MAX_ROWS: usize = 200_000;
/// The most columns of a table.
pub const MAX_COLUMNS: usize = 500;
/// What a mapping says of a column that is left out on purpose.
pub const IGNORE: &str = "ignore";

/// A column that was found.
#[derive(Debug, Clone)]
struct Found {
    /// Its index among the known columns.
    column: usize,
    /// Its index in the head.
    at: usize,
    title: String,
    unit: Option<&'static str>,
}

/// A column that is not read.
#[derive(Debug, Clone)]
struct Foreign {
    /// Its index in the head.
    at: usize,
    title: String,
    is_ignored: bool,
    /// Whether its title is, or resembles, that of a column that is read.
    is_like_known: bool,
}

/// What a title turns out to be.
enum Title {
    Known(usize, Option<&'static str>),
    Foreign,
    /// A message and what to write instead.
    Refused(String, String),
}

/// A table as read: see the [module](self).
#[derive(Debug, Clone)]
pub struct Table {
    source: SourceText,
    columns: Vec<Column>,
    found: Vec<Found>,
    left_out: Vec<String>,
    /// The columns that are not read.
    foreign: Vec<Foreign>,
    /// Their cells that say something, by row.
    others: Vec<(usize, usize, Field)>,
    /// Columns without a title, which are listed where a row says something there.
    untitled: Vec<usize>,
    separator: char,
    lines: Vec<Line>,
    /// The cells of the columns found, row by row.
    cells: Vec<Field>,
    faults: Faults,
}

impl Table {
    /// Reads a table whose head is the first line that is no comment. `mapping` gives titles a known column, or
    /// [`IGNORE`]: `("V0", "velocity (ft/s)")`.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the head can't be read: an unknown unit, a column twice, one that resembles a known one.
    /// Rows that can't be read are [`Table::faults`].
    pub fn read(source: &SourceText, columns: &[Column], mapping: &[(&str, &str)]) -> Result<Self, Diagnostic> {
        let mut lines = grid::lines(&source.text).filter(|line| !line.is_blank(source));
        let Some(head) = lines.find(|line| !line.is_comment(source)) else {
            let heads: Vec<String> = columns.iter().map(Column::example).collect();
            let help = format!("begin with a line of column heads; those that are read: {}", heads.join(", "));
            return Err(source.fault(0..0, "the table is empty").help(help));
        };
        let separator = separator(source, &head, columns);
        let mut table = Self {
            source: source.clone(),
            columns: columns.to_vec(),
            found: Vec::new(),
            left_out: Vec::new(),
            foreign: Vec::new(),
            others: Vec::new(),
            untitled: Vec::new(),
            separator,
            lines: Vec::new(),
            cells: Vec::new(),
            faults: Faults::default(),
        };
        let width = table.read_head(&head, mapping)?;
        let mut cells = Vec::new();
        for line in lines {
            if table.lines.len() + table.faults.count() == MAX_ROWS {
                let help = "split the table";
                table.faults.push(source.fault(line.span, format!("more than {MAX_ROWS} rows")).help(help));
                break;
            }
            table.read_row(line, width, &mut cells);
        }
        Ok(table)
    }

    /// Finds the known columns; returns how many cells the head has.
    fn read_head(&mut self, head: &Line, mapping: &[(&str, &str)]) -> Result<usize, Diagnostic> {
        let source = self.source.clone();
        let row = |fault: Diagnostic| fault.cell(CellPlace { row: head.number, column: None, text: None });
        let mut cells = Vec::new();
        let count = grid::cut(&source, head, self.separator, MAX_COLUMNS, &mut cells)
            .map_err(|quote| row(quote.fault(&source)))?;
        if count > MAX_COLUMNS {
            let fault = source.fault(head.span.clone(), format!("more than {MAX_COLUMNS} columns"));
            return Err(row(fault.help("leave out those that are not read")));
        }
        for (title, _) in mapping {
            if !cells.iter().any(|cell| plain(&cell.text(&source)) == plain(title)) {
                let fault = source.fault(head.span.clone(), format!("there is no column `{title}`"));
                return Err(row(fault.help("write the title as it stands in the head of the table")));
            }
        }
        for (at, cell) in cells.iter().enumerate() {
            let title = cell.text(&source).into_owned();
            let mapped = mapping.iter().find(|(from, _)| plain(from) == plain(&title)).map(|(_, to)| *to);
            let other = mapped.and_then(|to| other_unit(&self.columns, &title, to));
            match other.unwrap_or_else(|| resolve(&self.columns, mapped.unwrap_or(&title), mapped.is_some())) {
                Title::Known(column, unit) => {
                    if let Some(twin) = self.found.iter().find(|found| found.column == column) {
                        let key = self.columns[column].key;
                        let message = format!("`{}` and `{title}` are both the column `{key}`", twin.title);
                        return Err(row(source
                            .fault(cell.span.clone(), message)
                            .help("remove one of them, or give it a name that says what else it is")));
                    }
                    self.found.push(Found { column, at, title, unit });
                }
                Title::Foreign if title.is_empty() => {
                    let title = format!("column {}", at + 1);
                    self.foreign.push(Foreign { at, title, is_ignored: false, is_like_known: false });
                    self.untitled.push(at);
                }
                Title::Foreign => {
                    let is_like_known = !matches!(resolve(&self.columns, &title, false), Title::Foreign);
                    let is_ignored = mapped.is_some();
                    self.foreign.push(Foreign { at, title: title.clone(), is_ignored, is_like_known });
                    self.left_out.push(title);
                }
                Title::Refused(message, help) => {
                    return Err(row(source.fault(cell.span.clone(), message).help(help)));
                }
            }
        }
        Ok(cells.len())
    }

    fn read_row(&mut self, line: Line, width: usize, cells: &mut Vec<Field>) {
        let source = &self.source;
        let place = || CellPlace { row: line.number, column: None, text: None };
        match grid::cut(source, &line, self.separator, width, cells) {
            Err(quote) => self.faults.push_with(|| quote.fault(source).cell(place())),
            Ok(count) if count != width => self.faults.push_with(|| ragged(source, &line, count, width).cell(place())),
            Ok(_) => {
                let left_out = &mut self.left_out;
                self.untitled.retain(|at| {
                    let is_blank = cells[*at].is_blank();
                    if !is_blank {
                        left_out.push(format!("column {}", at + 1));
                    }
                    is_blank
                });
                let index = self.lines.len();
                let says = self.foreign.iter().enumerate().filter(|(_, foreign)| !cells[foreign.at].is_blank());
                self.others.extend(says.map(|(column, foreign)| (index, column, cells[foreign.at].clone())));
                self.cells.extend(self.found.iter().map(|found| cells[found.at].clone()));
                self.lines.push(line);
            }
        }
    }

    /// The rows that could be read, in their order.
    #[must_use]
    pub fn rows(&self) -> impl ExactSizeIterator<Item = Row<'_>> {
        (0..self.lines.len()).map(|index| Row { table: self, index })
    }

    /// Rows that could not be cut into cells: they are not among [`Table::rows`].
    #[must_use]
    pub fn faults(&self) -> &Faults {
        &self.faults
    }

    /// Titles of the columns that are not read, in their order.
    #[must_use]
    pub fn left_out(&self) -> &[String] {
        &self.left_out
    }

    /// The columns that are not read and were not left out on purpose, by [`IGNORE`].
    pub fn foreign(&self) -> impl Iterator<Item = &str> {
        self.foreign.iter().filter(|foreign| !foreign.is_ignored).map(|foreign| foreign.title.as_str())
    }

    /// The columns that were left out on purpose, by [`IGNORE`], and whether each is headed as one that is read, or much
    /// like one.
    pub fn ignored(&self) -> impl Iterator<Item = (&str, bool)> {
        let ignored = self.foreign.iter().filter(|foreign| foreign.is_ignored);
        ignored.map(|foreign| (foreign.title.as_str(), foreign.is_like_known))
    }

    /// Whether the table has a column.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.found.iter().any(|found| self.columns[found.column].key == key)
    }

    /// The text it was read from.
    #[must_use]
    pub fn source(&self) -> &SourceText {
        &self.source
    }
}

/// A row of more or fewer cells than the head has.
#[must_use]
pub fn ragged(source: &SourceText, line: &Line, count: usize, width: usize) -> Diagnostic {
    let cells = if count == 1 { "1 cell".to_owned() } else { format!("{count} cells") };
    source
        .fault(line.span.clone(), format!("{cells}, the head has {width}"))
        .help("give every row a cell for every column, empty where there is nothing to say; quote a cell with a comma")
}

/// What separates the cells of a head: what makes the most known columns of it, then the most cells.
fn separator(source: &SourceText, head: &Line, columns: &[Column]) -> char {
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

/// A title's name and what stands in brackets behind it.
fn bracketed(title: &str) -> (&str, Option<&str>) {
    match title.split_once(['(', '[']) {
        Some((name, inside)) => (name, Some(inside.trim_end().trim_end_matches([')', ']']).trim())),
        None => (title, None),
    }
}

/// What a title is. A `mapped` one must be a known column, or left out.
fn resolve(columns: &[Column], title: &str, mapped: bool) -> Title {
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
                "head it {}; or, where it is something else, give it another name, or write `\"{title}\" = \"{IGNORE}\"` \
                 under `[columns]`",
                column.example_like(title)
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
fn other_unit(columns: &[Column], title: &str, to: &str) -> Option<Title> {
    let ((_, own), (name, given)) = (bracketed(title), bracketed(to));
    let (own, given) = (own?, given?);
    let units = columns.iter().find(|column| column.names().any(|known| known == plain(name)))?.units?;
    let (own, given) = ((units.spelled)(own)?, (units.spelled)(given)?);
    let message = format!("column `{title}` is in {own}, and is mapped to {given}");
    (own != given).then(|| Title::Refused(message, format!("map it to `{} ({own})`", name.trim())))
}

fn known(index: usize, column: &Column, title: &str, inside: Option<&str>) -> Title {
    let refused = |message| Title::Refused(message, format!("head it {}", column.example()));
    match (inside, column.units) {
        (None, _) => Title::Known(index, None),
        (Some(word), None) => refused(format!("column `{title}`: a {} has no unit, and `{word}` is none", column.key)),
        (Some(word), Some(units)) => match (units.spelled)(word) {
            Some(unit) => Title::Known(index, Some(unit)),
            None => refused(format!("column `{title}`: `{word}` is not a unit of {}", units.quantity)),
        },
    }
}

/// A row of a table.
#[derive(Debug, Clone, Copy)]
pub struct Row<'t> {
    table: &'t Table,
    index: usize,
}

impl<'t> Row<'t> {
    /// Its number, from 1, as a spreadsheet counts: the head and what stands above it counted.
    #[must_use]
    pub fn number(&self) -> usize {
        self.table.lines[self.index].number
    }

    /// Its bytes in the text.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.table.lines[self.index].span.clone()
    }

    /// The cell of a column; `None` where the table has no such column, or the cell is empty.
    #[must_use]
    pub fn cell(&self, key: &str) -> Option<TableCell<'t>> {
        self.cells().find(|cell| cell.key() == key)
    }

    /// The cells that are not empty, in the order of the head.
    pub fn cells(&self) -> impl Iterator<Item = TableCell<'t>> + use<'t> {
        let (table, index) = (self.table, self.index);
        let width = table.found.len();
        table
            .found
            .iter()
            .zip(&table.cells[index * width..])
            .filter(|(_, field)| !field.is_blank())
            .map(move |(found, field)| TableCell { row: Row { table, index }, found, field })
    }

    /// The cells of columns that are not read and were not left out on purpose, where they say something: the title
    /// and the text of each.
    pub fn others(&self) -> impl Iterator<Item = (&'t str, Cow<'t, str>)> + use<'t> {
        self.not_read(false)
    }

    /// The same of the columns that were left out on purpose.
    pub fn ignored(&self) -> impl Iterator<Item = (&'t str, Cow<'t, str>)> + use<'t> {
        self.not_read(true)
    }

    fn not_read(&self, ignored: bool) -> impl Iterator<Item = (&'t str, Cow<'t, str>)> + use<'t> {
        let (table, index) = (self.table, self.index);
        let from = table.others.partition_point(|(row, ..)| *row < index);
        let mine = table.others[from..].iter().take_while(move |(row, ..)| *row == index);
        let mine = mine.map(|(_, column, field)| (&table.foreign[*column], field));
        let mine = mine.filter(move |(foreign, _)| foreign.is_ignored == ignored);
        mine.map(|(foreign, field)| (foreign.title.as_str(), field.text(&table.source)))
    }

    /// A fault of a cell that is not read.
    #[must_use]
    pub fn fault_at(&self, title: &str, text: &str, message: impl Into<String>) -> Diagnostic {
        let cell = CellPlace { row: self.number(), column: Some(title.into()), text: Some(text.into()) };
        self.table.source.fault(self.span(), message).cell(cell)
    }

    /// A fault of the row as a whole.
    #[must_use]
    pub fn fault(&self, message: impl Into<String>) -> Diagnostic {
        let cell = CellPlace { row: self.number(), column: None, text: None };
        self.table.source.fault(self.span(), message).cell(cell)
    }
}

/// A cell that is not empty.
#[derive(Debug, Clone, Copy)]
pub struct TableCell<'t> {
    row: Row<'t>,
    found: &'t Found,
    field: &'t Field,
}

impl<'t> TableCell<'t> {
    /// The key of its column.
    #[must_use]
    pub fn key(&self) -> &'static str {
        self.row.table.columns[self.found.column].key
    }

    /// The title of its column, as it stands in the head.
    #[must_use]
    pub fn title(&self) -> &'t str {
        &self.found.title
    }

    /// What it says.
    #[must_use]
    pub fn text(&self) -> Cow<'t, str> {
        self.field.text(&self.row.table.source)
    }

    /// What it says, with a point for decimals and the unit of its head behind a number that has none: `168 gr`.
    #[must_use]
    pub fn with_unit(&self) -> String {
        let text = pointed(&self.text(), self.row.table.separator);
        match self.found.unit {
            Some(unit) if text.parse::<f64>().is_ok() => format!("{text} {unit}").trim_end().to_owned(),
            _ => text,
        }
    }

    /// The unit of its head.
    #[must_use]
    pub fn head_unit(&self) -> Option<&'static str> {
        self.found.unit
    }

    /// The quantity it says, with its unit in the head or in the cell.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the cell.
    pub fn quantity<Q: Measure>(&self) -> Result<Q, Diagnostic> {
        let text = self.with_unit();
        parse::<Q>(&text).map_err(|error| {
            let more = match error {
                QuantityError::NoUnit { .. } => {
                    format!(", or head the column {}", self.row.table.columns[self.found.column].example())
                }
                _ => String::new(),
            };
            self.fault(error.to_string()).help(error.help() + &more)
        })
    }

    /// The number it says.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the cell.
    pub fn number(&self) -> Result<f64, Diagnostic> {
        let text = pointed(&self.text(), self.row.table.separator);
        let number = text.parse::<f64>().ok().filter(|n| n.is_finite());
        number.ok_or_else(|| self.fault(format!("`{}` is not a number", self.text())).help("write a plain number"))
    }

    /// A fault of this cell.
    #[must_use]
    pub fn fault(&self, message: impl Into<String>) -> Diagnostic {
        let cell = CellPlace {
            row: self.row.number(),
            column: Some(self.found.title.clone()),
            text: Some(self.text().into_owned()),
        };
        self.row.table.source.fault(self.field.span.clone(), message).cell(cell)
    }
}

/// A decimal comma turned into a point, where it stands in the number that begins the text: `139,5 gr`. Where commas
/// separate cells, only one that can't stand between thousands: `790,4`, not `2,655`. What has a point as well could
/// be read in two ways and stays.
#[must_use]
pub fn pointed(text: &str, separator: char) -> String {
    if text.contains('.') {
        return text.to_owned();
    }
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let of_thousands = |whole: &str, rest: &str| separator == ',' && digits(rest) == 3 && whole.len() <= 3;
    let unsigned = text.trim_start_matches(['+', '-']);
    match unsigned.split_once(',') {
        Some((whole, rest))
            if !whole.is_empty()
                && whole.bytes().all(|b| b.is_ascii_digit())
                && rest.starts_with(|c: char| c.is_ascii_digit())
                && !rest.contains(',')
                && !of_thousands(whole, rest) =>
        {
            text.replacen(',', ".", 1)
        }
        _ => text.to_owned(),
    }
}

#[cfg(test)]
mod tests;
