//! The plates and the rules of a question.

use super::super::books::Books;
use super::super::error::at;
use super::super::question::{Inline, OneOrMany};
use super::inline::Files;
use crate::catalog::Catalog;
use crate::plate::{Ladder, Plate, same_thickness};
use crate::rules::{RuleSet, SERVICE_NOTICE_NAME, service_notice};
use crate::source::{Diagnostic, SourceText, clean};
use crate::words;
use std::path::Path;
use std::sync::Arc;

/// The rules with those of the question's ranges.
pub(crate) fn rules(own: &Arc<RuleSet>, ranges: &OneOrMany<Inline>, files: &Files) -> Result<Arc<RuleSet>, Diagnostic> {
    if ranges.0.is_empty() {
        return Ok(Arc::clone(own));
    }
    let mut rules = RuleSet::clone(own);
    for inline in &ranges.0 {
        let source = match inline {
            Inline::File(name) if name == SERVICE_NOTICE_NAME => service_notice(),
            inline => files.source("range_rules", inline)?,
        };
        rules = rules.with_overlay(&source)?;
    }
    Ok(Arc::new(rules))
}

/// The ladder, or the question's in its place.
pub(crate) fn ladder(own: &Arc<Ladder>, plates: Option<&Inline>, files: &Files) -> Result<Arc<Ladder>, Diagnostic> {
    match plates {
        Some(inline) => Ladder::read(&files.source("plates", inline)?).map(Arc::new),
        None => Ok(Arc::clone(own)),
    }
}

/// The loads with those of the question.
pub(crate) fn catalog(own: &Arc<Catalog>, loads: &[Inline], files: &Files) -> Result<Arc<Catalog>, Diagnostic> {
    if loads.is_empty() {
        return Ok(Arc::clone(own));
    }
    let mut catalog = Catalog::clone(own);
    for inline in loads {
        add_loads(&mut catalog, inline, files)?;
    }
    Ok(Arc::new(catalog))
}

fn add_loads(catalog: &mut Catalog, inline: &Inline, files: &Files) -> Result<(), Diagnostic> {
    let source = files.source("loads", inline)?;
    let folder = match inline {
        Inline::File(reference) => Path::new(reference).parent(),
        Inline::Object(_) => None,
    };
    add_text(catalog, &source, folder.unwrap_or(Path::new("")), files)
}

/// Adds the loads of a text. A drag table that it names is looked for in the folder, where files may be read at all.
pub(crate) fn add_text(
    catalog: &mut Catalog,
    source: &SourceText,
    folder: &Path,
    files: &Files,
) -> Result<(), Diagnostic> {
    let table = |name: &str| files.text("drag_table", &folder.join(name).to_string_lossy());
    catalog.add(source, Some(&table)).map(drop)
}

/// The plate that was named: of any thickness, or where plates of one's own were given one of them.
pub(crate) fn plate(text: Option<&str>, books: &Books) -> Result<Plate, Diagnostic> {
    let text = text.ok_or_else(|| at("plate", "no plate was given", "give its thickness, `3/8 in`"))?;
    let plate = books.ladder.named(text).map_err(|e| at("plate", &e, e.help()))?;
    let own = books.ladder.plates();
    if !books.house_plates && !own.iter().any(|one| same_thickness(one.thickness, plate.thickness)) {
        let labels: Vec<String> = own.iter().map(|plate| clean(&plate.label)).collect();
        let message = format!("`{text}` is none of the plates that were given");
        return Err(at("plate", message, format!("they are {}", words::listed(&labels))));
    }
    Ok(plate)
}

/// The plates that were named; every one of the ladder where none was.
pub(crate) fn plates(texts: &OneOrMany<String>, books: &Books) -> Result<Vec<Plate>, Diagnostic> {
    if texts.0.is_empty() {
        return Ok(books.ladder.plates().to_vec());
    }
    let mut plates: Vec<Plate> = Vec::new();
    for text in &texts.0 {
        let plate = plate(Some(text), books)?;
        if !plates.contains(&plate) {
            plates.push(plate);
        }
    }
    Ok(plates)
}
