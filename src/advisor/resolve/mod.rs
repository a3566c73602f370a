//! From a question to the things of the domain, with every condition written down.

pub(crate) mod air;
pub(crate) mod inline;
pub(crate) mod lines;
pub(crate) mod loads;
pub(crate) mod misnamed;
pub(crate) mod plates;
pub(crate) mod taken;
pub(crate) mod target;
