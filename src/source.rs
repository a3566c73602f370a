//! Where a text came from, and how a fault in it is shown: file, line, column, and the fix.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::borrow::Cow;
use std::fmt;
use std::fs::File;
use std::io::{self, Read};
use std::ops::Range;
use std::path::Path;
use toml::Spanned;

/// The largest file that is read, in bytes.
pub const MAX_FILE_BYTES: u64 = 16 * 1024 * 1024;

/// What a file says of its kind, whatever else it holds.
#[derive(Deserialize)]
struct Head {
    schema: Option<Spanned<String>>,
}

/// A text with the name a person knows it by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceText {
    /// File name as given, or `<standard input>`.
    pub name: String,
    /// The whole text.
    pub text: String,
}

/// The bytes of a file of at most [`MAX_FILE_BYTES`].
///
/// # Errors
/// A [`Diagnostic`] where the file is missing, a folder, or too large.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Diagnostic> {
    let name = path.display().to_string();
    let fault = |e: io::Error| Diagnostic::plain(format!("cannot read `{name}`: {e}")).help("check the file name");
    let file = File::open(path).map_err(fault)?;
    if file.metadata().map_err(fault)?.is_dir() {
        return Err(Diagnostic::plain(format!("`{name}` is a folder")).help("name a file in it"));
    }
    drain(&format!("`{name}`"), file)
}

/// The whole of a reader. Its size is counted and not asked for: a pipe or a device states none, and a file may
/// grow while it is read.
fn drain(shown: &str, reader: impl Read) -> Result<Vec<u8>, Diagnostic> {
    let mut bytes = Vec::new();
    let read = reader.take(MAX_FILE_BYTES + 1).read_to_end(&mut bytes);
    read.map_err(|e| Diagnostic::plain(format!("cannot read {shown}: {e}")).help("check the file"))?;
    if bytes.len() as u64 > MAX_FILE_BYTES {
        return Err(Diagnostic::plain(format!("{shown} is larger than 16 MiB")).help("split it"));
    }
    Ok(bytes)
}

fn utf8(shown: &str, bytes: Vec<u8>) -> Result<String, Diagnostic> {
    let not_text = |_| Diagnostic::plain(format!("{shown} is not UTF-8 text")).help("save it as UTF-8");
    String::from_utf8(bytes).map_err(not_text)
}

impl SourceText {
    /// Names a text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self { name: name.into(), text: text.into() }
    }

    /// Reads a file of at most [`MAX_FILE_BYTES`].
    ///
    /// # Errors
    /// A [`Diagnostic`] where the file is missing, too large, or not UTF-8.
    pub fn read(path: &Path) -> Result<Self, Diagnostic> {
        let name = path.display().to_string();
        let text = utf8(&format!("`{name}`"), read_bytes(path)?)?;
        Ok(Self { name, text })
    }

    /// Reads standard input, or what stands for it, to its end; at most [`MAX_FILE_BYTES`].
    ///
    /// # Errors
    /// A [`Diagnostic`] where it is too large, or not UTF-8.
    pub fn read_standard_input(input: impl Read) -> Result<Self, Diagnostic> {
        let text = utf8("standard input", drain("standard input", input)?)?;
        Ok(Self { name: "<standard input>".into(), text })
    }

    /// Line and column, from 1, of a byte offset.
    #[must_use]
    pub fn position(&self, offset: usize) -> (usize, usize) {
        let before = self.text.get(..offset.min(self.text.len())).unwrap_or(&self.text);
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |last| last.chars().count()) + 1;
        (line, column)
    }

    /// A diagnostic at a span of this text.
    pub fn fault(&self, span: Range<usize>, message: impl Into<String>) -> Diagnostic {
        let mut diagnostic = Diagnostic::plain(message);
        diagnostic.place = Some(Place { source: self.clone(), span });
        diagnostic
    }

    /// Reads a TOML file of one kind, which its `schema` states. A file of another kind is told as such: the
    /// keys it has would all be unknown.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn toml_of<T: DeserializeOwned>(
        &self,
        kind: &str,
        schema: &str,
        stated: impl Fn(&T) -> &Spanned<String>,
    ) -> Result<T, Diagnostic> {
        let other = |found: &Spanned<String>| {
            let message = format!("schema `{}` is not one of {kind}", found.get_ref());
            self.fault(found.span(), message).help(format!("a file of {kind} says `schema = \"{schema}\"`"))
        };
        match toml::from_str::<T>(&self.text) {
            Ok(file) if stated(&file).get_ref() == schema => Ok(file),
            Ok(file) => Err(other(stated(&file))),
            Err(error) => match toml::from_str::<Head>(&self.text) {
                Ok(Head { schema: Some(found) }) if found.get_ref() != schema => Err(other(&found)),
                _ => Err(self.toml_fault(&error)),
            },
        }
    }

    /// A diagnostic from the TOML reader's error. A second line of its message is the help.
    #[must_use]
    pub fn toml_fault(&self, error: &toml::de::Error) -> Diagnostic {
        let mut lines = error.message().splitn(2, '\n');
        let message = lines.next().unwrap_or_default().to_owned();
        let mut diagnostic = match error.span() {
            Some(span) => self.fault(span, message),
            None => self.fault(0..0, message),
        };
        if let Some(help) = lines.next() {
            diagnostic = diagnostic.help(help);
        }
        diagnostic
    }
}

