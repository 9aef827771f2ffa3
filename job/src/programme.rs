//! From the limits to what the controller is asked to do.

use cycle::setup::Programme;
use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Units};
use rules::requirement::{Limit, LimitKind, Requirement};
use rules::weld::Purpose;

use crate::file::{CHOICES, Choice};
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

/// The set point: as asked for; else the middle of the range, or for a preheat a little above what is asked at least.
pub fn set_point(job: &Job, range: &HoldRange) -> Celsius {
    let middle = range.low + Kelvins::from_k(0.5 * (range.high - range.low).k());
    let preheat =
        range.low.max(job.surroundings.ambient) + Kelvins::from_k(CHOICES.preheat_margin_k.value);
    job.cycle.set_point.unwrap_or(match job.weld.purpose {
        Purpose::Preheat => preheat.min(range.high),
        Purpose::StressRelief | Purpose::HydrogenBakeOut => middle,
    })
}

/// What the controller is asked to do, and what had to be taken for it.
pub fn programme(job: &Job, requirement: &Requirement) -> (Programme, Vec<Taken>) {
    let mut silent = Silent {
        list: Vec::new(),
        units: job.units,
    };
    let range = hold_range(requirement);
    silent.note_range(requirement);
    let wish = &job.cycle;
    let heating = binding_rate(requirement, heating_of);
    let cooling = binding_rate(requirement, cooling_of);
    let given = |wish: Option<KelvinsPerHour>, limit: Option<Rate>| {
        wish.or(limit.map(|l| l.rate)).map(|r| r.k_h())
    };
    let usual = &CHOICES.heating_rate_k_h;
    let heating_k_h = silent.or(
        "cycle.heating_rate",
        given(wish.heating_rate, heating),
        usual,
    );
    let cooling_k_h = silent.or(
        "cycle.cooling_rate",
        given(wish.cooling_rate, cooling),
        usual,
    );
    let asked_hold = wish
        .hold_time
        .or_else(|| hold_time(requirement))
        .map(Hours::h);
    let hold_h = silent.or("cycle.hold_time", asked_hold, &CHOICES.hold_time_h);
    let asked_end = wish
        .controlled_down_to
        .or(cooling.map(|c| c.above))
        .map(Celsius::c);
    let end_c = silent.or(
        "cycle.controlled_down_to",
        asked_end,
        &CHOICES.controlled_down_to_c,
    );
    let start = wish.start.unwrap_or(job.surroundings.ambient);
    let set_point = set_point(job, &range);
    if wish.set_point.is_none() && job.weld.purpose == Purpose::Preheat {
        silent.note("cycle.set_point", CHOICES.preheat_margin_k.words(job.units));
    }
    let programme = Programme {
        start,
        threshold: heating.map_or(start, |h| h.above),
        free_heating_rate: wish
            .free_heating_rate
            .unwrap_or_else(|| silent.as_above(heating_k_h)),
        heating_rate: KelvinsPerHour::from_k_h(heating_k_h),
        set_point,
        hold_range: [range.low, range.high],
        hold_time: Hours::from_h(hold_h),
        cooling_rate: KelvinsPerHour::from_k_h(cooling_k_h),
        controlled_down_to: cooled_to(end_c, start, &range, set_point),
    };
    (programme, silent.list)
}

/// A hold nearer to the start than this has no cooling of its own to control, in K.
const NEAR_START_K: f64 = 40.0;

/// Where the usual end of controlled cooling does not lie between start and hold, it ends when the metal has come this
/// part of the way up from the start: still warmer than the air by enough to see it fall.
const END_PART: f64 = 0.75;

/// Controlled cooling ends between start and hold.
fn cooled_to(end_c: f64, start: Celsius, range: &HoldRange, set_point: Celsius) -> Celsius {
    let low_c = if (range.low - start).k() > NEAR_START_K {
        range.low.c()
    } else {
        set_point.c()
    };
    let between = start.c() < end_c && end_c < low_c;
    Celsius::from_c(if between {
        end_c
    } else {
        start.c() + END_PART * (low_c - start.c())
    })
}

/// What was taken where no limit says.
struct Silent {
    list: Vec<Taken>,
    units: Units,
}

impl Silent {
    fn note(&mut self, key: &str, value: String) {
        self.list.push(Taken {
            key: key.to_owned(),
            value,
        });
    }

    fn or(&mut self, key: &str, asked: Option<f64>, choice: &Choice) -> f64 {
        asked.unwrap_or_else(|| {
            self.note(key, choice.words(self.units));
            choice.value
        })
    }

    fn as_above(&mut self, heating_k_h: f64) -> KelvinsPerHour {
        let (rate, unit) = self.units.of(heating_k_h, "K/h");
        self.note(
            "cycle.free_heating_rate",
            format!("{rate:.0} {unit}, as above the threshold"),
        );
        KelvinsPerHour::from_k_h(heating_k_h)
    }

    fn note_range(&mut self, requirement: &Requirement) {
        let has =
            |wanted: fn(&LimitKind) -> bool| requirement.limits.iter().any(|l| wanted(&l.kind));
        if !has(|k| matches!(k, LimitKind::HoldMin(_)))
            || !has(|k| matches!(k, LimitKind::HoldMax(_)))
        {
            self.note("hold range", CHOICES.hold_range_k.words(self.units));
        }
    }
}

fn heating_of(kind: &LimitKind) -> Option<Rate> {
    match *kind {
        LimitKind::HeatingRate { above, rate } => Some(Rate { above, rate }),
        _ => None,
    }
}

fn cooling_of(kind: &LimitKind) -> Option<Rate> {
    match *kind {
        LimitKind::CoolingRate { above, rate } => Some(Rate { above, rate }),
        _ => None,
    }
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
