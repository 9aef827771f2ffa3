//! What comes back from a solved problem.

use super::problem::{Expectation, SectionProblem};
use super::scene::Scene;

/// A solved problem: its rows, in the order of the problem's, and what they took.
#[derive(Clone, Debug)]
pub struct Solved {
    /// The values, one for each row of the problem.
    pub rows: Vec<SolvedRow>,
    /// What was solved, and how well.
    pub effort: Effort,
    /// What it looks like at the end.
    pub scene: Scene,
}

/// A computed value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolvedRow {
    /// The value, in the unit of its quantity.
    pub computed: f64,
    /// Whether it is as near to the expected value as is allowed; `None` where nothing is expected.
    pub holds: Option<bool>,
}

/// What a solve took, and the gates it passed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effort {
    /// Unknowns of the field.
    pub field_unknowns: Option<usize>,
    /// Unknowns of the heat.
    pub heat_unknowns: Option<usize>,
    /// How often a field was solved.
    pub field_solves: usize,
    /// Steps in time.
    pub heat_steps: usize,
    /// Power from the sources over loss in the bodies, less 1: the worst of all fields.
    pub power_balance: Option<f64>,
    /// Largest residual of a field over its right-hand side.
    pub largest_residual: Option<f64>,
}

impl Solved {
    /// The values with what the problem expects of them.
    pub(super) fn new(
        problem: &SectionProblem,
        values: &[f64],
        effort: Effort,
        scene: Scene,
    ) -> Solved {
        let rows = problem
            .rows
            .iter()
            .zip(values)
            .map(|(row, &computed)| SolvedRow {
                computed,
                holds: row
                    .expected
                    .as_ref()
                    .map(|expected| holds(expected, computed)),
            });
        Solved {
            rows: rows.collect(),
            effort,
            scene,
        }
    }

    /// Whether every expectation holds.
    pub fn holds(&self) -> bool {
        self.rows.iter().all(|row| row.holds != Some(false))
    }
}

/// A value that is not a number holds nothing.
fn holds(expected: &Expectation, computed: f64) -> bool {
    (computed - expected.value).abs() <= expected.allowed
}
