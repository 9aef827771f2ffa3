//! A file a day, or a file a half where all is of one day; ten rows overlap; the head again at a restart.

use super::{iso, names};
use crate::recording::Recording;
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen};

/// Rows that stand in both of two files.
const OVERLAP: usize = 10;

pub(super) fn write(recording: &Recording) -> Specimen {
    let head = format!("time{}", names(recording, ",", " (°C)"));
    let rows = &recording.rows;
    let day = |index: usize| rows[index].clock.date();
    let midnight = (1..rows.len()).find(|i| day(*i) != day(0));
    let cut = midnight.unwrap_or(rows.len() / 2);
    let file = |name: &str, range: std::ops::Range<usize>| {
        let mut sheet = Sheet::new(name, vec![head.clone()], "\n", Encoding::Utf8);
        let middle = (range.start + range.end) / 2;
        for index in range {
            if index == middle {
                sheet.lines.push(head.clone());
            }
            sheet.row(iso::line(&rows[index]));
        }
        sheet
    };
    let first = file("log-1.csv", 0..cut);
    let second = file("log-2.csv", cut.saturating_sub(OVERLAP)..rows.len());
    let mut whole = Specimen::new(first, recording);
    whole.sheets.push(second);
    whole
}

pub(super) fn broken(recording: &Recording, _row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.sheets[1].cut = 3;
    if let Some(last) = whole
        .scans
        .last_mut()
        .and_then(|scan| scan.readings_c.last_mut())
    {
        *last = None;
    }
    let line = whole.sheets[1].lines.len();
    (
        whole,
        Damage {
            sheet: 1,
            line,
            harm: Harm::CutLine,
        },
    )
}
