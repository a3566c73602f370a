//! The thicknesses there are to choose from.

use super::label::{contradiction, spoken_against};
use crate::order::Order;
use crate::quantity::{Length, Measure, QuantityError, Text, parse, unit};
use crate::source::{Diagnostic, Keys, SourceText};
use serde::Deserialize;
use std::collections::HashSet;
use thiserror::Error;
use toml::Spanned;

/// The schema a file of plates states.
pub const SCHEMA: &str = "thickset/plates/1";
/// The most plates of a ladder.
pub const MAX_PLATES: usize = 100;
/// Thinnest plate that is taken, in.
const MIN_IN: f64 = 1.0 / 16.0;
/// Thickest plate that is taken, in.
const MAX_IN: f64 = 3.0;

/// A plate of a thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// What it is called, `3/8 in`.
    pub label: String,
    /// Its nominal thickness.
    pub thickness: Length,
}

/// Where a plate of the ladder comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlateNote {
    /// How well it is founded.
    pub basis: String,
    /// Where it comes from.
    pub source: String,
}

/// A plate that can't be. [`PlateError::help`] says what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlateError {
    /// A thickness that is not a quantity.
    #[error("plate `{text}`: {error}")]
    Thickness {
        /// What was written.
        text: String,
        /// What is wrong with it.
        error: QuantityError,
    },
    /// A thickness out of bounds.
    #[error("plate of `{text}` is not between 1/16 in and 3 in")]
    Bounds {
        /// What was written.
        text: String,
    },
}

impl PlateError {
    /// What to write instead.
    #[must_use]
    pub fn help(&self) -> String {
        "write a thickness with its unit, `3/8in` or `10mm`".into()
    }
}

impl Plate {
    /// A plate of a thickness, called by it.
    ///
    /// # Errors
    /// [`PlateError::Bounds`].
    pub fn new(label: impl Into<String>, thickness: Length) -> Result<Self, PlateError> {
        let (label, inches) = (label.into(), unit::INCH.value(thickness));
        if (MIN_IN * (1.0 - 1e-9)..=MAX_IN * (1.0 + 1e-9)).contains(&inches) {
            Ok(Self { label, thickness })
        } else {
            Err(PlateError::Bounds { text: label })
        }
    }
}

/// The plates to choose from, thin to thick.
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    plates: Vec<Plate>,
    notes: Vec<PlateNote>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    #[serde(default)]
    plate: Vec<Spanned<Record>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Record {
    label: Option<String>,
    thickness: Spanned<Text<Length>>,
    basis: Option<String>,
    source: Option<String>,
}

/// The keys of a file of plates.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![Keys::of::<File>(""), Keys::of::<Record>("[[plate]]")]
}

impl Ladder {
    /// The shipped ladder, 3/16 to 3/4 in. Its labels are not held against its plates each time: a test does.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the shipped file can't be read; a test shows that it can.
    pub fn builtin() -> Result<Self, Diagnostic> {
        let source = SourceText::new("data/plates.toml", include_str!("../../data/plates.toml"));
        Self::read_with(&source, &|_: &Record, _: &str| None)
    }

    /// The plates that a shop sells, or makes a product in, thin to thick; `None` where there are none.
    #[must_use]
    pub fn of_shop(plates: Vec<Plate>) -> Option<Self> {
        let note = || PlateNote { basis: "given".into(), source: "the shop's file".into() };
        let notes = plates.iter().map(|_| note()).collect();
        (!plates.is_empty()).then_some(Self { plates, notes })
    }

    /// Reads a ladder. The order in the file does not matter.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault; an empty ladder and two plates of one thickness are faults.
    pub fn read(source: &SourceText) -> Result<Self, Diagnostic> {
        Self::read_with(source, &|record: &Record, label: &str| {
            let notes = || record.basis.iter().chain(&record.source).find_map(|note| spoken_against(note));
            contradiction(label, record.thickness.get_ref().0).or_else(notes)
        })
    }

    /// Reads a ladder with what is said against a plate by its label and its notes.
    fn read_with(source: &SourceText, against: &dyn Fn(&Record, &str) -> Option<String>) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("plates", SCHEMA, |file: &File| &file.schema)?;
        if file.plate.is_empty() {
            return Err(source.fault(file.schema.span(), "there is no plate in this file").help("add a `[[plate]]`"));
        }
        if file.plate.len() > MAX_PLATES {
            return Err(Diagnostic::plain(format!("{} plates", file.plate.len())).help(format!("at most {MAX_PLATES}")));
        }
        let mut rows = Vec::new();
        for record in file.plate {
            let (span, record) = (record.span(), record.into_inner());
            let thickness = record.thickness.get_ref().0;
            // As it is written, so that a plate named in millimetres keeps its name.
            let written = source.text.get(record.thickness.span()).map(|text| text.trim_matches(['"', '\'']).trim());
            let label = record.label.as_deref().or(written).unwrap_or_default();
            if let Some(message) = against(&record, label) {
                let help = "call it by its thickness, or leave `label` out; what steel it is stands in the question";
                return Err(source.fault(span, message).help(help));
            }
            let plate =
                Plate::new(label, thickness).map_err(|e| source.fault(span.clone(), e.to_string()).help(e.help()))?;
            let note = PlateNote {
                basis: record.basis.unwrap_or_else(|| "given".into()),
                source: record.source.unwrap_or_else(|| format!("given in {}", source.name)),
            };
            rows.push((plate, note, span));
        }
        rows.order_by(|a, b| a.0.thickness.si().total_cmp(&b.0.thickness.si()));
        for pair in rows.windows(2) {
            if same_thickness(pair[0].0.thickness, pair[1].0.thickness) {
                let message = format!("two plates are {} thick", pair[1].0.label);
                return Err(source.fault(pair[1].2.clone(), message).help("remove one of them"));
            }
        }
        let mut labels = HashSet::new();
        if let Some((plate, _, span)) = rows.iter().find(|(plate, ..)| !labels.insert(plate.label.to_lowercase())) {
            let message = format!("two plates are called `{}`", plate.label);
            return Err(source.fault(span.clone(), message).help("give each a name of its own, or leave `label` out"));
        }
        let (plates, notes) = rows.into_iter().map(|(plate, note, _)| (plate, note)).unzip();
        Ok(Self { plates, notes })
    }

    /// The plates, thin to thick; at least one.
    #[must_use]
    pub fn plates(&self) -> &[Plate] {
        &self.plates
    }

    /// Where each plate comes from, in the same order.
    #[must_use]
    pub fn notes(&self) -> &[PlateNote] {
        &self.notes
    }

    /// The plate that a text names: one of the ladder, or one of its own thickness.
    ///
    /// # Errors
    /// [`PlateError`] where the text is no thickness that is taken.
    pub fn named(&self, text: &str) -> Result<Plate, PlateError> {
        let text = text.trim();
        let thickness: Length = parse(text).map_err(|error| PlateError::Thickness { text: text.into(), error })?;
        match self.plates.iter().find(|p| same_thickness(p.thickness, thickness)) {
            Some(plate) => Ok(plate.clone()),
            None => Plate::new(text, thickness),
        }
    }
}

