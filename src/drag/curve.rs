//! Drag coefficient against Mach number: the standard projectiles and a bullet's own.

use super::DragError;
use super::integral::{Integral, Kept};
use crate::source::{Diagnostic, SourceText};
use std::sync::{Arc, LazyLock};

/// The least number of points of a curve.
pub const MIN_POINTS: usize = 3;
/// The most points of a curve.
pub const MAX_POINTS: usize = 2000;
/// The least drag coefficient that is taken: far below any bullet's, and it bounds the length of the drag integral's
/// table.
pub const MIN_CD: f64 = 0.01;
/// The largest drag coefficient that is taken.
pub const MAX_CD: f64 = 5.0;
/// The largest Mach number that is taken.
pub const MAX_MACH: f64 = 10.0;

/// One piece: `Cd = c0 + c1·x + c2·x² + c3·x³`, x from the piece's left end.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    left: f64,
    c: [f64; 4],
}

/// Drag coefficient as a function of Mach number: a shape-preserving piecewise cubic through its
/// points, continuous with its slope (Fritsch and Carlson, SIAM J. Numer. Anal. 17, 1980). Below the
/// first point and above the last the end values hold.
#[derive(Debug)]
pub struct DragCurve {
    points: Vec<(f64, f64)>,
    pieces: Vec<Piece>,
    /// The piece that holds the left end of each cell of a uniform grid.
    cells: Vec<usize>,
    cells_per_mach: f64,
    integral: Kept,
}

impl PartialEq for DragCurve {
    fn eq(&self, other: &Self) -> bool {
        self.points == other.points
    }
}

const CELLS: usize = 512;

static G1: LazyLock<Arc<DragCurve>> = LazyLock::new(|| shipped(include_str!("../../data/drag-g1.csv")));
static G7: LazyLock<Arc<DragCurve>> = LazyLock::new(|| shipped(include_str!("../../data/drag-g7.csv")));

/// A shipped table; a test shows that each one is read whole.
fn shipped(text: &str) -> Arc<DragCurve> {
    let rows = text.lines().filter_map(|line| line.split_once(','));
    let points: Vec<(f64, f64)> =
        rows.filter_map(|(mach, cd)| Some((mach.trim().parse().ok()?, cd.trim().parse().ok()?))).collect();
    Arc::new(DragCurve::built(points))
}

/// The fastest first row of a bullet's own table, Mach (house assumption): drag hardly changes below, and above it is more
/// than a slow bullet's, which would be told slower than it is.
const SLOWEST_ROW: f64 = 0.8;

impl DragCurve {
    /// The G1 standard projectile.
    #[must_use]
    pub fn g1() -> Arc<Self> {
        Arc::clone(&G1)
    }

    /// The G7 standard projectile.
    #[must_use]
    pub fn g7() -> Arc<Self> {
        Arc::clone(&G7)
    }

    /// A curve through (Mach, Cd) points, Mach strictly rising.
    ///
    /// # Errors
    /// [`DragError`] names the point at fault.
    pub fn from_points(points: &[(f64, f64)]) -> Result<Self, DragError> {
        if points.len() < MIN_POINTS || points.len() > MAX_POINTS {
            return Err(DragError::Points { count: points.len() });
        }
        for (index, &(mach, cd)) in points.iter().enumerate() {
            if !(0.0..=MAX_MACH).contains(&mach) {
                return Err(DragError::Mach { row: index, mach });
            }
            if !(MIN_CD..=MAX_CD).contains(&cd) {
                return Err(DragError::Cd { row: index, cd });
            }
            if index > 0 && mach <= points[index - 1].0 {
                return Err(DragError::Order { row: index, mach, before: points[index - 1].0 });
            }
        }
        Ok(Self::built(points.to_vec()))
    }

