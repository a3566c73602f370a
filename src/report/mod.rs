//! Pages for people and documents for programs.
