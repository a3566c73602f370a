//! What `thickset` is built on: quantities, the faults of named texts, the solver with the drag and the air that it flies
//! through, and plane geometry. A package of its own, since it is most of the time that answers take, and small enough to be
//! optimised wherever it is built.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

// The macros by which it builds systems of quantities call each other by name.
#[macro_use]
extern crate uom;

pub mod air;
pub mod drag;
pub mod flat;
pub mod flight;
pub mod numeric;
pub mod order;
pub mod quantity;
pub mod source;
pub mod threads;
pub mod words;
