//! Swing, sight and ring.
