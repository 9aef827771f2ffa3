//! What a row on time and temperature says.

use serde::{Deserialize, Serialize};

use crate::wording::{exact, short};

/// What a row on time and temperature says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TimeTemperatureValue {
    /// The constant C of T·(C + log10 t), time in hours.
    Constant {
        /// Which parameter.
        name: String,
        /// C.
        c: f64,
    },
    /// Range in thousands in which a parameter of a treatment of steel lies.
    Realistic {
        /// Lower end.
        from: f64,
        /// Upper end.
        to: f64,
    },
    /// Highest parameter in thousands that needs no proof of the properties.
    Critical(f64),
    /// Share of the total time at temperature that the test coupon must have seen.
    CouponShare(f64),
}

impl TimeTemperatureValue {
    /// What the value is, as a reader knows it.
    pub fn name(&self) -> &'static str {
        match self {
            TimeTemperatureValue::Constant { .. } => "constant",
            TimeTemperatureValue::Realistic { .. } => "realistic parameter",
            TimeTemperatureValue::Critical(_) => "highest parameter",
            TimeTemperatureValue::CouponShare(_) => "share of the test coupon",
        }
    }

    /// The unit in which it is written.
    pub fn unit(&self) -> &'static str {
        match self {
            TimeTemperatureValue::Constant { .. } => "log10 h",
            TimeTemperatureValue::Realistic { .. } | TimeTemperatureValue::Critical(_) => "10³ K",
            TimeTemperatureValue::CouponShare(_) => "of 1",
        }
    }

    /// The value in words.
    pub fn words(&self) -> String {
        match self {
            TimeTemperatureValue::Constant { name, c } => format!("{name}: C = {}", short(*c)),
            TimeTemperatureValue::Realistic { from, to } => {
                format!("{} to {}", short(*from), short(*to))
            }
            TimeTemperatureValue::Critical(most) => format!("at most {}", exact(*most)),
            TimeTemperatureValue::CouponShare(share) => {
                format!(
                    "at least {} % of the total time at temperature",
                    short(100.0 * share)
                )
            }
        }
    }

    /// What it answers: no two rows of one table that hold together may answer the same.
    pub fn question(&self) -> String {
        match self {
            TimeTemperatureValue::Constant { name, .. } => name.clone(),
            other => other.name().into(),
        }
    }
}
