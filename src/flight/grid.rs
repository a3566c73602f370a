//! Chebyshev–Lobatto nodes on [0, 1], and integrals over the polynomial through values at them.
//!
//! Each level's nodes are every other one of the next, so that a rule carries its coarser neighbour within it
//! (Clenshaw and Curtis, Numer. Math. 2, 1960), and the difference of the two tells the error.

use std::f64::consts::PI;

/// Steps of the finest level.
const FINEST: usize = 32;

/// Integrals from 0 to each of `F` nodes of the polynomial through values at `C` nodes.
#[derive(Debug)]
pub(super) struct Integrals<const C: usize, const F: usize> {
    /// By value: what it adds to each integral.
    columns: [[f64; F]; C],
}

impl<const C: usize, const F: usize> Integrals<C, F> {
    const fn new() -> Self {
        let mut columns = [[0.0; F]; C];
        let mut i = 0;
        while i < F {
            let row = integrals::<C>(i * (FINEST / (F - 1)));
            let mut j = 0;
            while j < C {
                columns[j][i] = row[j];
                j += 1;
            }
            i += 1;
        }
        Self { columns }
    }

    /// The integrals of the values, times `scale`, plus `start`.
    #[inline]
    pub fn of(&self, values: &[f64; C], scale: f64, start: f64) -> [f64; F] {
        let mut out = [start; F];
        for (column, value) in self.columns.iter().zip(values) {
            let weight = scale * value;
            for (sum, entry) in out.iter_mut().zip(column) {
                *sum += weight * entry;
            }
        }
        out
    }
}

/// Weights of one integral from 0 to 1 of the polynomial through values at `M` nodes.
#[derive(Debug)]
pub(super) struct Weights<const M: usize>([f64; M]);

impl<const M: usize> Weights<M> {
    #[inline]
    pub fn of(&self, values: &[f64; M]) -> f64 {
        let mut sum = 0.0;
        for i in 0..M {
            sum += self.0[i] * values[i];
        }
        sum
    }
}

/// The nodes of one level.
#[derive(Debug)]
pub(super) struct Grid<const M: usize> {
    /// From 0 to 1.
    pub x: [f64; M],
    pub integrals: Integrals<M, M>,
    /// The integral of the values.
    pub whole: Weights<M>,
    /// The integral of the values times 1 − x.
    pub lever: Weights<M>,
    /// What `whole` changes by between the coarser level and this one.
    pub whole_change: Weights<M>,
    /// What `lever` changes by between the coarser level and this one.
    pub lever_change: Weights<M>,
}

impl<const M: usize> Grid<M> {
    /// With the level below, of `H` nodes.
    const fn over<const H: usize>() -> Self {
        let (fine, coarse) = (integrals::<M>(FINEST), integrals::<H>(FINEST));
        let (mut x, mut lever, mut change, mut lever_change) = ([0.0; M], [0.0; M], [0.0; M], [0.0; M]);
        let mut i = 0;
        while i < M {
            x[i] = 0.5 * (1.0 - cos(i * (FINEST / (M - 1))));
            change[i] = fine[i] - if i % 2 == 0 { coarse[i / 2] } else { 0.0 };
            lever[i] = fine[i] * (1.0 - x[i]);
            lever_change[i] = change[i] * (1.0 - x[i]);
            i += 1;
        }
        Self {
            x,
            integrals: Integrals::new(),
            whole: Weights(fine),
            lever: Weights(lever),
            whole_change: Weights(change),
            lever_change: Weights(lever_change),
        }
    }
}

/// The levels, and the steps from each to the next.
pub(super) struct Levels {
    pub first: Grid<5>,
    pub second: Grid<9>,
    pub to_second: Integrals<5, 9>,
    pub third: Grid<17>,
    pub to_third: Integrals<9, 17>,
    pub fourth: Grid<33>,
    pub to_fourth: Integrals<17, 33>,
}

/// Worked out by the compiler.
pub(super) static LEVELS: Levels = Levels {
    first: Grid::over::<3>(),
    second: Grid::over::<5>(),
    to_second: Integrals::new(),
    third: Grid::over::<9>(),
    to_third: Integrals::new(),
    fourth: Grid::over::<17>(),
    to_fourth: Integrals::new(),
};

