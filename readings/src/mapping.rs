//! What a person says of a logger's files; it can be kept and used again.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::of_file::{key_of_file, parted};

/// What a person says of a logger's files. All of it may be absent: then the file itself must say it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Mapping {
    /// Encoding of the text, by its label in the Encoding Standard, for example `windows-1252`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub encoding: Option<String>,
    /// The sheet of a workbook, by its name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// `comma`, `semicolon`, `tab`, `bar` or `spaces`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub delimiter: Option<String>,
    /// `point` or `comma`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub decimal: Option<String>,
    /// `day_first`, `month_first` or `year_first`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date_order: Option<String>,
    /// `1900` or `1904`: the day from which a spreadsheet counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date_base: Option<String>,
    /// The date of the first row, where the file gives none: `2026-03-28`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// The start, where the file counts from it and does not say when it was: `2026-03-28 21:15`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start: Option<String>,
    /// Unit of a time that is a plain number: `s`, `min`, `h`, `epoch_s` or `epoch_ms`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_unit: Option<String>,
    /// Name of the time zone, for example `Europe/Lisbon`, or an offset such as `+01:00`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_zone: Option<String>,
    /// What a clock that goes back means: `summer_time_ends` or `leave_out`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock_back: Option<String>,
    /// Which of two files holds where they contradict each other: `earlier`, `later` or `neither`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overlap: Option<String>,
    /// `C`, `F`, `K` or `mV`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// What whole numbers are multiplied with, for example `0.1`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<String>,
    /// Values of a status that mean a good reading, parted by commas, for example `0`; `blank` for an empty cell.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub good: Option<String>,
    /// Type of the thermocouples where voltages were logged: one of B, E, J, K, N, R, S, T.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thermocouple_type: Option<String>,
    /// Temperature of the cold junction in °C where voltages were logged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cold_junction: Option<String>,
    /// What a column is, by its name in the file: `temperature`, `set_point`, `power`, `output`, `zone_state`, `ambient`,
    /// `event`, `time`, `date` or `ignore`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub column: BTreeMap<String, String>,
    /// Seconds to be added to the clock of a file, by the file's name.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub clock: BTreeMap<String, String>,
    /// The name that a channel is to have, by its name in the file.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub name: BTreeMap<String, String>,
    /// What holds of one file alone, by the file's name and the key; it stands before what is said of every file.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub file: BTreeMap<String, BTreeMap<String, String>>,
}

/// A mapping that cannot be one.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MappingError {
    /// Not of the form `KEY=VALUE`.
    #[error("\"{found}\" is not of the form KEY=VALUE, for example unit=F")]
    NotAPair {
        /// What was given.
        found: String,
    },
    /// A key that does not exist.
    #[error("no key {key} in a mapping; there are {known}")]
    UnknownKey {
        /// The key.
        key: String,
        /// The keys that exist.
        known: String,
    },
    /// A value that the key does not take.
    #[error("{key} = \"{found}\" is not one of {allowed}")]
    BadValue {
        /// The key.
        key: String,
        /// What was given.
        found: String,
        /// What it takes.
        allowed: &'static str,
    },
    /// Not TOML.
    #[error("{problem}")]
    NotToml {
        /// What the parser says.
        problem: String,
    },
}

/// Keys with the words that they take; an empty list takes any text.
pub const KEYS: [(&str, &str); 17] = [
    ("encoding", ""),
    ("sheet", ""),
    ("delimiter", "comma, semicolon, tab, bar, spaces"),
    ("decimal", "point, comma"),
    ("date_order", "day_first, month_first, year_first"),
    ("date_base", "1900, 1904"),
    ("date", ""),
    ("start", ""),
    ("time_unit", "s, min, h, epoch_s, epoch_ms"),
    ("time_zone", ""),
    ("clock_back", "summer_time_ends, leave_out"),
    ("overlap", "earlier, later, neither"),
    ("unit", "C, F, K, mV"),
    ("scale", ""),
    ("good", ""),
    ("thermocouple_type", "B, E, J, K, N, R, S, T"),
    ("cold_junction", ""),
];

impl Mapping {
    /// Reads a mapping that was kept as TOML.
    ///
    /// # Errors
    /// [`MappingError`] for what is no TOML, an unknown key, or a word that a key does not take.
    pub fn from_toml(text: &str) -> Result<Mapping, MappingError> {
        let mapping: Mapping = toml::from_str(text).map_err(|error| MappingError::NotToml {
            problem: error.to_string(),
        })?;
        mapping.checked()
    }

    /// The mapping as TOML, to be kept.
    pub fn to_toml(&self) -> String {
        toml::to_string(self).unwrap_or_default()
    }