    /// Reads a bullet's own table: CSV with the header `mach,cd`; lines that begin with `#` are comments.
    ///
    /// # Errors
    /// A [`Diagnostic`] at the line at fault.
    pub fn from_csv(source: &SourceText) -> Result<Self, Diagnostic> {
        let mut points = Vec::new();
        let mut spans = Vec::new();
        let mut headed = false;
        let mut offset = 0;
        for line in source.text.split_inclusive('\n') {
            let span = offset..offset + line.trim_end().len();
            offset += line.len();
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            if !headed {
                headed = true;
                if line.replace(' ', "").eq_ignore_ascii_case("mach,cd") {
                    continue;
                }
                return Err(source.fault(span, "the table has no header").help("write `mach,cd` above the first row"));
            }
            let row = line.split_once(',').and_then(|(m, c)| Some((m.trim().parse().ok()?, c.trim().parse().ok()?)));
            let Some(row) = row else {
                return Err(source.fault(span, "the row is not two numbers").help("write a row as `0.9,0.142`"));
            };
            if points.len() == MAX_POINTS {
                return Err(source.fault(span, format!("more than {MAX_POINTS} rows")).help("thin the table out"));
            }
            points.push(row);
            spans.push(span);
        }
        let curve = Self::from_points(&points).map_err(|error| {
            let span = error.row().and_then(|row| spans.get(row).cloned()).unwrap_or(0..0);
            source.fault(span, error.to_string()).help(error.help())
        })?;
        if let (Some((mach, _)), Some(span)) = (points.first().filter(|(mach, _)| *mach > SLOWEST_ROW), spans.first()) {
            let message = format!("the table begins at Mach {mach}, and nothing tells how a slower bullet is slowed");
            let help = format!("give it rows from Mach {SLOWEST_ROW} or slower on");
            return Err(source.fault(span.clone(), message).help(help));
        }
        Ok(curve)
    }

    fn built(points: Vec<(f64, f64)>) -> Self {
        let slopes = slopes(&points);
        let pieces: Vec<Piece> = (0..points.len().saturating_sub(1))
            .map(|i| {
                let (left, value) = points[i];
                let (width, rise) = (points[i + 1].0 - left, points[i + 1].1 - value);
                let (a, b) = (slopes[i], slopes[i + 1]);
                let c2 = (3.0 * rise / width - 2.0 * a - b) / width;
                let c3 = (a + b - 2.0 * rise / width) / (width * width);
                Piece { left, c: [value, a, c2, c3] }
            })
            .collect();
        let last = points.last().map_or(1.0, |p| p.0);
        let cells_per_mach = CELLS as f64 / last;
        let cells = (0..CELLS)
            .map(|cell| {
                let mach = cell as f64 / cells_per_mach;
                pieces.partition_point(|piece| piece.left <= mach).saturating_sub(1)
            })
            .collect();
        Self { points, pieces, cells, cells_per_mach, integral: Kept::default() }
    }

    /// The points it goes through.
    #[must_use]
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Drag coefficient at a Mach number.
    #[must_use]
    pub fn cd(&self, mach: f64) -> f64 {
        self.value_and_slope(mach).0
    }

    /// Drag coefficient and its slope dCd/dM.
    #[must_use]
    pub fn value_and_slope(&self, mach: f64) -> (f64, f64) {
        let (first, last) = (self.points[0], self.points[self.points.len() - 1]);
        if mach <= first.0 || mach.is_nan() {
            return (first.1, 0.0);
        }
        if mach >= last.0 {
            return (last.1, 0.0);
        }
        // The cell is in range, since 0 <= mach < last.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let mut index = self.cells[((mach * self.cells_per_mach) as usize).min(CELLS - 1)];
        while index + 1 < self.pieces.len() && self.pieces[index + 1].left <= mach {
            index += 1;
        }
        let Piece { left, c } = self.pieces[index];
        let x = mach - left;
        (((c[3] * x + c[2]) * x + c[1]) * x + c[0], (3.0 * c[3] * x + 2.0 * c[2]) * x + c[1])
    }

    /// The table of q = ∫dM/(M·Cd).
    pub(crate) fn integral(&self) -> Integral<'_> {
        Integral::of(self, &self.integral)
    }

    /// Whether, at fixed pressure, hotter air makes for a faster bullet at every speed that matters:
    /// drag goes with M²·Cd(M) at given speed, so it falls with temperature while M·Cd′/Cd > −2.
    #[must_use]
    pub fn hotter_is_faster(&self) -> bool {
        (30..=450).all(|step| {
            let mach = f64::from(step) * 0.01;
            let (cd, slope) = self.value_and_slope(mach);
            mach * slope / cd > -2.0
        })
    }
}

