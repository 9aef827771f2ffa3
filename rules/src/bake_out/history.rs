//! The amount of diffusion ∫D dt along a temperature history, sample by sample.

use quantity::{Celsius, Hours};

use crate::fault::RuleError;
use crate::time_temperature::bad_measure;

/// Largest change of temperature in K over one of Simpson's intervals.
const STEP_K: f64 = 5.0;

/// The amount of diffusion so far. Where the coefficient is not known, as below its range, nothing is counted.
#[derive(Debug)]
pub struct History<F: Fn(Celsius) -> Option<f64>> {
    diffusivity_m2_s: F,
    last: Option<(Hours, Option<Celsius>)>,
    diffused_m2: f64,
    not_counted: Hours,
}

impl<F: Fn(Celsius) -> Option<f64>> History<F> {
    /// Nothing yet, with D in m²/s over temperature; `None` where it is not known.
    pub fn new(diffusivity_m2_s: F) -> History<F> {
        History {
            diffusivity_m2_s,
            last: None,
            diffused_m2: 0.0,
            not_counted: Hours::from_h(0.0),
        }
    }

    /// The next sample; `None` where the thermocouple was silent. Between two the temperature runs straight.
    ///
    /// # Errors
    /// [`crate::fault::RuleFault::BadMeasure`] for a time before the last one or a temperature that cannot be.
    pub fn push(&mut self, time: Hours, temperature: Option<Celsius>) -> Result<(), RuleError> {
        if !time.h().is_finite() || self.last.is_some_and(|(before, _)| time < before) {
            return Err(bad_measure(
                "time of a sample",
                time.h(),
                "h",
                "it must not lie before the sample ahead of it",
            ));
        }
        if let Some(c) = temperature.map(Celsius::c)
            && !(c.is_finite() && c > -quantity::Celsius::from_c(0.0).absolute_k())
        {
            return Err(bad_measure(
                "temperature of a sample",
                c,
                "°C",
                "it must lie above absolute zero",
            ));
        }
        if let Some((start, from)) = self.last {
            let span = Hours::from_h(time.h() - start.h());
            match from.zip(temperature) {
                Some((from, to)) => self.add(span, from, to),
                None => self.skip(span),
            }
        }
        self.last = Some((time, temperature));
        Ok(())
    }

    /// ∫D dt in m².
    pub fn diffused_m2(&self) -> f64 {
        self.diffused_m2
    }

    /// Time that was not counted: the thermocouple was silent or the coefficient is not known there.
    pub fn not_counted(&self) -> Hours {
        self.not_counted
    }

    fn skip(&mut self, span: Hours) {
        self.not_counted = Hours::from_h(self.not_counted.h() + span.h());
    }

    fn add(&mut self, span: Hours, from: Celsius, to: Celsius) {
        let intervals = ((to.c() - from.c()).abs() / STEP_K)
            .ceil()
            .clamp(1.0, 1000.0) as u32;
        let part = Hours::from_h(span.h() / f64::from(intervals));
        for interval in 0..intervals {
            let at = |part: f64| {
                let share = (f64::from(interval) + part) / f64::from(intervals);
                (self.diffusivity_m2_s)(Celsius::from_c(from.c() + share * (to.c() - from.c())))
            };
            match (at(0.0), at(0.5), at(1.0)) {
                (Some(a), Some(b), Some(c)) => {
                    self.diffused_m2 += part.s() * (a + 4.0 * b + c) / 6.0
                }
                _ => self.skip(part),
            }
        }
    }
}
