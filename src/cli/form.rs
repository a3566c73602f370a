//! The form of an answer, and what is done with it: table, page, document or spreadsheet, and where it goes.

use super::Terminal;
use super::asked::is_given;
use super::options::option;
use crate::advisor::answer::Preamble;
use crate::report::{self, Detail, Format, Report};
use crate::source::{Diagnostic, is_unsafe_char, sanitize};
use clap::ArgMatches;
use serde::Serialize;
use serde_json::{Map, Value};
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// The sheets to hand out, in place of the page of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Sheet {
    Customer(String),
    Chart,
    Tag,
}

/// How the answer is given.
#[derive(Debug, Clone)]
pub(super) struct Form {
    pub format: Format,
    pub table: Option<String>,
    pub full: bool,
    pub explain: bool,
    pub fragment: bool,
    pub dated: Option<String>,
    pub sheet: Option<Sheet>,
    pub output: Option<PathBuf>,
    colour: Option<bool>,
}

fn text(matches: &ArgMatches, name: &str) -> Option<String> {
    matches.try_get_one::<String>(name).ok().flatten().cloned()
}

fn flag(matches: &ArgMatches, name: &str) -> bool {
    matches.try_get_one::<bool>(name).ok().flatten().copied().unwrap_or(false)
}

fn idle(option: &str, why: &str) -> Diagnostic {
    Diagnostic::plain(format!("`{option}` has no use here: {why}")).field(option.to_owned()).help("leave it out")
}

/// Endings of forms that no answer is written in.
#[rustfmt::skip]
const OTHER_ENDINGS: [&str; 46] = [
    "pdf", "ps", "eps", "tex", "rtf", "doc", "docx", "odt", "pages", "epub",
    "xls", "xlsx", "xlsm", "ods", "numbers", "tsv", "tab", "psv", "parquet", "sqlite", "db",
    "ppt", "pptx", "odp", "key",
    "md", "markdown", "rst", "adoc", "org", "xml", "xhtml", "mhtml", "yaml", "yml", "toml", "ini",
    "jsonl", "ndjson",
    "png", "jpg", "jpeg", "gif", "webp", "svg", "zip",
];

fn ending(file: &Path) -> Option<String> {
    Some(file.extension()?.to_str()?.to_lowercase())
}

/// The form that a file's ending says.
fn by_ending(file: &Path) -> Option<Format> {
    let ending = ending(file)?;
    if ending == "htm" { "html" } else { &ending }.parse().ok()
}

/// The ending of a file in a form.
fn ending_of(format: Format) -> String {
    if format == Format::Table { "txt".into() } else { format.to_string() }
}

/// Refuses a file whose ending says another form than what is written to it.
fn refuse_ending(file: &Path, given: Option<Format>, is_sheet: bool) -> Result<(), Diagnostic> {
    let fault = |message: String, help: String| Err(Diagnostic::plain(message).field("--output").help(help));
    let other = ending(file).filter(|ending| OTHER_ENDINGS.contains(&ending.as_str()));
    if let Some(other) = other {
        let help = match given {
            Some(format) => format!("end its name in `.{}`", ending_of(format)),
            None if is_sheet => "end its name in `.html`".into(),
            None => "end its name in `.html`, `.csv`, `.json` or `.txt`".into(),
        };
        return fault(format!("no answer is written as `.{other}`"), help);
    }
    match (given, by_ending(file)) {
        (Some(given), Some(says)) if given != says => fault(
            format!("`--format {given}` stands beside a file whose ending says `{says}`"),
            format!("leave `--format` out, or end its name in `.{}`", ending_of(given)),
        ),
        _ => Ok(()),
    }
}

impl Form {
    /// The form that the options ask for. What has no use in that form is refused by name.
    pub fn of(matches: &ArgMatches) -> Result<Self, Diagnostic> {
        let sheet = match (text(matches, "for"), flag(matches, "chart"), flag(matches, "tag")) {
            (Some(name), ..) => Some(Sheet::Customer(name)),
            (None, true, false) => Some(Sheet::Chart),
            (None, false, true) => Some(Sheet::Tag),
            (None, true, true) => return Err(idle("--tag", "`--chart` asks for another sheet")),
            (None, false, false) => None,
        };
        let given = text(matches, "format").and_then(|word| word.to_lowercase().parse::<Format>().ok());
        let output = text(matches, "output").map(PathBuf::from);
        let fragment = flag(matches, "fragment");
        let page = sheet.is_some() || fragment;
        // What writes something else than answers has no form to contradict.
        if let Some(file) = output.as_deref().filter(|_| matches.try_get_raw("format").is_ok()) {
            refuse_ending(file, given, page)?;
        }
        let format = match given {
            Some(format) if page && format != Format::Html => {
                return Err(Diagnostic::plain(format!("a sheet is a page to print, not `--format {format}`"))
                    .field("--format")
                    .help("leave `--format` out, or write `--format html`"));
            }
            Some(format) => format,
            None if page => match output.as_deref().and_then(by_ending) {
                Some(format) if format != Format::Html => {
                    return Err(Diagnostic::plain(
                        "a sheet is a page to print, and the file's ending says another form",
                    )
                    .field("--output")
                    .help("end its name in `.html`"));
                }
                _ => Format::Html,
            },
            None => output.as_deref().and_then(by_ending).unwrap_or_default(),
        };
        let form = Self {
            format,
            table: text(matches, "table"),
            full: flag(matches, "full"),
            explain: flag(matches, "explain"),
            fragment,
            dated: text(matches, "dated"),
            sheet,
            output,
            colour: match text(matches, "color").map(|word| word.to_lowercase()).as_deref() {
                Some("always") => Some(true),
                Some("never") => Some(false),
                _ => None,
            },
        };
        form.refuse_idle(matches)?;
        Ok(form)
    }

