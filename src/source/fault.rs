//! Faults that a person can mend, and how they are shown.

use super::{SourceText, sanitize};
use crate::order::Order;
use crate::quantity::OutOfRange;
use crate::words::listed;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::borrow::Cow;
use std::fmt;
use std::ops::Range;

/// Of so many people whose rows have the same fault each is named.
const MAX_NAMED: usize = 3;
/// The most faults of one reading that are shown; the rest are counted.
pub const MAX_SHOWN_FAULTS: usize = 20;

/// A span in a named text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The text.
    pub source: SourceText,
    /// Byte offsets.
    pub span: Range<usize>,
}

/// A place in a table, as a spreadsheet shows it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CellPlace {
    /// The row, from 1, the head and what stands above it counted.
    pub row: usize,
    /// Further rows with the same fault.
    pub more: Vec<usize>,
    /// Whose rows they are, where that is known.
    pub of: Vec<String>,
    /// The head of its column; `None` where the whole row is at fault.
    pub column: Option<String>,
    /// What it holds.
    pub text: Option<String>,
}

/// A fault that a person can mend: what failed, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The option or key at fault, where there is one.
    pub field: Option<String>,
    /// What failed, lower case, the value in backticks.
    pub message: String,
    /// What to do about it.
    pub help: Option<String>,
    /// Where.
    pub place: Option<Place>,
    /// Where in a table.
    pub cell: Option<CellPlace>,
    /// Others that the same reading found, each told by itself.
    pub also: Vec<Diagnostic>,
}

impl Diagnostic {
    /// A fault without a place.
    pub fn plain(message: impl Into<String>) -> Self {
        Self { field: None, message: message.into(), help: None, place: None, cell: None, also: Vec::new() }
    }

    /// Adds what to do about it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Names the option or key at fault.
    #[must_use]
    pub fn field(mut self, field: impl Into<String>) -> Self {
        self.field = Some(field.into());
        self
    }

    /// Names the row and the cell of a table.
    #[must_use]
    pub fn cell(mut self, cell: CellPlace) -> Self {
        self.cell = Some(cell);
        self
    }

    /// Line and column, from 1.
    #[must_use]
    pub fn position(&self) -> Option<(usize, usize)> {
        self.place.as_ref().map(|p| p.source.position(p.span.start))
    }

    /// The message, behind the row and column, or the field, that it speaks of.
    fn title(&self) -> String {
        let message = self.told();
        match (&self.cell, &self.field) {
            (Some(cell), _) => format!("{}: {message}", cell.words()),
            (None, Some(field)) if !message.contains(field.as_str()) => format!("{field}: {message}"),
            (None, _) => message,
        }
    }

    /// The message behind whose rows it is of.
    #[must_use]
    pub fn told(&self) -> String {
        let message = &self.message;
        match self.cell.as_ref().map(|cell| cell.of.as_slice()) {
            None | Some([]) => message.clone(),
            Some(of) if of.len() > MAX_NAMED => {
                format!("{} and {} others: {message}", of[..MAX_NAMED].join(", "), of.len() - MAX_NAMED)
            }
            Some(of) => format!("{}: {message}", listed(of)),
        }
    }

    /// Takes the row of another fault along where it is the same one, of the same column; whether it does.
    fn takes(&mut self, other: &Self) -> bool {
        let file = |fault: &Self| fault.place.as_ref().map(|place| place.source.name.clone());
        let (Some(mine), Some(its)) = (&self.cell, &other.cell) else { return false };
        let is_same = mine.column == its.column && self.message == other.message && self.help == other.help;
        if !is_same || mine.row == its.row || file(self) != file(other) || !other.also.is_empty() {
            return false;
        }
        let its = its.clone();
        if let Some(mine) = &mut self.cell {
            mine.more.push(its.row);
            mine.more.extend(its.more);
            mine.of.extend(its.of);
        }
        true
    }
}

/// How many rows a fault is of; one where it is of none.
fn rows(fault: &Diagnostic) -> usize {
    1 + fault.cell.as_ref().map_or(0, |cell| cell.more.len())
}

impl CellPlace {
    /// A whole row.
    #[must_use]
    pub fn row(row: usize) -> Self {
        Self { row, ..Self::default() }
    }

    /// A cell by the head of its column, and what it holds.
    #[must_use]
    pub fn cell(row: usize, column: &str, text: impl Into<String>) -> Self {
        Self { column: Some(column.into()), text: Some(text.into()), ..Self::row(row) }
    }

    /// The rows, and the column where there is one: `rows 2 to 5 and 9`.
    #[must_use]
    pub fn words(&self) -> String {
        let mut runs: Vec<(usize, usize)> = vec![(self.row, self.row)];
        for &row in &self.more {
            match runs.last_mut() {
                Some((_, last)) if row == *last + 1 => *last = row,
                _ => runs.push((row, row)),
            }
        }
        let run = |&(first, last): &(usize, usize)| match last - first {
            0 => first.to_string(),
            1 => format!("{first} and {last}"),
            _ => format!("{first} to {last}"),
        };
        let rows = if self.more.is_empty() { "row" } else { "rows" };
        let column = self.column.as_ref().map(|column| format!(", column `{column}`")).unwrap_or_default();
        format!("{rows} {}{column}", listed(&runs.iter().map(run).collect::<Vec<_>>()))
    }
}