/// A span in a named text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The text.
    pub source: SourceText,
    /// Byte offsets.
    pub span: Range<usize>,
}

/// A fault that a person can mend: what failed, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// The option or key at fault, where there is one.
    pub field: Option<String>,
    /// What failed, lower case, the value in backticks.
    pub message: String,
    /// What to do about it.
    pub help: Option<String>,
    /// Where.
    pub place: Option<Place>,
}

impl Diagnostic {
    /// A fault without a place.
    pub fn plain(message: impl Into<String>) -> Self {
        Self { field: None, message: message.into(), help: None, place: None }
    }

    /// Adds what to do about it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Names the option or key at fault.
    #[must_use]
    pub fn field(mut self, field: impl Into<String>) -> Self {
        self.field = Some(field.into());
        self
    }

    /// Line and column, from 1.
    #[must_use]
    pub fn position(&self) -> Option<(usize, usize)> {
        self.place.as_ref().map(|p| p.source.position(p.span.start))
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let title = match &self.field {
            Some(field) if !self.message.contains(field.as_str()) => format!("{field}: {}", self.message),
            _ => self.message.clone(),
        };
        let mut group = Group::with_title(Level::ERROR.primary_title(sanitize(&title)));
        let name = self.place.as_ref().map(|place| sanitize(&place.source.name)).unwrap_or_default();
        if let Some(place) = &self.place {
            let end = place.source.text.len();
            let span = place.span.start.min(end)..place.span.end.min(end);
            group = group.element(
                Snippet::source(place.source.text.as_str())
                    .path(name.as_ref())
                    .annotation(AnnotationKind::Primary.span(span)),
            );
        }
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(wrapped(&sanitize(help))));
        }
        let text = Renderer::plain().term_width(WIDTH).render(&[group]);
        // What the lines of the file hold is shown as well.
        let lines: Vec<Cow<str>> = text.lines().map(sanitize).collect();
        f.write_str(&lines.join("\n"))
    }
}

impl std::error::Error for Diagnostic {}

/// Lines of a fault are no longer, as far as their words can be parted.
const WIDTH: usize = 80;
/// What stands before the help: ` = help: `, and a line number's width.
const BEFORE_HELP: usize = 12;

fn wrapped(help: &str) -> String {
    let options = textwrap::Options::new(WIDTH - BEFORE_HELP)
        .break_words(false)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    textwrap::fill(help, options)
}

/// Whether a character can steer a terminal or turn the order of a text that is read: controls, marks of
/// direction, and what is not seen at all.
#[must_use]
pub fn is_unsafe_char(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{61c}' | '\u{200b}' | '\u{200e}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The text on one line with every harmful character spelled out, `\u{1b}`; breaks and tabs are spaces.
#[must_use]
pub fn sanitize(text: &str) -> Cow<'_, str> {
    if !text.contains(is_unsafe_char) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => safe.push(' '),
            c if is_unsafe_char(c) => safe.extend(c.escape_unicode()),
            c => safe.push(c),
        }
    }
    Cow::Owned(safe)
}

