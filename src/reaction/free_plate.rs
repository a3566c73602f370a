//! Own computation of the modes of a thin rectangular plate, free all around, by Rayleigh and Ritz.
//!
//! The deflection is a sum of products of Legendre polynomials, which every free plate's is, since no edge
//! holds it: no condition has to be met but that the energy is least. With orthonormal polynomials the mass
//! matrix is the unit matrix, and `λ² = (ω·a²)²·ρh/D` are the eigenvalues of the stiffness
//!
//! `16·[∫w_ξξ² + r⁴·∫w_ηη² + 2ν·r²·∫w_ξξ·w_ηη + 2(1 − ν)·r²·∫w_ξη²]`, r = a/b, ξ and η from −1 to 1.
//!
//! The plate's two mirror lines split the sum into four that do not mix: even or odd in ξ, even or odd in η.
//! Ritz's values are upper bounds and fall towards the true ones as terms are added (a test shows both).

use crate::order::Order;
use std::cmp::Ordering;

/// Polynomials of each parity in each direction, degrees up to 9: the lowest three modes to 1 in 50,000, and a
/// millisecond's work.
const TERMS: usize = 5;
/// The largest aspect ratio; beyond it a plate is a strip and its higher modes ask for more terms.
pub const MAX_ASPECT: f64 = 8.0;
/// Sweeps after which the eigenproblem is given up; it takes six to ten.
const MAX_SWEEPS: usize = 50;
/// Deflection at the centre, over the root mean square of the plate's, below which a node lies at the centre: a
/// mode takes energy by the square, so less than a four-hundredth of what an even motion would.
const NODE_SHARE: f64 = 0.05;
/// Root mean square over the square of side 2 of a shape whose coefficients have the norm 1.
const ROOT_MEAN_SQUARE: f64 = 0.5;

/// A mode of a free rectangle.
#[derive(Debug, Clone, PartialEq)]
pub struct FreeMode {
    /// λ² on the long side: f = λ²/(2π·a²)·√(D/ρh).
    pub lambda_sq: f64,
    /// Whether a node lies at the centre.
    pub node_at_centre: bool,
    /// Degrees of the leading product of polynomials, along the long and the short side: how many node lines
    /// cross that side, where one product leads.
    pub leading: (usize, usize),
    /// Parity along the long and along the short side: 0 even, 1 odd.
    parity: (usize, usize),
    /// Coefficients, the degree along the short side fastest.
    shape: Vec<f64>,
    terms: usize,
}

impl FreeMode {
    /// Deflection at ξ along the long side and η along the short side, −1 to 1, over the root mean square of the
    /// whole plate's; which way is up is a matter of chance.
    #[must_use]
    pub fn deflection(&self, xi: f64, eta: f64) -> f64 {
        let highest = 2 * self.terms;
        let (along, across) = (orthonormal(highest, xi), orthonormal(highest, eta));
        let mut sum = 0.0;
        for (index, c) in self.shape.iter().enumerate() {
            let i = self.parity.0 + 2 * (index / self.terms);
            let j = self.parity.1 + 2 * (index % self.terms);
            sum += c * along[i] * across[j];
        }
        sum / ROOT_MEAN_SQUARE
    }
}

/// The lowest `count` modes of a free rectangle of `aspect` = long side over short side, 1 to
/// [`MAX_ASPECT`], and Poisson's ratio `poisson`, 0 to 0.5, by rising pitch.
///
/// `None` where an argument is out of bounds.
#[must_use]
pub fn rectangle(aspect: f64, poisson: f64, count: usize) -> Option<Vec<FreeMode>> {
    let known = (1.0..=MAX_ASPECT).contains(&aspect) && (0.0..=0.5).contains(&poisson);
    known.then(|| rectangle_of(aspect, poisson, count, TERMS))
}

