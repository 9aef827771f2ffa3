//! Reading a quantity under its key.

use quantity::Units;

use crate::toml_reader::{Table, Value};

use super::dimension::{Dimension, NotRead, OfBare, Unit};
use super::places::Silent;
use super::shape::{Kind, key_at};

/// A key as it may be spelled: bare with a text, or with the unit at its end and a number.
#[derive(Debug)]
pub(crate) struct Spelling {
    /// The bare key first, then one with each unit that may stand in a key, in the order of the dimension.
    pub keys: &'static [&'static str],
    pub dimension: &'static Dimension,
}

macro_rules! spellings {
    ($name:ident, $dimension:ident, $($suffix:literal),+) => {
        /// The ways in which the key may be spelled.
        macro_rules! $name {
            ($key:literal) => {
                $crate::file::measure::Spelling {
                    keys: &[$key, $(concat!($key, $suffix)),+],
                    dimension: &$crate::file::dimension::$dimension,
                }
            };
        }
        pub(crate) use $name;
    };
}

spellings!(length, LENGTH, "_mm", "_m", "_in");
spellings!(temperature, TEMPERATURE, "_c", "_f");
spellings!(difference, DIFFERENCE, "_k", "_f");
spellings!(rate, RATE, "_k_h", "_f_h");
spellings!(time, TIME, "_h", "_min", "_s");
spellings!(power, POWER, "_kw", "_w");
spellings!(current, CURRENT, "_a");
spellings!(voltage, VOLTAGE, "_v");
spellings!(frequency, FREQUENCY, "_hz", "_khz");
spellings!(speed, SPEED, "_m_s", "_km_h", "_mph");
spellings!(stress, STRESS, "_mpa", "_ksi");
spellings!(heat_input, HEAT_INPUT, "_kj_mm", "_kj_in");
spellings!(hydrogen, HYDROGEN, "_ml_100g");

/// A quantity in its base unit, with where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Read<'a> {
    pub value: f64,
    pub at: Value<'a>,
    /// As which it is written.
    unit: &'static Unit,
}

impl Spelling {
    /// The quantity, which may be left out.
    pub fn get<'a>(&self, table: &Table<'a>) -> Option<Read<'a>> {
        let (key, value) = table.one_of(self.keys, false)?;
        self.read(key, value)
    }

    /// The quantity, which must be there.
    pub fn need<'a>(&self, table: &Table<'a>) -> Option<Read<'a>> {
        if !self.is_in(table) {
            let bare = self.keys[0];
            let place = match table.place() {
                "" => bare.to_owned(),
                outer => format!("{outer}.{bare}"),
            };
            let example = self.example(&place, table.units());
            table.note_missing(bare, &format!("{example:?}"), None);
            return None;
        }
        self.get(table)
    }

    /// The quantity within a range, or a default that is noted in `words`; all in the base unit.
    pub fn or(
        &self,
        table: &Table<'_>,
        silent: &Silent,
        (default, words): (f64, String),
        (least, most): (f64, f64),
    ) -> Option<f64> {
        if !self.is_in(table) {
            silent.take(table, self.keys[0], words);
            return Some(default);
        }
        Some(self.get(table)?.within(least, most)?.value)
    }

    /// A text that may stand at a place, in the units of who reads it.
    fn example(&self, place: &str, units: Units) -> &'static str {
        match key_at(place).filter(|key| matches!(key.kind, Kind::Measure(_))) {
            Some(key) => key.example(units),
            None => self.dimension.example(units),
        }
    }

    /// Whether the key is there in any spelling.
    pub fn is_in(&self, table: &Table<'_>) -> bool {
        self.keys.iter().any(|key| table.get(key).is_some())
    }

    /// The quantity that an item of a list tells.
    pub fn of_text<'a>(&self, value: &Value<'a>) -> Option<Read<'a>> {
        let (found, unit) = self.read_text(value)?;
        Some(Read {
            value: found,
            at: value.clone(),
            unit,
        })
    }

    fn read<'a>(&self, key: &'static str, value: Value<'a>) -> Option<Read<'a>> {
        let (found, unit) = if key == self.keys[0] {
            self.read_text(&value)?
        } else {
            self.read_number(key, &value)?
        };
        Some(Read {
            value: found,
            at: value,
            unit,
        })
    }

    /// `wall_mm = 17.5`
    fn read_number(&self, key: &str, value: &Value<'_>) -> Option<(f64, &'static Unit)> {
        let suffix = &key[self.keys[0].len()..];
        let unit = self.dimension.units.iter().find(|u| u.suffix == suffix)?;
        if value.as_text().is_some() {
            let hint = format!(
                "the unit stands in the key: write a number, or {} = \"...\"",
                self.keys[0]
            );
            value.fault(
                value.to_string(),
                format!("a number of {}", unit.spellings[0]),
                Some(hint),
            );
            return None;
        }
        value.number().map(|number| (unit.to_base(number), unit))
    }

    /// `wall = "17.5 mm"`
    fn read_text(&self, value: &Value<'_>) -> Option<(f64, &'static Unit)> {
        let example = self.example(value.place(), value.units());
        let allowed = format!(
            "a {} with its unit ({})",
            self.dimension.name,
            self.dimension.unit_words()
        );
        let keyed = self.keys.get(1).copied().unwrap_or_default();
        let Some(text) = value.as_text() else {
            let hint = format!(
                "write {} = {example:?}, or {keyed} with the number alone",
                self.keys[0]
            );
            value.fault(format!("{value} without a unit"), allowed, Some(hint));
            return None;
        };
        let hint = match self.dimension.read(text) {
            Ok(found) => return Some(found),
            Err(NotRead::NoUnit) => {
                let bare = OfBare::like(example, self.dimension);
                format!("write the unit: {}", bare.ways(text.trim()))
            }
            Err(NotRead::Comma) => "write a decimal point, not a comma".to_owned(),
            Err(NotRead::NoNumber) => format!("write a number first: {example:?}"),
            Err(NotRead::WrongUnit) => format!("that unit is not one of a {}", self.dimension.name),
        };
        value.fault(format!("{text:?}"), allowed, Some(hint));
        None
    }
}

