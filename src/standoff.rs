//! How close.
