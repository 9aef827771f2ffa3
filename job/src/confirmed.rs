//! `confirmed.toml` in the job folder: rows of the rules that somebody read in the document himself.
//!
//! Whoever reads a job reads it: [`beside`] finds its rows by the job file, [`file_beside`] its text, too, and [`read`] takes a
//! text.

use std::path::Path;

use quantity::Units;
use rules::row::Value as RowValue;
use rules::{Confirmation, Entry};

use crate::Refusal;
use crate::toml_reader::{Faults, Table, Value, nearest};

/// The name of the file, which stands beside the job file.
pub const FILE_NAME: &str = "confirmed.toml";

/// Why the confirmed rows of a folder cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum NotConfirmed {
    /// The file is there and cannot be read.
    #[error("{file}: {problem}")]
    Unread {
        /// The file.
        file: String,
        /// What the system says.
        problem: std::io::Error,
    },
    /// The file is no text.
    #[error("{file}:{line}: no UTF-8 text; save the file as UTF-8")]
    NoText {
        /// The file.
        file: String,
        /// The line that is none.
        line: usize,
    },
    /// The file holds something that cannot be.
    #[error("{0}")]
    Refused(#[from] Refusal),
}

/// The file as it stands beside a job file, or is attached to a record.
#[derive(Clone, Debug, PartialEq)]
pub struct ConfirmedFile {
    /// The file itself.
    pub text: String,
    /// Its rows.
    pub rows: Vec<Confirmation>,
}

impl ConfirmedFile {
    /// Reads the file. `file_name` is only for the messages.
    ///
    /// # Errors
    /// It is no text, with the line, or holds something that cannot be.
    pub fn of(bytes: Vec<u8>, file_name: &str) -> Result<ConfirmedFile, NotConfirmed> {
        let text = String::from_utf8(bytes).map_err(|error| {
            let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
            NotConfirmed::NoText {
                file: file_name.to_owned(),
                line: 1 + good.iter().filter(|byte| **byte == b'\n').count(),
            }
        })?;
        let rows = read(&text, file_name)?;
        Ok(ConfirmedFile { text, rows })
    }
}

/// The rows that were confirmed beside a job file; none where no such file stands there.
///
/// # Errors
/// The file is there and cannot be read, or holds something that cannot be.
pub fn beside(job: &Path) -> Result<Vec<Confirmation>, NotConfirmed> {
    Ok(file_beside(job)?.map_or_else(Vec::new, |file| file.rows))
}

/// The file that stands beside a job file; none where no such file stands there.
///
/// # Errors
/// The file is there and cannot be read, or holds something that cannot be.
pub fn file_beside(job: &Path) -> Result<Option<ConfirmedFile>, NotConfirmed> {
    let path = job.with_file_name(FILE_NAME);
    let file = path.display().to_string();
    match std::fs::read(&path) {
        Ok(bytes) => ConfirmedFile::of(bytes, &file).map(Some),
        Err(problem) if problem.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(problem) => Err(NotConfirmed::Unread { file, problem }),
    }
}

/// Reads the file. `file_name` is only for the messages.
///
/// # Errors
/// [`Refusal`] with everything that is wrong: unknown rows, values without their unit or of another kind, dates that are
/// none.
pub fn read(text: &str, file_name: &str) -> Result<Vec<Confirmation>, Refusal> {
    let faults = Faults::new(file_name, text);
    let parsed = faults.parse(text);
    let entries = rules::lookup().unwrap_or_default();
    let mut confirmed = Vec::new();
    if faults.is_empty() {
        let root = Table::root(&parsed, &faults);
        for table in root.tables("confirmed") {
            confirmed.extend(one(&table, &entries));
        }
        root.finish();
    }
    match faults.is_empty() {
        true => Ok(confirmed),
        false => Err(Refusal::of(faults.into_list(), text, Vec::new())),
    }
}

