//! Outlines in files: TOML as written by hand, DXF as drawn.

use super::import;
use super::outline::{Hole, MOST_POINTS, Outline, OutlineError, Vertex};
use crate::quantity::{Length, Measure, parse};
use crate::source::{Diagnostic, SourceText};
use serde::Deserialize;
use std::fmt::Write;
use std::path::Path;
use toml::Spanned;

/// The schema an outline states.
pub const SCHEMA: &str = "thickset/outline/1";

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: String,
    unit: Spanned<String>,
    /// Points `[x, y]`, or `[x, y, bulge]` where an arc leaves the point.
    points: Vec<Spanned<Vec<f64>>>,
    #[serde(default)]
    hole: Vec<Spanned<HoleRecord>>,
    #[serde(default)]
    hangers: Vec<Spanned<Vec<f64>>>,
    #[allow(dead_code)] // Read so that it may be said.
    source: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct HoleRecord {
    at: [f64; 2],
    diameter: f64,
}

impl Outline {
    /// Reads an outline from a file, by its ending: `.toml`, or `.dxf` for a drawing.
    ///
    /// # Errors
    /// A [`Diagnostic`] that names the offending point.
    pub fn read(path: &Path) -> Result<Self, Diagnostic> {
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_ascii_lowercase();
        match ending.as_str() {
            "toml" => Self::from_toml(&SourceText::read(path)?),
            "dxf" => import::read(path),
            _ => Err(Diagnostic::plain(format!("`{}` is neither `.toml` nor `.dxf`", path.display()))
                .help("name an outline in TOML or a DXF drawing")),
        }
    }

    /// Reads an outline in TOML.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn from_toml(source: &SourceText) -> Result<Self, Diagnostic> {
        let file: File = toml::from_str(&source.text).map_err(|e| source.toml_fault(&e))?;
        if file.schema.get_ref() != SCHEMA {
            let message = format!("schema `{}` is not one of outlines", file.schema.get_ref());
            return Err(source.fault(file.schema.span(), message).help(format!("write `schema = \"{SCHEMA}\"`")));
        }
        let unit: Length = parse(&format!("1 {}", file.unit.get_ref())).map_err(|e| {
            source.fault(file.unit.span(), e.to_string()).help("write `unit = \"in\"` or `unit = \"mm\"`")
        })?;
        let metres = unit.si();
        let point = |p: &Spanned<Vec<f64>>| match p.get_ref().as_slice() {
            [x, y] => Ok(Vertex { x: x * metres, y: y * metres, bulge: 0.0 }),
            [x, y, bulge] => Ok(Vertex { x: x * metres, y: y * metres, bulge: *bulge }),
            _ => Err(source.fault(p.span(), "a point is two numbers, or three with a bulge").help("write `[1.5, 0]`")),
        };
        if file.points.len() > MOST_POINTS {
            return Err(source
                .fault(file.schema.span(), format!("more than {MOST_POINTS} points"))
                .help("thin the outline out"));
        }
        let contour: Vec<Vertex> = file.points.iter().map(point).collect::<Result<_, _>>()?;
        let hole = |h: &Spanned<HoleRecord>| {
            let record = h.get_ref();
            Hole { x: record.at[0] * metres, y: record.at[1] * metres, diameter: record.diameter * metres }
        };
        let holes = file.hole.iter().map(hole).collect();
        let hangers = file.hangers.iter().map(|p| point(p).map(|v| (v.x, v.y))).collect::<Result<_, _>>()?;
        Self::new(file.name, contour, holes, hangers).map_err(|e| {
            let span = match &e {
                OutlineError::Place { index } | OutlineError::Repeated { index, .. } => {
                    file.points.get(index.saturating_sub(1)).map(Spanned::span)
                }
                OutlineError::Crossing { second, .. } => file.points.get(second - 1).map(Spanned::span),
                OutlineError::Hole { index, .. } => file.hole.get(index - 1).map(Spanned::span),
                OutlineError::Points { .. } | OutlineError::Open { .. } => None,
            };
            source.fault(span.unwrap_or_else(|| file.schema.span()), e.to_string()).help(e.help())
        })
    }

    /// Prints the outline so that [`Outline::from_toml`] reads it back equal, in metres.
    #[must_use]
    pub fn to_toml(&self) -> String {
        let mut text = format!(
            "schema = \"{SCHEMA}\"\nname = {}\nunit = \"m\"\npoints = [\n",
            toml::Value::String(self.name.clone())
        );
        for v in self.contour() {
            let _ = if v.bulge == 0.0 {
                writeln!(text, "  [{:?}, {:?}],", v.x, v.y)
            } else {
                writeln!(text, "  [{:?}, {:?}, {:?}],", v.x, v.y, v.bulge)
            };
        }
        text.push_str("]\n");
        let hangers: Vec<String> = self.hangers().iter().map(|(x, y)| format!("[{x:?}, {y:?}]")).collect();
        if !hangers.is_empty() {
            let _ = writeln!(text, "hangers = [{}]", hangers.join(", "));
        }
        for h in self.holes() {
            let _ = write!(text, "\n[[hole]]\nat = [{:?}, {:?}]\ndiameter = {:?}\n", h.x, h.y, h.diameter);
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "schema = \"thickset/outline/1\"\nname = \"tab\"\nunit = \"in\"\npoints = [\n  [0, 0],\n  [4, 0, 0.3],\n  [4, 4],\n  [0, 4],\n]\nhangers = [[2, 3.5]]\n[[hole]]\nat = [2, 3.2]\ndiameter = 0.5\n";

    fn read(text: &str) -> Result<Outline, Diagnostic> {
        Outline::from_toml(&SourceText::new("tab.toml", text))
    }

    #[test]
    fn an_outline_reads_prints_and_reads_back_equal() {
        let outline = read(GOOD).unwrap();
        assert!((outline.holes()[0].diameter - 0.0127).abs() < 1e-12);
        assert_eq!(read(&outline.to_toml()).unwrap(), outline);
    }

    #[test]
    fn a_fault_is_shown_at_its_point() {
        for (from, to, line) in [
            ("[4, 4],\n  [0, 4]", "[0, 4],\n  [4, 4]", 8),
            ("[4, 0, 0.3]", "[0, 0]", 6),
            ("[4, 0, 0.3]", "[4]", 6),
            ("unit = \"in\"", "unit = \"furlong\"", 3),
            ("at = [2, 3.2]", "at = [9, 3.2]", 11),
            ("name", "nam", 2),
        ] {
            let fault = read(&GOOD.replacen(from, to, 1)).unwrap_err();
            assert_eq!(fault.position().map(|p| p.0), Some(line), "{to}: {fault}");
        }
    }
}
