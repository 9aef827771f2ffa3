//! Newton's method with a matrix that is kept as long as it serves.

use super::evaluate::{Conditions, Evaluation, Jacobian};
use super::model::Model;
use crate::FieldError;
use crate::sparse::Factor;

/// An implicit equation: content(T) - flow_s * inflow(T) = known.
pub struct Stage<'a> {
    /// Time in seconds at which the inflow is meant.
    pub time_s: f64,
    /// The known side in J.
    pub known_j: &'a [f64],
    /// The factor of the inflow in seconds.
    pub flow_s: f64,
    /// The largest error of a temperature that is left, in kelvin.
    pub tolerance_k: f64,
}

/// The solver of stages and what it remembers from one to the next.
#[derive(Clone, Debug, Default)]
pub struct Newton {
    factor: Option<Factor<f64>>,
    /// The factor of the inflow that the matrix was made with.
    factored_flow_s: f64,
    stale: bool,
    values: Vec<f64>,
    /// Iterations done so far.
    pub iterations: usize,
    /// Matrices factored so far.
    pub factorizations: usize,
}

/// A matrix made for a step of another length still serves within this share: each iteration then takes at least
/// two thirds of the error away.
const SAME_STEP: f64 = 0.3;

/// Iterations with one matrix before it is made anew; as many again before the step is given up.
const PATIENCE: usize = 4;

/// An iteration that leaves more than this share of the correction calls for a new matrix at the next step.
const SLOW: f64 = 0.3;

impl Newton {
    /// Solves a stage, beginning from the temperatures given. `found` is the evaluation just before the last
    /// correction, which is within the tolerance.
    pub fn solve(
        &mut self,
        model: &Model,
        conditions: &Conditions<'_>,
        stage: &Stage<'_>,
        temperature_c: &mut [f64],
        found: &mut Evaluation,
    ) -> Result<(), FieldError> {
        let other_step = (stage.flow_s / self.factored_flow_s - 1.0).abs() > SAME_STEP;
        let mut renew = self.factor.is_none() || self.stale || other_step;
        let mut last = f64::INFINITY;
        let mut worst_c = f64::INFINITY;
        for iteration in 0..3 * PATIENCE {
            renew |= iteration == PATIENCE;
            let mut correction =
                self.correction(model, conditions, stage, temperature_c, found, renew)?;
            renew = false;
            self.iterations += 1;
            worst_c = largest(&correction);
            if !worst_c.is_finite() {
                break;
            }
            let rate = worst_c / last;
            temperature_c
                .iter_mut()
                .zip(&mut correction)
                .for_each(|(t, change)| *t += *change);
            let left = if iteration > 0 && rate < 0.5 {
                worst_c * rate / (1.0 - rate)
            } else {
                worst_c
            };
            if left <= stage.tolerance_k {
                self.stale = iteration > 1 && rate > SLOW;
                return Ok(());
            }
            last = worst_c;
        }
        self.stale = true;
        Err(FieldError::NotConverged {
            time_s: stage.time_s,
            left_k: worst_c,
            allowed_k: stage.tolerance_k,
        })
    }

    /// One iteration: evaluates, and solves with the matrix at hand or a new one.
    fn correction(
        &mut self,
        model: &Model,
        conditions: &Conditions<'_>,
        stage: &Stage<'_>,
        temperature_c: &[f64],
        found: &mut Evaluation,
        renew: bool,
    ) -> Result<Vec<f64>, FieldError> {
        self.values.resize(model.pattern.len(), 0.0);
        let jacobian = renew.then_some(Jacobian {
            values: &mut self.values,
            content: 1.0,
            flow: stage.flow_s,
        });
        model.evaluate(stage.time_s, temperature_c, conditions, found, jacobian);
        if renew {
            self.refactor(model, stage.flow_s)?;
        }
        let mut rest: Vec<f64> = (0..model.unknowns())
            .map(|i| stage.known_j[i] + stage.flow_s * found.inflow_w[i] - found.content_j[i])
            .collect();
        self.solve_linear(model, &mut rest);
        Ok(rest)
    }

    fn refactor(&mut self, model: &Model, flow_s: f64) -> Result<(), FieldError> {
        match &mut self.factor {
            Some(factor) => factor.renew(&self.values)?,
            None => self.factor = Some(Factor::new(&model.symbolic, &self.values)?),
        }
        self.factored_flow_s = flow_s;
        self.factorizations += 1;
        Ok(())
    }

    /// Solves with the matrix at hand; unknowns of given temperature stay.
    pub fn solve_linear(&self, model: &Model, rhs: &mut [f64]) {
        model
            .fixed
            .iter()
            .for_each(|known| rhs[known.unknown as usize] = 0.0);
        if let Some(factor) = &self.factor {
            factor.solve_in_place(rhs);
        }
    }
}

/// The largest magnitude, NaN if there is one.
pub fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |worst: f64, value| {
        if value.is_nan() {
            f64::NAN
        } else {
            worst.max(value.abs())
        }
    })
}
