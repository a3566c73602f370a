//! Where a key of a record stands in its file.

use crate::source::SourceText;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The span of a key with its value in the record that spans `record`, however the record is written:
/// under a header, inline, with quoted keys; a key that is not the record's own is looked for in its tables. The
/// record's own span where the key is not there.
pub(crate) fn key_span(source: &SourceText, record: &Range<usize>, key: &str) -> Range<usize> {
    let file = DeTable::parse(&source.text);
    let found = file.as_ref().ok().and_then(|file| in_table(file.get_ref(), &file.span(), record, key));
    found.unwrap_or_else(|| record.clone())
}

fn in_table(table: &DeTable, span: &Range<usize>, record: &Range<usize>, key: &str) -> Option<Range<usize>> {
    if span == record {
        let within = || table.values().filter_map(|value| value.get_ref().as_table()).find_map(|t| key_of(t, key));
        return key_of(table, key).or_else(within);
    }
    table.values().find_map(|value| in_value(value, record, key))
}

/// A table's own key with its value.
fn key_of(table: &DeTable, key: &str) -> Option<Range<usize>> {
    let (name, value) = table.iter().find(|(name, _)| name.get_ref() == key)?;
    Some(name.span().start..value.span().end.max(name.span().end))
}

fn in_value(value: &Spanned<DeValue>, record: &Range<usize>, key: &str) -> Option<Range<usize>> {
    match value.get_ref() {
        DeValue::Table(table) => in_table(table, &value.span(), record, key),
        DeValue::Array(values) => values.iter().find_map(|value| in_value(value, record, key)),
        _ => None,
    }
}