fn rectangle_of(aspect: f64, poisson: f64, count: usize, terms: usize) -> Vec<FreeMode> {
    let integrals = Integrals::new(2 * terms);
    let mut modes = Vec::new();
    for parity in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        let stiffness = integrals.stiffness(aspect, poisson, parity, terms);
        let (values, vectors) = eigen(stiffness);
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.order_by(|&a, &b| values[a].total_cmp(&values[b]));
        // Moving and tipping as a whole is the softest of each group but that of the twist.
        let rigid = usize::from(parity != (1, 1));
        for &index in order.iter().skip(rigid).take(count) {
            let shape: Vec<f64> = vectors.iter().map(|row| row[index]).collect();
            modes.push(mode(values[index], shape, parity, terms));
        }
    }
    modes.order_by(|a, b| a.lambda_sq.partial_cmp(&b.lambda_sq).unwrap_or(Ordering::Equal));
    modes.truncate(count);
    modes
}

fn mode(value: f64, shape: Vec<f64>, parity: (usize, usize), terms: usize) -> FreeMode {
    let lead = (0..shape.len()).max_by(|&a, &b| shape[a].abs().total_cmp(&shape[b].abs())).unwrap_or(0);
    let leading = (parity.0 + 2 * (lead / terms), parity.1 + 2 * (lead % terms));
    let mut mode = FreeMode { lambda_sq: value.max(0.0).sqrt(), node_at_centre: true, leading, parity, shape, terms };
    mode.node_at_centre = parity != (0, 0) || mode.deflection(0.0, 0.0).abs() < NODE_SHARE;
    mode
}

/// The orthonormal Legendre polynomials √(n + ½)·Pₙ at x, of degrees 0 to `highest`.
fn orthonormal(highest: usize, x: f64) -> Vec<f64> {
    let mut legendre = vec![1.0, x];
    for n in 1..highest {
        let m = n as f64;
        legendre.push(((2.0 * m + 1.0) * x * legendre[n] - m * legendre[n - 1]) / (m + 1.0));
    }
    legendre.iter().enumerate().map(|(n, p)| p * (n as f64 + 0.5).sqrt()).collect()
}

type Matrix = Vec<Vec<f64>>;

/// Integrals of products of derivatives of the orthonormal polynomials.
struct Integrals {
    /// ∫pᵢ″pₖ″
    bend_bend: Matrix,
    /// ∫pᵢ″pₖ
    bend_flat: Matrix,
    /// ∫pᵢ′pₖ′
    slope_slope: Matrix,
}

impl Integrals {
    fn new(size: usize) -> Self {
        // pₙ′ = Σ √((2n + 1)(2k + 1))·pₖ over k = n − 1, n − 3, …
        let slope: Matrix = (0..size)
            .map(|n| {
                let part = |k: usize| ((2 * n + 1) as f64 * (2 * k + 1) as f64).sqrt();
                (0..size).map(|k| if k < n && (n - k) % 2 == 1 { part(k) } else { 0.0 }).collect()
            })
            .collect();
        let product = |a: &Matrix, b: &dyn Fn(usize, usize) -> f64| -> Matrix {
            a.iter()
                .map(|row| (0..size).map(|k| row.iter().enumerate().map(|(m, x)| x * b(m, k)).sum()).collect())
                .collect()
        };
        let bend = product(&slope, &|m, k| slope[m][k]);
        Self {
            bend_bend: product(&bend, &|m, k| bend[k][m]),
            slope_slope: product(&slope, &|m, k| slope[k][m]),
            bend_flat: bend,
        }
    }

    fn stiffness(&self, aspect: f64, poisson: f64, parity: (usize, usize), terms: usize) -> Matrix {
        let (a, b, c) = (&self.bend_bend, &self.bend_flat, &self.slope_slope);
        let r2 = aspect * aspect;
        let degrees = |index: usize| (parity.0 + 2 * (index / terms), parity.1 + 2 * (index % terms));
        let element = |row: usize, column: usize| {
            let ((i, j), (k, l)) = (degrees(row), degrees(column));
            let same = |m: usize, n: usize| if m == n { 1.0 } else { 0.0 };
            let bending = a[i][k] * same(j, l) + r2 * r2 * same(i, k) * a[j][l];
            let mixed = poisson * r2 * (b[i][k] * b[l][j] + b[k][i] * b[j][l]);
            16.0 * (bending + mixed + 2.0 * (1.0 - poisson) * r2 * c[i][k] * c[j][l])
        };
        let size = terms * terms;
        (0..size).map(|row| (0..size).map(|column| element(row, column)).collect()).collect()
    }
}

