//! `thickset schema`: the form of what is asked and answered, for another program.

use crate::advisor::answer::{
    AdviseAnswer, CatalogAnswer, ChronoAnswer, CourseAnswer, StandoffAnswer, StrikeAnswer, VetAnswer,
};
use crate::advisor::question::{
    AdviseQuestion, ChronoQuestion, CourseQuestion, StandoffQuestion, StrikeQuestion, VetQuestion,
};
use crate::report::ErrorDocument;
use schemars::{Schema, schema_for};

/// The documents there are schemas of.
pub(super) const NAMES: &[&str] = &["advise", "standoff", "vet", "strike", "course", "chrono", "catalog", "error"];

/// The schema of a document, or of the question that it answers; `None` where nothing is asked so.
pub(super) fn of(name: &str, question: bool) -> Option<Schema> {
    Some(match (name, question) {
        ("advise", false) => schema_for!(AdviseAnswer),
        ("advise", true) => schema_for!(AdviseQuestion),
        ("standoff", false) => schema_for!(StandoffAnswer),
        ("standoff", true) => schema_for!(StandoffQuestion),
        ("vet", false) => schema_for!(VetAnswer),
        ("vet", true) => schema_for!(VetQuestion),
        ("strike", false) => schema_for!(StrikeAnswer),
        ("strike", true) => schema_for!(StrikeQuestion),
        ("catalog", false) => schema_for!(CatalogAnswer),
        ("error", false) => schema_for!(ErrorDocument),
        ("course", false) => schema_for!(CourseAnswer),
        ("course", true) => schema_for!(CourseQuestion),
        ("chrono", false) => schema_for!(ChronoAnswer),
        ("chrono", true) => schema_for!(ChronoQuestion),
        _ => return None,
    })
}