impl Read<'_> {
    /// The same where it lies within a range told in the base unit; a fault tells the range in the unit that is written.
    pub fn within(self, least: f64, most: f64) -> Option<Self> {
        if (least..=most).contains(&self.value) {
            return Some(self);
        }
        let [least, most] = [least, most].map(|end| four_digits(self.unit.of_base(end)));
        let unit = self.unit.spellings[0];
        self.at
            .fault(self.found(), format!("{least} to {most} {unit}"), None);
        None
    }

    /// What the file says, for a fault: as it stands there, with the unit where it stands in the key.
    pub fn found(&self) -> String {
        match self.at.as_text() {
            Some(_) => self.at.to_string(),
            None => format!("{} {}", self.at, self.unit.spellings[0]),
        }
    }
}

/// Four digits, without zeros that say nothing.
fn four_digits(value: f64) -> f64 {
    if value == 0.0 {
        return value;
    }
    let scale = 10f64.powf(3.0 - value.abs().log10().floor());
    (value * scale).round() / scale
}

#[cfg(test)]
mod tests {
    use crate::toml_reader::{Faults, Table};

    /// The faults of reading `text`, and the wall in mm if it could be read.
    fn wall(text: &str) -> (Option<f64>, Vec<String>) {
        let faults = Faults::new("f", text);
        let parsed = faults.parse(text);
        let table = Table::root(&parsed, &faults);
        let read = length!("wall")
            .need(&table)
            .and_then(|r| r.within(1.0, 200.0))
            .map(|r| r.value);
        table.finish();
        (
            read,
            faults.into_list().iter().map(ToString::to_string).collect(),
        )
    }

    #[test]
    fn unit_in_the_key_or_in_the_text() {
        for text in [
            "wall_mm = 25.4",
            "wall_in = 1",
            "wall = \"25.4 mm\"",
            "wall = \"1 in\"",
            "wall_m = 0.0254",
        ] {
            let (read, faults) = wall(text);
            assert!((read.expect(text) - 25.4).abs() < 1e-9, "{text}");
            assert_eq!(faults, [""; 0]);
        }
    }

    #[test]
    fn a_bare_number_is_refused_with_both_ways_to_mend_it() {
        let (read, faults) = wall("wall = 17.5");
        assert_eq!(read, None);
        assert!(
            faults[0].contains("17.5 without a unit") && faults[0].contains("or wall_mm with"),
            "{faults:?}"
        );
    }

    #[test]
    fn every_other_way_to_go_wrong_is_one_fault() {
        for (text, words) in [
            ("", "no key wall"),
            ("wall = \"17,5 mm\"", "decimal point"),
            ("wall = \"17.5 kg\"", "not one of a length"),
            ("wall_mm = \"17.5\"", "the unit stands in the key"),
            ("wall_mm = 900", "1 to 200 mm"),
            ("wall_mm = 20\nwall_in = 1", "beside"),
        ] {
            let (_, faults) = wall(text);
            assert_eq!(faults.len(), 1, "{text}: {faults:?}");
            assert!(faults[0].contains(words), "{text}: {faults:?}");
        }
    }
}
