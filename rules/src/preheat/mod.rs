//! Preheat and interpass temperature: every method that is kept, side by side, and which governs.

mod answer;
mod code_tables;
mod combined_thickness;
mod interpass;
mod method_b;
mod own;
mod question;
mod structural;
mod zones;

pub mod carbon_equivalent;
pub mod cet_method;
pub mod creep_steel;
pub mod hydrogen_control;
pub mod method_a;
pub mod outcome;
pub mod value;

pub(crate) use question::sides;

pub use answer::preheat;
pub use combined_thickness::{combined_thickness, mean_thickness};
pub use outcome::{Governing, Interpass, Method, Missing, Outcome, Outside, Preheat, Standing};
