//! Which plate.
