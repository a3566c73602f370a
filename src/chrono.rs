//! Chronograph strings.
