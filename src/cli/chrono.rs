//! chrono
