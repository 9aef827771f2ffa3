//! One step in time: TR-BDF2 with a filtered estimate of its error.
//!
//! Bank et al. 1985; as a diagonally implicit Runge-Kutta method with an embedded error estimate: Hosea & Shampine
//! 1996. With gamma = 2 - sqrt 2 both stages have the same matrix (docs/theory/heat.md, equations 10 to 13).

use std::f64::consts::SQRT_2;

use super::evaluate::{Conditions, Evaluation};
use super::model::{Model, State};
use super::newton::{Newton, Stage, largest};
use super::recall::Recall;
use crate::FieldError;

/// Where the first stage ends, as a share of the step.
const GAMMA: f64 = 2.0 - SQRT_2;
/// Weight of the implicit part of each stage.
const D: f64 = 0.5 * GAMMA;
/// Weight of the inflow at the beginning and at gamma.
const W: f64 = 0.25 * SQRT_2;
/// Weights of the error estimate.
const ERROR: [f64; 3] = [(4.0 * W - 1.0) / 3.0, -1.0 / 3.0, 2.0 * D / 3.0];

/// Newton's method may leave this share of the tolerance of a step.
const NEWTON_SHARE: f64 = 0.05;

/// How finely time is cut.
#[derive(Clone, Copy, Debug)]
pub struct StepSettings {
    /// Error of a temperature allowed in one step, in kelvin.
    pub tolerance_k: f64,
    /// The first step in seconds.
    pub first_step_s: f64,
    /// No step is longer, in seconds.
    pub largest_step_s: f64,
    /// A step that must be shorter is refused, in seconds.
    pub smallest_step_s: f64,
}

impl Default for StepSettings {
    fn default() -> StepSettings {
        StepSettings {
            tolerance_k: 0.5,
            first_step_s: 0.1,
            largest_step_s: 3600.0,
            smallest_step_s: 1e-9,
        }
    }
}

/// A step that was tried.
#[derive(Clone, Debug)]
pub struct Step {
    /// The state at its end.
    pub state: State,
    /// Its length in seconds.
    pub step_s: f64,
    /// Estimated error of the worst temperature in kelvin.
    pub error_k: f64,
    /// Where heat came from and went to.
    pub energy: Energy,
    /// Length that the step after it may have, in seconds.
    pub next_step_s: f64,
}

/// The heat balance of a step in J.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Energy {
    /// Stored in metal and blankets.
    pub stored_j: f64,
    /// From the source.
    pub source_j: f64,
    /// In through boundaries of given flux, out to the surroundings (negative).
    pub boundary_j: f64,
    /// In through boundaries of given temperature.
    pub fixed_j: f64,
    /// What is stored beyond all that: the error of the balance.
    pub error_j: f64,
}

/// Tries steps; remembers the matrix.
#[derive(Clone, Debug, Default)]
pub struct Stepper {
    newton: Newton,
    recall: Recall,
    /// How fast temperatures moved at the end of the last step, in K/s: where the next one looks first.
    pace_k_s: Vec<f64>,
    begin: Evaluation,
    middle: Evaluation,
    end: Evaluation,
}

impl Stepper {
    /// Newton iterations so far.
    pub fn iterations(&self) -> usize {
        self.newton.iterations
    }

    /// Factorizations so far.
    pub fn factorizations(&self) -> usize {
        self.newton.factorizations
    }