/// Eigenvalues and eigenvectors (columns) of a symmetric matrix, by Jacobi's rotations in cyclic order.
fn eigen(mut a: Matrix) -> (Vec<f64>, Matrix) {
    let size = a.len();
    let mut vectors: Matrix = (0..size).map(|i| (0..size).map(|j| if i == j { 1.0 } else { 0.0 }).collect()).collect();
    for _ in 0..MAX_SWEEPS {
        let mut solved = true;
        for p in 0..size {
            for q in p + 1..size {
                // Judged beside its own diagonal elements, so that low modes keep their digits beside high ones.
                if a[p][q].abs() > f64::EPSILON * (a[p][p] * a[q][q]).abs().sqrt() {
                    rotate(&mut a, &mut vectors, p, q);
                    solved = false;
                }
            }
        }
        if solved {
            break;
        }
    }
    ((0..size).map(|i| a[i][i]).collect(), vectors)
}

/// Turns rows and columns p and q so that the element between them vanishes.
fn rotate(a: &mut Matrix, vectors: &mut Matrix, p: usize, q: usize) {
    let theta = (a[q][q] - a[p][p]) / (2.0 * a[p][q]);
    let tangent = theta.signum() / (theta.abs() + theta.hypot(1.0));
    let cosine = 1.0 / tangent.hypot(1.0);
    let sine = tangent * cosine;
    for row in a.iter_mut() {
        turn(row, p, q, cosine, sine);
    }
    let (upper, lower) = a.split_at_mut(q);
    for (x, y) in upper[p].iter_mut().zip(lower[0].iter_mut()) {
        (*x, *y) = (cosine * *x - sine * *y, sine * *x + cosine * *y);
    }
    for row in vectors.iter_mut() {
        turn(row, p, q, cosine, sine);
    }
}

