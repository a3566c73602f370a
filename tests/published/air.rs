//! Outside values: air.
