//! The aimed path of a bullet with one coefficient, found whole: the rates are integrated over polynomials
//! through a few nodes along the path, again and again until nothing moves, and the launch is set each time so
//! that the path ends on the target.
//!
//! In drag space the rates hardly depend on the state, so each round brings some two digits (Picard's iteration
//! on Chebyshev nodes), its evaluations do not wait for one another, and aiming costs nothing. What bends too
//! much for it, or has more than one coefficient, is left to [`super::steps`].

use super::grid::{Grid, Integrals, LEVELS};
use super::rates::Rates;
use super::state::{MAX_LAUNCH, Node, State};

/// What q may err by: a speed errs by the share Cd·Δq, some 1e-6.
const TOLERANCE_Q: f64 = 5e-6;
/// What the launch may err by: it moves the path by as little as an arrow of 3 mm a kilometre.
const TOLERANCE_P: f64 = 3e-6;
/// How much less a level errs than the one below it, at the least, on rates as smooth as drag tables make them.
const FINER: f64 = 0.1;
/// Most rounds on one level.
const MAX_ROUNDS: u32 = 8;
/// The share of a change that is left after a round, until it has been seen.
const LEFT_AT_FIRST: f64 = 0.3;
/// The same, at the most.
const MAX_LEFT: f64 = 0.9;

/// A path as it was found.
pub(super) struct Found {
    pub end: State,
    pub evaluations: u32,
}

enum Settled {
    Done,
    Finer,
}

/// The path on one level: state and rates at its nodes.
struct Level<const M: usize> {
    q: [f64; M],
    p: [f64; M],
    n: [f64; M],
    rates: [[f64; M]; 3],
    /// The share of a change that is left after a round.
    left: f64,
}

/// Finds the path to a distance; `None` where this form does not serve.
pub(super) fn find(rates: &mut Rates, metres: f64, nodes: Option<&mut Vec<Node>>) -> Option<Found> {
    // A path of no length is a step of none, and bands bend where a polynomial does not.
    if !(metres > 0.0) || rates.has_bands() {
        return None;
    }
    let levels = &LEVELS;
    let start = rates.start();
    let mut first = Level::straight(rates, &levels.first, metres, start);
    if let Settled::Done = first.settle(rates, &levels.first, metres, start)? {
        return first.found(rates, &levels.first, metres, start, nodes);
    }
    let mut second = first.finer(&levels.to_second, metres, start);
    if let Settled::Done = second.settle(rates, &levels.second, metres, start)? {
        return second.found(rates, &levels.second, metres, start, nodes);
    }
    let mut third = second.finer(&levels.to_third, metres, start);
    if let Settled::Done = third.settle(rates, &levels.third, metres, start)? {
        return third.found(rates, &levels.third, metres, start, nodes);
    }
    let mut fourth = third.finer(&levels.to_fourth, metres, start);
    match fourth.settle(rates, &levels.fourth, metres, start)? {
        Settled::Done => fourth.found(rates, &levels.fourth, metres, start, nodes),
        Settled::Finer => None,
    }
}

impl<const M: usize> Level<M> {
    /// A straight line through even air: q grows evenly.
    fn straight(rates: &Rates, grid: &Grid<M>, metres: f64, start: f64) -> Self {
        let rate = rates.level();
        Self {
            q: grid.x.map(|x| start + rate * metres * x),
            p: [0.0; M],
            n: [0.0; M],
            rates: [[0.0; M]; 3],
            left: LEFT_AT_FIRST,
        }
    }

    /// Rounds until the path stays, or until the level is too coarse to tell.
    fn settle(&mut self, rates: &mut Rates, grid: &Grid<M>, metres: f64, start: f64) -> Option<Settled> {
        let mut before = f64::INFINITY;
        for _ in 0..MAX_ROUNDS {
            self.evaluate(rates, grid, metres)?;
            let change = self.change(grid, metres, start);
            if !change.is_finite() {
                return None;
            }
            if before.is_finite() {
                self.left = (change / before).min(MAX_LEFT);
            }
            before = change;
            let coarse = self.coarseness(grid, metres);
            let stays = change * self.left <= 1.0_f64.max(0.3 * coarse);
            if stays && coarse <= 1.0 {
                return Some(Settled::Done);
            }
            self.integrate(grid, metres, start);
            if stays {
                return Some(Settled::Finer);
            }
        }
        None
    }

