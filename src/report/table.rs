//! Tables with typed cells: a number keeps its value, its column the unit, so that a spreadsheet can reckon with it.

use super::tone::Tone;
use crate::quantity::{Measure, unit::Unit};
use crate::source::clean;
use crate::words::Units;

/// What a cell holds. Nothing is not zero.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Value {
    /// No value.
    #[default]
    None,
    /// Words.
    Words(String),
    /// A number in the unit of its column.
    Number {
        /// The number.
        value: f64,
        /// Digits behind the point.
        decimals: usize,
    },
}

impl From<Option<String>> for Value {
    fn from(words: Option<String>) -> Self {
        words.map_or(Self::None, Self::Words)
    }
}

impl From<&str> for Value {
    fn from(words: &str) -> Self {
        Self::Words(words.into())
    }
}

impl From<String> for Value {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

/// How a number that stands for a limit is rounded: never to the side that flatters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rounding {
    /// To the nearest.
    #[default]
    Near,
    /// Up: a distance to keep.
    Up,
    /// Down: a speed to stay under, a margin.
    Down,
}

/// Rounding up or down forgives this much of the last digit, so that 100 yd stays 100 yd.
const FORGIVEN: f64 = 1e-6;

impl Value {
    /// A number.
    #[must_use]
    pub fn number(value: f64, decimals: usize, rounding: Rounding) -> Self {
        if !value.is_finite() {
            return Self::None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_possible_wrap)] // A handful of decimals.
        let scale = 10_f64.powi(decimals as i32);
        let value = match rounding {
            Rounding::Near => value,
            Rounding::Up => (value * scale - FORGIVEN).ceil() / scale,
            Rounding::Down => (value * scale + FORGIVEN).floor() / scale,
        };
        Self::Number { value, decimals }
    }

    /// A count.
    #[must_use]
    pub fn count(count: u32) -> Self {
        Self::Number { value: f64::from(count), decimals: 0 }
    }

    /// The number alone.
    fn digits(value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}");
        // A minus sign on nothing says nothing.
        if text.trim_start_matches(['-', '0', '.']).is_empty() { text.replace('-', "") } else { text }
    }

    /// As people read it, with its unit unless the column's head carries it.
    #[must_use]
    pub fn text(&self, column: &Column) -> Option<String> {
        match self {
            Self::None => None,
            Self::Words(words) => Some(words.clone()),
            Self::Number { value, decimals } => {
                let digits = Self::digits(*value, *decimals);
                Some(match column.unit {
                    Some("°") if !column.unit_in_head => format!("{digits}°"),
                    Some(unit) if !column.unit_in_head => format!("{digits} {unit}"),
                    _ => digits,
                })
            }
        }
    }

    /// As a spreadsheet reads it.
    pub(super) fn plain(&self) -> String {
        match self {
            Self::None => String::new(),
            Self::Words(words) => words.clone(),
            Self::Number { value, decimals } => Self::digits(*value, *decimals),
        }
    }

    fn sanitized(&self) -> Self {
        match self {
            Self::Words(words) => Self::Words(clean(words)),
            other => other.clone(),
        }
    }
}

/// A kind of number in the units of an answer: symbol, how to read a quantity in it, digits and rounding.
#[derive(Debug)]
pub struct Scale<Q: 'static> {
    unit: &'static Unit<Q>,
    decimals: usize,
    rounding: Rounding,
}

impl<Q> Clone for Scale<Q> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<Q> Copy for Scale<Q> {}

impl<Q: Measure> Scale<Q> {
    /// Chooses between the units people read.
    #[must_use]
    pub fn pick(units: Units, us: (&'static Unit<Q>, usize), si: (&'static Unit<Q>, usize)) -> Self {
        let (unit, decimals) = if units == Units::Us { us } else { si };
        Self { unit, decimals, rounding: Rounding::Near }
    }

