//! A status behind each reading.

use super::with_cell;
use crate::fault::Shown;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

pub(super) fn write(recording: &Recording) -> Specimen {
    let pair = |name: &String| format!(",{name} (C),{name} status");
    let head = format!(
        "time{}",
        recording.channels.iter().map(pair).collect::<String>()
    );
    let mut sheet = Sheet::new("log.csv", vec![head], "\n", Encoding::Utf8);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    Specimen::new(sheet, recording).open_is_silent(recording)
}

fn line(row: &Row) -> String {
    let pair = |s: &Shown| match s {
        Shown::Tenths(_) => format!(",{},OK", tenth(*s, "")),
        Shown::Open => ",,OPEN".to_owned(),
        Shown::Silent => ",,".to_owned(),
    };
    let pairs: String = row.shown.iter().map(pair).collect();
    format!("{}{pairs}", row.clock.strftime("%Y-%m-%d %H:%M:%S"))
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c[1] = None;
    whole.break_row(row, Harm::UnknownStatus, |line| {
        with_cell(line, ',', 4, "X9")
    })
}
