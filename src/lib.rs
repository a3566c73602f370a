//! Impact-energy and plate-selection advice for AR500 steel targets.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

pub mod advice;
pub mod air;
pub mod catalog;
pub mod chrono;
pub mod cli;
pub mod course;
pub mod drag;
pub mod flight;
pub mod inquiry;
pub mod load;
pub mod plate;
pub mod quantity;
pub mod reaction;
pub mod report;
pub mod rules;
pub mod shop;
pub mod source;
pub mod spread;
pub mod standoff;
pub mod strike;
pub mod vet;
