//! The US customary column of a row. A document that prints two columns prints two rounded numbers, and neither is the
//! other converted: the weld is held to the column of its own units.
//!
//! In a data file the second column is written as it is printed, with keys that name its units; it is kept in the
//! metric units of the program, so that 1100 °F is exactly that and never 595 °C converted.

use quantity::{Celsius, Kelvins, KelvinsPerHour, Millimeters, Status, Units};
use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer, Serialize};

use crate::row::{Row, Value};
use crate::when::When;

/// The second column of a row, as a document in two systems of units prints it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UsColumn {
    /// Unit of the value.
    pub unit: String,
    /// How far this column can be trusted, whatever the other one's status is.
    pub status: Status,
    /// The editions in which a verified value was read.
    #[serde(default)]
    pub verified_in: Vec<String>,
    /// The ends of the row's range; every end that the row has stands here too.
    #[serde(default, deserialize_with = "printed")]
    pub when: When,
    /// The value; none where it has no measure and both columns say the same.
    #[serde(default, deserialize_with = "printed_value")]
    pub value: Option<Value>,
    /// What a reader should know besides, where the row's own note does not say it in these units.
    pub note: Option<String>,
}

/// Which number of a document a row gives.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Column {
    /// As it is printed in the units of the job.
    #[default]
    Printed,
    /// Printed in metric units only, or read in them only: a reader in US units sees it converted.
    Converted,
}

/// How a printed number becomes a metric one.
#[derive(Clone, Copy)]
enum Printed {
    Temperature,
    Difference,
    Rate,
    RateTimesInches,
    Inches,
    Feet,
    Ksi,
}

/// Megapascals in a ksi (1000 lbf/in²).
pub(crate) const MPA_PER_KSI: f64 = 6.894_757;

/// A key of the US column, and the key of the same number in metric units.
const KEYS: [(&str, &str, Printed); 36] = [
    ("min_f", "min", Printed::Temperature),
    ("max_f", "max", Printed::Temperature),
    ("above_f", "above_c", Printed::Temperature),
    ("from_f", "from_c", Printed::Temperature),
    ("to_f", "to_c", Printed::Temperature),
    ("preheat_f", "preheat_c", Printed::Temperature),
    ("at_least_f", "at_least_c", Printed::Temperature),
    ("below_f", "below_c", Printed::Temperature),
    ("lower_critical_f", "lower_critical", Printed::Temperature),
    ("decrease_f", "decrease", Printed::Difference),
    ("spread_f", "spread", Printed::Difference),
    ("hold_spread_f", "hold_spread", Printed::Difference),
    (
        "below_lower_critical_f",
        "below_lower_critical",
        Printed::Difference,
    ),
    ("below_tempering_f", "below_tempering", Printed::Difference),
    ("narrowest_range_f", "narrowest_range", Printed::Difference),
    ("cap_f_h", "cap", Printed::Rate),
    ("floor_f_h", "floor", Printed::Rate),
    ("factor_f_h_in", "factor", Printed::RateTimesInches),
    ("each_in", "each_mm", Printed::Inches),
    ("beyond_in", "beyond_mm", Printed::Inches),
    ("over_in", "over_mm", Printed::Inches),
    ("from_in", "from_mm", Printed::Inches),
    ("to_in", "to_mm", Printed::Inches),
    ("below_in", "below_mm", Printed::Inches),
    ("diameter_over_in", "diameter_over_mm", Printed::Inches),
    ("diameter_to_in", "diameter_to_mm", Printed::Inches),
    ("bore_to_in", "bore_to_mm", Printed::Inches),
    ("throat_to_in", "throat_to_mm", Printed::Inches),
    ("throat_at_most_in", "throat_at_most_mm", Printed::Inches),
    ("if_wall_over_in", "if_wall_over_mm", Printed::Inches),
    ("add_in", "add_mm", Printed::Inches),
    (
        "thickness_at_most_in",
        "thickness_at_most_mm",
        Printed::Inches,
    ),
    (
        "thickness_at_least_in",
        "thickness_at_least_mm",
        Printed::Inches,
    ),
    ("within_ft", "within_mm", Printed::Feet),
    ("tensile_over_ksi", "tensile_over_mpa", Printed::Ksi),
    ("tensile_to_ksi", "tensile_to_mpa", Printed::Ksi),
];

impl Printed {
    fn metric(self, number: f64) -> f64 {
        match self {
            Printed::Temperature => Celsius::from_f(number).c(),
            Printed::Difference => Kelvins::from_f_difference(number).k(),
            Printed::Rate => KelvinsPerHour::from_f_h(number).k_h(),
            Printed::RateTimesInches => {
                Millimeters::from_in(KelvinsPerHour::from_f_h(number).k_h()).mm()
            }
            Printed::Inches => Millimeters::from_in(number).mm(),
            Printed::Feet => Millimeters::from_in(12.0 * number).mm(),
            Printed::Ksi => MPA_PER_KSI * number,
        }
    }

    fn printed(self, metric: f64) -> f64 {
        let number = match self {
            Printed::Temperature => Celsius::from_c(metric).f(),
            Printed::Difference => Kelvins::from_k(metric).f_difference(),
            Printed::Rate => KelvinsPerHour::from_k_h(metric).f_h(),
            Printed::RateTimesInches => {
                KelvinsPerHour::from_k_h(Millimeters::from_mm(metric).inches()).f_h()
            }
            Printed::Inches => Millimeters::from_mm(metric).inches(),
            Printed::Feet => Millimeters::from_mm(metric).inches() / 12.0,
            Printed::Ksi => metric / MPA_PER_KSI,
        };
        // No document prints more than six decimals; what lies behind is of the conversion.
        (number * 1e6).round() / 1e6
    }
}

