//! The files that a command reads and writes.

use super::write;
use crate::advisor::Resolver;
use crate::source::{Diagnostic, SourceText, read_bytes};
use std::ffi::OsString;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// The files of one run: what was read is never written over.
pub(super) struct Files {
    words: Vec<OsString>,
    read: Arc<Mutex<Vec<PathBuf>>>,
}

/// Reads files by their names, and keeps the names.
struct Reader(Arc<Mutex<Vec<PathBuf>>>);

impl Resolver for Reader {
    fn read(&self, reference: &str) -> Result<Vec<u8>, Diagnostic> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).push(reference.into());
        read_bytes(Path::new(reference))
    }
}

impl Files {
    /// The files of a command line.
    pub fn of(words: &[OsString]) -> Self {
        Self { words: words.to_vec(), read: Arc::default() }
    }

    /// What reads the files that a question names.
    pub fn resolver(&self) -> impl Resolver + 'static {
        Reader(Arc::clone(&self.read))
    }

    /// The text of a file that an argument names.
    pub fn text(&self, path: &str) -> Result<SourceText, Diagnostic> {
        self.read.lock().unwrap_or_else(PoisonError::into_inner).push(path.into());
        SourceText::read(Path::new(path))
    }

    /// A chronograph string: the words themselves, a file, or standard input.
    pub fn readings(&self, words: &[&String], stdin: &mut dyn Read) -> Result<SourceText, Diagnostic> {
        match words {
            [one] if *one == "-" => SourceText::read_standard_input(stdin),
            [one] if is_file(one) => self.text(one),
            words if words.len() > 1 && words.iter().any(|word| is_named_as_a_file(word)) => Err(one_file(words)),
            words => {
                let mut lines: Vec<&str> = words.iter().map(|word| word.as_str()).collect();
                // `2648 2655 fps`: plain numbers, and their one unit behind them.
                let stated = lines.pop_if(|last| !last.contains(|c: char| c.is_ascii_digit()) && words.len() > 1);
                let stated = stated.map(|unit| format!("unit {unit}"));
                if let Some(stated) = &stated {
                    lines.insert(0, stated);
                }
                Ok(SourceText::new("readings", lines.join("\n")))
            }
        }
    }

    /// Refuses a file that is there: what it holds would be lost.
    pub fn refuse_existing(path: &Path, option: &str) -> Result<(), Diagnostic> {
        if path.exists() {
            return Err(Diagnostic::plain(format!("`{}` is there already", path.display()))
                .field(option)
                .help("name a new file, or move that one away"));
        }
        Ok(())
    }

    /// Writes a file that an option names, unless this run has read it or writes it under another option.
    pub fn write(&self, path: &Path, bytes: &[u8], option: &str) -> Result<(), Diagnostic> {
        let read = self.read.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let words = self.words.iter().map(OsString::as_os_str);
        write::refuse_own_inputs(path, words, read.iter().map(PathBuf::as_path))?;
        write::write(path, bytes, option)
    }
}

/// Whether one word of several is called as a file is, and as no reading: `b.csv`.
fn is_named_as_a_file(word: &str) -> bool {
    let extension = Path::new(word).extension().and_then(std::ffi::OsStr::to_str);
    word == "-" || extension.is_some_and(|extension| extension.starts_with(|c: char| c.is_alphabetic()))
}

/// The fault of a file beside others, or beside readings.
fn one_file(words: &[&String]) -> Diagnostic {
    let file = words.iter().find(|word| is_named_as_a_file(word)).map_or("", |word| word.as_str());
    let message = format!("`{}` stands beside others, and a string is of one file", crate::source::clean(file));
    Diagnostic::plain(message)
        .field("readings")
        .help("give one file, or readings alone: each string is asked for by itself")
}

/// Whether one word names a file of readings: it is there, or it does not begin as a number does.
fn is_file(word: &str) -> bool {
    Path::new(word).exists() || !word.starts_with(|c: char| c.is_ascii_digit() || "-+.".contains(c))
}
