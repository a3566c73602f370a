//! Where a text came from, and how a fault in it is shown: file, line, column, row and cell, and the fix.

mod accepted;
mod fault;
pub mod grid;
mod meant;
mod plain;
pub mod table;
mod words;

pub use accepted::{Keys, accepted};
pub use fault::{CellPlace, Diagnostic, Faults, MAX_SHOWN_FAULTS, Place};
pub use meant::{TRADE, did_you_mean, meant};
pub use words::clean;
pub use words::{is_unsafe_char, nearest, sanitize, words_of};

use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::fs::File;
use std::io::{self, Read};
use std::ops::Range;
use std::path::Path;
use std::sync::{Arc, OnceLock, mpsc};
use std::time::Duration;
use toml::Spanned;

/// The largest file that is read, in bytes.
pub const MAX_FILE_BYTES: u64 = 16 * 1024 * 1024;
/// How long a named pipe is waited for until somebody opens its other end.
pub const PIPE_PATIENCE: Duration = Duration::from_secs(5);

/// What a file says of its kind, whatever else it holds.
#[derive(Deserialize)]
struct Head {
    schema: Option<Spanned<String>>,
}

/// A text with the name a person knows it by. Copies share the text.
#[derive(Debug, Clone)]
pub struct SourceText {
    /// File name as given, or `<standard input>`.
    pub name: Arc<str>,
    /// The whole text, without a byte-order mark.
    pub text: Arc<str>,
    /// Byte offsets at which lines begin, found when first asked for.
    lines: Arc<OnceLock<Vec<usize>>>,
}

impl PartialEq for SourceText {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name && self.text == other.text
    }
}

impl Eq for SourceText {}

/// The bytes of a file of at most [`MAX_FILE_BYTES`].
///
/// # Errors
/// A [`Diagnostic`] where the file is missing, a folder, too large, or a pipe that nobody writes to.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Diagnostic> {
    read_bytes_within(path, PIPE_PATIENCE)
}

fn read_bytes_within(path: &Path, patience: Duration) -> Result<Vec<u8>, Diagnostic> {
    let name = path.display().to_string();
    let fault = |e: io::Error| Diagnostic::plain(format!("cannot read `{name}`: {e}")).help("check the file name");
    let metadata = std::fs::metadata(path).map_err(fault)?;
    if metadata.is_dir() {
        return Err(Diagnostic::plain(format!("`{name}` is a folder")).help("name a file in it"));
    }
    let file = match waiting(&metadata, patience, {
        let path = path.to_owned();
        move || File::open(path)
    }) {
        Some(opened) => opened.map_err(fault)?,
        None => {
            return Err(Diagnostic::plain(format!("`{name}` is a pipe that nobody writes to"))
                .help("start what writes to it first, or name a file"));
        }
    };
    drain(&format!("`{name}`"), file)
}

/// Opens a file. One end of a named pipe waits for the other, for ever if nobody comes: after `patience` it is given
/// up with `None`.
pub fn waiting(
    metadata: &std::fs::Metadata,
    patience: Duration,
    open: impl FnOnce() -> io::Result<File> + Send + 'static,
) -> Option<io::Result<File>> {
    if !is_pipe(metadata) {
        return Some(open());
    }
    let (sender, receiver) = mpsc::channel();
    let opener = std::thread::Builder::new().spawn(move || sender.send(open()));
    match opener {
        Ok(_) => receiver.recv_timeout(patience).ok(),
        Err(e) => Some(Err(e)),
    }
}

#[cfg(unix)]
fn is_pipe(metadata: &std::fs::Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt;
    metadata.file_type().is_fifo()
}

