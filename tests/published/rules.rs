//! Outside values: rules.
