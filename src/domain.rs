//! What `thickset` reckons with: what arrives at the steel, what the steel is, the rules, and the judging of loads,
//! distances and whole matches by them. It knows no question and no page: those are `thickset`'s, which passes on what
//! its callers need of this.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

pub mod catalog;
pub mod chrono;
pub mod course;
pub mod load;
pub mod outline;
pub mod plate;
pub mod reaction;
pub mod rules;
pub mod shop;
pub mod spread;
pub mod standoff;
pub mod strike;
pub mod vet;

pub(crate) use thickset_base::flat;
pub use thickset_base::{air, drag, flight, numeric, order, quantity, source, threads, words};
