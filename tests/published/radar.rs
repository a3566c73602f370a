//! Outside values: radar.
