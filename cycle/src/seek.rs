//! Finding the current that brings the control temperature to its target within one step (controller.md eq. 4).

use crate::circuit::Impedance;
use crate::error::CycleError;
use crate::outcome::Limit;

/// The target is met within this, in K: small beside a recorder's resolution, and rates over a quarter of an hour are
/// then right to 1 K/h.
pub const MET_K: f64 = 0.1;

/// A limit is met within this part of the current.
const AT_LIMIT: f64 = 2e-3;

/// Tries in one step: the response is nearly straight in the square of the current, so two or three are usual.
const TRIES: usize = 12;

/// What a trial of a step brought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    /// Temperature that the controller follows, at the end of the step, in °C.
    pub control_c: f64,
    /// Impedance at the source at the end of the step.
    pub impedance: Impedance,
    /// How many fields had been solved by then: trials of one number are by one field.
    pub fields: usize,
}

/// The current that was found; the trial made last is the one to keep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sought {
    /// Current in A rms.
    pub current_rms_a: f64,
    /// What that trial brought.
    pub tried: Tried,
    /// What kept the current from being higher.
    pub limited_by: Option<Limit>,
    /// Change of the control temperature with the square of the current, in K/A2, for the next step's first guess.
    pub slope_k_a2: f64,
    /// Trials made.
    pub tries: usize,
}

/// Where to begin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// Current in A rms.
    pub current_rms_a: f64,
    /// Change of the control temperature with the square of the current, in K/A2; positive.
    pub slope_k_a2: f64,
}

/// Seeks the current between zero and what `allowed` gives, by the secant method in the square of the current, held
/// inside a bracket.
///
/// Returns `None` as soon as a trial does: it could not make the step that was asked for.
///
/// # Errors
/// What a trial returns.
pub fn seek(
    target_c: f64,
    guess: Guess,
    allowed: &dyn Fn(&Impedance) -> (f64, Limit),
    trial: &mut dyn FnMut(f64) -> Result<Option<Tried>, CycleError>,
) -> Result<Option<Sought>, CycleError> {
    let mut square = guess.current_rms_a * guess.current_rms_a;
    let mut slope = guess.slope_k_a2;
    let (mut low, mut high) = (0.0_f64, f64::INFINITY);
    let mut before: Option<(f64, f64)> = None;
    let mut fields = None;
    for tries in 1..=TRIES {
        let current_rms_a = square.sqrt();
        let Some(tried) = trial(current_rms_a)? else {
            return Ok(None);
        };
        if fields.is_some_and(|known| known != tried.fields) {
            // A field that was solved anew answers otherwise: what the one before said bounds nothing.
            (low, high, before) = (0.0, f64::INFINITY, None);
        }
        fields = Some(tried.fields);
        let excess_k = tried.control_c - target_c;
        if let Some((other, other_k)) = before {
            let found = (excess_k - other_k) / (square - other);
            if found.is_finite() && found > 0.0 {
                slope = found;
            }
        }
        before = Some((square, excess_k));
        let (most_a, limit) = allowed(&tried.impedance);
        let at_limit = current_rms_a >= most_a * (1.0 - AT_LIMIT);
        let over_limit = current_rms_a > most_a * (1.0 + AT_LIMIT);
        let done = |limited_by| Sought {
            current_rms_a,
            tried,
            limited_by,
            slope_k_a2: slope,
            tries,
        };
        if over_limit {
            high = high.min(square);
            square = most_a * most_a;
            low = low.min(0.99 * square);
            continue;
        }
        if excess_k.abs() <= MET_K {
            return Ok(Some(done(None)));
        }
        if excess_k < 0.0 && at_limit {
            return Ok(Some(done(Some(limit))));
        }
        if excess_k > 0.0 && square == 0.0 {
            return Ok(Some(done(None)));
        }
        if tries == TRIES {
            return Ok(Some(done((excess_k < 0.0).then_some(limit))));
        }
        if excess_k < 0.0 {
            low = square
        } else {
            high = square
        }
        let wanted = square - excess_k / slope;
        square = match wanted > low && wanted < high {
            true => wanted,
            // The straight guess left the bracket: without an upper end go on doubling, at the lower end try nothing.
            false if high.is_infinite() => 2.0 * low.max(square),
            false if low == 0.0 && wanted <= 0.0 => 0.0,
            false => 0.5 * (low + high),
        }
        .min(most_a * most_a);
    }
    unreachable!("the last try returns")
}

