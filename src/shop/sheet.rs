//! How many plates come from a sheet: rounds in a grid or staggered, other faces by the box around them.

use crate::plate::{Face, Section};
use crate::quantity::{Area, Length, Measure, unit};

/// Room that a cut takes and leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutting {
    /// Width of the cut.
    pub kerf: Length,
    /// Steel left between two cuts.
    pub web: Length,
    /// Steel left along the sheet's edge.
    pub margin: Length,
}

impl Default for Cutting {
    /// 0.06 in kerf, 0.19 in web, 0.25 in margin (house assumption).
    fn default() -> Self {
        Self { kerf: unit::INCH.of(0.06), web: unit::INCH.of(0.19), margin: unit::INCH.of(0.25) }
    }
}

/// A part of the trade's 4 × 8 ft sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// 4 × 8 ft.
    Full,
    /// 4 × 4 ft.
    Half,
    /// 2 × 4 ft.
    Quarter,
}

impl Part {
    /// Every part, large to small.
    pub const ALL: [Self; 3] = [Self::Full, Self::Half, Self::Quarter];

    /// Width and length.
    #[must_use]
    pub fn size(self) -> (Length, Length) {
        let (width, length) = match self {
            Self::Full => (4.0, 8.0),
            Self::Half => (4.0, 4.0),
            Self::Quarter => (2.0, 4.0),
        };
        (unit::FOOT.of(width), unit::FOOT.of(length))
    }

    /// Its area.
    #[must_use]
    pub fn area(self) -> Area {
        let (width, length) = self.size();
        width * length
    }
}

/// How many plates of a face come from a part of a sheet.
#[must_use]
pub fn count(face: &Face, part: Part, cutting: &Cutting) -> u32 {
    // Each plate is cut on its outside: between two lie a kerf, the web, and a kerf.
    let gap = (2.0 * cutting.kerf + cutting.web).si();
    let inset = 2.0 * (cutting.margin + cutting.kerf).si();
    let (width, length) = part.size();
    let room = (width.si() - inset, length.si() - inset);
    let bounds = Section::of(face).bounds;
    let size = (bounds.width().si(), bounds.height().si());
    match face {
        Face::Round(diameter) => rounds(diameter.si(), gap, room),
        Face::Rectangle(..) | Face::Outline(_) => boxes(size, gap, room).max(boxes((size.1, size.0), gap, room)),
    }
}

/// Share of the sheet that becomes plates.
#[must_use]
pub fn utilisation(face: &Face, part: Part, cutting: &Cutting) -> f64 {
    f64::from(count(face, part, cutting)) * (face.area() / part.area()).value
}

/// How many sizes with gaps between them fit a length; a hair of slack keeps a whole number whole.
fn along(size: f64, gap: f64, room: f64) -> u32 {
    if size > room * (1.0 + 1e-9) {
        return 0;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A sheet holds few plates.
    let count = ((room + gap) / (size + gap) + 1e-9).floor() as u32;
    count
}

fn boxes(size: (f64, f64), gap: f64, room: (f64, f64)) -> u32 {
    along(size.0, gap, room.0) * along(size.1, gap, room.1)
}

/// The best of a grid and of staggered rows along either side.
fn rounds(diameter: f64, gap: f64, room: (f64, f64)) -> u32 {
    let grid = boxes((diameter, diameter), gap, room);
    grid.max(staggered(diameter, gap, room.0, room.1)).max(staggered(diameter, gap, room.1, room.0))
}

/// Rows along `row`, every second one shifted by half a pitch, as near as the gap allows.
fn staggered(diameter: f64, gap: f64, row: f64, across: f64) -> u32 {
    let pitch = diameter + gap;
    let rows = if diameter > across * (1.0 + 1e-9) {
        0
    } else {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A sheet holds few rows.
        let more = ((across - diameter) / (pitch * 0.75_f64.sqrt()) + 1e-9).floor() as u32;
        1 + more
    };
    let (even, odd) = (along(diameter, gap, row), along(diameter, gap, row - 0.5 * pitch));
    rows.div_ceil(2) * even + rows / 2 * odd
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cutting(inches: f64) -> Cutting {
        Cutting { kerf: unit::INCH.of(inches), web: unit::INCH.of(0.0), margin: unit::INCH.of(0.0) }
    }

    fn round(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    fn rectangle(w: f64, h: f64) -> Face {
        Face::rectangle(unit::INCH.of(w), unit::INCH.of(h)).unwrap()
    }

    #[test]
    fn without_a_kerf_boxes_fill_the_sheet() {
        assert_eq!(count(&rectangle(12.0, 12.0), Part::Full, &cutting(0.0)), 32);
        assert_eq!(count(&rectangle(48.0, 32.0), Part::Full, &cutting(0.0)), 3);
        assert_eq!(count(&rectangle(32.0, 48.0), Part::Full, &cutting(0.0)), 3);
        assert_eq!(count(&rectangle(49.0, 97.0), Part::Full, &cutting(0.0)), 0);
        assert!((utilisation(&rectangle(12.0, 12.0), Part::Half, &cutting(0.0)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn twenty_eight_twelve_inch_rounds_come_from_a_sheet_by_staggering() {
        // With a kerf a grid holds 3 rows of 7; staggered, 4 rows of 7 are 12 + 3·(12.31·√3/2) = 44.0 in.
        assert_eq!(count(&round(12.0), Part::Full, &Cutting::default()), 28);
        assert_eq!(count(&round(12.0), Part::Full, &cutting(0.0)), 32);
    }

    #[test]
    fn more_kerf_never_gives_more_plates_and_half_a_sheet_never_more_than_half_again() {
        for size in [4.0, 6.0, 8.0, 10.0, 12.0, 16.0] {
            let counts: Vec<u32> =
                [0.0, 0.05, 0.2, 0.5].iter().map(|k| count(&round(size), Part::Full, &cutting(*k))).collect();
            assert!(counts.windows(2).all(|w| w[0] >= w[1]), "{size}: {counts:?}");
            let parts: Vec<u32> = Part::ALL.iter().map(|p| count(&round(size), *p, &Cutting::default())).collect();
            assert!(parts[0] >= 2 * parts[1] && parts[1] >= 2 * parts[2], "{size}: {parts:?}");
        }
    }
}
