//! Questions to the library, and whether the answers hold.

mod agreement;
mod answers;
mod counter;
mod documents;
mod misfits;
mod no_false_yes;