/// Reads what is written with the keys of the US column.
fn printed<'de, D: Deserializer<'de>, T: DeserializeOwned>(from: D) -> Result<T, D::Error> {
    let written = toml::Value::deserialize(from)?;
    let metric = in_metric(written).map_err(D::Error::custom)?;
    metric.try_into().map_err(D::Error::custom)
}

fn printed_value<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Value>, D::Error> {
    printed(from).map(Some)
}

/// A value as it is written in the US column, in the metric keys and numbers.
///
/// # Errors
/// A metric key, of which the reader could not tell the unit.
fn in_metric(written: toml::Value) -> Result<toml::Value, String> {
    match written {
        toml::Value::Table(entries) => {
            let entries = entries.into_iter().map(|(key, value)| {
                if let Some((printed, ..)) = KEYS.iter().find(|(_, metric, _)| *metric == key) {
                    // Some keys lead to a table in one value and to a number in another.
                    if number(&value).is_some() {
                        return Err(format!("{key} in the US column, which writes {printed}"));
                    }
                }
                let known = KEYS.iter().find(|(printed, ..)| *printed == key);
                match (known, number(&value)) {
                    (Some((_, metric, how)), Some(number)) => {
                        Ok(((*metric).to_owned(), toml::Value::Float(how.metric(number))))
                    }
                    _ => Ok((key, in_metric(value)?)),
                }
            });
            entries.collect::<Result<_, _>>().map(toml::Value::Table)
        }
        toml::Value::Array(items) => {
            let items = items.into_iter().map(in_metric);
            items.collect::<Result<_, _>>().map(toml::Value::Array)
        }
        other => Ok(other),
    }
}

/// A value as the US column writes it.
pub(crate) fn in_print(metric: toml::Value) -> toml::Value {
    match metric {
        toml::Value::Table(entries) => {
            let entries = entries.into_iter().map(|(key, value)| {
                let known = KEYS.iter().find(|(_, metric, _)| *metric == key);
                match (known, number(&value)) {
                    (Some((printed, _, how)), Some(number)) => (
                        (*printed).to_owned(),
                        toml::Value::Float(how.printed(number)),
                    ),
                    _ => (key, in_print(value)),
                }
            });
            toml::Value::Table(entries.collect())
        }
        toml::Value::Array(items) => toml::Value::Array(items.into_iter().map(in_print).collect()),
        other => other,
    }
}

fn has_measure(metric: &toml::Value) -> bool {
    match metric {
        toml::Value::Table(entries) => entries.iter().any(|(key, value)| {
            let known = KEYS.iter().find(|(_, metric, _)| metric == key);
            match (known, number(value)) {
                // No length is none in any unit: the field is not used.
                (Some((_, _, how)), Some(number)) => how.metric(0.0) != 0.0 || number != 0.0,
                _ => has_measure(value),
            }
        }),
        toml::Value::Array(items) => items.iter().any(has_measure),
        _ => false,
    }
}

fn number(value: &toml::Value) -> Option<f64> {
    match value {
        toml::Value::Integer(whole) => Some(*whole as f64),
        toml::Value::Float(number) => Some(*number),
        _ => None,
    }
}

impl Value {
    /// A value that is written in the units of the US column, for example `{ hold_range = { min_f = 1100 } }`.
    ///
    /// # Errors
    /// In words: a key of the metric column, or what is no value at all.
    pub fn from_us(written: toml::Value) -> Result<Value, String> {
        let metric = in_metric(written)?;
        metric.try_into().map_err(|problem| problem.to_string())
    }

    /// Whether it is a limit of the kind that a document prints in two units; methods and words are not.
    pub fn is_printed_limit(&self) -> bool {
        match self {
            Value::Preheat(value) => value.is_printed_limit(),
            Value::BakeOut(_)
            | Value::TimeTemperature(_)
            | Value::Exposure(_)
            | Value::Composition { .. }
            | Value::Thermocouples(_)
            | Value::LowerCriticalFormula(_)
            | Value::UpperCriticalFormula(_)
            | Value::Question(_)
            | Value::Advice(_)
            | Value::Always(_)
            | Value::Override(_) => false,
            _ => true,
        }
    }

    /// Whether it has a number that would be another one in the other units.
    pub fn is_measured(&self) -> bool {
        toml::Value::try_from(self).is_ok_and(|value| has_measure(&value))
    }

    /// The unit of the value in the US column.
    pub fn us_unit(&self) -> &'static str {
        match self.unit() {
            "°C" => "°F",
            "K/h" => "°F/h",
            "K" => "°F",
            "K within mm" => "°F within ft",
            "K, min" => "°F, min",
            "mm" => "in",
            other => other,
        }
    }
}

impl Row {
    /// The row as a job in these units reads it: its US column where it has one, else what is printed in metric units,
    /// marked as converted.
    pub(crate) fn in_units(&self, units: Units) -> Row {
        let mut row = self.clone();
        if units == Units::Si {
            return row;
        }
        match row.us.take() {
            Some(us) => {
                row.when = row.when.with_ends_of(&us.when);
                row.value = us.value.unwrap_or(row.value);
                row.status = us.status;
                row.verified_in = us.verified_in;
                row.note = us.note.or(row.note);
            }
            None if self.differs_by_units() => row.column = Column::Converted,
            None => {}
        }
        row
    }

    /// Whether a second column would print other numbers: in the value or in the ends of its range.
    pub fn differs_by_units(&self) -> bool {
        self.value.is_printed_limit() && (self.value.is_measured() || self.when.is_measured())
    }
}
