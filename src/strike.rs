//! What arrives at the steel.
