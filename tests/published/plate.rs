//! Outside values: plate.
