//! Outside values: carry.
