//! Outlines from text, bytes and files: TOML by hand, drawings in DXF and SVG.

use super::Outline;
use crate::source::{Diagnostic, SourceText, read_bytes};
use std::fmt;
use std::path::Path;
use std::str::FromStr;

/// A unit that an outline's file is read in where it names none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnIn {
    /// Inches.
    Inches,
    /// Millimetres.
    Millimetres,
}

impl DrawnIn {
    /// Inches for each.
    #[cfg(feature = "dxf")]
    pub(super) fn inches(self) -> f64 {
        match self {
            Self::Inches => 1.0,
            Self::Millimetres => 1.0 / 25.4,
        }
    }

    /// As it is written.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Inches => "in",
            Self::Millimetres => "mm",
        }
    }
}

impl FromStr for DrawnIn {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        match text.trim() {
            "in" | "inch" | "inches" => Ok(Self::Inches),
            "mm" => Ok(Self::Millimetres),
            other => Err(format!("`{other}` is neither `in` nor `mm`")),
        }
    }
}

/// How a file is read.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ReadOptions {
    /// The unit, where the file names none.
    pub unit: Option<DrawnIn>,
    /// The layers that are cut, where there are more; all where none is named.
    pub layers: Vec<String>,
    /// The part that is meant, from 1, where there are more.
    pub part: Option<usize>,
}

/// Things of one kind that a drawing holds and nobody would cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// What they are, in the singular: `text`, `CIRCLE`.
    pub what: String,
    /// Why they are left out; empty where the name says it.
    pub why: String,
    /// How many.
    pub count: usize,
}

impl fmt::Display for LeftOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name: String = match (self.count, self.what.as_str()) {
            (1, what) => what.into(),
            (_, "hatch") => "hatches".into(),
            (_, what) => format!("{what}s"),
        };
        write!(f, "{} {name}", self.count)?;
        if self.why.is_empty() { Ok(()) } else { write!(f, " {}", self.why) }
    }
}

/// What was read beside the contours.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Reading {
    /// The unit, in words: `inches`, `pixels of 1/96 in`.
    pub unit: String,
    /// The layers that the outline and its holes lie on.
    pub layers: Vec<String>,
    /// What the drawing, its blocks, groups and shapes are called by themselves.
    pub names: Vec<String>,
    /// What was left out.
    pub left_out: Vec<LeftOut>,
    /// What its texts say, and where an outline written by hand says that it comes from.
    pub notes: Vec<String>,
}

impl Reading {
    /// Everything that is written in it: names and notes.
    pub fn written(&self) -> impl Iterator<Item = &str> {
        self.called().chain(self.notes.iter().map(String::as_str))
    }

    /// What it and its layers are called.
    pub fn called(&self) -> impl Iterator<Item = &str> {
        self.layers.iter().chain(&self.names).map(String::as_str)
    }
}

/// What a file holds, by its beginning.
enum Kind {
    Toml,
    Dxf,
    Svg,
}

fn kind(name: &str, bytes: &[u8]) -> Option<Kind> {
    let ending = name.rsplit_once('.').map(|(_, e)| e.to_ascii_lowercase()).unwrap_or_default();
    match ending.as_str() {
        "toml" => return Some(Kind::Toml),
        "dxf" => return Some(Kind::Dxf),
        "svg" => return Some(Kind::Svg),
        _ => {}
    }
    // Text without a name, or one that says nothing: a drawing begins as only drawings do.
    let head = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = String::from_utf8_lossy(&head[..head.len().min(2048)]).into_owned();
    let start = text.trim_start();
    if start.starts_with("AutoCAD Binary DXF")
        || start.split_whitespace().take(2).eq(["0", "SECTION"])
        || start.starts_with("999")
    {
        Some(Kind::Dxf)
    } else if start.starts_with('<') {
        Some(Kind::Svg)
    } else if text.contains("thickset/outline/") {
        Some(Kind::Toml)
    } else {
        None
    }
}

impl Outline {
    /// Reads an outline from a file: TOML by hand, a drawing in DXF or SVG.
    ///
    /// # Errors
    /// A [`Diagnostic`] that names the offending hole and point.
    pub fn read(path: &Path) -> Result<Self, Diagnostic> {
        Self::read_with(path, &ReadOptions::default())
    }

    /// Reads an outline from a file, its unit, layer and part as asked.
    ///
    /// # Errors
    /// As [`Outline::read`].
    pub fn read_with(path: &Path, options: &ReadOptions) -> Result<Self, Diagnostic> {
        Self::from_bytes(&path.display().to_string(), &read_bytes(path)?, options)
    }

    /// Reads an outline from a text, by the ending of its name or how it begins.
    ///
    /// # Errors
    /// As [`Outline::read`].
    pub fn from_text(source: &SourceText, options: &ReadOptions) -> Result<Self, Diagnostic> {
        match kind(&source.name, source.text.as_bytes()) {
            Some(Kind::Toml) => {
                toml_options(options)?;
                Self::from_toml(source)
            }
            _ => Self::from_bytes(&source.name, source.text.as_bytes(), options),
        }
    }

    /// Reads an outline from the bytes of a file, by the ending of its name or how they begin.
    ///
    /// # Errors
    /// As [`Outline::read`].
    pub fn from_bytes(name: &str, bytes: &[u8], options: &ReadOptions) -> Result<Self, Diagnostic> {
        match kind(name, bytes) {
            Some(Kind::Toml) => {
                toml_options(options)?;
                Self::from_toml(&SourceText::new(name, text(name, bytes)?))
            }
            Some(kind) => drawing(name, bytes, &kind, options),
            None => Err(Diagnostic::plain(format!("`{name}` is neither TOML nor a drawing in DXF or SVG"))
                .help("name an outline in TOML (`.toml`), or a drawing (`.dxf`, `.svg`)")),
        }
    }
}

fn text(name: &str, bytes: &[u8]) -> Result<String, Diagnostic> {
    let text = String::from_utf8(bytes.to_vec());
    text.map_err(|_| Diagnostic::plain(format!("`{name}` is not UTF-8 text")).help("save it as UTF-8"))
}

fn toml_options(options: &ReadOptions) -> Result<(), Diagnostic> {
    let ReadOptions { unit, layers, part } = options;
    let what = [("a unit", unit.is_some()), ("a layer", !layers.is_empty()), ("a part", part.is_some())];
    match what.iter().find(|(_, given)| *given) {
        Some((what, _)) => {
            Err(Diagnostic::plain(format!("an outline in TOML says all itself: {what} can't be chosen"))
                .help("leave the option out"))
        }
        None => Ok(()),
    }
}

#[cfg(feature = "dxf")]
fn drawing(name: &str, bytes: &[u8], kind: &Kind, options: &ReadOptions) -> Result<Outline, Diagnostic> {
    let title = Path::new(name).file_stem().and_then(|s| s.to_str()).unwrap_or("outline");
    let read = match kind {
        Kind::Svg => super::drawing::from_svg(&text(name, bytes)?, title, options),
        Kind::Dxf | Kind::Toml => super::drawing::from_dxf(bytes, title, options),
    };
    read.map_err(|(message, help)| Diagnostic::plain(format!("`{name}`: {message}")).help(help))
}

#[cfg(not(feature = "dxf"))]
fn drawing(name: &str, _: &[u8], _: &Kind, _: &ReadOptions) -> Result<Outline, Diagnostic> {
    Err(Diagnostic::plain(format!("`{name}` is a drawing, and this program was built without them"))
        .help("build with the feature `dxf`, or write the outline in TOML"))
}
