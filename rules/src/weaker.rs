//! A procedure or an owner that asks less than what stands above it: all places at once.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Units};

use crate::fault::RuleFault;
use crate::own;
use crate::requirement::{Level, Limit, LimitKind};
use crate::weld::{OwnLimits, Weld};
use crate::wording::{Measure, rounded};

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
                .flat_map(|limit| compare(level, own_limits, (&name, weld.units), limit)),
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
    measure: Measure,
    hint: &'static str,
}

fn compare(
    level: Level,
    own: &OwnLimits,
    (name, units): (&str, Units),
    above: &Limit,
) -> Vec<RuleFault> {
    weak_places(own, above.kind)
        .into_iter()
        .flatten()
        .map(|weak| RuleFault::ProcedureBelowCode {
            level,
            weaker_document: name.to_string(),
            quantity: weak.quantity,
            own: rounded(weak.measure.number(weak.own, units)),
            limit: rounded(weak.measure.number(weak.limit, units)),
            unit: weak.measure.unit(units),
            document: above.clause.document.clone(),
            clause: above.clause.clause.clone(),
            hint: weak.hint.to_string(),
        })
        .collect()
}

fn weak_places(own: &OwnLimits, above: LimitKind) -> [Option<Weak>; 2] {
    match above {
        LimitKind::HoldMin(min) => below_the_hold(own, min),
        LimitKind::HoldMax(max) => above_the_hold(own, max),
        LimitKind::HoldTime(time) => {
            let [own, limit] = [own.hold_time, Some(time)].map(|time| time.map(Hours::h));
            let hint = "lengthen hold_time";
            [
                weak(is_lower, own, limit, "hold time", Measure::Hours, hint),
                None,
            ]
        }
        LimitKind::HeatingRate { above, rate } => [
            faster(
                own.heating_rate,
                rate,
                "heating rate",
                "slow heating_rate down",
            ),
            later(own, above, "temperature above which the heating rate holds"),
        ],
        LimitKind::CoolingRate { above, rate } => [
            faster(
                own.cooling_rate,
                rate,
                "cooling rate",
                "slow cooling_rate down",
            ),
            later(own, above, "temperature above which the cooling rate holds"),
        ],
        LimitKind::HoldSpread(spread) => {
            let [own, limit] = [own.spread, Some(spread)].map(|spread| spread.map(Kelvins::k));
            let hint = "tighten spread";
            [
                weak(
                    is_higher,
                    own,
                    limit,
                    "spread during the hold",
                    Measure::Difference,
                    hint,
                ),
                None,
            ]
        }
        LimitKind::HeatingSpread { .. } => [None, None],
    }
}

fn below_the_hold(own: &OwnLimits, min: Celsius) -> [Option<Weak>; 2] {
    let [own_min, own_max, min] =
        [own.hold_min, own.hold_max, Some(min)].map(|c| c.map(Celsius::c));
    let alternative =
        "raise hold_min, or use a lower temperature that the code lists with its longer hold";
    let above = "raise hold_max above the lower end";
    [
        weak(
            is_lower,
            own_min,
            min,
            "lower end of the hold",
            Measure::Temperature,
            alternative,
        ),
        weak(
            is_lower,
            own_max,
            min,
            "upper end of the hold",
            Measure::Temperature,
            above,
        ),
    ]
}

fn above_the_hold(own: &OwnLimits, max: Celsius) -> [Option<Weak>; 2] {
    let [own_min, own_max, max] =
        [own.hold_min, own.hold_max, Some(max)].map(|c| c.map(Celsius::c));
    let below = "lower hold_min below the upper end";
    [
        weak(
            is_higher,
            own_max,
            max,
            "upper end of the hold",
            Measure::Temperature,
            "lower hold_max",
        ),
        weak(
            is_higher,
            own_min,
            max,
            "lower end of the hold",
            Measure::Temperature,
            below,
        ),
    ]
}

fn faster(
    own: Option<KelvinsPerHour>,
    rate: KelvinsPerHour,
    quantity: &'static str,
    hint: &'static str,
) -> Option<Weak> {
    let [own, limit] = [own, Some(rate)].map(|rate| rate.map(KelvinsPerHour::k_h));
    weak(is_higher, own, limit, quantity, Measure::Rate, hint)
}

fn later(own: &OwnLimits, above: Celsius, quantity: &'static str) -> Option<Weak> {
    let [own, limit] = [own.rate_threshold, Some(above)].map(|c| c.map(Celsius::c));
    weak(
        is_higher,
        own,
        limit,
        quantity,
        Measure::Temperature,
        "lower rate_threshold",
    )
}

fn is_lower(own: f64, limit: f64) -> bool {
    own < limit
}

fn is_higher(own: f64, limit: f64) -> bool {
    own > limit
}

/// A formula's result and a hand-rounded number in a procedure differ by rounding: 5640/45 is written as 125 K/h.
const ROUNDING: f64 = 5e-3;

/// 1100 °F comes to the same number of °C by every way of converting it but for the last digits.
const LAST_DIGITS: f64 = 1e-6;

fn weak(
    is_weaker: fn(f64, f64) -> bool,
    own: Option<f64>,
    limit: Option<f64>,
    quantity: &'static str,
    measure: Measure,
    hint: &'static str,
) -> Option<Weak> {
    let (own, limit) = own.zip(limit)?;
    let rounding = match measure {
        Measure::Temperature => LAST_DIGITS,
        _ => ROUNDING * limit.abs(),
    };
    let beyond_rounding = (own - limit).abs() > rounding;
    (is_weaker(own, limit) && beyond_rounding).then_some(Weak {
        quantity,
        own,
        limit,
        measure,
        hint,
    })
}
