//! The rates of the path's state in slant distance, the same for every way of integrating them.

use super::state::{Flight, MIN_SPEED_MPS, State};
use crate::drag::Integral;
use crate::quantity::Measure;

/// Everything the rates need, gathered once per run. Hot loop: SI.
pub(super) struct Rates<'f> {
    table: Integral<'f>,
    flight: &'f Flight,
    /// (π/8)/BC of the band.
    pub k: f64,
    pub evaluations: u32,
}

impl<'f> Rates<'f> {
    pub fn new(flight: &'f Flight) -> Self {
        Self {
            table: flight.drag.curve().integral(),
            flight,
            k: flight.k(flight.band(flight.muzzle_mps)),
            evaluations: 0,
        }
    }

    /// Whether the coefficient changes along the way.
    pub fn has_bands(&self) -> bool {
        self.flight.drag.bands().len() > 1
    }

    /// q at the muzzle.
    pub fn start(&self) -> f64 {
        self.flight.start_q
    }

    /// q′ at the muzzle of a shot along the level.
    pub fn level(&self) -> f64 {
        self.k * self.flight.air.density().si()
    }

    /// The rates of q, p, n, t; `None` where the bullet is too slow to follow.
    #[inline]
    pub fn at(&mut self, s: f64, y: &State) -> Option<State> {
        self.evaluations += 1;
        let flight = self.flight;
        let (mach, per_cd) = self.table.at(y[0])?;
        let p = y[1];
        let air = flight.air.at(s * flight.sin + y[2] * flight.cos);
        let stretch = (1.0 + p * p).sqrt();
        let per_v = 1.0 / (mach * air.sound_mps);
        let per_along = stretch * per_v;
        if per_along > 1.0 / MIN_SPEED_MPS {
            return None;
        }
        let rise = flight.sin + p * flight.cos;
        let drag = self.k * air.density * stretch;
        let q = drag + (flight.gravity * per_v * per_v + air.sound_gradient_per_m) * rise * per_cd;
        let bend = flight.gravity * (flight.cos - p * flight.sin);
        Some([q, -bend * per_along * per_along, p, per_along])
    }
}
