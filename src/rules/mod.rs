//! The rule set as data and its evaluation.
