//! Outside values: vibration.
