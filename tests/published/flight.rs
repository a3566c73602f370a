//! Outside values: flight.
