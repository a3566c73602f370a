//! The questions and their answers.

pub mod answer;
pub mod question;
