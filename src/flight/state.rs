//! What is flown, and the state along its path.

use crate::air::Air;
use crate::drag::Drag;
use crate::quantity::{Measure, Velocity};

/// A bullet slower than this along the line has not arrived, m/s.
pub(super) const MIN_SPEED_MPS: f64 = 10.0;
/// The steepest launch above the line of slope, as a tangent: tan 20°.
pub(super) const MAX_LAUNCH: f64 = 0.364;
/// State along the path, SI: q, p, n, t.
pub(super) type State = [f64; 4];

/// One bullet from one muzzle in one air on one slope; cheap to make.
#[derive(Debug, Clone)]
pub struct Flight {
    pub(super) drag: Drag,
    pub(super) muzzle_mps: f64,
    /// q at the muzzle.
    pub(super) start_q: f64,
    pub(super) air: Air,
    pub(super) sin: f64,
    pub(super) cos: f64,
    pub(super) gravity: f64,
}

/// A node of a path: where, the state, and its rate there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub s: f64,
    pub y: State,
    pub rate: State,
}

impl Flight {
    /// Speed at the muzzle.
    #[must_use]
    pub fn muzzle(&self) -> Velocity {
        Velocity::from_si(self.muzzle_mps)
    }

    /// Drag's share of a band: (π/8)/BC, m²/kg.
    pub(super) fn k(&self, band: usize) -> f64 {
        std::f64::consts::FRAC_PI_8 / self.drag.bands()[band].bc.si()
    }

    /// The band that holds at a speed.
    pub(super) fn band(&self, speed_mps: f64) -> usize {
        self.drag.bands().iter().rposition(|b| b.above.si() < speed_mps).unwrap_or(0)
    }

    /// Speed of a state, m/s.
    pub(super) fn speed(&self, s: f64, y: &State) -> f64 {
        self.mach_and_speed(s, y).1
    }

    /// Mach number and speed of a state, m/s.
    pub(super) fn mach_and_speed(&self, s: f64, y: &State) -> (f64, f64) {
        let mach = self.drag.curve().integral().at(y[0]).map_or(0.0, |(mach, _)| mach);
        (mach, mach * self.air.at(s * self.sin + y[2] * self.cos).sound_mps)
    }
}