/// Whether two thicknesses are the same nominal one.
#[must_use]
pub fn same_thickness(a: Length, b: Length) -> bool {
    (a.si() / b.si() - 1.0).abs() < 1e-9
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(plates: &str) -> Result<Ladder, Diagnostic> {
        Ladder::read(&SourceText::new("plates.toml", format!("schema = \"{SCHEMA}\"\n{plates}")))
    }

    #[test]
    fn the_shipped_ladder_runs_from_three_sixteenths_to_three_quarters() {
        let labels: Vec<String> = Ladder::builtin().unwrap().plates().iter().map(|p| p.label.clone()).collect();
        assert_eq!(labels, ["3/16 in", "1/4 in", "3/8 in", "1/2 in", "3/4 in"]);
        // As any other file is.
        let read = Ladder::read(&SourceText::new("data/plates.toml", include_str!("../../data/plates.toml")));
        assert_eq!(read.unwrap(), Ladder::builtin().unwrap());
    }

    #[test]
    fn a_ladder_out_of_order_is_sorted_and_one_plate_is_a_ladder() {
        let ladder = read("[[plate]]\nthickness = \"1/2 in\"\n[[plate]]\nthickness = \"6 mm\"\n").unwrap();
        assert!(ladder.plates()[0].thickness < ladder.plates()[1].thickness);
        assert_eq!(read("[[plate]]\nthickness = \"1/2 in\"\n").unwrap().plates().len(), 1);
    }

    #[test]
    fn an_empty_ladder_twins_and_absurd_plates_are_refused_at_their_place() {
        assert!(read("").is_err());
        let twins = read("[[plate]]\nthickness = \"1/2 in\"\n[[plate]]\nthickness = \"0.5 in\"\n").unwrap_err();
        assert_eq!(twins.position().unwrap().0, 4, "{twins}");
        assert!(read("[[plate]]\nthickness = \"9 in\"\n").unwrap_err().help.is_some());
        assert!(read("[[plate]]\nthickness = \"1/2\"\n").unwrap_err().help.unwrap().contains("in"));
    }

    #[test]
    fn a_label_that_names_another_thickness_and_two_of_one_label_are_refused() {
        let lies = read("[[plate]]\nlabel = \"3/8 in\"\nthickness = \"3/4 in\"\n").unwrap_err();
        assert!(lies.message.contains("3/8 in") && lies.message.contains("0.750 in"), "{lies}");
        let twice =
            "[[plate]]\nlabel = \"Big\"\nthickness = \"9.5 mm\"\n[[plate]]\nlabel = \"big\"\nthickness = \"19 mm\"\n";
        assert!(read(twice).unwrap_err().message.contains("Big") || read(twice).unwrap_err().message.contains("big"));
        for label in ["1/4 in AR500", "1/4\"", "AR500 1/4", "0.25 in plate"] {
            let text = format!("[[plate]]\nlabel = '{label}'\nthickness = \"1/2 in\"\n");
            assert!(read(&text).is_err(), "{label}");
        }
        assert!(read("[[plate]]\nlabel = \"12 in gong, 1/2 in\"\nthickness = \"1/2 in\"\n").is_ok());
        // A mill size goes by its nominal thickness, and a plate without a label by what is written.
        let mill =
            read("[[plate]]\nlabel = \"3/8 in\"\nthickness = \"9.5 mm\"\n[[plate]]\nthickness = \"10 mm\"\n").unwrap();
        assert_eq!(mill.plates().iter().map(|p| p.label.as_str()).collect::<Vec<_>>(), ["3/8 in", "10 mm"]);
    }

    #[test]
    fn a_plate_is_named_by_any_text_of_its_thickness() {
        let ladder = Ladder::builtin().unwrap();
        for text in ["3/8in", "0.375 in", "9.525 mm"] {
            assert_eq!(ladder.named(text).unwrap().label, "3/8 in", "{text}");
        }
        assert_eq!(ladder.named("10 mm").unwrap().label, "10 mm");
        assert!(ladder.named("8").is_err() && ladder.named("-1 in").is_err());
    }
}