impl From<OutOfRange> for Diagnostic {
    fn from(error: OutOfRange) -> Self {
        Self::plain(error.to_string()).field(error.field).help(error.help())
    }
}

impl Place {
    /// The lines of the span and where they begin: the first line alone where there are many.
    fn excerpt(&self) -> (usize, &str, Range<usize>) {
        let text = &self.source.text;
        let boundary = |at: usize| (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        let (start, end) = (boundary(self.span.start), boundary(self.span.end));
        let first = self.source.line_at(start);
        let last = self.source.line_at(end.max(start));
        let last = if last - first > MAX_EXCERPT_LINES { first } else { last };
        let (begin, stop) = (self.source.line_start(first), self.source.line_start(last + 1));
        let lines = text.get(begin..stop).unwrap_or_default();
        (first, lines, start - begin..end.clamp(start, stop.max(start)) - begin)
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let title = self.title();
        let mut group = Group::with_title(Level::ERROR.primary_title(sanitize(&title)));
        let name = self.place.as_ref().map(|place| sanitize(&place.source.name)).unwrap_or_default();
        if let Some(place) = &self.place {
            let (line, lines, span) = place.excerpt();
            group = group.element(
                Snippet::source(lines)
                    .line_start(line)
                    .path(name.as_ref())
                    .annotation(AnnotationKind::Primary.span(span)),
            );
        }
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(wrapped(&sanitize(help))));
        }
        let text = Renderer::plain().term_width(WIDTH).render(&[group]);
        // What the lines of the file hold is shown as well.
        let lines: Vec<Cow<str>> = text.lines().map(sanitize).collect();
        f.write_str(&lines.join("\n"))
    }
}

impl std::error::Error for Diagnostic {}

/// The most lines that a fault shows.
const MAX_EXCERPT_LINES: usize = 6;
/// Lines of a fault are no longer, as far as their words can be parted.
pub(super) const WIDTH: usize = 80;
/// What stands before the help: ` = help: `, and a line number's width.
const BEFORE_HELP: usize = 12;

/// The help in lines that stay within the width, as far as its words can be parted.
fn wrapped(help: &str) -> String {
    let mut text = String::with_capacity(help.len());
    let mut line = 0;
    for word in help.split(' ') {
        let length = word.chars().count();
        if line > 0 && line + 1 + length > WIDTH - BEFORE_HELP {
            text.push('\n');
            line = 0;
        } else if line > 0 {
            text.push(' ');
            line += 1;
        }
        text.push_str(word);
        line += length;
    }
    text
}

/// The faults of a reading: the first [`MAX_SHOWN_FAULTS`] are kept, the rest are counted, so that a file of nothing
/// but faults costs no more than its text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Faults {
    shown: Vec<Diagnostic>,
    count: usize,
}

impl Faults {
    /// Takes a fault: the first are kept, each with all the rows that it is of.
    pub fn push(&mut self, fault: Diagnostic) {
        self.count += rows(&fault);
        self.keep(fault);
    }

    fn keep(&mut self, fault: Diagnostic) {
        if !self.shown.iter_mut().any(|known| known.takes(&fault)) && self.shown.len() < MAX_SHOWN_FAULTS {
            self.shown.push(fault);
        }
    }

    /// Takes the faults of another reading.
    pub fn append(&mut self, other: Self) {
        self.count += other.count;
        other.shown.into_iter().for_each(|fault| self.keep(fault));
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// How many of them are not among those shown.
    #[must_use]
    pub fn beyond(&self) -> usize {
        self.count - self.shown.iter().map(rows).sum::<usize>()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// The first of them.
    #[must_use]
    pub fn shown(&self) -> &[Diagnostic] {
        &self.shown
    }

    /// One fault that carries the others by their places, for a reader that returns one; none where there is none.
    #[must_use]
    pub fn into_one(mut self) -> Option<Diagnostic> {
        self.shown.order_by_key(Diagnostic::position);
        let mut told = self.into_told().into_iter();
        let first = told.next()?;
        Some(Diagnostic { also: told.collect(), ..first })
    }

    /// The first of them, and where there are more, how many more there are.
    #[must_use]
    pub fn into_told(mut self) -> Vec<Diagnostic> {
        let more = self.beyond();
        if more > 0 {
            let these = if more == 1 { "1 more fault is".to_owned() } else { format!("{more} more faults are") };
            self.shown
                .push(Diagnostic::plain(format!("{these} not shown")).help("mend these first, then run it again"));
        }
        self.shown
    }
}
