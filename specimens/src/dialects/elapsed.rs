//! Tabs, minutes since a start that stands above in words.

use super::{names, with_cell};
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

pub(super) fn write(recording: &Recording) -> Specimen {
    let start = recording
        .rows
        .first()
        .map(|row| row.clock)
        .unwrap_or_default();
    let above = vec![
        "Furnace log".to_owned(),
        format!("Start time:\t{}", start.strftime("%-d %B %Y %H:%M:%S")),
        String::new(),
        format!("Elapsed (min){}", names(recording, "\t", " (degC)")),
    ];
    let mut sheet = Sheet::new("log.txt", above, "\n", Encoding::Utf8);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    let mut whole = Specimen::new(sheet, recording);
    for (scan, row) in whole.scans.iter_mut().zip(&recording.rows) {
        scan.elapsed_s = row.elapsed_s as f64;
    }
    whole
}

fn line(row: &Row) -> String {
    let readings: String = row
        .shown
        .iter()
        .map(|s| format!("\t{}", tenth(*s, "")))
        .collect();
    format!("{:.4}{readings}", row.elapsed_s as f64 / 60.0)
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans.remove(row);
    whole.break_row(row, Harm::NoTime, |line| with_cell(line, '\t', 0, ""))
}
