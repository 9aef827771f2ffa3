//! A procedure or an owner that asks less than what stands above it: all places at once.

use crate::fault::RuleFault;
use crate::own;
use crate::requirement::{Level, Limit, LimitKind};
use crate::weld::{OwnLimits, Weld};

/// Every place where the owner asks less than the code, or the procedure less than code or owner.
pub(crate) fn faults(weld: &Weld, code: &[Limit]) -> Vec<RuleFault> {
    let mut above: Vec<Limit> = code
        .iter()
        .filter(|limit| limit.level == Level::Code)
        .cloned()
        .collect();
    let mut faults = Vec::new();
    for (level, own_limits, name) in own::documents(weld) {
        faults.extend(
            above
                .iter()
                .flat_map(|limit| compare(level, own_limits, &name, limit)),
        );
        above.extend(
            own::limits(weld, code)
                .into_iter()
                .filter(|limit| limit.level == level),
        );
    }
    faults
}

/// One comparison that failed.
struct Weak {
    quantity: &'static str,
    own: f64,
    limit: f64,
    unit: &'static str,
    hint: &'static str,
}

fn compare(level: Level, own: &OwnLimits, name: &str, above: &Limit) -> Vec<RuleFault> {
    weak_places(own, above.kind)
        .into_iter()
        .flatten()
        .map(|weak| RuleFault::ProcedureBelowCode {
            level,
            weaker_document: name.to_string(),
            quantity: weak.quantity,
            own: round(weak.own),
            limit: round(weak.limit),
            unit: weak.unit,
            document: above.clause.document.clone(),
            clause: above.clause.clause.clone(),
            hint: weak.hint.to_string(),
        })
        .collect()
}

/// Two numbers in a message are read to a hundredth.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn weak_places(own: &OwnLimits, above: LimitKind) -> [Option<Weak>; 2] {
    let lower = |value: Option<f64>, limit, quantity, unit, hint| {
        weak(value, limit, |own, limit| own < limit, quantity, unit, hint)
    };
    let higher = |value: Option<f64>, limit, quantity, unit, hint| {
        weak(value, limit, |own, limit| own > limit, quantity, unit, hint)
    };
    let own_threshold = own.rate_threshold.map(quantity::Celsius::c);
    match above {
        LimitKind::HoldMin(min) => [
            lower(
                own.hold_min.map(quantity::Celsius::c),
                min.c(),
                "lower end of the hold",
                "°C",
                "raise hold_min, or use a lower temperature that the code lists with its longer hold",
            ),
            lower(
                own.hold_max.map(quantity::Celsius::c),
                min.c(),
                "upper end of the hold",
                "°C",
                "raise hold_max above the lower end",
            ),
        ],
        LimitKind::HoldMax(max) => [
            higher(
                own.hold_max.map(quantity::Celsius::c),
                max.c(),
                "upper end of the hold",
                "°C",
                "lower hold_max",
            ),
            higher(
                own.hold_min.map(quantity::Celsius::c),
                max.c(),
                "lower end of the hold",
                "°C",
                "lower hold_min below the upper end",
            ),
        ],
        LimitKind::HoldTime(time) => [
            lower(
                own.hold_time.map(quantity::Hours::h),
                time.h(),
                "hold time",
                "h",
                "lengthen hold_time",
            ),
            None,
        ],
        LimitKind::HeatingRate { above, rate } => [
            higher(
                own.heating_rate.map(quantity::KelvinsPerHour::k_h),
                rate.k_h(),
                "heating rate",
                "K/h",
                "slow heating_rate down",
            ),
            higher(
                own_threshold,
                above.c(),
                "temperature above which the heating rate holds",
                "°C",
                "lower rate_threshold",
            ),
        ],
        LimitKind::CoolingRate { above, rate } => [
            higher(
                own.cooling_rate.map(quantity::KelvinsPerHour::k_h),
                rate.k_h(),
                "cooling rate",
                "K/h",
                "slow cooling_rate down",
            ),
            higher(
                own_threshold,
                above.c(),
                "temperature above which the cooling rate holds",
                "°C",
                "lower rate_threshold",
            ),
        ],
        LimitKind::HoldSpread(spread) => [
            higher(
                own.spread.map(quantity::Kelvins::k),
                spread.k(),
                "spread during the hold",
                "K",
                "tighten spread",
            ),
            None,
        ],
        LimitKind::HeatingSpread { .. } => [None, None],
    }
}

/// A formula's result and a hand-rounded number in a procedure differ by rounding: 5640/45 is written as 125 K/h.
const ROUNDING: f64 = 5e-3;

fn weak(
    own: Option<f64>,
    limit: f64,
    is_weaker: fn(f64, f64) -> bool,
    quantity: &'static str,
    unit: &'static str,
    hint: &'static str,
) -> Option<Weak> {
    let own = own?;
    let beyond_rounding = (own - limit).abs() > ROUNDING * limit.abs() || unit == "°C";
    (is_weaker(own, limit) && beyond_rounding).then_some(Weak {
        quantity,
        own,
        limit,
        unit,
        hint,
    })
}
