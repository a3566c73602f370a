//! One page, whatever it is rendered to: a headline, blocks, and the notice no page is without.

use super::figure::Figure;
use super::table::{Place, Table};
use super::tone::Tone;
use crate::source::clean;
use thiserror::Error;

/// What a page is for, which decides how it is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Kind {
    /// An answer to read.
    #[default]
    Answer,
    /// A sheet for a customer.
    Customer,
    /// A chart for a wall: one landscape page.
    WallChart,
    /// Distances of a product, for a page of one's own.
    DistanceTable,
    /// A tag on a stand: 4 by 6 inches.
    Tag,
    /// The same with more on it, set smaller.
    CloseTag,
}

/// A page for people.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// The answer in one line, as it is read out over the phone.
    pub headline: String,
    /// How it stands.
    pub tone: Tone,
    /// What a person on the phone must hear next, a line each.
    pub lead: Vec<String>,
    /// The rest.
    pub blocks: Vec<Block>,
    /// What it is for.
    pub kind: Kind,
    /// None where a block holds it.
    notice: Option<Notice>,
}

/// Why a table can't be given.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PageError {
    /// The page has no table of that name.
    #[error("no table is called `{name}`")]
    UnknownTable {
        /// What was asked for.
        name: String,
        /// The tables there are.
        known: Vec<String>,
    },
    /// The page has no table.
    #[error("there is no table in this answer")]
    NoTable,
}

impl PageError {
    /// What to do instead.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::UnknownTable { known, .. } => format!("the tables here: {}", known.join(", ")),
            Self::NoTable => "ask for text or HTML".into(),
        }
    }
}

impl Page {
    /// A page with its answer and the notice.
    #[must_use]
    pub fn new(tone: Tone, headline: impl Into<String>, notice: Notice) -> Self {
        let notice = Some(notice);
        Self { headline: headline.into(), tone, lead: Vec::new(), blocks: Vec::new(), kind: Kind::Answer, notice }
    }

    /// A page whose blocks hold the notice.
    pub(super) fn holding_notice(tone: Tone, headline: impl Into<String>) -> Self {
        Self { notice: None, ..Self::new(tone, headline, Notice::default()) }
    }

    /// The notice, where no block holds it.
    #[must_use]
    pub fn notice(&self) -> Option<&Notice> {
        self.notice.as_ref()
    }

    /// Names of the tables that can be asked for as CSV; the first is given where none is named.
    #[must_use]
    pub fn tables(&self) -> Vec<String> {
        self.spreadsheet().iter().filter(|t| !t.name.is_empty()).map(|t| t.name.clone()).collect()
    }

    pub(super) fn spreadsheet(&self) -> Vec<&Table> {
        let tables = self.blocks.iter().filter_map(|block| match block {
            Block::Table(table) if table.place != Place::Page => Some(table),
            _ => None,
        });
        tables.collect()
    }

    /// The page with no text that could steer a terminal, turn the order of reading or break a line: names come
    /// from files of others.
    #[must_use]
    pub fn sanitized(&self) -> Self {
        let blocks = self.blocks.iter().map(Block::sanitized).collect();
        let lead = self.lead.iter().map(|line| clean(line)).collect();
        Self { headline: clean(&self.headline), lead, blocks, notice: self.notice.clone(), ..*self }
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

    /// Adds a paragraph that begins with its label, unless it is empty.
    pub fn push_note(&mut self, label: &str, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() {
            self.blocks.push(Block::Note(label.into(), text));
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
    /// A paragraph that begins with its label.
    Note(String, String),
    /// A list.
    List(Vec<String>),
    /// Labels with their values.
    Facts(Vec<(String, String)>),
    /// A table.
    Table(Table),
    /// A drawing; text has none.
    Figure(Figure),
}

impl Block {
    fn sanitized(&self) -> Self {
        match self {
            Self::Heading(text) => Self::Heading(clean(text)),
            Self::Text(text) => Self::Text(clean(text)),
            Self::Note(label, text) => Self::Note(clean(label), clean(text)),
            // A figure's words are made clean where it is drawn.
            Self::Figure(figure) => Self::Figure(figure.clone()),
            Self::List(items) => Self::List(items.iter().map(|item| clean(item)).collect()),
            Self::Facts(facts) => Self::Facts(facts.iter().map(|(a, b)| (clean(a), clean(b))).collect()),
            Self::Table(table) => Self::Table(table.sanitized()),
        }
    }
}
