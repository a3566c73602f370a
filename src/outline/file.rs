//! Outlines in TOML, as written by hand.

use super::{Contour, Hole, MAX_POINTS, Outline, OutlineError, Point, Reading, Ring, Vertex};
use crate::quantity::{Length, Measure, parse};
use crate::source::{Diagnostic, Keys, SourceText};
use serde::Deserialize;
use std::fmt::Write;
use std::ops::Range;
use toml::Spanned;

/// The schema an outline states.
pub const SCHEMA: &str = "thickset/outline/1";

/// Points `[x, y]`, or `[x, y, bulge]` where an arc leaves the point.
type Points = Vec<Spanned<Vec<f64>>>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: String,
    unit: Spanned<String>,
    points: Points,
    #[serde(default)]
    hole: Vec<Spanned<HoleRecord>>,
    #[serde(default)]
    hangers: Points,
    source: Option<String>,
}

/// A hole: `at` and `diameter`, or `slot` and `width`, or `points`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct HoleRecord {
    at: Option<[f64; 2]>,
    diameter: Option<f64>,
    slot: Option<[[f64; 2]; 2]>,
    width: Option<f64>,
    points: Option<Points>,
}

/// The keys of an outline's file.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![Keys::of::<File>(""), Keys::of::<HoleRecord>("[[hole]]")]
}

/// A text with the length of its unit.
struct Text<'a> {
    source: &'a SourceText,
    metres: f64,
}

impl Text<'_> {
    fn length(&self, value: f64) -> Length {
        Length::from_si(value * self.metres)
    }

    fn place(&self, [x, y]: [f64; 2]) -> Point {
        Point { x: self.length(x), y: self.length(y) }
    }

    fn vertex(&self, point: &Spanned<Vec<f64>>) -> Result<Vertex, Diagnostic> {
        match point.get_ref().as_slice() {
            [x, y] => Ok(Vertex { at: self.place([*x, *y]), bulge: 0.0 }),
            [x, y, bulge] => Ok(Vertex { at: self.place([*x, *y]), bulge: *bulge }),
            _ => Err(self
                .source
                .fault(point.span(), "a point is two numbers, or three with a bulge")
                .help("write `[1.5, 0]`")),
        }
    }

    /// A contour; a fault stands at its point, or at `whole`.
    fn contour(&self, points: &Points, ring: Ring, whole: Range<usize>) -> Result<Contour, Diagnostic> {
        let vertices = points.iter().map(|p| self.vertex(p)).collect::<Result<_, _>>()?;
        Contour::new(vertices).map_err(|fault| {
            let point = fault.index().and_then(|i| points.get(i - 1));
            let span = point.map_or(whole, Spanned::span);
            self.fault(span, &OutlineError::Contour { ring, fault })
        })
    }

    fn hole(&self, index: usize, record: &Spanned<HoleRecord>) -> Result<Hole, Diagnostic> {
        let HoleRecord { at, diameter, slot, width, points } = record.get_ref();
        match (at, diameter, slot, width, points) {
            (Some(at), Some(diameter), None, None, None) => {
                Ok(Hole::Round { centre: self.place(*at), diameter: self.length(*diameter) })
            }
            (None, None, Some([from, to]), Some(width), None) => {
                Ok(Hole::Slot { from: self.place(*from), to: self.place(*to), width: self.length(*width) })
            }
            (None, None, None, None, Some(points)) => {
                self.contour(points, Ring::Hole(index), record.span()).map(|cut| cut.with_arcs().into_hole())
            }
            _ => Err(self
                .source
                .fault(record.span(), format!("{} has no shape, or more than one", Ring::Hole(index)))
                .help("write `at` and `diameter`, or `slot` and `width`, or `points`")),
        }
    }

    fn fault(&self, span: Range<usize>, error: &OutlineError) -> Diagnostic {
        self.source.fault(span, error.to_string()).help(error.help())
    }
}

