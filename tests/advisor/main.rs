//! Questions to the library, and whether the answers hold.

mod agreement;
mod answers;
mod counter;
mod documents;
#[path = "../draws.rs"]
mod draws;
mod edges;
mod matches;
mod misfits;
mod no_false_yes;
mod schemas;
mod told;
mod way_out;