#[cfg(test)]
mod tests {
    use super::{Guess, MET_K, Tried, seek};
    use crate::circuit::Impedance;
    use crate::outcome::Limit;

    fn coil() -> Impedance {
        Impedance {
            metal_ohm: 0.5,
            coil_reactance_ohm: 1.0,
            ..Impedance::default()
        }
    }

    fn guess(current_rms_a: f64) -> Guess {
        Guess {
            current_rms_a,
            slope_k_a2: 1e-3,
        }
    }

    #[test]
    fn a_saturating_response_is_met_in_few_tries() {
        let mut trial = |current: f64| {
            Ok(Some(Tried {
                control_c: 500.0 + 0.002 * current.powf(1.6),
                impedance: coil(),
                fields: 0,
            }))
        };
        let found = seek(
            520.0,
            guess(150.0),
            &|_| (400.0, Limit::Current),
            &mut trial,
        )
        .expect("no error")
        .expect("found");
        assert!((found.tried.control_c - 520.0).abs() <= MET_K);
        assert!(found.tries <= 6 && found.limited_by.is_none());
    }

    #[test]
    fn the_limit_is_named_when_it_bites() {
        let mut trial = |current: f64| {
            Ok(Some(Tried {
                control_c: 500.0 + 1e-4 * current * current,
                impedance: coil(),
                fields: 0,
            }))
        };
        let found = seek(
            600.0,
            guess(150.0),
            &|_| (200.0, Limit::Voltage),
            &mut trial,
        )
        .expect("no error")
        .expect("found");
        assert_eq!(found.limited_by, Some(Limit::Voltage));
        assert!((found.current_rms_a - 200.0).abs() < 1.0);
    }

    #[test]
    fn a_limit_that_moves_with_the_current_is_found() {
        // Resistance falls with the current, as saturation makes it; rated power 10 kW.
        let resistance = |current: f64| 1.0 / (1.0 + current / 100.0);
        let mut trial = |current: f64| {
            Ok(Some(Tried {
                control_c: 500.0 + 1e-4 * current * current,
                impedance: Impedance {
                    metal_ohm: resistance(current),
                    ..Impedance::default()
                },
                fields: 0,
            }))
        };
        let allowed = |z: &Impedance| ((10e3 / z.metal_ohm).sqrt(), Limit::Power);
        let found = seek(900.0, guess(300.0), &allowed, &mut trial)
            .expect("no error")
            .expect("found");
        let power_w = found.current_rms_a.powi(2) * resistance(found.current_rms_a);
        assert!((power_w / 10e3 - 1.0).abs() < 0.01, "{power_w}");
        assert_eq!(found.limited_by, Some(Limit::Power));
    }

    #[test]
    fn no_current_where_it_cools_too_slowly_by_itself() {
        let mut trial = |current: f64| {
            Ok(Some(Tried {
                control_c: 610.0 + 1e-4 * current * current,
                impedance: coil(),
                fields: 0,
            }))
        };
        let found = seek(
            600.0,
            guess(100.0),
            &|_| (200.0, Limit::Current),
            &mut trial,
        )
        .expect("no error")
        .expect("found");
        assert_eq!((found.current_rms_a, found.limited_by), (0.0, None));
    }

    #[test]
    fn a_field_that_is_solved_anew_in_the_search_does_not_make_it_miss() {
        let mut tries = 0;
        let mut trial = |current: f64| {
            tries += 1;
            // The first try was by a field of before, which promised 2 K more.
            let promised_k = if tries == 1 { 2.0 } else { 0.0 };
            Ok(Some(Tried {
                control_c: 600.0 + 2.6e-3 * (current * current - 14_900.0) + promised_k,
                impedance: coil(),
                fields: usize::from(tries > 1),
            }))
        };
        let begin = Guess {
            current_rms_a: 121.0,
            slope_k_a2: 2.9e-3,
        };
        let allowed = |_: &Impedance| (270.0, Limit::Power);
        let found = seek(600.0, begin, &allowed, &mut trial);
        let found = found.expect("no error").expect("found");
        assert!((found.tried.control_c - 600.0).abs() <= MET_K, "{found:?}");
        assert_eq!(found.limited_by, None);
    }
}
