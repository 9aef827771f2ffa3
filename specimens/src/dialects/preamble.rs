//! Latin-1, semicolons, decimal commas, date and time in two columns, twelve lines above, a row of units, CRLF.

use super::names;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

const ABOVE: [&str; 10] = [
    "Wärmebehandlung - Temperaturaufzeichnung",
    "Baustelle;Halle Süd",
    "Auftrag;4711",
    "Naht;W-17",
    "Werkstoff;1.7335",
    "Bediener;K. Müßig",
    "Schreiber;Nr. 0088",
    "Kanäle;belegt",
    "Bemerkung;keine",
    "",
];

pub(super) fn write(recording: &Recording) -> Specimen {
    let mut above: Vec<String> = ABOVE.iter().map(|line| (*line).to_owned()).collect();
    above.push(format!("Datum;Zeit{};", names(recording, ";", "")));
    above.push(format!(";{};", ";°C".repeat(recording.channels.len())));
    let mut sheet = Sheet::new("log.txt", above, "\r\n", Encoding::Latin1);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    Specimen::new(sheet, recording)
}

fn line(row: &Row) -> String {
    let reading = |s| format!(";{}", tenth(s, "").replace('.', ","));
    let readings: String = row.shown.iter().map(|s| reading(*s)).collect();
    format!("{}{readings};", row.clock.strftime("%d.%m.%Y;%H:%M:%S"))
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c.fill(None);
    let three = |line: &str| line.split(';').take(3).collect::<Vec<_>>().join(";");
    whole.break_row(row, Harm::ShortRow, three)
}
