//! How files were understood, as it is shown to whoever looks, and the name of who looked.

use quantity::{Celsius, Units};
use readings::Understood;
use report::Moment;
use serde::Serialize;

use super::answer_words;
use crate::calendar;

/// What is shown of each file before a record is made of it.
const SHOWN: &str =
    "how text and dates were taken, the columns with their units, the first rows and every remark";

/// Who looked at how the files were understood, before the record was made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Looked {
    /// Who.
    pub by: String,
    /// When they said so, in UTC.
    pub at: String,
    /// What they were shown of each file.
    pub shown: String,
}

impl Looked {
    /// By a person, at a time; `None` where no name is given.
    pub fn by(name: &str, at: Moment) -> Option<Looked> {
        let by = name.split_whitespace().collect::<Vec<_>>().join(" ");
        (!by.is_empty()).then(|| Looked {
            by,
            at: calendar::written(at),
            shown: SHOWN.into(),
        })
    }

    /// As a kept record tells it.
    pub(super) fn kept(told: &serde_json::Value) -> Option<Looked> {
        let of = |key: &str| told[key].as_str().map(str::to_owned);
        Some(Looked {
            by: of("by")?,
            at: of("at")?,
            shown: of("shown")?,
        })
    }

    /// In a sentence.
    pub fn words(&self) -> String {
        format!(
            "{} looked at how the files were understood, {}, and found it to be what the logger wrote. Shown of each file: {}.",
            self.by,
            calendar::in_words(&self.at),
            self.shown
        )
    }
}

/// In which unit the first rows of a file are shown, beside that of the file, or that which was `said`, where it is another.
pub fn first_rows_words(file: &Understood, said: Option<&str>, units: Units) -> String {
    let mut of_file: Vec<String> = Vec::new();
    let temperatures = file
        .columns
        .iter()
        .filter(|c| c.role == "temperature" && !c.unit.is_empty());
    for unit in temperatures.map(|column| answer_words("unit", &column.unit)) {
        if !of_file.contains(&unit) {
            of_file.push(unit);
        }
    }
    let shown = match units {
        Units::Si => "°C",
        Units::Us => "°F",
    };
    let first = "the first rows as understood, in";
    match of_file.as_slice() {
        _ if said.is_some() => {
            let said = answer_words("unit", said.unwrap_or_default());
            format!("{first} {shown}; read as {said}, as was said")
        }
        [] => format!("{first} {shown}"),
        [one] if one == shown => format!("{first} {shown} as in the file"),

        all => format!("{first} {shown}; the file is in {}", all.join(" and ")),
    }
}

/// A reading of the first rows in the unit of the job; a dash for silence.
pub fn reading_words(reading: Option<Celsius>, units: Units) -> String {
    let value = |t: Celsius| match units {
        Units::Si => t.c(),
        Units::Us => t.f(),
    };
    reading.map_or("–".to_owned(), |t| format!("{:.1}", value(t)))
}
