//! One page, whatever it is rendered to: a headline, blocks, and the notice no page is without.

use crate::rules::Verdict;
use crate::source::sanitize;

/// How a line stands: said by words and marks, never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tone {
    /// Nothing to judge.
    #[default]
    Plain,
    /// It suits.
    Good,
    /// Borderline, or not known.
    Doubtful,
    /// Unsuitable.
    Bad,
}

impl From<Verdict> for Tone {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Suits => Self::Good,
            Verdict::Borderline => Self::Doubtful,
            Verdict::Unsuitable => Self::Bad,
        }
    }
}

/// A page for people.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// The answer in one line, as it is read out over the phone.
    pub headline: String,
    /// How it stands.
    pub tone: Tone,
    /// The rest.
    pub blocks: Vec<Block>,
    notice: Notice,
}

impl Page {
    /// A page with its answer and the notice.
    #[must_use]
    pub fn new(tone: Tone, headline: impl Into<String>, notice: Notice) -> Self {
        Self { headline: headline.into(), tone, blocks: Vec::new(), notice }
    }

    /// The notice.
    #[must_use]
    pub fn notice(&self) -> &Notice {
        &self.notice
    }

    /// The page with no text that could steer a terminal, turn the order of reading or break a line: names come
    /// from files of others.
    #[must_use]
    pub fn sanitized(&self) -> Self {
        let blocks = self.blocks.iter().map(Block::sanitized).collect();
        Self { headline: clean(&self.headline), tone: self.tone, blocks, notice: self.notice.clone() }
    }

    /// Adds a block.
    pub fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds a heading and a list, unless the list is empty.
    pub fn push_list(&mut self, heading: &str, items: Vec<String>) {
        if !items.is_empty() {
            self.blocks.push(Block::Heading(heading.into()));
            self.blocks.push(Block::List(items));
        }
    }
}

/// What every page ends with: what these limits are, and what stands above them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice(String);

impl Default for Notice {
    fn default() -> Self {
        Self(
            "Eye and ear protection for everyone, spectators too. These limits are rules of thumb for AR500 \
             plate and guarantee nothing. The range's own rules, local law and the range officer stand above \
             this advice: the stricter wins."
                .into(),
        )
    }
}

impl Notice {
    /// Its words.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}

/// A part of a page.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Text(String),
    /// A list.
    List(Vec<String>),
    /// Labels with their values.
    Facts(Vec<(String, String)>),
    /// A table.
    Table(Table),
}

fn clean(text: &str) -> String {
    sanitize(text).into_owned()
}

impl Block {
    fn sanitized(&self) -> Self {
        match self {
            Self::Heading(text) => Self::Heading(clean(text)),
            Self::Text(text) => Self::Text(clean(text)),
            Self::List(items) => Self::List(items.iter().map(|item| clean(item)).collect()),
            Self::Facts(facts) => Self::Facts(facts.iter().map(|(a, b)| (clean(a), clean(b))).collect()),
            Self::Table(table) => Self::Table(table.sanitized()),
        }
    }
}

/// How a column is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its heading.
    pub title: String,
    /// How it is set.
    pub align: Align,
}

impl Column {
    /// A column of words.
    #[must_use]
    pub fn words(title: impl Into<String>) -> Self {
        Self { title: title.into(), align: Align::Left }
    }

    /// A column of numbers.
    #[must_use]
    pub fn numbers(title: impl Into<String>) -> Self {
        Self { title: title.into(), align: Align::Right }
    }
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A row; a cell that is `None` has no value, which is not zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// The cells, one for each column.
    pub cells: Vec<Option<String>>,
    /// How it stands.
    pub tone: Tone,
}

impl Table {
    /// A table without rows.
    #[must_use]
    pub fn new(columns: Vec<Column>) -> Self {
        Self { columns, rows: Vec::new() }
    }

    fn sanitized(&self) -> Self {
        let column = |column: &Column| Column { title: clean(&column.title), align: column.align };
        let cells = |row: &Row| row.cells.iter().map(|cell| cell.as_deref().map(clean)).collect();
        Self {
            columns: self.columns.iter().map(column).collect(),
            rows: self.rows.iter().map(|row| Row { cells: cells(row), tone: row.tone }).collect(),
        }
    }

    /// Adds a row.
    pub fn push(&mut self, tone: Tone, cells: Vec<Option<String>>) {
        self.rows.push(Row { cells, tone });
    }
}
