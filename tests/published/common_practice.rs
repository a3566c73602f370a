//! Outside values: common_practice.