fn one(table: &Table<'_>, entries: &[Entry]) -> Option<Confirmation> {
    let row_at = table.need("row", "\"the id of a row\"");
    let row = row_at.as_ref().and_then(|at| known(at, entries));
    let by = table.need("by", "\"who read it\"").and_then(|v| filled(&v));
    let on_at = table.need("on", "\"2026-01-31\"");
    let on = on_at.as_ref().and_then(date);
    let note = table.get("note").and_then(|v| v.text()).map(str::to_owned);
    let unit = table.get("unit");
    let value_at = table.get("value");
    let (value, units) = match (&value_at, row) {
        (Some(at), Some(entry)) => {
            let (value, units) = entered(table, at, unit.as_ref(), entry)?;
            (Some(value), units)
        }
        _ => (None, Units::Si),
    };
    table.finish();
    let confirmation = Confirmation {
        row: row?.id.clone(),
        value,
        units,
        by: by?,
        on: on?,
        note,
    };
    // The rules say themselves what a row does not take.
    match rules::shelf::Shelf::with(std::slice::from_ref(&confirmation), units) {
        Ok(_) => Some(confirmation),
        Err(refused) => {
            let at = value_at.as_ref().or(row_at.as_ref())?;
            for fault in refused.faults {
                if let rules::fault::RuleFault::NotConfirmable {
                    problem, allowed, ..
                } = fault
                {
                    at.fault(problem, allowed, None);
                }
            }
            None
        }
    }
}

fn known<'e>(at: &Value<'_>, entries: &'e [Entry]) -> Option<&'e Entry> {
    let id = at.text()?;
    let found = entries.iter().find(|entry| entry.id == id);
    if found.is_none() {
        let near = nearest(id, entries.iter().map(|entry| entry.id.as_str()));
        let hint = match near {
            Some(near) => format!("did you mean {near:?}?"),
            None => "soakwright rules lists the rows with their ids".to_owned(),
        };
        at.fault(
            format!("{id:?}"),
            "the id of a row that is kept",
            Some(hint),
        );
    }
    found
}

fn filled(at: &Value<'_>) -> Option<String> {
    let text = at.text()?.trim();
    if text.is_empty() {
        at.fault("an empty text", "a name", None);
        return None;
    }
    Some(text.to_owned())
}

/// A day as `2026-01-31`, in quotes or bare.
fn date(at: &Value<'_>) -> Option<String> {
    let text = match at.raw() {
        toml::de::DeValue::Datetime(day) => day.to_string(),
        _ => at.text()?.trim().to_owned(),
    };
    let day: Option<toml::value::Datetime> = text.parse().ok();
    match day.and_then(|day| day.date) {
        Some(_) => Some(text),
        None => {
            at.fault(format!("{text:?}"), "a day written as 2026-01-31", None);
            None
        }
    }
}

/// A value that is entered instead of the shipped one, with the unit of one of the row's columns beside it.
fn entered(
    table: &Table<'_>,
    at: &Value<'_>,
    unit: Option<&Value<'_>>,
    entry: &Entry,
) -> Option<(RowValue, Units)> {
    let written = unit.and_then(|v| v.text());
    let is_metric = written == Some(entry.unit.as_str());
    let us = entry.us.as_ref().filter(|us| written == Some(&us.unit));
    if !is_metric && us.is_none() {
        let found = written.map_or("a value without its unit".to_owned(), |u| format!("{u:?}"));
        let mut allowed = format!("unit = {:?}", entry.unit);
        if let Some(us) = entry.us.as_ref().filter(|us| us.unit != entry.unit) {
            allowed = format!("{allowed} or {:?}", us.unit);
        }
        match unit {
            Some(unit) => unit.fault(found, allowed, None),
            None => at.fault(found, allowed, None),
        }
        return None;
    }
    let plain = plain(at.raw());
    // Where both columns have one unit, as of a time by thickness, the keys tell which column it is.
    let metric = is_metric.then(|| plain.clone().try_into::<RowValue>());
    if let Some(Ok(value)) = metric {
        return Some((value, Units::Si));
    }
    let in_us = us.map(|us| (us, RowValue::from_us(plain)));
    if let Some((_, Ok(value))) = in_us {
        return Some((value, Units::Us));
    }
    let (problem, like) = match (in_us, metric) {
        (Some((us, Err(problem))), None) => (problem, &us.value_as_written),
        (_, Some(Err(problem))) => (problem.to_string(), &entry.value_as_written),
        _ => (String::new(), &entry.value_as_written),
    };
    let hint = format!(
        "in {}",
        if table.place().is_empty() {
            "[[confirmed]]"
        } else {
            table.place()
        }
    );
    at.fault(
        problem.lines().next().unwrap_or_default().to_owned(),
        format!("a value like {like}"),
        Some(hint),
    );
    None
}