/// The candidate nearest to `word`, for "did you mean"; the first in the list where several are as near.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = (word.chars().count() / 3).clamp(1, 4);
    let mut best: Option<(usize, &str)> = None;
    for candidate in candidates {
        let distance = edits(word, candidate);
        if distance <= limit && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// Levenshtein distance.
fn edits(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &y) in b.iter().enumerate() {
            let replaced = diagonal + usize::from(x != y);
            diagonal = row[j + 1];
            row[j + 1] = replaced.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_shows_file_line_column_and_the_fix() {
        let source = SourceText::new("loads.toml", "schema = 1\nmass = \"168\"\n");
        let fault = source.fault(18..23, "`168` has no unit for the mass").help("write `168 gr`");
        assert_eq!(fault.position(), Some((2, 8)));
        let text = fault.to_string();
        assert!(text.contains("loads.toml:2:8") && text.contains("write `168 gr`"), "{text}");
    }

    #[test]
    fn the_nearest_name_is_offered_and_a_far_one_is_not() {
        assert_eq!(nearest("308-168-mach", ["300-win", "308-168-match"]), Some("308-168-match"));
        assert_eq!(nearest("zebra", ["308-168-match"]), None);
    }

    #[test]
    fn what_never_ends_is_refused_at_the_limit() {
        let told = |fault: Result<SourceText, Diagnostic>| fault.unwrap_err().message;
        assert!(told(SourceText::read_standard_input(io::repeat(b'1'))).contains("16 MiB"));
        let whole = SourceText::read_standard_input(io::repeat(b'1').take(MAX_FILE_BYTES)).unwrap();
        assert_eq!(whole.text.len() as u64, MAX_FILE_BYTES);
        assert!(told(SourceText::read(&std::env::temp_dir())).contains("folder"));
        assert!(told(SourceText::read(Path::new("no-such-file"))).contains("no-such-file"));
    }

    /// Devices and pipes say that they are empty.
    #[cfg(unix)]
    #[test]
    fn a_device_and_a_pipe_without_end_are_refused_at_the_limit() {
        assert!(SourceText::read(Path::new("/dev/zero")).unwrap_err().message.contains("16 MiB"));
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("pipe.toml");
        assert!(std::process::Command::new("mkfifo").arg(&path).status().unwrap().success());
        let endless = {
            let path = path.clone();
            // Ends when nobody reads any more.
            std::thread::spawn(move || io::copy(&mut io::repeat(b'#'), &mut File::create(path).unwrap()))
        };
        assert!(SourceText::read(&path).unwrap_err().message.contains("16 MiB"));
        assert!(endless.join().unwrap().is_err());
    }

    #[test]
    fn a_fault_shows_no_character_that_steers_a_terminal() {
        let nasty = "\u{1b}[31m\u{9b}31m\u{202e}\u{2066}\u{0}\u{200b}\u{7f}\u{8}\u{feff}\r";
        let source = SourceText::new(format!("a{nasty}.toml"), format!("a = \"{nasty}\"\nb = 1\n"));
        let fault = source.fault(5..8, format!("`{nasty}\nerror: x`")).help(format!("not `{nasty}`")).field(nasty);
        let text = fault.to_string();
        assert!(!text.replace('\n', "").contains(is_unsafe_char), "{text:?}");
        assert!(text.contains("\\u{1b}[31m") && !text.contains("\nerror: x"), "{text}");
        assert_eq!(sanitize("3/8 in × 12 ° ·"), "3/8 in × 12 ° ·");
        assert_eq!(sanitize("a\tb\u{202e}c"), "a b\\u{202e}c");
    }

    #[test]
    fn the_help_of_a_fault_stays_within_80_columns() {
        let text = Diagnostic::plain("no load").help("name one of the loads that are there ".repeat(9)).to_string();
        assert!(text.lines().count() > 4 && text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
    }

    #[test]
    fn a_span_beyond_the_text_does_not_panic() {
        let source = SourceText::new("a", "é");
        let _ = source.fault(5..9, "x").to_string();
        assert_eq!(source.position(99), (1, 2));
    }
}
