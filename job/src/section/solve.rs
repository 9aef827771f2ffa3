//! Which solver a problem needs.

use super::problem::SectionProblem;
use super::{SectionError, Solved, field_alone, heat_alone, together};

/// Solves a problem. `progress` is told the share of the run in time that is done, from 0 to 1.
///
/// # Errors
/// [`SectionError`] where the solver refuses, or a run leaves the range of a table.
pub fn solve(
    problem: &SectionProblem,
    progress: &mut dyn FnMut(f64),
) -> Result<Solved, SectionError> {
    match (problem.frequency_hz, problem.heat) {
        (None, Some(heat)) => heat_alone::solve(problem, heat, progress),
        (Some(frequency_hz), Some(heat)) => together::solve(problem, frequency_hz, heat, progress),
        (Some(frequency_hz), None) => field_alone::solve(problem, frequency_hz),
        (None, None) => Err(SectionError::NothingToSolve {
            file: problem.file.clone(),
        }),
    }
}
