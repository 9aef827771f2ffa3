//! How a file was understood, to be shown before anyone relies on it.

use quantity::Celsius;

/// How a file was understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Understood {
    /// The encoding of its text.
    pub encoding: String,
    /// What parts its cells.
    pub delimiter: String,
    /// Its decimal sign.
    pub decimal: String,
    /// The line with the names.
    pub header_line: Option<usize>,
    /// The first line with readings.
    pub first_row_line: Option<usize>,
    /// In which order day and month stand, where dates are written in numbers.
    pub date_order: Option<String>,
    /// The zone of the clock, where the file states it.
    pub time_zone: Option<String>,
    /// The columns.
    pub columns: Vec<UnderstoodColumn>,
    /// The first rows.
    pub preview: Vec<PreviewRow>,
}

/// A column as it was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnderstoodColumn {
    /// Its name in the file.
    pub name: String,
    /// What it was taken for.
    pub role: &'static str,
    /// Its unit.
    pub unit: String,
}

/// One of the first rows as it was understood.
#[derive(Clone, Debug, PartialEq)]
pub struct PreviewRow {
    /// Its line.
    pub line: usize,
    /// What the clock showed, or the time since the start.
    pub time: String,
    /// The readings; `None` for silence.
    pub readings: Vec<Option<Celsius>>,
}
