//! Whether the source gives what the cycle asks for, and whether the computation closed its books.

use checks::Verdict;
use cycle::outcome::{Outcome, Shortfall};
use quantity::{Celsius, Units};

use super::{About, Foreseen, fine};
use crate::sheet::words::moment_s;
use crate::wording::temperature;

/// Largest gap in percent between heat put in, given off and stored that a plan may rest on.
const ENERGY_GAP_PERCENT: f64 = 2.0;

/// Largest relative gap between coil power and integrated loss that a plan may rest on.
const POWER_GAP: f64 = 0.02;

pub(super) fn source(outcome: &Outcome, units: Units) -> Foreseen {
    let source = &outcome.source;
    let least = source
        .power_reserve_percent
        .min(source.current_reserve_percent)
        .min(source.voltage_reserve_percent);
    let Some(short) = &source.first_shortfall else {
        let says = format!(
            "enough for the whole cycle; at its worst {least:.0} % is left of power, current or voltage ({:.1} kW, {:.0} A, {:.0} V at most)",
            source.largest_power_w / 1e3,
            source.largest_current_rms_a,
            source.largest_voltage_rms_v
        );
        return fine(About::Source, says);
    };
    Foreseen {
        about: About::Source,
        verdict: Verdict::NotMet,
        says: short_words(short, units),
        remedy: Some("a larger source, more turns where the current runs out, fewer where the voltage does, or a slower programme".into()),
        severity: 1.0 + short.farthest_behind_k / 100.0,
    }
}

fn short_words(short: &Shortfall, units: Units) -> String {
    format!(
        "runs out while {}: {} holds it back from {} on, at {}",
        short.stage.words(),
        short.limit.words(),
        moment_s(short.time_s),
        temperature(Celsius::from_c(short.control_c), units)
    )
}

pub(super) fn computation(outcome: &Outcome) -> Foreseen {
    let effort = &outcome.effort;
    let says = format!(
        "heat in, out and stored agree within {:.1} %, coil power and loss within {:.2} %",
        effort.energy_error_percent.abs(),
        100.0 * effort.worst_balance
    );
    let closed = effort.energy_error_percent.abs() <= ENERGY_GAP_PERCENT
        && effort.worst_balance <= POWER_GAP;
    if closed {
        return fine(About::Computation, says);
    }
    Foreseen {
        about: About::Computation,
        verdict: Verdict::NotJudged,
        says: format!("the books do not close: {says}"),
        remedy: Some("do not rest anything on this plan; report the job".into()),
        severity: f64::INFINITY,
    }
}
