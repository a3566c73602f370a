//! Fast and slow shot, match risk.

mod normal;
mod shots;

pub use shots::*;
