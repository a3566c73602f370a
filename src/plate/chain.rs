//! The chain that a plate hangs from.

use super::Mount;
use crate::quantity::{Length, unit};
use thiserror::Error;

/// The longest chain that is taken, ft (house assumption: a longer one is a slip of the unit).
const MAX_FT: f64 = 20.0;

/// A chain that can't be. [`ChainError::help`] says what would do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ChainError {
    /// A chain beside a mount that has none.
    #[error("a chain is given, and the plate is {}", .0.words())]
    Mount(Mount),
    /// A length out of bounds.
    #[error("the chain is not longer than nothing, or longer than {MAX_FT} ft")]
    Bounds,
}

impl ChainError {
    /// What to write instead.
    #[must_use]
    pub fn help(self) -> &'static str {
        match self {
            Self::Mount(_) => "set the mount to `chain`, or leave the chain out",
            Self::Bounds => "write the length of chain above the plate, for instance `6 in`",
        }
    }
}

impl Mount {
    /// The chain that it hangs from, as far as given: `None` for another mount, or where the length is not given.
    ///
    /// # Errors
    /// [`ChainError`] for a chain beside another mount, and for a length of nothing or beyond 20 ft.
    pub fn chain(self, given: Option<Length>) -> Result<Option<Length>, ChainError> {
        let Some(length) = given else { return Ok(None) };
        let feet = unit::FOOT.value(length);
        if self != Self::Chain {
            Err(ChainError::Mount(self))
        } else if feet > 0.0 && feet <= MAX_FT * (1.0 + 1e-9) {
            Ok(given)
        } else {
            Err(ChainError::Bounds)
        }
    }

    /// What is assumed of the chain where its length is not given; `None` where nothing is.
    #[must_use]
    pub fn chain_assumed(self, chain: Option<Length>) -> Option<&'static str> {
        (self == Self::Chain && chain.is_none()).then_some("a chain too short to matter, on which it swings farthest")
    }
}
