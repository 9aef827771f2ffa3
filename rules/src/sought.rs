//! What a requirement is made of, and how each part is taken from a row.

use crate::row::Value;
use crate::wording::Measure;

/// Which of several values is the stricter one.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Stricter {
    Higher,
    Lower,
}

impl Stricter {
    pub(crate) fn is(self, a: f64, than: f64) -> bool {
        match self {
            Stricter::Higher => a > than,
            Stricter::Lower => a < than,
        }
    }
}

/// What is looked for: its name, what it measures, which value is the stricter, and how to take it from a row at a thickness.
#[derive(Clone, Copy)]
pub(crate) struct Sought {
    pub name: &'static str,
    pub measure: Measure,
    pub stricter: Stricter,
    pub value: fn(&Value, f64) -> Option<f64>,
}

pub(crate) const HOLD_MIN: Sought = Sought {
    name: "lowest temperature",
    measure: Measure::Temperature,
    stricter: Stricter::Higher,
    value: |value, _| match value {
        Value::HoldRange { min, .. } => *min,
        _ => None,
    },
};

pub(crate) const HOLD_MAX: Sought = Sought {
    name: "highest temperature",
    measure: Measure::Temperature,
    stricter: Stricter::Lower,
    value: |value, _| match value {
        Value::HoldRange { max, .. } => *max,
        _ => None,
    },
};

pub(crate) const HOLD_TIME: Sought = Sought {
    name: "hold time",
    measure: Measure::Minutes,
    stricter: Stricter::Higher,
    value: |value, thickness_mm| match value {
        Value::HoldTime(hold) => Some(hold.minutes_at(thickness_mm)),
        _ => None,
    },
};

pub(crate) const HEATING_RATE: Sought = Sought {
    name: "heating rate",
    measure: Measure::Rate,
    stricter: Stricter::Lower,
    value: |value, thickness_mm| match value {
        Value::HeatingRate(rate) => Some(rate.k_h_at(thickness_mm)),
        _ => None,
    },
};

pub(crate) const COOLING_RATE: Sought = Sought {
    name: "cooling rate",
    measure: Measure::Rate,
    stricter: Stricter::Lower,
    value: |value, thickness_mm| match value {
        Value::CoolingRate(rate) => Some(rate.k_h_at(thickness_mm)),
        _ => None,
    },
};

pub(crate) const HOLD_SPREAD: Sought = Sought {
    name: "spread during the hold",
    measure: Measure::Difference,
    stricter: Stricter::Lower,
    value: |value, _| match value {
        Value::HoldSpread(spread) => Some(*spread),
        _ => None,
    },
};

pub(crate) const HEATING_SPREAD: Sought = Sought {
    name: "spread while heating",
    measure: Measure::Difference,
    stricter: Stricter::Lower,
    value: |value, _| match value {
        Value::HeatingSpread { spread, .. } => Some(*spread),
        _ => None,
    },
};
