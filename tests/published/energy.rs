//! Outside values: energy.