    fn refuse_idle(&self, matches: &ArgMatches) -> Result<(), Diagnostic> {
        let given = |name: &str| option(name).is_some() && matches.try_get_raw(name).is_ok() && is_given(name, matches);
        if self.table.is_some() && self.format != Format::Csv {
            return Err(idle("--table", "it names a table of `--format csv`"));
        }
        // A page of a product's distances, which `standoff` alone makes.
        let has = |name: &str| matches.try_get_raw(name).is_ok();
        let product_page = self.is_page() && has("chart") && given("product");
        if self.dated.is_some() && self.sheet.is_none() && !given("sheets") && !product_page {
            return Err(idle("--dated", "a sheet to hand out bears a date, and none is asked"));
        }
        if matches!(self.sheet, Some(Sheet::Chart | Sheet::Tag)) && given("at") {
            return Err(idle("--at", "a chart and a tag tell from where on a plate may be shot"));
        }
        if self.colour.is_some() && self.format != Format::Table {
            return Err(idle("--color", "only a table is coloured"));
        }
        let long = matches!(self.format, Format::Table | Format::Html) && self.sheet.is_none();
        for name in ["full", "explain"] {
            if given(name) && !long {
                return Err(idle(&format!("--{name}"), "this form of the answer has one length"));
            }
        }
        Ok(())
    }

    /// What of the answer is told.
    pub fn detail(&self) -> Detail {
        Detail { full: self.full, explain: self.explain }
    }

    /// Whether the answer is a page, which carries figures.
    pub fn is_page(&self) -> bool {
        self.format == Format::Html
    }

    /// The keys of a question, with flights for the figures where a page shows them.
    pub fn with_figures(&self, mut keys: Map<String, Value>) -> Map<String, Value> {
        if self.is_page() && !matches!(self.sheet, Some(Sheet::Chart | Sheet::Tag)) {
            keys.insert("figures".into(), Value::Bool(true));
        }
        keys
    }

    /// What a spreadsheet has no row for: what speaks against what was taken, what was left out or not judged, with the answer that holds without it, which
    /// is told always where rows are of many things and none is of the whole.
    pub fn beside<I>(&self, preamble: &Preamble<I>, is_of_many: bool) -> Vec<String> {
        // What could not be read is told as a fault.
        let not_judged = preamble.not_judged.iter().filter(|one| !one.unreadable);
        let not_judged = not_judged.map(|one| format!("Not judged: {}: {}.", one.what, one.why));
        let left_out = preamble.left_out.iter().map(|text| format!("Left out: {}.", text.trim_end_matches('.')));
        let doubts = preamble.doubts.iter().cloned();
        let lines: Vec<String> = doubts.chain(left_out).chain(not_judged).collect();
        if self.format != Format::Csv || (lines.is_empty() && !is_of_many) {
            return Vec::new();
        }
        let first = [&preamble.headline, &preamble.nearest].into_iter().filter(|line| !line.is_empty()).cloned();
        first.chain(lines).map(|line| sanitize(&line).into_owned()).collect()
    }

    /// The answer in this form.
    pub fn render<A: Report + Serialize>(&self, answer: &A, terminal: Terminal) -> Result<String, Diagnostic> {
        if self.format == Format::Json {
            return Ok(document(answer));
        }
        self.render_page(&answer.page(self.detail()), terminal)
    }

    /// A page in this form.
    pub fn render_page(&self, page: &report::Page, terminal: Terminal) -> Result<String, Diagnostic> {
        let colour = self.colour.unwrap_or(terminal.colour && self.output.is_none());
        Ok(match self.format {
            Format::Table | Format::Json => page.text(terminal.width, colour),
            Format::Html if self.fragment => page.fragment(),
            Format::Html => page.html(),
            Format::Csv => page.csv(self.table.as_deref()).map_err(|e| {
                Diagnostic::plain(e.to_string())
                    .field("--table")
                    .help(format!("there are: {}", page.tables().join(", ")))
            })?,
        })
    }
}

/// The serialised answer, as a document. What could steer a terminal is written as an escape of JSON: the document is
/// the same.
pub(super) fn document<A: Serialize>(answer: &A) -> String {
    // An answer is maps with text keys and numbers: it always serialises.
    let text = serde_json::to_string_pretty(answer).unwrap_or_default() + "\n";
    let steers = |c: char| c != '\n' && is_unsafe_char(c);
    if !text.contains(steers) {
        return text;
    }
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if steers(c) {
            for unit in c.encode_utf16(&mut [0; 2]) {
                let _ = write!(safe, "\\u{unit:04x}");
            }
        } else {
            safe.push(c);
        }
    }
    safe
}

/// Whether JSON was asked for, before the words are read: a fault of usage is told in that form too.
pub(super) fn wants_json(words: &[std::ffi::OsString]) -> bool {
    words.iter().any(|word| word == "--format=json")
        || words.windows(2).any(|pair| pair[0] == "--format" && pair[1] == "json")
}