impl Outline {
    /// Reads an outline in TOML.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the place of the fault.
    pub fn from_toml(source: &SourceText) -> Result<Self, Diagnostic> {
        let file: File = source.toml_of("outlines", SCHEMA, |file: &File| &file.schema)?;
        let unit: Length = parse(&format!("1 {}", file.unit.get_ref())).map_err(|e| {
            source.fault(file.unit.span(), e.to_string()).help("write `unit = \"in\"` or `unit = \"mm\"`")
        })?;
        let reading = Text { source, metres: unit.si() };
        let contour = reading.contour(&file.points, Ring::Outline, file.schema.span())?.with_arcs();
        if file.hole.len() > MAX_POINTS {
            return Err(reading.fault(file.schema.span(), &OutlineError::Points { points: file.hole.len() }));
        }
        let holes = file.hole.iter().enumerate().map(|(i, h)| reading.hole(i, h)).collect::<Result<_, _>>()?;
        let hangers = file.hangers.iter().map(|p| reading.vertex(p).map(|v| v.at)).collect::<Result<_, _>>()?;
        let notes = file.source.into_iter().collect();
        let unit = Reading { unit: file.unit.get_ref().clone(), notes, ..Reading::default() };
        Self::new(file.name, contour, holes, hangers).map(|outline| outline.with_reading(unit)).map_err(|e| {
            let span = match (&e, e.ring()) {
                (
                    OutlineError::Hanger { index }
                    | OutlineError::OffSteel { index, .. }
                    | OutlineError::SameHanger { index, .. },
                    _,
                ) => file.hangers.get(index - 1).map(Spanned::span),
                (OutlineError::Size { .. }, _) => Some(file.unit.span()),
                (_, Some(Ring::Hole(index))) => file.hole.get(index).map(Spanned::span),
                _ => None,
            };
            reading.fault(span.unwrap_or_else(|| file.schema.span()), &e)
        })
    }

    /// Prints the outline so that [`Outline::from_toml`] reads it back equal, in metres.
    #[must_use]
    pub fn to_toml(&self) -> String {
        let mut text = format!(
            "schema = \"{SCHEMA}\"\nname = {}\nunit = \"m\"\n{}",
            toml::Value::String(self.name.clone()),
            points_toml(self.contour())
        );
        let hangers: Vec<String> = self.hangers().iter().map(|h| pair(*h)).collect();
        if !hangers.is_empty() {
            let _ = writeln!(text, "hangers = [{}]", hangers.join(", "));
        }
        for hole in self.holes() {
            let _ = write!(text, "\n[[hole]]\n{}", hole_toml(hole));
        }
        text
    }
}

fn pair(at: Point) -> String {
    format!("[{:?}, {:?}]", at.x.si(), at.y.si())
}

fn points_toml(contour: &Contour) -> String {
    let mut text = String::from("points = [\n");
    for v in contour.vertices() {
        let _ = if v.bulge == 0.0 {
            writeln!(text, "  {},", pair(v.at))
        } else {
            writeln!(text, "  [{:?}, {:?}, {:?}],", v.at.x.si(), v.at.y.si(), v.bulge)
        };
    }
    text + "]\n"
}

fn hole_toml(hole: &Hole) -> String {
    match hole {
        Hole::Round { centre, diameter } => format!("at = {}\ndiameter = {:?}\n", pair(*centre), diameter.si()),
        Hole::Slot { from, to, width } => {
            format!("slot = [{}, {}]\nwidth = {:?}\n", pair(*from), pair(*to), width.si())
        }
        Hole::Cut(contour) => points_toml(contour),
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
        assert!((outline.holes()[0].width().si() - 0.0127).abs() < 1e-12);
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
            ("unit = \"in\"", "unit = \"mm\"", 3),
            ("[[2, 3.5]]", "[[2, 3.5], [2, 3.5]]", 10),
        ] {
            let fault = read(&GOOD.replacen(from, to, 1)).unwrap_err();
            assert_eq!(fault.position().map(|p| p.0), Some(line), "{to}: {fault}");
        }
    }
}