/// cos(πm/32) of a whole turn, by its series.
const COS: [f64; 2 * FINEST] = {
    let mut turn = [0.0; 2 * FINEST];
    let mut m = 0;
    while m <= FINEST / 2 {
        let square = (PI * m as f64 / FINEST as f64) * (PI * m as f64 / FINEST as f64);
        let (mut term, mut sum, mut k) = (1.0, 1.0, 0.0);
        while k < 22.0 {
            term *= -square / ((k + 1.0) * (k + 2.0));
            sum += term;
            k += 2.0;
        }
        turn[m] = sum;
        turn[(2 * FINEST - m) % (2 * FINEST)] = sum;
        turn[FINEST - m] = -sum;
        turn[FINEST + m] = -sum;
        m += 1;
    }
    turn
};

/// cos(πm/32).
const fn cos(m: usize) -> f64 {
    COS[m % (2 * FINEST)]
}

/// Integrals from 0 to the node at (1 − cos(πm/32))/2 of the polynomials that are 1 at one of `C` nodes and 0 at the
/// others, as Chebyshev series in 1 − 2x.
const fn integrals<const C: usize>(m: usize) -> [f64; C] {
    let (n, terms) = (C - 1, terms::<C>(m));
    let mut out = [0.0; C];
    let mut j = 0;
    while j < C {
        let (mut sum, mut k) = (0.0, 0);
        while k < C {
            sum += cos(j * k * (FINEST / n)) * terms[k];
            k += 1;
        }
        out[j] = halved(j, n) * sum / n as f64;
        j += 1;
    }
    out
}

/// Integrals of the series' terms: from the place 1 − 2x = cos(πm/32) to 1, where x is 0, and dx is half of it.
const fn terms<const C: usize>(m: usize) -> [f64; C] {
    let mut out = [0.0; C];
    let mut k = 0;
    while k < C {
        let integral = match k {
            0 => 1.0 - cos(m),
            1 => 0.5 * (1.0 - cos(m) * cos(m)),
            _ => {
                let (above, below) = ((k + 1) as f64, (k - 1) as f64);
                0.5 * ((1.0 - cos((k + 1) * m)) / above - (1.0 - cos((k - 1) * m)) / below)
            }
        };
        out[k] = halved(k, C - 1) * integral;
        k += 1;
    }
    out
}

/// Half at the ends of a series or of the nodes, else whole.
const fn halved(k: usize, n: usize) -> f64 {
    if k == 0 || k == n { 0.5 } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cosines_are_those_of_the_library() {
        for m in 0..200 {
            assert!((cos(m) - (PI * m as f64 / 32.0).cos()).abs() < 3e-16 * (1.0 + m as f64), "{m}");
        }
    }

    #[test]
    fn polynomials_up_to_the_degree_are_integrated_exactly() {
        let grid = &LEVELS.third;
        for degree in 0..=16 {
            let values = grid.x.map(|x| x.powi(degree));
            let integrals = grid.integrals.of(&values, 2.0, 1.0);
            for (x, integral) in grid.x.iter().zip(integrals) {
                let exact = 1.0 + 2.0 * x.powi(degree + 1) / f64::from(degree + 1);
                assert!((integral - exact).abs() < 1e-13, "{degree} {x} {integral} {exact}");
            }
        }
    }

    #[test]
    fn a_finer_level_takes_over_the_polynomial_and_the_nodes_of_the_coarser() {
        let (coarse, fine, to_fine) = (&LEVELS.second, &LEVELS.third, &LEVELS.to_third);
        let values = coarse.x.map(|x| x.powi(7));
        for (x, integral) in fine.x.iter().zip(to_fine.of(&values, 1.0, 0.0)) {
            assert!((integral - x.powi(8) / 8.0).abs() < 1e-14);
        }
        for (i, x) in coarse.x.iter().enumerate() {
            assert!((x - fine.x[2 * i]).abs() < 1e-15);
        }
    }

    #[test]
    fn the_change_from_the_coarser_level_is_none_below_its_degree_and_some_above() {
        let grid = &LEVELS.second;
        assert!(grid.whole_change.of(&grid.x.map(|x| x.powi(4))).abs() < 1e-15);
        assert!(grid.lever_change.of(&grid.x.map(|x| x.powi(3))).abs() < 1e-15);
        assert!(grid.whole_change.of(&grid.x.map(|x| (20.0 * x).sin())).abs() > 1e-3);
        assert!((grid.lever.of(&grid.x) - 1.0 / 6.0).abs() < 1e-15);
    }
}
