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
mod head;

pub use column::Column;
pub use head::{IGNORE, MAX_COLUMNS, takes};

use super::grid::{self, Field, Line};
use super::{CellPlace, Diagnostic, Faults, SourceText};
use crate::quantity::{Measure, QuantityError, parse};
use column::plain;
use head::{Title, columns_named, other_unit, resolve, separator};
use std::borrow::Cow;
use std::ops::Range;

/// The most rows of a table.
pub const MAX_ROWS: usize = 200_000;
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
    /// The titles that a mapping gave a column.
    mapped: Vec<String>,
    head: Line,
    separator: char,
    lines: Vec<Line>,
    /// The cells of the columns found, row by row.
    cells: Vec<Field>,
    faults: Faults,
}

impl Table {
    /// Reads a table whose head is the first line that is no comment. `mapping` gives titles a known column, or
    /// [`IGNORE`]: `("V0", "velocity (ft/s)")`; [`Table::mapped`] are those that stand in the head.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the head can't be read: an unknown unit, a column twice, one that resembles a known one.
    /// Rows that can't be read are [`Table::faults`].
    pub fn read(source: &SourceText, columns: &[Column], mapping: &[(&str, &str)]) -> Result<Self, Diagnostic> {
        let (table, heads) = Self::with_heads(source, columns, mapping)?;
        together(heads).map_or(Ok(table), Err)
    }

    /// The same, with what is wrong with single heads, so that it can be told along with what is found in the rows.
    ///
    /// # Errors
    /// A [`Diagnostic`] where there is no head.
    pub fn with_heads(
        source: &SourceText,
        columns: &[Column],
        mapping: &[(&str, &str)],
    ) -> Result<(Self, Vec<Diagnostic>), Diagnostic> {
        let mut lines = grid::lines(&source.text).filter(|line| !line.is_blank(source));
        let Some(head) = lines.find(|line| !line.is_comment(source)) else {
            let heads: Vec<String> = columns.iter().map(Column::example).collect();
            let help = format!("begin with a line of column heads; those that are read: {}", heads.join(", "));
            return Err(source.fault(0..0, "the table is empty").help(help));
        };
        if let Some(fault) = title_above(source, &head, columns, mapping) {
            return Err(fault);
        }
        let separator = separator(source, &head, columns);
        let mut table = Self {
            source: source.clone(),
            columns: columns.to_vec(),
            found: Vec::new(),
            left_out: Vec::new(),
            foreign: Vec::new(),
            others: Vec::new(),
            untitled: Vec::new(),
            mapped: Vec::new(),
            head,
            separator,
            lines: Vec::new(),
            cells: Vec::new(),
            faults: Faults::default(),
        };
        let mut heads = Vec::new();
        let width = table.read_head(mapping, &mut heads)?;
        let mut cells = Vec::new();
        for line in lines {
            if table.lines.len() + table.faults.count() == MAX_ROWS {
                let help = "split the table";
                table.faults.push(source.fault(line.span, format!("more than {MAX_ROWS} rows")).help(help));
                break;
            }
            table.read_row(line, width, &mut cells);
        }
        heads.extend(table.without_units());
        Ok((table, heads))
    }

