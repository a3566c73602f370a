//! Outside values: pendulum.