    /// The same, rounded to the side that does not flatter.
    #[must_use]
    pub fn rounded(self, rounding: Rounding) -> Self {
        Self { rounding, ..self }
    }

    /// The unit's symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        self.unit.symbol
    }

    /// The number of this unit.
    #[must_use]
    pub fn of(self, quantity: Q) -> f64 {
        self.unit.value(quantity)
    }

    /// A cell.
    #[must_use]
    pub fn cell(self, quantity: impl Into<Option<Q>>) -> Value {
        quantity.into().map_or(Value::None, |quantity| Value::number(self.of(quantity), self.decimals, self.rounding))
    }

    /// Number and unit in words.
    #[must_use]
    pub fn words(self, quantity: Q) -> String {
        let column = self.column("", "");
        self.cell(quantity).text(&column).unwrap_or_default()
    }

    /// A column of it.
    #[must_use]
    pub fn column(self, key: &str, title: &str) -> Column {
        Column::measured(key, title, self.symbol())
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
    /// Its name for programs, without its unit: `fast_speed`.
    pub key: String,
    /// Its heading.
    pub title: String,
    /// How it is set.
    pub align: Align,
    /// Symbol of the unit of its numbers.
    pub unit: Option<&'static str>,
    /// Whether the heading carries the unit, and the cells do not.
    pub unit_in_head: bool,
}

impl Column {
    fn new(key: &str, title: &str, align: Align, unit: Option<&'static str>) -> Self {
        Self { key: key.into(), title: title.into(), align, unit, unit_in_head: false }
    }

    /// A column of words.
    #[must_use]
    pub fn words(title: impl Into<String>) -> Self {
        let title = title.into();
        Self::new(&slug(&title), &title, Align::Left, None)
    }

    /// A column of numbers without a unit, or of words set like numbers.
    #[must_use]
    pub fn numbers(title: impl Into<String>) -> Self {
        let title = title.into();
        Self::new(&slug(&title), &title, Align::Right, None)
    }

    /// A column of numbers with a unit.
    #[must_use]
    pub fn measured(key: &str, title: &str, unit: &'static str) -> Self {
        Self::new(key, title, Align::Right, Some(unit))
    }

    /// The same under another name for programs.
    #[must_use]
    pub fn keyed(self, key: &str) -> Self {
        Self { key: key.into(), ..self }
    }

    /// The same with its unit in the head.
    #[must_use]
    pub fn unit_in_head(self) -> Self {
        Self { unit_in_head: true, ..self }
    }

    /// The head as people read it.
    #[must_use]
    pub fn head(&self) -> String {
        match self.unit {
            Some(unit) if self.unit_in_head && self.title.is_empty() => unit.into(),
            Some(unit) if self.unit_in_head => format!("{} {unit}", self.title),
            _ => self.title.clone(),
        }
    }

    /// The head as a spreadsheet reads it: `fast_speed_ft_s`.
    #[must_use]
    pub fn name(&self) -> String {
        self.unit.map_or_else(|| self.key.clone(), |unit| format!("{}_{}", self.key, unit_slug(unit)))
    }

    fn sanitized(&self) -> Self {
        Self { key: clean(&self.key), title: clean(&self.title), ..self.clone() }
    }
}

fn slug(text: &str) -> String {
    let mut name = String::new();
    for letter in text.chars() {
        if letter.is_alphanumeric() {
            name.extend(letter.to_lowercase());
        } else if !name.is_empty() && !name.ends_with('_') {
            name.push('_');
        }
    }
    name.trim_end_matches('_').to_owned()
}

fn unit_slug(unit: &str) -> String {
    match unit {
        "°" => "deg".into(),
        "%" => "percent".into(),
        other => slug(other),
    }
}

