//! The parameter itself: P = T·(C + log10 t)/1000, T in K, t in h.

use quantity::{Celsius, Hours};
use serde::Serialize;

use super::value::TimeTemperatureValue;
use crate::fault::{RuleError, RuleFault};
use crate::requirement::{Clause, Remark};
use crate::row::Value;
use crate::shelf;
use crate::wording::exact;

/// A parameter with its stated constant. Hollomon and Jaffe (tempering) and Larson and Miller (creep) have one form.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Parameter {
    /// Which parameter.
    pub name: String,
    /// C, for time in hours.
    pub constant: f64,
    /// Where the constant comes from.
    pub clause: Clause,
}

/// Hollomon-Jaffe with the constant that is kept for steels.
///
/// # Errors
/// A data file cannot be read or lacks the row.
pub fn hollomon_jaffe() -> Result<Parameter, RuleError> {
    kept("Hollomon-Jaffe")
}

/// Larson-Miller with the constant that is kept for steels.
///
/// # Errors
/// A data file cannot be read or lacks the row.
pub fn larson_miller() -> Result<Parameter, RuleError> {
    kept("Larson-Miller")
}

fn kept(asked: &str) -> Result<Parameter, RuleError> {
    let rows = shelf::tables()?
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let mut found = rows.filter_map(|(table, row)| match &row.value {
        Value::TimeTemperature(TimeTemperatureValue::Constant { name, c }) if name == asked => {
            Some(Parameter {
                name: name.clone(),
                constant: *c,
                clause: row.clause_in(table, ""),
            })
        }
        _ => None,
    });
    found.next().ok_or_else(|| {
        RuleFault::Table {
            file: "time-temperature.toml".into(),
            problem: format!("no constant of {asked}"),
        }
        .into()
    })
}

impl Parameter {
    /// The same form with another constant, which the user states.
    ///
    /// # Errors
    /// [`RuleFault::BadMeasure`] if the constant is not a positive number.
    pub fn with_constant(&self, constant: f64) -> Result<Parameter, RuleError> {
        if !(constant.is_finite() && constant > 0.0) {
            return Err(bad(
                "constant of the parameter",
                constant,
                "log10 h",
                "it must be more than zero",
            ));
        }
        let mut own = self.clone();
        own.constant = constant;
        own.clause.status = quantity::Status::UserGiven;
        Ok(own)
    }

    /// The constant where time is counted in seconds.
    pub fn constant_for_seconds(&self) -> f64 {
        self.constant - Hours::from_h(1.0).s().log10()
    }

    /// P in thousands after a time at a temperature; none for no time at all.
    pub fn at(&self, temperature: Celsius, time: Hours) -> Option<f64> {
        (time.h() > 0.0)
            .then(|| temperature.absolute_k() * (self.constant + time.h().log10()) / 1000.0)
    }

    /// The time at another temperature that gives the same P.
    pub fn equivalent(&self, temperature: Celsius, time: Hours, at: Celsius) -> Hours {
        if time.h() <= 0.0 {
            return Hours::from_h(0.0);
        }
        let ratio = temperature.absolute_k() / at.absolute_k();
        Hours::from_h(10f64.powf(ratio * (self.constant + time.h().log10()) - self.constant))
    }

    /// The time at a temperature that gives a P in thousands.
    pub fn time_to(&self, thousands: f64, at: Celsius) -> Hours {
        Hours::from_h(10f64.powf(1000.0 * thousands / at.absolute_k() - self.constant))
    }
}

/// A warning where a P in thousands lies outside what treatments of steel give: then a unit or the constant is wrong.
///
/// # Errors
/// A data file cannot be read.
pub fn doubt(thousands: f64) -> Result<Option<Remark>, RuleError> {
    let rows = shelf::tables()?
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let mut ranges = rows.filter_map(|(table, row)| match &row.value {
        Value::TimeTemperature(TimeTemperatureValue::Realistic { from, to }) => {
            Some((*from, *to, row.clause_in(table, "")))
        }
        _ => None,
    });
    let outside = ranges.find(|(from, to, _)| !(*from..=*to).contains(&thousands));
    Ok(outside.map(|(from, to, clause)| Remark {
        text: format!(
            "warning: a parameter of {} lies outside {} to {}, which treatments of steel give; check temperature, unit of time and constant",
            exact(thousands),
            exact(from),
            exact(to)
        ),
        clause: Some(clause),
    }))
}

pub(crate) fn bad(what: &str, value: f64, unit: &'static str, must: &str) -> RuleError {
    RuleFault::BadMeasure {
        what: what.into(),
        value,
        unit,
        must: must.into(),
    }
    .into()
}
