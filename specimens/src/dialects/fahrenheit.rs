//! °F, month first, hours to twelve, quoted cells, commas between thousands. Times are told to the minute.

use super::names;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Scan, Sheet, Specimen, Told, shown_c};

pub(super) fn write(recording: &Recording) -> Specimen {
    let head = format!("Date Time{}", names(recording, ",", " degF"));
    let mut sheet = Sheet::new("log.csv", vec![head], "\r\n", Encoding::Utf8);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    let mut whole = Specimen::new(sheet, recording);
    whole.told.push(Told::MonthFirst);
    whole.scans = scans(recording);
    whole
}

/// Tenths of °F instead of °C; of the rows of one minute the first.
fn scans(recording: &Recording) -> Vec<Scan> {
    let mut scans: Vec<Scan> = Vec::new();
    for row in &recording.rows {
        let elapsed_s = (row.told_s / 60 * 60) as f64;
        if scans.last().is_none_or(|last| last.elapsed_s < elapsed_s) {
            let celsius = |s| fahrenheit(s).map(|f| (f - 32.0) / 1.8);
            let readings_c = row.shown.iter().map(|s| celsius(*s)).collect();
            scans.push(Scan {
                elapsed_s,
                readings_c,
            });
        }
    }
    scans
}

fn fahrenheit(shown: crate::fault::Shown) -> Option<f64> {
    shown_c(shown).map(|c| ((c * 1.8 + 32.0) * 10.0).round() / 10.0)
}

fn line(row: &Row) -> String {
    let readings: String = row.shown.iter().map(|s| cell(fahrenheit(*s))).collect();
    format!("{}{readings}", row.clock.strftime("%m/%d/%y %-I:%M %p"))
}

fn cell(fahrenheit: Option<f64>) -> String {
    match fahrenheit {
        None => ",\"\"".to_owned(),
        Some(f) if f >= 1000.0 => format!(
            ",\"{},{:05.1}\"",
            (f / 1000.0).floor(),
            f - (f / 1000.0).floor() * 1000.0
        ),
        Some(f) => format!(",\"{f:.1}\""),
    }
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    let gone_s = (recording.rows[row].told_s / 60 * 60) as f64;
    whole.scans.retain(|scan| scan.elapsed_s != gone_s);
    whole.break_row(row, Harm::ImpossibleDate, |line| {
        format!("13/45{}", &line[5..])
    })
}
