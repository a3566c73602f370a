//! Outside values: chrono.
