//! What must hold for every load, plate and weather: faster, closer, heavier and stricter never give a
//! thinner plate or a shorter distance.
//!
//! `THICKSET_CASES` sets the number of cases of each property (500 unless said), `THICKSET_SEED` the
//! seed (fixed unless said; `free` takes a new one each run).

mod agreement;
mod chain;
mod drawn_plates;
mod lenience;
mod monotonic;
mod monte_carlo;
mod moved;
mod outlines;
mod statistics;
mod support;
mod text;
mod widths;
mod written_out;
