//! One comparison with the outside, as data: the tests assert it, the verification example prints it.

#![allow(dead_code)] // Also compiled into the verification example, which uses the other half.

use std::fmt;

/// How well the expected value is attested.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Seen in stored text of the source.
    Read,
    /// Recalled: the value is from memory.
    Memory,
    /// Computed with a general-purpose numerical library or from closed form.
    Computed,
    /// A habit of the trade without a source.
    CommonPractice,
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Read => "read",
            Self::Memory => "value from memory",
            Self::Computed => "computed",
            Self::CommonPractice => "common practice, no source",
        })
    }
}

/// An expected value beside what the library gives.
#[derive(Debug, Clone)]
pub struct Check {
    /// What is compared, with its unit.
    pub what: String,
    /// Where the expected value stands.
    pub source: &'static str,
    /// How well it is attested.
    pub status: Status,
    /// The outside value.
    pub expected: f64,
    /// The library's value.
    pub got: f64,
    /// The largest absolute difference that passes.
    pub allowed: f64,
}

impl Check {
    /// A comparison within an absolute tolerance.
    pub fn new(
        what: impl Into<String>,
        source: &'static str,
        status: Status,
        expected: f64,
        got: f64,
        allowed: f64,
    ) -> Self {
        Self { what: what.into(), source, status, expected, got, allowed }
    }

    /// Whether the library's value is near enough; never for a value that is not a number.
    pub fn passes(&self) -> bool {
        (self.got - self.expected).abs() <= self.allowed
    }
}

/// Fails with every comparison that does not pass, and where there is none at all.
pub fn assert_all(checks: &[Check]) {
    assert!(!checks.is_empty(), "no comparison was made");
    let failed: Vec<String> = checks
        .iter()
        .filter(|c| !c.passes())
        .map(|c| {
            format!("{}: expected {} ± {}, got {} ({}, {})", c.what, c.expected, c.allowed, c.got, c.source, c.status)
        })
        .collect();
    assert!(failed.is_empty(), "{} of {} fail:\n{}", failed.len(), checks.len(), failed.join("\n"));
}