fn turn(row: &mut [f64], p: usize, q: usize, cosine: f64, sine: f64) {
    (row[p], row[q]) = (cosine * row[p] - sine * row[q], sine * row[p] + cosine * row[q]);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lambdas(aspect: f64, terms: usize) -> Vec<f64> {
        rectangle_of(aspect, 0.30, 3, terms).iter().map(|m| m.lambda_sq).collect()
    }

    #[test]
    fn more_terms_only_lower_the_values_and_five_are_enough() {
        for aspect in [1.0, 1.5, 2.5, MAX_ASPECT] {
            let mut last = lambdas(aspect, 3);
            for terms in 4..=8 {
                let next = lambdas(aspect, terms);
                for (a, b) in last.iter().zip(&next) {
                    assert!(*b <= a * (1.0 + 1e-9), "{aspect}: {b} above {a} at {terms} terms");
                }
                last = next;
            }
            for (five, eight) in lambdas(aspect, TERMS).iter().zip(&last) {
                assert!((five / eight - 1.0).abs() < 2e-5, "{aspect}: {five} and {eight}");
            }
        }
    }

    #[test]
    fn the_node_on_a_squares_diagonal_stays_where_it_is_with_more_terms() {
        let node = |terms: usize| {
            let mode = &rectangle_of(1.0, 0.30, 3, terms)[2];
            let (mut inside, mut outside) = (0.0, 1.0);
            for _ in 0..40 {
                let middle = 0.5 * (inside + outside);
                let same = mode.deflection(middle, middle) * mode.deflection(0.0, 0.0) > 0.0;
                if same { inside = middle } else { outside = middle }
            }
            inside
        };
        assert!((node(TERMS) - node(8)).abs() < 1e-4, "{} {}", node(TERMS), node(8));
    }

    #[test]
    fn a_long_strip_bends_like_a_free_beam() {
        // A beam free at both ends: λ² = 4.730041² = 22.3733 and 7.853205² = 61.6728 (closed form
        // cos β·cosh β = 1), with D(1 − ν²) for D where the strip is narrow.
        let modes = rectangle(MAX_ASPECT, 0.0, 3).unwrap();
        let bending: Vec<&FreeMode> = modes.iter().filter(|m| m.leading.1 == 0).collect();
        assert!((bending[0].lambda_sq / 22.3733 - 1.0).abs() < 1e-3, "{}", bending[0].lambda_sq);
        assert!(!bending[0].node_at_centre);
        assert!((bending[1].lambda_sq / 61.6728 - 1.0).abs() < 2e-3, "{}", bending[1].lambda_sq);
        assert!(bending[1].node_at_centre);
        // Node lines of the first at 0.2242 of the length from the ends (closed form).
        let at = 1.0 - 2.0 * 0.2242;
        assert!(bending[0].deflection(at, 0.0).abs() < 2e-3, "{}", bending[0].deflection(at, 0.0));
    }

    #[test]
    fn a_square_twists_then_saddles_then_rings_and_only_the_last_moves_at_the_centre() {
        let modes = rectangle(1.0, 0.30, 3).unwrap();
        assert_eq!(modes.iter().map(|m| m.node_at_centre).collect::<Vec<_>>(), [true, true, false]);
        assert_eq!(modes[0].leading, (1, 1));
        // The saddle's nodes are the diagonals.
        assert!(modes[1].deflection(0.4, 0.4).abs() < 1e-9 && modes[1].deflection(0.4, 0.1).abs() > 1e-3);
        assert!(modes[2].deflection(0.0, 0.0) * modes[2].deflection(1.0, 1.0) < 0.0);
    }

    #[test]
    fn a_nearly_square_plate_behaves_like_a_square() {
        let modes = rectangle(1.001, 0.30, 3).unwrap();
        assert_eq!(modes.iter().map(|m| m.node_at_centre).collect::<Vec<_>>(), [true, true, false]);
        let square = rectangle(1.0, 0.30, 3).unwrap();
        for (a, b) in modes.iter().zip(&square) {
            assert!((a.lambda_sq / b.lambda_sq - 1.0).abs() < 2e-3);
        }
    }

    #[test]
    fn a_shape_has_the_root_mean_square_one() {
        for mode in rectangle(1.7, 0.30, 3).unwrap() {
            let n = 200;
            let at = |i: i32| (f64::from(2 * i + 1) / f64::from(n)) - 1.0;
            let sum: f64 = (0..n)
                .flat_map(|i| (0..n).map(move |j| (i, j)))
                .map(|(i, j)| mode.deflection(at(i), at(j)).powi(2))
                .sum();
            assert!((sum / f64::from(n * n) - 1.0).abs() < 1e-2, "{sum}");
        }
    }

    #[test]
    fn eigenvalues_of_a_known_matrix_are_found() {
        // Second differences of n points: 2 − 2·cos(kπ/(n + 1)).
        let size = 7;
        let matrix: Matrix = (0..size)
            .map(|i: usize| (0..size).map(|j: usize| [2.0, -1.0, 0.0][i.abs_diff(j).min(2)]).collect())
            .collect();
        let (mut values, vectors) = eigen(matrix.clone());
        for column in 0..size {
            let image: Vec<f64> =
                matrix.iter().map(|row| (0..size).map(|k| row[k] * vectors[k][column]).sum()).collect();
            for row in 0..size {
                assert!((image[row] - values[column] * vectors[row][column]).abs() < 1e-13);
            }
        }
        values.sort_by(f64::total_cmp);
        for (k, value) in values.iter().enumerate() {
            let exact = 2.0 - 2.0 * ((k + 1) as f64 * std::f64::consts::PI / (size + 1) as f64).cos();
            assert!((value - exact).abs() < 1e-13, "{value} {exact}");
        }
    }

    #[test]
    fn what_is_no_rectangle_has_no_modes() {
        for (aspect, poisson) in [(0.9, 0.3), (f64::NAN, 0.3), (8.1, 0.3), (1.0, 0.6), (1.0, f64::NAN)] {
            assert!(rectangle(aspect, poisson, 3).is_none());
        }
    }
}
