//! What `thickset` reckons with: what arrives at the steel, what the steel is, the rules, and the judging of loads,
//! distances and whole matches by them. It knows no question and no page: those are `thickset`'s, which passes on what
//! its callers need of this.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

// The macros by which it builds systems of quantities call each other by name.
#[macro_use]
extern crate uom;

pub mod air;
pub mod catalog;
pub mod chrono;
pub mod course;
pub mod drag;
pub mod flight;
pub mod load;
pub mod numeric;
pub mod order;
pub mod outline;
pub mod plate;
pub mod quantity;
pub mod reaction;
pub mod rules;
pub mod shop;
pub mod source;
pub mod spread;
pub mod standoff;
pub mod strike;
pub mod threads;
pub mod vet;
pub mod words;