    /// Sets one key, given as `unit=F`, `column.CH 7=ambient`, `name.CH 1=TC1` or, of one file alone, `file.late.csv.unit=F`;
    /// an empty value takes the key away.
    ///
    /// # Errors
    /// [`MappingError`] for what is no pair, an unknown key, or a word that the key does not take.
    pub fn choose(&mut self, pair: &str) -> Result<(), MappingError> {
        let (key, value) = parted(pair).ok_or_else(|| MappingError::NotAPair {
            found: pair.to_string(),
        })?;
        let (key, value) = (key.trim(), value.trim().to_string());
        if let Some((file, key)) = key_of_file(key) {
            return self.choose_of_file(file, key, value);
        }
        let named = match key.split_once('.') {
            Some(("clock", file)) => Some((&mut self.clock, file)),
            Some(("column", column)) => Some((&mut self.column, column)),
            Some(("name", name)) => Some((&mut self.name, name)),
            _ => None,
        };
        match named {
            Some((of_names, name)) if value.is_empty() => drop(of_names.remove(name)),
            Some((of_names, name)) => drop(of_names.insert(name.to_string(), value)),
            None => *self.slot(key)? = Some(value).filter(|value| !value.is_empty()),
        }
        *self = self.clone().checked()?;
        Ok(())
    }

    pub(crate) fn slot(&mut self, key: &str) -> Result<&mut Option<String>, MappingError> {
        Ok(match key {
            "encoding" => &mut self.encoding,
            "sheet" => &mut self.sheet,
            "delimiter" => &mut self.delimiter,
            "decimal" => &mut self.decimal,
            "date_order" => &mut self.date_order,
            "date_base" => &mut self.date_base,
            "date" => &mut self.date,
            "start" => &mut self.start,
            "time_unit" => &mut self.time_unit,
            "time_zone" => &mut self.time_zone,
            "clock_back" => &mut self.clock_back,
            "overlap" => &mut self.overlap,
            "unit" => &mut self.unit,
            "scale" => &mut self.scale,
            "good" => &mut self.good,
            "thermocouple_type" => &mut self.thermocouple_type,
            "cold_junction" => &mut self.cold_junction,
            _ => {
                let known: Vec<&str> = KEYS.iter().map(|(key, _)| *key).collect();
                return Err(MappingError::UnknownKey {
                    key: key.to_string(),
                    known: format!(
                        "{}, column.NAME, name.NAME, clock.FILE, file.FILE.KEY",
                        known.join(", ")
                    ),
                });
            }
        })
    }

    pub(crate) fn checked(mut self) -> Result<Mapping, MappingError> {
        for (key, _) in KEYS {
            if let Some(found) = self.slot(key)?.clone() {
                fits(key, key, &found)?;
            }
        }
        self.check_files()?;
        let no_seconds = |word: &&String| word.parse::<i32>().is_err();
        if let Some(found) = self.clock.values().find(no_seconds) {
            return Err(MappingError::BadValue {
                key: "clock.FILE".into(),
                found: found.clone(),
                allowed: "the whole seconds to be added, for example +300 or -3600",
            });
        }
        let no_role = |word: &&String| !crate::role::Role::is_word(word);
        if let Some(found) = self.column.values().find(no_role) {
            return Err(MappingError::BadValue {
                key: "column.NAME".into(),
                found: found.clone(),
                allowed: "temperature, set_point, power, output, zone_state, ambient, event, time, date, elapsed, status, counter, \
                          ignore",
            });
        }
        Ok(self)
    }
}

/// Whether a key takes a value; `at` is the key as it was given, with its file.
pub(crate) fn fits(key: &str, at: &str, found: &str) -> Result<(), MappingError> {
    let words = KEYS.iter().find(|(known, _)| *known == key);
    let words = words.map_or("", |(_, words)| *words);
    let (fits, allowed) = match key {
        "encoding" => (
            encoding_rs::Encoding::for_label(found.as_bytes()).is_some(),
            "the labels of the Encoding Standard, for example utf-16le or windows-1252",
        ),
        "sheet" => (true, words),
        "good" => (
            !found.trim().is_empty(),
            "the values of a status, parted by commas, for example 0",
        ),
        "scale" | "cold_junction" => (
            found.parse::<f64>().is_ok_and(f64::is_finite),
            "the numbers",
        ),
        "date" => (
            found.parse::<jiff::civil::Date>().is_ok(),
            "the dates, written 2026-03-28",
        ),
        "start" => (
            found
                .replacen(' ', "T", 1)
                .parse::<jiff::civil::DateTime>()
                .is_ok(),
            "the times, written 2026-03-28 21:15",
        ),
        "time_zone" => (
            crate::moment::zone(found).is_some(),
            "the names of time zones, for example Europe/Lisbon, or offsets such as +01:00",
        ),
        _ => (words.split(", ").any(|word| word == found), words),
    };
    match fits {
        true => Ok(()),
        false => Err(MappingError::BadValue {
            key: at.to_owned(),
            found: found.to_owned(),
            allowed,
        }),
    }
}
