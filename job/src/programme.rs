//! From the limits to what the controller is asked to do.

use cycle::setup::Programme;
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour};
use rules::requirement::{Limit, LimitKind, Requirement};

use crate::file::CHOICES;
use crate::model::{Job, Taken};

/// The range that all levels together leave for the hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldRange {
    /// The highest of the lower ends.
    pub low: Celsius,
    /// The lowest of the upper ends.
    pub high: Celsius,
}

/// A rate limit that binds.
#[derive(Clone, Copy, Debug)]
struct Rate {
    above: Celsius,
    rate: KelvinsPerHour,
}

/// The range that all levels together leave; where no limit says an end, one is taken (`data/taken.toml`).
pub fn hold_range(requirement: &Requirement) -> HoldRange {
    let of = |pick: fn(&LimitKind) -> Option<Celsius>| {
        requirement.limits.iter().filter_map(move |l| pick(&l.kind))
    };
    let lows = of(|kind| match kind {
        LimitKind::HoldMin(min) => Some(*min),
        _ => None,
    });
    let highs = of(|kind| match kind {
        LimitKind::HoldMax(max) => Some(*max),
        _ => None,
    });
    let width = Kelvins::from_k(CHOICES.hold_range_k.value);
    let (low, high) = match (lows.reduce(Celsius::max), highs.reduce(Celsius::min)) {
        (Some(low), Some(high)) => (low, high),
        (Some(low), None) => (low, low + width),
        (None, Some(high)) => (high - width, high),
        (None, None) => (Celsius::from_c(0.0), Celsius::from_c(0.0) + width),
    };
    HoldRange { low, high }
}

/// The set point: as asked for, else the middle of the range.
pub fn set_point(job: &Job, range: &HoldRange) -> Celsius {
    job.cycle
        .set_point
        .unwrap_or_else(|| range.low + Kelvins::from_k(0.5 * (range.high - range.low).k()))
}

/// What the controller is asked to do, and what had to be taken for it.
pub fn programme(job: &Job, requirement: &Requirement) -> (Programme, Vec<Taken>) {
    let mut taken = Vec::new();
    let range = hold_range(requirement);
    let fallback = KelvinsPerHour::from_k_h(CHOICES.heating_rate_k_h.value);
    let heating = binding_rate(requirement, |kind| match kind {
        LimitKind::HeatingRate { above, rate } => Some(Rate {
            above: *above,
            rate: *rate,
        }),
        _ => None,
    });
    let cooling = binding_rate(requirement, |kind| match kind {
        LimitKind::CoolingRate { above, rate } => Some(Rate {
            above: *above,
            rate: *rate,
        }),
        _ => None,
    });
    let mut note = |key: &str, value: String| {
        taken.push(Taken {
            key: key.into(),
            value,
        })
    };
    let heating_rate = job
        .cycle
        .heating_rate
        .or(heating.map(|h| h.rate))
        .unwrap_or_else(|| {
            note(
                "cycle.heating_rate",
                format!("{} K/h, no limit says one", fallback.k_h()),
            );
            fallback
        });
    let cooling_rate = job
        .cycle
        .cooling_rate
        .or(cooling.map(|c| c.rate))
        .unwrap_or_else(|| {
            note(
                "cycle.cooling_rate",
                format!("{} K/h, no limit says one", fallback.k_h()),
            );
            fallback
        });
    let hold_time = job
        .cycle
        .hold_time
        .or_else(|| hold_time(requirement))
        .unwrap_or_else(|| {
            note(
                "cycle.hold_time",
                format!("{} h, no limit says one", CHOICES.hold_time_h.value),
            );
            Hours::from_h(CHOICES.hold_time_h.value)
        });
    let free_heating_rate = job.cycle.free_heating_rate.unwrap_or_else(|| {
        note(
            "cycle.free_heating_rate",
            format!("{:.0} K/h, as above the threshold", heating_rate.k_h()),
        );
        heating_rate
    });
    let down_to = job
        .cycle
        .controlled_down_to
        .or(cooling.map(|c| c.above))
        .unwrap_or_else(|| {
            let end = Celsius::from_c(CHOICES.controlled_down_to_c.value)
                .min(range.low - Kelvins::from_k(50.0));
            note(
                "cycle.controlled_down_to",
                format!("{:.0} °C, no limit names a threshold", end.c()),
            );
            end
        });
    let start = job.cycle.start.unwrap_or(job.surroundings.ambient);
    let programme = Programme {
        start,
        threshold: heating.map_or(start, |h| h.above),
        free_heating_rate,
        heating_rate,
        set_point: set_point(job, &range),
        hold_range: [range.low, range.high],
        hold_time,
        cooling_rate,
        controlled_down_to: down_to,
    };
    (programme, taken)
}

/// The slowest rate, above the lowest threshold that any limit names.
fn binding_rate(requirement: &Requirement, pick: fn(&LimitKind) -> Option<Rate>) -> Option<Rate> {
    requirement
        .limits
        .iter()
        .filter_map(|l: &Limit| pick(&l.kind))
        .reduce(|a, b| Rate {
            above: a.above.min(b.above),
            rate: KelvinsPerHour::from_k_h(a.rate.k_h().min(b.rate.k_h())),
        })
}

/// The longest hold that any limit asks for.
fn hold_time(requirement: &Requirement) -> Option<Hours> {
    let times = requirement.limits.iter().filter_map(|l| match l.kind {
        LimitKind::HoldTime(time) => Some(time.h()),
        _ => None,
    });
    times.reduce(f64::max).map(Hours::from_h)
}