#[cfg(not(unix))]
fn is_pipe(_: &std::fs::Metadata) -> bool {
    false
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
    /// Names a text. A byte-order mark, which spreadsheets and editors put on top, is no part of it.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let (name, text) = (name.into(), text.into());
        let bare = text.strip_prefix('\u{feff}').unwrap_or(&text);
        Self { name: name.into(), text: bare.into(), lines: Arc::default() }
    }

    /// Reads a file of at most [`MAX_FILE_BYTES`].
    ///
    /// # Errors
    /// A [`Diagnostic`] where the file is missing, too large, not UTF-8, or a pipe that nobody writes to.
    pub fn read(path: &Path) -> Result<Self, Diagnostic> {
        let name = path.display().to_string();
        let text = utf8(&format!("`{name}`"), read_bytes(path)?)?;
        Ok(Self::new(name, text))
    }

    /// Reads standard input, or what stands for it, to its end; at most [`MAX_FILE_BYTES`].
    ///
    /// # Errors
    /// A [`Diagnostic`] where it is too large, or not UTF-8.
    pub fn read_standard_input(input: impl Read) -> Result<Self, Diagnostic> {
        let text = utf8("standard input", drain("standard input", input)?)?;
        Ok(Self::new("<standard input>", text))
    }

    /// Line and column, from 1, of a byte offset.
    #[must_use]
    pub fn position(&self, offset: usize) -> (usize, usize) {
        let line = self.line_at(offset);
        let begin = self.line_start(line);
        let before = self.text.get(begin..offset.min(self.text.len())).unwrap_or_default();
        (line, before.chars().count() + 1)
    }

    /// Line, from 1, of a byte offset.
    fn line_at(&self, offset: usize) -> usize {
        self.starts().partition_point(|start| *start <= offset.min(self.text.len())).max(1)
    }

    /// Where a line, counted from 1, begins; the end of the text where there is no such line.
    fn line_start(&self, line: usize) -> usize {
        self.starts().get(line - 1).copied().unwrap_or(self.text.len())
    }

    fn starts(&self) -> &[usize] {
        let breaks = || self.text.bytes().enumerate().filter(|(_, b)| *b == b'\n');
        self.lines.get_or_init(|| std::iter::once(0).chain(breaks().map(|(at, _)| at + 1)).collect())
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
        if self.is_blank() {
            let help = format!("a file of {kind} begins with `schema = \"{schema}\"`");
            return Err(self.fault(0..0, "the file is empty").help(help));
        }
        match toml::from_str::<T>(&self.text) {
            Ok(file) if stated(&file).get_ref() == schema => Ok(file),
            Ok(file) => Err(other(stated(&file))),
            Err(error) => match toml::from_str::<Head>(&self.text) {
                Ok(Head { schema: Some(found) }) if found.get_ref() != schema => Err(other(&found)),
                _ => Err(self.toml_fault(&error)),
            },
        }
    }

    /// Whether there is nothing but blank lines and comments.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.text.lines().map(str::trim).all(|line| line.is_empty() || line.starts_with('#'))
    }

    /// A diagnostic from the TOML reader's error. A second line of its message is the help.
    #[must_use]
    pub fn toml_fault(&self, error: &toml::de::Error) -> Diagnostic {
        let span = error.span().unwrap_or(0..0);
        if let Some((message, help)) = plain::plain(self, &span, error.message()) {
            return self.fault(span, message).help(help);
        }
        let mut lines = error.message().splitn(2, '\n');
        let mut diagnostic = self.fault(span, lines.next().unwrap_or_default().to_owned());
        let is_key = error.message().starts_with("unknown field");
        let keys = is_key.then_some(plain::KEYS);
        let told =
            [meant_by(error.message()), keys.map(str::to_owned)].into_iter().flatten().collect::<Vec<_>>().join(" ");
        match lines.next() {
            Some(help) => diagnostic = diagnostic.help(help),
            None if !told.is_empty() => diagnostic = diagnostic.help(told),
            None => {}
        }
        diagnostic
    }
}

/// What was meant by a word that is none of those that would do, where a reader's message lists them:
/// ``unknown variant `pistol`, expected one of `rifle`, `handgun` ``.
#[must_use]
pub fn meant_by(message: &str) -> Option<String> {
    let (_, named) = ["unknown variant `", "unknown field `"].iter().find_map(|begin| message.split_once(begin))?;
    let (word, list) = named.split_once("`, expected ")?;
    let would_do: Vec<&str> = list.split('`').skip(1).step_by(2).collect();
    did_you_mean(word, &would_do)
}

#[cfg(test)]
mod tests {
    use super::*;
    use fault::WIDTH;

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
    #[cfg(unix)]
    #[test]
    fn a_pipe_that_nobody_writes_to_is_given_up_with_a_message() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("pipe.toml");
        assert!(std::process::Command::new("mkfifo").arg(&path).status().unwrap().success());
        let fault = read_bytes_within(&path, Duration::from_millis(30)).unwrap_err();
        assert!(fault.message.contains("nobody writes to") && fault.help.is_some(), "{fault}");
    }

    #[test]
    fn an_empty_file_is_told_how_to_begin() {
        #[derive(Deserialize, Debug)]
        struct Any {
            schema: Spanned<String>,
        }
        for text in ["", "\u{feff}", "\n# loads\n"] {
            let source = SourceText::new("loads.toml", text);
            let fault = source.toml_of::<Any>("loads", "thickset/loads/1", |any| &any.schema).unwrap_err();
            assert!(fault.message.contains("empty"), "{fault}");
            assert!(fault.help.as_ref().unwrap().contains("begins with `schema = \"thickset/loads/1\"`"), "{fault}");
        }
    }

    #[test]
    fn places_are_the_same_by_the_index_as_by_counting() {
        let source = SourceText::new("a", "é\n\r\n\nabc\u{1F4A5}d\n");
        for offset in 0..=source.text.len() + 2 {
            let before: String =
                source.text.char_indices().take_while(|(at, _)| *at < offset).map(|(_, c)| c).collect();
            if source.text.is_char_boundary(offset) {
                let column = before.rsplit('\n').next().map_or(0, |last| last.chars().count()) + 1;
                assert_eq!(source.position(offset), (before.matches('\n').count() + 1, column), "{offset}");
            }
            let _ = source.fault(offset..offset + 3, "x").to_string();
        }
    }

    #[test]
    fn many_faults_share_one_text_and_are_shown_with_their_lines_alone() {
        let source = SourceText::new("a.csv", "1,2,3\n".repeat(100_000));
        let faults: Vec<Diagnostic> = (0..10_000).map(|i| source.fault(i * 6..i * 6 + 5, "x")).collect();
        assert_eq!(Arc::strong_count(&source.text), 10_001);
        assert_eq!(faults[9_999].position(), Some((10_000, 1)));
        assert!(faults[9_999].to_string().lines().count() < 8, "{}", faults[9_999]);
    }
}
