//! The columns that a table may have, and which of them a head is.

use crate::order::Order;
use crate::quantity::Measure;
use crate::source::words;

/// A column that a table may have.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// What rows call it.
    pub key: &'static str,
    aliases: &'static [&'static str],
    pub(super) units: Option<Units>,
    exact: bool,
    /// The unit that an example is headed with, where it is not the quantity's first.
    example_unit: Option<&'static str>,
}

/// The units of a measured column.
#[derive(Debug, Clone, Copy)]
pub(super) struct Units {
    pub quantity: &'static str,
    /// The symbol of the unit that is spelled so.
    pub spelled: fn(&str) -> Option<&'static str>,
    first: fn() -> &'static str,
}

fn spelled<Q: Measure>(word: &str) -> Option<&'static str> {
    let exact = Q::UNITS.iter().find(|unit| unit.is_spelled(word));
    exact.or_else(|| Q::UNITS.iter().find(|unit| unit.is_spelled_loosely(word))).map(|unit| unit.symbol)
}

fn first<Q: Measure>() -> &'static str {
    Q::UNITS.first().map_or("", |unit| unit.symbol)
}

impl Column {
    /// A column of words or plain numbers, with other names it goes by.
    #[must_use]
    pub const fn words(key: &'static str, aliases: &'static [&'static str]) -> Self {
        Self { key, aliases, units: None, exact: false, example_unit: None }
    }

    /// A column of quantities, with other names it goes by.
    #[must_use]
    pub const fn measured<Q: Measure>(key: &'static str, aliases: &'static [&'static str]) -> Self {
        let units = Units { quantity: Q::NAME, spelled: spelled::<Q>, first: first::<Q> };
        Self { key, aliases, units: Some(units), exact: false, example_unit: None }
    }

    /// The same where only a slip of the pen resembles it: `last name` is no `name`.
    #[must_use]
    pub const fn exact(self) -> Self {
        Self { exact: true, ..self }
    }

    /// The same with an example of another unit: `plate (in)`.
    #[must_use]
    pub const fn headed(self, unit: &'static str) -> Self {
        Self { example_unit: Some(unit), ..self }
    }

    pub(super) fn names(&self) -> impl Iterator<Item = String> {
        std::iter::once(&self.key).chain(self.aliases).map(|name| plain(name))
    }

    /// How to write the head.
    pub(super) fn example(&self) -> String {
        match self.units {
            Some(_) if self.example_unit.is_some() => {
                format!("`{} ({})`", self.key, self.example_unit.unwrap_or_default())
            }
            Some(units) if !(units.first)().is_empty() => format!("`{} ({})`", self.key, (units.first)()),
            _ => format!("`{}`", self.key),
        }
    }

    /// The same, in the unit that a head which is not read names.
    pub(super) fn example_like(&self, title: &str) -> String {
        let inside =
            title.split_once(['(', '[']).map(|(_, inside)| inside.trim_end().trim_end_matches([')', ']']).trim());
        match inside.and_then(|word| (self.units?.spelled)(word)) {
            Some(unit) => format!("`{} ({unit})`", self.key),
            None => self.example(),
        }
    }
}

/// A name without case, dashes and double spaces.
pub(super) fn plain(name: &str) -> String {
    let spaced = name.to_lowercase().replace(['_', '-'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Shorter names are resembled by too much.
const MIN_RESEMBLED: usize = 4;

impl Column {
    /// Whether a name that is not this column's could be meant for it: a slip of the pen, or the name among others.
    pub(super) fn resembles(&self, name: &str) -> bool {
        let is_another = ANOTHER.contains(&name);
        !is_another && self.names().any(|known| is_slip(name, &known) || (!self.exact && is_among(name, &known)))
    }
}

/// Names that are another thing: a lane is no lean, and rounds are no plates.
const ANOTHER: [&str; 4] = ["lane", "lanes", "round count", "shot count"];
/// Words beside a column's name that make it another thing: who, which number, of what colour.
#[rustfmt::skip]
const BESIDE: [&str; 13] = [
    "#", "id", "color", "colour", "designer", "builder", "sponsor", "owner", "photo", "picture", "sign", "label", "by",
];

/// Whether the words of `known` stand in `name`, and no word that makes it another thing.
fn is_among(name: &str, known: &str) -> bool {
    known.len() >= MIN_RESEMBLED
        && format!(" {name} ").contains(&format!(" {known} "))
        && !name.split(' ').any(|word| BESIDE.contains(&word))
}

/// Whether `name` is `known` with a slip: a letter in four, or letters that changed places.
fn is_slip(name: &str, known: &str) -> bool {
    let sorted = |text: &str| {
        let mut letters: Vec<char> = text.chars().collect();
        letters.order();
        letters
    };
    if name.ends_with(" by") || known.len() < MIN_RESEMBLED || name.chars().next() != known.chars().next() {
        return false;
    }
    words::edits(name, known) <= known.chars().count() / 4 || sorted(name) == sorted(known)
}
