//! What a procedure qualification leaves: the coupon's exposure against that of the part.

use quantity::{Celsius, Hours};
use serde::Serialize;

use super::cycles::{Combined, Cycle, combined};
use super::parameter::Parameter;
use super::ramp::RampRule;
use super::value::TimeTemperatureValue;
use crate::fault::RuleError;
use crate::requirement::Clause;
use crate::row::Value;
use crate::shelf;

/// The qualified exposure and the part's, both at one reference temperature.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Budget {
    /// What the coupon has seen.
    pub qualified: Combined,
    /// What the part has seen and is planned to see.
    pub used: Combined,
    /// Equivalent time at the reference that is left; negative where the part has more than was qualified.
    pub left: Hours,
    /// By how much P of the part stays below that of the coupon, in thousands.
    pub parameter_left: f64,
    /// Share of the part's whole time at temperature that the coupon has seen, by the clock alone.
    pub coupon_share: f64,
    /// The least share that a code asks, and where it stands.
    pub share_asked: Option<(f64, Clause)>,
}

/// The coupon's cycles against the part's, at a reference temperature.
///
/// # Errors
/// [`crate::fault::RuleFault::BadMeasure`] for cycles that cannot be; the faults of the data files.
pub fn budget(
    parameter: &Parameter,
    qualified: &[Cycle],
    used: &[Cycle],
    reference: Celsius,
    ramps: RampRule,
) -> Result<Budget, RuleError> {
    let coupon = combined(parameter, qualified, reference, ramps)?;
    let part = combined(parameter, used, reference, ramps)?;
    Ok(Budget {
        left: Hours::from_h(coupon.equivalent.h() - part.equivalent.h()),
        parameter_left: coupon.parameter - part.parameter,
        coupon_share: clock_hours(qualified) / clock_hours(used),
        share_asked: share_asked()?,
        qualified: coupon,
        used: part,
    })
}

fn clock_hours(cycles: &[Cycle]) -> f64 {
    cycles.iter().map(|cycle| cycle.hold.h()).sum()
}

fn share_asked() -> Result<Option<(f64, Clause)>, RuleError> {
    let rows = shelf::tables()?
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let mut shares = rows.filter_map(|(table, row)| match row.value {
        Value::TimeTemperature(TimeTemperatureValue::CouponShare(share)) => {
            Some((share, row.clause_in(table, "")))
        }
        _ => None,
    });
    Ok(shares.next())
}
