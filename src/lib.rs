//! Impact-energy and plate-selection advice for AR500 steel targets.
//!
//! A load is flown to a distance, what arrives is judged by rules that are data, and the answer is a thickness, a
//! closest distance, or a verdict, each with its reason, margin and source. The rules are compiled once for a load,
//! a plate and a setup, with the distance left open ([`rules::RuleSet::allow`]), so that [`vet`], [`advice`],
//! [`standoff`] and [`course`] agree by construction.
//!
//! ```
//! use std::sync::Arc;
//! use thickset::advice::{Case, advise};
//! use thickset::air::Weather;
//! use thickset::catalog::Catalog;
//! use thickset::plate::{Face, Ladder};
//! use thickset::quantity::unit;
//! use thickset::rules::{RuleSet, Setup, Verdict};
//! use thickset::spread::FlightConditions;
//! use thickset::vet::Question;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let (rules, ladder, catalog) = (RuleSet::house()?, Ladder::builtin()?, Catalog::builtin()?);
//! // A 12 in round plate hung free, private use; standard air, level ground, 99 % of shots.
//! let setup = Setup::hung(Face::round(unit::INCH.of(12.0))?);
//! let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0))?;
//! let question = Question { rules: &rules, ladder: &ladder, setup: &setup, conditions: &conditions };
//!
//! let load = Arc::clone(&catalog.load("308-168-match")?.load);
//! let cases = [Case::new(load, question, None, unit::YARD.of(100.0))?];
//! let advice = advise(ladder.plates(), &cases).ok_or("nothing was asked")?;
//!
//! assert_eq!(advice.verdict(), Verdict::Suits);
//! let named = advice.recommended.ok_or("no plate suits")?;
//! assert_eq!(advice.choices[named].plate.label, "3/8 in");
//! # Ok(())
//! # }
//! ```
//!
//! The limits are rules of thumb. The range's own rules, local law and the range officer stand above them.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

pub mod advice;
pub mod advisor;
pub mod air;
pub mod catalog;
pub mod chrono;
#[cfg(feature = "cli")]
pub mod cli;
pub mod course;
pub mod drag;
pub mod flight;
pub mod inquiry;
pub mod load;
pub(crate) mod numeric;
pub mod outline;
pub mod plate;
pub mod quantity;
pub mod reaction;
#[cfg(feature = "report")]
pub mod report;
pub mod rules;
pub mod shop;
pub mod source;
pub mod spread;
pub mod standoff;
pub mod strike;
pub(crate) mod threads;
pub mod vet;
pub mod words;
