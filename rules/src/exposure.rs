//! Reference levels of magnetic fields for persons, by body and frequency.

use quantity::Status;
use serde::{Deserialize, Serialize};

use crate::fault::RuleError;
use crate::requirement::Clause;
use crate::row::Value;
use crate::shelf;

/// A level within a range of frequency: constant, or falling with the frequency.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExposureLevel {
    /// For whom.
    pub who: Persons,
    /// For which part of the body.
    pub part: BodyPart,
    /// From this frequency on, in Hz.
    pub from_hz: f64,
    /// Below this frequency, in Hz.
    pub below_hz: f64,
    /// Magnetic flux density in µT (rms).
    pub microtesla: Option<f64>,
    /// Instead: this divided by the frequency in Hz gives µT (rms).
    pub microtesla_hz: Option<f64>,
}

/// For whom a level holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Persons {
    /// Trained persons at work.
    Workers,
    /// Everybody.
    Public,
}

/// For which part of the body a level holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodyPart {
    /// Head and trunk, or the whole body.
    Whole,
    /// Arms and legs.
    Limbs,
}

impl ExposureLevel {
    /// The level in µT (rms) at a frequency; none outside its range.
    pub fn at(&self, frequency_hz: f64) -> Option<f64> {
        let inside = (self.from_hz..self.below_hz).contains(&frequency_hz);
        let falling = self.microtesla_hz.map(|product| product / frequency_hz);
        inside.then_some(self.microtesla.or(falling)?)
    }

    /// The level in words.
    pub fn words(&self) -> String {
        let who = match self.who {
            Persons::Workers => "workers",
            Persons::Public => "the public",
        };
        let part = match self.part {
            BodyPart::Whole => "",
            BodyPart::Limbs => ", limbs",
        };
        let level = match (self.microtesla, self.microtesla_hz) {
            (Some(level), _) => format!("{level} µT"),
            (None, Some(product)) => format!("{product}/f µT, f in Hz,"),
            (None, None) => "nothing".into(),
        };
        format!(
            "{who}{part}: {level} from {} to {} Hz",
            self.from_hz, self.below_hz
        )
    }
}

/// A level that holds at a frequency.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReferenceLevel {
    /// For whom.
    pub who: Persons,
    /// For which part of the body.
    pub part: BodyPart,
    /// Magnetic flux density in µT (rms).
    pub microtesla: f64,
    /// Where it stands.
    pub clause: Clause,
}

/// Every level that is kept for a frequency in Hz, the lowest first.
///
/// # Errors
/// A data file cannot be read.
pub fn reference_levels(frequency_hz: f64) -> Result<Vec<ReferenceLevel>, RuleError> {
    let rows = shelf::tables()?
        .iter()
        .flat_map(|table| table.rows.iter().map(move |row| (table, row)));
    let mut levels: Vec<ReferenceLevel> = rows
        .filter(|(_, row)| row.status != Status::Unsure)
        .filter_map(|(table, row)| match &row.value {
            Value::Exposure(level) => Some(ReferenceLevel {
                who: level.who,
                part: level.part,
                microtesla: level.at(frequency_hz)?,
                clause: row.clause_in(table, ""),
            }),
            _ => None,
        })
        .collect();
    levels.sort_by(|a, b| a.microtesla.total_cmp(&b.microtesla));
    Ok(levels)
}
