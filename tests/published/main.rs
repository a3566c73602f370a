//! The library against values from outside it, one file per subject.

mod air;
mod carry;
mod check;
mod chrono;
mod common_practice;
mod drag;
#[cfg(feature = "dxf")]
mod drawings;
mod energy;
mod flight;
mod outlines;
mod pendulum;
mod plate;
mod radar;
mod rules;
mod vibration;
