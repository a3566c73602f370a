//! The columns that a table may have, and which of them a head is.

use crate::order::Order;
use crate::quantity::{Measure, parse};
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
    /// Other names that give way to the column itself where a table has both: a bib beside a shooter.
    gives_way: &'static [&'static str],
    /// What its values are, and words beside its name that make them another thing.
    holds: Option<(&'static str, &'static [&'static str])>,
    /// Whether a comma with three digits behind it parts thousands: nothing here is of the size of 2.6.
    pub(super) is_of_thousands: bool,
    /// What to do where two columns are headed as this one.
    pub(super) twice: &'static str,
}

/// What to do with two columns of one thing.
const TWICE: &str = "remove one of them, or give it a name that says what else it is";

/// The units of a measured column.
#[derive(Debug, Clone, Copy)]
pub(super) struct Units {
    pub quantity: &'static str,
    /// The symbol of the unit that is spelled so.
    pub spelled: fn(&str) -> Option<&'static str>,
    first: fn() -> &'static str,
    /// Every unit there is.
    pub all: fn() -> String,
    /// Whether a text is such a quantity.
    pub reads: fn(&str) -> bool,
}

fn spelled<Q: Measure>(word: &str) -> Option<&'static str> {
    let exact = Q::UNITS.iter().find(|unit| unit.is_spelled(word));
    exact.or_else(|| Q::UNITS.iter().find(|unit| unit.is_spelled_loosely(word))).map(|unit| unit.symbol)
}

fn first<Q: Measure>() -> &'static str {
    Q::UNITS.first().map_or("", |unit| unit.symbol)
}

fn all<Q: Measure>() -> String {
    let symbols = Q::UNITS.iter().filter(|unit| !unit.symbol.is_empty()).map(|unit| format!("`{}`", unit.symbol));
    symbols.collect::<Vec<_>>().join(", ")
}

impl Column {
    /// A column of words or plain numbers, with other names it goes by.
    #[must_use]
    pub const fn words(key: &'static str, aliases: &'static [&'static str]) -> Self {
        Self {
            key,
            aliases,
            units: None,
            exact: false,
            example_unit: None,
            gives_way: &[],
            holds: None,
            is_of_thousands: false,
            twice: TWICE,
        }
    }

    /// A column of quantities, with other names it goes by.
    #[must_use]
    pub const fn measured<Q: Measure>(key: &'static str, aliases: &'static [&'static str]) -> Self {
        let reads = |text: &str| parse::<Q>(text).is_ok();
        let units = Units { quantity: Q::NAME, spelled: spelled::<Q>, first: first::<Q>, all: all::<Q>, reads };
        Self { units: Some(units), ..Self::words(key, aliases) }
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

    /// The same with names that give way to it: where a table has both they are another column, that nothing reads.
    #[must_use]
    pub const fn else_by(self, gives_way: &'static [&'static str]) -> Self {
        Self { gives_way, ..self }
    }

    /// The same with what its values are, `the mean speed at the muzzle`, and words beside its name that make them
    /// another thing, `impact`.
    #[must_use]
    pub const fn holding(self, what: &'static str, other: &'static [&'static str]) -> Self {
        Self { holds: Some((what, other)), ..self }
    }

    /// The same where a comma with three digits behind it parts thousands, since no value is that small.
    #[must_use]
    pub const fn in_thousands(self) -> Self {
        Self { is_of_thousands: true, ..self }
    }

    /// The same with what to do where two columns are headed so.
    #[must_use]
    pub const fn where_twice(self, twice: &'static str) -> Self {
        Self { twice, ..self }
    }

    /// Whether a title is one that gives way to the column itself.
    pub(super) fn is_second(&self, title: &str) -> bool {
        let title = plain(title);
        self.gives_way.iter().any(|name| is_plainly(name, &title))
    }

    fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.key).chain(self.aliases.iter().copied()).chain(self.gives_way.iter().copied())
    }

    /// Whether a name in plain letters is this column's.
    pub(super) fn is_called(&self, name: &str) -> bool {
        self.names().any(|known| is_plainly(known, name))
    }

    /// What stands behind this column's name, where a name in plain letters begins with it.
    pub(super) fn behind_its_name<'n>(&self, name: &'n str) -> Option<&'n str> {
        self.names().find_map(|known| {
            let (own, rest) = name.split_at_checked(known.len())?;
            rest.strip_prefix(' ').filter(|_| is_plainly(known, own))
        })
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

    /// What to do with a title that resembles this column's: what it holds decides, and its numbers keep their unit.
    pub(super) fn meant_by(&self, title: &str, name: &str) -> String {
        let inside =
            title.split_once(['(', '[']).map(|(_, inside)| inside.trim_end().trim_end_matches([')', ']']).trim());
        let unit = inside.and_then(|word| (self.units?.spelled)(word));
        let head = match (unit, self.units) {
            (Some(unit), _) => format!("head it `{} ({unit})`", self.key),
            (None, Some(units)) if !(units.first)().is_empty() => {
                format!("head it {}, in the unit that its numbers are in", self.example())
            }
            _ => format!("head it {}", self.example()),
        };
        match self.holds {
            Some((what, other)) if name.split(' ').any(|word| other.contains(&word)) => {
                format!("`{}` is {what}: give that in a column of its own; where this is another thing", self.key)
            }
            Some((what, _)) => format!("where it is {what}, {head}; where it is another thing"),
            None => format!("{head}; or, where it is something else"),
        }
    }
}

/// A name without case, dashes and double spaces.
pub(super) fn plain(name: &str) -> String {
    let spaced = name.to_lowercase().replace(['_', '-'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a column's name, which has single spaces, is another without its case and dashes.
fn is_plainly(known: &str, plain: &str) -> bool {
    let letter = |byte: u8| if matches!(byte, b'_' | b'-') { b' ' } else { byte.to_ascii_lowercase() };
    known.len() == plain.len() && known.bytes().map(letter).eq(plain.bytes())
}

/// Shorter names are resembled by too much.
const MIN_RESEMBLED: usize = 4;

impl Column {
    /// Whether a name that is not this column's could be meant for it: a slip of the pen, or the name among others.
    pub(super) fn resembles(&self, name: &str) -> bool {
        let is_another = ANOTHER.contains(&name);
        // Names that give way are numbers of it, and much is numbered.
        let own = || std::iter::once(&self.key).chain(self.aliases).map(|name| plain(name));
        !is_another && own().any(|known| is_slip(name, &known) || (!self.exact && is_among(name, &known)))
    }
}

/// Names that are another thing: a lane is no lean, and rounds are no plates.
const ANOTHER: [&str; 5] = ["lane", "lanes", "round count", "shot count", "side"];
/// Words beside a column's name that make it another thing: who, which number, of what colour.
#[rustfmt::skip]
const BESIDE: [&str; 15] = [
    "#", "id", "color", "colour", "designer", "builder", "sponsor", "owner", "photo", "picture", "sign", "label", "by",
    "rifle", "gun",
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
