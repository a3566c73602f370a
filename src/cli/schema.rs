//! `thickset schema`: the form of what is asked and answered, for another program.
//!
//! The texts are made from the types by a test, with the feature `schema`.

/// A document: its name, the schema of the answer, and of the question where one is asked.
type Document = (&'static str, &'static str, Option<&'static str>);

macro_rules! document {
    ($name:literal) => {
        include_str!(concat!("../../data/schema/", $name, ".json"))
    };
}

const DOCUMENTS: &[Document] = &[
    ("advise", document!("advise"), Some(document!("advise-question"))),
    ("standoff", document!("standoff"), Some(document!("standoff-question"))),
    ("vet", document!("vet"), Some(document!("vet-question"))),
    ("strike", document!("strike"), Some(document!("strike-question"))),
    ("course", document!("course"), Some(document!("course-question"))),
    ("chrono", document!("chrono"), Some(document!("chrono-question"))),
    ("catalog", document!("catalog"), None),
    ("error", document!("error"), None),
];

/// The documents there are schemas of.
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    DOCUMENTS.iter().map(|(name, ..)| *name)
}

/// The schema of a document, or of the question that it answers; `None` where nothing is asked so.
pub(super) fn of(name: &str, question: bool) -> Option<&'static str> {
    let (_, answer, asked) = DOCUMENTS.iter().find(|(own, ..)| *own == name)?;
    if question { *asked } else { Some(answer) }
}
