//! The point-mass solver: a bullet aimed at a distance, on any slope to ±60°.
//!
//! The independent variable is s, the distance along the line of slope. With v the speed, p the ratio
//! of the velocity's parts across and along the line, n the offset from it, t the time, M = v/a(h) and
//! q = ∫dM/(M·Cd) counted downward from a high Mach number,
//!
//! ```text
//! q′ = K·ρ·√(1+p²) + (g/v² + a′/a)·(sinθ + p·cosθ)/Cd        K = (π/8)/BC
//! p′ = −g·(cosθ − p·sinθ)/vₛ²        n′ = p        t′ = 1/vₛ        vₛ = v/√(1+p²)
//! ```
//!
//! which follow from a = K·ρ·v²·Cd against the velocity and gravity g downward. Drag enters q′ as a near
//! constant, so a path is found whole, aim included, by a few rounds of integration over polynomials
//! (`collocation`). Coefficients in bands, and paths that bend too much for that, go by steps and are aimed by
//! secants (`steps`). [`time_form`] is the independent twin of both.

mod arrival;
mod collocation;
mod grid;
mod path;
mod rates;
mod state;
mod steps;
pub mod time_form;

pub use arrival::{Arrival, FlightError};
pub use path::{MAX_SLOPE_DEG, Path};
pub use state::Flight;

#[cfg(test)]
mod tests;
