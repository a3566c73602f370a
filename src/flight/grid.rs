//! Chebyshev–Lobatto nodes on [0, 1], and integrals over the polynomial through values at them.
//!
//! Each level's nodes are every other one of the next, so that a rule carries its coarser neighbour within it
//! (Clenshaw and Curtis, Numer. Math. 2, 1960), and the difference of the two tells the error.

use std::f64::consts::PI;
use std::sync::LazyLock;

/// Integrals from 0 to each of `F` nodes of the polynomial through values at `C` nodes.
#[derive(Debug)]
pub(super) struct Integrals<const C: usize, const F: usize> {
    /// By value: what it adds to each integral.
    columns: [[f64; F]; C],
}

impl<const C: usize, const F: usize> Integrals<C, F> {
    fn new() -> Self {
        let cardinals = Cardinals::new(C - 1);
        let mut columns = [[0.0; F]; C];
        for i in 0..F {
            for (column, integral) in columns.iter_mut().zip(cardinals.integrals(node(i, F))) {
                column[i] = integral;
            }
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
    fn new() -> Self {
        let (fine, coarse) = (Cardinals::new(M - 1).integrals(1.0), Cardinals::new((M - 1) / 2).integrals(1.0));
        let (mut x, mut whole, mut change) = ([0.0; M], [0.0; M], [0.0; M]);
        for i in 0..M {
            x[i] = node(i, M);
            whole[i] = fine[i];
            change[i] = fine[i] - if i % 2 == 0 { coarse[i / 2] } else { 0.0 };
        }
        let levered = |weights: [f64; M]| Weights(std::array::from_fn(|i| weights[i] * (1.0 - x[i])));
        Self {
            x,
            integrals: Integrals::new(),
            lever: levered(whole),
            whole: Weights(whole),
            lever_change: levered(change),
            whole_change: Weights(change),
        }
    }
}

/// The levels, and the steps from each to the next.
pub(super) struct Levels {
    pub first: Grid<5>,
    pub second: Grid<9>,
    pub to_second: Integrals<5, 9>,
    /// The third with the step to it, and the last: short paths need neither.
    pub third: LazyLock<(Grid<17>, Integrals<9, 17>)>,
    pub fourth: LazyLock<(Grid<33>, Integrals<17, 33>)>,
}

pub(super) static LEVELS: LazyLock<Levels> = LazyLock::new(|| Levels {
    first: Grid::new(),
    second: Grid::new(),
    to_second: Integrals::new(),
    third: LazyLock::new(|| (Grid::new(), Integrals::new())),
    fourth: LazyLock::new(|| (Grid::new(), Integrals::new())),
});

/// Node `i` of `count`, from 0 to 1.
fn node(i: usize, count: usize) -> f64 {
    0.5 * (1.0 - (PI * i as f64 / (count - 1) as f64).cos())
}

/// The polynomials of degree n that are 1 at one node and 0 at the others, as Chebyshev series in 1 − 2x.
struct Cardinals {
    n: usize,
    /// cos(πm/n), by which the series are written, for m up to 2n.
    cos: Vec<f64>,
}

impl Cardinals {
    fn new(n: usize) -> Self {
        Self { n, cos: (0..2 * n).map(|m| (PI * m as f64 / n as f64).cos()).collect() }
    }

    /// Half at the ends of a series or of the nodes, else whole.
    fn halved(&self, k: usize) -> f64 {
        if k == 0 || k == self.n { 0.5 } else { 1.0 }
    }

    /// Integrals from 0 to x of each.
    fn integrals(&self, x: f64) -> Vec<f64> {
        let (n, terms) = (self.n, self.terms(x));
        let of = |j: usize| -> f64 { (0..=n).map(|k| self.cos[(j * k) & (2 * n - 1)] * terms[k]).sum() };
        (0..=n).map(|j| self.halved(j) * of(j) / n as f64).collect()
    }

    /// Integrals of the series' terms: from the place 1 − 2x to 1, where x is 0, and dx is half of it.
    fn terms(&self, x: f64) -> Vec<f64> {
        let angle = (1.0 - 2.0 * x).clamp(-1.0, 1.0).acos();
        let t: Vec<f64> = (0..self.n + 2).map(|k| (k as f64 * angle).cos()).collect();
        let integral = |k: usize| match k {
            0 => 1.0 - t[1],
            1 => 0.5 * (1.0 - t[1] * t[1]),
            _ => 0.5 * ((1.0 - t[k + 1]) / (k + 1) as f64 - (1.0 - t[k - 1]) / (k - 1) as f64),
        };
        (0..=self.n).map(|k| self.halved(k) * integral(k)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn polynomials_up_to_the_degree_are_integrated_exactly() {
        let (grid, _) = &*LEVELS.third;
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
        let (coarse, (fine, to_fine)) = (&LEVELS.second, &*LEVELS.third);
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
