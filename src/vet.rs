//! Does this load suit this target.
