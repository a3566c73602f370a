//! Outside values: common practice.
