//! Walking in time with steps as long as their error allows.

use super::evaluate::Conditions;
use super::model::{Model, State};
use super::step::{Step, StepSettings, Stepper};
use crate::FieldError;

/// A walk in time.
#[derive(Clone, Debug)]
pub struct Transient {
    settings: StepSettings,
    stepper: Stepper,
    next_step_s: f64,
    effort: Effort,
}

/// What a walk cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Steps kept.
    pub steps: usize,
    /// Steps thrown away.
    pub rejected: usize,
    /// Newton iterations.
    pub iterations: usize,
    /// Factorizations.
    pub factorizations: usize,
}

/// The safety and the bounds of a change of step, as in most codes (Hairer & Wanner 1996, section IV.8).
const SAFETY: f64 = 0.9;
const LONGER_AT_MOST: f64 = 5.0;
const SHORTER_AT_MOST: f64 = 0.2;

impl Transient {
    /// Begins a walk.
    pub fn new(settings: StepSettings) -> Transient {
        Transient {
            settings,
            stepper: Stepper::default(),
            next_step_s: settings.first_step_s,
            effort: Effort::default(),
        }
    }

    /// What it cost so far.
    pub fn effort(&self) -> Effort {
        Effort {
            iterations: self.stepper.iterations(),
            factorizations: self.stepper.factorizations(),
            ..self.effort
        }
    }

    /// The step that it would try next, in seconds.
    pub fn next_step_s(&self) -> f64 {
        self.next_step_s
    }

    /// Walks to a time; steps end there and on every knot of a law over time. `each` sees every step kept.
    ///
    /// # Errors
    /// [`FieldError::NotConverged`] where even the smallest step fails.
    pub fn walk(
        &mut self,
        model: &Model,
        from: &State,
        until_s: f64,
        conditions: &Conditions<'_>,
        mut each: impl FnMut(&Step),
    ) -> Result<State, FieldError> {
        let knots_s = model.knots_s();
        let mut state = from.clone();
        while state.time_s < until_s {
            let next = knots_s.partition_point(|&knot_s| knot_s <= state.time_s);
            let stop_s = knots_s
                .get(next)
                .map_or(until_s, |&knot_s| knot_s.min(until_s));
            let mut step = self.try_step(model, &state, stop_s - state.time_s, conditions)?;
            if step.step_s == stop_s - state.time_s {
                step.state.time_s = stop_s;
            }
            self.keep(&step);
            each(&step);
            state = step.state;
        }
        Ok(state)
    }

    /// Tries one step of at most `limit_s`, shortened until its error is small enough; nothing is decided before
    /// [`Transient::keep`], so that another step may be tried from the same state.
    ///
    /// # Errors
    /// [`FieldError::NotConverged`] where even the smallest step fails.
    pub fn try_step(
        &mut self,
        model: &Model,
        from: &State,
        limit_s: f64,
        conditions: &Conditions<'_>,
    ) -> Result<Step, FieldError> {
        let tolerance_k = self.settings.tolerance_k;
        let planned_s = self.next_step_s.min(self.settings.largest_step_s);
        let mut step_s = fitted(planned_s, limit_s);
        loop {
            let failure = match self
                .stepper
                .step(model, from, step_s, tolerance_k, conditions)
            {
                Ok(step) if step.error_k <= tolerance_k => {
                    let wanted_s = step_s * self.change(step.error_k);
                    let cut_short = step_s < planned_s;
                    let next_step_s = if cut_short {
                        wanted_s.max(planned_s)
                    } else {
                        wanted_s
                    };
                    return Ok(Step {
                        next_step_s,
                        ..step
                    });
                }
                Ok(step) => {
                    step_s *= self.change(step.error_k).min(SAFETY);
                    FieldError::NotConverged {
                        time_s: from.time_s,
                        left_k: step.error_k,
                        allowed_k: tolerance_k,
                    }
                }
                Err(failure @ FieldError::NotConverged { .. }) => {
                    step_s *= SHORTER_AT_MOST;
                    failure
                }
                Err(failure) => return Err(failure),
            };
            self.effort.rejected += 1;
            if step_s < self.settings.smallest_step_s {
                return Err(failure);
            }
        }
    }

    /// Keeps a step that was tried: the next one follows from it.
    pub fn keep(&mut self, step: &Step) {
        self.effort.steps += 1;
        self.next_step_s = step.next_step_s;
    }

    /// How much longer the next step may be: the error of a step grows with its third power.
    fn change(&self, error_k: f64) -> f64 {
        let share = self.settings.tolerance_k / error_k.max(f64::MIN_POSITIVE);
        (SAFETY * libm::cbrt(share)).clamp(SHORTER_AT_MOST, LONGER_AT_MOST)
    }
}

/// The planned step, stretched or halved so that no sliver is left before the limit.
fn fitted(planned_s: f64, limit_s: f64) -> f64 {
    if planned_s >= 0.999 * limit_s {
        limit_s
    } else if 2.0 * planned_s > limit_s {
        0.5 * limit_s
    } else {
        planned_s
    }
}
