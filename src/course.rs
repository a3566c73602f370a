//! A whole match.
