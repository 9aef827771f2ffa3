//! What owner and procedure set on top of the code.

use quantity::{Celsius, Status, Units};

use crate::fault::{RuleError, RuleFault};
use crate::requirement::{Clause, Level, Limit, LimitKind};
use crate::weld::{OwnLimits, Weld};
use crate::wording::{Measure, level_words, rounded};

/// The own limits of a weld, the owner's first, with the name of their document.
pub(crate) fn documents(weld: &Weld) -> [(Level, &OwnLimits, String); 2] {
    [
        (Level::Owner, &weld.owner),
        (Level::Procedure, &weld.procedure),
    ]
    .map(|(level, limits)| {
        let name = limits
            .document
            .clone()
            .unwrap_or_else(|| level_words(level).to_string());
        (level, limits, name)
    })
}

/// Whether procedure or owner give a hold range and time by themselves, so that a table may be silent.
pub(crate) fn gives_hold(weld: &Weld) -> bool {
    let gives = |own: &OwnLimits| {
        own.hold_min.is_some() && own.hold_max.is_some() && own.hold_time.is_some()
    };
    gives(&weld.procedure) || gives(&weld.owner)
}

/// The limits of a cycle card, that stands alone: a rate without a threshold holds at any temperature.
/// `units` are those of the messages.
///
/// # Errors
/// [`RuleError`] with every number that is none, and a range that is none.
pub fn card_limits(card: &OwnLimits, units: Units) -> Result<Vec<Limit>, RuleError> {
    let name = card.document.clone().unwrap_or_else(|| "cycle card".into());
    let limits = limits_of(Level::Procedure, card, &name, &[]);
    let mut faults = bad_limits_of(card, &name, units);
    faults.extend(crate::range::empty(&limits, units));
    match faults.is_empty() {
        true => Ok(limits),
        false => Err(RuleError { faults }),
    }
}

/// The own limits as limits of their levels; a rate without a threshold holds above the code's.
pub(crate) fn limits(weld: &Weld, code: &[Limit]) -> Vec<Limit> {
    documents(weld)
        .iter()
        .flat_map(|(level, own, name)| limits_of(*level, own, name, code))
        .collect()
}

fn limits_of(level: Level, own: &OwnLimits, name: &str, code: &[Limit]) -> Vec<Limit> {
    let above = own
        .rate_threshold
        .or_else(|| threshold(code))
        .unwrap_or(Celsius::from_c(0.0));
    let kinds = [
        own.hold_min.map(LimitKind::HoldMin),
        own.hold_max.map(LimitKind::HoldMax),
        own.hold_time.map(LimitKind::HoldTime),
        own.heating_rate
            .map(|rate| LimitKind::HeatingRate { above, rate }),
        own.cooling_rate
            .map(|rate| LimitKind::CoolingRate { above, rate }),
        own.spread.map(LimitKind::HoldSpread),
    ];
    let limit = |kind| Limit {
        kind,
        level,
        clause: Clause {
            document: name.to_string(),
            clause: "as given".into(),
            status: Status::UserGiven,
            note: None,
        },
        reason: format!("set by {}", level_words(level)),
    };
    kinds.into_iter().flatten().map(limit).collect()
}

/// The lowest rate threshold among limits.
fn threshold(code: &[Limit]) -> Option<Celsius> {
    let above = code.iter().filter_map(|limit| match limit.kind {
        LimitKind::HeatingRate { above, .. } | LimitKind::CoolingRate { above, .. } => Some(above),
        _ => None,
    });
    above.reduce(Celsius::min)
}

/// Own limits that are no sensible number.
pub(crate) fn bad_limits(weld: &Weld) -> Vec<RuleFault> {
    documents(weld)
        .iter()
        .flat_map(|(_, own, name)| bad_limits_of(own, name, weld.units))
        .collect()
}

fn bad_limits_of(own: &OwnLimits, name: &str, units: Units) -> Vec<RuleFault> {
    let numbers = [
        (
            "hold_min",
            own.hold_min.map(Celsius::c),
            Measure::Temperature,
        ),
        (
            "hold_max",
            own.hold_max.map(Celsius::c),
            Measure::Temperature,
        ),
        (
            "hold_time",
            own.hold_time.map(quantity::Hours::h),
            Measure::Hours,
        ),
        (
            "heating_rate",
            own.heating_rate.map(quantity::KelvinsPerHour::k_h),
            Measure::Rate,
        ),
        (
            "cooling_rate",
            own.cooling_rate.map(quantity::KelvinsPerHour::k_h),
            Measure::Rate,
        ),
        (
            "rate_threshold",
            own.rate_threshold.map(Celsius::c),
            Measure::Temperature,
        ),
        (
            "spread",
            own.spread.map(quantity::Kelvins::k),
            Measure::Difference,
        ),
    ];
    let bad = |value: &f64| !(value.is_finite() && *value > 0.0);
    let numbers = numbers
        .into_iter()
        .filter_map(|(quantity, value, measure)| Some((quantity, value.filter(bad)?, measure)));
    numbers
        .map(|(quantity, value, measure)| RuleFault::BadLimit {
            document: name.to_string(),
            quantity,
            value: rounded(measure.number(value, units)),
            unit: measure.unit(units),
        })
        .collect()
}
