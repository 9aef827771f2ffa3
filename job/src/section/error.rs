//! Why a section problem that could be read could not be solved.

use field::FieldError;

/// A section problem was refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SectionError {
    /// The solver refused.
    #[error("{file}: {source}")]
    Field {
        /// The file.
        file: String,
        /// What the solver says.
        source: FieldError,
    },
    /// A run left the range of a table.
    #[error(
        "{file}:{line}: {law} is known from {lowest_c} °C to {highest_c} °C, and {when} it is needed at {reached_c:.1} °C; \
         extend the table on the grounds of a source, or change the run"
    )]
    LeftRange {
        /// The file.
        file: String,
        /// The line that states the law.
        line: usize,
        /// The law and its material.
        law: String,
        /// The lowest temperature of the table.
        lowest_c: f64,
        /// The highest temperature of the table.
        highest_c: f64,
        /// The temperature reached.
        reached_c: f64,
        /// When ("at 12.5 s", "in the steady state").
        when: String,
    },
    /// Neither a field nor heat is asked for.
    #[error("{file}: neither frequency_hz nor [heat] is given; give one or both")]
    NothingToSolve {
        /// The file.
        file: String,
    },
}