    /// The rates at every node.
    #[inline]
    fn evaluate(&mut self, rates: &mut Rates, grid: &Grid<M>, metres: f64) -> Option<()> {
        for i in 0..M {
            let [q, p, _, t] = rates.at(metres * grid.x[i], &[self.q[i], self.p[i], self.n[i], 0.0])?;
            self.rates[0][i] = q;
            self.rates[1][i] = p;
            self.rates[2][i] = t;
        }
        Some(())
    }

    /// q at the end and the launch, by the rates.
    #[inline]
    fn ends(&self, grid: &Grid<M>, metres: f64, start: f64) -> (f64, f64) {
        (start + metres * grid.whole.of(&self.rates[0]), -metres * grid.lever.of(&self.rates[1]))
    }

    /// How far the rates move the ends, over the tolerance.
    #[inline]
    fn change(&self, grid: &Grid<M>, metres: f64, start: f64) -> f64 {
        let (q, launch) = self.ends(grid, metres, start);
        over_tolerance(q - self.q[M - 1], launch - self.p[0])
    }

    /// How much the level below differs, with what this one is better by, over the tolerance.
    #[inline]
    fn coarseness(&self, grid: &Grid<M>, metres: f64) -> f64 {
        let q = metres * grid.whole_change.of(&self.rates[0]);
        let p = metres * grid.lever_change.of(&self.rates[1]);
        // Five nodes may miss a bend altogether.
        over_tolerance(q, p) * if M == 5 { 1.0 } else { FINER }
    }

    /// The state by the rates, aimed.
    #[inline]
    fn integrate(&mut self, grid: &Grid<M>, metres: f64, start: f64) {
        let (_, launch) = self.ends(grid, metres, start);
        self.q = grid.integrals.of(&self.rates[0], metres, start);
        self.p = grid.integrals.of(&self.rates[1], metres, launch);
        self.n = grid.integrals.of(&self.p, metres, 0.0);
    }

    /// The path on the next level.
    fn finer<const F: usize>(&self, to: &Integrals<M, F>, metres: f64, start: f64) -> Level<F> {
        Level {
            q: to.of(&self.rates[0], metres, start),
            p: to.of(&self.rates[1], metres, self.p[0]),
            n: to.of(&self.p, metres, 0.0),
            rates: [[0.0; F]; 3],
            left: self.left,
        }
    }

    /// The path by the last rates; its nodes only where they are asked for.
    fn found(
        &mut self,
        rates: &Rates,
        grid: &Grid<M>,
        metres: f64,
        start: f64,
        nodes: Option<&mut Vec<Node>>,
    ) -> Option<Found> {
        let (q, launch) = self.ends(grid, metres, start);
        if launch.abs() > MAX_LAUNCH {
            return None;
        }
        if let Some(nodes) = nodes {
            self.integrate(grid, metres, start);
            let t = grid.integrals.of(&self.rates[2], metres, 0.0);
            nodes.extend((0..M).map(|i| Node {
                s: metres * grid.x[i],
                y: [self.q[i], self.p[i], self.n[i], t[i]],
                rate: [self.rates[0][i], self.rates[1][i], self.p[i], self.rates[2][i]],
            }));
        }
        let p = launch + metres * grid.whole.of(&self.rates[1]);
        let t = metres * grid.whole.of(&self.rates[2]);
        Some(Found { end: [q, p, 0.0, t], evaluations: rates.evaluations })
    }
}

fn over_tolerance(q: f64, p: f64) -> f64 {
    (q.abs() * (1.0 / TOLERANCE_Q)).max(p.abs() * (1.0 / TOLERANCE_P))
}
