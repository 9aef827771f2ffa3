//! UTF-8, commas, one header row, ISO 8601 times without a zone.

use super::{names, with_cell};
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

pub(super) fn write(recording: &Recording) -> Specimen {
    let head = format!("time{}", names(recording, ",", " (°C)"));
    let mut sheet = Sheet::new("log.csv", vec![head], "\n", Encoding::Utf8);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    Specimen::new(sheet, recording)
}

pub(super) fn line(row: &Row) -> String {
    let readings: String = row
        .shown
        .iter()
        .map(|s| format!(",{}", tenth(*s, "")))
        .collect();
    format!("{}{readings}", row.clock.strftime("%Y-%m-%dT%H:%M:%S"))
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c[1] = None;
    whole.break_row(row, Harm::WordForNumber, |line| {
        with_cell(line, ',', 2, "6?1.2")
    })
}