    /// Finds the known columns; returns how many cells the head has.
    fn read_head(&mut self, mapping: &[(&str, &str)], faults: &mut Vec<Diagnostic>) -> Result<usize, Diagnostic> {
        let (source, head) = (self.source.clone(), self.head.clone());
        let mut cells = Vec::new();
        let count = grid::cut(&source, &head, self.separator, MAX_COLUMNS, &mut cells)
            .map_err(|quote| self.of_head(quote.fault(&source)))?;
        if count > MAX_COLUMNS {
            let fault = source.fault(head.span.clone(), format!("more than {MAX_COLUMNS} columns"));
            return Err(self.of_head(fault.help("leave out those that are not read")));
        }
        for (at, cell) in cells.iter().enumerate() {
            let title = cell.text(&source).into_owned();
            let mapped = mapping.iter().filter(|(from, _)| plain(from) == plain(&title));
            self.mapped.extend(mapped.clone().map(|(from, _)| (*from).to_owned()));
            let mapped = mapped.map(|(_, to)| *to).next();
            let other = mapped.and_then(|to| other_unit(&self.columns, &title, to));
            match other.unwrap_or_else(|| resolve(&self.columns, mapped.unwrap_or(&title), mapped.is_some())) {
                Title::Known(column, unit) => {
                    let found = Found { column, at, title, unit };
                    if let Err((message, help)) = self.find(found) {
                        faults.push(self.of_head(source.fault(cell.span.clone(), message).help(help)));
                    }
                }
                Title::Foreign if title.is_empty() => {
                    let title = format!("column {}", at + 1);
                    self.foreign.push(Foreign { at, title, is_ignored: false, is_like_known: false });
                    self.untitled.push(at);
                }
                Title::Foreign => {
                    let is_like_known = !matches!(resolve(&self.columns, &title, false), Title::Foreign);
                    self.leave_out(Foreign { at, title, is_ignored: mapped.is_some(), is_like_known });
                }
                Title::Refused(message, help) => {
                    faults.push(self.of_head(source.fault(cell.span.clone(), message).help(help)));
                }
            }
        }
        Ok(cells.len())
    }

    /// Takes a known column. Of two, one that gives way to the other is not read.
    fn find(&mut self, found: Found) -> Result<(), (String, &'static str)> {
        let column = self.columns[found.column];
        let Some(twin) = self.found.iter().position(|other| other.column == found.column) else {
            self.found.push(found);
            return Ok(());
        };
        let first = self.found[twin].clone();
        let second = match (column.is_second(&found.title), column.is_second(&first.title)) {
            (true, false) => found,
            (false, true) => std::mem::replace(&mut self.found[twin], found),
            _ => {
                let message = format!("`{}` and `{}` are both the column `{}`", first.title, found.title, column.key);
                return Err((message, column.twice));
            }
        };
        self.leave_out(Foreign { at: second.at, title: second.title, is_ignored: false, is_like_known: true });
        Ok(())
    }

    fn leave_out(&mut self, foreign: Foreign) {
        self.left_out.push(foreign.title.clone());
        self.foreign.push(foreign);
    }

    /// A fault of the head.
    fn of_head(&self, fault: Diagnostic) -> Diagnostic {
        fault.cell(CellPlace::row(self.head.number))
    }

    /// A fault of a title of the head.
    #[must_use]
    pub fn fault_of_head(&self, title: &str, message: impl Into<String>) -> Diagnostic {
        let at = self.head.text(&self.source).find(title).map_or(0..0, |at| {
            let at = self.head.span.start + at;
            at..at + title.len()
        });
        self.of_head(self.source.fault(at, message))
    }

    /// Measured columns whose numbers have no unit, in the head or in any cell.
    fn without_units(&self) -> Vec<Diagnostic> {
        let is_bare = |cell: &TableCell| cell.with_unit().parse::<f64>().is_ok();
        let open = self.found.iter().filter_map(|found| Some((found, self.columns[found.column].units?)));
        let open = open.filter(|(found, _)| found.unit.is_none()).filter(|(found, units)| {
            let key = self.columns[found.column].key;
            let mut cells = self.rows().filter_map(|row| row.cell(key)).peekable();
            // One alone is told at its cell.
            cells.next_if(|cell| is_bare(cell) && !(units.reads)(&cell.with_unit())).is_some()
                && cells.peek().is_some()
                && cells.all(|cell| is_bare(&cell) && !(units.reads)(&cell.with_unit()))
        });
        open.map(|(found, units)| {
            let column = &self.columns[found.column];
            let message = format!("column `{}` has numbers without a unit", found.title);
            let help =
                format!("head it with the unit that they are in, one of {}: {}", (units.all)(), column.example());
            self.fault_of_head(&found.title, message).help(help)
        })
        .collect()
    }

