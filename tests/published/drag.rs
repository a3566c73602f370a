//! Outside values: drag.