/// Where a table is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Place {
    /// On the page and for a spreadsheet.
    #[default]
    Both,
    /// On the page alone.
    Page,
    /// For a spreadsheet alone.
    Spreadsheet,
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Its name for programs; empty where it can't be asked for.
    pub name: String,
    /// Where it is shown.
    pub place: Place,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// The cells, one for each column.
    pub cells: Vec<Value>,
    /// How it stands.
    pub tone: Tone,
    /// Whether it is the one that the answer names.
    pub named: bool,
}

impl Table {
    /// A table without rows and without a name.
    #[must_use]
    pub fn new(columns: Vec<Column>) -> Self {
        Self { columns, ..Self::default() }
    }

    /// A table without rows that is asked for by a name.
    #[must_use]
    pub fn named(name: &str, place: Place, columns: Vec<Column>) -> Self {
        Self { name: name.into(), place, columns, rows: Vec::new() }
    }

    /// Adds a row of words.
    pub fn push(&mut self, tone: Tone, cells: Vec<Option<String>>) {
        self.push_cells(tone, cells.into_iter().map(Value::from).collect());
    }

    /// Adds a row.
    pub fn push_cells(&mut self, tone: Tone, cells: Vec<Value>) {
        self.rows.push(Row { cells, tone, named: false });
    }

    /// The table with some of its columns.
    #[must_use]
    pub fn only(&self, columns: &[usize]) -> Self {
        let row = |row: &Row| Row {
            cells: columns.iter().filter_map(|index| row.cells.get(*index).cloned()).collect(),
            ..row.clone()
        };
        Self {
            name: self.name.clone(),
            place: self.place,
            columns: columns.iter().filter_map(|index| self.columns.get(*index).cloned()).collect(),
            rows: self.rows.iter().map(row).collect(),
        }
    }

    /// Leaves out the columns without a single value.
    #[must_use]
    pub fn without_empty_columns(self) -> Self {
        let filled =
            |index: &usize| self.rows.iter().any(|row| row.cells.get(*index).is_some_and(|c| *c != Value::None));
        self.only(&(0..self.columns.len()).filter(filled).collect::<Vec<_>>())
    }

    pub(super) fn sanitized(&self) -> Self {
        let row = |row: &Row| Row { cells: row.cells.iter().map(Value::sanitized).collect(), ..row.clone() };
        Self {
            name: clean(&self.name),
            place: self.place,
            columns: self.columns.iter().map(Column::sanitized).collect(),
            rows: self.rows.iter().map(row).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Length, unit};

    #[test]
    fn a_cell_carries_its_unit_and_a_spreadsheet_the_number_alone() {
        let yards: Scale<Length> = Scale::pick(Units::Us, (&unit::YARD, 0), (&unit::METRE, 0)).rounded(Rounding::Up);
        let column = yards.column("closest", "closest");
        let cell = yards.cell(unit::YARD.of(100.2));
        assert_eq!((cell.text(&column), cell.plain()), (Some("101 yd".into()), "101".into()));
        assert_eq!(column.name(), "closest_yd");
        assert_eq!(cell.text(&column.clone().unit_in_head()), Some("101".into()));
        assert_eq!(column.unit_in_head().head(), "closest yd");
        assert_eq!(yards.cell(unit::YARD.of(100.000_000_1)).plain(), "100");
    }

    #[test]
    fn heads_are_words_that_a_program_can_name() {
        for (unit, name) in [("ft/s", "x_ft_s"), ("ft·lbf", "x_ft_lbf"), ("°", "x_deg"), ("%", "x_percent")] {
            assert_eq!(Column::measured("x", "x", unit).name(), name);
        }
        assert_eq!(Column::words("nearest limit").name(), "nearest_limit");
    }

    #[test]
    fn what_is_no_number_has_no_value_and_nothing_has_no_minus() {
        assert_eq!(Value::number(f64::NAN, 0, Rounding::Near), Value::None);
        assert_eq!(Value::number(-0.001, 0, Rounding::Near).plain(), "0");
        assert_eq!(Value::number(-0.1, 0, Rounding::Down).plain(), "-1");
    }
}
