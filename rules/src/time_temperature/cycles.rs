//! Several cycles as one time at a stated reference temperature.

use quantity::{Celsius, Hours, KelvinsPerHour};
use serde::Serialize;

use super::parameter::{Parameter, bad, doubt};
use super::ramp::{RampRule, ramp_time};
use crate::fault::RuleError;
use crate::requirement::Remark;

/// One heat treatment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Cycle {
    /// Temperature of the hold.
    pub temperature: Celsius,
    /// Time of the hold.
    pub hold: Hours,
    /// Heating rate just below the hold, where it is to count.
    pub heating: Option<KelvinsPerHour>,
    /// Cooling rate just below the hold, where it is to count.
    pub cooling: Option<KelvinsPerHour>,
}

/// Cycles taken together. The result depends on the reference temperature; the highest of the cycles gives the most.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Combined {
    /// The reference temperature.
    pub reference: Celsius,
    /// Equivalent time of each cycle at the reference, ramps included.
    pub each: Vec<Hours>,
    /// Their sum.
    pub equivalent: Hours,
    /// P in thousands.
    pub parameter: f64,
    /// How the ramps count, in words.
    pub ramps: String,
    /// A warning where P lies outside what treatments of steel give.
    pub doubt: Option<Remark>,
}

/// Cycles taken together at a reference temperature.
///
/// # Errors
/// [`crate::fault::RuleFault::BadMeasure`] for every hold or temperature that cannot be, and if there is no cycle.
pub fn combined(
    parameter: &Parameter,
    cycles: &[Cycle],
    reference: Celsius,
    ramps: RampRule,
) -> Result<Combined, RuleError> {
    let mut faults = Vec::new();
    for cycle in cycles {
        faults.extend(faults_of(cycle));
    }
    faults.extend(check_temperature("reference temperature", reference));
    if cycles.is_empty() {
        faults.extend(bad("number of cycles", 0.0, "", "there must be at least one").faults);
    }
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    let each: Vec<Hours> = cycles
        .iter()
        .map(|cycle| of_cycle(parameter, cycle, reference, ramps))
        .collect();
    let equivalent = Hours::from_h(each.iter().map(|time| time.h()).sum());
    let thousands = parameter.at(reference, equivalent).unwrap_or_default();
    Ok(Combined {
        doubt: doubt(thousands)?,
        reference,
        parameter: thousands,
        each,
        equivalent,
        ramps: ramps.words(),
    })
}

fn of_cycle(parameter: &Parameter, cycle: &Cycle, reference: Celsius, ramps: RampRule) -> Hours {
    let rates = [cycle.heating, cycle.cooling].into_iter().flatten();
    let ramped: f64 = rates
        .map(|rate| ramp_time(parameter, cycle.temperature, rate, ramps).h())
        .sum();
    parameter.equivalent(
        cycle.temperature,
        Hours::from_h(cycle.hold.h() + ramped),
        reference,
    )
}

fn faults_of(cycle: &Cycle) -> Vec<crate::fault::RuleFault> {
    let mut faults = check_temperature("temperature of a cycle", cycle.temperature);
    let hours = cycle.hold.h();
    if !(hours.is_finite() && hours > 0.0) {
        faults.extend(bad("hold of a cycle", hours, "h", "it must be more than zero").faults);
    }
    for rate in [cycle.heating, cycle.cooling].into_iter().flatten() {
        if !(rate.k_h().is_finite() && rate.k_h() > 0.0) {
            faults.extend(
                bad(
                    "rate of a cycle",
                    rate.k_h(),
                    "K/h",
                    "it must be more than zero",
                )
                .faults,
            );
        }
    }
    faults
}

pub(crate) fn check_temperature(what: &str, temperature: Celsius) -> Vec<crate::fault::RuleFault> {
    let c = temperature.c();
    let possible = c.is_finite() && temperature.absolute_k() > 0.0;
    if possible {
        return Vec::new();
    }
    bad(what, c, "°C", "it must lie above absolute zero").faults
}
