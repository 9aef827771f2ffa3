//! The state of rest of field and heat together.

use super::settings::Settings;
use super::update::{Field, Moment, Setup, solve_field};
use crate::FieldError;
use crate::eddy::{self, Problem, Solution};
use crate::heat::{self, Conditions, Model, Probe, steady_within};

/// What is held while everything comes to rest.
#[derive(Clone, Copy, Debug)]
pub enum Held {
    /// A peak current in A.
    Current(f64),
    /// The temperature of a point in degrees Celsius; `guess_a` is where the search for the peak current begins.
    Temperature {
        /// The point.
        probe: Probe,
        /// Its temperature.
        temperature_c: f64,
        /// A first current, within a factor of ten or so.
        guess_a: f64,
    },
}

/// A state of rest.
pub struct Rest {
    /// The temperatures.
    pub state: heat::State,
    /// Peak current in A.
    pub current_a: f64,
    /// Heat of the currents in W.
    pub power_w: f64,
    /// The field.
    pub solution: Solution,
    /// Fields solved anew.
    pub updates: usize,
    /// The last move of a temperature in kelvin.
    pub left_k: f64,
}

/// Fields and temperatures in turn, at most so often.
const MOST_UPDATES: usize = 40;

/// The current is sought until its point is within this share of the tolerance.
const SEARCH_SHARE: f64 = 0.1;
/// Heat comes to rest within this share of the tolerance.
const HEAT_SHARE: f64 = 0.02;
const MOST_SEARCHES: usize = 40;

/// Finds the state in which nothing changes any more, beginning from a guess of the temperatures.
///
/// # Errors
/// Those of the solvers; [`FieldError::NotConverged`] where field and heat do not settle.
pub fn rest(
    parts: (&Problem, &Model),
    setup: &Setup,
    settings: &Settings,
    radiation_ambient_c: &[f64],
    guess: &heat::State,
    held: Held,
) -> Result<Rest, FieldError> {
    let mut field_state = eddy::State::default();
    let mut field: Option<Field> = None;
    let mut state = guess.clone();
    let mut current_a = match held {
        Held::Current(current_a) => current_a,
        Held::Temperature { guess_a, .. } => guess_a,
    };
    let tolerance_k = settings.steps.tolerance_k;
    let mut left_k = f64::INFINITY;
    for updates in 1..=MOST_UPDATES {
        let moment = Moment {
            time_s: state.time_s,
            temperature_c: &state.temperature_c,
            current_a,
        };
        let new = solve_field(
            parts,
            setup,
            &mut field_state,
            &moment,
            field.as_ref(),
            settings.warm_solves,
        )?;
        let search = Search {
            model: parts.1,
            field: &new,
            radiation_ambient_c,
            tolerance_k,
        };
        let (next, next_a) = search.run(held, &state, current_a)?;
        let moves = next
            .temperature_c
            .iter()
            .zip(&state.temperature_c)
            .map(|(a, b)| (a - b).abs());
        left_k = moves.fold(0.0, f64::max);
        (state, current_a) = (next, next_a);
        if left_k <= tolerance_k {
            let power_w = new
                .predictor
                .power_w(state.time_s, &state.temperature_c, current_a);
            return Ok(Rest {
                state,
                current_a,
                power_w,
                solution: new.solution,
                updates,
                left_k,
            });
        }
        field = Some(new);
    }
    Err(FieldError::NotConverged {
        time_s: state.time_s,
        left_k,
        allowed_k: tolerance_k,
    })
}

/// Heat at rest under one field.
struct Search<'a> {
    model: &'a Model,
    field: &'a Field,
    radiation_ambient_c: &'a [f64],
    tolerance_k: f64,
}

impl Search<'_> {
    fn run(
        &self,
        held: Held,
        from: &heat::State,
        current_a: f64,
    ) -> Result<(heat::State, f64), FieldError> {
        match held {
            Held::Current(current_a) => Ok((self.at(current_a, from)?, current_a)),
            Held::Temperature {
                probe,
                temperature_c,
                ..
            } => self.seek(&probe, temperature_c, from, current_a),
        }
    }

    fn at(&self, current_a: f64, from: &heat::State) -> Result<heat::State, FieldError> {
        let source = self.field.predictor.foresee(current_a);
        let conditions = Conditions {
            source: &source,
            radiation_ambient_c: self.radiation_ambient_c,
        };
        Ok(steady_within(self.model, from, &conditions, HEAT_SHARE * self.tolerance_k)?.state)
    }

    /// The current that holds a point: the secant rule on the square of the current, kept inside what is known to be
    /// too little and too much.
    fn seek(
        &self,
        probe: &Probe,
        wanted_c: f64,
        from: &heat::State,
        first_a: f64,
    ) -> Result<(heat::State, f64), FieldError> {
        let (mut low, mut high) = (0.0_f64, f64::INFINITY);
        let mut square = first_a * first_a;
        let mut last: Option<(f64, f64)> = None;
        let mut state = from.clone();
        let mut excess_k = f64::INFINITY;
        for _ in 0..MOST_SEARCHES {
            state = self.at(square.sqrt(), &state)?;
            excess_k = probe.temperature_c(&state) - wanted_c;
            if excess_k.abs() <= SEARCH_SHARE * self.tolerance_k {
                return Ok((state, square.sqrt()));
            }
            if excess_k < 0.0 {
                low = low.max(square)
            } else {
                high = high.min(square)
            }
            let secant =
                last.map(|(x, excess)| square - excess_k * (square - x) / (excess_k - excess));
            last = Some((square, excess_k));
            let inside = |x: &f64| *x > low && *x < high && *x < 4.0 * square && *x > 0.25 * square;
            square = secant.filter(inside).unwrap_or(match (low, high) {
                (low, f64::INFINITY) => 2.0 * low,
                (0.0, high) => 0.5 * high,
                (low, high) => 0.5 * (low + high),
            });
        }
        Err(FieldError::NotConverged {
            time_s: state.time_s,
            left_k: excess_k.abs(),
            allowed_k: self.tolerance_k,
        })
    }
}
