//! Words in rows of their own between the readings.

use super::{iso, names};
use crate::recording::Recording;
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen};

pub(super) fn write(recording: &Recording) -> Specimen {
    let head = format!("time{}", names(recording, ",", " (°C)"));
    let mut sheet = Sheet::new("log.csv", vec![head], "\r\n", Encoding::Utf8);
    let mut events = recording.events.iter().peekable();
    let blank = ",".repeat(recording.channels.len() - 1);
    for row in &recording.rows {
        while let Some((_, text)) = events.next_if(|event| event.0 <= row.elapsed_s) {
            let at = row.clock.strftime("%Y-%m-%dT%H:%M:%S");
            let text = text.replace(',', " -");
            sheet.lines.push(format!("{at},{text}{blank}"));
        }
        sheet.row(iso::line(row));
    }
    Specimen::new(sheet, recording)
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    let sheet = &mut whole.sheets[0];
    let index = sheet.rows[row] + 1;
    let again = recording
        .channels
        .iter()
        .map(|_| ",333.3")
        .collect::<String>();
    let time = sheet.lines[index - 1]
        .split(',')
        .next()
        .unwrap_or_default()
        .to_owned();
    sheet.lines.insert(index, time + &again);
    let line = index + 1;
    (
        whole,
        Damage {
            sheet: 0,
            line,
            harm: Harm::SameTimeAgain,
        },
    )
}
