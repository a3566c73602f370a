//! The drag integral q = ∫dM/(M·Cd), tabulated the way the solver reads it: Mach number by q.

use super::DragCurve;

/// Where q is 0: faster than any bullet that is taken.
pub(crate) const TOP_MACH: f64 = 6.5;
/// Where the table ends: slower than any bullet that is followed.
pub(crate) const BOTTOM_MACH: f64 = 0.02;
/// Distance of nodes in q. The drag rise takes Δq of about 0.5, so it is well covered.
const STEP: f64 = 0.02;
/// Steps of the integrator between nodes.
const SUBSTEPS: u32 = 2;

/// Mach number as a function of q, cubic Hermite between uniform nodes: dM/dq = −M·Cd is known exactly.
#[derive(Debug)]
pub(crate) struct IntegralTable {
    /// Coefficients of each cell in x = (q − left)/STEP.
    cells: Vec<[f64; 4]>,
}

impl IntegralTable {
    pub(super) fn of(curve: &DragCurve) -> Self {
        let rate = |mach: f64| -mach * curve.cd(mach);
        let h = STEP / f64::from(SUBSTEPS);
        let mut mach = TOP_MACH;
        let mut cells = Vec::new();
        while mach > BOTTOM_MACH {
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
        Self { cells }
    }

    /// Largest q of the table.
    pub(crate) fn end(&self) -> f64 {
        self.cells.len() as f64 * STEP
    }

    /// Mach number and 1/Cd at q; `None` beyond the table.
    #[inline]
    pub(crate) fn at(&self, q: f64) -> Option<(f64, f64)> {
        let scaled = q * (1.0 / STEP);
        // A q below zero is faster than the table's top, which no checked muzzle velocity is; the cast saturates.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let index = scaled as usize;
        let c = self.cells.get(index)?;
        let x = scaled - index as f64;
        let mach = ((c[3] * x + c[2]) * x + c[1]) * x + c[0];
        let slope = (3.0 * c[3] * x + 2.0 * c[2]) * x + c[1];
        Some((mach, -STEP * mach / slope))
    }

    /// q at a Mach number, the inverse of [`IntegralTable::at`]: bisection for the cell, Newton within.
    pub(crate) fn q(&self, mach: f64) -> f64 {
        let cell = self.cells.partition_point(|c| c[0] > mach).saturating_sub(1);
        let Some(c) = self.cells.get(cell) else {
            return self.end();
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
        (cell as f64 + x) * STEP
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
        let bytes = std::mem::size_of_val(least.integral().cells.as_slice());
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
