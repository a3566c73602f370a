//! Questions to the library, and whether the answers hold.

mod answers;
mod no_false_yes;
