//! The point-mass solver.
