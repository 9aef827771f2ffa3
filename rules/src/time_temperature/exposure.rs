//! The equivalent time of a logged curve, sample by sample.
//!
//! The parameter does not add up sample by sample. What adds up is the Arrhenius rate exp[−(E/R)(1/T − 1/T_ref)] with the
//! slope E/R = ln 10·T_ref·(C + log10 t) at the equivalent time t, which is only known at the end. So the sum is kept for a
//! row of times, and the one that agrees with its own time is read off. A single hold gives the parameter's own equivalent
//! time exactly, at any reference.

use quantity::{Celsius, Hours};
use serde::Serialize;

use super::cycles::check_temperature;
use super::parameter::{Parameter, bad};
use crate::fault::RuleError;

/// Decades of time for which the sum is kept: from 10⁻⁶ h, below which nothing counts, to 10⁶ h.
const DECADES: (f64, f64) = (-6.0, 6.0);

/// Sums for each decade; between two the logarithm of the sum is nearly straight.
const EACH_DECADE: usize = 4;

/// Largest change of temperature in K over one of Simpson's intervals.
const STEP_K: f64 = 5.0;

/// The exposure of one thermocouple so far.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Exposure {
    parameter: Parameter,
    reference: Celsius,
    last: Option<(Hours, Option<Celsius>)>,
    sums_h: Vec<f64>,
    silent: Hours,
}

impl Exposure {
    /// Nothing yet, with the reference temperature that the equivalent time is told at.
    ///
    /// # Errors
    /// [`crate::fault::RuleFault::BadMeasure`] for a reference that cannot be.
    pub fn new(parameter: Parameter, reference: Celsius) -> Result<Exposure, RuleError> {
        let faults = check_temperature("reference temperature", reference);
        if !faults.is_empty() {
            return Err(RuleError { faults });
        }
        Ok(Exposure {
            parameter,
            reference,
            last: None,
            sums_h: vec![0.0; slopes()],
            silent: Hours::from_h(0.0),
        })
    }

    /// The next sample; `None` where the thermocouple was silent. Between two samples the temperature runs straight; next
    /// to a silent one nothing is counted, and the time is kept apart.
    ///
    /// # Errors
    /// [`crate::fault::RuleFault::BadMeasure`] for a time before the last one or a temperature that cannot be; the sample is not taken.
    pub fn push(&mut self, time: Hours, temperature: Option<Celsius>) -> Result<(), RuleError> {
        let before = self.last.map(|(time, _)| time);
        if !time.h().is_finite() || before.is_some_and(|before| time < before) {
            return Err(bad(
                "time of a sample",
                time.h(),
                "h",
                "it must not lie before the sample ahead of it",
            ));
        }
        if let Some(temperature) = temperature {
            let faults = check_temperature("temperature of a sample", temperature);
            if !faults.is_empty() {
                return Err(RuleError { faults });
            }
        }
        if let Some((start, from)) = self.last {
            let span_h = time.h() - start.h();
            match from.zip(temperature) {
                Some((from, to)) => self.add(span_h, from, to),
                None => self.silent = Hours::from_h(self.silent.h() + span_h),
            }
        }
        self.last = Some((time, temperature));
        Ok(())
    }

    /// The time at the reference temperature that did as much; none while nothing counts.
    pub fn equivalent(&self) -> Option<Hours> {
        // The sum falls or rises slower than the time it is worked out with, so there is one crossing.
        let gaps: Vec<f64> = (0..slopes())
            .map(|i| self.sums_h[i].log10() - decade(i))
            .collect();
        let after = gaps.iter().position(|gap| *gap <= 0.0)?;
        if after == 0 || !gaps[after].is_finite() {
            return None;
        }
        let share = gaps[after - 1] / (gaps[after - 1] - gaps[after]);
        let step = decade(after) - decade(after - 1);
        Some(Hours::from_h(10f64.powf(decade(after - 1) + share * step)))
    }

    /// The parameter in thousands; none while nothing counts.
    pub fn parameter(&self) -> Option<f64> {
        self.parameter.at(self.reference, self.equivalent()?)
    }

    /// The time that was not counted because the thermocouple was silent.
    pub fn silent(&self) -> Hours {
        self.silent
    }

    /// C of the parameter, for time in hours.
    pub fn constant(&self) -> f64 {
        self.parameter.constant
    }

    /// The reference temperature.
    pub fn reference(&self) -> Celsius {
        self.reference
    }

    fn add(&mut self, span_h: f64, from: Celsius, to: Celsius) {
        let intervals = ((to.c() - from.c()).abs() / STEP_K)
            .ceil()
            .clamp(1.0, 1000.0) as u32;
        let part_h = span_h / f64::from(intervals);
        let top_k = self.reference.absolute_k();
        let inverse = |share: f64| {
            let k = from.absolute_k() + share * (to.c() - from.c());
            1.0 / k - 1.0 / top_k
        };
        for interval in 0..intervals {
            let at = |part: f64| inverse((f64::from(interval) + part) / f64::from(intervals));
            let points = [at(0.0), at(0.5), at(1.0)];
            for (index, sum) in self.sums_h.iter_mut().enumerate() {
                let slope_k =
                    std::f64::consts::LN_10 * top_k * (self.parameter.constant + decade(index));
                let [a, b, c] = points.map(|point| (-slope_k * point).exp());
                *sum += part_h * (a + 4.0 * b + c) / 6.0;
            }
        }
    }
}

fn slopes() -> usize {
    ((DECADES.1 - DECADES.0) as usize) * EACH_DECADE + 1
}

fn decade(index: usize) -> f64 {
    DECADES.0 + index as f64 / EACH_DECADE as f64
}
