//! Plane geometry in plain numbers: edges, how thin a shape is at its thinnest, and how many of it lie on a sheet. It is
//! most of the time that drawings take, and stands here since this package is optimised wherever it is built. Hot loops:
//! what is told of them in types with units is `outline`'s and `shop`'s.

mod edge;
pub mod lattice;
mod room;
pub mod thin;

pub use edge::{Bow, Edge, Spot, apart};
pub use room::{Room, Spots};
