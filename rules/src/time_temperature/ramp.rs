//! What a linear ramp counts, as time at the hold temperature.

use quantity::{Celsius, Hours, KelvinsPerHour};
use serde::Serialize;

use super::parameter::Parameter;

/// How a ramp counts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RampRule {
    /// Not at all.
    Ignored,
    /// By the published shortcut T/[ln 10·K·(C − log10 K)], from memory; 10 to 17 % more than the integral.
    Shortcut,
    /// By the integral of an Arrhenius rate whose slope is that of the parameter at this time of the hold.
    SlopeOfHold(Hours),
    /// By the same integral with the slope at the ramp's own time.
    OwnSlope,
}

impl RampRule {
    /// In words, for the reader of the number.
    pub fn words(self) -> String {
        match self {
            RampRule::Ignored => "ramps not counted".into(),
            RampRule::Shortcut => "ramps by the shortcut T/[ln 10·K·(C − log K)]".into(),
            RampRule::SlopeOfHold(hold) => {
                format!(
                    "ramps integrated with the slope of a hold of {} h",
                    hold.h()
                )
            }
            RampRule::OwnSlope => "ramps integrated with the slope of their own time".into(),
        }
    }
}

/// Time at the hold temperature that one ramp counts, upwards or downwards.
pub fn ramp_time(
    parameter: &Parameter,
    hold: Celsius,
    rate: KelvinsPerHour,
    rule: RampRule,
) -> Hours {
    if !(rate.k_h().is_finite() && rate.k_h() > 0.0) {
        return Hours::from_h(0.0);
    }
    match rule {
        RampRule::Ignored => Hours::from_h(0.0),
        RampRule::Shortcut => shortcut(parameter, hold, rate),
        RampRule::SlopeOfHold(time) => integral(parameter, hold, rate, time),
        RampRule::OwnSlope => own_slope(parameter, hold, rate),
    }
}

fn shortcut(parameter: &Parameter, hold: Celsius, rate: KelvinsPerHour) -> Hours {
    let below = std::f64::consts::LN_10 * rate.k_h() * (parameter.constant - rate.k_h().log10());
    Hours::from_h(hold.absolute_k() / below)
}

/// ∫ exp[−(E/R)(1/T − 1/T_hold)] dT / K from far below, with E/R = ln 10·T_hold·(C + log10 t).
fn integral(parameter: &Parameter, hold: Celsius, rate: KelvinsPerHour, time: Hours) -> Hours {
    /// Below this share of the hold temperature in K nothing is left of the rate.
    const LOWEST_SHARE: f64 = 0.3;
    /// Even number of Simpson's steps; the rate changes by 3 % from one to the next.
    const STEPS: u32 = 2000;
    let top_k = hold.absolute_k();
    let slope_k = std::f64::consts::LN_10 * top_k * (parameter.constant + time.h().log10());
    let step_k = top_k * (1.0 - LOWEST_SHARE) / f64::from(STEPS);
    let rate_at = |step: u32| {
        let k = top_k * LOWEST_SHARE + f64::from(step) * step_k;
        (-slope_k * (1.0 / k - 1.0 / top_k)).exp()
    };
    let weight = |step: u32| match step {
        0 | STEPS => 1.0,
        odd if odd % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=STEPS).map(|step| weight(step) * rate_at(step)).sum();
    Hours::from_h(sum * step_k / 3.0 / rate.k_h())
}

fn own_slope(parameter: &Parameter, hold: Celsius, rate: KelvinsPerHour) -> Hours {
    /// The time enters by its logarithm over C, so each pass gains more than a digit.
    const PASSES: u32 = 12;
    let start = shortcut(parameter, hold, rate);
    (0..PASSES).fold(start, |time, _| integral(parameter, hold, rate, time))
}