    fn read_row(&mut self, line: Line, width: usize, cells: &mut Vec<Field>) {
        let source = &self.source;
        let place = || CellPlace::row(line.number);
        match grid::cut(source, &line, self.separator, width, cells) {
            Err(quote) => self.faults.push(quote.fault(source).cell(place())),
            Ok(count) if count != width => self.faults.push(ragged(source, &line, count, width).cell(place())),
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

    /// The titles of the mapping that stand in the head.
    pub fn mapped(&self) -> impl Iterator<Item = &str> {
        self.mapped.iter().map(String::as_str)
    }

    /// The title of a known column as it stands in the head.
    #[must_use]
    pub fn title(&self, key: &str) -> Option<&str> {
        let found = self.found.iter().find(|found| self.columns[found.column].key == key);
        found.map(|found| found.title.as_str())
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

/// Faults of one table as one: the first, and the others beside it.
#[must_use]
pub fn together(faults: Vec<Diagnostic>) -> Option<Diagnostic> {
    let mut faults = faults.into_iter();
    let mut first = faults.next()?;
    first.also.extend(faults);
    Some(first)
}

/// So many lines above a head are looked through for it.
const MAX_ABOVE: usize = 20;

/// A line that is no head, above one that seems to be: what stands in it would be missed.
fn title_above(source: &SourceText, first: &Line, columns: &[Column], mapping: &[(&str, &str)]) -> Option<Diagnostic> {
    let named = |line: &Line| columns_named(source, line, columns, mapping);
    let own = named(first);
    let lines = grid::lines(&source.text).filter(|line| line.number > first.number && !line.is_blank(source));
    let head = lines.take(MAX_ABOVE).find(|line| named(line) > own.max(1) + own)?;
    let message = format!("row {} is no head: the head seems to stand in row {}", first.number, head.number);
    let help =
        format!("remove the rows above row {}, or begin each of them with `#`; what they say is not read", head.number);
    Some(source.fault(first.span.clone(), message).help(help))
}

/// A row of more or fewer cells than the head has.
#[must_use]
pub fn ragged(source: &SourceText, line: &Line, count: usize, width: usize) -> Diagnostic {
    let cells = if count == 1 { "1 cell".to_owned() } else { format!("{count} cells") };
    source
        .fault(line.span.clone(), format!("{cells}, the head has {width}"))
        .help("give every row a cell for every column, empty where there is nothing to say; quote a cell with a comma")
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
        let cell = CellPlace::cell(self.number(), title, text);
        self.table.source.fault(self.span(), message).cell(cell)
    }

    /// A fault of the row as a whole.
    #[must_use]
    pub fn fault(&self, message: impl Into<String>) -> Diagnostic {
        let cell = CellPlace::row(self.number());
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
        let column = &self.row.table.columns[self.found.column];
        let text = pointed(&self.text(), self.row.table.separator);
        let text = if column.is_of_thousands { without_thousands(&self.text()).unwrap_or(text) } else { text };
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
            let help = match error {
                // Nobody but the one who wrote it knows which: what is shown is no more than how.
                QuantityError::NoUnit { .. } => {
                    let column = &self.row.table.columns[self.found.column];
                    let units = column.units.map(|units| (units.all)()).unwrap_or_default();
                    format!(
                        "write its unit behind it, one of {units}; or head the column with it, as {}",
                        column.example()
                    )
                }
                _ => error.help(),
            };
            self.fault(error.to_string()).help(help)
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
        let cell = CellPlace::cell(self.row.number(), &self.found.title, self.text());
        self.row.table.source.fault(self.field.span.clone(), message).cell(cell)
    }
}

/// A number with a comma behind its thousands, `2,600 ft/s`, without it.
fn without_thousands(text: &str) -> Option<String> {
    let (thousands, rest) = text.trim().split_once(',')?;
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let is_one = matches!(thousands.as_bytes(), [b'1'..=b'9']);
    (is_one && digits == 3 && !rest.contains(',')).then(|| format!("{thousands}{rest}"))
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
