//! Preheat and interpass temperature: every method that is kept, side by side, and which governs.

mod answer;
mod code_tables;
mod method_b;
mod own;
mod question;

pub mod carbon_equivalent;
pub mod cet_method;
pub mod outcome;
pub mod value;

pub use answer::preheat;
pub use outcome::{Governing, Method, Missing, Outcome, Outside, Preheat, Standing};
