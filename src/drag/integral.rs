//! The drag integral q = ∫dM/(M·Cd), tabulated the way the solver reads it: Mach number by q.

use super::DragCurve;
use std::sync::OnceLock;

/// Where q is 0: faster than any bullet that is taken.
pub(crate) const TOP_MACH: f64 = 6.5;
/// Where the table ends: slower than any bullet that is followed.
pub(crate) const BOTTOM_MACH: f64 = 0.02;
/// Distance of nodes in q. The drag rise takes Δq of about 0.5, so it is well covered.
const STEP: f64 = 0.02;
/// Steps of the integrator between nodes.
const SUBSTEPS: u32 = 2;

/// The speeds that most questions ask of: what is slower is tabulated when first asked for, since the way down from
/// here takes three times as many nodes.
const FAST_MACH: f64 = 0.7;

/// Coefficients of each cell in x = (q − left)/STEP: cubic Hermite between uniform nodes, where dM/dq = −M·Cd is known
/// exactly.
type Cells = Vec<[f64; 4]>;

/// What is kept of a curve's integral, each part made when first asked for.
#[derive(Debug, Default)]
pub(super) struct Kept {
    /// With the Mach number where it ends.
    fast: OnceLock<(Cells, f64)>,
    slow: OnceLock<Cells>,
}

/// Mach number as a function of q, along a curve.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Integral<'c> {
    curve: &'c DragCurve,
    kept: &'c Kept,
    fast: &'c [[f64; 4]],
}

/// The cells from one Mach number down to another, and where they end.
fn cells(curve: &DragCurve, from: f64, to: f64) -> (Cells, f64) {
    let rate = |mach: f64| -mach * curve.cd(mach);
    let h = STEP / f64::from(SUBSTEPS);
    let mut mach = from;
    let mut cells = Vec::new();
    while mach > to {
        let (left, slope) = (mach, rate(mach) * STEP);
        for _ in 0..SUBSTEPS {
            let k1 = rate(mach);
            let k2 = rate(mach + 0.5 * h * k1);
            let k3 = rate(mach + 0.5 * h * k2);
            let k4 = rate(mach + h * k3);
            mach += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
        }
        let (rise, end) = (mach - left, rate(mach) * STEP);
        cells.push([left, slope, 3.0 * rise - 2.0 * slope - end, slope + end - 2.0 * rise]);
    }
    (cells, mach)
}

impl<'c> Integral<'c> {
    pub(super) fn of(curve: &'c DragCurve, kept: &'c Kept) -> Self {
        Self { curve, kept, fast: &kept.fast.get_or_init(|| cells(curve, TOP_MACH, FAST_MACH)).0 }
    }

    /// The cells beyond the fast ones.
    #[cold]
    fn slow(self) -> &'c [[f64; 4]] {
        let from = self.kept.fast.get().map_or(FAST_MACH, |fast| fast.1);
        self.kept.slow.get_or_init(|| cells(self.curve, from, BOTTOM_MACH).0)
    }

    fn cell(self, index: usize) -> Option<&'c [f64; 4]> {
        self.fast.get(index).or_else(|| self.slow().get(index - self.fast.len()))
    }

    /// Mach number and 1/Cd at q; `None` beyond the table.
    #[inline]
    pub(crate) fn at(self, q: f64) -> Option<(f64, f64)> {
        let scaled = q * (1.0 / STEP);
        // A q below zero is faster than the table's top, which no checked muzzle velocity is; the cast saturates.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let index = scaled as usize;
        let c = self.cell(index)?;
        let x = scaled - index as f64;
        let mach = ((c[3] * x + c[2]) * x + c[1]) * x + c[0];
        let slope = (3.0 * c[3] * x + 2.0 * c[2]) * x + c[1];
        Some((mach, -STEP * mach / slope))
    }

    /// q at a Mach number, the inverse of [`Integral::at`]: bisection for the cell, Newton within.
    pub(crate) fn q(self, mach: f64) -> f64 {
        let below = |cells: &[[f64; 4]]| cells.partition_point(|c| c[0] > mach);
        let fast = below(self.fast);
        // A cell tells where it begins: what lies in the last of the fast ones may lie beyond it.
        let after = if fast < self.fast.len() { 0 } else { below(self.slow()) };
        let index = (fast + after).saturating_sub(1);
        let Some(c) = self.cell(index) else {
            return index as f64 * STEP;
        };
        let mut x = ((mach - c[0]) / c[1]).clamp(0.0, 1.0);
        for _ in 0..8 {
            let value = ((c[3] * x + c[2]) * x + c[1]) * x + c[0] - mach;
            let slope = (3.0 * c[3] * x + 2.0 * c[2]) * x + c[1];
            let change = value / slope;
            x -= change;
            if change.abs() < 1e-9 {
                break; // The next would be below the last digit.
            }
        }
        (index as f64 + x) * STEP
    }
}

#[cfg(test)]
mod tests {
    use super::super::{DragCurve, MIN_CD};

    #[test]
    fn mach_by_q_and_q_by_mach_agree() {
        for curve in [DragCurve::g1(), DragCurve::g7()] {
            let table = curve.integral();
            for step in 3..640 {
                let mach = f64::from(step) * 0.01;
                let (back, _) = table.at(table.q(mach)).unwrap();
                assert!((back - mach).abs() < 1e-12, "{mach} {back}");
            }
        }
    }

    #[test]
    fn the_least_drag_that_is_taken_bounds_the_table() {
        let least = DragCurve::from_points(&[(0.0, MIN_CD), (1.0, MIN_CD), (5.0, MIN_CD)]).unwrap();
        let table = least.integral();
        let bytes = std::mem::size_of_val(table.fast) + std::mem::size_of_val(table.slow());
        assert!(bytes < 1 << 20, "{bytes}");
        assert!(DragCurve::from_points(&[(0.0, 1e-6), (1.0, 1e-6), (5.0, 1e-6)]).is_err());
    }

    #[test]
    fn the_table_gives_the_curve_s_own_drag_coefficient() {
        for curve in [DragCurve::g1(), DragCurve::g7()] {
            for step in 3..600 {
                let mach = f64::from(step) * 0.01;
                let (_, per_cd) = curve.integral().at(curve.integral().q(mach)).unwrap();
                let cd = 1.0 / per_cd;
                // The slope of a cubic Hermite is of third order between its nodes.
                assert!((cd / curve.cd(mach) - 1.0).abs() < 1e-3, "{mach} {cd} {}", curve.cd(mach));
            }
        }
    }
}
