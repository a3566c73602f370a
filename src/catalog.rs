//! The data built in and the user's own.
