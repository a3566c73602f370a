//! Fast and slow shot, match risk.