/// The value without its places.
fn plain(raw: &toml::de::DeValue<'_>) -> toml::Value {
    use toml::de::DeValue;
    match raw {
        DeValue::String(text) => toml::Value::String(text.to_string()),
        DeValue::Integer(whole) => {
            let number = i64::from_str_radix(whole.as_str(), whole.radix()).unwrap_or_default();
            toml::Value::Integer(number)
        }
        DeValue::Float(number) => toml::Value::Float(number.as_str().parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(truth) => toml::Value::Boolean(*truth),
        DeValue::Datetime(day) => toml::Value::Datetime(*day),
        DeValue::Array(items) => {
            toml::Value::Array(items.iter().map(|item| plain(item.get_ref())).collect())
        }
        DeValue::Table(entries) => toml::Value::Table(
            entries
                .iter()
                .map(|(key, value)| (key.get_ref().to_string(), plain(value.get_ref())))
                .collect(),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::{RowValue, Units, read};

    #[test]
    fn a_confirmation_and_an_entered_value_are_read() {
        let text = "[[confirmed]]\nrow = \"en13445-4/range-p5.1\"\nby = \"A. Reader\"\non = 2026-11-20\n\
                    unit = \"°C\"\nvalue = { hold_range = { min = 640, max = 680 } }\n";
        let read = read(text, "confirmed.toml").expect("sound");
        assert_eq!(
            (read[0].by.as_str(), read[0].on.as_str()),
            ("A. Reader", "2026-11-20")
        );
        assert!(read[0].value.is_some());
    }

    #[test]
    fn a_value_of_the_us_column_is_read_with_its_unit() {
        let row = |unit: &str, value: &str| {
            format!(
                "[[confirmed]]\nrow = \"b31.3-2014/range-p1\"\nby = \"A. Reader\"\non = 2026-11-20\nunit = \"{unit}\"\nvalue = {value}\n"
            )
        };
        let text = row("°F", "{ hold_range = { min_f = 1100, max_f = 1250 } }");
        let read_us = read(&text, "confirmed.toml").expect("sound");
        assert_eq!(read_us[0].units, Units::Us);
        let Some(RowValue::HoldRange { max: Some(c), .. }) = read_us[0].value else {
            panic!("a range");
        };
        assert!((c - 676.667).abs() < 1e-3, "{c}");
        let text = row("°F", "{ hold_range = { min = 1100 } }");
        let refused = read(&text, "confirmed.toml").expect_err("a metric key");
        assert!(refused.to_string().contains("min_f"), "{refused}");
    }

    #[test]
    fn everything_that_is_wrong_is_told_with_its_line() {
        let text = "[[confirmed]]\nrow = \"en13445-4/range-p5.11\"\nby = \" \"\non = \"soon\"\n\
                    [[confirmed]]\nrow = \"en13445-4/range-p5.1\"\nby = \"B\"\non = \"2026-11-20\"\n\
                    value = { hold_range = { min = 640 } }\n\
                    [[confirmed]]\nrow = \"en13445-4/range-p5.1\"\nby = \"B\"\non = \"2026-11-20\"\nunit = \"°C\"\n\
                    value = { hold_range = { min = 700, max = 680 } }\nwhat = 1\n";
        let refused = read(text, "c.toml").expect_err("five faults").to_string();
        for words in [
            "c.toml:2: confirmed[1].row: found \"en13445-4/range-p5.11\"",
            "did you mean \"en13445-4/range-p5.1\"?",
            "c.toml:3: ",
            "a day written as 2026-01-31",
            "a value without its unit; allowed: unit = \"°C\"",
            "does not ascend",
            "the unknown key what",
        ] {
            assert!(refused.contains(words), "{words}\n{refused}");
        }
    }
}