    /// Tries a step; whether its error is small enough is for the caller to judge.
    ///
    /// # Errors
    /// [`FieldError::NotConverged`] where Newton's method fails: try a shorter step.
    pub fn step(
        &mut self,
        model: &Model,
        from: &State,
        step_s: f64,
        tolerance_k: f64,
        conditions: &Conditions<'_>,
    ) -> Result<Step, FieldError> {
        let n = model.unknowns();
        let times_s = [0.0, GAMMA, 1.0].map(|share| from.time_s + share * step_s);
        let stage = |time_s: f64, known_j| Stage {
            time_s,
            known_j,
            flow_s: D * step_s,
            tolerance_k: NEWTON_SHARE * tolerance_k,
        };
        let mut t0 = from.temperature_c.clone();
        model.set_fixed(times_s[0], &mut t0);
        self.recall
            .evaluate(model, (times_s[0], &t0), conditions, &mut self.begin, 0);

        let begin = &self.begin;
        let known_j: Vec<f64> = (0..n)
            .map(|i| begin.content_j[i] + D * step_s * begin.inflow_w[i])
            .collect();
        self.pace_k_s.resize(n, 0.0);
        let mut t1: Vec<f64> = t0
            .iter()
            .zip(&self.pace_k_s)
            .map(|(t, pace)| t + GAMMA * step_s * pace)
            .collect();
        model.set_fixed(times_s[1], &mut t1);
        self.newton.solve(
            model,
            conditions,
            &stage(times_s[1], &known_j),
            &mut t1,
            &mut self.middle,
        )?;

        let middle = &self.middle;
        let both_w = |i: usize| begin.inflow_w[i] + middle.inflow_w[i];
        let known_j: Vec<f64> = (0..n)
            .map(|i| begin.content_j[i] + W * step_s * both_w(i))
            .collect();
        let mut t2: Vec<f64> = t0
            .iter()
            .zip(&t1)
            .map(|(&a, &b)| a + (b - a) / GAMMA)
            .collect();
        model.set_fixed(times_s[2], &mut t2);
        self.newton.solve(
            model,
            conditions,
            &stage(times_s[2], &known_j),
            &mut t2,
            &mut self.end,
        )?;
        self.recall
            .evaluate(model, (times_s[2], &t2), conditions, &mut self.end, 1);
        self.pace_k_s = (0..n)
            .map(|i| (t2[i] - t1[i]) / ((1.0 - GAMMA) * step_s))
            .collect();

        Ok(Step {
            error_k: self.error_k(model, step_s),
            energy: self.energy(model, step_s),
            next_step_s: step_s,
            state: State {
                time_s: times_s[2],
                temperature_c: t2,
                reaction_w: self.reaction_w(model, step_s),
            },
            step_s,
        })
    }

    fn error_k(&self, model: &Model, step_s: f64) -> f64 {
        let inflows = [&self.begin, &self.middle, &self.end].map(|stage| &stage.inflow_w);
        let mut error: Vec<f64> = (0..model.unknowns())
            .map(|i| step_s * (0..3).map(|s| ERROR[s] * inflows[s][i]).sum::<f64>())
            .collect();
        self.newton.solve_linear(model, &mut error);
        largest(&error)
    }

    /// What holds the given temperatures: d(content)/dt - inflow, the derivative by the BDF2 formula of the step.
    fn reaction_w(&self, model: &Model, step_s: f64) -> Vec<f64> {
        let [begin, middle, end] = [&self.begin, &self.middle, &self.end];
        let scale = 1.0 / (GAMMA * (2.0 - GAMMA));
        let reaction = |i: usize| {
            let past_j = scale * (middle.content_j[i] - (1.0 - GAMMA).powi(2) * begin.content_j[i]);
            (end.content_j[i] - past_j) / (D * step_s) - end.inflow_w[i]
        };
        model
            .fixed
            .iter()
            .map(|known| reaction(known.unknown as usize))
            .collect()
    }

    fn energy(&self, model: &Model, step_s: f64) -> Energy {
        let stages = [(&self.begin, W), (&self.middle, W), (&self.end, D)];
        let over_step = |rate: &dyn Fn(&Evaluation) -> f64| -> f64 {
            stages
                .iter()
                .map(|(stage, weight)| step_s * weight * rate(stage))
                .sum()
        };
        let gained = |i: usize| self.end.content_j[i] - self.begin.content_j[i];
        let stored_j: f64 = (0..model.unknowns()).map(gained).sum();
        let source_j = over_step(&|stage| stage.source_w);
        let boundary_j = over_step(&|stage| stage.boundary_w);
        let through = |i: usize| gained(i) - over_step(&|stage| stage.inflow_w[i]);
        let fixed_j: f64 = model
            .fixed
            .iter()
            .map(|known| through(known.unknown as usize))
            .sum();
        Energy {
            stored_j,
            source_j,
            boundary_j,
            fixed_j,
            error_j: stored_j - source_j - boundary_j - fixed_j,
        }
    }
}