/// Slopes at the points that keep each piece monotone: the weighted harmonic mean of the neighbouring
/// secants, zero where they differ in sign (Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5, 1984).
fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let n = points.len();
    let width = |i: usize| points[i + 1].0 - points[i].0;
    let secant = |i: usize| (points[i + 1].1 - points[i].1) / width(i);
    let end = |h0: f64, h1: f64, d0: f64, d1: f64| {
        let slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
        if slope * d0 <= 0.0 {
            0.0
        } else if d0 * d1 < 0.0 && slope.abs() > 3.0 * d0.abs() {
            3.0 * d0
        } else {
            slope
        }
    };
    (0..n)
        .map(|i| {
            if n < 3 {
                return secant(0);
            }
            if i == 0 {
                return end(width(0), width(1), secant(0), secant(1));
            }
            if i == n - 1 {
                return end(width(n - 2), width(n - 3), secant(n - 2), secant(n - 3));
            }
            let (d0, d1) = (secant(i - 1), secant(i));
            if d0 * d1 <= 0.0 {
                return 0.0;
            }
            let (w0, w1) = (2.0 * width(i) + width(i - 1), width(i) + 2.0 * width(i - 1));
            (w0 + w1) / (w0 / d0 + w1 / d1)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_tables_are_read_whole() {
        assert_eq!(DragCurve::g1().points().len(), 79);
        assert_eq!(DragCurve::g7().points().len(), 84);
    }

    #[test]
    fn the_curve_goes_through_its_points_and_stays_between_them() {
        for curve in [DragCurve::g1(), DragCurve::g7()] {
            for pair in curve.points().windows(2) {
                let ((m0, c0), (m1, c1)) = (pair[0], pair[1]);
                assert!((curve.cd(m0) - c0).abs() < 1e-12 && (curve.cd(m1) - c1).abs() < 1e-12);
                for step in 0..=10 {
                    let cd = curve.cd(m0 + (m1 - m0) * f64::from(step) / 10.0);
                    assert!(cd >= c0.min(c1) - 1e-12 && cd <= c0.max(c1) + 1e-12, "{m0} {cd}");
                }
            }
        }
    }

    #[test]
    fn hotter_is_faster_for_the_standard_projectiles_and_not_for_a_cliff() {
        assert!(DragCurve::g1().hotter_is_faster() && DragCurve::g7().hotter_is_faster());
        let cliff = DragCurve::from_points(&[(0.5, 0.2), (1.0, 0.6), (1.1, 0.2), (3.0, 0.1)]).unwrap();
        assert!(!cliff.hotter_is_faster());
    }

    #[test]
    fn repeated_and_reversed_rows_are_refused_at_their_line() {
        for (rows, line) in
            [("0.5,0.2\n0.5,0.3\n1,0.4\n", 3), ("1,0.2\n0.5,0.3\n2,0.4\n", 3), ("0,0.2\n1,-0.3\n2,0.4\n", 3)]
        {
            let fault = DragCurve::from_csv(&SourceText::new("own.csv", format!("mach,cd\n{rows}"))).unwrap_err();
            assert_eq!(fault.position().unwrap().0, line, "{fault}");
            assert!(fault.help.is_some());
        }
    }

    #[test]
    fn a_table_with_a_byte_order_mark_and_one_without_are_the_same() {
        let rows = "mach,cd\n0.5,0.2\n1,0.4\n3,0.3\n";
        let read = |text: String| DragCurve::from_csv(&SourceText::new("own.csv", text)).unwrap();
        assert_eq!(read(format!("\u{feff}{rows}")), read(rows.into()));
    }

    #[test]
    fn a_table_too_short_or_without_a_header_is_refused() {
        assert!(DragCurve::from_csv(&SourceText::new("own.csv", "mach,cd\n1,0.3\n")).is_err());
        let from = |mach: f64| format!("mach,cd\n{mach},0.3\n2,0.27\n3,0.24\n");
        let fault = DragCurve::from_csv(&SourceText::new("own.csv", from(1.5))).unwrap_err();
        assert!(fault.message.contains("begins at Mach 1.5") && fault.position().unwrap().0 == 2, "{fault}");
        assert!(DragCurve::from_csv(&SourceText::new("own.csv", from(0.8))).is_ok());
        assert!(DragCurve::from_csv(&SourceText::new("own.csv", "1,0.3\n2,0.2\n3,0.1\n")).is_err());
        assert!(DragCurve::from_csv(&SourceText::new("own.csv", "mach,cd\n1,nan\n2,0.2\n3,0.1\n")).is_err());
    }
}
