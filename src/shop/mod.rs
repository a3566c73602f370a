//! Sheet, cost and carry.
