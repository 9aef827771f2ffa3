//! The state of rest.

use super::evaluate::{Conditions, Evaluation, Jacobian};
use super::model::{Model, State};
use super::newton::largest;
use crate::FieldError;
use crate::sparse::Factor;

/// A state of rest and what it took.
#[derive(Clone, Debug)]
pub struct Steady {
    /// The temperatures.
    pub state: State,
    /// Newton iterations.
    pub iterations: usize,
    /// Heat from the source in W.
    pub source_w: f64,
    /// Heat through boundaries of given flux and to the surroundings in W, positive inwards.
    pub boundary_w: f64,
}

/// A correction below this is taken for rest, in kelvin.
const AT_REST_K: f64 = 1e-7;

/// No temperature moves further in one iteration, in kelvin: laws of radiation and tables are far from straight.
const LONGEST_MOVE_K: f64 = 300.0;

/// Iterations without and with a pseudo-time.
const NEWTON_ITERATIONS: usize = 40;
const PSEUDO_ITERATIONS: usize = 400;

/// The first pseudo-time step in seconds where plain Newton iteration failed: short for any piece of metal.
const FIRST_PSEUDO_STEP_S: f64 = 1.0;

/// A pseudo-time step as long as this no longer holds anything back, in seconds.
const LONG_S: f64 = 1e6;

/// Finds the state in which no temperature changes any more, beginning from a guess.
///
/// Newton's method first; where it does not settle, pseudo-transient continuation (Kelley & Keyes 1998) with steps
/// that grow as the residual falls.
///
/// # Errors
/// [`FieldError::Singular`] where nothing holds the temperature of a part, [`FieldError::NotConverged`].
pub fn steady(
    model: &Model,
    guess: &State,
    conditions: &Conditions<'_>,
) -> Result<Steady, FieldError> {
    steady_within(model, guess, conditions, AT_REST_K)
}

/// As [`steady`], until temperatures move by less than a tolerance in kelvin.
///
/// # Errors
/// Those of [`steady`].
pub fn steady_within(
    model: &Model,
    guess: &State,
    conditions: &Conditions<'_>,
    tolerance_k: f64,
) -> Result<Steady, FieldError> {
    let settle =
        |pseudo_step_s, most| settle(model, guess, conditions, tolerance_k, pseudo_step_s, most);
    settle(None, NEWTON_ITERATIONS).or_else(|failure| match failure {
        FieldError::NotConverged { .. } => settle(Some(FIRST_PSEUDO_STEP_S), PSEUDO_ITERATIONS),
        other => Err(other),
    })
}

fn settle(
    model: &Model,
    guess: &State,
    conditions: &Conditions<'_>,
    tolerance_k: f64,
    mut pseudo_step_s: Option<f64>,
    most: usize,
) -> Result<Steady, FieldError> {
    let mut state = guess.clone();
    model.set_fixed(state.time_s, &mut state.temperature_c);
    let mut found = Evaluation::default();
    let mut values = vec![0.0; model.pattern.len()];
    let mut factor: Option<Factor<f64>> = None;
    let (mut left_k, mut residual_w) = (f64::INFINITY, f64::INFINITY);
    for iterations in 0..most {
        let content = pseudo_step_s.map_or(0.0, |step_s| 1.0 / step_s);
        let jacobian = Jacobian {
            values: &mut values,
            content,
            flow: 1.0,
        };
        model.evaluate(
            state.time_s,
            &state.temperature_c,
            conditions,
            &mut found,
            Some(jacobian),
        );
        let mut change = found.inflow_w.clone();
        model
            .fixed
            .iter()
            .for_each(|known| change[known.unknown as usize] = 0.0);
        let before_w = std::mem::replace(&mut residual_w, largest(&change));
        pseudo_step_s = pseudo_step_s.map(|step_s| step_s * growth(before_w, residual_w));
        match &mut factor {
            Some(factor) => factor.renew(&values)?,
            None => factor = Some(Factor::new(&model.symbolic, &values)?),
        }
        factor
            .iter()
            .for_each(|factor| factor.solve_in_place(&mut change));
        left_k = largest(&change);
        if left_k <= tolerance_k && pseudo_step_s.is_none_or(|step_s| step_s > LONG_S) {
            state.reaction_w = model
                .fixed
                .iter()
                .map(|known| -found.inflow_w[known.unknown as usize])
                .collect();
            let (source_w, boundary_w) = (found.source_w, found.boundary_w);
            return Ok(Steady {
                state,
                iterations,
                source_w,
                boundary_w,
            });
        }
        for (t, change) in state.temperature_c.iter_mut().zip(&change) {
            *t += change.clamp(-LONGEST_MOVE_K, LONGEST_MOVE_K);
        }
    }
    Err(FieldError::NotConverged {
        time_s: state.time_s,
        left_k,
        allowed_k: tolerance_k,
    })
}

/// How much longer the next pseudo-time step is ("switched evolution relaxation": in step with the residual).
fn growth(before_w: f64, now_w: f64) -> f64 {
    if before_w.is_finite() {
        (1.5 * before_w / now_w.max(f64::MIN_POSITIVE)).clamp(0.5, 4.0)
    } else {
        1.0
    }
}
