//! UTF-16, tabs, and beside the thermocouples set point, power, outputs, states and ambient; an unused channel.

use super::{names, with_cell};
use crate::fault::Shown;
use crate::recording::{Recording, Row};
use crate::sheet::{Damage, Encoding, Harm, Sheet, Specimen, tenth};

const BESIDE: &str = "\tTC9 (°C)\tSet point (°C)\tPower 1 (kW)\tPower 2 (kW)\tOutput 1 (%)\tZone 1 state\tAmbient (°C)";

pub(super) fn write(recording: &Recording) -> Specimen {
    let head = format!("time{}{BESIDE}", names(recording, "\t", " (°C)"));
    let mut sheet = Sheet::new("log.txt", vec![head], "\r\n", Encoding::Utf16Le);
    recording.rows.iter().for_each(|row| sheet.row(line(row)));
    let mut whole = Specimen::new(sheet, recording).open_is_silent(recording);
    whole.channels.push("TC9".to_owned());
    whole
        .scans
        .iter_mut()
        .for_each(|scan| scan.readings_c.push(None));
    whole
}

fn line(row: &Row) -> String {
    let cell = |s: &Shown| match s {
        Shown::Open => "\t****".to_owned(),
        s => format!("\t{}", tenth(*s, "---")),
    };
    let readings: String = row.shown.iter().map(cell).collect();
    let power = |zone: usize| row.power_kw.get(zone).copied().unwrap_or(0.0);
    let state = if power(0) > 0.0 { 1 } else { 0 };
    let beside = format!(
        "\t620.0\t{:.1}\t{:.1}\t{:.1}\t{state}\t-0.0",
        power(0),
        power(1),
        power(0) * 2.0
    );
    format!(
        "{}{readings}\t---{beside}",
        row.clock.strftime("%Y-%m-%d %H:%M:%S")
    )
}

pub(super) fn broken(recording: &Recording, row: usize) -> (Specimen, Damage) {
    let mut whole = write(recording);
    whole.scans[row].readings_c[1] = None;
    whole.break_row(row, Harm::BadBytes, |line| {
        with_cell(line, '\t', 2, "6\u{fffd}1.2")
    })
}
