//! A place in plain numbers, m.

/// To the right, and up.
pub(super) type Spot = (f64, f64);

pub(super) fn apart(a: Spot, b: Spot) -> f64 {
    (b.0 - a.0).hypot(b.1 - a.1)
}
