//! Impact-energy and plate-selection advice for AR500 steel targets.
//!
//! A load is flown to a distance, what arrives is judged by rules that are data, and the answer is a thickness, a
//! closest distance, or a verdict, each with its reason, margin and source. A question is data, and so is its answer:
//! an [`advisor::Advisor`] takes the one and gives the other.
//!
//! ```
//! use thickset::advisor::{AdviseQuestion, Advisor};
//! use thickset::rules::Verdict;
//!
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let advisor = Advisor::house()?;
//! let question: AdviseQuestion = serde_json::from_str(r#"{"load": "308-168-match", "at": "100 yd"}"#)?;
//! let answer = advisor.advise(&question)?;
//!
//! assert_eq!(answer.verdict, Verdict::Suits);
//! assert_eq!(answer.recommended.ok_or("no plate suits")?.label, "3/8 in");
//! # Ok(())
//! # }
//! ```
//!
//! Below it, rules are compiled once for a load, a plate and a setup, with the distance left open
//! ([`rules::RuleSet::allow`]), so that [`vet`], [`standoff`] and [`course`] agree by construction.
//!
//! The limits are rules of thumb. The range's own rules, local law and the range officer stand above them.

#![deny(clippy::print_stdout, clippy::print_stderr, clippy::exit)]
// Tests compare exactly where exactness is what they claim.
#![cfg_attr(test, allow(clippy::float_cmp))]

pub mod advisor;
#[cfg(feature = "cli")]
pub mod cli;
#[cfg(feature = "report")]
pub mod report;

pub use thickset_domain::{
    air, catalog, chrono, course, drag, flight, load, outline, plate, quantity, reaction, rules, shop, source, spread,
    standoff, strike, vet, words,
};
use thickset_domain::{numeric, order, threads};
