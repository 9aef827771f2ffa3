//! A counter, seconds since 1970, whole tenths, codes for an open circuit and for a reading beyond the range.

use jiff::tz::Offset;

use super::{names, with_cell};
use crate::fault::Shown;
use crate::recording::Recording;
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen};

pub(super) fn write(recording: &Recording) -> Specimen {
    let above = vec![
        "Unit;degC".to_owned(),
        "Scale;1/10".to_owned(),
        format!("n;epoch{}", names(recording, ";", "")),
    ];
    let mut sheet = Sheet::new("log.csv", above, "\r\n", Encoding::Utf8);
    let start = recording
        .rows
        .first()
        .map(|row| row.clock)
        .unwrap_or_default();
    let start_s =
        Offset::UTC.to_timestamp(start).map_or(0, |t| t.as_second()) - recording.ahead_of_utc_s;
    for (index, row) in recording.rows.iter().enumerate() {
        let readings: String = row.shown.iter().map(|s| format!(";{}", code(*s))).collect();
        sheet.row(format!("{};{}{readings}", index + 1, start_s + row.told_s));
    }
    Specimen::new(sheet, recording).open_is_silent(recording)
}

fn code(shown: Shown) -> i32 {
    match shown {
        Shown::Tenths(tenths) => tenths,
        Shown::Open | Shown::Silent => -32768,
    }
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c[1] = None;
    whole.break_row(row, Harm::OverRange, |line| {
        with_cell(line, ';', 3, "32767")
    })
}
