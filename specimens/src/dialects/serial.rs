//! Saved again by a spreadsheet: days since 1900 or 1904 to fifteen digits, a merged head as empty cells, #N/A.

use jiff::civil::{Date, date};

use super::{names, with_cell};
use crate::fault::Shown;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, Told, tenth};

pub(super) fn write(recording: &Recording) -> Specimen {
    since(recording, date(1899, 12, 30), Told::DaysFrom1900)
}

pub(super) fn write_1904(recording: &Recording) -> Specimen {
    since(recording, date(1904, 1, 1), Told::DaysFrom1904)
}

fn since(recording: &Recording, day_zero: Date, told: Told) -> Specimen {
    let above = vec![
        format!("Zone 1{}", ";".repeat(recording.channels.len())),
        format!("Date{}", names(recording, ";", " (°C)")),
    ];
    let mut sheet = Sheet::new("log.csv", above, "\r\n", Encoding::Utf8);
    let rows = recording.rows.iter();
    rows.for_each(|row| sheet.row(line(row, day_zero)));
    let mut whole = Specimen::new(sheet, recording).open_is_silent(recording);
    whole.told.push(told);
    whole
}

fn line(row: &Row, day_zero: Date) -> String {
    let since = row.clock.duration_since(day_zero.at(0, 0, 0, 0));
    let days = since.as_secs_f64() / 86400.0;
    let cell = |s: &Shown| match s {
        Shown::Open => ";#N/A".to_owned(),
        s => format!(";{}", tenth(*s, "").replace('.', ",")),
    };
    let readings: String = row.shown.iter().map(cell).collect();
    format!("{}{readings}", format!("{days:.10}").replace('.', ","))
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c[1] = None;
    whole.break_row(row, Harm::WordForNumber, |line| {
        with_cell(line, ';', 2, "#DIV/0!")
    })
}

pub(super) fn broken_1904(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write_1904(recording);
    whole.scans.remove(row);
    whole.break_row(row, Harm::NoTime, |line| {
        with_cell(line, ';', 0, "########")
    })
}
